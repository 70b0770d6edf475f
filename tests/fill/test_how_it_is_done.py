"""What is said to the patient between the name of a test and its result says how it is done, and is no other test.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import table, told

NAMED_FIRST = table("""
left ankle jerk just relax for me one plus right ankle jerk relax absent => left ankle_jerk 1+; right ankle_jerk 0
Tone, left arm, let it go all floppy, increased. Tone, right arm, go nice and loose, normal.
    => left tone@arm increased; right tone@arm normal
tone in the left leg just relax normal => left tone@leg normal
right plantar, this may tickle, extensor. Left plantar, it may tickle again, flexor.
    => right plantar_response extensor; left plantar_response flexor
left plantar this might tickle mute => left plantar_response mute
left straight leg raise, this might hurt, fifty degrees => left straight_leg_raise 50 degrees
straight leg raise with a disc it may hurt at thirty => -
left plantar i'm going to tickle your foot mute => left plantar_response mute
vibration on the left great toe can you feel that buzz reduced on the right absent
    => left vibration@great_toe reduced; right vibration@great_toe absent
pinprick left L4 tell me if it's different reduced => left pinprick@L4 reduced
ankle clonus on the left let it go loose four beats => left ankle_clonus 4 beats
Finger nose, right hand, first touch my finger, then your nose. Lovely. => right finger_nose normal ~
Pinprick at S4 is absent on the left and normal on the right. Anal tone, the nurse is here, thank you.
    Anal tone is reduced. => left pinprick@S4 absent; right pinprick@S4 normal; midline anal_tone reduced
biceps jerk brisk on the left and absent on the right. triceps jerk, go floppy, lovely. triceps jerk is
    one plus on the left => left biceps_jerk brisk; right biceps_jerk 0; left triceps_jerk 1+
right leg. kick out. good. tone, thank you. bend the knee. lovely => right knee_extension normal ~;
    right knee_flexion normal ~
right straight leg raise, thirty degrees. left leg, lift it up, ninety degrees => right straight_leg_raise 30 degrees;
 left straight_leg_raise 90 degrees
straight leg raise on the left forty degrees. other leg up, seventy degrees => left straight_leg_raise 40 degrees;
 right straight_leg_raise 70 degrees
left heel shin impaired. right heel. lovely => left heel_shin impaired; right heel_shin normal ~
""")

ANOTHER_TEST = table("""
right knee jerk two plus now push your foot down five => right knee_jerk 2+, ankle_plantarflexion 5
tone in the left arm normal squeeze my fingers four => left tone@arm normal, grip 4
the right leg stays floppy tone is reduced in the right leg => right tone@leg reduced
left triceps jerk one plus straighten your elbow against me four plus => left triceps_jerk 1+, elbow_extension 4+
Say when it feels reduced. Light touch at L5 on the left is normal. => left light_touch@L5 normal
left straight leg raise forty degrees. left leg up, five => left straight_leg_raise 40 degrees; left hip_flexion 5
left knee extension five. right heel. good => left knee_extension 5
""")

EFFORTS = table("""
left leg kick out good strong kick five => left knee_extension 5
watch closely | left knee straighten it against me good firm push four => left knee_extension 4
right thumb a duction is spared right leg kick five times for me => -
the left finger a duction three => left finger_abduction 3
right leg e h ell four plus L5 => right great_toe_extension 4+ (L5)
he keeps the left elbow and wrist bent so there's an abnormal posture of the left arm
    => left abnormal_posture@arm present
left leg wasting of the quads no fasciculation right leg no wasting
    => left wasting@leg present, fasciculation@leg absent; right wasting@leg absent
""")


@pytest.mark.parametrize(("talk", "wanted"), NAMED_FIRST + ANOTHER_TEST + EFFORTS)
def test_a_result_after_an_order_is_of_the_test_it_belongs_to(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted
