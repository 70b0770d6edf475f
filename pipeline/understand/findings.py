"""Names that say by themselves that something is wrong: "dysdiadochokinesis on the left, none on the right"."""

from __future__ import annotations

from dataclasses import dataclass, replace

from pipeline.lexicon.model import Lexicon
from pipeline.mend.tokens import CLAUSE_MARK, Token
from pipeline.understand.items import WHERE, Item, ItemKind

_DENYING = frozenset("no any without nor neither".split())
_REACH = 4


@dataclass(frozen=True)
class _Meaning:
    """The values of a scale that such a name says where it is there, and where it is not."""

    scale: str
    there: str
    missing: str


_FEELING = frozenset("is are was were it's feels feel felt still quite nice nicely that's on the in and also".split())
"""What may stand between the name of the test and "sharp"."""


_OF_A_PIN = (["sharp"], ["blunt"], ["dull"])


def felt_sharp(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Pinprick is sharp from L1 to L4", "L4 sharp": what the pin felt like, where that is no name of the test."""
    ends: dict[int, Item] = {}
    last: Item | None = None
    starts = {item.start for item in found if item.kind is ItemKind.VALUE}
    out: list[Item] = []
    for item in sorted(found, key=lambda one: one.start):
        if _is_choice(item, words):
            continue
        if words[item.start : item.end] == ["sharp"] and item.section_only and last is not None:
            at = item.start
            while at not in ends and words[at - 1] in _FEELING and tokens[at].boundary < CLAUSE_MARK:
                at -= 1
            led = ends.get(at)
            while led is not None and led.kind is not ItemKind.SUBJECT and led.start in ends:
                led = ends[led.start]
            named = led is not None and (led.kind is ItemKind.SUBJECT or item.end not in starts)
            if named and tokens[item.start].boundary < CLAUSE_MARK and last.ids[:1] == item.ids[:1]:
                out.append(Item(ItemKind.VALUE, item.start, item.end, values={"sensation": "normal"}))
                continue
        if item.kind is ItemKind.SUBJECT and not item.section_only:
            last = item
        if item.kind in (ItemKind.SUBJECT, *WHERE):
            ends[item.end] = item
        out.append(item)
    return out


def _is_choice(item: Item, words: list[str]) -> bool:
    """ "Pinprick, dull or sharp": what the patient is to tell, and no result."""
    before, after = words[max(0, item.start - 2) : item.start], words[item.end : item.end + 2]
    if words[item.start : item.end] not in _OF_A_PIN:
        return False
    return (after[:1] == ["or"] and after[1:] in _OF_A_PIN) or (before[1:] == ["or"] and before[:1] in _OF_A_PIN)


class FindingNames:
    """Gives such names their values."""

    def __init__(self, lexicon: Lexicon) -> None:
        values = {scale.id: scale.values for scale in lexicon.scales}
        self._meanings = {
            name: _Meaning(
                one.scale,
                next(value.value for value in values[one.scale] if not value.normal),
                next(value.value for value in values[one.scale] if value.normal),
            )
            for one in lexicon.manoeuvres
            for name in one.findings
        }

    def read(self, found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
        """The items, in which "none" after such a name, or "no" before it, tells that the test is normal."""
        out = list(found)
        for item in found:
            meaning = self._meanings.get(item.match.term.text) if item.match is not None else None
            if item.kind is not ItemKind.SUBJECT or meaning is None:
                continue
            before = [at for at in range(max(0, item.start - _REACH), item.start) if words[at] in _DENYING]
            if before and all(tokens[at].boundary < CLAUSE_MARK for at in range(before[-1] + 1, item.start + 1)):
                out = [other for other in out if not (other.kind is ItemKind.NEGATION and other.start == before[-1])]
                missing = {meaning.scale: meaning.missing}
                out.append(Item(ItemKind.VALUE, before[-1], before[-1] + 1, values=missing, forward=True))
                continue
            stated = False
            for other in sorted(found, key=lambda one: one.start):
                if other.start < item.end or any(
                    tokens[at].boundary >= CLAUSE_MARK for at in range(item.end, other.start + 1)
                ):
                    continue
                if other.kind is ItemKind.SUBJECT:
                    break
                if other.kind is ItemKind.VALUE and "presence" in other.values:
                    value = meaning.there if other.values["presence"] == "present" else meaning.missing
                    out[out.index(other)] = replace(other, values=other.values | {meaning.scale: value})
                stated = stated or (other.kind is ItemKind.VALUE and self._is_next(item, other, found))
            if not stated:
                out.append(
                    Item(ItemKind.VALUE, item.start, item.start, values={meaning.scale: meaning.there}, forward=True)
                )
        return out

    @staticmethod
    def _is_next(item: Item, value: Item, found: list[Item]) -> bool:
        """No side or place stands between the name and the value, which so tells of it all."""
        return not any(
            item.end <= other.start < value.start and other.kind in (ItemKind.SIDE, ItemKind.PLACE) for other in found
        )
