"""The lexicon as a searchable set of terms: exact by words, near by sound."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import product

from wordfreq import zipf_frequency

from pipeline.lexicon.model import Lexicon
from pipeline.lexicon.pronounce import phones
from pipeline.mend.sound import Phones, coarse

MENDED_PHRASES = frozenset({"throughout", "side_both", "section_power", "section_reflexes", "section_sensation"})
"""Phrase kinds whose mishearings are mended; all others must be heard as written."""
_STRUCTURAL = (
    "side_",
    "region_",
    "section_",
    "group_",
    "throughout",
    "weakness",
    "same",
    "mirror",
    "rest",
    "except",
    "repair",
    "remove",
    "other_test",
    "swap_sides",
    "not_done",
)
"""Phrase kinds that are parts of a result; the others are cues for the kind of talk (`pipeline.understand.cues`)."""
_REASONS = ("unable", "pain", "declined", "deferred")
_MAX_VARIANTS = 6
_LONG_WORD, _OF_THE_TRADE = 8, 3.4
"""Letters, and Zipf frequency."""
_VOICELESS = frozenset({"P", "T", "K", "F", "TH"})
_PARTS = frozenset("foot hand".split())
"""Parts heard right that name no test with the movement after them."""
_HISSING = frozenset({"S", "Z", "SH", "ZH", "CH", "JH"})


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a term can stand for: `kind` is `manoeuvre`, `muscle`, `nerve`, `site`, `value` or a phrase kind.

    `id` is the identifier in the lexicon, for a value "scale:value". `section` limits the meaning to that part of the
    examination.
    """

    kind: str
    id: str
    section: str | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Term:
    """A phrase of the lexicon with everything it can mean; there is one object for each phrase, so identity is
    equality.

    `numbers` are those of its meanings within the index: two terms share a meaning where they share a number.
    """

    words: tuple[str, ...]
    meanings: tuple[Meaning, ...]
    numbers: frozenset[int] = frozenset()
    text: str = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "text", " ".join(self.words))


SORTS = tuple(
    """obvious definite clear real significant apparent appreciable convincing demonstrable detectable discernible
        evident frank objective overt visible noticeable""".split()
)
"""What a finding is called that there is none of."""


class TermIndex:
    """All terms of a lexicon; built once, read only."""

    def __init__(self, lexicon: Lexicon) -> None:
        meanings: dict[tuple[str, ...], dict[Meaning, None]] = defaultdict(dict)
        as_written: set[tuple[str, ...]] = set()  # these are never made out of misheard words

        def add(name: str, meaning: Meaning) -> None:
            words = name.replace("-", " ").split()
            meanings[tuple(word.lower() for word in words)][meaning] = None
            if any(word.isupper() and len(word) > 1 for word in words):  # "E H L": said, and written, letter by letter
                spelled = (letter for word in words for letter in (word if word.isupper() else [word]))
                meanings[tuple(letter.lower() for letter in spelled)][meaning] = None

        for manoeuvre in lexicon.manoeuvres:
            for name in manoeuvre.names:
                add(name, Meaning("manoeuvre", manoeuvre.id))
            for name in manoeuvre.section_names:
                add(name, Meaning("manoeuvre", manoeuvre.id, manoeuvre.section))
        for muscle in lexicon.muscles:
            for name in muscle.names:
                add(name, Meaning("muscle", muscle.id))
        for nerve in lexicon.nerves:
            for name in nerve.names:
                add(name, Meaning("nerve", nerve.id))
        for site in lexicon.sites:
            for name in site.names:
                add(name, Meaning("site", site.id))
        for dermatome in lexicon.dermatomes:
            for name in dermatome.names:
                add(name, Meaning("site", dermatome.id))
        for scale in lexicon.scales:
            for value in scale.values:
                for name in value.say:
                    add(name, Meaning("value", f"{scale.id}:{value.value}"))
                    for denied in _denied_in_any_sort(name):
                        add(denied, Meaning("value", f"{scale.id}:{value.value}"))
                        as_written.add(tuple(denied.split()))
        for kind, names in lexicon.phrases.items():
            if kind == "leave" or kind.startswith(_STRUCTURAL):
                for name in names:
                    add(name, Meaning(kind, kind))
        number: dict[Meaning, int] = {}
        self.terms = {
            words: Term(words, tuple(found), frozenset(number.setdefault(meaning, len(number)) for meaning in found))
            for words, found in meanings.items()
        }
        self.longest = max(map(len, self.terms))
        sizes: dict[str, set[int]] = defaultdict(set)
        for words in self.terms:
            sizes[words[0]].add(len(words))
        self._sizes = {first: sorted(found, reverse=True) for first, found in sizes.items()}
        kept = ("leave", "reaction", "general", "modal", "hypothetical")
        said = {word for kind in kept for name in lexicon.phrases.get(kind, ()) for word in name.split()}
        self.no_terms = frozenset(tuple(name.split()) for name in lexicon.phrases.get("leave", ()))
        reasons = [name for kind in _REASONS for name in lexicon.phrases.get(kind, ())]
        self.reasons = frozenset(name for name in reasons if " " not in name)
        rare = {word for name in reasons for word in name.split() if zipf_frequency(word, "en") < 5.0}
        self.left_alone = frozenset(said | rare)
        self.times = frozenset(tuple(name.split()) for name in lexicon.phrases.get("history", ()) if " " in name)
        # "Dermatome": nobody says it who does not mean it.
        self.of_the_trade = frozenset(
            word for word in self.left_alone if len(word) >= _LONG_WORD and zipf_frequency(word, "en") < _OF_THE_TRADE
        )
        asked = (words for one in lexicon.manoeuvres for command in one.commands for words in command.all)
        self.ordered = frozenset(word for words in asked for word in words if " " not in word)
        self.parts = _interchanged(self.terms)
        self.seconds = frozenset(
            words[1:] for words in self.terms if len(words) == 2 and zipf_frequency(words[1], "en") < 4
        )
        moved = {muscle.id: muscle.manoeuvre for muscle in lexicon.muscles}
        self._moved = {
            term: frozenset(moved.get(m.id, m.id) for m in term.meanings if m.kind in ("manoeuvre", "muscle"))
            for term in self.terms.values()
        }
        scale_of = {manoeuvre.id: manoeuvre.scale for manoeuvre in lexicon.manoeuvres}
        self._scales = {term: frozenset(map(scale_of.__getitem__, moves)) for term, moves in self._moved.items()}
        shared = Counter(scale_of.values())
        self.single_scales = frozenset(scale for scale, count in shared.items() if count == 1)
        opposite = {manoeuvre.id: manoeuvre.opposite for manoeuvre in lexicon.manoeuvres}
        self._reversed = {
            term: frozenset(opposite[one] for one in moves if opposite.get(one)) for term, moves in self._moved.items()
        }
        self.pieces = frozenset(
            word for words in self.terms if len(words) > 1 for word in words if zipf_frequency(word, "en") < 3.4
        )
        self._sounds: dict[Term, tuple[Phones, ...]] = {}
        self.keys: list[str] = []
        self.key_terms: list[Term] = []
        for term in self.terms.values():
            if (
                term.words not in as_written
                and not _is_left_alone(term)
                and any(_is_mended(meaning, term) for meaning in term.meanings)
            ):
                self._add_sounds(term)

    def opposed(self, first: Term, second: Term) -> bool:
        """The terms name opposite movements ("inversion" and "eversion")."""
        return not self._reversed[first].isdisjoint(self._moved[second])

    def same_test(self, first: Term, second: Term) -> bool:
        """The terms can name the same movement or reflex, in whatever part of the examination ("hallux")."""
        return not self._moved[first].isdisjoint(self._moved[second])

    def has_opposite(self, term: Term) -> bool:
        """The term names a movement that has an opposite ("inversion")."""
        return bool(self._reversed[term])

    def opposite(self, term: Term) -> Term | None:
        """The shortest name of the opposite movement."""
        found = (other for other in self.terms.values() if self.opposed(term, other)) if self.has_opposite(term) else ()
        return min(found, key=lambda other: (len(other.words), len(other.text)), default=None)

    def is_part(self, word: str) -> bool:
        """A part of the body of which several movements or reflexes are named ("ankle")."""
        return word in self.parts

    def goes_with(self, part: str, term: Term) -> bool:
        """The name is said with this part of the body as well ("ankle dorsiflexion")."""
        return (part, *term.words) in self.terms

    def changes_part(self, heard: tuple[str, ...], term: Term) -> bool:
        """Another part of the body was heard than the term names ("knee" in a span taken for "hip extension")."""
        if heard[-1] == term.words[-1] and len(term.words) > 1 and heard[0] in _PARTS and heard[0] != term.words[0]:
            return True  # "foot extension" is none of the thigh
        named = {word.removesuffix("s") for word in self.parts.intersection(term.words[:-1])}
        said = {word.removesuffix("s") for word in self.parts.intersection(heard)}
        # "Breaky oh radial is jerk": a piece of the longer word
        return bool(named and said) and not any(part in name for part, name in product(said, named))

    def exact(self, words: list[str], start: int) -> list[Term]:
        """Terms that begin at `start`, longest first."""
        return [
            term
            for size in self._sizes.get(words[start], ())
            if start + size <= len(words) and (term := self.terms.get(tuple(words[start : start + size]))) is not None
        ]

    def scales(self, term: Term) -> frozenset[str]:
        """Scales of the manoeuvres that the term can name; empty for a term that names none."""
        return self._scales[term]

    def names(self, term: Term) -> bool:
        """The term names a manoeuvre or muscle."""
        return bool(self._scales[term])

    def sounds(self, term: Term) -> tuple[Phones, ...]:
        return self._sounds[term]

    def _add_sounds(self, term: Term) -> None:
        variants = [phones(word)[:3] for word in term.words]
        sounds = tuple(
            tuple(phone for part in parts for phone in part) for parts in list(product(*variants))[:_MAX_VARIANTS]
        )
        many = (f"{term.text}s",) in self.terms
        own = self.names(term) and not (many or self.has_opposite(term))
        if len(term.words) == 1 and own and sounds[0][-1] not in _HISSING:
            sounds += tuple((*sound, "S" if sound[-1] in _VOICELESS else "Z") for sound in sounds)  # "gait's impaired"
        self._sounds[term] = sounds
        for key in {coarse(sound) for sound in sounds}:
            self.keys.append(key)
            self.key_terms.append(term)


def _denied_in_any_sort(name: str) -> list[str]:
    """ "No obvious loss", "no definite weakness" for "no loss", "no weakness"."""
    denial, _, finding = name.partition(" ")
    return [f"no {sort} {finding}" for sort in SORTS] if denial == "no" and finding else []


@lru_cache(maxsize=10_000)
def is_side(term: Term) -> bool:
    """The term says a side ("left leg", "bilaterally")."""
    return any(meaning.kind.startswith("side_") for meaning in term.meanings)


def _interchanged(terms: Iterable[tuple[str, ...]]) -> frozenset[str]:
    """First words that exchange one for the other before the same word in many terms: "hip", "knee", "ankle"."""
    firsts: dict[str, set[str]] = defaultdict(set)
    for words in terms:
        if len(words) == 2:
            firsts[words[1]].add(words[0])
    counts = Counter(first for found in firsts.values() if len(found) >= 3 for first in found)
    return frozenset(first for first, count in counts.items() if count >= 3 and zipf_frequency(first, "en") < 5.2)


def _is_mended(meaning: Meaning, term: Term) -> bool:
    """Terms of the trade are mended; phrases of everyday words that only sometimes belong to it are not."""
    if meaning.kind in ("manoeuvre", "muscle"):
        return meaning.section is None or _is_rare(term, 4.3)
    if meaning.kind == "leave":
        return _is_rare(term) and len(term.text) > 7
    if meaning.kind in ("nerve", "site", "value") or meaning.kind in MENDED_PHRASES:
        return _is_rare(term)
    return False


def _is_left_alone(term: Term) -> bool:
    """ "Flickers": a grade in an everyday verb, which is heard right or not at all."""
    return any(meaning.kind == "leave" for meaning in term.meanings) and any(
        meaning.id.startswith("mrc:") for meaning in term.meanings
    )


def _is_rare(term: Term, below: float = 3.4) -> bool:
    return min(zipf_frequency(word, "en") for word in term.words) < below and len(term.text) > 5
