"""What was found on one side and is denied of the other: "left knee jerk brisk, the right isn't"."""

from __future__ import annotations

from pipeline.mend.tokens import Token, closes, in_one_sentence
from pipeline.understand.items import OPPOSITE, Item, ItemKind, is_in_words, negated_at

_NOT = frozenset("not isn't aren't wasn't weren't doesn't hasn't don't haven't".split())
_BEFORE_NOT = frozenset("one side it he she is was are does has".split())
_SAYING_SO = frozenset("is was are does has".split())
_HAVING = frozenset("any one have so that".split())
"""Words behind "the right hasn't"."""


def denied_of_a_side(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """The items, in order, with the last finding negated for the side that it is denied of."""
    added: list[Item] = []
    for at, side in enumerate(items):
        if side.kind is not ItemKind.SIDE or side.ids[0] not in OPPOSITE:
            continue
        part = items[at + 1] if at + 1 < len(items) and items[at + 1].is_place else side
        span = _denial(max(side.end, part.end) if part.start <= side.end else side.end, words, tokens)
        found = _found_on_the_other(items[:at], side, span[0], tokens) if span is not None else None
        if span is not None and found is not None and (found.negated or words[span[0]] in _NOT):
            added.append(negated_at(found, *span))
    if not added:
        return items
    taken = {at for value in added for at in range(value.start, value.end)}
    replaced = (ItemKind.NEGATION, ItemKind.VALUE)
    kept = [item for item in items if item.kind not in replaced or item.start not in taken or item.start == item.end]
    return sorted([*kept, *added], key=lambda item: (item.start, item.end))


def _denial(at: int, words: list[str], tokens: list[Token]) -> tuple[int, int] | None:
    """The tokens of "isn't" in "the right isn't", "the right one is not", where they end what is said."""
    first = at
    while at < len(words) and words[at] in _BEFORE_NOT:
        at += 1
    affirmed = at > first and words[at - 1] in _SAYING_SO and closes(tokens, at)  # "the right isn't, the left is"
    if affirmed:
        return at - 1, at
    if at >= len(words) or words[at] not in _NOT:
        return None
    end = at + 1
    while end < len(words) and words[end] in _HAVING:
        end += 1
    return (at, end) if closes(tokens, end) else None


def _found_on_the_other(before: list[Item], side: Item, start: int, tokens: list[Token]) -> Item | None:
    """The last finding in words before token `start`, where it was told of the other side in the same sentence."""
    found: Item | None = None
    other = False
    for item in reversed(before):
        if item.start >= start:
            continue
        ended = max(item.end, item.start + 1)
        if not in_one_sentence(tokens, ended, side.start + 1) or (item.kind is ItemKind.VALUE and found is not None):
            break
        if item.kind is ItemKind.VALUE:
            found = item
        elif item.kind is ItemKind.SIDE and item.ids[0] in OPPOSITE:
            if item.ids == side.ids:
                break
            other = True
    return found if found is not None and other and is_in_words(found) else None
