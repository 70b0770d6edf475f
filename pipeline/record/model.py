"""The exam record: one row for one manoeuvre, on one side, at one site.

The fields and values are those of the record contract; `docs/record.md` describes them for users.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator


class Side(StrEnum):
    LEFT = "left"
    RIGHT = "right"
    MIDLINE = "midline"


class Status(StrEnum):
    EXAMINED = "examined"
    NOT_EXAMINED = "not_examined"


class Reason(StrEnum):
    """Why a manoeuvre was not examined."""

    DECLINED = "declined"
    PAIN = "pain"
    UNABLE = "unable"
    DEFERRED = "deferred"
    NOT_DONE = "not_done"


class Basis(StrEnum):
    """`inferred`: an instruction was followed by a reaction, but no result was stated."""

    STATED = "stated"
    INFERRED = "inferred"


class Evidence(BaseModel):
    """A span of speech that supports a row. Times in seconds from the start of the recording."""

    model_config = ConfigDict(frozen=True)

    start: float = Field(ge=0)
    end: float = Field(ge=0)
    heard: str
    mended: str


class Alternative(BaseModel):
    """Another reading of one slot of a row, with its probability."""

    model_config = ConfigDict(frozen=True)

    slot: Literal["manoeuvre", "side", "site", "value", "status"]
    value: str
    probability: float = Field(ge=0, le=1)


class Row(BaseModel):
    """One result (or one omission) for one manoeuvre, side and site.

    Raises `pydantic.ValidationError` when status, value and reason do not fit together.
    """

    manoeuvre: str
    side: Side
    site: str | None = None
    value: str | None = None
    roots: list[str] = []
    expected_roots: list[str] = []
    muscle: str | None = None
    nerve: str | None = None
    status: Status = Status.EXAMINED
    reason: Reason | None = None
    basis: Basis = Basis.STATED
    confidence: float = Field(default=1.0, ge=0, le=1)
    confirm: bool = False
    flags: list[str] = []
    alternatives: list[Alternative] = []
    evidence: list[Evidence] = []

    @model_validator(mode="after")
    def _consistent(self) -> Row:
        if self.status is Status.NOT_EXAMINED:
            if self.value is not None or self.reason is None:
                raise ValueError("a row that was not examined has a reason and no value")
        elif not (self.value or "").strip() or self.reason is not None:
            raise ValueError("an examined row has a value and no reason")
        return self

    @property
    def key(self) -> tuple[str, str, str | None]:
        """(manoeuvre, side, site): what makes the row unique in a record."""
        return self.manoeuvre, self.side.value, self.site


class Unheard(BaseModel):
    """A stretch of speech that gave no words. Times in seconds."""

    start: float = Field(ge=0)
    end: float = Field(ge=0)
    reason: str


class Unplaced(BaseModel):
    """Words that look like a result but could not be made a row. Times in seconds."""

    start: float = Field(ge=0)
    end: float = Field(ge=0)
    text: str
    reason: str


class ExamRecord(BaseModel):
    """What one recording or transcript gave; `unheard` and `unplaced` are cleared by a person before signing."""

    rows: list[Row] = []
    unheard: list[Unheard] = []
    unplaced: list[Unplaced] = []

    @property
    def open_rows(self) -> list[Row]:
        """Rows that a person must still confirm."""
        return [row for row in self.rows if row.confirm]
