"""A result that is said of several tests named before, on the side that is said with it.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

OF_THE_LAST = table("""
right knee jerk three plus, right ankle jerk four plus and both of those are two plus on the left
    => right knee_jerk 3+, ankle_jerk 4+; left knee_jerk 2+, ankle_jerk 2+
left eversion three inversion four plus big toe extension two | all three five on the right
    => left ankle_eversion 3, ankle_inversion 4+, great_toe_extension 2;
       right ankle_eversion 5, ankle_inversion 5, great_toe_extension 5
right wrist extension two finger extension one. On the left they're both five.
    => right wrist_extension 2, finger_extension 1; left wrist_extension 5, finger_extension 5
Left deltoid four. Left triceps four minus. Left grip four. Each of those is five on the other side.
    => left shoulder_abduction 4, elbow_extension 4-, grip 4; right shoulder_abduction 5, elbow_extension 5, grip 5
right grip four wrist extension four finger abduction three left the same three are all five
    => right grip 4, wrist_extension 4, finger_abduction 3; left grip 5, wrist_extension 5, finger_abduction 5
Right hip flexion five. Right knee flexion four, right knee extension five. The left is the same for all three.
    => right hip_flexion 5, knee_flexion 4, knee_extension 5; left hip_flexion 5, knee_flexion 4, knee_extension 5
Right grip four. Right wrist extension four. Right deltoid five. Left the same.
    => right grip 4, wrist_extension 4, shoulder_abduction 5; left shoulder_abduction 5
left hip flexion four left hip extension four minus right leg every one of them five
    => left hip_flexion 4, hip_extension 4-; right hip_flexion 5, hip_extension 5
pinprick on the right C6 reduced C7 absent C8 normal | on the left all of those are normal
    => right pinprick@C6 reduced, pinprick@C7 absent, pinprick@C8 normal;
       left pinprick@C6 normal, pinprick@C7 normal, pinprick@C8 normal
right grip four finger abduction four minus thumb abduction four. All three the same on the other side.
    => right grip 4, finger_abduction 4-, thumb_abduction 4; left grip 4, finger_abduction 4-, thumb_abduction 4
Tone in the left leg increased. Left hip flexion four, left knee flexion three. All of those are five on the right.
    => left tone@leg increased, hip_flexion 4, knee_flexion 3; right hip_flexion 5, knee_flexion 5
right biceps jerk three plus right triceps jerk three plus the left has two plus for both
    => right biceps_jerk 3+, triceps_jerk 3+; left biceps_jerk 2+, triceps_jerk 2+
left hip flexion four left knee extension four minus left eversion two the right had five for all of them
    => left hip_flexion 4, knee_extension 4-, ankle_eversion 2; right hip_flexion 5, knee_extension 5, ankle_eversion 5
right biceps jerk absent right supinator one plus right knee jerk two plus on the left those three are all two plus
    => right biceps_jerk 0, brachioradialis_jerk 1+, knee_jerk 2+;
       left biceps_jerk 2+, brachioradialis_jerk 2+, knee_jerk 2+
right knee jerk two plus right ankle jerk one plus and three plus for both on the left
    => right knee_jerk 2+, ankle_jerk 1+; left knee_jerk 3+, ankle_jerk 3+
left hip flexion four and knee extension three, five for both on the right
    => left hip_flexion 4, knee_extension 3; right hip_flexion 5, knee_extension 5
""")

OF_ITS_OWN = table("""
left biceps jerk one plus left triceps jerk one plus left supinator jerk absent as for the right arm all three are two
    plus
    => left biceps_jerk 1+, triceps_jerk 1+, brachioradialis_jerk 0;
       right biceps_jerk 2+, triceps_jerk 2+, brachioradialis_jerk 2+
left arm: wrist extension, finger extension and grip are all four the right arm is in a sling
    => left wrist_extension 4, finger_extension 4, grip 4
left knee extension four ankle jerks both two plus on the left knee flexion five
    => left knee_extension 4, knee_flexion 5; right ankle_jerk 2+; left ankle_jerk 2+
the left arm, all three jerks are absent => left biceps_jerk 0, brachioradialis_jerk 0, triceps_jerk 0
both arms, all three reflexes are brisk, that's biceps, triceps and supinator
    => both biceps_jerk brisk, triceps_jerk brisk, brachioradialis_jerk brisk
right arm deltoid five, biceps five, grip five. left arm, all three muscles are four
    => right shoulder_abduction 5, elbow_flexion 5, grip 5; left shoulder_abduction 4, elbow_flexion 4, grip 4
left arm, all four plus => left arm_core 4+
left leg, all four movements are five => -
left leg, hip abduction, eversion and inversion are all five reflexes next left knee jerk brisk
    => left hip_abduction 5, ankle_eversion 5, ankle_inversion 5, knee_jerk brisk
""")

OF_A_LIMB = table("""
Left leg. Tone normal. Knee flexion four. Knee jerk one plus, plantar flexor. The right leg is a mirror image of that.
    => left tone@leg normal, knee_flexion 4, knee_jerk 1+, plantar_response flexor;
       right tone@leg normal, knee_flexion 4, knee_jerk 1+, plantar_response flexor
right leg no wasting hip extension five big toe extension three ankle jerk absent | left leg identical, every one of
    those, apart from the big toe which is five
    => right wasting@leg absent, hip_extension 5, great_toe_extension 3, ankle_jerk 0;
       left wasting@leg absent, hip_extension 5, great_toe_extension 5, ankle_jerk 0
left arm deltoid three. Left leg eversion five, ankle jerk two plus. Right leg the same.
    => left shoulder_abduction 3, ankle_eversion 5, ankle_jerk 2+; right ankle_eversion 5, ankle_jerk 2+
Power was normal throughout both legs with the exception of knee flexion, which I graded four on the right and five on
    the left
    => right hip_flexion normal, hip_extension normal, knee_extension normal, knee_flexion 4, ankle_dorsiflexion normal,
       ankle_plantarflexion normal, great_toe_extension normal; left hip_flexion normal, hip_extension normal,
       knee_extension normal, knee_flexion 5, ankle_dorsiflexion normal, ankle_plantarflexion normal,
       great_toe_extension normal
""")


@pytest.mark.parametrize(("talk", "wanted"), OF_THE_LAST + OF_ITS_OWN + OF_A_LIMB)
def test_what_is_said_of_all_of_those_is_said_of_each(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(
    "talk",
    [
        "Right knee jerk two plus, left ankle jerk one plus. All three are absent on the left.",
        "Left triceps four. Right grip five. Both of those are three on the left.",
    ],
)
def test_where_those_are_not_so_many_a_person_is_asked(talk: str) -> None:
    assert all(row.confirm for row in rows(talk) if row.evidence[-1].end > rows(talk)[1].evidence[-1].end)
