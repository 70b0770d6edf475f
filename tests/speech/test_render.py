import json
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from scripts.speech import sound
from scripts.speech.render import CACHE_VARIABLE, RATE, render, render_case
from scripts.speech.sound import SpeechError

CASE = {"id": "short", "clean": "Knee jerk two plus. Ankle jerk absent.", "rows": []}
ROOT = Path(__file__).parents[2]


def run(cases: Path, tmp_path: Path, *options: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "scripts.speech.render", str(cases), "--out", str(tmp_path / "out"), *options]
    # The program's own environment, so that the real voices are found, but not the user's cache.
    environment = {"PATH": "/usr/bin:/bin", CACHE_VARIABLE: str(tmp_path / "cache")}
    return subprocess.run(command, capture_output=True, text=True, cwd=ROOT, env=environment, check=False)


def test_a_case_is_made_once_and_its_sentences_are_where_they_say(tmp_path: Path) -> None:
    first = render_case(CASE, "flite-rms", cache=tmp_path)
    made = first.path.stat().st_mtime_ns
    samples, _ = sound.read(first.path, RATE)
    assert [one.text for one in first.sentences] == ["Knee jerk two plus.", "Ankle jerk absent."]
    pause = samples[round(first.sentences[0].end * RATE) + 1 : round(first.sentences[1].start * RATE) - 1]
    assert np.abs(pause).max() == 0
    again = render_case(CASE, "flite-rms", cache=tmp_path)
    assert again == first
    assert again.path.stat().st_mtime_ns == made


def test_other_words_voices_and_conditions_are_other_files(tmp_path: Path) -> None:
    said = CASE["clean"]
    paths = [
        render(said, "flite-rms", "clean", tmp_path).path,
        render(said, "flite-rms", "noise20", tmp_path).path,
        render(said, "flite-slt", "clean", tmp_path).path,
        render("Ankle jerk absent.", "flite-rms", "clean", tmp_path).path,
    ]
    assert len(set(paths)) == 4
    assert len({path.read_bytes() for path in paths}) == 4


def test_times_follow_the_speed(tmp_path: Path) -> None:
    plain = render(CASE["clean"], "flite-slt", "clean", tmp_path)
    slow = render(CASE["clean"], "flite-slt", "slow", tmp_path)
    assert slow.sentences[1].start == pytest.approx(plain.sentences[1].start / 0.9)


def test_nothing_is_kept_of_a_condition_that_does_not_exist(tmp_path: Path) -> None:
    with pytest.raises(SpeechError, match="unknown condition"):
        render(CASE["clean"], "flite-slt", "cave", tmp_path)
    assert not list(tmp_path.iterdir())


def test_the_command_writes_sound_and_times_for_each_case(tmp_path: Path) -> None:
    cases = tmp_path / "cases.jsonl"
    cases.write_text(json.dumps(CASE) + "\n\n" + json.dumps(CASE | {"id": "second"}) + "\n")
    done = run(cases, tmp_path, "--voice", "espeak-gb", "--condition", "room+noise20")
    assert done.returncode == 0, done.stderr
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == [
        "second.flac",
        "second.json",
        "short.flac",
        "short.json",
    ]
    times = json.loads((tmp_path / "out" / "short.json").read_text())
    samples, _ = sound.read(tmp_path / "out" / "short.flac", RATE)
    assert 0 < times[0]["start"] < times[0]["end"] < times[1]["start"] < times[1]["end"] < len(samples) / RATE


@pytest.mark.parametrize(
    ("line", "options", "problem"),
    [
        ('{"id": "a", "clean": ', (), "line 1: not a case"),
        ('{"id": "a"}', (), "line 1: not a case"),
        ('{"id": "a", "clean": 3}', (), "line 1: clean must be a text"),
        ('{"id": "a", "clean": "Hello."}', ("--condition", "cave"), "unknown condition 'cave'"),
    ],
)
def test_bad_input_gets_one_clear_line(tmp_path: Path, line: str, options: tuple[str, ...], problem: str) -> None:
    cases = tmp_path / "cases.jsonl"
    cases.write_text(line + "\n")
    done = run(cases, tmp_path, *options)
    assert done.returncode != 0
    assert len(done.stderr.strip().splitlines()) == 1
    assert problem in done.stderr
