"""Results that are taken back, named anew for each side, or written down in passing.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

TAKEN_BACK = table("""
clonus four beats at the left ankle scratch that i counted again it's five beats at the left ankle none at the right
 => left ankle_clonus 5 beats; right ankle_clonus absent
vibration absent at the left knee strike that reduced at the left knee => left vibration@knee reduced
light touch reduced at right C8 scratch that light touch normal at right C8 => right light_touch@C8 normal
left hip abduction three scratch that four. right hip abduction five => left hip_abduction 4; right hip_abduction 5
right triceps jerk two plus strike that one plus left triceps jerk two plus =>
 right triceps_jerk 1+; left triceps_jerk 2+
power is four in the left quads and people forget that left hamstrings five =>
 left knee_extension 4; left knee_flexion 5
temperature i've not done she was cold so that's C6 on both sides declined => both temperature@C6 !declined
no wasting in the left leg. knee movements on the left i am leaving alone. left heel shin normal =>
 left wasting@leg absent; left heel_shin normal
vibration normal at the right toe. the ankle not tested => right vibration@great_toe normal;
 right vibration@ankle !not_done
temperature not done on the left, light touch at L5 declined =>
 left temperature !not_done; left light_touch@L5 !declined
""")

FOR_EACH_SIDE = table("""
no wasting in the left leg, no wasting in the right leg, no fasciculation => both wasting@leg absent;
 unsaid fasciculation@leg absent; unsaid fasciculation@leg absent
left leg. no wasting, no fasciculation. tone normal => left wasting@leg absent; left fasciculation@leg absent;
 left tone@leg normal
no tremor in the left arm, no wasting in the right arm, no fasciculation => left involuntary_movement@arm absent;
 right wasting@arm absent; right fasciculation@arm absent
right grip three. mm three as well on the left => both grip 3
left biceps jerk one plus. ah, two also on the right => left biceps_jerk 1+; right biceps_jerk 2+
no tremor in either tone normal in both arms => both involuntary_movement absent; both tone@arm normal
finger nose normal on both sides no tremor in either => both finger_nose normal
tone increased left arm and right arm tone normal => left tone@arm increased; right tone@arm normal
reflexes biceps two plus supinator one plus triceps two plus both sides => both biceps_jerk 2+;
 both brachioradialis_jerk 1+; both triceps_jerk 2+
right arm full throughout. reflexes biceps one plus supinator one plus triceps two plus both sides =>
 right arm_core normal;
 both biceps_jerk 1+; both brachioradialis_jerk 1+; both triceps_jerk 2+
right leg power knee up don't let me win good. knee jerks two plus on both sides => right hip_flexion normal ~;
 both knee_jerk 2+
tone normal left and right. grip four left and right => both tone normal; both grip 4
""")

LIMB_BY_LIMB = table("""
left leg tone normal. in the arms no wasting, no tremor. tone normal => left tone@leg normal; both wasting@arm absent;
 both involuntary_movement@arm absent; both tone@arm normal
left arm deltoid four. arms done, now the right leg. quads five => left shoulder_abduction 4; right knee_extension 5
left side. arms, deltoid five, biceps five => left shoulder_abduction 5; left elbow_flexion 5
tone arms reduced on the right and normal on the left legs increased on both sides => right tone@arm reduced;
 left tone@arm normal; both tone@leg increased
reflexes arms brisk on the left absent on the right legs two plus on both sides => left biceps_jerk brisk;
 left brachioradialis_jerk brisk; left triceps_jerk brisk; right biceps_jerk 0; right brachioradialis_jerk 0;
 right triceps_jerk 0; both knee_jerk 2+; both ankle_jerk 2+
left arm no wasting but fasciculation present in the legs no wasting => left wasting@arm absent;
 left fasciculation@arm present; both wasting@leg absent
in the right hand there is wasting no tremor in the left hand there's no wasting and no tremor =>
 right wasting@arm present; right involuntary_movement@arm absent; left wasting@arm absent;
 left involuntary_movement@arm absent
wasting in the right arm there's a tremor in the left arm => right wasting@arm present;
 left involuntary_movement@arm present
right leg no fasciculation but wasting present in the arms => right fasciculation@leg absent; both wasting@arm present
no wasting in the arms no tremor in the legs => both wasting@arm absent; both involuntary_movement@leg absent
knee jerks two plus both sides tone normal in both legs and wasting i nearly missed that no wasting in either leg =>
 both knee_jerk 2+; both tone@leg normal; both wasting@leg absent
""")

ONES = table("""
plantars right one up left one down => right plantar_response extensor; left plantar_response flexor
heel shin left one impaired right one normal => left heel_shin impaired; right heel_shin normal
plantars, the left one goes up, the right one goes down => left plantar_response extensor; right plantar_response flexor
ankle jerks left one right two => left ankle_jerk 1+; right ankle_jerk 2+
plantars down on both sides. power left arm one shoulder abduction two minus elbow flexion three elbow extension =>
 both plantar_response flexor; left shoulder_abduction 1; left elbow_flexion 2-; left elbow_extension 3
light touch reduced at left C6 | neurotip for pinprick right C7 absent => left light_touch@C6 reduced;
 right pinprick@C7 absent
light touch at L3 on the right one of you will do after lunch so deferred => right light_touch@L3 !deferred
""")

ASKED = table("""
now his left side bring that knee up good and kick out good => left hip_flexion normal ~; left knee_extension normal ~
then the right arm splay your fingers good => right finger_abduction normal ~
his left side hurts when he lifts that knee up good => -
left leg lift up five for hip flexion knee bent four foot up three => left hip_flexion 5; left knee_flexion 4;
 left ankle_dorsiflexion 3
gait impaired on your heels can't so heel walking impaired tiptoes lovely => midline gait impaired;
 midline heel_walk impaired; midline toe_walk normal ~
left arm squeeze my fingers good. and the left. out to the side. good => left grip normal ~;
 left shoulder_abduction normal ~
right arm grip five and the left out to the side four => right grip 5; left shoulder_abduction 4
gait was left out today => midline gait !not_done
left arm no wasting no tremor and remember wasting takes weeks the right arm has neither => both wasting@arm absent;
 both involuntary_movement@arm absent
in a stroke the right leg has no wasting => -
fell off a ladder in may no wasting in either leg. tone normal in both legs => both wasting@leg absent;
 both tone@leg normal
tiptoes good heels good => midline toe_walk normal ~; midline heel_walk normal ~
toe walking impaired. good. romberg negative => midline toe_walk impaired; midline romberg negative
heel shin normal on the left. right leg. lovely => left heel_shin normal; right heel_shin normal ~
finger nose impaired on the left. right hand dominant good => left finger_nose impaired
there you see it so there's wasting in the right hand and none in the left => right wasting@arm present;
 left wasting@arm absent
in a stroke you see wasting of the arm => -
""")

WRITTEN_DOWN = table("""
there's an abnormal posture in both hands, so that goes down as present for both arms =>
 both abnormal_posture@arm present
sit up and we'll go down the arms muscle by muscle. left deltoid five => left shoulder_abduction 5
plantars go down as normal on the right and as extensor on the left => right plantar_response flexor;
 left plantar_response extensor
plantar responses both go down as expected => both plantar_response flexor
""")

TALKS = [*TAKEN_BACK, *FOR_EACH_SIDE, *LIMB_BY_LIMB, *ONES, *ASKED, *WRITTEN_DOWN]


@pytest.mark.parametrize(("talk", "wanted"), TALKS, ids=[talk for talk, _ in TALKS])
def test_a_talk_gives_its_rows(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(
    "talk",
    ["knee jerk two plus left knee jerk three plus", "tone increased right leg tone reduced left leg tone normal"],
)
def test_a_side_between_two_results_of_one_test_is_asked_about(talk: str) -> None:
    assert all(row.confirm for row in rows(talk))


@pytest.mark.parametrize(
    "talk", ["left leg tone normal right leg tone increased", "knee jerk two plus right knee jerk three plus left"]
)
def test_a_side_with_each_result_is_not(talk: str) -> None:
    assert not any(row.confirm for row in rows(talk))
