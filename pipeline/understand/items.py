"""Items: the parts of speech of an examination, in the order they were said."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import ClassVar

from pipeline.mend.matches import Match
from pipeline.understand.kinds import Kinds


class ItemKind(Kinds):
    """What an item is."""

    SUBJECT: ClassVar[ItemKind]  # a manoeuvre, muscle, modality or whole group that can have a value
    COMMAND: ClassVar[ItemKind]  # an instruction to the patient that has a manoeuvre done
    VALUE: ClassVar[ItemKind]  # a grade, a finding, a reaction, "the same"
    OMISSION: ClassVar[ItemKind]  # "not tested", with the reason
    NEGATION: ClassVar[ItemKind]
    SIDE: ClassVar[ItemKind]
    REGION: ClassVar[ItemKind]
    PLACE: ClassVar[ItemKind]  # dermatomes, joints, limbs
    HEADING: ClassVar[ItemKind]
    THROUGHOUT: ClassVar[ItemKind]
    REST: ClassVar[ItemKind]
    EXCEPT: ClassVar[ItemKind]
    REPAIR: ClassVar[ItemKind]
    REMOVE: ClassVar[ItemKind]
    SWAP: ClassVar[ItemKind]


@dataclass(slots=True, eq=False)
class Item:
    """One item in tokens `start`..`end` (exclusive); identity is equality.

    `ids`: subject: manoeuvre identifiers it can mean, or `group:power` and the like; place: site identifiers or roots;
    side: `left`, `right`, `both`, `other`; heading: the section; omission: the reason.
    `of`: the value that a side without words of its own belongs to; `also`: another limb of which the same is said.
    `same`: the last result holds here, too; `swapped`: with its sides exchanged;
    `instead_of`: the value that was taken back for this one ("I said four, it is five").
    `until`: where the words end that put right which test it is ("sorry, that was extension");
    `of_last`: a value is said of so many of the last results ("all three are five"), or of `ALL_OF_THEM`.
    `announces`: a test is named where a result of it may be told, and not in a question, in a plan or in general;
    `values`: scale -> value for a finding in words; `grade`: the text of a spoken grade ("4-").
    """

    kind: ItemKind
    start: int
    end: int
    ids: tuple[str, ...] = ()
    values: dict[str, str] = field(default_factory=dict)
    grade: str | None = None
    unit: str | None = None
    muscle: str | None = None
    nerve: str | None = None
    plural: bool = False
    linked: bool = False
    section_only: bool = False
    reaction: bool = False
    same: bool = False
    match: Match | None = None
    probability: float = 1.0
    flags: tuple[str, ...] = ()
    weak: bool = False
    sites: tuple[str, ...] = ()
    negated: bool = False
    forward: bool = False
    of: Item | None = None
    also: Item | None = None
    swapped: bool = False
    of_last: int = 0
    instead_of: Item | None = None
    until: int = 0
    announces: bool = True

    @property
    def limbs(self) -> tuple[str, ...]:
        """The limbs that a side or a region names ("lower_limb"), both for "all"."""
        if self.kind is ItemKind.REGION:
            return ("lower_limb", "upper_limb") if self.ids[0] == "all" else (f"{self.ids[0]}_limb",)
        return self.sites if self.kind is ItemKind.SIDE else ()

    @property
    def is_place(self) -> bool:
        """Places, and words that are a place where they are not the name of a test ("the knees")."""
        return self.kind is ItemKind.PLACE or (self.section_only and bool(self.sites))

    @property
    def is_level(self) -> bool:
        """Places that are spinal levels ("L5", "S4-5"), and no parts of the body."""
        return self.kind is ItemKind.PLACE and self.ids[:1] != () and self.ids[0][:1].isupper()


OPPOSITE = {"left": "right", "right": "left"}
ALL_OF_THEM = 99
"""How many of the last results "five for every one of those" is said of: all on the other side."""
WHERE = (ItemKind.SIDE, ItemKind.REGION, ItemKind.PLACE)
"""Kinds of items that say where something was found."""


def held(items: Iterable[Item]) -> set[int]:
    """The tokens that items stand on."""
    return {at for item in items for at in range(item.start, item.end)}


def is_in_words(result: Item) -> bool:
    """A finding in words of its own, and no grade, reaction or "the same"."""
    return result.kind is ItemKind.VALUE and result.grade is None and not (result.same or result.reaction)


def negated_at(finding: Item, start: int, end: int) -> Item:
    """The finding as it is denied by the tokens `start`..`end` ("the right isn't")."""
    return replace(finding, start=start, end=end, negated=not finding.negated, forward=False, weak=False)
