"""Which of a few possible phrases was said in a short stretch of sound.

Each phrase is put to Whisper, which tells how well the sound fits exactly these words; how well they would fit no sound
at all is taken off by half, so that what is usual English says little. Where the phrases do not account for all that
is heard, pocketsphinx judges them instead, with any sounds allowed around. Figures: `docs/hearing.md`.
"""

from __future__ import annotations

import math
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

from pipeline.hear.agree import spoken_words
from pipeline.hear.audio import RATE, Samples, Sound
from pipeline.hear.dictionary import british
from pipeline.hear.fit import fits
from pipeline.hear.lexicon_listener import Ear, as_pcm
from pipeline.hear.speech import Span
from pipeline.lexicon.pronounce import PHONEMES, phones

_MARGIN = 0.12
_LOOP = 1e-3
"""Probability of each sound of the loop around the phrase: low enough that the phrase is not told as loose sounds."""
_BEAM = 1e-80
SHARPNESS = 30.0
"""How strongly a better score of pocketsphinx speaks for a phrase. This and the four below: fitted on synthetic speech
by `scripts/evaluation/choices.py`."""
_FITS = -4.0
"""Least mean log probability of a token at which a phrase accounts for the sound."""
_EXPECTED = 0.5
_TRUST = 1.4
_CLARITY = 0.5


def listen_again(sound: Sound, start: float, end: float, choices: Sequence[str]) -> list[tuple[str, float]]:
    """Each of `choices` with the probability that it was said between `start` and `end` (seconds), likeliest first.

    One of the choices is taken to be right: the probabilities add up to one. They are even where none can be told.
    Surest where each choice holds all the words between `start` and `end`, some of them around those that differ.
    """
    first, last = max(0, int((start - _MARGIN) * RATE)), int((end + _MARGIN) * RATE)
    if not sound.samples[first:last].size:
        return [(choice, 1 / len(choices)) for choice in choices]
    clear = _fitting(sound.samples[first:last], choices)
    weights = clear if clear is not None else _Judge.shared().judge(sound.samples, first, last, choices)
    judged = [(choice, weight / sum(weights)) for choice, weight in zip(choices, weights, strict=True)]
    return sorted(judged, key=lambda one: -one[1])


@dataclass(frozen=True)
class Replay:
    """`Heard.again` of one recording."""

    sound: Sound = field(compare=False, repr=False)

    def __call__(self, start: float, end: float, phrases: Sequence[str]) -> list[tuple[str, float]]:
        return listen_again(self.sound, start, end, phrases)


def _fitting(clip: Samples, choices: Sequence[str]) -> list[float] | None:
    """Likelihood of each choice, the best 1, by Whisper; None where even the best does not account for the sound."""
    found = fits(clip, choices)
    best = max((fit.mean for fit in found), default=-math.inf)
    if best < _FITS:
        return None
    return _likelihoods([fit.total - _EXPECTED * fit.unheard for fit in found], _TRUST * math.exp(_CLARITY * best))


def _likelihoods(scores: Sequence[float | None], sharpness: float) -> list[float]:
    best = max((score for score in scores if score is not None), default=None)
    if best is None:
        return [1.0] * len(scores)
    return [0.0 if score is None else math.exp(sharpness * (score - best)) for score in scores]


class _Judge:
    """A decoder without a language model; it learns each word as it is asked about it."""

    def __init__(self) -> None:
        from pocketsphinx import Decoder

        with tempfile.TemporaryDirectory() as folder:
            empty = Path(folder) / "empty.dict"
            empty.touch()
            # All sounds of the model are scored in each frame: only then can the scores of two phrases be compared.
            self._decoder: Any = Decoder(
                lm=None, dict=str(empty), loglevel="FATAL", compallsen=True, bestpath=False,
                beam=_BEAM, wbeam=_BEAM, pbeam=_BEAM,
            )  # fmt: skip
        self._sounds = {f"sound-{phone.lower()}": phone for phone in sorted(PHONEMES)}
        for word, phone in self._sounds.items():
            self._decoder.add_word(word, phone, True)
        self._known: set[str] = set()
        self._ear = Ear()

    @staticmethod
    @lru_cache(maxsize=1)
    def shared() -> _Judge:
        return _Judge()

    def judge(self, samples: Samples, first: int, last: int, choices: Sequence[str]) -> list[float]:
        """Likelihood of each choice in the samples from `first` to `last`, the best 1."""
        channel = self._ear.channel(samples, Span(first / RATE, last / RATE))
        pcm = as_pcm(samples[first:last])
        return _likelihoods([self._score(pcm, channel, spoken_words(choice)) for choice in choices], SHARPNESS)

    def _score(self, pcm: bytes, channel: str, words: list[str]) -> float | None:
        """Logarithm of the decoder's score for exactly these words; None where they do not fit into the sound."""
        if not words:
            return None
        for word in words:
            self._learn(word)
        last = len(words)
        arcs = [(place, place, _LOOP, sound) for sound in self._sounds for place in (0, last)]
        arcs += [(place, place + 1, 1.0, word) for place, word in enumerate(words)]
        self._decoder.add_fsg("choice", self._decoder.create_fsg("choice", 0, last, arcs))
        self._decoder.activate_search("choice")
        self._decoder.reinit_feat()
        self._decoder.set_cmn(channel)
        self._decoder.start_utt()
        self._decoder.process_raw(pcm)
        self._decoder.end_utt()
        found = self._decoder.hyp()
        return math.log(found.score) if found is not None and found.score > 0 else None

    def _learn(self, word: str) -> None:
        if word in self._known:
            return
        ways = [*phones(word)]
        for number, way in enumerate(dict.fromkeys((*ways, *map(british, ways))), 1):
            self._decoder.add_word(word if number == 1 else f"{word}({number})", " ".join(way), True)
        self._known.add(word)
