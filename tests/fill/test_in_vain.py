"""Tests that were named or asked for and came to nothing are kept with their words, once each, for a person to clear.

The talks are invented; common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import analysis


@pytest.mark.parametrize(
    ("talk", "parts"),
    [
        (  # what the examiner said of it was not understood
            "right leg. hip flexion five. lift your toes up to me. rubble. left leg. hip flexion five",
            ["lift your toes up to me."],
        ),
        ("both plantars flexor. finger nose I shall leave that one", ["finger nose I shall leave that one"]),
        ("tone normal in both arms. romberg I show on it. gait normal", ["romberg I show on it."]),
        (  # on the other side alone
            "right leg. kick out straight, good. left leg. kick out straight. there. bend your knee, four",
            ["kick out straight."],
        ),
        (
            "hip extension on the right five. hip extension on the left I stopped",
            ["hip extension on the left I stopped"],
        ),
        ("is there any wasting? now, not in either leg. tone normal in both legs", ["wasting?"]),
        ("left leg wasting. right leg none. tone normal in both legs", ["wasting."]),
        ("left knee jerk right two plus. plantars flexor on both sides", ["knee jerk right two plus."]),
        (  # once for each limb, whatever came to nothing on the other one
            "right leg. knee up, five. kick out, there. left leg. knee up, good. kick out, there",
            ["kick out, there.", "kick out, there"],
        ),
        # once for each test
        ("knee jerks two plus. romberg well now. and romberg, well. gait normal", ["romberg well now."]),
    ],
)
def test_what_came_to_nothing_is_unplaced(talk: str, parts: list[str]) -> None:
    record = analysis(talk).record
    left = [one.text for one in record.unplaced if one.reason.endswith("no result for it was understood")]
    assert left == parts
    assert record.rows


@pytest.mark.parametrize(
    "talk",
    [
        "right leg. bend your knee up. good. push down, four plus",  # a reaction is a result
        "foot up against my hand. dorsiflexion is four on the right",  # told after the order
        "knee jerks. right two plus. left three plus",
        "right leg. turn out eversion two left leg then hip flexion five",  # the side is of what comes
        "let the arm go floppy. let your legs hang loose. tone is normal in both legs",  # orders that ready
        "on the left hip flexion was painful so not tested",
        "power is five throughout in both legs apart from hip flexion which is four on the left",
        "if the romberg were positive I would think of the cord. gait normal",
        "the triceps jerk is C7 in anybody. gait normal",
        "she's woken up. gait normal",
    ],
)
def test_nothing_is_asked_about_what_has_a_result_or_wants_none(talk: str) -> None:
    assert not analysis(talk).record.unplaced


@pytest.mark.parametrize(
    ("talk", "parts"),
    [
        ("right leg. hip flexors five | clutch five | hamstrings four", ["clutch five"]),
        ("left arm. deltoid four. plumber four. triceps five", ["plumber four."]),
        ("left leg. hip flexion five, five. knee extension four", ["left leg. hip flexion five, five."]),
        ("right leg. inversion two. so forwards. | two as well. gait normal", ["so forwards. two"]),
        (
            "light touch normal at L4 on both sides. | hubbard normal at L4 on both sides",
            ["hubbard normal at L4 on both sides"],
        ),
    ],
)
def test_a_grade_that_says_nothing_new_may_be_of_something_else(talk: str, parts: list[str]) -> None:
    assert [one.text for one in analysis(talk).record.unplaced] == parts


@pytest.mark.parametrize(
    "talk",
    [
        "left leg. hip flexion two, two out of five",
        "left leg. hip flexion four. yes, four. knee extension five",
        "hip flexion five on the right, five on the left",
        "both legs. hip flexion five, five. knee extension four",
    ],
)
def test_a_grade_that_is_said_twice_asks_nothing(talk: str) -> None:
    assert not analysis(talk).record.unplaced


@pytest.mark.parametrize(
    ("talk", "parts"),
    [
        (
            "right arm. bend your elbow, good. do the up and down one, lovely. wrist back, good",
            ["do the up and down one, lovely."],
        ),
        ("right leg. knee up, good. heel back to your bottom, lovely. wasting none on the right", []),
        ("right leg. knee up, good. good girl. lovely. foot up, four", []),
        ("right leg. knee up, good. how are you up there? foot up, four. lovely", []),
        ("gait normal. sit up on the couch for me, lovely. knee jerks two plus both sides", []),
    ],
)
def test_a_movement_that_was_praised_among_others_and_not_understood(talk: str, parts: list[str]) -> None:
    assert [one.text for one in analysis(talk).record.unplaced] == parts
