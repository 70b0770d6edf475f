"""Rows as an examination is written up: by section, left and right side by side, with the abnormal ones known."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from pipeline.export.wording import SECTION_TITLES, heading, place, plain
from pipeline.lexicon import Lexicon
from pipeline.lexicon.model import Manoeuvre, Scale
from pipeline.record.model import Row, Side, Status

_LEVELS = {letter: at * 100 for at, letter in enumerate("CTLS")}
_JOINTS = ("finger", "wrist", "elbow", "arm", "great_toe", "ankle", "knee", "leg")
_REGIONS = ("whole", "upper_limb", "trunk", "lower_limb")


class Judgement(StrEnum):
    """`MEASURED`: a number of degrees or beats, for which the lexicon names no normal range."""

    NORMAL = "normal"
    MEASURED = "measured"
    ABNORMAL = "abnormal"
    NOT_EXAMINED = "not_examined"


@dataclass(frozen=True)
class Line:
    """One manoeuvre at one site: the rows of each side, where there are any, or the one without a side."""

    name: str
    site: str | None
    right: Row | None = None
    left: Row | None = None
    midline: Row | None = None

    @property
    def rows(self) -> list[Row]:
        return [row for row in (self.right, self.left, self.midline) if row]


@dataclass(frozen=True)
class Section:
    """`sided`: lines for the table; `midline`: lines that have no side."""

    id: str
    title: str
    lines: list[Line]

    @property
    def sided(self) -> list[Line]:
        return [line for line in self.lines if not line.midline]

    @property
    def midline(self) -> list[Line]:
        return [line for line in self.lines if line.midline]

    @property
    def rows(self) -> list[Row]:
        return [row for line in self.lines for row in line.rows]


class Findings:
    """The rows of one record with what the lexicon knows of each."""

    def __init__(self, rows: Iterable[Row], lexicon: Lexicon) -> None:
        self.rows = list(rows)
        self._manoeuvres = {entry.id: entry for entry in lexicon.manoeuvres}
        self._scales = {entry.id: entry for entry in lexicon.scales}
        self._order = {
            entry.id: (list(SECTION_TITLES).index(entry.section), _REGIONS.index(entry.region), at)
            for at, entry in enumerate(lexicon.manoeuvres)
        }

    def manoeuvre(self, row: Row) -> Manoeuvre | None:
        """The lexicon's entry, or None for a manoeuvre that it does not hold."""
        return self._manoeuvres.get(row.manoeuvre)

    def scale(self, row: Row) -> Scale | None:
        entry = self.manoeuvre(row)
        return self._scales[entry.scale] if entry else None

    def section(self, row: Row) -> str:
        """The section's identifier; a manoeuvre that the lexicon does not hold goes to `other`."""
        entry = self.manoeuvre(row)
        return entry.section if entry else "other"

    def judge(self, row: Row) -> Judgement:
        if row.status is Status.NOT_EXAMINED:
            return Judgement.NOT_EXAMINED
        scale = self.scale(row)
        known = {value.value: value.normal for value in scale.values} if scale else {}
        if row.value in known:
            return Judgement.NORMAL if known[row.value] else Judgement.ABNORMAL
        return Judgement.MEASURED if re.fullmatch(r"\d+ (degrees|beats)", row.value or "") else Judgement.ABNORMAL

    @property
    def sections(self) -> list[Section]:
        """All rows, none left out.

        A row without a side gets a line of its own, and so does a second row for the same manoeuvre, site and side.
        """
        lines: dict[str, dict[tuple[str, str | None, bool, int], dict[str, Row]]] = {}
        for row in sorted(self.rows, key=self._key):
            at = 0
            section = lines.setdefault(self.section(row), {})
            midline = row.side is Side.MIDLINE
            while row.side.value in section.get((row.manoeuvre, row.site, midline, at), {}):
                at += 1
            section.setdefault((row.manoeuvre, row.site, midline, at), {})[row.side.value] = row
        return [
            Section(
                id=section,
                title=SECTION_TITLES.get(section, "Other"),
                lines=[
                    Line(heading(place(next(iter(sides.values())))), site, **sides)
                    for (_, site, _, _), sides in found.items()
                ],
            )
            for section, found in lines.items()
        ]

    @property
    def scales(self) -> list[Scale]:
        """The scales that the rows use, in the order of the write-up."""
        used = [self.scale(row) for row in sorted(self.rows, key=self._key)]
        return list({scale.id: scale for scale in used if scale}.values())

    def summary(self) -> list[str]:
        """Sentences: what is abnormal first, then what was measured, then where all is normal."""
        sections = self.sections
        sentences = []
        for judgement, word in ((Judgement.ABNORMAL, "Abnormal"), (Judgement.MEASURED, "Measured")):
            lines = [line.rows for section in sections for line in section.lines]
            alike = [[row for row in rows if self.judge(row) is judgement] for rows in lines]
            phrases = [_phrase(rows) for rows in alike if rows]
            if phrases:
                sentences.append(f"{word}: {'; '.join(phrases)}.")
            elif judgement is Judgement.ABNORMAL:
                sentences.append("No abnormal finding was recorded." if self.rows else "Nothing was recorded.")
        clear = [
            section
            for section in sections
            if all(self.judge(row) is Judgement.NORMAL and not row.confirm for row in section.rows)
        ]
        if clear:
            sentences.append(f"All recorded findings are normal in: {', '.join(plain(one.id) for one in clear)}.")
        return sentences

    def _key(self, row: Row) -> tuple[int, int, int, int]:
        order = self._order.get(row.manoeuvre, (len(SECTION_TITLES), 0, 0))
        return (*order, _site_order(row.site))


def _phrase(rows: list[Row]) -> str:
    """Examined rows of one line: "ankle dorsiflexion right 4-, left 4"."""
    found = [row.value + (" (unconfirmed)" if row.confirm else "") for row in rows if row.value]
    if len(set(found)) < len(found):
        return f"{place(rows[0])} {found[0]} on both sides"
    sides = ["" if row.side is Side.MIDLINE else f"{row.side.value} " for row in rows]
    return f"{place(rows[0])} {', '.join(map(str.__add__, sides, found))}"


def _site_order(site: str | None) -> int:
    if site is None:
        return -1
    if match := re.match(r"([CTLS])(\d+)", site):
        return _LEVELS[match[1]] + int(match[2])
    return _JOINTS.index(site) if site in _JOINTS else len(_JOINTS)
