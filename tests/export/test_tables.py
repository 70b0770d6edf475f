"""Tables for research hold every row, and de-identified ones nothing that points to a person."""

import csv
import io

import pyarrow.parquet
import pytest

from pipeline.export.exam import Exam
from pipeline.export.tables import COLUMNS, dictionary, table, to_csv, to_parquet
from pipeline.lexicon import load
from pipeline.record.model import Evidence, ExamRecord, Row, Side
from tests.export.cases import cases, exam

LEXICON = load()
CASES = {case["id"]: case for case in cases()}
KEPT = (
    "manoeuvre",
    "side",
    "site",
    "value",
    "roots",
    "status",
    "reason",
    "basis",
    "muscle",
    "nerve",
    "confidence",
    "confirm",
)


def read(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


@pytest.mark.parametrize("case_id", CASES)
def test_csv_holds_every_row_of_a_case(case_id: str) -> None:
    shown = exam(CASES[case_id])
    found = read(to_csv(table(shown, LEXICON)))
    wanted = [row.model_dump(mode="json") for row in shown.record.rows]
    for got, want in zip(found, wanted, strict=True):
        for name in ("manoeuvre", "side", "site", "value", "status", "reason", "basis", "muscle", "nerve"):
            assert got[name] == (want[name] or "")
        assert got["roots"] == "|".join(want["roots"])
        assert float(got["confidence"]) == want["confidence"]
        assert got["confirm"] == str(want["confirm"]).lower()


def test_parquet_holds_the_same_with_types_and_meanings() -> None:
    shown = exam(CASES["a1-01"], identifier="x1")
    found = pyarrow.parquet.read_table(io.BytesIO(to_parquet(table(shown, LEXICON))))
    rows = [row.model_dump(mode="json") for row in shown.record.rows]
    assert [{name: one[name] for name in KEPT} for one in found.to_pylist()] == [
        {name: row[name] for name in KEPT} for row in rows
    ]
    assert found.column("start").to_pylist() == [[span["start"] for span in row["evidence"]] for row in rows]
    assert found.schema.field("roots").metadata == {b"description": b"roots that the examiner said"}


def test_a_deidentified_table_holds_no_word_name_or_clock_time() -> None:
    said = Evidence(start=61.5, end=63.25, heard="zebrafinch said", mended="zebrafinch")
    row = Row(manoeuvre="hip_flexion", side=Side.LEFT, value="4", evidence=[said])
    later = row.model_copy(
        update={"side": Side.RIGHT, "evidence": [Evidence(start=70, end=71, heard="zebrafinch", mended="")]}
    )
    shown = Exam(
        ExamRecord(rows=[row, later]),
        title="zebrafinch",
        identifier="zebrafinch",
        examiner="zebrafinch",
        created="2026-03-04T10",
    )
    text = to_csv(table(shown, LEXICON, True), True)
    assert "zebrafinch" not in text and "2026" not in text
    assert b"zebrafinch" not in to_parquet(table(shown, LEXICON, True), True)
    assert [(one["start"], one["end"]) for one in read(text)] == [("0.000", "1.750"), ("8.500", "9.500")]
    named = to_csv(table(shown, LEXICON))
    assert named.count("zebrafinch") == 7 and "61.500" in named


def test_the_dictionary_describes_each_column() -> None:
    for deidentified in (False, True):
        columns = [line["column"] for line in read(dictionary(deidentified))]
        assert columns == list(read(to_csv(table(exam(CASES["a1-01"]), LEXICON, deidentified), deidentified))[0])
    assert len(columns) == len(COLUMNS) - 5
