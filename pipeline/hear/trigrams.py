"""How words follow one another: counts of three in a row, smoothed after Witten and Bell.

Witten and Bell, IEEE Transactions on Information Theory 37, 1991; from memory. The counts of what examiners say
(`TALK`) come with the program; `scripts/count_words.py` makes them.
"""

from __future__ import annotations

import gzip
import json
import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from wordfreq import zipf_frequency

TALK = Path(__file__).with_name("talk.json.gz")
Gram = tuple[str, str, str]

_START, _END, _RARE = "<", ">", "?"
_FEWEST = 3
"""Words said less often are all counted as one."""
_OF_RARE = 0.1
"""Share of all English words that rare ones make up here."""
_NEVER_MET = 1e-9
_MOST_REMEMBERED = 200_000
"""Chances; all are forgotten when there would be more, so that they may serve any number of talks."""
_ZIPF_WRITTEN = 2.5
"""For what is no word ("3.30")."""


def count(talks: Iterable[Sequence[str]]) -> Counter[Gram]:
    """Three words in a row, and how often; `talks`: words in the order said."""
    talks = list(talks)
    often = Counter(word for talk in talks for word in talk)
    trigrams: Counter[Gram] = Counter()
    for talk in talks:
        words = [word if often[word] >= _FEWEST else _RARE for word in talk]
        row = [_START, _START, *words, _END, _END]
        trigrams.update(zip(row, row[1:], row[2:], strict=False))
    return trigrams


def write(path: Path, trigrams: Counter[Gram], **more: Any) -> None:
    """Store counts, and what else belongs to them (as JSON has it), compressed."""
    words = sorted({word for gram in trigrams for word in gram})
    place = {word: at for at, word in enumerate(words)}
    flat = [number for gram, times in sorted(trigrams.items()) for number in (*(place[word] for word in gram), times)]
    stored = json.dumps({"words": words, "trigrams": flat, **more}, separators=(",", ":"))
    path.write_bytes(gzip.compress(stored.encode(), mtime=0))


def read(path: Path) -> tuple[Counter[Gram], dict[str, Any]]:
    """What `write` stored."""
    stored = json.loads(gzip.decompress(path.read_bytes()))
    words, flat = stored.pop("words"), iter(stored.pop("trigrams"))
    return Counter(
        {(words[one], words[two], words[three]): times for one, two, three, times in zip(*[flat] * 4, strict=True)}
    ), stored


@dataclass
class Trigrams:
    """Chances from counts of three words in a row."""

    trigrams: Counter[Gram]

    def __post_init__(self) -> None:
        self._known = {word for gram in self.trigrams for word in gram}
        self._counts: Counter[tuple[str, ...]] = Counter()
        for words, times in self.trigrams.items():
            self._counts.update({words: times, words[1:]: times, words[2:]: times})
        self._totals: Counter[tuple[str, ...]] = Counter()
        self._kinds: Counter[tuple[str, ...]] = Counter()
        for gram, times in self._counts.items():
            self._totals[gram[:-1]] += times
            self._kinds[gram[:-1]] += 1
        self._remembered: dict[Gram, float] = {}

    def likelihood(self, word: str, before: Sequence[str]) -> float:
        """The logarithm of the chance that a word is said after the two before it (fewer at the start)."""
        one, two = ([_START, _START, *before])[-2:]
        key = (self._known_as(one), self._known_as(two), self._known_as(word))
        if key not in self._remembered:
            if len(self._remembered) >= _MOST_REMEMBERED:
                self._remembered.clear()
            self._remembered[key] = math.log(self._chance(key))
        return self._remembered[key] + (_rarity(word) if key[2] == _RARE else 0.0)

    def ends(self, before: Sequence[str]) -> float:
        """The logarithm of the chance that the talk ends after two words."""
        return self.likelihood(_END, before)

    def of(self, words: Sequence[str], first: int = 0) -> float:
        """The logarithm of the chance that the words from `first` on are said in this order after those before them."""
        return sum(self.likelihood(words[at], words[max(0, at - 2) : at]) for at in range(first, len(words)))

    def _known_as(self, word: str) -> str:
        return word if word in self._known else _RARE

    def _chance(self, gram: Gram) -> float:
        total, kinds = self._totals[()], self._kinds[()]
        chance = (self._counts.get(gram[2:], 0) + 0.5) / (total + 0.5 * kinds)
        for size in (2, 3):
            context = gram[-size:-1]
            if context in self._totals:
                kinds = self._kinds[context]
                chance = (self._counts.get(gram[-size:], 0) + kinds * chance) / (self._totals[context] + kinds)
        return chance


@cache
def talk() -> Trigrams:
    """How examiners put words in a row, as the program comes with it."""
    return Trigrams(read(TALK)[0])


@lru_cache(maxsize=50_000)
def _rarity(word: str) -> float:
    zipf = zipf_frequency(word, "en") if word.isalpha() else _ZIPF_WRITTEN
    return math.log((10 ** (zipf - 9) + _NEVER_MET) / _OF_RARE)
