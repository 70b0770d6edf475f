"""What the real listeners made of recordings, kept so that rules can be scored again without hearing again."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Callable, Sequence
from functools import cache, cached_property, partial
from pathlib import Path
from types import ModuleType
from typing import Any

from pipeline.hear import agree, assemble, audio, choices, fit, lexicon_listener, open_listener, second_listen, speech
from pipeline.hear.agree import Agreement
from pipeline.hear.lexicon_listener import LexiconListener
from pipeline.hear.listener import Reading
from pipeline.hear.open_listener import TRUSTED, OpenListener
from pipeline.hear.prompt import lexicon_prompt
from pipeline.hear.taught import LESSONS
from pipeline.hear.words import Heard, Word
from pipeline.lexicon import Lexicon
from scripts.evaluation.sample import Part, Recording
from scripts.speech.render import Rendered, render_case

CACHE_VARIABLE = "SPOKEN_EXAM_RECOGNISED"
WAYS = ("open", "lexicon", "both", "second")
"""One listener alone, the two agreed, and that with a second listen: where they differ, and to what rows hang on."""


def folder() -> Path:
    """Where it is kept: the folder in `SPOKEN_EXAM_RECOGNISED`, or else ~/.cache/spoken-exam/recognised."""
    return Path(os.environ.get(CACHE_VARIABLE) or Path.home() / ".cache" / "spoken-exam" / "recognised")


def rendered(recording: Recording) -> Rendered:
    """The recording as sound and the times of its sentences; made on first use."""
    return render_case(recording.case, recording.voice, recording.condition)


class Recogniser:
    """Hears recordings in each of `WAYS`; answers are kept under a hash of the sound, the lexicon and the code.

    With `latest`, what a listener made of a recording before is taken though lexicon and code have changed since.
    """

    def __init__(self, lexicon: Lexicon, latest: bool = False) -> None:
        self._lexicon = lexicon
        self._latest = latest
        self._agreement = Agreement(lexicon, TRUSTED)

    def hear(self, recording: Recording, way: str) -> Heard:
        """What `way` makes of the recording. The built-in open listener is used, whatever else is on this computer."""
        path = rendered(recording).path
        if way in ("open", "lexicon"):
            return Heard.model_validate(self._alone(path, way)["heard"])
        both = self._both(path)
        if way == "both":
            return both
        replay = KeptReplay(path)
        key = _hash(path, [second_listen, choices, fit, agree], both.model_dump_json(), _lessons())
        settled = Heard.model_validate(_kept(key, lambda: self._settled(path, both)))
        return settled.model_copy(update={"again": replay})

    @cached_property
    def _prompt(self) -> str:
        return lexicon_prompt(self._lexicon)

    @cached_property
    def _open(self) -> OpenListener:
        return OpenListener(self._prompt)

    @cached_property
    def _closed(self) -> LexiconListener:
        return LexiconListener(self._lexicon)

    def _alone(self, path: Path, way: str) -> dict[str, Any]:
        """A listener's `heard` and `readings` of each utterance; `advised`: the open one's, beside the lexicon one."""
        modules = {"open": open_listener, "advised": open_listener, "lexicon": lexicon_listener}
        told = lexicon_listener.content_hash(self._lexicon) if way != "open" else ""
        told += self._prompt + _lessons() if way != "lexicon" else ""
        key, pointer = _hash(path, [speech, modules[way]], told), _pointer(path, way)
        if self._latest and pointer.exists():
            key = json.loads(pointer.read_text(encoding="utf-8"))
        found = _kept(key, lambda: self._listened(path, way))
        _write(pointer, key)
        return found

    def _listened(self, path: Path, way: str) -> dict[str, Any]:
        sound = audio.decode(path)
        spans = speech.find_speech(sound.samples)
        if way == "advised":
            others = [[Word(**word) for word in words] for *_, words in self._alone(path, "lexicon")["readings"]]
            readings = [
                (span, self._open.transcribe_beside(sound.samples, span, partial(list, words)))
                for span, words in zip(spans, others, strict=True)
            ]
        else:
            listener = self._open if way == "open" else self._closed
            readings = [(span, listener.transcribe(sound.samples, span)) for span in spans]
        return {
            "heard": assemble(readings, sound.duration, sound.missing).model_dump(mode="json"),
            "readings": [
                [span.start, span.end, reading.reason, [word.model_dump(mode="json") for word in reading.words]]
                for span, reading in readings
            ],
        }

    def _both(self, path: Path) -> Heard:
        opened, lexicon = self._alone(path, "advised"), self._alone(path, "lexicon")
        readings = []
        for (start, end, reason, words), (*_, others) in zip(opened["readings"], lexicon["readings"], strict=True):
            merged = self._agreement.merge([Word(**word) for word in words], [Word(**word) for word in others])
            readings.append((speech.Span(start, end), Reading(merged, reason)))
        return assemble(readings, opened["heard"]["duration"])

    def _settled(self, path: Path, both: Heard) -> dict[str, Any]:
        settled: dict[str, Any] = second_listen.settle(audio.decode(path), both, self._agreement).model_dump(
            mode="json"
        )
        return settled


class KeptReplay:
    """`Heard.again` of a recording, whose answers are kept: rules may change, and ask for other phrases."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._file = folder() / "kept" / f"{_hash(path, [choices, fit], _lessons())}.json"
        self._known: dict[str, list[tuple[str, float]]] = (
            json.loads(self._file.read_text(encoding="utf-8")) if self._file.exists() else {}
        )
        self._new = 0

    def __call__(self, start: float, end: float, phrases: Sequence[str]) -> list[tuple[str, float]]:
        key = json.dumps([round(start, 2), round(end, 2), *phrases])
        if key not in self._known:
            self._known[key] = choices.listen_again(self._sound, start, end, phrases)
            self._new += 1
        return [(phrase, share) for phrase, share in self._known[key]]

    def keep(self) -> None:
        """Write what is new."""
        if self._new:
            _write(self._file, self._known)
            self._new = 0

    @cached_property
    def _sound(self) -> audio.Sound:
        return audio.decode(self._path)


def publish(found: list[tuple[Recording, Heard]], way: str, part: Part) -> Path:
    """Write one file of JSON lines: `id`, `voice`, `condition`, `heard` and `rows` of each recording."""
    path = folder() / f"{way}-{part.replace(' ', '-')}.jsonl"
    unfinished = path.with_suffix(f".{os.getpid()}")
    with unfinished.open("w", encoding="utf-8") as out:
        for one, heard in found:
            about = {"id": one.case["id"], "voice": one.voice, "condition": one.condition}
            told = {**about, "heard": heard.model_dump(mode="json"), "rows": one.case["rows"]}
            out.write(json.dumps(told) + "\n")
    unfinished.replace(path)
    return path


def _kept(key: str, make: Callable[[], dict[str, Any]]) -> dict[str, Any]:
    path = folder() / "kept" / f"{key}.json"
    if not path.exists():
        _write(path, make())
    kept: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return kept


def _pointer(sound: Path, way: str) -> Path:
    """Where the key of what `way` made of a recording last is kept."""
    return folder() / "kept" / f"{sound.stem}.{way}.json"


def _write(path: Path, content: object) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    unfinished = path.with_suffix(f".{os.getpid()}")
    unfinished.write_text(json.dumps(content), encoding="utf-8")
    unfinished.replace(path)


@cache
def _lessons() -> str:
    """Changes with what the open listener, and the second listen, were taught."""
    return hashlib.sha256(LESSONS.read_bytes()).hexdigest()


def _hash(sound: Path, modules: list[ModuleType], *told: str) -> str:
    """A rendered file's own name is a hash of its words, voice and condition."""
    digest = hashlib.sha256(json.dumps([sound.stem, *told]).encode())
    for module in modules:
        digest.update(Path(str(module.__file__)).read_bytes())
    return digest.hexdigest()[:32]
