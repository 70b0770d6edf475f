"""Roots that were said go on the row; the place of a sensory result is its site."""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

SAID = table("""
right hip flexion five L2 => right hip_flexion 5 (L2)
knee jerks two both sides L34 ankle jerk absent right => left knee_jerk 2+ (L3 L4); right knee_jerk 2+ (L3 L4);
 right ankle_jerk 0
right hip flexion five L23 => right hip_flexion 5 (L2 L3)
right hip flexion five, L two three => right hip_flexion 5 (L2 L3)
left quads four plus, L three four => left knee_extension 4+ (L3 L4)
left quads four plus L3 and L4 => left knee_extension 4+ (L3 L4)
left gluteus maximus four, L5 S1 => left hip_extension 4 (L5 S1)
left hamstrings four, L five S one => left knee_flexion 4 (L5 S1)
right tibialis anterior L4 L5 three plus => right ankle_dorsiflexion 3+ (L4 L5)
right EHL four minus, that's L5 => right great_toe_extension 4- (L5)
right ankle plantarflexion five, S1 S2 => right ankle_plantarflexion 5 (S1 S2)
L5, right great toe extension three => right great_toe_extension 3 (L5)
right biceps four, C5 C6 => right elbow_flexion 4 (C5 C6)
left triceps five, C seven => left elbow_extension 5 (C7)
left interossei four, T one => left finger_abduction 4 (T1)
left interossei four, C8 T1 => left finger_abduction 4 (C8 T1)
right knee jerk two plus, L3 4 => right knee_jerk 2+ (L3 L4)
right hip flexion, L2 to L4, is five => right hip_flexion 5 (L2 L3 L4)
quads five on both sides, L3 L4 => both knee_extension 5 (L3 L4)
bilateral ankle jerks absent, S1 => both ankle_jerk 0 (S1)
myotomes on the left. hip flexion five L2, knee extension five L3, ankle dorsiflexion four L4, great toe
    extension three L5, plantarflexion five S1
    => left hip_flexion 5 (L2), knee_extension 5 (L3), ankle_dorsiflexion 4 (L4), great_toe_extension 3 (L5),
    ankle_plantarflexion 5 (S1)
straight leg raise forty degrees left, ninety on the right / on the right C5 shoulder abduction four C6 wrist extension
    five C7 elbow extension five
    => left straight_leg_raise 40 degrees; right straight_leg_raise 90 degrees;
    right shoulder_abduction 4 (C5), wrist_extension 5 (C6), elbow_extension 5 (C7)
deltoid five bilaterally C5 biceps four bilaterally C6 => both shoulder_abduction 5 (C5); both elbow_flexion 4 (C6)
Left hip flexion four minus, I'd say, and that's L2. Kick out. Good. => left hip_flexion 4- (L2);
 left knee_extension normal ~
""")

UNEXPECTED = table("""
right hip flexion four, S1 => right hip_flexion 4 (S1) root_unexpected
left triceps four, L4 => left elbow_extension 4 (L4) root_unexpected
""")

PLACES = table("""
left light touch reduced at L5 => left light_touch@L5 reduced
left pinprick reduced over L5 and S1 => left pinprick@L5 reduced, pinprick@S1 reduced
right light touch intact L2 to S1
    => right light_touch@L2 normal, light_touch@L3 normal, light_touch@L4 normal, light_touch@L5 normal,
    light_touch@S1 normal
right pinprick L four, normal. L five, reduced. S one, absent
    => right pinprick@L4 normal, pinprick@L5 reduced, pinprick@S1 absent
left pinprick normal from C5 to T1
    => left pinprick@C5 normal, pinprick@C6 normal, pinprick@C7 normal, pinprick@C8 normal, pinprick@T1 normal
light touch diminished in the right L4 dermatome => right light_touch@L4 reduced
right pinprick diminished in L five S one => right pinprick@L5 reduced, pinprick@S1 reduced
pinprick is dull over the left S1 dermatome => left pinprick@S1 reduced
""")


@pytest.mark.parametrize(("talk", "wanted"), [*SAID, *PLACES])
def test_roots_and_places(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(("talk", "wanted"), UNEXPECTED)
def test_a_root_that_does_not_supply_the_movement_is_flagged(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted
    assert all(row.confirm and row.expected_roots for row in rows(talk))


def test_expected_roots_are_another_field() -> None:
    (row,) = rows("right knee extension four")
    assert row.roots == []
    assert {"L3", "L4"} <= set(row.expected_roots)
