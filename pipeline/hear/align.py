"""Two readings of the same speech, word against word."""

from __future__ import annotations

import re
from collections.abc import Sequence

from rapidfuzz.distance import Levenshtein


def plain_word(text: str) -> str:
    """Lower case without punctuation; the signs of a grade ("4+", "4-", "4/5") stay."""
    return re.sub(r"[^\w+/\-]", "", text.lower()) or text


def other_readings(words: Sequence[str], other: Sequence[str]) -> list[str | None]:
    """For each of `words`, what `other` has in its place; None where both agree.

    A run that differs in length gives its whole other reading to each of its words (an empty string where `other` has
    nothing). Words that only `other` has are given to the word before them, or to the first word.
    """
    readings: list[str | None] = [None] * len(words)
    if not words:
        return readings
    for first, last, other_first, other_last in _differing_runs([*map(plain_word, words)], [*map(plain_word, other)]):
        instead = other[other_first:other_last]
        if last - first == len(instead):
            readings[first:last] = instead
        elif first < last:
            readings[first:last] = [" ".join(instead)] * (last - first)
        elif first > 0:
            readings[first - 1] = " ".join([words[first - 1], *instead])
        else:
            readings[0] = " ".join([*instead, readings[0] if readings[0] is not None else words[0]])
    return readings


def _differing_runs(words: Sequence[str], other: Sequence[str]) -> list[tuple[int, int, int, int]]:
    """Neighbouring edits as one run: (first, last) of `words` against (first, last) of `other`."""
    runs: list[tuple[int, int, int, int]] = []
    for edit in Levenshtein.opcodes(words, other):
        if edit.tag == "equal":
            continue
        if runs and (runs[-1][1], runs[-1][3]) == (edit.src_start, edit.dest_start):
            runs[-1] = (runs[-1][0], edit.src_end, runs[-1][2], edit.dest_end)
        else:
            runs.append((edit.src_start, edit.src_end, edit.dest_start, edit.dest_end))
    return runs
