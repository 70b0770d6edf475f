"""A streaming open listener: Vosk with a model that the user has put on this computer.

The library (Apache-2.0) comes with the extra `live`; no English model of it is in a package registry, so one has to be
fetched once: see `docs/listeners.md`. The format of results: the library's `vosk_api.h`.
"""

from __future__ import annotations

import json
import os
from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

import platformdirs

from pipeline.hear.align import other_readings
from pipeline.hear.audio import RATE, Samples
from pipeline.hear.errors import InputError
from pipeline.hear.lexicon_listener import as_pcm
from pipeline.hear.listener import Reading
from pipeline.hear.speech import PAUSE, Span
from pipeline.hear.words import Utterance, Word

MODEL_VARIABLE = "SPOKEN_EXAM_VOSK_MODEL"
ENGLISH_MODEL = "vosk-model-small-en-us-0.15"
UNKNOWN = "[unk]"
"""In a phrase list: any other word."""

_MARGIN = PAUSE / 2


class VoskListener:
    """Hears any words of the model, or only `phrases` where they are given (add `UNKNOWN` to let other words be).

    `alternatives`: how many other readings of an utterance are looked at, 0 for none. Raises `InputError` where the
    library or the model is missing or damaged, or where the model lacks a word of the phrases.
    """

    def __init__(self, model: Path | None = None, phrases: Sequence[str] = (), alternatives: int = 0) -> None:
        self._folder = _chosen(model)
        self._model = _load(self._folder)
        self._phrases = self._known(phrases)
        self._alternatives = alternatives
        self._recognizer()

    def transcribe(self, samples: Samples, span: Span) -> Reading:
        """See `Listener.transcribe`."""
        first = max(0, int((span.start - _MARGIN) * RATE))
        clip = as_pcm(samples[first : int((span.end + _MARGIN) * RATE)])
        if not clip:
            return Reading()
        recognizer = self._recognizer()
        parts = [recognizer.Result()] if recognizer.AcceptWaveform(clip) else []
        words = _words([*parts, recognizer.FinalResult()], first / RATE)
        if words and self._alternatives:
            words = self._doubted(words, clip)
        return Reading(words)

    def stream(self, rate: int = RATE) -> VoskStream:
        """A `StreamingListener` on the same model. Raises `InputError` for sound of another rate than 16 kHz."""
        if rate != RATE:
            raise InputError(f"the sound has {rate} samples a second: convert it to {RATE} before it is heard")
        return VoskStream(self._recognizer())

    def _recognizer(self) -> Any:
        import vosk

        grammar = [json.dumps(self._phrases, ensure_ascii=False)] if self._phrases else []
        try:
            recognizer = vosk.KaldiRecognizer(self._model, RATE, *grammar)
        except Exception as error:
            raise InputError(_damaged(self._folder)) from error
        recognizer.SetWords(True)
        recognizer.SetPartialWords(True)
        return recognizer

    def _known(self, phrases: Sequence[str]) -> list[str]:
        """The phrases, checked: the library would leave out a word that the model lacks and say so on the terminal."""
        lacking = {word for phrase in phrases for word in phrase.split() if self._model.vosk_model_find_word(word) < 0}
        if lacking - {UNKNOWN}:
            raise InputError(f"the Vosk model does not know: {', '.join(sorted(lacking))}; leave these words out")
        return [phrase for phrase in phrases if phrase not in lacking]

    def _doubted(self, words: list[Word], clip: bytes) -> list[Word]:
        """Each word with what the next best readings of the whole utterance have in its place."""
        recognizer = self._recognizer()
        # The library gives either the confidence of each word or other readings, so the clip is heard again.
        recognizer.SetMaxAlternatives(self._alternatives + 1)
        recognizer.AcceptWaveform(clip)
        found = json.loads(recognizer.FinalResult()).get("alternatives", [])
        said = [word.text for word in words]
        others: list[dict[str, None]] = [{} for _ in words]
        for reading in found:
            for place, other in enumerate(other_readings(said, reading["text"].split())):
                if other:
                    others[place][other] = None
        return [
            word.model_copy(update={"alternatives": tuple(other)}) for word, other in zip(words, others, strict=True)
        ]


class VoskStream:
    """See `StreamingListener`. Pauses are found by the library itself."""

    def __init__(self, recognizer: Any) -> None:
        self._recognizer = recognizer
        self.utterances: list[Utterance] = []

    def accept(self, samples: Samples) -> list[Word]:
        """See `StreamingListener.accept`."""
        if self._recognizer.AcceptWaveform(as_pcm(samples)):
            self._ended(self._recognizer.Result())
            return []
        return _words([self._recognizer.PartialResult()], 0.0)

    def finish(self) -> list[Word]:
        """See `StreamingListener.finish`."""
        self._ended(self._recognizer.FinalResult())
        return [word for utterance in self.utterances for word in utterance.words]

    def _ended(self, result: str) -> None:
        if words := _words([result], 0.0):
            self.utterances.append(Utterance(words=words))


def find_model() -> Path | None:
    """The English model on this computer, if there is one.

    Looked for in the folder that `SPOKEN_EXAM_VOSK_MODEL` names, then in the folder `vosk` of the user's data, then
    where the library itself keeps what it fetched. Raises `InputError` where the variable names no folder.
    """
    named = os.environ.get(MODEL_VARIABLE)
    if named:
        if not Path(named).is_dir():
            raise InputError(f"{MODEL_VARIABLE} names {named}, which is no folder: correct it or unset it")
        return Path(named)
    if _is_model(user_folder()):
        return user_folder()
    kept = [
        path for folder in (user_folder(), Path.home() / ".cache" / "vosk") for path in sorted(folder.glob("*-en-*"))
    ]
    return next((path for path in kept if _is_model(path)), None)


def user_folder() -> Path:
    """Where a user may put a model: itself, or in a folder of its own name inside."""
    return Path(platformdirs.user_data_dir("spoken-exam")) / "vosk"


def _is_model(folder: Path) -> bool:
    return (folder / "am").is_dir() and (folder / "conf").is_dir()


def _chosen(model: Path | None) -> Path:
    folder = model or find_model()
    if folder is None:
        raise InputError(f"no English Vosk model is on this computer: put one into {user_folder()}")
    return folder


def _damaged(folder: Path) -> str:
    return f"the Vosk model in {folder} is incomplete or damaged: unpack it there again"


@lru_cache(maxsize=2)
def _load(folder: Path) -> Any:
    try:
        import vosk
    except ImportError:
        raise InputError("the library vosk is missing: install it with 'pip install spoken-exam[live]'") from None
    if not folder.is_dir():
        raise InputError(f"there is no Vosk model in {folder}: check the folder's name")
    # It writes what is wrong with a model to the terminal, and nothing but that is of use here.
    vosk.SetLogLevel(-1)
    try:
        return vosk.Model(str(folder))
    except Exception as error:
        raise InputError(_damaged(folder)) from error


def _words(results: Sequence[str], offset: float) -> list[Word]:
    words: list[Word] = []
    for result in results:
        content = json.loads(result)
        for entry in content.get("result", content.get("partial_result", [])):
            if entry["word"] == UNKNOWN:
                continue
            words.append(
                Word(
                    text=entry["word"],
                    start=round(offset + max(0.0, entry["start"]), 3),
                    end=round(offset + max(0.0, entry["end"]), 3),
                    confidence=min(max(entry.get("conf", 1.0), 0.0), 1.0),
                )
            )
    return words
