"""The commands about kept records: `record add`, `list`, `show`, `verify`, `delete`."""

from __future__ import annotations

import getpass
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

import click

from pipeline.record.database import home
from pipeline.record.errors import StoreError, WrongPassphrase
from pipeline.record.learned import agreed
from pipeline.record.store import Store
from pipeline.record.tables import named
from pipeline.record.trail import describe
from pipeline.record.views import ExamView, Item

if TYPE_CHECKING:
    from pipeline.hear import Heard

PASSPHRASE_VARIABLE = "SPOKEN_EXAM_PASSPHRASE"


class Listens(Protocol):
    """The context's object, given by the program that mounts these commands."""

    def hear(self, source: Path) -> Heard:
        """The words of a recording or transcript. Raises `pipeline.hear.InputError`."""
        ...


def open_store(context: click.Context) -> Store:
    """The user's store, closed when the command ends. Asks for a missing passphrase where somebody is there to answer.

    Raises `click.ClickException` when it cannot be opened.
    """
    passphrase = os.environ.get(PASSPHRASE_VARIABLE)
    try:
        try:
            store = Store.open(passphrase=passphrase)
        except WrongPassphrase:
            if passphrase or not sys.stdin.isatty():
                raise
            store = Store.open(passphrase=click.prompt("Passphrase of the store", hide_input=True))
    except StoreError as error:
        raise click.ClickException(str(error)) from error
    context.call_on_close(store.close)
    return store


@click.group()
def record() -> None:
    """The examinations that are kept on this computer."""


@record.command()
@click.argument("source", metavar="INPUT", type=click.Path(path_type=Path))
@click.option(
    "--title", required=True, help="What the record is called: no name of a patient where that is not allowed."
)
@click.option("--speaker", help="Who examines and speaks; what was learned of this speaker is used, and added to.")
@click.pass_context
def add(context: click.Context, source: Path, title: str, speaker: str | None) -> None:
    """Structure a recording or transcript, and keep record, transcript and recording to be reviewed."""
    if not title.strip():
        raise click.UsageError("the title is empty; say what the record is called with --title.")
    speaker = (speaker or "").strip() or None
    store = open_store(context)
    listens: Listens = context.obj
    learned = agreed(store.learned(speaker)) if speaker else {}
    heard = listens.hear(source)
    from pipeline.engine import Engine

    found = Engine(learned=learned).analyse(heard)
    exam_id = store.add(
        found.record,
        title=title,
        audio=source if heard.spoken else None,
        transcript=found.transcript,
        speaker=speaker,
    )
    click.echo(exam_id)
    exam = store.exam(exam_id)
    if not exam.rows:
        click.echo("No result for the patient was heard; the record has no rows.", err=True)
    still_open = len(exam.open_items)
    todo = f"decide {_counted(still_open, 'open item')} and sign it" if still_open else "review and sign it"
    click.echo(f"Kept {_counted(len(exam.rows), 'row')}. Next, {todo}: spoken-exam review", err=True)


@record.command("list")
@click.pass_context
def list_records(context: click.Context) -> None:
    """List all examinations, newest first."""
    summaries = open_store(context).list()
    for one in summaries:
        still_open = f", {one.open} open" if one.open else ""
        version = f", version {one.version}" if one.version > 1 else ""
        click.echo(f"{one.id}  {one.created[:16]}  {one.state:8}  {one.title} ({one.rows} rows{still_open}{version})")
    if not summaries:
        click.echo(f"No examination is kept in {home()}.")


@record.command()
@click.argument("exam_id")
@click.option("--trail", is_flag=True, help="Print every change: who, when, what and why.")
@click.option("--json", "as_json", is_flag=True, help="Print the rows as JSON.")
@click.pass_context
def show(context: click.Context, exam_id: str, trail: bool, as_json: bool) -> None:
    """Print one examination."""
    store = open_store(context)
    try:
        if as_json:
            click.echo(store.export_record(exam_id).model_dump_json(indent=2))
            return
        _print(store.exam(exam_id))
        for entry in store.entries(exam_id) if trail else []:
            why = f": {entry.content.why}" if entry.content.why else ""
            click.echo(f"{entry.number:4}  {entry.at[:19]}  {entry.who}  {entry.action}{why}")
            for change in entry.content.changes:
                click.echo(f"      {change.item}: {describe(change)}")
    except StoreError as error:
        raise click.ClickException(str(error)) from error


@record.command()
@click.argument("exam_ids", nargs=-1)
@click.pass_context
def verify(context: click.Context, exam_ids: tuple[str, ...]) -> None:
    """Check that nothing in the examinations (all, if none is named) was altered, removed or reordered."""
    store = open_store(context)
    failed = False
    try:
        for exam_id in exam_ids or [one.id for one in store.list()]:
            problems = store.verify(exam_id)
            failed = failed or bool(problems)
            click.echo(f"{exam_id}  " + ("; ".join(problems) if problems else "whole"))
    except StoreError as error:
        raise click.ClickException(str(error)) from error
    if failed:
        raise click.ClickException("an examination was altered outside this program; restore the store from a backup")


@record.command()
@click.argument("exam_id")
@click.option("--yes", is_flag=True, help="Do not ask.")
@click.pass_context
def delete(context: click.Context, exam_id: str, yes: bool) -> None:
    """Delete an examination with its recording and trail; only who deleted it and when stays."""
    store = open_store(context)
    try:
        exam = store.exam(exam_id)
        if not yes:
            click.confirm(f"Delete '{exam.title}' with its recording and trail for good?", abort=True)
        store.delete(exam_id, who=getpass.getuser())
    except StoreError as error:
        raise click.ClickException(str(error)) from error
    click.echo(f"Deleted {exam_id}.")


def _counted(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def _print(exam: ExamView) -> None:
    click.echo(f"{exam.title}, version {exam.version}, {exam.created[:16]} UTC")
    for item in exam.items:
        click.echo(f"  {item.id:14} {_line(item)}")
    if exam.signature:
        signed = exam.signature
        click.echo(f"Signed by {signed.name}, {signed.role}, {signed.at[:16]} UTC: {signed.statement}")
    else:
        click.echo(f"Not signed; {len(exam.open_items)} open.")


def _line(item: Item) -> str:
    if item.kind != "row":
        return f"{item.kind} at {item.gap.start:.1f} s: {item.decision or 'open'}"
    row = item.row
    said = row.value or (row.reason or "").replace("_", " ")
    marks = item.decision or ("open: " + ", ".join(row.flags) if item.open else "")
    return f"{named(row.key)}: {said}" + (f"  [{marks}]" if marks else "")
