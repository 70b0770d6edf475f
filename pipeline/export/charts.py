"""The course of graded findings as small line charts, one for each movement: SVG, drawn by hand.

Right is a solid line with filled circles, left a dashed line with open squares, so that neither needs colour.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from pipeline.export.wording import SECTION_TITLES, heading, place
from pipeline.lexicon import Lexicon
from pipeline.record.compare import Course, graded, grades
from pipeline.record.model import Row

COLUMNS = 3
LARGEST = 4 * COLUMNS
"""Charts in one picture: what a page holds."""

_WIDTH, _HEIGHT = 226, 176
_LEFT, _RIGHT, _TOP, _BOTTOM = 36, 26, 34, 30
_LABELS = 4
_APART = 12
_MARGIN, _HEAD = 16, 58
_INK, _FAINT, _GRID = "#1b3a4b", "#5b6b75", "#dde4e8"
_COLOURS = {"right": "#9b3d12", "left": "#1f5f8b"}
_FONT = "'Libertinus Serif', Georgia, serif"
_TICKS = {
    "mrc": ("0", "1", "2", "3", "4", "5"),
    "reflex": ("0", "1+", "2+", "3+", "4+"),
    "tone": ("MAS 0", "MAS 1", "MAS 1+", "MAS 2", "MAS 3", "MAS 4"),
}


@dataclass(frozen=True)
class Panel:
    """One chart: a movement or reflex with the rows of each side, None where it was not examined."""

    title: str
    scale: str
    sides: dict[str, tuple[Row | None, ...]]


def panels(found: Sequence[Course], lexicon: Lexicon) -> list[Panel]:
    """Charts of everything graded at least twice on one side, in the order of the write-up."""
    order = list(SECTION_TITLES)
    entries = {entry.id: (order.index(entry.section), at, entry.scale) for at, entry in enumerate(lexicon.manoeuvres)}
    grouped: dict[tuple[str, str | None], Panel] = {}
    for course in found:
        manoeuvre, side, site = course.key
        scale = entries[manoeuvre][2] if manoeuvre in entries else ""
        rows = tuple(row if row and graded(row, scale) in grades(scale) else None for row in course.rows)
        if scale in _TICKS and sum(row is not None for row in rows) > 1:
            title = heading(place(course.latest))
            grouped.setdefault((manoeuvre, site), Panel(title, scale, {})).sides[side] = rows
    return [grouped[key] for key in sorted(grouped, key=lambda key: (*entries[key[0]][:2], key[1] or ""))]


def trend_svg(drawn: Sequence[Panel], labels: Sequence[str], title: str) -> str:
    """All charts in one SVG. `labels` name the examinations in order of time."""
    columns = min(COLUMNS, max(len(drawn), 1))
    lines = -(-len(drawn) // columns)
    width, height = 2 * _MARGIN + columns * _WIDTH, _HEAD + lines * _HEIGHT + _MARGIN
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" height="{height}" '
        f'role="img" aria-labelledby="title desc" font-family="{_FONT}">',
        f'<title id="title">{escape(title)}</title>',
        f'<desc id="desc">{escape(description(drawn, labels))}</desc>',
        f'<rect width="{width}" height="{height}" fill="#ffffff"/>',
        _text(_MARGIN + 4, 26, title, 17, weight="bold"),
        *_legend(_MARGIN + 4, 46),
    ]
    for at, panel in enumerate(drawn):
        x, y = _MARGIN + at % columns * _WIDTH, _HEAD + at // columns * _HEIGHT
        parts.append(f'<g transform="translate({x} {y})">')
        parts += _panel(panel, labels)
        parts.append("</g>")
    return "\n".join([*parts, "</svg>"]) + "\n"


def description(drawn: Sequence[Panel], labels: Sequence[str]) -> str:
    """The charts in words, for those who do not see them."""
    sentences = [
        f"{panel.title}, {side}: "
        + ", ".join(f"{label} {row.value}" for label, row in zip(labels, rows, strict=True) if row)
        for panel in drawn
        for side, rows in sorted(panel.sides.items(), reverse=True)
    ]
    return "; ".join(sentences) + "."


def _panel(panel: Panel, labels: Sequence[str]) -> list[str]:
    bottom, inner = _HEIGHT - _BOTTOM, _WIDTH - _LEFT - _RIGHT

    def across(at: int) -> float:
        return _LEFT + 10 + at * (inner - 20) / max(len(labels) - 1, 1)

    def up(value: str) -> float:
        return bottom - _height(value, panel.scale) * (bottom - _TOP)

    parts = [_text(_LEFT, 20, panel.title, 13, weight="bold")]
    for tick in _TICKS[panel.scale]:
        y = up(tick)
        parts.append(f'<line x1="{_LEFT}" y1="{y:.1f}" x2="{_WIDTH - _RIGHT}" y2="{y:.1f}" stroke="{_GRID}"/>')
        parts.append(_text(_LEFT - 6, y + 3.5, tick.removeprefix("MAS "), 11, anchor="end", colour=_FAINT))
    every = -(-len(labels) // _LABELS)
    for at, label in enumerate(labels):
        if at % every == 0:
            parts.append(_text(across(at), bottom + 17, label, 10.5, anchor="middle", colour=_FAINT))
    ends: list[tuple[float, str]] = []
    for side, rows in sorted(panel.sides.items(), reverse=True):
        points = [(across(at), up(graded(row, panel.scale)), row) for at, row in enumerate(rows) if row]
        parts += _line(side, points)
        ends.append((points[-1][1], side[:1].upper()))
    return parts + _names(sorted(ends))


def _names(ends: list[tuple[float, str]]) -> list[str]:
    """The side at the end of each line; one name for lines that end together, others kept apart."""
    x = _WIDTH - _RIGHT + 4
    if len(ends) == 2 and ends[0][0] == ends[1][0]:
        return [_text(x, ends[0][0] + 4, "R L", 11, weight="bold")]
    push = max(0.0, _APART - (ends[-1][0] - ends[0][0])) / 2 if len(ends) == 2 else 0.0
    return [_text(x, y + 4 + (push if at else -push), name, 11, weight="bold") for at, (y, name) in enumerate(ends)]


def _height(value: str, scale: str) -> float:
    """The place of a value between the ends of its scale, 0 to 1: a plus or minus is a third of a power grade."""
    if scale == "mrc":
        return (int(value[0]) + {"+": 1 / 3, "-": -1 / 3}.get(value[1:], 0)) / 5
    order = grades(scale)
    return order.index(value) / (len(order) - 1)


def _line(side: str, points: Sequence[tuple[float, float, Row]]) -> list[str]:
    colour, dashes = _COLOURS[side], ' stroke-dasharray="5 3"' if side == "left" else ""
    path = " ".join(f"{x:.1f},{y:.1f}" for x, y, _ in points)
    parts = [f'<polyline points="{path}" fill="none" stroke="{colour}" stroke-width="1.8"{dashes}/>']
    for x, y, row in points:
        parts.append(_mark(side, x, y))
        if row.confirm:
            parts.append(_text(x + 6, y - 5, "?", 11, weight="bold", colour=colour))
    return parts


def _mark(side: str, x: float, y: float) -> str:
    colour = _COLOURS[side]
    if side == "right":
        return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3.6" fill="{colour}"/>'
    # Larger than the circle, so that both are seen where they meet.
    box = f'x="{x - 5:.1f}" y="{y - 5:.1f}" width="10" height="10"'
    return f'<rect {box} fill="none" stroke="{colour}" stroke-width="1.8"/>'


def _legend(x: float, y: float) -> list[str]:
    parts = []
    for at, (side, words) in enumerate((("right", "right (R)"), ("left", "left (L)"))):
        start = x + at * 110
        dashes = ' stroke-dasharray="5 3"' if side == "left" else ""
        parts.append(
            f'<line x1="{start}" y1="{y - 4}" x2="{start + 30}" y2="{y - 4}" stroke="{_COLOURS[side]}" '
            f'stroke-width="1.8"{dashes}/>'
        )
        parts += [_mark(side, start + 15, y - 4), _text(start + 38, y, words, 11.5)]
    return [*parts, _text(x + 220, y, "? unconfirmed", 11.5)]


def _text(
    x: float, y: float, words: str, size: float, weight: str = "normal", anchor: str = "start", colour: str = _INK
) -> str:
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size}" font-weight="{weight}" text-anchor="{anchor}" '
        f'fill="{colour}">{escape(words)}</text>'
    )
