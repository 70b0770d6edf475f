"""The command `listen`, as a program of its own."""

from __future__ import annotations

import os
import resource
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from pipeline.live import sessions
from pipeline.record.store import Store
from tests.live.speech import pcm, said, write

PATIENCE = 180
"""Seconds: what does not stop in three minutes does not stop, however busy the computer is."""
SPOKEN = ("Left knee jerk two plus.", "Right ankle dorsiflexion four minus.")


PROGRAM = "import sys; from pipeline.cli import main; sys.exit(main())"


def run(*options: str, data: bytes = b"", **more: object) -> subprocess.CompletedProcess[bytes]:
    command = [sys.executable, "-c", PROGRAM, "listen", *options]
    return subprocess.run(command, input=data, capture_output=True, check=False, **more)  # type: ignore[call-overload,no-any-return]


def listening(sound: bytes, *options: str, program: str = PROGRAM) -> subprocess.Popen[bytes]:
    """The command, which has been given a sound and waits for more."""
    going = subprocess.Popen(
        [sys.executable, "-c", program, "listen", "--input", "-", *options],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        # A shell starts what runs in its background deaf to Ctrl-C.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )
    assert going.stdin is not None
    going.stdin.write(sound)
    going.stdin.flush()
    return going


def rows(store: Store, exam_id: str) -> set[tuple[str, str, str | None]]:
    return {(row.manoeuvre, row.side.value, row.value) for row in store.export_record(exam_id).rows}


def test_takes_down_keeps_and_says_how_to_review(home: Path) -> None:
    sound = pcm(said(*SPOKEN, "Computer, finish dictation."))
    done = run("--input", "-", "--title", "Bed 4", data=sound)
    assert done.returncode == 0, done.stderr.decode()
    lines = done.stdout.decode().splitlines()
    assert any("right ankle dorsiflexion 4-" in line for line in lines) and any("FINISHED" in line for line in lines)
    assert "spoken-exam review" in done.stderr.decode()
    with Store.open() as store:
        exam = store.exam(lines[-1])
        assert exam.title == "Bed 4" and exam.sound is not None
        assert 0 < exam.sound.duration <= len(sound) / 32000
        assert rows(store, exam.id) == {("knee_jerk", "left", "2+"), ("ankle_dorsiflexion", "right", "4-")}
        assert store.transcript(exam.id) is not None
    assert sessions.unfinished() == []


def test_goes_on_after_it_was_killed_and_after_ctrl_c(home: Path) -> None:
    sound = pcm(said(*SPOKEN))
    half = len(sound) // 4 * 2
    for ending, first, last, resume in (
        (signal.SIGKILL, 0, half, []),
        (signal.SIGINT, half, len(sound), ["--resume"]),
    ):
        with listening(sound[first:last], *resume) as going:
            assert going.stderr is not None
            while not (found := sessions.unfinished()) or found[0].journal_size < last:
                assert going.poll() is None
                time.sleep(0.05)
            going.send_signal(ending)
            going.wait(timeout=PATIENCE)
            told = going.stderr.read().decode()
    assert going.returncode == 130 and "go on with 'spoken-exam listen --resume'" in told
    assert told.count("\n") == 1
    done = run("--resume", "--input", "-", data=b"")
    assert done.returncode == 0, done.stderr.decode()
    with Store.open() as store:
        exam_id = done.stdout.decode().splitlines()[-1]
        assert rows(store, exam_id) == {("knee_jerk", "left", "2+"), ("ankle_dorsiflexion", "right", "4-")}


def test_stops_though_a_library_swallowed_the_interrupt(home: Path) -> None:
    swallowing = """
import sys
from pipeline.cli import main
from pipeline.live.dictation import Dictation
accept = Dictation.accept
def deaf(self, block, **more):
    accept(self, block, **more)
    try:
        print("heard", file=sys.stderr, flush=True)
        import time; time.sleep(60)
    except KeyboardInterrupt:
        pass
Dictation.accept = deaf
sys.exit(main())
"""
    with listening(bytes(32000), program=swallowing) as going:
        assert going.stderr is not None
        assert going.stderr.readline() == b"heard\n"
        going.send_signal(signal.SIGINT)
        assert going.wait(timeout=PATIENCE) == 130
        assert "go on with 'spoken-exam listen --resume'" in going.stderr.read().decode()


def test_a_full_disk_is_one_line_and_loses_nothing(home: Path) -> None:
    with Store.open():
        pass
    sound = pcm(said(*SPOKEN, *SPOKEN))
    limit = 150_000

    def small() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    done = run("--input", "-", data=sound, preexec_fn=small)
    assert done.returncode == 1
    assert done.stderr.decode().startswith("Error: the disk is full: all that was heard before is kept")
    assert done.stderr.decode().count("\n") == 1
    (session,) = sessions.unfinished()
    kept = session.journal_size
    assert limit * 0.9 < kept <= limit


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--resume", "--input", "-"], "no unfinished dictation"),
        (["--input", "no-such-file.wav"], "no-such-file.wav"),
        (["--input", "pyproject.toml"], "pyproject.toml"),
        (["--device", "no such microphone"], "microphone"),
    ],
)
def test_bad_input_is_one_line(home: Path, options: list[str], told: str) -> None:
    done = run(*options)
    lines = done.stderr.decode().splitlines()
    assert done.returncode == 1 and len(lines) == 1 and lines[0].startswith("Error: ") and told in lines[0]
    assert sessions.unfinished() == []


def test_read_back_without_a_voice_is_one_line(home: Path) -> None:
    done = run("--read-back", "--input", "-", env={**os.environ, "PATH": ""})
    assert done.returncode == 1
    assert (
        done.stderr.decode() == "Error: read-back needs a voice: install espeak-ng or flite, or leave out --read-back\n"
    )


def test_a_recording_plays_at_its_own_speed(home: Path, tmp_path: Path) -> None:
    source = write(tmp_path / "said.wav", said("Left knee jerk two plus."))
    begun = time.monotonic()
    done = run("--input", str(source))
    assert done.returncode == 0, done.stderr.decode()
    assert time.monotonic() - begun > source.stat().st_size / 32000
