"""Which recordings there are: cases, each in a voice and under a condition, chosen the same way each time.

Two parts that share neither a case nor a voice: confidence is fitted on one, and the evaluation uses the other.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from scripts.speech.render import read_cases

ROOT = Path(__file__).parents[2]
# Named one by one: with another file in between, every case would have another voice and be heard anew.
_FILES = tuple(f"tests/cases/author{number}.jsonl" for number in range(1, 6))

Part = Literal["fitted", "held out"]

# Five voices and four conditions: going round both, each voice meets each condition once in 20 recordings.
VOICES: dict[Part, tuple[str, ...]] = {
    "fitted": ("hibari-gb", "flite-slt", "espeak-gb", "flite-rms", "flite-kal16"),
    "held out": ("hibari-us", "piper-joe", "flite-awb", "espeak-us", "hibari-gb-low"),
}
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


def recordings(files: list[Path], part: Part) -> Iterator[Recording]:
    """All recordings of a part, a fair mixture at any length: files, voices and conditions take turns.

    The 1st, 3rd, 5th ... case of each file is fitted on, the others are held out; the short ones come first, so that
    there is more variety in the same time. The second time round, each case has another voice and condition.
    """
    first = 0 if part == "fitted" else 1
    chosen = [sorted(read_cases(file)[first::2], key=lambda case: len(case["clean"])) for file in files]
    cases = [case for turn in itertools.zip_longest(*chosen) for case in turn if case is not None]
    voices = VOICES[part]
    combinations = len(voices) * len(CONDITIONS)
    for round_ in range(combinations):
        for number, case in enumerate(cases):
            at = (number + round_) % combinations
            yield Recording(case, voices[at % len(voices)], CONDITIONS[at % len(CONDITIONS)])
