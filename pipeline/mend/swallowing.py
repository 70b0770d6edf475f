"""Which words a mended term may take in: what was heard right is kept."""

from __future__ import annotations

from functools import lru_cache

from pipeline.mend.context import FUNCTION
from pipeline.mend.matches import Match
from pipeline.mend.terms import Term, is_side
from pipeline.mend.words import frequency

NEARLY_THE_SAME = 0.05
"""Distance up to which words sound just like a name."""

FINDINGS = frozenset(
    """absent normal reduced brisk present impaired increased intact diminished negative positive sustained
        mute equivocal altered weak""".split()
)


@lru_cache(maxsize=10_000)
def is_strong(term: Term) -> bool:
    """Words as heard that no mend may swallow."""
    kinds = {meaning.kind for meaning in term.meanings}
    if kinds & {"manoeuvre", "muscle"}:
        return len(term.text) > 3 and any(meaning.section is None for meaning in term.meanings)
    if any(kind.startswith(("section_", "group_")) for kind in kinds):
        return term.text != "jerks"
    return is_side(term)


def may_swallow(inner: Match, span: tuple[str, ...], start: int) -> bool:
    """An everyday word ("tone") or the beginning of a longer name ("glutes maximus") may be part of a misheard term."""
    extra = span[: inner.start - start] + span[inner.end - start :]
    common = len(inner.term.words) == 1 and frequency(inner.term.words[0]) > 4 and len(span) > 2
    return bool(extra) and (common or any(frequency(word) < 3.8 for word in extra))


def completes(match: Match, inner: Term, span: tuple[str, ...]) -> bool:
    """A name of which a shorter name was heard right: "biceps jack" is the biceps jerk, not the biceps."""
    term, size = match.term, len(inner.words)
    split = 1 if match.distance < NEARLY_THE_SAME else 0  # "ankle close us"
    if len(term.words) <= size or not 0 <= len(span) - len(term.words) <= split:
        return False
    if term.words[:size] == inner.words == span[:size]:
        return not FUNCTION.intersection(span[size:])
    return term.words[-size:] == inner.words == span[-size:] and not FUNCTION.intersection(span[:-size])


def besides(inner: Match, match: Match, words: list[str]) -> list[str]:
    """The words of a mended span that another match leaves."""
    return words[match.start : inner.start] + words[inner.end : match.end]


def is_finding(term: Term) -> bool:
    """A value in words of its own that no misheard name contains ("absent", "reduced")."""
    return is_value(term) and (len(term.words) > 1 or term.text in FINDINGS)


def is_value(term: Term) -> bool:
    return any(meaning.kind == "value" for meaning in term.meanings)


def is_place(term: Term) -> bool:
    return any(meaning.kind == "site" or meaning.kind.startswith("region_") for meaning in term.meanings)


def is_part(term: Term) -> bool:
    """Names a test only in its own part of the examination ("knee", "touch")."""
    return all(meaning.section is not None for meaning in term.meanings if meaning.kind in ("manoeuvre", "muscle"))


def is_spelled(term: Term) -> bool:
    """An abbreviation said letter by letter ("E H L")."""
    return len(term.words) > 1 and all(len(word) == 1 for word in term.words)


def same_meaning(first: Term, second: Term) -> bool:
    return not first.numbers.isdisjoint(second.numbers)
