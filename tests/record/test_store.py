"""Keeping and changing a record, on every database that the store works on."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from pipeline.record.errors import SignedRecord, StaleChange, StillOpen, StoreError
from pipeline.record.model import Alternative, Evidence, ExamRecord, Row, Side
from pipeline.record.store import Store
from tests.record import examples
from tests.record.examples import FOUR, LEFT


def add(store: Store, **more: object) -> str:
    return store.add(examples.record(), title="Invented patient A", who="engine", **more)  # type: ignore[arg-type]


def close_all(store: Store, exam: str) -> int:
    revision = store.confirm(exam, "row-1", who="Ada", seen=1)
    revision = store.confirm_group(exam, ["row-3", "row-4"], who="Ada", seen=revision)
    revision = store.clear_unheard(exam, "unheard-1", who="Ada", seen=revision)
    return store.clear_unplaced(exam, "unplaced-1", who="Ada", seen=revision)


def sign(store: Store, exam: str, seen: int, **more: bool) -> int:
    return store.sign(exam, name="Dr Ada", role="Neurologist", statement="I checked this.", seen=seen, **more)


def test_what_goes_in_comes_out_after_reopening(opened: Callable[[], Store], tmp_path: Path) -> None:
    store = opened()
    exam = add(store, audio=examples.sound(tmp_path / "a.wav"), transcript=examples.transcript(), speaker="Dr Ada")
    store.close()
    again = opened()
    assert again.export_record(exam) == examples.record()
    assert again.transcript(exam) == examples.transcript()
    view = again.exam(exam)
    assert (view.title, view.speaker, view.version, view.revision) == ("Invented patient A", "Dr Ada", 1, 1)
    assert view.sound is not None and view.sound.duration == pytest.approx(4.0, abs=0.01)
    assert again.verify(exam) == []


def test_the_list_says_what_is_left_to_do(store: Store) -> None:
    exam = add(store)
    (one,) = store.list()
    assert (one.id, one.rows, one.open, one.state) == (exam, 5, 5, "open")
    revision = close_all(store, exam)
    assert [(one.open, one.state) for one in store.list()] == [(0, "ready")]
    sign(store, exam, revision)
    assert store.list()[0].state == "signed"
    newer = store.amend(exam, who="Ada", why="grade")
    assert {one.id: one.state for one in store.list()} == {exam: "amended", newer: "ready"}


def test_every_decision_and_its_undo(store: Store) -> None:
    exam = add(store)
    revision = store.confirm(exam, "row-1", who="Ada", seen=1)
    row = store.exam(exam).item("row-1").row
    assert (row.value, row.confirm, row.flags, row.confidence) == ("4-", False, [], 1.0)
    revision = store.edit(exam, "row-1", {"value": "3", "side": "left"}, who="Ada", seen=revision)
    row = store.exam(exam).item("row-1").row
    assert (row.value, row.side, row.muscle) == ("3", Side.LEFT, "tibialis_anterior")
    revision = store.undo(exam, ["row-1"], who="Ada", seen=revision)
    revision = store.undo(exam, ["row-1"], who="Ada", seen=revision)
    item = store.exam(exam).item("row-1")
    assert (item.row, item.open, item.undoable) == (examples.record().rows[0], True, False)
    with pytest.raises(StoreError, match="nothing to undo"):
        store.undo(exam, ["row-1"], who="Ada", seen=revision)
    revision = store.reject(exam, "row-2", who="Ada", seen=revision, why="not this patient")
    assert "knee_jerk" not in {row.manoeuvre for row in store.export_record(exam).rows}
    assert store.entries(exam)[-1].content.why == "not this patient"
    store.undo(exam, ["row-2"], who="Ada", seen=revision)
    assert store.export_record(exam) == examples.record()
    assert store.verify(exam) == []


def test_choosing_settles_its_slot_and_leaves_other_doubts_open(store: Store) -> None:
    exam = add(store)
    revision = store.choose(exam, "row-1", FOUR, who="Ada", seen=1)
    item = store.exam(exam).item("row-1")
    assert (item.row.value, item.open, item.row.flags) == ("4", True, ["misheard_term"])
    store.confirm(exam, "row-1", who="Ada", seen=revision)
    assert not store.exam(exam).item("row-1").open
    with pytest.raises(StoreError, match="no such alternative"):
        store.choose(exam, "row-2", LEFT, who="Ada", seen=1)


def test_only_plain_inferred_normals_are_confirmed_as_a_group(store: Store) -> None:
    exam = add(store)
    with pytest.raises(StoreError, match="only open inferred normals"):
        store.confirm_group(exam, ["row-1", "row-3"], who="Ada", seen=1)
    assert store.exam(exam).revision == 1
    revision = store.confirm_group(exam, ["row-3", "row-4"], who="Ada", seen=1)
    assert [item.id for item in store.exam(exam).open_items] == ["row-1", "unheard-1", "unplaced-1"]
    assert len(store.entries(exam)) == 2
    store.undo(exam, ["row-3", "row-4"], who="Ada", seen=revision)
    assert store.export_record(exam) == examples.record()


def test_rows_of_the_same_words_are_confirmed_together(store: Store) -> None:
    """ "Five throughout" is listened to once; a row with other words, another result or another doubt is not in it."""
    said = [Evidence(start=1, end=2, heard="five throughout", mended="five throughout")]
    same = Row(manoeuvre="hip_flexion", side=Side.RIGHT, value="5", confirm=True, flags=["low_audio"], evidence=said)
    rows = [same, same.model_copy(update={"manoeuvre": "knee_flexion"})]
    others: list[dict[str, object]] = [
        {"value": "4"},
        {"flags": ["low_audio", "side_uncertain"]},
        {"evidence": [said[0].model_copy(update={"start": 1.5})]},
        {"evidence": []},
        {"alternatives": [Alternative(slot="value", value="4", probability=0.3)]},
        {"roots": ["L2"]},
        {"confirm": False},
    ]
    rows += [same.model_copy(update={"manoeuvre": f"other_{at}", **other}) for at, other in enumerate(others)]
    exam = store.add(ExamRecord(rows=rows), title="T")
    for at in range(len(others)):
        with pytest.raises(StoreError, match="rows of the same words"):
            store.confirm_group(exam, ["row-1", f"row-{at + 3}"], who="Ada", seen=1)
    store.confirm_group(exam, ["row-1", "row-2"], who="Ada", seen=1)
    assert [item.id for item in store.exam(exam).open_items] == [f"row-{at}" for at in range(3, 9)]


def test_a_gap_becomes_a_row(store: Store) -> None:
    exam = add(store)
    row = Row(manoeuvre="ankle_jerk", side=Side.LEFT, value="brisk")
    revision = store.add_row(exam, row, who="Ada", seen=1, from_gap="unplaced-1")
    record = store.export_record(exam)
    assert record.rows[-1] == row and record.unplaced == []
    added = store.exam(exam).items[-1].id
    revision = store.undo(exam, [added, "unplaced-1"], who="Ada", seen=revision)
    assert store.export_record(exam) == examples.record()
    store.add_row(exam, row, who="Ada", seen=revision)
    assert store.verify(exam) == []


def test_a_second_row_for_the_same_thing_is_refused(store: Store) -> None:
    exam = add(store)
    with pytest.raises(StoreError, match="already has a row for hip flexion, left"):
        store.edit(exam, "row-4", {"manoeuvre": "hip_flexion"}, who="Ada", seen=1)
    revision = store.reject(exam, "row-3", who="Ada", seen=1)
    revision = store.edit(exam, "row-4", {"manoeuvre": "hip_flexion"}, who="Ada", seen=revision)
    with pytest.raises(StoreError, match="already has a row for hip flexion, left"):
        store.undo(exam, ["row-3"], who="Ada", seen=revision)


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"value": None}, "examined row has a value"),
        ({"value": " "}, "examined row has a value"),
        ({"side": "up"}, "side"),
        ({"confidence": 1}, "cannot be edited"),
        ({"status": "not_examined"}, "has a reason"),
    ],
)
def test_an_edit_that_makes_no_sense_changes_nothing(store: Store, fields: dict[str, object], message: str) -> None:
    exam = add(store)
    with pytest.raises(StoreError, match=message):
        store.edit(exam, "row-1", fields, who="Ada", seen=1)
    assert store.exam(exam).revision == 1


def test_the_second_reviewer_is_told_who_changed_what(opened: Callable[[], Store]) -> None:
    first, second = opened(), opened()
    exam = add(first)
    first.edit(exam, "row-1", {"value": "3"}, who="Ada", seen=1)
    with pytest.raises(StaleChange, match=r"Ada changed this after you looked: value 4- → 3 \(edited\)"):
        second.confirm(exam, "row-1", who="Ben", seen=1)
    second.confirm_group(exam, ["row-3"], who="Ben", seen=1)  # another row: no quarrel
    assert [entry.who for entry in first.entries(exam)] == ["engine", "Ada", "Ben"]
    with pytest.raises(StaleChange, match="no such revision"):
        second.confirm(exam, "row-2", who="Ben", seen=99)


def test_signing_waits_until_nothing_is_open(store: Store) -> None:
    exam = add(store)
    with pytest.raises(StillOpen, match="5 of"):
        sign(store, exam, 1)
    revision = close_all(store, exam)
    with pytest.raises(StaleChange, match="Ada"):
        sign(store, exam, revision - 1)
    with pytest.raises(StaleChange, match="no such revision"):
        sign(store, exam, revision + 1)
    with pytest.raises(StoreError, match="a role is needed"):
        store.sign(exam, name="Dr Ada", role=" ", statement="x", seen=revision)
    sign(store, exam, revision)
    signature = store.exam(exam).signature
    assert signature is not None and (signature.name, signature.role) == ("Dr Ada", "Neurologist")
    assert store.verify(exam) == []


def test_two_rows_for_one_thing_cannot_be_signed(store: Store) -> None:
    row = Row(manoeuvre="knee_jerk", side=Side.LEFT, value="2+")
    exam = store.add(ExamRecord(rows=[row, row.model_copy(update={"value": "3+"})]), title="Invented patient A")
    with pytest.raises(StillOpen, match="two rows say knee jerk, left"):
        sign(store, exam, 1)


def test_a_signed_record_is_changed_only_by_an_amendment(store: Store) -> None:
    exam = add(store)
    revision = sign(store, exam, close_all(store, exam))
    before = store.export_record(exam)
    for change in (
        lambda: store.confirm(exam, "row-1", who="Ada", seen=revision),
        lambda: store.undo(exam, ["row-1"], who="Ada", seen=revision),
        lambda: store.add_row(exam, examples.inferred("grip"), who="Ada", seen=revision),
        lambda: sign(store, exam, revision),
    ):
        with pytest.raises(SignedRecord):
            change()
    newer = store.amend(exam, who="Ben", why="the grade was typed wrongly")
    with pytest.raises(StoreError, match="already has an amendment"):
        store.amend(exam, who="Ada", why="again")
    assert store.export_record(newer).rows == before.rows
    store.edit(newer, "row-1", {"value": "5"}, who="Ben", seen=1)
    store.reject(newer, "row-2", who="Ben", seen=2)
    differences = store.differences(newer)
    assert [(one.before and one.before.value, one.after and one.after.value) for one in differences] == [
        ("4-", "5"),
        ("2+", None),
    ]
    view = store.exam(newer)
    assert (view.version, view.amends, store.exam(exam).amended_by) == (2, exam, newer)
    sign(store, newer, view.revision)
    assert store.export_record(exam) == before
    assert store.verify(exam) == store.verify(newer) == []


def test_deleting_leaves_only_that_it_was_deleted(store: Store, home: Path, tmp_path: Path) -> None:
    exam = add(store, audio=examples.sound(tmp_path / "a.wav"))
    sign(store, exam, close_all(store, exam), keep_audio=True)
    newer = store.amend(exam, who="Ada", why="x")
    with pytest.raises(StoreError, match="newest version first"):
        store.delete(exam)
    store.delete(newer)
    store.delete(exam)
    assert store.list() == [] and list((home / "audio").iterdir()) == []
    with pytest.raises(StoreError, match="no such examination"):
        store.exam(exam)
    for file in home.glob("store.sqlite3*"):
        assert b"tibialis" not in file.read_bytes()


def test_the_recording_goes_at_signing_unless_it_is_kept(store: Store, home: Path, tmp_path: Path) -> None:
    source = examples.sound(tmp_path / "a.wav")
    gone, kept = add(store, audio=source), add(store, audio=source)
    sign(store, gone, close_all(store, gone))
    sign(store, kept, close_all(store, kept), keep_audio=True)
    assert len(list((home / "audio").iterdir())) == 1
    with pytest.raises(StoreError, match="no recording"):
        store.clip(gone, 0, 1)
    assert len(store.clip(kept, 0, 1)) == 44 + 32000
    newer = store.amend(kept, who="Ada", why="x")
    assert store.clip(newer, 1, 2) == store.clip(kept, 1, 2)
    assert store.verify(gone) == store.verify(kept) == store.verify(newer) == []


def test_reviewers_at_once_lose_nothing(opened: Callable[[], Store]) -> None:
    rows = [examples.inferred(f"manoeuvre_{number}") for number in range(24)]
    exam = opened().add(ExamRecord(rows=rows), title="Invented patient A")
    stores = [opened() for _ in range(3)]

    def confirm(number: int) -> None:
        stores[number % 3].confirm(exam, f"row-{number + 1}", who=f"reviewer {number % 3}", seen=1)

    with ThreadPoolExecutor(6) as pool:
        list(pool.map(confirm, range(24)))
    view = stores[0].exam(exam)
    assert (view.revision, view.open_items) == (25, [])
    assert stores[0].verify(exam) == []
