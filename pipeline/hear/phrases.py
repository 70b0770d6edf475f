"""Phrases that an examiner may say, made from the lexicon: the lexicon listener's language model is counted from them.

Nothing here knows a manoeuvre: names, values, sides, sites and phrases come from the lexicon, and the patterns below
are the ways in which English puts them together (common practice, no source). Choices are drawn with a fixed seed, so
that one lexicon always gives the same phrases.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterable, Iterator

from pipeline.lexicon import Lexicon
from pipeline.lexicon.model import Command, Manoeuvre, Scale
from pipeline.lexicon.pronounce import number_words

Sentence = tuple[str, ...]

_SEED = 1
_ROUNDS = 3
"""How often each name goes through its patterns; the first names of an entry, the usual ones, twice as often."""
_COMMAND_ROUNDS = 6
_MOST_JOINED = 3
"""Phrases in one breath, at most."""

_ANY = (
    "{name} {value}", "{name} is {value}", "{name} {value} {side}", "{side} {name} {value}", "{name} {side} {value}",
    "{name} are {value} {both}", "{name} {value} {both}", "{value} {name}", "{name} {value} {side} {value} {side}",
    "{name} {skipped}", "{name} {skipped} because of {reason}", "{name} {side} {skipped} {reason}", "{name} {reason}",
    "{name} and {name}", "{name} {side}", "{name} is {side}", "that's {value} {side}", "{name}",
)  # fmt: skip
_GRADED = (
    "{name} {grade}", "{name} {grade}", "{name} is {grade}", "{name} {grade} {side}", "{side} {name} {grade}",
    "{name} {side} {grade}", "{name} {grade} {side} {grade} {side}", "{name} {grade} {both}", "{name} {grade} {root}",
    "{name} {root} {grade}", "{grade} {root}", "{side} {grade} {side} {grade}", "{name} {grade} {name} {grade}",
    "{side} {name} {grade} {root}", "{grade} {side}", "{grade}", "{grade} {throughout}", "{name} is {value} {root}",
)  # fmt: skip
_PRESENCE = (
    "no {name}", "no {name} or {name}", "no {name} and no {name}", "no {name} {where}", "there is no {name} {where}",
    "{name} {where}", "{name} {value} {where}", "there is {name} {where}", "without {name}", "no {name} in {both}",
)  # fmt: skip
_LIMB = ("{name} {value} {where}", "{name} is {value} in {both}", "{name} {side} {value}")
_DERMATOME = (
    "{name} {value} at {root}", "{name} {value} in {root}", "{name} {value} over the {root} dermatome",
    "{name} {value} {root} to {root}", "{name} is {value} from {root} to {root} {side}", "{value} at {root} {side}",
    "{name} {side} {value} in the {root} dermatome", "{value} in {root} and {root}", "{name} {value} over {place}",
    "{root} {value}", "{root} {side}",
)  # fmt: skip
_JOINT = (
    "{name} {value} at the {joint}", "{name} {value} to the {joint}", "{name} {value} at the {joint} {side}",
    "{name} is {value} at the {side} {joint}", "{value} at the {joint}", "{joint} {value}", "{side} {joint} {value}",
)  # fmt: skip
_ALONE = ("{root}", "{root} {root}", "{side}", "{both}", "{same} {side}", "{root} radiculopathy", "now the {side}")
_GRADES = {
    "mrc": ("{0-5}", "{2-5} plus", "{2-5} minus", "{0-5} out of five", "{2-5} plus out of five", "{0-5} over five",
            "{2-5} minus out of five", "grade {0-5}", "grade {2-5} plus", "grade {2-5} minus", "{0-5}", "{2-5} plus",
            "{2-5} minus"),
    "reflex": ("{0-4} plus", "{1-3} plus", "{0-4}", "one plus", "two plus", "three plus"),
    "ashworth": ("{0-4}", "one plus", "modified ashworth {0-4}", "modified ashworth one plus", "grade {0-4}"),
    "beats": ("{1-9} beats", "{1-9} beats of clonus", "{1-9} beats", "one beat"),
    "degrees": ("{tens} degrees", "to {tens} degrees", "at {tens} degrees", "{tens}"),
}  # fmt: skip
_SLOT = re.compile(r"\{([\w-]+)\}")


def phrases(lexicon: Lexicon) -> Iterator[Sentence]:
    """Sentences of one to three phrases in lower case (initials as the lexicon writes them), in a fixed order."""
    rng = random.Random(_SEED)
    said = [tuple(phrase.split()) for phrase in _Maker(lexicon, rng).all()]
    rng.shuffle(said)
    at = 0
    while at < len(said):
        count = rng.randint(1, _MOST_JOINED)
        yield tuple(word for phrase in said[at : at + count] for word in phrase)
        at += count


class _Maker:
    """Fills the patterns from one lexicon."""

    def __init__(self, lexicon: Lexicon, rng: random.Random) -> None:
        self._lexicon = lexicon
        self._rng = rng
        self._scales = {scale.id: scale for scale in lexicon.scales}
        self._levels = [entry.id for entry in lexicon.dermatomes if entry.id[1:].isdigit()]
        said = lexicon.phrases
        self._lists: dict[str, list[str]] = {
            "both": said.get("side_both", []),
            "skipped": said.get("not_done", []),
            "reason": [phrase for kind in ("declined", "pain", "unable", "deferred") for phrase in said.get(kind, [])],
            "same": said.get("same", []),
            "throughout": said.get("throughout", []),
            "joint": [name for site in lexicon.sites if site.id not in ("leg", "arm") for name in site.names],
            "place": [name for entry in lexicon.dermatomes for name in entry.names],
        }
        self._sides = [*said.get("side_left", []), *said.get("side_right", [])]
        self._names = {entry.id: [*entry.names, *entry.section_names] for entry in lexicon.manoeuvres}
        for muscle in lexicon.muscles:
            self._names[muscle.manoeuvre] += muscle.names

    def all(self) -> Iterator[str]:
        for manoeuvre in self._lexicon.manoeuvres:
            yield from self._about(manoeuvre)
            for command in manoeuvre.commands:
                for _ in range(_COMMAND_ROUNDS):
                    yield self._command(command)
        for said in self._lexicon.phrases.values():
            for phrase in said:
                yield from [phrase.lower()] * _ROUNDS
        for name in self._other_names():
            yield from [name] * _ROUNDS
        for pattern in _ALONE:
            for _ in range(40 * _ROUNDS):
                yield self._filled(pattern, None, None)

    def _about(self, manoeuvre: Manoeuvre) -> Iterator[str]:
        scale = self._scales[manoeuvre.scale]
        patterns = [*_ANY, *(_GRADED if scale.grades else ())]
        if scale.id == "presence":
            patterns += _PRESENCE
        patterns += {"limb": _LIMB, "dermatome": _DERMATOME, "joint": _JOINT}.get(manoeuvre.sites, ())
        usual = {manoeuvre.names[0], *(m.names[0] for m in self._lexicon.muscles if m.manoeuvre == manoeuvre.id)}
        for name in self._names[manoeuvre.id]:
            for _ in range(_ROUNDS * (2 if name in usual else 1)):
                for pattern in patterns:
                    yield self._filled(pattern, name, scale, manoeuvre)

    def _other_names(self) -> Iterable[str]:
        lists = (self._lexicon.nerves, self._lexicon.sites, self._lexicon.dermatomes)
        for part in lists:
            for entry in part:
                yield from entry.names
        for one in self._lexicon.confusions:
            for term in one.pair:
                yield self._root(term) if term in self._levels else term
        for word in self._lexicon.pronunciations:
            yield word.word

    def _filled(self, pattern: str, name: str | None, scale: Scale | None, about: Manoeuvre | None = None) -> str:
        first = True

        def fill(match: re.Match[str]) -> str:
            nonlocal first
            slot = match.group(1)
            if slot == "name":
                if first or about is None:
                    first = False
                    return name or ""
                near = [entry.id for entry in self._lexicon.manoeuvres if entry.section == about.section]
                return self._rng.choice(self._names[self._rng.choice(near)])
            return self._slot(slot, scale)

        return _SLOT.sub(fill, pattern)

    def _slot(self, slot: str, scale: Scale | None) -> str:
        if slot == "value" and scale:
            return self._rng.choice([word for value in scale.values for word in value.say])
        if slot == "grade" and scale and scale.grades:
            return _SLOT.sub(lambda match: self._number(match.group(1)), self._rng.choice(_GRADES[scale.grades]))
        if slot == "side":
            return self._rng.choice(("", "on the ", "in the ", "")) + self._rng.choice(self._sides)
        if slot == "where":
            limb = self._rng.choice(self._sides + self._lists["both"])
            return self._rng.choice(("in the ", "in ", "of the ")) + limb
        if slot == "root":
            return self._roots()
        return self._rng.choice(self._lists.get(slot) or [""])

    def _number(self, choice: str) -> str:
        if choice == "tens":
            return " ".join(number_words(self._rng.choice([*range(5, 95, 5)])))
        low, high = map(int, choice.split("-"))
        return " ".join(number_words(self._rng.randint(low, high)))

    def _roots(self) -> str:
        """One level, or two that follow each other: "L five", "L four five", "L five S one"."""
        at = self._rng.randrange(len(self._levels) - 1)
        level, after = self._levels[at], self._levels[at + 1]
        kind = self._rng.randrange(5)
        if kind < 3:
            return self._root(level)
        if kind == 3 and level[0] == after[0]:
            return f"{self._root(level)} {' '.join(number_words(int(after[1:])))}"
        return f"{self._root(level)} {self._rng.choice(('', 'and ', 'to '))}{self._root(after)}"

    @staticmethod
    def _root(level: str) -> str:
        return f"{level[0].lower()} {' '.join(number_words(int(level[1:])))}"

    def _command(self, command: Command) -> str:
        parts = [self._rng.choice(choice) for choice in command.all]
        if self._rng.random() < 0.5:
            self._rng.shuffle(parts)
        return " ".join(parts)
