"""Results with remarks between them, for two limbs, and with names and places that mean two things.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

REMARKS = table("""
left ankle dorsiflexion four if i'm being strict and eversion four => left ankle_dorsiflexion 4; left ankle_eversion 4
tone if we're honest is increased in the left arm => left tone@arm increased
if you like i can test the ankle jerk => -
finger nose impaired on the left he drifts every time and normal on the right => left finger_nose impaired;
 right finger_nose normal
every time you see a brisk jerk think of the cord. left knee jerk two plus => left knee_jerk 2+
pinprick at L5 where would you expect that to be reduced. left L5 normal => left pinprick@L5 normal
temperature on the right is reduced at C7 where she feels only pressure and normal at C8 =>
 right temperature@C7 reduced; right temperature@C8 normal
plantars up going on the left and on the right well i can't be sure so equivocal => left plantar_response extensor;
 right plantar_response equivocal
tone normal on the right and on the left a little increased => right tone normal; left tone increased
no fasciculation in the arms on the left or on the right there's no wasting in either arm =>
 right fasciculation@arm absent; left fasciculation@arm absent; right wasting@arm absent; left wasting@arm absent
biceps jerk brisk on the right and on the left i've only just got it so reduced => right biceps_jerk brisk;
 left biceps_jerk reduced
light touch on the left C6 absent sorry i'd slipped on to the thumbnail C6 is normal => left light_touch@C6 normal
if he'd tensed up the jerk would be absent. left knee jerk two plus => left knee_jerk 2+
left eversion three he thinks no i've tried it twice it's four => left ankle_eversion 4
right plantar down going if both toes went up i'd scan the cord => right plantar_response flexor
if both ankle jerks were absent i'd worry. left ankle jerk two plus => left ankle_jerk 2+
pinprick shut your eyes left arm reduced at C6 and C7 normal at C8 => left pinprick@C6 reduced;
 left pinprick@C7 reduced; left pinprick@C8 normal
vibration does it buzz absent at both ankles reduced at both knees => right vibration@ankle absent;
 left vibration@ankle absent; right vibration@knee reduced; left vibration@knee reduced
gait impaired can't do ten paces romberg negative => midline gait impaired; midline romberg negative
tandem gait couldn't manage two steps => midline tandem_gait !unable
""")

LIMBS = table("""
reflexes are two plus throughout on the left in both the arm and the leg => left knee_jerk 2+, ankle_jerk 2+;
 left biceps_jerk 2+, brachioradialis_jerk 2+, triceps_jerk 2+
vibration is reduced at both the ankle and the knee on the left => left vibration@ankle reduced;
 left vibration@knee reduced
tone is increased in the left arm and the left leg is normal => left tone@arm increased; left tone@leg normal
reflexes brisk throughout in the right arm and right leg hoffmann's absent on both sides =>
 right knee_jerk brisk, ankle_jerk brisk; right biceps_jerk brisk, brachioradialis_jerk brisk, triceps_jerk brisk;
 right hoffmann_sign absent; left hoffmann_sign absent
tone is increased in the right arm and increased on the left too in the legs tone is normal on both sides =>
 right tone@arm increased; left tone@arm increased; right tone@leg normal; left tone@leg normal
no wasting in the left arm or leg tone normal => left wasting@arm absent; left wasting@leg absent;
 left tone@arm normal; left tone@leg normal
power is full throughout in the right arm and the right leg so weakness isn't the problem => right arm_core normal;
 right leg_core normal
""")

NAMES = table("""
wasting over the hypothenar eminence on the left no wasting in the right hand => left wasting@arm present;
 right wasting@arm absent
wasting of the right forearm no fasciculation in the left arm => right wasting@arm present;
 left fasciculation@arm absent
no trauma no fasciculation in either arm => right fasciculation@arm absent; left fasciculation@arm absent
the knee jerks are crisp => right knee_jerk brisk; left knee_jerk brisk
internal rotation aside external rotation of this shoulder is four on the left => left shoulder_external_rotation 4
gait is impaired two of us to steady her and a quad cane => midline gait impaired
left pinprick S1 normal squeeze my fingers grip four on the left =>
 left pinprick@S1 normal; left grip 4
right arm grip four i suppose left arm power five throughout => right grip 4; left arm_core 5
tandem gait not tested he can't stand and will not for a week or more => midline tandem_gait !unable
suppose the left knee jerk were absent. left knee jerk two plus => left knee_jerk 2+
gait is normal to her own surprise after such a fall a burning pain may appear weeks later => midline gait normal
inversion because it tells you how high up you are inversion four on the left => left ankle_inversion 4
""")

PLACES = table("""
on the left temperature is reduced from T10 down to L1 no sorry down to L3 on the right it is normal L1 to L3 =>
 left temperature@T10 reduced, temperature@T11 reduced, temperature@T12 reduced, temperature@L1 reduced,
 temperature@L2 reduced, temperature@L3 reduced; right temperature@L1 normal, temperature@L2 normal,
 temperature@L3 normal
light touch reduced at S1 sorry down to S2 on the right => right light_touch@S2 reduced
right plantar is down to the floor => right plantar_response flexor
fasciculation in the right arm nothing of the kind in the left arm => right fasciculation@arm present;
 left fasciculation@arm absent
wasting in the left leg and nothing of the sort on the right => left wasting@leg present; right wasting@leg absent
ankle clonus sustained on the left and nothing of the kind on the right => left ankle_clonus sustained;
 right ankle_clonus absent
""")

OF_BOTH = table("""
left arm five throughout except grip and thumb abduction which are both four => left arm_core 5; left grip 4;
 left thumb_abduction 4
right hip flexion and hip extension they're both four minus => right hip_flexion 4-; right hip_extension 4-
reflexes are both brisk => right knee_jerk brisk, ankle_jerk brisk; left knee_jerk brisk, ankle_jerk brisk
joint position on the left is absent at the finger and reduced at the wrist on the right it is normal at both =>
 left joint_position@finger absent; left joint_position@wrist reduced; right joint_position@finger normal;
 right joint_position@wrist normal
""")


@pytest.mark.parametrize(("talk", "wanted"), REMARKS + LIMBS + NAMES + PLACES + OF_BOTH)
def test_results_that_are_remarked_on_keep_their_side_and_test(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(
    "talk",
    [
        "no ankle clonus on either side arms biceps jerks two plus on both sides",
        "supinators one plus both sides now the legs tone normal in both legs",
        "grip four on the left down to the legs hip flexion five on the left",
    ],
)
def test_a_limb_that_heads_what_follows_raises_no_doubt_about_the_result_before(talk: str) -> None:
    assert not any("limb_unexpected" in row.flags for row in rows(talk))


def test_a_limb_that_was_said_with_a_result_does() -> None:
    assert all("limb_unexpected" in row.flags and row.confirm for row in rows("toe is normal in the arms"))
