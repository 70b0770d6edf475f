"""Findings that the examiner does not believe in: "I don't think the left calf is wasted"."""

from __future__ import annotations

import itertools
import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import replace

from pipeline.mend.tokens import CLAUSE_MARK, COMMA, Token
from pipeline.understand.items import Item, ItemKind, is_in_words

_HOW = r"(?: (?:really|actually|honestly|necessarily|quite|at all|so|entirely|absolutely|totally|very|personally))?"
_THINKS = "think|believe|find|feel|say|call|see|notice|reckon|hear|detect|describe|consider|make"
_DENIED = re.compile(
    rf"\b(?:i|we) (?:(?:do|did|would|could|can) not|don't|didn't|wouldn't|couldn't|can't|cannot){_HOW} (?:{_THINKS})\b"
    r"|\b(?:it's not|it is not|it isn't|not) that\b"
    rf"|\b(?:he|she|they|it) (?:doesn't|does not|don't|didn't|hasn't|has not|haven't){_HOW} (?:have|got|show|seem)\b"
    r"|\bit (?:doesn't|does not|didn't|did not) (?:feel|look|appear)\b"
)
"""Words after which the next finding is not there."""
_DOUBTED = re.compile(
    rf"\b(?:i'm|i am|we're|we are) not{_HOW} (?:sure|certain|convinced|persuaded|confident)\b"
    r"|\b(?:i|we) (?:doubt|question)\b|\b(?:i'd|i would) (?:struggle|hesitate) to (?:call|say|describe)\b"
    r"|\b(?:hard|difficult|impossible) to (?:say|tell|know) (?:if|whether)\b"
    r"|\b(?:i|we) (?:can't|cannot|couldn't) (?:be (?:sure|certain)|say|tell|decide) (?:if|whether|that)\b"
    r"|\bi wonder (?:if|whether)\b"
)
"""Words after which the next finding is doubtful."""
_SUPPOSED = re.compile(
    r"\b(?:thought|assumed|expected|suspected|imagined|feared|guessed|(?:was|were|am|been) (?:told|expecting)"
    r"|(?:would|you'd|i'd|might) (?:have )?(?:said|say|think|thought|expect|expected|guess))\b"
)
"""Words for what turns out otherwise: "I thought it was up, but it's down"."""
_IT_ISNT = re.compile(
    r"\bbut (?:actually |in fact |no )?"
    r"(?:(?:there|it|he|she|they|that) (?:(?:is|are|was|were) not|isn't|aren't|wasn't|hasn't)|it's not)\b"
)
_TURNING = frozenset("but however actually instead yet no".split())
_TURNED_WITHIN = 10
"""Most words from what was supposed to what is."""
_ENDING = frozenset("but although though just only more rather instead because except".split())
"""Words that end what is not believed: "I don't think it's up, more down"."""
_WITHIN = 14
"""Most words from such words to the finding."""
_OPENING = (ItemKind.SIDE, ItemKind.SUBJECT)
_DENYING = frozenset("no any none nothing nor neither".split())
_GRADING = frozenset("is it's was that's than a as at be full quite really".split())


def disbelieved(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """The items, in order; a finding that is denied so is negated, and one that is only doubted is asked about."""
    text = " ".join(words)
    starts, begins = _starts(words), [item.start for item in items]
    results = {item.start for item in items if item.kind is ItemKind.VALUE}
    changed: dict[int, Item] = {}
    for cue, doubted in ((_DENIED, False), (_DOUBTED, True)):
        for match in cue.finditer(text):
            start, end = bisect_left(starts, match.start()), bisect_left(starts, match.end())
            if not results.isdisjoint(range(start, end)):
                continue  # "clonus I couldn't find on either side": a result of its own
            following = (items[at] for at in range(bisect_left(begins, end), len(items)))
            found = _next_finding(following, end, words, tokens)
            if found is None:
                continue
            if doubted or found.grade is not None or found.flags:
                changed[id(found)] = replace(found, flags=(*found.flags, "value_uncertain"))
            else:
                changed[id(found)] = replace(found, negated=not found.negated)
    gone: set[int] = set()
    for match in _SUPPOSED.finditer(text):
        start = bisect_left(starts, match.start())
        told = items[bisect_right(begins, start) : bisect_right(begins, start + _WITHIN + _TURNED_WITHIN)]
        first = next((at for at, item in enumerate(told) if item.kind is ItemKind.VALUE), None)
        if first is None or told[first].start - start > _WITHIN or told[first].same or told[first].reaction:
            continue
        after = " ".join(words[told[first].end : told[first].end + _WITHIN])
        if is_in_words(told[first]) and _IT_ISNT.search(after):
            changed[id(told[first])] = replace(told[first], negated=not told[first].negated)
        gone |= {id(one) for one in _turned_out(told, first, words)}
    return [changed.get(id(item), item) for item in items if id(item) not in gone]


def _turned_out(told: list[Item], first: int, words: list[str]) -> list[Item]:
    """The result at `first` that was supposed, where "but" and another result of the test follow it, and the words that
    take it back.
    """
    for at, item in enumerate(told[first + 1 :], first + 1):
        if item.kind is ItemKind.SUBJECT:
            return []
        if item.kind is ItemKind.VALUE:
            turned = not _TURNING.isdisjoint(words[told[first].end : item.start])
            taken_back = [one for one in told[first + 1 : at] if one.kind in (ItemKind.NEGATION, ItemKind.REPAIR)]
            return [told[first], *taken_back] if turned and not item.same else []
    return []


def _starts(words: list[str]) -> list[int]:
    """Where each word starts in the text of all."""
    return list(itertools.accumulate((len(word) + 1 for word in words), initial=0))[:-1]


def _next_finding(following: Iterable[Item], start: int, words: list[str], tokens: list[Token]) -> Item | None:
    """The first of the items from token `start` on that is a result, in the same clause; None where words for its
    absence were read already.
    """
    if words[start : start + 1] == ["one"]:
        return None  # "a tremor I don't see one, left ankle jerk absent"
    named = 0
    for item in following:
        named += item.kind is ItemKind.SUBJECT and not item.section_only
        if named > 1 or item.kind is ItemKind.HEADING:
            return None  # "I don't see any swelling, power is full"
        if item.start - start > 1 and item.kind in _OPENING and tokens[item.start].boundary >= COMMA:
            return None  # "I don't think there's much in it, left knee jerk brisk"
        if item.kind is not ItemKind.VALUE:
            continue
        between = words[start : item.start]
        parted = any(tokens[at].boundary >= CLAUSE_MARK for at in range(start, item.start + 1))
        if item.start - start > _WITHIN or parted or not _ENDING.isdisjoint(between):
            return None
        denied = item.forward or item.start == item.end or words[item.start] in _DENYING
        if item.same or item.reaction or (denied and item.values.get("presence") == "absent"):
            return None
        if words[start : start + 1] == ["any"] and "presence" not in item.values:
            return None
        if item.grade is not None and words[item.start - 1] not in _GRADING:
            return None
        return item
    return None
