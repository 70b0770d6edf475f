"""One result with what belongs to it."""

from __future__ import annotations

from dataclasses import dataclass, field

from pipeline.understand.items import Item, ItemKind

VALUES = (ItemKind.VALUE, ItemKind.OMISSION)
SUBJECTS = (ItemKind.SUBJECT, ItemKind.COMMAND)


@dataclass(slots=True)
class Frame:
    """One value with what belongs to it. `subjects` is empty when the value continues an earlier subject.

    `led`: a small word joins the value to the subject after it ("four for hip flexion"); `claimed`: one joins another
    value to the subject, which has its own as well ("four is knee flexion five").
    """

    value: Item
    pre: list[Item]
    post: list[Item]
    subjects: list[Item] = field(default_factory=list)
    negated: bool = False
    rival: Frame | None = None
    excepted: bool = False
    led: bool = False
    claimed: bool = False
    orphans: list[Item] = field(default_factory=list)

    @property
    def items(self) -> list[Item]:
        return [*self.pre, self.value, *self.post]

    @property
    def start(self) -> int:
        return min([item.start for item in self.items])

    @property
    def end(self) -> int:
        # What "respectively" puts elsewhere has no words of its own
        return max(self.start + 1, *[max(item.end, item.until) for item in self.items])

    def of(self, kind: ItemKind) -> list[Item]:
        return [item for item in self.pre + self.post if item.kind is kind]


def places_by_side(items: list[Item]) -> list[tuple[Item, Item]]:
    """ "At C7 on the right and at T1 on the left": each place with its own side; none where they do not take turns."""
    where = [item for item in items if item.kind in (ItemKind.SIDE, ItemKind.PLACE)]
    pairs = list(zip(where[::2], where[1::2], strict=False))
    sides = {item.ids for item in where if item.kind is ItemKind.SIDE}
    taking_turns = len(where) == 2 * len(pairs) and all(
        {one.kind, two.kind} == {ItemKind.SIDE, ItemKind.PLACE} and one.kind is pairs[0][0].kind for one, two in pairs
    )
    return pairs if taking_turns and len(pairs) > 1 and len(sides) > 1 else []
