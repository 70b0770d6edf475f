"""Lists whose grades stand before their names: "Five iliopsoas, four minus quads, three tib ant"."""

from __future__ import annotations

from pipeline.fill.frame import VALUES
from pipeline.mend.context import FUNCTION
from pipeline.mend.mend import GRADE_WORDS
from pipeline.mend.numbers import CALLING
from pipeline.mend.tokens import BLOCK_END, SENTENCE_END, Token, strongest_break
from pipeline.mend.words import BE
from pipeline.understand.clauses import CLAUSE
from pipeline.understand.items import Item, ItemKind

_BETWEEN = (ItemKind.SIDE, ItemKind.PLACE)
_SOON = 6
_STATED = BE | {"it's", "that's"}


def turns_from(items: list[Item], at: int, tokens: list[Token], *, continued: bool = False) -> list[tuple[int, int]]:
    """The places of a grade and its name, for each of a list that begins with the grade at `at`.

    Empty where no list of two and more begins there: a list that ends with a value has its names first, and a name
    before the first grade may own it. `continued`: a correction stands before the items, or an exception.
    """
    if not items[at].grade or not _begins(items, at, tokens, continued):
        return []
    pairs: list[tuple[int, int]] = []
    value: int | None = at
    for place in range(at + 1, len(items)):
        item = items[place]
        if item.kind in _BETWEEN or (item.reaction and not item.values):
            continue
        if item.kind is ItemKind.VALUE and not item.same:
            if value is None and _is_next_statement(items, place, pairs[-1][1], tokens):
                break
            if _is_stated(item, tokens) or (value is not None and not hides_a_name(items, place, tokens)):
                return []
            value = place
        elif item.kind is ItemKind.SUBJECT and not item.ids[0].startswith("group:"):
            if value is None or strongest_break(tokens, items[value].end, item.start) >= SENTENCE_END:
                break
            pairs.append((value, place))
            value = None
        else:
            if item.kind is ItemKind.OMISSION and value is None and pairs[-1][1] == place - 1:
                value = pairs.pop()[0]
            break
    if value is not None or len(pairs) < 2 or _is_numbered(items, pairs[-1][1], tokens):
        return []
    return pairs


def hides_a_name(items: list[Item], at: int, tokens: list[Token]) -> bool:
    """Words that mean nothing stand before the grade at a place, and announce no grades ("grades first, five")."""
    start = items[at].start
    between = {token.text for token in tokens[items[at - 1].end if at else 0 : start]}
    return tokens[start].boundary < BLOCK_END and between.isdisjoint(CALLING) and not FUNCTION.issuperset(between)


def _begins(items: list[Item], at: int, tokens: list[Token], continued: bool) -> bool:
    """No name that the grade may belong to stands before it, and no other result in the same clause."""
    if _is_stated(items[at], tokens):
        return False
    place = at - 1
    while place >= 0 and items[place].kind in _BETWEEN:
        place -= 1
    last, before = items[place] if place >= 0 else None, items[place + 1 : at]
    if last is None:  # "right, sorry, left leg, five iliopsoas"; but "I mean four minus, big toe three"
        return not continued or any(item.sites for item in before)
    if last.grade == items[at].grade and not before:
        return False  # "hamstrings four plus. Four plus, yes."
    if last.kind in (ItemKind.HEADING, ItemKind.REGION):
        return True
    if last.kind is ItemKind.COMMAND:  # "relax; five hip flexion", "fingers straight, four minus finger extension"
        return last.ids == ("tone",) or any(last.ids == item.ids for item in items[at + 1 : at + 2])
    if last.kind is ItemKind.THROUGHOUT or (last.reaction and not last.values):  # "good. Left leg, five hip flexion"
        return any(item.sites for item in before)
    return last.kind in VALUES and strongest_break(tokens, last.end, items[at].start) >= (
        CLAUSE if before else BLOCK_END
    )


def _is_numbered(items: list[Item], at: int, tokens: list[Token]) -> bool:
    """A number that was not read stands between a name and what follows: "EHL, next one also five"."""
    start = items[at].end
    end = min(items[at + 1].start if at + 1 < len(items) else start, start + _SOON)
    return any(token.text in GRADE_WORDS and token.text != "one" for token in tokens[start:end])


def _is_stated(value: Item, tokens: list[Token]) -> bool:
    """ "It's four minus": said of the name before, whatever follows."""
    return value.start > 0 and tokens[value.start].boundary < BLOCK_END and tokens[value.start - 1].text in _STATED


def _is_next_statement(items: list[Item], at: int, name: int, tokens: list[Token]) -> bool:
    """ "... four plantarflexion. On the right it's five throughout": said of no name, as that at the place `name`."""
    if items[at + 1 : at + 2] and items[at + 1].kind in (ItemKind.THROUGHOUT, ItemKind.REST):
        return True
    parted = strongest_break(tokens, items[name].end, items[at].start) >= BLOCK_END
    return parted and _is_stated(items[at], tokens)
