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
