"""Parts of numbers that only sound like what was said."""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, told

CLEAR = [
    ("right hip extension four mine us", "right hip_extension 4-"),
    ("left quads three minors", "left knee_extension 3-"),
    ("right quads for miners", "right knee_extension 4-"),
]
SHOWN = [
    ("right quads four pass. hamstrings five", "4+"),
    ("left quads three pluck, hamstrings five", "3+"),
    ("elbow extension is four pluses on both sides", "4+"),
    ("straight leg raise, the left goes to dirty five degrees", "35 degrees"),
    ("straight leg raise left sixteen degrees", "16 degrees"),  # sixty, perhaps
]
AS_SAID = [
    ("quads four please on the right", "4"),
    ("quads four, push down on the right", "4"),
    ("straight leg raise right only five degrees", "5 degrees"),
    ("straight leg raise right about fifty degrees", "50 degrees"),
]


@pytest.mark.parametrize(("talk", "row"), CLEAR)
def test_a_word_that_is_as_good_as_the_sign_is_the_sign(talk: str, row: str) -> None:
    assert told(talk) == {row}


@pytest.mark.parametrize(("talk", "value"), SHOWN)
def test_what_a_word_only_sounds_like_is_taken_and_shown_to_a_person(talk: str, value: str) -> None:
    first = rows(talk)[0]
    assert (first.value, first.confirm) == (value, True)
    assert "value_uncertain" in first.flags


@pytest.mark.parametrize(("talk", "value"), AS_SAID)
def test_words_that_mean_what_they_say_are_no_part_of_a_number(talk: str, value: str) -> None:
    (row,) = rows(talk)
    assert (row.value, "value_uncertain" in row.flags) == (value, False)
