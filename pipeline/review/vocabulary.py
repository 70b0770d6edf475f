"""What a reviewer may write into a row: the manoeuvres, sides, sites and values of the lexicon."""

from __future__ import annotations

import re

from pipeline.lexicon.model import Lexicon, Manoeuvre
from pipeline.record.model import Row, Side, Status

SECTIONS = {
    "inspection": "Inspection",
    "tone": "Tone",
    "power": "Power",
    "reflexes": "Reflexes",
    "sensation": "Sensation",
    "coordination": "Coordination",
    "nerve_tension": "Nerve tension",
    "gait": "Gait",
    "perianal": "Perianal region",
    "other": "Other",
}

_COUNTED = {"beats": r"\d{1,3} beats?", "degrees": r"\d{1,3} degrees"}
_ROOT = re.compile(r"C[1-8]|T([1-9]|1[0-2])|L[1-5]|S[1-5]")


class Vocabulary:
    """The lexicon as the page needs it."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._manoeuvres = {one.id: one for one in lexicon.manoeuvres}
        self._order = {name: number for number, name in enumerate(self._manoeuvres)}
        self._scales = {one.id: one for one in lexicon.scales}
        self._normal = {(scale.id, one.value) for scale in lexicon.scales for one in scale.values if one.normal}
        self.dermatomes = [one.id for one in lexicon.dermatomes]
        self.sites = [one.id for one in lexicon.sites]
        self.muscles = [one.id for one in lexicon.muscles]
        self.nerves = [one.id for one in lexicon.nerves]
        self.scales = {scale.id: [one.value for one in scale.values] for scale in lexicon.scales}

    @property
    def by_section(self) -> dict[str, list[Manoeuvre]]:
        """The manoeuvres under the titles of their sections."""
        found: dict[str, list[Manoeuvre]] = {}
        for one in self._manoeuvres.values():
            found.setdefault(SECTIONS[one.section], []).append(one)
        return {name: found[name] for name in SECTIONS.values() if name in found}

    def section(self, manoeuvre: str) -> str:
        known = self._manoeuvres.get(manoeuvre)
        return known.section if known else "other"

    def scale(self, manoeuvre: str) -> str:
        known = self._manoeuvres.get(manoeuvre)
        return known.scale if known else ""

    def normal(self, row: Row) -> bool:
        """Whether the value is a finding of a healthy examination."""
        return (self.scale(row.manoeuvre), row.value) in self._normal

    def place(self, row: Row) -> tuple[int, int]:
        """Where a row stands within its section: by manoeuvre, then down the body."""
        sites = [*self.dermatomes, *self.sites]
        site = sites.index(row.site) if row.site in sites else len(sites)
        return self._order.get(row.manoeuvre, len(self._order)), site

    def problem(self, row: Row) -> str | None:
        """Why a row that a person wrote cannot be right, in one sentence; None when it can."""
        known = self._manoeuvres.get(row.manoeuvre)
        if known is None:
            return "Choose a manoeuvre from the list."
        if known.sides == "midline" and row.side is not Side.MIDLINE:
            return "This manoeuvre has no side: choose midline."
        if known.sides == "each" and row.side is Side.MIDLINE:
            return "Choose left or right for this manoeuvre."
        return self._site_problem(known, row) or self._value_problem(known, row) or _root_problem(row)

    def _site_problem(self, known: Manoeuvre, row: Row) -> str | None:
        if known.sites == "none":
            return "This manoeuvre has no site: leave it empty." if row.site else None
        allowed = self.dermatomes if known.sites == "dermatome" else self.sites
        if row.site is None:
            return None if known.sites == "limb" else "Name the site."
        return None if row.site in allowed else f"The site is one of {', '.join(allowed)}."

    def _value_problem(self, known: Manoeuvre, row: Row) -> str | None:
        if row.status is Status.NOT_EXAMINED:
            return None
        scale, value = self._scales[known.scale], row.value or ""
        allowed = self.scales[known.scale]
        counted = _COUNTED.get(scale.grades or "")
        if value in allowed or (counted and re.fullmatch(counted, value)):
            return None
        more = f", or a number such as 3 {scale.grades}" if counted else ""
        return f"The result is one of {', '.join(allowed)}{more}."


def _root_problem(row: Row) -> str | None:
    wrong = [root for root in row.roots if not _ROOT.fullmatch(root)]
    return f"{wrong[0]} is no root; write roots as L4 L5." if wrong else None
