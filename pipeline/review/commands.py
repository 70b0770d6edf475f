"""The command that serves the review page on this computer."""

from __future__ import annotations

import socket
import webbrowser
from contextlib import suppress

import click
import uvicorn

from pipeline.record.commands import open_store
from pipeline.record.database import home
from pipeline.review.access import Doorkeeper
from pipeline.review.app import create_app

ADDRESS = "127.0.0.1"
PORT = 8741


@click.command()
@click.option("--port", default=PORT, show_default=True, type=click.IntRange(0, 65535), help="0 takes any free port.")
@click.option("--keep-audio", is_flag=True, help="Keep recordings after signing; without this they are deleted then.")
@click.option("--browser/--no-browser", default=True, show_default=True, help="Open the page in the browser.")
@click.pass_context
def review(context: click.Context, port: int, keep_audio: bool, browser: bool) -> None:
    """Review, correct and sign records in the browser, on this computer only."""
    store = open_store(context)
    try:
        listening = socket.create_server((ADDRESS, port))
    except OSError as error:
        raise click.ClickException(f"port {port} is taken; choose another with --port, or any with --port 0") from error
    port = listening.getsockname()[1]
    doorkeeper = Doorkeeper(home() / "review.secret")
    hosts = frozenset({f"{ADDRESS}:{port}", f"localhost:{port}"})
    app = create_app(store, doorkeeper, hosts, keep_audio=keep_audio)
    address = f"http://{ADDRESS}:{port}/enter?key={doorkeeper.key}"
    click.echo(f"Open this address; it works once:\n  {address}")
    click.echo("Stop with Ctrl+C. Nothing is lost: each change is kept at once.")
    if browser:
        webbrowser.open(address)
    with listening, suppress(KeyboardInterrupt):
        uvicorn.Server(uvicorn.Config(app, log_level="error", server_header=False)).run([listening])
