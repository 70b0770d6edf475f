"""Findings of inspection that are denied, doubted, gone, or there in one part or on one side only.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told


@pytest.mark.parametrize("sort", ["obvious", "definite", "visible", "evident", "clear", "real", "convincing", "frank"])
@pytest.mark.parametrize(
    ("finding", "row"),
    [
        ("wasting in the left leg", "left wasting@leg absent"),
        ("tremor in the right arm", "right involuntary_movement@arm absent"),
        ("fasciculation in either leg", "both fasciculation@leg absent"),
        ("clonus on the right", "right ankle_clonus absent"),
    ],
)
def test_no_finding_of_any_sort_is_none(sort: str, finding: str, row: str) -> None:
    """ "No obvious wasting": silently there, if the first two words are parted."""
    [(_, wanted)] = table(f"- => {row}")
    assert told(f"no {sort} {finding}") == wanted


DENIED = table("""
no obvious loss of light touch at L5 on the left => left light_touch@L5 normal
no definite weakness of the left quads => left knee_extension normal
no obvious weakness in the right leg => right leg_core normal
no left sided wasting => left wasting absent
no right arm fasciculation => right fasciculation@arm absent
wasting on the left, visible fasciculation on the right => left wasting present; right fasciculation present
fasciculation in the left calf but not the right => left fasciculation@leg present; right fasciculation@leg absent
tremor on the right, not the left => right involuntary_movement present; left involuntary_movement absent
left grip, not right, four => left grip 4
""")


@pytest.mark.parametrize(("talk", "wanted"), DENIED)
def test_a_finding_is_denied_on_the_side_that_is_said(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


DOUBTED = [
    ("no marked tremor in the left leg", "absent"),
    ("no sustained clonus on the left", "absent"),
    ("possible wasting on the left", "present"),
    ("I thought I saw fasciculations in the left leg but no", "present"),
    ("tremor of the left hand, maybe", "present"),
    ("wasting on the left has gone", "absent"),
    ("fasciculations in the left calf have resolved", "absent"),
    ("wasting in the left thigh, none in the calf", "present"),
]


@pytest.mark.parametrize(("talk", "value"), DOUBTED)
def test_a_finding_that_is_doubted_is_asked_about(talk: str, value: str) -> None:
    (row,) = rows(talk)
    assert (row.side.value, row.value, row.confirm) == ("left", value, True)


OPPOSITE = [
    ("no upgoing plantar on the left", {"left plantar_response flexor"}),
    ("no hyperaesthesia at L5 on the left", {"left light_touch@L5 normal modality_unsaid"}),
]


@pytest.mark.parametrize(("talk", "wanted"), OPPOSITE)
def test_a_denied_finding_is_never_the_finding(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted
    assert all(row.confirm for row in rows(talk))


@pytest.mark.parametrize(
    "talk",
    [
        "sensation grossly normal in both legs",
        "power grossly normal in both legs",
        "no drift on the left",
        "gross power five",
    ],
)
def test_words_of_degree_and_of_other_signs_are_no_names(talk: str) -> None:
    """ "Grossly" was the gracilis, "drift" was atrophy."""
    assert not {row.manoeuvre for row in rows(talk)} & {"hip_adduction", "wasting", "grip"}


@pytest.mark.parametrize(
    "talk",
    [
        "could not elicit the left ankle jerk",
        "did not get a left ankle jerk, absent",
        "couldn't elicit the left ankle jerk",
    ],
)
def test_what_could_not_be_elicited_is_no_question(talk: str) -> None:
    (row,) = rows(talk)
    assert (row.side.value, row.manoeuvre, row.value) == ("left", "ankle_jerk", "0")


@pytest.mark.parametrize(
    "talk", ["left finger nose not so good", "push down on the left. not so good", "toe walking not very good"]
)
def test_faint_praise_makes_nothing_normal(talk: str) -> None:
    assert not rows(talk)


@pytest.mark.parametrize("level", ["below L3", "above L3", "from L3 down"])
def test_levels_beyond_one_that_is_named_are_asked_about(level: str) -> None:
    (row,) = rows(f"pinprick reduced {level} on the left")
    assert (row.site, row.confirm) == ("L3", True)


LEFT_OUT_OR_ABSENT = table("""
left ankle jerk could not be elicited because of the plaster => left ankle_jerk !unable
right ankle jerk two plus, left could not be obtained for pain => right ankle_jerk 2+; left ankle_jerk !pain
left ankle jerk could not be obtained => left ankle_jerk 0
no reflexes in the left leg => left knee_jerk 0; left ankle_jerk 0
no reflexes tested => -
knee jerk two plus on the right, I can't get the left => right knee_jerk 2+; left knee_jerk 0
left quads four, I can't get the right leg up => left knee_extension 4
""")
BEFORE = table("""
before the fall left quads was five => -
left quads four, it was five before the fall => left knee_extension 4
left quads five before the accident, four now => left knee_extension 4
since the fall left quads is three => left knee_extension 3
""")


@pytest.mark.parametrize(("talk", "wanted"), [*LEFT_OUT_OR_ABSENT, *BEFORE])
def test_what_was_not_tested_and_what_was_before_is_no_result(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


def test_the_absent_sign_is_no_mute_response() -> None:
    (row,) = rows("left babinski absent")
    assert (row.value, row.confirm) == ("flexor", True)
    assert told("left plantar absent") == {"left plantar_response mute"}


def test_unequivocally_up_is_not_equivocal() -> None:
    assert not rows("left plantar unequivocally up")
