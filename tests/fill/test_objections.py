"""Sides that are put right in passing words, and what was found in one place and not in another.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

OBJECTED = table("""
left grip four. no that's his right hand => right grip 4
left eversion four. hang on that's his right => right ankle_eversion 4
right hip flexion three. no, her left => left hip_flexion 3
left deltoid four. oh wait it's the right => right shoulder_abduction 4
left deltoid four. did I say left? I meant right => right shoulder_abduction 4
left grip four and right grip five. reverse those => left grip 5; right grip 4
left grip four, you said left was sore, right grip five => left grip 4; right grip 5
left grip four. that's the left. now the right. grip five => left grip 4; right grip 5
left grip four, wrong side, right => right grip 4
""")
ASKED = [
    "left deltoid four. wrong side",
    "left eversion four. oh that's the wrong leg",
    "left grip four. I keep saying left, it's the right",
]
ELSEWHERE = table("""
vibration absent at the left ankle, not at the knee => left vibration@ankle absent; left vibration@knee normal
joint position lost at the left toe but not at the ankle => left joint_position@great_toe absent;
 left joint_position@ankle normal
pinprick reduced at L5 on the left but not at S1 => left pinprick@L5 reduced; left pinprick@S1 normal
vibration normal at the left ankle, not at the toe => left vibration@ankle normal
""")


@pytest.mark.parametrize(("talk", "wanted"), [*OBJECTED, *ELSEWHERE])
def test_an_objection_puts_the_side_right(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize("talk", ASKED)
def test_the_wrong_side_is_the_other_one_and_asked_about(talk: str) -> None:
    (row,) = rows(talk)
    assert (row.side.value, row.confirm) == ("right", True)


@pytest.mark.parametrize(
    "talk", ["right knee jerk brisk, left not so brisk", "right knee jerk two plus, left not as brisk"]
)
def test_a_finding_that_is_less_than_its_name_is_asked_about(talk: str) -> None:
    assert [row.confirm for row in rows(talk) if row.side.value == "left"] in ([True], [])
