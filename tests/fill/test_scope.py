"""How far one statement reaches: denials, whole regions, exceptions, the rest, a sensory modality left unsaid."""

from __future__ import annotations

import pytest

from tests.understand.talks import table, told

DENIED = table("""
wasting on the left, no. wasting on the right, yes => left wasting absent; right wasting present
fasciculation on the right, yes, on the left, no => right fasciculation present; left fasciculation absent
tremor in the left hand, no => left involuntary_movement@arm absent
both legs are free of fasciculation => both fasciculation@leg absent
free of wasting on the left => left wasting absent
wasting on the left, no fasciculation => left wasting present, fasciculation absent
right leg, no wasting or fasciculation => right wasting@leg absent, fasciculation@leg absent
no wasting and no fasciculation in either leg => both wasting@leg absent, fasciculation@leg absent
neither wasting nor fasciculation in the left leg => left wasting@leg absent, fasciculation@leg absent
left leg. no wasting, no fasciculation, no abnormal posture
    => left wasting@leg absent, fasciculation@leg absent, abnormal_posture@leg absent
there was no clonus at the left ankle => left ankle_clonus absent
no clonus on the right, three beats on the left => right ankle_clonus absent; left ankle_clonus 3 beats
right arm. I see no fasciculation => right fasciculation@arm absent
right leg. I can't see any wasting => right wasting@leg absent
left leg without wasting => left wasting@leg absent
no sensory loss at L5 on the left to pinprick => left pinprick@L5 normal
left leg. there is wasting but no fasciculation => left wasting@leg present, fasciculation@leg absent
no knee jerk on the left => left knee_jerk 0
no weakness of the right hip flexors => right hip_flexion normal
""")

THROUGHOUT = table("""
right tibialis posterior took the worst of it. the left leg has full power throughout => left leg_core normal
knee extension, left leg, full power => left knee_extension normal
power in the left arm is five throughout => left arm_core 5
power five throughout the right leg => right leg_core 5
right leg power is five out of five throughout => right leg_core 5
lower limbs. reflexes are two plus and symmetrical => both knee_jerk 2+, ankle_jerk 2+
arms. reflexes one plus throughout both sides => both biceps_jerk 1+, brachioradialis_jerk 1+, triceps_jerk 1+
reflexes absent in both legs => both knee_jerk 0, ankle_jerk 0
power is normal throughout in the legs and normal throughout in the arms, reflexes one plus throughout on both sides
    => both leg_core normal; both arm_core normal; both knee_jerk 1+, ankle_jerk 1+, biceps_jerk 1+;
 both brachioradialis_jerk 1+, triceps_jerk 1+
right grip five. reflexes. supinator one finger jerk one on both sides => right grip 5; both brachioradialis_jerk 1+;
 both finger_jerk 1+
reflexes. knee jerk two on the left ankle jerk one on both sides => left knee_jerk 2+; both ankle_jerk 1+
reflexes brisk in the right arm => right biceps_jerk brisk, brachioradialis_jerk brisk, triceps_jerk brisk
all four limbs, reflexes two plus throughout
    => both knee_jerk 2+, ankle_jerk 2+, biceps_jerk 2+, brachioradialis_jerk 2+, triceps_jerk 2+
The legs are on the other form. Arms now. Power one throughout on the right. => right arm_core 1
the legs are on the other form arms now power one throughout on the right => right arm_core 1
Legs and arms, power three throughout on the left. => left leg_core 3; left arm_core 3
""")

EXCEPT = table("""
power in the right leg is five throughout apart from great toe extension which is four
    => right hip_flexion 5, hip_extension 5, knee_extension 5, knee_flexion 5, ankle_dorsiflexion 5,
    ankle_plantarflexion 5, great_toe_extension 4
left leg power five throughout except dorsiflexion four minus
    => left hip_flexion 5, hip_extension 5, knee_extension 5, knee_flexion 5, ankle_dorsiflexion 4-,
    ankle_plantarflexion 5, great_toe_extension 5
reflexes in both legs two plus except the left ankle jerk which is absent
    => both knee_jerk 2+; right ankle_jerk 2+; left ankle_jerk 0
power in the left arm is full with the exception of wrist extension, three
    => left shoulder_abduction normal, elbow_flexion normal, elbow_extension normal, wrist_extension 3,
    finger_extension normal, finger_flexion normal, finger_abduction normal
""")

MIRRORED = table("""
right leg, dorsiflexion two, right knee flexion four and power in the left leg is the same all round
    => both ankle_dorsiflexion 2, knee_flexion 4
right arm, grip three. right leg, hip extension four, power in the left leg is the same throughout
    => right grip 3; both hip_extension 4
power on the right. knee flexion three hip flexion four. power on the left is identical except for the hip extensors two
    => right knee_flexion 3, hip_flexion 4; left knee_flexion 3, hip_flexion 4, hip_extension 2
knee jerk on the right one plus, power on the left is the same throughout => right knee_jerk 1+
""")

REST = table("""
right leg power. dorsiflexion four, great toe extension three, the rest five
    => right ankle_dorsiflexion 4, great_toe_extension 3, hip_flexion 5, hip_extension 5, knee_extension 5,
    knee_flexion 5, ankle_plantarflexion 5
left arm power. finger abduction four minus, everything else five
    => left finger_abduction 4-, shoulder_abduction 5, elbow_flexion 5, elbow_extension 5, wrist_extension 5,
    finger_extension 5, finger_flexion 5
""")

LEFT_OUT = table("""
romberg not repeated => midline romberg !not_done
vibration at both ankles was reduced, I'm not repeating that on either side
    => both vibration@ankle !not_done contradiction
pinprick reduced at C7 on the left. on the right I'm not testing it
    => left pinprick@C7 reduced; right pinprick@C7 !not_done
""")

MODALITY = table("""
sensation intact L4 to S1 on the left
    => left light_touch@L4 normal modality_unsaid, light_touch@L5 normal modality_unsaid, light_touch@S1 normal
    modality_unsaid
I have a pin here. sensation on the right reduced at L5 => right pinprick@L5 reduced
right sensation with cotton wool reduced at L5 => right light_touch@L5 reduced
sensation reduced at C6 on the right => right light_touch@C6 reduced modality_unsaid
""")


@pytest.mark.parametrize(("talk", "wanted"), [*DENIED, *THROUGHOUT, *EXCEPT, *MIRRORED, *REST, *LEFT_OUT, *MODALITY])
def test_the_rows_in_scope(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted
