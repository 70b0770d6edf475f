"""Results of two tests, two limbs or two sides next to each other, and what is said among them that is no result.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import analysis, rows, table, told, written

SAID_MORE_CLOSELY = table("""
power left arm full throughout, five out of five. right, identical => both arm_core 5
right leg strength normal throughout, all five. the left is the same => both leg_core 5
left deltoid weak, four minus, right the same => both shoulder_abduction 4-
left leg power full throughout. right leg the same, five out of five => left leg_core normal; right leg_core 5
vibration left ankle absent, left knee reduced, the right the same at the knee => left vibration@ankle absent;
 both vibration@knee reduced
cold left L3 reduced left L4 reduced left L5 normal the right is the same at L5 and normal at L3 and L4 =>
 left temperature@L3 reduced; left temperature@L4 reduced; both temperature@L5 normal; right temperature@L3 normal;
 right temperature@L4 normal
right ankle jerk present, two plus. left likewise => both ankle_jerk 2+
left grip weak, I'd say three. right identical => both grip 3
""")
OF_TWO_TESTS = table("""
left arm tone normal full power throughout no wasting => left tone@arm normal; left arm_core normal;
 left wasting@arm absent
right leg tone is normal, full power, no ankle clonus => right tone@leg normal; right leg_core normal;
 right ankle_clonus absent
left leg tone normal, five throughout => left tone@leg normal; left leg_core 5
right quads strong, full power => right knee_extension normal
left elbow flexion normal, five => left elbow_flexion 5
reflexes are one plus and symmetrical triceps knees and ankles plantars flexor on both sides =>
 both triceps_jerk 1+; both knee_jerk 1+; both ankle_jerk 1+; both plantar_response flexor
reflexes two plus both sides biceps triceps and supinators one plus =>
 both biceps_jerk 1+; both triceps_jerk 1+; both brachioradialis_jerk 1+; both knee_jerk 2+; both ankle_jerk 2+
reflexes symmetrical two plus triceps knees and ankles => both triceps_jerk 2+; both knee_jerk 2+; both ankle_jerk 2+
reflexes are two plus on the right, knees and ankles => right knee_jerk 2+; right ankle_jerk 2+
power five on both sides deltoid biceps and triceps, grip four on the right =>
 both shoulder_abduction 5; both elbow_flexion 5; both elbow_extension 5; right grip 4
""")
BOTH_OF_ONE_SIDE = table("""
left ankle and left knee vibration both absent => left vibration@ankle absent; left vibration@knee absent
pinprick right C7 and right C8 both reduced => right pinprick@C7 reduced; right pinprick@C8 reduced
light touch at L4 and L5 both normal on the left => left light_touch@L4 normal; left light_touch@L5 normal
right triceps jerk and right biceps jerk were both brisk => right triceps_jerk brisk; right biceps_jerk brisk
left deltoid and left triceps both three => left shoulder_abduction 3; left elbow_extension 3
right heel walking and right toe walking both impaired => right heel_walk impaired; right toe_walk impaired
left grip and left wrist extension both not tested for pain => left grip !pain; left wrist_extension !pain
wasting and fasciculation both absent in the right arm => right wasting@arm absent; right fasciculation@arm absent
right fasciculation and right wasting both absent => right fasciculation absent; right wasting absent
left leg wasting and left leg fasciculation both present => left wasting@leg present; left fasciculation@leg present
left arm and left leg tone both reduced => left tone@arm reduced; left tone@leg reduced
tone increased on the right left biceps and left triceps jerks both absent => right tone increased; left biceps_jerk 0;
 left triceps_jerk 0
right temperature reduced at L4 left L4 and left L5 both normal => right temperature@L4 reduced;
 left temperature@L4 normal; left temperature@L5 normal
""")
BOTH_THIS_AND_THAT = table("""
pinprick reduced at both C7 and C8 on the right => right pinprick@C7 reduced; right pinprick@C8 reduced
both quads and hamstrings three on the left => left knee_extension 3; left knee_flexion 3
both triceps and biceps jerks brisk on the right => right triceps_jerk brisk; right biceps_jerk brisk
on the right both L4 and L5 altered to light touch => right light_touch@L4 altered; right light_touch@L5 altered
left arm, both biceps and supinator jerks absent => left biceps_jerk 0; left brachioradialis_jerk 0
both light touch and pinprick absent at S1 on the left => left light_touch@S1 absent; left pinprick@S1 absent
temperature and pinprick both altered at T1 on the right => right temperature@T1 altered; right pinprick@T1 altered
both hip abduction and knee flexion not tested on the right for pain => right hip_abduction !pain;
 right knee_flexion !pain
both biceps and triceps four on the left five on the right => left elbow_flexion 4; left elbow_extension 4;
 right elbow_flexion 5; right elbow_extension 5
""")
BOTH_SIDES_OF_EACH = table("""
tone normal on the left both knee and ankle jerks brisk => left tone normal; both knee_jerk brisk; both ankle_jerk brisk
both knee and ankle jerks brisk, left plantar extensor => both knee_jerk brisk; both ankle_jerk brisk;
 left plantar_response extensor
pinprick absent at both L5 and S1 => both pinprick@L5 absent; both pinprick@S1 absent
both knee jerks and ankle jerks brisk on the left => both knee_jerk brisk; both ankle_jerk brisk
vibration absent at both ankles and at the knees it's reduced on the right => both vibration@ankle absent;
 right vibration@knee reduced
left biceps jerk absent, knee jerks both brisk => left biceps_jerk 0; both knee_jerk brisk
fasciculation in the left arm and the ankle jerks both brisk => left fasciculation@arm present; both ankle_jerk brisk
left plantar extensor and ankle jerks both brisk => left plantar_response extensor; both ankle_jerk brisk
light touch and pinprick both normal at C6 => both light_touch@C6 normal; both pinprick@C6 normal
right great toe and left great toe vibration both absent => both vibration@great_toe absent
right knee jerk two plus ankle jerks and plantars both normal => right knee_jerk 2+; both ankle_jerk normal;
 both plantar_response flexor
""")
OF_TWO_LIMBS = table("""
power four throughout on the right leg and on the left five throughout apart from eversion three =>
 right leg_core 4; left leg_core 5; left ankle_eversion 3
quads four on the left and on the right => both knee_extension 4
right leg. eversion five left leg now | push the foot down good => right ankle_eversion 5;
 left ankle_plantarflexion normal ~
tone is increased in the right leg and the arms => right tone@leg increased; right tone@arm increased
left arm wasting and fasciculations everywhere the right arm no wasting => left wasting@arm present;
 left fasciculation@arm present; right wasting@arm absent
no wasting throughout the left leg => left wasting@leg absent
left leg. wasting throughout, no fasciculation => left wasting@leg present; left fasciculation@leg absent
grip two right four left sorry three left finger abduction one right two left => right grip 2; left grip 3;
 right finger_abduction 1; left finger_abduction 2
grip two right, four left, sorry, three. left finger abduction one => right grip 2; left grip 3;
 left finger_abduction 1
right deltoid four biceps four left arm in a cast from the same crash so left deltoid can't be done =>
 right shoulder_abduction 4; right elbow_flexion 4; left shoulder_abduction !unable
""")
SEEN_AND_NOT_SEEN = table("""
in the legs no wasting right or left fasciculations in the left leg none in the right leg => both wasting@leg absent;
 left fasciculation@leg present; right fasciculation@leg absent
in the legs no wasting both sides fasciculation in the left leg none in the right => both wasting@leg absent;
 left fasciculation@leg present; right fasciculation@leg absent
no tremor or fasciculation in the left arm none in the right arm => left involuntary_movement@arm absent;
 both fasciculation@arm absent
left arm wasting none in the right arm => left wasting@arm present; right wasting@arm absent
right hand tremor none on the left => right involuntary_movement@arm present; left involuntary_movement@arm absent
right arm tone normal wasting none in the left arm => right tone@arm normal; left wasting@arm absent
left arm no wasting tone increased right arm no wasting tone normal => both wasting@arm absent;
 left tone@arm increased; right tone@arm normal
right leg no wasting tone normal full power left leg no wasting tone up and four throughout => both wasting@leg absent;
 right tone@leg normal; right leg_core normal; left tone@leg increased; left leg_core 4
left leg no wasting and no fasciculation in the right leg there is wasting => left wasting@leg absent;
 left fasciculation@leg absent; right wasting@leg present
no wasting in the left arm and no tremor in the right arm there's a tremor in the left => left wasting@arm absent;
 right involuntary_movement@arm absent; left involuntary_movement@arm present
left arm no tremor. in the right arm yes there is wasting but no tremor => left involuntary_movement@arm absent;
 right wasting@arm present; right involuntary_movement@arm absent
""")
SIDES_OF_A_LIST = table("""
left leg knee extension five hip adduction four right leg | hip flexion three => left knee_extension 5;
 left hip_adduction 4; right hip_flexion 3
knee extension five left leg four right leg | knee jerk two plus right => left knee_extension 5; right knee_extension 4;
 right knee_jerk 2+
vibration great toe absent, both sides ankle absent both sides knee reduced on the left and normal on the right =>
 both vibration@great_toe absent; both vibration@ankle absent; left vibration@knee reduced; right vibration@knee normal
left arm no wasting both legs fasciculation present in both => left wasting@arm absent; both fasciculation@leg present
""")
NO_RESULT = table("""
temperature at L5 not done on either side the cold fork's gone missing => both temperature@L5 !not_done
light touch has gone at S1 on the left => left light_touch@S1 absent
right arm. grip my two fingers. good. push the wrist up. good => right grip normal ~; right wrist_extension normal ~
most people guard a bit left arm now pull me in good => left elbow_flexion normal ~
pinprick not done on the left, C6 to C8. consent for a C5 6 fusion => left pinprick@C6 !not_done;
 left pinprick@C7 !not_done; left pinprick@C8 !not_done
light touch reduced at L5 on the right fits an L4 5 prolapse => right light_touch@L5 reduced
tone normal in both legs next an ankle brace from the store => both tone@leg normal
left thumb abduction five. why the thumb? because a T1 root would take both => left thumb_abduction 5
romberg negative. please note the chair => midline romberg negative
let the leg go floppy please => -
is the toe going up or down, joint position reduced at the right great toe => right joint_position@great_toe reduced
plantars mute on both sides pinprick working up from the toes right leg absent at L5 =>
 both plantar_response mute; right pinprick@L5 absent
""")
TOLD_OF_THIS_ONE = table("""
the fork on the right ankle she feels normally so vibration is normal at the right ankle => right vibration@ankle normal
all I'll do is vibration. absent at both ankles => both vibration@ankle absent
all I'll be testing is light touch reduced at L5 on the left => left light_touch@L5 reduced
left grip is weaker than it should be, four minus => left grip 4-
tone in the left leg is higher than it should be => left tone@leg increased
triceps jerks all one plus and symmetrical a C7 root lesion would have taken one => both triceps_jerk 1+
if it caught I'd be thinking spasticity here tone in the left arm is normal => left tone@arm normal
they cheat with the back left leg now lift it straight up good => left hip_flexion normal ~
romberg positive heal to toe walking impaired => midline romberg positive; midline tandem_gait impaired
toe walking impaired => midline toe_walk impaired
""")


@pytest.mark.parametrize(
    ("talk", "wanted"),
    SAID_MORE_CLOSELY
    + OF_TWO_TESTS
    + BOTH_OF_ONE_SIDE
    + BOTH_THIS_AND_THAT
    + BOTH_SIDES_OF_EACH
    + OF_TWO_LIMBS
    + SEEN_AND_NOT_SEEN
    + SIDES_OF_A_LIST
    + NO_RESULT
    + TOLD_OF_THIS_ONE,
)
def test_each_result_is_that_of_its_own_test_and_limb(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


NOTHING_TO_ASK = [
    "right knee jerk absent, reinforced still absent. left two plus",
    "left ankle jerk reduced, and stays reduced with reinforcement",
    "right biceps jerk one plus, with a clench still one plus",
    "left grip four. if she loses her grip or starts dropping things she calls me",
    "left grip four. in multiple system atrophy you'd look for a postural drop",
    "straight leg raise positive on the left negative on the right femoral stretch negative on both sides",
    "rapid alternating movements impaired on the left and normal on the right finger nose normal both sides",
]


@pytest.mark.parametrize("talk", NOTHING_TO_ASK)
def test_nothing_is_asked_where_all_was_understood(talk: str) -> None:
    record = analysis(talk).record
    assert record.rows
    assert not record.unplaced
    assert not [row for row in record.rows if row.confirm]


@pytest.mark.parametrize(
    "talk",
    [
        "left arm. light touch and pinprick both normal at C6",
        "right leg. knee jerk and ankle jerk both brisk",
        "left leg. vibration at the ankle and the knee both reduced",
    ],
)
def test_both_of_two_tests_after_a_limb_was_announced_may_be_both_sides(talk: str) -> None:
    found = rows(talk)
    assert [row.side.value for row in found] == [talk.split()[0]] * 2
    assert all("side_uncertain" in row.flags for row in found)


def test_which_places_are_the_rest_is_asked() -> None:
    record = analysis("pinprick reduced L5 left, normal everywhere else both legs").record
    assert {written(row) for row in record.rows} == {"left pinprick@L5 reduced"}
    assert len(record.unplaced) == 1


def test_a_grade_behind_a_name_that_was_not_read_is_still_asked_about() -> None:
    assert analysis("left hip flexors five, clutch five").record.unplaced


def test_a_limb_put_off_leaves_the_result_of_the_other() -> None:
    found = {(row.side.value, row.site): row for row in rows("tone's normal in both legs the hands can wait")}
    assert [found[side, "leg"].value for side in ("left", "right")] == ["normal", "normal"]
    assert all(row.confirm for (_, site), row in found.items() if site == "arm")


def test_a_result_that_was_left_out_twice_is_still_contradicted() -> None:
    (row,) = rows("left tone normal. left tone not done, sorry, the left tone is deferred")
    assert row.confirm


def test_a_side_that_turns_to_the_next_limb_is_not_that_of_the_last_result() -> None:
    found = rows("right leg. eversion five. turn it in inversion four left leg now | knee up good")
    sides = {row.manoeuvre: row.side.value for row in found}
    assert sides == {"ankle_eversion": "right", "ankle_inversion": "right", "hip_flexion": "left"}


@pytest.mark.parametrize(
    ("talk", "wanted"),
    table("""
normal tone and power in both legs => both tone@leg normal, leg_core normal
tone, power and reflexes normal in both arms => both tone@arm normal, arm_core normal, biceps_jerk normal,
 brachioradialis_jerk normal, triceps_jerk normal
tone power reflexes all normal in the left leg => left tone@leg normal, leg_core normal, knee_jerk normal,
 ankle_jerk normal
reflexes and plantars normal in both legs => both knee_jerk normal, ankle_jerk normal, plantar_response flexor
in both arms tone normal, power full, reflexes brisk => both tone@arm normal, arm_core normal, biceps_jerk brisk,
 brachioradialis_jerk brisk, triceps_jerk brisk
tone normal in both legs, power in the left leg five throughout => both tone@leg normal; left leg_core 5
"""),
)
def test_parts_of_the_examination_that_are_listed_share_their_result(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted
