"""Short orders, each a sentence of its own, with the result or a word of praise after it.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

ORDERS = table("""
left leg. elevate the foot. three. depress the foot. five => left ankle_dorsiflexion 3; left ankle_plantarflexion 5
left leg. ankle up four. pressing down is four plus => left ankle_dorsiflexion 4; left ankle_plantarflexion 4+
left leg. lifting the knee is five, pulling the heel in is four, kicking out is three => left hip_flexion 5;
 left knee_flexion 4; left knee_extension 3
right arm. bend the elbow, four. push it straight, three => right elbow_flexion 4; right elbow_extension 3
right leg. bend the knee, four. push it straight, five => right knee_flexion 4; right knee_extension 5
left leg. knee up is four. kick out is five. foot down is three => left hip_flexion 4; left knee_extension 5;
 left ankle_plantarflexion 3
right arm. biceps four plus. wrist up is five, thumb up is three => right elbow_flexion 4+;
 right wrist_extension 5; right thumb_abduction 3
knee straightening on the right is four minus and bending is five => right knee_extension 4-; right knee_flexion 5
right leg. press down, strong. heel in, strong => right ankle_plantarflexion normal; right knee_flexion normal
left leg. thigh up. full power. now press it down. full power => left hip_flexion normal; left hip_extension normal
right leg. foot up. four. down. two => right ankle_dorsiflexion 4; right ankle_plantarflexion 2
left leg. kick. five. tuck under. three => left knee_extension 5; left knee_flexion 3
right leg. turning it out two, turning it in three => right ankle_eversion 2; right ankle_inversion 3
right leg. knees together. five. push them out. four => right hip_adduction 5; right hip_abduction 4
left leg. knee up? Two. kick? Three. foot down? Four =>
 left hip_flexion 2; left knee_extension 3; left ankle_plantarflexion 4
vibration normal at the left knee now to the right knee, reduced => left vibration@knee normal;
 right vibration@knee reduced
plantars. left toes up => left plantar_response extensor
left leg. knee up. five. plantars. toes up on the left => left hip_flexion 5; left plantar_response extensor
left leg. knee up. four. is the ankle jerk up? => left hip_flexion 4
""")

PRAISED = table("""
right heel now on to the left knee and down the shin. lovely => right heel_shin normal ~
left leg. toes now up to the ceiling. lovely. knee now up to your chest. lovely => left ankle_dorsiflexion normal ~;
 left hip_flexion normal ~
right leg. foot down. good. big toe. good => right ankle_plantarflexion normal ~; right great_toe_extension normal ~
left leg. heel back. lovely. toes up. lovely => left knee_flexion normal ~; left ankle_dorsiflexion normal ~
right leg. foot up. super. and down. super => right ankle_dorsiflexion normal ~; right ankle_plantarflexion normal ~
left leg. straighten the knee. fine. press it into the bed. fine =>
 left knee_extension normal ~; left hip_extension normal ~
left foot up. lovely. and swap. lovely => left ankle_dorsiflexion normal ~; right ankle_dorsiflexion normal ~
right arm. bend your elbow. good. that's your biceps. push me off. good =>
 right elbow_flexion normal ~; right elbow_extension normal ~
left leg. knee up. good. vibration. big toe. good => left hip_flexion normal ~
""")


@pytest.mark.parametrize(("talk", "wanted"), ORDERS)
def test_a_short_order_has_the_result_after_it(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(("talk", "wanted"), PRAISED)
def test_a_short_order_that_is_praised_was_done(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted
    assert all(row.flags == ["inferred_normal"] for row in rows(talk))
