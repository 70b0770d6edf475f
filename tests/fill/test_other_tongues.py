"""English as it is spoken by those whose first language is another.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

LEFT_OUT = table("""
the tandem gait i don't explore he cannot stand alone => midline tandem_gait !unable
heel walk we leave for tomorrow => midline heel_walk !deferred
grip on the left i did not she has much pain. grip on the right five => left grip !pain; right grip 5
temperature in the left arm we don't examine => left temperature !not_done
gait not tested and romberg neither => midline gait !not_done; midline romberg !not_done
right knee flexion i did not test and left neither => right knee_flexion !not_done; left knee_flexion !not_done
ankle jerk right two plus i leave the left => right ankle_jerk 2+
left knee jerk two plus. i do not do it harder => left knee_jerk 2+
""")

DENIED = table("""
left arm wasting of the deltoid tremor i see none => left wasting@arm present; left involuntary_movement@arm absent
right leg wasting i find none fasciculations i see in the calf => right wasting@leg absent;
 right fasciculation@leg present
no wasting but fasciculations i see in the right thigh => right wasting absent; right fasciculation@leg present
""")

PAIRS = table("""
power. pull the two feet up. perfect. the two big toes up. very well => right ankle_dorsiflexion normal ~;
 left ankle_dorsiflexion normal ~; right great_toe_extension normal ~; left great_toe_extension normal ~
knee jerks two plus, the two ankle jerks are one plus => right knee_jerk 2+; left knee_jerk 2+; right ankle_jerk 1+;
 left ankle_jerk 1+
vibration is absent at the two big toes => right vibration@great_toe absent; left vibration@great_toe absent
big toe extension two on the right => right great_toe_extension 2
""")

PLACES = table("""
vibration is absent in left ankle in right ankle normal in knees normal => left vibration@ankle absent;
 right vibration@ankle normal; right vibration@knee normal; left vibration@knee normal
temperature lost at left S1 at right S1 normal in L5 normal on both sides => left temperature@S1 absent;
 right temperature@S1 normal; right temperature@L5 normal; left temperature@L5 normal
vibration reduced at the right ankle at the left ankle normal at both knees => right vibration@ankle reduced;
 left vibration@ankle reduced; right vibration@knee normal; left vibration@knee normal
""")

WORDS = table("""
light touch right L5 conserved with the needle right L5 absent => right light_touch@L5 normal; right pinprick@L5 absent
with the cotton right L4 is reduced => right light_touch@L4 reduced
right knee reflex not provocable left vivid => right knee_jerk 0; left knee_jerk brisk
tone in the right arm is augmented => right tone@arm increased
the tone of the left leg is normal => left tone@leg normal
""")


@pytest.mark.parametrize(("talk", "wanted"), [*LEFT_OUT, *DENIED, *PAIRS, *PLACES, *WORDS])
def test_each_result_is_read_as_it_was_said(talk: str, wanted: set[str]) -> None:
    assert set(told(talk)) == wanted


@pytest.mark.parametrize("talk", ["gait i don't like it", "grip on the left i did not feel any weakness"])
def test_what_leaves_nothing_out_gives_no_row(talk: str) -> None:
    assert rows(talk) == []
