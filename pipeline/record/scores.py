"""Scores that published standards define, computed only when every part of them was examined and confirmed.

Sources:
- Lower extremity motor score: International Standards for Neurological Classification of Spinal Cord Injury, 2019
  revision (Topics in Spinal Cord Injury Rehabilitation 2021;27(2):1-22) and its worksheet: five key muscles a side, hip
  flexors L2, knee extensors L3, ankle dorsiflexors L4, long toe extensors L5, ankle plantar flexors S1, grades 0 to 5,
  25 a side, 50 together.
- Medical Research Council sum score: introduced in "Interobserver agreement in the assessment of muscle strength and
  functional abilities in Guillain-Barré syndrome" (1991; abstract read); its six groups on both sides and its range of
  0 to 60 as the NINDS Common Data Elements list them ("Overall Measurement Schema for Intensive Care Unit - Acquired
  Weakness").
- Modified Ashworth scale: Bohannon and Smith, Physical Therapy 1987, volume 67. Its grades are listed, not added.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from pipeline.record.model import Row, Side, Status

SIGNS = (
    "The scores are defined for whole grades. A plus or minus is dropped (4-, 4 and 4+ count 4), except that 5- counts "
    "4, as grade 5 is normal power; normal power without a number counts 5. Common practice, no source."
)


@dataclass(frozen=True)
class Part:
    """One muscle group of a score: `label` as the score's source names it."""

    manoeuvre: str
    label: str


@dataclass(frozen=True)
class Definition:
    """A score that adds the grades of its parts on both sides."""

    id: str
    title: str
    parts: tuple[Part, ...]
    source: str

    @property
    def maximum(self) -> int:
        return 2 * 5 * len(self.parts)


@dataclass(frozen=True)
class Counted:
    """A part on one side: the grade as recorded, and what it counts."""

    part: Part
    side: Side
    recorded: str
    points: int


@dataclass(frozen=True)
class Missing:
    """A part on one side that cannot be counted, and why not."""

    part: Part
    side: Side
    reason: str


@dataclass(frozen=True)
class Score:
    """A score: `total` is None while anything is missing."""

    definition: Definition
    counted: tuple[Counted, ...]
    missing: tuple[Missing, ...]

    def subtotal(self, side: Side) -> int | None:
        """Points of one side; None while a part of that side is missing."""
        if any(one.side is side for one in self.missing):
            return None
        return sum(one.points for one in self.counted if one.side is side)

    @property
    def total(self) -> int | None:
        return None if self.missing else sum(one.points for one in self.counted)


LOWER_EXTREMITY = Definition(
    id="lower_extremity_motor_score",
    title="Lower extremity motor score",
    parts=(
        Part("hip_flexion", "L2 hip flexors"),
        Part("knee_extension", "L3 knee extensors"),
        Part("ankle_dorsiflexion", "L4 ankle dorsiflexors"),
        Part("great_toe_extension", "L5 long toe extensors"),
        Part("ankle_plantarflexion", "S1 ankle plantar flexors"),
    ),
    source="International Standards for Neurological Classification of Spinal Cord Injury, 2019 revision "
    "(Topics in Spinal Cord Injury Rehabilitation 2021;27(2):1-22)",
)

_SIX = ("shoulder_abduction", "elbow_flexion", "wrist_extension", "hip_flexion", "knee_extension", "ankle_dorsiflexion")

MRC_SUM = Definition(
    id="mrc_sum_score",
    title="Medical Research Council sum score",
    parts=tuple(Part(manoeuvre, manoeuvre.replace("_", " ")) for manoeuvre in _SIX),
    source="Interobserver agreement in the assessment of muscle strength and functional abilities in Guillain-Barré "
    "syndrome (1991); groups and range: NINDS Common Data Elements, Intensive Care Unit - Acquired Weakness",
)

ASHWORTH_SOURCE = "Bohannon and Smith, Physical Therapy 1987, volume 67"


def score(rows: Iterable[Row], definition: Definition) -> Score:
    """The score of the rows, with what is missing. Rows that a person must still confirm are not counted."""
    found: dict[tuple[str, Side], list[Row]] = {}
    for row in rows:
        found.setdefault((row.manoeuvre, row.side), []).append(row)
    counted, missing = [], []
    for part in definition.parts:
        for side in (Side.RIGHT, Side.LEFT):
            outcome = _count(found.get((part.manoeuvre, side), []))
            if isinstance(outcome, str):
                missing.append(Missing(part, side, outcome))
            else:
                counted.append(Counted(part, side, *outcome))
    return Score(definition, tuple(counted), tuple(missing))


def ashworth(rows: Iterable[Row]) -> list[Row]:
    """Rows of tone with a modified Ashworth grade."""
    return [row for row in rows if row.manoeuvre == "tone" and (row.value or "").startswith("MAS ")]


def points(value: str) -> int | None:
    """What a power grade counts in a score of whole grades; None for words without a grade ("reduced")."""
    if value == "normal":
        return 5
    if value == "5-":
        return 4
    return int(value[0]) if re.fullmatch(r"[0-5][+-]?", value) else None


def _count(rows: list[Row]) -> tuple[str, int] | str:
    """The grade and its points, or the reason why there are none."""
    if not rows:
        return "not recorded"
    if len(rows) > 1:
        return "recorded more than once; keep one entry"
    row = rows[0]
    if row.confirm:
        return "unconfirmed"
    if row.status is Status.NOT_EXAMINED or row.value is None:
        return f"not examined ({(row.reason or 'no reason').replace('_', ' ')})"
    gained = points(row.value)
    return f"no grade was given ({row.value})" if gained is None else (row.value, gained)
