"""Reads `lexicons/*.yaml` into one checked `Lexicon`."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import yaml
from pydantic import ValidationError

from pipeline.lexicon.model import Lexicon, LexiconFile

_Loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class LexiconError(ValueError):
    """A lexicon cannot be used. The message is one line: file, entry and what to do."""


def default_folder() -> Path:
    """The lexicons that came with the package: inside it when installed, beside it in a checkout."""
    package = Path(__file__).resolve().parents[1]
    inside = package / "lexicons"
    return inside if inside.is_dir() else package.parent / "lexicons"


def load(folder: Path | None = None) -> Lexicon:
    """All YAML files of `folder` (default: the built-in lexicons) as one lexicon.

    Raises `LexiconError` with one line that names the file, the entry and what to do. The built-in lexicon is read once
    for each process.
    """
    return _built_in() if folder is None else _read(Path(folder))


@cache
def _built_in() -> Lexicon:
    return _read(default_folder())


def _read(folder: Path) -> Lexicon:
    files = sorted(folder.glob("*.yaml"))
    if not files:
        raise LexiconError(f"{folder}: no .yaml files here; name a folder that holds lexicon files")
    merged: dict[str, Any] = {}
    origin: dict[tuple[str, str], str] = {}
    for file in files:
        content = _read_file(file)
        for part in LexiconFile.model_fields:
            entries = getattr(content, part)
            for name in entries if part == "phrases" else [entry_name(part, entry) for entry in entries]:
                first = origin.setdefault((part, name), file.name)
                if first != file.name or (part != "phrases" and _count(part, entries, name) > 1):
                    raise LexiconError(
                        f"{file.name}: {part}: '{name}' is already in {first}; remove one of the two or rename it"
                    )
            if part == "phrases":
                merged.setdefault(part, {}).update(entries)
            else:
                merged.setdefault(part, []).extend(entries)
    try:
        return Lexicon.model_validate(merged)
    except ValidationError as error:
        problem = str(error.errors()[0]["msg"]).removeprefix("Value error, ").split("; ")[0]
        raise LexiconError(f"{_file_of(problem, origin)}: {problem}; correct the reference or add the entry") from None


def entry_name(part: str, entry: Any) -> str:
    """What an entry of `part` is known by: its id, word or pair."""
    if part == "pronunciations":
        return str(entry.word)
    if part == "confusions":
        return " / ".join(sorted(entry.pair))
    return str(entry.id)


def _count(part: str, entries: list[Any], name: str) -> int:
    return sum(entry_name(part, entry) == name for entry in entries)


def _read_file(file: Path) -> LexiconFile:
    try:
        raw = yaml.load(file.read_text(encoding="utf-8"), Loader=_Loader)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark
        where = f", line {mark.line + 1}" if mark else ""
        raise LexiconError(f"{file.name}{where}: not valid YAML ({error.problem}); mend the line") from None
    except (yaml.YAMLError, UnicodeDecodeError, OSError) as error:
        raise LexiconError(f"{file.name}: cannot be read ({_one_line(error)}); save it as UTF-8 YAML text") from None
    if raw is None:
        raw = {}
    if not isinstance(raw, dict):
        raise LexiconError(f"{file.name}: the file is not a mapping; start it with one of {_parts()}")
    try:
        return LexiconFile.model_validate(raw)
    except ValidationError as error:
        first = error.errors()[0]
        place = _place(raw, first["loc"])
        if first["type"] == "extra_forbidden":
            advice = f"unknown field '{first['loc'][-1]}'; correct its spelling or remove it"
            if len(first["loc"]) == 1:
                advice += f" (known: {_parts()})"
        else:
            advice = f"{_one_line(first['msg'])}; correct it"
        raise LexiconError(f"{file.name}: {place}{advice}") from None


def _place(raw: dict[str, Any], location: tuple[int | str, ...]) -> str:
    """The path of a problem in words: `manoeuvres 'hip_flexion': roots.0.source: `."""
    if len(location) == 1:
        return ""
    part, entry, *field = location
    named = str(entry)
    if isinstance(entry, int):
        content = raw[str(part)][entry]
        known = content if isinstance(content, dict) else {}
        named = str(next((known[key] for key in ("id", "word", "pair") if key in known), f"entry {entry + 1}"))
    inner = ".".join(str(step) for step in field)
    return f"{part} '{named}': " + (f"{inner}: " if inner else "")


def _file_of(problem: str, origin: dict[tuple[str, str], str]) -> str:
    quoted = problem.split("'")
    kinds = {"manoeuvre": "manoeuvres", "muscle": "muscles"}
    part = kinds.get(problem.split(" ", 1)[0], "")
    return origin.get((part, quoted[1] if len(quoted) > 1 else ""), "lexicon")


def _parts() -> str:
    return ", ".join(LexiconFile.model_fields)


def _one_line(problem: object) -> str:
    return " ".join(str(problem).split())
