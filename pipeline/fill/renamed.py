"""Tests that are put right after their result: "hip flexion four, sorry, that was extension"."""

from __future__ import annotations

import itertools
from dataclasses import replace

from pipeline.fill.frame import SUBJECTS, VALUES
from pipeline.fill.values import Values
from pipeline.mend.tokens import COMMA, Token
from pipeline.understand.items import WHERE, Item, ItemKind

_POINTING = frozenset(
    """that that's this it it's was were is should be have been the a his her on at in i i'm mean meant did
        do testing doing tested checking checked actually really of course""".split()
)
"""What may stand between a result and the name that is put right, beside the words of correction themselves."""
_OBJECTING = frozenset("actually no wait oh ah hang hold rather wrong".split())
_POLITE = frozenset("sorry apologies pardon excuse".split())
"""Words that may only beg pardon, where others take back what was said."""
_TRIED_AGAIN = frozenset("again once".split())
_WITHIN = 10
"""Most words from a result to the name that is put right, and from there to a result of its own."""
_LOOKED_BACK = 8
"""Most items from that name back to the one before."""
_POINTING_BACK = (("that", "was"), ("it", "was"), ("this", "was"))
_TAKEN_BACK = "may_be_taken_back"


def renamed(items: list[Item], tokens: list[Token], values: Values) -> list[Item]:
    """The items with each result moved to the test that is named behind it as the one that was meant.

    Where that has a result of its own, the first goes when it is plainly taken back; begged pardon for, or with nothing
    but "that was ...", it is asked about.
    """
    out: list[Item] = []
    for at, item in enumerate(items):
        out.append(item)
        told = _told_of_another(out, values) if item.kind is ItemKind.SUBJECT and not item.section_only else []
        said = _said_between(told[-1], item, out, tokens) if told else None
        if said is None:
            continue
        old, first = told[0], out.index(told[0])
        repairs = [one for one in out[out.index(told[-1]) :] if one.kind is ItemKind.REPAIR]
        own = _own_result(items[at + 1 :], item, out)
        earlier = _result_of(item, out[:first])
        if earlier is not None:  # "EHL four minus, gastroc five, correction, EHL four": of the one told before
            if own is not None and repairs:
                own.instead_of = earlier
                out = [one for one in out if one not in repairs]
            continue
        plain = bool(repairs) and said.isdisjoint(_POLITE)
        opposite = values.manoeuvres[old.ids[0]].opposite in item.ids
        if own is None and (repairs or said & _OBJECTING):
            moved = replace(item, start=old.start, end=old.end, until=item.end)
            out = [*out[:first], moved, *(one for one in out[first + 1 : -1] if one.kind in (*VALUES, *WHERE))]
        elif own is not None and repairs and (plain or (opposite and _is_same(own, told[-1]))):
            del out[first:-1]
        else:
            for result in told:
                result.flags += (_TAKEN_BACK,) if result.kind in VALUES else ()
    return out


def _result_of(name: Item, items: list[Item]) -> Item | None:
    """The last result that was told right behind the same name."""
    pairs = ((items[at], items[at + 1]) for at in range(len(items) - 2, -1, -1))
    named = (two for one, two in pairs if one.kind in SUBJECTS and set(one.ids) & set(name.ids))
    return next((item for item in named if item.kind in VALUES), None)


def _told_of_another(items: list[Item], values: Values) -> list[Item]:
    """The items of the result before the last item, from the name of another test on; empty where there is none that
    would fit the last item as well.
    """
    new = items[-1]
    for back in range(len(items) - 2, max(-1, len(items) - 2 - _LOOKED_BACK), -1):
        old = items[back]
        if old.kind in SUBJECTS:
            told = items[back:-1]
            last = max((k for k, item in enumerate(told) if item.kind in VALUES), default=0)
            results = [item for item in told if item.kind in VALUES]
            other = not set(old.ids) & set(new.ids) and all(one in values.manoeuvres for one in (*old.ids, *new.ids))
            fits = other and all(_fits(new, result, values) for result in results)
            return told[: last + 1] if results and fits else []
        if old.kind not in (*VALUES, *WHERE, ItemKind.REPAIR, ItemKind.NEGATION):
            return []
    return []


def _fits(subject: Item, result: Item, values: Values) -> bool:
    if result.same or result.reaction:
        return False
    return result.kind is ItemKind.OMISSION or any(values.read(one, result)[0] is not None for one in subject.ids)


def _said_between(result: Item, name: Item, items: list[Item], tokens: list[Token]) -> set[str] | None:
    """The words from a result to a name that is put in place of another; None where they say something else."""
    between = [item for item in items if result.end <= item.start < name.start]
    repairs = {at for item in between if item.kind is ItemKind.REPAIR for at in range(item.start, item.end)}
    where = {at for item in between if item.kind in WHERE for at in range(item.start, item.end)}
    said = {tokens[at].text for at in range(result.end, name.start) if at not in where}
    words = [tokens[at].text for at in range(result.end, name.start) if at not in where | repairs]
    plain = set(words)
    if _is_of_another_side(items, [item for item in between if item.kind is ItemKind.REPAIR]):
        return None
    if name.start - result.end > _WITHIN or not plain <= _POINTING | _OBJECTING or said & _TRIED_AGAIN:
        return None
    if repairs or any(pair in _POINTING_BACK for pair in itertools.pairwise(words)):
        return said
    objected = plain & _OBJECTING - ({"no"} if tokens[name.start].boundary < COMMA else set())
    return said if objected else None


def _is_of_another_side(items: list[Item], repairs: list[Item]) -> bool:
    """ "Four. Left, sorry, right wrist extension": the side is put right, and not the test."""
    put = repairs[0].start if repairs else items[-1].start
    after: list[Item] = []
    for item in reversed(items):
        if item.kind is ItemKind.SIDE and item.start < put:
            return any(one.ids != item.ids for one in after)
        if item.kind is ItemKind.SIDE:
            after.append(item)
    return False


def _own_result(following: list[Item], name: Item, before: list[Item]) -> Item | None:
    """The result of the name itself, where one is told before another test and before another side."""
    side = next((item.ids for item in reversed(before[-_LOOKED_BACK:]) if item.kind is ItemKind.SIDE), None)
    for item in following:
        if item.start - name.end > _WITHIN or item.kind in (ItemKind.REPAIR, ItemKind.REMOVE):
            return None
        if item.kind in VALUES:
            return item
        if item.kind in SUBJECTS and not set(item.ids) & set(name.ids):
            return None
        if item.kind is ItemKind.SIDE and side is not None and item.ids != side:
            return None
    return None


def _is_same(one: Item, other: Item) -> bool:
    return (one.kind, one.grade, one.values) == (other.kind, other.grade, other.values)
