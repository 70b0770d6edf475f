"""The store: examinations with their rows, evidence, recording and transcript, and every change to them.

Each change is an entry of the audit trail (`pipeline.record.trail`) and a new state of the tables, in one transaction.
"""

from __future__ import annotations

import builtins
import getpass
import secrets
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path
from typing import Any, Self

from sqlalchemy import Engine, delete, select, true
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from pipeline.record import database, decide, learned, schema, tables, verify
from pipeline.record.audio import AudioShelf, Recording, as_wav, peaks
from pipeline.record.errors import StaleChange, StillOpen, StoreError, Unreadable
from pipeline.record.learned import Learned
from pipeline.record.model import Alternative, ExamRecord, Row, Unheard, Unplaced
from pipeline.record.sealing import Sealer
from pipeline.record.tables import Stored
from pipeline.record.trail import (
    NO_HASH,
    Change,
    Content,
    Decision,
    Kind,
    State,
    TrailEntry,
    canonical,
    entry_hash,
    sha256,
)
from pipeline.record.transcript import Transcript
from pipeline.record.views import Difference, ExamView, Item, Sound, Summary, differences


class Store:
    """One open store. Safe to use from several threads and processes at once.

    Every change takes `who` (the reviewer) and `seen` (the revision of the examination that they looked at), and
    returns the new revision. It raises `StaleChange` when the same item was changed after `seen`, `SignedRecord` when
    the record is signed, `StoreError` when the change makes no sense; then nothing was changed.
    """

    def __init__(self, engine: Engine, sealer: Sealer, folder: Path) -> None:
        self._engine = engine
        self._writer = engine.execution_options(writes=True)
        self._shelf = AudioShelf(folder / "audio", sealer)

    @classmethod
    def open(cls, url_or_path: str | Path | None = None, passphrase: str | None = None) -> Store:
        """Opens or makes the store in a folder, on a PostgreSQL URL, or (None) where the environment says.

        A passphrase given to a new store encrypts it. Raises `WrongPassphrase`, or `StoreError` when the store cannot
        be reached or was made by a newer program.
        """
        url, folder = database.locate(url_or_path)
        try:
            engine = database.connect(url, folder)
            database.migrate(engine)
            store = cls(engine, database.unlock(engine, passphrase), folder)
            store._sweep()
        except (DBAPIError, OSError) as error:
            raise database.plain_error(error) from error
        return store

    def close(self) -> None:
        self._engine.dispose()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # Making, listing, reading

    def add(
        self,
        record: ExamRecord,
        *,
        title: str,
        audio: Path | None = None,
        transcript: Transcript | None = None,
        speaker: str | None = None,
        who: str | None = None,
    ) -> str:
        """Keeps a new examination and returns its id. `audio` is a sound file; `speaker` is who examined and spoke."""
        title = _needed(title, "title")
        wav = as_wav(audio) if audio is not None else None
        counts: dict[str, int] = {}
        changes = []
        contents: builtins.list[Row | Unheard | Unplaced] = [*record.rows, *record.unheard, *record.unplaced]
        for state in (State.of(content) for content in contents):
            counts[state.kind] = counts.get(state.kind, 0) + 1
            changes.append(Change(item=f"{state.kind}-{counts[state.kind]}", before=None, after=state))
        return self._create(
            "add", title, changes, wav, transcript, who=who or getpass.getuser(), speaker=speaker, amends=None, why=""
        )

    def list(self) -> builtins.list[Summary]:
        """All examinations, newest first."""
        with self._reading() as session:
            signed = set(session.scalars(select(schema.Signature.exam_id)))
            amended = set(session.scalars(select(schema.Examination.amends)))
            rows = tables.count(session, schema.Finding.exam_id, true())
            open_rows = tables.count(session, schema.Finding.exam_id, schema.Finding.open)
            open_gaps = tables.count(session, schema.Gap.exam_id, schema.Gap.open)
            exams = session.scalars(select(schema.Examination).order_by(schema.Examination.created.desc()))
            summaries = []
            for exam in exams:
                still_open = open_rows.get(exam.id, 0) + open_gaps.get(exam.id, 0)
                state = "amended" if exam.id in amended else "signed" if exam.id in signed else None
                summaries.append(
                    Summary(
                        id=exam.id,
                        title=exam.title,
                        created=exam.created,
                        version=exam.version,
                        state=state or ("open" if still_open else "ready"),  # type: ignore[arg-type]
                        rows=rows.get(exam.id, 0),
                        open=still_open,
                    )
                )
            return summaries

    def exam(self, exam_id: str) -> ExamView:
        """Raises `NoSuchExamination`."""
        with self._reading() as session:
            exam = tables.found(session, exam_id)
            replay = tables.decisions(session, exam_id)
            items = []
            for stored in tables.stored_items(session, exam_id):
                state = tables.state(stored)
                history = replay.histories.get(stored.id, [state])
                items.append(Item(stored.id, state, history[0], stored.revision, len(history) > 1))
            audio = session.get(schema.Audio, exam_id)
            return ExamView(
                id=exam.id,
                title=exam.title,
                speaker=exam.speaker,
                created=exam.created,
                version=exam.version,
                amends=exam.amends,
                amended_by=session.scalar(select(schema.Examination.id).where(schema.Examination.amends == exam_id)),
                revision=exam.revision,
                head=exam.head,
                items=tuple(items),
                sound=Sound(audio.duration, audio.deleted) if audio else None,
                signature=tables.signed(session.get(schema.Signature, exam_id)),
            )

    def export_record(self, exam_id: str) -> ExamRecord:
        """The record as it stands: without rejected rows and without gaps that were cleared."""
        kept: dict[str, list[dict[str, Any]]] = {"row": [], "unheard": [], "unplaced": []}
        with self._reading() as session:
            tables.found(session, exam_id)
            for state in map(tables.state, tables.stored_items(session, exam_id)):
                if state.live:
                    kept[state.kind].append(state.data)
        return ExamRecord.model_validate(
            {"rows": kept["row"], "unheard": kept["unheard"], "unplaced": kept["unplaced"]}
        )

    def transcript(self, exam_id: str) -> Transcript | None:
        """The transcript as it was kept; shared between callers, so not to be changed."""
        with self._reading() as session:
            tables.found(session, exam_id)
            stored = session.get(schema.TranscriptText, exam_id)
            return _read(stored.data) if stored else None

    def entries(self, exam_id: str, after: int = 0) -> builtins.list[TrailEntry]:
        """The audit trail from entry `after` + 1 on."""
        with self._reading() as session:
            tables.found(session, exam_id)
            return tables.entries(session, exam_id, after)

    def clip(self, exam_id: str, start: float, end: float) -> bytes:
        """A WAV of a stretch of the recording, in seconds. Raises `StoreError` when no recording is kept."""
        return self._shelf.clip(self._recording(exam_id), start, end)

    def peaks(self, exam_id: str, start: float, end: float, count: int) -> builtins.list[float]:
        """Loudness from 0 to 1 at `count` even steps of a stretch of the recording."""
        return peaks(self.clip(exam_id, start, end), count)

    def differences(self, exam_id: str) -> builtins.list[Difference]:
        """What an amendment changed so far; empty for a first version."""
        return differences(self.exam(exam_id))

    # Changing rows and gaps

    def confirm(self, exam_id: str, item_id: str, *, who: str, seen: int, why: str = "") -> int:
        """A person found the row right as it stands."""
        return self._decide(exam_id, item_id, "confirmed", decide.confirmed, who=who, seen=seen, why=why)

    def choose(
        self, exam_id: str, item_id: str, alternative: Alternative, *, who: str, seen: int, why: str = ""
    ) -> int:
        """A person took one of the row's alternatives. The row stays open while another slot of it is in doubt."""

        def take(row: Row) -> Row:
            if alternative not in row.alternatives:
                raise StoreError("the row has no such alternative; reload the record and look again")
            return decide.chosen(row, alternative)

        return self._decide(exam_id, item_id, "chosen", take, who=who, seen=seen, why=why)

    def edit(self, exam_id: str, item_id: str, fields: Mapping[str, Any], *, who: str, seen: int, why: str = "") -> int:
        """A person wrote other values into some of the fields `decide.EDITABLE`."""
        return self._decide(
            exam_id, item_id, "edited", lambda row: decide.edited(row, fields), who=who, seen=seen, why=why
        )

    def reject(self, exam_id: str, item_id: str, *, who: str, seen: int, why: str = "") -> int:
        """The row does not belong to the record. It stays visible, and can come back by `undo`."""
        return self._decide(exam_id, item_id, "rejected", lambda row: row, who=who, seen=seen, why=why)

    def confirm_group(self, exam_id: str, item_ids: Sequence[str], *, who: str, seen: int, why: str = "") -> int:
        """One deliberate act for rows that can be judged together (`decide.together`); all of them or none."""

        def act(session: Session, _exam: schema.Examination, items: Sequence[Stored]) -> builtins.list[Change]:
            states = [tables.state(stored) for stored in items]
            if not (
                all(state.kind == "row" and state.open for state in states)
                and decide.together([state.row for state in states])
            ):
                raise StoreError(
                    "only open inferred normals, or open rows of the same words, can be confirmed together; look again"
                )
            return [
                Change(item=stored.id, before=before, after=State.of(decide.confirmed(before.row), "confirmed"))
                for stored, before in zip(items, states, strict=True)
            ]

        return self._change(exam_id, item_ids, "confirm_group", act, who=who, seen=seen, why=why)

    def clear_unheard(self, exam_id: str, item_id: str, *, who: str, seen: int, why: str = "") -> int:
        """A person listened to the stretch and found nothing that is missing from the record."""
        return self._clear(exam_id, item_id, "unheard", who=who, seen=seen, why=why)

    def clear_unplaced(self, exam_id: str, item_id: str, *, who: str, seen: int, why: str = "") -> int:
        """A person read the words and found nothing that is missing from the record."""
        return self._clear(exam_id, item_id, "unplaced", who=who, seen=seen, why=why)

    def add_row(
        self, exam_id: str, row: Row, *, who: str, seen: int, why: str = "", from_gap: str | None = None
    ) -> int:
        """A person adds a row; `from_gap` names the unheard or unplaced item that it makes good, which is cleared."""

        def act(_session: Session, exam: schema.Examination, items: Sequence[Stored]) -> builtins.list[Change]:
            changes = [tables.clearing(stored) for stored in items]
            added = State.of(decide.confirmed(row), "added")
            return [*changes, Change(item=f"row-{exam.revision + 1}-added", before=None, after=added)]

        gaps = [] if from_gap is None else [from_gap]
        return self._change(exam_id, gaps, "add_row", act, who=who, seen=seen, why=why)

    def undo(self, exam_id: str, item_ids: Sequence[str], *, who: str, seen: int, why: str = "") -> int:
        """Takes back the last change of each item that was not undone before."""

        def act(session: Session, _exam: schema.Examination, items: Sequence[Stored]) -> builtins.list[Change]:
            replay = tables.decisions(session, exam_id)
            try:
                return [
                    Change(item=stored.id, before=tables.state(stored), after=replay.before_last_change(stored.id))
                    for stored in items
                ]
            except LookupError as error:
                raise StoreError("there is nothing to undo here") from error

        return self._change(exam_id, item_ids, "undo", act, who=who, seen=seen, why=why)

    # The whole record

    def sign(self, exam_id: str, *, name: str, role: str, statement: str, seen: int, keep_audio: bool = False) -> int:
        """Signs the record as it stands at revision `seen`, and deletes the recording unless it is to be kept.

        Raises `StillOpen` while anything is open, `StaleChange` when anything changed after `seen`, and `StoreError`
        when the record does not verify.
        """
        name, role, statement = _needed(name, "name"), _needed(role, "role"), _needed(statement, "statement")
        with self._writing() as session:
            exam = tables.changeable(session, exam_id)
            later = tables.unseen(session, exam, seen)
            if later:
                raise StaleChange(tables.news(later))
            states = [tables.state(stored) for stored in tables.stored_items(session, exam_id)]
            still_open = sum(state.open for state in states)
            if still_open:
                raise StillOpen(f"{still_open} of the record's items must be confirmed or cleared before signing")
            keys = [state.row.key for state in states if state.kind == "row" and state.live]
            twice = {key for key in keys if keys.count(key) > 1}
            if twice:
                raise StillOpen(f"two rows say {tables.named(twice.pop())}: edit or reject one before signing")
            problems = verify.problems(session, self._shelf, exam)
            if problems:
                raise StoreError(f"the record does not verify and cannot be signed: {problems[0]}")
            audio = session.get(schema.Audio, exam_id)
            at = _now()
            facts = {"name": name, "role": role, "statement": statement, "audio": "none"}
            if audio is not None:
                facts["audio"] = "kept" if keep_audio else "deleted"
                audio.deleted = None if keep_audio else at
            self._append(session, exam, "sign", [], who=name, why="", facts=facts, at=at)
            session.flush()
            session.add(
                schema.Signature(exam_id=exam_id, at=at, name=name, role=role, statement=statement, head=exam.head)
            )
            revision, file = exam.revision, audio.file if audio is not None and audio.deleted else None
        if file is not None:
            self._shelf.delete(file)
        return revision

    def amend(self, exam_id: str, *, who: str, why: str) -> str:
        """Makes a new, open version of a signed record and returns its id; the signed one stays as it is."""
        why = _needed(why, "reason")
        with self._reading() as session:
            exam = tables.found(session, exam_id)
            if session.get(schema.Signature, exam_id) is None:
                raise StoreError("only a signed record is amended; change this one directly")
            if session.scalar(select(schema.Examination.id).where(schema.Examination.amends == exam_id)):
                raise StoreError("the record already has an amendment; amend the newest version")
            kept = [(stored.id, tables.state(stored)) for stored in tables.stored_items(session, exam_id)]
            changes = [
                Change(item=item, before=None, after=State(kind=state.kind, data=state.data))
                for item, state in kept
                if state.live
            ]
            audio = session.get(schema.Audio, exam_id)
            recording = tables.recording(audio) if audio is not None and audio.deleted is None else None
            title, speaker, head, version = exam.title, exam.speaker, exam.head, exam.version
        return self._create(
            "amend",
            title,
            changes,
            self._shelf.read(recording) if recording else None,
            self.transcript(exam_id),
            who=_needed(who, "name"),
            speaker=speaker,
            amends=(exam_id, head, version + 1),
            why=why,
        )

    def delete(self, exam_id: str, *, who: str | None = None) -> None:
        """Removes the examination with all it holds. Only who deleted what and when stays."""
        with self._writing() as session:
            exam = tables.found(session, exam_id, lock=True)
            if session.scalar(select(schema.Examination.id).where(schema.Examination.amends == exam_id)):
                raise StoreError("the record has an amendment; delete the newest version first")
            file = session.scalar(select(schema.Audio.file).where(schema.Audio.exam_id == exam_id))
            gone = schema.Deletion(exam_id=exam_id, at=_now(), who=who or getpass.getuser(), head=exam.head)
            session.add(gone)
            session.flush()
            for table in (
                schema.Evidence,
                schema.Finding,
                schema.Gap,
                schema.Audio,
                schema.TranscriptText,
                schema.Entry,
                schema.Signature,
            ):
                session.execute(delete(table).where(table.exam_id == exam_id))
            session.execute(delete(schema.Examination).where(schema.Examination.id == exam_id))
        if file is not None:
            self._shelf.delete(file)
        database.empty_log(self._engine)

    def verify(self, exam_id: str) -> builtins.list[str]:
        """What is wrong with the record: altered, removed or reordered entries, tables that do not follow from them.

        An empty list proves that the record is what its entries say.
        """
        with self._reading() as session:
            try:
                return verify.problems(session, self._shelf, tables.found(session, exam_id))
            except Unreadable as error:
                return [str(error)]

    # Learning

    def learned(self, speaker: str | None = None) -> builtins.list[Learned]:
        """What reviewers confirmed of mended terms, never a side or a grade; each speaker's most frequent first.

        Of one speaker or (None) of all.
        """
        query = select(schema.LearnedTerm)
        if speaker is not None:
            query = query.where(schema.LearnedTerm.speaker == speaker)
        with self._reading() as session:
            found = [Learned(term.speaker, term.heard, term.term, term.count) for term in session.scalars(query)]
        return sorted(found, key=lambda one: (one.speaker, -one.count, one.heard, one.term))

    def forget(self, speaker: str, heard: str | None = None) -> int:
        """Removes what was learned of a speaker: of some heard words, or (None) everything. Returns how many terms."""
        with self._writing() as session:
            terms = session.scalars(select(schema.LearnedTerm).where(schema.LearnedTerm.speaker == speaker))
            gone = [term for term in terms if heard is None or term.heard == heard]
            for term in gone:
                session.delete(term)
            return len(gone)

    # The machinery

    @contextmanager
    def _reading(self) -> Iterator[Session]:
        with self._session(self._engine) as session:
            yield session

    @contextmanager
    def _writing(self) -> Iterator[Session]:
        with self._session(self._writer) as session:
            yield session

    @contextmanager
    def _session(self, engine: Engine) -> Iterator[Session]:
        try:
            with Session(engine) as session, session.begin():
                yield session
        except (DBAPIError, OSError) as error:
            raise database.plain_error(error) from error

    def _create(
        self,
        action: str,
        title: str,
        changes: Sequence[Change],
        wav: bytes | None,
        transcript: Transcript | None,
        *,
        who: str,
        speaker: str | None,
        amends: tuple[str, str, int] | None,
        why: str,
    ) -> str:
        exam_id = secrets.token_hex(8)
        recording = self._keep(wav)
        before, head, version = amends or (None, None, 1)
        text_of_transcript = canonical(transcript.model_dump(mode="json")) if transcript else None
        facts = {
            "title": title,
            "speaker": speaker,
            "version": version,
            "amends": before,
            "amended_head": head,
            "transcript": sha256(text_of_transcript) if text_of_transcript else None,
            "audio": recording.sha256 if recording else None,
        }
        at = _now()
        try:
            with self._writing() as session:
                exam = schema.Examination(
                    id=exam_id,
                    title=title,
                    speaker=speaker,
                    created=at,
                    version=version,
                    amends=before,
                    revision=0,
                    head=NO_HASH,
                )
                session.add(exam)
                session.flush()
                if text_of_transcript:
                    session.add(schema.TranscriptText(exam_id=exam_id, data=text_of_transcript))
                if recording:
                    session.add(
                        schema.Audio(
                            exam_id=exam_id,
                            file=recording.file,
                            sha256=recording.sha256,
                            size=recording.size,
                            duration=recording.duration,
                        )
                    )
                self._append(session, exam, action, changes, who=who, why=why, facts=facts, at=at)
        except BaseException:
            if recording:
                self._shelf.delete(recording.file)
            raise
        return exam_id

    def _keep(self, wav: bytes | None) -> Recording | None:
        try:
            return self._shelf.keep(wav) if wav is not None else None
        except OSError as error:
            raise database.plain_error(error) from error

    def _decide(
        self,
        exam_id: str,
        item_id: str,
        decision: Decision,
        make: Callable[[Row], Row],
        *,
        who: str,
        seen: int,
        why: str,
    ) -> int:
        def act(_session: Session, _exam: schema.Examination, items: Sequence[Stored]) -> builtins.list[Change]:
            before = tables.state(items[0])
            if before.kind != "row":
                raise StoreError("this is no row: listen to it, then clear it or add a row")
            if not before.live:
                raise StoreError("the row was rejected; undo that first")
            return [Change(item=item_id, before=before, after=State.of(make(before.row), decision))]

        return self._change(exam_id, [item_id], decision, act, who=who, seen=seen, why=why)

    def _clear(self, exam_id: str, item_id: str, kind: Kind, *, who: str, seen: int, why: str) -> int:
        def act(_session: Session, _exam: schema.Examination, items: Sequence[Stored]) -> builtins.list[Change]:
            change = tables.clearing(items[0])
            if change.before is not None and change.before.kind != kind:
                raise StoreError(f"this is no {kind} item")
            return [change]

        return self._change(exam_id, [item_id], "cleared", act, who=who, seen=seen, why=why)

    def _change(
        self,
        exam_id: str,
        item_ids: Sequence[str],
        action: str,
        act: Callable[[Session, schema.Examination, Sequence[Stored]], builtins.list[Change]],
        *,
        who: str,
        seen: int,
        why: str,
    ) -> int:
        who = _needed(who, "name")
        with self._writing() as session:
            exam = tables.changeable(session, exam_id)
            items = [tables.unchanged(session, exam, item_id, seen) for item_id in dict.fromkeys(item_ids)]
            changes = act(session, exam, items)
            if not changes:
                raise StoreError("nothing was chosen to change")
            tables.refuse_duplicates(session, exam_id, changes)
            self._append(session, exam, action, changes, who=who, why=why.strip(), facts={}, at=_now())
            return exam.revision

    def _append(
        self,
        session: Session,
        exam: schema.Examination,
        action: str,
        changes: Sequence[Change],
        *,
        who: str,
        why: str,
        facts: dict[str, Any],
        at: str,
    ) -> None:
        """One entry, and the tables made to agree with it."""
        content = Content.salted(list(changes), why, facts)
        number, previous = exam.revision + 1, exam.head
        exam.revision, exam.head = number, entry_hash(exam.id, number, at, who, action, content, previous)
        session.add(
            schema.Entry(
                exam_id=exam.id,
                number=number,
                at=at,
                who=who,
                action=action,
                items=" ".join(change.item for change in changes),
                change=canonical(content.model_dump(mode="json")),
                previous=previous,
                hash=exam.head,
            )
        )
        position = tables.next_position(session, exam.id)
        for offset, change in enumerate(changes):
            tables.apply(session, exam, change, position + offset)
            learned.settle(session, exam, change)

    def _recording(self, exam_id: str) -> Recording:
        with self._reading() as session:
            tables.found(session, exam_id)
            audio = session.get(schema.Audio, exam_id)
            if audio is None or audio.deleted is not None:
                raise StoreError("no recording is kept for this record")
            return tables.recording(audio)

    def _sweep(self) -> None:
        """Removes recordings that a crash left behind: after the record said deleted, or before it named them."""
        with self._reading() as session:
            audio = [(one.file, one.deleted) for one in session.scalars(select(schema.Audio))]
        for file, deleted in audio:
            if deleted is not None:
                self._shelf.delete(file)
        self._shelf.sweep(file for file, _ in audio)


@lru_cache(maxsize=4)
def _read(transcript: str) -> Transcript:
    """The page shows the transcript again after every decision; reading an hour's costs as much as all the rest."""
    return Transcript.model_validate_json(transcript)


def _needed(value: str, what: str) -> str:
    value = value.strip()
    if not value:
        raise StoreError(f"a {what} is needed")
    return value


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="microseconds")
