"""Hearing sound in small pieces gives what hearing it whole gives."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from pipeline.hear import UtteranceStream, listen
from pipeline.hear.audio import RATE, Samples, Sound
from pipeline.hear.lexicon_listener import LexiconListener
from pipeline.hear.listener import Reading
from pipeline.hear.open_listener import OpenListener
from pipeline.hear.speech import LONGEST, Span
from pipeline.hear.words import Word
from tests.hear.speech import EXAMINATION, PROMPT, load, plain, say, speak_all, trimmed, word_error_rate

LINES = EXAMINATION[:7]


@pytest.fixture(scope="module")
def talk(tmp_path_factory: pytest.TempPathFactory) -> Samples:
    return speak_all(LINES, "hibari:heart", tmp_path_factory.mktemp("talk"))[0]


def pieces(samples: Samples, seconds: float) -> list[Samples]:
    return np.split(samples, range(int(seconds * RATE), samples.size, int(seconds * RATE)))


def feed(stream: UtteranceStream, samples: Samples, seconds: float) -> list[Word]:
    for piece in pieces(samples, seconds):
        assert stream.accept(piece) == []
    return stream.finish()


@pytest.mark.parametrize("seconds", [0.032, 0.1, 1.7])
@pytest.mark.parametrize("listener", [lambda: OpenListener(PROMPT), LexiconListener])
def test_a_stream_hears_what_is_heard_of_the_whole(listener: object, seconds: float, talk: Samples) -> None:
    one = listener()  # type: ignore[operator]
    whole = [word for each in listen(Sound(talk), one).utterances for word in each.words]
    words = feed(UtteranceStream(one), talk, seconds)
    assert word_error_rate(" ".join(word.text for word in whole), " ".join(word.text for word in words)) < 0.1
    starts = {plain(word.text): word.start for word in whole}
    assert all(
        abs(word.start - starts[plain(word.text)]) < 0.3
        for word in words
        if _once(whole, word) and plain(word.text) in starts
    )
    assert [word.start for word in words] == sorted(word.start for word in words)


def _once(whole: list[Word], word: Word) -> bool:
    return sum(plain(each.text) == plain(word.text) for each in whole) == 1


def test_an_utterance_ends_with_its_pause(talk: Samples, tmp_path: Path) -> None:
    line = trimmed(load(say(LINES[0], "hibari:heart", tmp_path / "a.wav")))
    stream = UtteranceStream(LexiconListener())
    for piece in pieces(line, 0.1):
        stream.accept(piece)
    before = len(stream.utterances)
    for piece in pieces(np.zeros(RATE, np.float32), 0.1):
        stream.accept(piece)
    assert len(stream.utterances) > before
    assert "wasting" in stream.utterances[-1].text + stream.utterances[0].text


class _Remembers:
    """Notes the sound it was given and hears one word in each utterance, or none."""

    def __init__(self, hears: bool = True) -> None:
        self.given: list[tuple[int, Span]] = []
        self._hears = hears

    def transcribe(self, samples: Samples, span: Span) -> Reading:
        self.given.append((samples.size, span))
        if not self._hears:
            return Reading(reason="too unclear")
        return Reading([Word(text="word", start=span.start, end=span.end)])


def test_a_long_stream_is_not_kept(talk: Samples) -> None:
    listener = _Remembers()
    stream = UtteranceStream(listener)
    long = np.tile(talk, 5)
    words = feed(stream, long, 0.1)
    assert max(size for size, _ in listener.given) < 40 * RATE < long.size
    assert words[-1].end == pytest.approx(long.size / RATE - 0.7, abs=0.3)
    assert len(words) == len(listener.given) >= 5 * len(LINES) - 2


def test_speech_without_pauses_is_cut(tmp_path: Path) -> None:
    line = trimmed(load(say(EXAMINATION[16], "flite:slt", tmp_path / "line.wav")))
    listener = _Remembers()
    feed(UtteranceStream(listener), np.tile(line, 20), 0.1)
    assert len(listener.given) > 1
    assert all(span.duration <= LONGEST for _, span in listener.given)


def test_speech_without_words_is_told_of(talk: Samples) -> None:
    stream = UtteranceStream(_Remembers(hears=False))
    assert feed(stream, talk, 0.1) == []
    assert len(stream.silent) >= len(LINES)
    assert all(reason == "too unclear" for _, reason in stream.silent)
    assert stream.silent[-1][0].end == pytest.approx(talk.size / RATE - 0.7, abs=0.3)


def test_silence_gives_nothing() -> None:
    stream = UtteranceStream(_Remembers())
    assert feed(stream, np.zeros(10 * RATE, np.float32), 0.1) == []
