from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Playwright

from pipeline.record.store import Store
from tests.chromium import launch
from tests.home import home as home
from tests.review import demo
from tests.review.server import Server, start


@pytest.fixture
def store(home: Path) -> Iterator[Store]:
    with Store.open() as opened:
        yield opened


@pytest.fixture
def exam(store: Store) -> str:
    """The demo examination, kept."""
    return demo.add(store)


@pytest.fixture
def serve(home: Path) -> Iterator[Callable[..., Server]]:
    """Starts the review command; `serve(port=…)` takes a port again."""
    with ExitStack() as stack:
        yield lambda *options, port=0: stack.enter_context(start(home, *options, port=port))


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    """A real browser."""
    opened = launch(playwright)
    yield opened
    opened.close()
