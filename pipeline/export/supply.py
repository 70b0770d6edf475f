"""Which roots and which nerves supply what was found changed: a table of supply, never a diagnosis."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from pipeline.export.findings import Findings, Judgement
from pipeline.export.templating import render
from pipeline.export.wording import place
from pipeline.lexicon import Lexicon
from pipeline.record.model import Row, Side

SUPPLY_CAUTION = (
    "A table of supply from published anatomy, not a diagnosis: it says what could be supplied by one root or nerve, "
    "not what is damaged. Anatomy varies, and disease of muscle, junction, plexus, cord or brain is not in it."
)

# A lesion of the trunk reaches its branches. Leg: Orthobullets, Sciatic nerve; arm: common practice, no source.
TRUNKS = {
    "deep_peroneal": "common_peroneal",
    "superficial_peroneal": "common_peroneal",
    "common_peroneal": "sciatic",
    "tibial": "sciatic",
    "posterior_interosseous": "radial",
    "anterior_interosseous": "median",
}

_LOST_REFLEX = ("0", "1+", "reduced")
_CHANGED_SENSE = ("reduced", "absent", "altered", "increased")


@dataclass(frozen=True)
class Supplier:
    """A root or nerve that supplies one finding; `main` where a source names it as the main one."""

    name: str
    main: bool
    source: str


@dataclass(frozen=True)
class Finding:
    """A changed (or normal) row with its supply; an empty tuple: the lexicon does not hold it."""

    row: Row
    roots: tuple[Supplier, ...]
    nerves: tuple[Supplier, ...]

    @property
    def name(self) -> str:
        doubt = ", unconfirmed" if self.row.confirm else ""
        return f"{place(self.row)} {self.row.value}{doubt}"


@dataclass
class Candidate:
    """A root or nerve with the findings of one side that it supplies, leaves unexplained, or may supply."""

    name: str
    supplies: list[Finding] = field(default_factory=list)
    main_for: list[Finding] = field(default_factory=list)
    unexplained: list[Finding] = field(default_factory=list)
    unrecorded: list[Finding] = field(default_factory=list)
    supplies_normal: list[Finding] = field(default_factory=list)

    @property
    def supplies_all(self) -> bool:
        return not self.unexplained and not self.unrecorded


@dataclass(frozen=True)
class SideTable:
    """The changed findings of one side, and what supplies them: those that supply most first."""

    side: Side
    findings: list[Finding]
    roots: list[Candidate]
    nerves: list[Candidate]


@dataclass(frozen=True)
class Supply:
    """Tables of the sides that have a change. `apart`: changes that a table of supply says nothing about."""

    sides: list[SideTable]
    apart: list[Row]
    sources: list[str]


def supply(rows: Iterable[Row], lexicon: Lexicon) -> Supply:
    """Weak movements, changed sensation at a dermatome, and lost or reduced reflexes, each with its supply."""
    findings = Findings(rows, lexicon)
    anatomy = _Anatomy(lexicon)
    tables, sources = [], set[str]()
    changed = [row for row in findings.rows if findings.judge(row) is Judgement.ABNORMAL]
    for side in (Side.RIGHT, Side.LEFT):
        here = [anatomy.finding(row) for row in changed if row.side is side and _is_loss(row, findings)]
        if not here:
            continue
        normal = [
            anatomy.finding(row)
            for row in findings.rows
            if row.side is side and findings.judge(row) is Judgement.NORMAL and not row.confirm
        ]
        roots = _candidates(here, normal, [one.roots for one in here], [one.roots for one in normal])
        nerves = _candidates(here, normal, [one.nerves for one in here], [one.nerves for one in normal])
        tables.append(SideTable(side, here, roots, nerves))
        sources |= {supplier.source for one in here for supplier in (*one.roots, *one.nerves)}
    apart = [row for row in changed if row.side is Side.MIDLINE or not _is_loss(row, findings)]
    return Supply(tables, apart, sorted(sources))


def supply_text(rows: Iterable[Row], lexicon: Lexicon, templates: Path | None = None) -> str:
    """The table of supply as Markdown, its caution with it."""
    return render("supply.md.j2", templates, supply=supply(rows, lexicon), caution=SUPPLY_CAUTION)


class _Anatomy:
    """What the lexicon knows of the supply of a manoeuvre."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._manoeuvres = {entry.id: entry for entry in lexicon.manoeuvres}
        self._muscles = lexicon.muscles
        self._names = {nerve.id: nerve.names[0] for nerve in lexicon.nerves}

    def finding(self, row: Row) -> Finding:
        return Finding(row, self._roots(row), self._nerves(row))

    def _roots(self, row: Row) -> tuple[Supplier, ...]:
        if row.site:
            levels = ("S4", "S5") if row.site == "S4-5" else (row.site,)
            skin = "ISNCSCI key sensory points"
            return tuple(Supplier(level, True, skin) for level in levels if level[1:].isdigit())
        entry = self._manoeuvres.get(row.manoeuvre)
        return tuple(Supplier(one.root, one.main, one.source) for one in entry.roots) if entry else ()

    def _nerves(self, row: Row) -> tuple[Supplier, ...]:
        muscles = [muscle for muscle in self._muscles if muscle.manoeuvre == row.manoeuvre]
        said = [muscle for muscle in muscles if muscle.id == row.muscle]
        found: dict[str, Supplier] = {}
        for muscle in said or muscles:
            nerve: str | None = muscle.nerve
            while nerve:
                found.setdefault(nerve, Supplier(self._names[nerve], nerve == muscle.nerve, muscle.source))
                nerve = TRUNKS.get(nerve)
        return tuple(found.values())


def _is_loss(row: Row, findings: Findings) -> bool:
    section = findings.section(row)
    if section == "power":
        return True
    if section == "reflexes":
        return row.manoeuvre.endswith("_jerk") and row.value in _LOST_REFLEX
    return section == "sensation" and row.value in _CHANGED_SENSE and bool(row.site) and str(row.site)[1:2].isdigit()


def _candidates(
    changed: list[Finding],
    normal: list[Finding],
    supply_of_changed: list[tuple[Supplier, ...]],
    supply_of_normal: list[tuple[Supplier, ...]],
) -> list[Candidate]:
    names = dict.fromkeys(supplier.name for suppliers in supply_of_changed for supplier in suppliers)
    candidates = []
    for name in names:
        candidate = Candidate(name)
        for finding, suppliers in zip(changed, supply_of_changed, strict=True):
            mine = [supplier for supplier in suppliers if supplier.name == name]
            if mine:
                candidate.supplies.append(finding)
                candidate.main_for += [finding] * mine[0].main
            elif suppliers:
                candidate.unexplained.append(finding)
            else:
                candidate.unrecorded.append(finding)
        candidate.supplies_normal = [
            finding
            for finding, suppliers in zip(normal, supply_of_normal, strict=True)
            if any(supplier.name == name for supplier in suppliers)
        ]
        candidates.append(candidate)
    return sorted(candidates, key=lambda one: (-len(one.supplies), -len(one.main_for), one.name))
