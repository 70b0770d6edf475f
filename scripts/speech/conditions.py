"""What a room, its noise and a hurried speaker do to clean speech. Pure functions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.signal import fftconvolve, resample_poly

from scripts.speech.sound import Samples, SpeechError

# A consulting room with hard floor and some furniture. Common practice, no source.
REVERBERATION_SECONDS = 0.45
DIRECT_TO_REVERBERANT_DB = 3.0
TALKERS = 6

Change = Callable[[Samples, int, int], Samples]


@dataclass(frozen=True)
class Condition:
    """`change(samples, rate, seed)` makes it; times in the clean speech are multiplied by `stretch`."""

    change: Change
    about: str
    stretch: float = 1.0


def room(samples: Samples, rate: int, seed: int) -> Samples:
    """Reverberant speech: the direct sound, then a tail of noise that decays by 60 dB in `REVERBERATION_SECONDS`.

    Exponentially decaying noise as a room's impulse response is a textbook model (from memory: Moorer 1979).
    """
    rng = np.random.default_rng(seed)
    seconds = np.arange(round(REVERBERATION_SECONDS * rate)) / rate
    tail = rng.standard_normal(len(seconds)) * 10 ** (-3 * seconds / REVERBERATION_SECONDS)
    # Nothing comes back from the walls of a small room in the first 4 ms.
    tail[: round(0.004 * rate)] = 0
    tail *= 10 ** (-DIRECT_TO_REVERBERANT_DB / 20) / np.sqrt(np.sum(tail**2))
    tail[0] = 1
    return _fit(fftconvolve(samples, tail))


def noise(samples: Samples, rate: int, seed: int, decibels: float) -> Samples:
    """Speech in a room with people talking: half pink noise, half babble, `decibels` below the speech in power.

    The level of speech is that of its loudest half of 20 ms frames, so that pauses do not make the noise fainter. The
    babble is the speech itself, turned backwards, shifted and laid over itself: voices, but no words.
    """
    rng = np.random.default_rng(seed)
    size = len(samples)
    spectrum = np.fft.rfft(rng.standard_normal(size))
    frequencies = np.fft.rfftfreq(size, 1 / rate)
    pink = np.fft.irfft(spectrum / np.sqrt(np.maximum(frequencies, 50)), size)
    backwards = samples[::-1].astype(np.float64)
    babble = sum(np.roll(backwards, int(shift)) for shift in rng.integers(0, size, TALKERS))
    mixed = pink / _strength(pink) + babble / _strength(np.asarray(babble))
    frames = samples[: size - size % (rate // 50)].reshape(-1, rate // 50)
    speech = np.sort(np.mean(frames**2, axis=1))[len(frames) // 2 :]
    wanted = np.sqrt(np.mean(speech)) * 10 ** (-decibels / 20)
    return _fit(samples + mixed * (wanted / _strength(mixed)))


def speed(samples: Samples, factor: float) -> Samples:
    """Speech `factor` times as fast, its pitch moved along with it, as in a tape that runs fast."""
    return np.asarray(resample_poly(samples, 100, round(100 * factor)), dtype=np.float32)


CONDITIONS = {
    "clean": Condition(lambda samples, rate, seed: samples, "as the voice gave it"),
    "room": Condition(room, "echo of a consulting room"),
    "noise20": Condition(lambda samples, rate, seed: noise(samples, rate, seed, 20), "talk and hum, 20 dB below"),
    "noise10": Condition(lambda samples, rate, seed: noise(samples, rate, seed, 10), "talk and hum, 10 dB below"),
    "slow": Condition(lambda samples, rate, seed: speed(samples, 0.9), "0.9 times as fast", 1 / 0.9),
    "fast": Condition(lambda samples, rate, seed: speed(samples, 1.1), "1.1 times as fast", 1 / 1.1),
}


def parse(name: str) -> list[Condition]:
    """The conditions in a name such as `room` or `room+noise20`, in order. Raises `SpeechError`."""
    parts = name.split("+")
    unknown = [part for part in parts if part not in CONDITIONS]
    if unknown:
        raise SpeechError(f"unknown condition {unknown[0]!r}; choose, or join with +, from: {', '.join(CONDITIONS)}")
    return [CONDITIONS[part] for part in parts]


def apply(name: str, samples: Samples, rate: int, seed: int = 0) -> tuple[Samples, float]:
    """`samples` under the conditions that `name` lists, and the factor by which times in them have stretched."""
    stretch = 1.0
    for condition in parse(name):
        samples = condition.change(samples, rate, seed)
        stretch *= condition.stretch
    return samples, stretch


def _strength(samples: NDArray[np.float64]) -> float:
    return float(np.sqrt(np.mean(samples**2))) or 1.0


def _fit(samples: NDArray[np.float64]) -> Samples:
    """Turned down only where it would clip."""
    return np.asarray(samples / max(1.0, float(np.abs(samples).max(initial=0)) / 0.98), dtype=np.float32)
