from __future__ import annotations

from collections.abc import Callable

import pytest

from pipeline.record.learned import Learned, mended_term
from pipeline.record.model import Evidence, ExamRecord, Row, Side
from pipeline.record.store import Store


def row(heard: str, mended: str, *, muscle: str | None = "tibialis_anterior") -> Row:
    return Row(
        manoeuvre="ankle_dorsiflexion",
        side=Side.RIGHT,
        value="4-",
        muscle=muscle,
        confirm=True,
        flags=["misheard_term"],
        evidence=[Evidence(start=0, end=1, heard=heard, mended=mended)],
    )


@pytest.mark.parametrize(
    ("heard", "mended", "learned"),
    [
        ("right tibby alice interior four minus", "right tibialis anterior four minus", "tibby alice interior"),
        ("Pair o'knee eye, five", "peronei, five", "pair o'knee eye"),
        ("tibialis anterior for minus", "tibialis anterior four minus", None),  # a grade
        ("tibby four minus", "tibialis right minus", None),  # a side and a grade
        ("tibialis anterior four", "tibialis anterior four", None),  # nothing was mended
        ("tibby alice and uncle jerk", "tibialis anterior and ankle jerk", None),  # which of the two is the row's?
    ],
)
def test_only_the_replaced_words_of_one_term_are_learned(heard: str, mended: str, learned: str | None) -> None:
    found = mended_term(row(heard, mended))
    assert found == (None if learned is None else (learned, "tibialis_anterior"))


def test_decisions_teach_and_undoing_unteaches(store: Store) -> None:
    heard, mended = "right tibby alice four minus", "right tibialis anterior four minus"
    record = ExamRecord(rows=[row(heard, mended)])
    first, second = (store.add(record, title="Invented patient A", speaker="Dr Ada") for _ in range(2))
    store.add(record, title="Invented patient A", speaker="Dr Ben")
    store.confirm(first, "row-1", who="Ada", seen=1)
    store.confirm(second, "row-1", who="Ada", seen=1)
    assert store.learned("Dr Ada") == [Learned("tibby alice", "tibialis_anterior", 2)]
    store.edit(second, "row-1", {"manoeuvre": "ankle_inversion"}, who="Ada", seen=2)
    assert store.learned("Dr Ada") == [
        Learned("tibby alice", "ankle_inversion", 1),
        Learned("tibby alice", "tibialis_anterior", 1),
    ]
    store.undo(second, ["row-1"], who="Ada", seen=3)
    store.undo(second, ["row-1"], who="Ada", seen=4)
    store.undo(first, ["row-1"], who="Ada", seen=2)
    assert store.learned("Dr Ada") == store.learned("Dr Ben") == []


def test_nothing_is_learned_of_rejected_rows_or_unnamed_speakers(store: Store) -> None:
    record = ExamRecord(rows=[row("tibby alice four", "tibialis anterior four")])
    named, unnamed = store.add(record, title="T", speaker="Dr Ada"), store.add(record, title="T")
    store.reject(named, "row-1", who="Ada", seen=1)
    store.confirm(unnamed, "row-1", who="Ada", seen=1)
    assert store.learned("Dr Ada") == []


def test_what_was_learned_can_be_removed(opened: Callable[[], Store]) -> None:
    store = opened()
    for heard in ("tibby alice", "tibia list"):
        record = ExamRecord(rows=[row(heard, "tibialis anterior")])
        store.confirm(store.add(record, title="T", speaker="Dr Ada"), "row-1", who="Ada", seen=1)
    assert store.forget("Dr Ada", "tibia list") == 1
    assert [one.heard for one in store.learned("Dr Ada")] == ["tibby alice"]
    assert store.forget("Dr Ada") == 1 and store.learned("Dr Ada") == []
