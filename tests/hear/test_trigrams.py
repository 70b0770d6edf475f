"""How examiners put words in a row: the counts, and what they choose among the readings of real speech in noise."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from pipeline.hear import open_listener
from pipeline.hear.both import default_listener
from pipeline.hear.speech import Span
from pipeline.hear.trigrams import TALK, Trigrams, count, read, talk, write
from tests.hear.speech import noisy, speak_all, word_error_rate

LINES = (
    "Right arm. Thumb abduction five by five.",
    "Anal tone reduced.",
    "Hip adduction five, knee extension four.",
    "Left arm. Finger abduction four.",
    "Calf five, S one.",
    "Plantars up on both sides.",
    "Peroneus longus three minus.",
    "Tone increased in the left leg.",
    "Heel shin impaired on the right.",
    "Light touch is reduced at L five.",
)


def test_what_was_counted_is_likelier_than_what_was_not() -> None:
    counts = Trigrams(count([["knee", "jerks", "two", "plus"]] * 6 + [["ankle", "jerks", "absent"]] * 6))
    assert counts.of(["ankle", "jerks", "absent"]) > counts.of(["ankle", "jerks", "two"])
    assert counts.of(["jerks", "knee"]) < counts.of(["knee", "jerks"])
    assert counts.likelihood("absent", ["ankle", "jerks"]) == counts.likelihood("absent", ["the", "ankle", "jerks"])


def test_every_word_has_a_chance_and_a_rare_one_a_small_one() -> None:
    counts = Trigrams(count([["one", "two", "three"]] * 4 + [["hapax", "two", "three"]]))
    chances = [math.exp(counts.likelihood(word, ["one", "two"])) for word in ("three", "house", "xylem")]
    assert chances == sorted(chances, reverse=True)
    assert all(0 < chance < 1 for chance in chances)


def test_counts_are_stored_and_read_again(tmp_path: Path) -> None:
    counts = count([["left", "ankle", "jerk", "absent"]] * 3)
    write(tmp_path / "counts.json.gz", counts, said={"G": {"4": 2}})
    assert read(tmp_path / "counts.json.gz") == (counts, {"said": {"G": {"4": 2}}})
    first = (tmp_path / "counts.json.gz").read_bytes()
    write(tmp_path / "counts.json.gz", counts, said={"G": {"4": 2}})
    assert (tmp_path / "counts.json.gz").read_bytes() == first


def test_the_counts_that_are_shipped_know_how_examiners_talk() -> None:
    counts = talk()
    assert TALK.stat().st_size < 400_000
    assert counts.of("thumb abduction five".split()) > counts.of("some abduction five".split())
    assert counts.of("tone normal in both legs".split()) > counts.of("ten normal in both legs".split())
    assert counts.of("left arm".split()) > counts.of("less arm".split())


def test_readings_in_noise_are_chosen_better_with_them(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whole sentences with noise 6 dB below, heard by both listeners."""
    samples, spans = speak_all(LINES, "flite:slt", tmp_path)
    loud = noisy(samples, 6)
    listener = default_listener()
    errors = []
    for weight in (open_listener._HABIT, 0.0):
        monkeypatch.setattr(open_listener, "_HABIT", weight)
        heard = [listener.transcribe(loud, Span(start, end)) for start, end in spans]
        text = " ".join(word.text for reading in heard for word in reading.words)
        errors.append(word_error_rate(" ".join(LINES), text))
    assert errors[0] < errors[1]
