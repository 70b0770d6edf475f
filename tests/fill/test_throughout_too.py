"""What was found in one limb, said of another in two words: all tests of that limb have it.

The talks are invented; which tests "throughout" stands for is the core list of the lexicon.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows

ARM = {
    "shoulder_abduction",
    "elbow_flexion",
    "elbow_extension",
    "wrist_extension",
    "finger_extension",
    "finger_flexion",
    "finger_abduction",
}
LEG = {
    "hip_flexion",
    "hip_extension",
    "knee_extension",
    "knee_flexion",
    "ankle_dorsiflexion",
    "ankle_plantarflexion",
    "great_toe_extension",
}


def of_limb(tests: set[str], value: str, *sides: str) -> set[tuple[str, str, str | None]]:
    return {(test, side, value) for test in tests for side in sides}


@pytest.mark.parametrize(
    ("talk", "wanted"),
    [
        (
            "the left leg is four throughout and so is the left arm",
            of_limb(LEG, "4", "left") | of_limb(ARM, "4", "left"),
        ),
        (
            "right arm full throughout and so is the right leg",
            of_limb(ARM, "normal", "right") | of_limb(LEG, "normal", "right"),
        ),
        (
            "both arms five throughout. both legs the same",
            of_limb(ARM, "5", "left", "right") | of_limb(LEG, "5", "left", "right"),
        ),
        ("the left leg is five minus throughout and so is the right", of_limb(LEG, "5-", "left", "right")),
        ("right arm four plus throughout, right leg ditto", of_limb(ARM, "4+", "right") | of_limb(LEG, "4+", "right")),
        (
            "left leg five throughout and so is hip abduction",
            of_limb(LEG, "5", "left") | {("hip_abduction", "left", "5")},
        ),
        (
            "left leg five throughout. left elbow flexion four",
            of_limb(LEG, "5", "left") | {("elbow_flexion", "left", "4")},
        ),
    ],
)
def test_throughout_is_said_of_another_limb_or_side(talk: str, wanted: set[tuple[str, str, str | None]]) -> None:
    assert {(row.manoeuvre, row.side.value, row.value) for row in rows(talk)} == wanted
