"""Names, and levels with their findings, that were cut in two where one stretch of speech ends and the next begins."""

from __future__ import annotations

from itertools import product

from pipeline.mend.context import FUNCTION
from pipeline.mend.likely import Saying
from pipeline.mend.nearest import Nearest
from pipeline.mend.numbers import Roots
from pipeline.mend.swallowing import FINDINGS, same_meaning
from pipeline.mend.terms import TermIndex, is_side
from pipeline.mend.tokens import BLOCK_END, Token

_BEFORE, _AFTER = (3, 2, 1), (2, 1)
"""Most words of a name on either side of the break."""
_SHORTEST = 5
"""Letters of a name that may have been cut."""
_JUST_LIKE, _LIKE_ONE_WORD, _LIKE_A_LONG_WORD = 0.06, 0.1, 0.15
"""Distances up to which pieces sound just like a name, two of them enough like one word, or any like a long one."""
_LONG_WORD = 12
_AS_NEAR = 0.03
"""What one piece may sound less like the name than both, to be taken for the name by itself."""
_BEFORE_SIDES = frozenset("the his her".split())
_NO_PLACE = frozenset("at over to".split())
_SIDED = frozenset("on the both sides left right".split())
_PLACING = frozenset("at over from in".split())


def join_stretches(index: TermIndex, nearest: Nearest[Saying], tokens: list[Token], words: list[str]) -> None:
    """Takes back the break between two utterances that goes through a word or a name ("S1 re" / "duced", "light" /
    "touch", "hip ab" / "duction", "five through" / "out").
    """
    breaks = [at for at in range(1, len(tokens)) if tokens[at].boundary == BLOCK_END]
    pieces = {
        at: [
            (tuple(words[at - before : at]), tuple(words[at : at + after]))
            for before, after in product(_BEFORE, _AFTER)
            if before <= at
            and at + after <= len(words)
            and _is_unbroken(tokens, at - before, at, at + after)
            and _may_be_name(words[at - before : at + after])
        ]
        for at in breaks
    }
    nearest.prepare({one + two for found in pieces.values() for one, two in found})
    for at, found in pieces.items():
        if _goes_on(index, tuple(words[at : at + 2])) or (
            any(_is_name(index, nearest, one, two) for one, two in found)
            and _NO_PLACE.isdisjoint(words[max(0, at - 3) : at])
        ):
            tokens[at].boundary = 0.0


def _goes_on(index: TermIndex, opening: tuple[str, ...]) -> bool:
    """ "Left arm five" / "throughout": no statement begins so."""
    term = index.terms.get(opening[:1]) or index.terms.get(opening)
    return term is not None and any(meaning.kind == "throughout" for meaning in term.meanings)


def _is_unbroken(tokens: list[Token], start: int, at: int, end: int) -> bool:
    """There is no break but that at `at`."""
    return all(token.boundary == 0 for token in [*tokens[start + 1 : at], *tokens[at + 1 : end]])


def _may_be_name(span: list[str]) -> bool:
    return all(word.replace("'", "").isalpha() for word in span) and not FUNCTION.issuperset(span)


def _is_name(index: TermIndex, nearest: Nearest[Saying], one: tuple[str, ...], two: tuple[str, ...]) -> bool:
    """Both pieces together are a name or a finding, and neither is without the other."""
    span = one + two
    limb = index.terms.get((one[1], *two)) if len(one) == 2 and one[0] in _BEFORE_SIDES else None
    if limb is not None and is_side(limb):
        return True  # "in the right" / "leg"
    gap, whole = 0.0, index.terms.get(span) or index.terms.get(("".join(span),))
    if whole is None:
        gap, saying = next(iter(nearest.near(span)), (1.0, None))
        whole = None if saying is None else saying.term
        one_word = whole is not None and len(whole.words) == 1 and index.names(whole)
        if (
            one_word
            and gap <= _LIKE_ONE_WORD
            and len(span) == 2
            and two not in index.terms
            and FUNCTION.isdisjoint(two)
        ):
            return True  # "pin" / "pick": the first piece may name the test by itself
        long = one_word and whole is not None and len(whole.text) >= _LONG_WORD
        if gap > (_LIKE_A_LONG_WORD if long else _JUST_LIKE):
            return False
    if whole is None or is_side(whole) or len(whole.text) < _SHORTEST:
        return False
    after = index.terms.get(two)
    if gap and after is not None and any(meaning.kind.startswith("group_") for meaning in after.meanings):
        return False  # "sat there" / "reflexes"
    if not gap and index.names(whole) and two not in index.terms and FUNCTION.isdisjoint(two):
        return True  # "pin" / "prick"
    begun = len(one) == 1 and index.is_part(one[0]) and index.names(whole)
    return (one not in index.terms or begun) and not any(
        less <= gap + _AS_NEAR and saying.term is not None and same_meaning(saying.term, whole)
        for piece in (one, two)
        for less, saying in nearest.near(piece)
    )


def join_findings(tokens: list[Token], roots: list[Roots]) -> None:
    """Takes back the break between two utterances that parts a level from its finding ("touch at L5" / "reduced on
    the left"), unless that has a place of its own.
    """
    level = {root.start for root in roots}
    for root in roots:
        at, after = root.end, root.end + 1
        if at == len(tokens) or tokens[at].boundary != BLOCK_END or tokens[at].text not in FINDINGS:
            continue
        while after < len(tokens) and tokens[after].text in _SIDED:
            after += 1
        placed = after in level or (after < len(tokens) and tokens[after].text in _PLACING)
        before = [token.text in FINDINGS for token in tokens[max(0, root.start - 2) : root.start]]
        if not placed and before != [True, False]:  # "normal at L4"
            tokens[at].boundary = 0.0
