"""Loading: complete, consistent, and one clear line for whatever is wrong with a file."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from pathlib import Path

import pytest

from pipeline.lexicon import LexiconError, load
from pipeline.lexicon.load import default_folder
from pipeline.lexicon.show import check, describe

# Source: the record contract, "Identifiers and values".
POWER = tuple("0 1 2- 2 2+ 3- 3 3+ 4- 4 4+ 5- 5 normal reduced".split())
REFLEX = tuple("0 1+ 2+ 3+ 4+ reduced normal brisk".split())
SENSATION = ("normal", "reduced", "absent", "increased", "altered")
CONTRACT: dict[str, Sequence[str]] = {
    **dict.fromkeys(
        "hip_flexion hip_extension hip_abduction hip_adduction knee_extension knee_flexion ankle_dorsiflexion "
        "ankle_plantarflexion ankle_inversion ankle_eversion great_toe_extension toe_flexion shoulder_abduction "
        "shoulder_adduction shoulder_external_rotation elbow_flexion elbow_extension wrist_extension wrist_flexion "
        "finger_extension finger_flexion finger_abduction thumb_abduction grip".split(),
        POWER,
    ),
    **dict.fromkeys(
        "knee_jerk ankle_jerk adductor_jerk biceps_jerk brachioradialis_jerk triceps_jerk finger_jerk".split(), REFLEX
    ),
    "plantar_response": ["flexor", "extensor", "equivocal", "mute"],
    "hoffmann_sign": ["absent", "present"],
    **dict.fromkeys(["ankle_clonus", "patellar_clonus"], ("absent", "sustained", "present")),
    **dict.fromkeys("wasting fasciculation abnormal_posture involuntary_movement".split(), ("absent", "present")),
    "tone": ["normal", "increased", "reduced", "MAS 1+"],
    "pendular_swing": ["normal", "increased"],
    **dict.fromkeys("light_touch pinprick temperature vibration joint_position".split(), SENSATION),
    **dict.fromkeys("heel_shin finger_nose rapid_alternating".split(), ("normal", "impaired")),
    "romberg": ["negative", "positive"],
    **dict.fromkeys(["straight_leg_raise", "femoral_stretch"], ("negative", "positive")),
    **dict.fromkeys("gait tandem_gait heel_walk toe_walk".split(), ("normal", "impaired")),
    "anal_tone": ["normal", "reduced", "absent"],
}
CORE = set(
    "hip_flexion hip_extension knee_extension knee_flexion ankle_dorsiflexion ankle_plantarflexion great_toe_extension "
    "shoulder_abduction elbow_flexion elbow_extension wrist_extension finger_extension finger_flexion "
    "finger_abduction".split()
)
LEXICON = load()
MANOEUVRES = {entry.id: entry for entry in LEXICON.manoeuvres}
VALUES = {scale.id: [value.value for value in scale.values] for scale in LEXICON.scales}


@pytest.mark.parametrize(("identifier", "values"), CONTRACT.items())
def test_every_identifier_of_the_contract_has_its_values(identifier: str, values: Sequence[str]) -> None:
    assert set(values) <= set(VALUES[MANOEUVRES[identifier].scale])


def test_the_scales_have_no_values_beyond_the_contract() -> None:
    known = {value for values in CONTRACT.values() for value in values} | {f"MAS {grade}" for grade in "01234"}
    assert {value for values in VALUES.values() for value in values} <= known


def test_the_core_of_power() -> None:
    assert {entry.id for entry in LEXICON.manoeuvres if entry.section == "power" and entry.core} == CORE


def test_sides_and_sites() -> None:
    midline = {entry.id for entry in LEXICON.manoeuvres if entry.sides == "midline"}
    assert midline == {"gait", "tandem_gait", "romberg", "anal_tone"}
    assert {entry.id for entry in LEXICON.manoeuvres if entry.sides == "as_said"} == {"heel_walk", "toe_walk"}
    assert {entry.id for entry in LEXICON.manoeuvres if entry.sites == "joint"} == {"vibration", "joint_position"}
    joints = {"great_toe", "ankle", "knee", "finger", "wrist", "elbow", "leg", "arm"}
    assert {site.id for site in LEXICON.sites} == joints


def test_opposites_go_both_ways() -> None:
    for entry in LEXICON.manoeuvres:
        if entry.opposite and entry.id != "toe_extension":
            assert MANOEUVRES[entry.opposite].opposite == entry.id


@pytest.mark.parametrize(
    ("name", "identifier"),
    [
        ("flexion of the hip", "hip_flexion"),
        ("dorsiflexion of the foot", "ankle_dorsiflexion"),
        ("plantar flexion", "ankle_plantarflexion"),
        ("big toe extension", "great_toe_extension"),
        ("achilles reflex", "ankle_jerk"),
        ("supinator jerk", "brachioradialis_jerk"),
        ("heel to shin", "heel_shin"),
        ("proprioception", "joint_position"),
    ],
)
def test_usual_names_lead_to_the_manoeuvre(name: str, identifier: str) -> None:
    assert [entry.id for entry in LEXICON.manoeuvres if name in entry.names] == [identifier]


def test_the_built_in_lexicon_is_in_order() -> None:
    assert check() == []


def test_no_value_word_means_two_values_of_one_scale() -> None:
    for scale in LEXICON.scales:
        words = [word for value in scale.values for word in value.say]
        assert len(words) == len(set(words)), scale.id


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for file in default_folder().glob("*.yaml"):
        shutil.copy(file, tmp_path)
    return tmp_path


def problem(folder: Path) -> str:
    with pytest.raises(LexiconError) as caught:
        load(folder)
    message = str(caught.value)
    assert "\n" not in message and message == check(folder)[0]
    return message


def test_a_copied_folder_loads_like_the_built_in_one(folder: Path) -> None:
    assert load(folder) == LEXICON


def test_a_new_manoeuvre_is_data_only(folder: Path) -> None:
    (folder / "neck.yaml").write_text(
        "manoeuvres:\n- {id: neck_flexion, region: trunk, section: power, scale: mrc, sides: midline,"
        " names: [neck flexion], method: lift the head, source: example}\n",
        encoding="utf-8",
    )
    assert "neck_flexion" in {entry.id for entry in load(folder).manoeuvres}


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("manoeuvres: [\n- id: x", ["broken.yaml, line 2", "not valid YAML"]),
        ("- just a list", ["broken.yaml", "not a mapping", "manoeuvres"]),
        ("manouvres: []", ["broken.yaml", "unknown field 'manouvres'", "known: manoeuvres"]),
        ("sites: [{id: hip, names: [hip], colour: red, source: x}]", ["broken.yaml", "sites 'hip'", "'colour'"]),
        ("sites: [{id: hip, names: [hip]}]", ["broken.yaml", "sites 'hip'", "source", "Field required"]),
        ("sites: [{id: hip, names: [no], source: x}]", ["broken.yaml", "sites 'hip'", "names.0", "valid string"]),
        ("sites: [{id: knee, names: [kneecap], source: x}]", ["sites", "'knee'", "already in", "rename"]),
        (
            "muscles: [{id: sartorius, names: [sartorius], manoeuvre: hip_bending, nerve: femoral,"
            " roots: [{root: L2, source: x}], source: x}]",
            ["broken.yaml", "sartorius", "unknown manoeuvre 'hip_bending'", "add the entry"],
        ),
        (
            "muscles: [{id: sartorius, names: [sartorius], manoeuvre: hip_flexion, nerve: femural,"
            " roots: [{root: L2, source: x}], source: x}]",
            ["broken.yaml", "sartorius", "unknown nerve 'femural'"],
        ),
        (
            "manoeuvres: [{id: neck_flexion, region: trunk, section: power, scale: mcr, names: [neck flexion],"
            " method: x, source: x}]",
            ["broken.yaml", "neck_flexion", "unknown scale 'mcr'"],
        ),
        (
            "manoeuvres: [{id: chorea, region: whole, section: inspection, scale: presence, names: [chorea],"
            " findings: [choreiform], method: x, source: x}]",
            ["chorea", "the finding 'choreiform' is none of its names"],
        ),
    ],
)
def test_a_broken_file_gives_one_clear_line(folder: Path, text: str, parts: list[str]) -> None:
    (folder / "broken.yaml").write_text(text, encoding="utf-8")
    message = problem(folder)
    assert all(part in message for part in parts), message


def test_an_entry_twice_in_one_file(folder: Path) -> None:
    (folder / "broken.yaml").write_text(
        "nerves: [{id: phrenic, names: [phrenic], source: x}, {id: phrenic, names: [phrenic nerve], source: x}]",
        encoding="utf-8",
    )
    assert "broken.yaml: nerves: 'phrenic' is already in broken.yaml" in problem(folder)


def test_bytes_that_are_no_text(folder: Path) -> None:
    (folder / "broken.yaml").write_bytes(b"\xff\xfe\x00nerves")
    assert "broken.yaml: cannot be read" in problem(folder)


def test_an_empty_folder(tmp_path: Path) -> None:
    assert "no .yaml files" in problem(tmp_path)


def test_check_finds_a_name_that_two_entries_share_and_a_phoneme_that_is_none(folder: Path) -> None:
    (folder / "extra.yaml").write_text(
        "manoeuvres:\n- {id: squeeze, region: upper_limb, section: power, scale: mrc, names: [grip strength],"
        " method: x, source: x}\npronunciations: [{word: sartorius, say: [S AA1 R], source: x}]\n",
        encoding="utf-8",
    )
    problems = check(folder)
    assert len(problems) == 2
    assert "'grip strength' names" in problems[0] and "squeeze" in problems[0]
    assert "'sartorius': unknown phoneme 'AA1'" in problems[1]


def test_describe_shows_what_is_known() -> None:
    text = describe(LEXICON, "EHL")
    assert all(part in text for part in ("extensor_hallucis_longus", "root L5 (main)", "ISNCSCI", "deep_peroneal"))
    assert "muscles: tibialis_anterior" in describe(LEXICON, "ankle_dorsiflexion")
    assert "MAS 1+" in describe(LEXICON, "Tone")


def test_describe_of_an_unknown_name_offers_near_ones() -> None:
    with pytest.raises(LexiconError, match=r"did you mean: .*tibialis anterior"):
        describe(LEXICON, "tibialus anterior")
