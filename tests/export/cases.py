"""Development cases as records: our own, which are always there, and the shared ones beside the repository."""

import json
from pathlib import Path
from typing import Any

from pipeline.export.exam import Exam
from pipeline.record.model import Evidence, ExamRecord, Row

ROOT = Path(__file__).resolve().parents[2]
SHARED = ROOT.parent / "shared" / "cases" / "dev.jsonl"


def cases() -> list[dict[str, Any]]:
    files = [*sorted((ROOT / "tests" / "cases").glob("*.jsonl")), *([SHARED] if SHARED.is_file() else [])]
    return [json.loads(line) for file in files for line in file.read_text().splitlines() if line.strip()]


def record(case: dict[str, Any]) -> ExamRecord:
    """The case's rows, filled with what an engine would add, so that no field of a row stays at its default."""
    rows = []
    for at, wanted in enumerate(case["rows"]):
        unsaid = wanted["side"] == "unsaid"
        inferred = wanted["basis"] == "inferred"
        flags = ["side_unsaid"] * unsaid + ["inferred_normal"] * inferred
        rows.append(
            Row.model_validate(
                {
                    **wanted,
                    "side": "right" if unsaid else wanted["side"],
                    "expected_roots": ["L5", "S1"] if at % 2 else [],
                    "muscle": "tibialis_anterior" if at % 3 == 0 else None,
                    "nerve": "deep_peroneal" if at % 5 == 0 else None,
                    "confidence": round(0.4 + (at % 60) / 100, 3),
                    "confirm": bool(flags),
                    "flags": flags,
                    "alternatives": [{"slot": "value", "value": "4+", "probability": 0.125}] if at % 7 == 0 else [],
                    "evidence": [Evidence(start=at * 2.31, end=at * 2.31 + 1.7, heard="heard words", mended="words")],
                }
            )
        )
    return ExamRecord(rows=rows)


def exam(case: dict[str, Any], **about: Any) -> Exam:
    return Exam(record=record(case), **about)
