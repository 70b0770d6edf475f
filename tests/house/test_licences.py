"""What a user installs is under permissive licences."""

from importlib.metadata import Distribution, distribution

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.house.project import PYPROJECT, ROOT, extra_requirements, read_lock

# SPDX identifiers (spdx.org/licenses), and the names that older metadata gives the same licences. MPL-2.0 is weak
# copyleft, by file: it asks nothing of a program that only imports the package.
PERMISSIVE = {
    "0BSD", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "CC0-1.0", "CNRI-Python", "ISC", "MIT", "MIT-0", "MIT-CMU",
    "MPL-2.0", "PSF-2.0", "Unlicense", "Zlib",
    "Apache 2.0", "Apache License 2.0", "Apache Software License", "BSD", "BSD License", "BSD 2-Clause License",
    "BSD 3-Clause License", "3-Clause BSD License", "ISC License", "ISC License (ISCL)", "MIT License",
    "Mozilla Public License 2.0 (MPL 2.0)", "Python Software Foundation License",
}  # fmt: skip

# The metadata does not say; the licence file inside the distribution does.
READ_IN_FILE = {"locate": "MIT License"}


def licences(package: Distribution) -> set[str]:
    """Licences that all apply; of a choice (`A OR B`), the first permissive one."""
    if package.name in READ_IN_FILE:
        first_line = next(
            package.locate_file(file).read_text().splitlines()[0]
            for file in package.files or []
            if file.name.upper().startswith("LICENSE")
        )
        assert first_line == READ_IN_FILE[package.name]
        return {first_line}
    metadata = package.metadata
    if expression := metadata.get("License-Expression"):
        return of_expression(expression)
    classified = {
        text.rsplit(" :: ", 1)[1] for text in metadata.get_all("Classifier") or [] if text.startswith("License :: ")
    } - {"OSI Approved"}
    return classified or of_expression(metadata.get("License", ""))


def of_expression(expression: str) -> set[str]:
    """Licences of a flat SPDX expression; one with brackets is kept whole, and so refused."""
    if "(" in expression:
        return {expression}
    choices = [part.split(" AND ") for part in expression.split(" OR ")]
    return set(next((choice for choice in choices if PERMISSIVE.issuperset(choice)), choices[0]))


def with_all_needed(requirements: list[Requirement]) -> set[str]:
    """Names of the distributions that these requirements install here, indirect ones too."""
    found: set[str] = set()
    while requirements:
        need = requirements.pop()
        name = canonicalize_name(need.name)
        if name not in found and (need.marker is None or need.marker.evaluate({"extra": ""})):
            found.add(name)
            requirements += [Requirement(text) for text in distribution(name).requires or []]
    return found


def test_what_a_user_installs_is_permissive() -> None:
    lock = read_lock(ROOT / "requirements.lock")
    names = {name for name, pin in lock.items() if pin.applies_here} | with_all_needed(extra_requirements())
    found = {name: licences(distribution(name)) for name in sorted(names)}
    assert {name: names for name, names in found.items() if not names or not names <= PERMISSIVE} == {}


def test_indirect_requirements_are_found() -> None:
    assert {"jinja2", "markupsafe"} <= with_all_needed([Requirement("jinja2")])


@pytest.mark.parametrize("expression", ["GPL-3.0-or-later", "MIT AND LGPL-3.0-only", "GPL-2.0-only OR LGPL-3.0-only"])
def test_other_licences_are_refused(expression: str) -> None:
    assert not of_expression(expression) <= PERMISSIVE


def test_a_choice_may_be_permissive() -> None:
    assert of_expression("GPL-3.0-only OR Apache-2.0") == {"Apache-2.0"}


def test_the_project_is_under_the_apache_licence() -> None:
    assert PYPROJECT["project"]["license"] == "Apache-2.0"
    text = (ROOT / "LICENSE").read_text()
    assert "Apache License\n                           Version 2.0, January 2004" in text
    assert "END OF TERMS AND CONDITIONS" in text
