"""What a word is said of: a test, the joint it is tested at, a limb, somebody, or nothing that was examined.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import table, told

NO_RESULT = table("""
Romberg deferred, the falls clinic has her on Tuesday. => midline romberg !deferred
romberg not tested because of falls => midline romberg !not_done
Romberg not attempted, too unsteady. => midline romberg !unable
Romberg, he falls. => midline romberg positive
plantars not done on the left, the right extensor => left plantar_response !not_done; right plantar_response extensor
right quads three it's the telling one hamstrings four => right knee_extension 3; right knee_flexion 4
left eversion two and that is the surprising one inversion five => left ankle_eversion 2; left ankle_inversion 5
the left deltoid one, biceps two => left shoulder_abduction 1; left elbow_flexion 2
left dorsiflexion that's a one plantarflexion two => left ankle_dorsiflexion 1; left ankle_plantarflexion 2
knee jerk three on the right two on the left out you get => right knee_jerk 3+; left knee_jerk 2+
hip extension on the left I left out => left hip_extension !not_done
left plantar mute right plantar flexor now I'm going up the leg with my pin => left plantar_response mute;
 right plantar_response flexor
right plantar, it's going up, left going down => right plantar_response extensor; left plantar_response flexor
""")

JOINTS = table("""
clonus at the right knee sustained => right patellar_clonus sustained
the right knee's clonus three beats => right patellar_clonus 3 beats
there was no clonus at either knee => both patellar_clonus absent
clonus at the left ankle four beats => left ankle_clonus 4 beats
clonus four beats at the left ankle => left ankle_clonus 4 beats
""")

LIMBS = table("""
right arm tone increased right leg tone reduced left arm and left leg, tone normal => right tone@arm increased;
 right tone@leg reduced; left tone@arm normal; left tone@leg normal
right leg wasting, no wasting in the left leg => right wasting@leg present; left wasting@leg absent
left leg, no wasting or fasciculation in the right leg => right wasting@leg absent; right fasciculation@leg absent
right tone normal postural tremer no wasting on the right => right tone normal; right wasting absent
left plantar extends are right plantar mute => left plantar_response extensor; right plantar_response mute
fasciculation in the right arm and right leg, wasting in the left leg => right fasciculation@arm present;
 right fasciculation@leg present; left wasting@leg present
""")

FOUND = table("""
fasciculation in the left arm, same on the right => left fasciculation@arm present; right fasciculation@arm present
involuntary movement in the left arm and the same in the right arm => left involuntary_movement@arm present;
 right involuntary_movement@arm present
no fasciculation in the left arm, tremor in the right arm the same => left fasciculation@arm absent;
 right involuntary_movement@arm absent
looking first. wasting in both legs => both wasting@leg present
watch the bulk of this hand so wasting in the right hand => right wasting@arm present
the hand sits bent right across him that's abnormal posture in the right arm => right abnormal_posture@arm present
if the root is gone so wasting in the left leg => -
no wasting in the left leg fasciculation is there in the left calf => left wasting@leg absent;
 left fasciculation@leg present
no fasciculation or wasting is there in either arm => both fasciculation@arm absent; both wasting@arm absent
lie flat for me tone first right arm increased left arm normal => right tone@arm increased; left tone@arm normal
""")

FELT = table("""
saddle pin normal both sides => both pinprick@S4-5 normal
perianal pin normal on the right, perianal touch reduced => right pinprick@S4-5 normal; right light_touch@S4-5 reduced
""")

WHOLE = table("""
pinprick normal at C5 on the left. I haven't examined his legs today => left pinprick@C5 normal
I didn't test vibration in the left leg. => left vibration !not_done
plantars deferred on both sides, romberg unable to stand so not done => both plantar_response !deferred;
 midline romberg !unable
gait impaired he stamps had the left ankle jerk gone as well I'd think of the root => midline gait impaired
she had the left ankle jerk tested, left ankle jerk two => left ankle_jerk 2+
""")

ORDERS = table("""
right arm, up like a bird, push against me, good => right shoulder_abduction normal ~
right arm same again elbow out against me good bend it good => right shoulder_abduction normal ~;
 right elbow_flexion normal ~
now his legs left leg up off the bed good kick good => left hip_flexion normal ~;
 left knee_extension normal ~
left leg. foot up fine and push your foot down as if you're at the wheel good =>
 left ankle_dorsiflexion normal ~; left ankle_plantarflexion normal ~
right leg great push down on my hand good => right ankle_plantarflexion normal ~
bend your elbows. pull towards you with the left. great. with the right. great => right elbow_flexion normal ~;
 left elbow_flexion normal ~
left finger to your nose good and now the right good => left finger_nose normal ~; right finger_nose normal ~
tone increased now on both sides => both tone increased
left grip five. the wrist always hangs when it's tired right other arm please squeeze my fingers good => left grip 5;
 right grip normal ~
no giggling left arm first elbow out don't let me push good => left shoulder_abduction normal ~
left grip five now the right four => left grip 5; right grip 4
""")

SEEN = table("""
clonus left none. three beats can be normal => left ankle_clonus absent
right knee jerk three would be brisk for her => right knee_jerk 3+
ankle jerks absent on both sides some quite healthy folk have none => both ankle_jerk 0
gait she's slow impaired toe walking normal => midline gait impaired; midline toe_walk normal
gait stiff and slow => midline gait impaired
bicep's and triceps jerks are two plus on both sides => both biceps_jerk 2+; both triceps_jerk 2+
left arm grip four legs tone normal in both => left grip 4; right tone@leg normal; left tone@leg normal
right hip abduction four L3 => right hip_abduction 4 (L3) root_unexpected
left hip a duction three L5 knee extension five => left hip_abduction 3 (L5); left knee_extension 5
""")


@pytest.mark.parametrize(("talk", "expected"), NO_RESULT + JOINTS + LIMBS + FOUND + FELT + WHOLE + ORDERS + SEEN)
def test_a_word_is_read_of_what_it_is_said_of(talk: str, expected: list[str]) -> None:
    assert told(talk) == expected
