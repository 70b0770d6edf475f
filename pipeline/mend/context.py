"""What stands around a span of words: how much speaks for a term there, and for which."""

from __future__ import annotations

from pipeline.mend.matches import Match
from pipeline.mend.numbers import Number, Roots
from pipeline.mend.terms import Term, TermIndex
from pipeline.mend.tokens import Token

_SHORTLY = 8
"""Tokens within which a test that was named is still spoken of."""
FUNCTION = frozenset(
    """the a an and or of is are was were on in at to for with his her he she it i you we they that this
        there not no but so that's it's there's here's what's let's he's she's i'm i'd i'll we're we'll
        you're my your has have had be been as by from if then than when what which who""".split()
)
_OF_GROUPS = {"group_power": "mrc", "group_reflexes": "reflex", "group_sensation": "sensation"}
DENIED = frozenset({"presence", "clonus"})
_NEVER_ATTRIBUTIVE = frozenset("nothing gone none lost down up there lax stable".split())
GRADED = frozenset({"mrc", "reflex", "tone", "clonus", "nerve_tension"})
_SMALL_BEFORE = frozenset("the his her of any now a or and in at on both is are".split())
SENTENCE = 1.6
_OF_COURSE = [[word] for word in "obviously clearly unfortunately sadly naturally understandably today".split()]
PUT_OFF = frozenset("deferred declined refused omitted untested likewise".split())
LIMBS = frozenset("legs arms feet".split())
JOINTS = frozenset("ankle knee hip toe wrist elbow shoulder finger thumb".split())
_BEFORE_PLACES = frozenset("the his her both left right either".split())
BEST_FIT = 0.18
"""The most that `Context.fit` gives."""
_NAMED_BY = frozenset("nerve muscle sign reflex jerk jerks reflexes tendon root lesion palsy patch territory".split())
"""Words that follow a name of the trade."""
_BEFORE_NAMES = frozenset("no without nor grade there's has shows".split())
_OF_A_MUSCLE = frozenset("wasting weakness power strength atrophy bulk tone fasciculation fasciculations".split())
"""Findings that are said "of" something; what follows names it."""
NUMBER_WORDS = frozenset("zero one two three four five for to too".split())
_SMALL_AFTER = frozenset(
    """that's it's i'd call that say maybe only graded very really is are was were 's at in the now about
        only just here looks seems feels also both on""".split()
)


class Context:
    """What stands around a span: grades, sides, negations and values make a term likely there."""

    def __init__(
        self, index: TermIndex, tokens: list[Token], exact: list[Match], numbers: list[Number], roots: list[Roots]
    ) -> None:
        size = len(tokens)
        self._single = index.single_scales
        self._index = index
        self._words = [token.text for token in tokens]
        self._boundary = [token.boundary for token in tokens]
        self.graded = [False] * size
        for number in numbers:
            if (
                number.explicit
                or number.unit != "grade"
                or number.end - number.start > 1
                or tokens[number.start].text.isdigit()
            ):
                self.graded[number.start : number.end] = [True] * (number.end - number.start)
        self.counted = {n.start for n in numbers if n.unit == "count" and self._words[n.start].isalpha()}
        subjects = [
            m for m in exact if any(k.kind in ("manoeuvre", "muscle") and k.section is None for k in m.term.meanings)
        ]
        self._subject_starts = {m.start for m in subjects}
        self._subject_ends = {m.end for m in subjects}
        results = [n for n in numbers if n.unit != "count" and (n.explicit or not n.homophone)]  # "for minus"
        self._grade_starts = {number.start for number in results}
        self._grade_ends = {number.end for number in results}
        self._root_starts = {r.start for r in roots}
        self._roots_at = {r.start: r.end for r in roots}
        self._value_ends: set[int] = set()
        self._homophones = {n.start for n in numbers if n.homophone and not n.explicit}
        self._root_ends = {r.end for r in roots}
        self._values_at: dict[int, set[str]] = {}
        self._values_before: dict[int, set[str]] = {}
        self._attributive: set[int] = set()
        self._side_starts: set[int] = set()
        self._side_ends: set[int] = set()
        # "Both great toes annual tone", "the biceps, break your radio alice": what stands before is whole.
        self._whole_ends = {
            m.end for m in exact if len(m.term.words) > 1 or any(k.kind == "muscle" for k in m.term.meanings)
        }
        self._written = {at for m in exact if not m.mended for at in range(m.start, m.end)}
        self._sensory_starts = {m.start for m in exact if not m.mended and "sensation" in index.scales(m.term)}
        self._denied_ends = {m.end for m in exact if index.scales(m.term) & DENIED}
        self._sides_at: dict[int, int] = {}
        self._site_starts: set[int] = set()
        self._left_out = {m.start for m in exact if any(k.kind == "not_done" for k in m.term.meanings)}
        self._plantars = {
            m.end for m in exact if any(k.id == "plantar_response" and k.section is None for k in m.term.meanings)
        }
        self._size = size
        for match in exact:
            for meaning in match.term.meanings:
                if meaning.kind == "value" and match.term.text not in _NEVER_ATTRIBUTIVE:
                    self._attributive.add(match.end)
                if meaning.kind == "value":
                    self._value_ends.add(match.end)
                if meaning.kind == "value":
                    scale = meaning.id.split(":")[0]
                    self._values_at.setdefault(match.start, set()).add(scale)
                    self._values_before.setdefault(match.end, set()).add(scale)
                elif meaning.kind in ("side_left", "side_right", "side_both"):
                    self._side_starts.add(match.start)
                    self._side_ends.add(match.end)
                    self._sides_at[match.start] = max(match.end, self._sides_at.get(match.start, 0))
                elif meaning.kind == "site":
                    self._site_starts.add(match.start)
        self._found_after: dict[int, float] = {}
        self._found_before: dict[int, tuple[float, float, bool]] = {}
        self._next_at = self._without_small_words()
        self._after_plantar = self._shortly_after_plantars()

    def _without_small_words(self) -> list[int]:
        """For each token, and the end, the first from there on that is not a copula or other small word."""
        found = list(range(self._size + 1))
        for at in range(self._size - 1, -1, -1):
            if self._words[at] in _SMALL_AFTER and self._boundary[at] < 1:
                found[at] = found[at + 1]
        return found

    def _shortly_after_plantars(self) -> list[bool]:
        """For each token whether the plantar response was named shortly before, in the same sentence."""
        found = []
        last: int | None = None
        for at in range(self._size):
            if self._boundary[at] >= SENTENCE:
                last = None
            elif at in self._plantars:
                last = at
            found.append(last is not None and at - last < _SHORTLY)
        return found

    def _next(self, end: int) -> int:
        """The first token from `end` on that is not a copula or other small word."""
        return self._next_at[end]

    def ends_before_grade(self, end: int) -> bool:
        """ "tibia and four plus": a small word may be the end of a misheard name where a grade follows at once."""
        return end in self._grade_starts

    def after_name(self, start: int) -> bool:
        """ "Extension five": a number right after a name is its grade."""
        return start in self._subject_ends and self._boundary[start] < 0.5

    def ends_before_result(self, end: int) -> bool:
        return end in self._grade_starts or end in self._values_at

    def opens(self, start: int) -> bool:
        """Nothing that could own the value stands directly before."""
        return (
            self._boundary[start] >= 0.5
            or start in self._value_ends
            or start in self._side_ends
            or start in self._grade_ends
            or start in self._root_ends
            or self._words[start - 1] in LIMBS
        )

    def after_plantar(self, start: int) -> bool:
        """The plantar response was named shortly before: its findings are few, and often misheard ("extends or")."""
        return self._after_plantar[start]

    def _graded_beyond(self, at: int) -> bool:
        while at in self._roots_at:
            at = self._roots_at[at]
        return at in self._grade_starts

    def _graded_beyond_side(self, at: int) -> bool:
        """ "Plantar reflection right three"; but "the painters, left one is down"."""
        if at not in self._sides_at:
            return False
        beyond = self._next(self._sides_at[at])
        return beyond in self._grade_starts and self._words[beyond] != "one"

    def _other_part(self, term: Term, start: int) -> bool:
        """Another part of the body stands before one word that means nothing here."""
        if start < 2 or self._words[start - 2] not in JOINTS:
            return False
        if max(self._boundary[start - 1 : start + 1]) >= 0.5 or start - 1 in self._written:
            return False
        part, between = self._words[start - 2 : start]
        means_nothing = between not in FUNCTION and between not in NUMBER_WORDS
        return means_nothing and part not in term.words and not self._index.goes_with(part, term)

    def _result_of_a_side(self, at: int) -> bool:
        """ "On the right C5 normal", "on the left two plus": a side, and what was found there."""
        after = self._sides_at.get(at)
        if after is None:
            return False
        after = self._next(after)
        return after in self._grade_starts or after in self._root_starts or after in self._values_at

    def _ends_whole(self, start: int) -> bool:
        """What stands before is whole: a side, a name, or a part of the body that is a place."""
        return start in self._side_ends or start in self._whole_ends or self._is_placed(start - 1)

    def _is_placed(self, at: int) -> bool:
        """ "Reduced at the left knee": a part of the body that a small word makes a place."""
        first = at
        while first > 0 and self._words[first - 1] in _BEFORE_PLACES and self._boundary[first] < 0.5:
            first -= 1
        return first > 0 and self._words[first - 1] in ("at", "to", "over") and self._boundary[first] < 0.5

    def _place_follows(self, end: int) -> bool:
        """ "At the great toe", "over L5"."""
        if self._words[end : end + 1] not in (["at"], ["over"], ["in"]):
            return False
        at = end + 1
        while at < self._size and self._words[at] in _BEFORE_PLACES and self._boundary[at] < 0.5:
            at += 1
        return at in self._site_starts or at in self._root_starts

    def heat(self, start: int, end: int) -> float:
        """0: nothing around speaks for a term here; 1: a value stands right at it."""
        if start not in self._found_before:
            self._found_before[start] = self._heat_before(start)
        if end not in self._found_after:
            self._found_after[end] = self._heat_after(end)
        of_muscle, before, listed = self._found_before[start]
        heat = self._found_after[end] + of_muscle
        # "Biceps, soup in eight or and triceps"
        heat += 0.2 if listed and end < self._size and self._words[end] in ("and", "or") else before
        if self._boundary[start] >= 1 and (
            end >= self._size or self._boundary[end] >= 0.6 or self._words[end] in ("next", "now", "then")
        ):
            heat += 0.45
        return heat if heat < 1.0 else 1.0

    def _heat_before(self, start: int) -> tuple[float, float, bool]:
        """What speaks for a term in what stands before it: that it is of a muscle; anything else; and whether a name
        stands there that it may be listed with.
        """
        before = start
        while before > 0 and self._words[before - 1] in _SMALL_BEFORE and before > start - 3:
            before -= 1
        named = "of" in self._words[before:start] and before and self._words[before - 1] in _OF_A_MUSCLE
        heat, listed = 0.0, False
        if self._boundary[start] >= 1:
            heat = 0.1 if self._boundary[start] >= SENTENCE else 0.0
        elif before > 0 and (
            self._words[before - 1] in _BEFORE_NAMES
            or before in self._attributive
            or self._words[max(0, start - 2) : start] == ["same", "for"]
        ):
            heat = 0.45
        elif before in self._side_ends or (before in self._subject_ends and before < start):
            heat = 0.4
        else:
            listed = start in self._subject_ends
            heat = 0.3 if start in self._grade_ends or start in self._root_ends else 0.0
        return 0.4 if named else 0.0, heat, listed

    def _heat_after(self, end: int) -> float:
        """What speaks for a term in what stands after it."""
        heat = 0.0
        after = self._next(end)
        if after < self._size and self._boundary[after] >= 1.2:
            pass
        elif after in self._grade_starts or end in self._root_starts or after in self._root_starts:
            heat = 0.75
        elif after in self._values_at:
            heat = 0.55
        elif (
            self._result_of_a_side(after)
            or self._place_follows(end)
            or not PUT_OFF.isdisjoint(self._words[after : after + 1])
            or end in self._left_out
            or (self._words[end : end + 1] in _OF_COURSE and end + 1 in self._left_out)  # "gate clearly not done"
        ):
            heat = 0.5
        elif (
            any(at in self._side_starts for at in range(end, min(after, self._size) + 1))
            or (
                end in self._homophones
                and (end + 1 in self._side_starts or end + 1 >= self._size or self._boundary[end + 1] >= 0.6)
            )
            or (
                after < self._size
                and self._words[after] in ("and", "or", "nor")
                and self._next(after + 1) in self._subject_starts
            )
        ):
            heat = 0.4
        elif (after < self._size and self._words[after] == "not") or end in self._subject_starts:
            heat = 0.35
        if end < self._size and self._words[end] in _NAMED_BY and self._boundary[end] < 0.5:
            heat += 0.35
        return heat

    def fit(self, term: Term, start: int, end: int) -> float:
        """A small bonus where the neighbouring value can belong to the term, a malus where it cannot."""
        if self.after_plantar(start) and any(meaning.id.startswith("plantar:") for meaning in term.meanings):
            return 0.12
        scales = self._index.scales(term) or _scales_of_a_group(term)
        after = self._next(end)
        before = self._words[start - 1] if start and self._boundary[start] < 0.5 else ""
        of_another = (
            self._index.is_part(before) and before not in term.words and not self._index.goes_with(before, term)
        )
        if scales and of_another and not self._ends_whole(start):
            return -0.2  # "ankle jolts" is no deltoid
        if scales and self._other_part(term, start):
            return -0.5  # "ankle though see flexion" is no knee flexion
        if before in ("an", "my", "of", "it's") and end - start == 1:
            return -0.1  # "of weakness four days ago"
        if end < self._size and self._words[end] == "nerve" and self._boundary[end] < 0.5:
            return BEST_FIT if any(meaning.kind == "nerve" for meaning in term.meanings) else -0.05
        if start and self._words[start - 1] in ("no", "without", "nor") and self._boundary[start] < 1:
            return 0.03 if scales & DENIED else -0.1
        if start and self._words[start - 1] == "or" and start - 1 in self._denied_ends and scales:
            return 0.05 if scales & DENIED else -0.1  # "no wasting or ..."
        if end in self._sensory_starts and self._boundary[end] < 0.5:
            # "Perennial pinprick": a place stands before what was felt there, a muscle does not.
            return 0.12 if any(meaning.kind == "site" for meaning in term.meanings) else -0.15 if scales else 0.0
        if "sensation" in scales and self._sides_at.get(after) in self._root_starts:
            return 0.04
        if after in self._grade_starts or self._graded_beyond_side(after):
            return 0.02 if scales & GRADED else -0.08
        values = self._values_at.get(after)
        if end in self._root_starts and scales and not self._graded_beyond(end):
            return 0.03 if "sensation" in scales else -0.06
        if values and scales:
            if len(values) == 1 and values <= self._single and scales & values:
                return 0.08  # "down going" can only be the plantar response
            return 0.02 if scales & values else -0.08
        return 0.0


def _scales_of_a_group(term: Term) -> frozenset[str]:
    """ "Reflexes", "power": what the values of a whole group are."""
    return frozenset(_OF_GROUPS[meaning.kind] for meaning in term.meanings if meaning.kind in _OF_GROUPS)
