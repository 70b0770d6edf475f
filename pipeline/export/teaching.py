"""What a teaching session said: its points, the terms it used, and muscle, nerve and root beside the lexicon."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from pipeline.export.exam import Exam
from pipeline.export.spoken import ShownWord, block_text, shown_words
from pipeline.export.wording import plain
from pipeline.lexicon import Lexicon
from pipeline.lexicon.model import Manoeuvre, Muscle, RootSupply
from pipeline.record.transcript import Talk, Transcript

_NUMBERS = {
    word: str(at) for at, word in enumerate("one two three four five six seven eight nine ten eleven twelve".split(), 1)
}
_HIGHEST = {"C": 8, "T": 12, "L": 5, "S": 5}
_LONGEST_NAME = 6


@dataclass(frozen=True)
class Point:
    """Teaching talk without a break. Times in seconds."""

    start: float
    end: float
    text: str


@dataclass(frozen=True)
class Mention:
    """A name of the lexicon in the talk: `kind` is manoeuvre, muscle or nerve. Times in seconds."""

    kind: str
    id: str
    name: str
    start: float
    block: int
    at: int


@dataclass(frozen=True)
class Term:
    """An entry of the index: a name and all times at which it was said, in seconds."""

    name: str
    kind: str
    times: tuple[float, ...]


@dataclass(frozen=True)
class Taught:
    """What was said of a muscle's or movement's supply, beside what the lexicon holds. Times in seconds.

    `disagreements` says in words where the two differ; empty where what was said is in the lexicon.
    """

    subject: str
    times: tuple[float, ...]
    said_nerve: str | None
    said_roots: tuple[str, ...]
    nerve: str | None
    roots: tuple[RootSupply, ...]
    sources: tuple[str, ...]
    disagreements: tuple[str, ...]


class Names:
    """Finds the names of manoeuvres, muscles and nerves in shown words, the longest name first."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._names: dict[tuple[str, ...], tuple[str, str, str]] = {}
        entries: list[tuple[str, Iterable[Manoeuvre | Muscle]]] = [
            ("manoeuvre", lexicon.manoeuvres),
            ("muscle", lexicon.muscles),
        ]
        for kind, group in entries:
            for entry in group:
                for name in entry.names:
                    self._names.setdefault(_key(name), (kind, entry.id, plain(entry.id)))
        for nerve in lexicon.nerves:
            for name in nerve.names:
                self._names.setdefault(_key(name), ("nerve", nerve.id, nerve.names[0]))

    def find(self, words: Sequence[ShownWord]) -> list[Mention]:
        keys = [_bare(word.text) for word in words]
        found, at = [], 0
        while at < len(words):
            size = next((size for size in range(_LONGEST_NAME, 0, -1) if tuple(keys[at : at + size]) in self._names), 0)
            if size:
                kind, entry, name = self._names[tuple(keys[at : at + size])]
                found.append(Mention(kind, entry, name, words[at].start, words[at].block, at))
            at += size or 1
        return found


def points(transcript: Transcript) -> list[Point]:
    """Teaching talk, a point for each stretch that nothing else interrupts."""
    found = []
    for kind, run in groupby(transcript.blocks, key=lambda block: block.kind):
        blocks = list(run)
        text = " ".join(filter(None, map(block_text, blocks)))
        if kind is Talk.TEACHING and text:
            found.append(Point(blocks[0].start, blocks[-1].end, text))
    return found


def index(transcript: Transcript, lexicon: Lexicon) -> list[Term]:
    """All names of the lexicon that were said, in alphabetical order, with their times."""
    times: dict[tuple[str, str], list[float]] = {}
    for mention in Names(lexicon).find(shown_words(transcript)):
        times.setdefault((mention.name, mention.kind), []).append(mention.start)
    return [Term(name, kind, tuple(found)) for (name, kind), found in sorted(times.items())]


def taught(exam: Exam, lexicon: Lexicon) -> list[Taught]:
    """Supply as said, in results (their roots, muscle and nerve) and in teaching, beside the lexicon's."""
    said: dict[tuple[str, str | None, tuple[str, ...]], list[float]] = {}
    for row in exam.record.rows:
        if row.roots or row.nerve:
            time = row.evidence[0].start if row.evidence else 0.0
            said.setdefault((row.muscle or row.manoeuvre, row.nerve, tuple(row.roots)), []).append(time)
    words = [word for word in shown_words(exam.transcript) if word.kind is Talk.TEACHING]
    for _, run in groupby(Names(lexicon).find(words), key=lambda mention: mention.block):
        for subject, nerve, until in _subjects(list(run), words):
            roots = said_roots(" ".join(word.text for word in words[subject.at : until]))
            if nerve or roots:
                said.setdefault((subject.id, nerve, tuple(roots)), []).append(subject.start)
    found = [_beside(lexicon, *what, tuple(sorted(times))) for what, times in said.items()]
    return sorted((one for one in found if one), key=lambda one: one.times)


def _subjects(mentions: list[Mention], words: list[ShownWord]) -> list[tuple[Mention, str | None, int]]:
    """Muscles and movements of one block, each with its nerve and the end of the talk about it.

    The nerve is the one named next ("quadriceps is femoral"), else the one named just before, where no other took it.
    """
    end = max(at for at, word in enumerate(words) if word.block == mentions[0].block) + 1
    found: list[tuple[Mention, str | None, int]] = []
    nerve, at = None, 0
    while at < len(mentions):
        mention, at = mentions[at], at + 1
        if mention.kind == "nerve":
            nerve = mention.id
            continue
        if at < len(mentions) and mentions[at].kind == "nerve":
            nerve, at = mentions[at].id, at + 1
        found.append((mention, nerve, mentions[at].at if at < len(mentions) else end))
        nerve = None
    return found


def said_roots(text: str) -> list[str]:
    """Roots in shown words: "L4, L5", "L four five", "S 1 and 2"."""
    words = re.findall(r"[a-z']+|\d+", text.lower())
    roots: list[str] = []
    letter = ""
    for at, word in enumerate(words):
        number = _NUMBERS.get(word, word)
        if (
            word in ("c", "t", "l", "s")
            and at + 1 < len(words)
            and _NUMBERS.get(words[at + 1], words[at + 1]).isdigit()
        ):
            letter = word.upper()
        elif letter and number.isdigit():
            # "L45" is heard for "L four five".
            digits = [number] if int(number) <= _HIGHEST[letter] else list(number)
            if any(not 1 <= int(digit) <= _HIGHEST[letter] for digit in digits):
                letter = ""
                continue
            roots += [letter + digit for digit in digits]
        elif word not in ("and", "to"):
            letter = ""
    return list(dict.fromkeys(roots))


def _beside(
    lexicon: Lexicon, subject: str, nerve: str | None, roots: tuple[str, ...], times: tuple[float, ...]
) -> Taught | None:
    """What was said of `subject` (a muscle's or manoeuvre's id) beside the lexicon; None for one it does not hold."""
    muscle = next((one for one in lexicon.muscles if one.id == subject), None)
    manoeuvre = next((one for one in lexicon.manoeuvres if one.id == subject), None)
    entry = muscle or manoeuvre
    if entry is None:
        return None
    names = {one.id: one.names[0] for one in lexicon.nerves}
    nerves = {muscle.nerve} if muscle else {one.nerve for one in lexicon.muscles if one.manoeuvre == subject}
    held = {supply.root for supply in entry.roots}
    disagreements = []
    if held and (other := [root for root in roots if root not in held]):
        disagreements.append(f"the lexicon does not name {' or '.join(other)}")
    if nerve and nerves and nerve not in nerves:
        disagreements.append(f"the lexicon names the {' and the '.join(sorted(names[one] for one in nerves))}")
    return Taught(
        subject=plain(subject),
        times=times,
        said_nerve=names.get(nerve, plain(nerve)) if nerve else None,
        said_roots=roots,
        nerve=", ".join(sorted(names[one] for one in nerves)) or None,
        roots=tuple(entry.roots),
        sources=tuple(dict.fromkeys([*(supply.source for supply in entry.roots), entry.source])),
        disagreements=tuple(disagreements),
    )


def _key(name: str) -> tuple[str, ...]:
    return tuple(map(_bare, name.split()))


def _bare(word: str) -> str:
    return word.lower().strip(".,;:?!\"'()")
