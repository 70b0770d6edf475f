"""The tables. `Sealed` columns are encrypted when the store has a passphrase.

Times of day are ISO 8601 text in UTC: the same text goes into the hash chain on every database.
"""

from __future__ import annotations

from sqlalchemy import ForeignKey, ForeignKeyConstraint, MetaData, UniqueConstraint
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column, relationship

from pipeline.record.sealing import Sealed

REVISION = "0001"
"""The newest migration: what the tables below look like."""


class Base(DeclarativeBase):
    metadata = MetaData(
        naming_convention={
            "pk": "pk_%(table_name)s",
            "fk": "fk_%(table_name)s_%(column_0_name)s",
            "uq": "uq_%(table_name)s_%(column_0_name)s",
        }
    )


class Examination(Base):
    """One version of one record. `revision` counts its entries; `head` is the hash of the last one."""

    __tablename__ = "examination"

    id: Mapped[str] = mapped_column(primary_key=True)
    title: Mapped[str] = mapped_column(Sealed)
    speaker: Mapped[str | None]
    created: Mapped[str]
    version: Mapped[int]
    amends: Mapped[str | None] = mapped_column(ForeignKey("examination.id"), unique=True)
    revision: Mapped[int]
    head: Mapped[str]


class Finding(Base):
    """A row of the record as it stands now; `data` is its JSON without the evidence."""

    __tablename__ = "finding"

    exam_id: Mapped[str] = mapped_column(ForeignKey("examination.id"), primary_key=True)
    id: Mapped[str] = mapped_column(primary_key=True)
    position: Mapped[int]
    data: Mapped[str] = mapped_column(Sealed)
    decision: Mapped[str | None]
    open: Mapped[bool]
    revision: Mapped[int]
    evidence: Mapped[list[Evidence]] = relationship(order_by="Evidence.position", cascade="all, delete-orphan")


class Evidence(Base):
    """A span of speech that supports a finding. Times in seconds."""

    __tablename__ = "evidence"
    __table_args__ = (ForeignKeyConstraint(["exam_id", "finding_id"], ["finding.exam_id", "finding.id"]),)

    exam_id: Mapped[str] = mapped_column(primary_key=True)
    finding_id: Mapped[str] = mapped_column(primary_key=True)
    position: Mapped[int] = mapped_column(primary_key=True)
    start: Mapped[float]
    end: Mapped[float]
    heard: Mapped[str] = mapped_column(Sealed)
    mended: Mapped[str] = mapped_column(Sealed)


class Gap(Base):
    """Speech that made no row: `kind` is `unheard` or `unplaced`."""

    __tablename__ = "gap"

    exam_id: Mapped[str] = mapped_column(ForeignKey("examination.id"), primary_key=True)
    id: Mapped[str] = mapped_column(primary_key=True)
    position: Mapped[int]
    kind: Mapped[str]
    data: Mapped[str] = mapped_column(Sealed)
    decision: Mapped[str | None]
    open: Mapped[bool]
    revision: Mapped[int]


class Audio(Base):
    """The recording: a WAV file in the store's folder. `size` in bytes before sealing, `duration` in seconds."""

    __tablename__ = "audio"

    exam_id: Mapped[str] = mapped_column(ForeignKey("examination.id"), primary_key=True)
    file: Mapped[str] = mapped_column(unique=True)
    sha256: Mapped[str]
    size: Mapped[int]
    duration: Mapped[float]
    deleted: Mapped[str | None]


class TranscriptText(Base):
    """The transcript as JSON."""

    __tablename__ = "transcript"

    exam_id: Mapped[str] = mapped_column(ForeignKey("examination.id"), primary_key=True)
    data: Mapped[str] = mapped_column(Sealed)


class Entry(Base):
    """One line of the audit trail, never changed. `items` lists the ids that `change` touches."""

    __tablename__ = "entry"

    exam_id: Mapped[str] = mapped_column(ForeignKey("examination.id"), primary_key=True)
    number: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    at: Mapped[str]
    who: Mapped[str]
    action: Mapped[str]
    items: Mapped[str]
    change: Mapped[str] = mapped_column(Sealed)
    previous: Mapped[str]
    hash: Mapped[str]


class Signature(Base):
    """Its presence makes the examination immutable; `head` is the hash of the signing entry."""

    __tablename__ = "signature"

    exam_id: Mapped[str] = mapped_column(ForeignKey("examination.id"), primary_key=True)
    at: Mapped[str]
    name: Mapped[str]
    role: Mapped[str]
    statement: Mapped[str] = mapped_column(Sealed)
    head: Mapped[str]


class Deletion(Base):
    """That a record was deleted, and by whom; nothing of what it said. The triggers let only such a record go."""

    __tablename__ = "deletion"

    exam_id: Mapped[str] = mapped_column(primary_key=True)
    at: Mapped[str]
    who: Mapped[str]
    head: Mapped[str]


class LearnedTerm(Base):
    """What was heard where a speaker said a term, as reviewers confirmed it. Never a side or a grade."""

    __tablename__ = "learned"
    __table_args__ = (UniqueConstraint("speaker", "heard", "term"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    speaker: Mapped[str]
    heard: Mapped[str] = mapped_column(Sealed)
    term: Mapped[str] = mapped_column(Sealed)
    count: Mapped[int]


class StoreKey(Base):
    """The wrapped data key of a store with a passphrase; one line or none."""

    __tablename__ = "store_key"

    id: Mapped[int] = mapped_column(primary_key=True)
    salt: Mapped[str]
    cost: Mapped[int]
    wrapped: Mapped[str]
