"""Where the sound of a dictation comes from: a microphone, a recording at its own speed, or standard input."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from pipeline.hear.audio import RATE, decode
from pipeline.live.errors import LiveError
from pipeline.live.journal import SAMPLE

BLOCK = RATE // 20
"""Samples that are handed on at once: a twentieth of a second."""
_WAIT = 2.0
"""Seconds without any sound after which a microphone is taken to be gone."""


def recording(path: Path, skipped: int = 0) -> Iterator[bytes]:
    """A recording at the speed at which it was made, from sample `skipped` on. Raises `InputError`."""
    samples = decode(path).samples[skipped:]
    pcm = (samples * 32767).round().astype("<i2").tobytes()
    begun = time.monotonic()
    for first in range(0, len(pcm), BLOCK * SAMPLE):
        time.sleep(max(0.0, begun + (first / SAMPLE + BLOCK) / RATE - time.monotonic()))
        yield pcm[first : first + BLOCK * SAMPLE]


def standard_input() -> Iterator[bytes]:
    """16-bit little-endian mono samples at 16 kHz, as they come, until the input ends."""
    rest = b""
    while more := os.read(sys.stdin.fileno(), BLOCK * SAMPLE):
        whole = len(rest + more) // SAMPLE * SAMPLE
        block, rest = (rest + more)[:whole], (rest + more)[whole:]
        yield block


def microphone(device: str | None = None) -> Iterator[bytes]:
    """A microphone, until the caller stops. Raises `LiveError` where there is none, or when it is unplugged."""
    sounddevice = _sounddevice()
    chosen: int | str | None = int(device) if device is not None and device.isdigit() else device
    try:
        # A long buffer: what is said while the disk or the recogniser is busy waits there.
        stream: Any = sounddevice.RawInputStream(RATE, BLOCK, chosen, 1, "int16", latency=1.0)
    except (sounddevice.PortAudioError, ValueError) as error:
        raise LiveError(f"no microphone can be used ({_short(error)}): {_MEND}") from None
    try:
        with stream:
            silent_since = time.monotonic()
            while True:
                if stream.read_available >= BLOCK:
                    block, _ = stream.read(BLOCK)
                    silent_since = time.monotonic()
                    yield bytes(block)
                elif not stream.active or time.monotonic() - silent_since > _WAIT:
                    raise LiveError(_GONE)
                else:
                    time.sleep(BLOCK / RATE / 4)
    except sounddevice.PortAudioError:
        raise LiveError(_GONE) from None


_MEND = "plug one in, allow its use, or name one with --device; 'python -m sounddevice' lists them"
_GONE = "the microphone is gone: all that was heard is kept; plug it in, then 'spoken-exam listen --resume'"


def _sounddevice() -> Any:
    try:
        import sounddevice
    except ImportError:
        raise LiveError("a microphone needs sounddevice: install it with 'pip install spoken-exam[live]'") from None
    except OSError:
        raise LiveError("a microphone needs the library PortAudio: install it (Debian: libportaudio2)") from None
    return sounddevice


def _short(error: Exception) -> str:
    return " ".join(str(error).split()).split(" [")[0].rstrip(".")
