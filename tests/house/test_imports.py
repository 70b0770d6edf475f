"""What is imported is declared in pyproject.toml, and `pipeline` imports nothing that only the tests install."""

import ast
import sys
from importlib.metadata import packages_distributions

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.house.project import ROOT, extra_requirements, group_requirements, runtime_requirements

PROGRAM = runtime_requirements() + extra_requirements()
OURS = {"pipeline", "scripts", "tests"}


def imported(source: str) -> set[str]:
    """Top-level names of the modules that are imported anywhere in the source."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names.add(node.module.split(".")[0])
    return names


@pytest.mark.parametrize(
    ("folder", "requirements"),
    [
        ("pipeline", PROGRAM),
        ("scripts", PROGRAM + group_requirements("dev") + group_requirements("teach")),
        ("tests", PROGRAM + group_requirements("dev")),
    ],
)
def test_every_import_is_declared(folder: str, requirements: list[Requirement]) -> None:
    declared = {canonicalize_name(need.name) for need in requirements}
    homes = packages_distributions()
    undeclared: dict[str, list[str]] = {}
    files = sorted((ROOT / folder).rglob("*.py"))
    assert files
    for file in files:
        for name in imported(file.read_text()) - sys.stdlib_module_names - OURS:
            if not declared & {canonicalize_name(home) for home in homes.get(name, [name])}:
                undeclared.setdefault(name, []).append(str(file.relative_to(ROOT)))
    assert undeclared == {}


def test_the_program_imports_neither_scripts_nor_tests() -> None:
    strays = {
        str(file.relative_to(ROOT))
        for file in (ROOT / "pipeline").rglob("*.py")
        if imported(file.read_text()) & {"scripts", "tests"}
    }
    assert strays == set()


def test_imports_are_found_inside_functions_too() -> None:
    source = "import numpy as np\nfrom . import near\ndef f():\n    from vosk.transcriber import x\n"
    assert imported(source) == {"numpy", "vosk"}
