"""Everyday findings and grades that were misheard, where a statement leaves nothing else to say.

"Intact" and "sustained" are everyday words, and so are what recognisers write for them ("in fact", "stained"): sound
alone does not tell that something else was said. But after the name of a test, with a side, a place or the end of the
statement behind, only a finding can stand. What is mended here is always shown to a person.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from wordfreq import zipf_frequency

from pipeline.lexicon.pronounce import phones
from pipeline.mend.numbers import Number
from pipeline.mend.sound import Phones, distance, nearest
from pipeline.mend.terms import Term, TermIndex
from pipeline.mend.tokens import CLAUSE_MARK, COMMA, Token, closes

_FARTHEST, _FARTHEST_SHORT = 0.2, 0.12
_SHORT = 5
"""Phonemes; findings of no more must sound nearly the same."""
_LONGEST = 2
_MOST_DROPPED = 2
"""Phonemes that one may have more than the other."""
_ANOTHER = 0.08
"""Where a finding that says something else sounds so nearly as like, nobody knows which was said."""
LEFT_OUT = frozenset({"not_done", "declined", "deferred"})
_ANY = ""
"""What stands for the scale of words that any test may have been left out with."""
_JOINING = frozenset(
    "is are was were on in at the both his her that's it's still just test testing sign response".split()
)
_GOING_ON = frozenset("and but while".split())
"""What joins another finding to the first."""
_FOLLOWING = frozenset("on in at over from to both and bilaterally but with".split())
SMALL = frozenset(
    """a an and are as at be but by for from had has have he her here his i if in is it its just like me my no not now
        of on or she so some still than that the then there they this to too up us was we were what when where which
        who will with would yes you your""".split()
)


@dataclass(frozen=True, slots=True)
class _Finding:
    term: Term
    values: frozenset[str]
    sounds: tuple[Phones, ...]


@dataclass(frozen=True, slots=True)
class Slot:
    """Tokens `start`..`end` (exclusive) stand for a finding, a name or a side that sounds so far from them."""

    start: int
    end: int
    term: Term
    distance: float


def misheard_grades(
    index: TermIndex,
    tokens: list[Token],
    names: Iterable[tuple[int, Term]],
    taken: list[bool],
    where: dict[int, int],
    starts: frozenset[int],
) -> list[Number]:
    """The grades that single words stand for, where after the name of a test only its grade can be said.

    `starts`: where the names of tests begin; the others as for `Slots.find`.
    """
    found: list[Number] = []
    for at, name in names:
        if index.scales(name).isdisjoint(_GRADED):
            continue
        while at < len(tokens) and tokens[at].boundary < CLAUSE_MARK:
            if at not in where and (taken[at] or tokens[at].text not in _JOINING):
                closes = at + 1 in starts or _closes(tokens, at + 1, where)
                grade = None if taken[at] or not closes else grade_like(tokens[at].text)
                if grade and all(at != other.start for other in found):
                    found.append(Number(at, at + 1, grade[0], "", "grade", unlike=grade[1]))
                break
            at = where.get(at) or at + 1
    return found


def grade_like(word: str, limit: float | None = None) -> tuple[int, float] | None:
    """The grade that a word sounds like, and how far, if no other sounds nearly as like."""
    common = zipf_frequency(word, "en") >= _COMMON
    limit = limit or (_LIKE_COMMON if common else _LIKE_A_GRADE)
    if not word.isalpha() or word in SMALL:
        return None
    heard = phones(word)
    gaps = sorted((nearest(heard, sounds), grade) for grade, sounds in _GRADES.items())
    (gap, grade), (other, _) = gaps[:2]
    return (grade, gap) if gap <= limit and other - gap >= _ANOTHER else None


_GRADES = {grade: phones(word) for grade, word in enumerate("zero one two three four five".split())}
_COMMON = 4.3
"""Zipf frequency of words that may well be meant."""
_LIKE_A_GRADE, _LIKE_COMMON = 0.2, 0.06
_GRADED = frozenset({"mrc", "reflex"})


class Slots:
    """Finds the places where a finding must stand, and the finding."""

    def __init__(self, index: TermIndex) -> None:
        self._index = index
        self._findings: dict[str, list[_Finding]] = defaultdict(list)
        for term in index.terms.values():
            said: dict[str, set[str]] = defaultdict(set)
            for meaning in term.meanings:
                if meaning.kind == "value":
                    scale, value = meaning.id.split(":", 1)
                    said[scale].add(value)
                elif meaning.kind in LEFT_OUT:
                    said[_ANY].add(meaning.kind)
            if len(term.words) == 1 and len(term.text) > 3:
                sounds = tuple(phones(term.text)[:2])
                for scale, values in said.items():
                    self._findings[scale].append(_Finding(term, frozenset(values), sounds))

    def find(
        self,
        tokens: list[Token],
        names: Iterable[tuple[int, Term]],
        taken: list[bool],
        where: dict[int, int],
        values: dict[int, int],
    ) -> list[Slot]:
        """`names`: the tests, by where they end; `taken`: tokens that something was made of; `where`: sides, places and
        roots, start to end; `values`: findings and grades, likewise."""
        found: list[Slot] = []
        for at, name in names:
            slot, told = None, False
            while slot is None and at < len(tokens) and tokens[at].boundary < CLAUSE_MARK:
                told = told or at in values  # "normal on the left, halted on the right"
                joins = not taken[at] and (tokens[at].text in _JOINING or (told and tokens[at].text in _GOING_ON))
                here = at not in where and at not in values
                scales = (*self._index.scales(name), *(() if told else (_ANY,)))
                slot = self._at(tokens, at, scales, taken, where) if here else None
                if here and not joins:
                    break
                at = where.get(at) or values.get(at) or at + 1
            found += [slot] if slot and all(slot.start != other.start for other in found) else []
        return found

    def _at(
        self, tokens: list[Token], start: int, scales: tuple[str, ...], taken: list[bool], where: dict[int, int]
    ) -> Slot | None:
        heard: list[tuple[float, int, _Finding]] = []
        for end in range(start + 1, min(start + _LONGEST, len(tokens)) + 1):
            if taken[end - 1] or (end - start > 1 and tokens[end - 1].boundary >= COMMA):
                break
            words = [token.text for token in tokens[start:end]]
            telling = [word for word in words if word not in SMALL]
            alone = not telling or any(word in self._index.left_alone for word in telling)
            if alone or not all(word.replace("'", "").isalpha() for word in words) or not _closes(tokens, end, where):
                continue
            sound = tuple(phone for word in words for phone in next(iter(phones(word)), ()))
            for scale in scales:
                for finding in self._findings[scale]:
                    alike = (said for said in finding.sounds if abs(len(said) - len(sound)) <= _MOST_DROPPED)
                    heard += [(distance(sound, said), end, finding) for said in alike]
        if not heard:
            return None
        gap, end, best = min(heard, key=lambda one: one[0])
        limit = _FARTHEST if len(best.sounds[0]) > _SHORT and best.values.isdisjoint(LEFT_OUT) else _FARTHEST_SHORT
        if gap > limit or any(far < gap + _ANOTHER and not other.values & best.values for far, _, other in heard):
            return None
        return Slot(start, end, best.term, gap)


def short_names(
    index: TermIndex,
    tokens: list[Token],
    taken: list[bool],
    values: dict[int, Term],
    limbs: set[int],
    where: dict[int, int],
) -> list[Slot]:
    """Two short names told by their place, for they sound like everyday words ("stone is reduced in both arms", "ten
    normal on the left").

    `values`: findings by where they start; `limbs`: where limbs are named; `where`: as for `Slots.find`.
    """
    found: list[Slot] = []
    for start, value in values.items():
        at = start - 1 - (start > 1 and not taken[start - 1] and tokens[start - 1].text in _STATING)
        if at < 0 or taken[at] or not tokens[at].text.isalpha():
            continue
        opens = tokens[at].boundary >= COMMA or at == 0 or taken[at - 1]
        close = all(token.boundary < COMMA for token in tokens[at + 1 : start + 1])
        scales = {meaning.id.split(":")[0] for meaning in value.meanings if meaning.kind == "value"}
        end = start + len(value.words)
        of_limb = any(place in limbs for place in range(end, min(end + _TO_A_LIMB, len(tokens))))
        ends = closes(tokens, end)
        for name, fits, limit in (
            ("tone", of_limb, _LIKE_TONE),
            ("tone", ends or end in where or tokens[end].text in _FOLLOWING, _JUST_LIKE_TONE),
            ("gait", ends, _LIKE_GAIT),
        ):
            term = index.terms.get((name,))
            if term is None or not ((opens or of_limb) and close and fits) or scales.isdisjoint(index.scales(term)):
                continue
            gap = nearest(phones(tokens[at].text), phones(name))
            if gap <= (limit if opens else min(limit, _JUST_LIKE_TONE)) and all(slot.start != at for slot in found):
                found.append(Slot(at, at + 1, term, gap))
    return found


def beside_wasting(
    index: TermIndex, tokens: list[Token], names: Iterable[tuple[int, Term]], taken: list[bool], where: dict[int, int]
) -> list[Slot]:
    """Fasciculation, looked for with wasting: "no wasting and no fascist nations", "no wasting in the left leg, but
    there are fashion stations".
    """
    found: list[Slot] = []
    for at, name in names:
        joined = False
        while any(meaning.id == "wasting" for meaning in name.meanings) and at < len(tokens):
            if at not in where and (taken[at] or tokens[at].text not in (*_LOOKED_FOR, "in", "on", "the")):
                slot = _fasciculation(index, tokens, at, taken, where) if joined else None
                found += [slot] if slot and all(slot.start != other.start for other in found) else []
                break
            joined = joined or tokens[at].text in _LOOKED_FOR
            at = where.get(at) or at + 1
    return found


def _fasciculation(
    index: TermIndex, tokens: list[Token], start: int, taken: list[bool], where: dict[int, int]
) -> Slot | None:
    """The words from `start` to a noun in "-tion", where they sound enough like fasciculation to be nothing else."""
    for end in range(start + 1, min(start + _LONGEST_MADE_OUT, len(tokens)) + 1):
        words = [token.text for token in tokens[start:end]]
        if (
            taken[end - 1]
            or not words[-1].isalpha()
            or any(token.boundary >= COMMA for token in tokens[start + 1 : end])
        ):
            return None
        if words[-1].endswith(("tion", "tions")):
            term = index.terms.get(("fasciculations" if words[-1].endswith("s") else "fasciculation",))
            heard = next(iter(phones(" ".join(words))), ())
            if term is None or heard[:1] not in _LIP_ON_TEETH or not _closes(tokens, end, where):
                return None
            gap = nearest([heard], phones(term.text))
            return Slot(start, end, term, gap) if gap <= _LIKE_FASCICULATION else None
    return None


_LOOKED_FOR = frozenset("and or nor no any but there are there's is some".split())
"""What stands between wasting and what else was looked for."""
_LONGEST_MADE_OUT = 3
_LIP_ON_TEETH = (("F",), ("V",))
_LIKE_FASCICULATION = 0.27
_STATING = frozenset("is was 's".split())
_TO_A_LIMB = 4
"""Most tokens from a finding to the limb that it was found in."""
_LIKE_TONE, _JUST_LIKE_TONE, _LIKE_GAIT = 0.24, 0.11, 0.06


def _closes(tokens: list[Token], end: int, where: dict[int, int]) -> bool:
    """A statement may end here, or go on with a side or a place."""
    return closes(tokens, end) or end in where or tokens[end].text in _FOLLOWING
