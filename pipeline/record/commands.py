"""The commands about kept records: `record list`, `show`, `verify`, `delete`."""

from __future__ import annotations

import getpass
import os
import sys

import click

from pipeline.record.database import home
from pipeline.record.errors import StoreError, WrongPassphrase
from pipeline.record.store import Store
from pipeline.record.tables import named
from pipeline.record.trail import describe
from pipeline.record.views import ExamView, Item

PASSPHRASE_VARIABLE = "SPOKEN_EXAM_PASSPHRASE"


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
