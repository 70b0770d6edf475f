"""Results said among headings, remarks, corrections and supposings, and without a break between two of them.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

ONE_AFTER_THE_OTHER = table("""
left pinprick reduced L2 to L4 L5 to S1 normal => left pinprick@L2 reduced;
 left pinprick@L3 reduced; left pinprick@L4 reduced; left pinprick@L5 normal; left pinprick@S1 normal
left light touch normal C5 to C7 T1 => left light_touch@C5 normal; left light_touch@C6 normal;
 left light_touch@C7 normal; left light_touch@T1 normal
grip four on the left and five on the right and left deltoid four => left grip 4; right grip 5;
 left shoulder_abduction 4
knee jerk one plus on the right and two plus on the left and right ankle jerk absent => right knee_jerk 1+;
 left knee_jerk 2+; right ankle_jerk 0
knee jerk two plus on the right and left ankle jerk two plus => both knee_jerk 2+; both ankle_jerk 2+
if it were faster you'd call it spasticity power is full throughout in both legs => both leg_core normal
if the power is full throughout you can stop => -
right knee extension you'd call that four plus => right knee_extension 4+
three beats would be all right power five throughout in the left arm => left arm_core 5
hoffmann present on the left sorry and absent on the right => left hoffmann_sign present; right hoffmann_sign absent
left grip four sorry five => left grip 5
left arm pull me in good elbow flexion four elbow extension five the right arm is the same =>
 both elbow_flexion 4; both elbow_extension 5
romberg deferred till the hoist has been fixed his wife is on the phone => midline romberg !deferred
plantar flexor on the left the squeeze was weak on the right => left plantar_response flexor
rapid alternating movements normal on both sides the long word is dysdiadochokinesis => both rapid_alternating normal
no wasting in the left leg no fasciculation in either tone reduced in both legs => left wasting@leg absent;
 both fasciculation@leg absent; both tone@leg reduced
imagine the bell has rung left leg kick out against me good => left knee_extension normal ~
right wrist flexion five left arm push your wrist up good => right wrist_flexion 5; left wrist_extension normal ~
elbow flexion five left arm => left elbow_flexion 5
gait impaired she's ataxic heel walking left impaired => midline gait impaired; left heel_walk impaired
he's weak left hip flexion => left hip_flexion reduced grade_unsaid
no wasting or tremor in the left arm the right arm has neither biceps jerk two plus on both sides =>
 left wasting@arm absent; left involuntary_movement@arm absent; right wasting@arm absent;
 right involuntary_movement@arm absent; both biceps_jerk 2+
right arm elbow flexion four elbow extension three on the left power is five throughout => right elbow_flexion 4;
 right elbow_extension 3; left arm_core 5
left leg dorsiflexion two in the right leg power is full throughout => left ankle_dorsiflexion 2; right leg_core normal
tone is increased in both legs power is five throughout in both legs => both tone@leg increased; both leg_core 5
right leg hip flexion two knee extension three on the right power five throughout on the left =>
 right hip_flexion 2; right knee_extension 3; left leg_core 5
power is five throughout in both arms in the legs power is four throughout on both sides => both arm_core 5;
 both leg_core 4
""")

HEADINGS = table("""
right tone normal in the leg. patellar brisk on the right two plus on the left achilles absent on both sides =>
 right tone@leg normal; right knee_jerk brisk; left knee_jerk 2+; right ankle_jerk 0; left ankle_jerk 0
dorsiflexion five on both sides, patellar and achilles one plus bilaterally => right ankle_dorsiflexion 5;
 left ankle_dorsiflexion 5; right knee_jerk 1+; left knee_jerk 1+; right ankle_jerk 1+; left ankle_jerk 1+
pinprick on the right reduced over the achilles at S1 => right pinprick@S1 reduced
toe walking impaired, that's the left foot. the right foot is normal => left toe_walk impaired; right toe_walk normal
the left achilles is tight. left ankle dorsiflexion four => left ankle_dorsiflexion 4
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
tone in the right arm is reduced power on the right shoulder abduction two => right tone@arm reduced;
 right shoulder_abduction 2
tone normal in the right leg | left lower extremity hip flexion two knee extension four. right lower extremity
 full power throughout => right tone@leg normal; left hip_flexion 2; left knee_extension 4; right leg_core normal
""")

REMARKS = table("""
wasting none in the right leg, some in the left leg. fasciculation none either => right wasting@leg absent;
 left wasting@leg present; unsaid fasciculation@leg absent
there is wasting in both arms, and nobody has told him => both wasting@arm present
fasciculation in the left leg and everybody can see it => left fasciculation@leg present
the right arm adopts an abnormal posture => right abnormal_posture@arm present
right leg, tone normal. the left foot hangs down and the knee falls out. hip flexion on the left two =>
 right tone@leg normal; left hip_flexion 2
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
 right plantar_response flexor
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
tone normal in both legs start with the left knee up to your chest good
    => both tone@leg normal; left hip_flexion normal ~
no fasciculation in either arm elbows out like wings both sides don't let me push down good
    => both fasciculation@arm absent, shoulder_abduction normal ~
romberg negative walking impaired => midline romberg negative; midline gait impaired
he was walking. Normal tone in both legs => both tone@leg normal
left knee jerk two plus, right heel shin not done, that knee again, pain => left knee_jerk 2+; right heel_shin !pain
right leg no wasting, left leg there is some wasting in the calf, roll the legs, tone normal in both legs =>
 right wasting@leg absent; left wasting@leg present; both tone@leg normal
left heel shin not done, we were running out of time, gate is normal => left heel_shin !not_done; midline gait normal
finger nose impaired on the left now the right hand, lovely => left finger_nose impaired; right finger_nose normal ~
which muscles are weak, the flexors in the leg. reflexes on the left triceps two plus => left triceps_jerk 2+
right ankle dorsiflexion five plantar reflection three => right ankle_dorsiflexion 5; right ankle_plantarflexion 3
plantar four times down going on the left => left plantar_response flexor
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

SAID_OF_OTHERS = table("""
romberg I did not test, he declined. one also thinks of b12, which was normal => midline romberg !declined
the left knee jerk, which was absent last year, is two plus => left knee_jerk 2+
right quads, which were three on admission, are four plus => right knee_extension 4+
right biceps jerk two plus. can anyone tell me the roots for biceps? five and six. and triceps? mainly seven =>
 right biceps_jerk 2+
what are the roots of the knee jerk three and four => -
plantars. left down going. right up going, no, no, don't write that, right down going => left plantar_response flexor;
 right plantar_response flexor
anal tone I'll do later with a chaperone, so deferred => midline anal_tone !deferred
the left plantar I'll check tomorrow => left plantar_response !deferred
gait we'll do next time => midline gait !deferred
tandem gait I'll leave for the clinic, deferred. wound's fine => midline tandem_gait !deferred
left leg. ankle dorsiflexion two. big toe not tried => left ankle_dorsiflexion 2; left great_toe_extension !not_done
hip flexion five on the left. now reflexes, I'll see him later => left hip_flexion 5
tone in the left arm is normal. the left stays normal => left tone@arm normal
temperature, l3 on the left is normal, hang on, let me do that again further up. at l3 on the left reduced =>
 left temperature@L3 reduced
left side. tone normal on the left, push your foot down, that's four => left tone normal; left ankle_plantarflexion 4
""")

PUT_RIGHT = table("""
inversion three on the right no three on the left and four on the right => left ankle_inversion 3;
 right ankle_inversion 4
eversion two on the left no clonus => left ankle_eversion 2; left ankle_clonus absent
Left grip four, no, she'd let go of the bar, five, C8. Left wrist flexion five. => left grip 5 (C8);
 left wrist_flexion 5
right triceps jerk absent no let me be careful reduced right biceps jerk 2 => right triceps_jerk reduced;
 right biceps_jerk 2+
right knee flexion two no that was with the rug under it three plus => right knee_flexion 3+
Left grip five, no, he's in no pain. Left wrist flexion four. => left grip 5; left wrist_flexion 4
hip flexion four on the left, no, on the right => right hip_flexion 4
light touch reduced at l5 on the left, no, on the right => right light_touch@L5 reduced
vibration reduced at the left knee, um, no, at the left ankle => left vibration@ankle reduced
light touch reduced at l5 on the left, sorry, s1 => left light_touch@S1 reduced
the reflexes in the arms were two plus throughout, except for the right triceps jerk, which was reduced =>
 both biceps_jerk 2+; both brachioradialis_jerk 2+; left triceps_jerk 2+; right triceps_jerk reduced
light touch normal from c5 to c8 on the right apart from c7 => right light_touch@C5 normal;
 right light_touch@C6 normal; right light_touch@C8 normal
light touch was normal at c6 and c7 on both sides, apart from the right c7 dermatome, where it was reduced =>
 both light_touch@C6 normal; left light_touch@C7 normal; right light_touch@C7 reduced
power five throughout in both legs except right ehl => both hip_flexion 5; both hip_extension 5; both knee_extension 5;
 both knee_flexion 5; both ankle_dorsiflexion 5; both ankle_plantarflexion 5; left great_toe_extension 5
hip flexion is five on the right and four on the left, knee extension the other way round => right hip_flexion 5;
 left hip_flexion 4; left knee_extension 5; right knee_extension 4
quads and hamstrings are five and four on the right => right knee_extension 5; right knee_flexion 4
""")

THEN_AND_NOW = table("""
left ankle dorsiflexion was four in march; it's five today => left ankle_dorsiflexion 5
the left knee jerk was absent last week. it's two plus now => left knee_jerk 2+
right quads were three on admission, now four plus => right knee_extension 4+
the left knee jerk was absent last week => -
according to the referral, there's wasting of the right calf and a brisk left knee jerk => -
tone was increased in both legs when the registrar saw him in june => -
if the left ankle jerk had been absent I'd have said s1, but it's two plus => left ankle_jerk 2+
pinprick is absent at l4 on the right, and the same level is numb in her mother => right pinprick@L4 absent
""")

NOT_CUT = table("""
elbow. flexion five on the right => right elbow_flexion 5
ankle jerk brisk on both sides three beats of ankle. clonus on the right none on the left => both ankle_jerk brisk;
 right ankle_clonus 3 beats; left ankle_clonus absent
light touch at l5 is normal on the. left altered on the right => left light_touch@L5 normal;
 right light_touch@L5 altered
thumb abduction right three left three. minus. legs. hip flexion four on the right => right thumb_abduction 3;
 left thumb_abduction 3-; right hip_flexion 4
triceps three on the left, c7 => left elbow_extension 3 (C7)
clonus on the right, it's sustained => right ankle_clonus sustained
triceps jerk two plus on the right and on the left it's dim in ished => right triceps_jerk 2+; left triceps_jerk reduced
""")

TODAY = table("""
preop clerking. wasting of the calf in the left leg => left wasting@leg present
at his preop clerking power in the left leg was four. left knee jerk two plus => left knee_jerk 2+
""")

TO_THE_PATIENT = table("""
pinprick. turn over for me please sir s4 is absent on the left and normal on the right => left pinprick@S4 absent;
 right pinprick@S4 normal
light touch on the right. keep your eyes shut mary l4 to s1 is reduced => right light_touch@L4 reduced;
 right light_touch@L5 reduced; right light_touch@S1 reduced
light touch. shut your eyes and imagine that l5 is reduced on the left =>
left arm. thank you everybody hoffmann's absent on the left => left hoffmann_sign absent
so, right arm, what can i see no fasciculation and no wasting => right fasciculation@arm absent;
 right wasting@arm absent
""")

OF_BOTH_LIMBS = table("""
tone increased in the left arm. there's no fasciculation and no wasting in the legs => left tone@arm increased;
 both fasciculation@leg absent; both wasting@leg absent
the right thigh hurts, no fasciculation and no wasting in either leg => both fasciculation@leg absent;
 both wasting@leg absent
the left arm has no wasting and no fasciculation in either leg => left wasting@arm absent;
 both fasciculation@leg absent
no wasting in the left arm and no fasciculation in either arm => left wasting@arm absent;
 both fasciculation@arm absent
right hip flexion four, the calf i'll come back to. the left is five throughout => right hip_flexion 4;
 left hip_flexion 5; left hip_extension 5; left knee_extension 5; left knee_flexion 5; left ankle_dorsiflexion 5;
 left ankle_plantarflexion 5; left great_toe_extension 5; right ankle_plantarflexion !deferred
""")

WALKS = [("gait normal. walk on your heels. good. walk on your toes. lovely", {"heel_walk", "toe_walk"})]

FELT = table("""
pinprick is sharp from L2 to L4 on both sides at L5 reduced on the left => right pinprick@L2 normal, pinprick@L3 normal,
 pinprick@L4 normal; left pinprick@L2 normal, pinprick@L3 normal, pinprick@L4 normal, pinprick@L5 reduced
pinprick on the right sharp C5 to C6 dull C7
    => right pinprick@C5 normal, pinprick@C6 normal, pinprick@C7 reduced
pinprick left C6 sharp C7 blunt C8 sharp => left pinprick@C6 normal, pinprick@C7 reduced, pinprick@C8 normal
light touch at L5 normal on the left sharp reduced at L5 on the left => left light_touch@L5 normal, pinprick@L5 reduced
""")

OF_PEOPLE = table("""
I saw a man last year with power of two in the left leg | left hip flexion five => left hip_flexion 5
we had a woman in clinic with absent ankle jerks on both sides | right knee jerk two plus => right knee_jerk 2+
biceps jerks two plus on both sides | a brisk jerk can be quite normal in the young
    => right biceps_jerk 2+; left biceps_jerk 2+
Power isn't his complaint, it's full throughout in the left leg. => left leg_core normal
knee jerks one plus both sides. | absent knee jerks are normal in the elderly => right knee_jerk 1+; left knee_jerk 1+
vibration at the ankles reduced on both sides | a little loss at the ankles is common after seventy
    => right vibration@ankle reduced; left vibration@ankle reduced
heel walk is impaired in people over sixty you may see that anyway => midline heel_walk impaired
finger nose normal on the right | in a small stroke you'd see the fingers left alone => right finger_nose normal
Romberg negative, she sways with her eyes open as well. => midline romberg negative
""")

WHY_NOT = table("""
knee flexion not tested on either side she's unable to roll over knee jerks, ankle jerks two plus on both sides
    => right knee_flexion !unable; left knee_flexion !unable; right knee_jerk 2+, ankle_jerk 2+;
       left knee_jerk 2+, ankle_jerk 2+
heel shin not done on the right he can't lift it with that splint on there is wasting of the left arm
    => right heel_shin !unable; left wasting@arm present
Gait was normal, if a bit slow. Toe walking was impaired on the right. => midline gait normal; right toe_walk impaired
how was the hip after yesterday right leg first knee extension four => right knee_extension 4
left leg no clonus well i saw a couple of beats there two beats => left ankle_clonus 2 beats contradiction
left wrist extension zero no sorry i saw a flicker one => left wrist_extension 1
""")

DOUBTFUL = [
    ("pinprick, left leg ineffect l3 to l5 right leg normal", "pinprick", "side_uncertain"),
    ("left arm. wrist flexion four, finger flexion five on the right finger abduction three", "finger_flexion",
     "side_uncertain"),
    ("joint position at the great toe so trash left, normal right", "joint_position", "unknown_words"),
    ("ankle jerks two plus both sides. posts are up going on both sides", "plantar_response", "manoeuvre_unsaid"),
    ("heel walking impaired, it's her right shin that lets her down", "heel_walk", "side_uncertain"),
    ("let the hammer swing. left biceps two plus", "biceps_jerk", "manoeuvre_unsaid"),
    ("no wasting in either leg. flower is five throughout in both legs", "hip_flexion", "unknown_words"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("talk", "wanted"),
    ONE_AFTER_THE_OTHER
    + HEADINGS
    + REMARKS
    + CORRECTED
    + LEFT_OUT
    + RUN_TOGETHER
    + SAID_OF_OTHERS
    + NOT_CUT
    + TO_THE_PATIENT
    + OF_BOTH_LIMBS
    + OF_PEOPLE
    + FELT
    + WHY_NOT
    + PUT_RIGHT
    + THEN_AND_NOW,
)
def test_each_result_is_that_of_its_own_test(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(("talk", "walks"), WALKS)
def test_walks_that_were_asked_for_and_praised_are_inferred_normal(talk: str, walks: set[str]) -> None:
    inferred = {row.manoeuvre for row in rows(talk) if "inferred_normal" in row.flags and row.confirm}
    assert inferred == walks


def test_the_limb_named_before_an_order_is_no_part_of_what_is_asked() -> None:
    talk = "right arm chicken wings don't let me push down good fingers straight good squeeze my fingers lovely"
    found = {row.manoeuvre for row in rows(talk) if row.side.value == "right" and row.confirm}
    assert found == {"shoulder_abduction", "finger_extension", "grip"}
    assert not rows("right arm push down good")


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


def test_a_plantar_with_a_grade_is_the_movement_and_shown() -> None:
    (row,) = rows("left plantar reflection four")
    assert (row.manoeuvre, row.confirm) == ("ankle_plantarflexion", True)
