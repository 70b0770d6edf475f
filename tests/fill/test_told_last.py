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
gait normal heel walking normal toe walking impaired and that's the right heel
    => midline gait normal, heel_walk normal; right toe_walk impaired
Right knee flexion five, hip flexion five left leg => right knee_flexion 5; left hip_flexion 5
pinprick dull at C7 right hand normal at C6 same hand and intact C5 to C6 that's the left
    => right pinprick@C7 reduced, pinprick@C6 normal; left pinprick@C5 normal, pinprick@C6 normal
Light touch reduced at L5 on the left, normal at L4, same side. Normal L4 to L5, right.
    => left light_touch@L5 reduced, light_touch@L4 normal; right light_touch@L4 normal, light_touch@L5 normal
""")

IN_A_RUN = table("""
grip four right wrist flexion five left => right grip 4; left wrist_flexion 5
hip flexion five L2 left knee extension four L3 right big toe three left. Gait normal.
    => left hip_flexion 5 (L2); right knee_extension 4 (L3); left great_toe_extension 3; midline gait normal
triceps jerk absent left biceps jerk two plus both => left triceps_jerk 0; right biceps_jerk 2+; left biceps_jerk 2+
supinator jerk three plus left triceps jerk three plus left supinator jerk two plus triceps jerk one plus
    those are on the right
    => left brachioradialis_jerk 3+, triceps_jerk 3+; right brachioradialis_jerk 2+, triceps_jerk 1+
left leg. hip flexion four. right knee extension five left ankle dorsiflexion three
    => left hip_flexion 4; right knee_extension 5; left ankle_dorsiflexion 3
right deltoid four left grip five right biceps five left wrist flexion four
    => right shoulder_abduction 4; left grip 5; right elbow_flexion 5; left wrist_flexion 4
""")

NO_LIST = table("""
power right leg quads four hamstrings three now the left leg same list quads hamstrings big toe all of these five
    => right knee_extension 4, knee_flexion 3; left knee_extension 5, knee_flexion 5, great_toe_extension 5
left arm deltoid, biceps and grip all of those five right arm grip four
    => left shoulder_abduction 5, elbow_flexion 5, grip 5; right grip 4
Right quads four. All of these five muscles are supplied by the femoral nerve. => right knee_extension 4
Right quads four. All of those on the left are five. => right knee_extension 4; left knee_extension 5
left knee extension five all of these five left leg hip flexion four => left knee_extension 5, hip_flexion 4
right leg hip flexion five knee extension five those two are fine left leg hip flexion four
    => right hip_flexion 5, knee_extension 5; left hip_flexion 4
""")


@pytest.mark.parametrize(("talk", "wanted"), ALL_OF_THEM + THE_LAST + IN_A_RUN + NO_LIST)
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
