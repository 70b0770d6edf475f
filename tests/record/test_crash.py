"""`kill -9` at any moment: no change that the store called kept is lost, and what is left verifies."""

from __future__ import annotations

import random
import subprocess
import sys
import time
from pathlib import Path

from pipeline.record.store import Store

KILLS = 32
WRITER = Path(__file__).with_name("crash_writer.py")


def test_a_killed_writer_loses_no_committed_change(tmp_path: Path) -> None:
    chance = random.Random(20)
    kept: dict[str, int] = {}
    states = set()
    for _ in range(KILLS):
        process = subprocess.Popen(
            [sys.executable, str(WRITER), str(tmp_path)],
            stdout=subprocess.PIPE,
            text=True,
            env={"PYTHONPATH": str(Path.cwd()), "PATH": ""},
        )
        assert process.stdout is not None
        lines = [process.stdout.readline() for _ in range(chance.randint(1, 22))]
        # From inside one change to the middle of the next: a change takes some milliseconds.
        time.sleep(chance.random() * 0.03)
        process.kill()
        lines += process.stdout.readlines()
        process.wait()
        for line in lines:
            exam, revision = line.split()
            kept[exam] = int(revision)
        with Store.open(tmp_path / "store") as store:
            known = {one.id: one for one in store.list()}
            assert kept.keys() <= known.keys()
            for exam, one in known.items():
                assert store.verify(exam) == []
                assert store.exam(exam).revision >= kept.get(exam, 0)
                states.add(one.state)
    assert len(kept) > KILLS and states >= {"open", "amended"}
