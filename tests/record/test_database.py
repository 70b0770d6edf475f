"""Where the store is, how it is opened, and what happens when it cannot be."""

from __future__ import annotations

import os
import sqlite3
import stat
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import text

from pipeline.record import database, schema
from pipeline.record.errors import StoreError
from pipeline.record.store import Store
from tests.record import examples
from tests.record.test_store import add


def test_the_data_folder_is_the_users_own_unless_told_otherwise(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, home: Path
) -> None:
    assert database.home() == home
    monkeypatch.delenv("SPOKEN_EXAM_HOME")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "xdg"))
    if sys.platform == "linux":
        assert database.home() == tmp_path / "xdg" / "spoken-exam"


def test_only_the_owner_can_read(home: Path, tmp_path: Path) -> None:
    old = os.umask(0)
    try:
        with Store.open() as store:
            add(store, audio=examples.sound(tmp_path / "a.wav"))
            files = [path for path in home.rglob("*") if path.is_file()]
            assert {path.suffix for path in files} >= {".sqlite3", ".sqlite3-wal", ".sound"}
            assert {stat.S_IMODE(path.stat().st_mode) for path in files} == {0o600}
            assert {stat.S_IMODE(path.stat().st_mode) for path in (home, home / "audio")} == {0o700}
    finally:
        os.umask(old)


def test_sqlite_is_opened_for_safety(home: Path) -> None:
    with Store.open() as store, store._engine.connect() as connection:
        told = [connection.execute(text(f"PRAGMA {name}")).scalar() for name in ("journal_mode", "foreign_keys")]
        assert told == ["wal", 1]
        assert connection.execute(text("PRAGMA synchronous")).scalar() == 2  # FULL


def test_the_migrations_make_the_tables_of_the_models(store: Store) -> None:
    with store._engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, schema.Base.metadata) == []
        assert context.get_current_revision() == schema.REVISION
    config = Config()
    config.set_main_option("script_location", str(Path(database.__file__).parent / "migrations"))
    assert ScriptDirectory.from_config(config).get_heads() == [schema.REVISION]


def test_a_store_of_a_newer_program_is_left_alone(opened: Callable[[], Store]) -> None:
    store = opened()
    exam = add(store)
    with store._writer.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(StoreError, match="newer version of this program"):
        opened()
    assert store.export_record(exam) == examples.record()


def test_a_file_that_is_no_database_gives_one_line(home: Path) -> None:
    home.mkdir()
    (home / "store.sqlite3").write_bytes(b"not a database " * 100)
    with pytest.raises(StoreError, match="the store cannot be used: file is not a database") as caught:
        Store.open()
    assert "\n" not in str(caught.value)
    assert (home / "store.sqlite3").read_bytes().startswith(b"not a database")


@pytest.mark.parametrize(
    ("url", "message"),
    [
        ("mysql://user@127.0.0.1/name", "PostgreSQL or in a folder"),
        ("postgresql://user@127.0.0.1:1/name", "cannot be used"),
        ("://", "cannot be read"),
    ],
)
def test_a_wrong_address_gives_one_line(url: str, message: str) -> None:
    with pytest.raises(StoreError, match=message) as caught:
        Store.open(url)
    assert "\n" not in str(caught.value)


def test_without_the_driver_the_message_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pg8000", None)  # as when it is not installed
    with pytest.raises(StoreError, match=r"install spoken-exam\[postgres\]"):
        Store.open("postgresql://user@127.0.0.1/name")


def test_a_folder_that_is_a_file_gives_one_line(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(StoreError, match="cannot be used"):
        Store.open(tmp_path / "file")


def test_processes_that_open_a_new_store_together_all_succeed(home: Path) -> None:
    program = "from pipeline.record.store import Store; Store.open().close()"
    running = [subprocess.Popen([sys.executable, "-c", program], stderr=subprocess.PIPE) for _ in range(4)]
    assert [(process.communicate()[1], process.returncode) for process in running] == [(b"", 0)] * 4
    with closing(sqlite3.connect(home / "store.sqlite3")) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchall() == [(schema.REVISION,)]
