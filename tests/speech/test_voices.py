from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

from scripts.speech import sound
from scripts.speech.recognise import error_rate, hear
from scripts.speech.sound import SpeechError
from scripts.speech.voices import VOICES, Speech, say, speak

SAID = "The left knee is normal today. Please walk to the window and come back."


@pytest.fixture(scope="module")
def spoken_once() -> dict[str, Speech]:
    return {voice: speak(SAID, voice, 16_000) for voice in VOICES}


@pytest.mark.parametrize("voice", VOICES)
def test_a_voice_gives_speech_of_sane_length_and_level(spoken_once: dict[str, Speech], voice: str) -> None:
    speech = spoken_once[voice]
    # Fourteen words at 100 to 200 words a minute, and a pause.
    assert 3.6 < speech.seconds < 8
    assert 0.15 < np.abs(speech.samples).max() <= 0.98
    first, second = speech.sentences
    assert [first.text, second.text] == ["The left knee is normal today.", "Please walk to the window and come back."]
    assert 0.4 <= second.start - first.end <= 0.8
    assert second.end == pytest.approx(speech.seconds, abs=0.1)
    pause = speech.samples[round(first.end * 16_000) + 1 : round(second.start * 16_000) - 1]
    assert np.abs(pause).max() == 0
    for one in speech.sentences:
        loudness = np.sqrt(np.mean(speech.samples[round(one.start * 16_000) : round(one.end * 16_000)] ** 2))
        assert 0.02 < loudness < 0.1


@pytest.mark.parametrize("voice", VOICES)
def test_a_recogniser_understands_the_voice(spoken_once: dict[str, Speech], voice: str) -> None:
    heard = hear(spoken_once[voice].samples)
    assert error_rate(SAID, heard) <= 0.3, heard


def test_no_two_voices_are_the_same(spoken_once: dict[str, Speech]) -> None:
    for one, other in combinations(VOICES, 2):
        assert not np.array_equal(spoken_once[one].samples, spoken_once[other].samples), (one, other)


@pytest.mark.parametrize("voice", ["flite-slt", "espeak-gb", "piper-joe", "hibari-gb"])
def test_the_same_words_give_the_same_samples(spoken_once: dict[str, Speech], voice: str) -> None:
    again = speak(SAID, voice, 16_000)
    assert np.array_equal(again.samples, spoken_once[voice].samples)


@pytest.mark.parametrize("suffix", [".wav", ".flac", ".opus"])
def test_say_writes_what_it_returns(tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"said{suffix}"
    samples, rate = say("Knee jerk two plus.", "flite-slt", path)
    written, _ = sound.read(path, rate)
    assert len(written) == pytest.approx(len(samples), abs=0.03 * rate)
    shared = min(len(written), len(samples))
    assert np.corrcoef(written[:shared], samples[:shared])[0, 1] > 0.9


def test_an_unknown_voice_or_an_empty_text_is_one_clear_line() -> None:
    with pytest.raises(SpeechError, match="unknown voice 'nobody'; choose one of: hibari-gb"):
        speak("Hello.", "nobody")
    with pytest.raises(SpeechError, match="no words to say"):
        speak(" ... ", "flite-slt")
    with pytest.raises(SpeechError, match="use one of the file endings"):
        say("Hello.", "flite-slt", Path("hello.xyz"))


def test_a_missing_program_is_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(SpeechError, match="apt-get install flite"):
        speak("Hello.", "flite-slt")


def test_a_file_without_sound_is_named(tmp_path: Path) -> None:
    broken = tmp_path / "broken.flac"
    broken.write_text("no sound")
    with pytest.raises(SpeechError, match=r"broken\.flac: no sound could be read"):
        sound.read(broken)
