"""Words that are likelier to be a misheard term than themselves.

What was written is weighed against every term that sounds like it, as a noisy channel (Shannon 1948; for spelling
Kernighan, Church and Gale 1990; both from memory): how likely examiners say the one or the other between the words
before and after (`ngrams`), and how far the sounds are apart. This comes last, for words of which the rules made
nothing; what is found is always shown to a person.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate, product

from pipeline.lexicon.pronounce import phones
from pipeline.mend.nearest import Nearest, unlike, ways_to_say
from pipeline.mend.ngrams import GRADE, NAMED, ROOT, Ngrams, kind_of
from pipeline.mend.numbers import Sign
from pipeline.mend.slots import LEFT_OUT, SMALL
from pipeline.mend.sound import Phones, coarse
from pipeline.mend.terms import Term, TermIndex, is_side
from pipeline.mend.tokens import COMMA, Token
from pipeline.mend.words import BE, REPORTING

_PER_PHONE = 8.3
"""What a phone heard for quite another costs, in natural logarithms; chosen on cases at odd positions."""
_LIKELIER = 5.0
"""How much likelier the term must be, in natural logarithms; chosen likewise."""
_FARTHEST, _FARTHEST_OF_MANY = 0.25, 0.2
"""Distances; the second for three words or more."""
_LOOKED_UP = 0.3
"""Distance up to which `LikelyTerms.nearest` finds sayings: farther than any that is taken."""
_LONGEST = 4
_SAYING = REPORTING | frozenset("when if because while who which what how why where unless until whenever".split())
"""Words that say how the rest is meant; no term is heard for them."""
_PERSONS = frozenset(
    "i i'd i'll i'm i've he he'd he'll he's she she'd she'll she's you they we him her them me".split()
)
"""Long names are misheard so ("but tell her clonus"); short findings are not ("saw him")."""
_NEEDING = frozenset("need needs want wants".split())
_THINGS, _MODAL = frozenset("this it that".split()), frozenset("may might will could".split())
_WORTH_A_LOOK = -15.0
"""Where the words as written are likelier than this, no term is looked for."""
_LETTERS = {"C": range(3, 9), "T": range(1, 13), "L": range(1, 6), "S": range(1, 6)}
_NUMBERS = "zero one two three four five six seven eight nine ten eleven twelve".split()
_SIGNS: dict[Sign, tuple[str, ...]] = {"": (), "+": ("plus",), "-": ("minus",)}


@dataclass(frozen=True, slots=True, eq=False)
class Saying:
    """What may have been said: a term, a grade ("four plus") or a root ("L five"). One object each."""

    text: str
    kind: str
    term: Term | None = None
    grade: tuple[int, Sign] | None = None

    @property
    def named(self) -> bool:
        """It names a test."""
        return self.kind.startswith(NAMED)

    @property
    def of_a_side(self) -> bool:
        return self.term is not None and is_side(self.term)


@dataclass(frozen=True, slots=True)
class Likelier:
    """Tokens `start`..`end` (exclusive) were more likely this; `distance` as in `pipeline.mend.sound.distance`."""

    start: int
    end: int
    saying: Saying
    distance: float


@dataclass(frozen=True, slots=True)
class Part:
    """Tokens `start`..`end` (exclusive) as counted in `Ngrams`; `read`: the rules made something of them."""

    start: int
    end: int
    word: str
    read: bool


class _Sayings:
    """All that may be said, by sound, in the form that `Nearest` searches."""

    def __init__(self, index: TermIndex) -> None:
        self._sounds: dict[Saying, tuple[Phones, ...]] = {}
        self.keys: list[str] = []
        self.key_terms: list[Saying] = []
        mended = set(index.key_terms)
        for term in index.terms.values():
            if term in mended:
                self._add(Saying(term.text, kind_of(term, index), term), index.sounds(term))
            elif len(term.words) == 1 and _is_said_alone(term, index):
                self._add(Saying(term.text, kind_of(term, index), term), tuple(phones(term.text)[:2]))
        for value, (sign, words) in product(range(6), _SIGNS.items()):
            if value or not sign:
                grade = Saying(f"{value}{sign}", GRADE, grade=(value, sign))
                self._add(grade, ways_to_say((_NUMBERS[value], *words)))
        for letter, numbers in _LETTERS.items():
            for number in numbers:
                self._add(Saying(f"{letter}{number}", ROOT), ways_to_say((letter.lower(), _NUMBERS[number])))

    def _add(self, saying: Saying, sounds: tuple[Phones, ...]) -> None:
        self._sounds[saying] = sounds
        for key in {coarse(sound) for sound in sounds}:
            self.keys.append(key)
            self.key_terms.append(saying)

    def sounds(self, saying: Saying) -> tuple[Phones, ...]:
        return self._sounds[saying]


class LikelyTerms:
    """Finds them in the words of which nothing was made."""

    def __init__(self, index: TermIndex, ngrams: Ngrams) -> None:
        self._of_the_trade, self._no_terms = index.of_the_trade, index.no_terms
        self._sayings = _Sayings(index)
        self.nearest = Nearest(self._sayings, _LOOKED_UP)
        self._ngrams = ngrams

    def find(self, parts: list[Part], tokens: list[Token], never_alone: frozenset[int]) -> list[Likelier]:
        """`never_alone`: tokens that are no single misheard word ("for", which may be a grade as it is)."""
        words = [part.word for part in parts]
        each = [self._ngrams.likelihood(word, words[max(0, at - 2) : at]) for at, word in enumerate(words)]
        each += [self._ngrams.ends(words[-2:]), 0.0]
        before = [0.0, *accumulate(each)]
        spans: list[tuple[int, int, tuple[str, ...], float]] = []
        for first, last in _unread(parts, tokens, never_alone):
            span = tuple(words[first:last])
            written = before[min(last + 2, len(words) + 1)] - before[first]
            meant = span in self._no_terms or _is_a_clause(span)
            if written < _WORTH_A_LOOK and not meant and self._of_the_trade.isdisjoint(span):
                spans.append((first, last, span, written))
        self.nearest.prepare({span for _, _, span, _ in spans})
        found: list[tuple[float, Likelier]] = []
        for first, last, span, written in spans:
            personal = not _PERSONS.isdisjoint(span)
            stated = len(span) > 1 and not BE.isdisjoint(span)  # "the clips are out" tells no side
            around: dict[str, float] = {}
            farthest = _FARTHEST if len(span) < 3 else _FARTHEST_OF_MANY
            for gap, saying in self.nearest.near(span):
                if gap > farthest or (personal and not saying.named) or (stated and saying.of_a_side):
                    continue
                gap = gap if saying.term is None else unlike(span, gap, saying.term.words)
                if gap > farthest:
                    continue
                if saying.kind not in around:
                    around[saying.kind] = self._between(words, first, last, saying.kind)
                heard = sum(len(next(iter(phones(word)), ())) for word in span)
                size = (heard + len(self._sayings.sounds(saying)[0])) / 2
                likely = around[saying.kind] + self._ngrams.share(saying.kind, saying.text) - _PER_PHONE * gap * size
                if likely - written > _LIKELIER:
                    hit = Likelier(parts[first].start, parts[last - 1].end, saying, gap)
                    found.append((likely - written, hit))
        return _apart(found)

    def _between(self, words: list[str], first: int, last: int, kind: str) -> float:
        """How likely a class stands between the two words before and the two after."""
        row = [*words[max(0, first - 2) : first], kind, *words[last : last + 2]]
        ends = self._ngrams.ends(row[-2:]) if last + 2 > len(words) else 0.0
        return self._ngrams.of(row, min(2, first)) + ends


def _is_a_clause(span: tuple[str, ...]) -> bool:
    """ "He'll need a", "this may tickle": somebody or something, and what it does."""
    return (span[0] in _PERSONS and not _NEEDING.isdisjoint(span[1:2])) or (
        span[0] in _THINGS and not _MODAL.isdisjoint(span[1:2])
    )


def _unread(parts: list[Part], tokens: list[Token], never_alone: frozenset[int]) -> Iterator[tuple[int, int]]:
    """Stretches of at most four words that nothing was made of, within a comma."""
    for first in range(len(parts)):
        for last in range(first + 1, min(first + _LONGEST, len(parts)) + 1):
            part = parts[last - 1]
            if part.read or part.word in _SAYING or not part.word.replace("'", "").isalpha():
                break
            if last - first > 1 and tokens[part.start].boundary >= COMMA:
                break
            alone = last - first == 1
            if last - first == 2 and _likens(parts, first):
                continue
            if (alone and part.start in never_alone) or (
                last - first != 2 and all(one.word in SMALL for one in parts[first:last])
            ):
                continue
            yield first, last


def _likens(parts: list[Part], at: int) -> bool:
    """ "As was the triceps jerk", which sounds like a root; "reduced at as was" is one."""
    return (
        parts[at].word == "as"
        and parts[at + 1].word in BE
        and not (at and parts[at - 1].word in ("at", "from", "to", "over"))
    )


def _apart(found: list[tuple[float, Likelier]]) -> list[Likelier]:
    """The likeliest, none overlapping, in order."""
    taken: set[int] = set()
    kept = []
    for _, hit in sorted(found, key=lambda one: (-one[0], one[1].start, one[1].end)):
        places = range(hit.start, hit.end)
        if taken.isdisjoint(places):
            taken.update(places)
            kept.append(hit)
    return sorted(kept, key=lambda hit: hit.start)


def _is_said_alone(term: Term, index: TermIndex) -> bool:
    """Everyday words that tell a finding, a side or a test."""
    kinds = {meaning.kind for meaning in term.meanings}
    finding = not kinds.isdisjoint(("value", *LEFT_OUT)) and len(term.text) > 3
    return finding or index.names(term) or not kinds.isdisjoint(("side_left", "side_right"))
