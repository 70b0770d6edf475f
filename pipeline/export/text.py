"""The record for a terminal: taken in at a glance, in 80 columns, with nothing said by colour alone."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from io import StringIO

from rich.console import Console
from rich.table import Table
from rich.text import Text

from pipeline.export.findings import Findings, Judgement
from pipeline.export.wording import FLAGS, REASONS, REGION_TITLES, clock, place, plain, why
from pipeline.lexicon import Lexicon
from pipeline.record.model import ExamRecord, Row, Side, Status, Unheard, Unplaced

WIDTH = 80
CAUTION = (
    "Aid to documentation, not a diagnosis or a medical device. A licensed clinician checks and signs. Local rules on "
    "consent, recording and data protection apply."
)

_INFERRED = ["inferred_normal"]
_UNSURE = "yellow"


def exam_text(record: ExamRecord, lexicon: Lexicon, title: str = "Examination", *, colour: bool = False) -> str:
    """The record as lines of at most `WIDTH` columns; `colour` adds terminal colours to what the words say already."""
    return _Sheet(record, lexicon, colour).text(title)


class _Sheet:
    def __init__(self, record: ExamRecord, lexicon: Lexicon, colour: bool) -> None:
        self._record = record
        self._lexicon = lexicon
        self._findings = Findings(record.rows, lexicon)
        self._rows = [row for section in self._findings.sections for row in section.rows]
        self._together = [row for row in self._rows if row.confirm and row.flags == _INFERRED]
        self._flagged: dict[str, list[Row]] = {}
        for row in self._rows:
            if row.confirm and row.flags != _INFERRED:
                for reason in _reasons(row):
                    self._flagged.setdefault(reason, []).append(row)
        self._numbers = {reason: number for number, reason in enumerate(self._flagged, 1)}
        self._out = StringIO()
        self._console = Console(
            file=self._out, width=WIDTH, force_terminal=colour, color_system="standard" if colour else None,
            no_color=not colour, legacy_windows=False, highlight=False, markup=False, emoji=False,
        )  # fmt: skip

    def text(self, title: str) -> str:
        self._print(_heading(f"{_clean(title)}: unsigned draft"))
        self._print(Text(self._counts()))
        if not self._rows:
            self._print(Text("No result for the patient was heard."))
        self._tables()
        self._list("To confirm, one by one", self._flagged_items(), _UNSURE)
        self._list(
            "To confirm together: no result was stated, normal is inferred from the reaction",
            [("", group) for group in _by_side(_sides(self._together))],
            _UNSURE,
        )
        self._list("Not examined", self._omitted_items())
        self._list("Never mentioned, of the core list", self._missing_items())
        self._list("To clear: looks like a result, but has no place", map(_loose_item, self._record.unplaced), _UNSURE)
        self._list("To clear: speech that gave no words", map(_unheard_item, self._record.unheard), _UNSURE)
        self._print(Text())
        self._print(Text(CAUTION))
        return "\n".join(line.rstrip() for line in self._out.getvalue().splitlines()) + "\n"

    def _counts(self) -> str:
        singly = sum(row.confirm for row in self._rows) - len(self._together)
        clear = len(self._record.unplaced) + len(self._record.unheard)
        entries = f"{len(self._rows)} {'entry' if len(self._rows) == 1 else 'entries'}"
        open_ones = {"to confirm": singly, "to confirm together": len(self._together), "to clear": clear}
        return ", ".join([entries, *(f"{number} {what}" for what, number in open_ones.items() if number)])

    def _print(self, what: Text | Table) -> None:
        self._console.print(what)

    def _tables(self) -> None:
        judgements = set()
        for section in self._findings.sections:
            lines = [line for line in section.lines if any(row.status is Status.EXAMINED for row in line.rows)]
            table = Table.grid(padding=(0, 1))
            for width in (33, 22, 22):
                table.add_column(width=width, overflow="fold")
            sides = ("Right", "Left") if any(line.right or line.left for line in lines) else ()
            table.add_row(*map(_heading, (section.title, *sides)))
            for line in lines:
                judgements |= {self._findings.judge(row) for row in line.rows}
                if line.right or line.left:
                    cells = [self._cell(row) if row else Text() for row in (line.right, line.left)]
                    table.add_row(Text(f"  {line.name}"), *cells)
            if lines:
                self._print(Text())
                self._print(table)
            for line in lines:
                if line.midline:
                    self._print(Text(f"  {line.name}: ") + self._cell(line.midline))
        if Judgement.ABNORMAL in judgements:
            self._print(Text("\n  * not the normal result"))

    def _cell(self, row: Row) -> Text:
        if row.status is Status.NOT_EXAMINED:
            return Text("not examined")
        abnormal = self._findings.judge(row) is Judgement.ABNORMAL
        cell = Text()
        cell.append(row.value or "", style="bold" if abnormal else "")
        cell.append(" *" if abnormal else "")
        cell.append(f" {' '.join(row.roots)}" if row.roots else "", style="dim")
        # A side that was guessed stands in a column all the same.
        cell.append(" side unsaid" if "side_unsaid" in row.flags else "", style=_UNSURE)
        cell.append(self._mark(row), style=_UNSURE)
        return cell

    def _mark(self, row: Row) -> str:
        if not row.confirm:
            return ""
        if row.flags == _INFERRED:
            return " inferred"
        numbers = sorted(self._numbers[reason] for reason in _reasons(row))
        return f" [{','.join(map(str, numbers))}]"

    def _flagged_items(self) -> list[tuple[str, str]]:
        """Each reason, and below it its entries by the time at which they were said."""
        items = []
        for reason, rows in self._flagged.items():
            items.append((f"[{self._numbers[reason]}]", reason))
            times: dict[str, list[Row]] = {}
            for row in sorted(rows, key=_said_at):
                times.setdefault(clock(_said_at(row)), []).append(row)
            for time, said in times.items():
                items += [("", f"{time} {group}") for group in _by_side(_sides(said))]
        return items

    def _omitted_items(self) -> list[tuple[str, str]]:
        omitted: dict[str, list[Row]] = {}
        for row in self._rows:
            if row.reason:
                omitted.setdefault(REASONS[row.reason] + self._mark(row), []).append(row)
        return [("", f"{reason}, {group}") for reason, rows in omitted.items() for group in _by_side(_sides(rows))]

    def _missing_items(self) -> list[tuple[str, str]]:
        """The core list of each limb, without what has a row; a limb of whose list nothing was said is not in scope."""
        said = {(row.manoeuvre, row.side) for row in self._rows}
        items: list[tuple[str, str]] = []
        for limb in ("upper_limb", "lower_limb"):
            core = [entry.id for entry in self._lexicon.manoeuvres if entry.core and entry.region == limb]
            if not any(name in core for name, _ in said):
                continue
            sides = {
                plain(name): [side.value for side in (Side.RIGHT, Side.LEFT) if (name, side) not in said]
                for name in core
            }
            missing = {name: each for name, each in sides.items() if each}
            items += [("", f"{REGION_TITLES[limb]}, {group}") for group in _by_side(missing.items())]
        return items

    def _list(self, title: str, items: Iterable[tuple[str, str]], style: str = "") -> None:
        """Nothing where there are no items."""
        table = Table.grid(padding=(0, 1))
        for mark, text in items:
            table.add_row("", Text(mark, style=style), Text(text, overflow="fold"))
        if table.row_count:
            self._print(Text())
            self._print(_heading(title, style))
            self._print(table)


def _heading(words: str, style: str = "") -> Text:
    return Text(words, style=f"bold {style}")


def _reasons(row: Row) -> list[str]:
    return [FLAGS.get(flag, plain(flag)) for flag in row.flags] or [why(row)]


def _said_at(row: Row) -> float:
    return row.evidence[0].start if row.evidence else 0.0


def _sides(rows: Iterable[Row]) -> list[tuple[str, list[str]]]:
    """Each place with its sides; one that has rows without a side too stands there once more, with no side."""
    sides: dict[tuple[str, bool], list[str]] = {}
    for row in rows:
        midline = row.side is Side.MIDLINE
        sides.setdefault((place(row), midline), []).extend([] if midline else [row.side.value])
    return [(name, each) for (name, _), each in sides.items()]


def _by_side(sides: Iterable[tuple[str, Sequence[str]]]) -> list[str]:
    """Places that share their sides: "right: hip flexion, knee flexion", "right and left: knee jerk", "gait"."""
    places: dict[str, list[str]] = {}
    for name, each in sides:
        places.setdefault(" and ".join(each), []).append(name)
    return [f"{shared}: {', '.join(names)}".removeprefix(": ") for shared, names in places.items()]


def _loose_item(entry: Unplaced) -> tuple[str, str]:
    return _times(entry), f'"{_clean(entry.text)}": {_clean(entry.reason)}'


def _unheard_item(entry: Unheard) -> tuple[str, str]:
    return _times(entry), _clean(entry.reason)


def _times(entry: Unplaced | Unheard) -> str:
    return f"{clock(entry.start)}-{clock(entry.end)}"


def _clean(text: str) -> str:
    """Without control characters, which a terminal would obey."""
    return "".join(letter if letter.isprintable() else " " for letter in text)
