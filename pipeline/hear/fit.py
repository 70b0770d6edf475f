"""How well a sound fits given words, by the taught Whisper: its probability of writing exactly these."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

import numpy as np

from pipeline.hear.audio import RATE, Samples
from pipeline.hear.open_listener import LONG_WINDOW, TAUGHT_WINDOWS, encode, features, load_model, load_taught

_PUBLISHED_WINDOWS = (6.0, 15.0, LONG_WINDOW)
_LEAST = 1e-10
_NUMBERS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_NUMBER = re.compile(rf"\b(?:{'|'.join(_NUMBERS)})\b", re.IGNORECASE)
_ROOT = re.compile(r"\b([CTLS])(\d)\b")


@dataclass(frozen=True)
class Fit:
    """Log probability of a text for a sound, its mean for a token, and what the text would have without any sound."""

    total: float
    mean: float
    unheard: float


def fits(clip: Samples, texts: Sequence[str], *, taught: bool = True) -> list[Fit]:
    """How well each text fits all of `clip` (mono, 16 kHz, at most 30 s), however its numbers are written.

    `taught`: by the model that was taught what examiners say, which expects nothing else, or by that as published.
    """
    encoded = _encoded(clip, taught)
    return [Fit(*_fit(encoded, text, taught), unheard=_unheard(text, taught)) for text in texts]


@lru_cache(maxsize=4096)
def _unheard(text: str, taught: bool) -> float:
    return _fit(_silence(taught), text, taught)[0]


@cache
def _silence(taught: bool) -> tuple[Any, int]:
    return _encoded(np.zeros(2 * RATE, np.float32), taught)


def _encoded(clip: Samples, taught: bool) -> tuple[Any, int]:
    """The encoding, and its frames."""
    spectrum = features(clip)
    model, windows = (load_taught(), TAUGHT_WINDOWS) if taught else (load_model()[0], _PUBLISHED_WINDOWS)
    return encode(model, spectrum, windows), spectrum.shape[-1]


def _fit(encoded: tuple[Any, int], text: str, taught: bool) -> tuple[float, float]:
    """Total over the ways to write the text, and the mean for a token of the likeliest."""
    plain, tokenizer, _ = load_model()
    model = load_taught() if taught else plain
    sound, frames = encoded
    totals, means = [], []
    for written in writings(text):
        tokens = tokenizer.encode(" " + written)
        found = model.model.align(sound, list(tokenizer.sot_sequence), [tokens], [frames])[0].text_token_probs
        totals.append(sum(math.log(max(float(one), _LEAST)) for one in found))
        means.append(totals[-1] / len(tokens))
    return float(np.logaddexp.reduce(totals)), max(means)


def writings(text: str) -> list[str]:
    """The two ways in which Whisper writes a text: in words ("L five", "four plus"), and as short as it goes ("4+").

    With a full stop: without one, "four" would never fit worse than "four minus", which begins with it.
    """
    words = _ROOT.sub(lambda found: f"{found[1]} {found[2]}", text.strip().rstrip("."))
    words = re.sub(r"(?<=\d)\s*\+", " plus", words)
    words = re.sub(r"(?<=\d)-(?!\w)", " minus", words)
    spelled = re.sub(r"\b\d\b", lambda found: _NUMBERS[int(found[0])], words)
    short = _NUMBER.sub(lambda found: str(_NUMBERS.index(found[0].lower())), spelled)
    short = re.sub(r"\b([CTLS]) (?=\d)", r"\1", short)
    short = re.sub(r"(?<=\d) minus\b", "-", re.sub(r"(?<=\d) plus\b", "+", short))
    return [f"{way}." for way in dict.fromkeys((spelled, short))]
