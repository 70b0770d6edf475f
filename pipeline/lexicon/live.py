"""What a live dictation knows beside the trade: the spoken controls, and the plans of an examination."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Literal, TypeVar

import yaml
from pydantic import BaseModel, Field, ValidationError

from pipeline.lexicon.load import LexiconError, default_folder, load
from pipeline.lexicon.model import Entry
from pipeline.lexicon.pronounce import number_words

ControlId = Literal["start", "pause", "resume", "scratch", "side", "grade", "mark", "read_back", "missing", "finish"]

_Model = TypeVar("_Model", bound=BaseModel)

SIDES = {"left": "left", "right": "right"}
GRADES = {
    f"{' '.join(number_words(number))}{said}": f"{number}{sign}"
    for number in range(6)
    for said, sign in (("", ""), (" plus", "+"), (" minus", "-"))
    if (number, sign) not in ((0, "+"), (0, "-"), (1, "-"))
}
"""What is said for a grade -> the grade."""


class Control(Entry):
    """A spoken control. `say`: its wordings after the carrier; `{side}` or `{grade}` stands for what is chosen."""

    id: ControlId
    say: list[str] = Field(min_length=1)
    does: str

    @property
    def choices(self) -> dict[str, str]:
        """What can stand for the placeholder -> what it means; empty where the control has none."""
        return SIDES if "{side}" in self.say[0] else GRADES if "{grade}" in self.say[0] else {}


class Controls(Entry):
    """`lexicons/live/controls.yaml`. `answers`: what is understood after a question of the program."""

    carrier: str
    controls: list[Control] = Field(min_length=1)
    answers: dict[Literal["yes", "no"], list[str]]


class Plan(Entry):
    """What an examination is meant to hold."""

    id: str
    title: str
    manoeuvres: list[str] = Field(min_length=1)


class _Plans(Entry):
    plans: list[Plan] = Field(min_length=1)


@cache
def controls(folder: Path | None = None) -> Controls:
    """The spoken controls. Raises `LexiconError` with one line where the file cannot be used."""
    return _checked(Controls, (folder or default_folder()) / "live" / "controls.yaml")


@cache
def plans(folder: Path | None = None) -> dict[str, Plan]:
    """The plans by their id. Raises `LexiconError` where the file cannot be used or names an unknown manoeuvre."""
    path = (folder or default_folder()) / "live" / "plans.yaml"
    found = {plan.id: plan for plan in _checked(_Plans, path).plans}
    known = {entry.id for entry in load().manoeuvres}
    for plan in found.values():
        for unknown in [name for name in plan.manoeuvres if name not in known]:
            raise LexiconError(f"{path.name}: plans '{plan.id}': unknown manoeuvre '{unknown}'; correct the name")
    return found


def _checked(model: type[_Model], path: Path) -> _Model:
    try:
        return model.model_validate(yaml.safe_load(path.read_text(encoding="utf-8")))
    except (OSError, UnicodeDecodeError, yaml.YAMLError) as error:
        raise LexiconError(f"{path.name}: cannot be read ({' '.join(str(error).split())}); mend the file") from None
    except ValidationError as error:
        first = error.errors()[0]
        place = ".".join(map(str, first["loc"]))
        raise LexiconError(f"{path.name}: {place}: {first['msg']}; correct it") from None
