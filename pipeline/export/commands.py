"""The commands of the outputs: `note`, `bundle`, `table`, `teach`, `compare`, `scores`, `supply`.

How a source is found is not theirs to know: the program that mounts them gives a `Resolve` as the context's object.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from functools import wraps
from pathlib import Path
from typing import Any, ParamSpec, TypeVar

import click

from pipeline.export.exam import Analysed, Exam, ExportError
from pipeline.export.files import check_file, make_folder, write
from pipeline.lexicon import LexiconError, load

P = ParamSpec("P")
T = TypeVar("T")

Resolve = Callable[[str], Analysed]
"""Finds what a source names, a kept examination or a file, and returns it analysed; raises `click.ClickException`."""

_TEMPLATES = click.option(
    "--templates",
    type=click.Path(path_type=Path, file_okay=False),
    help="A folder with templates of your own.",
)
_OUTPUT = click.option("-o", "--output", type=click.Path(path_type=Path, dir_okay=False), help="The file to write.")


def _plainly(work: Callable[P, T]) -> Callable[P, T]:
    """Any problem of an output as one line and a non-zero exit."""

    @wraps(work)
    def guarded(*args: P.args, **kwargs: P.kwargs) -> T:
        try:
            return work(*args, **kwargs)
        except (ExportError, LexiconError) as error:
            raise click.ClickException(str(error)) from error
        except OSError as error:
            where = error.filename or "the output"
            raise click.ClickException(f"{where}: {error.strerror}; choose a place that can be written") from error

    return guarded


@click.command()
@click.argument("source")
@click.option("--format", "form", type=click.Choice(["md", "docx", "pdf"]), default="md", show_default=True)
@_OUTPUT
@_TEMPLATES
@click.pass_obj
@_plainly
def note(resolve: Resolve, source: str, form: str, output: Path | None, templates: Path | None) -> None:
    """Write an examination up as a note; Markdown goes to the screen unless a file is named."""
    from pipeline.export import note as notes

    if output is None and form != "md":
        raise click.UsageError(f"a {form} needs a file; name one with -o.")
    exam = _examined(resolve, source, output)
    if output is None:
        _print(notes.note(exam, load(), templates))
    else:
        write(output, notes.note_as(exam, load(), form, templates))
        _wrote(output)


@click.command()
@click.argument("source")
@click.option("--version", type=click.Choice(["R4B", "R5"]), default="R4B", show_default=True, help="FHIR release.")
@click.option("--codes", type=click.Path(path_type=Path, dir_okay=False), help="YAML with codes of your site.")
@_OUTPUT
@click.pass_obj
@_plainly
def bundle(resolve: Resolve, source: str, version: Any, codes: Path | None, output: Path | None) -> None:
    """Write an examination as a FHIR document bundle."""
    from pipeline.export.codes import read_codes
    from pipeline.export.fhir import bundle as made

    _deliver(made(_examined(resolve, source, output), load(), version, read_codes(codes)) + "\n", output)


@click.command()
@click.argument("source")
@click.option("--format", "form", type=click.Choice(["csv", "parquet"]), default="csv", show_default=True)
@click.option("--deidentify", is_flag=True, help="Leave out words, names and clock times; times start at 0.")
@_OUTPUT
@click.pass_obj
@_plainly
def table(resolve: Resolve, source: str, form: str, deidentify: bool, output: Path | None) -> None:
    """Write the rows of an examination as a table, with a data dictionary beside it."""
    from pipeline.export import tables

    if output is None and form == "parquet":
        raise click.UsageError("a Parquet table needs a file; name one with -o.")
    rows = tables.table(_examined(resolve, source, output), load(), deidentify)
    if output is None:
        _print(tables.to_csv(rows, deidentify))
        return
    content = tables.to_csv(rows, deidentify) if form == "csv" else tables.to_parquet(rows, deidentify)
    write(output, content)
    about = output.with_name(f"{output.stem}.dictionary.csv")
    write(about, tables.dictionary(deidentify))
    _wrote(output, about)


@click.command()
@click.argument("session")
@click.option("-o", "--output", type=click.Path(path_type=Path, file_okay=False), required=True, help="The folder.")
@_TEMPLATES
@click.pass_obj
@_plainly
def teach(resolve: Resolve, session: str, output: Path, templates: Path | None) -> None:
    """Clean up a recorded teaching session: captions, chapters, transcript, handout."""
    from pipeline.export.session import write_session

    make_folder(output)
    _wrote(*write_session(_examined(resolve, session), load(), output, templates))


@click.command()
@click.argument("sources", nargs=-1, required=True)
@click.option("--label", "labels", multiple=True, help="A name for each source, in the same order.")
@click.option(
    "-o", "--output", type=click.Path(path_type=Path, file_okay=False), help="A folder for report and charts."
)
@_TEMPLATES
@click.pass_obj
@_plainly
def compare(
    resolve: Resolve, sources: tuple[str, ...], labels: tuple[str, ...], output: Path | None, templates: Path | None
) -> None:
    """Compare examinations of one patient, given in order of time."""
    from pipeline.export.comparison import comparison, write_comparison

    if len(sources) < 2:
        raise click.UsageError("a comparison needs two sources or more.")
    if labels and len(labels) != len(sources):
        raise click.UsageError(f"{len(sources)} sources need {len(sources)} labels, or none; {len(labels)} given.")
    if output is not None:
        make_folder(output)
    exams = [_examined(resolve, source) for source in sources]
    names = labels or _labels(exams, sources)
    if output is None:
        _print(comparison(exams, names, load(), templates=templates))
    else:
        _wrote(*write_comparison(exams, names, load(), output, templates))


@click.command()
@click.argument("source")
@_OUTPUT
@_TEMPLATES
@click.pass_obj
@_plainly
def scores(resolve: Resolve, source: str, output: Path | None, templates: Path | None) -> None:
    """Print the scores that the examination is complete for, and what the others lack."""
    from pipeline.export.scoring import scores_text

    _deliver(scores_text(_examined(resolve, source, output).record.rows, templates), output)


@click.command()
@click.argument("source")
@_OUTPUT
@_TEMPLATES
@click.pass_obj
@_plainly
def supply(resolve: Resolve, source: str, output: Path | None, templates: Path | None) -> None:
    """Print which roots and nerves supply what was found changed: a table of supply, not a diagnosis."""
    from pipeline.export.supply import supply_text

    _deliver(supply_text(_examined(resolve, source, output).record.rows, load(), templates), output)


def _examined(resolve: Resolve, source: str, target: Path | None = None) -> Exam:
    """The examination that a source names; where a file is to be written, first whether it can be."""
    if target is not None:
        check_file(target, source)
    file = Path(source)
    return Exam.of(resolve(source), media=file if file.is_file() else None)


def _labels(exams: Sequence[Exam], sources: Sequence[str]) -> list[str]:
    """The day of each kept examination, the name of each file; numbered where two would be called the same."""
    plain = [exam.created[:10] if exam.created else Path(name).stem for exam, name in zip(exams, sources, strict=True)]
    return [
        f"{label} ({plain[: at + 1].count(label)})" if plain.count(label) > 1 else label
        for at, label in enumerate(plain)
    ]


def _deliver(text: str, output: Path | None) -> None:
    """To the file, or to the screen where none is named."""
    if output is None:
        _print(text)
    else:
        write(output, text)
        _wrote(output)


def _print(text: str) -> None:
    # Line ends of CSV stay as they are.
    sys.stdout.write(text)


def _wrote(*files: Path) -> None:
    for file in files:
        click.echo(f"Wrote {file}", err=True)
