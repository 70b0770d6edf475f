from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from pipeline.record.learned import Learned, agreed, mishearings
from pipeline.record.model import Alternative, Evidence, ExamRecord, Row, Side
from pipeline.record.store import Store


def row(heard: str, mended: str, **fields: Any) -> Row:
    fields = {"manoeuvre": "ankle_dorsiflexion", "muscle": "tibialis_anterior"} | fields
    return Row(
        side=Side.RIGHT,
        value="4-",
        confirm=True,
        flags=["misheard_term"],
        evidence=[Evidence(start=0, end=1, heard=heard, mended=mended)],
        **fields,
    )


KNEE_JERK = {"manoeuvre": "knee_jerk", "muscle": None}
EVERSION = {"manoeuvre": "ankle_eversion", "muscle": None}
TURNED = {"manoeuvre": "ankle_inversion", "muscle": None}


@pytest.mark.parametrize(
    ("heard", "mended", "fields", "learned"),
    [
        ("right tibby alice interior four minus", "right tibialis anterior four minus", {},
         [("tibby alice interior", "tibialis anterior")]),
        ("to be Alice interior, five", "tibialis anterior, five", {}, [("to be alice interior", "tibialis anterior")]),
        # What was heard right of a term belongs to it: "tibial is" alone might be another muscle.
        ("tibial is anterior five", "tibialis anterior five", {}, [("tibial is anterior", "tibialis anterior")]),
        ("tibialis anterior for minus", "tibialis anterior four minus", {}, []),  # a grade
        ("tibby four minus", "tibialis right minus", {}, []),  # a side and a grade
        ("tibialis anterior four", "tibialis anterior four", {}, []),  # nothing was mended
        ("tibby alice to", "tibialis anterior", {}, []),  # "to" may be its grade
        # Only what names the row.
        ("tibby alice and uncle jerk", "tibialis anterior and ankle jerk", {}, [("tibby alice", "tibialis anterior")]),
        ("grey toe vibration gone", "great toe vibration gone", {"manoeuvre": "vibration", "muscle": None}, []),
        ("tibby alice four and ankle jerk", "tibialis anterior four and ankle jerk", KNEE_JERK, []),
        # Words that are said of other things too.
        ("knit", "knee jerk", KNEE_JERK, [("knit", "knee jerk")]),
        ("need", "knee jerk", KNEE_JERK, []),
        ("any back", "knee jerk", KNEE_JERK, []),
    ],
)  # fmt: skip
def test_the_words_of_the_rows_own_term_are_learned(
    heard: str, mended: str, fields: dict[str, Any], learned: list[tuple[str, str]]
) -> None:
    found = row(heard, mended, **fields)
    assert mishearings(found, found) == frozenset(learned)


@pytest.mark.parametrize(
    ("heard", "mended", "before", "after", "learned"),
    [
        ("tibby alice posterior", "tibialis anterior", {}, TURNED, [("tibby alice posterior", "tibialis posterior")]),
        # The engine took the right words and the wrong row.
        ("tibby alice", "tibialis anterior", {}, KNEE_JERK, []),
        ("tibby alice posterior, tib posterior", "tibialis anterior, tib posterior", {}, TURNED, []),
        # A movement and its opposite sound alike; which it was is for the ear.
        ("evasion four", "eversion four", EVERSION, TURNED, []),
        ("tibby alice", "tibialis anterior", {}, {"value": "5"}, [("tibby alice", "tibialis anterior")]),
    ],
)
def test_a_correction_is_learned_where_the_words_sound_like_it(
    heard: str, mended: str, before: dict[str, Any], after: dict[str, Any], learned: list[tuple[str, str]]
) -> None:
    original = row(heard, mended, **before)
    assert mishearings(original, original.model_copy(update=after)) == frozenset(learned)


def test_nothing_is_learned_where_the_opposite_was_nearly_as_likely() -> None:
    rival = Alternative(slot="manoeuvre", value="ankle_inversion", probability=0.3)
    for alternatives, learned in (([], {("evasion", "eversion")}), ([rival], set())):
        found = row("evasion four", "eversion four", alternatives=alternatives, **EVERSION)
        assert mishearings(found, found) == learned


def test_the_engine_gets_what_reviewers_agree_on() -> None:
    found = [Learned("Dr Ada", *one) for one in (("a", "x", 2), ("a", "y", 1), ("b", "x", 1), ("b", "y", 1))]
    assert agreed(found) == {"a": "x"}


def test_decisions_teach_and_undoing_unteaches(store: Store) -> None:
    heard, mended = "right tibby alice four minus", "right tibialis anterior four minus"
    record = ExamRecord(rows=[row(heard, mended)])
    first, second = (store.add(record, title="Invented patient A", speaker="Dr Ada") for _ in range(2))
    store.add(record, title="Invented patient A", speaker="Dr Ben")
    store.confirm(first, "row-1", who="Ada", seen=1)
    store.confirm(second, "row-1", who="Ada", seen=1)
    assert store.learned("Dr Ada") == [Learned("Dr Ada", "tibby alice", "tibialis anterior", 2)]
    store.edit(second, "row-1", {"manoeuvre": "ankle_inversion"}, who="Ada", seen=2)
    assert store.learned("Dr Ada") == [
        Learned("Dr Ada", "tibby alice", "tibialis anterior", 1),
        Learned("Dr Ada", "tibby alice", "tibialis post", 1),
    ]
    store.undo(second, ["row-1"], who="Ada", seen=3)
    store.undo(second, ["row-1"], who="Ada", seen=4)
    store.undo(first, ["row-1"], who="Ada", seen=2)
    assert store.learned() == []


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
