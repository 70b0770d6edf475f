"""A side that is said after a list of results, for all of it.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

ALL_OF_THEM = table("""
Grip three, finger extension four. Those two are the right. Grip five, finger extension five, both of those on the left.
    => right grip 3, finger_extension 4; left grip 5, finger_extension 5
quads four hamstrings three plus and every one of those is on the right left leg quads five
    => right knee_extension 4, knee_flexion 3+; left knee_extension 5
triceps jerk one plus biceps jerk two plus all of that was the right arm left arm triceps jerk two plus
    => right triceps_jerk 1+, biceps_jerk 2+; left triceps_jerk 2+
deltoid four biceps four plus i'm talking about the left now the right deltoid five biceps five
    => left shoulder_abduction 4, elbow_flexion 4+; right shoulder_abduction 5, elbow_flexion 5
Wasting of the calf. Tone reduced. Knee extension three. All of that's the left leg.
    => left wasting@leg present, tone@leg reduced, knee_extension 3
eversion four inversion four plus and that's the whole of the left on the right eversion five
    => left ankle_eversion 4, ankle_inversion 4+; right ankle_eversion 5
light touch L4 normal L5 reduced S1 absent all of those on the right
    => right light_touch@L4 normal, light_touch@L5 reduced, light_touch@S1 absent
Triceps jerk two plus, right. Biceps jerk one plus, supinator jerk absent, those two are the left.
    => right triceps_jerk 2+; left biceps_jerk 1+, brachioradialis_jerk 0
""")

THE_LAST = table("""
power four throughout and that's the right leg five throughout left leg => right leg_core 4; left leg_core 5
Left leg. Hip flexion five, knee extension four. Ankle jerk absent, that's the right.
    => left hip_flexion 5, knee_extension 4; right ankle_jerk 0
gait normal heel walking normal toe walking impaired and that's the right calf
    => midline gait normal, heel_walk normal; right toe_walk impaired
Right knee flexion five, hip flexion five left leg => right knee_flexion 5; left hip_flexion 5
pinprick dull at C7 right hand normal at C6 same hand and intact C5 to C6 that's the left
    => right pinprick@C7 reduced, pinprick@C6 normal; left pinprick@C5 normal, pinprick@C6 normal
Light touch reduced at L5 on the left, normal at L4, same side. Normal L4 to L5, right.
    => left light_touch@L5 reduced, light_touch@L4 normal; right light_touch@L4 normal, light_touch@L5 normal
""")

NO_LIST = table("""
Right quads four. All of those on the left are five. => right knee_extension 4; left knee_extension 5
left knee extension five all of these five left leg hip flexion four => left knee_extension 5, hip_flexion 4
right leg hip flexion five knee extension five those two are fine left leg hip flexion four
    => right hip_flexion 5, knee_extension 5; left hip_flexion 4
""")


@pytest.mark.parametrize(("talk", "wanted"), ALL_OF_THEM + THE_LAST + NO_LIST)
def test_a_side_said_last_is_that_of_the_results_it_points_to(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(
    "talk",
    [
        "hip flexion three knee extension four big toe two that's the left",
        "biceps jerk one plus. triceps jerk two plus. that's the right.",
    ],
)
def test_what_may_be_said_of_the_last_alone_is_shown_for_the_others(talk: str) -> None:
    *others, last = rows(talk)
    assert {row.side for row in others} == {last.side}
    assert all(row.confirm and "side_uncertain" in row.flags for row in others)
