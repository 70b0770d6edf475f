"""What controls and answers make of the record."""

from __future__ import annotations

import pytest

from pipeline.engine import Engine
from pipeline.hear.listener import Reading
from pipeline.hear.speech import Span
from pipeline.hear.words import Word
from pipeline.lexicon.live import ControlId, controls
from pipeline.live.account import MARKED, Account, Answer, Order, last_rows, understood, words_for
from pipeline.live.controls import Spoken
from pipeline.record.model import Row


def words(text: str, start: float = 0.0) -> list[Word]:
    said = [Word(text=word, start=start + place * 0.3, end=start + place * 0.3 + 0.25) for place, word in
            enumerate(text.split())]  # fmt: skip
    return said


class Talk:
    """Sentences and orders, one after the other."""

    def __init__(self) -> None:
        self.account = Account()
        self._at = 0.0

    def say(self, *texts: str) -> Talk:
        for text in texts:
            said = words(text, self._at)
            self.account.readings[Span(self._at, said[-1].end)] = Reading(said)
            self._at = said[-1].end + 1
        return self

    def order(self, engine: Engine, control: ControlId, choice: str = "", other: str = "") -> Talk:
        spoken = Spoken(control, choice, other)
        words = words_for(spoken, last_rows(self.rows(engine), self._at), engine.lexicon)
        self.account.orders.append(Order(spoken, Span(self._at, self._at + 1), tuple(words)))
        self._at += 2
        return self

    def rows(self, engine: Engine) -> list[Row]:
        return self.account.record(engine, self._at, lambda start, end, phrases: [(one, 1.0) for one in phrases]).rows


def short(rows: list[Row]) -> set[tuple[str, str, str | None]]:
    return {(row.manoeuvre, row.side.value, row.value) for row in rows}


def test_scratch_takes_out_the_last_result_only(engine: Engine) -> None:
    talk = Talk().say("left knee jerk two plus", "left ankle jerk absent").order(engine, "scratch")
    assert short(talk.rows(engine)) == {("knee_jerk", "left", "2+")}
    assert short(talk.say("left ankle jerk one plus").rows(engine)) == {
        ("knee_jerk", "left", "2+"), ("ankle_jerk", "left", "1+")
    }  # fmt: skip


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        ("right ankle dorsiflexion four minus", ("ankle_dorsiflexion", "left", "4-")),
        ("right ankle jerk absent", ("ankle_jerk", "left", "0")),
        ("right plantar is extensor", ("plantar_response", "left", "extensor")),
        ("pinprick is reduced over right L5", ("pinprick", "left", "reduced")),
        ("vibration is absent at the right great toe", ("vibration", "left", "absent")),
        ("heel shin is impaired on the right", ("heel_shin", "left", "impaired")),
    ],
)
def test_changes_the_side(engine: Engine, said: str, wanted: tuple[str, str, str]) -> None:
    talk = Talk().say("right knee jerk two plus", said)
    site = {row.site for row in last_rows(talk.rows(engine), 60)}
    rows = talk.order(engine, "side", "left").say("gait is normal").rows(engine)
    assert short(rows) == {("knee_jerk", "right", "2+"), wanted, ("gait", "midline", "normal")}
    assert {row.site for row in rows if row.manoeuvre == wanted[0]} == site


def test_a_changed_side_holds_for_what_follows(engine: Engine) -> None:
    talk = Talk().say("right ankle dorsiflexion four").order(engine, "side", "left").say("ankle plantarflexion five")
    assert short(talk.rows(engine)) == {("ankle_dorsiflexion", "left", "4"), ("ankle_plantarflexion", "left", "5")}


@pytest.mark.parametrize(("before", "choice", "after"), [("four", "4-", "4-"), ("two", "5", "5"), ("five", "3+", "3+")])
def test_a_changed_grade_replaces(engine: Engine, before: str, choice: str, after: str) -> None:
    talk = Talk().say(f"left hip flexion {before}").order(engine, "grade", choice)
    assert short(talk.rows(engine)) == {("hip_flexion", "left", after)}


def test_a_grade_that_could_be_another_is_left_to_a_person(engine: Engine) -> None:
    talk = Talk().say("left hip flexion five").order(engine, "grade", "4", other="4+")
    (row,) = talk.rows(engine)
    assert row.value == "4" and row.confirm


def test_mark_flags_the_last_result(engine: Engine) -> None:
    talk = (
        Talk()
        .say("left knee jerk two plus", "left ankle jerk two plus")
        .order(engine, "mark")
        .say("right knee jerk two plus")
    )
    marked = {(row.manoeuvre, row.side.value) for row in talk.rows(engine) if row.confirm and MARKED in row.flags}
    assert marked == {("ankle_jerk", "left")}


@pytest.mark.parametrize("control", ["start", "pause", "resume", "read_back", "missing", "finish"])
def test_other_controls_leave_the_record_alone(engine: Engine, control: ControlId) -> None:
    talk = Talk().say("left knee jerk two plus")
    before = talk.rows(engine)
    assert talk.order(engine, control).rows(engine) == before


@pytest.mark.parametrize(
    ("answer", "meant"),
    [
        ("Yes.", ("yes", "")),
        ("No.", ("no", "")),
        ("4+", ("4+", "value")),
        ("four plus", ("4+", "value")),
        ("no, four minus", ("4-", "value")),
        ("right", ("right", "side")),
        ("the knee jerk is absent", None),
        ("hip flexion five", None),
    ],
)
def test_answers(engine: Engine, answer: str, meant: tuple[str, str] | None) -> None:
    (row,) = Talk().say("left ankle dorsiflexion four").rows(engine)
    assert understood(words(answer), row, controls(), engine.lexicon) == meant


def test_yes_confirms_and_a_value_replaces(engine: Engine) -> None:
    talk = Talk().say("left knee jerk two plus", "left ankle jerk two plus").order(engine, "mark")
    key = ("ankle_jerk", "left", None)
    talk.account.answers = [Answer(key, "2+", "yes", "", Span(9, 9.5))]
    assert [row.confirm for row in talk.rows(engine)] == [False, False]
    talk.account.answers = [Answer(key, "2+", "1+", "value", Span(9, 9.5))]
    assert ("ankle_jerk", "left", "1+") in short(talk.rows(engine))
    talk.account.answers = [Answer(key, "2+", "no", "", Span(9, 9.5))]
    assert any(row.confirm for row in talk.rows(engine))


def test_the_last_result_is_all_that_was_said_in_one(engine: Engine) -> None:
    rows = Talk().say("left hip flexion five", "knee jerks two plus on both sides").rows(engine)
    assert short(last_rows(rows, 60)) == {("knee_jerk", "left", "2+"), ("knee_jerk", "right", "2+")}
    assert last_rows(rows, 0.1) == []
