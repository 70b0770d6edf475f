"""Results said of several tests that were named before: "on the left all three are five", "all of those are five"."""

from __future__ import annotations

import re
from bisect import bisect_right

from pipeline.mend.tokens import CLAUSE_MARK, COMMA, Token
from pipeline.mend.words import BE
from pipeline.understand.items import ALL_OF_THEM, Item, ItemKind

_COUNTS = {"both": 2, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8}
_MANY = "|".join(list(_COUNTS)[1:])
_THE_MANY = f"the (?:{_MANY})"
_THEM = "(?:those|these|them)"
_TESTED = "(?:muscles|movements|groups|tests)"
_FILL = "(?:(?:was|they|they're|those|these|are|were|the|is|it|it's|has|had|have|as|at|before|again|now|also|just) )*"
_ALL = (
    f"(?:both of {_THEM}|all (?:the )?(?:{_MANY})(?: of {_THEM}| {_TESTED})?|all of {_THEM}"
    "|(?:all|both) (?:those|these)"
    f"|(?:the )?same (?:{_MANY})(?:(?: are| were)? (?:all|both))?"
    f"|(?:every|each) one(?: of {_THEM})?|each of {_THEM}|{_THE_MANY} of {_THEM}"
    f"|(?:those|these) (?:{_MANY})(?: (?:are|were) all)?|the (?:whole )?lot"
    "|(?:they|these|those) (?:are|were) (?:all|both)|they're (?:all|both))"
)
_SIDE = "<side>"
_ON = "(?:(?:on|in|over|and) )?(?:(?:the|his|her) )?"
_WITH_SIDE = re.compile(
    rf"(?:^|\s)({_SIDE} {_FILL}{_ALL} {_FILL}|{_ALL} {_ON}{_SIDE} {_FILL}"
    rf"|{_THE_MANY} on (?:the )?{_SIDE} {_FILL}(?:(?:all|both) )?)$"
)
"""What leads to a result, with the side in it: "on the left every one of them was", "the three on the left are"."""
_BARE = re.compile(rf"(?:^|\s)({_SIDE} {_FILL}(?P<all>both|all) {_FILL})$")
_POINTED = re.compile(rf"(?:^|\s)({_ALL} {_FILL})$")
"""What leads to a result whose side comes after it."""
_LEVELS = f"the same (?:(?:{_MANY}) )?(?:levels|places|sites|spots|points|roots|joints|dermatomes)"
_AFTER = re.compile(
    rf"({_ON}{_SIDE} )?(?:(?:for|at|in|on|over) (?:{_ALL}|{_LEVELS}|both$)|for both(?= on ))(?:\s|$)({_ON}{_SIDE})?"
)
"""What comes after a result: "... for every one of those", "... on the left at the same levels"."""
_SIDE_NEXT = re.compile(rf"{_ON}{_SIDE}(?:\s|$)")
_SIDE_BEFORE = re.compile(rf"(?:^|\s){_SIDE} {_FILL}$")
_TELLING = frozenset("both all each every lot".split())
_BEFORE_A_COUNT = frozenset("all the those these same".split())
_REACH = 12
"""Most tokens looked at on either side of a result."""
_NAMING = (ItemKind.SUBJECT, ItemKind.COMMAND, ItemKind.HEADING)


def of_the_last(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """Marks the results that are said of so many of the last ones, on a side that is said as well.

    What counted the tests ("all four") is no item of its own.
    """
    sides = {one.start: one for one in items if one.kind is ItemKind.SIDE and one.ids[0] in ("left", "right", "other")}
    named = {one.start for one in items if one.kind in _NAMING and not one.section_only}
    graded = {one.end for one in items if one.kind in _NAMING}
    values = {one.start for one in items if one.kind is ItemKind.VALUE}
    whole = {one.start for one in items if one.kind is ItemKind.THROUGHOUT}  # "right arm all four"
    dropped: set[int] = set()
    told_to = 0
    for value in items:
        if value.kind is not ItemKind.VALUE or value.reaction or id(value) in dropped:
            continue
        first, last = max(0, value.start - _REACH), min(len(words), value.end + _REACH)
        if words[value.start - 1] == "and" or tokens[value.start].boundary >= COMMA:
            first = max(first, told_to)  # "triceps two plus and three plus for all three on the left"
        if words[value.start - 1] not in _BEFORE_A_COUNT:
            told_to = value.end
        if _TELLING.isdisjoint(words[first:last]) and "the" not in words[first : value.start]:
            continue
        before = _Words(words, tokens, sides, named, first, value.start, backwards=True)
        after = _Words(words, tokens, sides, named, value.end, last)
        span, said = _said_of(before, after, counts=value.end in values)
        told = span[0] in graded or words[span[0] - 1] in BE  # "elbow flexion and extension are all five"
        if said and not told and (value.start - 1 not in whole or _is_of_a_list(items, value)):
            value.of_last = _number(said)
            if not value.same:
                for at in sides.keys() & set(range(*span)):
                    sides[at].of = value  # "brisk on the left, on the right both are normal"
            dropped |= {
                id(one)
                for one in items
                if span[0] <= one.start < span[1] and one is not value and sides.get(one.start) is not one
            }
    return [item for item in items if id(item) not in dropped]


def _is_of_a_list(items: list[Item], value: Item) -> bool:
    """ "Right arm, deltoid three, grip four. Left arm, all five": of what was tested on the right, no more was done."""
    before = [item for item in items if item.start < value.start and item.kind is not ItemKind.THROUGHOUT]
    wide = any(item.kind is ItemKind.THROUGHOUT and item.start == value.end for item in items)  # "all five throughout"
    if wide or not before or before[-1].kind is not ItemKind.SIDE:
        return False
    side, graded = before.pop(), 0
    for item in reversed(before):
        if item.kind is ItemKind.SIDE:
            turned = side.ids == ("other",) or {item.ids[0], side.ids[0]} == {"left", "right"}
            return turned and item.sites == side.sites and graded > 1
        if item.kind not in (ItemKind.SUBJECT, ItemKind.PLACE, ItemKind.VALUE, ItemKind.REGION):
            return False
        graded += item.grade is not None
    return False


def _said_of(before: _Words, after: _Words, *, counts: bool) -> tuple[tuple[int, int], str]:
    """The tokens of what points to the last results, and its words; `counts`: it may be a count ("all four five")."""
    led = _WITH_SIDE.search(before.text)
    if led is None and not counts:
        led = _BARE.search(before.text)
        if led is not None and led["all"] == "all" and before.names:
            led = None  # "power on the left all five"
    if led is None and _SIDE_NEXT.match(after.text):
        led = _POINTED.search(before.text)
    if led is not None:
        return (before.token(led.start(1)), before.end), led[1]
    said = _AFTER.match(after.text)
    if said is None:
        return (0, 0), ""
    if _SIDE_BEFORE.search(before.text):
        end = said.start(2) if said[2] else said.end()  # "on the right five at all four | left plantar up"
        return (after.start, after.token(end)), said[0]
    sided = (said[1] or said[2]) and not before.names
    return ((after.start, after.token(said.end())), said[0]) if sided else ((0, 0), "")


def _number(said: str) -> int:
    return next((_COUNTS[word] for word in said.split() if word in _COUNTS), ALL_OF_THEM)


class _Words:
    """The words of a clause from token `first` to `last` (exclusive), or those next to one end; a side is one word."""

    def __init__(
        self,
        words: list[str],
        tokens: list[Token],
        sides: dict[int, Item],
        named: set[int],
        first: int,
        last: int,
        *,
        backwards: bool = False,
    ) -> None:
        marks = [at for at in range(first + 1, last + 1) if at < len(tokens) and tokens[at].boundary >= CLAUSE_MARK]
        if backwards:
            first = max([first, *(at for at in marks if at < last)])
        else:
            named_first = next((at for at in range(first, last) if at in named), last)
            broken = first < len(tokens) and tokens[first].boundary >= CLAUSE_MARK
            last = first if broken else min([named_first, *marks, last])
        self.start, self.end = first, last
        self.names = any(at in named for at in range(first, last))
        said: list[str] = []
        self._starts: list[int] = []
        self._tokens: list[int] = []
        at, length = first, 0
        while at < last:
            word, end = (_SIDE, sides[at].end) if at in sides else (words[at], at + 1)
            self._starts.append(length)
            self._tokens.append(at)
            said.append(word)
            length += len(word) + 1
            at = end
        self.text = "".join(f"{word} " for word in said) if backwards else " ".join(said)

    def token(self, character: int) -> int:
        """The token at a character of the text, or where the tokens end."""
        if character >= len(self.text):
            return self.end
        return self._tokens[bisect_right(self._starts, character) - 1]
