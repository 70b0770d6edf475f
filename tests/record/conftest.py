from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text

from pipeline.record import sealing
from pipeline.record.store import Store
from tests.home import home as home
from tests.record import postgres


@pytest.fixture(scope="session")
def postgresql() -> Iterator[str]:
    if postgres.binaries() is None:
        pytest.skip("PostgreSQL is not installed")
    with postgres.server() as url:
        yield url


@pytest.fixture(autouse=True)
def cheap_key(monkeypatch: pytest.MonkeyPatch) -> None:
    """A store keeps the scrypt cost that it was made with; a low one keeps the tests quick."""
    monkeypatch.setattr(sealing, "SCRYPT_COST", 2**10)


@pytest.fixture(params=["sqlite", "postgresql", "passphrase"])
def opened(request: pytest.FixtureRequest, home: Path) -> Iterator[Callable[[], Store]]:
    """Opens the same empty store, as often as it is called: on SQLite, on PostgreSQL, and encrypted on SQLite."""
    stores: list[Store] = []
    url: str | None = None
    if request.param == "postgresql":
        url = request.getfixturevalue("postgresql")
        engine = create_engine(url.replace("postgresql", "postgresql+pg8000", 1), isolation_level="AUTOCOMMIT")
        with engine.connect() as connection:
            connection.execute(text("DROP SCHEMA public CASCADE"))
            connection.execute(text("CREATE SCHEMA public"))
        engine.dispose()

    def open_store() -> Store:
        stores.append(Store.open(url, "correct horse" if request.param == "passphrase" else None))
        return stores[-1]

    yield open_store
    for store in stores:
        store.close()


@pytest.fixture
def store(opened: Callable[[], Store]) -> Store:
    return opened()
