"""Runs the command as a user does: in this process through `main`, or as a process of its own."""

from __future__ import annotations

import json
import os
import pty
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from pipeline.cli import main

ROOT = Path(__file__).parents[2]
COMMAND = Path(sys.executable).with_name("spoken-exam")
DICTATION = ROOT / "demo_audio" / "dictation.opus"


@dataclass(frozen=True)
class Ran:
    code: int
    out: str
    err: str

    @property
    def rows(self) -> list[dict[str, Any]]:
        found = json.loads(self.out)
        assert {"rows", "unheard", "unplaced"} <= found.keys()
        rows: list[dict[str, Any]] = found["rows"]
        return rows

    @property
    def findings(self) -> dict[tuple[str, str, str | None], str | None]:
        return {(row["manoeuvre"], row["side"], row["site"]): row["value"] for row in self.rows}

    def error(self, code: int = 1) -> str:
        """The one line on stderr of a command that failed."""
        assert self.code == code, self.err
        lines = self.err.splitlines()
        assert len(lines) == 1 and lines[0].startswith("Error: "), self.err
        return lines[0]


def run(capsys: pytest.CaptureFixture[str], *arguments: object) -> Ran:
    capsys.readouterr()
    code = main([str(argument) for argument in arguments])
    out, err = capsys.readouterr()
    return Ran(code, out, err)


def run_process(*arguments: object, **environment: str) -> Ran:
    answer = subprocess.run(
        [COMMAND, *map(str, arguments)], capture_output=True, text=True, env=os.environ | environment
    )
    return Ran(answer.returncode, answer.stdout, answer.stderr)


def run_on_terminal(*arguments: object, stream: str = "stdout", **environment: str) -> str:
    """What a terminal shows of one stream, stdout or stderr; the other goes nowhere."""
    environment = {"TERM": "xterm-256color"} | environment
    kept = {name: value for name, value in os.environ.items() if name not in ("NO_COLOR", "TERM", "FORCE_COLOR")}
    ours, theirs = pty.openpty()
    streams = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL} | {stream: theirs}
    with subprocess.Popen([COMMAND, *map(str, arguments)], env=kept | environment, **streams) as child:
        os.close(theirs)
        shown = b""
        try:
            while piece := os.read(ours, 65536):
                shown += piece
        except OSError:
            pass  # Linux says so when the other end of a terminal is closed
    os.close(ours)
    assert child.returncode == 0, shown
    return shown.decode()
