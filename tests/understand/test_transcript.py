"""The transcript: every heard word once and in order, in blocks of one kind of talk, with the mended terms."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.hear import Heard
from pipeline.record.transcript import SpokenWord, Talk, Transcript
from pipeline.understand.pipeline import read
from tests.understand.talks import analysis, engine, heard

LESSON = (
    "Right tibia alice anterior four minus. Push down against my hand. Good."
    " | Remember that the knee jerk is L3 and L4. Any questions so far? | Left pin brick reduced at L5, scratch that."
    " | His brother has absent ankle jerks too. The plan is an MRI."
)
PIECES = (
    "left", "right", "tibia alice anterior", "four minus", "4+/5", "absent.", "um,", "—", "scratch that", "remember",
    "if it were", "push against my hand", "good", "gait normal", "L5", "pin brick", "?", "...", "sorry", "his brother",
)  # fmt: skip

TURNS = (
    "more than |", "less than |", "three", "would", "a two", "in most people", "but his", "again", "which", "|",
    "no clonus", "used to be", "both", "on the right", "means", "last year", "could be normal", "wasting", "is five",
)  # fmt: skip


def words(transcript: Transcript) -> list[SpokenWord]:
    return [word for block in transcript.blocks for word in block.words]


def as_heard(talk: Heard) -> list[tuple[str, float, float]]:
    return [(word.text, word.start, word.end) for each in talk.utterances for word in each.words]


def check(talk: str) -> None:
    transcript = analysis(talk).transcript
    assert [(word.text, word.start, word.end) for word in words(transcript)] == as_heard(heard(talk))
    for block in transcript.blocks:
        assert block.start == block.words[0].start and block.end >= block.words[-1].end
    kinds = [block.kind for block in transcript.blocks]
    assert all(first is not second for first, second in pairwise(kinds))


def test_every_word_once_and_in_order() -> None:
    check(LESSON)


@settings(max_examples=40)
@given(st.lists(st.sampled_from(PIECES), max_size=12).map(lambda pieces: " ".join(["left", *pieces])))
def test_every_word_once_and_in_order_whatever_is_said(talk: str) -> None:
    check(talk)


@pytest.mark.parametrize(
    "talk",
    [
        LESSON,
        "the clonus here was one beat and more than | four would be too many none on the right",
        "on the left less than | two would have worried me plantar down",
    ],
)
def test_each_token_is_in_one_clause(talk: str) -> None:
    check_clauses(talk)


@settings(max_examples=60)
@given(st.lists(st.sampled_from((*PIECES, *TURNS)), max_size=14).map(lambda pieces: " ".join(["left", *pieces])))
def test_each_token_is_in_one_clause_whatever_is_said(talk: str) -> None:
    check_clauses(talk)


def check_clauses(talk: str) -> None:
    doc = read(engine().nlp, heard(talk))
    told = [at for clause in doc._.clauses for at in range(clause.start, clause.end)]
    assert told == list(range(len(doc._.heard_tokens)))


def test_nothing_heard_is_an_empty_transcript() -> None:
    empty = engine().analyse(Heard())
    assert empty.transcript.blocks == [] and empty.record.rows == []


def test_blocks_tell_the_kinds_of_a_lesson() -> None:
    blocks = analysis(LESSON).transcript.blocks
    said = [(block.kind, " ".join(word.text for word in block.words)) for block in blocks]
    for kind, part in (
        (Talk.ASIDE, "Any questions so far?"),
        (Talk.RESULT, "anterior four minus."),
        (Talk.INSTRUCTION, "Push down against my hand."),
        (Talk.TEACHING, "Remember that the knee jerk is L3 and L4."),
        (Talk.RESULT, "Left pin brick reduced at L5,"),
        (Talk.CORRECTION, "scratch that."),
        (Talk.ASIDE, "His brother has absent ankle jerks too."),
    ):
        assert any(kind is told and part in words for told, words in said), (kind, part, said)


@pytest.mark.parametrize(
    ("talk", "mended"),
    [
        ("right tibia alice anterior four minus", ["tibia=tibialis anterior", "alice=", "anterior="]),
        ("left pin brick reduced at L5", ["pin=pinprick", "brick="]),
        ("the right gas truck nemius is five", ["gas=gastrocnemius", "truck=", "nemius="]),
        ("left uncle jerk absent", ["uncle=ankle jerk", "jerk="]),
        ("right knee extension four", []),
        ("good morning, sit down please", []),
    ],
)
def test_a_mended_term_stands_on_its_first_word(talk: str, mended: list[str]) -> None:
    found = words(analysis(talk).transcript)
    assert [f"{word.text}={word.mended}" for word in found if word.mended is not None] == mended


def test_evidence_gives_the_words_as_heard_and_as_mended() -> None:
    (row,) = analysis("left pin brick reduced at L5").record.rows
    (span,) = row.evidence
    assert (span.heard, span.mended) == ("left pin brick reduced at L5", "left pinprick reduced at L5")
    last = heard("left pin brick reduced at L5").utterances[-1]
    assert (span.start, span.end) == (last.start, last.end)
