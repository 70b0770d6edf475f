"""Names and findings that a recogniser cut in two or wrote as other words, and limbs named before the next result.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

CUT = table("""
pinprick on the right at L4 is re | duced at L5 normal => right pinprick@L4 reduced; right pinprick@L5 normal
left shoulder ab | duction four elbow flexion five => left shoulder_abduction 4; left elbow_flexion 5
right wrist extend | shun three => right wrist_extension 3
left knee jerk two plus left uncle | jerk one plus => left knee_jerk 2+; left ankle_jerk 1+
vibration is absent on the left at the great toe joint | position is reduced at the left ankle =>
 left vibration@great_toe absent; left joint_position@ankle reduced
left arm power is five through | out =>
 left arm_core 5
vibration normal at the left ankle pin | prick reduced at L4 on the left => left vibration@ankle normal;
 left pinprick@L4 reduced
light touch normal at L4 on the right pin | brick absent at L4 on the right => right light_touch@L4 normal;
 right pinprick@L4 absent
tone increased in the left arm and the left | leg => left tone@arm increased; left tone@leg increased
right arm. triceps four right grip three left arm five | threw out apart from grip four => right elbow_extension 4;
 right grip 3; left arm_core 5; left grip 4
gait normal | toe walking normal => midline gait normal; midline toe_walk normal
tone normal in the right leg | power five throughout => right tone@leg normal; right leg_core 5
temperature at S1 | absent on the left normal on the right => left temperature@S1 absent; right temperature@S1 normal
light touch on the left at C7 | reduced => left light_touch@C7 reduced
pinprick normal on the left at L4 | reduced on the left at L5 => left pinprick@L4 normal; left pinprick@L5 reduced
tone normal in both legs | reflexes knee jerks two plus => right tone@leg normal; left tone@leg normal;
 right knee_jerk 2+; left knee_jerk 2+
in the right leg no wasting and no fasciculation | in the left leg no wasting => right wasting@leg absent;
 right fasciculation@leg absent; left wasting@leg absent
""")

STAMMERED = table("""
right leg wasting of the thigh no no fasciculation => right wasting@leg present; right fasciculation@leg absent
fasciculation in both arms no no wasting in either arm => right fasciculation@arm present;
 left fasciculation@arm present; right wasting@arm absent; left wasting@arm absent
left ankle jerk absent no no left ankle jerk one plus => left ankle_jerk 1+
""")

UNABLE = table("""
left leg in plaster knee flexion and ankle dorsiflexion i'm an able to test => left knee_flexion !unable;
 left ankle_dorsiflexion !unable
tandem gait he's on able to do => midline tandem_gait !unable
""")

NEXT_LIMB = table("""
right arm. wrist flexion four grip three left arm | five throughout => right wrist_flexion 4; right grip 3;
 left arm_core 5
left leg. eversion two right leg normal throughout => left ankle_eversion 2; right leg_core normal
left leg. inversion five, eversion three. right leg. hip flexion four, inversion and eversion the same as the left =>
 left ankle_inversion 5; left ankle_eversion 3; right hip_flexion 4; right ankle_inversion 5; right ankle_eversion 3
left ankle jerk absent, the right is the same as the left => left ankle_jerk 0; right ankle_jerk 0
""")

ORDERS = table("""
right leg. big tow up. good => right great_toe_extension normal ~
left leg. dig your heal into the bed. good => left hip_extension normal ~
left arm. cock your rist back. lovely => left wrist_extension normal ~
it should heal up on the right. good => -
""")

ASKED = [
    ("light touch on the left in tacked C6 to C8", {("light_touch", "normal")}),
    ("pinprick at the right L5 is all tered", {("pinprick", "altered")}),
    ("pinprick on the right L3 normal L4 re deuced L5 normal", {("pinprick", "normal"), ("pinprick", "reduced")}),
]


@pytest.mark.parametrize(("talk", "wanted"), CUT + STAMMERED + UNABLE + NEXT_LIMB + ORDERS)
def test_rows(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(("talk", "wanted"), ASKED)
def test_findings_in_two_words_are_shown(talk: str, wanted: set[tuple[str, str]]) -> None:
    found = rows(talk)
    assert {(row.manoeuvre, row.value) for row in found} == wanted
    assert all(row.confirm for row in found if row.value != "normal" or "tacked" in talk)


def test_an_unlike_word_is_no_silent_tremor() -> None:
    found = rows("she is a dresser right arm wasting of the biceps")
    assert all(row.confirm for row in found if row.manoeuvre == "involuntary_movement")
