"""Examinations that go joint by joint: the joint is said once, and what follows is of it.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

MOVEMENTS = table("""
left arm. elbow flexion four C5 C6 extension three C7 => left elbow_flexion 4 (C5 C6); left elbow_extension 3 (C7)
wrists. flexion four on both sides, extension five on both sides =>
 right wrist_flexion 4; left wrist_flexion 4; right wrist_extension 5; left wrist_extension 5
at the shoulder on the right abduction four, at the elbow flexion three and extension five =>
 right shoulder_abduction 4; right elbow_flexion 3; right elbow_extension 5
knee left flexion four extension five => left knee_flexion 4; left knee_extension 5
the right hip. abduction four minus. adduction five. extension three =>
 right hip_abduction 4-; right hip_adduction 5; right hip_extension 3
left elbow flexion five, biceps jerk two plus, extension four =>
 left elbow_flexion 5; left biceps_jerk 2+; left elbow_extension 4
right thumb abduction three. fingers abduction four extension two =>
 right thumb_abduction 3; right finger_abduction 4; right finger_extension 2
right great toe extension two, plantar extensor => right great_toe_extension 2; right plantar_response extensor
left hip flexion four. left leg straight leg raise forty degrees =>
 left hip_flexion 4; left straight_leg_raise 40 degrees
right great toe extension four plus. left dorsiflexion four => right great_toe_extension 4+; left ankle_dorsiflexion 4
left big toe: dorsiflexion four => left great_toe_extension 4
""")
FELT = table("""
left ankle jerk absent. wrists vibration reduced on both sides, joint position normal on both sides =>
 left ankle_jerk 0; right vibration@wrist reduced; left vibration@wrist reduced; right joint_position@wrist normal;
 left joint_position@wrist normal
knee jerks two plus on both sides. ankles. vibration absent on the left, normal on the right =>
 right knee_jerk 2+; left knee_jerk 2+; left vibration@ankle absent; right vibration@ankle normal
reflexes absent at the ankles. vibration reduced at the knees =>
 right ankle_jerk 0; left ankle_jerk 0; right vibration@knee reduced; left vibration@knee reduced
""")
KEPT_TOGETHER = table("""
joint position at the right thumb is reduced at the right wrist normal left arm power five in the biceps =>
 right joint_position@finger reduced; right joint_position@wrist normal; left elbow_flexion 5
joint position reduced on the left ankle normal on the right =>
 left joint_position@ankle reduced; right joint_position@ankle normal
no fasciculation or wasting in the left arm and the right arm is the same => left fasciculation@arm absent;
 left wasting@arm absent; right fasciculation@arm absent; right wasting@arm absent
""")
NUMBERED = table("""
item one knee extension five on both sides item two hip flexion four on both sides =>
 right knee_extension 5; left knee_extension 5; right hip_flexion 4; left hip_flexion 4
right hip flexion three step four right knee extension five => right hip_flexion 3; right knee_extension 5
""")


@pytest.mark.parametrize(("statement", "expected"), [*MOVEMENTS, *FELT, *KEPT_TOGETHER, *NUMBERED])
def test_what_follows_is_of_the_joint(statement: str, expected: set[str]) -> None:
    assert told(statement) == expected


@pytest.mark.parametrize(
    "statement",
    ["right wrist drop. extension two", "vibration reduced at the left ankle. joint position normal on the left"],
)
def test_a_joint_named_otherwise_is_asked_about(statement: str) -> None:
    assert rows(statement)[-1].confirm
