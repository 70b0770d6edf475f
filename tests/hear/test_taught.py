"""What the open listener was taught: real weights, real speech of a voice that it did not learn from."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from pipeline.hear import taught
from pipeline.hear.open_listener import OpenListener, model_folder
from pipeline.hear.speech import find_speech
from pipeline.hear.taught import LESSONS, teach, variables
from tests.hear.speech import Samples, noisy, speak_all, word_error_rate

SAID = (
    "Left extensor hallucis longus four minus.",
    "Brachioradialis jerk absent on the right.",
    "Gastrocnemius five, tibialis posterior four plus.",
    "No fasciculation in either leg.",
    "Abductor pollicis brevis three, that's T1.",
    "Vibration reduced at both great toes.",
)
ORDINARY = (
    "We took the early train and were home before it got dark.",
    "My neighbour has lent me his ladder until the weekend.",
    "Leave the parcel with the people next door, would you?",
)


@pytest.fixture(scope="module")
def weights() -> bytes:
    return (model_folder() / "model.bin").read_bytes()


def text_of(listener: OpenListener, samples: Samples) -> str:
    readings = [listener.transcribe(samples, span) for span in find_speech(samples)]
    return " ".join(word.text for reading in readings for word in reading.words)


def untaught(monkeypatch: pytest.MonkeyPatch) -> OpenListener:
    listener = OpenListener()
    monkeypatch.setattr(listener, "_taught", listener._published)
    return listener


def test_only_what_was_learned_has_changed(weights: bytes) -> None:
    before, after = variables(weights), variables(teach(weights))
    assert before.keys() == after.keys()
    changed = {name for name in before if not np.array_equal(before[name], after[name])}
    with np.load(LESSONS) as lessons:
        assert changed == {key.split("@")[0] for key in lessons.files}
    assert {name.split("/layer_")[0] for name in changed} == {"encoder", "decoder"}
    for name in changed:
        apart = np.linalg.norm(after[name].astype(float) - before[name]) / np.linalg.norm(before[name].astype(float))
        assert 0 < apart < 0.5, name


def test_weights_of_another_model_are_refused(weights: bytes, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    strange = tmp_path / "taught.npz"
    np.savez(strange, **{"decoder/layer_9/ffn/linear_0/weight@0/up": np.zeros((4, 2), np.float16)})
    monkeypatch.setattr(taught, "LESSONS", strange)
    with pytest.raises(ValueError, match="no weight decoder/layer_9"):
        teach(weights)


@pytest.mark.parametrize("decibels", [None, 15.0])
def test_terms_are_heard_better_than_by_the_model_as_published(
    decibels: float | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    samples, _ = speak_all(SAID, "flite:awb", tmp_path)
    if decibels is not None:
        samples = noisy(samples, decibels)
    said = " ".join(SAID)
    taught_errors = word_error_rate(said, text_of(OpenListener(), samples))
    plain_errors = word_error_rate(said, text_of(untaught(monkeypatch), samples))
    assert taught_errors < 0.6 * plain_errors


def test_ordinary_talk_is_heard_as_well_as_before(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    samples, _ = speak_all(ORDINARY, "flite:awb", tmp_path)
    said = " ".join(ORDINARY)
    heard = text_of(OpenListener(), samples)
    assert word_error_rate(said, heard) <= word_error_rate(said, text_of(untaught(monkeypatch), samples)) + 0.05
