"""A result without a manoeuvre is kept for a person to place."""

from __future__ import annotations

import pytest

from tests.understand.talks import analysis, told


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


@pytest.mark.parametrize(
    ("talk", "rows", "part"),
    [
        ("right leg. toes back, four. shove. four plus", "right ankle_dorsiflexion 4", "shove. four plus"),
        ("left leg. heel in, five. and press it downwards. four", "left knee_flexion 5", "downwards. four"),
        ("left leg. hip flexors five. clutch three. dorsiflexion four", None, "clutch three"),
        ("right arm. deltoid five. wriggle spender four minus. biceps five", None, "spender four minus"),
    ],
)
def test_another_grade_behind_a_test_that_was_not_understood_leaves_the_one_before(
    talk: str, rows: str | None, part: str
) -> None:
    assert rows is None or told(talk) == {rows}
    record = analysis(talk).record
    assert all("contradiction" not in row.flags for row in record.rows)
    assert any(part in left.text for left in record.unplaced)


@pytest.mark.parametrize(
    "more",
    [
        "push harder. four",
        "come on, push. four",
        "say four",
        "against resistance four",
        "second try four",
        "actually four",
        "with some coaxing four",
        "he lifts it higher now, four",
    ],
)
def test_another_grade_for_the_same_test_is_asked_about(more: str) -> None:
    assert told(f"left leg. knee extension three. {more}") == {"left knee_extension 4 contradiction"}


@pytest.mark.parametrize(
    "rest",
    ["I'm not testing the rest", "the rest not tested", "the others not done", "I'm not repeating the rest"],
)
def test_the_rest_that_was_left_out_takes_no_result_away(rest: str) -> None:
    record = analysis(f"elbow extension four on both sides, {rest}").record
    assert told(f"elbow extension four on both sides, {rest}") == {"right elbow_extension 4", "left elbow_extension 4"}
    assert [left.reason for left in record.unplaced] == ["which tests are the rest was not said"]
