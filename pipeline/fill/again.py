"""Parts of a row put to the sound once more: side, grade or finding, level, denial, and names that have an opposite.

Only the legal values may be heard. The answers are evidence for the confidence of the row; they never change it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from pipeline.hear.agree import AGREE, sound_distance
from pipeline.hear.words import Again, Word
from pipeline.lexicon.model import Lexicon
from pipeline.mend.tokens import Token
from pipeline.understand.items import Item, ItemKind

SURE = 0.9
"""Confidence of a listener in a word from which, with the other listener agreeing, it is not put to the sound again."""
_ALIKE = 0.4
"""Share of phonemes below which two words are told apart by few sounds: abduction and adduction."""
_CONTEXT = 4
_PAUSE = 0.6
_DIGITS = ("zero", "one", "two", "three", "four", "five")
_HEARD_AS = {"for": "four", "fore": "four", "to": "two", "too": "two", "won": "one", "fine": "five", "free": "three"}
_SIGNS = {"+": "plus", "-": "minus", "plus": "plus", "minus": "minus"}
_SIDES = {"left": "right", "right": "left"}
_MOST_WORDS = 2
_MOST_VALUES = 4
_NEAR_LEVELS = 2


@dataclass(frozen=True)
class Answer:
    """What the sound says of one part of a row: probability of what was understood, and of the likeliest other value.

    `slot` is that of `Alternative`; `other` is the value of that slot, or the words where the slot has no such value.
    """

    slot: str
    said: float
    other: str
    rival: float


@dataclass(frozen=True)
class _Choice:
    """A text in place of an item's words, and the value of the slot that it stands for."""

    text: str
    value: str


class Slots:
    """What the lexicon lets a part of a row be: values, levels, and names with their opposites."""

    def __init__(self, lexicon: Lexicon) -> None:
        self.opposites: dict[str, set[str]] = {}
        for one, other in (confusion.pair for confusion in lexicon.confusions):
            if " " not in one + other:
                self.opposites.setdefault(one, set()).add(other)
                self.opposites.setdefault(other, set()).add(one)
        self.alike = {
            one for one, others in self.opposites.items() if any(sound_distance((one,), (o,)) < _ALIKE for o in others)
        }
        self.values = {scale.id: scale.values for scale in lexicon.scales}
        self.scale = {manoeuvre.id: manoeuvre.scale for manoeuvre in lexicon.manoeuvres}
        self.levels = [entry.id for entry in lexicon.dermatomes if entry.id[1:].isdigit()]


class SlotListener:
    """Asks about the items of one talk, about each item once."""

    def __init__(self, slots: Slots, tokens: list[Token], words: list[Word], again: Again) -> None:
        self._slots, self._tokens, self._words, self._again = slots, tokens, words, again
        self._answers: dict[tuple[int, int, str], Answer | None] = {}

    def answers(self, manoeuvre: str, items: Sequence[Item]) -> list[Answer]:
        """One answer for each of the items that is unsure and has other values to choose from."""
        found: list[Answer] = []
        for item in items:
            key = (item.start, item.end, self._slots.scale[manoeuvre])
            if key not in self._answers:
                asks = self._is_unsure(item) or self._is_reversible(item)
                self._answers[key] = self._ask(manoeuvre, item) if asks else None
            answer = self._answers[key]
            if answer is not None:
                found.append(answer)
        return found

    def _is_unsure(self, item: Item) -> bool:
        mended = item.match is not None and item.match.mended
        said = self._words[self._tokens[item.start].word : self._tokens[item.end - 1].word + 1]
        return mended or any(AGREE not in word.flags or word.confidence < SURE for word in said)

    def _is_reversible(self, item: Item) -> bool:
        """A movement that has an opposite of nearly the same sound: both listeners may mishear it."""
        texts = {token.text for token in self._tokens[item.start : item.end]}
        return item.kind is ItemKind.SUBJECT and not texts.isdisjoint(self._slots.alike)

    def _ask(self, manoeuvre: str, item: Item) -> Answer | None:
        slot, choices = self._choices(manoeuvre, item)
        texts = list(dict.fromkeys(choice.text for choice in choices))
        if len(texts) < 2:
            return None
        first, last = self._tokens[item.start].word, self._tokens[item.end - 1].word
        before, after = self._before(first), self._after(last)
        phrases = {text: " ".join(word for word in (*before[0], text, *after[0]) if word) for text in texts}
        judged = dict(self._again(before[1], after[1], list(phrases.values())))
        said = judged[phrases[texts[0]]]
        other = max(choices[1:], key=lambda choice: judged[phrases[choice.text]])
        return Answer(slot, said, other.value, judged[phrases[other.text]])

    def _before(self, first: int) -> tuple[list[str], float]:
        """The words before the word `first`, up to a pause, and when they begin."""
        at = first
        while at > max(0, first - _CONTEXT) and self._words[at].start - self._words[at - 1].end < _PAUSE:
            at -= 1
        return [word.text for word in self._words[at:first]], self._words[at].start

    def _after(self, last: int) -> tuple[list[str], float]:
        at = last
        end = min(len(self._words) - 1, last + _CONTEXT)
        while at < end and self._words[at + 1].start - self._words[at].end < _PAUSE:
            at += 1
        return [word.text for word in self._words[last + 1 : at + 1]], self._words[at].end

    def _choices(self, manoeuvre: str, item: Item) -> tuple[str, list[_Choice]]:
        """The slot of an item and its choices, what was understood first."""
        texts = [token.text for token in self._tokens[item.start : item.end]]
        if item.kind is ItemKind.SIDE:
            return "side", self._sides(texts)
        if item.kind is ItemKind.NEGATION:
            return "value", [_Choice(_joined(texts), "said"), _Choice("", "not denied")]
        if item.kind is ItemKind.PLACE:
            return "site", self._places(item, texts)
        if item.kind is ItemKind.SUBJECT:
            return "manoeuvre", self._names(item, texts)
        if item.kind is not ItemKind.VALUE or item.same or item.reaction:
            return "value", []
        if item.grade is not None:
            return "value", self._grades(manoeuvre, texts) if item.unit in (None, "grade") else []
        return "value", self._findings(manoeuvre, item, texts)

    @staticmethod
    def _sides(texts: list[str]) -> list[_Choice]:
        sides = [text for text in texts if text in _SIDES]
        if len(sides) != 1:
            return []
        swapped = [_SIDES.get(text, text) for text in texts]
        return [_Choice(_joined(texts), sides[0]), _Choice(_joined(swapped), _SIDES[sides[0]])]

    def _places(self, item: Item, texts: list[str]) -> list[_Choice]:
        level = item.ids[0] if len(item.ids) == 1 else ""
        if level not in self._slots.levels or not re.fullmatch(r"[ctls] ?(?:\w+)", " ".join(texts)):
            return []
        at = self._slots.levels.index(level)
        near = self._slots.levels[max(0, at - _NEAR_LEVELS) : at + _NEAR_LEVELS + 1]
        near += [pair for pair in ("S1", "L1") if level in ("S1", "L1")]
        said = dict.fromkeys((level, *near))
        return [_Choice(f"{one[0]} {_number(one[1:])}", one) for one in said]

    def _names(self, item: Item, texts: list[str]) -> list[_Choice]:
        match = item.match
        if match is None:
            return []
        if match.mended:
            rival = match.rival
            if rival is None:
                return []
            return [_Choice(match.term.text, match.term.text), _Choice(rival.text, rival.text)]
        return self._swapped(texts)

    def _swapped(self, texts: list[str]) -> list[_Choice]:
        choices = [_Choice(_joined(texts), _joined(texts))]
        for at, text in enumerate(texts):
            for other in sorted(self._slots.opposites.get(text, ())):
                changed = _joined([*texts[:at], other, *texts[at + 1 :]])
                choices.append(_Choice(changed, changed))
        return choices

    def _grades(self, manoeuvre: str, texts: list[str]) -> list[_Choice]:
        spoken = [_HEARD_AS.get(text, text) for text in texts]
        at = next((n for n, text in enumerate(spoken) if text in _DIGITS or text in "012345"), None)
        if at is None:
            return []
        digit = _DIGITS.index(spoken[at]) if spoken[at] in _DIGITS else int(spoken[at])
        end = at + 1
        sign = _SIGNS.get(spoken[end], "") if end < len(spoken) else ""
        end += bool(sign)
        legal = {one.value for one in self._slots.values[self._slots.scale[manoeuvre]]}
        signs = ("", "minus", "plus") if "4-" in legal else ("plus",) if sign else ("",)
        wanted = [(digit, sign), *((digit, one) for one in signs)]
        wanted += [(one, each) for one in (digit - 1, digit + 1) for each in dict.fromkeys(("", sign))]
        choices: list[_Choice] = []
        for number, mark in dict.fromkeys(wanted):
            value = f"{number}{'+' if mark == 'plus' else '-' if mark else ''}"
            if 0 <= number <= 5 and (value in legal or f"{number}+" in legal or (number, mark) == (digit, sign)):
                text = " ".join(filter(None, (_DIGITS[number], mark)))
                choices.append(_Choice(_joined([*spoken[:at], text, *spoken[end:]]), value))
        return choices

    def _findings(self, manoeuvre: str, item: Item, texts: list[str]) -> list[_Choice]:
        scale = self._slots.scale[manoeuvre]
        said = item.values.get(scale)
        choices = self._swapped(texts)
        for one in self._slots.values[scale]:
            words = next((word for word in one.say if len(word.split()) <= _MOST_WORDS), None)
            if one.value != said and words is not None and len(choices) <= _MOST_VALUES:
                choices.append(_Choice(words, one.value))
        return choices


def _joined(texts: Sequence[str]) -> str:
    text = " ".join(_SIGNS.get(text, text) for text in texts)
    return re.sub(r" / ", "/", text)


def _number(digits: str) -> str:
    return _DIGITS[int(digits)] if len(digits) == 1 and int(digits) < len(_DIGITS) else digits
