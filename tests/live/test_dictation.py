"""A dictation as a whole: the rows of the recording, whatever happened on the way."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from pipeline.engine import Engine
from pipeline.hear import listen
from pipeline.hear.audio import RATE, Sound
from pipeline.hear.both import default_listener
from pipeline.live.board import Board
from pipeline.live.dictation import JOURNAL, Dictation, Settings
from pipeline.live.hearing import Hearing
from pipeline.live.journal import Journal
from pipeline.live.partial import partial
from pipeline.record.model import ExamRecord
from tests.live.hearing import Recorded
from tests.live.speech import from_pcm, pcm, said
from tests.scoring import ROOT

STEP = 1600
SETTINGS = Settings(title="Bed 4")


def feed(dictation: Dictation, data: bytes) -> None:
    for first in range(0, len(data), STEP):
        dictation.accept(data[first : first + STEP])


def test_rows_are_those_of_the_whole_recording(
    engine: Engine, dictated: bytes, uninterrupted: tuple[ExamRecord, Recorded]
) -> None:
    batch = engine.structure(listen(Sound(from_pcm(dictated)), default_listener(engine.lexicon)))
    assert len(batch.rows) >= 12
    assert uninterrupted[0].rows == batch.rows


def test_the_board_fills_up_while_somebody_speaks(tmp_path: Path, engine: Engine, hearing: Hearing) -> None:
    boards: list[Board] = []
    dictation = Dictation(
        tmp_path, SETTINGS, hearing, engine, partial=partial(engine.lexicon), changed=boards.append
    )  # fmt: skip
    feed(dictation, pcm(said("Left knee jerk two plus.")))
    dictation.drain()
    board = dictation.board
    assert board.taken == ["left knee jerk 2+"]
    # A question mark stands until the sound was asked once more.
    lines = [(line.name, line.right, line.left.removesuffix(" ?"), line.new) for p in board.parts for line in p.lines]
    assert lines == [("knee jerk", "", "2+", True)]
    assert "knee jerk, right" in board.missing and "ankle jerk" in board.missing
    assert board.caution.startswith("An aid to documentation, not a diagnosis")
    feed(dictation, pcm(said("Right ankle dorsiflexion four minus.")))
    dictation.drain()
    assert dictation.board.taken == ["right ankle dorsiflexion 4-"]
    partials = [board.partial for board in boards if board.partial]
    assert any("knee" in words for words in partials)
    # Words of what goes on are shown before its rows are.
    first_words = next(place for place, board in enumerate(boards) if "ankle" in board.partial)
    assert all("right ankle dorsiflexion 4-" not in board.taken for board in boards[:first_words])
    dictation.close()


def test_killed_at_any_moment_it_ends_as_if_nothing_had_happened(
    tmp_path: Path, engine: Engine, dictated: bytes, uninterrupted: tuple[ExamRecord, Recorded]
) -> None:
    """The recorder process is killed; another one goes on. What the listeners hear is real, but heard beforehand."""
    record, recorded = uninterrupted
    (tmp_path / "sound").write_bytes(dictated)
    (tmp_path / "heard").write_bytes(recorded.pickled())
    chance = random.Random(3)
    stopped = set()
    command = [sys.executable, "-m", "tests.live.crash_dictation", str(tmp_path / "heard"), str(tmp_path / "sound")]
    with subprocess.Popen(command, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as recorder:
        assert recorder.stdin is not None and recorder.stdout is not None
        assert recorder.stdout.readline() == "ready\n"
        for trial in range(25):
            folder, told = tmp_path / str(trial), tmp_path / f"{trial}.acknowledged"
            for _begun in range(2):
                recorder.stdin.write(f"{folder}\n")
                recorder.stdin.flush()
                before = told.stat().st_size if told.exists() else 0
                child = int(recorder.stdout.readline())
                while not told.exists() or told.stat().st_size == before:
                    time.sleep(0.005)
                time.sleep(chance.random() * 0.5)
                os.kill(child, signal.SIGKILL)
                while _runs(child):
                    time.sleep(0.005)
                journal = Journal(folder / JOURNAL)
                acknowledged = told.read_bytes() if told.exists() else b""
                acknowledged = acknowledged[: len(acknowledged) // 8 * 8][-8:]
                assert journal.samples >= int.from_bytes(acknowledged, "little")
                kept = (journal.read(0, journal.samples) * 32768).astype("<i2").tobytes()
                assert kept == dictated[: len(kept)]
                stopped.add(journal.samples)
                journal.close()
            dictation = Dictation(folder, SETTINGS, recorded, engine)
            feed(dictation, dictated[dictation.samples * 2 :])
            assert dictation.finish().record == record
            dictation.close()
        recorder.stdin.close()
    assert len(stopped) > 25


def _runs(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True


def test_a_failing_recogniser_stops_it_and_loses_nothing(tmp_path: Path, engine: Engine, dictated: bytes) -> None:
    class Broken:
        def __getattr__(self, name: str) -> object:
            raise RuntimeError("the recogniser broke")

    dictation = Dictation(tmp_path, SETTINGS, Broken(), engine)  # type: ignore[arg-type]
    with pytest.raises(RuntimeError, match="broke"):
        for first in range(0, len(dictated), STEP):
            dictation.accept(dictated[first : first + STEP])
            time.sleep(0.01)
    samples = dictation.samples
    dictation.close()
    assert samples > RATE
    assert Journal(tmp_path / JOURNAL).samples == samples


def test_while_paused_it_keeps_silence_only(tmp_path: Path, engine: Engine, hearing: Hearing) -> None:
    dictation = Dictation(tmp_path, SETTINGS, hearing, engine)
    feed(dictation, pcm(said("Left knee jerk two plus.")))
    dictation.command("pause")
    before = dictation.samples
    private = pcm(said("Right knee jerk absent."))
    feed(dictation, private)
    assert not dictation.journal.read(before, dictation.samples).any()
    feed(dictation, pcm(said("computer, resume dictation.")))
    dictation.drain()
    assert dictation.state == "listening"
    feed(dictation, pcm(said("Left ankle jerk one plus.")))
    found = {(row.manoeuvre, row.side, row.value) for row in dictation.finish().record.rows}
    assert found == {("knee_jerk", "left", "2+"), ("ankle_jerk", "left", "1+")}
    dictation.close()
    again = Dictation(tmp_path, SETTINGS, hearing, engine)
    assert again.state == "listening"
    assert {(row.manoeuvre, row.side, row.value) for row in again.finish().record.rows} == found
    again.close()


def test_does_not_hear_itself(tmp_path: Path, engine: Engine, hearing: Hearing) -> None:
    dictation = Dictation(tmp_path, SETTINGS, hearing, engine)
    feed(dictation, pcm(said("Left knee jerk two plus.")))
    own = pcm(said("Right ankle jerk absent."))
    for first in range(0, len(own), STEP):
        dictation.accept(own[first : first + STEP], muted=True)
    assert [row.manoeuvre for row in dictation.finish().record.rows] == ["knee_jerk"]
    dictation.close()
