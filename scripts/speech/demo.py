"""The demonstration recordings: scripts with the rows that each line should make, turned into sound and into cases."""

from __future__ import annotations

import hashlib
import itertools
import json
from pathlib import Path
from typing import Any

import yaml

from scripts.speech import recognise, sound, voices
from scripts.speech.sound import Samples, SpeechError
from scripts.speech.voices import Sentence, Speech

FOLDER = Path(__file__).parents[2] / "demo_audio"
CASES = FOLDER / "cases.jsonl"
RATE = 24_000
HASH_TAG = "script"
BLOCK_SECONDS = 10.0

_ROW: dict[str, Any] = {
    "manoeuvre": None,
    "side": None,
    "site": None,
    "value": None,
    "roots": [],
    "status": "examined",
    "reason": None,
    "basis": "stated",
}


def scripts() -> list[Path]:
    """The demonstration's scripts, in order of name."""
    return sorted(FOLDER.glob("*.yaml"))


def load(path: Path) -> dict[str, Any]:
    """A script: `id`, `style`, `voices` (speaker to voice; the first speaks where a line has no `by`) and `lines`.

    Raises `SpeechError` for a line without words or with an unknown field, speaker or row field.
    """
    script: dict[str, Any] = yaml.safe_load(path.read_text(encoding="utf-8"))
    for number, line in enumerate(script["lines"], 1):
        wrong = sorted(line.keys() - {"by", "say", "pause", "rows"})
        wrong += [line["by"]] if line.get("by", next(iter(script["voices"]))) not in script["voices"] else []
        wrong += [field for row in line.get("rows", []) for field in sorted(row.keys() - _ROW.keys())]
        if wrong or not line.get("say"):
            raise SpeechError(
                f"{path.name}, line {number}: {', '.join(wrong) or 'nothing is said'}: correct the script"
            )
    return script


def script_hash(script: dict[str, Any]) -> str:
    """Names the words, voices and pauses of a script: all that the sound depends on, apart from the code."""
    heard = [script["voices"], [[line.get("by"), line["say"], line.get("pause")] for line in script["lines"]]]
    return hashlib.sha256(json.dumps(heard, sort_keys=True).encode()).hexdigest()


def perform(script: dict[str, Any]) -> Speech:
    """The whole script as one recording at `RATE`."""
    lines = script["lines"]
    first = next(iter(script["voices"]))
    said = [voices.speak(line["say"], script["voices"][line.get("by", first)], RATE) for line in lines]
    return voices.join(said, [line.get("pause") for line in lines])


def rows(script: dict[str, Any]) -> list[dict[str, Any]]:
    """The rows of all lines, each complete; a list of manoeuvres, sides or sites stands for one row each."""
    wanted = []
    for row in (row for line in script["lines"] for row in line.get("rows", [])):
        whole = _ROW | row
        names = ("manoeuvre", "side", "site")
        choices = [whole[name] if isinstance(whole[name], list) else [whole[name]] for name in names]
        wanted += [whole | dict(zip(names, chosen, strict=True)) for chosen in itertools.product(*choices)]
    return wanted


def case(script: dict[str, Any], transcript: list[dict[str, Any]], times: list[dict[str, Any]]) -> dict[str, Any]:
    """The script as a case. `transcript` is what a recogniser heard; `times` when each sentence is said (seconds)."""
    return {
        "id": script["id"],
        "style": script["style"],
        "transcript": transcript,
        "clean": " ".join(line["say"] for line in script["lines"]),
        "rows": rows(script),
        "sentences": times,
    }


def sound_path(script_path: Path) -> Path:
    return script_path.with_suffix(".opus")


def make(path: Path) -> dict[str, Any]:
    """Write the recording of the script at `path` beside it, and return its case."""
    script = load(path)
    speech = perform(script)
    sound.write(sound_path(path), speech.samples, speech.rate, {HASH_TAG: script_hash(script)})
    heard = sound.read(sound_path(path))[0]
    times = [{"start": round(one.start, 2), "end": round(one.end, 2), "text": one.text} for one in speech.sentences]
    return case(script, _transcript(heard, speech.sentences), times)


def _transcript(samples: Samples, said: tuple[Sentence, ...]) -> list[dict[str, Any]]:
    """What the open recogniser hears in 16 kHz `samples`, in blocks of whole sentences of about `BLOCK_SECONDS`."""
    blocks: list[list[Sentence]] = [[]]
    for one in said:
        if blocks[-1] and one.end - blocks[-1][0].start > BLOCK_SECONDS:
            blocks.append([])
        blocks[-1].append(one)
    return [
        {
            "t": round(block[0].start, 1),
            "text": recognise.hear(samples[_cut(block[0].start) : _cut(block[-1].end + 0.2)]),
        }
        for block in blocks
    ]


def _cut(seconds: float) -> int:
    return max(0, round(seconds * 16_000))
