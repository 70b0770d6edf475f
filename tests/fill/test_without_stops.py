"""Statements that follow one another without a stop: which word each side, place and grade belongs to.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

STATEMENTS = table("""
elbow extensors C7 four on the left two on the right grip five on both sides => left elbow_extension 4 (C7);
 right elbow_extension 2 (C7); left grip 5; right grip 5
pinprick intact on the left from C5 to C7 C8 is reduced => left pinprick@C5 normal; left pinprick@C6 normal;
 left pinprick@C7 normal; left pinprick@C8 reduced
temperature on the right altered at L4 only L3 is normal => right temperature@L4 altered; right temperature@L3 normal
vibration tell me when it stops absent at the right ankle normal at the right knee => right vibration@ankle absent;
 right vibration@knee normal
cotton wool say yes when you feel it left arm normal C5 to C6 => left light_touch@C5 normal; left light_touch@C6 normal
vibration absent at the left ankle normal at the right perianal pinprick reduced on both sides =>
 left vibration@ankle absent; right vibration@ankle normal; left pinprick@S4-5 reduced; right pinprick@S4-5 reduced
light touch left leg intact L3 to S1 perianal pinprick reduced on both sides => left light_touch@L3 normal;
 left light_touch@L4 normal; left light_touch@L5 normal; left light_touch@S1 normal; left pinprick@S4-5 reduced;
 right pinprick@S4-5 reduced
left hand first since that's the sore one grip four => left grip 4
pinprick C6 on the left she'd rather we didn't => left pinprick@C6 !declined
left triceps jerk present with reinforcement => left triceps_jerk normal
left heel down the right shin fine that's normal vibration absent at the right knee => left heel_shin normal;
 right vibration@knee absent
slight wasting of the left calf none on the right => left wasting@leg present; right wasting@leg absent
right arm there is wasting the whole arm is thin and no fasciculation => right wasting@arm present;
 right fasciculation@arm absent
look at the hands involuntary movement in the left arm => left involuntary_movement@arm present
right grip two it carries the load for two arms triceps five => right grip 2; right elbow_extension 5
ankle jerks clench your teeth no absent on both sides plantars mute on the left => left ankle_jerk 0;
 right ankle_jerk 0; left plantar_response mute
anal tone reduced. if there's any tone left we'd all be surprised => midline anal_tone reduced
vibration I was told to leave out so vibration at the ankle not done on either side =>
 left vibration@ankle !not_done; right vibration@ankle !not_done
pinprick on the left absent at S1 sorry absent at L5 normal at L4 => left pinprick@L5 absent; left pinprick@L4 normal
pinprick on the left reduced at C5 and C6 sorry absent at C6 => left pinprick@C5 reduced; left pinprick@C6 absent
temperature normal at L4 on both sides sorry reduced at L4 on the left => right temperature@L4 normal;
 left temperature@L4 reduced
left wrist up don't let me bend it three out of five C7 => left wrist_extension 3 (C7)
right knee kick out against my hand four minus => right knee_extension 4-
left foot down push against me two out of five => left ankle_plantarflexion 2
anyone see any wasting? no, not in either arm. => right wasting@arm absent; left wasting@arm absent
left leg. is there any fasciculation? no. => left fasciculation@leg absent
is there any tremor? not in the right arm => right involuntary_movement@arm absent
right foot turn your sole in good and turned out good => right ankle_inversion normal ~; right ankle_eversion normal ~
left leg lift your thigh up good into the bed good => left hip_flexion normal ~; left hip_extension normal ~
push your left foot out as if you're kicking a ball good => left knee_extension normal ~
pinprick on the right C5 normal C6 absent and on the left only what I can get at C6 is reduced =>
 right pinprick@C5 normal; right pinprick@C6 absent; left pinprick@C6 reduced
light touch on the right L3 normal L4 absent and on the left from what we could test L5 is reduced =>
 right light_touch@L3 normal; right light_touch@L4 absent; left light_touch@L5 reduced
left arm wasting none left leg wasting present => left wasting@arm absent; left wasting@leg present
right hand wasting none left hand wasting none => right wasting@arm absent; left wasting@arm absent
left leg fasciculation none right leg tone increased => left fasciculation@leg absent; right tone@leg increased
right arm five throughout bar grip which is four left arm biceps three => right arm_core 5; right grip 4;
 left elbow_flexion 3
power is five throughout in the left leg except knee flexion which is four in the right leg hip flexion three =>
 left hip_flexion 5; left hip_extension 5; left knee_extension 5; left knee_flexion 4; left ankle_dorsiflexion 5;
 left ankle_plantarflexion 5; left great_toe_extension 5; right hip_flexion 3
left leg reflexes two plus throughout apart from the ankle jerk which is absent in the right leg knee jerk brisk =>
 left knee_jerk 2+; left ankle_jerk 0; right knee_jerk brisk
right joint position at the finger is normal at the elbow reduced plan is bloods =>
 right joint_position@finger normal; right joint_position@elbow reduced
right ankle jerk two plus, no clonus there, it is normal => right ankle_jerk 2+; right ankle_clonus absent
""")
CONTRASTS = table("""
knee extension L3 four left five right four => left knee_extension 5 (L3 L4); right knee_extension 4 (L3 L4)
pinprick reduced on the right L4 to S1 S2 and S3 => right pinprick@L4 reduced; right pinprick@L5 reduced;
 right pinprick@S1 reduced; right pinprick@S2 reduced; right pinprick@S3 reduced
right leg quads four hamstrings one => right knee_extension 4; right knee_flexion 1
no tremor or wasting in the left hand none in the right => left involuntary_movement@arm absent;
 left wasting@arm absent; right wasting@arm absent
wasting slight fasciculation none on the right => right wasting present; right fasciculation absent
look at the wasting in both legs you'd see this in polio => -
no wasting in the right leg. tone reduced in the right leg and tone reduced in the left leg as well =>
 right wasting@leg absent; right tone@leg reduced; left tone@leg reduced
right leg. knee jerk absent, ankle jerk absent, on the left as well => right knee_jerk 0; right ankle_jerk 0;
 left knee_jerk 0; left ankle_jerk 0
no wasting in the right leg, left leg as well => right wasting@leg absent; left wasting@leg absent
ankle jerk reduced on the right, and so it is on the left => right ankle_jerk reduced;
 left ankle_jerk reduced
left foot down push against my hand, five times => -
left knee jerk one plus, sorry, two plus, on the right three => left knee_jerk 2+; right knee_jerk 3+
keep your right leg up and don't let me push it down for five seconds => -
any tremor? not that I can see from here => -
students tell me when it's absent at the toes they check the ankle => -
left S1 and perianal pinprick reduced => left pinprick@S1 reduced; left pinprick@S4-5 reduced
left foot turn it in good and hold it out straight good => left ankle_inversion normal ~
left arm wasting none in the right arm => left wasting@arm present; right wasting@arm absent
right arm wasting, none left. left tone normal => right wasting@arm present; left wasting@arm absent;
 left tone@arm normal
both arms five throughout except grip which is four on the left => both arm_core 5; left grip 4
right ankle jerk absent what would you expect the knee jerk to be normal => right ankle_jerk 0
""")
ASKED = [
    ("left ankle jerk one, sorry, two on the right", "ankle_jerk", "left", "side_uncertain"),
    ("left shoulder a duction four plus", "shoulder_adduction", "left", "misheard_term"),
    ("right shoulder at duction three", "shoulder_adduction", "right", "misheard_term"),
    ("no tremor wasting in the left hand none in the right", "wasting", "left", "value_uncertain"),
    (
        "right reflexes biceps jerk three plus on both sides triceps jerk absent",
        "biceps_jerk",
        "left",
        "side_uncertain",
    ),
    ("what do you make of the reflexes they are brisk throughout both legs", "ankle_jerk", "left", "manoeuvre_unsaid"),
]
"""Talk, test and side of a row that a person is asked about, and why."""


@pytest.mark.parametrize(("talk", "wanted"), [*STATEMENTS, *CONTRASTS])
def test_what_follows_without_a_stop_is_parted(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(("talk", "manoeuvre", "side", "flag"), ASKED)
def test_what_may_be_parted_otherwise_is_asked(talk: str, manoeuvre: str, side: str, flag: str) -> None:
    (row,) = (row for row in rows(talk) if (row.manoeuvre, row.side.value) == (manoeuvre, side))
    assert row.confirm
    assert flag in row.flags
