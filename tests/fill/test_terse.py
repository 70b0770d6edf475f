"""How examiners speak with both hands busy: one word where others say a sentence, and the rest is carried over.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import table, told

ANSWERED = table("""
Right leg. Wasting, yes. Fasciculation, no. => right wasting@leg present; right fasciculation@leg absent
left arm wasting no fasciculation no tone normal => left wasting@arm absent; left fasciculation@arm absent;
 left tone@arm normal
right leg wasting yes distally fasciculation none => right wasting@leg present; right fasciculation@leg absent
left arm fasciculation yes biceps only wasting no abnormal posture no => left fasciculation@arm present;
 left wasting@arm absent; left abnormal_posture@arm absent
Right ankle clonus, no. Left ankle clonus, yes. => right ankle_clonus absent; left ankle_clonus present
right leg wasting no fasciculation no other side neither => right wasting@leg absent; right fasciculation@leg absent;
 left wasting@leg absent; left fasciculation@leg absent
left arm wasting yes fasciculation yes right arm none of those => left wasting@arm present;
 left fasciculation@arm present; right wasting@arm absent; right fasciculation@arm absent
right arm no wasting no fasciculation posture abnormal => right wasting@arm absent; right fasciculation@arm absent;
 right abnormal_posture@arm present
Both legs. No wasting, no fasciculation, no. => right wasting@leg absent; left wasting@leg absent;
 right fasciculation@leg absent; left fasciculation@leg absent
left leg neither wasting nor fasciculation => left wasting@leg absent; left fasciculation@leg absent
legs no wasting either arms no fasciculation => right wasting@leg absent; left wasting@leg absent;
 right fasciculation@arm absent; left fasciculation@arm absent
""")
TOOLS = table("""
right arm power biceps four. hammer biceps one right triceps two => right elbow_flexion 4; right biceps_jerk 1+;
 right triceps_jerk 2+
Hammer. Left knee two plus, right knee absent, ankles one plus both. => left knee_jerk 2+; right knee_jerk 0;
 left ankle_jerk 1+; right ankle_jerk 1+
fork left great toe absent right great toe normal => left vibration@great_toe absent; right vibration@great_toe normal
right arm power triceps three. Where's my hammer. Biceps five. => right elbow_extension 3; right elbow_flexion 5
Hammer toes on both feet. Right big toe four. => right great_toe_extension 4
The fork is cold, sorry. Left big toe five. => left great_toe_extension 5
knees brisk ankles brisk both sides => left knee_jerk brisk; right knee_jerk brisk; left ankle_jerk brisk;
 right ankle_jerk brisk
""")
ORDERS = table("""
left leg knee straight four knee bent three plus sole in five sole out two => left knee_extension 4;
 left knee_flexion 3+; left ankle_inversion 5; left ankle_eversion 2
power right then left shoulders out four five wrists back three four fingers straight two three =>
 right shoulder_abduction 4; left shoulder_abduction 5; right wrist_extension 3; left wrist_extension 4;
 right finger_extension 2; left finger_extension 3
right leg hip flexion five feet up four feet down five => right hip_flexion 5; right ankle_dorsiflexion 4;
 right ankle_plantarflexion 5
left then right in pairs. big toes up one three => left great_toe_extension 1; right great_toe_extension 3
right leg adductors squeeze four glutes push down three => right hip_adduction 4; right hip_extension 3
left arm thumb up three fingers apart two => left thumb_abduction 3; left finger_abduction 2
Foot up one more time. Right dorsiflexion two. => right ankle_dorsiflexion 2
Lift the leg with the knee straight. Right hip flexion four. => right hip_flexion 4
""")
PAIRS = table("""
power right left deltoid four three biceps five four => right shoulder_abduction 4; left shoulder_abduction 3;
 right elbow_flexion 5; left elbow_flexion 4
Reflexes, left, right. Knees two, one. => left knee_jerk 2+; right knee_jerk 1+
Power right. Left hip flexion four. Left knee extension five. => left hip_flexion 4; left knee_extension 5
Right grip five. Left, right arm now. Deltoid three. => right grip 5; right shoulder_abduction 3
""")
THE_SAME = table("""
Power. Legs, four throughout. Arms, the same. => both leg_core 4; both arm_core 4
right arm power five throughout right leg the same => right arm_core 5; right leg_core 5
Right leg power five throughout. Left leg the same. => both leg_core 5
legs no wasting no fasciculation either arms likewise => right wasting@leg absent; left wasting@leg absent;
 right fasciculation@leg absent; left fasciculation@leg absent; right wasting@arm absent; left wasting@arm absent;
 right fasciculation@arm absent; left fasciculation@arm absent
left arm tone increased left leg the same => left tone@arm increased; left tone@leg increased
Right leg no fasciculation. Left leg the same. Arms, tone normal. => right fasciculation@leg absent;
 left fasciculation@leg absent; right tone@arm normal; left tone@arm normal
wasting of the small muscles of both hands => right wasting@arm present; left wasting@arm present
""")
FELT = table("""
Light touch, left L2 normal, L3 normal. Pin. Left L2 normal, L3 reduced. => left light_touch@L2 normal;
 left light_touch@L3 normal; left pinprick@L2 normal; left pinprick@L3 reduced
Left knee jerk two. Touch, right C6 normal, C7 reduced. => left knee_jerk 2+; right light_touch@C6 normal;
 right light_touch@C7 reduced
straight leg raise left fifty right seventy touch left L3 normal L4 reduced L5 normal =>
 left straight_leg_raise 50 degrees; right straight_leg_raise 70 degrees;
 left light_touch@L3 normal; left light_touch@L4 reduced; left light_touch@L5 normal
Touch my finger, then your nose. Left finger nose impaired. => left finger_nose impaired
Squeeze. Good. Left grip four. => left grip 4; unsaid grip normal ~
""")
IN_PASSING = table("""
Left biceps jerk one. Which root is that. Five. Hammer, left triceps two. => left biceps_jerk 1+; left triceps_jerk 2+
right knee jerk two watch the quads not the foot left knee jerk one => right knee_jerk 2+; left knee_jerk 1+
light touch right L4 reduced L5 absent left, same two all normal => right light_touch@L4 reduced;
 right light_touch@L5 absent; left light_touch@L4 normal; left light_touch@L5 normal
right biceps four triceps three left the same two are five => right elbow_flexion 4; right elbow_extension 3;
 left elbow_flexion 5; left elbow_extension 5
legs tone left increased right normal now power right arm deltoid four => left tone@leg increased;
 right tone@leg normal; right shoulder_abduction 4
tone legs normal both arms no wasting either => left tone@leg normal; right tone@leg normal; left wasting@arm absent;
 right wasting@arm absent
right arm go floppy tone normal => right tone@arm normal
left leg floppy please tone increased => left tone@leg increased
left arm tone floppy => left tone@arm reduced
right leg no fasciculation knee up good => right fasciculation@leg absent; right hip_flexion normal ~
left leg tone normal knee up good => left tone@leg normal; left hip_flexion normal ~
right knee jerk two plus, a normal one, left absent => right knee_jerk 2+; left knee_jerk 0
left biceps jerk brisk a normal one doesn't do that => left biceps_jerk brisk
Left ankle jerk absent. That's a normal one on the right. => left ankle_jerk 0; right ankle_jerk normal
right leg big toe up four toes curl three => right great_toe_extension 4; right toe_flexion 3
""")
PUT_RIGHT = table("""
right arm biceps four triceps three. left arm the same. no, left triceps four => right elbow_flexion 4;
 right elbow_extension 3; left elbow_flexion 4; left elbow_extension 4
Left hip flexion five, quads four. Right side likewise, sorry, right quads three. => left hip_flexion 5;
 left knee_extension 4; right hip_flexion 5; right knee_extension 3
Right deltoid four, sorry, left deltoid four. => left shoulder_abduction 4
""")


@pytest.mark.parametrize(
    ("statement", "expected"), [*ANSWERED, *TOOLS, *ORDERS, *PAIRS, *THE_SAME, *FELT, *IN_PASSING, *PUT_RIGHT]
)
def test_what_is_left_unsaid_is_carried_over(statement: str, expected: set[str]) -> None:
    assert told(statement) == expected
