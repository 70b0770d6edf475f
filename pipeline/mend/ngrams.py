"""How examiners put words in a row, by classes of words.

Names of tests, sides, roots and grades are counted as classes (`kind_of`), so that what follows one knee jerk follows
any. The counts are those of `scripts/count_words.py`, stored in `ngrams.json.gz`.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from pipeline.hear import trigrams
from pipeline.hear.trigrams import Trigrams
from pipeline.mend.terms import Term, TermIndex

COUNTS = Path(__file__).with_name("ngrams.json.gz")
GRADE, ROOT, DEGREES, BEATS, COUNT = "G", "R", "D", "K", "#"
NAMED = "N:"
"""Begins the classes of tests."""


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
class Ngrams(Trigrams):
    """Counts of three words or classes in a row, and of each term in its class (`said`: class -> words -> count)."""

    said: dict[str, Counter[str]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        super().__post_init__()
        self._of_kind = {kind: texts.total() for kind, texts in self.said.items()}

    @classmethod
    def count(cls, talks: Iterable[Sequence[str]], said: Iterable[tuple[str, str]]) -> Ngrams:
        """`talks`: words and classes in the order said; `said`: class and words of each term."""
        within: dict[str, Counter[str]] = {}
        for kind, text in said:
            within.setdefault(kind, Counter())[text] += 1
        return cls(trigrams.count(talks), within)

    def save(self, path: Path) -> None:
        said = {kind: dict(sorted(texts.items())) for kind, texts in sorted(self.said.items())}
        trigrams.write(path, self.trigrams, said=said)

    @classmethod
    def load(cls, path: Path) -> Ngrams:
        counts, more = trigrams.read(path)
        return cls(counts, {kind: Counter(texts) for kind, texts in more["said"].items()})

    def share(self, kind: str, text: str) -> float:
        """The logarithm of a term's share of its class."""
        texts = self.said.get(kind)
        return math.log((texts[text] + 0.3) / (self._of_kind[kind] + 5)) if texts else 0.0


@cache
def stored() -> Ngrams:
    """The counts that the program comes with."""
    return Ngrams.load(COUNTS)
