"""The lexicon's models: what the trade knows, as data. Every fact carries its source."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

Section = Literal[
    "inspection", "tone", "power", "reflexes", "sensation", "coordination", "nerve_tension", "gait", "perianal"
]
Region = Literal["lower_limb", "upper_limb", "trunk", "whole"]


class Entry(BaseModel):
    """Base of all lexicon entries: unknown fields are an error, so that a typing slip is found."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class RootSupply(Entry):
    """A root that supplies a muscle or reflex, or one that a source names as the main one."""

    root: str
    main: bool = False
    source: str


class Command(Entry):
    """What the examiner says to the patient to have the manoeuvre done.

    Each inner list is a choice of words; a command is heard when one word (or phrase) of every list, and none of
    `none`, stands within one short stretch of talk, in any order. Example: [[pull, bring], [foot, toes], [up, back]].
    """

    all: list[list[str]] = Field(min_length=1)
    none: list[str] = []


class Muscle(Entry):
    id: str
    names: list[str] = Field(min_length=1)
    manoeuvre: str
    nerve: str
    roots: list[RootSupply] = Field(min_length=1)
    source: str


class Nerve(Entry):
    id: str
    names: list[str] = Field(min_length=1)
    source: str


class Site(Entry):
    """A joint, bony point or limb that a row's `site` can name."""

    id: str
    names: list[str] = Field(min_length=1)
    source: str


class Dermatome(Entry):
    """A skin level that a sensory row's `site` can name; `names` are words for it beside the level itself."""

    id: str
    names: list[str] = []
    key_point: str
    source: str


class Manoeuvre(Entry):
    """One manoeuvre.

    `sides`: `each` (left or right), `midline` (a side has no meaning), `as_said` (a side only where one was said).
    `sites`: `none`, `dermatome`, `limb`, or `joint`.
    `names` are understood anywhere, `section_names` only while the manoeuvre's section is under examination
    ("the knees" among the reflexes), `findings` are those of the names that say by themselves that something is wrong
    ("dysdiadochokinesis"), `commands` are what is said to the patient.
    """

    id: str
    region: Region
    section: Section
    scale: str
    sides: Literal["each", "midline", "as_said"] = "each"
    sites: Literal["none", "dermatome", "limb", "joint"] = "none"
    core: bool = False
    names: list[str] = Field(min_length=1)
    section_names: list[str] = []
    findings: list[str] = []
    commands: list[Command] = []
    opposite: str | None = None
    roots: list[RootSupply] = []
    method: str
    source: str


class ScaleValue(Entry):
    """A value of a scale with the words that say it; `normal` marks the finding of a healthy examination."""

    value: str
    say: list[str] = []
    normal: bool = False


class Scale(Entry):
    """A scale. `grades`: how spoken numbers are read (`mrc`, `reflex`, `ashworth`, `beats`, `degrees`, or none)."""

    id: str
    title: str
    grades: Literal["mrc", "reflex", "ashworth", "beats", "degrees"] | None = None
    values: list[ScaleValue] = Field(min_length=1)
    source: str


class Pronunciation(Entry):
    """How an unusual word is said, in ARPAbet without stress marks; variants in order of frequency."""

    word: str
    say: list[str] = Field(min_length=1)
    source: str


class Confusion(Entry):
    """Two terms that recognisers swap and whose swap reverses a finding."""

    pair: tuple[str, str]
    source: str


class LexiconFile(Entry):
    """One YAML file of `lexicons/`; any part may be absent."""

    manoeuvres: list[Manoeuvre] = []
    muscles: list[Muscle] = []
    nerves: list[Nerve] = []
    sites: list[Site] = []
    dermatomes: list[Dermatome] = []
    scales: list[Scale] = []
    pronunciations: list[Pronunciation] = []
    confusions: list[Confusion] = []
    phrases: dict[str, list[str]] = {}


class Lexicon(LexiconFile):
    """All files together, cross-checked: ids are unique and every reference leads somewhere."""

    @model_validator(mode="after")
    def _references(self) -> Lexicon:
        problems: list[str] = []
        for part in ("manoeuvres", "muscles", "nerves", "sites", "dermatomes", "scales"):
            ids = [entry.id for entry in getattr(self, part)]
            problems += [
                f"{part}: '{twice}' is defined twice" for twice in sorted({i for i in ids if ids.count(i) > 1})
            ]
        manoeuvres = {entry.id for entry in self.manoeuvres}
        nerves = {entry.id for entry in self.nerves}
        scales = {entry.id for entry in self.scales}
        for muscle in self.muscles:
            if muscle.manoeuvre not in manoeuvres:
                problems.append(f"muscle '{muscle.id}': unknown manoeuvre '{muscle.manoeuvre}'")
            if muscle.nerve not in nerves:
                problems.append(f"muscle '{muscle.id}': unknown nerve '{muscle.nerve}'")
        for manoeuvre in self.manoeuvres:
            if manoeuvre.scale not in scales:
                problems.append(f"manoeuvre '{manoeuvre.id}': unknown scale '{manoeuvre.scale}'")
            if manoeuvre.opposite is not None and manoeuvre.opposite not in manoeuvres:
                problems.append(f"manoeuvre '{manoeuvre.id}': unknown opposite '{manoeuvre.opposite}'")
            problems += [
                f"manoeuvre '{manoeuvre.id}': the finding '{name}' is none of its names"
                for name in manoeuvre.findings
                if name not in manoeuvre.names
            ]
            kinds = {value.normal for scale in self.scales if scale.id == manoeuvre.scale for value in scale.values}
            if manoeuvre.findings and len(kinds) < 2:
                problems.append(f"manoeuvre '{manoeuvre.id}': its scale tells nothing normal from what is not")
        if problems:
            raise ValueError("; ".join(problems))
        return self
