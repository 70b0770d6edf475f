"""The lexicon listener on real speech, and the files that it is made of."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from pipeline.hear import listen
from pipeline.hear.audio import RATE, Samples, Sound
from pipeline.hear.dictionary import british, common_english, dictionary
from pipeline.hear.lexicon_listener import CACHE_VARIABLE, LexiconListener, cache_folder, content_hash, model_files
from pipeline.hear.phrases import phrases
from pipeline.hear.speech import Span, find_speech
from pipeline.lexicon import load
from tests.hear.speech import load as load_sound
from tests.hear.speech import plain, say, speak_all, trimmed

TERMS = (
    "Tibialis anterior is four minus on the right.",
    "Gluteus medius four plus.",
    "Ankle dorsiflexion five out of five.",
    "Knee jerks are two plus and symmetrical.",
    "Light touch is reduced in the L five dermatome.",
    "No wasting or fasciculation in either leg.",
    "Anal tone was not tested.",
)
TALK = (
    "Good morning, my name is on the letter, please come in and take a seat.",
    "Thank you for waiting, the train was late and the traffic was terrible.",
    "My daughter wants to go to the museum with her friends next weekend.",
)


@pytest.fixture(scope="module")
def listener() -> LexiconListener:
    return LexiconListener()


def heard_words(lines: tuple[str, ...], voice: str, folder: Path, listener: LexiconListener) -> list[str]:
    samples, _ = speak_all(lines, voice, folder)
    heard = listen(Sound(samples), listener)
    return plain(" ".join(utterance.text for utterance in heard.utterances)).split()


@pytest.mark.parametrize("voice", ["hibari:heart", "piper:joe", "flite:slt"])
def test_terms_are_heard(voice: str, tmp_path: Path, listener: LexiconListener) -> None:
    words = " ".join(heard_words(TERMS, voice, tmp_path, listener))
    wanted = (
        "tibialis anterior", "4 minus", "gluteus medius", "4 plus", "dorsiflexion", "out of 5", "knee jerks", "2 plus",
        "light touch", "l 5 dermatome", "no wasting", "fasciculation", "anal tone", "not tested",
    )  # fmt: skip
    found = [term for term in wanted if term in words]
    assert len(found) >= 0.75 * len(wanted), words


@pytest.mark.parametrize("voice", ["hibari:heart", "flite:slt"])
def test_free_talk_does_not_become_findings(voice: str, tmp_path: Path, listener: LexiconListener) -> None:
    """The names of muscles and manoeuvres that everyday talk lacks must be rare in what is heard of it."""
    lexicon = load()
    names = {word for one in (*lexicon.muscles, *lexicon.manoeuvres) for name in one.names for word in name.split()}
    rare = names - set(common_english())
    words = heard_words(TALK, voice, tmp_path, listener)
    assert len(words) > 20
    assert sum(word in rare for word in words) <= 1, words


def test_the_same_sound_gives_the_same_words_whatever_came_before(tmp_path: Path, listener: LexiconListener) -> None:
    samples, _ = speak_all(TERMS[:3], "hibari:heart", tmp_path)
    spans = find_speech(samples)
    first = [listener.transcribe(samples, span) for span in spans]
    other, _ = speak_all(TALK[:1], "flite:slt", tmp_path)
    listener.transcribe(other, Span(0, other.size / RATE))
    assert [listener.transcribe(samples, span) for span in spans[::-1]] == first[::-1]
    assert [LexiconListener().transcribe(samples, span) for span in spans] == first


def test_words_have_times_and_confidences(tmp_path: Path, listener: LexiconListener) -> None:
    line = trimmed(load_sound(say(TERMS[0], "hibari:heart", tmp_path / "a.wav")))
    silence = np.zeros(3 * RATE, np.float32)
    samples: Samples = np.concatenate([silence, line, silence])
    (span,) = find_speech(samples)
    words = listener.transcribe(samples, span).words
    assert len(words) >= 6
    assert all(span.start <= word.start < word.end <= span.end for word in words)
    assert all(0 < word.confidence <= 1 for word in words)
    right = next(word for word in words if word.text == "right")
    assert right.end == pytest.approx(3 + line.size / RATE, abs=0.15)


def test_silence_and_an_empty_span_give_no_words(listener: LexiconListener) -> None:
    samples = np.zeros(2 * RATE, np.float32)
    assert listener.transcribe(samples, Span(0.5, 1.5)).words == []
    assert listener.transcribe(samples, Span(5.0, 6.0)).words == []


def test_files_are_made_once_and_told_of(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(CACHE_VARIABLE, str(tmp_path))
    small = load().model_copy(update={"manoeuvres": load().manoeuvres[:2], "muscles": []})
    shares: list[float] = []
    files = model_files(small, shares.append)
    assert files.language_model.parent.parent == cache_folder()
    assert shares == sorted(shares) and shares[0] == 0.0 and shares[-1] == 1.0 and len(shares) > 3
    made = files.language_model.stat().st_mtime_ns
    shares.clear()
    assert model_files(small, shares.append) == files
    assert files.language_model.stat().st_mtime_ns == made and shares == [1.0]
    assert [path.name for path in cache_folder().iterdir()] == [content_hash(small)]


def test_another_lexicon_has_other_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(CACHE_VARIABLE, str(tmp_path))
    one = load().model_copy(update={"manoeuvres": load().manoeuvres[:1], "muscles": []})
    hashes = {content_hash(one)}
    for count in range(2, 6):
        other = one.model_copy(update={"manoeuvres": load().manoeuvres[:count]})
        model_files(other)
        hashes.add(content_hash(other))
    assert len(hashes) == 5
    assert len(list(cache_folder().iterdir())) == 3  # the latest ones


def test_phrases_cover_what_examiners_say() -> None:
    said = {" ".join(sentence).lower() for sentence in phrases(load())}
    text = "\n".join(said)
    for phrase in (
        "l five s one", "l four five", "ankle jerk two plus", "no wasting", "in either leg", "not tested", "four minus",
        "five out of five", "extensor hallucis longus", "three beats", "left and right", "modified ashworth one plus",
        "forty degrees",
    ):  # fmt: skip
        assert phrase in text, phrase
    assert said == {" ".join(sentence).lower() for sentence in phrases(load())}


def test_every_name_of_the_lexicon_is_a_phrase_and_can_be_said() -> None:
    lexicon = load()
    said = {word.lower(): word for sentence in phrases(lexicon) for word in sentence}
    ways = dictionary(said.values(), [])
    for entry in (*lexicon.manoeuvres, *lexicon.muscles):
        for name in entry.names:
            assert all(ways.get(word.lower()) for word in name.split()), name
    assert ways["ehl"][0] == ("IY", "EY", "CH", "EH", "L")


@pytest.mark.parametrize(
    ("american", "expected"),
    [
        ("F AO R", "F AO"),
        ("N AO R M AH L", "N AO M AH L"),
        ("P L AE N T ER Z", "P L AE N T AH Z"),
        ("HH AA T", "HH AO T"),
        ("HH AA R D", "HH AA D"),
        ("AE N T IH R IY ER", "AE N T IH R IY AH"),
        ("N IH R", "N IH AH"),
        ("R AY T", "R AY T"),
        ("T ER N", "T ER N"),
        ("TH ER OW", "TH AH R OW"),
    ],
)
def test_british_sounds(american: str, expected: str) -> None:
    assert british(tuple(american.split())) == tuple(expected.split())


def test_common_english_is_common_and_can_be_said() -> None:
    words = common_english()
    assert len(words) == 8000
    assert {"the", "please", "museum"} <= words.keys() and "iliopsoas" not in words
    assert words["the"] > words["please"] > words["museum"] > 0
