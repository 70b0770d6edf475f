"""Whoever changes the database behind the program's back is found out; its triggers stop the casual one."""

from __future__ import annotations

import hashlib
import json
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError

from pipeline.record.store import Store
from tests.record import examples
from tests.record.test_store import add, close_all, sign


@pytest.fixture(scope="module")
def original(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str, str]:
    """A store with a signed record and its open amendment; the recording is kept."""
    folder = tmp_path_factory.mktemp("original")
    with Store.open(folder / "home") as store:
        sound = examples.sound(folder / "a.wav")
        exam = add(store, audio=sound, transcript=examples.transcript())
        sign(store, exam, close_all(store, exam), keep_audio=True)
        newer = store.amend(exam, who="Ben", why="typing slip")
        revision = store.edit(newer, "row-1", {"value": "3"}, who="Ben", seen=1)
        store.edit(newer, "row-1", {"value": "2"}, who="Ben", seen=revision)
        assert store.verify(exam) == store.verify(newer) == []
    return folder / "home", exam, newer


@pytest.fixture
def kept(home: Path, original: tuple[Path, str, str]) -> Iterator[tuple[Store, str, str]]:
    """A copy of the original store, to be tampered with."""
    shutil.copytree(original[0], home)
    with Store.open() as store:
        yield store, original[1], original[2]


def attack(home: Path, *statements: str, **values: str) -> None:
    """Runs SQL as somebody who owns the file and has taken the triggers away."""
    with closing(sqlite3.connect(home / "store.sqlite3")) as connection:
        for (trigger,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            connection.execute(f"DROP TRIGGER {trigger}")
        for statement in statements:
            connection.execute(statement, values if ":" in statement else {})
        connection.commit()


@pytest.mark.parametrize(
    ("statement", "problem"),
    [
        ("""UPDATE finding SET data = replace(data, '"4-"', '"4"') WHERE exam_id = :exam""", "row-1 is not what"),
        ("UPDATE finding SET decision = NULL WHERE exam_id = :exam AND id = 'row-1'", "row-1 is not what"),
        ("UPDATE finding SET open = 1 WHERE exam_id = :exam AND id = 'row-2'", "row-2 is not what"),
        ("UPDATE finding SET revision = 0 WHERE exam_id = :exam AND id = 'row-1'", "revision"),
        ("UPDATE finding SET position = 99 WHERE exam_id = :exam AND id = 'row-1'", "order"),
        ("UPDATE evidence SET heard = 'else' WHERE exam_id = :exam AND finding_id = 'row-2'", "row-2 is not what"),
        ("DELETE FROM evidence WHERE exam_id = :exam AND finding_id = 'row-2'", "row-2 is not what"),
        ("DELETE FROM finding WHERE exam_id = :exam AND id = 'row-5'", "row-5 is missing"),
        ("UPDATE gap SET decision = NULL WHERE exam_id = :exam", "unheard-1 is not what"),
        (
            "INSERT INTO finding SELECT exam_id, 'row-9', 9, data, decision, open, revision FROM finding "
            "WHERE exam_id = :exam AND id = 'row-5'",
            "no entry made it",
        ),
        ("UPDATE entry SET who = 'Eve' WHERE exam_id = :exam AND number = 2", "entry 2 was altered"),
        ("UPDATE entry SET at = '2020-01-01' WHERE exam_id = :exam AND number = 2", "entry 2 was altered"),
        ("UPDATE entry SET action = 'edited' WHERE exam_id = :exam AND number = 2", "entry 2 was altered"),
        ("""UPDATE entry SET change = replace(change, '"4-"', '"4"') WHERE exam_id = :exam""", "entry 1 was altered"),
        ("DELETE FROM entry WHERE exam_id = :exam AND number = 1", "at the start"),
        ("DELETE FROM entry WHERE exam_id = :exam AND number = 3", "entry 4 does not follow entry 2"),
        ("DELETE FROM entry WHERE exam_id = :exam AND number = 6", "at the end"),
        ("DELETE FROM entry WHERE exam_id = :exam", "the trail is empty"),
        ("DELETE FROM signature WHERE exam_id = :exam", "signature is missing"),
        ("UPDATE signature SET name = 'Dr Eve' WHERE exam_id = :exam", "signature is not the one"),
        ("UPDATE examination SET title = 'Another' WHERE id = :exam", "title"),
        ("UPDATE examination SET revision = 7 WHERE id = :exam", "at the end"),
        ("UPDATE transcript SET data = replace(data, 'tibby', 'tib') WHERE exam_id = :exam", "transcript"),
        ("DELETE FROM transcript WHERE exam_id = :exam", "transcript"),
        ("UPDATE audio SET deleted = '2026' WHERE exam_id = :exam", "deletion"),
        ("DELETE FROM audio WHERE exam_id = :exam", "recording is not the one"),
    ],
)
def test_verify_finds_each_way_of_tampering(
    home: Path, kept: tuple[Store, str, str], statement: str, problem: str
) -> None:
    store, exam, _ = kept
    attack(home, statement, exam=exam)
    assert problem in "; ".join(store.verify(exam))


def test_verify_finds_reordered_entries(home: Path, kept: tuple[Store, str, str]) -> None:
    store, _, newer = kept
    attack(
        home,
        "UPDATE entry SET number = -2 WHERE exam_id = :exam AND number = 2",
        "UPDATE entry SET number = 2 WHERE exam_id = :exam AND number = 3",
        "UPDATE entry SET number = 3 WHERE exam_id = :exam AND number = -2",
        exam=newer,
    )
    assert "does not follow" in "; ".join(store.verify(newer))


def test_verify_finds_a_trail_cut_short_with_its_head(home: Path, kept: tuple[Store, str, str]) -> None:
    """The attacker removes the last change and resets the examination to the entry before it, but not the row."""
    store, _, newer = kept
    attack(
        home,
        "DELETE FROM entry WHERE exam_id = :exam AND number = 3",
        "UPDATE examination SET revision = 2, head = (SELECT hash FROM entry WHERE exam_id = :exam AND number = 2) "
        "WHERE id = :exam",
        exam=newer,
    )
    assert "row-1 is not what its entries made it" in store.verify(newer)


def test_an_amendment_notices_that_its_origin_changed(home: Path, kept: tuple[Store, str, str]) -> None:
    store, exam, newer = kept
    attack(home, """UPDATE finding SET data = replace(data, '"4-"', '"4"') WHERE exam_id = :exam""", exam=exam)
    assert "did not start from" in "; ".join(store.verify(newer))


def test_a_changed_or_missing_recording_is_found(home: Path, kept: tuple[Store, str, str]) -> None:
    store, exam, newer = kept
    for file in (home / "audio").iterdir():
        file.write_bytes(file.read_bytes()[:-2] + b"\x01\x01")
    assert store.verify(exam) == ["the recording was altered"]
    for file in (home / "audio").iterdir():
        file.unlink()
    assert "missing" in store.verify(newer)[0]


REFUSED = [
    "UPDATE finding SET decision = 'edited' WHERE exam_id = :exam",
    "DELETE FROM finding WHERE exam_id = :exam",
    "INSERT INTO finding SELECT exam_id, 'x', 99, data, decision, open, revision FROM finding "
    "WHERE exam_id = :exam AND id = 'row-1'",
    "UPDATE evidence SET heard = 'x' WHERE exam_id = :exam",
    "DELETE FROM evidence WHERE exam_id = :exam",
    "UPDATE gap SET decision = 'x' WHERE exam_id = :exam",
    "DELETE FROM gap WHERE exam_id = :exam",
    "UPDATE transcript SET data = 'x' WHERE exam_id = :exam",
    "DELETE FROM transcript WHERE exam_id = :exam",
    "UPDATE audio SET deleted = 'x' WHERE exam_id = :exam",
    "DELETE FROM audio WHERE exam_id = :exam",
    "UPDATE examination SET title = 'x' WHERE id = :exam",
    "DELETE FROM examination WHERE id = :exam",
    "UPDATE signature SET name = 'x' WHERE exam_id = :exam",
    "DELETE FROM signature WHERE exam_id = :exam",
    "UPDATE entry SET who = 'x' WHERE exam_id = :other",
    "DELETE FROM entry WHERE exam_id = :other",
    "INSERT INTO entry SELECT exam_id, 99, at, who, action, items, change, previous, hash FROM entry "
    "WHERE exam_id = :exam AND number = 1",
]


def test_the_database_itself_refuses(opened: Callable[[], Store], tmp_path: Path) -> None:
    store = opened()
    sound = examples.sound(tmp_path / "a.wav")
    exam, other = add(store, audio=sound, transcript=examples.transcript()), add(store)
    sign(store, exam, close_all(store, exam), keep_audio=True)
    for statement in REFUSED:
        named = {name: value for name, value in (("exam", exam), ("other", other)) if f":{name}" in statement}
        with pytest.raises(DBAPIError) as caught, store._writer.begin() as raw:
            raw.execute(text(statement), named)
        assert any(why in str(caught.value) for why in ("the record is signed", "the trail is append-only")), statement
    assert store.verify(exam) == store.verify(other) == []
    if store._engine.dialect.name == "postgresql":
        with pytest.raises(DBAPIError, match="append-only"), store._writer.begin() as raw:
            raw.execute(text("TRUNCATE entry"))


def test_a_tampered_record_cannot_be_signed(home: Path) -> None:
    with Store.open() as store:
        exam = add(store)
        revision = close_all(store, exam)
        attack(home, "UPDATE entry SET who = 'Eve' WHERE exam_id = :exam AND number = 2", exam=exam)
        with pytest.raises(Exception, match="does not verify"):
            sign(store, exam, revision)


def test_the_chain_is_plain_sha256_over_canonical_json(home: Path) -> None:
    """Computed here from the stored text alone, without the program's own functions."""
    with Store.open() as store:
        exam = add(store)
        close_all(store, exam)
    previous = "0" * 64
    with closing(sqlite3.connect(home / "store.sqlite3")) as connection:
        entries = connection.execute(
            "SELECT number, at, who, action, change, hash FROM entry WHERE exam_id = ? ORDER BY number", (exam,)
        ).fetchall()
    assert len(entries) == 5
    for number, at, who, action, change, stored in entries:
        form = {"exam": exam, "number": number, "at": at, "who": who, "action": action, "previous": previous}
        form["content"] = json.loads(change)
        body = json.dumps(form, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        previous = hashlib.sha256(body.encode()).hexdigest()
        assert previous == stored
