"""A mishearing that a reviewer put right is mended the next time the same speaker says it, and for nobody else."""

from __future__ import annotations

from pathlib import Path

import pytest

from pipeline.record.store import Store
from pipeline.record.views import ExamView, Item
from tests.cli.running import run

Capture = pytest.CaptureFixture[str]

TALK = "Power in the right leg. Hip flexion five. Tibia lease four plus. Knee extension five."
"""A recogniser's "tibia lease" is near enough to a muscle to be mended, and too far from it to pass unseen."""
ELSEWHERE = "Power in the left leg. Hip flexion five. Tibia lease three. Knee extension five."


def add(capsys: Capture, folder: Path, talk: str, speaker: str | None) -> str:
    path = folder / "talk.txt"
    path.write_text(talk, encoding="utf-8")
    named = ["--speaker", speaker] if speaker else []
    ran = run(capsys, "record", "add", path, "--title", "Invented patient A", *named)
    assert ran.code == 0 and "spoken-exam review" in ran.err
    return ran.out.strip()


def dorsiflexion(exam: ExamView) -> Item:
    (found,) = [item for item in exam.rows if item.row.manoeuvre == "ankle_dorsiflexion"]
    return found


def test_a_confirmed_mishearing_is_mended_next_time_for_that_speaker_alone(
    tmp_path: Path, store: Store, capsys: Capture
) -> None:
    first = add(capsys, tmp_path, TALK, "Dr Ada")
    doubted = dorsiflexion(store.exam(first))
    assert doubted.open and "misheard_term" in doubted.row.flags
    store.confirm(first, doubted.id, who="Dr Ada", seen=1)
    assert "Dr Ada: tibia lease -> tibialis ant (once)" in run(capsys, "lexicon", "learned").out

    item = dorsiflexion(store.exam(add(capsys, tmp_path, ELSEWHERE, "Dr Ada")))
    assert (item.row.side, item.row.value, item.row.flags, item.open) == ("left", "3", [], False)
    for other in ("Dr Ben", None):
        still = dorsiflexion(store.exam(add(capsys, tmp_path, TALK, other)))
        assert still.open and "misheard_term" in still.row.flags

    ran = run(capsys, "lexicon", "learned", "--speaker", "Dr Ada", "--forget", "Tibia lease")
    assert ran.code == 0 and run(capsys, "lexicon", "learned").out == "Nothing was learned yet.\n"
    assert "misheard_term" in dorsiflexion(store.exam(add(capsys, tmp_path, TALK, "Dr Ada"))).row.flags


def test_a_corrected_mishearing_becomes_what_the_reviewer_wrote(tmp_path: Path, store: Store, capsys: Capture) -> None:
    talk = "Power in the right leg. Hip flexion five. Tibia exterior four plus. Knee extension five."
    first = add(capsys, tmp_path, talk, "Dr Ada")
    wrong = dorsiflexion(store.exam(first))  # the nearest muscle, but she says that it was the other one
    written = {"manoeuvre": "ankle_inversion", "muscle": "tibialis_posterior"}
    store.edit(first, wrong.id, written, who="Dr Ada", seen=1)

    again = store.exam(add(capsys, tmp_path, talk, "Dr Ada"))
    assert again.open_items == []
    assert [(item.row.manoeuvre, item.row.value) for item in again.rows] == [
        ("hip_flexion", "5"),
        ("ankle_inversion", "4+"),
        ("knee_extension", "5"),
    ]
    assert dorsiflexion(store.exam(add(capsys, tmp_path, talk, "Dr Ben"))).row.muscle == "tibialis_anterior"


def test_a_doubt_between_opposite_movements_is_never_learned(tmp_path: Path, store: Store, capsys: Capture) -> None:
    talk = "Right leg. Hip flexion five. Hip abrasion four plus. Knee extension five."
    first = add(capsys, tmp_path, talk, "Dr Ada")
    (doubted,) = store.exam(first).open_items
    assert {one.value for one in doubted.row.alternatives} == {"hip_adduction"}
    store.confirm(first, doubted.id, who="Dr Ada", seen=1)
    assert store.learned() == []
    assert [item.row.flags for item in store.exam(add(capsys, tmp_path, talk, "Dr Ada")).open_items] == [
        ["misheard_term"]
    ]


@pytest.mark.parametrize(
    ("talk", "flag"),
    [("The tibia lease is four plus.", "side_unsaid"), ("On the right the tibia lease is weak.", "grade_unsaid")],
)
def test_what_was_learned_settles_no_side_and_no_grade(
    talk: str, flag: str, tmp_path: Path, store: Store, capsys: Capture
) -> None:
    exam = add(capsys, tmp_path, TALK, "Dr Ada")
    store.confirm(exam, dorsiflexion(store.exam(exam)).id, who="Dr Ada", seen=1)
    item = dorsiflexion(store.exam(add(capsys, tmp_path, talk, "Dr Ada")))
    assert item.open and flag in item.row.flags and "misheard_term" not in item.row.flags


def test_forgetting_what_was_never_learned_is_one_line(capsys: Capture) -> None:
    assert (
        "nothing was learned of 'x' from Dr Ada"
        in run(capsys, "lexicon", "learned", "--speaker", "Dr Ada", "--forget", "x").error()
    )
    assert "name the speaker" in run(capsys, "lexicon", "learned", "--forget", "x").error(code=2)
    assert run(capsys, "lexicon", "learned", "--speaker", "Dr Ada").out == "Nothing was learned of Dr Ada yet.\n"
