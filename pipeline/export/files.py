"""Where outputs go: checked before the work is done, written at once or not at all, readable by their owner only."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from pipeline.export.exam import ExportError


def check_file(target: Path, source: str) -> None:
    """Whether a file can be written there. Raises `ExportError`, so that no long recording is heard for nothing."""
    if target.exists() and not target.is_file():
        raise ExportError(f"{target} is a folder or a device; name a file with -o")
    if target.exists() and Path(source).exists() and target.samefile(source):
        raise ExportError(f"{target} is the input itself; give -o another name")
    if not os.access(target.resolve().parent, os.W_OK):
        raise ExportError(f"{target}: no file can be made in that folder; check the name and the permissions")


def make_folder(target: Path) -> None:
    """Make the folder, its owner's alone, if it is not there. Raises `ExportError` where that cannot be."""
    try:
        target.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise ExportError(f"{target}: cannot be made a folder ({error.strerror}); name another with -o") from None
    if not os.access(target, os.W_OK):
        raise ExportError(f"{target}: nothing can be written there; check the permissions")


def write(target: Path, content: bytes | str) -> Path:
    """Replace the file at once; a new one is readable by its owner only, as it may hold patient data."""
    target = target.resolve()
    handle, name = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
    try:
        with open(handle, "wb") as file:
            file.write(content.encode() if isinstance(content, str) else content)
        os.replace(name, target)
    except BaseException:
        os.unlink(name)
        raise
    return target
