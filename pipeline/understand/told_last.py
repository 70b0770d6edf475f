"""Sides that are said after a list of results, for all of it: "four, five, two, and all of those on the left"."""

from __future__ import annotations

import re
from dataclasses import replace

from pipeline.mend.tokens import COMMA, SENTENCE_END, Token, in_one_sentence
from pipeline.mend.words import BE
from pipeline.understand.announced import side_of
from pipeline.understand.items import ALL_OF_THEM, Item, ItemKind

_COUNTED = {"both": 2, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
_COUNT = f"(?P<count>{'|'.join(_COUNTED)})"
_THEM, _ARE = "(?:those|these|them|that|that's|this)", "(?: is| are| was| were)"
_POINTING = tuple(
    re.compile(rf"\b{form}$")
    for form in (
        rf"{_COUNT} of {_THEM}{_ARE}?",
        rf"(?:those|these) {_COUNT}{_ARE}(?: all)?",
        rf"both (?:of )?{_THEM}{_ARE}?",
        rf"(?:all|every one|every single one|each|each one|the lot) (?:of )?{_THEM}{_ARE}?",
        "(?:those|these) (?:are|were)(?: all)?",
        "(?:that's|that is|that was|this is) (?:all|the whole|the lot)",
        "(?:i'm|i am) talking about",
    )
)
"""Words that point back to more than one result: "every one of those", "those three are"."""
_ONE = re.compile(r"\b(?:that's|that is|that was|this is)(?: still)?$")
_LEADING = frozenset("on in for of the his her".split())
_BEFORE = 8
"""Most tokens from the first pointing word to the side."""
_RESULTS = (ItemKind.VALUE, ItemKind.OMISSION)
_ENDS = (ItemKind.SIDE, ItemKind.REMOVE, ItemKind.SWAP)


def told_last(items: list[Item], words: list[str], tokens: list[Token], scales: dict[str, str]) -> list[Item]:
    """Gives the results of a list without sides the side that was said last.

    "Those are on the left" is surely said of all; "that's the left" may be said of the last alone, and a person sees
    the others. Who pointed to a list once may say only "on the right" after the next, which is shown likewise.
    """
    pointed = False
    told: dict[int, list[Item]] = {}
    dropped: set[int] = set()
    for at, item in enumerate(items):
        if item.kind is not ItemKind.SIDE or item.ids[0] not in ("left", "right", "that") or item.of is not None:
            continue
        if item.ids == ("that",):
            last = _unsided(items[:at], 1, None)
            if last and words[item.end - 2] == "same" and tokens[item.start].boundary < SENTENCE_END:
                item.of = last[0]  # "four minus, same leg"
            continue
        most = _pointed_at(item, words)
        perhaps = most == 1 or (not most and pointed and item.linked)
        if not (most or perhaps) or _has_its_own(item, items[at + 1 : at + 2], words, tokens):
            continue
        before = items[:at]
        if most > 1 and before and words[before[-1].start] == "both" and before[-1].kind is ItemKind.SIDE:
            dropped.add(id(before.pop()))  # "both of those on the left": not both sides
        found = _unsided(before, ALL_OF_THEM if perhaps else most, scales if perhaps else None)
        if perhaps and found and not _ended_a_result(before, found[0]):
            found = found[-1:]
        if not found or (len(found) == 1 and (not most or _opens(item, items[at + 1 : at + 2], tokens))):
            continue
        if most == 1 and _turns(item, before, items[at + 1 : at + 2]):
            continue
        pointed = pointed or most > 1
        item.of = found[-1]
        flags = ("side_uncertain",) if perhaps else ()
        told |= {id(value): [_side_for(item, value, len(words), flags)] for value in found[:-1]}
    return [one for item in items if id(item) not in dropped for one in (item, *told.get(id(item), ()))]


def _pointed_at(side: Item, words: list[str]) -> int:
    """Of how many results a side is told, at most; 1 for "that's the left", 0 where nothing points to results."""
    end = side.start
    while end > 0 and words[end - 1] in _LEADING and side.start - end < 3:
        end -= 1
    text = " ".join(words[max(0, end - _BEFORE) : end])
    for form in _POINTING:
        said = form.search(text)
        if said is not None:
            count = said.groupdict().get("count") or said[0].split()[0]
            return _COUNTED.get(count, ALL_OF_THEM)
    return 1 if _ONE.search(text) else 0


def _has_its_own(side: Item, following: list[Item], words: list[str], tokens: list[Token]) -> bool:
    """ "All of those on the left are five": it goes on with a result of its own."""
    for item in following:
        between = words[side.end : item.start]
        if item.kind in _RESULTS and in_one_sentence(tokens, side.end, item.start + 1):
            return not BE.isdisjoint(between)
    return False


def _turns(side: Item, before: list[Item], following: list[Item]) -> bool:
    """ "Right grip three, and this is the left, five": the result before has another side, and one follows alone."""
    sides = [at for at, item in enumerate(before) if item.kind is ItemKind.SIDE]
    if not sides or not following or following[0].kind is not ItemKind.VALUE or following[0].reaction:
        return False
    results = [item for item in before[sides[-1] :] if item.kind in _RESULTS]
    return len(results) == 1 and before[sides[-1]].ids[0] in ("left", "right") and before[sides[-1]].ids != side.ids


def _opens(side: Item, following: list[Item], tokens: list[Token]) -> bool:
    """ "That's the left ankle jerk": the side may be that of the name right after it."""
    return any(
        item.start == side.end and item.kind is ItemKind.SUBJECT and tokens[item.start].boundary < COMMA
        for item in following
    )


def _unsided(items: list[Item], most: int, scales: dict[str, str] | None) -> list[Item]:
    """The last results, as many as there are up to a side, in order; with `scales`: up to a heading or a walk."""
    found: list[Item] = []
    for at in range(len(items) - 1, -1, -1):
        item = items[at]
        if item.kind in _ENDS or len(found) == most or (scales is not None and _begins_anew(item, scales)):
            break
        ordered = item.kind is ItemKind.VALUE and item.reaction and not item.values
        if item.same or ordered or item.of_last:
            continue
        if item.kind in _RESULTS or _denies(items, at):
            found.insert(0, item)
    return found


def _begins_anew(item: Item, scales: dict[str, str]) -> bool:
    """A heading, or a test that has no side where none is said with it."""
    walks = item.kind is ItemKind.SUBJECT and scales.get(item.ids[0]) == "gait"
    return walks or item.kind is ItemKind.HEADING


def _ended_a_result(items: list[Item], first: Item) -> bool:
    """No side stands before the first result of a list, or that of the result before ("five left"), and none leads."""
    sides = [at for at, item in enumerate(items) if item.kind is ItemKind.SIDE and item.start < first.start]
    if not sides:
        return True
    at = sides[-1] - 1
    while at > 0 and items[at].kind in (ItemKind.PLACE, ItemKind.REGION, ItemKind.THROUGHOUT):
        at -= 1
    return items[sides[-1]].of is not None or (at >= 0 and (items[at].kind in _RESULTS or _denies(items, at - 1)))


def _denies(items: list[Item], at: int) -> bool:
    """ "No wasting": a denial that stands before the name of a test."""
    following = items[at + 1 : at + 2]
    return (
        items[at].kind is ItemKind.NEGATION
        and bool(following)
        and following[0].kind is ItemKind.SUBJECT
        and following[0].start == items[at].end
    )


def _side_for(side: Item, value: Item, size: int, flags: tuple[str, ...]) -> Item:
    """A side in no word of its own, right after a value."""
    unsaid = side_of(value, side.ids[0], size)
    return replace(side, start=unsaid.start, end=unsaid.end, linked=True, of=value, flags=(*side.flags, *flags))
