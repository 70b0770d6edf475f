"""Orders in two words, findings that "feel" so, and what is only supposed, required or said of where a finding is.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import table, told

SHORT_ORDERS = table("""
right leg. knee up four, straighten it three, bend it five, foot up two => right hip_flexion 4; right knee_extension 3;
 right knee_flexion 5; right ankle_dorsiflexion 2
left arm. bending it four straightening it three wrists back two => left elbow_flexion 4; left elbow_extension 3;
 left wrist_extension 2
right leg. turning the foot out three as well and turning it in four => right ankle_eversion 3; right ankle_inversion 4
left hand. fingers straight two as well and spreading them three => left finger_extension 2; left finger_abduction 3
right foot down one a flicker turning it in zero => right ankle_plantarflexion 1; right ankle_inversion 0
left elbow extension four fingers straight again good => left elbow_extension 4; left finger_extension normal ~
right finger flexion three squeeze again good => right finger_flexion 3
left leg bend it one more time straighten it two seconds good => left knee_flexion normal ~
vibration normal at both great toes walk over => right vibration@great_toe normal; left vibration@great_toe normal
""")

FELT = table("""
tone feels normal on the right and increased on the left => right tone normal; left tone increased
let me take the weight tone feels normal in the right leg => right tone@leg normal
vibration feels normal at the right great toe => right vibration@great_toe normal
tone is a bit up i'd say increased in both arms => right tone@arm increased; left tone@arm increased
gait is hesitant i'd put impaired => midline gait impaired
left triceps jerk i'd put absent => left triceps_jerk 0
tone a little up in the right arm => right tone@arm increased
left ankle jerk is absent. i'd say the right is two plus => left ankle_jerk 0; right ankle_jerk 2+
""")

WAYS = table("""
plantars up the outer edge and it's flexor on the left extensor on the right => left plantar_response flexor;
 right plantar_response extensor
plantars up the lateral border of the foot mute on both sides => right plantar_response mute; left plantar_response mute
plantar up on the left down on the right => left plantar_response extensor; right plantar_response flexor
plantars up the right down the left => right plantar_response extensor; left plantar_response flexor
""")

NO_RESULTS = table("""
abnormal posture in the right arm a wrist drop => right abnormal_posture@arm present
gait impaired. if her tone goes up we'll start tablets => midline gait impaired
left knee jerk three plus. if their power drops ring me => left knee_jerk 3+
left eversion four. he rolled that foot and it's never been right. inversion five => left ankle_eversion 4;
 left ankle_inversion 5
right ankle jerk two plus. never record an absent one until you've tried it twice => right ankle_jerk 2+
left quads four. the rule for the scaffold is full power in both legs => left knee_extension 4
calves are soft pulses are fine => -
you need full power in both legs to drive the crane => -
pinprick reduced at S2 on the left jo's holding your hand. S3 is normal on both sides => left pinprick@S2 reduced;
 right pinprick@S3 normal; left pinprick@S3 normal
""")

NAMED = table("""
tone normal in the left leg. now power and people expect weakness here but it's full throughout in both arms =>
 left tone@leg normal; right arm_core normal; left arm_core normal
fasciculation in the right arm mostly the deltoid none in the left arm => right fasciculation@arm present;
 left fasciculation@arm absent
wasting in the left leg that's the tibialis anterior and dorsiflexion is three => left wasting@leg present;
 left ankle_dorsiflexion 3
no wasting in the right leg. that's the quadriceps five => right wasting@leg absent; right knee_extension 5
she fell twice last month arms please no wasting in either arm => right wasting@arm absent; left wasting@arm absent
left knee jerk and ankle jerk neither done because of the cast => left knee_jerk !unable; left ankle_jerk !unable
hip abduction and adduction neither tested on the right. romberg negative => right hip_abduction !not_done;
 right hip_adduction !not_done; midline romberg negative
""")


@pytest.mark.parametrize(("talk", "expected"), SHORT_ORDERS)
def test_two_words_ask_for_a_movement(talk: str, expected: set[str]) -> None:
    assert told(talk) == expected


@pytest.mark.parametrize(("talk", "expected"), FELT)
def test_what_it_feels_like_is_a_result(talk: str, expected: set[str]) -> None:
    assert told(talk) == expected


@pytest.mark.parametrize(("talk", "expected"), WAYS)
def test_the_way_of_a_stroke_is_no_finding(talk: str, expected: set[str]) -> None:
    assert told(talk) == expected


@pytest.mark.parametrize(("talk", "expected"), NO_RESULTS)
def test_what_is_supposed_required_or_named_by_the_way_is_no_result(talk: str, expected: set[str]) -> None:
    assert told(talk) == expected


@pytest.mark.parametrize(("talk", "expected"), NAMED)
def test_the_test_is_named_in_passing(talk: str, expected: set[str]) -> None:
    assert told(talk) == expected
