"""The package builds, and finds its lexicons wherever it runs from."""

import json
import os
import subprocess
import sys
import zipfile
from email.parser import Parser
from pathlib import Path, PurePath

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


def tracked(folder: str) -> set[str]:
    listed = subprocess.run(["git", "ls-files", "-z", folder], cwd=ROOT, check=True, capture_output=True, text=True)
    return set(filter(None, listed.stdout.split("\0")))


def test_the_wheel_holds_all_that_runs_and_nothing_else(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    data = {f"pipeline/{name}" for name in tracked("lexicons") | tracked("demo_audio")}
    assert tracked("pipeline") | data <= names
    about = wheel.name.removesuffix("-py3-none-any.whl") + ".dist-info"
    assert {name.split("/")[0] for name in names} == {"pipeline", about}


@pytest.mark.parametrize(
    "pattern", ["fill/confidence.json", "lexicons/*.yaml", "demo_audio/*.opus", "demo_audio/cases.jsonl"]
)
def test_the_wheel_holds_the_data_that_the_program_reads(wheel: Path, pattern: str) -> None:
    assert any(PurePath(name).match(f"pipeline/{pattern}") for name in zipfile.ZipFile(wheel).namelist())


@pytest.fixture(scope="module")
def unpacked(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("unpacked").resolve()
    zipfile.ZipFile(wheel).extractall(folder)
    return folder


def run_unpacked(folder: Path, program: str, *arguments: str) -> str:
    """What the program prints where nothing of the checkout is in reach."""
    return subprocess.run(
        [sys.executable, "-c", program, *arguments],
        cwd=folder, env=os.environ | {"PYTHONPATH": str(folder)}, check=True, capture_output=True, text=True,
    ).stdout  # fmt: skip


def test_an_unpacked_wheel_reads_the_lexicons_inside_it(unpacked: Path) -> None:
    program = "from pipeline.lexicon.load import default_folder, load; load(); print(default_folder())"
    assert Path(run_unpacked(unpacked, program).strip()) == unpacked / "pipeline" / "lexicons"


def test_an_unpacked_wheel_structures_a_transcript(unpacked: Path) -> None:
    (unpacked / "said.txt").write_text("Right knee jerk two plus.\n")
    program = "import pipeline.cli; pipeline.cli.main()"
    printed = json.loads(run_unpacked(unpacked, program, "structure", "said.txt", "--format", "rows"))
    assert [(row["manoeuvre"], row["side"], row["value"]) for row in printed["rows"]] == [("knee_jerk", "right", "2+")]


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
