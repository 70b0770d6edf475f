"""Findings that are not there: not believed in, denied of one side, or of one side that is named behind them.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import analysis, rows, table, told

ABSENT = table("""
I don't think the right calf is wasted => right wasting@leg absent
I do not think there's wasting in the right arm => right wasting@arm absent
I wouldn't say the left calf is wasted => left wasting@leg absent
I wouldn't call that wasting in the right leg => right wasting@leg absent
it's not that the right calf is wasted => right wasting@leg absent
she doesn't have wasting in the right arm => right wasting@arm absent
he doesn't really have fasciculations in the left arm => left fasciculation@arm absent
I can't see that the right leg is wasted => right wasting@leg absent
I don't think the right heel shin is impaired => right heel_shin normal
I don't see any tremor in the left arm => left involuntary_movement@arm absent
""")
NO_RESULT = [
    "I don't think the right plantar is up",
    "I don't believe the right ankle jerk is absent",
    "I don't think the right knee jerk is brisk",
    "I don't think tone is increased in the right arm",
    "I wouldn't say tone is increased in the right arm",
    "I don't think pinprick is reduced at L5 on the right",
    "right light touch at L5, it doesn't feel different",
    "right knee jerk I don't find brisk",
    "right tone I wouldn't call increased",
    "I don't think the tone is normal in the right arm",
]
DOUBTED = [
    "I'm not sure the right calf is wasted",
    "I doubt there is wasting in the right leg",
    "I'm not at all convinced pinprick is reduced at the right L5",
    "it's hard to say whether the right knee jerk is brisk",
    "I don't think the right eversion is more than four",
    "little wasting in the right leg",
    "wasting in the right leg isn't something I see",
    "wasting in the right leg, I don't think so",
    "right knee jerk brisk, possibly",
    "right quads four, can't be certain",
    "right quads maybe four",
    "right grip four, if that",
    "right tone maybe slightly increased",
    "right heel shin accurate but slow",
    "right light touch, L4 reduced, no, not L4, L5",
    "gait normal but slow",
    "right finger nose normal but she found it hard",
]
OF_WHAT_FOLLOWS = table("""
I don't see any tremor in either arm power is full throughout in both arms => both involuntary_movement@arm absent,
 arm_core normal
I don't see any swelling. right quads strong => right knee_extension normal
Hoffmann's, I flick the middle finger, absent on both sides => both hoffmann_sign absent
wasting, I never said, no wasting in either leg => both wasting@leg absent
I don't think there's much in it, right knee jerk brisk => right knee_jerk brisk
I don't think so. right plantar up => right plantar_response extensor
I don't think we need the pin. light touch reduced right L5 => right light_touch@L5 reduced
I wouldn't call it brisk, the right knee jerk, two plus => right knee_jerk 2+
patellar clonus I couldn't find on either side => both patellar_clonus absent
a little wasting in the right leg => right wasting@leg present
""")
SUPPOSED = table("""
I expected the right plantar to be up but it goes down => right plantar_response flexor
at first I thought the right deltoid was weak but it's five => right shoulder_abduction 5
I thought there was wasting in the right calf but there isn't => right wasting@leg absent
I thought the right heel shin was impaired but it's not => right heel_shin normal
right plantar down. left, I thought at first it was going up but no, down => right plantar_response flexor;
 left plantar_response flexor
I'd say right grip four but left grip five => right grip 4; left grip 5
I thought right quads four but hamstrings five => right knee_extension 4, knee_flexion 5
last time the right quads were three, now five => right knee_extension 5
left deltoid four. last time the left quads were three, now five => left shoulder_abduction 4, knee_extension 5
in May his right grip was four, it's five today => right grip 5
right quads now five, it was three => right knee_extension 5
""")
OF_THE_OTHER_SIDE = table("""
right arm wasted, left arm not => right wasting@arm present; left wasting@arm absent
right calf wasted, the left isn't => right wasting@leg present; left wasting@leg absent
wasting in the right arm, the left hasn't any => right wasting@arm present; left wasting@arm absent
the right arm has wasting, the left doesn't => right wasting@arm present; left wasting@arm absent
right leg wasted but not the left => right wasting@leg present; left wasting@leg absent
right heel shin impaired, left not => right heel_shin impaired; left heel_shin normal
heel shin impaired on the right, not on the left => right heel_shin impaired; left heel_shin normal
right heel shin isn't impaired, the left is => right heel_shin normal; left heel_shin impaired
right quads four, not the left. hamstrings three => right knee_extension 4, knee_flexion 3
""")
LEFT_OPEN = [
    ("right knee jerk brisk, left not", "right knee_jerk brisk"),
    ("right ankle jerk absent, the left isn't", "right ankle_jerk 0"),
    ("right plantar upgoing, the left one is not", "right plantar_response extensor"),
    ("tone increased in the right leg but not the left", "right tone@leg increased"),
    ("ankle jerk absent on the right, not on the left", "right ankle_jerk 0"),
]
NAMED_AFTER_ITS_FINDING = table("""
weak grip right, left is fine => right grip reduced grade_unsaid; left grip normal
absent ankle jerk right, left is two plus => right ankle_jerk 0; left ankle_jerk 2+
weak quads right left normal => right knee_extension reduced grade_unsaid; left knee_extension normal
impaired heel shin on the right, left normal => right heel_shin impaired; left heel_shin normal
increased tone right arm, normal left arm => right tone@arm increased; left tone@arm normal
no ankle jerk right, left one plus => right ankle_jerk 0; left ankle_jerk 1+
no wasting right leg, left leg wasted => right wasting@leg absent; left wasting@leg present
weak eversion right, inversion four => right ankle_eversion reduced grade_unsaid, ankle_inversion 4
left quads wasted => left wasting@leg present
no tremor in the right arm, left arm wasted => right involuntary_movement@arm absent; left wasting@arm present
""")
NOT_THAT_LEVEL = table("""
right big toe three, L5 not S1 => right great_toe_extension 3 (L5)
right hip abduction four, that's L5, not L4 => right hip_abduction 4 (L5)
right triceps five C7, and not C8 => right elbow_extension 5 (C7)
right pinprick not L5 but L4 reduced => right pinprick@L4 reduced
right pinprick not reduced at L5 => right pinprick@L5 normal
""")
PRESENT_BUT = table("""
knee jerks present but reduced => both knee_jerk reduced
right triceps jerk present but only one plus => right triceps_jerk 1+
right vibration present but reduced at the ankle => right vibration@ankle reduced
knee jerks fine => both knee_jerk normal
gait normal but tandem impaired => midline gait normal, tandem_gait impaired
right heel shin normal but left heel shin impaired => right heel_shin normal; left heel_shin impaired
""")
IN_THE_WORDS_OF_THE_SCALE = table("""
right deltoid, full range against gravity but not against resistance => right shoulder_abduction 3
right quads against gravity but not resistance => right knee_extension 3
right deltoid against gravity and some resistance => right shoulder_abduction 4
right grip can't be overcome => right grip normal
right dorsiflexion easily overcome => right ankle_dorsiflexion reduced grade_unsaid
right dorsiflexion paralysed => right ankle_dorsiflexion 0
three is against gravity, four is against some resistance. right quads four => right knee_extension 4
right knee full range of movement. right quads four => right knee_extension 4
right deltoid full range, four => right shoulder_abduction 4
""")


@pytest.mark.parametrize(
    ("talk", "wanted"),
    [
        *ABSENT,
        *OF_WHAT_FOLLOWS,
        *SUPPOSED,
        *OF_THE_OTHER_SIDE,
        *NAMED_AFTER_ITS_FINDING,
        *NOT_THAT_LEVEL,
        *PRESENT_BUT,
        *IN_THE_WORDS_OF_THE_SCALE,
    ],
)
def test_a_finding_is_there_only_where_it_was_found(talk, wanted):
    assert told(talk) == wanted


OPEN = [
    "right deltoid full range",
    "I thought the right plantar was up, but it's down",
    "I expected the right knee jerk to be brisk but it isn't",
    "right knee jerk, what would you give it? three plus. I'd agree",
    "right knee jerk, would you call that brisk? yes",
]


@pytest.mark.parametrize("talk", [*NO_RESULT, *OPEN])
def test_what_is_only_denied_is_no_result_and_is_shown(talk):
    assert rows(talk) == []
    assert analysis(talk).record.unplaced


@pytest.mark.parametrize("talk", DOUBTED)
def test_what_is_doubted_is_asked_about(talk):
    (row,) = rows(talk)
    assert row.confirm
    assert "value_uncertain" in row.flags


@pytest.mark.parametrize(("talk", "wanted"), LEFT_OPEN)
def test_a_side_of_which_a_finding_is_denied_without_its_contrary_is_shown(talk, wanted):
    assert told(talk) == {wanted}
    assert analysis(talk).record.unplaced


@pytest.mark.parametrize(
    ("talk", "wanted"),
    table("""
right pinprick reduced at L4 but not L5 => right pinprick@L4 reduced; right pinprick@L5 normal
right pinprick absent L5, not S1 => right pinprick@L5 absent; right pinprick@S1 normal
right vibration absent at the toe but not the ankle => right vibration@great_toe absent; right vibration@ankle normal
"""),
)
def test_a_place_of_which_a_finding_is_denied_is_asked_about(talk, wanted):
    first, second = rows(talk)
    assert told(talk) == wanted
    assert not first.confirm
    assert "value_uncertain" in second.flags


def test_a_side_that_is_compared_with_its_equal_is_asked_about() -> None:
    asked = {row.side.value for row in rows("both quads four, the left slightly weaker") if row.confirm}
    assert asked == {"left"}
