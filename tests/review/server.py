"""The review command in a process of its own."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

PROGRAM = "from pipeline.review.commands import review; review()"


@dataclass
class Server:
    """A running review command and the address that it printed."""

    process: subprocess.Popen[str]
    address: str
    home: Path

    @property
    def root(self) -> str:
        return self.address.split("/enter")[0]

    @property
    def port(self) -> int:
        return int(self.root.rsplit(":", 1)[1])

    def stop(self) -> None:
        """As Ctrl+C does; harmless when it has ended."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
            assert self.process.wait(30) == 0


@contextmanager
def start(home: Path, *options: str, port: int = 0) -> Iterator[Server]:
    """Runs the command on the store in `home` until the block ends."""
    command = [sys.executable, "-c", PROGRAM, "--no-browser", "--port", str(port), *options]
    environment = {**os.environ, "SPOKEN_EXAM_HOME": str(home), "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment) as process:
        assert process.stdout is not None
        process.stdout.readline()
        server = Server(process, process.stdout.readline().strip(), home)
        try:
            yield server
        finally:
            server.stop()
