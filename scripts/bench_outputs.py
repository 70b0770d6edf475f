"""How long all outputs of a 60-minute teaching session take: prints one line for each, and the sum.

Usage: bench_outputs.py
"""

from __future__ import annotations

import platform
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from pipeline.export.codes import read_codes
from pipeline.export.comparison import write_comparison
from pipeline.export.fhir import bundle
from pipeline.export.note import note_as
from pipeline.export.scoring import scores_text
from pipeline.export.session import write_session
from pipeline.export.supply import supply_text
from pipeline.export.tables import table, to_csv, to_parquet
from pipeline.lexicon import load
from tests.export.sessions import hour


def main() -> None:
    exam, lexicon = hour(), load()
    words = sum(len(block.words) for block in exam.transcript.blocks)
    minutes = exam.transcript.blocks[-1].end / 60
    machine = f"{platform.machine()}, Python {platform.python_version()}"
    print(f"{minutes:.0f} minutes, {words} words, {len(exam.record.rows)} rows; {machine}")
    rows = exam.record.rows
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        steps: list[tuple[str, Callable[[], object]]] = [
            (
                "note (md, docx, pdf)",
                lambda: [note_as(exam, lexicon, one) for one in ("md", "docx", "pdf")],
            ),
            ("bundle (R4B, R5)", lambda: [bundle(exam, lexicon, one, read_codes()) for one in ("R4B", "R5")]),
            (
                "table (csv, parquet)",
                lambda: [to_csv(table(exam, lexicon)), to_parquet(table(exam, lexicon))],
            ),
            ("teaching session", lambda: write_session(exam, lexicon, folder / "session")),
            (
                "comparison with itself",
                lambda: write_comparison([exam, exam], ["A", "B"], lexicon, folder / "comparison"),
            ),
            ("scores and supply", lambda: [scores_text(rows), supply_text(rows, lexicon)]),
        ]
        total = total_busy = 0.0
        for label, work in steps:
            start, busy = time.perf_counter(), time.process_time()
            work()
            taken, busy = time.perf_counter() - start, time.process_time() - busy
            total, total_busy = total + taken, total_busy + busy
            print(f"{label:24} {taken:6.2f} s, processor {busy:6.2f} s")
        print(f"{'all':24} {total:6.2f} s, processor {total_busy:6.2f} s")


if __name__ == "__main__":
    main()
