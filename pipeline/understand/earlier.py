"""What an earlier examination found, told beside what is found today: "was four at discharge, five today".

The talk is written down with one letter for each part (`_Talk`), and the ways to compare are expressions over the
letters. What was then is taken out of what is read after, and so is when it was.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import replace
from typing import TypeVar

from pipeline.mend.matches import Cover, Match
from pipeline.mend.numbers import Number, Roots, number_at
from pipeline.mend.swallowing import is_place, is_value
from pipeline.mend.terms import Term
from pipeline.mend.tokens import COMMA, SENTENCE_END, Token, in_one_sentence
from pipeline.understand.items import Item, ItemKind
from pipeline.understand.splitting import EVERYDAY_VALUES

Part = TypeVar("Part", Match, Number, Roots)

_MONTH = "january|february|march|april|may|june|july|august|september|october|november|december"
_DAY = "(?:mon|tues|wednes|thurs|fri|satur|sun)day"
_SEASON = "spring|summer|autumn|winter|fall|christmas|easter"
_MEETING = f"time|visit|review|session|clinic|round|appointment|exam|examination|{_DAY}|{_MONTH}|{_SEASON}"
_SPAN = "hour|day|week|month|year|night"
_EVENT = (
    "admission|discharge|presentation|referral|surgery|op|operation|decompression|baseline|injections?|block"
    "|breakfast|lunch|dinner|theatre|treatment|therapy|physio|fall|accident|stroke|injury|crash|bleed|relapse|fixation"
)
_COUNT = r"one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\d+"
_WHOSE = "(?:the |his |her |my )?"
_WHEN = re.compile(
    "|".join(
        (
            rf"(?:back )?(?:in|since|during) (?:the |last |early |late )?(?:{_MONTH}|{_SEASON})\b",
            rf"(?:on|since|from) (?:last )?{_DAY}\b",
            rf"(?:at|in|on|before|since) {_WHOSE}(?:{_EVENT})\b",
            rf"(?:(?:at|in|on|from|since) )?{_WHOSE}(?:last|first|previous) (?:{_MEETING}|{_SPAN})\b",
            rf"(?:at|in|on|since) (?:{_SPAN}|session|visit|review) (?:{_COUNT})\b",
            rf"(?:(?:{_COUNT}|a|a few|some|several|many) )?(?:{_SPAN})s? (?:ago|back|earlier|before)\b",
            r"(?:yesterday|previously|formerly|beforehand|earlier|preop|pre op)\b",
        )
    )
)
_LONGEST = 7
"""Words of the longest of these."""
_PHRASES = {
    **dict.fromkeys(("back to", "up to", "down to", "this time"), "O"),
    **dict.fromkeys(("no change", "no better", "no worse", "no different"), "f"),
    **dict.fromkeys(("used to be", "they'd been", "it'd been", "that'd been"), "W"),
    **dict.fromkeys(("couldn't", "couldn't do", "could not", "didn't", "hadn't"), "D"),
}
_WORDS = {
    "W": "was were had",
    "I": "is are it's they're that's there's",
    "O": "now today currently still remains remain",
    "F": "from",
    "T": "then before",
    "f": """""a about all already also an and at been both but can feel find get got grade graded has have he he's i
        i'd i've in it just make me much of on only or power quite see she so that the these they they'd this
        those though we where which yes""",
}
_LETTER_OF = {word: letter for letter, words in _WORDS.items() for word in words.split()}
_HOMOPHONES = frozenset("to too for".split())
_JOINING = frozenset("and but it that they these this those though which so".split())
_LEADING = frozenset("previously formerly".split())
_TODAY, _SOON = frozenset("now today currently".split()), 4
_TIRING = frozenset("fatigues fatigue tires tiring fades fading repetition repetitions repeating repeated".split())
_BACK = 12
"""Most letters between a result and when another was."""
_TAKING_BACK = frozenset("actually really sorry rather".split())

_SIDES = "LRBA"
_SIDE = f"[{_SIDES}]"
_WHERE = "(?:(?:f{1,2}[LRA]|f{0,2}[BU])(?![VIW]))*"
_TIME = "(?:f{0,2}[PT])"
_LINK = "[|]?f{0,3}"
_WAS = f"(?:[PQ]f{{0,2}}(?={_SIDE}?f?W))?(?:{_SIDE}(?=f?W))?W[fO]{{0,3}}x?V"
_NOW = f"(?:{_SIDE}f?)?(?:I?f?O(?:[OIfLRBAU]|x(?!xx)){{0,5}}?V|If{{0,2}}V)|V(?={_WHERE}f?O)|(?<=P)V|(?<=P[|])V"
_THEN_NOW = re.compile(
    f"(?:(?P<was>{_WAS})|(?P<told>V(?={_WHERE}{_TIME})))(?P<where>{_WHERE})(?P<when>{_TIME}?)"
    f"(?={_LINK}(?:(?:{_WAS}{_WHERE}{_TIME}?|V{_WHERE}{_TIME}){_LINK})*(?P<now>(?:{_NOW}){_WHERE}))"
)
"""How it was, and then how it is: "was three on the right, it's four now", "three last week, four today"."""
_LED_BY_TIME = re.compile(f"[PQ](?P<name>[fx]?{_SIDE}?[fx]?[NU]{{1,2}})$")
"""When it was, before the name of the test: "last time the left quads were three, now five"."""
_NOW_THEN = tuple(
    re.compile(f"(?P<now>V{_WHERE}{now})(?={_LINK}(?P<then>{then})(?P<where>{_WHERE})(?P<when>{time}))")
    for now, then, time in (
        ("(?:f?O)?", "B?W[fO]{0,3}V", f"{_TIME}?"),
        ("f?O", "V", _TIME),
        ("", "V", "f?P"),
        ("(?:f?O)?", "Q[fWN]{0,4}V", f"{_TIME}?"),
    )
)
"""How it is, and then how it was: "four plus, and it was four", "five today, four last time"."""
_RISEN = re.compile(f"V{_WHERE}f?O?f?x?(?P<up>FV)|(?P<from>FV)(?=[fx]?V)")
"""Where it has come from: "four minus, up from three", "from three to four"."""
_HAD = re.compile(
    f"(?P<had>(?:f?W)?f{{0,2}}N{_WHERE}{_TIME}|W[fx]{{0,3}}{_WHERE}{_TIME})(?={_LINK}I?f?O)"
    f"|(?P<could>f{{0,2}}D[fx]{{0,2}}{_TIME})"
)
"""What there was: "there was wasting in spring, today ...", "she couldn't do that in spring"."""


def without_earlier(tokens: list[Token], cover: Cover) -> tuple[list[Token], Cover]:
    """The tokens, and what stands where in them, without what an earlier examination found.

    A comparison without a time or a "now" ("was two, it's four") is taken for one where the talk has others with them.
    """
    talk = _Talk(tokens, cover)
    silent = talk.earlier()
    if not silent:
        return tokens, cover
    places: list[int] = []
    kept: list[Token] = []
    after: set[int] = set()
    boundary = 0.0
    for at, token in enumerate(tokens):
        places.append(len(kept))
        if at in silent:
            boundary = max(boundary, token.boundary if silent[at] or at - 1 not in silent else 0.0)
            continue
        if at - 1 in silent:
            after.add(len(kept))
            token.boundary = max(boundary, token.boundary if silent[at - 1] else 0.0)
            boundary = 0.0
        kept.append(token)
    places.append(len(kept))

    def here(parts: list[Part]) -> list[Part]:
        return [
            replace(part, start=places[part.start], end=places[part.end])
            for part in parts
            if not any(at in silent for at in range(part.start, part.end))
        ]

    # "Three last week four": no week, now that the week is gone
    fresh = [number for at in after if (number := number_at(kept, at)) is not None]
    numbers = [number for number in here(cover.numbers) if number.start not in after]
    return kept, Cover(
        here(cover.matches), sorted([*numbers, *fresh], key=lambda number: number.start), here(cover.roots)
    )


def doubt_earlier(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """The items; "last year left ankle jerk absent": what is told right behind a time that opens its sentence is asked
    about.
    """
    starts = [item.start for item in items]
    for at, token in enumerate(tokens):
        said = _WHEN.match(" ".join(words[at : at + _LONGEST])) if token.boundary >= SENTENCE_END or at == 0 else None
        if said is None:
            continue
        end = at + len(said[0].split())
        first = bisect_left(starts, end)
        if first == len(items) or not _LEADING_NAMES.issuperset(words[end : starts[first]]):
            continue
        for item in items[first:]:
            if item.start - end > _TOLD_WITHIN or not in_one_sentence(tokens, end, item.start + 1):
                break
            if not _TODAY.isdisjoint(words[end : item.start + 3]):
                break
            if item.kind is ItemKind.VALUE and not item.reaction:
                item.flags += ("value_uncertain",)
    return items


_LEADING_NAMES = frozenset("the his her their my".split())
_TOLD_WITHIN = 10
"""Most words from "last year" to what was found then."""


class _Talk:
    """One letter for each part of the talk: V a value, N a name, L, R, B and A a side (both, another), U a place, W
    was, I is, O now, P and T when it was, Q when the next was, F from, f a small word, x another, | where a sentence
    ends.
    """

    def __init__(self, tokens: list[Token], cover: Cover) -> None:
        self._words = [token.text for token in tokens]
        named = {match.start: (match.end, _letter(match.term)) for match in cover.matches}
        named |= {
            number.start: (number.end, "V") for number in cover.numbers if self._words[number.start] not in _HOMOPHONES
        }
        named |= {root.start: (root.end, "U") for root in cover.roots}
        self._roots = {root.start: frozenset(root.roots) for root in cover.roots}
        self._spans: list[tuple[int, int]] = []
        letters: list[str] = []
        at = 0
        while at < len(tokens):
            if tokens[at].boundary >= SENTENCE_END and letters:
                letters.append("|")
                self._spans.append((at, at))
            end, letter = self._time(at) or self._phrase(at) or named.get(at) or self._word(at)
            if letter == "V" and self._words[at - 1] == "from" and "to" in self._words[at:end]:
                end = self._words.index("to", at) + 1  # "from three to four" is no range
                named[end] = (end + 1, "V")
            leads = letter == "P" and self._leads(at, end, tokens, "".join(letters[-_BACK:]))
            letters.append("Q" if leads else letter)
            self._spans.append((at, end))
            at = end
        self._letters = "".join(letters)

    def _leads(self, at: int, end: int, tokens: list[Token], letters: str) -> bool:
        """ "Four, last week five", "four, previously five": a time that is said of the result after it."""
        if not re.search(f"V{_WHERE}[|]?$", letters):
            return False
        goes_on = end < len(tokens) and tokens[end].boundary < COMMA
        parted = tokens[at].boundary >= COMMA or self._words[end - 1] in _LEADING
        return goes_on and parted and _TODAY.isdisjoint(self._words[end : end + _SOON])

    def _time(self, at: int) -> tuple[int, str] | None:
        """When something was, if the words at a token say it."""
        said = _WHEN.match(" ".join(self._words[at : at + _LONGEST]))
        return (at + len(said[0].split()), "P") if said else None

    def _phrase(self, at: int) -> tuple[int, str] | None:
        for size in (3, 2, 1):
            letter = _PHRASES.get(" ".join(self._words[at : at + size]))
            if letter:
                return at + size, letter
        return None

    def _word(self, at: int) -> tuple[int, str]:
        return at + 1, _LETTER_OF.get(self._words[at], "x")

    def earlier(self) -> dict[int, bool]:
        """The tokens of what was found earlier, and whether what follows each begins anew where the talk breaks."""
        then_now, now_then = list(self._then_now()), list(self._now_then())
        risen = [
            self._tokens(*said.span(said.lastgroup or 0))
            for said in _RISEN.finditer(self._letters)
            if not self._tires(*said.span())
        ]
        had = [self._tokens(*said.span(said.lastgroup or 0)) for said in _HAD.finditer(self._letters)]
        if not (had or risen or any(sure for sure, _ in (*then_now, *now_then))):
            return {}
        silent = {at: True for tokens in (*risen, *had, *(tokens for _, tokens in now_then)) for at in tokens}
        return silent | {at: False for _, tokens in then_now for at in tokens}

    def _tires(self, start: int, end: int) -> bool:
        """ "Fades from four to three", "from five to four on repetition": all of it was found today."""
        first, last = self._spans[start][0], self._spans[end - 1][1]
        return not _TIRING.isdisjoint(self._words[max(0, first - 3) : last + _SOON + 2])

    def _then_now(self) -> Iterator[tuple[bool, set[int]]]:
        """(whether a time or "now" is said, tokens of what was) for each comparison that ends with today."""
        for said in _THEN_NOW.finditer(self._letters):
            then = (said.start(), said.end("where"))
            now = said.span("now")
            if not self._may_be_one(then, now) or self._turns_to_other_side(then, now):
                continue
            value = said.span("was") if said["was"] else said.span("told")
            silent = self._tokens(*said.span("when")) | self._tokens(*value, keeping_sides=not self._sides(*now))
            if self._sides(*now) or self._places(*now):
                silent |= self._tokens(*said.span("where"))
            silent |= self._small(said.start() - 1, -1) | self._small(said.end(), 1)
            led = _LED_BY_TIME.search(self._letters[max(0, said.start() - _BACK) : said.start()])
            if led is not None:
                silent |= self._tokens(said.start() - len(led[0]), said.start() - len(led["name"]))
            yield bool(said["when"] or "P" in said[0] or "O" in self._letters[now[0] : now[1] + 2]), silent

    def _now_then(self) -> Iterator[tuple[bool, set[int]]]:
        """The same for each that begins with today."""
        for said in (said for form in _NOW_THEN for said in form.finditer(self._letters)):
            now, where, first = said.span("now"), said.span("where"), said.start("then")
            led = re.search("W[fO]{0,3}x?$", self._letters[max(0, now[0] - 5) : now[0]])
            sided = re.search(f"{_SIDE}(?:f{{0,2}}|I)$", self._letters[max(0, now[0] - 3) : now[0]])
            now = (now[0] - len(sided[0]) if sided else now[0], now[1])
            if led or not self._may_be_one(now, where):
                continue
            end = self._spans[said.end("when") - 1][1]
            if not _TAKING_BACK.isdisjoint(self._words[end : end + 2]):
                continue
            sure = bool(said["when"]) or self._letters[first] == "Q" or self._words[self._spans[first][0]] == "had"
            sure = sure or "O" in self._letters[max(0, now[0] - 1) : now[1]]  # "now five, was three"
            yield sure, self._tokens(first, said.end("when")) | self._small(first - 1, -1)

    def _turns_to_other_side(self, then: tuple[int, int], now: tuple[int, int]) -> bool:
        """ "Right plantar was flexor, left now extensor": the side of what was is that said before it."""
        sides = self._sides(*now)
        if not sides or self._sides(*then):
            return False
        before = next((at for at in range(then[0] - 1, -1, -1) if self._letters[at] in _SIDES), None)
        return before is not None and not sides & self._sides(before, before + 1)

    def _may_be_one(self, then: tuple[int, int], now: tuple[int, int]) -> bool:
        """Not said of two sides or places."""
        sides, others = self._sides(*then), self._sides(*now)
        places, elsewhere = self._places(*then), self._places(*now)
        return not (sides and others and not sides & others) and not (places and elsewhere and not places & elsewhere)

    def _sides(self, start: int, end: int) -> set[str]:
        said = {letter for letter in self._letters[start:end] if letter in _SIDES}
        return {"L", "R"} if said & {"B", "A"} else said

    def _places(self, start: int, end: int) -> set[str]:
        spans = [self._spans[at] for at in range(start, end) if self._letters[at] == "U"]
        return {place for first, last in spans for place in self._roots.get(first, {" ".join(self._words[first:last])})}

    def _small(self, at: int, step: int) -> set[int]:
        """The words from a letter on that join what was and what is, or stand for the test ("and it", "that")."""
        found: set[int] = set()
        while 0 <= at < len(self._spans) and self._words[self._spans[at][0]] in _JOINING and self._letters[at] == "f":
            found |= self._tokens(at, at + 1)
            at += step
        return found

    def _tokens(self, start: int, end: int, *, keeping_sides: bool = False) -> set[int]:
        return {
            token
            for at in range(start, end)
            if not (keeping_sides and self._letters[at] in _SIDES)
            for token in range(*self._spans[at])
        }


def _letter(term: Term) -> str:
    kinds = {meaning.kind for meaning in term.meanings}
    for side, letter in (("side_left", "L"), ("side_right", "R"), ("side_both", "B")):
        if side in kinds:
            return letter
    if any(kind.startswith("side_") for kind in kinds):
        return "A"
    if is_value(term):
        return "x" if term.text in EVERYDAY_VALUES else "V"
    if is_place(term):
        return "U"
    named = any(kind.startswith(("section_", "group_")) for kind in kinds) or kinds & {"manoeuvre", "muscle", "nerve"}
    return "N" if named else "x"
