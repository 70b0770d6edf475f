"""Exams that are told to a listener in plain words, with what is left out, what breaks in and what is put right.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import table, told

LEFT_OUT = table("""
i would usually check tandem walking but he declined => midline tandem_gait !declined
i would normally test finger extension but i will leave it out on both sides => both finger_extension !not_done
i'd normally do heel walking but she is not safe so not tested => midline heel_walk !unable
i would normally check temperature as well but i have no tubes so temperature at C7 is not done on either side =>
 both temperature@C7 !not_done
i would normally test the triceps jerk here. the left triceps jerk is two plus => left triceps_jerk 2+
i would usually do the ankle jerk kneeling but the right ankle jerk is absent => right ankle_jerk 0
you would normally lose the ankle jerk in an S1 lesion but here the left ankle jerk is two plus => left ankle_jerk 2+
heel walking normal. he refused to walk on his toes => midline heel_walk normal; midline toe_walk !declined
she declined to go on. right knee jerk two plus => right knee_jerk 2+
biceps and triceps jerks on the right can't be reached for plaster => right biceps_jerk !unable, triceps_jerk !unable
left knee jerk two right knee jerk and right plantar likewise not testable => left knee_jerk 2+;
 right knee_jerk !not_done, plantar_response !not_done
the left plantar i can't she has a dressing on the sole => left plantar_response !unable
the left knee jerk i can't get it. right knee jerk two plus => left knee_jerk 0; right knee_jerk 2+
""")

ANNOUNCED = table("""
i will move on to reflexes biceps and triceps jerks are present on both sides => both biceps_jerk normal,
 triceps_jerk normal
light touch on the left is normal at L3 i'll go on to pinprick on the left it is absent at L5 =>
 left light_touch@L3 normal, pinprick@L5 absent
i will now test light touch on the left it is reduced at L5 => left light_touch@L5 reduced
i'd like to test your knee jerk now => -
i will move on to gait when the frame is here => -
""")

IN_PLAIN_WORDS = table("""
power in the arms elbow flexion on the left just flickers elbow extension on the left grade four =>
 left elbow_flexion 1, elbow_extension 4
the left hamstrings only flicker => left knee_flexion 1
knee flexion is weak on the right and full strength on the left => right knee_flexion reduced grade_unsaid;
 left knee_flexion normal
power in the legs. big toe extension grade one on the right on the left it is full strength =>
 right great_toe_extension 1; left great_toe_extension normal
right hip flexion four right knee extension three full power in the left leg => right hip_flexion 4, knee_extension 3;
 left leg_core normal
so dorsiflexion inversion and plantarflexion on the left are five all three => left ankle_dorsiflexion 5,
 ankle_inversion 5, ankle_plantarflexion 5
rapid alternating movements tap tap tap impaired on the right normal on the left => right rapid_alternating impaired;
 left rapid_alternating normal
right arm no fasciculation wasting present tone normal => right fasciculation@arm absent, wasting@arm present,
 tone@arm normal
right leg no wasting fasciculation or tremor present => right wasting@leg absent, fasciculation@leg absent,
 involuntary_movement@leg absent
in the left leg there is involuntary movement a tremor absent in the right leg =>
 left involuntary_movement@leg present; right involuntary_movement@leg absent
she is nil by mouth in the left leg there's wasting none in the right leg => left wasting@leg present;
 right wasting@leg absent
""")

PUT_RIGHT = table("""
the left plantar is down going not up going => left plantar_response flexor
right ankle dorsiflexion is one not zero => right ankle_dorsiflexion 1
right biceps jerk absent not just reduced => right biceps_jerk 0
vibration is reduced not absent at the right ankle => right vibration@ankle reduced
tone in the left leg is increased, not normal => left tone@leg increased
hip abduction on the right is four, not tested on the left => right hip_abduction 4; left hip_abduction !not_done
right knee jerk two left no right biceps jerk one plus => right knee_jerk 2+, biceps_jerk 1+
light touch on the right close your eyes say yes so L5 is reduced and S1 is normal => right light_touch@L5 reduced,
 light_touch@S1 normal
""")

BROKEN_INTO = table("""
left hip extension is five, right hip extension not done because of pain excuse me the tea's here then she's all yours
 knee jerks two plus => left hip_extension 5; right hip_extension !pain; both knee_jerk 2+
left plantar down going right do it once more right up going => left plantar_response flexor;
 right plantar_response extensor
""")


@pytest.mark.parametrize(
    ("talk", "wanted"),
    LEFT_OUT + ANNOUNCED + IN_PLAIN_WORDS + PUT_RIGHT + BROKEN_INTO,
)
def test_what_is_told_in_plain_words_is_read(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted
