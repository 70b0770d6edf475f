"""Utterances to learn from: what is said in them, and their sound as Whisper takes it in.

The words are those of the development cases (the part that confidence is fitted on, too), lines of talk at
examinations, phrases made from the lexicon, and ordinary talk in which no test is done, so that not every word is taken
for a term. The voices are not those of the evaluation.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from multiprocessing import Pool
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from pipeline.hear.open_listener import features
from pipeline.hear.phrases import phrases
from pipeline.lexicon import load
from scripts.speech import conditions, text, voices
from scripts.speech.render import read_cases
from scripts.speech.sound import Samples

ROOT = Path(__file__).parents[2]
TALK, EXAMINATIONS = (Path(__file__).with_name(name) for name in ("talk.txt", "examinations.txt"))
RATE = 16_000
BANDS, FRAMES = 80, 1500
"""Of the sound of an utterance: the bands of its spectrum, and the frames (10 ms each) that are kept of it."""
_LONGEST = FRAMES / 100 - 1.1

# Weighed by how much they sound like a person. None of them speaks in the evaluation.
_VOICES = {
    "hibari-gb": 4.0, "flite-slt": 3.0, "flite-rms": 3.0, "flite-kal16": 2.0, "espeak-gb": 1.5, "espeak-gb-woman": 1.0,
    "espeak-scots": 1.0,
}  # fmt: skip
_CONDITIONS = {"clean": 2.5, "room": 2.0, "noise": 4.5, "room+noise": 2.0}
_DECIBELS = (5.0, 25.0)
_SPEEDS = (0.88, 1.12)
_SENTENCES = (1, 1, 2, 3, 4, 6)
_MOST_WORDS = 30
_ROOT = re.compile(r"\b([clts]) (one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)\b")
_NUMBERS = "zero one two three four five six seven eight nine ten eleven twelve".split()


@dataclass(frozen=True)
class Utterance:
    """Words as they should be written, in a voice, under a condition; `seed` decides the rest."""

    words: str
    voice: str
    condition: str
    seed: int


def utterances(
    files: Iterable[Path], of_cases: int, of_lines: int, of_phrases: int, of_talk: int, seed: int
) -> list[Utterance]:
    """So many of each kind. `files` hold the cases, of which the 1st, 3rd, 5th ... are taken."""
    rng = random.Random(seed)
    cases = [case["clean"] for file in files for case in read_cases(file)[::2]]
    said: list[str] = []
    while len(said) < of_cases:
        said += [piece for case in rng.sample(cases, len(cases)) for piece in _pieces(case, rng)]
    rng.shuffle(said)
    lines, talk = (path.read_text(encoding="utf-8").splitlines() for path in (EXAMINATIONS, TALK))
    said = said[:of_cases] + [" ".join(rng.sample(lines, rng.choice((1, 1, 1, 2)))) for _ in range(of_lines)]
    said += rng.sample(list(_phrases()), of_phrases)
    said += [" ".join(rng.sample(talk, rng.choice((1, 1, 2, 3)))) for _ in range(of_talk)]
    return [Utterance(words, _drawn(_VOICES, rng), _drawn(_CONDITIONS, rng), rng.randrange(2**31)) for words in said]


def sounds(chosen: list[Utterance], path: Path, processes: int = 2) -> Iterator[tuple[int, int]]:
    """Writes the spectra to `path` (`BANDS` x `FRAMES` for each), and yields the place and frames of each one written.

    Those that are too long are left out.
    """
    written = np.lib.format.open_memmap(path, "w+", np.float16, (len(chosen), BANDS, FRAMES))
    with Pool(processes) as pool:
        for place, found in enumerate(pool.imap(_features, chosen, chunksize=8)):
            if found is not None:
                written[place, :, : found.shape[1]] = found
                yield place, found.shape[1]


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


def _features(one: Utterance) -> NDArray[np.float16] | None:
    samples = _sound(one)
    return features(samples).astype(np.float16) if samples.size <= _LONGEST * RATE else None


def _sound(one: Utterance) -> Samples:
    rng = np.random.default_rng(one.seed)
    before, after = (np.zeros(round(rng.uniform(0.05, 0.35) * RATE), np.float32) for _ in range(2))
    spoken = conditions.speed(voices.speak(one.words, one.voice, RATE).samples, rng.uniform(*_SPEEDS))
    samples = np.concatenate([before, spoken, after])
    if "room" in one.condition:
        samples = conditions.room(samples, RATE, one.seed)
    if "noise" in one.condition:
        samples = conditions.noise(samples, RATE, one.seed, rng.uniform(*_DECIBELS))
    return np.asarray(samples * rng.uniform(0.3, 1), dtype=np.float32)
