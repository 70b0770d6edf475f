"""Every output of a kept examination: an unsigned draft until it is signed, then with the signer's name."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from pipeline.record.store import Store
from tests.cli.running import run

Capture = pytest.CaptureFixture[str]

TALK = """Power in the right leg. Hip flexion five. Tibialis anterior four minus, L5. The left leg has full power
throughout. Both knee jerks are two plus. The left ankle jerk is absent. The right plantar is down going."""
DRAFT = "UNSIGNED DRAFT"


@pytest.fixture
def kept(tmp_path: Path, capsys: Capture) -> str:
    """The id of an examination, kept as a user keeps it."""
    talk = tmp_path / "talk.txt"
    talk.write_text(TALK, encoding="utf-8")
    ran = run(capsys, "record", "add", talk, "--title", "Invented patient A", "--speaker", "Dr Ada")
    assert ran.code == 0, ran.err
    return ran.out.strip()


def sign(store: Store, exam_id: str) -> None:
    for item in store.exam(exam_id).open_items:
        store.confirm(exam_id, item.id, who="Dr Ben", seen=store.exam(exam_id).revision)
    seen = store.exam(exam_id).revision
    store.sign(exam_id, name="Dr Ben", role="Neurologist", statement="I found this.", seen=seen)


def bundle(capsys: Capture, exam_id: str) -> dict[str, list[dict[str, object]]]:
    """The resources of the FHIR bundle, by type."""
    found: dict[str, list[dict[str, object]]] = {}
    for entry in json.loads(run(capsys, "bundle", exam_id).out)["entry"]:
        found.setdefault(entry["resource"]["resourceType"], []).append(entry["resource"])
    return found


def test_a_note_and_a_bundle_say_who_signed(store: Store, kept: str, capsys: Capture) -> None:
    draft = run(capsys, "note", kept).out
    assert DRAFT in draft and "Signed by" not in draft and kept in draft and "Dr Ada" in draft
    unsigned = bundle(capsys, kept)
    assert unsigned["Composition"][0]["status"] == "preliminary"
    assert {one["status"] for one in unsigned["Observation"]} == {"preliminary"}
    assert "Practitioner" not in unsigned

    sign(store, kept)
    head = store.exam(kept).head
    note = run(capsys, "note", kept).out
    assert DRAFT not in note and "Signed by Dr Ben, Neurologist" in note and "I found this." in note and head in note
    signed = bundle(capsys, kept)
    assert signed["Composition"][0]["status"] == "final"
    assert {one["status"] for one in signed["Observation"]} == {"final"}
    (signer,) = signed["Practitioner"]
    assert signer["name"] == [{"text": "Dr Ben"}] and "Neurologist" in json.dumps(signer)
    assert head in json.dumps(signed["Provenance"])


def test_every_output_takes_the_id_of_a_kept_examination(
    store: Store, kept: str, tmp_path: Path, capsys: Capture
) -> None:
    sign(store, kept)
    rows = list(csv.DictReader(run(capsys, "table", kept).out.splitlines()))
    assert {row["signed"] for row in rows} == {"true"} and {row["exam"] for row in rows} == {kept}
    assert "4-" in {row["value"] for row in rows if row["manoeuvre"] == "ankle_dorsiflexion"}
    assert run(capsys, "scores", kept).out.startswith("# Scores")
    assert "ankle dorsiflexion 4-" in run(capsys, "supply", kept).out
    for form in ("docx", "pdf"):
        assert run(capsys, "note", kept, "--format", form, "-o", tmp_path / f"note.{form}").code == 0
        assert (tmp_path / f"note.{form}").stat().st_mode & 0o777 == 0o600
    assert run(capsys, "teach", kept, "-o", tmp_path / "session").code == 0
    assert "Tibialis anterior four minus" in (tmp_path / "session" / "transcript.md").read_text(encoding="utf-8")


def test_a_kept_examination_is_compared_with_a_file(store: Store, kept: str, tmp_path: Path, capsys: Capture) -> None:
    later = tmp_path / "later.txt"
    later.write_text("Right leg. Hip flexion five. Tibialis anterior five.", encoding="utf-8")
    sign(store, kept)
    shown = run(capsys, "compare", kept, later).out
    assert "Ankle dorsiflexion, right 4- to 5" in shown and "Not all of them are signed" in shown


def test_examinations_of_one_day_are_told_apart(store: Store, kept: str, capsys: Capture) -> None:
    sign(store, kept)
    day = store.exam(kept).created[:10]
    again = store.add(store.export_record(kept), title="Invented patient A")
    shown = run(capsys, "compare", kept, again).out
    if store.exam(again).created[:10] == day:  # not over midnight
        assert f"From {day} (1) to {day} (2)" in shown


def test_what_a_reviewer_rejected_is_in_no_output(store: Store, kept: str, capsys: Capture) -> None:
    assert "plantar response" in run(capsys, "note", kept).out.lower()
    (row,) = [item for item in store.exam(kept).rows if item.row.manoeuvre == "plantar_response"]
    store.reject(kept, row.id, who="Dr Ben", seen=1)
    assert "plantar response" not in run(capsys, "note", kept).out.lower()
    assert "plantar_response" not in run(capsys, "table", kept).out
