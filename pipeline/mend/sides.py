"""Sides that were misheard, where a statement leaves only a side to say ("five on the write", "lest hamstrings four").

Left and right are short, and what recognisers write for them are everyday words. So a word is taken for a side only by
its place: after "on the" or "left and", or right before a test, a limb or a place. A common word must stand in contrast
to the other side as well. What is mended here is always shown to a person.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from operator import itemgetter

from wordfreq import zipf_frequency

from pipeline.lexicon.pronounce import phones
from pipeline.mend.slots import SMALL, Slot
from pipeline.mend.sound import nearest
from pipeline.mend.terms import Term, TermIndex
from pipeline.mend.tokens import BLOCK_END, COMMA, Token, closes

_FARTHEST, _FARTHEST_COMMON = 0.25, 0.16
_APART = 0.08
"""How much farther the other side must sound."""
_COMMON = 3.9
"""Zipf frequency of words that may well stand there for themselves."""
_CONTRAST = 14
"""Tokens on either side within which the other side is named."""
_LEADS = frozenset("on in at of over to from for".split())
_BEFORE = frozenset("the his her on in at of over and but then now next".split())
_GOES_ON = frozenset("and but with which it's is was are side sides while whereas or than in at".split())
_SIDES = ("left", "right")


@dataclass(frozen=True, slots=True)
class Around:
    """What is known around a word: where names, values, and places (sides, limbs, sites, roots) start and end."""

    names: dict[int, int]
    values: dict[int, int]
    where: dict[int, int]
    sides: dict[int, str]
    """The sides heard, by where they start."""

    def opens_at(self, at: int) -> bool:
        return at in self.names or at in self.values or at in self.where

    def ends(self) -> frozenset[int]:
        return frozenset((*self.names.values(), *self.values.values(), *self.where.values()))


def misheard_sides(index: TermIndex, tokens: list[Token], taken: list[bool], around: Around) -> list[Slot]:
    """The sides that words stand for of which nothing else was made."""
    ends = around.ends()
    found: list[Slot] = []
    for at, token in enumerate(tokens):
        word = token.text
        if taken[at] or not word.isalpha() or word in SMALL or len(word) < 3 or word in index.left_alone:
            continue
        common = zipf_frequency(word, "en") >= _COMMON
        joined = _is_joined(tokens, at, around)
        if not (_is_led(tokens, at, around, ends) or joined or (_is_fronted(tokens, at, around, ends) and not common)):
            continue
        gaps = {side: nearest(phones(word), phones(side)) for side in _SIDES}
        side = min(gaps, key=gaps.__getitem__)
        other = _SIDES[side == "left"]
        limit = _FARTHEST_COMMON if common else _FARTHEST
        if gaps[side] > limit or gaps[other] - gaps[side] < _APART:
            continue
        near = range(max(0, at - _CONTRAST), at + _CONTRAST)
        if common and not any(other in heard.split() for start, heard in around.sides.items() if start in near):
            continue
        found.append(Slot(at, at + 1, index.terms[(side,)], gaps[side]))
    return found


def going_on(tokens: list[Token], names: list[tuple[int, Term]], around: Around) -> list[tuple[int, Term]]:
    """Where a statement goes on with the other side of the test named last ("five on the left, right ...").

    `names` and the result: the tests, by where their results may stand; `names` in order, one at each place.
    """
    found = []
    for start in around.sides:
        lead = start
        while lead > 0 and tokens[lead].boundary < COMMA and tokens[lead - 1].text in ("on", "in", "the"):
            lead -= 1
        follows = lead == start and (_joins(tokens, start) or start in around.values.values())
        stands = lead < start and lead > 0 and tokens[lead].boundary < COMMA and _joins(tokens, lead - 1)
        if not (follows or stands):
            continue
        place = around.where.get(start, start + 1) if follows else lead - 1
        before = bisect_left(names, start, key=itemgetter(0))
        owner = names[before - 1] if before else None
        if (
            owner is not None
            and place - _GOING_ON <= owner[0]
            and all(token.boundary < BLOCK_END for token in tokens[owner[0] : start + 1])
        ):
            found.append((place, owner[1]))
    return found


def _joins(tokens: list[Token], at: int) -> bool:
    """Another part of a statement begins at a token."""
    return tokens[at].boundary >= COMMA or (at > 0 and tokens[at - 1].text in _JOINING)


_JOINING = frozenset("and but while whereas then".split())
_GOING_ON = 16
"""Most tokens from the name of a test to the other side of it."""


def _is_led(tokens: list[Token], at: int, around: Around, ends: frozenset[int]) -> bool:
    """ "Five on the ...", and then the end, another statement, or what was tested there."""
    if at < 2 or tokens[at - 1].text != "the" or tokens[at - 2].text not in _LEADS or tokens[at].boundary >= COMMA:
        return False
    if tokens[at - 2].text not in ("on", "over") and not around.opens_at(at + 1):
        return False
    after = at + 1
    closed = closes(tokens, after) or tokens[after].text in _GOES_ON
    before = at - 2
    told = before in ends or before == 0 or tokens[before].boundary >= COMMA or tokens[before - 1].text in _GOES_ON
    return told and (closed or around.opens_at(after))


def _is_joined(tokens: list[Token], at: int, around: Around) -> bool:
    """ "Five left and ...", and then the end or another statement: the other side."""
    if around.sides.get(at - 2) not in _SIDES or tokens[at - 1].text != "and":
        return False
    after = at + 1
    closed = closes(tokens, after) or after in around.names
    return closed and max(token.boundary for token in tokens[at - 1 : at + 1]) < COMMA


def _is_fronted(tokens: list[Token], at: int, around: Around, ends: frozenset[int]) -> bool:
    """ "... hamstrings four", "the ... knee jerk", "in the ... arm": right before what was tested."""
    after = at + 1
    if after not in around.names and after not in around.where:
        return False
    if after in around.sides or (after < len(tokens) and tokens[after].boundary >= COMMA):
        return False
    opens = at == 0 or tokens[at].boundary >= COMMA or at in ends
    return opens or tokens[at - 1].text in _BEFORE
