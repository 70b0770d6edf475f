"""Grades told for the other side in the order of the tests: "left quads four, eversion five; right, three and two"."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, takewhile

from pipeline.mend.tokens import Token, in_one_sentence
from pipeline.understand.announced import side_of
from pipeline.understand.items import OPPOSITE, Item, ItemKind

_JOINING: tuple[list[str], ...] = ([], ["and"], ["then"], ["and", "then"])
_SMALL = frozenset("they they're are those these it it's is now was were have has".split())


def in_turn(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """The items, each test of the first side named again with its grade on the other, where there are as many."""
    tested: dict[int, Item] = {}
    sided: dict[int, str] = {}
    for at, item in enumerate(items):
        values = _grades_after(at, items, words, tokens)
        tests = _tests_before(at, items, len(values), tokens) if values else []
        if tests:
            for (test, first), value in zip(tests, values, strict=True):
                tested[id(value)] = test
                sided |= {id(first): OPPOSITE[item.ids[0]], id(value): item.ids[0]}
    out: list[Item] = []
    for item in items:
        if id(item) in tested:
            out.append(replace(tested[id(item)], start=item.start, end=item.start))
        out.append(item)
        if id(item) in sided:
            out.append(side_of(item, sided[id(item)], len(words)))
    return out


def _grades_after(at: int, items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """At least two grades that follow a side in its sentence, if no test of their own comes after them."""
    side = items[at]
    if side.kind is not ItemKind.SIDE or side.ids[0] not in OPPOSITE or side.of is not None:
        return []
    values = list(takewhile(_is_grade, map(items.__getitem__, range(at + 1, len(items)))))
    if len(values) < 2 or not _SMALL.issuperset(words[side.end : values[0].start]):
        return []
    told = all(words[one.end : two.start] in _JOINING for one, two in pairwise(values))
    shared = any(
        following.kind in (ItemKind.SUBJECT, ItemKind.SIDE) and in_one_sentence(tokens, values[-1].end, following.end)
        for following in items[at + 1 + len(values) : at + 2 + len(values)]
    )
    return values if told and not shared and in_one_sentence(tokens, values[0].end, values[-1].end) else []


def _is_grade(item: Item) -> bool:
    """ "Four plus", "absent" of a reflex, and no mere reaction to what the patient did."""
    return item.kind is ItemKind.VALUE and not item.reaction and (bool(item.grade) or "reflex" in item.values)


def _tests_before(at: int, items: list[Item], size: int, tokens: list[Token]) -> list[tuple[Item, Item]]:
    """The tests that were told of the opposite side right before, with their grades, if there are just so many."""
    side = items[at]
    tests: list[tuple[Item, Item]] = []
    value: Item | None = None
    trailing: Item | None = None
    sided = False
    for item in map(items.__getitem__, range(at - 1, -1, -1)):
        if len(tests) > size:
            return []
        if trailing is not None and not in_one_sentence(tokens, item.end, trailing.end):
            break
        if item.kind is ItemKind.SIDE:
            if OPPOSITE.get(item.ids[0]) != side.ids[0]:
                return []
            if item.of is None and len(tests) == size:
                return tests[::-1]
            sided = True
            trailing = item if item.of is None and not tests else trailing
        elif _is_grade(item):
            value = item
        elif item.kind is ItemKind.SUBJECT and value is not None:
            tests.append((item, value))
            value = None
        elif item.kind is not ItemKind.PLACE:
            break
    return tests[::-1] if sided and len(tests) == size else []
