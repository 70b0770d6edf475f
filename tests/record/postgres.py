"""A real PostgreSQL server of the tests' own, on a free port of this computer."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


def binaries() -> Path | None:
    """Where initdb and pg_ctl are: on the path, or where Debian puts them (newest version first)."""
    found = shutil.which("pg_ctl")
    places = [Path(found).parent] if found else []
    places += sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda path: -float(path.parent.name))
    return next((place for place in places if (place / "initdb").exists()), None)


@contextmanager
def server() -> Iterator[str]:
    """Yields the URL of the server's first database. PostgreSQL refuses to run as root: then its own user runs it."""
    place = binaries()
    assert place is not None
    as_user = ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []
    folder = Path(tempfile.mkdtemp(prefix="pg-"))
    if as_user:
        shutil.chown(folder, "postgres")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]

    def run(*command: str) -> None:
        subprocess.run([*as_user, *command], check=True, cwd="/", stdout=subprocess.DEVNULL, timeout=120)

    data = str(folder / "data")
    try:
        run(str(place / "initdb"), "-D", data, "-U", "examiner", "-A", "trust", "-E", "UTF8", "--no-sync")
        options = f"-c listen_addresses=127.0.0.1 -c port={port} -c unix_socket_directories={folder}"
        run(str(place / "pg_ctl"), "-D", data, "-w", "-o", options, "-l", str(folder / "log"), "start")
        yield f"postgresql://examiner@127.0.0.1:{port}/postgres"
        run(str(place / "pg_ctl"), "-D", data, "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)
