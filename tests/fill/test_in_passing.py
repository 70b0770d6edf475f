"""Results said among headings, remarks, corrections and supposings, and without a break between two of them.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

HEADINGS = table("""
left leg. eversion two, plantarflexion four minus. arms. power in the left arm. deltoid five => left ankle_eversion 2;
 left ankle_plantarflexion 4-; left shoulder_abduction 5
no fasciculation in the legs. reflexes. biceps two plus on both sides. triceps brisk on the left =>
 right fasciculation@leg absent; left fasciculation@leg absent; right biceps_jerk 2+; left biceps_jerk 2+;
 left triceps_jerk brisk
reflexes. supinator reduced on the right, inverted, and two plus on the left. triceps three plus on both sides =>
 right brachioradialis_jerk reduced; left brachioradialis_jerk 2+; right triceps_jerk 3+; left triceps_jerk 3+
reflexes. on the right, biceps two plus, brachioradialis one plus, triceps two plus => right biceps_jerk 2+;
 right brachioradialis_jerk 1+; right triceps_jerk 2+
reflexes. left biceps one plus. left supinator one plus. left triceps two plus. the right arm is the same =>
 left biceps_jerk 1+; left brachioradialis_jerk 1+; left triceps_jerk 2+; right biceps_jerk 1+;
 right brachioradialis_jerk 1+; right triceps_jerk 2+
left leg. inversion four, great toe extension three, the right now, inversion five => left ankle_inversion 4;
 left great_toe_extension 3; right ankle_inversion 5
in the arms no wasting or fasciculation on either side in the legs wasting on both sides =>
 right wasting@arm absent; left wasting@arm absent; right fasciculation@arm absent; left fasciculation@arm absent;
 right wasting@leg present; left wasting@leg present
tone in the left arm is reduced, in the right arm it's normal, and in the legs it is increased on both sides =>
 left tone@arm reduced; right tone@arm normal; right tone@leg increased; left tone@leg increased
key muscles on the left. ankle dorsiflexors one, l4. long toe extensors, that's the big toe, zero, l5 =>
 left ankle_dorsiflexion 1 (L4); left great_toe_extension 0 (L5)
""")

REMARKS = table("""
wasting in both legs, worse in the left foot. no fasciculation in either leg => right wasting@leg present;
 left wasting@leg present; right fasciculation@leg absent; left fasciculation@leg absent
looking at the left hand, wasting between the thumb and the index finger, no fasciculation => left wasting@arm present;
 left fasciculation@arm absent
there's a rest tremor, so involuntary movement present in the left arm, none in the right arm =>
 left involuntary_movement@arm present; right involuntary_movement@arm absent
no wasting in either arm, fasciculations present in the right arm, absent in the left arm => right wasting@arm absent;
 left wasting@arm absent; right fasciculation@arm present; left fasciculation@arm absent
gait normal, she is dragging the right side. toe walking normal => midline gait normal; midline toe_walk normal
left quadriceps five, l3. now had the adductors been weak, i'd look for an obturator palsy => left knee_extension 5 (L3)
right tone normal in the leg. even had the tone been raised i would not have scanned him => right tone@leg normal
left grip four, and how do we score it? grade three is against gravity => left grip 4
vibration normal at both ankles. sensation is often spared here, people forget that => right vibration@ankle normal;
 left vibration@ankle normal
right plantar, i thought at first it was going up, but no, it's down going =>
 right plantar_response flexor contradiction
light touch over the deltoid, that's c5 on the right, reduced => right light_touch@C5 reduced
pinprick reduced at c6 on the left, and likewise at c7 => left pinprick@C6 reduced; left pinprick@C7 reduced
the left arm and left leg are normal for tone => left tone@arm normal; left tone@leg normal
tone is increased in the left arm and the left leg normal on the right => left tone@arm increased;
 left tone@leg increased; right tone@arm normal; right tone@leg normal
hip adduction, a solid five on each side => right hip_adduction 5; left hip_adduction 5
thumb abduction on the left, that's full strength, five => left thumb_abduction 5
left finger extension zero, not so much as a flicker => left finger_extension 0
no wasting in the left hand. no fasciculation on that side and over on the right hand, wasting =>
 left wasting@arm absent; left fasciculation@arm absent
""")

CORRECTED = table("""
right leg. eversion five. left knee jerk, scratch that, both knee jerks are one plus => right ankle_eversion 5;
 right knee_jerk 1+; left knee_jerk 1+
left wrist extension zero. hang on, i saw a twitch, make that one => left wrist_extension 1
right biceps jerk one plus, no, let me try that again, two plus => right biceps_jerk 2+
pinprick, the right l5 is normal, no, let me do that again, reduced, and right s1 normal => right pinprick@L5 reduced;
 right pinprick@S1 normal
left ankle jerk absent, let me repeat that on the right, one plus => left ankle_jerk 0; right ankle_jerk 1+
""")

LEFT_OUT = table("""
tandem gait, i wouldn't dare, not done => midline tandem_gait !not_done
romberg, she declined it, she'd a fall last week => midline romberg !declined
perianal pinprick he'd rather not today, declined, both sides => right pinprick@S4-5 !declined;
 left pinprick@S4-5 !declined
gait is impaired, and tandem gait he's unable to try => midline gait impaired; midline tandem_gait !unable
she's too weak to roll knee and ankle jerks absent both sides => right knee_jerk 0; left knee_jerk 0;
 right ankle_jerk 0; left ankle_jerk 0
""")

RUN_TOGETHER = table("""
heel shin left heel down the right shin that's impaired right heel down the left shin that's normal =>
 left heel_shin impaired; right heel_shin normal
power is five on the left for the deltoid, for the biceps and for the triceps => left shoulder_abduction 5;
 left elbow_flexion 5; left elbow_extension 5
strength was four on both sides for hip flexion for knee extension and for hip abduction, ankle dorsiflexion was three
 on both sides => right hip_flexion 4; left hip_flexion 4; right knee_extension 4; left knee_extension 4;
 right hip_abduction 4; left hip_abduction 4; right ankle_dorsiflexion 3; left ankle_dorsiflexion 3
deltoids five bilaterally c5 biceps five bilaterally c6 triceps four bilaterally c7 => right shoulder_abduction 5 (C5);
 left shoulder_abduction 5 (C5); right elbow_flexion 5 (C6); left elbow_flexion 5 (C6); right elbow_extension 4 (C7);
 left elbow_extension 4 (C7)
wrist extensors four on the left five on the right c6 triceps five on both sides => left wrist_extension 4 (C6);
 right wrist_extension 5 (C6); right elbow_extension 5; left elbow_extension 5
light touch with a wisp of cotton on the right l3 normal l4 reduced l5 normal => right light_touch@L3 normal;
 right light_touch@L4 reduced; right light_touch@L5 normal
""")

WALKS = [("gait normal. walk on your heels. good. walk on your toes. lovely", {"heel_walk", "toe_walk"})]

DOUBTFUL = [
    ("pinprick, left leg ineffect l3 to l5 right leg normal", "pinprick", "side_uncertain"),
    ("left arm. wrist flexion four, finger flexion five on the right finger abduction three", "finger_flexion",
     "side_uncertain"),
    ("joint position at the great toe pre juiced left, normal right", "joint_position", "unknown_words"),
    ("ankle jerks two plus both sides. posts are up going on both sides", "plantar_response", "manoeuvre_unsaid"),
    ("let the hammer swing. left biceps two plus", "biceps_jerk", "manoeuvre_unsaid"),
    ("no wasting in either leg. flower is five throughout in both legs", "hip_flexion", "unknown_words"),
]  # fmt: skip


@pytest.mark.parametrize(("talk", "wanted"), HEADINGS + REMARKS + CORRECTED + LEFT_OUT + RUN_TOGETHER)
def test_each_result_is_that_of_its_own_test(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(("talk", "walks"), WALKS)
def test_walks_that_were_asked_for_and_praised_are_inferred_normal(talk: str, walks: set[str]) -> None:
    inferred = {row.manoeuvre for row in rows(talk) if "inferred_normal" in row.flags and row.confirm}
    assert inferred == walks


def test_the_heel_tells_which_leg_is_tested() -> None:
    (row,) = rows("touch your right knee with your left heel and run it down. very good")
    assert (row.manoeuvre, row.side.value, row.value, row.confirm) == ("heel_shin", "left", "normal", True)


@pytest.mark.parametrize(("talk", "manoeuvre", "flag"), DOUBTFUL)
def test_what_a_lost_word_leaves_open_is_shown_to_a_person(talk: str, manoeuvre: str, flag: str) -> None:
    found = [row for row in rows(talk) if row.manoeuvre == manoeuvre]
    assert found
    assert all(row.confirm and flag in row.flags for row in found), [(row.value, row.flags) for row in found]


def test_strength_and_jerk_of_one_muscle_are_two_results() -> None:
    talk = "biceps five on the right. biceps five on the left. and biceps two plus on the right"
    found = {(row.manoeuvre, row.side.value): row for row in rows(talk)}
    assert found["elbow_flexion", "right"].value == "5"
    assert found["biceps_jerk", "right"].value == "2+"
    assert found["biceps_jerk", "right"].confirm
