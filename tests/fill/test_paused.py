"""Talk with a pause, and a full stop of the recogniser, between a test, its place and its result.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

PLACES = table("""
Light touch at C6. | Right normal. | Left absent. => right light_touch@C6 normal; left light_touch@C6 absent
Vibration at the ankles. | Right normal. | Left reduced. => right vibration@ankle normal; left vibration@ankle reduced
Pinprick, S3. | Absent on the left, reduced on the right. => left pinprick@S3 absent; right pinprick@S3 reduced
Joint position. At the great toes. Absent on both sides. => right joint_position@great_toe absent;
 left joint_position@great_toe absent
Vibration, left great toe. | Reduced. | Right great toe. | Normal. => left vibration@great_toe reduced;
 right vibration@great_toe normal
Pinprick. Left arm. C5. Normal. C7. Reduced. => left pinprick@C5 normal; left pinprick@C7 reduced
""")
OTHERS = table("""
Left leg. Dorsiflexion two. | Right, power five throughout. => left ankle_dorsiflexion 2; right leg_core 5
Left leg. Dorsiflexion two. | Right, power is done. | Knee jerks two plus. => left ankle_dorsiflexion 2;
 right knee_jerk 2+; left knee_jerk 2+
Left grip four. | Right, tone normal in both arms. => left grip 4; right tone@arm normal; left tone@arm normal
Left dorsiflexion four. | L5. | Left hip flexion three. => left ankle_dorsiflexion 4 (L5); left hip_flexion 3
Knee jerks absent. | L3, L4, L5, S1. | Right light touch normal at L3. => right knee_jerk 0; left knee_jerk 0;
 right light_touch@L3 normal
""")


@pytest.mark.parametrize(("talk", "wanted"), [*PLACES, *OTHERS])
def test_a_pause_does_not_part_a_result_from_its_place(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


def test_who_came_off_a_motorbike_was_told_no_order() -> None:
    assert rows("Came off a motorbike. The right shin is in plaster.") == []
