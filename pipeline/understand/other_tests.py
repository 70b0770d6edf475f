"""What is told of tests that a record has no row for, and so of no other test."""

from __future__ import annotations

import itertools
from bisect import bisect_left
from collections.abc import Iterable

from pipeline.mend.matches import Match
from pipeline.mend.tokens import COMMA, Token, in_one_sentence
from pipeline.understand.items import WHERE, Item, ItemKind

_REACH = 6
"""Most tokens from the name, or from what was told of it, to what is told next."""
_TOLD = (ItemKind.VALUE, ItemKind.OMISSION)
_BEFORE_ADJECTIVES = frozenset("a an the with has had and".split())


def without_other_tests(found: list[Item], matches: Iterable[Match], tokens: list[Token]) -> list[Item]:
    """ "Jaw jerk brisk", "Tinel's positive at the wrist, Phalen's I'm skipping": without these results, their sides and
    places.
    """
    names = {match.end: match.start for match in matches if match.term.meanings[0].kind == "other_test"}
    if not names:
        return found
    found = sorted(found, key=lambda item: (item.start, item.end))
    starts = [item.start for item in found]
    named = set(names.values())
    told = {id(item) for item in found if item.end in named and _is_said_first(item, tokens)}
    for end in names:
        told |= {id(item) for item in _told_of(end, found[bisect_left(starts, end) :], tokens)}
    return [item for item in found if id(item) not in told]


def _is_said_first(item: Item, tokens: list[Token]) -> bool:
    """ "No jaw jerk", "a brisk jaw jerk"."""
    if item.kind is not ItemKind.VALUE:
        return item.kind is ItemKind.NEGATION
    opens = tokens[item.start].boundary >= COMMA or item.start == 0
    return opens or tokens[item.start - 1].text in _BEFORE_ADJECTIVES


def _told_of(at: int, following: list[Item], tokens: list[Token]) -> list[Item]:
    """The results behind a name that ends at a token, each further one with a side or a place of its own
    ("negative on the left and positive on the right").
    """
    told: list[Item] = []
    where: list[Item] = []  # that may be those of the next result, or of the next test
    first: Item | None = None
    for item, after in itertools.zip_longest(following, following[1:]):
        apart = item.start - at > _REACH or not in_one_sentence(tokens, at, item.start + 1)
        if apart and not (first is None and item.start == at):
            break
        if item.kind in WHERE or item.is_place:
            ends = first is not None and (item.linked or item.ids == ("both",))
            (told if ends else where).append(item)
        elif item.kind not in _TOLD:
            break
        elif first is None or (_is_placed(item, where, after) and (item.grade is None) is (first.grade is None)):
            told += [*where, item]
            first, where = first or item, []
        else:
            break
        at = item.end
    return told


def _is_placed(item: Item, before: list[Item], after: Item | None) -> bool:
    """Whether a result has a side or a place before it or, with a small word, behind it."""
    return bool(before) or (after is not None and after.kind in WHERE and after.linked and after.start - item.end <= 2)
