"""Each manoeuvre gets its value from what was said, in the vocabulary of the record contract."""

from __future__ import annotations

import pytest

from pipeline.lexicon import load
from tests.understand.talks import rows, table, told

POWER = table("""
right knee extension four minus over five => right knee_extension 4-
left hip flexion four out of five => left hip_flexion 4
right hip extension grade four => right hip_extension 4
left knee flexion is 4+ => left knee_flexion 4+
left knee flexion is 4-/5 => left knee_flexion 4-
right elbow flexion 4/5 => right elbow_flexion 4
right elbow extension 5/5 => right elbow_extension 5
left wrist extension MRC four => left wrist_extension 4
left wrist flexion MRC grade three plus => left wrist_flexion 3+
right finger abduction grade two minus => right finger_abduction 2-
right ankle dorsiflexion three over five => right ankle_dorsiflexion 3
left ankle plantarflexion five minus => left ankle_plantarflexion 5-
left ankle plantarflexion 5- => left ankle_plantarflexion 5-
left shoulder abduction zero => left shoulder_abduction 0
left shoulder abduction nought out of five => left shoulder_abduction 0
left grip one out of five => left grip 1
right grip one over five => right grip 1
right great toe extension two plus => right great_toe_extension 2+
right great toe extension 3- => right great_toe_extension 3-
the right quads were a good four plus => right knee_extension 4+
hip abduction on the left, I'd put it at four => left hip_abduction 4
I'd call the left hip adductors four plus => left hip_adduction 4+
left eversion maybe four minus => left ankle_eversion 4-
right inversion about a four => right ankle_inversion 4
right toe flexion only three => right toe_flexion 3
left finger extension four, four out of five => left finger_extension 4
left finger flexion four plus out of five => left finger_flexion 4+
left finger flexion four out of five plus => left finger_flexion 4+
right thumb abduction scores 3+/5 => right thumb_abduction 3+
right shoulder external rotation five on the MRC scale => right shoulder_external_rotation 5
right shoulder adduction graded four => right shoulder_adduction 4
grade three for left hip extension => left hip_extension 3
four plus for the right hamstrings => right knee_flexion 4+
five minus in the left triceps => left elbow_extension 5-
left biceps 4 and left triceps 5 => left elbow_flexion 4, elbow_extension 5
deltoids five bilaterally => both shoulder_abduction 5
left deltoid for minus => left shoulder_abduction 4-
""")

POWER_IN_WORDS = table("""
right knee extension full power => right knee_extension normal
right knee extension is strong => right knee_extension normal
left ankle dorsiflexion weak => left ankle_dorsiflexion reduced grade_unsaid
the left tibialis anterior is a bit weak => left ankle_dorsiflexion reduced grade_unsaid
right grip is reduced => right grip reduced grade_unsaid
left hip flexion normal => left hip_flexion normal
only a flicker in the right EHL => right great_toe_extension 1
left EHL just a flicker => left great_toe_extension 1
right deltoid no movement => right shoulder_abduction 0
right quads antigravity only => right knee_extension 3
left hip flexion gravity eliminated => left hip_flexion 2
the right ankle has weak dorsiflexion, four minus => right ankle_dorsiflexion 4-
the left peronei are weak, grade three => left ankle_eversion 3
weakness of right wrist extension, three plus => right wrist_extension 3+
right knee flexion intact => right knee_flexion normal
left elbow extension preserved => left elbow_extension normal
full strength in right finger abduction => right finger_abduction normal
no weakness of left hip extension => left hip_extension normal
""")

MUSCLES = table("""
right iliopsoas five => right hip_flexion 5
left gluteus maximus four => left hip_extension 4
left gluteus medius four plus => left hip_abduction 4+
right adductors five => right hip_adduction 5
right quadriceps five => right knee_extension 5
right hamstrings four => right knee_flexion 4
right tib ant three plus => right ankle_dorsiflexion 3+
left tib post four => left ankle_inversion 4
left peroneals four minus => left ankle_eversion 4-
left gastrocnemius five => left ankle_plantarflexion 5
left soleus five => left ankle_plantarflexion 5
right extensor hallucis longus two => right great_toe_extension 2
right flexor hallucis longus four => right toe_flexion 4
left infraspinatus four => left shoulder_external_rotation 4
left latissimus dorsi five => left shoulder_adduction 5
right brachioradialis five => right elbow_flexion 5
right extensor carpi radialis four => right wrist_extension 4
right flexor carpi ulnaris four => right wrist_flexion 4
left extensor digitorum communis three => left finger_extension 3
left flexor digitorum profundus four => left finger_flexion 4
left first dorsal interosseous two plus => left finger_abduction 2+
right abductor pollicis brevis three => right thumb_abduction 3
right APB four minus => right thumb_abduction 4-
""")

LISTS = table("""
right hip flexion five, knee extension four, ankle dorsiflexion four minus
    => right hip_flexion 5, knee_extension 4, ankle_dorsiflexion 4-
left quads and hamstrings five => left knee_extension 5, knee_flexion 5
flexion at the elbow and at the wrist were both three on the right => right elbow_flexion 3, wrist_flexion 3
left leg. extension of the hip and knee is four => left hip_extension 4, knee_extension 4
on the right, inversion and eversion are four plus and four respectively => right ankle_inversion 4+, ankle_eversion 4
left shoulder abduction five elbow flexion four plus elbow extension four wrist extension three
    => left shoulder_abduction 5, elbow_flexion 4+, elbow_extension 4, wrist_extension 3
left hip flexion five out of five, hip extension five out of five and knee flexion four plus out of five
    => left hip_flexion 5, hip_extension 5, knee_flexion 4+
the left EHL is three, tib ant is four => left great_toe_extension 3, ankle_dorsiflexion 4
he has a grade two dorsiflexion on the left => left ankle_dorsiflexion 2
power of the left quadriceps is four => left knee_extension 4
there is weakness of left ankle eversion => left ankle_eversion reduced grade_unsaid
right finger abduction weak => right finger_abduction reduced grade_unsaid
ankle dorsiflexion and plantarflexion five bilaterally => both ankle_dorsiflexion 5, ankle_plantarflexion 5
left hip flexors 4+, knee extensors 4, dorsiflexors 3 => left hip_flexion 4+, knee_extension 4, ankle_dorsiflexion 3
in the right arm deltoid is four, biceps is five => right shoulder_abduction 4, elbow_flexion 5
""")

REFLEXES = table("""
right knee jerk two => right knee_jerk 2+
right knee jerk 2+ => right knee_jerk 2+
left ankle jerk plus plus => left ankle_jerk 2+
left ankle jerk one plus => left ankle_jerk 1+
right triceps jerk three plus => right triceps_jerk 3+
right biceps jerk ++ => right biceps_jerk 2+
right biceps jerk +++ => right biceps_jerk 3+
left supinator jerk four plus => left brachioradialis_jerk 4+
left brachioradialis reflex two plus => left brachioradialis_jerk 2+
right ankle jerk zero => right ankle_jerk 0
right ankle jerk is absent => right ankle_jerk 0
right ankle reflex could not be elicited => right ankle_jerk 0
left knee jerk present => left knee_jerk normal
left knee jerk normal => left knee_jerk normal
left knee jerk brisk => left knee_jerk brisk
left knee jerk is lively => left knee_jerk brisk
left knee reflex diminished => left knee_jerk reduced
left knee reflex sluggish => left knee_jerk reduced
right adductor jerk two plus => right adductor_jerk 2+
left finger jerks brisk => left finger_jerk brisk
right achilles reflex one plus => right ankle_jerk 1+
left ankle jerk present only with reinforcement => left ankle_jerk 1+
reflexes. knees two plus both sides. ankles one plus both sides => both knee_jerk 2+, ankle_jerk 1+
reflexes on the right. biceps two plus, triceps two plus, supinator one plus
    => right biceps_jerk 2+, triceps_jerk 2+, brachioradialis_jerk 1+
""")

REFLEX_LISTS_AND_SIGNS = table("""
right plantar is down going => right plantar_response flexor
left plantar up going => left plantar_response extensor
left plantar response extensor => left plantar_response extensor
both plantars flexor => both plantar_response flexor
plantar on the left is equivocal => left plantar_response equivocal
right plantar mute => right plantar_response mute
Babinski positive on the right => right plantar_response extensor
the left big toe went up on plantar testing => left plantar_response extensor
Hoffmann's sign absent on both sides => both hoffmann_sign absent
Hoffmann positive on the left => left hoffmann_sign present
no clonus on either side => both ankle_clonus absent
ankle clonus on the left, three beats => left ankle_clonus 3 beats
sustained clonus at the right ankle => right ankle_clonus sustained
left ankle clonus sustained => left ankle_clonus sustained
four beats of clonus on the right => right ankle_clonus 4 beats
right ankle clonus present => right ankle_clonus present
patellar clonus absent bilaterally => both patellar_clonus absent
the left ankle jerk I cannot get, absent => left ankle_jerk 0
the knee jerks are two plus, equal on both sides => both knee_jerk 2+
jerks. right biceps one plus, right triceps one plus, right supinator absent
    => right biceps_jerk 1+, triceps_jerk 1+, brachioradialis_jerk 0
reflexes, left knee two plus, left ankle one plus, right knee two plus, right ankle zero
    => left knee_jerk 2+, ankle_jerk 1+; right knee_jerk 2+, ankle_jerk 0
deep tendon reflexes are absent in the left leg => left knee_jerk 0, ankle_jerk 0
lower limbs. reflexes brisk throughout on the left => left knee_jerk brisk, ankle_jerk brisk
right ankle jerk reduced compared with the left => right ankle_jerk reduced
both plantars are down => both plantar_response flexor
plantar responses, right flexor, left extensor => right plantar_response flexor; left plantar_response extensor
no ankle clonus on the left => left ankle_clonus absent
six beats of clonus at the right ankle => right ankle_clonus 6 beats
right knee jerk, grip your hands together and pull, one plus => right knee_jerk 1+
left clonus four beats pinprick on the right C7 reduced C8 normal, on the left C6 and C7 normal
    => left ankle_clonus 4 beats; right pinprick@C7 reduced, pinprick@C8 normal;
       left pinprick@C6 normal, pinprick@C7 normal
""")

INSPECTION_AND_TONE = table("""
right leg. no wasting, no fasciculation => right wasting@leg absent, fasciculation@leg absent
there is wasting of the left calf => left wasting@leg present
there is a jerky involuntary movement of the left arm, none in the right arm
    => left involuntary_movement@arm present; right involuntary_movement@arm absent
right finger nose is jerky, involuntary movement absent in the right arm
    => right finger_nose impaired, involuntary_movement@arm absent
no tremor or other abnormal movement in either leg => both involuntary_movement@leg absent
tremor in the right arm, no tremor in the left arm
    => right involuntary_movement@arm present; left involuntary_movement@arm absent
finger nose normal in both arms, no tremor in either arm => both finger_nose normal
tone is normal in the right arm, in the left arm it's up => right tone@arm normal; left tone@arm increased
fasciculations seen in the left arm => left fasciculation@arm present
no abnormal posture of the right arm => right abnormal_posture@arm absent
involuntary movements absent in both arms => both involuntary_movement@arm absent
tone is normal in the right leg => right tone@leg normal
tone increased in the left arm => left tone@arm increased
tone in both legs is reduced => both tone@leg reduced
left leg. tone, modified Ashworth one plus => left tone@leg MAS 1+
modified Ashworth two in the right arm => right tone@arm MAS 2
right leg tone is flaccid => right tone@leg reduced
spastic tone in the left leg => left tone@leg increased
pendular swing normal on the right => right pendular_swing normal
pendular swing increased on the left => left pendular_swing increased
inspection. right leg, wasting of the calf, no fasciculation => right wasting@leg present, fasciculation@leg absent
tone normal in both arms => both tone@arm normal
no wasting in the arms => both wasting@arm absent
there are fasciculations in the right thigh => right fasciculation@leg present
resting tremor of the left hand => left involuntary_movement@arm present
coordination. finger nose normal bilaterally, heel shin normal bilaterally
    => both finger_nose normal, heel_shin normal
straight leg raise eighty on the right, fifty on the left
    => right straight_leg_raise 80 degrees; left straight_leg_raise 50 degrees
he can heel walk and toe walk without difficulty => midline heel_walk normal, toe_walk normal
gait normal, tandem normal, Romberg negative => midline gait normal, tandem_gait normal, romberg negative
walking on his heels is impaired => midline heel_walk impaired
right calf, see the dip, that's wasting. no fasciculation in the right leg
    => right wasting@leg present, fasciculation@leg absent
look at the left hand, the web is hollow between the thumb and the finger that's wasting | no fasciculation
    => left wasting@arm present, fasciculation@arm absent
the left leg is rolled outwards so abnormal posture there, right leg no wasting
    => left abnormal_posture@leg present; right wasting@leg absent
when the thigh looks thin that's wasting. the right leg has no wasting => right wasting@leg absent
left hand that's a tremor at rest and normal tone
    => left involuntary_movement@arm present, tone@arm normal
tone isn't up in either arm | fasciculation a bit in the right arm none in the left arm
    => right fasciculation@arm present; left fasciculation@arm absent
gait i've left out so not done | wasting a little in the left leg none in the right leg
    => midline gait !not_done; left wasting@leg present; right wasting@leg absent
right leg no wasting no fasciculation. the left leg has neither
    => right wasting@leg absent, fasciculation@leg absent; left wasting@leg absent, fasciculation@leg absent
right arm wasting but no fasciculation, the left shows neither of them
    => right wasting@arm present, fasciculation@arm absent; left wasting@arm absent, fasciculation@arm absent
the right leg has neither a cast nor a brace. right knee jerk two plus => right knee_jerk 2+
""")

SENSATION = table("""
left light touch normal at C6 => left light_touch@C6 normal
left light touch intact at C6 => left light_touch@C6 normal
left light touch preserved at C6 => left light_touch@C6 normal
right pinprick absent at S1 => right pinprick@S1 absent
right pinprick increased at L4 => right pinprick@L4 increased
right light touch altered over L5 => right light_touch@L5 altered
left temperature reduced at L5 => left temperature@L5 reduced
vibration absent at the right great toe => right vibration@great_toe absent
vibration sense reduced at both ankles => both vibration@ankle reduced
vibration normal at the left knee => left vibration@knee normal
joint position sense normal at both great toes => both joint_position@great_toe normal
proprioception impaired at the left great toe => left joint_position@great_toe reduced
position sense intact in the right index finger => right joint_position@finger normal
vibration normal at the right wrist and elbow => right vibration@wrist normal, vibration@elbow normal
vibration at the right great toe absent, at the ankle reduced, at the knee normal
    => right vibration@great_toe absent, vibration@ankle reduced, vibration@knee normal
light touch is intact in both legs at L3, L4 and L5
    => both light_touch@L3 normal, light_touch@L4 normal, light_touch@L5 normal
pinprick, left L5 reduced, left S1 normal, right L5 normal
    => left pinprick@L5 reduced, pinprick@S1 normal; right pinprick@L5 normal
light touch at L5 is reduced on the left and normal on the right
    => left light_touch@L5 reduced; right light_touch@L5 normal
pinprick absent over the right S1 dermatome and reduced at L5 => right pinprick@S1 absent, pinprick@L5 reduced
vibration sense is lost at the left big toe but present at the ankle
    => left vibration@great_toe absent, vibration@ankle normal
temperature sensation normal at C7 on both sides => both temperature@C7 normal
joint position intact at the right ankle => right joint_position@ankle normal
no feeling to pinprick at S1 on the right => right pinprick@S1 absent
""")

PERIANAL = table("""
pinprick normal at S3, S4 and S5 on both sides => both pinprick@S3 normal, pinprick@S4 normal, pinprick@S5 normal
perianal pinprick reduced on the left => left pinprick@S4-5 reduced
perianal light touch intact on both sides => both light_touch@S4-5 normal
anal tone normal => midline anal_tone normal
anal tone is absent => midline anal_tone absent
""")

COORDINATION_TENSION_GAIT = table("""
straight leg raise forty degrees on the left before he cries out in pain and eighty on the right
    => left straight_leg_raise 40 degrees; right straight_leg_raise 80 degrees
heel shin normal on the right, impaired on the left => right heel_shin normal; left heel_shin impaired
finger nose accurate on both sides => both finger_nose normal
finger to nose on the left shows past pointing => left finger_nose impaired
rapid alternating movements slow on the right => right rapid_alternating impaired
Romberg's test is positive => midline romberg positive
straight leg raise forty degrees on the left => left straight_leg_raise 40 degrees
straight leg raise negative on the right => right straight_leg_raise negative
femoral stretch negative both sides => both femoral_stretch negative
femoral stretch test positive on the right => right femoral_stretch positive
gait broad based => midline gait impaired
gait is unsteady => midline gait impaired
tandem gait normal => midline tandem_gait normal
gait antalgic, heel walking normal, toe walking impaired => midline gait impaired, heel_walk normal, toe_walk impaired
""")

MIXED = table("""
right knee jerk grade two => right knee_jerk 2+
the tone in the right arm is increased with cogwheeling => right tone@arm increased
left arm. deltoid five, biceps five, triceps four plus, wrist extensors four
    => left shoulder_abduction 5, elbow_flexion 5, elbow_extension 4+, wrist_extension 4
right light touch numb at C7 => right light_touch@C7 reduced
he has pins and needles to light touch over the left C6 dermatome => left light_touch@C6 altered
left vibration gone at the toe => left vibration@great_toe absent
right vibration sense at the medial malleolus is reduced => right vibration@ankle reduced
thoracic level. left pinprick absent at T10 => left pinprick@T10 absent
left light touch normal T8 to T10 => left light_touch@T8 normal, light_touch@T9 normal, light_touch@T10 normal
""")

ALL = [
    *POWER, *POWER_IN_WORDS, *MUSCLES, *LISTS, *REFLEXES, *REFLEX_LISTS_AND_SIGNS, *INSPECTION_AND_TONE, *SENSATION,
    *PERIANAL, *COORDINATION_TENSION_GAIT, *MIXED,
]  # fmt: skip


@pytest.mark.parametrize(("talk", "wanted"), ALL)
def test_a_result_is_one_row_with_its_value(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


def test_every_manoeuvre_of_the_contract_is_in_these_tables() -> None:
    """`toe_extension` is the lexicon's own addition."""
    tested = {row.split()[1].split("@")[0] for _, wanted in ALL for row in wanted}
    assert {entry.id for entry in load().manoeuvres} - tested == {"toe_extension"}


def test_plain_results_seldom_bother_a_person() -> None:
    """What is said in full, with its side and in terms heard as written, is rarely put to a person again."""
    said = [row for talk, wanted in ALL for row in rows(talk) if not any("unsaid" in one for one in wanted)]
    assert len(said) > 150
    assert sum(row.confirm for row in said) / len(said) < 0.1


@pytest.mark.parametrize(
    "said, grade",
    [
        ("Left grip I'm scoring four minus.", "4-"),
        ("Her left grip I've scored as two plus.", "2+"),
        ("Left grip I was getting at four.", "4"),
    ],
)
def test_grades_are_given_with_a_verb(said: str, grade: str) -> None:
    (row,) = rows(said)
    assert (row.manoeuvre, row.side, row.value) == ("grip", "left", grade)


def test_a_verb_that_gives_no_grade() -> None:
    assert rows("I am getting five bags for the ward.") == []
