"""How examiners put words in a row: trigrams over words and classes of words.

Names of tests, sides, roots and grades are counted as classes (`kind_of`), so that what follows one knee jerk follows
any. The counts are those of `scripts/count_words.py`, stored in `ngrams.json.gz`; they are smoothed after Witten and
Bell (IEEE Transactions on Information Theory 37, 1991; from memory).
"""

from __future__ import annotations

import gzip
import json
import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cache, lru_cache
from pathlib import Path

from wordfreq import zipf_frequency

from pipeline.mend.terms import Term, TermIndex

COUNTS = Path(__file__).with_name("ngrams.json.gz")
GRADE, ROOT, DEGREES, BEATS, COUNT = "G", "R", "D", "K", "#"
NAMED = "N:"
"""Begins the classes of tests."""
_START, _END, _RARE = "<", ">", "?"
_FEWEST = 3
"""Words said less often are all counted as one."""
_OF_RARE = 0.1
"""Share of all English words that rare ones make up here."""
_NEVER_MET = 1e-9
_MOST_REMEMBERED = 200_000
"""Chances; all are forgotten when there would be more, so that an engine may serve any number of talks."""
_ZIPF_WRITTEN = 2.5
"""For what is no word ("3.30")."""


def kind_of(term: Term, index: TermIndex) -> str:
    """The class that a term is counted in: tests by their scales, sides, places; all others by their words."""
    scales = index.scales(term)
    if scales:
        return NAMED + "/".join(sorted(scales))
    kinds = {meaning.kind for meaning in term.meanings}
    if not kinds.isdisjoint(("side_left", "side_right")):
        return "S" if len(term.words) == 1 else f"S {term.words[-1]}"
    if "side_both" in kinds:
        return "B"
    return "P" if "site" in kinds else term.text


@dataclass
class Ngrams:
    """Counts of three words in a row, and of each term within its class (`said`: class -> words -> count)."""

    trigrams: Counter[tuple[str, str, str]] = field(default_factory=Counter)
    said: dict[str, Counter[str]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._known = {word for gram in self.trigrams for word in gram}
        self._counts: Counter[tuple[str, ...]] = Counter()
        for words, count in self.trigrams.items():
            self._counts.update({words: count, words[1:]: count, words[2:]: count})
        self._totals: Counter[tuple[str, ...]] = Counter()
        self._kinds: Counter[tuple[str, ...]] = Counter()
        for gram, count in self._counts.items():
            self._totals[gram[:-1]] += count
            self._kinds[gram[:-1]] += 1
        self._of_kind = {kind: texts.total() for kind, texts in self.said.items()}
        self._remembered: dict[tuple[str, str, str], float] = {}

    @classmethod
    def count(cls, talks: Iterable[Sequence[str]], said: Iterable[tuple[str, str]]) -> Ngrams:
        """`talks`: words and classes in the order said; `said`: class and words of each term."""
        talks = list(talks)
        often = Counter(word for talk in talks for word in talk)
        trigrams: Counter[tuple[str, str, str]] = Counter()
        for talk in talks:
            words = [word if often[word] >= _FEWEST else _RARE for word in talk]
            row = [_START, _START, *words, _END, _END]
            trigrams.update(zip(row, row[1:], row[2:], strict=False))
        within: dict[str, Counter[str]] = {}
        for kind, text in said:
            within.setdefault(kind, Counter())[text] += 1
        return cls(trigrams, within)

    def save(self, path: Path) -> None:
        words = sorted({word for gram in self.trigrams for word in gram})
        place = {word: at for at, word in enumerate(words)}
        flat = [
            number
            for gram, count in sorted(self.trigrams.items())
            for number in (*(place[word] for word in gram), count)
        ]
        said = {kind: dict(sorted(texts.items())) for kind, texts in sorted(self.said.items())}
        stored = json.dumps({"words": words, "trigrams": flat, "said": said}, separators=(",", ":"))
        path.write_bytes(gzip.compress(stored.encode(), mtime=0))

    @classmethod
    def load(cls, path: Path) -> Ngrams:
        stored = json.loads(gzip.decompress(path.read_bytes()))
        words, flat = stored["words"], iter(stored["trigrams"])
        trigrams = Counter(
            {(words[one], words[two], words[three]): count for one, two, three, count in zip(*[flat] * 4, strict=True)}
        )
        return cls(trigrams, {kind: Counter(texts) for kind, texts in stored["said"].items()})

    def likelihood(self, word: str, before: Sequence[str]) -> float:
        """The logarithm of the chance that a word or class is said after the two before it (fewer at the start)."""
        one, two = ([_START, _START, *before])[-2:]
        key = (self._known_as(one), self._known_as(two), self._known_as(word))
        if key not in self._remembered:
            if len(self._remembered) >= _MOST_REMEMBERED:
                self._remembered.clear()
            self._remembered[key] = math.log(self._chance(key))
        return self._remembered[key] + (_rarity(word) if key[2] == _RARE else 0.0)

    def share(self, kind: str, text: str) -> float:
        """The logarithm of a term's share of its class."""
        texts = self.said.get(kind)
        return math.log((texts[text] + 0.3) / (self._of_kind[kind] + 5)) if texts else 0.0

    def ends(self, before: Sequence[str]) -> float:
        """The logarithm of the chance that the talk ends after two words."""
        return self.likelihood(_END, before)

    def _known_as(self, word: str) -> str:
        return word if word in self._known else _RARE

    def _chance(self, gram: tuple[str, str, str]) -> float:
        total, kinds = self._totals[()], self._kinds[()]
        chance = (self._counts[gram[2:]] + 0.5) / (total + 0.5 * kinds)
        for size in (2, 3):
            context = gram[-size:-1]
            if context in self._totals:
                kinds = self._kinds[context]
                chance = (self._counts[gram[-size:]] + kinds * chance) / (self._totals[context] + kinds)
        return chance


@cache
def stored() -> Ngrams:
    """The counts that the program comes with."""
    return Ngrams.load(COUNTS)


@lru_cache(maxsize=50_000)
def _rarity(word: str) -> float:
    zipf = zipf_frequency(word, "en") if word.isalpha() else _ZIPF_WRITTEN
    return math.log((10 ** (zipf - 9) + _NEVER_MET) / _OF_RARE)
