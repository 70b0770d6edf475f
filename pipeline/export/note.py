"""The clinical note: Markdown, and from it Word and PDF."""

from __future__ import annotations

from pathlib import Path

from pipeline.export.document import Page, docx, pdf
from pipeline.export.exam import Exam
from pipeline.export.findings import Findings, Judgement
from pipeline.export.templating import layout, render
from pipeline.export.wording import UNSIGNED
from pipeline.lexicon import Lexicon
from pipeline.record.model import Status


def note(exam: Exam, lexicon: Lexicon, templates: Path | None = None) -> str:
    """The note as Markdown. Raises `ExportError` when a template of the folder `templates` has a mistake."""
    findings = Findings(exam.record.rows, lexicon)
    rows = [row for section in findings.sections for row in section.rows]
    return render(
        "note.md.j2",
        templates,
        exam=exam,
        summary=findings.summary(),
        sections=findings.sections,
        omitted=[row for row in rows if row.status is Status.NOT_EXAMINED],
        unconfirmed=[row for row in rows if row.confirm],
        scales=findings.scales,
        abnormal=[row for row in rows if findings.judge(row) is Judgement.ABNORMAL],
    )


def note_as(exam: Exam, lexicon: Lexicon, form: str, templates: Path | None = None) -> bytes:
    """The note as the bytes of a `md`, `docx` or `pdf` file. An unsigned one says so at the head of every page."""
    text = note(exam, lexicon, templates)
    page = Page(title=exam.title, banner="" if exam.signed else UNSIGNED)
    if form == "docx":
        return docx(text, page)
    return pdf(text, page, layout=layout(templates)) if form == "pdf" else text.encode()
