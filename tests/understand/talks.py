"""Short talks and the rows they must give, written as tables, one talk a line: `what is said => rows`.

A row is written `side manoeuvre[@site] value`, then, where they apply, the roots that were said in parentheses, `~` for
an inferred row and the flags that say what is missing or odd. `both` stands for two rows, `unsaid` for any side that is
flagged as unsaid, `!pain` for what was not examined. `;` parts rows, `,` rows of one side; none is `-`. A line that is
indented goes on with the one before. In what is said, `|` begins a new utterance.
"""

from __future__ import annotations

from functools import cache

from pipeline.engine import Analysis, Engine
from pipeline.hear import Heard
from pipeline.hear.transcripts import read_transcript
from pipeline.record.model import Basis, Row

CORE = {
    "arm_core": "shoulder_abduction elbow_flexion elbow_extension wrist_extension finger_extension finger_flexion "
    "finger_abduction",
    "leg_core": "hip_flexion hip_extension knee_extension knee_flexion ankle_dorsiflexion ankle_plantarflexion "
    "great_toe_extension",
}
"""What "throughout" stands for, as the record contract lists it; in the tables each stands for a row of each."""
_SHOWN = {"grade_unsaid", "modality_unsaid", "contradiction", "root_unexpected"}


@cache
def engine() -> Engine:
    """The engine that all tests of the rules share."""
    return Engine()


def heard(talk: str) -> Heard:
    """The talk as if it had been read from a transcript."""
    utterances = read_transcript(talk.replace(" | ", "\n"))
    return Heard(utterances=utterances, duration=max((each.end for each in utterances), default=0))


@cache
def analysis(talk: str) -> Analysis:
    return engine().analyse(heard(talk))


def rows(talk: str) -> list[Row]:
    return analysis(talk).record.rows


def told(talk: str) -> set[str]:
    """The rows of a talk, as they are written in the tables."""
    return {written(row) for row in rows(talk)}


def written(row: Row) -> str:
    side = "unsaid" if "side_unsaid" in row.flags else row.side.value
    parts = [side, f"{row.manoeuvre}@{row.site}" if row.site else row.manoeuvre, row.value or f"!{row.reason}"]
    if row.roots:
        parts.append(f"({' '.join(row.roots)})")
    if row.basis is Basis.INFERRED:
        parts.append("~")
    return " ".join([*parts, *(flag for flag in row.flags if flag in _SHOWN)])


def table(text: str) -> list[tuple[str, set[str]]]:
    """(talk, rows as `told` writes them) of each line."""
    lines: list[str] = []
    for line in text.strip().splitlines():
        if line.startswith(" "):
            lines[-1] += f" {line.strip()}"
        elif line:
            lines.append(line)
    parted = (line.partition("=>") for line in lines)
    return [(talk.strip(), _expanded(wanted.strip())) for talk, _, wanted in parted]


def _expanded(wanted: str) -> set[str]:
    if wanted == "-":
        return set()
    found: set[str] = set()
    for group in wanted.split("; "):
        side, _, rest = group.partition(" ")
        for row in rest.split(", "):
            manoeuvre, _, result = row.partition(" ")
            for each in CORE.get(manoeuvre, manoeuvre).split():
                found |= {f"{one} {each} {result}" for one in (("right", "left") if side == "both" else (side,))}
    return found
