from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from pipeline.record.store import Store
from tests.home import home as home


@pytest.fixture
def store(home: Path) -> Iterator[Store]:
    with Store.open() as opened:
        yield opened
