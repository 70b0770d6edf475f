"""How long the review page takes for a long record: the page itself, and one decision.

python scripts/bench_review.py
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from fastapi.testclient import TestClient

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from pipeline.record.model import Alternative, Evidence, ExamRecord, Row, Side
from pipeline.record.store import Store
from pipeline.review.access import COOKIE, Doorkeeper, Session
from pipeline.review.app import create_app

SHORT, LONG, TIMES = 40, 400, 15
HOST = "127.0.0.1:8741"


def measure() -> dict[str, float]:
    """Median seconds for a page and for a decision on a short and on a long record, and how long is to short."""
    found: dict[str, float] = {}
    with tempfile.TemporaryDirectory() as folder, Store.open(Path(folder) / "store") as store:
        doorkeeper = Doorkeeper(Path(folder) / "secret")
        app = create_app(store, doorkeeper, frozenset({HOST}))
        headers = {"Origin": f"http://{HOST}", "Cookie": f"{COOKIE}={doorkeeper.token(Session('Reviewer'))}"}
        client = TestClient(app, base_url=f"http://{HOST}", headers=headers, follow_redirects=False)
        for rows in (SHORT, LONG):
            exam = store.add(_record(rows), title="Benchmark")
            address, revisions = f"/exams/{exam}", iter(range(1, TIMES + 2))

            def page(address: str = address) -> None:
                _expect(client.get(address).status_code, 200)

            def decision(address: str = address, revisions: object = revisions) -> None:
                seen = next(revisions)  # type: ignore[call-overload]
                _expect(client.post(f"{address}/items/row-{seen}/confirm", data={"seen": seen}).status_code, 303)

            found[f"page, {rows} rows"] = _median(page)
            found[f"decision, {rows} rows"] = _median(decision)
    found["page, long to short"] = found[f"page, {LONG} rows"] / found[f"page, {SHORT} rows"]
    found["decision, long to short"] = found[f"decision, {LONG} rows"] / found[f"decision, {SHORT} rows"]
    return found


def _median(act: Callable[[], None]) -> float:
    act()  # the first time compiles templates and queries
    taken = []
    for _ in range(TIMES):
        start = time.perf_counter()
        act()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def _record(rows: int) -> ExamRecord:
    """Rows in pairs of sides, each open, with an alternative and a span of speech."""
    sides = (Side.RIGHT, Side.LEFT)
    return ExamRecord(
        rows=[
            Row(
                manoeuvre=f"movement_{number // 2}",
                side=sides[number % 2],
                value="4",
                confidence=0.7,
                confirm=True,
                flags=["grade_uncertain"],
                alternatives=[Alternative(slot="value", value="4+", probability=0.2)],
                evidence=[Evidence(start=number, end=number + 1, heard="four", mended="four")],
            )
            for number in range(rows)
        ]
    )


def _expect(status: int, wanted: int) -> None:
    if status != wanted:
        raise RuntimeError(f"the page answered {status}")


def main() -> None:
    for name, value in measure().items():
        print(f"{name:28} " + (f"{value:8.2f} ×" if "to short" in name else f"{value * 1000:8.0f} ms"))


if __name__ == "__main__":
    main()
