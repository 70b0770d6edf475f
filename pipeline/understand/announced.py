"""The order in which an examiner will say the sides, announced once: "right then left for everything"."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from dataclasses import dataclass, replace
from itertools import accumulate

from pipeline.mend.numbers import ONES
from pipeline.mend.tokens import BLOCK_END, Token, in_one_sentence
from pipeline.understand.items import Item, ItemKind

_WHOSE = r"(?:the |my |his |her |its )?"
_OF_BODY = r"(?: side| hand| leg| arm| limb| one)?"
_ONE, _OTHER = (rf"{_WHOSE}(?P<{name}>left|right)\b{_OF_BODY}" for name in ("one", "other"))
_FORMS = [
    re.compile(rf"\b{form}")
    for form in (
        rf"{_ONE}(?: always)?(?: first)?(?: and)? (?:then|before|followed by)(?: always)? {_OTHER}",
        rf"{_ONE}(?: \w+)? first(?: and)? {_OTHER}(?: \w+)? (?:second|next|after|last)\b",
        rf"first (?:(?:one|number|figure|grade|result|value|side) )?(?:is|being|will be)(?: always)? (?:for )?{_ONE}",
        rf"{_ONE}(?: always)?(?: is| goes| comes)?(?: always)? first\b",
        rf"(?:read|reading|call|calling|give|giving)(?: them| it| both)?(?: off| out)? {_ONE}(?: and)? {_OTHER}",
        r"(?P<one>left|right)(?: and)? (?P<other>left|right)\b",
    )
]
_OF_ONE_SIDE, _BARE = _FORMS[3], _FORMS[-1]
_PAIRS = re.compile(
    r"\b(?:two (?:numbers|figures|results|grades|values|sides)|pairs?|both sides|every|everything|each|any two"
    r"|figures|from (?:here|now) on)\b"
)
"""What is said beside "right first" where that is the order of two results, and not the limb to begin with."""
_AROUND = 60
"""Characters in which it is said."""
_HIGHEST_GRADE = 5
_RESULT_BEFORE = (["on"], ["in"], ["at"], ["of"], ["from"], ["over"])
_FROM_NOW = (["here", "on"], ["now", "on"])


@dataclass(frozen=True)
class Order:
    """The side said first and the one said after it, announced in tokens `start`..`end` (exclusive)."""

    start: int
    end: int
    sides: tuple[str, str]


def in_announced_order(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "All my findings go right then left": of two results in a row, each has its side by that order."""
    if not {"left", "right"}.intersection(words):
        return items
    orders = _announced(items, words, tokens)
    if not orders:
        return items
    starts = [order.start for order in orders]
    out: list[Item] = []
    for index, item in enumerate(items):
        at = bisect_right(starts, item.start) - 1
        order = orders[at] if at >= 0 else None
        if order is not None and item.kind is ItemKind.SIDE and item.start < order.end:
            continue
        out.append(item)
        before, after = out[-2] if len(out) > 1 else None, items[index + 1] if index + 1 < len(items) else None
        sided = after is not None and after.kind is ItemKind.SIDE and after.start - item.end <= 2
        if order is None or before is None or before.start < order.end or sided:
            continue
        if before.kind is ItemKind.PLACE and not (after is not None and is_pair(item, after, words, tokens)):
            grade = _taken_for_a_root(before, item, words)
            if grade is not None:
                out.insert(-1, grade)
                before = grade
        if is_pair(before, item, words, tokens):
            out[-1:] = [
                side_of(before, order.sides[0], len(words)),
                item,
                side_of(item, order.sides[1], len(words)),
            ]
    return out


def is_pair(first: Item, second: Item, words: list[str], tokens: list[Token]) -> bool:
    """Two results in a row: "four, five", "absent and two plus"."""
    return (
        first.kind is second.kind is ItemKind.VALUE
        and not (first.reaction or second.reaction)
        and words[first.end : second.start] in ([], ["and"])
        and all(tokens[at].boundary < BLOCK_END for at in range(first.end, second.start + 1))
    )


def side_of(value: Item, side: str, size: int) -> Item:
    """A side in no word of its own, right after a value; `size`: the number of tokens."""
    at = value.end if value.end < size else value.start
    return Item(ItemKind.SIDE, at, value.end, (side,), linked=True, of=value)


def _taken_for_a_root(place: Item, value: Item, words: list[str]) -> Item | None:
    """The first result of two in "quads, L three four, five and four", cut off the roots."""
    if not value.grade or len(place.ids) < 2 or words[place.end : value.start] not in ([], ["and"]):
        return None
    last, grade = words[place.end - 1], place.ids[-1][1:]
    if not (last in ONES or last.isdigit()) or not grade.isdigit() or int(grade) > _HIGHEST_GRADE:
        return None
    place.end, place.ids = place.end - 1, place.ids[:-1]
    return replace(value, start=place.end, end=place.end + 1, grade=grade, weak=True, flags=())


def _announced(items: list[Item], words: list[str], tokens: list[Token]) -> list[Order]:
    """The orders announced, in turn."""
    text = " ".join(words)
    begins = [0, *accumulate(len(word) + 1 for word in words)]
    ends = {item.end for item in items if item.kind is ItemKind.VALUE}
    headings = {item.end for item in items if item.kind is ItemKind.HEADING}
    found: dict[int, Order] = {}
    for form in _FORMS:
        for match in form.finditer(text):
            start, end = bisect_left(begins, match.start()), bisect_left(begins, match.end())
            first = match["one"]
            second = match.groupdict().get("other") or ("left" if first == "right" else "right")
            around = text[max(0, match.start() - _AROUND) : match.end() + _AROUND]
            if (
                first == second
                or start in ends  # "four right then left five"
                or (words[start - 1 : start] in _RESULT_BEFORE and words[start - 2 : start] not in _FROM_NOW)
                or (form is _OF_ONE_SIDE and not _PAIRS.search(around))
                or (form is _BARE and not _follow_a_heading(start, end, words, tokens, headings))
            ):
                continue
            if not any(order.start < end and start < order.end for order in found.values()):
                found[start] = Order(start, end, (first, second))
    return sorted(found.values(), key=lambda order: order.start)


def _follow_a_heading(start: int, end: int, words: list[str], tokens: list[Token], headings: set[int]) -> bool:
    """ "Power, right, left.", "reflexes again left, right.": two sides in one sentence right after a heading."""
    headed = start in headings or (words[start - 1 : start] == ["again"] and start - 1 in headings)
    return headed and in_one_sentence(tokens, start + 1, end)
