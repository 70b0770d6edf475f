"""Real speech through the real recogniser."""

from __future__ import annotations

import shutil
from pathlib import Path

import numpy as np
import pytest

from pipeline.hear import Heard, InputError, Word, hear, listen
from pipeline.hear.align import other_readings
from pipeline.hear.audio import RATE, Sound
from pipeline.hear.listener import Reading
from pipeline.hear.open_listener import PROMPT_ONLY, OpenListener, check_weights, model_folder
from pipeline.hear.speech import LONGEST, Span, find_speech
from tests.hear.speech import (
    EXAMINATION,
    PROMPT,
    Samples,
    load,
    noisy,
    plain,
    say,
    speak_all,
    trimmed,
    word_error_rate,
    write_audio,
)

LINES = (EXAMINATION[0], EXAMINATION[3], EXAMINATION[5], EXAMINATION[12], EXAMINATION[17])


@pytest.fixture(scope="module")
def talk(tmp_path_factory: pytest.TempPathFactory) -> tuple[Samples, list[tuple[float, float]]]:
    return speak_all(LINES, "flite:rms", tmp_path_factory.mktemp("talk"))


@pytest.fixture(scope="module")
def heard(talk: tuple[Samples, list[tuple[float, float]]]) -> Heard:
    return listen(Sound(talk[0]), OpenListener(PROMPT))


def words_of(heard: Heard) -> list[Word]:
    return [word for utterance in heard.utterances for word in utterance.words]


def test_utterances_are_the_breaths(talk: tuple[Samples, list[tuple[float, float]]]) -> None:
    samples, truth = talk
    spans = find_speech(samples)
    assert len(spans) == len(truth)
    for span, (start, end) in zip(spans, truth, strict=True):
        assert span.start == pytest.approx(start, abs=0.2)
        assert span.end == pytest.approx(end, abs=0.3)


def test_words_are_right(heard: Heard) -> None:
    assert heard.spoken and heard.unheard == []
    assert word_error_rate(" ".join(LINES), " ".join(word.text for word in words_of(heard))) < 0.15


def test_words_stand_where_they_were_said(heard: Heard, talk: tuple[Samples, list[tuple[float, float]]]) -> None:
    """Each breath's words lie inside it, its first word at its start, and the words share the breath in proportion."""
    for utterance, line, (start, end) in zip(heard.utterances, LINES, talk[1], strict=True):
        assert utterance.start == pytest.approx(start, abs=0.3)
        assert start - 0.2 <= utterance.start <= utterance.end <= end + 0.3
        for before, after in zip(utterance.words, utterance.words[1:], strict=False):
            assert before.start <= before.end <= after.start + 0.05
        expected = start + (end - start) * (line.rfind(line.split()[-1])) / len(line)
        assert utterance.words[-1].start == pytest.approx(expected, abs=0.6)


def test_word_times_against_the_sound_itself(tmp_path: Path) -> None:
    """Three words with 0.2 s of silence between (too short to part utterances): each is where its sound is."""
    gap = np.zeros(RATE // 5, np.float32)
    parts, starts, at = [np.zeros(RATE // 2, np.float32)], [], RATE // 2
    for word in ("reflexes", "absent", "today"):
        samples = trimmed(load(say(word, "flite:slt", tmp_path / "word.wav")))
        starts.append(at / RATE)
        parts += [samples, gap]
        at += samples.size + gap.size
    heard = listen(Sound(np.concatenate([*parts, np.zeros(RATE, np.float32)])), OpenListener())
    words = words_of(heard)
    assert [plain(word.text) for word in words] == ["reflexes", "absent", "today"]
    assert [word.start for word in words] == pytest.approx(starts, abs=0.25)


def test_the_same_sound_gives_the_same_words(talk: tuple[Samples, list[tuple[float, float]]], heard: Heard) -> None:
    assert listen(Sound(talk[0]), OpenListener(PROMPT)) == heard


def test_what_only_the_told_and_taught_decoder_hears_is_flagged(
    talk: tuple[Samples, list[tuple[float, float]]], heard: Heard
) -> None:
    told = listen(Sound(talk[0]), OpenListener())
    for each in (heard, told):
        assert word_error_rate(" ".join(LINES), " ".join(word.text for word in words_of(each))) < 0.1
    flagged = [word for word in words_of(heard) if PROMPT_ONLY in word.flags]
    assert flagged and all(word.alternatives for word in flagged)
    assert all("fasciculation" not in other for word in flagged for other in word.alternatives)


def test_a_term_that_bled_from_the_prompt_does_not_pass_silently() -> None:
    """Speech-like sound without words (speech played backwards): what comes of the prompt is flagged or left out."""
    # The decoding without a prompt cannot write a term that is not in English text.
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        samples, _ = speak_all(LINES, "piper:joe", Path(folder))
    heard = listen(Sound(samples[::-1].copy()), OpenListener(PROMPT))
    terms = {"iliopsoas", "tibialis", "hallucis", "romberg", "eversion", "gluteus", "gastrocnemius"}
    for word in words_of(heard):
        if plain(word.text) in terms:
            assert PROMPT_ONLY in word.flags
    assert words_of(heard) or heard.unheard


def silence() -> Samples:
    return np.zeros(8 * RATE, np.float32)


def hiss() -> Samples:
    return np.random.default_rng(2).normal(0, 0.05, 8 * RATE).astype(np.float32)


def music() -> Samples:
    """Plucked chords: decaying harmonics of a few notes."""
    time = np.arange(RATE // 2) / RATE
    notes = [
        sum(np.sin(2 * np.pi * pitch * harmonic * time) / harmonic for harmonic in range(1, 6)) * np.exp(-4 * time)
        for pitch in (262, 330, 392, 440, 349, 294, 262, 392) * 2
    ]
    return (np.concatenate(notes) * 0.2).astype(np.float32)


@pytest.mark.parametrize("sound", [silence, hiss, music])
@pytest.mark.parametrize("prompt", ["", PROMPT])
def test_no_speech_gives_no_words(sound: object, prompt: str, tmp_path: Path) -> None:
    path = write_audio(sound(), tmp_path / "a.wav")  # type: ignore[operator]
    heard = hear(path, listener=OpenListener(prompt))
    assert heard.utterances == [] and heard.unheard == []
    assert heard.duration > 7


@pytest.mark.parametrize("sound", [silence, hiss, music])
@pytest.mark.parametrize("prompt", ["", PROMPT])
def test_recogniser_alone_invents_nothing_where_voice_activity_is_wrong(sound: object, prompt: str) -> None:
    assert OpenListener(prompt).transcribe(sound(), Span(1.0, 5.0)).words == []  # type: ignore[operator]


def test_hopeless_speech_is_unheard_and_not_guessed(tmp_path: Path) -> None:
    """Speech under noise louder than itself: every second without words is accounted for."""
    samples, _ = speak_all(LINES, "flite:slt", tmp_path)  # a voice that says the same each time
    heard = listen(Sound(noisy(samples, -5)), OpenListener(PROMPT))
    spans = find_speech(noisy(samples, -5))
    covered = [(word.start, word.end) for word in words_of(heard)] + [(each.start, each.end) for each in heard.unheard]
    for span in spans:
        if span.duration > 1:
            assert any(start < span.end and end > span.start for start, end in covered)
    assert heard.unheard
    assert all(each.reason for each in heard.unheard)


def test_part_of_an_utterance_without_words_is_unheard(talk: tuple[Samples, list[tuple[float, float]]]) -> None:
    class HearsOneWord:
        def transcribe(self, samples: Samples, span: Span) -> Reading:
            return Reading([Word(text="right", start=span.start, end=span.start + 0.4)])

    heard = listen(Sound(talk[0]), HearsOneWord())
    spans = find_speech(talk[0])
    assert len(heard.unheard) == len(spans) == len(LINES)
    for each, span in zip(heard.unheard, spans, strict=True):
        assert (each.start, each.end) == pytest.approx((span.start + 0.4, span.end))


def test_long_unbroken_speech_is_cut_where_it_is_quiet(tmp_path: Path) -> None:
    speech = trimmed(load(say(EXAMINATION[16], "flite:slt", tmp_path / "line.wav")))
    dip = np.zeros(int(0.22 * RATE), np.float32)
    # 0.22 s is too short for a pause; one such dip at about 20 s, everything else without any.
    run = np.tile(speech, 12)
    samples = np.concatenate([run[: 20 * RATE], dip, run[20 * RATE : 40 * RATE]])
    spans = find_speech(samples)
    assert all(span.duration <= LONGEST for span in spans)
    assert any(abs(span.end - 20.1) < 0.25 for span in spans)
    assert spans[-1].end - spans[0].start > 38


@pytest.mark.parametrize("options", [["-ar", "8000", "-c:a", "pcm_u8"], ["-ar", "48000", "-ac", "2"], ["-b:a", "32k"]])
def test_words_survive_the_form_of_the_file(
    options: list[str], talk: tuple[Samples, list[tuple[float, float]]], tmp_path: Path
) -> None:
    """A recording called .txt is heard as a recording; 8-bit sound of 8 kHz is harder, so the bar is lower."""
    name = "a.mp3" if "-b:a" in options else "a.wav"
    path = write_audio(talk[0], tmp_path / name, *options).rename(tmp_path / "a.txt")
    shares: list[float] = []
    heard = hear(path, listener=OpenListener(PROMPT), progress=shares.append)
    assert word_error_rate(" ".join(LINES), " ".join(word.text for word in words_of(heard))) < 0.3
    assert shares == sorted(shares) and shares[-1] == 1.0 and len(shares) > 3


def test_quiet_speech_is_heard(talk: tuple[Samples, list[tuple[float, float]]]) -> None:
    heard = listen(Sound(talk[0] * np.float32(0.03)), OpenListener(PROMPT))
    assert word_error_rate(" ".join(LINES), " ".join(word.text for word in words_of(heard))) < 0.2


def test_broken_off_recording_keeps_its_words_and_reports_the_rest(
    talk: tuple[Samples, list[tuple[float, float]]], tmp_path: Path
) -> None:
    path = write_audio(talk[0], tmp_path / "a.wav")
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    heard = hear(path)
    assert words_of(heard)
    assert any("breaks off" in each.reason and each.end > heard.duration + 5 for each in heard.unheard)


def test_damaged_and_missing_weights_are_an_input_error(tmp_path: Path) -> None:
    folder = model_folder()
    with pytest.raises(InputError, match="incomplete"):
        check_weights(tmp_path)
    shutil.copytree(folder, tmp_path / "copy")
    check_weights(tmp_path / "copy")
    weights = tmp_path / "copy" / "model.bin"
    data = bytearray(weights.read_bytes())
    data[len(data) // 2] ^= 1
    weights.write_bytes(data)
    with pytest.raises(InputError, match="damaged"):
        check_weights(tmp_path / "copy")


@pytest.mark.parametrize(
    ("words", "other", "readings"),
    [
        ("ankle jerk absent", "ankle jerk absent.", [None, None, None]),
        ("tibialis anterior", "to biolis anterior", ["to biolis", None]),
        ("knee five", "knee five minus", [None, "five minus"]),
        ("left five", "well left five", ["well left", None]),
        ("so abnormal", "so normal", [None, "normal"]),
        ("grade 4+ here", "grade 4 here", [None, "4", None]),
        ("extension iliopsoas", "extension", [None, ""]),
        ("a", "", [""]),
        ("", "a", []),
    ],
)
def test_other_readings(words: str, other: str, readings: list[str | None]) -> None:
    assert other_readings(words.split(), other.split()) == readings
