"""Commands to the patient: which manoeuvre an instruction has the patient do."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from pipeline.lexicon.model import Lexicon
from pipeline.lexicon.pronounce import phones
from pipeline.mend.context import FUNCTION, NUMBER_WORDS
from pipeline.mend.words import frequency

_COMMONER = 0.5
"""How much commoner a word may be, on the Zipf scale, than that of an order it stands for ("heal", and not "break")."""
Phrase = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Pattern:
    manoeuvre: str
    region: str
    needed: tuple[tuple[Phrase, ...], ...]
    barred: tuple[Phrase, ...]


def _phrase(text: str) -> Phrase:
    return tuple(text.lower().replace("'", "").replace("-", " ").split())


class CommandFinder:
    """Matches the lexicon's command patterns in a stretch of words."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._by_word: dict[str, list[_Pattern]] = defaultdict(list)
        for manoeuvre in lexicon.manoeuvres:
            for command in manoeuvre.commands:
                needed = tuple(tuple(map(_phrase, choices)) for choices in command.all)
                pattern = _Pattern(manoeuvre.id, manoeuvre.region, needed, tuple(map(_phrase, command.none)))
                for first in {phrase[0] for phrase in needed[0]}:
                    self._by_word[first].append(pattern)
        patterns = [pattern for found in self._by_word.values() for pattern in found]
        asked = {word for one in patterns for choices in one.needed for phrase in choices for word in phrase}
        barred = {word for one in patterns for phrase in one.barred for word in phrase}
        self._left_alone = asked | barred | FUNCTION | NUMBER_WORDS
        self._spelled = {phones(word)[0]: word for word in sorted(asked - FUNCTION - NUMBER_WORDS) if phones(word)}

    def _as_asked(self, word: str) -> str:
        """ "Big tow up": the word of an order that this sounds exactly like."""
        if word in self._left_alone or not word.isalpha():
            return word
        said = self._spelled.get(next(iter(phones(word)), ()), word)
        return said if frequency(said) > frequency(word) - _COMMONER else word

    def find(self, words: list[str], region: str | None = None) -> str | None:
        """The manoeuvre that these words ask for, or None; the pattern that explains most words wins.

        Of patterns that explain as much, one of the `region` under examination is preferred, and one of what is the
        patient's: in "curl your toes round my finger" no finger curls.
        """
        plain = [self._as_asked(word.replace("'", "")) for word in words]
        present = set(plain)
        best: tuple[float, str] | None = None
        for word in present:
            for pattern in self._by_word.get(word, ()):
                size: float = 0
                for choices in pattern.needed:
                    hits = [len(phrase) for phrase in choices if phrase[0] in present and _stands(plain, phrase)]
                    if not hits:
                        break
                    size += max(hits)
                    if hits == [1] and _is_examiners(plain, choices):
                        size -= 0.25
                else:
                    if any(phrase[0] in present and _stands(plain, phrase) for phrase in pattern.barred):
                        continue
                    size += len(pattern.needed) + (0.5 if pattern.region == region else 0.0)
                    if best is None or size > best[0] or (size == best[0] and pattern.manoeuvre < best[1]):
                        best = size, pattern.manoeuvre
        return best[1] if best else None


def _is_examiners(words: list[str], choices: tuple[Phrase, ...]) -> bool:
    """Whether the choice that stands there is the examiner's hand or finger each time."""
    said = {phrase[0] for phrase in choices if len(phrase) == 1}
    return all(words[at - 1] == "my" for at in range(1, len(words)) if words[at] in said)


def _stands(words: list[str], phrase: Phrase) -> bool:
    if len(phrase) == 1:
        return phrase[0] in words
    size = len(phrase)
    return any(tuple(words[at : at + size]) == phrase for at in range(len(words) - size + 1))
