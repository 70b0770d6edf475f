"""For all tests: no network for models, no time limits, one driver of browsers."""

import os
from collections.abc import Iterator

import pytest
from hypothesis import settings
from playwright.sync_api import Playwright, sync_playwright

# Read when huggingface_hub is first imported, so it is set before any test module is.
os.environ["HF_HUB_OFFLINE"] = "1"

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """One for the whole run: while it runs, a second one does not start."""
    with sync_playwright() as started:
        yield started
