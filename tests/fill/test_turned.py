"""A list that turns to another level, side, finding or remark without a stop between.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import analysis, rows, table, told

LEVELS = table("""
left light touch normal C5 to C7 C8 absent => left light_touch@C5 normal; left light_touch@C6 normal;
 left light_touch@C7 normal; left light_touch@C8 absent
right pinprick normal L2 and L3 L4 absent L5 reduced => right pinprick@L2 normal; right pinprick@L3 normal;
 right pinprick@L4 absent; right pinprick@L5 reduced
right temperature normal C5 to C6 C7 reduced C8 T1 absent => right temperature@C5 normal; right temperature@C6 normal;
 right temperature@C7 reduced; right temperature@C8 absent; right temperature@T1 absent
left pinprick normal C5 C6 reduced C7 C8 absent T1 => left pinprick@C5 normal; left pinprick@C6 normal;
 left pinprick@C7 reduced; left pinprick@C8 reduced; left pinprick@T1 absent
right light touch L2 normal L3 to L5 S1 reduced => right light_touch@L2 normal; right light_touch@L3 reduced;
 right light_touch@L4 reduced; right light_touch@L5 reduced; right light_touch@S1 reduced
left pinprick reduced L5 to S1 S2 normal perianal => left pinprick@L5 reduced; left pinprick@S1 reduced;
 left pinprick@S2 reduced; left pinprick@S4-5 normal
left pinprick intact C5 to T1 except C7 which tickles. left grip four => left pinprick@C5 normal;
 left pinprick@C6 normal; left pinprick@C8 normal; left pinprick@T1 normal; left grip 4
""")
SIDES = table("""
left deltoid five biceps four over to the right arm deltoid five => left shoulder_abduction 5; left elbow_flexion 4;
 right shoulder_abduction 5
right quads four hamstrings three back to the left quads five => right knee_extension 4; right knee_flexion 3;
 left knee_extension 5
left arm grip five across to the right arm no wasting => left grip 5; right wasting@arm absent
gait impaired he drifts over to the right => midline gait impaired
left knee jerk absent on the left I tried it twice ankle jerk one plus => left knee_jerk 0; left ankle_jerk 1+
left knee jerk one plus. planted down going on the left => left knee_jerk 1+; left plantar_response flexor
""")
FINDINGS = table("""
in the left leg there's no fasciculation in the right leg there's fasciculation no wasting in either leg =>
 left fasciculation@leg absent; right fasciculation@leg present; both wasting@leg absent
no wasting in the left arm on the right there's wasting => left wasting@arm absent; right wasting@arm present
no wasting in the right arm in the left arm there is no wasting => both wasting@arm absent
neither arm shows wasting tone normal in both arms => both wasting@arm absent; both tone@arm normal
right arm no wasting and a tremor tone increased => right wasting@arm absent; right involuntary_movement@arm present;
 right tone@arm increased
left arm no wasting and abnormal posture => left wasting@arm absent; left abnormal_posture@arm absent
let me have a look no wasting in the right leg => right wasting@leg absent
left leg no wasting in the left leg involuntary movement in the left leg yes present => left wasting@leg absent;
 left involuntary_movement@leg present
no wasting in either arm no fasciculation in either arm seen => both wasting@arm absent; both fasciculation@arm absent
""")
REMARKS = table("""
left plantar mute I'm not going to argue with it => left plantar_response mute
right ankle jerk absent which at ninety I'm not going to chase left ankle jerk one plus => right ankle_jerk 0;
 left ankle_jerk 1+
left knee jerk two plus the left ankle jerk I'm not going to push for => left knee_jerk 2+; left ankle_jerk !not_done
light touch normal at L5 on both sides pinprick I'm not going to test => both light_touch@L5 normal;
 both pinprick !not_done
right knee jerk two plus with the swelling round the knee it's gone further than a sprain => right knee_jerk 2+
""")


OTHER_TALK = table("""
left heel shin normal right heel shin normal ataxia would worry me => both heel_shin normal
gait normal romberg negative a stumble last winter would have changed that => midline gait normal;
 midline romberg negative
toe walking impaired on the left the right foot is normal plan physiotherapy => left toe_walk impaired;
 right toe_walk normal
left grip five he can't hold it right finger nose normal nystagmus would be another matter => left grip 5;
 right finger_nose normal
plantars sorry if this is cold up going on the left down going on the right => left plantar_response extensor;
 right plantar_response flexor
tone I'll roll your leg for me left leg increased tone right leg normal => left tone@leg increased;
 right tone@leg normal
power pull your arms in for me left arm full power right arm the same => both arm_core normal
imagine left knee jerk absent a slipped disc would do that => -
""")
RESULTS = table("""
reflexes are one plus and symmetrical triceps knees and ankles plantars both flexor => both triceps_jerk 1+;
 both knee_jerk 1+; both ankle_jerk 1+; both plantar_response flexor
inversion L4 three on the left and four on the right => left ankle_inversion 3 (L4); right ankle_inversion 4 (L4)
hip flexion L2 three right but four left => right hip_flexion 3 (L2); left hip_flexion 4 (L2)
left big toe four the peroneal nerve is fine left eversion five => left great_toe_extension 4; left ankle_eversion 5
left thumb abduction four. light touch normal at left C6 => left thumb_abduction 4; left light_touch@C6 normal
right leg quads four. heel shin impaired on the left he hasn't the strength for that and normal on the right =>
 right knee_extension 4; left heel_shin impaired; right heel_shin normal
ankle jerks I can't get the right hang on there it is so one plus on both sides => both ankle_jerk 1+
left biceps jerk absent I couldn't get the right there we go one plus on the right => left biceps_jerk 0;
 right biceps_jerk 1+
heel walking impaired and that's the left heel => left heel_walk impaired
""")


@pytest.mark.parametrize(("talk", "wanted"), LEVELS + SIDES + FINDINGS + REMARKS + OTHER_TALK + RESULTS)
def test_what_turns_without_a_stop_is_read_as_it_was_meant(talk: str, wanted: list[str]) -> None:
    assert told(talk) == wanted


def test_a_place_that_was_excepted_and_has_no_result_is_put_to_a_person() -> None:
    talk = "light touch intact L2 to S1 on both sides except the left L5 which tickles. vibration at both ankles normal"
    found = {(row.manoeuvre, row.side.value, row.site) for row in rows(talk)}
    assert ("light_touch", "left", "L5") not in found
    assert {("light_touch", "right", "L5"), ("vibration", "right", "ankle"), ("vibration", "left", "ankle")} <= found
    assert [one.text for one in analysis(talk).record.unplaced] == ["L5"]


@pytest.mark.parametrize(
    ("talk", "manoeuvre", "flag"),
    [
        ("left light touch intact C5 C6 C7 reduced", "light_touch", "value_uncertain"),
        ("left leg ankle jerk one plus planted down going", "plantar_response", "side_uncertain"),
    ],
)
def test_what_may_have_been_meant_otherwise_is_asked(talk: str, manoeuvre: str, flag: str) -> None:
    found = [row for row in rows(talk) if row.manoeuvre == manoeuvre]
    assert found
    assert all(row.confirm and flag in row.flags for row in found), [(row.value, row.flags) for row in found]


def test_who_says_what_was_tested_on_the_other_side_begins_there() -> None:
    talk = "pinprick on the right L4 reduced S1 normal on the left I only tested light touch L4 to S1 which is normal"
    found = {(row.manoeuvre, row.side.value, row.site): row for row in rows(talk)}
    assert found["pinprick", "right", "S1"].confirm
    assert found["light_touch", "left", "S1"].value == "normal"
    assert ("pinprick", "left", "S1") not in found
