"""Tracked files hold nothing of the machine or network they were written on."""

import re
import subprocess

import pytest

from tests.house.project import ROOT

# Written in pieces, so that this file does not hold what it looks for.
TRACES = re.compile(
    "|".join(
        [
            r"(?<![\w.$}~-])/(?:work|root|tmp|home/\w+|Users/\w+)/",
            "file:" + "//",
            "pypi" + r"\.org",
            "python" + r"hosted\.org",
            "registry" + r"\.npmjs",
            "-----BEGIN [A-Z ]*" + "PRIVATE KEY",
        ]
    )
)


def traces(text: str) -> list[str]:
    return [line.strip()[:120] for line in text.splitlines() if TRACES.search(line)]


def test_no_trace_of_a_machine_or_registry() -> None:
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True).stdout
    found = {}
    for name in filter(None, listed.split("\0")):
        file = ROOT / name
        content = file.read_bytes() if file.is_file() else b""
        if b"\0" not in content and (lines := traces(content.decode(errors="replace"))):
            found[name] = lines
    assert found == {}


@pytest.mark.parametrize(
    "line",
    [
        "cd /" + "work/main",
        'open("/' + 'tmp/x.wav")',
        "see /" + "home/someone/notes",
        "six @ file:" + "//wheels/six.whl",
        "--index-url https://" + "pypi" + ".org/simple",
    ],
)
def test_a_trace_is_found(line: str) -> None:
    assert traces(f"first\n{line}\nlast") == [line]


@pytest.mark.parametrize("line", ["see docs/work/list.md", "https://example.org/root/page", "the home/away pair"])
def test_ordinary_text_is_let_through(line: str) -> None:
    assert traces(line) == []
