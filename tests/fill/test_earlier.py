"""What an earlier examination found, told beside what is found today: no result of today, and nothing to ask about.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import analysis, rows, table, told

THEN_AND_NOW = table("""
Left wrist extension was two on Friday, three today. => left wrist_extension 3
right shoulder abduction two at discharge four minus now right elbow flexion was zero at week two
 one last month now three => right shoulder_abduction 4-; right elbow_flexion 3
left knee extension was three at the last clinic, and it's four plus now. => left knee_extension 4+
Right hip abduction was only two in June; it's back to five. => right hip_abduction 5
Left great toe extension has come up from one to three minus, L5. => left great_toe_extension 3- (L5)
Both ankle jerks were absent on admission. Today the right is one plus and the left is still absent. =>
 right ankle_jerk 1+; left ankle_jerk 0
Pinprick was absent at L5 on the right before surgery, now reduced. => right pinprick@L5 reduced
Vibration at the great toes was absent last year, they're reduced on both sides now. =>
 right vibration@great_toe reduced; left vibration@great_toe reduced
Right triceps jerk was brisk, currently two plus. => right triceps_jerk 2+
Left plantar was up going on Monday. Now it's down going. => left plantar_response flexor
Ankle clonus was sustained on both sides. Now five beats on the left and absent on the right. =>
 left ankle_clonus 5 beats; right ankle_clonus absent
Romberg used to be positive, it's negative today. => midline romberg negative
Straight leg raise on the left was thirty degrees on admission, now seventy degrees. =>
 left straight_leg_raise 70 degrees
Gait was antalgic at discharge, and today it's normal. => midline gait normal
Right finger abduction, three before the operation, four now. => right finger_abduction 4
There was wasting of the left calf in spring, today no wasting in the left leg. => left wasting@leg absent
""")
NOW_AND_THEN = table("""
Right wrist flexion was three at discharge, now four. Right grip four plus, and it was four. =>
 right wrist_flexion 4; right grip 4+
left hip flexion four minus up from three left hip extension four plus down from five =>
 left hip_flexion 4-; left hip_extension 4+
Left knee jerk two plus, that was absent in March. => left knee_jerk 2+
Right dorsiflexion two in May, today four. Knee jerks three plus on both sides, and they'd been four plus. =>
 right ankle_dorsiflexion 4; right knee_jerk 3+; left knee_jerk 3+
Right inversion was two, now three. Right eversion three, was two. Left eversion five. => right ankle_inversion 3;
 right ankle_eversion 3; left ankle_eversion 5
Left grip five today, four last time. => left grip 5
Right heel walking normal, and she couldn't do it last month. => right heel_walk normal
""")
STILL = table("""
Left elbow extension back to five. Left grip four. => left elbow_extension 5; left grip 4
Right great toe extension, there's a one today. => right great_toe_extension 1
Left grip was one in May and is still one. => left grip 1
Right ankle jerk remains absent. => right ankle_jerk 0
Tone in the left leg normal as before. => left tone@leg normal
""")
DONE_AGAIN = table("""
Right arm. Cock your wrist back, hold it. Wrist extension two. Left arm, same again. Cock your wrist back, hold
 it. Good. => right wrist_extension 2; left wrist_extension normal ~
Right hip flexion four, right knee flexion three. Left leg, same again. => right hip_flexion 4; right knee_flexion 3;
 left hip_flexion 4; left knee_flexion 3
""")
NOTHING_TO_COMPARE = table("""
Right hip flexion was four, left hip flexion was five. => right hip_flexion 4; left hip_flexion 5
The right ankle jerk was absent and the left was two plus. => right ankle_jerk 0; left ankle_jerk 2+
Right knee extension was three in May, now four. Left knee extension was five, right knee flexion was four. =>
 right knee_extension 4; left knee_extension 5; right knee_flexion 4
The left biceps jerk was one plus and it's two plus on the right. => left biceps_jerk 1+; right biceps_jerk 2+
Pinprick on the left was reduced at L5 and it's normal at S1. => left pinprick@L5 reduced; left pinprick@S1 normal
Right plantar was flexor, left now extensor. => right plantar_response flexor; left plantar_response extensor
Right leg. Ankle jerk was absent. On the left it's still two plus. => right ankle_jerk 0; left ankle_jerk 2+
Right grip was four. Now the left grip, five. => right grip 4; left grip 5
Left tone was increased in the leg and now reflexes, left knee jerk three plus. => left tone@leg increased;
 left knee_jerk 3+
Hip flexion five on the right then four on the left now knee extension five on both sides => right hip_flexion 5;
 left hip_flexion 4; right knee_extension 5; left knee_extension 5
""")


@pytest.mark.parametrize(("talk", "wanted"), [*THEN_AND_NOW, *NOW_AND_THEN, *STILL, *DONE_AGAIN, *NOTHING_TO_COMPARE])
def test_what_was_is_no_result_of_today(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


def test_a_result_keeps_its_words() -> None:
    [row] = rows("Left wrist extension was two on Friday, three today.")
    assert row.evidence[-1].heard.startswith("Left wrist extension was two on Friday, three")
    assert not row.confirm


def test_what_was_stays_in_the_transcript() -> None:
    blocks = analysis("Left wrist extension was two on Friday, three today.").transcript.blocks
    assert " ".join(word.text for block in blocks for word in block.words).startswith("Left wrist extension was two on")


@pytest.mark.parametrize(
    ("talk", "asked"),
    [
        ("last year right ankle jerk absent", True),
        ("in May right ankle jerk absent", True),
        ("before surgery right deltoid three, left five", True),
        ("two weeks ago the right quads three", True),
        ("today right ankle jerk absent", False),
        ("yesterday he fell. right deltoid three", False),
        ("last week three, today right quads four", False),
    ],
)
def test_what_is_told_right_behind_an_earlier_time_is_asked_about(talk: str, asked: bool) -> None:
    assert {row.confirm for row in rows(talk)} == {asked}
