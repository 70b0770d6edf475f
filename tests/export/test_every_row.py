"""No row is lost on the way to a reader: whatever a record holds, text, documents, tables, bundles and page show it."""

import csv
import html
import io
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from docx import Document
from hypothesis import given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from pipeline.export.codes import Codes
from pipeline.export.comparison import comparison
from pipeline.export.document import Page, docx
from pipeline.export.exam import Exam
from pipeline.export.fhir import bundle, rows_of
from pipeline.export.note import note
from pipeline.export.session import handout
from pipeline.export.supply import supply_text
from pipeline.export.tables import table, to_csv
from pipeline.export.text import exam_text
from pipeline.export.wording import REASONS, heading, place, result
from pipeline.lexicon import load
from pipeline.record.model import Basis, ExamRecord, Reason, Row, Side, Status
from pipeline.record.store import Store
from pipeline.review import wording
from pipeline.review.access import COOKIE, Doorkeeper, Session
from pipeline.review.app import create_app

LEXICON = load()
MANOEUVRES = ["heel_walk", "knee_jerk", "light_touch", "tone", "hip_flexion", "straight_leg_raise", "not_in_lexicon"]
SITES = [None, "L5", "S4-5", "great_toe", "leg", "not_a_site"]


@st.composite
def records(draw: st.DrawFn) -> ExamRecord:
    """Few manoeuvres and sites, so that rows meet; each result is a word that stands nowhere else."""
    rows = []
    for at in range(draw(st.integers(1, 9))):
        examined = draw(st.booleans())
        flags = draw(st.sampled_from([[], ["side_unsaid"], ["inferred_normal"], ["not_a_flag", "contradiction"]]))
        rows.append(
            Row(
                manoeuvre=draw(st.sampled_from(MANOEUVRES)),
                side=draw(st.sampled_from(Side)),
                site=draw(st.sampled_from(SITES)),
                value=f"q{at}q" if examined else None,
                status=Status.EXAMINED if examined else Status.NOT_EXAMINED,
                reason=None if examined else draw(st.sampled_from(Reason)),
                basis=draw(st.sampled_from(Basis)),
                roots=draw(st.sampled_from([[], ["L4", "L5"]])),
                confirm=bool(flags),
                flags=flags,
            )
        )
    return ExamRecord(rows=rows)


def examined(record: ExamRecord) -> list[str]:
    return [row.value for row in record.rows if row.value]


def marks(text: str) -> Counter[str]:
    return Counter(re.findall(r"\bq\dq\b", text))


def plain(markdown: str) -> str:
    return markdown.replace("\\", "").replace("*", "")


def side_by_side(lines: list[list[str]]) -> Counter[tuple[str, str, str]]:
    """(what, side, result) of lines of two or three cells: without a side, or with the right and the left."""
    found: Counter[tuple[str, str, str]] = Counter()
    for what, *cells in lines:
        sides = ["midline"] if len(cells) == 1 else ["right", "left"]
        found.update((what, side, cell) for side, cell in zip(sides, cells, strict=True) if cell != "–")
    return found


def wanted(record: ExamRecord) -> Counter[tuple[str, str, str]]:
    return Counter((heading(place(row)), row.side.value, result(row)) for row in record.rows)


@given(records())
@settings(deadline=None)
def test_the_note(record: ExamRecord) -> None:
    text = note(Exam(record), LEXICON)
    body, _, rest = plain(text).partition("\n## Not examined")
    body = body.partition("\n## To be confirmed")[0].partition("\n## Scales")[0]
    lines = [line.strip("| ").split(" | ") for line in body.splitlines() if line.startswith("| ")]
    lines = [line for line in lines if line[0] not in ("Examined", "---")]
    lines += [line[2:].split(": ", 1) for line in body.splitlines() if line.startswith("- ")]
    assert side_by_side(lines) == wanted(record)
    for row in record.rows:
        side = "" if row.side is Side.MIDLINE else f", {row.side.value}"
        if row.status is Status.NOT_EXAMINED:
            assert f"- {heading(place(row))}{side}: {result(row)}" in rest
        if row.confirm:
            assert f"- {heading(place(row))}{side}, {row.value or 'not examined'}: " in plain(text)
    document = Document(io.BytesIO(docx(text, Page("Note"))))
    cells = [cell.text for grid in document.tables for line in grid.rows for cell in line.cells]
    paragraphs = [paragraph.text for paragraph in document.paragraphs]
    assert set(marks(" ".join(cells + paragraphs))) == set(examined(record))


@given(records())
@settings(deadline=None)
def test_the_text(record: ExamRecord) -> None:
    text = exam_text(record, LEXICON)
    tables, _, omitted = text.partition("\nNot examined\n")
    assert marks(text) == Counter(examined(record))
    for line in tables.splitlines():
        for value in marks(line):
            (row,) = [row for row in record.rows if row.value == value]
            if row.side is Side.MIDLINE:
                assert line.startswith(f"  {heading(place(row))}: {value}")
            else:  # a long name goes on below
                assert heading(place(row)).startswith(line[2:34].strip())
                assert (line.index(value) >= 57) == (row.side is Side.LEFT)
    said = " ".join(omitted.split())
    for row in record.rows:
        if row.reason:
            places = rf"[^:]*\b{row.side.value}\b[^:]*: " if row.side is not Side.MIDLINE else r", "
            assert re.search(rf"{re.escape(REASONS[row.reason])}[^:]*?{places}[^:]*{re.escape(place(row))}", said)


@given(records())
@settings(deadline=None)
def test_tables_bundles_and_the_handout(record: ExamRecord) -> None:
    exam = Exam(record)
    rows = list(csv.DictReader(io.StringIO(to_csv(table(exam, LEXICON)))))
    assert [(row["manoeuvre"], row["side"], row["site"], row["value"]) for row in rows] == [
        (row.manoeuvre, row.side.value, row.site or "", row.value or "") for row in record.rows
    ]
    made = bundle(exam, LEXICON, "R5", Codes())
    assert rows_of(made, "R5") == record.rows
    narrative = " ".join(re.findall(r"<li>(.*?)</li>", made))
    lines = [line.strip("| ").split(" | ") for line in plain(handout(exam, LEXICON, [])).splitlines() if "|" in line]
    shown = Counter(
        (line[0], cell) for line in lines if line[0] not in ("Examined", "---") for cell in line[2].split("; ")
    )
    for what, side, found in wanted(record):
        assert f"{side} {html.escape(found)}" in narrative
        assert shown[what, found if side == "midline" else f"{side}: {found}"] >= 1


@given(records())
@settings(deadline=None)
def test_changed_rows_in_the_table_of_supply_and_the_comparison(record: ExamRecord) -> None:
    """No result of these is a normal one."""
    assert set(marks(supply_text(record.rows, LEXICON))) == set(examined(record))
    both = [Exam(record), Exam(record)]
    assert set(marks(comparison(both, ["first", "second"], LEXICON))) == set(examined(record))


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Store, TestClient]]:
    folder: Path = tmp_path_factory.mktemp("page")
    keeper = Doorkeeper(folder / "secret")
    with Store.open(folder) as store:
        client = TestClient(create_app(store, keeper, frozenset({"testserver"})))
        client.cookies.set(COOKIE, keeper.token(Session("Dr Ada")))
        yield store, client


@given(record=records())
@settings(deadline=None, max_examples=40)
def test_the_review_page(record: ExamRecord, page: tuple[Store, TestClient]) -> None:
    store, client = page
    exam = store.add(record, title="T")
    shown = client.get(f"/exams/{exam}")
    assert shown.status_code == 200
    grid = shown.text.partition('<table class="record">')[2].partition("</table>")[0]
    found: Counter[tuple[str, str, str]] = Counter()
    for what, rest in re.findall(r'<tr><th scope="row">(.*?)</th>(.*?)</tr>', grid, re.DOTALL):
        cells = re.findall(r"<td.*?</td>", rest, re.DOTALL)
        for side, cell in zip(["midline"] if len(cells) == 1 else ["right", "left"], cells, strict=True):
            found.update(
                (html.unescape(what), side, html.unescape(value))
                for value in re.findall(r'<span class="value[^>]*>(.*?)</span>', cell)
            )
    assert found == Counter((wording.subject(row), row.side.value, wording.finding(row)) for row in record.rows)
    queue = re.findall(r'data-item="(row-\d+)"', shown.text)
    group = re.findall(r'name="items" value="(row-\d+)"', client.get(f"/exams/{exam}?item=group").text)
    assert sorted(queue + group) == sorted(item.id for item in store.exam(exam).open_items)
