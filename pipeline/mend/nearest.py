"""The terms that sound most like a span of words."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import islice, product
from operator import itemgetter
from typing import Generic, Protocol, TypeVar

import numpy as np
from rapidfuzz import fuzz, process

from pipeline.lexicon.pronounce import phones
from pipeline.mend.sound import Indices, Phones, Sounds, coarse_key, distance, distances, read, written

_CANDIDATES = 6
_SHORT, _OF_SHORT = 3, 12
"""Keys so short are alike to many others: more candidates for them."""
_COARSE_CUT = 58.0
_MUCH_ALIKE = 66.0
"""Where there are enough keys above this score, those below are not ranked."""
_FARTHEST = 0.45
_SHORTEST = 3
_UNRELATED = 0.5
"""Distance of words that nothing joins."""
_ALIKE = 0.42
"""Distance up to which words that differ do not count against what the others share."""
_AT_ONCE = 256
"""Keys scored in one step: few enough for the scores to stay in the processor's cache."""
_REMEMBERED = 50_000
"""Spans; all are forgotten when there would be more, so that an engine may serve any number of talks."""

_ONE_STOP = bytes.maketrans(written(("T", "P", "K")), written(("D", "B", "G")))
"""Stops made in the same place."""
Span = tuple[str, ...]
T = TypeVar("T")


class Sounding(Protocol[T]):
    """Terms of any kind, by the coarse keys of their sounds: `key_terms[k]` is a term that sounds like `keys[k]`."""

    keys: list[str]
    key_terms: list[T]

    def sounds(self, term: T, /) -> tuple[Phones, ...]: ...


class Nearest(Generic[T]):
    """Finds terms by sound that are nearer than `farthest`; remembers what it has found."""

    def __init__(self, index: Sounding[T], farthest: float = _FARTHEST) -> None:
        self._farthest = farthest
        self._keys = index.keys
        self._terms = list(dict.fromkeys(index.key_terms))
        places = {term: place for place, term in enumerate(self._terms)}
        self._key_terms = np.array([places[term] for term in index.key_terms], np.intp)
        sounds = [index.sounds(term) for term in self._terms]
        self._said = Sounds([written(sound) for of_term in sounds for sound in of_term])
        self._ways = np.array([len(of_term) for of_term in sounds], np.intp)
        # Dropping a phone costs 0.3 or more, so a sound seven times as long as a term is 0.45 or farther from it.
        self._longest = 7 * int(self._said.lengths.max(initial=0))
        self._found: dict[Span, list[tuple[float, T]]] = {}

    def prepare(self, spans: set[Span]) -> None:
        """Looks up many spans at once, so that `near` is quick for each of them."""
        fresh = [span for span in spans if span not in self._found]
        if len(self._found) + len(fresh) > _REMEMBERED:
            self._found.clear()
            fresh = list(spans)
        places: dict[bytes, int] = {}
        ways = [
            [
                places.setdefault(sound, len(places))
                for sound in _sounds(span)
                if _SHORTEST <= len(sound) <= self._longest
            ]
            for span in fresh
        ]
        starts, gaps, terms = self._close(list(places))
        for span, sounds in zip(fresh, ways, strict=True):
            best: dict[int, float] = {}
            for sound in sounds:
                here = slice(starts[sound], starts[sound + 1])
                for gap, term in zip(gaps[here], terms[here], strict=True):
                    if gap < best.get(term, self._farthest):
                        best[term] = gap
            ranked = sorted(best.items(), key=itemgetter(1))[:_CANDIDATES]
            self._found[span] = [(gap, self._terms[term]) for term, gap in ranked]

    def near(self, span: Span) -> list[tuple[float, T]]:
        """(distance, term) of at most six terms, nearest first; distance as in `pipeline.mend.sound.distance`."""
        if span not in self._found:
            self.prepare({span})
        return self._found[span]

    def _close(self, heard: list[bytes]) -> tuple[list[int], list[float], list[int]]:
        """The terms that each sound may mean: distances and places in `_terms`, sound `k` from `starts[k]` on."""
        if not heard or not self._keys:
            return [0] * (len(heard) + 1), [], []
        keys: dict[str, int] = {}
        key = np.array([keys.setdefault(coarse_key(sound), len(keys)) for sound in heard], np.intp)
        hits, count = self._alike(list(keys))
        sound = np.repeat(np.arange(len(heard)), count[key])
        term = self._key_terms[hits[_runs((np.cumsum(count) - count)[key], count[key])]]
        ways = self._ways[term]
        said = _runs((np.cumsum(self._ways) - self._ways)[term], ways)
        gaps = distances(Sounds(heard), self._said, np.repeat(sound, ways), said)
        gap = np.minimum.reduceat(gaps, np.cumsum(ways) - ways) if len(gaps) else gaps
        near = gap < self._farthest
        starts = np.searchsorted(sound[near], np.arange(len(heard) + 1))
        return starts.tolist(), gap[near].tolist(), term[near].tolist()

    def _alike(self, keys: Sequence[str]) -> tuple[Indices, Indices]:
        """The places of the index's keys most like each key, best first, one key after the other; and how many each."""
        hits, counts = [], []
        for start in range(0, len(keys), _AT_ONCE):
            some = keys[start : start + _AT_ONCE]
            scores = process.cdist(some, self._keys, scorer=fuzz.ratio, score_cutoff=_COARSE_CUT, dtype=np.float32)
            most = np.array([_CANDIDATES if len(key) > _SHORT else _OF_SHORT for key in some])
            enough = np.sum(scores > _MUCH_ALIKE, axis=1, dtype=np.int32) >= most  # quicker than to count
            least = np.where(enough, np.float32(_MUCH_ALIKE), np.float32(0))
            row, column = np.divmod(np.flatnonzero(scores > least[:, None]), len(self._keys))
            # A whole number sorts quickest: row, falling score, column. The bits of a positive float order as it does.
            score = scores[row, column].view(np.int32).astype(np.int64)
            order = np.sort((row << 52) + (((1 << 31) - 1 - score) << 20) + column)
            count = np.bincount(row, minlength=len(some))
            rank = np.arange(len(order)) - np.repeat(np.cumsum(count) - count, count)
            hits.append(order[rank < np.repeat(most, count)] % (1 << 20))
            counts.append(np.minimum(count, most))
        return np.concatenate(hits), np.concatenate(counts)


def _runs(starts: Indices, lengths: Indices) -> Indices:
    """start, start + 1, ... for each start, as many as its length says, one run after the other."""
    before = np.cumsum(lengths) - lengths
    runs: Indices = np.arange(lengths.sum()) + np.repeat(starts - before, lengths)
    return runs


def span_sounds(span: Span) -> tuple[Phones, ...]:
    """At most three pronunciations of a span of words: two of its words, and one run together."""
    return tuple(map(read, _sounds(span)))


def _sounds(span: Span) -> tuple[bytes, ...]:
    """`span_sounds`, as they are `written`."""
    first = second = joined = b""
    for word in span:
        ways = _two_ways(word)
        if not ways:
            return ()
        first += ways[0]
        second += ways[-1]
        joined = _joined(joined, ways[0])
    return tuple(dict.fromkeys((first, second, joined)))


@lru_cache(maxsize=50_000)
def _two_ways(word: str) -> tuple[bytes, ...]:
    return tuple(map(written, phones(word)[:2]))


def _joined(first: bytes, second: bytes) -> bytes:
    """Two words said in a row: a sound that ends the one and begins the other, as in "at duction", is said once."""
    if first and second and _ONE_STOP[first[-1]] == _ONE_STOP[second[0]]:
        return first[:-1] + second
    return first + second


def unlike(span: Span, gap: float, words: Span) -> float:
    """The distance, where a word that both share does not make up for another that is quite unlike."""
    if len(span) < 2 or len(words) < 2:
        return gap
    if span[-1] == words[-1]:
        first, second = span[:-1], words[:-1]
    elif span[0] == words[0]:
        first, second = span[1:], words[1:]
    else:
        return gap
    if len(first) == 1 and len(first[0]) == 1 < len(second[0]):
        return gap + 0.3  # "a jerks"
    apart = _apart(first, second)
    return gap + (0.3 if apart > _UNRELATED else 0.6 * max(0.0, apart - _ALIKE))


@lru_cache(maxsize=50_000)
def _apart(heard: Span, said: Span) -> float:
    """The distance of the nearest pronunciations of two phrases, or of the first two that are alike."""
    least: float | None = None
    for one, two in product(span_sounds(heard), ways_to_say(said)):
        gap = distance(one, two)
        if gap <= _ALIKE:
            return gap
        least = gap if least is None else min(least, gap)
    return least or 0.0


@lru_cache(maxsize=20_000)
def ways_to_say(words: Span) -> tuple[Phones, ...]:
    """At most four ways to say words in a row."""
    return tuple(
        tuple(phone for part in parts for phone in part)
        for parts in islice(product(*(phones(word)[:2] for word in words)), 4)
    )
