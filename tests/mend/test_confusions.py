"""Terms whose swap reverses a finding: where the sound may be either, the row is never silent."""

from __future__ import annotations

import pytest

from pipeline.lexicon import load
from tests.understand.talks import rows

OPPOSITE = {entry.id: entry.opposite for entry in load().manoeuvres if entry.opposite}

AMBIGUOUS = [
    "left hip a b duction four",
    "left hip ad duction four",
    "left hip ab duction four",
    "left hip a duction four",
    "left hip introduction four",
    "left hip induction four",
    "left hip production four",
    "left hip deduction four",
    "left hip abductions four",
    "right in version four",
    "right in virgin four",
    "right aversion four",
    "right a version four",
    "right conversion four",
    "right even version four",
    "right diversion four",
    "right version four",
    "right he version four",
    "right ankle in version four",
    "right ankle a version four",
    "right in verters four",
    "right a vectors four",
    "right a ductors four",
    "right hip doctors four",
    "right hip a doctors four",
    "right hip a doctor four",
    "left knee flex tension four",
]

CLEAR = [
    ("left hip abduction four", "hip_abduction"),
    ("left hip adduction four", "hip_adduction"),
    ("left hip abductors four", "hip_abduction"),
    ("left hip adductors four", "hip_adduction"),
    ("left shoulder abduction four", "shoulder_abduction"),
    ("left shoulder adduction four", "shoulder_adduction"),
    ("right ankle inversion four", "ankle_inversion"),
    ("right ankle eversion four", "ankle_eversion"),
    ("right invertors four", "ankle_inversion"),
    ("right evertors four", "ankle_eversion"),
]


@pytest.mark.parametrize("talk", AMBIGUOUS)
def test_an_ambiguous_sound_is_put_to_a_person(talk: str) -> None:
    found = [row for row in rows(talk) if row.manoeuvre in OPPOSITE]
    assert found
    assert all(row.confirm for row in found), [(row.manoeuvre, row.confidence, row.flags) for row in found]


@pytest.mark.parametrize("talk", ["right aversion four", "left hip a duction four", "right in version four"])
def test_the_other_reading_is_offered(talk: str) -> None:
    (row,) = rows(talk)
    assert OPPOSITE[row.manoeuvre] in {other.value for other in row.alternatives if other.slot == "manoeuvre"}


@pytest.mark.parametrize(("talk", "manoeuvre"), CLEAR)
def test_a_term_heard_as_written_needs_nobody(talk: str, manoeuvre: str) -> None:
    (row,) = rows(talk)
    assert row.manoeuvre == manoeuvre and not row.confirm
