"""Says development cases aloud and keeps the sound: one file for a text, a voice and a condition.

python -m scripts.speech.render CASES.jsonl --voice hibari-gb --condition room+noise20 --out FOLDER
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import sys
import zlib
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

import click

from scripts.speech import conditions, sound, voices
from scripts.speech.sound import SpeechError
from scripts.speech.voices import Sentence

RATE = 16_000
CACHE_VARIABLE = "SPOKEN_EXAM_SPEECH"


@dataclass(frozen=True)
class Rendered:
    """A 16 kHz mono FLAC file and its sentences with the times at which they are heard (seconds)."""

    path: Path
    sentences: tuple[Sentence, ...]


def cache_folder() -> Path:
    """Where rendered speech is kept: the folder in `SPOKEN_EXAM_SPEECH`, or else ~/.cache/spoken-exam/speech."""
    return Path(os.environ.get(CACHE_VARIABLE) or Path.home() / ".cache" / "spoken-exam" / "speech")


def render(said: str, voice: str, condition: str = "clean", cache: Path | None = None) -> Rendered:
    """`said` in a voice of `VOICES` under a condition of `CONDITIONS`; made once, then taken from the cache.

    Raises `SpeechError` for an unknown voice or condition, a missing engine, or a text without words.
    """
    folder = cache or cache_folder()
    key = _key(said, voice, condition)
    path, times = folder / f"{key}.flac", folder / f"{key}.json"
    # The times are written last: where they are, the sound is whole.
    if not times.exists():
        conditions.parse(condition)
        speech = voices.speak(said, voice, RATE)
        samples, stretch = conditions.apply(condition, speech.samples, RATE, zlib.crc32(said.encode()))
        heard = [Sentence(one.text, one.start * stretch, one.end * stretch) for one in speech.sentences]
        folder.mkdir(parents=True, exist_ok=True)
        unfinished = folder / f"{key}.{os.getpid()}.flac"
        sound.write(unfinished, samples, RATE)
        unfinished.replace(path)
        listed = unfinished.with_suffix(".json")
        listed.write_text(json.dumps([asdict(one) for one in heard]), encoding="utf-8")
        listed.replace(times)
    return Rendered(path, tuple(Sentence(**one) for one in json.loads(times.read_text(encoding="utf-8"))))


def render_case(case: dict[str, Any], voice: str, condition: str = "clean", cache: Path | None = None) -> Rendered:
    """The words of a case (its `clean` text), as `render`."""
    return render(case["clean"], voice, condition, cache)


def read_cases(path: Path) -> list[dict[str, Any]]:
    """Cases of a JSON lines file; each has at least `id` and `clean`. Raises `SpeechError`, naming the line."""
    cases = []
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        if not line.strip():
            continue
        try:
            case = json.loads(line)
            lacking = [field for field in ("id", "clean") if not isinstance(case[field], str)]
        except (ValueError, KeyError, TypeError) as error:
            raise SpeechError(f"{path}, line {number}: not a case with the texts id and clean ({error})") from error
        if lacking:
            raise SpeechError(f"{path}, line {number}: {lacking[0]} must be a text")
        cases.append(case)
    return cases


def _key(said: str, voice: str, condition: str) -> str:
    """Changes with the words, and with the code that says them: an old sound is never taken for a new one."""
    digest = hashlib.sha256()
    for name in ("text", "sound", "voices", "conditions"):
        digest.update(Path(__file__).with_name(f"{name}.py").read_bytes())
    digest.update(json.dumps([said, voice, condition]).encode())
    return digest.hexdigest()[:32]


@click.command(help="Say each case of CASES (JSON lines) aloud: a sound file and its sentence times for each in OUT.")
@click.argument("cases", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--voice", default="hibari-gb", show_default=True, type=click.Choice(list(voices.VOICES)))
@click.option(
    "--condition",
    default="clean",
    show_default=True,
    help="One, or several joined with +: "
    + "; ".join(f"{name} ({one.about})" for name, one in conditions.CONDITIONS.items())
    + ".",
)
@click.option("--out", required=True, type=click.Path(file_okay=False, path_type=Path), help="Folder for the files.")
def main(cases: Path, voice: str, condition: str, out: Path) -> None:
    try:
        listed = read_cases(cases)
        conditions.parse(condition)
        out.mkdir(parents=True, exist_ok=True)
        for case in listed:
            rendered = render_case(case, voice, condition)
            path = out / f"{case['id']}.flac"
            shutil.copyfile(rendered.path, path)
            times = [asdict(one) for one in rendered.sentences]
            path.with_suffix(".json").write_text(json.dumps(times, indent=1) + "\n", encoding="utf-8")
            click.echo(path)
    except (SpeechError, OSError, UnicodeDecodeError) as error:
        click.echo(f"render: {error}", err=True)
        sys.exit(1)


if __name__ == "__main__":
    main()
