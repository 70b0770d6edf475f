"""Rows as a table for research: CSV or Parquet, with a data dictionary, de-identified where asked for."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

from pipeline.export.exam import Exam, ExportError
from pipeline.export.findings import Findings
from pipeline.lexicon import Lexicon
from pipeline.record.model import Row

Kind = Literal["text", "list", "number", "truth"]


@dataclass(frozen=True)
class Column:
    """A column of the table. `identifying` columns are left out of a de-identified table."""

    name: str
    kind: Kind
    meaning: str
    value: Callable[[Exam, Row, Findings, float], Any]
    identifying: bool = False


def _evidence(row: Row, name: str) -> list[Any]:
    return [getattr(span, name) for span in row.evidence]


COLUMNS = (
    Column(
        "exam",
        "text",
        "identifier of the examination; empty for one that is not kept",
        lambda e, *_: e.identifier,
        True,
    ),
    Column("examiner", "text", "who spoke", lambda e, *_: e.examiner, True),
    Column("recorded", "text", "when, ISO 8601, UTC", lambda e, *_: e.created, True),
    Column("signed", "truth", "whether a clinician signed the record", lambda e, *_: e.signed),
    Column("section", "text", "part of the examination, as in the lexicon", lambda e, r, f, _: f.section(r)),
    Column(
        "region",
        "text",
        "lower_limb, upper_limb, trunk or whole",
        lambda e, r, f, _: entry.region if (entry := f.manoeuvre(r)) else None,
    ),
    Column("manoeuvre", "text", "what was examined", lambda e, r, *_: r.manoeuvre),
    Column("side", "text", "left, right or midline", lambda e, r, *_: r.side.value),
    Column("site", "text", "dermatome, joint or limb", lambda e, r, *_: r.site),
    Column("status", "text", "examined or not_examined", lambda e, r, *_: r.status.value),
    Column("value", "text", "the result; empty when not examined", lambda e, r, *_: r.value),
    Column("reason", "text", "why it was not examined", lambda e, r, *_: r.reason.value if r.reason else None),
    Column(
        "scale",
        "text",
        "scale of the value, as in the lexicon",
        lambda e, r, f, _: scale.id if (scale := f.scale(r)) else None,
    ),
    Column(
        "judgement",
        "text",
        "normal, abnormal, measured or not_examined, by the scale",
        lambda e, r, f, _: f.judge(r).value,
    ),
    Column("roots", "list", "roots that the examiner said", lambda e, r, *_: r.roots),
    Column("expected_roots", "list", "roots that the lexicon expects", lambda e, r, *_: r.expected_roots),
    Column("muscle", "text", "muscle that the examiner named", lambda e, r, *_: r.muscle),
    Column("nerve", "text", "nerve that the examiner named", lambda e, r, *_: r.nerve),
    Column("basis", "text", "stated, or inferred from a reaction", lambda e, r, *_: r.basis.value),
    Column(
        "confidence", "number", "calibrated probability (0 to 1) that the row is right", lambda e, r, *_: r.confidence
    ),
    Column("confirm", "truth", "whether a person must still confirm the row", lambda e, r, *_: r.confirm),
    Column("flags", "list", "why it must be confirmed", lambda e, r, *_: r.flags),
    Column(
        "start",
        "list",
        "start of each span of evidence, in seconds",
        lambda e, r, _, t: [s - t for s in _evidence(r, "start")],
    ),
    Column(
        "end",
        "list",
        "end of each span of evidence, in seconds",
        lambda e, r, _, t: [s - t for s in _evidence(r, "end")],
    ),
    Column("heard", "list", "words as heard, for each span", lambda e, r, *_: _evidence(r, "heard"), True),
    Column("mended", "list", "words as mended, for each span", lambda e, r, *_: _evidence(r, "mended"), True),
)
"""All columns. De-identified, the times of the evidence begin at 0 with the first evidence of the examination."""

SEPARATOR = "|"
"""Between the entries of a list in CSV."""


def table(exam: Exam, lexicon: Lexicon, deidentified: bool = False) -> list[dict[str, Any]]:
    """The rows with all columns; de-identified without words as heard, names, identifiers and clock times."""
    findings = Findings(exam.record.rows, lexicon)
    starts = [span.start for row in exam.record.rows for span in row.evidence]
    shift = min(starts, default=0.0) if deidentified else 0.0
    return [
        {column.name: column.value(exam, row, findings, shift) for column in _columns(deidentified)}
        for row in exam.record.rows
    ]


def to_csv(rows: list[dict[str, Any]], deidentified: bool = False) -> str:
    """CSV (RFC 4180, UTF-8): lists are joined by "|", times have milliseconds, nothing is an empty field."""
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, [column.name for column in _columns(deidentified)])
    writer.writeheader()
    writer.writerows({name: _field(value) for name, value in row.items()} for row in rows)
    return text.getvalue()


def to_parquet(rows: list[dict[str, Any]], deidentified: bool = False) -> bytes:
    """Parquet with typed columns; each carries its meaning. Raises `ExportError` where pyarrow is not installed."""
    try:
        import pyarrow
        import pyarrow.parquet
    except ImportError:
        raise ExportError("Parquet needs pyarrow; install it, or choose --format csv") from None
    kinds = {
        "text": pyarrow.string(),
        "number": pyarrow.float64(),
        "truth": pyarrow.bool_(),
        "list": pyarrow.list_(pyarrow.string()),
    }
    times = pyarrow.list_(pyarrow.float64())
    schema = pyarrow.schema(
        [
            pyarrow.field(
                column.name,
                times if column.name in ("start", "end") else kinds[column.kind],
                metadata={"description": column.meaning},
            )
            for column in _columns(deidentified)
        ]
    )
    written = io.BytesIO()
    pyarrow.parquet.write_table(pyarrow.Table.from_pylist(rows, schema=schema), written)
    return written.getvalue()


def dictionary(deidentified: bool = False) -> str:
    """The data dictionary as CSV: column, kind, meaning."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(["column", "kind", "meaning"])
    writer.writerows([column.name, column.kind, column.meaning] for column in _columns(deidentified))
    return text.getvalue()


def _columns(deidentified: bool) -> list[Column]:
    return [column for column in COLUMNS if not (deidentified and column.identifying)]


def _field(value: Any) -> Any:
    if isinstance(value, list):
        return SEPARATOR.join(f"{one:.3f}" if isinstance(one, float) else str(one) for one in value)
    return str(value).lower() if isinstance(value, bool) else value
