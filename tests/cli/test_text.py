"""The table to read at a glance says everything that the record holds, in 80 columns."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.export.text import exam_text
from pipeline.export.wording import FLAGS
from pipeline.lexicon import load
from pipeline.record.model import Basis, Evidence, ExamRecord, Reason, Row, Side, Status, Unheard, Unplaced

LEXICON = load()


def row(manoeuvre: str, side: str, value: str | None, *flags: str, at: float = 62.4, **others: object) -> Row:
    evidence = [Evidence(start=at, end=at + 2, heard="as heard", mended="as mended")]
    fields = {"manoeuvre": manoeuvre, "side": side, "value": value, "flags": list(flags), "evidence": evidence}
    return Row.model_validate(fields | {"confirm": bool(flags)} | others)


EXAM = ExamRecord(
    rows=[
        row("gait", "midline", "impaired"),
        row("pinprick", "left", "reduced", site="L5"),
        row("plantar_response", "left", "extensor", "misheard_term", "listeners_disagree"),
        row("plantar_response", "right", "flexor", "misheard_term", at=70),
        row("ankle_dorsiflexion", "left", "4-", roots=["L4", "L5"]),
        row("knee_extension", "right", "normal", "inferred_normal", basis=Basis.INFERRED),
        row("knee_flexion", "right", "normal", "inferred_normal", basis=Basis.INFERRED),
        row("hip_flexion", "right", "5", "side_unsaid"),
        row("vibration", "left", None, site="great_toe", status=Status.NOT_EXAMINED, reason=Reason.DECLINED),
        row("wasting", "right", "absent", site="leg"),
        row("finger_nose", "right", "normal"),
    ],
    unplaced=[Unplaced(start=12, end=14, text="seven minus", reason="a grade without a manoeuvre")],
    unheard=[Unheard(start=75, end=80, reason="speech here gave no words")],
)


@pytest.fixture(scope="module")
def shown() -> str:
    return exam_text(EXAM, LEXICON, "talk.wav")


def test_what_is_to_be_done_stands_first(shown: str) -> None:
    assert shown.splitlines()[:2] == [
        "talk.wav: unsigned draft",
        "11 entries, 3 to confirm, 2 to confirm together, 2 to clear",
    ]


def test_sections_come_in_the_order_of_a_written_examination(shown: str) -> None:
    titles = re.findall(r"^(Inspection|Power|Reflexes|Sensation|Coordination|Gait)\b", shown, re.MULTILINE)
    assert titles == ["Inspection", "Power", "Reflexes", "Sensation", "Coordination", "Gait"]


def test_right_and_left_stand_side_by_side_with_what_was_said(shown: str) -> None:
    right, left = (shown.splitlines()[3].index(side) for side in ("Right", "Left"))
    plantar = next(line for line in shown.splitlines() if line.startswith("  Plantar response"))
    assert plantar[right:left].strip() == "flexor [2]" and plantar[left:] == "extensor * [2,3]"
    dorsiflexion = next(line for line in shown.splitlines() if line.startswith("  Ankle dorsiflexion"))
    assert dorsiflexion[right:left].strip() == "" and dorsiflexion[left:] == "4- * L4 L5"
    assert "  Gait: impaired *" in shown.splitlines()


def test_a_guessed_side_is_not_shown_as_a_known_one(shown: str) -> None:
    assert re.search(r"Hip flexion +5 side unsaid \[\d\]", shown)


def test_each_reason_is_told_once_with_all_its_entries(shown: str) -> None:
    for flag in ("misheard_term", "listeners_disagree", "side_unsaid"):
        assert shown.count(FLAGS[flag]) == 1
    listed = f" [2] {FLAGS['misheard_term']}\n     1:02 left: plantar response\n     1:10 right: plantar response\n"
    assert listed in shown


def test_inferred_normals_are_one_group(shown: str) -> None:
    assert "  right: knee extension, knee flexion\n" in shown
    assert re.search(r"Knee flexion +normal inferred\n", shown)


def test_what_is_not_there_is_told(shown: str) -> None:
    assert "the patient declined, left: vibration at the great toe" in shown
    missing = shown[shown.index("Never mentioned") : shown.index("To clear")]
    assert "lower limbs, right and left: hip extension, ankle plantarflexion" in " ".join(missing.split())
    assert "lower limbs, right: ankle dorsiflexion" in " ".join(missing.split())
    assert "upper limbs" not in missing
    assert '0:12-0:14 "seven minus": a grade without a manoeuvre' in shown
    assert "1:15-1:20 speech here gave no words" in shown


def test_an_empty_record_says_so() -> None:
    shown = exam_text(ExamRecord(), LEXICON)
    assert "No result for the patient was heard." in shown and "Never mentioned" not in shown


MANOEUVRES = [entry.id for entry in LEXICON.manoeuvres] + ["not_in_the_lexicon"]
ROWS = st.builds(
    lambda manoeuvre, side, site, value, flags, roots: row(manoeuvre, side, value, *flags, site=site, roots=roots),
    st.sampled_from(MANOEUVRES),
    st.sampled_from([side.value for side in Side]),
    st.sampled_from([None, "L5", "S4-5", "great_toe", "leg"]),
    st.sampled_from(["5", "4+", "reduced", "sustained", "120 degrees", "MAS 1+"]),
    st.lists(st.sampled_from([*FLAGS, "some_new_flag"]), unique=True, max_size=4),
    st.lists(st.sampled_from(["L2", "L3", "L4", "L5", "S1"]), unique=True),
)
RECORDS = st.builds(
    lambda rows, texts: ExamRecord(
        rows=rows, unplaced=[Unplaced(start=1, end=2, text=text, reason="no place") for text in texts]
    ),
    st.lists(ROWS, max_size=12),
    st.lists(st.text(max_size=200), max_size=3),
)


@settings(max_examples=40)
@given(RECORDS)
def test_any_record_fits_in_80_columns_and_colour_adds_no_meaning(record: ExamRecord) -> None:
    plain = exam_text(record, LEXICON)
    assert max(map(len, plain.split("\n"))) <= 80
    assert plain.isascii() or any(not entry.text.isascii() for entry in record.unplaced)
    assert all(letter.isprintable() or letter == "\n" for letter in plain)
    coloured = exam_text(record, LEXICON, colour=True)
    bare = re.sub(r"\x1b\[[0-9;]*m", "", coloured)
    assert [line.rstrip() for line in bare.split("\n")] == plain.split("\n")
    assert plain.count("120 degrees") == sum(entry.value == "120 degrees" for entry in record.rows)


def test_one_manoeuvre_with_and_without_a_side_loses_neither() -> None:
    record = ExamRecord(rows=[row("heel_walk", "left", "impaired"), row("heel_walk", "midline", "normal")])
    shown = exam_text(record, LEXICON)
    assert re.search(r"^  Heel walk +impaired \*$", shown, re.MULTILINE) and "\n  Heel walk: normal\n" in shown
