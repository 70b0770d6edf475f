"""What every output starts from: one examination, whether from the store or straight from the engine."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from pipeline.record.model import ExamRecord
from pipeline.record.transcript import Transcript
from pipeline.record.views import Signed

if TYPE_CHECKING:
    from pipeline.record.store import Store


class ExportError(Exception):
    """An output cannot be made. The message is one line that says what to do; nothing was written."""


class Analysed(Protocol):
    """What the engine returns."""

    @property
    def record(self) -> ExamRecord: ...

    @property
    def transcript(self) -> Transcript: ...


@dataclass(frozen=True)
class Exam:
    """One examination. `created` is an ISO 8601 time in UTC; `media` the sound or film that it was heard from."""

    record: ExamRecord
    transcript: Transcript = field(default_factory=Transcript)
    title: str = "Neurological examination"
    identifier: str | None = None
    created: str | None = None
    examiner: str | None = None
    signature: Signed | None = None
    media: Path | None = None

    @classmethod
    def of(cls, found: Analysed, media: Path | None = None) -> Exam:
        """`found` as an examination: itself, or the unsigned result of an analysis."""
        return found if isinstance(found, Exam) else cls(record=found.record, transcript=found.transcript, media=media)

    @property
    def signed(self) -> bool:
        return self.signature is not None


def stored(store: Store, exam_id: str) -> Exam:
    """A kept examination as it stands. Raises `StoreError` when there is none."""
    view = store.exam(exam_id)
    return Exam(
        record=store.export_record(exam_id),
        transcript=store.transcript(exam_id) or Transcript(),
        title=view.title,
        identifier=view.id,
        created=view.created,
        examiner=view.speaker,
        signature=view.signature,
    )
