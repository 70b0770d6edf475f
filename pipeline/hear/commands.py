"""The command `listeners`: which recognisers are on this computer."""

from __future__ import annotations

from importlib.metadata import PackageNotFoundError, version

import click

from pipeline.hear.errors import InputError
from pipeline.hear.lexicon_listener import cache_folder, content_hash
from pipeline.hear.open_listener import PACKAGE, model_folder
from pipeline.hear.vosk_listener import ENGLISH_MODEL, MODEL_VARIABLE, VoskListener, find_model, user_folder
from pipeline.lexicon import load

FETCH = f"python -c \"import vosk; vosk.Model(model_name='{ENGLISH_MODEL}')\""
"""The library fetches the model from its makers and keeps it where `find_model` looks."""


@click.command()
def listeners() -> None:
    """Show the recognisers on this computer, their licences, and how to add a streaming one."""
    streaming, model_works = _streaming()
    click.echo(f"open listener       {_built_in()}{'' if model_works else '; used'}")
    click.echo(f"streaming listener  {streaming}{'; used in place of the built-in one' if model_works else ''}")
    click.echo(f"lexicon listener    {_lexicon()}; used beside the open one")
    if not model_works:
        click.echo(
            f"\nTo add a streaming listener, run this once on a computer with a network connection:\n\n    {FETCH}\n\n"
            f"It fetches {ENGLISH_MODEL} (Apache-2.0, about 40 MB) from its makers into the folder .cache/vosk of your "
            f"home\nfolder, where it is found. For a computer without a network, copy the fetched folder into "
            f"{user_folder()},\nor set {MODEL_VARIABLE} to wherever it is."
        )


def _built_in() -> str:
    about = f"Whisper tiny.en in {PACKAGE} {_version(PACKAGE)} (MIT), run by faster-whisper (MIT)"
    try:
        model_folder()
    except InputError as error:
        return f"{about}: {error}"
    return f"{about}: present, checked"


def _streaming() -> tuple[str, bool]:
    """What is there, and whether it is used."""
    if _version("vosk") == "not installed":
        return "Vosk (Apache-2.0): not installed; install it with 'pip install spoken-exam[live]'", False
    about = f"Vosk {_version('vosk')} (Apache-2.0)"
    try:
        folder = find_model()
        if folder is None:
            return f"{about}: no English model", False
        VoskListener(folder)
    except InputError as error:
        return f"{about}: {error}", False
    return f"{about}: model {folder.name} in {folder.parent}", True


def _lexicon() -> str:
    files = cache_folder() / content_hash(load())
    state = "its files are made" if files.is_dir() else "its files are made on first use"
    return (
        f"pocketsphinx {_version('pocketsphinx')} (BSD), words of wordfreq {_version('wordfreq')} (Apache-2.0): {state}"
    )


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return "not installed"
