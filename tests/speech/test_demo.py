import json
from pathlib import Path

import numpy as np
import pytest

from pipeline.record.model import Row
from scripts.speech import demo, sound
from scripts.speech.sound import SpeechError
from scripts.speech.text import sentences

CASES = {case["id"]: case for case in map(json.loads, demo.CASES.read_text(encoding="utf-8").splitlines())}
MAKE_AGAIN = "the script has changed: run python scripts/make_demo_audio.py"


def test_there_is_one_case_for_each_script() -> None:
    assert list(CASES) == [demo.load(path)["id"] for path in demo.scripts()]


@pytest.mark.parametrize("path", demo.scripts(), ids=lambda path: path.stem)
def test_the_recording_was_made_from_its_script(path: Path) -> None:
    script = demo.load(path)
    samples, tags = sound.read(demo.sound_path(path))
    assert tags[demo.HASH_TAG] == demo.script_hash(script), MAKE_AGAIN
    assert demo.sound_path(path).stat().st_size < 700_000
    times = CASES[script["id"]]["sentences"]
    assert [one["text"] for one in times] == [part for line in script["lines"] for part in sentences(line["say"])]
    assert times[-1]["end"] == pytest.approx(len(samples) / 16_000, abs=0.2)
    for one in times:
        # Opus smears a little over the edge of a pause.
        said = samples[round(one["start"] * 16_000) : round(one["end"] * 16_000)]
        before = samples[round((one["start"] - 0.25) * 16_000) : round((one["start"] - 0.05) * 16_000)]
        assert np.sqrt(np.mean(said**2)) > 0.02
        assert not len(before) or np.sqrt(np.mean(before**2)) < 0.002


@pytest.mark.parametrize("path", demo.scripts(), ids=lambda path: path.stem)
def test_the_case_was_made_from_its_script(path: Path) -> None:
    script = demo.load(path)
    kept = CASES[script["id"]]
    assert kept == demo.case(script, kept["transcript"], kept["sentences"]), MAKE_AGAIN
    rows = [Row.model_validate(row) for row in kept["rows"]]
    assert len({row.key for row in rows}) == len(rows)


def test_a_list_in_a_row_stands_for_one_row_each() -> None:
    row = {"manoeuvre": ["wasting", "fasciculation"], "side": ["right", "left"], "site": "leg", "value": "absent"}
    made = demo.rows({"lines": [{"say": "None.", "rows": [row]}]})
    assert [(one["manoeuvre"], one["side"]) for one in made] == [
        ("wasting", "right"),
        ("wasting", "left"),
        ("fasciculation", "right"),
        ("fasciculation", "left"),
    ]
    assert all(one["site"] == "leg" and one["status"] == "examined" and one["roots"] == [] for one in made)


@pytest.mark.parametrize("line", ["{say: Hello, to: all}", "{say: ''}", "{by: nobody, say: Hello}"])
def test_a_wrong_line_of_a_script_is_named(tmp_path: Path, line: str) -> None:
    path = tmp_path / "wrong.yaml"
    path.write_text(f"id: x\nstyle: y\nvoices: {{clinician: hibari-gb}}\nlines:\n  - {line}\n")
    with pytest.raises(SpeechError, match=r"wrong\.yaml, line 1: "):
        demo.load(path)
