from __future__ import annotations

import io
import os
import wave
from pathlib import Path

import numpy as np
import pytest

from pipeline.record import audio
from pipeline.record.audio import AudioShelf
from pipeline.record.errors import StoreError
from pipeline.record.sealing import Locked, Open, Sealer
from pipeline.record.store import Store
from tests.record import examples
from tests.record.test_store import add


def samples(wav: bytes) -> np.ndarray:
    with wave.open(io.BytesIO(wav)) as reader:
        assert (reader.getframerate(), reader.getnchannels(), reader.getsampwidth()) == (16000, 1, 2)
        return np.frombuffer(reader.readframes(reader.getnframes()), dtype="<i2")


@pytest.mark.parametrize("sealer", [Open(), Locked(b"k" * 32)])
def test_a_clip_is_that_stretch_of_the_sound(tmp_path: Path, sealer: Sealer) -> None:
    whole = audio.as_wav(examples.sound(tmp_path / "a.wav"))
    shelf = AudioShelf(tmp_path / "shelf", sealer)
    kept = shelf.keep(whole)
    assert kept.duration == pytest.approx(4.0, abs=0.01)
    assert shelf.read(kept) == whole
    everything = samples(whole)
    for start, end in [(0.0, 0.5), (1.3, 3.7), (3.5, 99.0), (-2.0, 0.25)]:
        clip = samples(shelf.clip(kept, start, end))
        assert np.array_equal(clip, everything[round(max(start, 0) * 16000) : round(end * 16000)])
    assert len(samples(shelf.clip(kept, 50, 60))) == 0


def test_peaks_follow_the_loudness(tmp_path: Path) -> None:
    found = audio.peaks(audio.as_wav(examples.sound(tmp_path / "a.wav")), 8)
    assert found == sorted(found) and found[0] < 0.15 < 0.8 < found[-1] <= 1
    assert audio.peaks(bytes(audio.HEADER), 3) == [0, 0, 0]


def test_what_is_no_sound_is_refused_before_anything_is_kept(tmp_path: Path, home: Path) -> None:
    (tmp_path / "notes.wav").write_text("not a sound")
    with Store.open() as store:
        for source in (tmp_path / "notes.wav", tmp_path / "missing.wav"):
            with pytest.raises(StoreError, match="cannot be read as sound"):
                add(store, audio=source)
        assert store.list() == [] and list((home / "audio").iterdir()) == []


def test_files_that_a_crash_left_behind_go_at_the_next_opening(tmp_path: Path, home: Path) -> None:
    with Store.open() as store:
        exam = add(store, audio=examples.sound(tmp_path / "a.wav"))
    young, old = home / "audio" / "young.sound", home / "audio" / "old.sound"
    young.write_bytes(b"x"), old.write_bytes(b"x")
    os.utime(old, (1, 1))
    (known,) = set((home / "audio").iterdir()) - {young, old}
    os.utime(known, (1, 1))
    with Store.open() as store:
        assert set((home / "audio").iterdir()) == {young, known}
        assert store.verify(exam) == []
