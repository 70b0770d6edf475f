"""The journal of a dictation: an append-only file of checked blocks, on disk before anything is recognised.

A block is a head (`_HEAD`: mark, kind, length, position in samples, CRC-32 of all that and of the content) and its
content: 16-bit samples, or a note in JSON. A block that was cut short at the end, by a crash or a power cut, was never
acknowledged and is dropped when the journal is opened again. A damaged block before the end becomes silence of its
length, and is told in `damaged`.
"""

from __future__ import annotations

import errno
import fcntl
import json
import os
import struct
import zlib
from array import array
from bisect import bisect_right
from pathlib import Path
from typing import Any

import numpy as np

from pipeline.hear.audio import RATE, Samples
from pipeline.live.errors import LiveError

SAMPLE = 2
"""Bytes of a sample."""
SYNC_SECONDS = 0.5
"""Sound that may wait for the disk: a power cut, unlike a crash, costs no more than this."""

_TITLE = b"spoken-exam journal 1\n"
_MARK = b"\xf1BLK"
_HEAD = struct.Struct("<4sBIQI")
_SOUND, _NOTE = 1, 2
_LONGEST = 1 << 22


class Journal:
    """One open journal; one process has it at a time, and one thread writes.

    `samples`: how many samples it holds. `synced`: how many of them are surely on the disk. `notes`: what had been
    noted when it was opened, in order, each with the position at which it was. Raises `LiveError` where the file cannot
    be made, read or added to; what it held before stays whole.
    """

    def __init__(self, path: Path) -> None:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        try:
            self._file = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
        except OSError as error:
            raise LiveError(f"the journal {path} cannot be opened ({error.strerror}): check its permissions") from error
        try:
            fcntl.flock(self._file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            os.close(self._file)
            raise LiveError("this dictation is open in another window or program: finish or close it there") from None
        self.samples = 0
        self.notes: list[tuple[int, dict[str, Any]]] = []
        self.damaged: list[tuple[int, int]] = []
        self._starts = array("Q")
        self._places = array("Q")
        self._end = 0
        try:
            self._open()
        except BaseException:
            os.close(self._file)
            raise
        self.synced = self.samples

    def close(self) -> None:
        """Brings everything to the disk and lets go of the file."""
        try:
            self.sync()
        finally:
            os.close(self._file)

    def add_sound(self, pcm: bytes) -> None:
        """16-bit little-endian mono samples, at 16 kHz."""
        if pcm:
            place = self._append(_SOUND, pcm)
            # In this order: another thread may read meanwhile, and goes by the starts.
            self._places.append(place)
            self._starts.append(self.samples)
            self.samples += len(pcm) // SAMPLE
            if self.samples - self.synced >= SYNC_SECONDS * RATE:
                self.sync()

    def add_note(self, note: dict[str, Any]) -> None:
        """Something that happened at the present position; on the disk when this returns."""
        self._append(_NOTE, json.dumps(note, ensure_ascii=False).encode())
        self.sync()

    def sync(self) -> None:
        """Returns when all that was added is on the disk."""
        try:
            os.fsync(self._file)
        except OSError as error:
            raise _cannot_write(error) from error
        self.synced = self.samples

    def read(self, first: int, last: int) -> Samples:
        """The samples from `first` to `last`, mono in -1..1; silence where a block was damaged."""
        last = min(last, self.samples)
        found = np.zeros(max(0, last - first), np.float32)
        block = max(0, bisect_right(self._starts, first) - 1)
        while block < len(self._starts) and self._starts[block] < last:
            start = self._starts[block]
            values = np.frombuffer(self._content(self._places[block]), "<i2")
            a, b = max(first, start), min(last, start + values.size)
            if a < b:
                found[a - first : b - first] = values[a - start : b - start] / np.float32(32768)
            block += 1
        return found

    def _append(self, kind: int, content: bytes) -> int:
        block = _block(kind, self.samples, content)
        place = self._end
        try:
            written = 0
            while written < len(block):
                written += os.pwrite(self._file, block[written:], place + written)
        except OSError as error:
            # What the disk took of the block would stand between the journal and the next try.
            os.ftruncate(self._file, place)
            raise _cannot_write(error) from error
        self._end = place + len(block)
        return place

    def _content(self, place: int) -> bytes:
        _, _, length, _, _ = _HEAD.unpack(os.pread(self._file, _HEAD.size, place))
        return os.pread(self._file, length, place + _HEAD.size)

    def _open(self) -> None:
        size = os.fstat(self._file).st_size
        title = os.pread(self._file, len(_TITLE), 0)
        if not _TITLE.startswith(title):
            raise LiveError("this is no journal of a dictation: give the folder that 'spoken-exam listen' made")
        if len(title) < len(_TITLE):
            self._end = 0
            self._write_title()
            return
        place = self._end = len(_TITLE)
        while place < size:
            after = self._take(place)
            if after is None:
                found = self._next(place + 1, size)
                if found is None:
                    break
                place = found
            else:
                place = self._end = after
        os.ftruncate(self._file, self._end)

    def _write_title(self) -> None:
        try:
            os.pwrite(self._file, _TITLE, 0)
            os.fsync(self._file)
        except OSError as error:
            raise _cannot_write(error) from error
        self._end = len(_TITLE)

    def _take(self, place: int) -> int | None:
        """Takes in the block at `place`; where the next begins, or None where there is no whole block."""
        head = os.pread(self._file, _HEAD.size, place)
        if len(head) < _HEAD.size:
            return None
        mark, kind, length, at, _ = _HEAD.unpack(head)
        if mark != _MARK or length > _LONGEST or at < self.samples:
            return None
        content = os.pread(self._file, length, place + _HEAD.size)
        if _block(kind, at, content)[: _HEAD.size] != head:
            return None
        if at > self.samples:
            self.damaged.append((self.samples, at))
            self.samples = at
        if kind == _SOUND:
            self._starts.append(at)
            self._places.append(place)
            self.samples += length // SAMPLE
        else:
            self.notes.append((at, json.loads(content)))
        return int(place + _HEAD.size + length)

    def _next(self, place: int, size: int) -> int | None:
        """Where the next whole block begins, past a damaged one."""
        while place < size:
            window = os.pread(self._file, _LONGEST, place)
            at = window.find(_MARK)
            if at < 0:
                place += max(1, len(window) - len(_MARK) + 1)
                continue
            head = os.pread(self._file, _HEAD.size, place + at)
            if len(head) == _HEAD.size:
                _, kind, length, position, _ = _HEAD.unpack(head)
                content = os.pread(self._file, min(length, _LONGEST), place + at + _HEAD.size)
                if _block(kind, position, content)[: _HEAD.size] == head:
                    return place + at
            place += at + 1
        return None


def _block(kind: int, at: int, content: bytes) -> bytes:
    bare = _HEAD.pack(_MARK, kind, len(content), at, 0)
    return _HEAD.pack(_MARK, kind, len(content), at, zlib.crc32(content, zlib.crc32(bare))) + content


def _cannot_write(error: OSError) -> LiveError:
    full = error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
    what = "the disk is full" if full else f"the disk does not take the sound ({error.strerror})"
    mend = "make room" if full else "mend that"
    return LiveError(f"{what}: all that was heard before is kept; {mend}, then 'spoken-exam listen --resume'")
