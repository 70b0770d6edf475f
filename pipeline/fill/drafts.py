"""Rows before they are judged."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from pipeline.understand.items import Item

ROOT = re.compile(r"[CTLS]\d+$")


def root_order(root: str) -> tuple[int, int]:
    """Sort key of a spinal root, from the neck down."""
    return "CTLS".index(root[0]), int(root[1:])


@dataclass(slots=True)
class Draft:
    """A row before it is judged, with what its confidence depends on."""

    manoeuvre: str
    side: str
    site: str | None
    value: str | None
    reason: str | None = None
    roots: list[str] = field(default_factory=list)
    muscle: str | None = None
    nerve: str | None = None
    inferred: bool = False
    flags: set[str] = field(default_factory=set)
    items: list[Item] = field(default_factory=list)
    spans: list[tuple[int, int]] = field(default_factory=list)
    side_source: str = "said"
    frame: int = -1
    group: bool = False
    repeats: int = 1
    roots_first: bool = False
    value_flags: tuple[str, ...] = ()
    features: dict[str, float] = field(default_factory=dict)
    copied: Draft | None = None

    @property
    def key(self) -> tuple[str, str, str | None]:
        return self.manoeuvre, self.side, self.site


@dataclass(slots=True)
class Loose:
    """A result that could not be placed: tokens `start`..`end` (exclusive)."""

    start: int
    end: int
    reason: str


def last_of(drafts: dict[tuple[str, str, str | None], Draft], trail: list[tuple[int, int, list[Draft]]]) -> list[Draft]:
    """All results so far for the manoeuvre that was reported last."""
    last = trail[-1][2][-1].manoeuvre if trail and trail[-1][2] else None
    return [draft for draft in drafts.values() if draft.manoeuvre == last]


def copy_of(draft: Draft, **changes: object) -> Draft:
    """The draft once more, without its roots, and with changes; another manoeuvre has another muscle and nerve."""
    values = {name: getattr(draft, name) for name in Draft.__dataclass_fields__}
    if changes.get("manoeuvre", draft.manoeuvre) != draft.manoeuvre:
        values |= {"muscle": None, "nerve": None}
    values |= {
        "flags": set(draft.flags),
        "roots": [],
        "spans": list(draft.spans),
        "items": list(draft.items),
        "copied": draft,
        **changes,
    }
    return Draft(**values)


def refines(old: str | None, new: str | None, scale: str | None) -> bool:
    """The new value says the same more exactly: "weak", then "four minus"."""
    if old is None or new is None:
        return False
    if old == "reduced" and scale == "reflex":
        return new == "1+"
    if old == "reduced":
        return new in {"1", "2-", "2", "2+", "3-", "3", "3+", "4-", "4", "4+", "5-", "1+"}
    if old == "normal":
        return new in {"5", "2+"}
    if old == "brisk":
        return new in {"3+", "4+"}
    if old == "present":
        return new.endswith("beats") or new == "sustained" or new == "normal"
    if old == "increased":
        return new.startswith("MAS") and new != "MAS 0"
    return False
