"""Whatever is said: no error, rows by the contract, and the same rows for the same words."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.engine import Engine
from pipeline.hear import Heard, InputError
from pipeline.hear.transcripts import read_transcript
from pipeline.hear.words import Utterance, Word
from pipeline.lexicon import load
from tests.engine.contract import breaches
from tests.scoring import AUTHORED, ROOT, read_cases

LEXICON = load()


@cache
def engine() -> Engine:
    return Engine()


def heard(text: str) -> Heard:
    try:
        return Heard(utterances=read_transcript(text))
    except InputError:
        return Heard()


def names() -> list[str]:
    """Everything that the lexicon says: terms, results, instructions, phrases."""
    entries = [*LEXICON.manoeuvres, *LEXICON.muscles, *LEXICON.nerves, *LEXICON.sites]
    found = [name for entry in entries for name in entry.names]
    found += [name for entry in LEXICON.manoeuvres for name in entry.section_names]
    found += [say for scale in LEXICON.scales for value in scale.values for say in value.say]
    found += [choice for entry in LEXICON.manoeuvres for way in entry.commands for words in way.all for choice in words]
    found += [phrase for phrases in LEXICON.phrases.values() for phrase in phrases]
    return sorted(set(found))


AROUND = """left right both sides bilaterally the same on other no not is are and but sorry correction scratch that
zero one two three four five plus minus out of over grade L5 S1 L two three S4 C seven MRC MAS degrees beats forty
throughout declined because pain if would normally remember good okay relax lovely , . ? ! - 4+ 5/5 5- 3 2+ um
er""".split()
WORDS = st.one_of(
    st.sampled_from(names()),
    st.sampled_from(AROUND),
    st.text(alphabet="abcdeghiklmnoprstuvwy'-", min_size=1, max_size=9),
)
TALK = st.lists(WORDS, min_size=1, max_size=40).map(" ".join)
CUES = """right left quite not isn't wasn't that's it's is was no the on both of those so i mean almost less than even
give or ish could be slash previously last week today letter notes say documented as find get compared with
versus all power quads sole plantar scrape ankle jerk nothing absent normal throughout hold hang let me see
don't win push we'll test next should but rest your look how drops sitting lastly word for either arm
wasting tone gait L4 C6 light touch at from to grade better what would you can't look seem good likewise
four two one sorry and don't think that's isn't doesn't everything everywhere but save swap those thought preop pain
still was last time meant""".split()
TERSE = st.lists(st.tuples(st.sampled_from(CUES), st.sampled_from(("", "", ",", "."))), min_size=1, max_size=6).map(
    lambda said: " ".join(map("".join, said))
)
"""A few words of those that the rules ask about, which stand at both ends of the talk more often than in a long one."""
SPOKEN = st.builds(
    lambda said, gaps: Heard(utterances=_utterances(said, gaps), spoken=True),
    st.lists(
        st.lists(st.tuples(WORDS, st.floats(0, 1), st.lists(WORDS, max_size=2)), min_size=1, max_size=12),
        max_size=5,
    ),
    st.lists(st.floats(0, 3), min_size=5, max_size=5),
)


def _utterances(said: list[list[tuple[str, float, list[str]]]], gaps: list[float]) -> list[Utterance]:
    """Words as a recogniser gives them: one at a time, unsure of some, with other readings."""
    utterances, at = [], 0.0
    for words, gap in zip(said, gaps, strict=False):
        spoken = []
        for text, confidence, others in words:
            for piece in text.split():
                spoken.append(
                    Word(text=piece, start=at, end=at + 0.3, confidence=confidence, alternatives=tuple(others))
                )
                at += 0.3
        utterances.append(Utterance(words=spoken))
        at += gap
    return utterances


def check(talk: Heard) -> None:
    analysis = engine().analyse(talk)
    assert [problem for row in analysis.record.rows for problem in breaches(row)] == []
    keys = [row.key for row in analysis.record.rows]
    assert len(keys) == len(set(keys)), "one row for one manoeuvre, side and site"
    words = [word.text for utterance in talk.utterances for word in utterance.words]
    assert [word.text for block in analysis.transcript.blocks for word in block.words] == words


def check_twice(talk: Heard) -> None:
    check(talk)
    assert engine().analyse(talk) == engine().analyse(talk)


@settings(max_examples=300)
@given(TALK)
def test_talk_about_examinations_in_any_order(text: str) -> None:
    check_twice(heard(text))


@settings(max_examples=600)
@given(TERSE)
def test_talk_that_begins_and_ends_with_any_word(text: str) -> None:
    check(heard(text))


@pytest.mark.parametrize(
    "text",
    [
        "it's normal, both five, the leg, sorry no left leg",
        "way not that's except the arm",
        "ankle jerks hard to get on the left, fine on the right",
        "quads not minus, zero wasting, four preop",
    ],
)
def test_talk_that_once_raised(text: str) -> None:
    check_twice(heard(text))


@settings(max_examples=150)
@given(SPOKEN)
def test_words_from_an_unsure_recogniser(talk: Heard) -> None:
    check_twice(talk)


@settings(max_examples=200)
@given(st.text(max_size=300))
def test_any_text(text: str) -> None:
    check_twice(heard(text))


def test_every_case_keeps_the_contract() -> None:
    for file in AUTHORED:
        for case in read_cases(file):
            check(heard(json.dumps({"transcript": case["transcript"]})))


def test_every_name_with_a_value() -> None:
    all_names = names()
    for at in range(0, len(all_names), 20):
        check(heard(" ".join(f"On the left {name} is two." for name in all_names[at : at + 20])))


def test_two_processes_agree_whatever_the_hash_seed() -> None:
    program = (
        "from tests.scoring import *; from pipeline.engine import Engine; engine = Engine();"
        "print([engine.analyse(heard(case)) for file in AUTHORED for case in read_cases(file)[:4]])"
    )
    printed = [
        subprocess.run(
            [sys.executable, "-c", program], cwd=ROOT, env=os.environ | {"PYTHONHASHSEED": seed},
            check=True, capture_output=True, text=True,
        ).stdout
        for seed in ("1", "4242")
    ]  # fmt: skip
    assert printed[0] == printed[1] and "ExamRecord" in printed[0]
