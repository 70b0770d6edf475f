"""Sound for the tests: spoken by a synthesiser, or cut out of the demonstration."""

from __future__ import annotations

import wave
from functools import cache
from pathlib import Path

import numpy as np

from pipeline.hear.audio import RATE, Samples, decode
from scripts.speech.render import render
from scripts.speech.sound import read
from tests.scoring import ROOT

PAUSE = 0.8


@cache
def demo() -> Samples:
    return decode(ROOT / "demo_audio" / "dictation.opus").samples


def said(*sentences: str, voice: str = "flite-slt", pause: float = PAUSE) -> Samples:
    """The sentences, each between pauses."""
    parts = [np.zeros(round(pause * RATE), np.float32)]
    for sentence in sentences:
        parts += [read(render(sentence, voice).path)[0], np.zeros(round(pause * RATE), np.float32)]
    return np.concatenate(parts)


def pcm(samples: Samples) -> bytes:
    return (np.clip(samples, -1, 1) * 32767).round().astype("<i2").tobytes()


def from_pcm(data: bytes) -> Samples:
    return np.frombuffer(data, "<i2") / np.float32(32768)


def write(path: Path, samples: Samples) -> Path:
    with wave.open(str(path), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(RATE)
        out.writeframes(pcm(samples))
    return path
