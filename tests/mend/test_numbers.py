"""Spoken numbers, with num2words and text2num as the outside reference for what the words mean."""

from __future__ import annotations

import pytest
from num2words import num2words
from text_to_num import text2num

from tests.understand.talks import rows, table, told

MRC = ["0", "1", "2-", "2", "2+", "3-", "3", "3+", "4-", "4", "4+", "5-", "5"]
SIGNS = {"+": " plus", "-": " minus"}


def spoken(grade: str) -> str:
    return num2words(int(grade[0])) + SIGNS.get(grade[1:], "")


@pytest.mark.parametrize("angle", range(100))
def test_an_angle_in_words_and_in_figures(angle: int) -> None:
    words = num2words(angle)
    assert text2num(words, "en") == angle
    for form in (words, words.replace("-", " "), str(angle)):
        assert told(f"straight leg raise {form} degrees on the left") == {f"left straight_leg_raise {angle} degrees"}


@pytest.mark.parametrize("angle", range(10, 100))
def test_an_angle_without_its_unit(angle: int) -> None:
    assert told(f"left straight leg raise {num2words(angle)}") == {f"left straight_leg_raise {angle} degrees"}


@pytest.mark.parametrize("tail", ["", " out of five", " over five", " / 5", "/5"])
@pytest.mark.parametrize("grade", MRC)
def test_a_grade_in_words_and_in_figures(grade: str, tail: str) -> None:
    assert text2num(spoken(grade).split()[0], "en") == int(grade[0])
    for form in (spoken(grade), grade):
        assert told(f"left knee flexion {form}{tail}") == {f"left knee_flexion {grade}"}
        assert told(f"left knee flexion grade {form}{tail}") == {f"left knee_flexion {grade}"}


@pytest.mark.parametrize("beats", range(1, 13))
def test_a_count_of_beats(beats: int) -> None:
    for form in (num2words(beats), str(beats)):
        assert told(f"left ankle clonus {form} beats") == {f"left ankle_clonus {beats} beats"}


FORMS = table("""
left straight leg raise one hundred degrees => left straight_leg_raise 100 degrees
left straight leg raise one hundred and ten degrees => left straight_leg_raise 110 degrees
left straight leg raise a hundred degrees => left straight_leg_raise 100 degrees
right straight leg raise 110 degrees => right straight_leg_raise 110 degrees
right straight leg raise thirty-five degrees => right straight_leg_raise 35 degrees
right straight leg raise 35° => right straight_leg_raise 35 degrees
left ankle clonus twenty beats => left ankle_clonus 20 beats
left ankle clonus two or three beats => left ankle_clonus 3 beats
right knee jerk five => -
right knee extension six => -
right knee extension seven out of five => -
left hip flexion 4 / 5 => left hip_flexion 4
left hip flexion 4+/5 => left hip_flexion 4+
left hip flexion 4 plus / 5 => left hip_flexion 4+
left hip flexion 4 + => left hip_flexion 4+
left hip flexion FOUR MINUS. => left hip_flexion 4-
left hip flexion, four, minus => left hip_flexion 4-
left hip flexion MRC 4 => left hip_flexion 4
left hip flexion grade four minus => left hip_flexion 4-
left hip flexion 3 of 5 => left hip_flexion 3
left hip flexion for out of five => left hip_flexion 4
left hip flexion to minus => left hip_flexion 2-
left hip flexion for plus => left hip_flexion 4+
left hip flexion won => left hip_flexion 1
""")


@pytest.mark.parametrize(("talk", "wanted"), FORMS)
def test_other_ways_to_say_a_number(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


def test_a_grade_with_a_decimal_is_uncertain() -> None:
    (row,) = rows("left hip flexion four point five")
    assert row.value == "4"
    assert row.confirm
    assert "grade_uncertain" in row.flags
