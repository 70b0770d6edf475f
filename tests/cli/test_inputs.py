"""Any input gives rows, or one clear line; real files through the real recogniser."""

from __future__ import annotations

import json
import random
import subprocess
from pathlib import Path

import numpy as np
import pytest

from tests.cli.running import DICTATION, ROOT, Ran, run
from tests.hear.speech import RATE, Samples, load, write_audio
from tests.scoring import AUTHORED, read_cases

Capture = pytest.CaptureFixture[str]

TALK = "Right leg. Knee extension five. Knee flexion four minus. The knee jerk is two plus."
FINDINGS = {
    ("knee_extension", "right", None): "5",
    ("knee_flexion", "right", None): "4-",
    ("knee_jerk", "right", None): "2+",
}


@pytest.fixture(scope="module")
def voice() -> Samples:
    """Of the demonstration dictation: tone of both legs, power of the right leg, hip flexion of the left."""
    return load(DICTATION)[int(16.5 * RATE) : int(28.6 * RATE)]


def structure(capsys: Capture, path: Path) -> Ran:
    return run(capsys, "structure", path, "--format", "rows")


def written(path: Path, content: bytes | str) -> Path:
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path


@pytest.mark.parametrize(
    ("name", "options"),
    [
        ("plain.wav", []),
        ("eight_bit.wav", ["-c:a", "pcm_u8"]),
        ("narrow.wav", ["-ar", "8000"]),
        ("stereo.flac", ["-ac", "2"]),
        ("wide.wav", ["-ar", "48000", "-ac", "2"]),
        ("small.mp3", ["-b:a", "48k"]),
        ("film.mp4", []),
    ],
)
def test_speech_in_any_form_gives_its_rows(
    name: str, options: list[str], voice: Samples, tmp_path: Path, capsys: Capture
) -> None:
    ran = structure(capsys, write_audio(voice, tmp_path / name, *options))
    assert ran.code == 0, ran.err
    power = {key: value for key, value in ran.findings.items() if key[1] == "right" and key[0] != "tone"}
    assert set(power.values()) == {"5"}
    assert {"hip_flexion", "knee_extension", "great_toe_extension"} <= {key[0] for key in power}
    assert all(row["evidence"][0]["end"] < 12.5 for row in ran.rows)


def test_a_missing_file(tmp_path: Path, capsys: Capture) -> None:
    assert "there is no such file" in structure(capsys, tmp_path / "none.wav").error()


def test_a_folder(tmp_path: Path, capsys: Capture) -> None:
    assert "is a folder" in structure(capsys, tmp_path).error()


def test_an_empty_file(tmp_path: Path, capsys: Capture) -> None:
    assert "is empty" in structure(capsys, written(tmp_path / "a.wav", b"")).error()


def test_bytes_that_are_no_text_and_no_sound(tmp_path: Path, capsys: Capture) -> None:
    noise = random.Random(1).randbytes(20_000)
    for name in ("a.txt", "a.wav", "a"):
        assert name in structure(capsys, written(tmp_path / name, noise)).error()


def test_a_picture(tmp_path: Path, capsys: Capture) -> None:
    picture = tmp_path / "a.png"
    subprocess.run(["ffmpeg", "-v", "error", "-f", "lavfi", "-i", "color", "-frames:v", "1", picture], check=True)
    assert "a.png" in structure(capsys, picture).error()


def test_silence_has_no_rows_and_says_so(tmp_path: Path, capsys: Capture) -> None:
    ran = structure(capsys, write_audio(np.zeros(RATE * 20, np.float32), tmp_path / "silence.wav"))
    assert ran.code == 0 and ran.rows == []
    assert ran.err == "silence.wav: no result for the patient was heard; the record has no rows.\n"
    assert "No result for the patient was heard." in run(capsys, "structure", tmp_path / "silence.wav").out


def test_music_has_no_rows(tmp_path: Path, capsys: Capture) -> None:
    """A tune of synthesised chords with a bass and an echo."""
    at = np.arange(RATE) / RATE
    bars = []
    for root in (220.0, 174.6, 261.6, 196.0) * 5:
        tones = [root * step for step in (0.5, 1, 1.26, 1.5, 2)]
        bars.append(sum(np.sin(2 * np.pi * tone * at) * np.exp(-2 * at) for tone in tones) / 6)
    tune = np.concatenate(bars)
    tune[RATE // 4 :] += 0.3 * tune[: -RATE // 4]
    ran = structure(capsys, write_audio(tune.astype(np.float32), tmp_path / "music.wav"))
    assert ran.code == 0 and ran.rows == []


def test_a_broken_off_recording_keeps_its_beginning_and_reports_the_rest(tmp_path: Path, capsys: Capture) -> None:
    whole = DICTATION.read_bytes()
    ran = structure(capsys, written(tmp_path / "half.opus", whole[: len(whole) // 3]))
    assert ran.code == 0
    assert ran.findings["hip_flexion", "right", None] == "5"
    assert ("ankle_jerk", "left", None) not in ran.findings
    assert any("breaks off" in entry["reason"] for entry in json.loads(ran.out)["unheard"])


def test_a_damaged_recording_gives_no_traceback(tmp_path: Path, capsys: Capture) -> None:
    damaged = bytearray(DICTATION.read_bytes()[:60_000])
    dice = random.Random(2)
    for _ in range(200):
        damaged[dice.randrange(len(damaged))] = dice.randrange(256)
    ran = structure(capsys, written(tmp_path / "damaged.opus", bytes(damaged)))
    if ran.code:
        assert "damaged.opus" in ran.error()
    else:
        assert json.loads(ran.out)["unheard"], "damage that decodes is reported"


def test_sound_that_is_called_text(voice: Samples, tmp_path: Path, capsys: Capture) -> None:
    sound = write_audio(voice, tmp_path / "a.flac")
    ran = structure(capsys, sound.rename(tmp_path / "notes.txt"))
    assert ran.findings["knee_flexion", "right", None] == "5"


def test_text_that_is_called_sound(tmp_path: Path, capsys: Capture) -> None:
    assert "no sound but text" in structure(capsys, written(tmp_path / "a.wav", TALK)).error()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "latin-1"])
def test_text_in_any_encoding(encoding: str, tmp_path: Path, capsys: Capture) -> None:
    path = written(tmp_path / "a.txt", ("Café visit. " + TALK).encode(encoding))
    assert structure(capsys, path).findings == FINDINGS


def test_overlapping_and_backward_stamps(tmp_path: Path, capsys: Capture) -> None:
    cues = [
        "00:09.000 --> 00:12.000\nthe knee jerk is two plus",
        "00:01.000 --> 00:06.000\nright leg knee extension five",
        "00:04.000 --> 00:10.000\nknee flexion four minus",
    ]
    ran = structure(capsys, written(tmp_path / "a.vtt", "WEBVTT\n\n" + "\n\n".join(cues)))
    assert ran.findings == FINDINGS
    typed = "[0:10] right leg knee extension five\n[0:04] knee flexion four minus\n[0:20] the knee jerk is two plus"
    assert structure(capsys, written(tmp_path / "a.txt", typed)).findings == FINDINGS


def test_three_hours_of_talk(tmp_path: Path, capsys: Capture) -> None:
    """All written cases one after the other, over and over, as one subtitle file of three hours."""
    lines = [block["text"] for file in AUTHORED for case in read_cases(file) for block in case["transcript"]]
    cues, at, number = [], 0.0, 0
    while at < 3 * 3600:
        text = lines[number % len(lines)]
        end = at + 0.4 * len(text.split())
        cues.append(f"{number + 1}\n{stamp(at)} --> {stamp(end)}\n{text}\n")
        at, number = end, number + 1
    ran = structure(capsys, written(tmp_path / "long.srt", "\n".join(cues)))
    assert ran.code == 0, ran.err
    assert len(ran.findings) == len(ran.rows) > 100
    assert any(evidence["start"] > 2.9 * 3600 for row in ran.rows for evidence in row["evidence"])


def stamp(seconds: float) -> str:
    whole = int(seconds)
    return f"{whole // 3600:02}:{whole // 60 % 60:02}:{whole % 60:02},{int(seconds % 1 * 1000):03}"


def test_control_characters_in_a_transcript_do_not_reach_the_terminal(tmp_path: Path, capsys: Capture) -> None:
    path = written(tmp_path / "a\x1b[31m.txt", "left \x1b[2J four\x07 plus and then \x1b]0;title\x07 seven minus")
    ran = run(capsys, "structure", path)
    assert "\x1b" not in ran.out + ran.err and "\x07" not in ran.out + ran.err


def test_a_letter_that_no_encoding_holds(tmp_path: Path, capsys: Capture) -> None:
    path = written(tmp_path / "a.json", '{"transcript": [{"t": 0, "text": "' + "\\ud800 " + TALK + '"}]}')
    ran = structure(capsys, path)
    if ran.code:
        ran.error()
    else:
        assert ran.findings == FINDINGS


def test_only_the_patient_in_front_counts(tmp_path: Path, capsys: Capture) -> None:
    ran = structure(capsys, written(tmp_path / "a.txt", "In sciatica the ankle jerk is often absent, remember that."))
    assert ran.code == 0 and ran.rows == []


def test_the_teaching_script_is_read_like_any_text(capsys: Capture) -> None:
    ran = structure(capsys, ROOT / "README.md")
    assert ran.code == 0
