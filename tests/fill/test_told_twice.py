"""Results that are taken back, named anew for each side, or written down in passing.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

TAKEN_BACK = table("""
clonus four beats at the left ankle scratch that i counted again it's five beats at the left ankle none at the right
 => left ankle_clonus 5 beats; right ankle_clonus absent
vibration absent at the left knee strike that reduced at the left knee => left vibration@knee reduced
light touch reduced at right C8 scratch that light touch normal at right C8 => right light_touch@C8 normal
left hip abduction three scratch that four. right hip abduction five => left hip_abduction 4; right hip_abduction 5
right triceps jerk two plus strike that one plus left triceps jerk two plus =>
 right triceps_jerk 1+; left triceps_jerk 2+
power is four in the left quads and people forget that left hamstrings five =>
 left knee_extension 4; left knee_flexion 5
temperature i've not done she was cold so that's C6 on both sides declined => both temperature@C6 !declined
temperature not done on the left, light touch at L5 declined =>
 left temperature !not_done; left light_touch@L5 !declined
""")

FOR_EACH_SIDE = table("""
no wasting in the left leg, no wasting in the right leg, no fasciculation => both wasting@leg absent;
 unsaid fasciculation@leg absent; unsaid fasciculation@leg absent
left leg. no wasting, no fasciculation. tone normal => left wasting@leg absent; left fasciculation@leg absent;
 left tone@leg normal
no tremor in the left arm, no wasting in the right arm, no fasciculation => left involuntary_movement@arm absent;
 right wasting@arm absent; right fasciculation@arm absent
right grip three. mm three as well on the left => both grip 3
left biceps jerk one plus. ah, two also on the right => left biceps_jerk 1+; right biceps_jerk 2+
no tremor in either tone normal in both arms => both involuntary_movement absent; both tone@arm normal
finger nose normal on both sides no tremor in either => both finger_nose normal
tone increased left arm and right arm tone normal => left tone@arm increased; right tone@arm normal
tone normal left and right. grip four left and right => both tone normal; both grip 4
""")

WRITTEN_DOWN = table("""
there's an abnormal posture in both hands, so that goes down as present for both arms =>
 both abnormal_posture@arm present
sit up and we'll go down the arms muscle by muscle. left deltoid five => left shoulder_abduction 5
plantars go down as normal on the right and as extensor on the left => right plantar_response flexor;
 left plantar_response extensor
plantar responses both go down as expected => both plantar_response flexor
""")

TALKS = [*TAKEN_BACK, *FOR_EACH_SIDE, *WRITTEN_DOWN]


@pytest.mark.parametrize(("talk", "wanted"), TALKS, ids=[talk for talk, _ in TALKS])
def test_a_talk_gives_its_rows(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(
    "talk",
    ["knee jerk two plus left knee jerk three plus", "tone increased right leg tone reduced left leg tone normal"],
)
def test_a_side_between_two_results_of_one_test_is_asked_about(talk: str) -> None:
    assert all(row.confirm for row in rows(talk))


@pytest.mark.parametrize(
    "talk", ["left leg tone normal right leg tone increased", "knee jerk two plus right knee jerk three plus left"]
)
def test_a_side_with_each_result_is_not(talk: str) -> None:
    assert not any(row.confirm for row in rows(talk))
