"""The terms that sound most like a span of words."""

from __future__ import annotations

from collections.abc import Sequence
from operator import itemgetter

import numpy as np
from rapidfuzz import fuzz, process

from pipeline.lexicon.pronounce import phones
from pipeline.mend.sound import Indices, Phones, Sounds, coarse, distances
from pipeline.mend.terms import Term, TermIndex

_CANDIDATES = 6
_COARSE_CUT = 58.0
_FARTHEST = 0.45
_SHORTEST = 3
_AT_ONCE = 1024
"""Keys scored in one step: bounds the memory."""
_COLUMN = (1 << 20) - 1
_MOST_BITS = (1 << 31) - 1
_REMEMBERED = 50_000

Span = tuple[str, ...]


class Nearest:
    """Finds terms by sound; remembers what it has found."""

    def __init__(self, index: TermIndex) -> None:
        self._keys = index.keys
        self._terms = list(dict.fromkeys(index.key_terms))
        places = {term: place for place, term in enumerate(self._terms)}
        self._key_terms = np.array([places[term] for term in index.key_terms], np.intp)
        sounds = [index.sounds(term) for term in self._terms]
        self._said = Sounds([sound for of_term in sounds for sound in of_term])
        self._ways = np.array([len(of_term) for of_term in sounds], np.intp)
        self._found: dict[Span, list[tuple[float, Term]]] = {}

    def prepare(self, spans: set[Span]) -> None:
        """Looks up many spans at once, so that `near` is quick for each of them."""
        fresh = [span for span in spans if span not in self._found]
        if len(self._found) + len(fresh) > _REMEMBERED:
            self._found.clear()
            fresh = list(spans)
        places: dict[Phones, int] = {}
        ways = [
            [places.setdefault(sound, len(places)) for sound in span_sounds(span) if len(sound) >= _SHORTEST]
            for span in fresh
        ]
        close = self._close(list(places))
        for span, sounds in zip(fresh, ways, strict=True):
            best: dict[int, tuple[float, Term]] = {}
            for sound in sounds:
                for place, hit in close[sound]:
                    if place not in best or hit[0] < best[place][0]:
                        best[place] = hit
            self._found[span] = sorted(best.values(), key=itemgetter(0))[:_CANDIDATES]

    def near(self, span: Span) -> list[tuple[float, Term]]:
        """(distance, term) of at most six terms, nearest first; distance as in `pipeline.mend.sound.distance`."""
        if span not in self._found:
            self.prepare({span})
        return self._found[span]

    def _close(self, heard: list[Phones]) -> list[list[tuple[int, tuple[float, Term]]]]:
        """For each sound the terms that may be meant: place in `_terms`, (distance, term)."""
        close: list[list[tuple[int, tuple[float, Term]]]] = [[] for _ in heard]
        if not heard or not self._keys:
            return close
        keys: dict[str, int] = {}
        key = np.array([keys.setdefault(coarse(sound), len(keys)) for sound in heard], np.intp)
        hits, count = self._alike(list(keys))
        sound = np.repeat(np.arange(len(heard)), count[key])
        term = self._key_terms[hits[_runs((np.cumsum(count) - count)[key], count[key])]]
        ways = self._ways[term]
        said = _runs((np.cumsum(self._ways) - self._ways)[term], ways)
        gaps = distances(Sounds(heard), self._said, np.repeat(sound, ways), said)
        gap = np.minimum.reduceat(gaps, np.cumsum(ways) - ways) if len(gaps) else gaps
        near = gap < _FARTHEST
        for at, distance, place in zip(sound[near].tolist(), gap[near].tolist(), term[near].tolist(), strict=True):
            close[at].append((place, (distance, self._terms[place])))
        return close

    def _alike(self, keys: Sequence[str]) -> tuple[Indices, Indices]:
        """The places of the index's keys most like each key, best first, one key after the other; and how many each."""
        hits, counts = [], []
        for start in range(0, len(keys), _AT_ONCE):
            some = keys[start : start + _AT_ONCE]
            scores = process.cdist(some, self._keys, scorer=fuzz.ratio, score_cutoff=_COARSE_CUT, dtype=np.float32)
            row, column = np.divmod(np.flatnonzero(scores), len(self._keys))
            # Sorting whole numbers is quick: row, score (the bits of a positive float order as it does), column.
            score = scores[row, column].view(np.int32).astype(np.int64)
            order = np.sort((row << 52) | ((_MOST_BITS - score) << 20) | column)
            count = np.bincount(row, minlength=len(some))
            rank = np.arange(len(order)) - np.repeat(np.cumsum(count) - count, count)
            hits.append(order[rank < _CANDIDATES] & _COLUMN)
            counts.append(np.minimum(count, _CANDIDATES))
        return np.concatenate(hits), np.concatenate(counts)


def _runs(starts: Indices, lengths: Indices) -> Indices:
    """start, start + 1, ... for each start, as many as its length says, one run after the other."""
    before = np.cumsum(lengths) - lengths
    runs: Indices = np.arange(lengths.sum()) + np.repeat(starts - before, lengths)
    return runs


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
