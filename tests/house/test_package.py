"""The package builds, and finds its lexicons wherever it runs from."""

import os
import subprocess
import sys
import zipfile
from email.parser import Parser
from pathlib import Path

import pytest

from pipeline.lexicon.load import default_folder
from tests.house.project import PYPROJECT, ROOT


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", folder], cwd=ROOT, check=True
    )
    return next(folder.glob("*.whl"))


def test_the_wheel_holds_the_package_and_every_lexicon(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    lexicons = {file.name for file in (ROOT / "lexicons").glob("*.yaml")}
    assert lexicons
    assert {f"pipeline/lexicons/{name}" for name in lexicons} <= names
    about = wheel.name.removesuffix("-py3-none-any.whl") + ".dist-info"
    assert {name.split("/")[0] for name in names} == {"pipeline", about}


def test_an_unpacked_wheel_reads_the_lexicons_inside_it(wheel: Path, tmp_path: Path) -> None:
    zipfile.ZipFile(wheel).extractall(tmp_path)
    program = "from pipeline.lexicon.load import default_folder, load; load(); print(default_folder())"
    answer = subprocess.run(
        [sys.executable, "-c", program],
        cwd=tmp_path, env=os.environ | {"PYTHONPATH": str(tmp_path)}, check=True, capture_output=True, text=True,
    )  # fmt: skip
    assert Path(answer.stdout.strip()) == tmp_path.resolve() / "pipeline" / "lexicons"


def test_a_checkout_reads_the_lexicons_beside_the_package() -> None:
    assert default_folder() == ROOT / "lexicons"


def test_the_wheel_says_what_pyproject_says(wheel: Path) -> None:
    archive = zipfile.ZipFile(wheel)
    about = next(name for name in archive.namelist() if name.endswith(".dist-info/METADATA"))
    metadata = Parser().parsestr(archive.read(about).decode())
    assert metadata["Name"] == "spoken-exam"
    assert metadata["Version"] == PYPROJECT["project"]["version"]
    assert metadata["License-Expression"] == "Apache-2.0"
    assert metadata["Requires-Python"] == ">=3.11"


def test_the_command_is_installed() -> None:
    command = Path(sys.executable).with_name("spoken-exam")
    answer = subprocess.run([command, "--help"], capture_output=True, text=True)
    assert answer.returncode == 0, answer.stderr
    assert "Usage: spoken-exam" in answer.stdout


def test_the_changelog_has_the_version() -> None:
    version = PYPROJECT["project"]["version"]
    headings = [line for line in (ROOT / "CHANGELOG.md").read_text().splitlines() if line.startswith("## ")]
    assert headings[0] == "## [Unreleased]" or headings[0].startswith(f"## [{version}] - ")
