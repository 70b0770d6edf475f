"""What is said to a patient asks for one manoeuvre, or none. The sentences are our own: common practice, no source."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from pipeline.lexicon import load
from pipeline.lexicon.model import Command
from pipeline.understand.commands import CommandFinder

LINES = [
    tuple(line.split(": ", 1))
    for line in Path(__file__).with_name("commands.txt").read_text(encoding="utf-8").splitlines()
    if not line.startswith("#")
]
FINDER = CommandFinder(load())


def plain(text: str) -> str:
    return f" {' '.join(re.findall(r'[a-z0-9]+', text.lower().replace(chr(39), '').replace('-', ' ')))} "


def met(command: Command, said: str) -> bool:
    return all(any(plain(word) in plain(said) for word in choice) for choice in command.all) and not any(
        plain(word) in plain(said) for word in command.none
    )


def test_there_are_enough_sentences_and_every_commanded_manoeuvre_has_one() -> None:
    assert len(LINES) >= 150
    assert {want for want, _ in LINES} - {"-"} == {entry.id for entry in load().manoeuvres if entry.commands}


@pytest.mark.parametrize(("want", "said"), LINES)
def test_a_sentence_meets_the_commands_of_one_manoeuvre_only(want: str, said: str) -> None:
    asked = [entry.id for entry in load().manoeuvres if any(met(command, said) for command in entry.commands)]
    assert asked == ([] if want == "-" else [want])


@pytest.mark.parametrize(("want", "said"), LINES)
def test_the_command_finder_names_it(want: str, said: str) -> None:
    assert (FINDER.find(re.findall(r"[a-z0-9']+", said.lower())) or "-") == want
