"""Spinal levels told one after another: which of them has which finding."""

from __future__ import annotations

from dataclasses import replace

from pipeline.mend.numbers import roots_at
from pipeline.mend.tokens import CLAUSE_MARK, COMMA, Token, in_one_sentence
from pipeline.mend.words import BE
from pipeline.understand.items import Item, ItemKind

_TO_NEXT_LEVEL = 4
"""Most tokens from a finding to the next level of its list, or from a level to its finding."""
_CLOSING = frozenset("to through and".split())


def last_root_apart(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Reduced at L4, S2 intact", "absent at L5 and S1 was reduced": the last root has a finding of its own."""
    kept: list[Item] = []
    for index, item in enumerate(items):
        kept.append(item)
        if item.kind is not ItemKind.PLACE or len(item.ids) < 2:
            continue
        before = next((k for k in reversed(items[:index]) if k.kind is not ItemKind.SIDE), None)
        after, beyond = [*items[index + 1 : index + 3], None, None][:2]
        if (
            before is None
            or before.kind is not ItemKind.VALUE
            or before.grade is not None
            or after is None
            or after.kind is not ItemKind.VALUE
            or after.grade is not None
            or words[item.start - 1] not in ("at", "over", "in")
            or any(tokens[at].boundary >= CLAUSE_MARK for at in range(before.end, after.start + 1))
        ):
            continue
        link = words[item.end : after.start]
        own = beyond is not None and (
            (beyond.kind is ItemKind.PLACE and words[beyond.start - 1] in ("at", "over", "in"))
            or beyond.kind in (ItemKind.SUBJECT, ItemKind.REST)
        )
        stated = link in (["is"], ["was"])
        first = next(
            (at for at in range(item.start + 1, item.end) if _is_root(item.ids[-1], at, item.end, tokens)), None
        )
        joined = first is not None and words[first - 1] == "and"
        if first is not None and (stated or not (link or own or joined or tokens[item.end].boundary >= COMMA)):
            kept.append(replace(item, start=first, ids=item.ids[-1:], linked=False))
            item.end, item.ids = first - joined, item.ids[:-1]
    return kept


def turned_levels(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Intact L2 to L4 | L5 reduced, S1 and S2 intact": a list of findings and levels that begins and ends with a
    finding turns somewhere; where nothing closes what was told before ("intact C5, C6, C7 reduced"), a person is asked.
    """
    parted: dict[int, int] = {}
    chain: list[Item] = []
    begins = True  # what stood last leaves the next finding to the levels after it
    said = [each for each in items if each.kind is not ItemKind.SIDE]
    for item, after in zip([*said, None], [*said[1:], None, None], strict=False):
        if chain and not (item is not None and _goes_on(chain[-1], item, tokens)):
            own = item is not None and item.is_place and not _leads_a_name(item, after)  # "S2 normal, perianal"
            begins = len(chain) > 2 and _is_found(chain[-1]) and not own
            parted |= _turn(chain, words, tokens) if begins else {}
            chain = []
        if item is not None and (chain or (begins and _is_found(item))):
            chain.append(item)
        begins = item is not None and not (item.is_place or item.kind is ItemKind.VALUE)
    kept: list[Item] = []
    for item in items:
        kept.append(item)
        if id(item) in parted:
            first = parted[id(item)]
            kept.append(replace(item, start=first, ids=item.ids[-1:], linked=False))
            item.end, item.ids = first, item.ids[:-1]
    return kept


def _is_found(item: Item) -> bool:
    return item.kind is ItemKind.VALUE and "sensation" in item.values and item.grade is None


def _leads_a_name(place: Item, after: Item | None) -> bool:
    """ "Saddle area, pinprick at S3"."""
    return after is not None and after.kind is ItemKind.SUBJECT and after.start == place.end


def _goes_on(last: Item, item: Item, tokens: list[Token]) -> bool:
    """Whether a level follows a finding, or a finding a level, in one sentence."""
    level = item.is_level and item.match is None
    turns = (_is_found(last) and level) or (last.is_level and _is_found(item))
    return turns and item.start - last.end <= _TO_NEXT_LEVEL and in_one_sentence(tokens, last.end, item.start + 1)


def _turn(chain: list[Item], words: list[str], tokens: list[Token]) -> dict[int, int]:
    """The place at which a list turns (by `id`), and where its last level begins."""
    found = [(at, first) for at in range(1, len(chain), 2) if (first := _last_level(chain[at], words, tokens))]
    sure = [
        (at, first)
        for at, first in found
        if words[chain[at].end] in BE or not _CLOSING.isdisjoint(words[chain[at].start : first])
    ]
    for at, first in sure[:1] or found[:1]:
        for item in (chain[at - 1], chain[at + 1]) if not sure else ():
            item.flags += ("value_uncertain",)
        return {id(chain[at]): first}
    return {}


def _last_level(place: Item, words: list[str], tokens: list[Token]) -> int | None:
    """Where the last level of a place begins, if nothing joins it to the one before it."""
    starts = range(place.start + 1, place.end) if len(place.ids) > 1 else ()
    first = next((at for at in starts if _is_root(place.ids[-1], at, place.end, tokens)), None)
    return first if first is not None and words[first - 1] not in (*_CLOSING, "or") else None


def _is_root(root: str, start: int, end: int, tokens: list[Token]) -> bool:
    found = roots_at(tokens, start)
    return found is not None and (found.end, found.roots) == (end, (root,))
