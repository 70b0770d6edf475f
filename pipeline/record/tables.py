"""Reading and writing the tables inside one session: what the store and its verification share."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any, TypeAlias

from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import InstrumentedAttribute, Session, selectinload

from pipeline.record import schema
from pipeline.record.audio import Recording
from pipeline.record.errors import NoSuchExamination, SignedRecord, StaleChange, StoreError
from pipeline.record.trail import Change, Content, Replay, State, TrailEntry, canonical, describe
from pipeline.record.views import Signed

Stored: TypeAlias = schema.Finding | schema.Gap


def found(session: Session, exam_id: str, *, lock: bool = False) -> schema.Examination:
    """Raises `NoSuchExamination`. `lock` makes other writers wait (PostgreSQL)."""
    query = select(schema.Examination).where(schema.Examination.id == exam_id)
    exam = session.scalar(query.with_for_update() if lock else query)
    if exam is None:
        raise NoSuchExamination("there is no such examination; list them to see what the store holds")
    return exam


def changeable(session: Session, exam_id: str) -> schema.Examination:
    """The examination, locked for a change. Raises `SignedRecord` when it is signed."""
    exam = found(session, exam_id, lock=True)
    if session.get(schema.Signature, exam_id) is not None:
        raise SignedRecord("the record is signed and does not change; make an amendment instead")
    return exam


def unchanged(session: Session, exam: schema.Examination, item_id: str, seen: int) -> Stored:
    """The item. Raises `StaleChange` when it was changed after revision `seen`, naming who changed what."""
    item: Stored | None = session.get(schema.Finding, (exam.id, item_id)) or session.get(schema.Gap, (exam.id, item_id))
    later = [entry for entry in unseen(session, exam, seen) if item_id in _items_of(entry)]
    if later:
        raise StaleChange(news(later, item_id))
    if item is None:
        raise StoreError("the record has no such item; reload it and look again")
    return item


def unseen(session: Session, exam: schema.Examination, seen: int) -> list[TrailEntry]:
    """The entries after revision `seen`. Raises `StaleChange` when there never was such a revision."""
    if seen > exam.revision:
        raise StaleChange("the record has no such revision; reload it and look again")
    return entries(session, exam.id, seen)


def news(later: Sequence[TrailEntry], item_id: str | None = None) -> str:
    """Who changed what, of the entries that a reviewer has not seen."""
    latest = later[-1]
    changes = [change for change in latest.content.changes if item_id in (None, change.item)]
    what = describe(changes[0]) if len(changes) == 1 else f"{len(changes)} items"
    return f"{latest.who} changed this after you looked: {what}. Nothing of yours was kept; look again and decide"


def stored_items(session: Session, exam_id: str) -> list[Stored]:
    """All rows and gaps in order."""
    findings = session.scalars(
        select(schema.Finding).where(schema.Finding.exam_id == exam_id).options(selectinload(schema.Finding.evidence))
    )
    gaps = session.scalars(select(schema.Gap).where(schema.Gap.exam_id == exam_id))
    return sorted([*findings, *gaps], key=lambda item: item.position)


def next_position(session: Session, exam_id: str) -> int:
    last = [
        session.scalar(select(func.max(table.position)).where(table.exam_id == exam_id)) or 0
        for table in (schema.Finding, schema.Gap)
    ]
    return 1 + max(last)


def state(item: Stored) -> State:
    """The item as the trail writes it."""
    data: dict[str, Any] = json.loads(item.data)
    if isinstance(item, schema.Gap):
        return State.model_validate({"kind": item.kind, "data": data, "decision": item.decision})
    data["evidence"] = [
        {"start": span.start, "end": span.end, "heard": span.heard, "mended": span.mended} for span in item.evidence
    ]
    return State.model_validate({"kind": "row", "data": data, "decision": item.decision})


def apply(session: Session, exam: schema.Examination, change: Change, position: int) -> None:
    """Makes the tables agree with a change; `position` is where a new item goes."""
    item: Stored | None = None
    if change.before is not None:
        key = (exam.id, change.item)
        item = session.get(schema.Finding, key) if change.before.kind == "row" else session.get(schema.Gap, key)
    if change.after is None:
        session.delete(item)
        return
    if item is None:
        if change.after.kind == "row":
            item = schema.Finding(exam_id=exam.id, id=change.item, position=position)
        else:
            item = schema.Gap(exam_id=exam.id, id=change.item, position=position, kind=change.after.kind)
        session.add(item)
    data = dict(change.after.data)
    spans = data.pop("evidence", [])
    if isinstance(item, schema.Finding) and change.before is None:
        # A decision never changes what was heard, so the evidence is written once.
        item.evidence = [schema.Evidence(position=number, **span) for number, span in enumerate(spans)]
    item.data = canonical(data)
    item.decision = change.after.decision
    item.open = change.after.open
    item.revision = exam.revision


def clearing(item: Stored) -> Change:
    """The change that clears an open gap. Raises `StoreError` for a row or a cleared gap."""
    before = state(item)
    if before.kind == "row":
        raise StoreError("a row is confirmed, edited or rejected, not cleared")
    if not before.open:
        raise StoreError("this was cleared already")
    return Change(item=item.id, before=before, after=State(kind=before.kind, data=before.data, decision="cleared"))


def refuse_duplicates(session: Session, exam_id: str, changes: Sequence[Change]) -> None:
    """Raises `StoreError` when a change would give the record a second row for a manoeuvre, side and site."""
    moved = {
        change.item: change.after.row.key
        for change in changes
        if change.after is not None
        and change.after.kind == "row"
        and change.after.live
        and (change.before is None or not change.before.live or change.before.row.key != change.after.row.key)
    }
    if not moved:
        return
    touched = {change.item for change in changes}
    for item in stored_items(session, exam_id):
        other = state(item)
        if item.id not in touched and other.kind == "row" and other.live and other.row.key in moved.values():
            raise StoreError(f"the record already has a row for {named(other.row.key)}; edit or reject that one first")


def named(key: tuple[str, str, str | None]) -> str:
    """A row's key in words: "ankle dorsiflexion, left"."""
    return ", ".join(part.replace("_", " ") for part in key if part)


def entries(session: Session, exam_id: str, after: int = 0) -> list[TrailEntry]:
    """The trail from entry `after` + 1 on."""
    query = select(schema.Entry).where(schema.Entry.exam_id == exam_id, schema.Entry.number > after)
    return [
        TrailEntry(
            exam_id=entry.exam_id,
            number=entry.number,
            at=entry.at,
            who=entry.who,
            action=entry.action,
            content=Content.model_validate_json(entry.change),
            previous=entry.previous,
            hash=entry.hash,
        )
        for entry in session.scalars(query.order_by(schema.Entry.number))
    ]


def decisions(session: Session, exam_id: str) -> Replay:
    """What became of the items that somebody decided about.

    The first entry is not read: it is as long as the record, and the later ones say what was before each decision.
    """
    return Replay.of(entries(session, exam_id, after=1))


def signed(signature: schema.Signature | None) -> Signed | None:
    if signature is None:
        return None
    return Signed(signature.at, signature.name, signature.role, signature.statement, signature.head)


def recording(audio: schema.Audio) -> Recording:
    return Recording(audio.file, audio.sha256, audio.size, audio.duration)


def count(
    session: Session, exam_id: InstrumentedAttribute[str], condition: ColumnElement[bool] | InstrumentedAttribute[bool]
) -> dict[str, int]:
    """How many lines of a table each examination has."""
    lines = session.execute(select(exam_id, func.count()).where(condition).group_by(exam_id))
    return {line[0]: line[1] for line in lines}


def _items_of(entry: TrailEntry) -> set[str]:
    return {change.item for change in entry.content.changes}
