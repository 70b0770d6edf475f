"""Readers of transcripts, checked against what the formats say and against webvtt-py and srt."""

from __future__ import annotations

import codecs
import json
from datetime import timedelta
from pathlib import Path

import pytest
import srt
import webvtt
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pipeline.hear import Heard, InputError, Utterance, hear
from pipeline.hear.transcripts import SECONDS_A_WORD, read_transcript

VTT = """WEBVTT - an invented examination
Kind: captions

STYLE
::cue { color: red }

NOTE the left leg
is not in this recording

opening
00:00:01.000 --> 00:00:03.000 align:start position:10%
<v.loud Examiner>Right leg, <i>no</i> wasting</v>

00:04.000 --> 00:06.500
tone &amp; power
are normal
"""


def texts(utterances: list[Utterance]) -> list[str]:
    return [utterance.text for utterance in utterances]


def test_webvtt_agrees_with_webvtt_py() -> None:
    ours = read_transcript(VTT)
    captions = webvtt.from_string(VTT).captions
    assert texts(ours) == ["Right leg, no wasting", "tone & power are normal"]
    assert [each.text.split() for each in ours] == [caption.text.replace("&amp;", "&").split() for caption in captions]
    assert [(each.start, each.end) for each in ours] == [(1, 3), (4, 6.5)]


def test_webvtt_word_times_are_kept() -> None:
    cue = "WEBVTT\n\n00:01.000 --> 00:05.000\nankle<00:00:02.000><c> jerk</c><00:00:03.500><c> absent</c>\n"
    (utterance,) = read_transcript(cue)
    assert [word.text for word in utterance.words] == ["ankle", "jerk", "absent"]
    assert utterance.words[0].start == 1
    assert utterance.words[1].start == pytest.approx(2.2, abs=0.15)
    assert utterance.words[2].start == pytest.approx(3.5, abs=0.25)
    assert utterance.words[2].end == 5


def test_srt_agrees_with_srt_library() -> None:
    subtitles = [
        srt.Subtitle(7, timedelta(seconds=1), timedelta(seconds=2.5), "{\\an8}<b>knee</b> jerk"),
        srt.Subtitle(8, timedelta(seconds=3), timedelta(seconds=4), "two plus\nleft"),
    ]
    ours = read_transcript(srt.compose(subtitles, reindex=False))
    assert texts(ours) == ["knee jerk", "two plus left"]
    assert [(each.start, each.end) for each in ours] == [(1, 2.5), (3, 4)]


def test_sloppy_srt_loses_no_words() -> None:
    """A blank line inside a block, a forgotten one between blocks, and blocks out of order."""
    text = (
        "1\n00:00:05,000 --> 00:00:06,000\nsecond\n\nstill second\n2\n00:00:01,000 --> 00:00:02,000\npower 4\n\n"
        "3\n00:00:07,000 --> 00:00:07,000\nlast < 3 and > 2"
    )
    assert texts(read_transcript(text)) == ["power 4", "second still second", "last < 3 and > 2"]


def test_broken_time_line_is_named() -> None:
    with pytest.raises(InputError, match="line 6"):
        read_transcript("1\n00:00:01,000 --> 00:00:02,000\none\n\n2\n00:00:03,000 --> oops\ntwo\n")


@pytest.mark.parametrize("stamp", ["[0:05]", "[0:00:05]", "0:05", "[00:05.0]"])
def test_stamped_text(stamp: str) -> None:
    first, second = read_transcript(f"{stamp} right knee\n{stamp.replace('05', '09')} left knee\n")
    assert (first.text, second.text) == ("right knee", "left knee")
    assert [word.start for word in first.words] == pytest.approx([5, 5 + 4 * 6 / 10])
    assert (first.end, second.start) == (9, 9)
    assert second.end == pytest.approx(9 + 2 * SECONDS_A_WORD)


def test_text_without_stamps_and_lines_between_stamps() -> None:
    (plain,) = read_transcript("gait is normal")
    assert (plain.start, plain.end) == (0, pytest.approx(3 * SECONDS_A_WORD, abs=0.001))
    one, two, three = read_transcript("[0:10] abcd\nefgh\n[0:19] end")
    assert (one.start, two.start, two.end, three.start) == (10, 15, 19, 19)


def test_backward_stamp_keeps_the_order_of_the_talk() -> None:
    utterances = read_transcript("[1:00] one\n[2:00] two\n[1:30] three\n[3:00] four")
    assert texts(utterances) == ["one", "two", "three", "four"]
    starts = [each.start for each in utterances]
    assert starts == sorted(starts)
    assert starts[3] == 180


def test_words_that_look_like_times_stay_words() -> None:
    assert read_transcript("power 4:75 and 10:30 there")[0].text == "power 4:75 and 10:30 there"


VOSK = {
    "result": [
        {"conf": 0.9, "start": 1.0, "end": 1.4, "word": "ankle"},
        {"conf": 0.4, "start": 1.4, "end": 1.9, "word": "inversion"},
    ],
    "text": "ankle inversion",
}
LATER = {"result": [{"conf": 1.0, "start": 3.0, "end": 3.2, "word": "four"}], "text": "four"}


@pytest.mark.parametrize(
    "text",
    [
        json.dumps([VOSK, LATER]),
        json.dumps(VOSK, indent=2) + "\n" + json.dumps({"partial": "fo"}) + "\n" + json.dumps(LATER, indent=2),
        json.dumps(LATER) + json.dumps({"text": ""}) + json.dumps(VOSK),
    ],
)
def test_vosk_results(text: str) -> None:
    first, second = read_transcript(text)
    assert [(word.text, word.start, word.end, word.confidence) for word in first.words] == [
        ("ankle", 1.0, 1.4, 0.9),
        ("inversion", 1.4, 1.9, 0.4),
    ]
    assert second.text == "four"


def test_vosk_alternatives_stand_beside_the_words_that_differ() -> None:
    best = {"text": VOSK["text"], "result": VOSK["result"], "confidence": 200.1}
    others = [{"text": "ankle in version", "confidence": 199.0}, {"text": "ankle eversion", "confidence": 198.0}]
    (utterance,) = read_transcript(json.dumps({"alternatives": [best, *others]}))
    assert [word.alternatives for word in utterance.words] == [(), ("in version", "eversion")]


def test_vosk_partial_without_a_result_is_kept() -> None:
    assert texts(read_transcript(json.dumps(VOSK) + json.dumps({"partial": "left four"}))) == [
        "ankle inversion",
        "left four",
    ]


def test_transcript_json() -> None:
    text = json.dumps({"id": "x", "transcript": [{"t": 0.0, "text": "right leg"}, {"t": 4, "text": "no wasting"}]})
    for form in (text, text + "\n", '{"t": 0, "text": "right leg"}\n{"t": 4, "text": "no wasting"}\n'):
        assert [(each.text, each.start) for each in read_transcript(form)] == [("right leg", 0), ("no wasting", 4)]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('{"transcript": [{"t": 0, "text": "a"}]}\n{"transcript": []}', "one transcript"),
        ('{"transcript": [{"t": 0, "te', "line 1"),
        ('{"words": ["a"]}', "unknown JSON"),
        ('{"transcript": ["a"]}', "unknown JSON"),
        ("WEBVTT\n\n", "no words"),
        ("... - \n", "no words"),
    ],
)
def test_unusable_transcripts_say_what_to_do(text: str, told: str) -> None:
    with pytest.raises(InputError, match=told) as caught:
        read_transcript(text)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    "data",
    [
        "réflexe présent".encode(),
        codecs.BOM_UTF8 + "réflexe présent".encode(),
        "réflexe présent".encode("utf-16"),
        codecs.BOM_UTF16_BE + "réflexe présent".encode("utf-16-be"),
        "réflexe présent".encode("latin-1"),
    ],
)
def test_encodings(data: bytes, tmp_path: Path) -> None:
    (path := tmp_path / "a.txt").write_bytes(data)
    assert texts(hear(path).utterances) == ["réflexe présent"]


@pytest.mark.parametrize("name", ["a.txt", "a.mp3", "a", "a.json"])
def test_content_beats_extension(name: str, tmp_path: Path) -> None:
    (path := tmp_path / name).write_text(VTT)
    heard = hear(path)
    assert texts(heard.utterances) == ["Right leg, no wasting", "tone & power are normal"]
    assert (heard.duration, heard.spoken, heard.unheard) == (6.5, False, [])


def times_are_sane(heard: Heard) -> None:
    assert heard.utterances
    for utterance in heard.utterances:
        assert utterance.words
        for word in utterance.words:
            assert word.text.strip() and 0 <= word.start <= word.end <= heard.duration


starts_of_formats = st.sampled_from(
    [b"", b"WEBVTT\n\n", b"1\n00:00:01,000 --> 00:00:02,000\n", b'{"text": ', b"[0:05] "]
)


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(start=starts_of_formats, data=st.binary(max_size=300))
def test_any_bytes_give_words_or_one_clear_line(start: bytes, data: bytes, tmp_path: Path) -> None:
    (path := tmp_path / "any").write_bytes(start + data)
    try:
        times_are_sane(hear(path))
    except InputError as error:
        assert str(error) and "\n" not in str(error)


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from("text result word start end conf alternatives partial transcript t".split()),
            inner,
            max_size=5,
        )
    ),
    max_leaves=12,
)


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(value=json_values, ascii_only=st.booleans())
def test_any_json_gives_words_or_one_clear_line(value: object, ascii_only: bool, tmp_path: Path) -> None:
    data = json.dumps(value, ensure_ascii=ascii_only).encode("utf-8", "surrogatepass")
    (path := tmp_path / "any.json").write_bytes(data)
    try:
        times_are_sane(hear(path))
    except InputError as error:
        assert str(error) and "\n" not in str(error)


word = st.text(st.characters(codec="utf-8", categories=["L", "N"]), min_size=1, max_size=8)
block = st.tuples(st.integers(0, 50_000), st.integers(-2000, 5000), st.lists(word, min_size=1, max_size=6))


@given(st.lists(block, min_size=1, max_size=8))
def test_no_cue_word_is_lost(blocks: list[tuple[int, int, list[str]]]) -> None:
    def clock(milliseconds: int) -> str:
        return f"00:{milliseconds // 60_000:02}:{milliseconds // 1000 % 60:02}.{milliseconds % 1000:03}"

    cues = [
        f"{clock(start)} --> {clock(max(0, start + length))}\n{' '.join(words)}\n" for start, length, words in blocks
    ]
    ours = read_transcript("WEBVTT\n\n" + "\n".join(cues))
    in_order = sorted(blocks, key=lambda each: each[0])
    assert [word.text for each in ours for word in each.words] == [word for _, _, words in in_order for word in words]
    assert [each.start for each in ours] == pytest.approx([start / 1000 for start, _, _ in in_order])


line = st.tuples(st.none() | st.integers(0, 3599), st.lists(word, min_size=1, max_size=6))


@given(st.lists(line, min_size=1, max_size=8))
def test_no_typed_word_is_lost_and_time_goes_forward(lines: list[tuple[int | None, list[str]]]) -> None:
    text = "\n".join(
        ("" if seconds is None else f"[{seconds // 60}:{seconds % 60:02}] ") + "x" + " ".join(words)
        for seconds, words in lines
    )
    words = [word for each in read_transcript(text) for word in each.words]
    assert " ".join(word.text for word in words) == " ".join("x" + " ".join(words) for _, words in lines)
    starts = [word.start for word in words]
    assert starts == sorted(starts)


def test_three_hours_cost_six_times_half_an_hour() -> None:
    """Linear, counted in calls instead of seconds: profile counts do not depend on the machine."""
    import cProfile
    import pstats

    def calls(minutes: int) -> int:
        lines = [f"[{n // 60}:{n % 60:02}] right ankle jerk two plus, left absent" for n in range(0, minutes * 60, 2)]
        profile = cProfile.Profile()
        profile.enable()
        read_transcript("\n".join(lines))
        profile.disable()
        return int(pstats.Stats(profile).total_calls)  # type: ignore[attr-defined]

    assert calls(180) < 6.5 * calls(30)
