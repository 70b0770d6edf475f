"""The project's own files, read for the house tests."""

import re
import tomllib
from pathlib import Path
from typing import Any

from packaging.markers import Marker
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[2]
PYPROJECT: dict[str, Any] = tomllib.loads((ROOT / "pyproject.toml").read_text())

_PIN = re.compile(r"(?P<name>[A-Za-z0-9._-]+)==(?P<version>[^\s;]+)(?: ; (?P<marker>.+?))?")


class Pin:
    """One locked release: version, environment marker and hashes."""

    def __init__(self, version: str, marker: str | None, hashes: list[str]) -> None:
        self.version = version
        self.applies_here = marker is None or Marker(marker).evaluate()
        self.hashes = hashes


def read_lock(file: Path) -> dict[str, Pin]:
    """Pins by normalised name. A line that is no pin, hash or comment raises `ValueError`."""
    pins: dict[str, Pin] = {}
    hashes: list[str] | None = None
    for number, line in enumerate(file.read_text().splitlines(), 1):
        text = line.strip().removesuffix("\\").strip()
        if not text or text.startswith("#"):
            continue
        if pin := _PIN.fullmatch(text):
            hashes = []
            pins[canonicalize_name(pin["name"])] = Pin(pin["version"], pin["marker"], hashes)
        elif hashes is not None and re.fullmatch(r"--hash=sha256:[0-9a-f]{64}", text):
            hashes.append(text)
        else:
            raise ValueError(f"{file.name}:{number}: neither a pin, a hash nor a comment: {line}")
    return pins


def runtime_requirements() -> list[Requirement]:
    return [Requirement(text) for text in PYPROJECT["project"]["dependencies"]]


def extra_requirements() -> list[Requirement]:
    extras = PYPROJECT["project"]["optional-dependencies"]
    return [Requirement(text) for texts in extras.values() for text in texts]


def group_requirements(group: str) -> list[Requirement]:
    found: list[Requirement] = []
    for entry in PYPROJECT["dependency-groups"][group]:
        found += [Requirement(entry)] if isinstance(entry, str) else group_requirements(entry["include-group"])
    return found
