"""The commands. Each loads what it needs only when it runs, so that help and short commands start at once."""

from __future__ import annotations

import io
import json
import os
import sys
import traceback
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from pipeline.engine import Analysis, Engine
    from pipeline.export.exam import Analysed
    from pipeline.hear import Heard
    from pipeline.record.model import ExamRecord, Row

ELSEWHERE = {
    "listen": ("pipeline.live.commands", "Take a dictation down as it is spoken, hands-free."),
    "review": ("pipeline.review.commands", "Review, correct and sign examinations in the browser."),
    "record": ("pipeline.record.commands", "Keep examinations; list, show, verify and delete them."),
    "note": ("pipeline.export.commands", "Write an examination as a note: Markdown, Word or PDF."),
    "bundle": ("pipeline.export.commands", "Write an examination as a FHIR bundle."),
    "table": ("pipeline.export.commands", "Write examinations as a table for research."),
    "teach": ("pipeline.export.commands", "Clean up a teaching session: captions, chapters, handout."),
    "compare": ("pipeline.export.commands", "Compare examinations of one patient over time."),
    "scores": ("pipeline.export.commands", "Add up scores where all their parts were examined."),
    "supply": ("pipeline.export.commands", "Show which roots and nerves supply what was changed."),
    "listeners": ("pipeline.hear.commands", "Show the recognisers on this computer."),
}
"""Commands that live beside their work: name -> module, and the line of `--help`, which must not load the module."""

INPUT_PROBLEM = 1
USAGE_PROBLEM = 2
DEFECT = 70
"""EX_SOFTWARE of sysexits.h."""
INTERRUPTED = 130
"""128 + SIGINT, as shells count it."""

DEBUG_VARIABLE = "SPOKEN_EXAM_DEBUG"

_USER_CAN_MEND = {
    "builtins.OSError",
    "pipeline.export.exam.ExportError",
    "pipeline.hear.errors.InputError",
    "pipeline.lexicon.load.LexiconError",
    "pipeline.record.errors.StoreError",
}
"""Errors whose message says what to do, by name: importing them would load what the command may not need."""


class _Commands(click.Group):
    """Commands of this module, and those `ELSEWHERE`, loaded when they are called."""

    def list_commands(self, context: click.Context) -> list[str]:
        return [*self.commands, *ELSEWHERE]

    def get_command(self, context: click.Context, name: str) -> click.Command | None:
        if name not in ELSEWHERE:
            return super().get_command(context, name)
        command = getattr(import_module(ELSEWHERE[name][0]), name)
        assert isinstance(command, click.Command)
        return command

    def format_commands(self, context: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl([(name, self._line(name)) for name in self.list_commands(context)])

    def _line(self, name: str) -> str:
        return self.commands[name].get_short_help_str(80) if name in self.commands else ELSEWHERE[name][1]


@click.group(cls=_Commands)
@click.version_option(package_name="spoken-exam", message="%(prog)s %(version)s")
@click.pass_context
def cli(context: click.Context) -> None:
    """Turn a spoken neurological examination into a record that a clinician checks and signs.

    An aid to documentation, not a diagnosis or a medical device. Works offline.
    """
    context.obj = _Sources()


@cli.command()
@click.argument("source", metavar="INPUT", type=click.Path(path_type=Path))
@click.option(
    "--format", "form", type=click.Choice(["text", "rows", "json"]), default="text", show_default=True,
    help="text: a table to read; rows: the rows as JSON; json: record and transcript.",
)  # fmt: skip
@click.option("-o", "--output", type=click.Path(path_type=Path), metavar="FILE", help="Write there, not to the screen.")
@click.option(
    "--accepted", type=click.FloatRange(0, 1), metavar="CHANCE",
    help="Confirm rows that are wrong with a greater chance than this; default: SPOKEN_EXAM_ACCEPTED, or else 0.07.",
)  # fmt: skip
def structure(source: Path, form: str, output: Path | None, accepted: float | None) -> None:
    """Turn a recording or transcript into the rows of an examination."""
    if output is not None:
        from pipeline.export.files import check_file, write

        check_file(output, str(source))
    analysis = _analyse(source, accepted)
    text = _form(analysis, form, source.name, colour=output is None and _colour())
    if output is not None:
        write(output, text)
    else:
        # JSON is UTF-8 whatever the terminal's encoding (RFC 8259, section 8.1).
        click.echo(text if form == "text" else text.encode(), nl=False, color=True)
    if not analysis.record.rows and (output is not None or form != "text"):
        click.echo(f"{source.name}: no result for the patient was heard; the record has no rows.", err=True)


@cli.command()
def demo() -> None:
    """Structure the two demonstration recordings; compare with what was said."""
    folder = _demo_folder()
    cases = [json.loads(line) for line in (folder / "cases.jsonl").read_text(encoding="utf-8").splitlines()]
    agreed = wanted = 0
    differing: list[Row] = []
    for case in cases:
        source = folder / f"{case['id'].removeprefix('demo-')}.opus"
        analysis = _analyse(source)
        click.echo(_form(analysis, "text", source.name, colour=_colour()), color=True)
        others = _differing(analysis.record, case["rows"])
        agreed += len(analysis.record.rows) - len(others)
        wanted += len(case["rows"])
        differing += others
    marked = sum(row.confirm for row in differing)
    click.echo(
        f"Compared with what was really said: {agreed} of {wanted} rows agree; "
        f"{len(differing)} came out otherwise, {marked} of these marked to be confirmed."
    )


@cli.group()
def lexicon() -> None:
    """Look into the lexicon, or check a folder of lexicon files."""


@lexicon.command()
@click.argument("folder", required=False, type=click.Path(path_type=Path))
def check(folder: Path | None) -> None:
    """Check the lexicon files in FOLDER (default: the built-in ones); one line for each problem."""
    from pipeline.lexicon import load, show

    for problem in (problems := show.check(folder)):
        click.echo(f"Error: {problem}", err=True)
    if problems:
        raise click.exceptions.Exit(INPUT_PROBLEM)
    found = load(folder)
    click.echo(
        f"No problem: {len(found.manoeuvres)} manoeuvres, {len(found.muscles)} muscles, {len(found.nerves)} nerves, "
        f"{len(found.dermatomes)} dermatomes, {len(found.scales)} scales."
    )


@lexicon.command("show")
@click.argument("name", nargs=-1, required=True)
def show_entry(name: tuple[str, ...]) -> None:
    """Print the entry called NAME: names, values, roots, sources."""
    from pipeline.lexicon import load, show

    click.echo(show.describe(load(), " ".join(name)))


@lexicon.command()
@click.option("--speaker", metavar="NAME", help="Only what was learned of this speaker.")
@click.option("--forget", metavar="HEARD", help="Remove what these heard words stand for, as the list prints them.")
@click.pass_context
def learned(context: click.Context, speaker: str | None, forget: str | None) -> None:
    """List the mishearings that reviewers confirmed, by speaker: they are mended without a doubt from then on."""
    from pipeline.record.commands import open_store

    if forget is not None and speaker is None:
        raise click.UsageError("whose words shall be forgotten? name the speaker with --speaker")
    store = open_store(context)
    if forget is not None and speaker is not None:
        if not store.forget(speaker, " ".join(forget.lower().split())):
            raise click.ClickException(f"nothing was learned of '{forget}' from {speaker}; list it without --forget")
        click.echo(f"Forgotten: '{forget}' of {speaker}.")
        return
    found = store.learned(speaker)
    for one in found:
        click.echo(f"{one.speaker}: {one.heard} -> {one.term} ({'once' if one.count == 1 else f'{one.count} times'})")
    if not found:
        click.echo("Nothing was learned yet." if speaker is None else f"Nothing was learned of {speaker} yet.")


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs a command and returns its exit code; an error is one line on stderr."""
    for stream in (sys.stdout, sys.stderr):
        # A terminal that cannot show a letter shows a question mark.
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    try:
        code = cli.main(arguments, prog_name="spoken-exam", standalone_mode=False)
    except click.exceptions.NoArgsIsHelpError as error:
        error.show()
        return USAGE_PROBLEM
    except click.UsageError as error:
        command = error.ctx.command_path if error.ctx else "spoken-exam"
        return _fail(f"{error.format_message()} See: {command} --help", USAGE_PROBLEM)
    except click.ClickException as error:
        return _fail(error.format_message(), error.exit_code)
    except click.Abort:
        return _fail("stopped", INTERRUPTED)
    except Exception as error:
        if any(f"{kind.__module__}.{kind.__qualname__}" in _USER_CAN_MEND for kind in type(error).__mro__):
            return _fail(_message(error), INPUT_PROBLEM)
        if os.environ.get(DEBUG_VARIABLE):
            traceback.print_exc()
        return _fail(
            f"this is a defect of spoken-exam ({type(error).__name__}); to report it, run the same again with "
            f"{DEBUG_VARIABLE}=1 and send what it prints to the maintainers, without patient data",
            DEFECT,
        )
    return code if isinstance(code, int) else 0


def _fail(message: str, code: int) -> int:
    click.echo(f"Error: {' '.join(message.split())}", err=True)
    return code


def _message(error: Exception) -> str:
    if isinstance(error, OSError) and error.strerror:
        return f"{error.filename or 'the disk'}: {error.strerror}; check the name, the permissions and the space left"
    return str(error)


class _Sources:
    """How commands that live elsewhere find what a source names."""

    def __call__(self, source: str) -> Analysed:
        """A recording or transcript, analysed, or a kept examination."""
        if Path(source).exists():
            return _analyse(Path(source))
        from pipeline.export.exam import stored
        from pipeline.record.commands import open_store
        from pipeline.record.errors import NoSuchExamination

        try:
            return stored(open_store(click.get_current_context()), source)
        except NoSuchExamination:
            raise click.ClickException(f"{source}: no such file, and no kept examination has this name") from None

    def hear(self, source: Path) -> Heard:
        """The words of a recording or transcript, with a bar where somebody waits for them."""
        from pipeline.hear import hear

        with _progress(source.name) as progress:
            return hear(source, progress=progress)


def _analyse(source: Path, accepted: float | None = None) -> Analysis:
    return _engine(accepted).analyse(_Sources().hear(source))


@cache
def _engine(accepted: float | None = None) -> Engine:
    from pipeline.engine import Engine

    return Engine(accepted=accepted)


@contextmanager
def _progress(name: str) -> Iterator[Callable[[float], None] | None]:
    """A bar on stderr where that is a terminal, gone when all is heard."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.markup import escape
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(f"Listening to {escape(name)}", total=1.0)
        yield lambda share: bar.update(task, completed=share)


def _form(analysis: Analysis, form: str, title: str, *, colour: bool) -> str:
    if form == "rows":
        return analysis.record.model_dump_json(indent=2) + "\n"
    if form == "json":
        parts = {"record": analysis.record, "transcript": analysis.transcript}
        dumped = {name: part.model_dump(mode="json") for name, part in parts.items()}
        return json.dumps(dumped, ensure_ascii=False, indent=2) + "\n"
    from pipeline.export.text import exam_text
    from pipeline.lexicon import load

    return exam_text(analysis.record, load(), title, colour=colour)


def _colour() -> bool:
    """Whether stdout is a terminal that wants colour (https://no-color.org)."""
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def _demo_folder() -> Path:
    """The recordings that came with the package: inside it when installed, beside it in a checkout."""
    package = Path(__file__).resolve().parent
    inside = package / "demo_audio"
    return inside if inside.is_dir() else package.parent / "demo_audio"


def _differing(record: ExamRecord, wanted: list[dict[str, Any]]) -> list[Row]:
    """The rows that are not in `wanted` with the same manoeuvre, side, site, status and value."""
    fields = ("manoeuvre", "side", "site", "status", "value")
    known = {tuple(row[field] for field in fields) for row in wanted}
    return [row for row in record.rows if tuple(getattr(row, field) for field in fields) not in known]
