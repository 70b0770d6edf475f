"""Spoken controls: is an utterance the carrier and one of the controls, and nothing else?

Two things must hold. What the open listener wrote begins like the carrier, by its sounds; or, where it trusts its first
word too little, as in noise, the sound fits the carrier. And the sound of the whole utterance fits one wording of a
control well, by `pipeline.hear.fit`. Teaching talk fails at the first; talk about a computer at the second, because the
whole utterance has to be accounted for. Figures: `docs/live.md`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from statistics import fmean

from rapidfuzz.distance import Levenshtein

from pipeline.hear.agree import spoken_words
from pipeline.hear.audio import Samples
from pipeline.hear.fit import fits
from pipeline.hear.words import Word
from pipeline.lexicon.live import Control, ControlId, Controls, controls
from pipeline.lexicon.pronounce import phrase_phones

SHORTEST, LONGEST = 0.6, 4.0
"""Seconds that a control can last."""
_OPENING = 0.5
"""Largest share of the carrier's sounds in which the opening of an utterance may differ from it."""
_FIT = -4.5
"""Least mean log probability of a token: between the worst controls and the best other talk (see `docs/live.md`)."""
_TRUSTED = 0.5
"""Confidence of the open listener's first word below which it may be anything."""
_CARRIER = -14.2
"""Least fit of the carrier alone where what was written is not trusted."""
_WRITTEN = 0.15
"""Largest share of sounds in which what was written may differ from a control that fits less well."""
_UNLIKE = 0.6
_SURELY = 0.7
"""Where the carrier was not written: what differs more, and is written with this mean confidence, is something else."""
_NEAREST = 4
_SURE = 0.9


@dataclass(frozen=True)
class Spoken:
    """A control that was heard. `choice`: the side or grade; `other`: another choice that it could have been."""

    control: ControlId
    choice: str = ""
    other: str = ""


@dataclass(frozen=True)
class _Wording:
    text: str
    control: Control
    choice: str = ""
    said: str = ""


class Spotter:
    """Finds controls in utterances. Its answer depends on the utterance alone."""

    def __init__(self, spoken: Controls | None = None) -> None:
        spoken = spoken or controls()
        self._carrier_word = spoken.carrier
        self._carrier = _sounds(spoken.carrier)
        self._all: list[_Wording] = []
        self._chosen: dict[ControlId, list[_Wording]] = {}
        for control in spoken.controls:
            for say in control.say:
                for said, meant in (control.choices or {"": ""}).items():
                    wording = _Wording(f"{spoken.carrier}, {say.format(side=said, grade=said)}", control, meant, said)
                    self._all.append(wording)
                    if control.choices:
                        self._chosen.setdefault(control.id, []).append(wording)
        # Where the words tell nothing, a grade's plus or minus is chosen later.
        self._few = [one for one in self._all if one.choice[-1:] not in ("+", "-")]

    def spot(self, clip: Samples, seconds: float, words: list[Word]) -> Spoken | None:
        """The control in `clip`, an utterance of `seconds` with margins. `words`: the open listener's."""
        if not SHORTEST <= seconds <= LONGEST:
            return None
        opens = bool(words) and self._opens(words)
        if not opens and words and words[0].confidence >= _TRUSTED:
            return None
        if not opens and self.carrier_fit(clip) < _CARRIER:
            return None
        best = self._best(clip, words if opens else [])
        if best is None or (not opens and _says_more(words, best.text)):
            return None
        if best.control.id not in self._chosen:
            return Spoken(best.control.id)
        choices = self._chosen[best.control.id]
        found = fits(clip, [wording.text for wording in choices], taught=False)
        ranked = sorted(range(len(choices)), key=lambda place: -found[place].total)
        first, second = ranked[:2]
        sure = 1 / (1 + math.exp(found[second].total - found[first].total)) >= _SURE and _written(words, choices[first])
        return Spoken(best.control.id, choices[first].choice, "" if sure else choices[second].choice)

    def carrier_fit(self, clip: Samples) -> float:
        """Log probability that the listener would write the carrier and end there: low where another word begins."""
        return fits(clip, [self._carrier_word], taught=False)[0].total

    def _opens(self, words: list[Word]) -> bool:
        """Whether the first words sound like the carrier; a weak beginning may be lost, a short word come before it."""
        heard = _sounds(" ".join(word.text for word in words[:4]))
        size = len(self._carrier)
        costs = [
            Levenshtein.distance(self._carrier, heard[first : first + length])
            for first in range(3)
            for length in range(size - 3, size + 2)
        ]
        return min(costs) <= _OPENING * size

    def _best(self, clip: Samples, words: list[Word]) -> _Wording | None:
        """The wording that fits best, if it fits; of those that sound most like `words`, where there are any."""
        apart = {one.text: _apart(one.text, words) for one in self._all}
        wordings = sorted(self._all, key=lambda one: apart[one.text])[:_NEAREST] if words else self._few
        found = fits(clip, [one.text for one in wordings], taught=False)
        place = max(range(len(found)), key=lambda place: found[place].total)
        fitting = found[place].mean >= _FIT or (bool(words) and apart[wordings[place].text] <= _WRITTEN)
        return wordings[place] if fitting else None


def _apart(wording: str, words: list[Word]) -> float:
    """Share of sounds in which the words that were written differ from a wording."""
    heard = _sounds(" ".join(word.text for word in words))
    return float(Levenshtein.normalized_distance(_sounds(wording), heard))


def _says_more(words: list[Word], wording: str) -> bool:
    """Whether more was said, in words that are trusted: "scratch that, I had hold of the wrong toe"."""
    rest = [word.confidence for word in words[1:]]
    return bool(rest) and fmean(rest) >= _SURELY and _apart(wording, words) > _UNLIKE


def _written(words: list[Word], wording: _Wording) -> bool:
    """Whether the open listener wrote the same choice, and trusts the words."""
    said = spoken_words(wording.said)
    heard = [(spoken, word.confidence) for word in words for spoken in spoken_words(word.text)][-len(said) :]
    return [spoken for spoken, _ in heard] == said and all(confidence >= _TRUSTED for _, confidence in heard)


@cache
def _sounds(text: str) -> tuple[str, ...]:
    ways = phrase_phones(spoken_words(text))
    return ways[0] if ways else ()
