"""Which side, place and test belong to which result, in the orders that examiners use; and what is put right or left.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

ORDERS = table("""
left knee jerk two plus. other side one plus => left knee_jerk 2+; right knee_jerk 1+
right knee extension five on this side and on the other side four => right knee_extension 5; left knee_extension 4
wrist flexors five left and four right => left wrist_flexion 5; right wrist_flexion 4
straight leg raise 70 degrees right and 45 degrees left => right straight_leg_raise 70 degrees;
 left straight_leg_raise 45 degrees
ankle jerks 3 plus right 2 plus left plantars up going on the right down going on the left => right ankle_jerk 3+;
 left ankle_jerk 2+; right plantar_response extensor; left plantar_response flexor
light touch on the right absent at l5 reduced at s2 normal at l3 on the left normal at l3 =>
 right light_touch@L5 absent; right light_touch@S2 reduced; right light_touch@L3 normal; left light_touch@L3 normal
hip flexion is three and five on the right and left respectively => right hip_flexion 3; left hip_flexion 5
four for the right hip flexors and five for the left 3 minus for the right quadriceps 2 plus for the left =>
 right hip_flexion 4; left hip_flexion 5; right knee_extension 3-; left knee_extension 2+
left arm tone increased, right arm tone normal => left tone@arm increased; right tone@arm normal
wasting of the thigh on the left none on the right => left wasting@leg present; right wasting@leg absent
clonus none on the left none on the right more than five beats would be pathological => left ankle_clonus absent;
 right ankle_clonus absent
right knee and ankle jerks two plus => right knee_jerk 2+; right ankle_jerk 2+
right elbow flexion and extension five => right elbow_flexion 5; right elbow_extension 5
power on the right, hip flexion is five, extension is four => right hip_flexion 5; right hip_extension 4
straight leg raising positive on the left at thirty five degrees => left straight_leg_raise positive
ankle dorsiflexion weak on the left at three plus => left ankle_dorsiflexion 3+
heel walking and toe walking are both normal => midline heel_walk normal; midline toe_walk normal
light touch left leg reduced at l2 through to l4 => left light_touch@L2 reduced; left light_touch@L3 reduced;
 left light_touch@L4 reduced
right leg hip flexion 5 by 5 knee flexion four by five => right hip_flexion 5; right knee_flexion 4
left leg. fasciculations none. and none on the right either. tone increased => left fasciculation@leg absent;
 right fasciculation@leg absent; left tone@leg increased
left leg e h l four l5 => left great_toe_extension 4 (L5)
right arm. flexor digitorum four. left leg. flexor digitorum three => right finger_flexion 4; left toe_flexion 3
""")

CHANGES = table("""
left ankle jerk absent, correction, left knee jerk absent => left knee_jerk 0
the right plantar is up, correction, down => right plantar_response flexor
left hip flexion four no five i had the angle wrong => left hip_flexion 5
ankle jerk left two plus, sorry that's the right => right ankle_jerk 2+
straight leg raise on the left is negative and now the right sorry that's enough straight leg raise on the right is
 positive => left straight_leg_raise negative; right straight_leg_raise positive
left knee flexion four. good, sit down, it is normal to be tired => left knee_flexion 4
right leg. lift this right leg good left one good => right hip_flexion normal ~; left hip_flexion normal ~
left leg. bend your knee and pull me in. good, that's strong => left knee_flexion normal
right grip strong => right grip normal
left grip not tested because the thumb is painful => left grip !pain
the right ankle is in a cast so dorsiflexion was not tested => right ankle_dorsiflexion !unable
light touch on the left normal l3 to l4. temperature on the left i am omitting => left light_touch@L3 normal;
 left light_touch@L4 normal; left temperature !not_done
gait. i'll leave that to the physio this afternoon => midline gait !deferred
heel walking we won't try => midline heel_walk !not_done
i did not examine gait => midline gait !not_done
wasting is there in both the legs => left wasting@leg present; right wasting@leg present
""")

NO_RESULT = [
    "why is the left ankle jerk absent",
    "a normal straight leg raise is eighty to ninety degrees",
    "my father had a foot drop with dorsiflexion of one",
    "were his plantars extensor i would think again",
    "next week we repeat the straight leg raise",
    "any numbness at l5",
]


@pytest.mark.parametrize(("talk", "wanted"), ORDERS + CHANGES)
def test_each_result_has_its_own_side_and_place(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize("talk", NO_RESULT)
def test_what_is_no_result_makes_no_row(talk: str) -> None:
    assert told(talk) == set()


def test_a_test_after_a_remark_on_the_other_side_is_shown_to_a_person() -> None:
    found = {
        row.manoeuvre: row for row in rows("left leg. hip flexion five on the left, four on the right. quads four")
    }
    assert (found["knee_extension"].side.value, found["knee_extension"].confirm) == ("left", True)


def test_a_side_said_last_holds_for_the_list_and_is_shown_to_a_person() -> None:
    for talk in (
        "l2, hip flexion five. l3, quads four. all on the left",
        "light touch l4 normal l5 reduced on the left",
    ):
        found = rows(talk)
        assert [row.side.value for row in found] == ["left", "left"]
        assert any(row.confirm for row in found)


@pytest.mark.parametrize(
    "talk",
    [
        "left leg. power. tibialis and terrier four plus",
        "full power on the left. the blenkinsop four plus",
        "right arm. strength. wombat four",
    ],
)
def test_a_grade_after_an_unknown_word_is_never_a_silent_grade_of_all_groups(talk: str) -> None:
    assert not [row for row in rows(talk) if row.value in ("4", "4+") and not row.confirm]


@pytest.mark.parametrize(
    "talk", ["right elbow flex tension four", "left ankle a version four", "left hip at duction two"]
)
def test_a_name_that_may_be_its_opposite_is_shown_to_a_person(talk: str) -> None:
    assert all(row.confirm for row in rows(talk))
