"""Tests that were named or asked for, and of which no row tells: perhaps the result was misheard."""

from __future__ import annotations

from collections.abc import Collection

from pipeline.fill.drafts import Draft, Loose
from pipeline.fill.frame import SUBJECTS
from pipeline.lexicon.model import Manoeuvre
from pipeline.mend.tokens import BLOCK_END, CLAUSE_MARK, Token, strongest_break
from pipeline.understand.items import OPPOSITE, Item, ItemKind

_READYING = ("tone", "sensation")
"""Sections whose orders only make the patient ready ("let it go floppy", "close your eyes")."""
_SURE = 0.9
_BETWEEN = 2
"""Most tokens between a test and the side that was said with it."""
_SHOWN = 8
"""Most tokens behind a name that are shown with it."""


class InVain:
    """Keeps the tests that were named without a result, and tells at the end which of them came to nothing."""

    def __init__(self, manoeuvres: dict[str, Manoeuvre], tokens: list[Token]) -> None:
        self._manoeuvres = manoeuvres
        self._tokens = tokens
        self._named: list[tuple[Item, str | None]] = []
        self._side: Item | None = None
        self._told_at = 0  # where the last result was said

    def note(self, item: Item, side: str | None) -> None:
        """Takes the items that belong to no row, as they were said; `side`: that of the limb under examination."""
        if item.kind is ItemKind.SIDE:
            self._side = item
            if self._named and self._is_of(item, named := self._named[-1][0]) and self._told_at < named.end:
                self._named[-1] = named, item.ids[0]
        elif item.kind is ItemKind.VALUE:
            self._told_at = item.start  # "turn it out, eversion three. Left leg": the side is of what comes
        elif self._counts(item):
            led = self._side is not None and self._is_of(self._side, item)
            self._named.append((item, side if led or item.kind is ItemKind.COMMAND else None))

    def note_for(self, named: Item, side: str) -> None:
        """ "Left leg wasting, right leg none": the side that a test was named with, whichever has the result."""
        if self._counts(named):
            self._named.append((named, side))

    def _is_of(self, side: Item, named: Item) -> bool:
        first, second = (side, named) if side.start < named.start else (named, side)
        near = 0 <= second.start - first.end <= _BETWEEN
        return near and strongest_break(self._tokens, first.end, second.start) < CLAUSE_MARK

    def _counts(self, item: Item) -> bool:
        if item.kind not in SUBJECTS or not item.announces or item.section_only or item.values:
            return False
        if item.match is not None and item.match.mended and item.match.probability < _SURE:
            return False  # "she's woken up": perhaps another word, which only a result makes a name
        tests = [self._manoeuvres[one] for one in item.ids if one in self._manoeuvres]
        readies = item.kind is ItemKind.COMMAND and any(test.section in _READYING for test in tests)
        return bool(tests) and not readies

    def loose(self, drafts: Collection[Draft]) -> list[Loose]:
        """One entry for each test, and for each side on which it was asked for, that no draft tells of."""
        told = {(draft.manoeuvre, side) for draft in drafts for side in (draft.side, None)}
        found: list[Loose] = []
        for item, side in self._named:
            for each in OPPOSITE if side == "both" else (side,):
                if told.isdisjoint((one, at) for one in item.ids for at in (each, "midline")):
                    how = "asked of the patient" if item.kind is ItemKind.COMMAND else "named"
                    found.append(Loose(item.start, self._shown(item), f"{how}, and no result for it was understood"))
                    told |= {(one, at) for one in item.ids for at in (OPPOSITE if side == "both" else (each,))}
        return found

    def _shown(self, item: Item) -> int:
        """Where the words end that a person will want to see: those behind the name, where the result may have been."""
        end = item.end
        while end < min(item.end + _SHOWN, len(self._tokens)) and self._tokens[end].boundary < BLOCK_END:
            end += 1
        return end
