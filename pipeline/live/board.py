"""What the board shows: the examination filling up, in words, for the terminal and the page alike."""

from __future__ import annotations

import re
from collections.abc import Iterable

from pydantic import BaseModel, ConfigDict

from pipeline.lexicon.live import Plan
from pipeline.lexicon.model import Lexicon
from pipeline.live.account import last_rows
from pipeline.record.model import ExamRecord, Row, Side, Status

CAUTION = "An aid to documentation, not a diagnosis or a medical device. A licensed clinician checks and signs."
CONSENT = "Recording: local rules on consent, recording and data protection apply."

_SECTIONS = {
    "inspection": "Inspection", "tone": "Tone", "power": "Power", "reflexes": "Reflexes", "sensation": "Sensation",
    "perianal": "Perianal", "nerve_tension": "Nerve tension", "coordination": "Coordination", "gait": "Gait",
}  # fmt: skip
_OMITTED = {
    "declined": "declined", "pain": "not done: pain", "unable": "unable", "deferred": "deferred", "not_done": "not done"
}  # fmt: skip


class Line(BaseModel):
    """One manoeuvre and site. A result that is unsure ends with a question mark; an empty text was not mentioned."""

    model_config = ConfigDict(frozen=True)

    name: str
    right: str = ""
    left: str = ""
    midline: str = ""
    new: bool = False


class Part(BaseModel):
    """A section of the examination."""

    model_config = ConfigDict(frozen=True)

    title: str
    lines: list[Line]


class Board(BaseModel):
    """Everything that the board shows; `state` is `waiting`, `listening`, `paused` or `finished`.

    `partial`: words of an utterance that goes on, which may still change. `message`: the program's answer to a control.
    `question`: what the program asks. `kept`: the identifier of the kept examination, once it is.
    """

    model_config = ConfigDict(frozen=True)

    state: str = "listening"
    title: str = ""
    seconds: float = 0.0
    partial: str = ""
    heard: str = ""
    taken: list[str] = []
    unsure: list[str] = []
    to_clear: list[str] = []
    plan: str = ""
    missing: list[str] = []
    parts: list[Part] = []
    rows: int = 0
    message: str = ""
    question: str = ""
    kept: str = ""
    caution: str = CAUTION
    consent: str = CONSENT


def filled(record: ExamRecord, heard: str, plan: Plan, lexicon: Lexicon, time: float) -> dict[str, object]:
    """The fields of a `Board` that follow from the record. `heard`: the last utterance; `time`: seconds up to now."""
    rows = record.rows
    last = last_rows(rows, time)
    unsure = sorted((row for row in rows if row.confirm), key=_first_said, reverse=True)
    return {
        "heard": heard,
        "taken": [row_text(row) for row in last],
        "unsure": [f"{row_text(row)} ({why(row)})" for row in unsure],
        "to_clear": [f'"{one.text}": {one.reason}' for one in record.unplaced]
        + [f"{clock(one.start)}: {one.reason}" for one in record.unheard],
        "plan": plan.title,
        "missing": not_mentioned(rows, plan, lexicon),
        "parts": _parts(rows, {row.key for row in last}, lexicon),
        "rows": len(rows),
    }


def not_mentioned(rows: Iterable[Row], plan: Plan, lexicon: Lexicon) -> list[str]:
    """What of the plan has no row yet: "ankle jerk", or "ankle jerk, left" where the other side has one."""
    sides: dict[str, set[Side]] = {}
    for row in rows:
        sides.setdefault(row.manoeuvre, set()).add(row.side)
    each = {entry.id: entry.sides == "each" for entry in lexicon.manoeuvres}
    found = []
    for name in plan.manoeuvres:
        said = sides.get(name, set())
        if not said:
            found.append(plain(name))
        elif each[name] and Side.MIDLINE not in said:
            found += [f"{plain(name)}, {side.value}" for side in (Side.RIGHT, Side.LEFT) if side not in said]
    return found


def row_text(row: Row) -> str:
    """A row in words: "left ankle dorsiflexion 4-"."""
    side = "" if row.side is Side.MIDLINE else f"{row.side.value} "
    return f"{side}{place(row)} {result(row)}"


def why(row: Row) -> str:
    """Why the row is unsure, in words."""
    return ", ".join(plain(flag) for flag in row.flags) or "low confidence"


def result(row: Row) -> str:
    """The result in words."""
    return _OMITTED[row.reason.value] if row.status is Status.NOT_EXAMINED and row.reason else row.value or ""


def place(row: Row) -> str:
    """Manoeuvre and site: "pinprick L5", "vibration, great toe"."""
    if row.site is None:
        return plain(row.manoeuvre)
    link = " " if re.match(r"[CTLS]\d", row.site) else ", "
    return f"{plain(row.manoeuvre)}{link}{plain(row.site)}"


def plain(identifier: str) -> str:
    """An identifier as words."""
    return identifier.replace("_", " ")


def clock(seconds: float) -> str:
    """`75.2` as "1:15"."""
    return f"{int(seconds) // 60}:{int(seconds) % 60:02}"


def _parts(rows: Iterable[Row], new: set[tuple[str, str, str | None]], lexicon: Lexicon) -> list[Part]:
    section = {entry.id: entry.section for entry in lexicon.manoeuvres}
    order = {entry.id: place for place, entry in enumerate(lexicon.manoeuvres)}
    lines: dict[str, dict[str, dict[str, object]]] = {name: {} for name in _SECTIONS}
    for row in sorted(rows, key=lambda row: (order[row.manoeuvre], row.site or "")):
        line = lines[section[row.manoeuvre]].setdefault(place(row), {"name": place(row)})
        line[row.side.value] = result(row) + (" ?" if row.confirm else "")
        line["new"] = line.get("new", False) or row.key in new
    return [
        Part(title=_SECTIONS[name], lines=[Line.model_validate(line) for line in found.values()])
        for name, found in lines.items()
        if found
    ]


def _first_said(row: Row) -> float:
    return row.evidence[0].start if row.evidence else 0.0
