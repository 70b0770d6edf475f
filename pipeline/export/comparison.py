"""The report of a comparison: a table of all rows through time, and trend charts."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from pipeline.export import typeset
from pipeline.export.charts import LARGEST, Panel, description, panels, trend_svg
from pipeline.export.document import Page, docx, pdf
from pipeline.export.exam import Exam
from pipeline.export.files import make_folder, write
from pipeline.export.findings import Findings
from pipeline.export.templating import layout, render
from pipeline.export.wording import UNSIGNED
from pipeline.lexicon import Lexicon
from pipeline.record.compare import RELIABILITY, Outcome, courses, repeated

_TITLE = "Comparison over time"
_CHARTS = "Trends by movement and side"


def comparison(
    exams: Sequence[Exam],
    labels: Sequence[str],
    lexicon: Lexicon,
    chart: Sequence[Panel] = (),
    templates: Path | None = None,
) -> str:
    """The report as Markdown. `exams` and `labels` are in order of time; with `chart` it shows their pictures."""
    found = courses([exam.record.rows for exam in exams], lexicon)
    findings = Findings([course.latest for course in found], lexicon)
    by_key = {course.key: course for course in found}
    ordered = [by_key[row.key] for section in findings.sections for row in section.rows]
    differing = [
        change.row
        for course in found
        for change in course.changes
        if change and change.before and change.after and change.outcome is not Outcome.SAME
    ]
    scales = {scale.id: scale.title for row in differing if (scale := findings.scale(row))}
    last = [course.changes[-1] for course in ordered]
    return render(
        "comparison.md.j2",
        templates,
        title=_TITLE,
        exams=exams,
        labels=labels,
        courses=ordered,
        repeated=[
            (label, row) for label, exam in zip(labels, exams, strict=True) for row in repeated(exam.record.rows)
        ],
        outcomes={outcome: [one for one in last if one and one.outcome is outcome] for outcome in Outcome},
        reliability={scales[scale]: one for scale, one in RELIABILITY.items() if scale in scales},
        unknown=sorted(title for scale, title in scales.items() if scale not in RELIABILITY),
        pictures={name: description(few, labels) for name, few in _pictures(chart).items()},
    )


def write_comparison(
    exams: Sequence[Exam], labels: Sequence[str], lexicon: Lexicon, folder: Path, templates: Path | None = None
) -> list[Path]:
    """Write the report (md, docx, pdf) and its charts (svg, png) to `folder`; returns the files written."""
    make_folder(folder)
    drawn = panels(courses([exam.record.rows for exam in exams], lexicon), lexicon)
    text = comparison(exams, labels, lexicon, drawn, templates)
    page = Page(_TITLE, "" if all(exam.signed for exam in exams) else UNSIGNED)
    written = []
    for name, few in _pictures(drawn).items():
        svg, picture = folder / f"{name}.svg", folder / f"{name}.png"
        write(svg, trend_svg(few, labels, _CHARTS))
        write(picture, typeset.png(svg))
        written += [svg, picture]
    forms: dict[str, bytes | str] = {
        "md": text,
        "docx": docx(text, page, folder),
        "pdf": pdf(text, page, folder, layout(templates)),
    }
    for ending, content in forms.items():
        written.append(folder / f"comparison.{ending}")
        write(written[-1], content)
    return written


def _pictures(drawn: Sequence[Panel]) -> dict[str, Sequence[Panel]]:
    """File names and the charts in each, as many as a page holds."""
    starts = range(0, len(drawn), LARGEST)
    return {f"trends-{at}": drawn[start : start + LARGEST] for at, start in enumerate(starts, 1)}
