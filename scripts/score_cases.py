"""How well the engine reads the cases: python scripts/score_cases.py [--wrong] [FILE ...]

Prints for each file (default: all cases that are here) the share of wanted rows found, F1 of whole rows and of roots,
the share of wrong rows among those that nobody is asked to confirm (silent), and the shares to be confirmed one by one
(flagged) and as a group (grouped). In tests/cases the 1st, 3rd, 5th ... case of a file served development, the others
are held out of the fit of the confidence, and were read for the rules only when those had settled. `--wrong` lists each
row that is wrong, missed or not wanted.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from pipeline.engine import Engine
from tests.scoring import AUTHORED, DEMO, ELSEWHERE, Case, Match, Score, heard, matches, read_cases, score

FIELDS = ("manoeuvre", "side", "site", "value", "status")
HEADINGS = ("cases", "rows", "found", "f1", "roots", "silent", "flagged", "grouped")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("files", nargs="*", type=Path, metavar="FILE")
    parser.add_argument("--wrong", action="store_true", help="list each row that is not right")
    options = parser.parse_args()
    files = options.files or [file for file in (*AUTHORED, DEMO, ELSEWHERE) if file.exists()]
    engine = Engine()
    print(f"{'':24}" + "".join(f"{heading:>9}" for heading in HEADINGS))
    totals = {"development": Score(), "held out": Score()}
    for file in files:
        try:
            cases = read_cases(file)
        except (OSError, ValueError) as error:
            sys.exit(f"score_cases: {file}: {error}; name a file with one case a line")
        if file.resolve() not in AUTHORED:
            _line(file.name, _score(engine, cases, options.wrong))
            continue
        for part, half in (("development", cases[::2]), ("held out", cases[1::2])):
            found = _score(engine, half, options.wrong)
            totals[part] += found
            _line(f"{file.stem} {part}", found)
    for part, total in totals.items():
        if total.cases:
            _line(f"all {part}", total)


def _score(engine: Engine, cases: Sequence[Case], wrong: bool) -> Score:
    total = Score()
    for case in cases:
        rows = engine.structure(heard(case)).rows
        total += score(rows, case["rows"])
        for match in matches(rows, case["rows"]):
            if wrong and not match.right:
                print(f"{case['id']}: {_said(match)}")
    return total


def _said(match: Match) -> str:
    wanted, got = match.wanted, match.predicted
    parts = []
    if wanted is not None:
        parts.append(
            "wanted " + " ".join(str(wanted[name]) for name in ("manoeuvre", "side", "site", "value", "status"))
        )
    if got is not None:
        marks = f"to confirm: {', '.join(got.flags)}" if got.confirm else "SILENT"
        parts.append(f"got {got.manoeuvre} {got.side.value} {got.site} {got.value} {got.status.value} ({marks})")
    return "; ".join(parts)


def _line(name: str, found: Score) -> None:
    shares = (
        found.found_share,
        found.f1,
        found.roots_f1,
        found.silent_share,
        found.flagged_share,
        found.grouped_share,
    )
    print(f"{name:24}{found.cases:9}{found.wanted:9}" + "".join(f"{share:9.4f}" for share in shares))


if __name__ == "__main__":
    main()
