"""Utterances to learn from: what is said in them, and what Whisper's encoder makes of their sound.

The words are those of the development cases (the part that confidence is fitted on, too), phrases made from the
lexicon, and ordinary talk in which no test is done, so that not every word is taken for a term. The voices are not
those of the evaluation.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from multiprocessing import Pool
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from pipeline.hear.open_listener import encode, model_folder
from pipeline.hear.phrases import phrases
from pipeline.lexicon import load
from scripts.speech import conditions, text, voices
from scripts.speech.render import read_cases
from scripts.speech.sound import Samples

ROOT = Path(__file__).parents[2]
TALK = Path(__file__).with_name("talk.txt")
RATE = 16_000
WINDOW = 15.0
FRAMES, STATES = 750, 384
"""An encoded window of `WINDOW` seconds: positions, and values at each."""
_LONGEST = WINDOW - 1.1

# Weighed by how much they sound like a person. None of them speaks in the evaluation.
_VOICES = {
    "hibari-gb": 4.0, "flite-slt": 3.0, "flite-rms": 3.0, "flite-kal16": 2.0, "espeak-gb": 1.5, "espeak-gb-woman": 1.0,
    "espeak-scots": 1.0,
}  # fmt: skip
_CONDITIONS = {"clean": 3.0, "room": 2.0, "noise20": 2.0, "noise10": 2.0, "room+noise20": 1.5}
_SPEEDS = (1.0, 1.0, 0.9, 0.95, 1.05, 1.1)
_SENTENCES = (1, 1, 2, 3, 4, 6)
_MOST_WORDS = 30
_ROOT = re.compile(r"\b([clts]) (one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)\b")
_NUMBERS = "zero one two three four five six seven eight nine ten eleven twelve".split()


@dataclass(frozen=True)
class Utterance:
    """Words as they should be written, in a voice, at a speed, under a condition; `seed` decides the rest."""

    words: str
    voice: str
    condition: str
    speed: float
    seed: int


def utterances(files: Iterable[Path], of_cases: int, of_phrases: int, of_talk: int, seed: int) -> list[Utterance]:
    """So many of each kind. `files` hold the cases, of which the 1st, 3rd, 5th ... are taken."""
    rng = random.Random(seed)
    cases = [case["clean"] for file in files for case in read_cases(file)[::2]]
    said: list[str] = []
    while len(said) < of_cases:
        said += [piece for case in rng.sample(cases, len(cases)) for piece in _pieces(case, rng)]
    talk = TALK.read_text(encoding="utf-8").splitlines()
    rng.shuffle(said)
    said = said[:of_cases] + rng.sample(list(_phrases()), of_phrases)
    said += [" ".join(rng.sample(talk, rng.choice((1, 1, 2, 3)))) for _ in range(of_talk)]
    return [
        Utterance(words, _drawn(_VOICES, rng), _drawn(_CONDITIONS, rng), rng.choice(_SPEEDS), rng.randrange(2**31))
        for words in said
    ]


def encoded(chosen: list[Utterance], path: Path, processes: int = 2) -> Iterator[int]:
    """Writes the encodings to `path` (array of `FRAMES` x `STATES` for each), and yields the place of each one written.

    Those that are too long for a window are left out.
    """
    written = np.lib.format.open_memmap(path, "w+", np.float16, (len(chosen), FRAMES, STATES))
    with Pool(processes) as pool:
        for place, states in enumerate(pool.imap(_encode, chosen, chunksize=8)):
            if states is not None:
                written[place] = states
                yield place


def _drawn(weights: dict[str, float], rng: random.Random) -> str:
    return rng.choices(list(weights), list(weights.values()))[0]


def _pieces(said: str, rng: random.Random) -> Iterator[str]:
    """A talk in pieces of one to six sentences, some of them ending at a comma, as pauses cut it."""
    held: list[str] = []
    most = rng.choice(_SENTENCES)
    for sentence in text.sentences(said):
        for part, ends in _at_a_comma(sentence, rng):
            if held and (len(held) >= most or len(" ".join((*held, part)).split()) > _MOST_WORDS):
                yield " ".join(held)
                held, most = [], rng.choice(_SENTENCES)
            held.append(part)
            if ends:
                yield " ".join(held)
                held = []
    if held:
        yield " ".join(held)


def _at_a_comma(sentence: str, rng: random.Random) -> list[tuple[str, bool]]:
    parts = sentence.split(", ")
    if len(parts) == 1 or len(sentence.split()) < 7 or rng.random() > 0.2:
        return [(sentence, False)]
    at = rng.randrange(1, len(parts))
    return [(", ".join(parts[:at]) + ",", True), (", ".join(parts[at:]), False)]


def _phrases() -> Iterator[str]:
    for phrase in phrases(load()):
        if 2 <= len(phrase) <= 22:
            said = _ROOT.sub(lambda found: f"{found[1].upper()}{_NUMBERS.index(found[2])}", " ".join(phrase))
            yield f"{said[0].upper()}{said[1:]}."


def _encode(one: Utterance) -> NDArray[np.float16] | None:
    samples = _sound(one)
    if samples.size > _LONGEST * RATE:
        return None
    states, _ = encode(_model(), samples, (WINDOW,))
    return np.asarray(states)[0].astype(np.float16)


def _sound(one: Utterance) -> Samples:
    rng = np.random.default_rng(one.seed)
    before, after = (np.zeros(round(rng.uniform(0.05, 0.35) * RATE), np.float32) for _ in range(2))
    spoken = conditions.speed(voices.speak(one.words, one.voice, RATE).samples, one.speed)
    samples, _ = conditions.apply(one.condition, np.concatenate([before, spoken, after]), RATE, one.seed)
    return np.asarray(samples * rng.uniform(0.3, 1), dtype=np.float32)


@cache
def _model() -> Any:
    from faster_whisper import WhisperModel

    return WhisperModel(str(model_folder()), device="cpu", compute_type="int8", cpu_threads=1, local_files_only=True)
