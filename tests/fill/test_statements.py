"""Single statements in many forms, as written and without punctuation, as some recognisers write them.

`statements/forms.txt` has statements with blanks, which are filled in at random (seeded); the other files hold
statements that were written without sight of the program. The floors are a little below what was measured.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.understand.talks import rows

FOLDER = Path(__file__).with_name("statements")
FILLS = 3
LEG = {
    "hip flexion": "hip_flexion", "knee extension": "knee_extension", "quads": "knee_extension",
    "hamstrings": "knee_flexion", "ankle dorsiflexion": "ankle_dorsiflexion", "tib ant": "ankle_dorsiflexion",
    "plantarflexion": "ankle_plantarflexion", "EHL": "great_toe_extension", "foot eversion": "ankle_eversion",
    "hip abduction": "hip_abduction",
}  # fmt: skip
ARM = {
    "shoulder abduction": "shoulder_abduction", "elbow flexion": "elbow_flexion", "elbow extension": "elbow_extension",
    "wrist extension": "wrist_extension", "finger abduction": "finger_abduction", "grip": "grip",
    "finger extension": "finger_extension", "thumb abduction": "thumb_abduction",
}  # fmt: skip
JERKS = {
    "knee jerk": "knee_jerk", "ankle jerk": "ankle_jerk", "biceps jerk": "biceps_jerk", "triceps jerk": "triceps_jerk",
    "supinator jerk": "brachioradialis_jerk",
}  # fmt: skip
STRENGTH = {
    "three": "3", "four": "4", "five": "5", "four plus": "4+", "four minus": "4-", "two": "2", "three plus": "3+",
    "five minus": "5-",
}  # fmt: skip
BRISKNESS = {
    "two plus": "2+", "one plus": "1+", "absent": "0", "brisk": "brisk", "three plus": "3+", "reduced": "reduced",
}  # fmt: skip
FELT = {"reduced": "reduced", "normal": "normal", "absent": "absent", "altered": "altered"}
MODALITIES = {"light touch": "light_touch", "pinprick": "pinprick", "temperature": "temperature"}
ROOTS = (["L2", "L3", "L4", "L5", "S1", "S2"], ["C5", "C6", "C7", "C8", "T1"])


@dataclass(frozen=True)
class Outcome:
    """What a statement gave: whether just its rows, the wrong rows that nobody is asked about, and how many rows."""

    right: bool
    silent: list[str]
    count: int


def read(name: str) -> Iterator[tuple[str, str, str]]:
    """(section, statement, rows) of each line."""
    section = ""
    for line in (FOLDER / name).read_text(encoding="utf-8").splitlines():
        if line.startswith("["):
            section = line.strip("[]")
        elif " => " in line and not line.startswith("#"):
            statement, _, wanted = line.rpartition(" => ")
            yield section, statement, wanted


def filled(section: str, statement: str, wanted: str, rng: random.Random) -> tuple[str, str]:
    """The statement and its rows with the blanks filled in."""
    side, other = rng.sample(["left", "right"], 2)
    said = {"s": side, "o": other, "S": side.capitalize(), "O": other.capitalize()}
    meant = dict(said)
    if section in ("movements", "reflexes"):
        tests = JERKS if section == "reflexes" else rng.choice([LEG, ARM])
        values = BRISKNESS if section == "reflexes" else STRENGTH
        names = rng.sample(sorted(tests), 2)
        while tests[names[0]] == tests[names[1]]:
            names = rng.sample(sorted(tests), 2)
        grades = dict(zip("abcd", rng.sample(sorted(values), 4), strict=True))
        said |= {"X": names[0], "Y": names[1], "L": "leg" if tests is LEG else "arm", **grades}
        meant |= {"X": tests[names[0]], "Y": tests[names[1]]} | {key: values[grade] for key, grade in grades.items()}
    elif section == "sensation":
        modality = rng.choice(sorted(MODALITIES))
        findings = dict(zip("vw", rng.sample(sorted(FELT), 2), strict=True))
        places = dict(zip("pq", rng.sample(rng.choice(ROOTS), 2), strict=True))
        said |= {"M": modality, **findings, **places}
        meant |= {"M": MODALITIES[modality], **places} | {key: FELT[one] for key, one in findings.items()}
    text = statement.format(**said)
    return text[0].upper() + text[1:], wanted.format(**meant)


def outcome(statement: str, wanted: str) -> Outcome:
    expected = set() if wanted == "-" else set(wanted.split("; "))
    found: dict[str, bool] = {}
    for row in rows(statement):
        test = f"{row.manoeuvre}@{row.site}" if row.site else row.manoeuvre
        value = row.value or f"!{row.reason}"
        unsaid = f"unsaid {test} {value}"
        known = "side_unsaid" in row.flags and unsaid in expected
        found[unsaid if known else f"{row.side.value} {test} {value}"] = row.confirm
    silent = [row for row, confirm in found.items() if row not in expected and not confirm]
    return Outcome(set(found) == expected, silent, len(found))


def bare(statement: str) -> str:
    return re.sub(r"[.,:;?!\"]", "", statement).lower()


FORMS = [
    filled(section, statement, wanted, random.Random(f"{number} {place}"))
    for number in range(FILLS)
    for place, (section, statement, wanted) in enumerate(read("forms.txt"))
]


def test_no_form_of_a_statement_is_misread_in_silence() -> None:
    told = {statement: outcome(statement, wanted) for statement, wanted in FORMS}
    silent = {statement: one.silent for statement, one in told.items() if one.silent}
    assert not silent
    assert sum(one.right for one in told.values()) >= 0.93 * len(told)


def test_forms_without_punctuation_are_hardly_ever_misread_in_silence() -> None:
    told = {statement: outcome(bare(statement), wanted) for statement, wanted in FORMS}
    silent = {statement: one.silent for statement, one in told.items() if one.silent}
    assert len(silent) <= 0.02 * len(told), silent
    assert sum(one.right for one in told.values()) >= 0.91 * len(told)


@pytest.mark.parametrize(("name", "right", "silent"), [("composed", 0.68, 8), ("beside", 0.8, 4), ("common", 0.88, 5)])
def test_statements_that_were_written_by_others(name: str, right: float, silent: int) -> None:
    """`right`: least share that gives just its rows; `silent`: most rows that are wrong in silence."""
    told = {statement: outcome(statement, wanted) for _, statement, wanted in read(f"{name}.txt")}
    wrong = {statement: one.silent for statement, one in told.items() if one.silent}
    assert len(told) >= 200
    assert sum(map(len, wrong.values())) <= silent, wrong
    assert sum(one.right for one in told.values()) >= right * len(told)
