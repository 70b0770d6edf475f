"""Captions can be read: lines, speed, sync, order, kinds of talk; and readers of both formats accept them."""

import re
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest
import webvtt as reader
from hypothesis import given
from hypothesis import strategies as st

from pipeline.export.captions import LINE, SPEED, Cue, cues, srt, stamp, two_lines, webvtt
from pipeline.export.chapters import chapters, webvtt_chapters
from pipeline.export.exam import Exam
from pipeline.export.spoken import block_text, changes, shown_words
from pipeline.lexicon import load
from pipeline.record.model import ExamRecord
from pipeline.record.transcript import Block, SpokenWord, Talk, Transcript
from tests.export.cases import cases
from tests.export.sessions import BEDSIDE, bedside, hour, spoken_case, transcript

LEXICON = load()
CASES = {case["id"]: case for case in cases()}
MILLISECOND = 0.0011


def check(talk: Transcript) -> list[Cue]:
    """All limits at once; returns the cues for what else a test wants to know."""
    words, found = shown_words(talk), cues(shown_words(talk))
    assert " ".join(cue.text for cue in found).split() == [word.text for word in words]
    at = 0
    for cue, following in zip(found, [*found[1:], None], strict=True):
        assert 1 <= len(cue.lines) <= 2 and all(0 < len(line) <= LINE for line in cue.lines)
        size = len(cue.text.split())
        mine, at = words[at : at + size], at + size
        assert {word.kind for word in mine} == {cue.kind}
        # In sync: shown with the first word, and not gone before the last one ends (but for the next cue).
        assert abs(cue.start - mine[0].start) <= 0.2
        assert cue.end >= min(mine[-1].end, following.start if following else mine[-1].end) - 0.2
        assert cue.end > cue.start
        if following:
            assert cue.end <= following.start + MILLISECOND
        # Slow enough, unless there is no time left before the next cue.
        if len(cue.text) / (cue.end - cue.start) > SPEED:
            assert following and following.start - cue.end < MILLISECOND
    return found


def speeds(found: list[Cue]) -> list[float]:
    return [len(cue.text) / (cue.end - cue.start) for cue in found]


@pytest.mark.parametrize("case_id", CASES)
def test_a_case_spoken_without_a_pause_can_be_read(case_id: str) -> None:
    found = check(spoken_case(CASES[case_id]))
    assert max(speeds(found)) <= SPEED


def test_speech_that_is_too_fast_is_shown_as_long_as_it_can_be() -> None:
    talk = transcript([("result", CASES["a1-01"]["clean"])], rate=30)
    found = check(talk)
    assert max(speeds(found)) > SPEED


def test_bursts_of_fast_speech_are_spread_over_the_pauses_around_them() -> None:
    """Half of the talk is faster than can be read, but the pauses leave time enough."""
    lines = [
        ("result", text)
        for text in ("Hip flexion five on the right and five on the left.", "Knee extension five minus.") * 6
    ]
    found = check(transcript(lines, rate=24, pause=1.2))
    assert max(speeds(found)) <= SPEED


def test_kinds_of_talk_are_kept_apart() -> None:
    found = check(bedside().transcript)
    text = webvtt(found)
    assert re.findall(r"<c\.(\w+)>", text) == [cue.kind.value for cue in found]
    assert {cue.kind.value for cue in found} == {kind for kind, _ in BEDSIDE}


def test_mended_terms_stand_in_the_captions_and_no_misheard_word_does() -> None:
    text = " ".join(cue.text for cue in check(bedside().transcript))
    assert "Left iliopsoas four." in text and "tibialis anterior. four minus" in text
    assert not re.search(r"ilia|tibby|alice|interior", text)


def test_changes_are_listed_with_their_times() -> None:
    talk = bedside().transcript
    first = talk.blocks[3].words[8]
    found = changes(talk)
    assert [(one.heard, one.mended) for one in found] == [
        ("ilia so as", "iliopsoas"),
        ("ilia so as", "Iliopsoas"),
        ("tibby alice interior.", "tibialis anterior."),
    ]
    assert (found[0].start, found[0].end) == (first.start, talk.blocks[3].words[10].end)


def test_the_words_of_a_mended_phrase_share_its_time() -> None:
    words = [SpokenWord(text="x", start=1, end=2, mended="aaaa bb"), SpokenWord(text="y", start=2, end=4, mended="")]
    shown = shown_words(Transcript(blocks=[Block(start=1, end=4, kind=Talk.RESULT, words=words)]))
    assert [(word.text, word.start, word.end) for word in shown] == [("aaaa", 1, 3), ("bb", 3, 4)]


@pytest.mark.parametrize("make", [bedside, hour])
def test_readers_accept_both_formats(tmp_path: Path, make: Callable[[], Exam]) -> None:
    found = check(make().transcript)
    (tmp_path / "c.vtt").write_text(webvtt(found))
    (tmp_path / "c.srt").write_text(srt(found))
    for captions in (reader.read(tmp_path / "c.vtt"), reader.from_srt(tmp_path / "c.srt")):
        assert [caption.text.replace("\n", " ") for caption in captions] == [cue.text for cue in found]
        for caption, cue in zip(captions, found, strict=True):
            assert (stamp(cue.start), stamp(cue.end)) == (caption.start, caption.end)


WORD = st.text(st.characters(codec="ascii", categories=["L", "N", "P"]), min_size=1, max_size=60)


@given(st.lists(st.tuples(WORD, st.floats(0.01, 3), st.sampled_from(list(Talk))), min_size=1, max_size=40))
def test_any_talk_makes_cues_that_keep_the_limits(spoken: list[tuple[str, float, Talk]]) -> None:
    blocks, now = [], 0.0
    for text, length, kind in spoken:
        word = SpokenWord(text=text, start=now, end=now + length)
        blocks.append(Block(start=now, end=now + length, kind=kind, words=[word]))
        now += length
    found = cues(shown_words(Transcript(blocks=blocks)))
    assert "".join(cue.text for cue in found).replace(" ", "") == "".join(text for text, _, _ in spoken)
    assert all(len(line) <= LINE for cue in found for line in cue.lines)
    assert all(cue.end <= following.start + MILLISECOND for cue, following in pairwise(found))


def test_marks_of_the_format_in_words_are_kept_as_words(tmp_path: Path) -> None:
    talk = transcript([("aside", "less < than & more --> than")])
    (tmp_path / "c.vtt").write_text(webvtt(cues(shown_words(talk))))
    assert "less &lt; than &amp; more --&gt; than" in (tmp_path / "c.vtt").read_text()
    assert len(reader.read(tmp_path / "c.vtt")) == 1


def test_lines_break_where_it_reads_well() -> None:
    halves = ("Power of the right leg is full,", "and that of the left is not")
    assert two_lines(" ".join(halves)) == halves
    assert two_lines("x" * 42) == ("x" * 42,)
    assert two_lines("x" * 43) is None


@pytest.mark.parametrize(
    ("seconds", "text"), [(0, "00:00:00.000"), (59.9996, "00:01:00.000"), (3661.5, "01:01:01.500")]
)
def test_time_stamps(seconds: float, text: str) -> None:
    assert stamp(seconds) == text


def test_nothing_said_makes_valid_empty_files(tmp_path: Path) -> None:
    (tmp_path / "c.vtt").write_text(webvtt([]))
    assert len(reader.read(tmp_path / "c.vtt")) == 0
    assert srt([]) == ""


def test_chapters_follow_the_steps_and_begin_with_the_instruction(tmp_path: Path) -> None:
    shown = bedside()
    blocks = shown.transcript.blocks
    found = chapters(shown, LEXICON)
    assert [(chapter.title, chapter.start) for chapter in found] == [
        ("Introduction", 0.0),
        ("Power, lower limbs", blocks[2].start),
        ("Reflexes, lower limbs", blocks[9].start),
    ]
    assert [chapter.end for chapter in found] == [blocks[2].start, blocks[9].start, blocks[10].end]
    (tmp_path / "c.vtt").write_text(webvtt_chapters(found))
    assert [caption.text for caption in reader.read(tmp_path / "c.vtt")] == [chapter.title for chapter in found]


def test_a_session_without_results_is_one_chapter() -> None:
    talk = bedside().transcript
    (only,) = chapters(Exam(ExamRecord(), talk), LEXICON)
    assert (only.title, only.start, only.end) == ("Introduction", 0, talk.blocks[-1].end)


def test_the_text_of_a_block_is_what_is_shown() -> None:
    assert block_text(bedside().transcript.blocks[6]) == "tibialis anterior. four minus, L four five."
