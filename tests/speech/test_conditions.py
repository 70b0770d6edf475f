import numpy as np
import pytest

from scripts.speech import conditions
from scripts.speech.sound import Samples, SpeechError
from scripts.speech.voices import speak

RATE = 16_000


@pytest.fixture(scope="module")
def clean() -> Samples:
    return speak("Right ankle jerk two plus. Left ankle jerk absent.", "flite-slt", RATE).samples


def test_clean_changes_nothing(clean: Samples) -> None:
    samples, stretch = conditions.apply("clean", clean, RATE)
    assert np.array_equal(samples, clean)
    assert stretch == 1


@pytest.mark.parametrize(("name", "decibels"), [("noise20", 20), ("noise10", 10)])
def test_noise_stands_that_far_below_the_speech(clean: Samples, name: str, decibels: float) -> None:
    noisy, _ = conditions.apply(name, clean, RATE, seed=3)
    frames = clean[: len(clean) // 320 * 320].reshape(-1, 320)
    powers = np.sort(np.mean(frames**2, axis=1))
    loud = powers[len(powers) // 2 :].mean()
    assert 10 * np.log10(loud / np.mean((noisy - clean) ** 2)) == pytest.approx(decibels, abs=0.2)


def test_a_room_sounds_on_after_the_speech_and_dies_away(clean: Samples) -> None:
    echoing, _ = conditions.apply("room", clean, RATE, seed=3)
    assert np.abs(clean[-400:]).max() > 0
    tail = echoing[len(clean) :] ** 2
    assert len(tail) == pytest.approx(conditions.REVERBERATION_SECONDS * RATE, abs=2)
    third = len(tail) // 3
    # 60 dB over the whole tail: 20 dB for each third.
    assert 10 * np.log10(tail[:third].mean() / tail[third : 2 * third].mean()) == pytest.approx(20, abs=6)


@pytest.mark.parametrize(("name", "factor"), [("slow", 0.9), ("fast", 1.1)])
def test_speed_stretches_the_samples_and_says_so(clean: Samples, name: str, factor: float) -> None:
    samples, stretch = conditions.apply(name, clean, RATE)
    assert len(samples) == pytest.approx(len(clean) / factor, abs=2)
    assert stretch == pytest.approx(1 / factor)


def test_conditions_join_in_order_and_follow_the_seed(clean: Samples) -> None:
    joined, stretch = conditions.apply("room+noise20+fast", clean, RATE, seed=1)
    step = clean
    for name in ("room", "noise20", "fast"):
        step, _ = conditions.apply(name, step, RATE, seed=1)
    assert np.array_equal(joined, step)
    assert stretch == pytest.approx(1 / 1.1)
    other, _ = conditions.apply("room+noise20+fast", clean, RATE, seed=2)
    assert not np.array_equal(joined, other)


def test_an_unknown_condition_is_named() -> None:
    with pytest.raises(SpeechError, match="unknown condition 'cave'"):
        conditions.parse("room+cave")
