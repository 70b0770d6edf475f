"""The main job needs no network: a spoken recording becomes rows where there is none."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

from tests.hear.speech import say

# Python tells of each connection before it is made; what is no Python has no network at all where the kernel allows.
GUARDED = """
import sys

def refuse(event, _):
    if event in ("socket.connect", "socket.getaddrinfo", "socket.sendto"):
        raise RuntimeError(f"the network was asked for: {event}")

sys.addaudithook(refuse)
from pipeline.cli import main
sys.exit(main(sys.argv[1:]))
"""


def without_network() -> list[str]:
    """The start of a command that has no network, as far as this computer can take it away."""
    command = ["unshare", "--map-root-user", "--net"]
    works = shutil.which(command[0]) and not subprocess.run([*command, "true"], capture_output=True).returncode
    return command if works else []


def test_a_recording_becomes_rows_without_a_network(tmp_path: Path) -> None:
    sound = say("Knee jerk, right, two plus.", "flite:slt", tmp_path / "exam.wav")
    command = [*without_network(), sys.executable, "-c", GUARDED, "structure", str(sound), "--format", "rows"]
    ran = subprocess.run(command, capture_output=True, text=True, cwd=Path(__file__).parents[2])
    assert ran.returncode == 0, ran.stderr
    (row,) = json.loads(ran.stdout)["rows"]
    assert (row["manoeuvre"], row["side"], row["value"]) == ("knee_jerk", "right", "2+")


def test_the_guard_refuses_a_connection() -> None:
    tried = GUARDED.replace("from pipeline.cli import main", "import socket; main = lambda _: socket.create_connection")
    tried = tried.replace("sys.exit(main(sys.argv[1:]))", 'main(0)(("127.0.0.1", 9))')
    ran = subprocess.run([sys.executable, "-c", tried], capture_output=True, text=True)
    assert ran.returncode and "the network was asked for" in ran.stderr
