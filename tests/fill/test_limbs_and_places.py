"""Results of two limbs, two places or two sides in one breath, and what stands between them.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

TWO_LIMBS = table("""
in the left arm and leg tone is reduced, in the right it's normal => left tone@arm reduced; left tone@leg reduced;
 right tone@arm normal; right tone@leg normal
right leg and arm, fasciculation absent => right fasciculation@leg absent; right fasciculation@arm absent
no wasting in the right arm. leg tone is normal on both sides => right wasting@arm absent; right tone@leg normal;
 left tone@leg normal
no fasciculation in the left arm or the left leg tone is normal in both legs => left fasciculation@arm absent;
 left fasciculation@leg absent; right tone@leg normal; left tone@leg normal
tone is increased in the left arm and right leg => left tone@arm increased; right tone@leg increased
the right arm and the left leg are normal in tone => right tone@arm normal; left tone@leg normal
power is five throughout in the right arm and the left leg => right arm_core 5; left leg_core 5
there is wasting in both arms and in the right leg, no wasting in the left leg => both wasting@arm present;
 right wasting@leg present; left wasting@leg absent
no wasting in either arm or in the right leg => both wasting@arm absent; right wasting@leg absent
tone is reduced in the right arm and the left leg and normal in the left arm and the right leg =>
 right tone@arm reduced; left tone@leg reduced; left tone@arm normal; right tone@leg normal
tone is normal in the left arm, and the right leg is stiff, increased => left tone@arm normal;
 right tone@leg increased
he drops things and his arms ache by lunch no wasting in either leg => both wasting@leg absent
he cannot run and the legs tire. no fasciculation in either arm => both fasciculation@arm absent
left arm and leg no wasting => left wasting@arm absent; left wasting@leg absent
his stroke was two weeks ago right leg tone modified ashworth three => right tone@leg MAS 3
she broke it last year left arm power shoulder abduction four => left shoulder_abduction 4
last month right leg power hip flexion was three => -
fasciculation in the left leg. and the right leg, fasciculation too, but no wasting => left fasciculation@leg present;
 right fasciculation@leg present; right wasting@leg absent
tremor in the left arm. in the right arm tremor too => left involuntary_movement@arm present;
 right involuntary_movement@arm present
""")

HERE_NOT_THERE = table("""
a bit of wasting at the back of the left thigh, no fasciculation in either leg => left wasting@leg present;
 both fasciculation@leg absent
not a trace of wasting in either arm => both wasting@arm absent
there isn't a sign of fasciculation in the right calf => right fasciculation@leg absent
a trace of wasting over the inside of the right arm => right wasting@arm present
fasciculations in both arms, none in the right leg => both fasciculation@arm present; right fasciculation@leg absent
fasciculations in both arms and the left leg, none in the right leg => both fasciculation@arm present;
 left fasciculation@leg present; right fasciculation@leg absent
fasciculations in the right leg none in the left leg there is wasting in both arms =>
 right fasciculation@leg present; left fasciculation@leg absent; both wasting@arm present
wasting in the right hand none in the left and no fasciculations in the left => right wasting@arm present;
 left wasting@arm absent; left fasciculation@arm absent
fasciculations in neither leg => both fasciculation@leg absent
wasting in the left hand between the thumb and the finger and none on the right => left wasting@arm present;
 right wasting@arm absent
there is an abnormal posture in the right leg, extended at the knee, none in the left leg =>
 right abnormal_posture@leg present; left abnormal_posture@leg absent
abnormal flexed posture of the left arm, none in the right => left abnormal_posture@arm present;
 right abnormal_posture@arm absent
abnormal posture of the right leg its ankle sits in varus none in the left leg => right abnormal_posture@leg present;
 left abnormal_posture@leg absent
no wasting or fasciculation in the right arm and none in the left => right wasting@arm absent;
 right fasciculation@arm absent; left wasting@arm absent; left fasciculation@arm absent
no wasting in the left leg, no tremor in the left leg, and none in the right leg => left wasting@leg absent;
 left involuntary_movement@leg absent; right wasting@leg absent; right involuntary_movement@leg absent
wasting in the right arm, no fasciculation in the right arm and none in the left => right wasting@arm present;
 right fasciculation@arm absent; left fasciculation@arm absent
the sock is off the left foot legs then fasciculation none in either leg => both fasciculation@leg absent
wasting right leg, none left leg. fasciculations neither leg => right wasting@leg present; left wasting@leg absent;
 both fasciculation@leg absent
""")

PLACES = table("""
temperature reduced at c7 on the right and at t1 on the left => right temperature@C7 reduced;
 left temperature@T1 reduced
light touch reduced on the right at l4 and on the left at s1 => right light_touch@L4 reduced;
 left light_touch@S1 reduced
vibration absent at the left great toe and at the right ankle => left vibration@great_toe absent;
 right vibration@ankle absent
pinprick normal at c6 on both sides and at c8 on the left => both pinprick@C6 normal; left pinprick@C8 normal
temperature reduced on the right at l4, s2 intact => right temperature@L4 reduced; right temperature@S2 normal
light touch on the right, absent at l5 and s1 was reduced, but l4 was normal => right light_touch@L5 absent;
 right light_touch@S1 reduced; right light_touch@L4 normal
light touch on the left reduced at l4 l5 normal at s1 => left light_touch@L4 reduced; left light_touch@L5 reduced;
 left light_touch@S1 normal
pinprick reduced at t10 on the right normal at t11 on the left pinprick is normal from t10 to t12 =>
 right pinprick@T10 reduced; right pinprick@T11 normal; left pinprick@T10 normal; left pinprick@T11 normal;
 left pinprick@T12 normal
temperature reduced at c6 on the right normal at c6 on the left temperature at c8 normal on both sides =>
 right temperature@C6 reduced; left temperature@C6 normal; both temperature@C8 normal
light touch on the left normal at c6 pinprick dull or sharp, left c7 reduced => left light_touch@C6 normal;
 left pinprick@C7 reduced
joint position absent both ankles reduced both knees vibration absent both wrists => right joint_position@ankle absent;
 left joint_position@ankle absent; right joint_position@knee reduced; left joint_position@knee reduced;
 right vibration@wrist absent; left vibration@wrist absent
""")

WASTED_OR_TESTED = table("""
no wasting in the left leg hamstrings four quads three => left wasting@leg absent; left knee_flexion 4;
 left knee_extension 3
Wasting of the left arm, triceps three. => left wasting@arm present; left elbow_extension 3
no fasciculation in the right arm biceps C6 four plus => right fasciculation@arm absent; right elbow_flexion 4+ (C6)
no fasciculation in either leg quads five on the right => both fasciculation@leg absent; right knee_extension 5
fasciculation in the right thigh hamstrings two => right fasciculation@leg present; right knee_flexion 2
no fasciculation in the left biceps triceps four => left fasciculation@arm absent; left elbow_extension 4
wasting of the left hamstrings => left wasting@leg present
wasting in the left arm, mainly the triceps. Grip four. => left wasting@arm present; left grip 4
wasting in the right leg, that's the quadriceps, hip flexion four => right wasting@leg present; right hip_flexion 4
""")

SIDES = table("""
tone is increased on the left leg and the right is, let me see, brisk walking made it worse => left tone@leg increased
rapid alternating movements are impaired on the left and the right is, well, normal => left rapid_alternating impaired;
 right rapid_alternating normal
finger nose ataxic on the left and fine on the right, heel shin likewise => left finger_nose impaired;
 right finger_nose normal; left heel_shin impaired; right heel_shin normal
in the left arm grip is four and thumb abduction is three plus in the right arm grip is three => left grip 4;
 left thumb_abduction 3+; right grip 3
she has three wrist extension on the right and four minus on the left => right wrist_extension 3;
 left wrist_extension 4-
ankle jerk brisk on the left, supinator jerk reduced. on the right both are two plus => left ankle_jerk brisk;
 left brachioradialis_jerk reduced; right ankle_jerk 2+; right brachioradialis_jerk 2+
power in the legs is full throughout right, and left heel shin impaired on the left normal on the right =>
 both leg_core normal; left heel_shin impaired; right heel_shin normal
knee jerk two plus right, and left ankle jerk absent => right knee_jerk 2+; left ankle_jerk 0
tap my finger and then your nose finger nose impaired on the left => left finger_nose impaired
knee jerks absent on the left and on the right vibration at the great toe reduced on both sides =>
 both knee_jerk 0; both vibration@great_toe reduced
grip five on the right and on the left wrist flexion four => right grip 5; left wrist_flexion 4
plantars both extensor heel chin impaired on the right => both plantar_response extensor; right heel_shin impaired
pinprick left l3 absent left l4 normal right pin break intact l3 to l4 => left pinprick@L3 absent;
 left pinprick@L4 normal; right pinprick@L3 normal; right pinprick@L4 normal
tone increased in the left leg the swing is increased on the left => left tone@leg increased;
 left pendular_swing increased
knee jerks brisk both sides poor chap ankle jerks absent => both knee_jerk brisk; both ankle_jerk 0
heel walking normal on both sides up on your toes that's normal on the left => both heel_walk normal;
 left toe_walk normal
""")

NEXT_LIMB = table("""
right grip four minus left arm then grip five wrist flexion five => right grip 4-; left grip 5, wrist_flexion 5
right knee flexion three big toe two left then hip flexion five => right knee_flexion 3, great_toe_extension 2;
 left hip_flexion 5
grip four left then wrist flexion three left then finger abduction four left => left grip 4, wrist_flexion 3,
 finger_abduction 4
finger abduction four on the right then on the left five => right finger_abduction 4; left finger_abduction 5
heel shin impaired on the left and normal on the right leg tone increased on the left and normal on the right =>
 left heel_shin impaired; right heel_shin normal; left tone@leg increased; right tone@leg normal
triceps jerk brisk on the right normal on the left | arm power is four throughout on both sides =>
 right triceps_jerk brisk; left triceps_jerk normal; both arm_core 4
on the right arm tone is normal and on the left arm tone is increased => right tone@arm normal; left tone@arm increased
power in the legs is full throughout on both sides arms tone is normal on the left => both leg_core normal;
 left tone@arm normal
biceps jerks two plus bilaterally legs tone increased both => both biceps_jerk 2+; both tone@leg increased
power is five throughout in the arms and in the legs on both sides => both arm_core 5; both leg_core 5
no wasting in the arms or legs both sides tone normal in both arms => both wasting@arm absent; both wasting@leg absent;
 both tone@arm normal
left leg. knee jerk brisk, ankle jerk brisk. the right leg now tone normal knee and ankle jerks are two plus =>
 left knee_jerk brisk, ankle_jerk brisk; right tone@leg normal; right knee_jerk 2+, ankle_jerk 2+
left leg. power four throughout. knee and ankle jerks three plus => left leg_core 4; both knee_jerk 3+, ankle_jerk 3+
tone normal both legs arms increased => both tone@leg normal; both tone@arm increased
reflexes brisk in both arms legs absent => both biceps_jerk brisk; both brachioradialis_jerk brisk;
 both triceps_jerk brisk; both knee_jerk 0; both ankle_jerk 0
tone increased in the right arm and leg normal in the left => right tone@arm increased; right tone@leg increased;
 left tone@arm normal; left tone@leg normal
left triceps jerk brisk grip four on the right arms seen last week now the legs tone normal on both sides =>
 left triceps_jerk brisk; right grip 4; both tone@leg normal
left knee jerk two plus the arms were examined on monday => left knee_jerk 2+
power five throughout in both arms | bye seps triceps and soup innate her jerks one plus on both sides =>
 both arm_core 5; both biceps_jerk 1+, triceps_jerk 1+, brachioradialis_jerk 1+
power right biceps and triceps four ankle jerks absent both => right elbow_flexion 4, elbow_extension 4;
 both ankle_jerk 0
hip extension not done either side too sore arms tone reduced both grip four both => both hip_extension !pain;
 both tone@arm reduced; both grip 4
""")


@pytest.mark.parametrize(("talk", "wanted"), TWO_LIMBS + HERE_NOT_THERE + PLACES + SIDES + NEXT_LIMB)
def test_each_limb_and_place_has_the_result_that_was_said_of_it(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


def test_what_was_not_read_between_two_places_is_shown_to_a_person() -> None:
    found = rows("light touch is normal at c6 on both sides and whole furniture at c8 on both sides")
    assert found
    assert all(row.confirm for row in found)


@pytest.mark.parametrize(
    ("talk", "asked"),
    [
        ("tone normal in both arms. power. tricycles four on both sides", True),
        ("tone normal in both legs. power. hem strings four on both sides", False),
    ],
)
def test_a_name_hardly_made_out_of_the_limb_that_is_not_examined_is_asked_about(talk: str, asked: bool) -> None:
    power = [row for row in rows(talk) if row.manoeuvre != "tone"]
    assert len(power) == 2 and all(row.confirm is asked for row in power)


@pytest.mark.parametrize(
    ("talk", "side", "asked"),
    [
        ("left arm then. tone in the left arm is increased, tone in the right arm is normal. grip three", "left", True),
        ("right leg. wasting present. no wasting on the left. hip flexion four", "right", True),
        ("left arm. tone increased. right arm. tone normal. grip five", "right", False),
    ],
)
def test_after_one_test_of_both_sides_the_next_is_of_the_limb_announced(talk: str, side: str, asked: bool) -> None:
    last = rows(talk)[-1]
    assert (last.side.value, last.confirm) == (side, asked)
