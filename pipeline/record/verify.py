"""Proof that a record is what its entries say: the chain is whole, and the tables follow from it."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from itertools import pairwise

from sqlalchemy.orm import Session

from pipeline.record import schema, tables
from pipeline.record.audio import AudioShelf
from pipeline.record.errors import Unreadable
from pipeline.record.trail import NO_HASH, Replay, TrailEntry, sha256


def problems(session: Session, shelf: AudioShelf, exam: schema.Examination) -> list[str]:
    """What is wrong, one line each; empty when nothing is. Raises `Unreadable` when an encrypted text is damaged."""
    entries = tables.entries(session, exam.id)
    found = _chain(exam, entries) + _items(session, exam, entries)
    if entries:
        found += _facts(session, exam, entries)
        found += _audio(shelf, session.get(schema.Audio, exam.id), entries)
        found += _signature(session.get(schema.Signature, exam.id), entries)
        if exam.amends is not None:
            found += _amendment(session, exam.amends, entries[0])
    return found


def _chain(exam: schema.Examination, entries: Sequence[TrailEntry]) -> list[str]:
    found = []
    if not entries:
        return ["the trail is empty"]
    for entry in entries:
        if entry.hash != entry.expected_hash():
            found.append(f"entry {entry.number} was altered")
    if entries[0].number != 1 or entries[0].previous != NO_HASH:
        found.append("entries are missing at the start of the trail")
    for before, after in pairwise(entries):
        if after.number != before.number + 1 or after.previous != before.hash:
            found.append(f"entry {after.number} does not follow entry {before.number}: removed, altered or reordered")
    if (entries[-1].number, entries[-1].hash) != (exam.revision, exam.head):
        found.append("entries are missing at the end of the trail")
    return found


def _items(session: Session, exam: schema.Examination, entries: Sequence[TrailEntry]) -> list[str]:
    replay = Replay.of(entries)
    found = list(replay.problems)
    derived, stored = replay.items, {item.id: item for item in tables.stored_items(session, exam.id)}
    for item_id in dict.fromkeys([*derived, *stored]):
        if item_id not in stored:
            found.append(f"{item_id} is missing from the record")
        elif item_id not in derived:
            found.append(f"{item_id} is in the record, but no entry made it")
        elif tables.state(stored[item_id]) != derived[item_id] or stored[item_id].open != derived[item_id].open:
            found.append(f"{item_id} is not what its entries made it")
    last_change = {change.item: entry.number for entry in entries for change in entry.content.changes}
    if any(item.revision != last_change.get(item.id) for item in stored.values()):
        found.append("an item's revision is not that of its last entry")
    if set(derived) == set(stored) and list(derived) != list(stored):
        found.append("the items are not in the order in which they were added")
    return found


def _facts(session: Session, exam: schema.Examination, entries: Sequence[TrailEntry]) -> list[str]:
    found, facts = [], entries[0].content.facts
    told = (facts.get("title"), facts.get("speaker"), facts.get("version"), facts.get("amends"), entries[0].at)
    if told != (exam.title, exam.speaker, exam.version, exam.amends, exam.created):
        found.append("title, speaker, version or date is not what the first entry says")
    transcript = session.get(schema.TranscriptText, exam.id)
    if facts.get("transcript") != (sha256(transcript.data) if transcript else None):
        found.append("the transcript is not the one that was kept")
    return found


def _audio(shelf: AudioShelf, audio: schema.Audio | None, entries: Sequence[TrailEntry]) -> list[str]:
    kept, last = entries[0].content.facts.get("audio"), entries[-1]
    if (audio.sha256 if audio else None) != kept:
        return ["the recording is not the one that was kept"]
    if audio is None:
        return []
    deleted_at_signing = last.at if last.content.facts.get("audio") == "deleted" else None
    if audio.deleted != deleted_at_signing:
        return ["the recording's deletion is not what the signing entry says"]
    if audio.deleted is not None:
        return []
    try:
        intact = hashlib.sha256(shelf.read(tables.recording(audio))).hexdigest() == kept
    except Unreadable as error:
        return [str(error)]
    return [] if intact else ["the recording was altered"]


def _signature(signature: schema.Signature | None, entries: Sequence[TrailEntry]) -> list[str]:
    last = entries[-1]
    if signature is None:
        return ["the signature is missing"] if any(entry.action == "sign" for entry in entries) else []
    facts = last.content.facts
    told = (last.action, last.hash, last.at, facts.get("name"), facts.get("role"), facts.get("statement"))
    if told != ("sign", signature.head, signature.at, signature.name, signature.role, signature.statement):
        return ["the signature is not the one that was given"]
    return []


def _amendment(session: Session, amended_id: str, first: TrailEntry) -> list[str]:
    amended = session.get(schema.Examination, amended_id)
    if amended is None or amended.head != first.content.facts.get("amended_head"):
        return ["the version that this one amends is missing or was altered"]
    kept = [tables.state(item) for item in tables.stored_items(session, amended_id)]
    copied = [change.after.data for change in first.content.changes if change.after is not None]
    if copied != [state.data for state in kept if state.live]:
        return ["the amendment did not start from the version that it amends"]
    return []
