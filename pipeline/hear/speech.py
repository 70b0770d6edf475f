"""Where somebody speaks: voice activity, cut into utterances at pauses."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from pipeline.hear.audio import RATE, Samples

PAUSE = 0.3
"""Shortest pause, in seconds, that parts two utterances."""
LONGEST = 25.0
"""Longest utterance in seconds: an open recogniser takes in 30 s at once, margins included."""
_SHORTEST = 0.1
_WINDOW = 0.2


@dataclass(frozen=True)
class Span:
    """A stretch of speech. Times in seconds, without the silence around it."""

    start: float
    end: float

    @property
    def duration(self) -> float:
        return self.end - self.start


def find_speech(samples: Samples) -> list[Span]:
    """Utterances in order of time: speech between pauses of `PAUSE`, none longer than `LONGEST`.

    `samples`: mono, 16 kHz. The voice activity model is the Silero VAD that faster-whisper ships.
    """
    # Imported here because it takes a second, which reading a transcript need not.
    from faster_whisper.vad import VadOptions, get_speech_timestamps

    if not samples.size:
        return []
    options = VadOptions(
        min_silence_duration_ms=round(PAUSE * 1000), min_speech_duration_ms=round(_SHORTEST * 1000), speech_pad_ms=0
    )
    spans: list[Span] = []
    for found in get_speech_timestamps(samples, options):
        spans += _cut(samples, found["start"], found["end"])
    return spans


def _cut(samples: Samples, start: int, end: int) -> list[Span]:
    """One utterance from sample `start` to `end`; where it is too long, cut where it is quietest."""
    spans: list[Span] = []
    while end - start > LONGEST * RATE:
        earliest = start + int(LONGEST * RATE / 2)
        power = np.cumsum(np.square(samples[earliest : start + int(LONGEST * RATE)], dtype=np.float64))
        window = int(_WINDOW * RATE)
        middle = earliest + int(np.argmin(power[window:] - power[:-window])) + window // 2
        spans.append(Span(start / RATE, middle / RATE))
        start = middle
    return [*spans, Span(start / RATE, end / RATE)]
