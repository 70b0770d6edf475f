"""Recordings in the store's folder: 16 kHz mono 16-bit WAV, readable by the owner only, sealed chunk by chunk."""

from __future__ import annotations

import hashlib
import io
import os
import secrets
import time
import wave
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from pipeline.hear.audio import RATE, decode
from pipeline.hear.errors import InputError
from pipeline.record.errors import StoreError, Unreadable
from pipeline.record.sealing import Sealer

SAMPLE = 2  # bytes
HEADER = 44  # bytes of a PCM WAV header as the `wave` module writes it
CHUNK = 65_536  # bytes that are sealed together, so that a short clip needs no whole recording
STRAY_AGE = 3600.0  # seconds after which a file that no record names is left over from a crash


@dataclass(frozen=True)
class Recording:
    """A stored WAV file: `size` in bytes before sealing, `duration` in seconds."""

    file: str
    sha256: str
    size: int
    duration: float


def as_wav(source: Path) -> bytes:
    """Any recording as the store's WAV; what cannot be read is silence there, so that all times stay right.

    Raises `StoreError` when nothing of it is sound.
    """
    try:
        samples = decode(source).samples
    except (InputError, OSError) as error:
        raise StoreError(f"{source.name} cannot be read as sound; give another recording") from error
    return _wav((np.clip(samples, -1, 1) * 32767).round().astype("<i2").tobytes())


def _wav(samples: bytes) -> bytes:
    buffer = io.BytesIO()
    with wave.open(buffer, "wb") as writer:
        writer.setnchannels(1)
        writer.setsampwidth(SAMPLE)
        writer.setframerate(RATE)
        writer.writeframes(samples)
    return buffer.getvalue()


class AudioShelf:
    """The folder of recordings."""

    def __init__(self, folder: Path, sealer: Sealer) -> None:
        self._folder = folder
        self._sealer = sealer
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)

    def keep(self, wav: bytes) -> Recording:
        """Writes a recording through to the disk before it returns."""
        name = secrets.token_hex(16) + ".sound"
        handle = os.open(self._folder / name, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "wb") as out:
            for index, start in enumerate(range(0, len(wav), CHUNK)):
                out.write(self._sealer.seal(wav[start : start + CHUNK], _place(index)))
            out.flush()
            os.fsync(out.fileno())
        seconds = (len(wav) - HEADER) / (RATE * SAMPLE)
        return Recording(name, hashlib.sha256(wav).hexdigest(), len(wav), seconds)

    def read(self, recording: Recording, start: int = 0, end: int | None = None) -> bytes:
        """Bytes `start` to `end` of the WAV. Raises `Unreadable` when the file is gone or damaged."""
        end = recording.size if end is None else min(end, recording.size)
        first, stride = start // CHUNK, CHUNK + self._sealer.overhead
        parts = []
        try:
            with open(self._folder / recording.file, "rb") as source:
                source.seek(first * stride)
                for index in range(first, -(-end // CHUNK)):
                    parts.append(self._sealer.unseal(source.read(stride), _place(index)))
        except OSError as error:
            raise Unreadable("the recording is missing from the store's folder") from error
        return b"".join(parts)[start - first * CHUNK : end - first * CHUNK]

    def clip(self, recording: Recording, start: float, end: float) -> bytes:
        """The WAV of the stretch from `start` to `end`, in seconds, as far as the recording goes."""
        first = HEADER + SAMPLE * round(max(start, 0.0) * RATE)
        last = HEADER + SAMPLE * round(max(end, start, 0.0) * RATE)
        return _wav(self.read(recording, min(first, recording.size), last))

    def delete(self, file: str) -> None:
        (self._folder / file).unlink(missing_ok=True)

    def sweep(self, known: Iterable[str]) -> None:
        """Removes files that no record names. Young ones stay: another process may be about to name them."""
        names = set(known)
        for path in self._folder.glob("*.sound"):
            if path.name not in names and time.time() - path.stat().st_mtime > STRAY_AGE:
                path.unlink(missing_ok=True)


def peaks(wav: bytes, count: int) -> list[float]:
    """`count` loudness peaks from 0 to 1 of a WAV of this module, evenly spread over its length."""
    samples = np.abs(np.frombuffer(wav[HEADER:], dtype="<i2").astype(np.int32))
    if samples.size == 0:
        return [0.0] * count
    return [float(part.max(initial=0)) / 32768 for part in np.array_split(samples, count)]


def _place(index: int) -> bytes:
    return b"sound %d" % index
