"""Tests that a record has no row for, what only says a result again or explains it, and what was left out in passing.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import table, told

OTHER_TESTS = table("""
left ankle jerk brisk jaw jerk absent => left ankle_jerk brisk
biceps jerks three plus on both sides, jaw jerk two plus => both biceps_jerk 3+
right grip four tinel's positive at the wrist and elbow left grip five => right grip 4; left grip 5
slump negative on the right and positive on the left right knee jerk one plus => right knee_jerk 1+
both plantars flexor abdominal reflexes absent on the left and present on the right => both plantar_response flexor
finger nose normal both sides. Lhermitte's I won't provoke. Romberg negative => both finger_nose normal;
 midline romberg negative
hoffmann's absent both sides froment's was positive => both hoffmann_sign absent
left triceps four phalen's he declined, left biceps five => left elbow_extension 4; left elbow_flexion 5
wasting in the left hand, froment's positive => left wasting@arm present
no jaw jerk knee jerks two plus both sides => both knee_jerk 2+
""")

LEFT_OUT = table("""
gait not formally tested => midline gait !not_done
left grip couldn't be properly assessed, bandaged => left grip !unable
the reflexes were formally tested, knee jerks two plus both sides => both knee_jerk 2+
steppage gait on the left so gait impaired toe walking not possible on the left => midline gait impaired;
 left toe_walk !not_done
right biceps five triceps not tested => right elbow_flexion 5; right elbow_extension !not_done
temperature I skipped, so left C7 temperature skipped => left temperature@C7 !not_done
knee jerks present both sides, the ankle jerks I haven't tried, not done => both knee_jerk normal;
 both ankle_jerk !not_done
the left ankle jerk one plus, the right one he refused => left ankle_jerk 1+; right ankle_jerk !declined
left dorsiflexion one he refused plantarflexion => left ankle_dorsiflexion 1; left ankle_plantarflexion !declined
quads four plus on the left, it has been in a brace, hamstrings five => left knee_extension 4+; left knee_flexion 5
gait on two sticks, I'll leave that to the therapists => midline gait !deferred
we'll leave the plantars for this evening => both plantar_response !deferred
gait my colleague will do tomorrow => midline gait !deferred
""")

PLACES_LEFT_OUT = table("""
vibration normal at the knees both sides at the ankles I haven't checked not done => both vibration@knee normal;
 both vibration@ankle !not_done
pinprick normal at both L4 reduced at L5 on the left at S1 we didn't test => both pinprick@L4 normal;
 left pinprick@L5 reduced; left pinprick@S1 !not_done
""")

SAID_AGAIN = table("""
right EHL one, a flicker, peroneals two => right great_toe_extension 1; right ankle_eversion 2
left wrist extension one just a flicker wrist flexion two => left wrist_extension 1; left wrist_flexion 2
right hip flexion five is normal power knee extension four => right hip_flexion 5; right knee_extension 4
grip normal on both sides. five is normal power by the way => both grip normal
left deltoid four any questions five is normal power by the way => left shoulder_abduction 4
light touch right C6 okay so normal right C7 reduced => right light_touch@C6 normal; right light_touch@C7 reduced
left plantarflexion five the pyramidal pattern flexors weaker than extensors knee jerks three plus both sides =>
 left ankle_plantarflexion 5; both knee_jerk 3+
clonus at the right ankle five beats normal is up to three => right ankle_clonus 5 beats
a Romberg is only positive if the eyes make the difference => -
right leg tone normal no leaning on that side please => right tone@leg normal
left leg tone normal in vascular disease the arms are spared => left tone@leg normal
""")

LOOKED_FOR = table("""
looking for wasting and fasciculation, right leg neither, left leg some wasting => right wasting@leg absent;
 right fasciculation@leg absent; left wasting@leg present
I'm checking for wasting and fasciculations and in the left arm there's neither => left wasting@arm absent;
 left fasciculation@arm absent
wasting and fasciculations both legs I see none of either => both wasting@leg absent; both fasciculation@leg absent
left hand abnormal posture with the fingers clawed no abnormal posture in the right hand =>
 left abnormal_posture@arm present; right abnormal_posture@arm absent
on the right wasting of the calf, left leg nothing like that => right wasting@leg present; left wasting@leg absent
no fasciculations in the left leg nothing like that on the right knee jerks two plus both sides =>
 both fasciculation@leg absent; both knee_jerk 2+
""")

TO_THE_PATIENT = table("""
knee jerk two plus on the right, left, pull your hands apart, absent => right knee_jerk 2+; left knee_jerk 0
romberg feet together now close your eyes negative heel walking normal => midline romberg negative;
 midline heel_walk normal
left foot up good point it down lovely => left ankle_dorsiflexion normal ~; left ankle_plantarflexion normal ~
light touch right normal at C5 and C6 | left side the same again touch my finger and your nose right hand first good =>
 both light_touch@C5 normal; both light_touch@C6 normal; right finger_nose normal ~
knee jerk right absent pull your hands apart and still absent ankle jerks two plus both sides => right knee_jerk 0;
 both ankle_jerk 2+
touch right L4 reduced L5 absent joint position normal at both great toes => right light_touch@L4 reduced;
 right light_touch@L5 absent; both joint_position@great_toe normal
""")


@pytest.mark.parametrize(
    ("talk", "wanted"), [*OTHER_TESTS, *LEFT_OUT, *PLACES_LEFT_OUT, *SAID_AGAIN, *LOOKED_FOR, *TO_THE_PATIENT]
)
def test_a_result_is_of_the_test_it_is_told_of(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted
