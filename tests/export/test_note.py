"""The note says all that the record holds, in three forms, and says when it is not signed."""

import io
import re
from pathlib import Path

import pytest
from docx import Document

from pipeline.export.exam import Exam, ExportError
from pipeline.export.findings import Findings, Judgement
from pipeline.export.note import note, note_as
from pipeline.export.templating import BUILT_IN
from pipeline.export.wording import UNSIGNED, result
from pipeline.lexicon import load
from pipeline.record.model import ExamRecord, Row, Unheard, Unplaced
from pipeline.record.views import Signed
from tests.export.cases import cases, exam
from tests.export.readers import office_pdf, pdf_info, pdf_pages, words

LEXICON = load()
CASES = {case["id"]: case for case in cases()}
SIGNED = Signed("2026-03-04T11:00:00+00:00", "Dr A. Example", "neurologist", "Checked.", "ab12")


def row(manoeuvre: str, side: str, value: str | None, **more: object) -> Row:
    return Row.model_validate({"manoeuvre": manoeuvre, "side": side, "value": value, **more})


def table_cells(text: str) -> list[list[str]]:
    lines = [line for line in text.splitlines() if line.startswith("|") and "---" not in line]
    return [[cell.strip().replace("*", "").replace("\\", "") for cell in line.strip("|").split("|")] for line in lines]


@pytest.mark.parametrize("case_id", CASES)
def test_every_row_of_a_case_is_in_its_note(case_id: str) -> None:
    shown = exam(CASES[case_id])
    text = note(shown, LEXICON)
    cells = [cell for line in table_cells(text) for cell in line[1:]]
    plain = text.replace("*", "").replace("\\", "")
    cells += [line.partition(": ")[2] for line in plain.splitlines() if line.startswith("- ")]
    for wanted in shown.record.rows:
        cells.remove(result(wanted))


def test_left_and_right_stand_in_their_own_columns() -> None:
    left, right = row("ankle_dorsiflexion", "left", "4-", roots=["L4", "L5"]), row("ankle_dorsiflexion", "right", "5")
    text = note(Exam(ExamRecord(rows=[left, right])), LEXICON)
    assert ["Ankle dorsiflexion", "5", "4- (L4, L5)"] in table_cells(text)
    assert "| Ankle dorsiflexion | 5 | **4- (L4, L5)** |" in text


def test_sections_follow_the_order_of_an_examination() -> None:
    text = note(exam(CASES["a1-01"]), LEXICON)
    titles = re.findall(r"^## (.+)$", text, re.MULTILINE)
    order = ["Inspection", "Tone", "Power", "Reflexes", "Sensation", "Nerve tension", "Coordination", "Gait"]
    assert [title for title in titles if title in order] == [title for title in order if title in titles]
    assert len(set(titles) & set(order)) >= 6


def test_the_summary_begins_with_what_is_abnormal() -> None:
    record = ExamRecord(
        rows=[
            row("hip_flexion", "right", "5"),
            row("knee_jerk", "right", "2+"),
            row("straight_leg_raise", "left", "40 degrees"),
            row("great_toe_extension", "left", "3", confirm=True, flags=["misheard_term"]),
        ]
    )
    summary = Findings(record.rows, LEXICON).summary()
    assert summary == [
        "Abnormal: great toe extension left 3 (unconfirmed).",
        "Measured: straight leg raise left 40 degrees.",
        "All recorded findings are normal in: reflexes.",
    ]


def test_a_section_with_an_unconfirmed_normal_is_not_called_normal() -> None:
    rows = [row("knee_jerk", "right", "normal", basis="inferred", confirm=True, flags=["inferred_normal"])]
    assert Findings(rows, LEXICON).summary() == ["No abnormal finding was recorded."]


@pytest.mark.parametrize(
    ("manoeuvre", "value", "judgement"),
    [
        ("hip_flexion", "5-", Judgement.ABNORMAL),
        ("ankle_clonus", "3 beats", Judgement.MEASURED),
        ("tone", "MAS 0", Judgement.NORMAL),
        ("light_touch", "altered", Judgement.ABNORMAL),
    ],
)
def test_values_are_judged_by_their_scale(manoeuvre: str, value: str, judgement: Judgement) -> None:
    assert Findings([], LEXICON).judge(row(manoeuvre, "left", value)) is judgement


def test_two_rows_for_the_same_place_are_both_shown() -> None:
    record = ExamRecord(rows=[row("hip_flexion", "left", "4"), row("hip_flexion", "left", "5")])
    assert [line[2] for line in table_cells(note(Exam(record), LEXICON))[1:]] == ["4", "5"]


def test_omissions_doubts_and_gaps_are_told() -> None:
    heard = {"start": 61.0, "end": 63.0, "heard": "tibby alice | interior", "mended": "tibialis anterior"}
    flags = ["misheard_term", "new_kind_of_doubt"]
    record = ExamRecord(
        rows=[
            row("vibration", "left", None, site="ankle", status="not_examined", reason="pain"),
            row("ankle_dorsiflexion", "left", "4-", confirm=True, flags=flags, evidence=[heard]),
        ],
        unheard=[Unheard(start=70, end=73, reason="no_words")],
        unplaced=[Unplaced(start=80, end=81, text="four plus", reason="no_subject")],
    )
    text = note(Exam(record), LEXICON).replace("\\", "")
    assert "- Vibration at the ankle, left: not examined (because of pain)" in text
    assert (
        "- Ankle dorsiflexion, left, 4-: a term was misheard and mended; new kind of doubt. "
        'Heard at 1:01: "tibby alice | interior".' in text
    )
    assert "4-, unconfirmed" in text and "1 entry is unconfirmed" in text
    assert "- 1:10 to 1:13: no words were recognised (no words)" in text
    assert '- 1:20 to 1:21: "four plus" (no subject)' in text


def test_words_that_look_like_markup_stay_words(tmp_path: Path) -> None:
    odd = r"*Trial* | #1 <b>_x_</b> [y](z) \end"
    made = note_as(Exam(ExamRecord(), title=odd), LEXICON, "docx")
    assert Document(io.BytesIO(made)).paragraphs[0].text == odd


@pytest.mark.parametrize("signature", [None, SIGNED])
def test_a_pdf_can_be_read_by_eye_and_by_machine(tmp_path: Path, signature: Signed | None) -> None:
    file = tmp_path / "note.pdf"
    case = max(CASES.values(), key=lambda one: len(one["rows"]))
    shown = exam(case, title="Lower limbs", signature=signature)
    file.write_bytes(note_as(shown, LEXICON, "pdf"))
    pages = pdf_pages(file)
    assert len(pages) >= 2
    assert [UNSIGNED in page for page in pages] == [signature is None] * len(pages)
    assert all(f"page {at} of {len(pages)}" in page for at, page in enumerate(pages, 1))
    text = " ".join(pages)
    assert ("Signed by Dr A. Example, neurologist" in text) == (signature is not None)
    assert "It is not a diagnosis, and the program is not a medical device." in text
    assert pdf_info(file)["Title"] == "Lower limbs"
    assert pdf_info(file)["Tagged"] == "yes"
    assert b"/Lang(en-GB)" in file.read_bytes()


def test_word_opens_in_an_office_program(tmp_path: Path) -> None:
    case = max(CASES.values(), key=lambda one: len(one["rows"]))
    shown = exam(case)
    (tmp_path / "note.docx").write_bytes(note_as(shown, LEXICON, "docx"))
    pages = pdf_pages(office_pdf(tmp_path / "note.docx", tmp_path))
    assert all(UNSIGNED in page for page in pages)
    assert all(f"page {at} of {len(pages)}" in page for at, page in enumerate(pages, 1))
    text = " ".join(pages)
    for line in table_cells(note(shown, LEXICON)):
        assert words(line[0]) in text
    properties = Document(str(tmp_path / "note.docx")).core_properties
    assert (properties.title, properties.language) == ("Neurological examination", "en-GB")


def test_a_department_edits_the_template_and_the_layout(tmp_path: Path) -> None:
    loop = "{% for one in sections %}{{ one.title }}: {{ one.rows | length }}\n{% endfor %}"
    (tmp_path / "note.md.j2").write_text(f"# Our ward\n\n{loop}")
    built_in = (BUILT_IN / "page.typ").read_text()
    (tmp_path / "page.typ").write_text(built_in.replace("#for block-data", "Our hospital\n\n#for block-data"))
    shown = Exam(ExamRecord(rows=[row("gait", "midline", "normal")]))
    assert note(shown, LEXICON, tmp_path) == "# Our ward\n\nGait: 1\n"
    (tmp_path / "n.pdf").write_bytes(note_as(shown, LEXICON, "pdf", tmp_path))
    assert "Our hospital Our ward Gait: 1" in pdf_pages(tmp_path / "n.pdf")[0]


@pytest.mark.parametrize(
    ("name", "text", "complaint"),
    [
        ("note.md.j2", "# A\n{% for x in %}", r"^note\.md\.j2, line 2: .*; mend the template$"),
        ("note.md.j2", "{{ ward }}", r"^note\.md\.j2: 'ward' is undefined; mend the template$"),
        ("note.md.j2", "{{ ''.__class__.__mro__ }}", r"^note\.md\.j2: .*unsafe.*; mend the template$"),
        ("page.typ", "#oops()", r"^page\.typ: unknown variable: oops; mend the layout$"),
    ],
)
def test_a_mistake_in_a_template_is_named(tmp_path: Path, name: str, text: str, complaint: str) -> None:
    (tmp_path / name).write_text(text)
    with pytest.raises(ExportError, match=complaint):
        note_as(Exam(ExamRecord()), LEXICON, "pdf", tmp_path)


def test_a_missing_template_folder_is_named(tmp_path: Path) -> None:
    with pytest.raises(ExportError, match="no such folder; name one that holds templates"):
        note(Exam(ExamRecord()), LEXICON, tmp_path / "absent")
