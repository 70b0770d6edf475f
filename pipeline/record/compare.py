"""The same patient over time, row by row: what became better or worse, and what may be the examiner, not the patient.

`RELIABILITY` holds published figures of agreement between examiners, each read in the abstract of its source. For
angles of straight leg raising and for counts of clonus no citable figure was found.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from pipeline.lexicon import Lexicon
from pipeline.record.model import Row, Status

Key = tuple[str, str, str | None]


class Outcome(StrEnum):
    """`CHANGED`: another value, of which the scale does not say whether it is better or worse."""

    BETTER = "better"
    WORSE = "worse"
    SAME = "same"
    CHANGED = "changed"
    NEWLY_EXAMINED = "newly examined"
    NO_LONGER_EXAMINED = "no longer examined"


@dataclass(frozen=True)
class Change:
    """One row then and now. `within_variation`: a difference of one step, which two examiners may differ by."""

    before: Row | None
    after: Row | None
    outcome: Outcome
    within_variation: bool

    @property
    def row(self) -> Row:
        row = self.after or self.before
        assert row is not None
        return row


@dataclass(frozen=True)
class Reliability:
    """How well examiners agree on a scale, and who found it."""

    figure: str
    source: str


_OBSERVED = Reliability(
    "mean kappa 0.70 (SD 0.17) for signs that are observed (inspection, gait, coordination), two neurologists, "
    "30 patients",
    "Thaller and Hughes, Clinical Medicine 2014;14:264-7",
)

RELIABILITY = {
    "mrc": Reliability(
        "weighted kappa 0.77 to 0.78 for the original scale and 0.78 to 0.81 for a modified one, pairs of examiners, "
        "forearm muscles in radial palsy",
        "Paternostro-Sluga et al., Journal of Rehabilitation Medicine 2008;40:665-71",
    ),
    "reflex": Reliability(
        "three neurologists differed by two or more of nine grades in 28% of 160 reflexes",
        "Stam and van Crevel, Journal of Neurology 1990;237:427-31",
    ),
    "tone": Reliability(
        "kappa 0.51 between two raters, modified Ashworth scale, upper and lower limbs in hemiplegia",
        "The interrater and intrarater reliability of the Modified Ashworth Scale, NeuroRehabilitation 2008;23:231-7",
    ),
    "sensation": Reliability(
        "only fair agreement for sensation; mean kappa 0.41 (SD 0.22) for signs that are elicited, two neurologists",
        "Thaller and Hughes, Clinical Medicine 2014;14:264-7",
    ),
    "plantar": Reliability(
        "kappa 0.55 between six neurologists, 34 subjects",
        "Consistency of the Babinski reflex and its variants, European Journal of Neurology 2008;15:960-4",
    ),
    "coordination": _OBSERVED,
    "gait": _OBSERVED,
    "presence": _OBSERVED,
}
"""By scale of the lexicon."""

_MRC = ("0", "1", "2-", "2", "2+", "3-", "3", "3+", "4-", "4", "4+", "5-", "5")
_REFLEX = ("0", "1+", "2+", "3+", "4+")
_ASHWORTH = ("MAS 0", "MAS 1", "MAS 1+", "MAS 2", "MAS 3", "MAS 4")
_FEELING = ("normal", "reduced", "absent")
_NORMAL_REFLEX = _REFLEX.index("2+")
_WORDS_AS_GRADES = {"mrc": {"normal": "5"}, "reflex": {"normal": "2+"}, "tone": {"normal": "MAS 0"}}
_ORDER = {"mrc": _MRC, "reflex": _REFLEX, "tone": _ASHWORTH, "sensation": _FEELING, "anal_tone": _FEELING}
_SUSTAINED = 1000


def compare(before: Iterable[Row], after: Iterable[Row], lexicon: Lexicon) -> list[Change]:
    """What changed between two examinations, in the order of the later one, then what only the earlier one has.

    Rows that were not examined either time are left out.
    """
    scales = _Scales(lexicon)
    earlier, later = _by_key(before), _by_key(after)
    return [
        scales.change(earlier.get(key), later.get(key))
        for key in dict.fromkeys([*later, *earlier])
        if earlier.get(key) or later.get(key)
    ]


@dataclass(frozen=True)
class Course:
    """One row through all examinations; None where it was not examined. `changes[i]` is from `rows[i]` to the next."""

    key: Key
    rows: tuple[Row | None, ...]
    changes: tuple[Change | None, ...]

    @property
    def latest(self) -> Row:
        """The row of the last examination that has it."""
        return next(row for row in reversed(self.rows) if row)


def courses(examinations: Sequence[Iterable[Row]], lexicon: Lexicon) -> list[Course]:
    """Every row that was examined at least once, through all examinations in order of time."""
    scales = _Scales(lexicon)
    found = [_by_key(rows) for rows in examinations]
    keys = dict.fromkeys(key for rows in reversed(found) for key in rows)
    made = []
    for key in keys:
        rows = tuple(one.get(key) for one in found)
        pairs = pairwise(rows)
        made.append(Course(key, rows, tuple(scales.change(a, b) if a or b else None for a, b in pairs)))
    return made


def repeated(rows: Iterable[Row]) -> list[Row]:
    """Examined rows that no comparison shows, since a later one of the same record has their key."""
    examined = [row for row in rows if row.status is Status.EXAMINED]
    compared = {id(row) for row in _by_key(examined).values()}
    return [row for row in examined if id(row) not in compared]


def graded(row: Row, scale: str) -> str:
    """A row's value as a grade of its scale, where normal in words has one ("normal" power is 5)."""
    value = row.value or ""
    return _WORDS_AS_GRADES.get(scale, {}).get(value, value)


def grade(row: Row, scale: str) -> int | None:
    """The place of a row's value on its scale, from 0; None for a value without one (words, angles)."""
    order, value = grades(scale), graded(row, scale)
    return order.index(value) if value in order else None


def grades(scale: str) -> tuple[str, ...]:
    """The values of a graded scale in order; empty for a scale without grades."""
    return _ORDER.get(scale, ())


class _Scales:
    def __init__(self, lexicon: Lexicon) -> None:
        self._of = {entry.id: entry.scale for entry in lexicon.manoeuvres}
        self._normal = {scale.id: {value.value for value in scale.values if value.normal} for scale in lexicon.scales}

    def change(self, before: Row | None, after: Row | None) -> Change:
        if before is None or after is None:
            return Change(before, after, Outcome.NO_LONGER_EXAMINED if before else Outcome.NEWLY_EXAMINED, False)
        scale = self._of.get(after.manoeuvre, "")
        outcome = self._outcome(before, after, scale)
        return Change(before, after, outcome, outcome is not Outcome.SAME and _one_step(before, after, scale))

    def _outcome(self, before: Row, after: Row, scale: str) -> Outcome:
        if before.value == after.value:
            return Outcome.SAME
        was, now = _severity(before, scale), _severity(after, scale)
        if was is None or now is None:
            normal = self._normal.get(scale, set())
            was, now = (0 if before.value in normal else 1), (0 if after.value in normal else 1)
            if was and now:
                return Outcome.CHANGED
        if was != now:
            return Outcome.WORSE if now > was else Outcome.BETTER
        return Outcome.SAME if not was else Outcome.CHANGED


def _by_key(rows: Iterable[Row]) -> dict[Key, Row]:
    """Examined rows; where a record holds two for one key, the later one."""
    return {row.key: row for row in rows if row.status is Status.EXAMINED}


def _severity(row: Row, scale: str) -> float | None:
    """How far from normal a value is; None where the scale does not order it."""
    value = row.value or ""
    if measured := re.fullmatch(r"(\d+) (degrees|beats)", value):
        # A leg that rises further is less restricted.
        return float(measured[1]) if measured[2] == "beats" else 180.0 - float(measured[1])
    if scale == "clonus":
        return {"absent": 0.0, "sustained": float(_SUSTAINED)}.get(value)
    at = grade(row, scale)
    if at is None:
        return None
    if scale == "mrc":
        return float(len(_MRC) - 1 - at)
    return float(abs(at - _NORMAL_REFLEX)) if scale == "reflex" else float(at)


def _one_step(before: Row, after: Row, scale: str) -> bool:
    """Whether two values are neighbours on the scale that was used.

    Whole power grades are neighbours of whole grades; as soon as one has a plus or minus, the finer scale counts.
    """
    was, now = grade(before, scale), grade(after, scale)
    if was is None or now is None:
        return False
    if scale == "mrc":
        first, second = _MRC[was], _MRC[now]
        if first.isdigit() and second.isdigit():
            return abs(int(first) - int(second)) == 1
    return abs(was - now) == 1
