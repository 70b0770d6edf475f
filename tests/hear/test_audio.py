"""Decoding of real files made by the ffmpeg command, whole and damaged."""

from __future__ import annotations

import subprocess
from pathlib import Path

import numpy as np
import pytest

from pipeline.hear import InputError, hear
from pipeline.hear.audio import RATE, decode
from tests.hear.speech import Samples, load, say, trimmed, write_audio

SECONDS = 12


@pytest.fixture(scope="module")
def voice(tmp_path_factory: pytest.TempPathFactory) -> Samples:
    path = tmp_path_factory.mktemp("voice") / "voice.wav"
    line = "The knee jerk is two plus and the ankle jerk is absent on the right."
    speech = trimmed(load(say(line, "flite:slt", path)))
    return np.tile(speech, 4)[: SECONDS * RATE]


FORMS = {
    "pcm.wav": [],
    "eight_bit.wav": ["-c:a", "pcm_u8", "-ar", "8000"],
    "stereo.wav": ["-ac", "2", "-ar", "48000"],
    "a.mp3": [],
    "a.flac": ["-ar", "44100"],
    "a.ogg": ["-c:a", "libvorbis"],
    "a.opus": [],
    "a.m4a": [],
    "a.webm": [],
    "fast.mp4": ["-movflags", "+faststart"],
}


@pytest.mark.parametrize("name", FORMS)
def test_sound_of_every_form_is_the_sound_that_went_in(name: str, voice: Samples, tmp_path: Path) -> None:
    sound = decode(write_audio(voice, tmp_path / name, *FORMS[name]))
    assert sound.samples.dtype == np.float32 and sound.samples.ndim == 1
    assert sound.duration == pytest.approx(SECONDS, abs=0.12)
    assert sound.missing == []
    # The envelope in steps of 50 ms follows the original's, so the sound stands where it stood.
    step = RATE // 20
    size = min(voice.size, sound.samples.size) // step * step
    before, after = (np.abs(each[:size]).reshape(-1, step).mean(1) for each in (voice, sound.samples))
    assert np.corrcoef(before, after)[0, 1] > 0.95


@pytest.mark.parametrize("name", ["pcm.wav", "a.mp3", "a.flac", "a.webm", "fast.mp4", "a.ogg", "a.opus"])
def test_broken_off_recording_gives_its_first_part_and_says_so(name: str, voice: Samples, tmp_path: Path) -> None:
    path = write_audio(voice, tmp_path / name, *FORMS[name])
    path.write_bytes(path.read_bytes()[: path.stat().st_size * 6 // 10])
    sound = decode(path)
    assert 4 < sound.duration < 9
    (rest,) = sound.missing
    assert "breaks off" in rest.reason
    assert rest.start == pytest.approx(sound.duration)
    if name not in ("a.ogg", "a.opus"):  # Ogg does not say how long it was
        assert rest.end == pytest.approx(SECONDS, abs=0.12)


@pytest.mark.parametrize("name", ["a.flac", "a.m4a", "a.webm", "a.ogg", "a.opus", "a.mp3"])
def test_damage_in_the_middle_is_reported_where_it_is(name: str, voice: Samples, tmp_path: Path) -> None:
    path = write_audio(voice, tmp_path / name, *FORMS[name])
    data = bytearray(path.read_bytes())
    data[len(data) // 2 : len(data) // 2 + len(data) // 10] = bytes(len(data) // 10)
    path.write_bytes(data)
    sound = decode(path)
    assert any(entry.start - 1 < SECONDS / 2 < entry.end + 1.5 for entry in sound.missing)
    if name != "a.mp3":  # MP3 frames carry no time, so what follows moves forward
        assert sound.duration == pytest.approx(SECONDS, abs=0.12)


def test_sound_of_a_video_and_a_video_without(voice: Samples, tmp_path: Path) -> None:
    wav = write_audio(voice, tmp_path / "voice.wav")
    picture = ["-f", "lavfi", "-i", "color=black:s=64x64:r=5:d=12"]
    for name, audio in (("with.mp4", ["-i", str(wav), "-c:a", "aac"]), ("without.mp4", [])):
        subprocess.run(["ffmpeg", "-v", "error", *picture, *audio, str(tmp_path / name)], check=True)
    assert decode(tmp_path / "with.mp4").duration == pytest.approx(SECONDS, abs=0.12)
    with pytest.raises(InputError, match="no sound"):
        hear(tmp_path / "without.mp4")


def test_a_playlist_inside_opens_nothing(voice: Samples, tmp_path: Path) -> None:
    """A playlist disguised as a recording must not reach other files."""
    write_audio(voice, tmp_path / "secret.ts", "-f", "mpegts")
    path = tmp_path / "list.m3u8"
    path.write_bytes(f"#EXTM3U\n#EXTINF:12,\n{tmp_path}/secret.ts\n#EXT-X-ENDLIST\n".encode() + bytes(64))
    with pytest.raises(InputError):
        decode(path)


def write_unusable(folder: Path) -> None:
    (folder / "empty.wav").write_bytes(b"")
    (folder / "noise.wav").write_bytes(np.random.default_rng(1).bytes(5000))
    (folder / "heading.wav").write_bytes(b"RIFF\x24\x00\x00\x00WAVEfmt \x10\x00\x00\x00")
    (folder / "pointer.wav").write_text("this is only a note about a recording\n")
    (folder / "blank.txt").write_text(" \n\n")
    (folder / "cut.txt").write_bytes(b"\xff\xfea")


@pytest.mark.parametrize(
    "name", ["empty.wav", "noise.wav", "heading.wav", "pointer.wav", "blank.txt", "cut.txt", "missing.wav", "."]
)
def test_unusable_input_gives_one_line_that_says_what_to_do(name: str, tmp_path: Path) -> None:
    write_unusable(tmp_path)
    with pytest.raises(InputError) as caught:
        hear(tmp_path / name)
    message = str(caught.value)
    assert "\n" not in message
    assert any(advice in message for advice in ("give", "check"))
