"""What is put right after its result: which test it was, which of two results is whose, and what is excepted.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import analysis, rows, table, told

TEST_PUT_RIGHT = table("""
left shoulder abduction four, sorry, that was adduction => left shoulder_adduction 4
right elbow flexion three. no, I mean extension => right elbow_extension 3
left hamstrings four plus. oops, quads => left knee_extension 4+
right triceps five, I should say biceps five => right elbow_flexion 5
left wrist extension two, sorry I mean wrist flexion => left wrist_flexion 2
right knee jerk absent, sorry, ankle jerk => right ankle_jerk 0
left ankle jerk brisk, no wait that's the knee => left knee_jerk brisk
right hip adduction four. actually that was abduction I was testing => right hip_abduction 4
left inversion two. sorry eversion two => left ankle_eversion 2
right deltoid three, wrong, that's grip => right grip 3
left biceps jerk two plus, rather the triceps jerk => left triceps_jerk 2+
right vibration reduced at the ankle, sorry, joint position => right joint_position@ankle reduced
left light touch absent S1, no, I mean pinprick => left pinprick@S1 absent
hamstrings three on the left four on the right, sorry that was quads => left knee_extension 3; right knee_extension 4
left hip extension four, sorry, that was flexion. right five => left hip_flexion 4; right hip_flexion 5
right heel shin impaired, no hang on, that was finger nose => right finger_nose impaired
""")
NOT_PUT_RIGHT = table("""
left EHL four minus, gastroc five, correction, EHL four => left ankle_plantarflexion 5, great_toe_extension 4
left hip flexion four, knee extension five, sorry, hip flexion five => left knee_extension 5, hip_flexion 5
left knee flexion four. sorry, am I hurting you. knee extension five => left knee_flexion 4, knee_extension 5
left knee jerk two plus. no ankle jerk => left knee_jerk 2+, ankle_jerk 0
right wasting present. no fasciculation => right wasting present, fasciculation absent
left triceps four. left, beg your pardon, right wrist flexion three => left elbow_extension 4; right wrist_flexion 3
right hip flexion four. right eversion five => right hip_flexion 4, ankle_eversion 5
left deltoid four, left biceps four, sorry, let me do that again, left biceps three => left shoulder_abduction 4,
 elbow_flexion 3
""")
ASKED = [
    ("left deltoid five. that was biceps", "left shoulder_abduction 5"),
    ("right eversion three. sorry, inversion four", "right ankle_eversion 3"),
    ("left hip flexion four. sorry. knee extension five", "left hip_flexion 4"),
    ("right grip three. it was finger abduction", "right grip 3"),
]
SWAPPED = table("""
quads three on the left, five on the right, other way about => left knee_extension 5; right knee_extension 3
right knee jerk two plus and left one plus, I've got that back to front => right knee_jerk 1+; left knee_jerk 2+
grip left two right four, swap those => left grip 4; right grip 2
eversion left two right four, no, reverse that => left ankle_eversion 4; right ankle_eversion 2
left biceps four, right biceps five. I've mixed up left and right => left elbow_flexion 5; right elbow_flexion 4
left biceps four right biceps five, and not the other way round => left elbow_flexion 4; right elbow_flexion 5
left knee flexion four. now lie the other way round. left hip extension five => left knee_flexion 4, hip_extension 5
""")
EXCEPTED = table("""
right leg five everywhere but the hamstrings, four => right hip_flexion 5, hip_extension 5, knee_extension 5,
 ankle_dorsiflexion 5, ankle_plantarflexion 5, great_toe_extension 5, knee_flexion 4
everything five on the left leg save hip adduction four => left leg_core 5, hip_adduction 4
right arm, everything's five bar grip three => right arm_core 5, grip 3
left arm everything is five except triceps, four => left shoulder_abduction 5, elbow_flexion 5, wrist_extension 5,
 finger_extension 5, finger_flexion 5, finger_abduction 5, elbow_extension 4
reflexes two plus and symmetrical apart from an absent left ankle jerk => both knee_jerk 2+; right ankle_jerk 2+;
 left ankle_jerk 0
strength symmetrical and full in the arms => both arm_core normal
power equal and strong in both legs => both leg_core normal
save that. left biceps four => left elbow_flexion 4
no tremor in either arm except the left => right involuntary_movement@arm absent
left hamstrings four, right hamstrings five. sorry, left hamstrings three => left knee_flexion 3; right knee_flexion 5
right light touch L3 reduced, L4 absent. sorry, L3 normal => right light_touch@L3 normal; right light_touch@L4 absent
vibration at the right ankle absent, right knee normal. I'll change that, vibration at the right ankle is reduced =>
 right vibration@ankle reduced; right vibration@knee normal
left plantar mute, right plantar flexor. no wait, left plantar extensor => left plantar_response extensor;
 right plantar_response flexor
vibration right toe absent, right ankle absent, right knee normal, left toe absent, left ankle absent, left knee normal,
 left wrist normal, sorry, left ankle reduced => right vibration@great_toe absent, vibration@ankle absent;
 right vibration@knee normal; left vibration@great_toe absent, vibration@ankle reduced, vibration@knee normal;
 left vibration@wrist normal
left grip four, right grip three, sorry, right grip four => left grip 4; right grip 4
left light touch L4 reduced, L5 absent, sorry, S1 absent => left light_touch@L4 reduced; left light_touch@S1 absent
""")


@pytest.mark.parametrize(("talk", "wanted"), [*TEST_PUT_RIGHT, *NOT_PUT_RIGHT, *SWAPPED, *EXCEPTED])
def test_what_is_put_right_is_that_of_the_row(talk, wanted):
    assert told(talk) == wanted


@pytest.mark.parametrize("talk", [talk for talk, _ in TEST_PUT_RIGHT])
def test_nobody_is_asked_about_a_test_that_was_put_right(talk):
    assert not any("may_be_taken_back" in row.flags for row in rows(talk))


def test_the_words_that_put_a_test_right_are_in_its_evidence():
    (row,) = rows("left shoulder abduction four, sorry, that was adduction")
    assert "that was adduction" in row.evidence[-1].heard


@pytest.mark.parametrize(("talk", "wanted"), ASKED)
def test_a_result_that_may_be_taken_back_is_asked_about(talk, wanted):
    row = next(row for row in rows(talk) if f"{row.side.value} {row.manoeuvre} {row.value}" == wanted)
    assert row.confirm
    assert "may_be_taken_back" in row.flags


@pytest.mark.parametrize(
    ("talk", "wanted"),
    [
        ("left deltoid four, biceps five, no the other way round",
         {"left shoulder_abduction 5", "left elbow_flexion 4"}),
        ("right hip flexion two, eversion three, or is it the other way round",
         {"right hip_flexion 2", "right ankle_eversion 3"}),
    ],
)  # fmt: skip
def test_results_of_two_tests_that_may_be_exchanged_are_asked_about(talk, wanted):
    assert told(talk) == wanted
    assert all("may_be_taken_back" in row.flags for row in rows(talk))


@pytest.mark.parametrize(
    ("talk", "doubted"),
    [
        ("power five throughout the left leg except the blarney. left knee jerk two plus", "leg_core"),
        ("power five throughout the left leg apart from the knee", "knee"),
        ("all power five in the left leg except toes which are three", "great_toe"),
        ("left leg is five everywhere but the ankle, where it's four", "ankle"),
    ],
)
def test_an_exception_that_was_not_understood_is_shown(talk, doubted):
    power = [row for row in rows(talk) if not row.manoeuvre.endswith("_jerk")]
    asked = {row.manoeuvre for row in power if "may_be_taken_back" in row.flags}
    meant = {row.manoeuvre for row in power if doubted == "leg_core" or row.manoeuvre.startswith(doubted)}
    assert asked == meant
    assert asked
    assert analysis(talk).record.unplaced


@pytest.mark.parametrize(
    "talk",
    [
        "left leg power normal except for some pain. left knee jerk two plus",
        "left arm five throughout. apart from his cough he is well",
        "no wasting in the left leg, apart from an old scar",
    ],
)
def test_other_exceptions_doubt_nothing(talk):
    assert not any(row.confirm for row in rows(talk))


@pytest.mark.parametrize(
    "talk",
    [
        "coordination normal",
        "coordination intact",
        "right arm strong",
        "the left leg is weak",
        "both legs strong. tone normal in both legs",
        "legs strong and symmetrical",
    ],
)
def test_a_whole_limb_without_a_test_is_shown(talk):
    assert any("no manoeuvre was named" in part.reason for part in analysis(talk).record.unplaced)


@pytest.mark.parametrize(
    "talk", ["she says the left leg is weak. left hip flexion four", "a man with a weak right arm"]
)
def test_what_a_patient_feels_of_a_limb_is_not(talk):
    assert not analysis(talk).record.unplaced


@pytest.mark.parametrize(
    ("talk", "sides"),
    [
        ("left leg. quads four, hamstrings five. sorry this is the right leg", 2),
        ("left arm. deltoid four. biceps five. triceps four. sorry, that was all the right arm", 3),
        ("left leg. quads four, hamstrings five. sorry, right eversion three", 0),
        ("left leg. quads four, hamstrings five. sorry, this tickles. right eversion three", 0),
    ],
)
def test_a_side_that_is_put_right_for_all_before_it_is_asked_about(talk, sides):
    assert sum("side_uncertain" in row.flags for row in rows(talk)) == sides


@pytest.mark.parametrize(
    ("talk", "wanted"),
    table("""
left leg not examined => -
I've not done the arms => -
arms. left deltoid four. legs not done => left shoulder_abduction 4
left leg. hip flexion four. left arm not tested => left hip_flexion 4
coordination not done => -
"""),
)
def test_a_limb_that_was_left_out_takes_no_test_along_and_is_shown(talk, wanted):
    assert told(talk) == wanted
    assert analysis(talk).record.unplaced
