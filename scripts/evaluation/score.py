"""Rows against the rows that a perfect reader would make: found, wrong, silent, flagged, missed.

A row's key is (manoeuvre, side, site); a row is right when its key, status and value match. A wanted side "unsaid"
matches any side of a row with the flag `side_unsaid`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, fields
from typing import Any

Row = dict[str, Any]

_SAME = {("0", "absent"), ("absent", "0"), ("normal", "present"), ("present", "normal")}
_SITE_MAY_LACK = ("tone", "wasting", "fasciculation")
_BINS = 10


@dataclass
class RowCount:
    """Sums over recordings. `silent`: wrong rows that nobody would be shown, out of the `quiet` ones.

    `judged`: (confidence, right) of each predicted row.
    """

    wanted: int = 0
    predicted: int = 0
    right: int = 0
    found: int = 0
    quiet: int = 0
    silent: int = 0
    flagged: int = 0
    inferred: int = 0
    missed: int = 0
    lost: int = 0
    roots_wanted: int = 0
    roots_predicted: int = 0
    roots_right: int = 0
    judged: list[tuple[float, bool]] = field(default_factory=list)

    def __iadd__(self, other: RowCount) -> RowCount:
        for one in fields(self):
            setattr(self, one.name, getattr(self, one.name) + getattr(other, one.name))
        return self

    def f1(self) -> float:
        return _share(2 * self.right, self.predicted + self.wanted)

    def roots_f1(self) -> float:
        return _share(2 * self.roots_right, self.roots_predicted + self.roots_wanted)

    def silent_share(self) -> float:
        return _share(self.silent, self.quiet)

    def flagged_share(self) -> float:
        """Rows to be confirmed one by one: those whose only flag is `inferred_normal` are confirmed as a group."""
        return _share(self.flagged, self.predicted)

    def calibration_error(self) -> float:
        """Expected calibration error: ten equal bins of confidence, mean distance from the share that is right."""
        error = 0.0
        for number in range(_BINS):
            here = [one for one in self.judged if min(int(one[0] * _BINS), _BINS - 1) == number]
            if here:
                error += abs(sum(confidence for confidence, _ in here) - sum(right for _, right in here))
        return _share(error, len(self.judged))


def score(predicted: list[Row], wanted: list[Row]) -> tuple[RowCount, list[Row], list[Row]]:
    """Counts for one recording, the wanted rows that no predicted row stands for, and the predicted ones left over."""
    pairs, extra = paired(predicted, wanted)
    missed = [want for got, want in pairs if got is None]
    right = [got for got, want in pairs if got is not None and _is_right(got, want)]
    wrong = [*extra, *(got for got, want in pairs if got is not None and not _is_right(got, want))]
    inferred = [row for row in predicted if row.get("confirm") and set(row.get("flags", [])) == {"inferred_normal"}]
    roots, roots_wanted = _roots(predicted), _roots(wanted)
    if any(side == "*" for _, side, _ in roots_wanted):
        roots = {(manoeuvre, "*", root) for manoeuvre, _, root in roots}
        roots_wanted = {(manoeuvre, "*", root) for manoeuvre, _, root in roots_wanted}
    count = RowCount(
        wanted=len(wanted),
        predicted=len(predicted),
        right=len(right),
        found=len(wanted) - len(missed),
        quiet=sum(not row.get("confirm") for row in predicted),
        silent=sum(not row.get("confirm") for row in wrong),
        flagged=sum(bool(row.get("confirm")) for row in predicted) - len(inferred),
        inferred=len(inferred),
        missed=len(missed),
        roots_wanted=len(roots_wanted),
        roots_predicted=len(roots),
        roots_right=len(roots & roots_wanted),
        judged=[(row["confidence"], True) for row in right] + [(row["confidence"], False) for row in wrong],
    )
    return count, missed, extra


def paired(predicted: Sequence[Row], wanted: Sequence[Row]) -> tuple[list[tuple[Row | None, Row]], list[Row]]:
    """One predicted row at most for each wanted one, right ones first; and the predicted rows left over."""
    pairs: list[tuple[Row | None, Row]] = []
    free, left = list(predicted), []
    for want in wanted:
        hit = next((got for got in free if _same_key(got, want) and _is_right(got, want)), None)
        if hit is None:
            left.append(want)
        else:
            free.remove(hit)
            pairs.append((hit, want))
    for want in left:
        hit = next((got for got in free if _same_key(got, want)), None)
        if hit is not None:
            free.remove(hit)
        pairs.append((hit, want))
    return pairs, free


def _same_key(got: Row, want: Row) -> bool:
    if got["manoeuvre"] != want["manoeuvre"]:
        return False
    sites = (got.get("site") or None, want.get("site") or None)
    if sites[0] != sites[1] and not (want["manoeuvre"] in _SITE_MAY_LACK and None in sites):
        return False
    if want["side"] == "unsaid":
        return "side_unsaid" in got.get("flags", [])
    return bool(got["side"] == want["side"])


def _is_right(got: Row, want: Row) -> bool:
    if got.get("status", "examined") != want.get("status", "examined"):
        return False
    if want.get("status") == "not_examined":
        return True
    value, wanted = got.get("value"), want.get("value")
    return value == wanted or (want["manoeuvre"].endswith("_jerk") and (value, wanted) in _SAME)


def _roots(rows: list[Row]) -> set[tuple[str, str, str]]:
    return {
        (row["manoeuvre"], "*" if row["side"] == "unsaid" else row["side"], root)
        for row in rows
        for root in row.get("roots") or []
    }


def _share(part: float, whole: float) -> float:
    return part / whole if whole else 0.0
