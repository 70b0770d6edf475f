"""The examples in `docs/rules.md` are what happens."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.understand.talks import table, told

PAGE = (Path(__file__).parents[2] / "docs" / "rules.md").read_text(encoding="utf-8")
EXAMPLES = [each for block in PAGE.split("```talk\n")[1:] for each in table(block.split("```")[0])]


@pytest.mark.parametrize(("talk", "wanted"), EXAMPLES)
def test_an_example_of_the_page(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


def test_the_page_has_examples_of_each_part() -> None:
    assert len(EXAMPLES) >= 20
