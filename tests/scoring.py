"""Scores rows against the rows that a case wants; figures of several cases add up.

Two rows are of the same kind when manoeuvre, side and site agree. The predicted row is right when status and value
agree too (for what was not examined: status alone). Every wanted row takes one predicted row at most, a right one
where there is one.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

from pipeline.hear import Heard
from pipeline.hear.transcripts import read_transcript
from pipeline.record.model import Row

ROOT = Path(__file__).parents[1]
AUTHORED = sorted((ROOT / "tests" / "cases").glob("*.jsonl"))
DEMO = ROOT / "demo_audio" / "cases.jsonl"
ELSEWHERE = ROOT.parent / "shared" / "cases" / "dev.jsonl"
"""Cases that are kept outside the repository, where they are."""

Case = dict[str, Any]

_LIMB_MAY_BE_UNSAID = ("tone", "wasting", "fasciculation")
_SAME_REFLEX = ({"0", "absent"}, {"normal", "present"})


@dataclass(frozen=True)
class Score:
    """Counts. `silent`, `flagged` and `grouped` divide the predicted rows into those not to be confirmed, those to be
    confirmed one by one, and inferred normals that are confirmed as one group; `silent_wrong` is the worst kind."""

    cases: int = 0
    wanted: int = 0
    predicted: int = 0
    found: int = 0
    right: int = 0
    silent: int = 0
    silent_wrong: int = 0
    flagged: int = 0
    grouped: int = 0
    roots_wanted: int = 0
    roots_predicted: int = 0
    roots_right: int = 0

    def __add__(self, other: Score) -> Score:
        return Score(*(getattr(self, field.name) + getattr(other, field.name) for field in fields(Score)))

    @property
    def f1(self) -> float:
        """Harmonic mean of precision and recall of right rows."""
        return _share(2 * self.right, self.predicted + self.wanted)

    @property
    def roots_f1(self) -> float:
        """The same for the roots on the rows."""
        return _share(2 * self.roots_right, self.roots_predicted + self.roots_wanted)

    @property
    def found_share(self) -> float:
        """Wanted rows of whose kind a row was predicted."""
        return _share(self.found, self.wanted)

    @property
    def silent_share(self) -> float:
        """Wrong rows among those that nobody is asked to confirm."""
        return _share(self.silent_wrong, self.silent)

    @property
    def flagged_share(self) -> float:
        return _share(self.flagged, self.predicted)

    @property
    def grouped_share(self) -> float:
        return _share(self.grouped, self.predicted)


@dataclass(frozen=True)
class Match:
    """A wanted row with the row that was predicted for it, or either alone."""

    wanted: dict[str, Any] | None
    predicted: Row | None

    @property
    def right(self) -> bool:
        return self.wanted is not None and self.predicted is not None and _right(self.predicted, self.wanted)


def read_cases(file: Path) -> list[Case]:
    return [json.loads(line) for line in file.read_text(encoding="utf-8").splitlines() if line.strip()]


def heard(case: Case) -> Heard:
    """The case's transcript as if it had been read from a file."""
    utterances = read_transcript(json.dumps({"transcript": case["transcript"]}))
    return Heard(utterances=utterances, duration=max(each.end for each in utterances))


def matches(predicted: Iterable[Row], wanted: Sequence[dict[str, Any]]) -> list[Match]:
    """Each wanted and each predicted row once."""
    free = list(predicted)
    taken: dict[int, Row] = {}
    fits: tuple[Callable[[Row, dict[str, Any]], bool], ...] = (_right, lambda *_: True)
    for fit in fits:
        for number, want in enumerate(wanted):
            if number in taken:
                continue
            got = next((row for row in free if _same_kind(row, want) and fit(row, want)), None)
            if got is not None:
                taken[number] = got
                free.remove(got)
    return [*(Match(want, taken.get(at)) for at, want in enumerate(wanted)), *(Match(None, row) for row in free)]


def score(predicted: Sequence[Row], wanted: Sequence[dict[str, Any]]) -> Score:
    """The figures of one case."""
    paired = matches(predicted, wanted)
    grouped = [row for row in predicted if row.confirm and set(row.flags) == {"inferred_normal"}]
    ignore_sides = any(row["side"] == "unsaid" and row["roots"] for row in wanted)
    roots_wanted = _roots([(row["manoeuvre"], row["side"], row["roots"]) for row in wanted], ignore_sides)
    roots_predicted = _roots([(row.manoeuvre, row.side.value, row.roots) for row in predicted], ignore_sides)
    return Score(
        cases=1,
        wanted=len(wanted),
        predicted=len(predicted),
        found=sum(match.wanted is not None and match.predicted is not None for match in paired),
        right=sum(match.right for match in paired),
        silent=sum(not row.confirm for row in predicted),
        silent_wrong=sum(
            match.predicted is not None and not match.predicted.confirm and not match.right for match in paired
        ),
        flagged=sum(row.confirm for row in predicted) - len(grouped),
        grouped=len(grouped),
        roots_wanted=len(roots_wanted),
        roots_predicted=len(roots_predicted),
        roots_right=len(roots_wanted & roots_predicted),
    )


def _same_kind(got: Row, want: dict[str, Any]) -> bool:
    sites = {got.site, want["site"] or None}
    same_site = len(sites) == 1 or (want["manoeuvre"] in _LIMB_MAY_BE_UNSAID and None in sites)
    same_side = "side_unsaid" in got.flags if want["side"] == "unsaid" else got.side == want["side"]
    return got.manoeuvre == want["manoeuvre"] and same_site and same_side


def _right(got: Row, want: dict[str, Any]) -> bool:
    if got.status != want["status"]:
        return False
    if want["status"] == "not_examined" or got.value == want["value"]:
        return True
    return want["manoeuvre"].endswith("_jerk") and {got.value, want["value"]} in _SAME_REFLEX


def _roots(rows: Iterable[tuple[str, str, list[str]]], ignore_sides: bool) -> set[tuple[str, str, str]]:
    return {(manoeuvre, "" if ignore_sides else side, root) for manoeuvre, side, roots in rows for root in roots}


def _share(part: int, whole: int) -> float:
    return part / whole if whole else 0.0
