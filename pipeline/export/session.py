"""A recorded teaching session, cleaned up: captions, chapters, transcript and handout in one folder."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from pathlib import Path

from pipeline.export.captions import cues, srt, webvtt
from pipeline.export.chapters import Chapter, chapters, webvtt_chapters
from pipeline.export.document import Page, docx, pdf
from pipeline.export.exam import Exam
from pipeline.export.files import make_folder, write
from pipeline.export.findings import Findings
from pipeline.export.spoken import Change, block_text, changes, shown_words
from pipeline.export.teaching import index, points, taught
from pipeline.export.templating import layout, render
from pipeline.export.video import CODECS, is_film, write_film
from pipeline.export.wording import clock
from pipeline.lexicon import Lexicon

HANDOUT_BANNER = "TEACHING MATERIAL made from speech: not a clinical record; check before use"


def write_session(exam: Exam, lexicon: Lexicon, folder: Path, templates: Path | None = None) -> list[Path]:
    """Write all files of the session to `folder` and return them.

    A film (`exam.media`) in a container that can hold captions gets a copy with captions and chapters; for any other
    the files stand beside it. Raises `ExportError` where a template has a mistake or the film cannot be written.
    """
    make_folder(folder)
    captions, steps = cues(shown_words(exam.transcript)), chapters(exam, lexicon)
    text = handout(exam, lexicon, steps, templates)
    page = Page(title=f"Handout: {exam.title}", banner=HANDOUT_BANNER)
    files: dict[str, str | bytes] = {
        "captions.vtt": webvtt(captions),
        "captions.srt": srt(captions),
        "chapters.vtt": webvtt_chapters(steps),
        "transcript.md": transcript(exam, steps, templates),
        "changes.csv": changes_csv(changes(exam.transcript)),
        "handout.md": text,
        "handout.docx": docx(text, page),
        "handout.pdf": pdf(text, page, layout=layout(templates)),
    }
    for name, content in files.items():
        write(folder / name, content)
    written = [folder / name for name in files]
    if exam.media and exam.media.suffix.lower() in CODECS and is_film(exam.media):
        film = folder / f"{exam.media.stem}-captioned{exam.media.suffix}"
        write_film(exam.media, film, captions, steps)
        written.append(film)
    return written


def transcript(exam: Exam, steps: Sequence[Chapter], templates: Path | None = None) -> str:
    """The clean transcript as Markdown, by chapter."""
    ends = [step.end for step in steps[:-1]] + [float("inf")]
    starts = [float("-inf"), *ends]
    parts = [
        (step.title, [block for block in exam.transcript.blocks if start <= block.start < end])
        for step, start, end in zip(steps, starts, ends, strict=False)
    ]
    return render("transcript.md.j2", templates, exam=exam, parts=parts, text=block_text)


def handout(exam: Exam, lexicon: Lexicon, steps: Sequence[Chapter], templates: Path | None = None) -> str:
    """The handout as Markdown."""
    findings = Findings(exam.record.rows, lexicon)
    said = taught(exam, lexicon)
    sources = list(dict.fromkeys(source for one in said for source in one.sources))
    return render(
        "handout.md.j2",
        templates,
        exam=exam,
        chapters=steps,
        sections=findings.sections,
        methods={entry.id: entry.method for entry in lexicon.manoeuvres},
        points=points(exam.transcript),
        taught=said,
        sources=sources,
        terms=index(exam.transcript, lexicon),
        changes=changes(exam.transcript),
    )


def changes_csv(found: Sequence[Change]) -> str:
    """Everything that is shown otherwise than it was heard, as CSV: start, end, heard, mended."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(["start", "end", "at", "heard", "mended"])
    for one in found:
        writer.writerow([f"{one.start:.3f}", f"{one.end:.3f}", clock(one.start), one.heard, one.mended])
    return text.getvalue()
