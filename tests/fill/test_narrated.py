"""Exams that are told to a listener in plain words, with what is left out, what breaks in and what is put right.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

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
next i will test the ankle jerks they are present on the right and absent on the left => right ankle_jerk normal;
 left ankle_jerk 0
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
vibration absent at the left ankle. gait normal. i said vibration at the left ankle was absent, when i did it again he
 felt it so it is reduced => left vibration@ankle reduced; midline gait normal
pinprick normal at C8 on the left. tone normal in the left arm. i reported C8 on the left as normal, i should have said
 reduced => left pinprick@C8 reduced, tone@arm normal
right hip abduction strong. right hip abduction i had as strong he drops when i press longer so right hip abduction is
 weak => right hip_abduction reduced grade_unsaid
left knee jerk two plus. gait normal. i recorded the left knee jerk as two plus but the right knee jerk is absent =>
 left knee_jerk 2+; midline gait normal; right knee_jerk 0
pinprick at L4 on the left normal. so L4 on the left is reduced not normal => left pinprick@L4 reduced
one correction the right plantar which i said was down is up => right plantar_response extensor
as i said the left biceps jerk is absent the right is two plus => left biceps_jerk 0; right biceps_jerk 2+
i said the left biceps jerk was absent. the right biceps jerk is two plus => left biceps_jerk 0; right biceps_jerk 2+
right grip five. i said right grip five. so left grip is four => right grip 5; left grip 4
anal tone reduced. absent ankle jerks on both sides. i misspoke about the plantars, the left one is mute =>
 midline anal_tone reduced; both ankle_jerk 0; left plantar_response mute
it is the left arm that is wasted and in the right arm there is no wasting => left wasting@arm present;
 right wasting@arm absent
hip adduction on the right i would now say strong => right hip_adduction normal
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

SUMMED_UP = table("""
gait is not tested he is unable to stand to summarise reduced anal tone and absent knee jerks => midline gait !unable;
 midline anal_tone reduced; both knee_jerk 0
to recap absent left triceps jerk weak left elbow extension and reduced pinprick at C7 on the left =>
 left triceps_jerk 0, elbow_extension reduced grade_unsaid, pinprick@C7 reduced
this man has weak right hip flexion and knee extension with normal right knee flexion =>
 right hip_flexion reduced grade_unsaid, knee_extension reduced grade_unsaid, knee_flexion normal
in summary right grip is weak and left grip is strong => right grip reduced grade_unsaid; left grip normal
knee jerk on the right has normal left knee jerk is brisk => right knee_jerk normal; left knee_jerk brisk
right ankle jerk absent with reinforcement. left ankle jerk two plus => right ankle_jerk 0; left ankle_jerk 2+
""")

COMPARED = table("""
right hip flexion five right big toe four the left is the same as the right except for the big toe which is three =>
 right hip_flexion 5, great_toe_extension 4; left hip_flexion 5, great_toe_extension 3
left biceps jerk two the right is identical to the left ankle jerks absent on both sides => both biceps_jerk 2+,
 ankle_jerk 0
power in the right leg is full throughout apart from knee flexion which gives way that is weak =>
 right hip_flexion normal, hip_extension normal, knee_extension normal, ankle_dorsiflexion normal,
 ankle_plantarflexion normal, great_toe_extension normal, knee_flexion reduced grade_unsaid
hip flexion on the right gives way weak and the left is the same => both hip_flexion reduced grade_unsaid
reflexes on the right biceps jerk brisk triceps jerk brisk on the left both are normal => right biceps_jerk brisk,
 triceps_jerk brisk; left biceps_jerk normal, triceps_jerk normal
vibration at the ankle is reduced on the right at the knee it is normal on both sides joint position sense i move the
 toe => right vibration@ankle reduced; both vibration@knee normal
no wasting in the left arm but in the right arm there is wasting => left wasting@arm absent; right wasting@arm present
in the right leg i see wasting and no fasciculation there => right wasting@leg present, fasciculation@leg absent
""")

BETWEEN_ORDERS = table("""
left dorsiflexion weak big toe up for me that is weak too => left ankle_dorsiflexion reduced grade_unsaid,
 great_toe_extension reduced grade_unsaid
can you push your foot down for me on the right that is strong on the left that gives way so it is weak =>
 right ankle_plantarflexion normal; left ankle_plantarflexion reduced grade_unsaid
if it catches on the way that is spasticity => -
left foot up hold it and that's strong => left ankle_dorsiflexion normal
left deltoid four i steady him with my right hand biceps five => left shoulder_abduction 4, elbow_flexion 5
right foot now push my hand away like a brake pedal great => right ankle_plantarflexion normal ~
left leg. press down as if you stood on your toes. good => left ankle_plantarflexion normal ~
heel shin right heel on the left knee and slide lovely => right heel_shin normal ~
he would rather not so gait is declined => midline gait !declined
""")

BROKEN_INTO = table("""
the phone sorry one moment where was i left deltoid strong left biceps weak => left shoulder_abduction normal,
 elbow_flexion reduced grade_unsaid
left hip extension is five, right hip extension not done because of pain excuse me the tea's here then she's all yours
 knee jerks two plus => left hip_extension 5; right hip_extension !pain; both knee_jerk 2+
left plantar down going right do it once more right up going => left plantar_response flexor;
 right plantar_response extensor
""")


ASKED = [
    ("wrist flexion is strong on the left and finger a duction is full strength too", "hip_adduction"),
    ("now the pedal T8 normal on both sides", "ankle_plantarflexion"),
]


@pytest.mark.parametrize(
    ("talk", "wanted"),
    LEFT_OUT + ANNOUNCED + IN_PLAIN_WORDS + PUT_RIGHT + SUMMED_UP + COMPARED + BETWEEN_ORDERS + BROKEN_INTO,
)
def test_what_is_told_in_plain_words_is_read(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(("talk", "manoeuvre"), ASKED)
def test_a_movement_that_does_not_belong_there_is_shown(talk: str, manoeuvre: str) -> None:
    found = [row for row in rows(talk) if row.manoeuvre == manoeuvre]
    assert all(row.confirm for row in found)
