"""The audit trail: append-only entries chained by SHA-256, from which every item of a record can be derived again.

An entry's hash covers a canonical JSON form (sorted keys, no spaces, UTF-8) of all its fields and the hash of the entry
before it. The `salt` inside a change keeps an encrypted grade from being guessed from the entry's hash.
"""

from __future__ import annotations

import hashlib
import json
import secrets
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict

from pipeline.record.model import Row, Unheard, Unplaced

Kind = Literal["row", "unheard", "unplaced"]
Decision = Literal["confirmed", "chosen", "edited", "rejected", "added", "cleared"]

NO_HASH = "0" * 64
"""What the first entry names as the hash before it."""


class State(BaseModel):
    """One item as it stands: what it says (`data`, the JSON of its model) and what a person decided about it."""

    model_config = ConfigDict(frozen=True)

    kind: Kind
    data: dict[str, Any]
    decision: Decision | None = None

    @classmethod
    def of(cls, content: Row | Unheard | Unplaced, decision: Decision | None = None) -> State:
        kinds: dict[type, Kind] = {Row: "row", Unheard: "unheard", Unplaced: "unplaced"}
        return cls(kind=kinds[type(content)], data=content.model_dump(mode="json"), decision=decision)

    @property
    def row(self) -> Row:
        """Raises `pydantic.ValidationError` when the item is no row."""
        return Row.model_validate(self.data)

    @property
    def live(self) -> bool:
        """Whether the item belongs to the record: rejected rows and cleared gaps do not."""
        return self.decision not in ("rejected", "cleared")

    @property
    def open(self) -> bool:
        """Whether a person must still decide."""
        return self.live and (self.kind != "row" or bool(self.data["confirm"]))


class Change(BaseModel):
    """What an entry did to one item; `before` is null for a new item, `after` for one taken back."""

    model_config = ConfigDict(frozen=True)

    item: str
    before: State | None
    after: State | None


class Content(BaseModel):
    """The part of an entry that holds a patient's words. `facts` are those of the whole record: title, signature."""

    changes: list[Change]
    why: str = ""
    facts: dict[str, Any] = {}
    salt: str = ""

    @classmethod
    def salted(cls, changes: list[Change], why: str, facts: dict[str, Any]) -> Content:
        return cls(changes=changes, why=why, facts=facts, salt=secrets.token_hex(16))


@dataclass(frozen=True)
class TrailEntry:
    """One entry as read from the store. `at` is ISO 8601 in UTC."""

    exam_id: str
    number: int
    at: str
    who: str
    action: str
    content: Content
    previous: str
    hash: str

    def expected_hash(self) -> str:
        return entry_hash(self.exam_id, self.number, self.at, self.who, self.action, self.content, self.previous)


_ENGINE_FIELDS = frozenset({"confidence", "confirm", "flags", "alternatives", "evidence", "expected_roots"})


def describe(change: Change) -> str:
    """A change in plain words: "side right → left (edited)"."""
    if change.before is None or change.after is None:
        return "added" if change.before is None else "taken back"
    old, new = change.before.data, change.after.data
    parts = [
        f"{name} {_said(old.get(name))} → {_said(new.get(name))}"
        for name in new
        if name not in _ENGINE_FIELDS and old.get(name) != new.get(name)
    ]
    decision = change.after.decision or "not decided"
    return f"{', '.join(parts)} ({decision})" if parts else decision


def _said(value: Any) -> str:
    if isinstance(value, list):
        return ", ".join(value) or "none"
    return "none" if value is None else str(value)


def canonical(value: Any) -> str:
    """The one JSON text of a value."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def sha256(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def entry_hash(exam_id: str, number: int, at: str, who: str, action: str, content: Content, previous: str) -> str:
    return sha256(
        canonical(
            {
                "exam": exam_id,
                "number": number,
                "at": at,
                "who": who,
                "action": action,
                "content": content.model_dump(mode="json"),
                "previous": previous,
            }
        )
    )


@dataclass
class Replay:
    """The items that a run of entries leads to, with the states each went through (undone ones taken out)."""

    histories: dict[str, list[State | None]] = field(default_factory=dict)
    problems: list[str] = field(default_factory=list)

    @classmethod
    def of(cls, entries: Iterable[TrailEntry]) -> Replay:
        replay = cls()
        for entry in entries:
            for change in entry.content.changes:
                replay._apply(entry, change)
        return replay

    @property
    def items(self) -> dict[str, State]:
        """The items as they stand, in order of their first appearance."""
        return {item: states[-1] for item, states in self.histories.items() if states[-1] is not None}

    def before_last_change(self, item: str) -> State | None:
        """The state that an undo brings back. Raises `LookupError` when nothing is left to undo."""
        states = self.histories.get(item, [])
        if len(states) < 2:
            raise LookupError(item)
        return states[-2]

    def _apply(self, entry: TrailEntry, change: Change) -> None:
        states = self.histories.get(change.item)
        if states is None:
            first = [change.after] if entry.action in ("add", "amend") else [change.before, change.after]
            self.histories[change.item] = list(first)
            if change.before is not None:
                self.problems.append(f"entry {entry.number} changes {change.item}, which did not exist before it")
            return
        if states[-1] != change.before:
            self.problems.append(f"entry {entry.number} says of {change.item} what the entries before it do not")
        if entry.action == "undo":
            states.pop()
            if not states or states[-1] != change.after:
                self.problems.append(f"entry {entry.number} undoes {change.item} to a state it never had")
                states.append(change.after)
        else:
            states.append(change.after)
