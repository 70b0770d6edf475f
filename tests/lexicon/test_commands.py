"""What is said to a patient asks for one manoeuvre, or none. The sentences are our own: common practice, no source."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from pipeline.lexicon import load
from pipeline.understand.commands import CommandFinder

LINES = [
    tuple(line.split(": ", 1))
    for line in Path(__file__).with_name("commands.txt").read_text(encoding="utf-8").splitlines()
    if not line.startswith("#")
]
CLEAR = [line for line in LINES if "|" not in line[0]]
EITHER_LIMB = [line for line in LINES if "|" in line[0]]
LEXICON = load()
REGION = {entry.id: entry.region for entry in LEXICON.manoeuvres}
FINDER = CommandFinder(LEXICON)
# the same patterns under names that sort the other way round
BACKWARDS = {name: f"{999 - at:03}" for at, name in enumerate(sorted(REGION))}
RENAMED = CommandFinder(
    LEXICON.model_copy(
        update={"manoeuvres": [entry.model_copy(update={"id": BACKWARDS[entry.id]}) for entry in LEXICON.manoeuvres]}
    )
)


def words(said: str) -> list[str]:
    return re.findall(r"[a-z0-9']+", said.lower())


def test_there_are_enough_sentences_and_every_commanded_manoeuvre_has_one() -> None:
    assert len(LINES) >= 700
    assert len({said for _, said in LINES}) == len(LINES)
    asked = {want for wanted, _ in LINES for want in wanted.split("|")}
    assert asked - {"-"} == {entry.id for entry in LEXICON.manoeuvres if entry.commands}


@pytest.mark.parametrize(("want", "said"), CLEAR)
def test_a_clear_sentence_asks_for_its_manoeuvre_whatever_is_under_examination(want: str, said: str) -> None:
    found = {FINDER.find(words(said), region) for region in (None, *REGION.values())}
    assert found == {None if want == "-" else want}


@pytest.mark.parametrize(("want", "said"), CLEAR)
def test_no_clear_sentence_is_decided_by_the_order_of_names(want: str, said: str) -> None:
    assert RENAMED.find(words(said)) == BACKWARDS.get(want)


@pytest.mark.parametrize(("wanted", "said"), EITHER_LIMB)
def test_a_sentence_for_either_limb_is_decided_by_the_region_under_examination(wanted: str, said: str) -> None:
    for want in wanted.split("|"):
        assert FINDER.find(words(said), REGION[want]) == want
