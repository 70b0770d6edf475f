""" "Both" of two tests or two places, where it is not of both sides."""

from __future__ import annotations

import itertools

from pipeline.mend.tokens import COMMA, Token, in_one_sentence
from pipeline.mend.words import BE
from pipeline.understand.items import OPPOSITE, WHERE, Item, ItemKind

_BEFORE_BOTH = ("", "are", "were", "which are", "which were", "they're", "is")
"""What stands between two tests and the "both" that is said of them."""
_BE_AT = BE | {"at"}
"""What stands between "both" and the result of two tests."""
_LOOKED_AT = 8
"""Most items behind "both" of which it may be said."""
_NAMED_WITH_BOTH = (ItemKind.SUBJECT, ItemKind.PLACE)
_PAIRED = (ItemKind.SUBJECT, ItemKind.HEADING, *WHERE)
"""Kinds of items that name two tests or places of which "both" is said."""


def both_of_two(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Heel walking and toe walking are both normal", "both on the left": both of the two tests, not both sides."""
    kept: list[Item] = []
    grades = {item.start for item in items if item.kind is ItemKind.VALUE and item.grade is not None}
    for at, item in enumerate(items):
        pair = kept[-2:]
        following = items[at + 1 : at + 1 + _LOOKED_AT]
        sides = _sides_of_pair(item, kept, following, words, tokens)
        if sides and sides[0].ids[0] in OPPOSITE:
            continue
        if _is_both_and(item, kept, following, words, tokens):
            continue
        if (
            item.kind is ItemKind.SIDE
            and item.ids[0] in ("left", "right")
            and kept
            and kept[-1].kind is ItemKind.SIDE
            and words[kept[-1].start : kept[-1].end] == ["both"]
            and words[kept[-1].end : item.start] in (["on", "the"], ["on"])
        ):
            kept.pop()
        if (
            item.kind is ItemKind.SIDE
            and words[item.start : item.end] == ["both"]
            and (words[item.start - 1] in ("are", "were") or item.end in grades or all(map(_is_walk, pair)))
            and len(pair) == 2
            and all(other.kind is ItemKind.SUBJECT for other in pair)
            and words[pair[0].end : pair[1].start] == ["and"]
            and " ".join(words[pair[1].end : item.start]) in _BEFORE_BOTH
        ):
            continue
        if sides == [] and not kept[-1].plural and _is_of_one_limb(kept):
            items[at + 1].flags += ("side_uncertain",)
            continue
        kept.append(item)
    return kept


def _is_of_one_limb(before: list[Item]) -> bool:
    """ "Left leg. Light touch and pinprick both normal": both of that leg, or of both sides."""
    side = next((item for item in reversed(before) if item.kind is ItemKind.SIDE), None)
    return side is not None and side.ids[0] in OPPOSITE and bool(side.sites) and not side.linked


def _sides_of_pair(
    both: Item, before: list[Item], following: list[Item], words: list[str], tokens: list[Token]
) -> list[Item] | None:
    """The sides said with two tests or places that are "both" something; None where these are not two.

    "Left ankle and left knee both normal", "L4 and L5 both reduced on the left".
    """
    if both.kind is not ItemKind.SIDE or words[both.start : both.end] != ["both"] or not following:
        return None
    told = following[0].kind in (ItemKind.VALUE, ItemKind.OMISSION)
    run = _said_before(both, before, tokens)
    if not (told and _BE_AT.issuperset(words[both.end : following[0].start]) and _are_two(run, words)):
        return None
    return [item for item in run if item.kind is ItemKind.SIDE] or _side_behind(following[1:], both, tokens)


def _leads(before: list[Item], both: Item, tokens: list[Token]) -> bool:
    """ "On the left both", and not "tone normal on the left both", where the side is that of the tone."""
    side = before[-1] if before else both
    if side.kind is not ItemKind.SIDE or side.ids[0] not in OPPOSITE or side.end != both.start:
        return False
    told = len(before) > 1 and before[-2].kind is ItemKind.VALUE and side.linked
    behind = told and all(token.boundary < COMMA for token in tokens[before[-2].end : side.start + 1])
    return not behind and in_one_sentence(tokens, side.end, both.end)


def _side_behind(following: list[Item], both: Item, tokens: list[Token]) -> list[Item]:
    """ "Both normal [on the left]", "both reduced at L5 on the right": the side behind a result, and its place."""
    rest = itertools.dropwhile(lambda item: item.is_place, following)
    side = next(rest, both)
    said = side.kind is ItemKind.SIDE and side.linked and in_one_sentence(tokens, both.end, side.end)
    return [side] if said else []


def _is_both_and(both: Item, before: list[Item], following: list[Item], words: list[str], tokens: list[Token]) -> bool:
    """ "On the left both L5 and S1 absent", "both biceps and triceps four on the left": of one side."""
    if both.kind is not ItemKind.SIDE or words[both.start : both.end] != ["both"]:
        return False
    named = list(itertools.takewhile(lambda item: item.kind in _NAMED_WITH_BOTH, following))
    if not named or named[0].start - both.end > (words[both.end] == "the") or not _are_two(named, words):
        return False
    parts = named[0].is_place and not named[0].is_level and words[named[0].end - 1].endswith("s")
    if parts or words[named[0].end - 1] in ("jerks", "reflexes"):
        return False  # "absent at both ankles and at the knees", "both knee jerks and ankle jerks": both of the first
    if _leads(before, both, tokens):
        return True
    rest = following[len(named) :]
    result = rest[:1] if rest and rest[0].kind in (ItemKind.VALUE, ItemKind.OMISSION) else []
    behind = _side_behind(rest[len(result) :], both, tokens)
    return bool(behind) and behind[0].ids[0] in OPPOSITE


def _said_before(both: Item, before: list[Item], tokens: list[Token]) -> list[Item]:
    """The tests and places of one side right before "both": "reduced on the left, [right L4 and right L5] both"."""
    run: list[Item] = []
    side: Item | None = None
    for item in reversed(before):
        if item.kind not in _PAIRED or not in_one_sentence(tokens, item.end, both.start + 1):
            break
        if item.kind is ItemKind.SIDE:
            if side is not None and side.ids != item.ids:
                return run[run.index(side) :]
            side = item
        run.insert(0, item)
    led = itertools.takewhile(lambda item: item.is_place and item.linked, run) if side is not None else ()
    return run[len(list(led)) :]  # "reduced at L4, [left L4 and left L5] both"


def _are_two(run: list[Item], words: list[str]) -> bool:
    """ "Right great toe and right ankle", "L4 and L5": one "and", with one thing of a sort on either side of it."""
    levels = [item for item in run if item.is_level and len(item.ids) > 1]
    if levels:
        return len(levels) == 1 and len(levels[0].ids) == len(OPPOSITE)
    joins = [at for at in range(1, len(run)) if "and" in words[run[at - 1].end : run[at].start]]
    if len(joins) != 1:
        return False
    parts = run[: joins[0]], run[joins[0] :]
    if parts[0][-1].kind is ItemKind.SIDE and not any(item.kind is ItemKind.SIDE for item in parts[1]):
        return False  # "wasting in the left arm and the knee jerks both brisk"
    first, second = ([_sort(item) for item in part if _sort(item)] for part in parts)
    return bool(first and second) and len(set(first)) == len(first) and len(set(second)) == len(second)


def _sort(item: Item) -> str:
    """Whether an item names a place or a test; a bare side names neither."""
    if item.is_place or (item.kind is ItemKind.SIDE and item.sites) or item.kind is ItemKind.REGION:
        return "place"
    return "" if item.kind is ItemKind.SIDE else "test"


def _is_walk(item: Item) -> bool:
    return bool({"heel_walk", "toe_walk"}.intersection(item.ids))
