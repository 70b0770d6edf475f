"""The terms that sound most like a span of words."""

from __future__ import annotations

from functools import lru_cache

from rapidfuzz import fuzz, process

from pipeline.lexicon.pronounce import phones
from pipeline.mend.sound import Phones, coarse, distance
from pipeline.mend.terms import Term, TermIndex

_CANDIDATES = 6
_COARSE_CUT = 58.0
_FARTHEST = 0.45

Span = tuple[str, ...]


class Nearest:
    """Finds terms by sound; remembers what it has found."""

    def __init__(self, index: TermIndex) -> None:
        self._index = index
        self._found: dict[Span, list[tuple[float, Term]]] = {}

    def prepare(self, spans: set[Span]) -> None:
        """Looks up many spans at once, so that `near` is quick for each of them."""
        for span in spans:
            self.near(span)

    def near(self, span: Span) -> list[tuple[float, Term]]:
        """(distance, term) of at most six terms, nearest first; distance as in `pipeline.mend.sound.distance`."""
        cached = self._found.get(span)
        if cached is not None:
            return cached
        best: dict[Term, float] = {}
        for sound in span_sounds(span):
            if len(sound) < 3:
                continue
            hits = process.extract(
                coarse(sound), self._index.keys, scorer=fuzz.ratio, score_cutoff=_COARSE_CUT, limit=_CANDIDATES
            )
            for _, _, at in hits:
                term = self._index.key_terms[at]
                gap = min(distance(sound, said) for said in self._index.sounds(term))
                if gap < best.get(term, 1.0):
                    best[term] = gap
        near = sorted(((gap, term) for term, gap in best.items() if gap < _FARTHEST), key=lambda hit: hit[0])[:_CANDIDATES]
        self._found[span] = near
        return near


@lru_cache(maxsize=50_000)
def span_sounds(span: Span) -> tuple[Phones, ...]:
    """At most two pronunciations of a span of words."""
    first: Phones = ()
    second: Phones = ()
    for word in span:
        variants = phones(word)
        if not variants:
            return ()
        first += variants[0]
        second += variants[min(1, len(variants) - 1)]
    return (first,) if first == second else (first, second)
