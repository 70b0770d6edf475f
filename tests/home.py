"""A store's folder of a test's own."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The store's folder, so that no test touches the user's."""
    folder = tmp_path / "home"
    monkeypatch.setenv("SPOKEN_EXAM_HOME", str(folder))
    for name in ("SPOKEN_EXAM_DATABASE", "SPOKEN_EXAM_PASSPHRASE", "SPOKEN_EXAM_DEBUG"):
        monkeypatch.delenv(name, raising=False)
    return folder
