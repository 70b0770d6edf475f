"""Full stops and commas that recognisers write where somebody takes breath.

The talks are invented; that breath is taken so is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

GOING_ON = table("""
Light touch on the left normal at C5. C6 and C7. => left light_touch@C5 normal; left light_touch@C6 normal;
 left light_touch@C7 normal
Pinprick on the right L3 normal. L4. Absent. => right pinprick@L3 normal; right pinprick@L4 absent
Pinprick reduced at T1 on the left. C8. Normal elsewhere. => left pinprick@T1 reduced; left pinprick@C8 reduced
Fasciculation is nil, right leg, and left leg. => right fasciculation@leg absent; left fasciculation@leg absent
Deltoid wasting on the left, and on the right. => left wasting@arm present; right wasting@arm present
No fasciculation. No wasting in either arm. => right fasciculation@arm absent; left fasciculation@arm absent;
 right wasting@arm absent; left wasting@arm absent
Eversion and inversion are two. Plus on both sides. Left grip four. Minus. => right ankle_eversion 2+;
 left ankle_eversion 2+; right ankle_inversion 2+; left ankle_inversion 2+; left grip 4-
Fasciculation, there's some in the left arm, none in the right arm. => left fasciculation@arm present;
 right fasciculation@arm absent
""")
PARTED = table("""
Left grip four. Plus there is wasting in the left arm. => left grip 4; left wasting@arm present
Left knee extension three. Plus the left knee jerk is absent. => left knee_extension 3; left knee_jerk 0
Right ankle inversion five on the right, and left four. => right ankle_inversion 5; left ankle_inversion 4
Left leg. No wasting. No fasciculation in either leg. => left wasting@leg absent; right fasciculation@leg absent;
 left fasciculation@leg absent
Light touch normal at L4 on the left. S1 reduced on the left. => left light_touch@L4 normal; left light_touch@S1 reduced
""")


@pytest.mark.parametrize("talk, wanted", GOING_ON)
def test_a_breath_does_not_end_a_result(talk: str, wanted: list[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize("talk, wanted", PARTED)
def test_a_result_of_its_own_stays_one(talk: str, wanted: list[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(
    "talk, side", [("Right arm, no wasting, ten normal.", "right"), ("Ten normal on the left.", "left")]
)
def test_tone_that_was_written_as_a_number_is_shown(talk: str, side: str) -> None:
    (row,) = [each for each in rows(talk) if each.manoeuvre == "tone"]
    assert (row.side, row.value, row.confirm) == (side, "normal", True)


def test_a_number_of_things_is_no_tone() -> None:
    assert not [each for each in rows("I have seen ten normal scans.") if each.manoeuvre == "tone"]


LAST_WORDS = table("""
Knee jerks both three plus, no wait, the left one's two plus. => right knee_jerk 3+; left knee_jerk 2+
No wasting in the right arm, no fasciculation in it either. => right wasting@arm absent; right fasciculation@arm absent
Wasting of the right calf, none on the left. Fasciculations, right calf as well, none on the left. =>
 right wasting@leg present; left wasting@leg absent; right fasciculation@leg present; left fasciculation@leg absent
The right one's for you to do. Left ankle jerk two plus. => left ankle_jerk 2+
""")


@pytest.mark.parametrize("talk, wanted", LAST_WORDS)
def test_small_words_at_the_end_of_a_statement(talk: str, wanted: list[str]) -> None:
    assert told(talk) == wanted
