"""Sound out of any audio or video file, with an account of what could not be read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import av
import av.error
import numpy as np
from numpy.typing import NDArray

from pipeline.hear.errors import InputError
from pipeline.record.model import Unheard

RATE = 16_000
"""Samples a second of all sound in the pipeline."""

Samples = NDArray[np.float32]

_GAP = 0.25
"""Shortest missing stretch, in seconds, that is reported: formats round their times to less than this."""
_LONGEST_GAP = 3600.0
"""A longer jump of the clock is taken for a damaged time stamp, not for missing sound."""
_BROKEN_OFF = "the recording breaks off here: what was said after this is missing"


@dataclass(frozen=True)
class Sound:
    """Samples: mono, 16 kHz, float32 in -1..1. `missing`: stretches of the recording that could not be read."""

    samples: Samples
    missing: list[Unheard] = field(default_factory=list)

    @property
    def duration(self) -> float:
        return self.samples.size / RATE


def decode(path: Path) -> Sound:
    """The first audio stream of an audio or video file.

    Damaged stretches become silence of the same length where the file tells their time, and are listed in `missing`.
    Raises `InputError` where the file has no sound or none of it can be read.
    """
    try:
        with path.open("rb") as file, _open(file) as container:
            if not container.streams.audio:
                raise InputError(f"{path.name} has no sound: give a recording with an audio track, or a transcript")
            return _read(container, path)
    except (av.error.FFmpegError, ValueError) as error:
        if isinstance(error, InputError):
            raise
        raise InputError(f"{path.name} cannot be read as a recording or as a transcript: give another file") from error


def _open(file: Any) -> av.container.InputContainer:
    """Only the file itself is read: a playlist inside it opens nothing, neither on this machine nor on another."""
    container: av.container.InputContainer = av.open(
        file, metadata_errors="replace", options={"protocol_whitelist": "none"}
    )
    return container


def _read(container: av.container.InputContainer, path: Path) -> Sound:
    stream = container.streams.audio[0]
    stated = _stated_length(container, path)
    origin = (container.start_time or 0) / 1_000_000
    out = _Resampled()
    missing: list[Unheard] = []
    at = 0.0
    for frame in _frames(container, stream, missing):
        time = at if frame.time is None else frame.time - origin
        skipped = time - at
        if _GAP < skipped < _LONGEST_GAP and time <= (stated or at) + _GAP:
            out.silence(skipped)
            if at > 0:
                missing.append(Unheard(start=at, end=time, reason="the recording is damaged or has no sound here"))
            at = time
        out.add(frame)
        at += frame.samples / frame.sample_rate
    samples = out.finish()
    if not samples.size:
        raise InputError(f"{path.name} is damaged: none of its sound can be read; give another copy")
    duration = samples.size / RATE
    if stated is not None and stated - duration > _GAP:
        missing.append(Unheard(start=duration, end=stated, reason=_BROKEN_OFF))
    elif _ends_early(container, path):
        missing.append(Unheard(start=duration, end=duration, reason=_BROKEN_OFF))
    return Sound(samples, _merged(missing))


def _frames(
    container: av.container.InputContainer, stream: av.AudioStream, missing: list[Unheard]
) -> Iterator[av.AudioFrame]:
    """Frames that decode; where one does not, a note in `missing`, and on with the next."""
    packets = container.demux(stream)
    at = 0.0
    while True:
        try:
            packet = next(packets, None)
            if packet is None:
                return
            frames = packet.decode()
        except (av.error.FFmpegError, ValueError) as error:
            missing.append(Unheard(start=at, end=at, reason="the recording is damaged here"))
            if isinstance(error, av.error.EOFError):
                return
            continue
        for frame in frames:
            if isinstance(frame, av.AudioFrame) and frame.samples and frame.sample_rate:
                at += frame.samples / frame.sample_rate
                yield frame


class _Resampled:
    """Frames of any kind as one array; a new resampler wherever the kind of frame changes."""

    def __init__(self) -> None:
        self._parts: list[Samples] = []
        self._kind: tuple[str, str, int] | None = None
        self._resampler: av.AudioResampler | None = None

    def add(self, frame: av.AudioFrame) -> None:
        kind = (frame.format.name, frame.layout.name, frame.sample_rate)
        if kind != self._kind:
            self._flush()
            self._kind, self._resampler = kind, av.AudioResampler(format="flt", layout="mono", rate=RATE)
        frame.pts = None
        self._take(frame)

    def silence(self, seconds: float) -> None:
        self._flush()
        self._parts.append(np.zeros(round(seconds * RATE), np.float32))

    def finish(self) -> Samples:
        self._flush()
        samples: Samples = np.concatenate([np.zeros(0, np.float32), *self._parts])
        return np.clip(np.nan_to_num(samples, copy=False), -1.0, 1.0, out=samples)

    def _take(self, frame: av.AudioFrame | None) -> None:
        if self._resampler is not None:
            for part in self._resampler.resample(frame):
                self._parts.append(np.asarray(part.to_ndarray(), np.float32).reshape(-1))

    def _flush(self) -> None:
        self._take(None)
        self._kind = self._resampler = None


def _stated_length(container: av.container.InputContainer, path: Path) -> float | None:
    """The length in seconds that the file says it has; None where it says none or where it would be an estimate."""
    with path.open("rb") as file:
        head = file.read(8192)
    name = container.format.name
    if name == "aac" or (name == "mp3" and not any(mark in head for mark in (b"Xing", b"Info", b"VBRI"))):
        return None
    if container.duration is None:
        return None
    stated = container.duration / 1_000_000
    if name == "wav" and head[:4] == b"RIFF":
        # A WAV file that was cut says in its heading how many bytes it had.
        size = int.from_bytes(head[4:8], "little") + 8
        here = path.stat().st_size
        if here < size < 0xFFFFFFFF and stated > 0:
            stated *= size / here
    return stated


def _ends_early(container: av.container.InputContainer, path: Path) -> bool:
    """Whether an Ogg file lacks the page that is marked as its last (RFC 3533, section 6: header type flag 0x04)."""
    if container.format.name != "ogg":
        return False
    with path.open("rb") as file:
        file.seek(max(0, path.stat().st_size - 131_072))
        tail = file.read()
    page = tail.rfind(b"OggS")
    return page < 0 or page + 5 >= len(tail) or not tail[page + 5] & 0x04


def _merged(missing: list[Unheard]) -> list[Unheard]:
    """In order of time, those that touch as one; the longer one gives the reason."""
    merged: list[Unheard] = []
    for entry in sorted(missing, key=lambda entry: (entry.start, entry.end)):
        if merged and entry.start - merged[-1].end <= _GAP:
            longer = max(merged[-1], entry, key=lambda entry: entry.end - entry.start)
            end = max(merged[-1].end, entry.end)
            merged[-1] = Unheard(start=merged[-1].start, end=end, reason=longer.reason)
        else:
            merged.append(entry)
    return merged
