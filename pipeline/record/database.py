"""Opening the database: SQLite in the user's data folder, or PostgreSQL by URL; migrations; the store's key."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from platformdirs import user_data_path
from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url, select, text
from sqlalchemy.exc import ArgumentError, DBAPIError
from sqlalchemy.orm import Session

from pipeline.record.errors import StoreError, WrongPassphrase
from pipeline.record.schema import REVISION, Examination, StoreKey
from pipeline.record.sealing import Open, Sealer, new_key, open_key, sealers

HOME_VARIABLE = "SPOKEN_EXAM_HOME"
DATABASE_VARIABLE = "SPOKEN_EXAM_DATABASE"
_MIGRATION_LOCK = 7_314_159  # any number that no other program on the same PostgreSQL database uses as advisory lock


def home() -> Path:
    """The folder of the store: `SPOKEN_EXAM_HOME`, or the user's data folder."""
    override = os.environ.get(HOME_VARIABLE)
    return Path(override).expanduser() if override else user_data_path("spoken-exam", appauthor=False)


def locate(url_or_path: str | Path | None) -> tuple[URL, Path]:
    """The database's URL and the store's folder. Raises `StoreError` for any database but SQLite and PostgreSQL."""
    if url_or_path is None:
        url_or_path = os.environ.get(DATABASE_VARIABLE) or home()
    if "://" not in str(url_or_path):
        folder = Path(url_or_path)
        return URL.create("sqlite", database=str(folder / "store.sqlite3")), folder
    try:
        url = make_url(str(url_or_path))
    except ArgumentError as error:
        raise StoreError("the database address cannot be read; give postgresql://user@host/name or a folder") from error
    if url.get_backend_name() != "postgresql":
        raise StoreError("the store works on PostgreSQL or in a folder; give postgresql://user@host/name or a folder")
    return url.set(drivername="postgresql+pg8000"), home()


def connect(url: URL, folder: Path) -> Engine:
    """The engine, with the store's folder and file made for the owner only. Every SQLite commit reaches the disk."""
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    if url.get_backend_name() == "postgresql":
        try:
            return create_engine(url, pool_pre_ping=True)
        except ModuleNotFoundError as error:
            raise StoreError("a store on PostgreSQL needs its driver: install spoken-exam[postgres]") from error
    os.close(os.open(str(url.database), os.O_RDWR | os.O_CREAT, 0o600))
    engine = create_engine(url, connect_args={"timeout": 30})

    @event.listens_for(engine, "connect")
    def _prepare(connection: Any, _record: Any) -> None:
        # The driver must not start transactions of its own: the listener below does, with the write lock where needed.
        connection.isolation_level = None
        for pragma in ("journal_mode=WAL", "foreign_keys=ON", "synchronous=FULL", "secure_delete=ON"):
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        writes = connection.get_execution_options().get("writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def migrate(engine: Engine) -> None:
    """Brings the tables up to date, in one transaction. Raises `StoreError` when a newer program made them."""
    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations"))
    with engine.execution_options(writes=True).begin() as connection:
        if engine.dialect.name == "postgresql":
            connection.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": _MIGRATION_LOCK})
        current = MigrationContext.configure(connection).get_current_revision()
        if current == REVISION:
            return
        known = {script.revision for script in ScriptDirectory.from_config(config).walk_revisions()}
        if current is not None and current not in known:
            raise StoreError("a newer version of this program made the store; update the program to open it")
        config.attributes["connection"] = connection
        command.upgrade(config, "head")


def unlock(engine: Engine, passphrase: str | None) -> Sealer:
    """The sealer of the store, known to its columns from now on. A passphrase given to an empty store becomes its own.

    Raises `WrongPassphrase` when it is missing or wrong, `StoreError` when the store was made without one.
    """
    with Session(engine.execution_options(writes=True)) as session, session.begin():
        key = session.scalar(select(StoreKey))
        sealer: Sealer = Open()
        if key is not None:
            if not passphrase:
                raise WrongPassphrase("the store is locked with a passphrase; give it, say as SPOKEN_EXAM_PASSPHRASE")
            sealer = open_key(passphrase, key.salt, key.cost, key.wrapped)
        elif passphrase:
            if session.scalar(select(Examination.id).limit(1)) is not None:
                raise StoreError("the store was made without a passphrase; open it without one, or use a new folder")
            sealer, salt, cost, wrapped = new_key(passphrase)
            session.add(StoreKey(id=1, salt=salt, cost=cost, wrapped=wrapped))
    sealers[engine.dialect] = sealer
    return sealer


def empty_log(engine: Engine) -> None:
    """Empties SQLite's write-ahead log, which still holds what was deleted."""
    if engine.dialect.name == "sqlite":
        connection = engine.raw_connection()
        try:
            connection.cursor().execute("PRAGMA wal_checkpoint(TRUNCATE)")
        finally:
            connection.close()


def plain_error(error: DBAPIError | OSError) -> StoreError:
    """A database's or disk's own error as one line."""
    reason = error.orig if isinstance(error, DBAPIError) else error
    lines = str(reason).strip().splitlines()
    return StoreError(f"the store cannot be used: {lines[0] if lines else type(reason).__name__}")
