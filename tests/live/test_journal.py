"""The journal: nothing that was acknowledged is lost, whatever ends the writing."""

from __future__ import annotations

import os
import random
import resource
import signal
import stat
import struct
import time
from pathlib import Path

import numpy as np
import pytest

from pipeline.live.errors import LiveError
from pipeline.live.journal import Journal

BLOCK = 400


def block(number: int) -> bytes:
    return np.random.default_rng(number).integers(-32768, 32767, BLOCK, np.int16).astype("<i2").tobytes()


def written(path: Path, blocks: int) -> None:
    journal = Journal(path)
    for number in range(blocks):
        journal.add_sound(block(number))
    journal.close()


def as_pcm(journal: Journal) -> bytes:
    return (journal.read(0, journal.samples) * 32768).astype("<i2").tobytes()


def test_gives_back_what_it_was_given(tmp_path: Path) -> None:
    journal = Journal(tmp_path / "j")
    journal.add_sound(block(0))
    journal.add_note({"order": "pause", "text": "größer"})
    journal.add_sound(block(1))
    journal.close()
    again = Journal(tmp_path / "j")
    assert again.samples == again.synced == 2 * BLOCK
    assert as_pcm(again) == block(0) + block(1)
    assert again.notes == [(BLOCK, {"order": "pause", "text": "größer"})]
    whole = again.read(0, 2 * BLOCK)
    assert np.array_equal(again.read(BLOCK - 7, BLOCK + 9), whole[BLOCK - 7 : BLOCK + 9])


def test_only_the_owner_can_read_it(tmp_path: Path) -> None:
    written(tmp_path / "live" / "j", 1)
    assert stat.S_IMODE((tmp_path / "live" / "j").stat().st_mode) == 0o600
    assert stat.S_IMODE((tmp_path / "live").stat().st_mode) == 0o700


def test_one_program_has_it_at_a_time(tmp_path: Path) -> None:
    journal = Journal(tmp_path / "j")
    with pytest.raises(LiveError, match="open in another window"):
        Journal(tmp_path / "j")
    journal.close()
    Journal(tmp_path / "j").close()


@pytest.mark.parametrize("lost", [1, 3, 2 * BLOCK - 1, 2 * BLOCK + 1, 2 * BLOCK + 20])
def test_drops_a_last_block_that_was_cut_short(tmp_path: Path, lost: int) -> None:
    written(tmp_path / "j", 4)
    os.truncate(tmp_path / "j", (tmp_path / "j").stat().st_size - lost)
    journal = Journal(tmp_path / "j")
    assert as_pcm(journal) == b"".join(map(block, range(3)))
    journal.add_sound(block(9))
    journal.close()
    assert as_pcm(Journal(tmp_path / "j")) == b"".join(map(block, (0, 1, 2, 9)))


def test_opens_after_a_cut_at_any_byte(tmp_path: Path) -> None:
    written(tmp_path / "j", 2)
    whole = (tmp_path / "j").read_bytes()
    for size in range(0, len(whole), 13):
        (tmp_path / "k").write_bytes(whole[:size])
        journal = Journal(tmp_path / "k")
        assert (block(0) + block(1)).startswith(as_pcm(journal))
        journal.add_sound(block(7))
        journal.close()


@pytest.mark.parametrize("place", [30, 60, 1000])
def test_a_damaged_block_becomes_silence_and_is_told(tmp_path: Path, place: int) -> None:
    written(tmp_path / "j", 4)
    data = bytearray((tmp_path / "j").read_bytes())
    data[place] ^= 0xFF
    (tmp_path / "j").write_bytes(data)
    journal = Journal(tmp_path / "j")
    number = 0 if place < 800 else 1
    assert journal.damaged == [(number * BLOCK, (number + 1) * BLOCK)]
    wanted = [bytes(2 * BLOCK) if one == number else block(one) for one in range(4)]
    assert as_pcm(journal) == b"".join(wanted)


def test_refuses_a_file_of_another_kind(tmp_path: Path) -> None:
    (tmp_path / "j").write_bytes(b"RIFF, and so on, and so on, and so on")
    with pytest.raises(LiveError, match="no journal"):
        Journal(tmp_path / "j")
    assert (tmp_path / "j").read_bytes().startswith(b"RIFF")


def test_a_full_disk_loses_nothing(tmp_path: Path) -> None:
    """In a child whose files may not grow beyond a limit, which the system reports as it does a full disk."""
    path = tmp_path / "j"
    told, tell = os.pipe()
    child = os.fork()
    if not child:
        resource.setrlimit(resource.RLIMIT_FSIZE, (5000, 5000))
        journal = Journal(path)
        number = 0
        try:
            while True:
                journal.add_sound(block(number))
                number += 1
        except LiveError as error:
            assert path.stat().st_size < 5000
            os.write(tell, f"{number} {error}".encode())
        os._exit(0)
    os.waitpid(child, 0)
    number, message = os.read(told, 1000).decode().split(" ", 1)
    assert message.startswith("the disk is full: all that was heard before is kept; make room")
    journal = Journal(path)
    assert as_pcm(journal) == b"".join(map(block, range(int(number))))
    journal.add_sound(block(int(number)))
    assert journal.samples == (int(number) + 1) * BLOCK


def test_killed_at_any_moment_it_keeps_what_it_acknowledged(tmp_path: Path) -> None:
    chance = random.Random(7)
    lengths = set()
    for trial in range(50):
        path = tmp_path / f"j{trial}"
        told, tell = os.pipe()
        child = os.fork()
        if not child:
            journal = Journal(path)
            for number in range(100_000):
                journal.add_sound(block(number))
                os.write(tell, struct.pack("<Q", journal.synced))
            os._exit(0)
        os.close(tell)
        os.read(told, 8)
        time.sleep(chance.random() * 0.03)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        said = b""
        while more := os.read(told, 1 << 16):
            said += more
        os.close(told)
        acknowledged = struct.unpack("<Q", said[-8:])[0] if said else 0
        journal = Journal(path)
        assert journal.samples >= acknowledged
        assert as_pcm(journal) == b"".join(map(block, range(journal.samples // BLOCK)))
        lengths.add(journal.samples)
        journal.close()
    assert len(lengths) > 10
