"""What a person's decision makes of a row: plain functions from row to row."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import ValidationError

from pipeline.record.errors import StoreError
from pipeline.record.model import Alternative, Basis, Reason, Row, Status

EDITABLE = ("manoeuvre", "side", "site", "value", "roots", "muscle", "nerve", "status", "reason")

_DOUBTED_SLOT = {
    "side_unsaid": "side",
    "side_uncertain": "side",
    "grade_unsaid": "value",
    "site_unsaid": "site",
    "limb_unexpected": "manoeuvre",
    "unknown_words": "manoeuvre",
    "grade_uncertain": "value",
    "inferred_normal": "value",
    "contradiction": "value",
    "misheard_term": "manoeuvre",
    "root_unexpected": "manoeuvre",
    "modality_unsaid": "manoeuvre",
    "manoeuvre_unsaid": "manoeuvre",
    "may_be_taken_back": "manoeuvre",
    "value_uncertain": "value",
}
"""The slot that a flag doubts; flags that are not here (poor sound, low confidence) doubt the row as a whole."""

_OF_ITS_OWN = {"manoeuvre", "side", "site", "expected_roots", "confidence"}
"""The fields in which rows of the same words may differ."""


def confirmed(row: Row) -> Row:
    """The row as a person found it right: its doubts are settled, what it says stays."""
    return row.model_copy(update={"confirm": False, "flags": [], "confidence": 1.0})


def edited(row: Row, fields: Mapping[str, Any]) -> Row:
    """The row with some of the `EDITABLE` fields replaced, settled. Raises `StoreError` when they do not fit."""
    unknown = sorted(set(fields) - set(EDITABLE))
    if unknown:
        raise StoreError(f"{', '.join(unknown)} cannot be edited; editable are {', '.join(EDITABLE)}")
    return confirmed(_with(row, fields))


def chosen(row: Row, alternative: Alternative) -> Row:
    """The row with an alternative in its slot.

    Doubts about that slot and about the row as a whole are settled; a doubt about another slot keeps the row open.
    """
    changes: dict[str, Any] = {alternative.slot: alternative.value}
    if alternative.slot == "value":
        changes |= {"status": Status.EXAMINED, "reason": None}
    elif alternative.slot == "status" and alternative.value == Status.NOT_EXAMINED:
        changes |= {"value": None, "reason": Reason.NOT_DONE}
    elif alternative.slot == "status" and row.value is None:
        raise StoreError("an examined row needs a value: edit the row instead")
    elif alternative.slot == "status":
        changes |= {"reason": None}
    left = [flag for flag in row.flags if _DOUBTED_SLOT.get(flag, alternative.slot) != alternative.slot]
    result = _with(row, changes)
    if not left:
        return confirmed(result)
    return result.model_copy(update={"flags": left, "confirm": True})


def inferred_normal(row: Row) -> bool:
    """Whether the row is an open inferred normal without any other doubt: such rows are confirmed as one group."""
    return row.confirm and row.basis is Basis.INFERRED and row.value == "normal" and row.flags == ["inferred_normal"]


def same_words(row: Row, other: Row) -> bool:
    """Whether two open rows stand on the same words: "normal, L3 to S1" makes four.

    They differ in what was examined and where, and in nothing else that a reviewer is shown of one of them.
    """
    if not (row.confirm and other.confirm and row.evidence):
        return False
    return row.model_dump(exclude=_OF_ITS_OWN) == other.model_dump(exclude=_OF_ITS_OWN)


def together(rows: Sequence[Row]) -> bool:
    """Whether open rows can be confirmed in one act: plain inferred normals, or rows that the same words made."""
    return all(map(inferred_normal, rows)) or all(same_words(rows[0], row) for row in rows)


def _with(row: Row, fields: Mapping[str, Any]) -> Row:
    changes = dict(fields)
    if changes.get("manoeuvre", row.manoeuvre) != row.manoeuvre:
        # What was said or expected of the other manoeuvre does not carry over.
        changes = {"muscle": None, "nerve": None, "expected_roots": [], **changes}
    try:
        return Row.model_validate({**row.model_dump(), **changes})
    except ValidationError as error:
        problem = error.errors()[0]
        where = ".".join(str(part) for part in problem["loc"])
        raise StoreError(f"{where + ': ' if where else ''}{problem['msg'].removeprefix('Value error, ')}") from error
