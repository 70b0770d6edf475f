"""Terms as a recogniser may garble them: invented mishearings that sound like the term."""

from __future__ import annotations

import pytest

from pipeline.engine import Engine
from tests.understand.talks import heard, rows, table, told, written

POWER = table("""
left shoulder a buck shun four => left shoulder_abduction 4
right shoulder a duck shun four => right shoulder_adduction 4
left ankle though see flexion four => left ankle_dorsiflexion 4
left elbow flexion four extension five => left elbow_flexion 4; left elbow_extension 5
left tib and four plus => left ankle_dorsiflexion 4+
right door si fluxion three => right ankle_dorsiflexion 3
left plan tough lexion five => left ankle_plantarflexion 5
right gastro see me us five => right ankle_plantarflexion 5
left pair on eels four => left ankle_eversion 4
right tib pose tier ear four => right ankle_inversion 4
left extensor hal you sis longus three => left great_toe_extension 3
right big toe extinction four => right great_toe_extension 4
left ankle dorsal flex in five => left ankle_dorsiflexion 5
right infra spine artist four => right shoulder_external_rotation 4
left risk extension four => left wrist_extension 4
right a duct her jerk two plus => right adductor_jerk 2+
left patel a reflex two plus => left knee_jerk 2+
right supinate her jerk one plus => right brachioradialis_jerk 1+
left biceps jack two plus => left biceps_jerk 2+
right tibia alice anterior four minus => right ankle_dorsiflexion 4-
left tibby alis anterior three plus => left ankle_dorsiflexion 3+
left tim ant four => left ankle_dorsiflexion 4
right gas truck nemius five => right ankle_plantarflexion 5
right gastric nemesis five => right ankle_plantarflexion 5
left extensor hallow sis longus four minus => left great_toe_extension 4-
right extends a hallucis longus four => right great_toe_extension 4
left peroneus long us four => left ankle_eversion 4
right perennial muscles four plus => right ankle_eversion 4+
left per a neil four minus => left ankle_eversion 4-
right quadra seps five => right knee_extension 5
left quadriceps femurs five => left knee_extension 5
right quad her sips four => right knee_extension 4
left ham strains four plus => left knee_flexion 4+
right ham streams five => right knee_flexion 5
left hamster ring four => left knee_flexion 4
right illy o so ass five => right hip_flexion 5
left ileo sowers four plus => left hip_flexion 4+
right eye leo so as five => right hip_flexion 5
left glue tea us maximus five => left hip_extension 5
right gluteus maximum four => right hip_extension 4
left gluteus media's four => left hip_abduction 4
right hip flection five => right hip_flexion 5
left hip flicks in four => left hip_flexion 4
right knee flecks shun five => right knee_flexion 5
left dorsey flexion four minus => left ankle_dorsiflexion 4-
right door sea flexion three => right ankle_dorsiflexion 3
right doors a flexion four plus => right ankle_dorsiflexion 4+
left planter flexion five => left ankle_plantarflexion 5
right plant a flexion four => right ankle_plantarflexion 4
left ankle planter flecks in five => left ankle_plantarflexion 5
left delta it five => left shoulder_abduction 5
right dell toid four => right shoulder_abduction 4
left sub scapular is it here, deltoyd four => left shoulder_abduction 4
right by sepps four => right elbow_flexion 4
left try seps four plus => left elbow_extension 4+
left bray key oh radial less four => left elbow_flexion 4
left in for spinatus five => left shoulder_external_rotation 5
right first dorsal inter osseus four => right finger_abduction 4
left first door sell interosseous three => left finger_abduction 3
right abductor policies brevis four => right thumb_abduction 4
left abductor pollysis brevis five => left thumb_abduction 5
right wrist ex tension four => right wrist_extension 4
left extensor car pie radialis four => left wrist_extension 4
right flexor digit or um profundus four => right finger_flexion 4
left extensor digit or rum communist three => left finger_extension 3
left latissimus door sigh five => left shoulder_adduction 5
""")

REFLEXES = table("""
right triceps jerk brisk. half man's present on the right => right triceps_jerk brisk; right hoffmann_sign present
left biceps jerk one plus. huff man's absent on the left => left biceps_jerk 1+; left hoffmann_sign absent
left uncle jerk absent => left ankle_jerk 0
right angle jerk two plus => right ankle_jerk 2+
left need jerk two plus => left knee_jerk 2+
right knee jog one plus => right knee_jerk 1+
right neat jerk three plus => right knee_jerk 3+
left tricep shirk two plus => left triceps_jerk 2+
left soup a nature jerk two plus => left brachioradialis_jerk 2+
right killies reflex absent => right ankle_jerk 0
right patella reef flex two plus => right knee_jerk 2+
left planter is up going => left plantar_response extensor
right plan tar down going => right plantar_response flexor
left planters response extensor => left plantar_response extensor
right bab in ski positive => right plantar_response extensor
left ankle clone us absent => left ankle_clonus absent
right ankle clowns sustained => right ankle_clonus sustained
left huff man's sign present => left hoffmann_sign present
right hop man sign absent => right hoffmann_sign absent
right bracket radial is jerk one plus => right brachioradialis_jerk 1+
left petal are reflexes two plus => left knee_jerk 2+
left but allow reflexes two plus => left knee_jerk 2+
left pat all our reflexes absent => left knee_jerk 0
we have got niche jerks two plus on the left => left knee_jerk 2+
right plan tar flexor => right plantar_response flexor
right plan tar flexor four => right ankle_plantarflexion 4
""")

OTHERS = table("""
left arm no waste in in the hand => left wasting@arm absent
gait normal tendon gait impaired => midline gait normal; midline tandem_gait impaired
left joint petition at the great toe reduced => left joint_position@great_toe reduced
right leg tone normal so it is early ankle close us absent => right tone@leg normal; right ankle_clonus absent
left arm no wasting or vast inflation => left wasting@arm absent; left fasciculation@arm absent
right leg. no fascicle ations => right fasciculation@leg absent
left leg. no vesiculations => left fasciculation@leg absent
right leg. no fasiculation and no waisting => right fasciculation@leg absent, wasting@leg absent
left pin brick reduced at L5 => left pinprick@L5 reduced
right pin trick normal at L4 => right pinprick@L4 normal
left light torch reduced at S1 => left light_touch@S1 reduced
right like touch normal at L5 => right light_touch@L5 normal
vibe ration absent at the left ankle => left vibration@ankle absent
proper reception impaired at the right great toe => right joint_position@great_toe reduced
pro pre o ception normal at the left great toe => left joint_position@great_toe normal
rom berg negative => midline romberg negative
ron bergs test positive => midline romberg positive
left straight lake raise fifty degrees => left straight_leg_raise 50 degrees
right strait leg race seventy degrees => right straight_leg_raise 70 degrees
left femoral stretched test positive => left femoral_stretch positive
right fem oral stretch negative => right femoral_stretch negative
left heal shin normal => left heel_shin normal
right modified ash worth two => right tone MAS 2
an all tone reduced => midline anal_tone reduced
annual tone is normal => midline anal_tone normal
lie back now straight lake rays left forty degrees => left straight_leg_raise 40 degrees
hold it loosely tome is increased in the left leg => left tone@leg increased
annual tone present, a nil tone on squeezing normal => midline anal_tone normal
he'll shin, right and left, not tested => both heel_shin !not_done
finger knows. touch my nose, then my finger. left impaired => left finger_nose impaired
""")

EVERYDAY = table("""
left pinprick is in tact at l5 => left pinprick@L5 normal
right light touch pre served at s1 => right light_touch@S1 normal
left plantar flex or right plantar extensor => left plantar_response flexor; right plantar_response extensor
right ankle jerk pleasant => right ankle_jerk normal
straight leg raise posited on the right negative on the left => right straight_leg_raise positive;
 left straight_leg_raise negative
light touch in the right leg in fact at l4 => right light_touch@L4 normal
romberg negative. gates impaired => midline romberg negative; midline gait impaired
left hand. grit five => left grip 5
four plus on the left, each l five on the right, four on the left => right great_toe_extension 5;
 left great_toe_extension 4 contradiction
the anchor jerks are absent on both sides => right ankle_jerk 0; left ankle_jerk 0
he obeys. stone is reduced in both arms => right tone@arm reduced; left tone@arm reduced
tongue is increased in the right arm => right tone@arm increased
romberg negative. get normal => midline romberg negative; midline gait normal
cock your right wrist back. nice one => right wrist_extension normal ~
right biceps great four => right elbow_flexion 4
left hip flexion four, ankle into daw see flexion three => left hip_flexion 4; left ankle_dorsiflexion 3
right extensor hollow cyst is four => right great_toe_extension 4
left extensor how low sis is two => left great_toe_extension 2
left finger adduct shun for minus => left finger_abduction 4-
right grip five, finger abolition four => right grip 5; right finger_abduction 4
right extent sir hallux us three => right great_toe_extension 3
left ankle dorsiflexion not tested, same for a version => left ankle_dorsiflexion !not_done;
 left ankle_eversion !not_done
right hand. tome is reduced in the right arm => right tone@arm reduced
right tib ant five e hell three => right ankle_dorsiflexion 5; right great_toe_extension 3
left pinprick reduced at has one and normal at hell four => left pinprick@S1 reduced; left pinprick@L4 normal
right pinprick normal from seat six to tee one => right pinprick@C6 normal; right pinprick@C7 normal;
 right pinprick@C8 normal; right pinprick@T1 normal
right pinprick seed seven reduced tea one normal => right pinprick@C7 reduced; right pinprick@T1 normal
left light touch ale four normal hell five absent ess one reduced => left light_touch@L4 normal;
 left light_touch@L5 absent; left light_touch@S1 reduced
left triceps only manages three => left elbow_extension 3
left triceps really four => left elbow_extension 4
left biceps looks four => left elbow_flexion 4
left EDB really three => left toe_extension 3
left really dorsiflexion four => left ankle_dorsiflexion 4
left risk dorsiflexion four => left wrist_extension 4
left triceps sure eye four => left ankle_plantarflexion 4
right biceps clearly four => right elbow_flexion 4
right biceps firm orris four => right knee_flexion 4
biceps supernator and triceps jerks two plus on the left => left biceps_jerk 2+; left brachioradialis_jerk 2+;
 left triceps_jerk 2+
right abductor police is brevis four => right thumb_abduction 4
""")
"""Everyday words that were misheard, or that a name was taken for, told by where they stand."""

LEFT_ALONE = [
    "walk on your heels and mind the drip stand",
    "give me your hand. good",
    "he is one of the weakest on the ward",
    "the same at all three clinics",
    "it was in fact a long drive, and the ward was pleasant",
    "flexion and extension of the knee are next",
    "tell her the reflexes are next",
]

MISHEARD = [*POWER, *REFLEXES, *OTHERS, *EVERYDAY]


@pytest.mark.parametrize("talk", LEFT_ALONE)
def test_everyday_words_are_left_alone(talk: str) -> None:
    assert told(talk) == set()


def test_a_finding_told_by_its_place_is_shown_to_a_person() -> None:
    found = rows("straight leg raise posited on the right, negative on the left. left ankle jerk pleasant")
    assert {(row.side.value, row.value): row.confirm for row in found} == {
        ("right", "positive"): True, ("left", "negative"): False, ("left", "normal"): True,
    }  # fmt: skip


@pytest.mark.parametrize(("talk", "wanted"), MISHEARD)
def test_a_misheard_term_is_mended(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


def test_a_name_told_by_a_half_that_was_heard_right_is_shown_to_a_person() -> None:
    assert rows("hill walking he can't do any more")[0].confirm


def test_two_far_mends_in_a_row_may_have_been_one_name_and_are_shown_to_a_person() -> None:
    assert all(row.confirm for row in rows("right gastro crocs five, left gastro crocs four"))


def test_a_grade_before_a_name_is_no_part_of_it() -> None:
    talk = "left inversion two, the big toe didn't move so nought plantarflexion was three"
    assert {"left great_toe_extension 0", "left ankle_plantarflexion 3"} <= told(talk)


def test_there_are_enough_of_them() -> None:
    assert len(MISHEARD) >= 60


def test_a_mended_row_shows_what_was_heard() -> None:
    (row,) = rows("right gastric nemesis five")
    assert row.evidence[0].heard == "right gastric nemesis five"
    assert "gastroc" in row.evidence[0].mended


def test_a_mishearing_that_a_person_confirmed_is_learned() -> None:
    talk = "left pump handle four"
    assert told(talk) == set()
    taught = Engine(learned={"pump handle": "tibialis anterior"}).structure(heard(talk))
    assert [written(row) for row in taught.rows] == ["left ankle_dorsiflexion 4"]
