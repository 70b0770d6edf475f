"""Which recordings are evaluated: cases, each in a voice and under a condition, chosen the same way each time."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from scripts.speech.render import read_cases

ROOT = Path(__file__).parents[2]
# Named one by one: with another file in between, every case would have another voice and be heard anew. The last is
# kept outside the repository and joins in where it is.
_FILES = (
    "tests/cases/author1.jsonl",
    "tests/cases/author2.jsonl",
    "tests/cases/author3.jsonl",
    "demo_audio/cases.jsonl",
    "../shared/cases/dev.jsonl",
)

# Seven and four have no common divisor: going round both, each voice meets each condition once in 28 recordings.
VOICES = ("hibari-gb", "piper-joe", "flite-slt", "flite-awb", "espeak-gb", "hibari-gb-low", "flite-rms")
CONDITIONS = ("clean", "room", "noise20", "noise10")


@dataclass(frozen=True)
class Recording:
    """A case (with `id`, `clean` and `rows`) as one voice says it under one condition."""

    case: dict[str, Any]
    voice: str
    condition: str


def case_files() -> list[Path]:
    """The files of cases that are present."""
    return [file for file in (ROOT / name for name in _FILES) if file.exists()]


def recordings(files: list[Path]) -> Iterator[Recording]:
    """All recordings, a fair mixture at any length: files, voices and conditions take turns.

    The second time round, each case has another voice and condition.
    """
    turns = itertools.zip_longest(*map(read_cases, files))
    cases = [case for turn in turns for case in turn if case is not None]
    combinations = len(VOICES) * len(CONDITIONS)
    for round_ in range(combinations):
        for number, case in enumerate(cases):
            at = (number + round_) % combinations
            yield Recording(case, VOICES[at % len(VOICES)], CONDITIONS[at % len(CONDITIONS)])
