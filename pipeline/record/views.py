"""What the store hands out: frozen values, detached from the database."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from pipeline.record.model import Row, Unheard, Unplaced
from pipeline.record.trail import Decision, Kind, State


@dataclass(frozen=True)
class Item:
    """A row or a gap of an examination.

    `revision` is that of its last change; `original` is how the engine left it, None for what a reviewer added.
    """

    id: str
    state: State
    original: State | None
    revision: int
    undoable: bool

    @property
    def kind(self) -> Kind:
        return self.state.kind

    @property
    def decision(self) -> Decision | None:
        return self.state.decision

    @property
    def open(self) -> bool:
        return self.state.open

    @cached_property
    def row(self) -> Row:
        """Raises `pydantic.ValidationError` when the item is a gap."""
        return self.state.row

    @cached_property
    def gap(self) -> Unheard | Unplaced:
        """Raises `pydantic.ValidationError` when the item is a row."""
        model = Unheard if self.kind == "unheard" else Unplaced
        return model.model_validate(self.state.data)


@dataclass(frozen=True)
class Sound:
    """The recording of an examination: seconds, and when it was deleted, if it was."""

    duration: float
    deleted: str | None


@dataclass(frozen=True)
class Signed:
    """Who signed, when (UTC), and the hash that the signature seals."""

    at: str
    name: str
    role: str
    statement: str
    head: str


@dataclass(frozen=True)
class ExamView:
    """One version of one record as it stands."""

    id: str
    title: str
    speaker: str | None
    created: str
    version: int
    amends: str | None
    amended_by: str | None
    revision: int
    head: str
    items: tuple[Item, ...]
    sound: Sound | None
    signature: Signed | None

    @property
    def rows(self) -> list[Item]:
        return [item for item in self.items if item.kind == "row"]

    @property
    def open_items(self) -> list[Item]:
        return [item for item in self.items if item.open]

    def item(self, item_id: str) -> Item:
        """Raises `KeyError` when there is none."""
        for item in self.items:
            if item.id == item_id:
                return item
        raise KeyError(item_id)


@dataclass(frozen=True)
class Summary:
    """A line of the list of examinations. `open` counts what must still be decided."""

    id: str
    title: str
    created: str
    version: int
    state: Literal["open", "ready", "signed", "amended"]
    rows: int
    open: int


@dataclass(frozen=True)
class Difference:
    """How an amendment differs from the version before it, for one row; null where there was or is no row."""

    before: Row | None
    after: Row | None


def differences(exam: ExamView) -> list[Difference]:
    """What an amendment changed so far; empty for a first version."""
    if exam.amends is None:
        return []
    pairs = [
        (item.original.row if item.original else None, item.row if item.state.live else None) for item in exam.rows
    ]
    return [Difference(before, after) for before, after in pairs if before != after]
