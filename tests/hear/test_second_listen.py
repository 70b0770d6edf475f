"""The second listen on real speech."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from tempfile import mkdtemp

import numpy as np
import pytest

from pipeline.hear.agree import DISAGREE, LEXICON_WON, Agreement
from pipeline.hear.audio import RATE, Sound
from pipeline.hear.choices import listen_again
from pipeline.hear.second_listen import SECOND_AGREES, SURE, settle
from pipeline.hear.words import Heard, Utterance, Word
from pipeline.lexicon import load
from tests.hear.speech import load as load_sound
from tests.hear.speech import noisy, say, trimmed

VOICES = ("hibari:heart", "piper:joe", "flite:slt")


@cache
def spoken(text: str, voice: str, decibels: float | None = None) -> Sound:
    samples = trimmed(load_sound(say(text, voice, Path(mkdtemp()) / "a.wav")))
    silence = np.zeros(RATE // 2, np.float32)
    samples = np.concatenate([silence, samples, silence])
    return Sound(samples if decibels is None else noisy(samples, decibels))


@pytest.mark.parametrize("voice", VOICES)
@pytest.mark.parametrize(
    ("pattern", "choices"),
    [
        ("The ankle jerk is reduced on the {}.", ["left", "right"]),
        ("Hip flexion is {} on both sides.", ["four minus", "four", "four plus"]),
        ("The knee jerk is {} today.", ["absent", "present"]),
    ],
)
def test_what_was_said_is_told_from_the_other_choices(pattern: str, choices: list[str], voice: str) -> None:
    for said in choices:
        sound = spoken(pattern.format(said), voice)
        judged = listen_again(sound, 0.4, sound.duration - 0.4, [pattern.format(choice) for choice in choices])
        assert judged[0][0] == pattern.format(said)
        assert sum(share for _, share in judged) == pytest.approx(1.0)
        assert [share for _, share in judged] == sorted((share for _, share in judged), reverse=True)


def test_other_words_around_the_choice_do_no_harm() -> None:
    for said in ("left", "right"):
        sound = spoken(f"The ankle jerk is reduced on the {said}.", "hibari:heart", 20)
        assert listen_again(sound, 0.4, sound.duration - 0.4, ["left", "right"])[0][0] == said


@pytest.mark.parametrize("decibels", [None, 20.0])
def test_numbers_are_read_as_they_are_said(decibels: float | None) -> None:
    levels = {"L four": "L4", "L five": "L5", "S one": "S1"}
    choices = [f"Sensation is reduced over {level}" for level in levels.values()]
    told = 0
    for voice in ("flite:slt", "flite:rms", "piper:joe"):
        for said, level in levels.items():
            sound = spoken(f"Sensation is reduced over {said}.", voice, decibels)
            judged = listen_again(sound, 0.4, sound.duration - 0.4, choices)
            told += judged[0][0].endswith(level)
            assert judged[0][1] < SURE or judged[0][0].endswith(level)
    assert told >= 8


def test_what_was_said_is_not_ruled_out_where_the_choices_leave_words_out() -> None:
    for said in ("L four", "L five", "S one"):
        sound = spoken(f"Sensation is reduced over {said}.", "flite:slt")
        judged = dict(listen_again(sound, 0.4, sound.duration - 0.4, ["over L four", "over L five", "over S one"]))
        assert judged[f"over {said}"] >= 1 - SURE


def test_a_number_fits_however_it_is_written() -> None:
    sound = spoken("Left hip flexion is four minus.", "flite:slt")
    others = ["Left hip flexion is 4", "Left hip flexion is 4+"]
    for text in ("Left hip flexion is four minus", "left hip flexion is 4 minus.", "Left hip flexion is 4-"):
        judged = listen_again(sound, 0.4, sound.duration - 0.4, [*others, text])
        assert judged[0][0] == text and judged[0][1] > SURE


def test_where_nothing_can_be_told_the_choices_are_even() -> None:
    silence = Sound(np.zeros(0, np.float32))
    assert listen_again(silence, 0.0, 1.0, ["left", "right"]) == [("left", 0.5), ("right", 0.5)]
    assert listen_again(silence, 0.0, 1.0, []) == []


@pytest.fixture(scope="module")
def agreement() -> Agreement:
    return Agreement(load())


def heard(sound: Sound, text: str, doubted: str, other: str) -> Heard:
    """`text` spread evenly over the sound; `doubted` is one of its words, of which `other` is the other reading."""
    words = text.split()
    step = (sound.duration - 0.8) / len(words)
    return Heard(
        utterances=[
            Utterance(
                words=[
                    Word(
                        text=word,
                        start=round(0.4 + step * place, 3),
                        end=round(0.4 + step * (place + 1), 3),
                        flags=(DISAGREE,) if word == doubted else (),
                        alternatives=(other,) if word == doubted else (),
                    )
                    for place, word in enumerate(words)
                ]
            )
        ],
        duration=sound.duration,
        spoken=True,
    )


def flags_of(settled: Heard, text: str) -> tuple[str, ...]:
    return next(word.flags for word in settled.utterances[0].words if word.text == text)


def test_a_difference_is_settled_where_the_open_listener_was_right(agreement: Agreement) -> None:
    sound = spoken("the knee jerk is brisk today", "hibari:heart")
    settled = settle(sound, heard(sound, "the knee jerk is brisk today", "jerk", "church"), agreement)
    assert flags_of(settled, "jerk") == (SECOND_AGREES,)


def test_the_other_reading_takes_the_place_of_a_wrong_word_and_is_doubted(agreement: Agreement) -> None:
    sound = spoken("the knee jerk is brisk today", "hibari:heart")
    settled = settle(sound, heard(sound, "the knee church is brisk today", "church", "jerk"), agreement)
    assert settled.utterances[0].text == "the knee jerk is brisk today"
    assert flags_of(settled, "jerk") == (LEXICON_WON, DISAGREE)
    assert next(word.alternatives for word in settled.utterances[0].words if word.text == "jerk") == ("church",)


def test_a_side_never_gives_way_to_the_other(agreement: Agreement) -> None:
    sound = spoken("ankle jerk on the left absent", "hibari:heart")
    before = heard(sound, "ankle jerk on the right absent", "right", "left")
    assert settle(sound, before, agreement) == before


def test_a_confusion_that_hurts_keeps_its_flag(agreement: Agreement) -> None:
    sound = spoken("ankle jerk on the left absent", "hibari:heart")
    settled = settle(sound, heard(sound, "ankle jerk on the left absent", "left", "right"), agreement)
    assert flags_of(settled, "left") == (DISAGREE, SECOND_AGREES)


def test_words_that_nobody_doubts_are_not_heard_again(agreement: Agreement) -> None:
    sound = spoken("the knee jerk is brisk today", "hibari:heart")
    before = heard(sound, "completely other words than were said", "", "")
    assert settle(sound, before, agreement) == before
