"""Findings that are there or not: present because they are named, absent because they are denied."""

from __future__ import annotations

import itertools
from bisect import bisect_left, bisect_right
from operator import attrgetter

from pipeline.lexicon.model import Manoeuvre
from pipeline.mend.terms import SORTS
from pipeline.mend.tokens import CLAUSE_MARK, COMMA, SENTENCE_END, Token, closes, in_one_sentence
from pipeline.mend.words import BE
from pipeline.understand.grades import past_small
from pipeline.understand.items import WHERE, Item, ItemKind
from pipeline.understand.talk import Kind

_THERE = frozenset(
    "there's has have shows showing showed see noted displays displayed reveals revealed demonstrates adopts".split()
)
_SOME = frozenset("some few several occasional frequent widespread".split())
_AMOUNTS = (["bit"], ["touch"], ["trace"], ["hint"], ["sign"], ["lot"], ["degree"])
_SIDE_WITHIN = 4
"""Most tokens from a finding, or from an answer, to the side that it is told of."""
_TO_DENIAL = 18
"""Most tokens from a finding to the denial of it on the other side, and its side."""
_SOME_REACH = 6
_THERE_REACH = 6
"""Most tokens from "there is" to what is there."""
_THERE_IS = {
    ("there", "is"),
    ("there", "are"),
    ("there", "was"),
    ("with", "some"),
    ("there", "seems"),
    ("there", "looks"),
    ("can", "see"),
    ("i", "see"),
    ("we", "see"),
}
_SURE_NAME = 0.6
"""Probability of a mended name from which the name alone, with a place, is a finding."""
_ANEW = 0.9
"""The least break before "that's wasting": what was said before it does not look for it."""
_SOUGHT = frozenset(
    """no nil any not without nor neither or if for see check checking looking look expect find notice never isn't
        don't can't""".split()
)
_LOOKING = frozenset("see check checking looking look find notice".split())
_IS = (["is"], ["are"], ["'s"])
_BROUGHT_OUT = frozenset("felt present seen there obtained elicited".split())
"""What "no" denies where it stands after the name: "no ankle jerk is present"."""
_THEY_ARE = frozenset("is are it's they're both all not still just".split())
_TO_A_PLACE = frozenset(
    """in of over on at both the his her and around round affecting through throughout between back front side inside
        small muscle muscles""".split()
)
_NORMAL = tuple([word, "normal"] for word in ("and", "but", "with"))
"""What leads to the name it is said of, and is not that a finding before it is absent: "a tremor and normal tone"."""
_THERE_OR_NOT = ("presence", "clonus")
_HERE = (["here"], ["there"])
_TOLD = (Kind.RESULT, Kind.INSTRUCTION)
_IN = frozenset("in on at of".split())
_FOUND_REACH = 10
"""Most tokens from a test of coordination to a remark on how it went."""
_ALTERNATIVES = frozenset("or nor and".split())
_LISTED = 2
"""Most small words from a finding that is denied to its limb, or to the next finding."""
_SAYING = frozenset("said says saying".split())
_SEEING = frozenset("see seeing find finding found".split())
_OBSERVERS = frozenset("i we i'm we're i've we've".split())
_NOT = frozenset("not can't don't cannot couldn't didn't haven't never".split())
_TO_SEE = _NOT | frozenset("am are do did can could have really yet".split())
_NOT_SEEING = 4
"""Most tokens from who looks to the verb, in "I do not really see"."""
_ISNT = (["isn't"], ["aren't"], ["wasn't"], ["weren't"])
_IS_NOT = (["is", "not"], ["are", "not"], ["was", "not"], ["were", "not"])
_ADJECTIVE = ("ed", "ic")
_TOO = (["as", "well"], ["too"], ["also"])
_MOUTH = ["by", "mouth"]
_ANSWERS = (["yes"], ["no"], ["none"], ["nil"])
_ANSWERED_REACH = 5
"""Most tokens from one answer to the next finding that is looked for, with a remark between."""
_DENYING = frozenset("no nil any not without nor neither".split())
LIKE_THAT = ["nothing", "like", "that"]
_start = attrgetter("start")


def _closes(at: int, items: list[Item], words: list[str], tokens: list[Token]) -> bool:
    """Whether a yes or no ends what is told of a side: "no.", "no, on the right", "no right yes"."""
    if at + 1 >= len(words) or tokens[at + 1].boundary >= CLAUSE_MARK:
        return True
    after = _starting(items, at + 1, at + 1 + _SIDE_WITHIN)
    return bool(after) and after[0].kind is ItemKind.SIDE


_SORTS = tuple([sort] for sort in SORTS)
_NO = ("no", "without")
_NOT_SO = tuple(["not", degree] for degree in ("so", "very", "too", "that", "as", "quite", "really"))
_NONE_DONE = tuple([word] for word in "tested checked done examined attempted tried were was yet today hammer".split())
_BEFORE_NO = frozenset("has have had is are was there's with shows and but".split())
"""What leads to a denial, and not to a result that is put right ("reduced or rather no altered")."""
_NONE_OF = {"extensor": "flexor", "increased": "normal", "altered": "normal"}
"""What is left of a finding that there is none of: "no upgoing plantar", "no hyperaesthesia"."""
_DEGREES = frozenset("marked gross severe much great major excessive significant more further undue sustained".split())
"""Words that deny a finding only so far: "no marked wasting"."""


class Presence:
    """Values of wasting, fasciculation, posture, movement and clonus that have no word of their own."""

    def __init__(self, manoeuvres: dict[str, Manoeuvre]) -> None:
        self._manoeuvres = manoeuvres
        self._tests = {name: one.id for one in manoeuvres.values() for name in one.names}
        self._names = {name: one for name, one in self._tests.items() if manoeuvres[one].scale == "presence"}

    def denied(self, found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
        """ "No tremor in either arm", "no tremor or other movement": there the word is a finding in itself, and not how
        a finger found the nose.
        """
        out = []
        for item in found:
            traced = words[item.end - 1 : item.end + 1] == ["trace", "of"]
            if traced and self._is_presence(item.end + 1, found, opens=True):
                continue  # "a trace of wasting": no grade
            named = item.start + 1 + (words[item.start + 1 : item.start + 2] in _SORTS)  # "no obvious tremor"
            said = " ".join(words[named : item.end])
            denied = item.kind is ItemKind.VALUE and words[item.start] == "no" and said in self._names
            if not denied or not self._is_of_a_limb(item, found, words) or self._is_aimed(item, found, tokens):
                out.append(item)
                continue
            out.append(Item(ItemKind.NEGATION, item.start, item.start + 1))
            out.append(Item(ItemKind.SUBJECT, named, item.end, (self._names[said],), match=item.match))
        return out

    def answered(self, found: list[Item], words: list[str], tokens: list[Token], kind_at: list[Kind]) -> list[Item]:
        """ "Wasting, yes. Fasciculation, no.": a yes or no that stands behind each of the findings looked for."""
        named = [k for k in found if k.kind is ItemKind.SUBJECT and self._is_there_or_not(k)]
        found = _asked_and_denied(named, found, words, tokens, kind_at)
        asked = [k for k in named if words[k.end : k.end + 1] in _ANSWERS and kind_at[k.end] is Kind.RESULT]
        if not asked:
            return found
        asked.sort(key=_start)
        starts = {item.start: item for item in found}
        behind: dict[int, bool | None] = {}  # by where the answer stands
        last = -_ANSWERED_REACH
        for item in asked:
            belongs = self._stands_behind(item, starts, behind, words, tokens)
            if belongs is None and item.start - last <= _ANSWERED_REACH:
                belongs = True
            behind[item.end] = belongs
            last = item.end if belongs else last
        for item in reversed(asked):  # what the last of a list shows holds for those before it
            after = starts.get(item.end + 1)
            if behind[item.end] is None and after is not None and behind.get(after.end):
                behind[item.end] = True
        answers = {at for at, belongs in behind.items() if belongs and words[at] in ("yes", "no")}
        out = [item for item in found if item.start not in answers]
        for at in answers:
            value = "present" if words[at] == "yes" else "absent"
            out.append(Item(ItemKind.VALUE, at, at + 1, values={"presence": value, "clonus": value}))
            if at in starts:  # "fasciculation, no tone normal"
                name = " ".join(words[at + 1 : starts[at].end])
                out.append(Item(ItemKind.SUBJECT, at + 1, starts[at].end, (self._tests[name],)))
        return out

    def answered_by_side(self, found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
        """ "Wasting on the left, no, on the right, yes": a yes or no behind each side of a finding."""
        ordered = sorted(found, key=lambda item: (item.start, item.end))
        answers: dict[int, Item] = {}
        presumed: set[int] = set()
        named: Item | None = None
        last = 0
        for item in ordered:
            if item.kind is ItemKind.SUBJECT:
                before = words[max(0, item.start - 1) : item.start]
                denied = tokens[item.start].boundary < CLAUSE_MARK and not _DENYING.isdisjoint(before)
                named, last = (item if self._is_there_or_not(item) and not denied else None), item.end
            elif item.kind is ItemKind.SIDE and named is not None and item.start - last <= _SIDE_WITHIN:
                last = item.end + 1
                if words[item.end : item.end + 1] in (["yes"], ["no"]) and _closes(item.end, ordered, words, tokens):
                    value = "present" if words[item.end] == "yes" else "absent"
                    answers[item.end] = Item(
                        ItemKind.VALUE, item.end, last, values={"presence": value, "clonus": value}
                    )
                    presumed.add(named.start)
        if not answers:
            return found
        kept = [
            item
            for item in found
            if item.start not in answers and not (item.start == item.end and item.start in presumed)
        ]
        return [*kept, *answers.values()]

    def _stands_behind(
        self, item: Item, starts: dict[int, Item], behind: dict[int, bool | None], words: list[str], tokens: list[Token]
    ) -> bool | None:
        """Whether the yes or no after a finding is its answer; None where a "no" may deny what follows as well."""
        at = item.end
        if words[item.start - 1] in _DENYING and behind.get(item.start - 1, False) is False:
            return False
        if words[at] in ("none", "nil"):
            return True
        if at in starts:  # "no tone" is a finding, and may have one of its own
            after = starts.get(starts[at].end)
            return after is not None and " ".join(words[at + 1 : after.start]) in self._tests and bool(after.values)
        if words[at] == "yes" or at + 1 >= len(words) or tokens[at].boundary < tokens[at + 1].boundary:
            return True
        after = starts.get(at + 1)
        if tokens[at].boundary > tokens[at + 1].boundary or after is None:
            return False
        following = starts.get(after.end)
        if after.kind is not ItemKind.SUBJECT:
            return None if following is not None and following.kind is ItemKind.SUBJECT else True
        own = following is not None and following.kind is ItemKind.VALUE and words[after.end] not in _BROUGHT_OUT
        return True if own else None

    def nil_before(self, words: list[str], found: list[Item]) -> set[int]:
        """Where "nil" denies what is named after it ("nil wasting, nil fasciculation") and tells of nothing before."""
        names = {
            item.start: item.end for item in found if item.kind is ItemKind.SUBJECT and self._is_there_or_not(item)
        }
        own: set[int] = set()  # where findings end that a "nil" before them denies
        nils: set[int] = set()
        for at, word in enumerate(words):
            if word == "nil" and at + 1 in names and not (at in names.values() and at not in own):
                nils.add(at)
                own.add(names[at + 1])
        return nils

    def _is_of_a_limb(self, item: Item, found: list[Item], words: list[str]) -> bool:
        """Before a limb, or in a list of names ("wasting but no tremor")."""
        if self._is_presence(item.start, found) or (
            (words[item.start - 1] in _ALTERNATIVES or words[item.start - 1] == "but")
            and self._is_presence(item.start - 1, found)
        ):
            return True
        after = next((other for other in sorted(found, key=lambda one: one.start) if other.start >= item.end), None)
        if after is None or after.start - item.end > _LISTED:
            return False
        if words[item.end] in _ALTERNATIVES or after.start == item.end:
            return after.kind is ItemKind.SUBJECT and self._scale_of(after) == "presence"
        return words[item.end] in _IN and (bool(after.limbs) or words[after.start] == "either")

    def _is_aimed(self, item: Item, found: list[Item], tokens: list[Token]) -> bool:
        """After a test of coordination in the same sentence."""
        return any(
            other.kind is ItemKind.SUBJECT
            and self._scale_of(other) == "coordination"
            and 0 <= item.start - other.end <= _FOUND_REACH
            and in_one_sentence(tokens, other.end, item.start + 1)
            for other in found
        )

    def _is_there_or_not(self, item: Item) -> bool:
        return self._scale_of(item) in _THERE_OR_NOT

    def _scale_of(self, item: Item) -> str | None:
        one = self._manoeuvres.get(item.ids[0])
        return one.scale if one is not None else None

    def denials(self, words: list[str], tokens: list[Token], kind_at: list[Kind], found: list[Item]) -> list[Item]:
        taken = {at for item in found for at in range(item.start, item.end)}
        out = []
        for at, word in enumerate(words):
            amount = [word] in _AMOUNTS and words[at + 1 : at + 2] == ["of"]  # "not a trace of wasting"
            free = words[at : at + 2] == ["free", "of"] and self._is_presence(at + 2, found, opens=True)
            read = at in taken and not (amount or free or word in ("neither", "nothing"))
            if read or kind_at[at] is not Kind.RESULT:
                continue
            if word == "no" and words[at - 1] in _SAYING and words[at + 1 : at + 2] == ["to"]:
                continue  # "she said no to the ankle jerks"
            if word == "no" and self._is_answer(at, found, words):
                continue
            nothing = word == "nothing" and self._is_presence(at + 1, found, opens=True)  # "nothing wasted"
            if words[at : at + 3] == LIKE_THAT:
                out.append(Item(ItemKind.NEGATION, at, at + 3))
                continue
            negative = (
                nothing
                or free
                or (word in ("no", "without", "nor", "nil", "neither") and words[at + 1 : at + 3] != _MOUTH)
                or (
                    (amount or word in ("any", "obvious", "evidence", "definite", "visible", "see"))
                    and any(
                        w in ("not", "never") or w.endswith("n't") or w == "cannot" for w in words[max(0, at - 4) : at]
                    )
                )
            )
            if word == "neither" and (
                (self._is_presence(at, found) and tokens[at].boundary < COMMA)
                or (words[at - 1] in _IN and self._is_presence(at - 1, found))
            ):
                absent = {"presence": "absent", "clonus": "absent"}  # "fasciculations in neither leg"
                out.append(Item(ItemKind.VALUE, at, at, values=absent))
            elif negative:
                out.append(Item(ItemKind.NEGATION, at, at + 1))
                has = words[at - 1] == "has"  # "the left leg has neither, knee jerk two plus"
                if word == "neither" and not has and self._is_of_each_side(at + 1, found, words):
                    out.append(Item(ItemKind.SIDE, at, at + 1, ("both",)))
        return out

    def seen(self, words: list[str], tokens: list[Token], kind_at: list[Kind], found: list[Item]) -> list[Item]:
        """ "Wasting I do not see in either arm", "fasciculations we see in the left calf": named before who looks."""
        out = []
        for at, word in enumerate(words):
            opening = _seen_by(words, at) if word in _SEEING and kind_at[at] is Kind.RESULT else None
            if opening is None or not self._is_presence(opening, found) or self._named_at(at + 1, found):
                continue
            if words[at + 1 : at + 2] == ["none"] and tokens[at + 1].boundary < COMMA:
                continue  # "tremor I see none"
            value = "present" if _NOT.isdisjoint(words[opening:at]) else "absent"
            out.append(Item(ItemKind.VALUE, opening, at + 1, values={"presence": value, "clonus": value}))
        return out

    def of_any_sort(self, found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
        """ "No obvious wasting", "no left sided tremor": the sort of finding that is denied is none that is there.

        "No marked wasting" may leave some, which is asked about.
        """
        starts = {item.start: item for item in found if item.kind in (ItemKind.VALUE, ItemKind.SIDE)}
        named = {item.start: item for item in found if item.kind is ItemKind.SUBJECT and self._is_there_or_not(item)}
        dropped: set[int] = set()
        for negation in (item for item in found if item.kind is ItemKind.NEGATION):
            at, sorts = negation.end, []
            while at in starts and at not in named and tokens[at].boundary < COMMA:
                sorts.append(starts[at])
                at = starts[at].end
            if not sorts or at not in named or tokens[at].boundary >= COMMA:
                continue
            if any("absent" in sort.values.values() or sort.grade or sort.linked for sort in sorts):
                continue
            dropped |= {id(sort) for sort in sorts if sort.kind is ItemKind.VALUE}
            if not _DEGREES.isdisjoint(words[negation.end : at]):
                named[at].flags += ("value_uncertain",)
            negation.start = negation.end = at
        return [item for item in found if id(item) not in dropped]

    @staticmethod
    def no_reflexes(found: list[Item], words: list[str]) -> None:
        """ "No reflexes in the legs": all of them are absent; but "no reflexes tested"."""
        groups = {item.start for item in found if item.kind is ItemKind.HEADING and "group:reflexes" in item.ids}
        for negation in (item for item in found if item.kind is ItemKind.NEGATION and item.end in groups):
            if words[negation.start] == "no" and words[negation.end + 1 : negation.end + 2] not in _NONE_DONE:
                negation.kind, negation.values = ItemKind.VALUE, {"reflex": "0"}

    @staticmethod
    def doubt_denied(found: list[Item], words: list[str], tokens: list[Token]) -> None:
        """ "No upgoing plantar", "left not so brisk": not the finding itself, and asked about."""
        denied = {
            item.end
            for item in found
            if item.kind is ItemKind.NEGATION
            and words[item.start] in _NO
            and (tokens[item.start].boundary >= COMMA or words[item.start - 1] in _BEFORE_NO)
        }
        for item in found:
            if item.kind is ItemKind.VALUE and item.start in denied and tokens[item.start].boundary < COMMA:
                item.values = {scale: _NONE_OF.get(value, value) for scale, value in item.values.items()}
                item.flags += ("value_uncertain",)
            elif item.kind is ItemKind.VALUE and words[max(0, item.start - 2) : item.start] in _NOT_SO:
                item.flags += ("value_uncertain",)

    @staticmethod
    def _named_at(start: int, found: list[Item]) -> bool:
        return any(item.kind is ItemKind.SUBJECT and item.start == start for item in found)

    def _is_of_each_side(self, start: int, found: list[Item], words: list[str]) -> bool:
        """ "Neither biceps jerk was present": the test of each side begins here, and no list of tests."""
        return any(
            item.start == start
            and item.kind is ItemKind.SUBJECT
            and not item.section_only
            and self._scale_of(item) in ("reflex", "clonus")
            and words[item.end : item.end + 1] != ["nor"]
            for item in found
        )

    def _is_answer(self, at: int, found: list[Item], words: list[str]) -> bool:
        """ "Is it buzzing? No, vibration is absent at both ankles": the test has a finding of its own."""
        named = next((item for item in found if item.start == at + 1 and item.kind is ItemKind.SUBJECT), None)
        if named is None or words[named.end : named.end + 1] not in _IS or self._is_presence(named.end, found):
            return False
        return any(
            item.kind is ItemKind.VALUE and item.start == named.end + 1 and words[item.start] not in _BROUGHT_OUT
            for item in found
        )

    def _is_presence(self, at: int, found: list[Item], *, opens: bool = False) -> bool:
        """A test of something that is there or not ends at a token, or opens there."""
        scales = {
            self._manoeuvres[one].scale
            for item in found
            if (item.start if opens else item.end) == at and item.kind is ItemKind.SUBJECT
            for one in item.ids
            if one in self._manoeuvres
        }
        return not scales.isdisjoint(("presence", "clonus"))

    def _there_too(self, words: list[str], tokens: list[Token], found: list[Item]) -> None:
        """ "None on the right. Fasciculations, left thigh as well": present, and a person is asked."""
        items = sorted(found, key=lambda item: item.start)
        for at, item in enumerate(items):
            if item.kind is not ItemKind.SUBJECT or self._scale_of(item) != "presence":
                continue
            where = list(itertools.takewhile(lambda other: other.kind in WHERE or other.is_place, items[at + 1 :]))
            said = next(iter(items[at + 1 + len(where) :]), None)
            if (
                where
                and said is not None
                and said.same
                and words[said.start : said.end] in _TOO
                and in_one_sentence(tokens, item.start + 1, said.end)
                and _DENYING.isdisjoint(words[max(0, item.start - 1) : item.start])
            ):
                said.same, said.values = False, {"presence": "present", "clonus": "present"}
                said.flags += ("value_uncertain",)

    def _is_too(self, item: Item, found: list[Item], words: list[str], tokens: list[Token]) -> bool:
        """ "Wasting in the right arm. Left arm, wasting too": of the other limb it was told before."""
        end = item.end + 1
        ended = closes(tokens, end) or words[end] in ("but", "and")
        if words[item.end : end] != ["too"] or not ended:
            return False
        before = [other for other in found if other.end <= item.start and other.ids == item.ids]
        denied = any(words[other.start - 1] in _DENYING for other in (*before, item) if other.start)
        return bool(before) and not denied

    def named(self, words: list[str], tokens: list[Token], kind_at: list[Kind], found: list[Item]) -> list[Item]:
        """ "There is wasting": a finding that is present because it is named."""
        taken = {at for item in found for at in range(item.start, item.end)}
        self._there_too(words, tokens, found)
        out = self._there(words, tokens, kind_at, found)
        denied = {item.end for item in found if item.kind is ItemKind.NEGATION}
        seen = {item.end: item for item in found if item.kind is ItemKind.VALUE and "presence" in item.values}
        for item in found:
            own = seen.get(item.start)
            own = own if item.kind is ItemKind.SUBJECT else None
            if own is not None and words[own.start - 1 : own.end] in _NORMAL and not self._is_there_or_not(item):
                own.values = {scale: value for scale, value in own.values.items() if scale not in _THERE_OR_NOT}
        seen_from = {item.start for item in found if item.kind is ItemKind.VALUE}
        placed_before = {item.end for item in found if item.kind in WHERE}
        named = {item.end for item in found if item.kind is ItemKind.SUBJECT}
        for item in found:
            if item.kind is not ItemKind.SUBJECT or not any(
                self._manoeuvres[one].scale == "presence" for one in item.ids
            ):
                continue
            amount = seen.get(item.start)
            if amount is not None and amount.weak and amount.start not in named:
                amount.forward = True  # "slight wasting"; but "wasting slight, fasciculation none"
            if kind_at[item.start] is Kind.RESULT and _is_some(words, item.start):
                if amount is None or not amount.forward:
                    out.append(
                        Item(ItemKind.VALUE, item.start - 1, item.start, values={"presence": "present"}, forward=True)
                    )
                continue
            if _is_free_of(item, words):
                continue
            if kind_at[item.start] is Kind.RESULT and self._is_too(item, found, words, tokens):
                out.append(_present(item.start))
                continue
            if _is_denied_adjective(item, words):
                out.append(Item(ItemKind.VALUE, item.start, item.start, values={"presence": "absent"}, forward=True))
                continue
            if words[item.end - 1] == "abnormal" and item.start not in denied:
                out.append(_present(item.start))  # "posture abnormal"
                continue
            adjective = kind_at[item.start] is not Kind.QUESTION and _is_adjective(item, found, words)
            at = item.start
            while (
                at > 0 and item.start - at < 8 and tokens[at].boundary < 1 and not _is_told_anew(at, item, found, words)
            ):
                if adjective and at in named:
                    break  # "no tremor in the left arm, the right arm wasted"
                at -= 1
            placed = item.start in placed_before and words[item.end : item.end + 2] == ["is", "there"]
            if _denies(words[at : item.start]) and not placed:  # "no tremor on the left | wasting is there"
                continue
            if adjective:
                out.append(_present(item.start))
                continue
            if _is_pointed_at(item, seen_from, words, tokens) and kind_at[item.start] in _TOLD:
                out.append(_present(item.start))
                continue
            said = words[item.end : item.end + 3]
            if said[:1] in (["is"], ["are"], ["was"]) and "there" in said[1:] and said[1] in ("there", "not"):
                present = {"presence": "absent" if said[1] == "not" else "present"}
                end = item.end + said.index("there") + 1
                out.append(Item(ItemKind.VALUE, item.end + 1, end, values=present))
                continue
            at = item.start
            while at > 0 and item.start - at < _THERE_REACH and tokens[at].boundary < 1 and at - 1 not in taken:
                at -= 1
                pair = (words[at], words[at + 1])
                if (pair in _THERE_IS or words[at] in _THERE) and not _is_restated(item, found, tokens):
                    out.append(Item(ItemKind.VALUE, at, at + 1, values={"presence": "present"}, forward=True))
                    break
        in_order = sorted(found, key=_start)
        ended = sorted((k for k in reversed(found) if k.kind is not ItemKind.NEGATION), key=lambda k: k.end)
        for item in found:
            if item.kind is not ItemKind.SUBJECT or not any(
                self._manoeuvres[one].scale in ("presence", "clonus") for one in item.ids
            ):
                continue
            if _is_free_of(item, words):
                continue
            led = max((value.end for value in out if value.end <= item.start), default=-_THERE_REACH)
            if item.start - led < _THERE_REACH and not any(
                other.kind is ItemKind.SUBJECT for other in _starting(in_order, led, item.start)
            ):
                continue  # "there is wasting": said already
            if (
                self._is_conceded(item, found, words)
                or _is_there_beside(item, found, words)
                or self._denied_on_one_side(item, found, in_order, words, tokens)
                or (
                    words[item.start - 1 : item.start] == ["with"]
                    and any(other.end == item.start - 1 and other.kind is ItemKind.VALUE for other in found)
                )
            ):
                present = {"presence": "present", "clonus": "present"}
                flags = ("value_uncertain",) if _is_after_another(item, found, tokens) else ()
                out.append(Item(ItemKind.VALUE, item.start, item.start, values=present, forward=True, flags=flags))
                continue
            if self._named_too(item, out, found, words, tokens) or (
                kind_at[item.start] is Kind.RESULT and self._found_there(item, ended, in_order, words, tokens)
            ):
                out.append(_present(item.start))
                continue
            if words[item.end : item.end + 1] not in (["of"], ["over"], ["below"]) or any(
                value.start < item.start < value.start + 9 for value in out
            ):
                continue
            near = [
                other
                for other in found
                if abs(other.start - item.start) < 10
                and not any(tokens[k].boundary >= 0.5 for k in range(item.end, other.start + 1))
                and in_one_sentence(tokens, other.end, item.start + 1)
                and (other.kind is ItemKind.NEGATION or (other.kind is ItemKind.VALUE and "presence" in other.values))
                and not self._denies_another(other, item, found)
            ]
            if not near and not any(
                word in ("no", "any", "without", "neither", "nor", "expect", "not", "free")
                for word in words[max(0, item.start - 4) : item.start]
            ):
                out.append(_present(item.start))
        return out

    def _there(self, words: list[str], tokens: list[Token], kind_at: list[Kind], found: list[Item]) -> list[Item]:
        """ "The right ankle jerk is there", "knee jerks both there and equal"."""
        out = []
        for item in found:
            scales = {self._manoeuvres[one].scale for one in item.ids if one in self._manoeuvres}
            if item.kind is not ItemKind.SUBJECT or "reflex" not in scales or kind_at[item.start] is not Kind.RESULT:
                continue
            at = item.end
            while words[at : at + 1] and words[at] in _THEY_ARE and tokens[at].boundary < SENTENCE_END:
                at += 1
            if item.end == at or words[at : at + 1] != ["there"] or not BE.isdisjoint(words[at + 1 : at + 2]):
                continue
            denied = words[at - 1] == "not"
            if not any(k.grade is not None and 0 <= k.start - at <= 2 for k in found):  # "are there, one plus"
                out.append(Item(ItemKind.VALUE, at, at + 1, values={"reflex": "0" if denied else "normal"}))
        return out

    def _found_there(
        self, item: Item, ended: list[Item], in_order: list[Item], words: list[str], tokens: list[Token]
    ) -> bool:
        """ "Wasting in the right arm", "fasciculation both thighs": a place and no result, so it was found there.

        `ended`, `in_order`: what was found, by where it ends (without denials) and by where it starts.
        """
        if self._manoeuvres[item.ids[0]].scale != "presence" or item.probability < _SURE_NAME:
            return False
        if self._is_one_of_both(item, in_order, words):
            return False
        before = bisect_right(ended, item.start, key=lambda k: k.end)
        last = ended[before - 1] if before else None
        opening = max(item.start - 4, last.end if last else 0, 0)
        opening = max((at for at in range(opening, item.start) if tokens[at].boundary >= _ANEW), default=opening)
        sought = _SOUGHT if tokens[item.start].boundary < _ANEW else _SOUGHT - _LOOKING  # "looking first | wasting in"
        if (
            last is not None and (_is_listed(last, item, tokens) or "neither" in words[last.start : last.end])
        ) or not sought.isdisjoint(words[opening : item.start]):
            return False
        at, placed = item.end, False
        for following in in_order[bisect_left(in_order, item.end, key=_start) :]:
            if following.kind is ItemKind.COMMAND:
                continue
            if following.start < at or (following.kind is ItemKind.PLACE and following.end == following.start):
                continue
            if words[following.start] in ("neither", "either"):
                return False  # nobody finds it "in either leg": a denial was not heard
            between = words[at : following.start]
            broken = any(tokens[k].boundary >= 0.5 for k in range(at, min(following.start + 1, len(tokens))))
            is_part = following.kind is ItemKind.SUBJECT and following.section_only and bool(following.sites)
            if (following.kind in (*WHERE, ItemKind.THROUGHOUT) and following.end > following.start) or is_part:
                if broken or not _TO_A_PLACE.issuperset(between):
                    break
                at, placed = max(at, following.end), True
            elif following.kind is ItemKind.SUBJECT and between == ["and"] and not (placed or broken):
                return self._found_there(following, ended, in_order, words, tokens)
            else:
                claims = following.kind in (ItemKind.VALUE, ItemKind.OMISSION) and not following.reaction
                claims = claims and not (following.weak and following.grade is None)  # "with the high arches"
                claims = claims and not _goes_over(following, in_order)
                apart = any(token.boundary >= SENTENCE_END for token in tokens[at : following.end])
                return placed and not (claims and len(between) <= 2 and not apart)
        return placed

    def _is_one_of_both(self, item: Item, in_order: list[Item], words: list[str]) -> bool:
        """ "Left wasting and left fasciculation both absent": it is said of the first one, too."""
        at = bisect_left(in_order, item.end, key=_start)
        side, second, *told = in_order[at : at + 4] if len(in_order) > at + 2 else (item, item)
        value = next((other for other in told if other.kind is ItemKind.VALUE), None)
        return (
            side.kind is ItemKind.SIDE
            and words[item.end : side.start] == ["and"]
            and side.end == second.start
            and self._scale_of(second) == "presence"
            and value is not None
            and words[value.start - 1] == "both"
        )

    def _is_conceded(self, item: Item, found: list[Item], words: list[str]) -> bool:
        """ "Fasciculation but no wasting": the first is there."""
        denies = words[item.end : item.end + 2] == ["but", "no"]
        at = item.end + (2 if denies else 1)
        return (
            (denies or words[item.end : item.end + 1] == ["without"])
            and self._named_at(at, found)
            and _DENYING.isdisjoint(words[max(0, item.start - 3) : item.start])
        )

    @staticmethod
    def _denies_another(denial: Item, item: Item, found: list[Item]) -> bool:
        """ "Wasting of the calf, no fasciculation": the denial is that of another finding, and so is each after it."""
        return denial.start > item.end and any(
            other.kind is ItemKind.SUBJECT
            and other.ids != item.ids
            and (
                0 <= other.start - denial.end <= 1
                or (item.end < other.start < denial.start and other.muscle is None and not other.section_only)
            )
            for other in found
        )

    def _named_too(
        self, item: Item, present: list[Item], found: list[Item], words: list[str], tokens: list[Token]
    ) -> bool:
        """ "Wasting of the left arm and fasciculation in the right": named after one that is present, with a side."""
        return (
            words[item.start - 1 : item.start] == ["and"]
            and words[item.end : item.end + 1] in (["in"], ["on"], ["of"])
            and any(
                0 < item.start - value.start < 12
                and not any(tokens[at].boundary >= 1 for at in range(value.start + 1, item.start + 1))
                for value in present
            )
            and any(other.kind is ItemKind.SIDE and 0 < other.start - item.end <= 3 for other in found)
        )

    def _denied_on_one_side(
        self, item: Item, found: list[Item], in_order: list[Item], words: list[str], tokens: list[Token]
    ) -> bool:
        """ "Wasting on the left, none on the right", "wasting of the left leg, no wasting of the right": present where
        it is named, absent where it is denied. In "no tremor wasting on the left none on the right" a person is asked.
        """
        following = [
            k
            for k in _starting(in_order, item.end, item.end + _TO_DENIAL)
            if not k.is_place
            and not (
                k.kind is ItemKind.SUBJECT
                and k.ids != item.ids
                and {"of", "over"}.intersection(words[item.end : k.start])
            )
        ]  # "wasting over the thenar eminence"
        first = list(itertools.takewhile(_names_side, following))
        behind = len(first)
        next_to_it = bool(following) and (
            following[0].start == item.end
            or (following[0].kind is ItemKind.NEGATION and [other.ids for other in following[1:2]] == [item.ids])
        )  # "right arm, abnormal posture, held flexed, no abnormal posture on the left"
        if next_to_it and not first:
            led = next((k for k in found if k.kind is ItemKind.SIDE and k.end == item.start), None)
            if led is not None and led.sites and not _is_of_another(led, item, found):
                sought = not _SOUGHT.isdisjoint(words[max(0, led.start - 3) : led.start])
                # "Left arm wasting, none on the right", but "left arm wasting none | right arm wasting none"
                first = [] if sought or _leads_on(following, in_order, tokens) else [led]
        denial, *rest = [*following[behind : behind + 3], None]
        if denial is None or not first:
            return False
        if denial.kind is ItemKind.NEGATION and rest[0] is not None and rest[0].ids == item.ids:
            said, rest = ("no",), rest[1:]
        else:
            said = ("none", "nothing")
        second = rest[0] if rest else None
        if second is None or not _names_side(second) or words[denial.start] not in said:
            return False
        begins = item.start
        while (
            begins > max(item.start - 4, 0)
            and tokens[begins].boundary < COMMA
            and not _is_after_another(item, found, tokens)
        ):
            begins -= 1
        begun = {k.start for k in found if k.kind in (ItemKind.REGION, ItemKind.HEADING)}
        ended = (k for k in found if k.kind is ItemKind.SIDE and k.end == item.start)
        closed = any(_is_of_another(k, item, found) for k in ended)
        said_before = (
            tokens[item.start].boundary < CLAUSE_MARK
            and (
                any(
                    0 <= item.start - k.end <= 1
                    and k not in first
                    and k.end not in begun  # "on both sides. Legs, fasciculation on the left, none on the right"
                    and (k.kind is ItemKind.VALUE or (k.kind is ItemKind.SIDE and not _is_of_another(k, item, found)))
                    for k in found
                )
                or not (closed or _DENYING.isdisjoint(words[begins : item.start]))
            )
        )
        return (
            not said_before
            and second.start - denial.end <= 5
            and all(side.ids != second.ids or side.limbs != second.limbs for side in first)
            and not any(tokens[k].boundary >= CLAUSE_MARK for k in range(item.end, denial.start))
            and in_one_sentence(tokens, denial.start, second.start + 1)
            and not any(tokens[k].boundary >= CLAUSE_MARK for k in range(denial.start + 1, second.start + 1))
        )


def _is_some(words: list[str], at: int) -> bool:
    """ "Some wasting", "a bit of wasting", and not "not a trace of wasting"."""
    before = words[max(0, at - _SOME_REACH) : at]
    amount = before[-1:] == ["of"] and before[-2:-1] in _AMOUNTS
    return (before[-1:] != [] and before[-1] in _SOME and "any" not in before) or (amount and not _denies(before))


def _seen_by(words: list[str], at: int) -> int | None:
    """Where "I am not seeing", "we can't find" begins, up to the verb at `at`; None if nobody examines."""
    for opening in range(max(0, at - _NOT_SEEING), at):
        if words[opening] in _OBSERVERS and _TO_SEE.issuperset(words[opening + 1 : at]):
            return opening
    return None


def _names_side(item: Item) -> bool:
    return item.kind in (ItemKind.SIDE, ItemKind.REGION)


def _leads_on(following: list[Item], in_order: list[Item], tokens: list[Token]) -> bool:
    """ "None | right arm tone normal": a side behind "none" is that of what stands right behind it."""
    side = next((k for k in following[1:2] if _names_side(k) and not k.linked), None)
    if side is None or following[0].kind is not ItemKind.VALUE or side.start != following[0].end:
        return False
    led = any(k.kind not in WHERE for k in _starting(in_order, side.end, side.end + 1))
    return led and tokens[side.end].boundary < CLAUSE_MARK


def _is_of_another(side: Item, item: Item, found: list[Item]) -> bool:
    """ "Wasting in both arms, fasciculation in the left", "none in the right arm, fasciculation in the left": the first
    side is that of the test or the result before it. So are those of "no wasting right or left".
    """
    paired = side.ids == ("both",) or any(k.kind is ItemKind.SIDE and k.end == side.start - 1 for k in found)
    owners = (k for k in found if k.kind in (ItemKind.SUBJECT, ItemKind.VALUE, ItemKind.OMISSION) and k is not item)
    return (side.linked or paired) and any(0 <= side.start - owner.end <= 4 for owner in owners)


def _starting(in_order: list[Item], first: int, end: int) -> list[Item]:
    """The items that start at tokens `first`..`end` (exclusive), of all by where they start."""
    return in_order[bisect_left(in_order, first, key=_start) : bisect_left(in_order, end, key=_start)]


def _goes_over(same: Item, in_order: list[Item]) -> bool:
    """ "Wasting in the right leg and the same in the left": what is told of the first place holds for the second."""
    return same.same and any(
        item.kind in WHERE and item.linked for item in _starting(in_order, same.end, same.end + _LISTED + 1)
    )


def _is_listed(last: Item, item: Item, tokens: list[Token]) -> bool:
    """Whether two subjects follow each other: what was said of the first holds for the second."""
    return last.kind is ItemKind.SUBJECT and last.end == item.start and tokens[item.start].boundary < 0.5


def _is_after_another(item: Item, found: list[Item], tokens: list[Token]) -> bool:
    """ "No tremor wasting": right behind another finding, with no "or" between."""
    behind = any(other.kind is ItemKind.SUBJECT and other.end == item.start for other in found)
    return behind and tokens[item.start].boundary < COMMA


def _is_told_anew(at: int, item: Item, found: list[Item], words: list[str]) -> bool:
    """ "No wasting and the right leg has an abnormal posture": from "has" on nothing of what was denied is told, nor
    from "there's" on in "no wasting, in the left arm there's wasting".
    """
    if words[at] not in _THERE and tuple(words[at : at + 2]) not in _THERE_IS:
        return False
    if any(k.kind is ItemKind.SIDE and k.end == at and not _denies(words[max(0, k.start - 1) : at]) for k in found):
        return True
    before = (k.end for k in found if k.kind is ItemKind.SUBJECT and k.ids != item.ids and k.end <= at)
    last = max(before, default=-_THERE_REACH)
    return at - last < _THERE_REACH and not _denies(words[max(0, last) : at])


def _is_there_beside(item: Item, found: list[Item], words: list[str]) -> bool:
    """ "No wasting and a tremor": who goes on with "a" denies it no longer."""
    led = words[max(0, item.start - 2) : item.start]
    if led[:1] not in (["and"], ["but"]) or led[1:] not in (["a"], ["an"]):
        return False
    denied = (k for k in found if k.kind is ItemKind.SUBJECT and k.end == item.start - 2 and k.ids != item.ids)
    return any(words[k.start - 1] == "no" for k in denied)


def _denies(words: list[str]) -> bool:
    return any(
        (word in _DENYING and words[at + 1 : at + 3] != _MOUTH) or word.endswith("n't") for at, word in enumerate(words)
    )


def _asked_and_denied(
    named: list[Item], found: list[Item], words: list[str], tokens: list[Token], kind_at: list[Kind]
) -> list[Item]:
    """ "Any wasting? No. Any fasciculation? Not in either leg": what was asked about is not there."""
    places = {item.start for item in found if item.kind is ItemKind.SIDE}
    denied: dict[int, int] = {}
    for item in named:
        no = words[item.end : item.end + 1] == ["no"]
        at = item.end + no
        if kind_at[item.start] is not Kind.QUESTION or kind_at[item.end : item.end + 1] != [Kind.RESULT]:
            continue
        if no and (at == len(words) or tokens[at].boundary >= SENTENCE_END):
            denied[item.end] = at
            continue
        place = at + 2 + (words[at + 2 : at + 3] == ["the"])
        if words[at : at + 1] == ["not"] and words[at + 1 : at + 2] in (["in"], ["on"]) and place in places:
            denied[item.end] = at + 1
    kept = [item for item in found if not (item.kind is ItemKind.NEGATION and item.start in denied)]
    return kept + [Item(ItemKind.VALUE, start, end, values={"presence": "absent"}) for start, end in denied.items()]


def _present(at: int) -> Item:
    """That the finding which is named at a token is there, in no word of its own."""
    return Item(ItemKind.VALUE, at, at, values={"presence": "present"}, forward=True)


def _is_adjective(item: Item, found: list[Item], words: list[str]) -> bool:
    """ "The left calf is wasted": the finding is said of a place."""
    if item.end - item.start > 1 or not words[item.start].endswith(_ADJECTIVE):
        return False
    at = item.start
    while at and (words[at - 1].endswith("ly") or words[at - 1] in ("very", "quite", "rather")):
        at -= 1
    part = (other for other in found if other.end == at and other.end > other.start)
    said_of = any(other.kind in WHERE or (other.kind is ItemKind.SUBJECT and other.sites) for other in part)
    said_of = said_of or any(other.muscle and other.start == other.end == item.end for other in found)  # "quads wasted"
    return said_of or words[at - 1 : at] in (["is"], ["are"], ["looks"], ["look"])


def _is_pointed_at(item: Item, values: set[int], words: list[str], tokens: list[Token]) -> bool:
    """ "See that hollow, that's wasting", "he holds it bent, so abnormal posture there"; `values`: where they start."""
    at = item.end + (words[item.end : item.end + 1] in _HERE)
    led = words[item.start - 1 : item.start]
    said = words[item.start - 2 : item.start - 1] if led == ["a"] else led
    ends = at == len(words) or tokens[at].boundary >= SENTENCE_END
    own = not ends and not values.isdisjoint((at, past_small(words, at, values)))
    return not own and (said == ["that's"] or (led == ["so"] and at > item.end))


def _is_free_of(item: Item, words: list[str]) -> bool:
    """ "Both legs are free of fasciculation"."""
    return words[max(0, item.start - 2) : item.start] == ["free", "of"]


def _is_denied_adjective(item: Item, words: list[str]) -> bool:
    """ "The left calf is not wasted", "his hands aren't wasted"."""
    denied = words[item.start - 1 : item.start] in _ISNT or words[max(0, item.start - 2) : item.start] in _IS_NOT
    return denied and item.end - item.start == 1 and words[item.start].endswith(_ADJECTIVE)


def _is_restated(item: Item, found: list[Item], tokens: list[Token]) -> bool:
    """ "There's a rest tremor, so involuntary movement present in the right arm": the same test again, with more."""
    return any(
        other.kind is ItemKind.SUBJECT
        and other.ids == item.ids
        and 0 < other.start - item.end <= 3
        and in_one_sentence(tokens, item.end, other.start + 1)
        and any(value.kind is ItemKind.VALUE and 0 <= value.start - other.end <= 1 for value in found)
        for other in found
    )
