"""The scores of an examination as Markdown."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from pipeline.export.templating import render
from pipeline.record.model import Row, Side
from pipeline.record.scores import ASHWORTH_SOURCE, LOWER_EXTREMITY, MRC_SUM, SIGNS, ashworth, score


def scores_text(rows: Iterable[Row], templates: Path | None = None) -> str:
    """Each score with its parts and source, or what it lacks."""
    found = list(rows)
    return render(
        "scores.md.j2",
        templates,
        scores=[score(found, definition) for definition in (LOWER_EXTREMITY, MRC_SUM)],
        sides=(Side.RIGHT, Side.LEFT),
        signs=SIGNS,
        ashworth=ashworth(found),
        ashworth_source=ASHWORTH_SOURCE,
    )
