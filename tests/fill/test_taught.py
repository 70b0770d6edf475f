"""Results among teaching: what one would expect, what others say or have, and how it is in the patient.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

TURNS_BACK = table("""
left leg. the ankle jerk would be the first to go but hers is two plus => left ankle_jerk 2+
right biceps jerk. you would lose it in a c6 root but she hasn't and it's two plus => right biceps_jerk 2+
you'd think grip would be weak in that wrist and in him it's five on the left => left grip 5
left arm. a radial palsy would drop the wrist but his doesn't and wrist extension is five => left wrist_extension 5
reflexes. a diabetic would have none at the ankles but they're one plus throughout both legs => right knee_jerk 1+;
 left knee_jerk 1+; right ankle_jerk 1+; left ankle_jerk 1+
reflexes an absent one would make me look again but they're one plus throughout the legs on both sides =>
 right knee_jerk 1+; left knee_jerk 1+; right ankle_jerk 1+; left ankle_jerk 1+
if he cannot lift it that is a grade of two hammer left knee jerk three plus right knee jerk two plus =>
 left knee_jerk 3+; right knee_jerk 2+
if you hit it with a reflex hammer too hard the leg jumps. left knee jerk two => left knee_jerk 2+
remember the supinator is c6. in her it's two plus on the left => left brachioradialis_jerk 2+
before anyone guesses biceps, triceps and supinator jerks are one plus on the left => left biceps_jerk 1+;
 left triceps_jerk 1+; left brachioradialis_jerk 1+
a tremor would have told me more but I can't find one right grip four => right grip 4
you'd expect a brisk jerk but I don't get one left knee jerk absent => left knee_jerk 0
what can you see yes wasting in both legs => left wasting@leg present; right wasting@leg present
what do you see in the left leg yes fasciculation in the left leg and no wasting => left fasciculation@leg present;
 left wasting@leg absent
we're two of the medical students no wasting in either arm => right wasting@arm absent; left wasting@arm absent
I'm teaching one of the students that the reflexes are brisk => -
what would you predict for the reflexes? brisk, one says, and that is wrong. left biceps jerk two plus =>
 left biceps_jerk 2+
""")

THERE_IN_THIS_ONE = table("""
There is an abnormal posture of the right arm, the wrist is always bent. => right abnormal_posture@arm present
there is wasting of the left calf, the muscle is usually flickering => left wasting@leg present
There's a tremor in the left hand and the thumb often moves. No wasting of the left hand.
    => left involuntary_movement@arm present, wasting@arm absent
there is fasciculation in both calves, which usually means the anterior horn. tone normal in the left leg
    => both fasciculation@leg present; left tone@leg normal
when there is wasting of the left hand the ulnar nerve is usually to blame => -
there is usually wasting of the left hand in a syrinx => -
in ulnar palsies there is wasting of the hand, always on that side => -
if she had a temperature we'd be calling them now gait deferred until the nurses had a look => midline gait !deferred
""")

IT_MIGHT_BE = table("""
if the knee jerks were gone we'd be worried they're brisk on both sides => both knee_jerk brisk
if the biceps jerks were absent we'd image the neck, they're present on both sides => both biceps_jerk normal
if the cord is cut they're brisk on both sides => -
if it was a polyneuropathy you'd lose the ankle jerks they're absent in most of them => -
""")

SAID_BY_OTHERS = table("""
left shoulder abduction. a student thought it was three. it isn't, it's five => left shoulder_abduction 5
right knee extension somebody says four. no, it's five => right knee_extension 5
left knee jerk. somebody says it's absent. it isn't, it's one plus => left knee_jerk 1+
a student told me the left plantar was up => -
she had a cousin whose knee jerks were four plus and it's a family thing => -
somebody wants to hold the leg for me. right quads four => right knee_extension 4
""")

IN_GENERAL = table("""
in ms the plantars are up and the reflexes are brisk => -
in neuropathy the ankle jerks are absent on both sides => -
in the elderly vibration is absent at the toes on both sides => -
after a stroke the tone is increased in the left arm => -
most will have an ankle jerk of zero on both sides by eighty => -
take a man with a cord lesion, his plantars are up and his tone is increased => -
before the op dorsiflexion was zero on the left => -
we had one on monday whose plantars were both up => -
the man before him had power of three in the right leg => -
students write power five throughout without testing => -
left knee jerk two plus. had i found it lost i'd have rung the surgeons. right knee jerk two plus =>
 left knee_jerk 2+; right knee_jerk 2+
if the ankle jerk goes and it is absent on both sides think of a neuropathy => -
you'd have to see zero on both sides before you call it lost => -
in the young man's left arm tone is normal => left tone@arm normal
after a cup of tea the left knee jerk is two plus => left knee_jerk 2+
with a pin l5 on the left is reduced => left pinprick@L5 reduced
tone is increased in both legs in a lesion like this => right tone@leg increased; left tone@leg increased
alternating movements slow on the left, fine on the right. the posh word for that is dysdiadochokinesis
    => left rapid_alternating impaired; right rapid_alternating normal
the name for this is clonus. right ankle clonus three beats => right ankle_clonus 3 beats
in somebody with warm hands and good veins you'd leave it there => -
romberg negative when romberg is positive you must look at the cord => midline romberg negative
right ankle jerk two plus. when ankle jerks are absent, ask for the sugar. left ankle jerk absent =>
 right ankle_jerk 2+; left ankle_jerk 0
when reinforced the right ankle jerk is one plus => right ankle_jerk 1+
tone is normal in the left leg this you must remember => left tone@leg normal
right knee jerk absent that you should write down => right knee_jerk 0
left grip five like this you can test it => left grip 5
""")

TOLD_AT_LAST = table("""
right straight leg raise people think it's always tight he reached seventy on the right and eighty on the left =>
 right straight_leg_raise 70 degrees; left straight_leg_raise 80 degrees
straight leg raise in the old it's never loose. eighty on both sides => right straight_leg_raise 80 degrees;
 left straight_leg_raise 80 degrees
everybody says the vibration goes and it has absent at both great toes => right vibration@great_toe absent;
 left vibration@great_toe absent
right hoffmann i thought the thumb would jump but it stayed still so absent => right hoffmann_sign absent
left shoulder abduction i'd expect four but no five => left shoulder_abduction 5
knee jerk two plus on the right. on the left you'd struggle to see it but it's one plus => right knee_jerk 2+;
 left knee_jerk 1+
left deltoid. most people call that four. i make it three => left shoulder_abduction 3
knee jerk brisk on the right. on the left i'd say reduced => right knee_jerk brisk; left knee_jerk reduced
fasciculation in the right leg. in the left i'd have sworn but there's none => right fasciculation@leg present;
 left fasciculation@leg absent
i looked at it before you came and the left leg has normal tone => left tone@leg normal
the grip you'd think would go first it's four on the right and five on the left => right grip 4; left grip 5
""")

ON_THE_WAY = table("""
hip extension on the right means rolling him and that's too sore so not tested => right hip_extension !pain
hip abduction on the left he'd need to lie on his side for that so not done => left hip_abduction !not_done
right ankle jerk absent, no, wait, squeeze my hands and pull, one plus => right ankle_jerk 1+
left knee jerk absent, sorry, one plus. squeeze my fingers. grip five => left knee_jerk 1+; left grip 5
look at the first web space. that's wasting in the left hand and not in the right hand => left wasting@arm present;
 right wasting@arm absent
thinner than they were look | that's wasting in the left leg => left wasting@leg present
toe walking impaired on the left and on the right, lovely, normal => left toe_walk impaired; right toe_walk normal
if it's thin that's wasting in the left hand to you => -
left hip flexion not tested, nor hip extension. quads four => left hip_flexion !not_done; left hip_extension !not_done;
 left knee_extension 4
left hip flexion not tested. no wasting nor fasciculation in the left leg => left hip_flexion !not_done;
 left wasting@leg absent; left fasciculation@leg absent
gait the physios will do tomorrow => midline gait !deferred
finger abduction three on the right and two on the left. hip flexion four => right finger_abduction 3;
 left finger_abduction 2; unsaid hip_flexion 4
left leg and you'll have to take my word for it full power throughout => left leg_core normal
light touch on the right L5 absent S1 reduced and pinprick gives the same right L5 absent S1 reduced =>
 right light_touch@L5 absent; right light_touch@S1 reduced; right pinprick@L5 absent; right pinprick@S1 reduced
left grip one of you can do later => left grip !deferred
left knee jerk two plus, the registrar will see her later => left knee_jerk 2+
""")


@pytest.mark.parametrize(
    ("talk", "wanted"),
    TURNS_BACK + IT_MIGHT_BE + THERE_IN_THIS_ONE + SAID_BY_OTHERS + IN_GENERAL + TOLD_AT_LAST + ON_THE_WAY,
)
def test_a_result_among_teaching_is_the_patients(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


def test_a_test_that_was_only_spoken_of_is_shown() -> None:
    (row,) = rows("left leg. the ankle jerk would be the first to go but hers is two plus")
    assert "manoeuvre_unsaid" in row.flags


def test_what_repeats_a_doubtful_result_is_no_surer() -> None:
    talk = "pinprick on the right, normal at L4 she says it's less so reduced L5, and on the left it's just the same"
    found = {(row.side.value, row.site): row for row in rows(talk)}
    for (side, site), row in found.items():
        assert row.confidence <= found["right", site].confidence or side == "right"
