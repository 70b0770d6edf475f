"""Muscles that are the place of a finding, not what was tested."""

from __future__ import annotations

from bisect import bisect_right

from pipeline.lexicon.model import Manoeuvre
from pipeline.mend.tokens import COMMA, SENTENCE_END, Token, in_one_sentence
from pipeline.understand.items import Item, ItemKind

_NEAR, _FAR = 4, 8
"""Most tokens from a finding to the muscle that it is in, and where the place is told more closely."""
_MORE_CLOSELY = tuple([word, "the"] for word in "that's mostly mainly especially particularly".split())


_TO_ITS_GRADE = 2
"""Most tokens from a muscle to its own result ("deltoid C5 four", "deltoid is four")."""


class MusclePlaces:
    """ "Wasting of the right quadriceps", "light touch over the deltoid"."""

    def __init__(self, manoeuvres: dict[str, Manoeuvre]) -> None:
        self._manoeuvres = manoeuvres

    def of_wasting(self, found: list[Item], tokens: list[Token]) -> None:
        """ "Quadriceps wasting" is "wasting of the quadriceps"."""
        wasted = {item.start: item.end for item in found if item.ids == ("wasting",)}
        for item in found:
            end = wasted.get(item.end)
            if item.muscle is not None and item.kind is ItemKind.SUBJECT and end and tokens[item.end].boundary < COMMA:
                item.kind, item.ids, item.start, item.end = ItemKind.PLACE, (self._limb_of(item),), end, end

    def of_findings(self, found: list[Item], words: list[str], tokens: list[Token]) -> None:
        """In "wasting of the right quadriceps", "wasting in the right leg, that's the quadriceps" the muscle is where
        the finding is, not what was tested.

        `found`: in order.
        """
        subjects = [item for item in found if item.kind is ItemKind.SUBJECT]
        starts = [item.start for item in subjects]
        for item in subjects:
            if item.muscle is None or self._manoeuvres[item.ids[0]].scale == "presence":
                continue
            if self._is_felt_over(item, found, words, tokens):
                item.kind, item.ids, item.nerve = ItemKind.PLACE, (), None
                continue
            reach = _FAR if words[item.start - 2 : item.start] in _MORE_CLOSELY else _NEAR
            before = next(
                (
                    other
                    for other in reversed(subjects[: bisect_right(starts, item.start)])
                    if other.kind is ItemKind.SUBJECT and 0 <= item.start - other.end <= reach
                ),
                None,
            )
            if (
                before is None
                or self._manoeuvres.get(before.ids[0]) is None
                or self._manoeuvres[before.ids[0]].scale != "presence"
            ):
                continue
            apart = any(tokens[at].boundary >= SENTENCE_END for at in range(before.end, item.start + 1)) or any(
                other.kind is ItemKind.HEADING and before.end <= other.start < item.start for other in found
            )  # "wasting in both arms | power triceps four"
            placed = set(words[before.end : item.start]) & {"of", "in", "over"}
            if placed and not apart and not _is_tested(item, before, found, tokens):
                item.kind, item.ids = ItemKind.PLACE, (self._limb_of(item),)

    def _limb_of(self, item: Item) -> str:
        return "arm" if self._manoeuvres[item.ids[0]].region == "upper_limb" else "leg"

    def _is_felt_over(self, item: Item, found: list[Item], words: list[str], tokens: list[Token]) -> bool:
        """ "Light touch over the deltoid": where the skin was touched."""
        led = words[item.start - 1 : item.start] == ["over"] or words[item.start - 2 : item.start] == ["over", "the"]
        return led and any(
            other.kind is ItemKind.SUBJECT
            and other.ids[0] in self._manoeuvres
            and self._manoeuvres[other.ids[0]].scale == "sensation"
            and 0 <= item.start - other.end <= 12
            and in_one_sentence(tokens, other.end, item.start + 1)
            for other in found
        )


def _is_tested(muscle: Item, named: Item, found: list[Item], tokens: list[Token]) -> bool:
    """ "No fasciculation in the right arm [deltoid] four": the place is told already, and the muscle has a grade."""
    told = [other for other in found if named.end <= other.start < muscle.start]
    if not any(other.kind is ItemKind.PLACE or other.limbs for other in told):
        return False
    after = (other for other in found if other.start >= muscle.end and not other.is_level)
    result = next((other for other in after if other.kind is not ItemKind.SIDE), None)
    return (
        result is not None
        and result.kind is ItemKind.VALUE
        and (result.grade is not None or "mrc" in result.values)
        and not result.reaction
        and result.start - muscle.end <= _TO_ITS_GRADE
        and in_one_sentence(tokens, muscle.end, result.start + 1)
    )
