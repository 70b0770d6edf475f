"""Dictations on this computer that are not kept in the store yet, and how one gets there."""

from __future__ import annotations

import hashlib
import os
import secrets
import shutil
import wave
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from pydantic import ValidationError

from pipeline.engine import Analysis
from pipeline.hear.audio import RATE
from pipeline.live.dictation import JOURNAL, Dictation, Settings
from pipeline.live.errors import LiveError
from pipeline.record.audio import as_wav
from pipeline.record.database import home
from pipeline.record.store import Store

_SETTINGS, _WAV = "settings.json", "recording.wav"


@dataclass(frozen=True)
class Session:
    """The folder of a dictation."""

    folder: Path
    settings: Settings

    @property
    def id(self) -> str:
        return self.folder.name

    @property
    def journal_size(self) -> int:
        """Bytes of the journal."""
        return (self.folder / JOURNAL).stat().st_size if (self.folder / JOURNAL).exists() else 0

    @property
    def seconds(self) -> int:
        """About how much was recorded."""
        return self.journal_size // (2 * RATE)


def begin(settings: Settings) -> Session:
    """A new dictation's folder, readable by its owner only. Raises `LiveError` where it cannot be made."""
    folder = _root() / f"{datetime.now():%Y%m%d-%H%M%S}-{secrets.token_hex(2)}"
    try:
        folder.mkdir(mode=0o700, parents=True)
        _root().chmod(0o700)
        handle = os.open(folder / _SETTINGS, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "w", encoding="utf-8") as out:
            out.write(settings.model_dump_json())
            out.flush()
            os.fsync(out.fileno())
    except OSError as error:
        shutil.rmtree(folder, ignore_errors=True)
        raise LiveError(f"the folder {_root()} cannot be written ({error.strerror}): make room or mend that") from error
    return Session(folder, settings)


def unfinished() -> list[Session]:
    """Dictations that were begun and not kept, newest first."""
    found = []
    for path in sorted(_root().glob(f"*/{_SETTINGS}"), reverse=True):
        try:
            found.append(Session(path.parent, Settings.model_validate_json(path.read_text(encoding="utf-8"))))
        except (OSError, ValidationError):
            continue
    return found


def reopen(session_id: str | None = None) -> Session:
    """The dictation of that name, or the newest. Raises `LiveError` where there is none."""
    found = [one for one in unfinished() if session_id in (None, one.id)]
    if not found:
        raise LiveError("there is no unfinished dictation to resume: start one with 'spoken-exam listen'")
    return found[0]


def keep(session: Session, dictation: Dictation, analysis: Analysis, store: Store, who: str | None = None) -> str:
    """Puts a finished dictation into the store with its sound, deletes its folder, and returns the examination's id.

    Done twice, after a crash between the two, it finds the examination that is there. Raises `StoreError`, and
    `LiveError` where the disk is full; then the folder stays.
    """
    wav = session.folder / _WAV
    try:
        _write_wav(wav, dictation)
        sound = hashlib.sha256(as_wav(wav)).hexdigest()
    except OSError as error:
        raise LiveError(f"the recording cannot be written ({error.strerror}): make room, then resume") from error
    exam_id = _kept(store, sound)
    if exam_id is None:
        exam_id = store.add(
            analysis.record,
            title=session.settings.title,
            audio=wav,
            transcript=analysis.transcript,
            speaker=session.settings.speaker,
            who=who,
        )
    dictation.close()
    shutil.rmtree(session.folder)
    return exam_id


def _kept(store: Store, sound: str) -> str | None:
    for one in store.list():
        if store.entries(one.id)[0].content.facts.get("audio") == sound:
            return one.id
    return None


def _write_wav(path: Path, dictation: Dictation) -> None:
    path.unlink(missing_ok=True)
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as out, wave.open(out) as writer:
        writer.setnchannels(1)
        writer.setsampwidth(2)
        writer.setframerate(RATE)
        for first in range(0, dictation.samples, 60 * RATE):
            samples = dictation.journal.read(first, first + 60 * RATE)
            writer.writeframes((samples * 32768).round().astype("<i2").tobytes())


def _root() -> Path:
    return home() / "live"
