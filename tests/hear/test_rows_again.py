"""What the second listen does to the rows of a recording."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import pytest
from click.testing import CliRunner

from pipeline.cli import cli
from pipeline.engine import Engine
from pipeline.fill.confidence import ACCEPTED_VARIABLE, stored_model
from pipeline.hear.agree import AGREE
from pipeline.hear.choices import Replay
from pipeline.hear.errors import InputError
from pipeline.hear.words import Again, Heard, Utterance, Word
from pipeline.record.model import Row
from tests.hear.test_second_listen import spoken

SAID = "left ankle dorsiflexion is four minus today"
SOUND = spoken("Left ankle dorsiflexion is four minus today.", "flite:slt")


@cache
def engine() -> Engine:
    return Engine()


def heard_as(text: str, again: Again | None, *, agreed: bool = False, confidence: float = 0.95) -> Heard:
    """`text` spread evenly over the sound, as two listeners heard it that never differed."""
    words = text.split()
    step = (SOUND.duration - 1.0) / len(words)
    utterance = [
        Word(
            text=word,
            start=round(0.5 + step * place, 3),
            end=round(0.5 + step * (place + 1), 3),
            confidence=confidence,
            flags=(AGREE,) if agreed or (place == 0 and again is None) else (),
        )
        for place, word in enumerate(words)
    ]
    return Heard(utterances=[Utterance(words=utterance)], duration=SOUND.duration, spoken=True, again=again)


def row_of(heard: Heard) -> Row:
    (row,) = engine().structure(heard).rows
    return row


@pytest.mark.parametrize(
    ("text", "slot", "value"),
    [
        (SAID.replace("left", "right"), "side", "left"),
        (SAID.replace("minus", "plus"), "value", "4-"),
    ],
)
def test_what_the_sound_denies_stays_and_is_put_to_a_person(text: str, slot: str, value: str) -> None:
    row = row_of(heard_as(text, Replay(SOUND)))
    assert getattr(row, slot) != value
    assert row.confirm and "listeners_disagree" in row.flags
    assert (slot, value) in {(one.slot, one.value) for one in row.alternatives}
    assert row.confidence < row_of(heard_as(SAID, Replay(SOUND))).confidence


def test_what_the_sound_bears_out_is_as_sure_as_before_or_surer() -> None:
    row = row_of(heard_as(SAID, Replay(SOUND)))
    assert not {"listeners_disagree", "low_audio"} & {*row.flags}
    assert (row.side.value, row.value) == ("left", "4-")
    assert not [one for one in row.alternatives if one.slot in ("side", "value")]


def test_only_legal_values_are_asked_for_and_only_where_the_hearing_is_unsure() -> None:
    asked: list[Sequence[str]] = []

    def again(start: float, end: float, phrases: Sequence[str]) -> list[tuple[str, float]]:
        assert 0 <= start < end <= SOUND.duration
        asked.append(phrases)
        return [(phrase, 1 / len(phrases)) for phrase in phrases]

    row_of(heard_as(SAID, again, agreed=True))
    assert asked == []
    row_of(heard_as("left ankle inversion is four minus today", again, agreed=True))
    assert {"left ankle inversion is four minus today", "left ankle eversion is four minus today"} <= {*asked[0]}
    row_of(heard_as(SAID, again))
    assert ["left ankle dorsiflexion is four", "right ankle dorsiflexion is four"] in asked
    assert any("dorsiflexion is five minus today" in " ".join(phrases) for phrases in asked)
    assert not any("six" in phrase or "left left" in phrase for phrases in asked for phrase in phrases)


def test_an_undecided_sound_passes_no_side_and_no_grade() -> None:
    row = row_of(heard_as(SAID, lambda start, end, phrases: [(phrase, 1 / len(phrases)) for phrase in phrases]))
    assert row.confirm and "low_audio" in row.flags


def test_a_transcript_is_not_asked_about() -> None:
    assert Heard(utterances=[]).again is None
    assert "again" not in heard_as(SAID, Replay(SOUND)).model_dump()


def test_the_user_says_which_chance_of_a_wrong_row_passes(monkeypatch: pytest.MonkeyPatch) -> None:
    heard = heard_as(SAID, None, agreed=True)
    assert Engine(accepted=0).structure(heard).rows[0].flags == ["low_confidence"]
    assert not Engine(accepted=1).structure(heard).rows[0].confirm
    monkeypatch.setenv(ACCEPTED_VARIABLE, "0")
    assert Engine().structure(heard).rows[0].confirm
    monkeypatch.setenv(ACCEPTED_VARIABLE, "5 %")
    with pytest.raises(InputError, match="a chance from 0 to 1"):
        Engine()


def test_the_stored_confidence_is_honest() -> None:
    model = stored_model()
    rows = sum(one["rows"] for one in model.reliability)
    assert rows > 1000
    assert sum(abs(one["confidence"] - one["right"]) * one["rows"] for one in model.reliability) / rows < 0.03


def test_the_help_tells_the_chance_that_passes_by_default() -> None:
    shown = CliRunner().invoke(cli, ["structure", "--help"]).output
    assert f"or else {stored_model().accepted}." in " ".join(shown.split())
