"""The clinical note: Markdown, and from it Word and PDF."""

from __future__ import annotations

from pathlib import Path

from pipeline.export.document import Page, pdf, write_docx
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


def write_note(exam: Exam, lexicon: Lexicon, target: Path, form: str, templates: Path | None = None) -> None:
    """Write the note as `md`, `docx` or `pdf`. An unsigned note says so at the head of every page."""
    text = note(exam, lexicon, templates)
    page = Page(title=exam.title, banner="" if exam.signed else UNSIGNED)
    if form == "md":
        target.write_text(text, encoding="utf-8")
    elif form == "docx":
        write_docx(text, page, target)
    else:
        target.write_bytes(pdf(text, page, layout=layout(templates)))
