"""The lexicon against the outside: published tables and what any examiner would say. Each check names its source."""

from __future__ import annotations

import pytest

from pipeline.lexicon import load
from pipeline.lexicon.model import RootSupply

LEXICON = load()
MANOEUVRES = {entry.id: entry for entry in LEXICON.manoeuvres}
MUSCLES = {entry.id: entry for entry in LEXICON.muscles}
SCALES = {entry.id: entry for entry in LEXICON.scales}


def roots(supply: list[RootSupply]) -> set[str]:
    return {root.root for root in supply}


def main(supply: list[RootSupply]) -> set[str]:
    return {root.root for root in supply if root.main}


# Source: International Standards for Neurological Classification of Spinal Cord Injury (ISNCSCI), the ten key muscles.
KEY_MUSCLES = {
    "elbow_flexion": "C5",
    "wrist_extension": "C6",
    "elbow_extension": "C7",
    "finger_flexion": "C8",
    "finger_abduction": "T1",
    "hip_flexion": "L2",
    "knee_extension": "L3",
    "ankle_dorsiflexion": "L4",
    "great_toe_extension": "L5",
    "ankle_plantarflexion": "S1",
}


@pytest.mark.parametrize(("manoeuvre", "root"), KEY_MUSCLES.items())
def test_a_key_muscle_has_its_root_as_a_main_one(manoeuvre: str, root: str) -> None:
    assert root in main(MANOEUVRES[manoeuvre].roots)
    assert root in set().union(*(main(muscle.roots) for muscle in LEXICON.muscles if muscle.manoeuvre == manoeuvre))


# Source: Harrison's, table Lumbosacral Radiculopathy: Neurologic Features (muscles by root).
HARRISON = {
    "iliopsoas": {"L2", "L3"},
    "quadriceps": {"L3", "L4"},
    "adductors": {"L3", "L4"},
    "peronei": {"L5"},
    "tibialis_anterior": {"L5"},
    "gluteus_medius": {"L5"},
    "extensor_hallucis_longus": {"L5"},
    "gastrocnemius": {"S1"},
    "toe_flexors": {"S1"},
    "gluteus_maximus": {"S1"},
}


@pytest.mark.parametrize(("muscle", "expected"), HARRISON.items())
def test_muscles_by_root_in_a_textbook_table(muscle: str, expected: set[str]) -> None:
    assert expected <= roots(MUSCLES[muscle].roots)


# Source: MSD Manual (professional), How to Assess Reflexes.
REFLEX_ROOTS = {
    "biceps_jerk": {"C5", "C6"},
    "brachioradialis_jerk": {"C6"},
    "triceps_jerk": {"C7"},
    "finger_jerk": {"C8"},
    "knee_jerk": {"L4"},
    "ankle_jerk": {"S1"},
}


@pytest.mark.parametrize(("reflex", "expected"), REFLEX_ROOTS.items())
def test_reflexes_by_root_in_a_textbook(reflex: str, expected: set[str]) -> None:
    assert expected <= roots(MANOEUVRES[reflex].roots)


# Source: Neuroanatomy: Draw It to Know It, lumbosacral plexus (nerves of the leg); WikiCNS, Peripheral nerve
# innervation of lower extremity (thigh); To the Bedside, Peripheral nerve exam: upper extremities (arm).
NERVES = {
    "iliopsoas": "femoral",
    "quadriceps": "femoral",
    "adductors": "obturator",
    "gluteus_medius": "superior_gluteal",
    "gluteus_maximus": "inferior_gluteal",
    "hamstrings": "sciatic",
    "tibialis_anterior": "deep_peroneal",
    "extensor_hallucis_longus": "deep_peroneal",
    "peronei": "superficial_peroneal",
    "tibialis_posterior": "tibial",
    "gastrocnemius": "tibial",
    "infraspinatus": "suprascapular",
    "biceps": "musculocutaneous",
    "triceps": "radial",
    "interossei": "ulnar",
    "abductor_pollicis_brevis": "median",
}


@pytest.mark.parametrize(("muscle", "nerve"), NERVES.items())
def test_muscles_have_their_nerve(muscle: str, nerve: str) -> None:
    assert MUSCLES[muscle].nerve == nerve


# What any examiner would say of a movement: common practice, no source.
@pytest.mark.parametrize(
    ("muscle", "movement", "supply", "mainly"),
    [
        ("iliopsoas", "hip_flexion", {"L2", "L3"}, {"L2"}),
        ("quadriceps", "knee_extension", {"L3", "L4"}, {"L3", "L4"}),
        ("tibialis_anterior", "ankle_dorsiflexion", {"L4", "L5"}, {"L4", "L5"}),
        ("extensor_hallucis_longus", "great_toe_extension", {"L5"}, {"L5"}),
        ("gastrocnemius", "ankle_plantarflexion", {"S1", "S2"}, {"S1"}),
        ("hamstrings", "knee_flexion", {"L5", "S1"}, {"S1"}),
        ("gluteus_maximus", "hip_extension", {"L5", "S1"}, {"S1"}),
        ("deltoid", "shoulder_abduction", {"C5"}, {"C5"}),
        ("triceps", "elbow_extension", {"C7"}, {"C7"}),
    ],
)
def test_common_practice(muscle: str, movement: str, supply: set[str], mainly: set[str]) -> None:
    assert MUSCLES[muscle].manoeuvre == movement
    assert supply <= roots(MUSCLES[muscle].roots) and supply <= roots(MANOEUVRES[movement].roots)
    assert mainly <= main(MUSCLES[muscle].roots)


def test_sources_that_disagree_are_both_kept() -> None:
    # ISNCSCI gives ankle dorsiflexion to L4, Harrison's gives tibialis anterior to L5.
    by_root = {root.root: root.source for root in MUSCLES["tibialis_anterior"].roots}
    assert "ISNCSCI" in by_root["L4"] and "Harrison" in by_root["L5"]


# Source: Spine Secrets, "What are nerve root tension signs": straight leg raise L5 and S1, femoral stretch L2, L3, L4.
def test_nerve_tension_roots() -> None:
    assert main(MANOEUVRES["straight_leg_raise"].roots) == {"L5", "S1"}
    assert roots(MANOEUVRES["femoral_stretch"].roots) == {"L2", "L3", "L4"}


def say(scale: str, value: str) -> list[str]:
    return next(entry.say for entry in SCALES[scale].values if entry.value == value)


def test_power_grades() -> None:
    # Source: Medical Research Council, Memorandum 45 (1976): 0 no contraction, 1 flicker or trace, 2 gravity
    # eliminated, 3 against gravity, 5 normal power. The plus and minus grades: the record contract.
    values = [entry.value for entry in SCALES["mrc"].values]
    assert values[:13] == ["0", "1", "2-", "2", "2+", "3-", "3", "3+", "4-", "4", "4+", "5-", "5"]
    assert "no contraction" in say("mrc", "0")
    assert {"flicker", "trace"} <= set(say("mrc", "1"))
    assert "gravity eliminated" in say("mrc", "2")
    assert any("against gravity" in words for words in say("mrc", "3"))
    assert [entry.value for entry in SCALES["mrc"].values if entry.normal] == ["5", "normal"]


def test_reflex_grades() -> None:
    # Source: New York University neurosurgery modules, Reflexes: 0 no response, 1+ diminished, 2+ normal, 3+ brisker,
    # 4+ very brisk with clonus.
    assert [entry.value for entry in SCALES["reflex"].values][:5] == ["0", "1+", "2+", "3+", "4+"]
    assert "no response" in say("reflex", "0") and "diminished" in say("reflex", "reduced")
    assert [entry.value for entry in SCALES["reflex"].values if entry.normal] == ["2+", "normal"]


def test_modified_ashworth_grades() -> None:
    # Source: Bohannon and Smith 1987, as given in StatPearls, Modified Ashworth scale: 0, 1, 1+, 2, 3, 4.
    grades = [entry.value for entry in SCALES["tone"].values if entry.value.startswith("MAS")]
    assert grades == [f"MAS {grade}" for grade in ("0", "1", "1+", "2", "3", "4")]


def test_dermatomes() -> None:
    # Source: ISNCSCI key sensory points, C2 to S4-5 (June 2008 edition).
    points = {entry.id: entry.key_point for entry in LEXICON.dermatomes}
    wanted = [f"C{n}" for n in range(2, 9)] + [f"T{n}" for n in range(1, 13)]
    wanted += [f"L{n}" for n in range(1, 6)] + [f"S{n}" for n in range(1, 6)] + ["S4-5"]
    assert list(points) == wanted
    landmarks = {"C6": "thumb", "C7": "middle finger", "C8": "little finger", "T4": "nipples", "T10": "umbilicus"}
    landmarks |= {
        "L3": "medial femoral condyle",
        "L4": "medial malleolus",
        "L5": "dorsum of the foot",
        "S1": "lateral heel",
    }
    landmarks |= {"S2": "popliteal fossa", "S3": "ischial tuberosity", "S4-5": "perianal"}
    assert all(landmark in points[level] for level, landmark in landmarks.items())


def test_every_fact_has_a_source() -> None:
    entries = [
        *LEXICON.manoeuvres,
        *LEXICON.muscles,
        *LEXICON.nerves,
        *LEXICON.sites,
        *LEXICON.dermatomes,
        *LEXICON.scales,
    ]
    supplies = [root for entry in [*LEXICON.manoeuvres, *LEXICON.muscles] for root in entry.roots]
    assert all(entry.source.strip() for entry in [*entries, *supplies, *LEXICON.pronunciations, *LEXICON.confusions])
