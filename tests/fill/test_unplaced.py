"""A result without a manoeuvre is kept for a person to place."""

from __future__ import annotations

import pytest

from tests.understand.talks import analysis


@pytest.mark.parametrize(
    ("talk", "part"),
    [
        ("on the left four minus", "four minus"),
        ("three over five on the right", "three over five"),
        ("and that is grade two", "grade two"),
        ("forty five degrees on the left", "forty five degrees"),
        ("right side brisk", "brisk"),
        ("the right plantar is four minus", "four minus"),
        ("right shoulder not tested, in a sling", "shoulder not tested"),
    ],
)
def test_it_is_unplaced_with_its_words_and_a_reason(talk: str, part: str) -> None:
    record = analysis(talk).record
    assert record.rows == []
    (left,) = record.unplaced
    assert part in left.text and left.reason
    assert 0 <= left.start < left.end


def test_what_was_placed_is_not_unplaced() -> None:
    assert analysis("left knee flexion four minus. gait normal").record.unplaced == []


@pytest.mark.parametrize(
    "talk",
    [
        "he is fifty one. right leg first. hip flexion five",
        "she woke with a numb left hand. right arm. deltoid four",
        "three weeks of a weak right leg. tone is normal in both legs",
    ],
)
def test_what_the_patient_came_with_is_no_result(talk: str) -> None:
    assert not analysis(talk).record.unplaced


def test_a_result_of_a_test_that_was_not_understood_is_kept_though_it_comes_first() -> None:
    assert analysis("tumble bilaterally absent. gait normal").record.unplaced
