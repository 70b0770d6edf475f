"""From covered tokens and told clauses to items."""

from __future__ import annotations

import itertools
from bisect import bisect_left
from dataclasses import replace
from typing import Any

from pipeline.lexicon.model import Lexicon
from pipeline.mend.matches import Cover, Match
from pipeline.mend.numbers import ONES, Roots
from pipeline.mend.terms import Term, is_side
from pipeline.mend.tokens import BLOCK_END, CLAUSE_MARK, COMMA, SENTENCE_END, Token, closes, in_one_sentence
from pipeline.mend.words import BE
from pipeline.understand.arrange import arranged, same_for, without_stories
from pipeline.understand.cues import OF_A_SIDE
from pipeline.understand.denied_side import denied_of_a_side
from pipeline.understand.disbelieved import disbelieved
from pipeline.understand.doubted import doubted
from pipeline.understand.earlier import doubt_earlier
from pipeline.understand.findings import FindingNames, felt_sharp
from pipeline.understand.grades import COPULAS, counted_aloud, graded, grades_after_roots, is_of_named_things
from pipeline.understand.items import Item, ItemKind, held
from pipeline.understand.muscles import MusclePlaces
from pipeline.understand.omissions import left_out_once, not_duly_tested, omissions, without_reasons
from pipeline.understand.orders import (
    Orders,
    affirming,
    is_asked_for,
    reactions,
    the_other_one,
    tried_again,
    well_then,
    without_praise_of_results,
    without_thanks,
    without_toes_moved,
)
from pipeline.understand.other_tests import without_other_tests
from pipeline.understand.passing import in_passing
from pipeline.understand.presence import LIKE_THAT, Presence
from pipeline.understand.repeats import (
    fine_on_that_side,
    fine_there,
    is_too,
    meant,
    named_once,
    neither_there,
    nor_those,
    not_got,
    of_the_other_side,
    said_once,
    said_wrongly,
    so_are,
    that_side_too,
    throughout_too,
    without_contrasts,
    without_echoes,
    without_scale,
    without_summing,
    without_things,
    without_withdrawn,
    without_words_for,
    without_worse,
    wrong_side,
)
from pipeline.understand.sides import (
    behind_its_name,
    is_direction,
    is_joint,
    is_pair,
    is_side_left,
    is_side_right,
    is_sided,
    is_told_of_a_side,
    moving_side,
    preposed,
    turns,
    without_degrees,
    without_denied,
    without_helping,
)
from pipeline.understand.splitting import PERSON
from pipeline.understand.talk import Clause, Kind, comes_true
from pipeline.understand.telling import Cues
from pipeline.understand.told_last import told_last
from pipeline.understand.words import is_left_out

_LIMBS = {
    **dict.fromkeys(("leg", "legs", "foot", "feet", "lower", "thighs", "calves", "shins"), "lower_limb"),
    **dict.fromkeys(("arm", "arms", "hand", "hands", "forearms", "upper"), "upper_limb"),
}
_JOINTS_OF = {"foot": ("ankle", "toe", "great_toe"), "hand": ("wrist", "finger", "thumb", "grip")}
_SIDES = {
    "side_left": "left",
    "side_right": "right",
    "side_both": "both",
    "side_other": "other",
    "side_compared": "other",
    "side_that": "that",
}
_BEING = (["hang"], ["go"], ["stay"], ["keep"], ["hanging"], ["staying"])
_KEEP_IT = (["keep", "it"], ["keep", "them"], ["leave", "it"], ["make", "it"], ["let", "it"])
"""What leads to how the limb is to be: "hang loose", "keep it floppy"."""
_WHOLLY = frozenset("all nice completely totally really properly and".split())
_SECTION_NEXT = (["tone"], ["power"], ["strength"], ["reflexes"])
"""What begins behind "no fasciculation in either"."""
_LIMBS_NEXT = (["legs"], ["arms"])
_STRUCTURE = {
    "repair": ItemKind.REPAIR,
    "remove": ItemKind.REMOVE,
    "swap_sides": ItemKind.SWAP,
    "except": ItemKind.EXCEPT,
    "throughout": ItemKind.THROUGHOUT,
    "rest": ItemKind.REST,
}
_FOR_IT = (["for", "it"], ["for", "that"], ["for", "this"])
_AFTER_NORMAL_TO = [[word] for word in "be feel have get need want find see hear".split()]
_TO_BE_FRANK = frozenset("honest fair frank blunt candid clear exact precise accurate sure certain truthful".split())
_APOLOGIES = [[word] for word in "about if did for to love dear sir madam mr mrs you was".split()]
_OTHERS = (["folk"], ["folks"], ["people"], ["of"], ["patients"], ["examiners"])
_OWNING = tuple([word] for word in "we've i've have had got".split())
_HANDLING = tuple(
    [word]
    for word in """pulling holding tapping tugging gripping squeezing leaning resting drops drags scuffs catches flick
        flicking snap""".split()
)
_CLASPING = (["hook"], ["link"], ["lock"], ["clasp"], ["grip"], ["squeeze"])
_TOES = frozenset("toe toes".split())
_OF_A_JOINT = frozenset("rotation abduction adduction flexion extension".split())
_ENDINGS = ("flexion", "flexors", "duction", "version")
_ALIKE = ("duction", "version")
"""Endings of movements whose opposites sound alike."""
_TESTS = ("manoeuvre", "muscle")
_GROUPS = ("group_power", "group_reflexes")
_EVEN = (["symmetrical"], ["symmetric"], ["equal"], ["even"], ["bilateral"])
_IN_GENERAL = tuple(
    [word] for word in "comes come takes take tests test means mean goes go needs need from his her my your".split()
)
_NAMED_AFTER_A_TOOL = ("manoeuvre", "muscle", "site", "side_left", "side_right", "side_both")
_OF_A_RESULT = (*_NAMED_AFTER_A_TOOL, "value")
_ONES_TOOL = frozenset("the a my his her your this that with of tendon reflex cold".split())
_LIMB = {"leg": "lower", "arm": "upper"}
_TELLING_OF_IT = (["is"], ["was"], ["gets"], ["manages"], ["makes"])
_SIDE_TOLD_WITHIN, _SIDE_NAMED_WITHIN = 5, 12
"""Most words from "the left is his" to "good side", and from there to a side of its own."""
_SIDED_WITHIN = 5
"""Most words of a clause that only turns to a side."""
_ITS = frozenset("it's it they they're his hers her one ones managed manages".split())

_UNGRADED = frozenset(("plantar", "coordination"))
"""Scales of findings that are told in words alone."""
_AHEAD = (Kind.QUESTION, Kind.PLAN)
_NO_RESULTS = (Kind.TEACHING, Kind.PLAN, Kind.ASIDE)


_OF_THE_SPINE = tuple(
    [word]
    for word in """disc disk discs discectomy prolapse protrusion herniation laminectomy fusion decompression
        foraminotomy microdiscectomy stenosis spondylolisthesis vertebra vertebrae fracture facet facets""".split()
)
"""What stands behind a level of the spine, which is no place where something was felt."""
_ATROPHYING = frozenset("system systems muscular cerebellar optic cortical cerebral".split())
_TO_THE_OTHER = 4
"""Most tokens from what the patient is asked about to the "or" of the question."""
_WAYS = (["down"], ["up"], ["downwards"], ["upwards"])
_OF_THE_READER = (["note"], ["see"], ["remember"], ["record"], ["ask"], ["refer"])
"""What follows "please" where it is said to who reads the record."""
_COMING_FROM = (["from"], ["since"], ["during"], ["after"])
"""What stands before "the same" that is one with something else, and no result."""


def _named_first(named: list[Match], cover: Cover, clause: Clause) -> bool:
    """Whether a test is named before the first grade: not so in "hers is three plus, and the ankle jerk absent"."""
    grade = next((number.start for number in cover.numbers if number.start >= clause.start), clause.end)
    return bool(named) and named[0].start < grade


class Extractor:
    """Items of a whole talk."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._manoeuvres = {m.id: m for m in lexicon.manoeuvres}
        self._muscles = {m.id: m for m in lexicon.muscles}
        self._movements = {m.id for m in lexicon.manoeuvres if m.section == "power"}
        self._orders = Orders(lexicon)
        self._presence = Presence(self._manoeuvres)
        self._muscle_places = MusclePlaces(self._manoeuvres)
        self._findings = FindingNames(lexicon)
        self._scales = {one.id: one.scale for one in lexicon.manoeuvres}
        self._names = {name: one.id for one in lexicon.manoeuvres for name in one.names}

    def _stammered(self, matches: list[Match], tokens: list[Token]) -> set[int]:
        """Where "no no" stands before another finding than the last ("wasting of the calf, no no fasciculation"), it
        denies that and takes nothing back.
        """
        found: set[int] = set()
        last: frozenset[str] = frozenset()
        doubled: Match | None = None
        for match in matches:
            if match.term.text == "no no":
                doubled = match
                continue
            ids = frozenset(m.id for m in match.term.meanings if self._scales.get(m.id) == "presence")
            if ids and doubled is not None and doubled.end == match.start and tokens[match.start].boundary < COMMA:
                found |= set() if ids & last else {doubled.start}
            last = ids or last
        return found

    def items(self, tokens: list[Token], cover: Cover, clauses: list[Clause], cues: Cues) -> list[Item]:
        words = [token.text for token in tokens]
        kind_at: list[Kind] = []
        for clause in clauses:
            kind_at += [clause.kind] * (clause.end - clause.start)
        supposed = _supposed_of(clauses, tokens)
        named = {
            match.start for match in cover.matches if any(m.kind in _NAMED_AFTER_A_TOOL for m in match.term.meanings)
        }
        plain = list(words)
        for match in cover.matches:
            if match.mended:  # what was heard there is no everyday word
                plain[match.start : match.end] = ["-"] * (match.end - match.start)
        found: list[Item] = []
        stammered = self._stammered(cover.matches, tokens)
        understood = {match.end for match in cover.matches if any(m.kind in _OF_A_RESULT for m in match.term.meanings)}
        understood |= {number.end for number in cover.numbers} | {root.end for root in cover.roots}
        for match in cover.matches:
            if match.start in stammered:
                found.append(Item(ItemKind.NEGATION, match.start, match.end))
                continue
            takes_back = any(meaning.kind == "remove" for meaning in match.term.meanings)
            if takes_back and not (match.start in understood or _is_order(match.start, words, tokens)):
                continue  # "people forget that", but "four at the right ankle scratch that"
            if _is_of_a_movement(match, words) or _is_no_complaint(match, words) or _is_remark(match, words):
                continue
            if match.term.text == "hammer" and not _heads(match.start, words, named):
                continue
            if _is_watched(match, words) or _is_a_disease(match, words):
                continue
            if _is_for_somebody(match, words) or _is_mine(match, words) or _is_joint_of(match, words, cover.matches):
                continue
            told = any(meaning.kind in ("manoeuvre", "muscle", *_SIDES) for meaning in match.term.meanings)
            kind = Kind.RESULT if match.start in supposed and told else kind_at[match.start]
            found += self._from_match(match, words, plain, tokens, kind)
        found += [
            Item(ItemKind.SUBJECT, at, at + 1, ("vibration",))
            for at, word in enumerate(words)
            if word == "fork" and kind_at[at] is Kind.RESULT and _heads(at, words, named)
        ]
        found += self._spoken_of(cover, clauses, words, plain, tokens)
        found = self._with_shared_ending(self._at_each_joint(self._clonus_where(found, words), words), words)
        found += [
            Item(ItemKind.OMISSION, item.end, item.end + 1, ("not_done",))
            for item in found
            if item.kind is ItemKind.SUBJECT and is_left_out(words, item.start, item.end)
        ]
        found += not_duly_tested(words, kind_at)
        grades = {number.start for number in cover.numbers if number.unit == "grade"}
        found += _all_of_a_limb(found, words, grades) + _all_but(found, words, grades)
        item_starts = {item.start for item in found}
        item_ends = {item.end for item in found if item.kind is not ItemKind.NEGATION} | {r.end for r in cover.roots}
        subject_ends = {item.end for item in found if item.kind is ItemKind.SUBJECT}
        names = {item.start for item in found if item.kind is ItemKind.SUBJECT and not item.section_only}
        root_ends = {root.end for root in cover.roots}
        for root in cover.roots:
            if words[root.end : root.end + 1] in _OF_THE_SPINE:
                continue  # "consent for a C5 6 discectomy"
            if root.start in root_ends:  # "reduced T10 to L2 | L3 to S1 altered"
                tokens[root.start].boundary = max(tokens[root.start].boundary, COMMA)
            if kind_at[root.start] in (Kind.RESULT, Kind.INSTRUCTION) or (
                kind_at[root.start] is Kind.TEACHING and self._remark(words, root.start)
            ):
                found.append(
                    Item(
                        ItemKind.PLACE,
                        root.start,
                        root.end,
                        root.roots,
                        linked=_linked(words, root.start),
                        weak=root.last_may_be_grade,
                        flags=_flags_of_a_level(root, words),
                    )
                )
        sides = {item.start: item.end for item in found if item.kind is ItemKind.SIDE}
        starts = item_starts | {r.start for r in cover.roots}
        counted = counted_aloud(cover.numbers) | self._presence.nil_before(words, found)
        for number in cover.numbers:
            if is_pair(words, number.start):
                linked = _linked(words, number.start)
                found.append(Item(ItemKind.SIDE, number.start, number.end, ("both",), linked=linked))
            elif kind_at[number.start] is Kind.RESULT:
                if number.unit == "grade" and not number.homophone and number.start not in item_ends:
                    sided = is_sided(number.end, words, tokens, sides)  # "hold them there three on the right"
                    if sided or self._orders.is_short(words, number.start):
                        item_ends.add(number.start)
                item = graded(
                    number,
                    words,
                    tokens,
                    starts,
                    item_ends,
                    subject_ends,
                    names,
                    sides,
                    counted,
                )
                if item:
                    found.append(item)
                    item_ends.add(item.end)
        found = without_other_tests(found, cover.matches, tokens)
        found = self._presence.answered(self._presence.denied(found, words, tokens), words, tokens, kind_at)
        found = self._without_accompaniment(without_echoes(found, words), words, tokens)
        found = [item for item in found if not is_too(item, found, words, tokens)]
        found = felt_sharp(found, words, tokens)
        found = of_the_other_side(meant(found, words, tokens), words, tokens)
        found = wrong_side(said_wrongly(found, words, tokens), words, tokens)
        found = without_contrasts(said_once(found, words, tokens, self._scales), words, tokens)
        found = without_reasons(without_withdrawn(found, words, tokens), words, tokens)
        found += so_are(found, words, kind_at)
        found += that_side_too(found, words, tokens) + not_got(found, words, tokens)
        found += self._presence.seen(words, tokens, kind_at, found)
        found += self._presence.denials(words, tokens, kind_at, found)
        found = self._presence.of_any_sort(found, words, tokens)
        self._presence.no_reflexes(found, words)
        self._presence.doubt_denied(found, words, tokens)
        found = without_things(without_worse(without_summing(without_scale(found, words), words), words), words, tokens)
        found = named_once(found, words, tokens)
        found = without_words_for(found, words)
        found = self._findings.read(found, words, tokens)
        self._muscle_places.of_wasting(found, tokens)
        found += self._presence.named(words, tokens, kind_at, found)
        found = self._presence.answered_by_side(found, words, tokens)
        found += reactions(words, tokens, cues, kind_at, found)
        strong = affirming(found, tokens, cues)
        found = without_toes_moved(found, words)
        found += self._orders.items(words, tokens, clauses, found)
        for item in strong:
            item.weak = not is_asked_for(item, found)
        found = without_thanks(without_praise_of_results(found, words, tokens), self._scales)
        found = the_other_one(tried_again(found, words), words)
        commanded = {at for item in found if item.kind is ItemKind.COMMAND for at in range(item.start, item.end)}
        found = [
            item
            for item in found
            if not (
                item.start in commanded
                and (
                    (item.kind is ItemKind.SUBJECT and item.section_only)
                    or (item.kind is ItemKind.PLACE and item.ids[:1] != ())
                    or (item.kind is ItemKind.VALUE and item.weak and item.grade is None and not item.reaction)
                )
            )
        ]
        found = grades_after_roots(well_then(found, tokens), tokens, self._movements)
        found = without_helping(without_degrees(moving_side(found, words), words), words)
        found.sort(key=lambda item: (item.start, item.kind is ItemKind.NEGATION, item.end))
        found = without_denied(denied_of_a_side(found, words, tokens), words, tokens)
        found = behind_its_name(found, tokens)
        found = doubted(disbelieved(found, words, tokens), words, tokens)
        found = doubt_earlier(found, words, tokens)
        named = {item.end for item in found if item.kind is ItemKind.SUBJECT}
        found = [
            item
            for item in found
            if not (item.kind is ItemKind.HEADING and item.start in named and tokens[item.start].boundary < 0.5)
        ]
        self._doubt_names_of_other_limbs(found)
        found = self._with_ones(found, words)
        self._take_by_root(found)
        self._muscle_places.of_findings(found, words, tokens)
        found = fine_on_that_side(found, words, tokens, self._scales)
        found = arranged(fine_there(found, words, tokens), words, tokens)
        full = {at for start, end in cues.get("full", ()) if end - start > 1 for at in range(start, end)}
        found = self._drop_everyday(found, words, tokens, full)
        omissions(found, words, tokens, cues, kind_at, self._scales)
        found.sort(key=lambda item: (item.start, item.end))
        found = without_other_tests(found, cover.matches, tokens)  # "slump he declined": now a result
        found = neither_there(nor_those(left_out_once(found, words), words), words, self._scales)
        found = throughout_too(found)
        found = in_passing(without_stories(same_for(found, words), words, tokens), words, tokens)
        self._mark_idle(found, words, tokens, kind_at)
        return told_last(found, words, tokens, self._scales)

    def _mark_idle(self, found: list[Item], words: list[str], tokens: list[Token], kind_at: list[Kind]) -> None:
        """Tests named in a plan ("we will check | vibration next time"), to the patient ("your knee jerk"), in general
        ("the knee jerk comes from L3"), or in a question, unless it asks what is to be seen ("any wasting?"); and what
        is no name ("he grips his hands").
        """
        ahead: list[Kind | None] = []  # for each token, the question or plan that its sentence has come to
        for at, token in enumerate(tokens):
            led = ahead[-1] if ahead and token.boundary < CLAUSE_MARK else None
            ahead.append(kind_at[at] if kind_at[at] in _AHEAD else led)
        sides = {item.end: tokens[item.start].boundary for item in found if item.kind is ItemKind.SIDE}
        for item in found:
            if item.kind is ItemKind.SUBJECT:
                kind = ahead[item.start]
                looked_for = kind is Kind.QUESTION and self._scales.get(item.ids[0]) == "presence"
                general = words[item.end : item.end + 1] in _IN_GENERAL
                to_patient = words[item.start - 1 : item.start] == ["your"]
                # "Left knee jerk, what would you give it? Three plus."
                headed = kind is Kind.QUESTION and sides.get(item.start, 0.0) >= CLAUSE_MARK
                item.announces = (looked_for or headed or kind is None) and not (general or to_patient)

    def _spoken_of(
        self, cover: Cover, clauses: list[Clause], words: list[str], plain: list[str], tokens: list[Token]
    ) -> list[Item]:
        """ "You lose the ankle jerks first. His right one is absent": the test spoken of, for a person to see."""
        out: list[Item] = []
        spoken: Match | None = None
        starts = [match.start for match in cover.matches]
        grades = {number.start for number in cover.numbers}
        talked_until = {clause.end for clause in clauses if clause.kind in _NO_RESULTS}
        for clause in clauses:
            within = cover.matches[bisect_left(starts, clause.start) : bisect_left(starts, clause.end)]
            named = [
                match for match in within if any(m.section is None and m.kind in _TESTS for m in match.term.meanings)
            ]
            if clause.kind in _NO_RESULTS:
                sure = [match for match in named if not match.mended] or named
                spoken = sure[-1] if sure else spoken
                continue
            if clause.kind is Kind.QUESTION:
                spoken = next(
                    (match for match in within if any(m.kind in _GROUPS for m in match.term.meanings)), spoken
                )
                continue
            if clause.kind is not Kind.RESULT or not (within or clause.end - clause.start > 1):
                continue
            sided = bool(within) and all(m.kind in _SIDES for match in within for m in match.term.meanings)
            sided = sided and grades.isdisjoint(range(clause.start, clause.end))
            if sided and spoken is not None and clause.end - clause.start <= _SIDED_WITHIN:
                continue  # "usually it is two plus; here on the left | it is absent"
            opens = words[clause.start : min(clause.start + 4, clause.end)]
            # "You'd expect it to go, and it has, zero on both sides"
            graded = not named and clause.start in grades and clause.start in talked_until
            if spoken is not None and (
                graded or (not _ITS.isdisjoint(opens) and not _named_first(named, cover, clause))
            ):
                items = self._from_match(spoken, words, plain, tokens, Kind.RESULT)
                out += [
                    replace(item, start=clause.start, end=clause.start, flags=("manoeuvre_unsaid",))
                    for item in items
                    if item.kind in (ItemKind.SUBJECT, ItemKind.HEADING)
                ]
            spoken = None
        return out

    def _clonus_where(self, found: list[Item], words: list[str]) -> list[Item]:
        """ "Clonus at the right knee sustained, at the ankle absent", "the patella's clonus": which joint's it is."""
        if "clonus" not in words:
            return found
        out: list[Item] = []
        asked: Item | None = None  # clonus, under examination
        told = False  # of a joint
        before: Item | None = None  # the last joint named, and what clonus is called there
        led = ""
        for item in sorted(found, key=lambda item: item.start):
            joint = self._names.get(f"{words[item.start].removesuffix('s')} clonus") if item.is_place else None
            last = next((other for other in reversed(out) if other.kind is not ItemKind.SIDE), None)
            if item.kind is ItemKind.SUBJECT and words[item.start : item.end] == ["clonus"]:
                told = before is not None and before is last and words[before.end : item.start] in ([], ["'s"])
                if before is not None and told:
                    out.remove(before)
                    item = replace(item, ids=(led,))
                asked = item
            elif joint is not None and asked is not None and _linked(words, item.start):
                if asked is last and _TO_A_JOINT.issuperset(words[asked.end : item.start]):
                    asked.ids, told = (joint,), True
                    continue
                item = item if not told else replace(asked, start=item.start, end=item.end, ids=(joint,))
            elif item.kind is ItemKind.SUBJECT and not item.section_only:
                asked = None
            before, led = (item, joint) if joint is not None else (before, led)
            out.append(item)
        return out

    def _at_each_joint(self, found: list[Item], words: list[str]) -> list[Item]:
        """ "Extension at the hip and at the knee": the movement of the second joint, too."""
        moved = {
            item.end: words[item.start]
            for item in found
            if item.kind is ItemKind.SUBJECT and words[item.start + 1 : item.start + 2] in (["at"], ["of"])
        }
        if not moved:
            return found
        out = []
        for item in found:
            led = item.start
            while words[led - 1] in ("at", "of", "the") and led > 0:
                led -= 1
            movement = moved.get(led - 1) if words[led - 1] == "and" else None
            joint = " ".join(words[item.start : item.end])
            named = self._names.get(f"{joint} {movement}")
            if movement is not None and named is not None and item.is_place:
                out.append(replace(item, kind=ItemKind.SUBJECT, start=led, ids=(named,), sites=(), section_only=False))
            else:
                out.append(item)
        return out

    def _with_shared_ending(self, found: list[Item], words: list[str]) -> list[Item]:
        """ "Dorsi and plantarflexion": the first movement has the ending of the second."""
        shared: list[Item] = []
        for item in found:
            last = item.match.term.words[-1] if item.kind is ItemKind.SUBJECT and item.match is not None else ""
            ending = next((ending for ending in _ENDINGS if last.endswith(ending)), None)
            begun = item.start - 2
            if ending is None or begun < 0 or words[begun + 1] != "and":
                continue
            named = self._names.get(words[begun] + ending)
            if named is not None:
                shared.append(replace(item, start=begun, end=begun + 1, ids=(named,), muscle=None, values={}))
        taken = {item.start for item in shared}
        return [item for item in found if item.start not in taken] + shared

    def _without_accompaniment(self, found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
        """ "Finger nose is impaired, with a tremor, and normal on the right": the tremor is no test of its own."""
        coordinated = [
            item.start
            for item in found
            if item.kind is ItemKind.SUBJECT and self._manoeuvres[item.ids[0]].scale == "coordination"
        ]

        def accompanies(item: Item) -> bool:
            if item.kind is not ItemKind.SUBJECT or "with" not in words[max(0, item.start - 3) : item.start]:
                return False
            before = max((at for at in coordinated if at < item.start), default=None)
            return (
                before is not None
                and self._manoeuvres[item.ids[0]].scale == "presence"
                and in_one_sentence(tokens, before + 1, item.start + 1)
            )

        def repeats(item: Item) -> bool:
            """ "Increased in the right arm with cogwheeling": said again in other words."""
            if item.kind is not ItemKind.VALUE or words[item.start - 1 : item.start] != ["with"]:
                return False
            last = max(
                (other for other in found if other.kind is ItemKind.VALUE and other.end < item.start),
                key=lambda other: other.end,
                default=None,
            )
            return (
                last is not None
                and bool(item.values)
                and item.values.items() <= last.values.items()
                and item.start - last.end <= _ACCOMPANYING
                and in_one_sentence(tokens, last.end, item.start + 1)
                and not any(other.kind is ItemKind.SUBJECT and last.end <= other.start < item.start for other in found)
            )

        inspected = self._inspected(found)
        return [
            item
            for item in found
            if not (accompanies(item) or repeats(item) or _describes(item, inspected, words, tokens))
        ]

    def _inspected(self, found: list[Item]) -> set[int]:
        """Where findings of inspection are named."""
        return {
            item.start
            for item in found
            if item.kind is ItemKind.SUBJECT
            and item.ids[0] in self._manoeuvres
            and self._manoeuvres[item.ids[0]].section == "inspection"
        }

    def _remark(self, words: list[str], at: int) -> bool:
        """ "that's mostly L5": a root said as a remark on what was just examined."""
        return any(
            word in ("that's", "that", "which", "it's", "this", "mostly", "mainly", "testing")
            for word in words[max(0, at - 4) : at]
        )

    def _from_match(
        self, match: Match, words: list[str], plain: list[str], tokens: list[Token], kind: Kind
    ) -> list[Item]:
        subjects: list[str] = []
        sites: list[str] = []
        values: dict[str, str] = {}
        muscle = nerve = None
        section_only = True
        out: list[Item] = []
        flags = (_flag_of(match.term),) if match.placed else ("misheard_term",) if match.mended else ()
        common: dict[str, Any] = {"match": match, "probability": match.probability, "flags": flags}
        heading: list[str] = []
        for meaning in match.term.meanings:
            if meaning.kind == "manoeuvre":
                subjects.insert(0 if meaning.section is None else len(subjects), meaning.id)
                section_only = section_only and meaning.section is not None
            elif meaning.kind == "muscle":
                muscle = meaning.id
                section_only = False
                if self._muscles[meaning.id].manoeuvre not in subjects:
                    subjects.insert(0, self._muscles[meaning.id].manoeuvre)
            elif meaning.kind == "nerve":
                nerve = meaning.id
            elif meaning.kind == "site" and not (match.start and words[match.start - 1] == "my"):
                sites.append(meaning.id)
            elif meaning.kind == "value":
                scale, value = meaning.id.split(":", 1)
                values.setdefault(scale, value)
            elif (
                meaning.kind in _SIDES and kind is Kind.PLAN and len(match.term.words) == 1 and not turns(match, tokens)
            ):
                continue  # "impression, right L5 root": a diagnosis, not a side to go on with
            elif meaning.kind in _SIDES and kind in (Kind.RESULT, Kind.INSTRUCTION, Kind.PLAN, Kind.QUESTION):
                if (
                    meaning.kind == "side_right"
                    and match.term.text == "right"
                    and not is_side_right(match, plain, tokens)
                ):
                    continue
                if meaning.kind == "side_compared":
                    if kind is Kind.RESULT and _is_turned_to_side(match, words, tokens):
                        common["flags"] = (*flags, "side_uncertain")
                        out.append(Item(ItemKind.SIDE, match.start, match.end, ("other",), linked=True, **common))
                    elif kind in (Kind.RESULT, Kind.INSTRUCTION, Kind.PLAN) and words[match.end - 1] in _LIMB:
                        limb = _LIMB[words[match.end - 1]]  # "I'm just doing the affected leg"
                        out.append(Item(ItemKind.REGION, match.end - 1, match.end, (limb,), **common))
                    continue
                if match.term.text == "both" and words[match.end : match.end + 1] in _NO_SIDES:
                    continue  # "I do it both when I'm sure and when I'm not"
                if match.term.text == "both" and kind is Kind.QUESTION:
                    continue  # "why the thumb? Because a root would take both"
                if match.term.text == "both" and _joins_two(words, match.end):
                    continue
                if (
                    match.term.text == "both"
                    and words[match.start - 1 : match.start] == ["at"]
                    and _is_of_those(match, words)
                ):
                    continue  # "normal at both of those on the left": of the levels just named
                ended = match.end >= len(tokens) or tokens[match.end].boundary >= SENTENCE_END
                ended = ended and words[match.start - 1] in _IN  # "no wasting in either"; but "none in it either"
                after = words[match.end : match.end + 1]
                ended = ended or (after in _SECTION_NEXT and words[match.start - 1] in _IN)
                ended = ended or after in _LIMBS_NEXT  # "no wasting either, legs likewise"
                if match.term.text == "either" and words[max(0, match.start - 2) : match.start] == ["none", "of"]:
                    continue  # "wasting and fasciculations I see none of either"
                if match.term.text == "either" and not (ended or is_joint(after)):
                    continue  # "either way"
                if meaning.kind == "side_left" and match.term.text == "left" and not is_side_left(match, plain, tokens):
                    continue
                if len(match.term.words) == 1 and is_direction(words, match.start):
                    continue
                if match.term.words[0] == "two" and words[match.start - 1 : match.start] in (["for"], ["of"]):
                    continue  # "it does the work of two legs"
                ordered = [word for word in match.term.words if word in ("left", "right")]
                out.append(
                    Item(
                        ItemKind.SIDE,
                        match.start,
                        match.end,
                        (_SIDES[meaning.kind],),
                        unit=" ".join(ordered) if len(ordered) == 2 else None,
                        linked=preposed(words, match.start),
                        **common,
                    )
                )
            elif (
                meaning.kind in ("region_lower", "region_upper", "region_all")
                and not _is_tool(words, match.start)
                and kind in (Kind.RESULT, Kind.INSTRUCTION, Kind.PLAN)
            ):
                out.append(
                    Item(ItemKind.REGION, match.start, match.end, (meaning.kind.removeprefix("region_"),), **common)
                )
            elif words[match.start - 1 : match.start] == ["the"] and words[match.end : match.end + 2] in _FOR_IT:
                continue  # "she hasn't the strength for it"
            elif meaning.kind.startswith(("section_", "group_")) and (
                kind in (Kind.RESULT, Kind.INSTRUCTION, Kind.PLAN)
                or match.term.text == "hammer"
                or _is_turned_to(match, words)
            ):
                heading.append(meaning.kind)
            elif match.term.text == "sorry" and _is_apology(words, match.end):
                continue
            elif match.term.text == "make that" and words[match.start - 1 : match.start] in (["i"], ["i'd"], ["we"]):
                continue  # "I make that four" is a result, "make that four" a correction
            elif match.term.text == "i mean" and words[match.start - 1 : match.start] in (["which"], ["that"]):
                continue  # "by which I mean": no correction
            elif meaning.kind == "repair" and words[match.end : match.end + 1] == ["about"]:
                continue  # "I misspoke about the plantars": what is put right comes after
            elif (
                meaning.kind == "repair"
                and match.term.text.startswith("let me")
                and (not _closes(match.end, tokens) or words[match.end : match.end + 1] in (["yes"], ["yeah"], ["yep"]))
            ):
                continue  # "let me repeat that on the other side"
            elif meaning.kind in _STRUCTURE and (kind is Kind.RESULT or meaning.kind in ("remove", "repair")):
                out.append(Item(_STRUCTURE[meaning.kind], match.start, match.end, **common))
            elif meaning.kind in ("same", "mirror") and (
                is_of_named_things(words, match.end) or words[match.start - 1 : match.start] in _COMING_FROM
            ):
                continue  # "right leg, same game", "in a cast from the same fall"
            elif meaning.kind in ("same", "mirror") and any(item.same for item in out):
                continue  # "same" is both
            elif meaning.kind in ("same", "mirror") and kind is Kind.RESULT:
                out.append(Item(ItemKind.VALUE, match.start, _past_each(words, match.end), same=True, **common))
            elif meaning.kind == "not_done" and words[match.start - 1 : match.end] == ["the", "left", "out"]:
                out.append(
                    Item(ItemKind.SIDE, match.start, match.start + 1, ("left",))
                )  # "and the left. Out to the side"
            elif meaning.kind == "not_done" and kind in (Kind.RESULT, Kind.PLAN) and not _is_of_much(match, words):
                out.append(Item(ItemKind.OMISSION, match.start, match.end, ("not_done",), **common))
            elif meaning.kind == "weakness" and kind is Kind.RESULT:
                values.setdefault("mrc", "reduced")
        regions = tuple(dict.fromkeys(_LIMBS[word] for word in match.term.words if word in _LIMBS))
        for item in out:
            if item.kind is ItemKind.SIDE:
                item.sites = regions
        if subjects and any(
            meaning.section is None for meaning in match.term.meanings if meaning.kind in ("manoeuvre", "muscle")
        ):
            heading = []
        if heading:
            subjects = []
            sections = tuple(h.removeprefix("section_") for h in heading if h.startswith("section_"))
            groups = tuple(h.replace("group_", "group:") for h in heading if h.startswith("group_"))
            out.append(Item(ItemKind.HEADING, match.start, match.end, sections + groups, **common))
        if (
            subjects
            and kind in (Kind.RESULT, Kind.INSTRUCTION, Kind.QUESTION)
            and (kind is Kind.RESULT or not section_only or self._is_felt_next(subjects, match, tokens))
        ):
            if section_only and (_is_held(words, match.start) or _is_asked_about(match, words)):
                return out  # "pulling on the finger"
            if section_only and "plantar_response" in subjects and _is_told_to_go(words, match.end):
                subjects, sites, section_only = ["plantar_response"], [], False  # "the toes are up"
            listed = words[match.end : match.end + 1] == ["and"]  # "biceps, supinator and triceps jerks"
            unheard = match.mended and not (listed or words[match.end - 1].endswith("s"))
            one = _names_its_finder(match.term.words[-1]) and words[match.end : match.end + 1] not in _ARE
            plural = is_plural(match) and not (unheard or one)
            out.append(
                Item(
                    ItemKind.SUBJECT,
                    match.start,
                    match.end,
                    tuple(subjects),
                    values=values,
                    muscle=muscle,
                    nerve=nerve,
                    plural=plural,
                    section_only=section_only,
                    sites=tuple(sites),
                    linked=_linked(words, match.start),
                    **common,
                )
            )
        elif (
            kind is Kind.RESULT
            and values
            and words[match.start - 1 : match.start] != ["any"]
            and not (match.term.text == "nothing" and words[match.start - 1 : match.start] in _OWNING)
            and words[match.start : match.start + 3] != LIKE_THAT
            and not (match.term.text == "some" and words[match.end : match.end + 1] in _OTHERS)
            and not (_is_asked_of_patient(match.end, words) or _is_of_somebody(match, words, tokens))
            and not ("tone" in values and _is_to_be_so(match.start, words))
            and not (words[match.end : match.end + 1] == ["or"] and words[match.end + 1 : match.end + 2] in _WAYS)
            and not (words[match.end : match.end + 1] == ["one"] and words[match.start - 2 : match.start] in _YOU)
            and not _is_normal_to(match.end, words)
            and not any(
                item.kind is not ItemKind.REGION for item in out if item.kind is not ItemKind.VALUE or not item.same
            )
        ):
            negated = (
                bool(match.start)
                and words[match.start - 1] in ("not", "isn't", "aren't", "wasn't", "weren't", "never")
                and tokens[match.start].boundary < 1
            )
            out = [item for item in out if not item.same]
            if "plantar" in values and match.term.words[0] in _TOES and is_told_of_a_side(words, match.end):
                named = Item(ItemKind.SUBJECT, match.start, match.start, ("plantar_response",), plural=True, **common)
                out.append(named)  # "toes down both sides": an order names no two sides
            everyday = len(match.term.words) == 1 and match.term.words[0] in _EVERYDAY
            out.append(
                Item(
                    ItemKind.VALUE,
                    match.start,
                    match.end,
                    values=values,
                    negated=negated,
                    weak=everyday,
                    same=match.term.text in ("the same", "same"),
                    sites=tuple(sites),
                    **common,
                )
            )
        elif sites and kind in (Kind.RESULT, Kind.INSTRUCTION) and not subjects:
            out.append(
                Item(
                    ItemKind.PLACE,
                    match.start,
                    match.end,
                    tuple(sites),
                    linked=_linked(words, match.start),
                    plural=words[match.end - 1].endswith("s"),
                    **common,
                )
            )
        elif nerve and kind is Kind.RESULT and not subjects:
            out.append(Item(ItemKind.PLACE, match.start, match.end, (), nerve=nerve, **common))
        return out

    def _is_felt_next(self, subjects: list[str], match: Match, tokens: list[Token]) -> bool:
        """ "Pin. Right L4 normal": what is felt, as a sentence of its own, is no order."""
        alone = tokens[match.start].boundary >= CLAUSE_MARK and match.end < len(tokens)
        return (
            alone
            and tokens[match.end].boundary >= COMMA
            and any(self._manoeuvres[one].sites == "dermatome" for one in subjects)
        )

    def _drop_everyday(self, items: list[Item], words: list[str], tokens: list[Token], full: set[int]) -> list[Item]:
        """Everyday words ("down", "some") are findings only where they stand at a subject that they fit."""

        def fits(subject: Item, value: Item) -> bool:
            return any(one in self._manoeuvres and self._manoeuvres[one].scale in value.values for one in subject.ids)

        near = {
            item.end: item
            for item in items
            if item.kind in (ItemKind.SUBJECT, ItemKind.SIDE, ItemKind.PLACE, ItemKind.HEADING, ItemKind.REPAIR)
        }
        after = {item.start: item for item in items if item.kind is ItemKind.SUBJECT}
        sides = {item.start: item.end for item in items if item.kind is ItemKind.SIDE}
        felt_at = {item.start for item in items if self._is_where_felt(item)}
        wide = {item.start for item in items if item.kind is ItemKind.THROUGHOUT}  # "it's full throughout"
        stated = {item.start for item in items if item.kind is ItemKind.VALUE}
        kept = []
        tested: Item | None = None  # what was named or asked for last
        for item in items:
            if item.kind is ItemKind.COMMAND or (item.kind is ItemKind.SUBJECT and not _is_a_toe(item, words)):
                tested = item
            if item.kind is ItemKind.VALUE and (_is_course(item, words, stated) or _is_of_range(item, words)):
                continue
            if (
                item.kind is ItemKind.VALUE
                and item.weak
                and item.grade is None
                and not item.reaction
                and not item.same
                and item.values
                and item.start not in full
            ):
                at = item.start
                if words[at - 1 : at] == ["and"] and words[max(0, at - 2) : at - 1] in _EVEN:
                    at -= 2  # "strength symmetrical and full in the legs"
                first = at - 3
                while (
                    at > max(0, first)
                    and at not in near
                    and (words[at - 1] in _BEFORE_FINDINGS or words[at - 1] in COPULAS)
                ):
                    at -= 1
                anchor = near.get(at)
                of_a_side = words[item.end : item.end + 3] in OF_A_SIDE  # "ankle jerks. Nothing on the right"
                copula = any(words[k] in COPULAS for k in range(at, item.start))
                stands = (
                    anchor is not None
                    and (tokens[item.start].boundary < 1 or (of_a_side and anchor.kind is ItemKind.SUBJECT))
                    and (anchor.kind is not ItemKind.SUBJECT or fits(anchor, item))
                    and not (
                        (anchor.kind is ItemKind.PLACE or (anchor.kind is ItemKind.SIDE and anchor.sites))
                        and words[item.start] in ("up", "down")
                        and "it's" not in words[at : item.start]
                    )  # "jerk the foot up"
                )
                contrasted = words[item.start - 1] in ("and", "but") or tokens[item.start].boundary >= COMMA
                joined = contrasted and words[item.end : item.end + 3] in OF_A_SIDE
                stands = stands or words[item.start - 1] == "say"  # "on the right I would now say strong"
                stands = stands or (joined and (item.start - 1 in near or _is_of_other_side(item, items, words)))
                stands = stands or ("sensation" in item.values and _is_at_a_place(item, words, tokens, felt_at))
                follows = after.get(item.end)
                if item.end in sides and tokens[item.end].boundary < COMMA:
                    follows = follows or after.get(sides[item.end])  # "a weak left grip"
                if not (
                    copula
                    or item.end in wide
                    or (tested is not None and fits(tested, item) and _is_what_it_did(item, words, tokens))
                    or (stands and not _is_way(item, words))
                    or (follows is not None and fits(follows, item))
                ):
                    continue  # "no sorry, down to S1"
            kept.append(item)
        return kept

    def _with_ones(self, found: list[Item], words: list[str]) -> list[Item]:
        """ "Plantars, right one up, left one down": of a test that has no grades "one" is no grade, but the toe.

        Nor is the "for" of "neurotip for pinprick".
        """
        kept: list[Item] = []
        graded = True
        for item, following in itertools.zip_longest(found, found[1:]):
            if item.kind in (ItemKind.SUBJECT, ItemKind.HEADING, ItemKind.COMMAND):
                graded = self._scales.get(item.ids[0]) not in _UNGRADED
            last = kept[-1] if kept else None
            if last is not None and last.end == item.start and self._is_felt(last) and words[item.start] == "for":
                continue
            side = last if last is not None and last.kind is ItemKind.SIDE else None
            told = following is not None and following.kind is ItemKind.VALUE and following.start == item.end
            if not graded and side is not None and side.end == item.start and words[item.start : item.end] == ["one"]:
                side.end += told
                if told:
                    continue
            elif not graded and item.kind is ItemKind.SIDE and words[item.end : item.end + 1] == ["one"]:
                item.end += following is None or following.start != item.end
            kept.append(item)
        return kept

    def _is_felt(self, item: Item) -> bool:
        return item.kind is ItemKind.SUBJECT and self._scales.get(item.ids[0]) == "sensation"

    def _doubt_names_of_other_limbs(self, found: list[Item]) -> None:
        """ "Quads lip five": a name that was made out right behind one of the other limb may be what is left of it, and
        "finger a duction" is no movement of the hip.
        """
        named = [item for item in found if item.kind is ItemKind.SUBJECT and item.ids[0] in self._movements]
        for one, two in itertools.pairwise(named):
            limbs = {self._manoeuvres[item.ids[0]].region for item in (one, two)}
            made_out = two.match is not None and two.match.mended and two.start == one.end
            if made_out and limbs == {"lower_limb", "upper_limb"}:
                two.flags += ("manoeuvre_unsaid",)
        arm = {item.end for item in found if item.is_place and not _OF_AN_ARM.isdisjoint(item.sites or item.ids)}
        parts = {item.end: item.match.term.text for item in found if item.is_place and item.match}
        for item in named:
            joints = _JOINTS_OF.get(parts.get(item.start, ""))
            if joints and not item.ids[0].startswith(joints):
                item.flags += ("manoeuvre_unsaid",)  # "hip flexion four, foot extension three": not the hip again
            if item.start in arm and self._manoeuvres[item.ids[0]].region == "lower_limb":
                item.flags += ("manoeuvre_unsaid",)

    def _take_by_root(self, found: list[Item]) -> None:
        """ "Hip a duction four, L5": of two opposites that sound alike the one that the root supplies, and shown."""
        named: Item | None = None
        for item in found:
            if item.kind in (ItemKind.SUBJECT, ItemKind.COMMAND):
                made_out = item.match is not None and item.match.mended and item.ids[0] in self._movements
                named = item if made_out and item.ids[0].endswith(_ALIKE) else None
            elif named is not None and item.is_level:
                one = self._manoeuvres[named.ids[0]]
                other = self._manoeuvres.get(one.opposite or "")
                own = {root.root for root in one.roots}
                if (
                    other is not None
                    and own.isdisjoint(item.ids)
                    and {root.root for root in other.roots} >= {*item.ids}
                ):
                    named.ids, named.flags = (other.id,), (*named.flags, "manoeuvre_unsaid")
                named = None

    @staticmethod
    def _is_where_felt(item: Item) -> bool:
        """A dermatome, or a joint in words that name no test by themselves."""
        return item.is_level or (item.is_place and {"arm", "leg"}.isdisjoint(item.sites or item.ids))


def _describes(item: Item, inspected: set[int], words: list[str], tokens: list[Token]) -> bool:
    """ "There is a jerky involuntary movement": what it is like, no result of another test."""
    return (
        item.kind is ItemKind.VALUE
        and item.grade is None
        and not item.same
        and "presence" not in item.values
        and words[item.start - 1] not in COPULAS
        and item.end in inspected
        and tokens[item.end].boundary < COMMA
    )


def _is_of_other_side(value: Item, items: list[Item], words: list[str]) -> bool:
    """ "Impaired on the right, she catches the toe, and fine on the left": a contrast, whatever was said in between."""
    sides = [item for item in items if item.kind is ItemKind.SIDE and value.start - item.end < _CONTRASTING]
    last = max((side for side in sides if side.end < value.start), key=lambda side: side.end, default=None)
    return last is not None and {last.ids[0], words[value.end + 2]} == {"left", "right"}


_CONTRASTING = 8
"""Most tokens from a result on one side to that on the other."""


def _is_turned_to(heading: Match, words: list[str]) -> bool:
    """ "Now power, and people expect weakness here, but it's full": what is examined, whatever is said of it first."""
    before, after = words[max(0, heading.start - 1) : heading.start], words[heading.end : heading.end + 1]
    return before in (["now"], ["next"], ["then"]) and after in (["and"], ["which"], ["where"])


def _is_way(finding: Item, words: list[str]) -> bool:
    """ "Down to S1", "up the outside of the sole": where something goes, no finding."""
    after = words[finding.end : finding.end + 2]
    return words[finding.start] in ("up", "down") and (
        after[:1] == ["to"] or (after[:1] in (["the"], ["his"], ["her"]) and after[1:] in _STROKED)
    )


def _is_course(finding: Item, words: list[str], stated: set[int]) -> bool:
    """ "So that goes down as present", "we'll go down the arms": what is written, or comes next, and no toe."""
    after = words[finding.end : finding.end + 2]
    written = after[:1] == ["as"] and finding.end + 1 in stated
    return words[finding.end - 1] == "down" and (written or after in (["the", "arms"], ["the", "legs"]))


def _is_of_range(finding: Item, words: list[str]) -> bool:
    """ "Full range of movement": how far a joint moves, and not with what power."""
    return words[finding.end : finding.end + 1] == ["range"] and words[finding.start] in ("full", "normal", "good")


_STROKED = tuple([word] for word in "outside outer lateral sole side edge border foot middle shin".split())


def _is_at_a_place(finding: Item, words: list[str], tokens: list[Token], places: set[int]) -> bool:
    """ "And gone at C7", "lost at the left great toe": with a place of its own an everyday word is a finding."""
    at = finding.end
    if words[at : at + 1] not in (["at"], ["over"], ["from"], ["in"]):
        return False
    while at < len(words) and words[at] in _TO_A_PLACE:
        at += 1
    return at in places and in_one_sentence(tokens, finding.end, at + 1)


_TO_A_PLACE = frozenset("at over from in the left right both".split())
_IN = frozenset("in on at of for with over".split())


def _is_apology(words: list[str], at: int) -> bool:
    """ "Sorry about that", "positive on the right, sorry, sorry, and negative on the left": nothing is taken back."""
    if words[at : at + 1] in _APOLOGIES:
        return True
    while words[at : at + 1] == ["sorry"]:
        at += 1
    return words[at : at + 1] == ["and"]


_SINGULAR = ("is", "us", "ceps")
"""Endings of one muscle ("brachioradialis", "biceps")."""


def is_plural(match: Match) -> bool:
    """Whether a term names the tests of both sides ("plantars"); misheard, its "s" may not have been said."""
    last = match.term.words[-1]
    return last.endswith("s") and not last.endswith(_SINGULAR) and last not in ("quads", "fasciculations")


def _names_its_finder(last: str) -> bool:
    """ "Hoffmann's absent", "Babinski's": the sign of somebody, and no more than one; but "Hoffmann's are absent"."""
    return last.endswith("'s") or last == "hoffmanns"


_ARE = (["are"], ["were"])
"""What shows that a sign was looked for on both sides."""


_BEFORE_ORDERS = frozenset(
    """no sorry actually oh please and so wait right okay ok then but hang well just zero one two three four five plus
        minus + - left right sides absent normal reduced present impaired""".split()
)
_TELLING_HOW = frozenset("that's it's that it and so there goes is".split())
_OF_AN_ARM = frozenset("finger wrist elbow".split())
_EVERYDAY = frozenset(
    """stable patchy down up good fine there full strong some nothing steady high low easy free slow trace
        seen down obvious equal different odd funny strange changed gone lost less poor stiff weak sharper
        dull blunt spread quiet marked slight mild correct irregular""".split()
)


def _is_a_toe(item: Item, words: list[str]) -> bool:
    """ "I'll move your big toe. Up or down? Down": in another test what the patient says of it."""
    return item.section_only and words[item.end - 1] in ("toe", "toes")


def _is_what_it_did(item: Item, words: list[str], tokens: list[Token]) -> bool:
    """ "Scratching the sole. That's down", "left sole, down": nothing but the way that the toe went."""
    ended = item.end == len(tokens) or (tokens[item.end].boundary >= COMMA and words[item.end] not in ("you", "we"))
    if "plantar" not in item.values or not ended:
        return False
    at = item.start
    while at > 0 and tokens[at].boundary < COMMA and words[at - 1] in _TELLING_HOW:
        at -= 1
    return tokens[at].boundary >= COMMA


def _is_order(at: int, words: list[str], tokens: list[Token]) -> bool:
    return at == 0 or tokens[at].boundary >= 0.5 or words[at - 1] in _BEFORE_ORDERS


def _closes(end: int, tokens: list[Token]) -> bool:
    """Whether "let me repeat that" stands for itself, and not of the other side ("... on the left")."""
    return end == len(tokens) or tokens[end].boundary >= 0.5 or tokens[end].text not in _GOING_ON


_GOING_ON = frozenset("on with for in at over to and".split())


def _is_tool(words: list[str], start: int) -> bool:
    """ "pushes up with her arms": a limb that is used, not examined."""
    return (
        start > 1
        and words[start - 1] in ("his", "her", "my", "their")
        and words[start - 2] in ("with", "by", "using", "on")
    )


def _linked(words: list[str], start: int) -> bool:
    """A preposition binds the place to the value before it: "reduced at L5", "absent over the left L5"."""
    for at in range(start - 1, max(-1, start - 5), -1):
        if words[at] in ("at", "in", "over", "on", "to", "from", "of", "around", "for", "across", "below", "under"):
            return True
        if words[at] not in (
            "the",
            "left",
            "right",
            "both",
            "his",
            "her",
            "either",
            "s",
            "great",
            "dermatome",
            "lateral",
            "medial",
        ):
            return False
    return False


def _heads(tool: int, words: list[str], named: set[int]) -> bool:
    """ "Hammer, biceps two", "fork, great toes normal": a test is done with it; not so "my hammer", "hammer toes"."""
    return tool + 1 in named and words[tool - 1] not in _ONES_TOOL and words[tool + 1] not in _TOES


def _is_no_complaint(match: Match, words: list[str]) -> bool:
    """ "It's not weakness that bothers him", "weakness isn't the trouble": no result."""
    after = words[match.end : match.end + 3]
    denied = "not" in words[max(0, match.start - 2) : match.start]
    denied = denied or after[:2] == ["isn't", "the"] or after == ["is", "not", "the"]
    return match.term.text == "weakness" and denied


def _is_watched(match: Match, words: list[str]) -> bool:
    """ "Watch the quads, not the foot": where a jerk is seen, no test."""
    at = match.start
    while at > 0 and words[at - 1] in ("the", "his", "her", "your"):
        at -= 1
    return at < match.start and words[at - 1] in ("watch", "watching")


def _is_of_much(match: Match, words: list[str]) -> bool:
    """ "A lot of this can't be done", "most of it was not tested", "I haven't examined the legs": of the examination,
    not of the last test.
    """
    limb = words[match.end : match.end + 1] in _DETERMINERS and words[match.end + 1 : match.end + 2] in _EXAMINED
    if limb and match.term.words[-1].startswith("examin"):
        return True
    before = words[max(0, match.start - 5) : match.start]
    return any(
        much in _MUCH and of == "of" and it in ("this", "that", "it")
        for much, of, it in zip(before, before[1:], before[2:], strict=False)
    )


_EXAMINED = tuple([word] for word in _LIMBS)
_MUCH = frozenset("lot much most some half rest any all bits".split())


def _is_remark(match: Match, words: list[str]) -> bool:
    """ "The fork's cold, sorry", "my hands are warm", "I'd normally test gait", "I'm going up the leg": no test is
    named, and no result.
    """
    if match.term.words[0] in _WENT and words[match.start - 1 : match.start] in _WHO_GOES:
        return True
    if match.term.text == "normally":
        return words[match.start - 1] in _HABITUAL
    return match.term.text in ("cold", "warm", "hot") and not _OF_A_THING.isdisjoint(
        words[max(0, match.start - 1) : match.start]
    )


def _is_to_be_so(at: int, words: list[str]) -> bool:
    """ "Let it go floppy", "hang nice and loose": what the patient is to do with a limb is no finding of its tone."""
    while at > 0 and words[at - 1] in _WHOLLY:
        at -= 1
    return words[max(0, at - 1) : at] in _BEING or words[max(0, at - 2) : at] in _KEEP_IT


def _is_of_somebody(match: Match, words: list[str], tokens: list[Token]) -> bool:
    """ "Poor chap", "a stiff man": an everyday word of a person, and no result."""
    at = match.end
    of_person = at < len(words) and words[at] in PERSON and tokens[at].boundary < COMMA
    return of_person and match.term.text in _EVERYDAY


def _is_normal_to(end: int, words: list[str]) -> bool:
    """ "It's normal to feel sore": what is no finding; but "normal, to be fair" is one."""
    if words[end : end + 1] != ["to"] or words[end + 1 : end + 2] not in _AFTER_NORMAL_TO:
        return False
    return words[end + 1] != "be" or _TO_BE_FRANK.isdisjoint(words[end + 2 : end + 4])


def _is_asked_of_patient(at: int, words: list[str]) -> bool:
    """ "Loose for me", "floppy again for me", "floppy please": how the limb is to be; but "negative. Please note"."""
    if words[at : at + 1] == ["please"]:
        return words[at + 1 : at + 2] not in _OF_THE_READER
    at += words[at : at + 1] in _ONCE_MORE
    return words[at : at + 2] == ["for", "me"]


def _is_a_disease(match: Match, words: list[str]) -> bool:
    """ "Multiple system atrophy", "spinal muscular atrophy"."""
    return match.term.text == "atrophy" and words[match.start - 1] in _ATROPHYING


def _is_asked_about(match: Match, words: list[str]) -> bool:
    """ "Is the toe going up or down": the patient is asked which."""
    asked = words[match.start - 2 : match.start - 1] == ["is"] and words[match.start - 1] in ("the", "your", "this")
    return asked and "or" in words[match.end : match.end + _TO_THE_OTHER]


def _is_held(words: list[str], at: int) -> bool:
    """What is pulled, held, tapped or in the way: no name of a test."""
    if words[max(0, at - 2) : at] in (["with", "that"], ["with", "this"]):
        return True  # "I can't turn her with that shoulder"
    if words[max(0, at - 3) : at] == ["up", "from", "the"]:
        return True  # "pinprick working up from the toes"
    before = [word for word in words[max(0, at - 4) : at] if word not in ("the", "his", "her", "their", "on", "at")]
    return before[-1:] in _HANDLING or (before[-1:] == ["your"] and before[-2:-1] in _CLASPING)


def _is_told_to_go(words: list[str], at: int) -> bool:
    """ "Are up", "both go down"."""
    told = [word for word in words[at : at + 4] if word not in ("both", "clearly", "definitely", "still")]
    return (
        told[:1] in (["is"], ["are"], ["go"], ["goes"], ["went"])
        and told[1:2] in (["up"], ["down"])
        and told[2:3] != ["in"]
    )


def _is_mine(match: Match, words: list[str]) -> bool:
    """ "I put my best shoulder behind it", "with my other hand": the examiner's own."""
    before = words[max(0, match.start - 2) : match.start]
    named = is_joint([word.removesuffix("s") for word in words[match.start : match.end]])
    if match.end - match.start > 1 and words[match.end - 1] in ("hand", "hands"):
        return before[-1:] == ["my"]
    return named and (before[-1:] == ["my"] or (before[:1] == ["my"] and before[-1] in _OWN))


def _is_for_somebody(match: Match, words: list[str]) -> bool:
    """ "Don't let me straighten it", "grip your hands and pull": what the examiner tries, or what the patient is to do
    with his own hands, is no name of a test.
    """
    if words[match.start : match.end + 1] in (["grip", "your"], ["grasp", "your"]):
        return True
    return match.mended and words[match.start - 1 : match.start + 1] == ["let", "me"]


_YOU = (["you're", "the"], ["are", "the"], ["i'm", "the"], ["be", "the"])
"""What leads to somebody who is "the normal one"."""


def _joins_two(words: list[str], at: int) -> bool:
    """ "Both the arm and the leg": the two that follow, and not both sides."""
    joined = next((k for k in range(at + 2, at + 4) if words[k : k + 1] == ["and"]), None)
    return words[at : at + 1] in _DETERMINERS and joined is not None and not words[joined - 1].endswith("s")


def _is_of_those(match: Match, words: list[str]) -> bool:
    return words[match.end : match.end + 2] in (["of", "those"], ["of", "these"], ["of", "them"])


_DETERMINERS = (["the"], ["his"], ["her"])
_NO_SIDES = (
    ["my"],
    ["our"],
    ["when"],
    ["ways"],
    ["times"],
    ["because"],
    ["if"],
    ["before"],
    ["after"],
    ["halves"],
    ["branches"],
    ["divisions"],
    ["roots"],
    ["nerves"],
    ["ends"],
    ["parts"],
    ["reasons"],
)
_OWN = frozenset("own best good other whole left right".split())
_HABITUAL = frozenset("i i'd we we'd would you you'd".split())
_TO_A_JOINT = frozenset("at of in on the left right both either each".split())
_WENT = frozenset("going go went".split())
_WHO_GOES = (["i'm"], ["we're"], ["i"], ["we"])
_OF_A_THING = frozenset("'s is are was were be feel feels it's that's too very so bit little rather".split())
_ONCE_MORE = (["again"], ["now"], ["too"], ["please"], ["just"])
_BEFORE_FINDINGS = frozenset(
    """gives give way it's but there's there really very a bit quite slightly too so also still all just now both going
        pretty fairly totally completely entirely then definitely clearly markedly seems looks feels""".split()
)


def _all_of_a_limb(found: list[Item], words: list[str], grades: set[int]) -> list[Item]:
    """ "Left arm all five": all movements of the limb."""
    limbs = (item for item in found if item.kind is ItemKind.SIDE and item.sites)
    return [
        Item(ItemKind.THROUGHOUT, limb.end, limb.end + 1)
        for limb in limbs
        if words[limb.end : limb.end + 1] == ["all"] and limb.end + 1 in grades
    ]


def _all_but(found: list[Item], words: list[str], grades: set[int]) -> list[Item]:
    """ "Five everywhere but the ankle", "everything is five save eversion": words for all, and for what is left out."""
    taken = held(found)
    told = (at for at, word in enumerate(words) if word == "everything" and at not in taken)
    everything = {at: next((k for k in (at + 1, at + 2) if k in grades), 0) for at in told}
    everything = {at: k for at, k in everything.items() if k == at + 1 or (k and words[at + 1] in COPULAS)}
    wide = {item.end for item in found if item.kind is ItemKind.THROUGHOUT} | {k + 1 for k in everything.values()}
    names = {item.start for item in found if item.kind in (ItemKind.SUBJECT, ItemKind.SIDE, ItemKind.PLACE)}
    out = [Item(ItemKind.THROUGHOUT, at, at + 1) for at in everything]
    for at, word in enumerate(words):
        end = at + 1 + (words[at + 1 : at + 2] == ["not"])
        led = (word == "but" and at in wide) or word == "save"
        named = not names.isdisjoint((end, end + 1)) and words[end] != "on"
        if led and named and at not in taken and any(at - _EXCEPTED_WITHIN <= told <= at for told in wide):
            out.append(Item(ItemKind.EXCEPT, at, end))
    return out


_EXCEPTED_WITHIN = 6
"""Most tokens from "five throughout" to "save the ankle"."""
_ACCOMPANYING = 8
"""Most tokens from a result to what says it again."""


_OF_EACH = tuple(
    said.split()
    for said in (
        "every one of those",
        "every one of them",
        "each of those",
        "each of them",
        "all of those",
        "all of them",
        "all of that",
        "all of it",
        "in every respect",
        "in all respects",
        "in every way",
        "across the board",
    )
)


def _past_each(words: list[str], at: int) -> int:
    """ "A mirror image, every one of those, except ...": where what stresses that all is the same ends."""
    return next((at + len(said) for said in _OF_EACH if words[at : at + len(said)] == said), at)


def _flag_of(term: Term) -> str:
    """What a person is asked of a term that was made out from its place."""
    if is_side(term):
        return "side_uncertain"
    names = any(meaning.kind in ("manoeuvre", "muscle") for meaning in term.meanings)
    return "manoeuvre_unsaid" if names else "value_uncertain"


def _is_joint_of(match: Match, words: list[str], matches: list[Match]) -> bool:
    """ "External rotation of the left shoulder": the joint of a movement that was named is no test of its own."""
    at = match.start
    while at > 0 and words[at - 1] in ("the", "left", "right", "his", "her", "that", "this"):
        at -= 1
    return (
        at > 1
        and words[at - 1] == "of"
        and is_joint(words[match.start : match.end])
        and any(other.end == at - 1 and other.term.words[-1] in _OF_A_JOINT for other in matches)
    )


def _is_of_a_movement(match: Match, words: list[str]) -> bool:
    """ "With a tremor at the target": how a finger found the nose, no movement at rest."""
    named = any(meaning.id == "involuntary_movement" for meaning in match.term.meanings)
    return named and words[match.end : match.end + 2] == ["at", "the"] and words[match.end + 2 : match.end + 3] in (
        ["target"], ["end"], ["finger"], ["nose"]
    )  # fmt: skip


def _flags_of_a_level(root: Roots, words: list[str]) -> tuple[str, ...]:
    """ "Reduced below L3", "normal above T10", "from L3 down": which levels that takes in is for a person to say."""
    before, after = words[max(0, root.start - 1) : root.start], words[root.end : root.end + 1]
    bounded = before in (["below"], ["above"], ["beyond"]) or after in (["down"], ["downwards"], ["up"], ["upwards"])
    return ("value_uncertain",) if root.made_out or bounded else ()


def _is_turned_to_side(match: Match, words: list[str], tokens: list[Token]) -> bool:
    """ "Now the good side. Five", "five on the unaffected side"; not "she lifts the good leg over" or "the left is his
    good side", which tell something of it, or which it is.
    """
    if words[max(0, match.start - 1) : match.start] not in _DETERMINERS:
        return False
    told = words[match.end : match.end + 1]
    if not (closes(tokens, match.end) or told in _TELLING_OF_IT or (told and told[0] in ONES)):
        return False
    before = words[max(0, match.start - _SIDE_TOLD_WITHIN) : match.start]
    which = not BE.isdisjoint(before) and not {"left", "right"}.isdisjoint(before)
    return not which and {"left", "right"}.isdisjoint(words[match.end : match.end + _SIDE_NAMED_WITHIN])


def _supposed_of(clauses: list[Clause], tokens: list[Token]) -> set[int]:
    """The tokens of "if the left knee jerk were absent", where "but it's two plus" follows: of that test."""
    found: set[int] = set()
    for first, (before, clause) in enumerate(itertools.pairwise(clauses)):
        if before.kind is Kind.TEACHING and clause.kind is Kind.RESULT and comes_true(tokens, clause.start, clause.end):
            while (
                first and clauses[first - 1].kind is Kind.TEACHING and tokens[clauses[first].start].boundary < BLOCK_END
            ):
                first -= 1
            found.update(range(clauses[first].start, before.end))
    return found
