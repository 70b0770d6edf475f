"""How long the review page takes: the page itself, and a decision with the page that follows it.

The long record is a session of 60 minutes with its sound, its transcript and 400 rows, all of them open.

python scripts/bench_review.py
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
import wave
from collections.abc import Callable
from pathlib import Path

import numpy as np
from fastapi.testclient import TestClient

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from pipeline.record.model import Alternative, ExamRecord, Row
from pipeline.record.store import Store
from pipeline.review.access import COOKIE, Doorkeeper, Session
from pipeline.review.app import create_app
from tests.export.sessions import hour

SHORT, LONG, TIMES = 40, 400, 15
HOST, RATE = "127.0.0.1:8741", 16_000


def measure() -> dict[str, tuple[float, float]]:
    """Median seconds, by the clock and of the processor, for a page and a decision on a short and on a long record."""
    found: dict[str, tuple[float, float]] = {}
    session = hour()
    rows = [_open(row) for row in session.record.rows]
    with tempfile.TemporaryDirectory() as folder, Store.open(Path(folder) / "store") as store:
        doorkeeper = Doorkeeper(Path(folder) / "secret")
        app = create_app(store, doorkeeper, frozenset({HOST}))
        client = TestClient(app, base_url=f"http://{HOST}", headers={"Origin": f"http://{HOST}"})
        client.cookies.set(COOKIE, doorkeeper.token(Session("Reviewer")))
        short = store.add(ExamRecord(rows=rows[:SHORT]), title="Short")
        sound = _sound(Path(folder) / "hour.wav", session.transcript.blocks[-1].end)
        long = store.add(ExamRecord(rows=rows[:LONG]), title="Long", audio=sound, transcript=session.transcript)
        for exam, count in ((short, SHORT), (long, LONG)):
            address, revisions = f"/exams/{exam}", iter(range(1, TIMES + 2))

            def page(address: str = address) -> None:
                _expect(client.get(address).status_code, 200)

            def decision(address: str = address, revisions: object = revisions) -> None:
                seen = next(revisions)  # type: ignore[call-overload]
                _expect(client.post(f"{address}/items/row-{seen}/confirm", data={"seen": seen}).status_code, 200)

            found[f"page, {count} rows"] = _median(page)
            found[f"decision and next page, {count} rows"] = _median(decision)
    return found


def _median(act: Callable[[], None]) -> tuple[float, float]:
    act()  # the first time compiles templates and queries
    clock, processor = [], []
    for _ in range(TIMES):
        start, busy = time.perf_counter(), time.process_time()
        act()
        clock.append(time.perf_counter() - start)
        processor.append(time.process_time() - busy)
    return statistics.median(clock), statistics.median(processor)


def _open(row: Row) -> Row:
    """The row with a doubt and an alternative."""
    doubt = {"confirm": True, "flags": ["grade_uncertain"], "confidence": 0.7}
    return row.model_copy(update={**doubt, "alternatives": [Alternative(slot="value", value="4+", probability=0.2)]})


def _sound(path: Path, seconds: float) -> Path:
    """Soft noise as a WAV file."""
    noise = np.random.default_rng(1).normal(0, 500, RATE)
    with wave.open(str(path), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(RATE)
        for _ in range(int(seconds) + 1):
            out.writeframes(noise.astype("<i2").tobytes())
    return path


def _expect(status: int, wanted: int) -> None:
    if status != wanted:
        raise RuntimeError(f"the page answered {status}")


def main() -> None:
    for name, (clock, processor) in measure().items():
        print(f"{name:36} {clock * 1000:6.0f} ms, processor {processor * 1000:6.0f} ms")


if __name__ == "__main__":
    main()
