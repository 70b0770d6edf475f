"""What `pipeline` imports is declared in pyproject.toml, so that it is there without the packages of the tests."""

import ast
import sys
from importlib.metadata import packages_distributions

from packaging.utils import canonicalize_name

from tests.house.project import ROOT, extra_requirements, runtime_requirements


def imported(source: str) -> set[str]:
    """Top-level names of the modules that are imported anywhere in the source."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names.add(node.module.split(".")[0])
    return names


def test_every_import_is_declared() -> None:
    declared = {canonicalize_name(need.name) for need in runtime_requirements() + extra_requirements()}
    homes = packages_distributions()
    undeclared: dict[str, list[str]] = {}
    for file in sorted((ROOT / "pipeline").rglob("*.py")):
        for name in imported(file.read_text()) - sys.stdlib_module_names - {"pipeline"}:
            if not declared & {canonicalize_name(home) for home in homes.get(name, [])}:
                undeclared.setdefault(name, []).append(str(file.relative_to(ROOT)))
    assert undeclared == {}


def test_imports_are_found_inside_functions_too() -> None:
    source = "import numpy as np\nfrom . import near\ndef f():\n    from vosk.transcriber import x\n"
    assert imported(source) == {"numpy", "vosk"}
