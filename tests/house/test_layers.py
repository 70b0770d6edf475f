"""The import contract in pyproject.toml lets through what the design allows and catches what it forbids."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.house.project import ROOT


def lint_with(tmp_path: Path, file: str, statement: str) -> subprocess.CompletedProcess[str]:
    """The linter's verdict on a copy of the package in which `file` ends with `statement`."""
    shutil.copytree(ROOT / "pipeline", tmp_path / "pipeline", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    target = tmp_path / "pipeline" / file
    target.parent.mkdir(exist_ok=True)
    with target.open("a") as changed:
        changed.write(f"\n{statement}\n")
    return subprocess.run(
        [Path(sys.executable).with_name("lint-imports"), "--no-cache", "--no-logo"],
        cwd=tmp_path, capture_output=True, text=True,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("file", "statement"),
    [
        ("mend/probe.py", "from pipeline.record import Row"),
        ("mend/probe.py", "from pipeline.record.model import Row"),
        ("mend/probe.py", "import pipeline.lexicon"),
        ("mend/probe.py", "from pipeline.record.transcript import Transcript"),
        ("record/probe.py", "import pipeline.mend"),
        ("review/probe.py", "from pipeline.engine import Engine"),
    ],
)
def test_allowed_imports_pass(tmp_path: Path, file: str, statement: str) -> None:
    verdict = lint_with(tmp_path, file, statement)
    assert verdict.returncode == 0, verdict.stdout


@pytest.mark.parametrize(
    ("file", "statement", "complaint"),
    [
        ("lexicon/probe.py", "import pipeline.mend", "pipeline.lexicon is not allowed to import pipeline.mend"),
        ("mend/probe.py", "import pipeline.record.store", "pipeline.mend is not allowed to import pipeline.record"),
        ("engine.py", "import pipeline.record.store", "pipeline.engine is not allowed to import pipeline.record"),
        ("fill/probe.py", "import pipeline.engine", "pipeline.fill is not allowed to import pipeline.engine"),
        ("engine.py", "import pipeline.export.note", "pipeline.engine is not allowed to import pipeline.export"),
        ("record/__init__.py", "import pipeline.record.store", "pipeline.record -> pipeline.record.store"),
        ("record/model.py", "import pipeline.lexicon", "pipeline.record.model -> pipeline.lexicon"),
        ("record/transcript.py", "import pipeline.lexicon", "pipeline.record.transcript -> pipeline.lexicon"),
        ("unplaced/__init__.py", "", "- pipeline.unplaced"),
    ],
)
def test_forbidden_imports_are_caught(tmp_path: Path, file: str, statement: str, complaint: str) -> None:
    verdict = lint_with(tmp_path, file, statement)
    assert verdict.returncode != 0
    assert complaint in " ".join(verdict.stdout.split())


def test_the_contract_sees_every_folder() -> None:
    """A folder without `__init__.py` is no package to the linter, so its imports would go unchecked."""
    folders = {file.parent for file in (ROOT / "pipeline").glob("*/*.py")}
    assert {folder.name for folder in folders if not (folder / "__init__.py").is_file()} == set()
