"""Controls are understood, and talk is not taken for one. Many voices, an hour of talk: `scripts/bench_live.py`."""

from __future__ import annotations

from pathlib import Path

import pytest

from pipeline.hear.speech import find_speech
from pipeline.lexicon.live import LexiconError, controls, plans
from pipeline.live.controls import Spoken
from pipeline.live.hearing import Hearing
from tests.live.speech import said

CONTROLS = {
    "start dictation": Spoken("start"),
    "pause": Spoken("pause"),
    "resume dictation": Spoken("resume"),
    "scratch the last result": Spoken("scratch"),
    "change side to left": Spoken("side", "left"),
    "change side to right": Spoken("side", "right"),
    "change result to four minus": Spoken("grade", "4-"),
    "mark for review": Spoken("mark"),
    "read back": Spoken("read_back"),
    "what is missing": Spoken("missing"),
    "finish dictation": Spoken("finish"),
}


def test_each_control_is_among_them() -> None:
    assert {spoken.control for spoken in CONTROLS.values()} == {control.id for control in controls().controls}


def heard(hearing: Hearing, sentence: str) -> list[Spoken | None]:
    samples = said(sentence, voice="hibari-us")
    return [
        hearing.hear(lambda first, last: samples[first:last], samples.size, span).control
        for span in find_speech(samples)
    ]  # fmt: skip


@pytest.mark.parametrize("words", CONTROLS)
def test_understands(hearing: Hearing, words: str) -> None:
    (found,) = heard(hearing, f"Computer, {words}.")
    assert found is not None
    assert (found.control, found.choice) == (CONTROLS[words].control, CONTROLS[words].choice)


@pytest.mark.parametrize(
    "sentence",
    [
        "Pause there for a moment.",
        "The computer is slow today.",
        "Scratch the sole of the foot.",
        "Computers have changed how we write results.",
        "What is missing is the ankle jerk.",
    ],
)
def test_talk_is_no_control(hearing: Hearing, sentence: str) -> None:
    assert not any(heard(hearing, sentence))


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        (
            "controls",
            "carrier: computer\ncontrols: [{id: halt, say: [halt], does: halts}]\nanswers: {}\n",
            "controls.0.id",
        ),
        ("controls", "carrier: [", "cannot be read"),
        ("plans", "plans: [{id: a, title: A, manoeuvres: [hip_wiggle]}]\n", "unknown manoeuvre 'hip_wiggle'"),
    ],
)
def test_a_damaged_file_is_one_line(tmp_path: Path, name: str, text: str, told: str) -> None:
    (tmp_path / "live").mkdir()
    (tmp_path / "live" / f"{name}.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(LexiconError) as error:
        (controls if name == "controls" else plans)(tmp_path)
    assert told in str(error.value) and "\n" not in str(error.value)
