"""The whole record, side by side: sections, a line for each thing examined, the patient's right and left."""

from __future__ import annotations

from dataclasses import dataclass, field

from pipeline.record.model import Side
from pipeline.record.views import Item
from pipeline.review import wording
from pipeline.review.vocabulary import SECTIONS, Vocabulary


@dataclass
class Line:
    """One thing examined, with its sides or without one. Several items on one side only while the record holds both."""

    subject: str
    right: list[Item] = field(default_factory=list)
    left: list[Item] = field(default_factory=list)
    midline: list[Item] = field(default_factory=list)


@dataclass(frozen=True)
class Section:
    title: str
    lines: list[Line]


def side_by_side(rows: list[Item], vocabulary: Vocabulary) -> list[Section]:
    """The rows that belong to the record, in the usual order of an examination."""
    sections: dict[str, dict[tuple[str, bool], Line]] = {name: {} for name in SECTIONS}
    live = [(item.row, item) for item in rows if item.state.live]
    for row, item in sorted(live, key=lambda pair: vocabulary.place(pair[0])):
        subject = wording.subject(row)
        key = subject, row.side is Side.MIDLINE
        line = sections[vocabulary.section(row.manoeuvre)].setdefault(key, Line(subject))
        {Side.RIGHT: line.right, Side.LEFT: line.left, Side.MIDLINE: line.midline}[row.side].append(item)
    return [Section(SECTIONS[name], list(lines.values())) for name, lines in sections.items() if lines]
