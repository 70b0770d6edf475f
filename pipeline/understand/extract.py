"""From covered tokens and told clauses to items."""

from __future__ import annotations

import itertools
from bisect import bisect_left
from dataclasses import replace
from typing import Any

from pipeline.lexicon.model import Lexicon, Manoeuvre
from pipeline.mend.mend import Cover, Match
from pipeline.mend.numbers import Number
from pipeline.mend.terms import Term, is_side
from pipeline.mend.tokens import BLOCK_END, CLAUSE_MARK, COMMA, SENTENCE_END, Token, in_one_sentence
from pipeline.understand.arrange import arranged, same_for, without_stories
from pipeline.understand.commands import CommandFinder
from pipeline.understand.cues import OF_A_SIDE
from pipeline.understand.findings import FindingNames
from pipeline.understand.items import WHERE, Item, ItemKind, held
from pipeline.understand.talk import Clause, Cues, Kind, comes_true
from pipeline.understand.words import IMPERATIVES

_LIMBS = {
    **dict.fromkeys(("leg", "legs", "foot", "feet", "lower", "thighs", "calves"), "lower_limb"),
    **dict.fromkeys(("arm", "arms", "hand", "hands", "upper"), "upper_limb"),
}
_SIDES = {"side_left": "left", "side_right": "right", "side_both": "both", "side_other": "other", "side_that": "that"}
_STRUCTURE = {
    "repair": ItemKind.REPAIR,
    "remove": ItemKind.REMOVE,
    "swap_sides": ItemKind.SWAP,
    "except": ItemKind.EXCEPT,
    "throughout": ItemKind.THROUGHOUT,
    "rest": ItemKind.REST,
}
_REASONS = ("pain", "declined", "deferred", "unable")
_COPULAS = frozenset("is are was were 's be been looks seems feels remains felt at about".split())
_HEDGES = frozenset(
    """a an too solid only just still maybe probably about around roughly say the i'd call it that put at now also
        again both definitely perhaps certainly i make give get got grade of um uh er erm and or very quite really
        clearly bit slightly strength power there here think would that's it's to""".split()
)
_RIGHT_TALK_AFTER = frozenset(
    """so now okay ok next then let let's well i i'm i'll we we'll you he she can could if that's it's that
        away here there at up down through from over everyone everybody folks students team everyone's guys
        let and away who what""".split()
) - {"and"}
_RIGHT_TALK_BEFORE = frozenset("all that's alright you're quite yes yeah okay ok".split())
_AFTER_NORMAL_TO = [[word] for word in "be feel have get need want find see hear".split()]
_APOLOGIES = [[word] for word in "about if did for to love dear sir madam mr mrs you was".split()]
_LEFT_TALK_AFTER = frozenset("out over behind him her it off school home work hospital".split())
_LEFT_TALK_BEFORE = frozenset("what's is have has had i i've we we've he she they be".split())
_CONNECTORS_BEFORE_NUMBER = frozenset("is are was were at a of grade about only just".split())
_REASON_REACH = 18
_CAUSE_REACH = 20
"""Most tokens back to a reason that "so" refers to."""
_JOINTS = frozenset("great big toe ankle knee hip finger thumb wrist elbow shoulder heel foot hand calf thigh".split())
_OF_ONE = frozenset("strong weaker weak stronger good lovely fine normal better worse first now same too".split())
_THERE = frozenset(
    "there's has have shows showing showed see noted displays displayed reveals revealed demonstrates".split()
)
_SOME = frozenset("some few several occasional frequent widespread".split())
_OTHERS = (["folk"], ["folks"], ["people"], ["of"], ["patients"], ["examiners"])
_HANDLING = tuple([word] for word in "pulling holding tapping tugging gripping squeezing leaning resting".split())
_CLASPING = (["hook"], ["link"], ["lock"], ["clasp"], ["grip"], ["squeeze"])
_TOES = frozenset("toe toes".split())
_MOVEMENTS = frozenset("rotation abduction adduction flexion extension".split())
_PRAISED = frozenset("grand good perfect lovely okay ok".split())
_TESTS = ("manoeuvre", "muscle")
_ITS = frozenset("it's it his hers her one ones".split())
_THERE_REACH = 6
"""Most tokens from "there is" to what is there."""
_THERE_IS = {
    ("there", "is"),
    ("there", "are"),
    ("there", "was"),
    ("with", "some"),
    ("there", "seems"),
    ("there", "looks"),
}

_NEARLY_SAID = 0.08
"""Distance up to which a word is as good as the sign that it sounds like."""


_LIKE_TENS = range(13, 20)
"""Degrees that may have been tens: "sixteen" for "sixty"."""


class Extractor:
    """Items of a whole talk."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._manoeuvres = {m.id: m for m in lexicon.manoeuvres}
        self._muscles = {m.id: m for m in lexicon.muscles}
        self._commands = CommandFinder(lexicon)
        self._findings = FindingNames(lexicon)

    def items(self, tokens: list[Token], cover: Cover, clauses: list[Clause], cues: Cues) -> list[Item]:
        words = [token.text for token in tokens]
        kind_at: list[Kind] = []
        for clause in clauses:
            kind_at += [clause.kind] * (clause.end - clause.start)
        supposed = _supposed_of(clauses, tokens)
        plain = list(words)
        for match in cover.matches:
            if match.mended:  # what was heard there is no everyday word
                plain[match.start : match.end] = ["-"] * (match.end - match.start)
        found: list[Item] = []
        for match in cover.matches:
            if _is_of_a_movement(match, words) or _is_no_complaint(match, words) or _is_remark(match, words):
                continue
            if _is_mine(match, words) or _is_joint_of(match, words, cover.matches):
                continue
            told = any(meaning.kind in ("manoeuvre", "muscle", *_SIDES) for meaning in match.term.meanings)
            kind = Kind.RESULT if match.start in supposed and told else kind_at[match.start]
            found += self._from_match(match, words, plain, tokens, kind)
        found += self._spoken_of(cover, clauses, words, plain, tokens)
        found += _all_of_a_limb(found, words, {number.start for number in cover.numbers if number.unit == "grade"})
        item_starts = {item.start for item in found}
        item_ends = {item.end for item in found if item.kind is not ItemKind.NEGATION} | {r.end for r in cover.roots}
        subject_ends = {item.end for item in found if item.kind is ItemKind.SUBJECT}
        names = {item.start for item in found if item.kind is ItemKind.SUBJECT and not item.section_only}
        for root in cover.roots:
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
                        flags=("value_uncertain",) if root.made_out else (),
                    )
                )
        sides = {item.start: item.end for item in found if item.kind is ItemKind.SIDE}
        counted = _counted_aloud(cover.numbers)
        for number in cover.numbers:
            if kind_at[number.start] is Kind.RESULT:
                if number.unit == "grade" and not number.homophone and _is_sided(number.end, words, tokens, sides):
                    item_ends.add(number.start)  # "hold them there three on the right"
                item = self._from_number(
                    number,
                    words,
                    tokens,
                    item_starts | {r.start for r in cover.roots},
                    item_ends,
                    subject_ends,
                    names,
                    sides,
                    counted,
                )
                if item:
                    found.append(item)
                    item_ends.add(item.end)
        found = self._without_accompaniment(_without_echoes(found, words), words, tokens)
        found = [item for item in found if not _is_too(item, found, words, tokens)]
        found = _without_reasons(_said_once(found, words, tokens), words, tokens)
        found += _so_are(found, words, kind_at)
        found += self._negations(words, tokens, kind_at, found)
        found = _without_worse(found, words)
        found = self._findings.read(found, words, tokens)
        self._wasted_muscles(found, tokens)
        found += self._existential(words, tokens, kind_at, found)
        found += self._reactions(words, tokens, cues, kind_at, found)
        affirming = _affirming(found, tokens, cues)
        found += self._command_items(words, tokens, clauses, found)
        for item in affirming:
            item.weak = not _is_asked_for(item, found)
        found = _the_other_one(_tried_again(found, words), words)
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
        found = _without_degrees(_moving_side(found, words), words)
        found.sort(key=lambda item: (item.start, item.kind is ItemKind.NEGATION, item.end))
        named = {item.end for item in found if item.kind is ItemKind.SUBJECT}
        found = [
            item
            for item in found
            if not (item.kind is ItemKind.HEADING and item.start in named and tokens[item.start].boundary < 0.5)
        ]
        self._muscles_as_places(found, words, tokens)
        found = arranged(_fine_there(found, words, tokens), words, tokens)
        full = {at for start, end in cues.get("full", ()) if end - start > 1 for at in range(start, end)}
        found = self._drop_everyday(found, words, tokens, full)
        self._omissions(found, words, tokens, cues, kind_at)
        found.sort(key=lambda item: (item.start, item.end))
        return without_stories(same_for(found, words), words, tokens)

    def _spoken_of(
        self, cover: Cover, clauses: list[Clause], words: list[str], plain: list[str], tokens: list[Token]
    ) -> list[Item]:
        """ "You lose the ankle jerks first. His right one is absent": the test spoken of, for a person to see."""
        out: list[Item] = []
        spoken: Match | None = None
        starts = [match.start for match in cover.matches]
        for clause in clauses:
            within = cover.matches[bisect_left(starts, clause.start) : bisect_left(starts, clause.end)]
            named = [
                match for match in within if any(m.section is None and m.kind in _TESTS for m in match.term.meanings)
            ]
            if clause.kind in (Kind.TEACHING, Kind.PLAN, Kind.ASIDE):
                sure = [match for match in named if not match.mended]
                spoken = sure[-1] if sure else spoken
                continue
            if clause.kind is not Kind.RESULT or not (within or clause.end - clause.start > 1):
                continue
            opens = words[clause.start : min(clause.start + 4, clause.end)]
            if spoken is not None and not named and not _ITS.isdisjoint(opens):
                items = self._from_match(spoken, words, plain, tokens, Kind.RESULT)
                out += [
                    replace(item, start=clause.start, end=clause.start, flags=("manoeuvre_unsaid",))
                    for item in items
                    if item.kind is ItemKind.SUBJECT
                ]
            spoken = None
        return out

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

        return [item for item in found if not (accompanies(item) or repeats(item))]

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
                meaning.kind in _SIDES
                and kind is Kind.PLAN
                and len(match.term.words) == 1
                and not _turns(match, tokens)
            ):
                continue  # "impression, right L5 root": a diagnosis, not a side to go on with
            elif meaning.kind in _SIDES and kind in (Kind.RESULT, Kind.INSTRUCTION, Kind.PLAN, Kind.QUESTION):
                if (
                    meaning.kind == "side_right"
                    and match.term.text == "right"
                    and not _is_side_right(match, plain, tokens)
                ):
                    continue
                if match.term.text == "both" and words[match.end : match.end + 1] in _NO_SIDES:
                    continue  # "I do it both when I'm sure and when I'm not"
                ended = match.end >= len(tokens) or tokens[match.end].boundary >= SENTENCE_END
                if match.term.text == "either" and not (ended or _is_joint(words[match.end : match.end + 1])):
                    continue  # "either way"
                if meaning.kind == "side_left" and match.term.text == "left" and not _is_side_left(match, plain):
                    continue
                if len(match.term.words) == 1 and _is_direction(words, match.start):
                    continue
                ordered = [word for word in match.term.words if word in ("left", "right")]
                out.append(
                    Item(
                        ItemKind.SIDE,
                        match.start,
                        match.end,
                        (_SIDES[meaning.kind],),
                        unit=" ".join(ordered) if len(ordered) == 2 else None,
                        linked=_preposed(words, match.start),
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
            elif meaning.kind.startswith(("section_", "group_")) and kind in (Kind.RESULT, Kind.INSTRUCTION, Kind.PLAN):
                heading.append(meaning.kind)
            elif match.term.text == "sorry" and words[match.end : match.end + 1] in _APOLOGIES:
                continue
            elif match.term.text == "make that" and words[match.start - 1 : match.start] in (["i"], ["i'd"], ["we"]):
                continue  # "I make that four" is a result, "make that four" a correction
            elif meaning.kind == "remove" and not _is_order(match.start, words, tokens):
                continue  # "people forget that"
            elif (
                meaning.kind == "repair"
                and match.term.text.startswith("let me")
                and (not _closes(match.end, tokens) or words[match.end : match.end + 1] in (["yes"], ["yeah"], ["yep"]))
            ):
                continue  # "let me repeat that on the other side"
            elif meaning.kind in _STRUCTURE and (kind is Kind.RESULT or meaning.kind in ("remove", "repair")):
                out.append(Item(_STRUCTURE[meaning.kind], match.start, match.end, **common))
            elif meaning.kind == "same" and _is_of_named_things(words, match.end):
                continue  # "right leg, same game"
            elif meaning.kind in ("same", "mirror") and kind is Kind.RESULT:
                out.append(Item(ItemKind.VALUE, match.start, match.end, same=True, **common))
            elif meaning.kind == "not_done" and kind in (Kind.RESULT, Kind.PLAN):
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
            and not (kind is not Kind.RESULT and section_only)
        ):
            if section_only and _is_held(words, match.start):
                return out  # "pulling on the finger"
            if section_only and "plantar_response" in subjects and _is_told_to_go(words, match.end):
                subjects, sites, section_only = ["plantar_response"], [], False  # "the toes are up"
            last = match.term.words[-1]
            plural = last.endswith("s") and not last.endswith(_SINGULAR) and last not in ("quads", "fasciculations")
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
            and not (match.term.text == "some" and words[match.end : match.end + 1] in _OTHERS)
            and words[match.end : match.end + 2] != ["for", "me"]  # "loose for me"
            and not (
                words[match.end : match.end + 1] == ["to"] and words[match.end + 1 : match.end + 2] in _AFTER_NORMAL_TO
            )
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
            if "plantar" in values and match.term.words[0] in _TOES and _is_told_of_a_side(words, match.end):
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

    def _from_number(
        self,
        number: Number,
        words: list[str],
        tokens: list[Token],
        starts: set[int],
        ends: set[int],
        subject_ends: set[int],
        names: set[int],
        sides: dict[int, int],
        counted: set[int],
    ) -> Item | None:
        if number.unit == "count" and not 10 <= number.value <= 120:
            return None
        if words[number.end : number.end + 1] in (["means"], ["mean"], ["meaning"]):
            return None  # "four means against some resistance"
        if words[number.end : number.end + 1] == ["is"] and words[number.end + 1 : number.end + 2] in _DEFINING:
            return None  # "grade three is against gravity"
        if number.start in counted or _answers_for_roots(words, number.start) or _counts_things(number, words):
            return None
        before = number.start
        near = before in ends or (before > 0 and words[before - 1] in _COPULAS and tokens[before].boundary < 1)
        while (
            before > 0
            and not near
            and tokens[before].boundary < 1
            and (words[before - 1] in _HEDGES or words[before - 1] in _COPULAS)
        ):
            before -= 1
            near = before in ends or (before > 0 and words[before - 1] in _COPULAS and tokens[before].boundary < 1)
        near = near or (before > 1 and words[before - 1] in ("no", "sorry") and before - 1 in ends)
        near = near or words[max(0, number.start - 2) : number.start] in _PUTTING
        near = near or (number.unit == "count" and _goes_on_in_degrees(number, words))
        near = near or (number.end in names and words[number.start - 1] in _HAS)  # "she has three wrist extension"
        opens = tokens[before].boundary >= 0.8 or _ends_alone(number, tokens)
        near = near or (number.unit == "grade" and words[number.end : number.end + 1] == ["throughout"])
        near = near or (number.unit == "grade" and not number.homophone and _is_of_a_name(words, number.end, names))
        if not (near or opens) and number.unit == "grade" and not number.homophone:
            at = number.start
            while at > 0 and not near and tokens[at].boundary < 1 and number.start - at < 9:
                near = at in subject_ends
                at -= 1
            near = near and _grade_may_end(words, tokens, number.end, starts)
        following = number.end
        if number.homophone and not number.explicit:
            if words[number.start] == "for" and _is_of_a_list(words, number.start, names):
                return None
            closes = following >= len(words) or tokens[following].boundary >= 0.6
            stands_alone = words[following : following + 1] == ["on"] and _is_sided(following, words, tokens, sides)
            if (
                not (
                    number.start in subject_ends
                    or (number.start - 1 in subject_ends and words[number.start - 1] in _COPULAS)
                    or (number.start in sides.values() and closes)  # "and the right for"
                    or (number.start - 1 in sides.values() and words[number.start - 1] in _COPULAS and closes)
                    or (stands_alone and words[number.start] in _NEVER_BEFORE_ON)  # "and for on the left"
                )
                or words[number.start] == "too"
            ):
                return None
            ends_here = (
                closes
                or stands_alone
                or (following in starts and words[number.start] not in ("for",))
                or (following in starts and words[following] not in ("the", "his", "her"))
            )
            if not ends_here:
                return None
        if (
            words[number.start] == "one"
            and not number.explicit
            and words[number.start - 1] in ("left", "right", "other")
            and words[number.start - 2 : number.start - 1] in (["the"], ["his"], ["her"], ["your"])
            and not (words[number.end : number.end + 1] == ["on"] and _is_sided(number.end, words, tokens, sides))
        ):
            return None  # "and the left one"
        if (
            words[number.start] == "one"
            and not number.explicit
            and words[number.start - 1] in ("left", "right", "other")
            and following < len(words)
            and (words[following] in IMPERATIVES or words[following] in _OF_ONE)
        ):
            return None  # "right one pull in strong"
        weak = not (number.explicit or near or opens)
        if weak or (number.value == 1 and not number.explicit and not near) or (number.unit == "count" and not near):
            return None
        if (
            words[number.start] == "one"
            and not number.explicit
            and number.start not in subject_ends
            and following < len(words)
            and tokens[following].boundary < 0.5
            and following not in starts
            and words[following]
            not in ("on", "in", "both", "and", "with", "throughout", "at", "bilaterally", "too", "here")
            and not _is_of_a_name(words, following, names)
        ):
            return None
        flags: tuple[str, ...] = ()
        if number.unlike > _NEARLY_SAID or (number.unit == "degrees" and number.value in _LIKE_TENS):
            flags = ("value_uncertain",)
        elif number.vague or number.unlike or (number.homophone and not number.explicit):
            flags = ("grade_uncertain",)
        grade = number.text
        return Item(
            ItemKind.VALUE,
            number.start,
            number.end,
            grade=grade,
            unit=number.unit,
            flags=flags,
            weak=not number.explicit,
            probability=0.8 if flags else 1.0,
        )

    def _negations(self, words: list[str], tokens: list[Token], kind_at: list[Kind], found: list[Item]) -> list[Item]:
        taken = {at for item in found for at in range(item.start, item.end)}
        out = []
        for at, word in enumerate(words):
            if (at in taken and word != "neither") or kind_at[at] is not Kind.RESULT:
                continue
            negative = word in ("no", "without", "nor", "nil", "neither") or (
                word in ("any", "obvious", "evidence", "definite", "visible", "see")
                and any(w in ("not", "never") or w.endswith("n't") or w == "cannot" for w in words[max(0, at - 4) : at])
            )
            if word == "neither" and (
                (self._is_presence(at, found) and tokens[at].boundary < COMMA)
                or (words[at - 1] in _IN and self._is_presence(at - 1, found))
            ):
                absent = {"presence": "absent", "clonus": "absent"}  # "fasciculations in neither leg"
                out.append(Item(ItemKind.VALUE, at, at, values=absent))
            elif negative:
                out.append(Item(ItemKind.NEGATION, at, at + 1))
        return out

    def _is_presence(self, end: int, found: list[Item]) -> bool:
        """A test of something that is there or not ends here."""
        scales = {
            self._manoeuvres[one].scale
            for item in found
            if item.end == end and item.kind is ItemKind.SUBJECT
            for one in item.ids
            if one in self._manoeuvres
        }
        return not scales.isdisjoint(("presence", "clonus"))

    def _wasted_muscles(self, found: list[Item], tokens: list[Token]) -> None:
        """ "Quadriceps wasting" is "wasting of the quadriceps"."""
        wasted = {item.start: item.end for item in found if item.ids == ("wasting",)}
        for item in found:
            end = wasted.get(item.end)
            if item.muscle is not None and item.kind is ItemKind.SUBJECT and end and tokens[item.end].boundary < COMMA:
                item.kind, item.ids, item.start, item.end = ItemKind.PLACE, (self._limb_of(item),), end, end

    def _muscles_as_places(self, found: list[Item], words: list[str], tokens: list[Token]) -> None:
        """In "wasting of the right quadriceps" the muscle is where the finding is, not what was tested."""
        for item in found:
            if (
                item.kind is not ItemKind.SUBJECT
                or item.muscle is None
                or self._manoeuvres[item.ids[0]].scale == "presence"
            ):
                continue
            if self._is_felt_over(item, found, words, tokens):
                item.kind, item.ids, item.nerve = ItemKind.PLACE, (), None
                continue
            before = next(
                (
                    other
                    for other in reversed(found)
                    if other.kind is ItemKind.SUBJECT and 0 <= item.start - other.end <= 4
                ),
                None,
            )
            if (
                before is None
                or self._manoeuvres.get(before.ids[0]) is None
                or self._manoeuvres[before.ids[0]].scale != "presence"
            ):
                continue
            apart = any(tokens[at].boundary >= SENTENCE_END for at in range(before.end, item.start + 1))
            if set(words[before.end : item.start]) & {"of", "in", "over"} and not apart:
                item.kind, item.ids = ItemKind.PLACE, (self._limb_of(item),)

    def _limb_of(self, item: Item) -> str:
        return "arm" if self._manoeuvres[item.ids[0]].region == "upper_limb" else "leg"

    def _is_felt_over(self, item: Item, found: list[Item], words: list[str], tokens: list[Token]) -> bool:
        """ "Light touch over the deltoid": where the skin was touched."""
        led = words[item.start - 1 : item.start] == ["over"] or words[item.start - 2 : item.start] == ["over", "the"]
        return led and any(
            other.kind is ItemKind.SUBJECT
            and other.ids[0] in self._manoeuvres
            and self._manoeuvres[other.ids[0]].scale == "sensation"
            and 0 <= item.start - other.end <= 12
            and in_one_sentence(tokens, other.end, item.start + 1)
            for other in found
        )

    def _existential(self, words: list[str], tokens: list[Token], kind_at: list[Kind], found: list[Item]) -> list[Item]:
        """ "There is wasting": a finding that is present because it is named."""
        taken = {at for item in found for at in range(item.start, item.end)}
        out = []
        for item in found:
            if item.kind is not ItemKind.SUBJECT or not any(
                self._manoeuvres[one].scale == "presence" for one in item.ids
            ):
                continue
            if (
                words[max(0, item.start - 1)] in _SOME
                and kind_at[item.start] is Kind.RESULT
                and "any" not in words[max(0, item.start - 4) : item.start]
            ):
                out.append(
                    Item(ItemKind.VALUE, item.start - 1, item.start, values={"presence": "present"}, forward=True)
                )
                continue
            at = item.start
            while at > 0 and item.start - at < 8 and tokens[at].boundary < 1:
                at -= 1
            if any(
                word in ("no", "any", "not", "neither", "without", "nor") or word.endswith("n't")
                for word in words[at : item.start]
            ):
                continue
            if _is_adjective(item, found, words):
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
        for item in found:
            if item.kind is not ItemKind.SUBJECT or not any(
                self._manoeuvres[one].scale in ("presence", "clonus") for one in item.ids
            ):
                continue
            led = max((value.end for value in out if value.end <= item.start), default=-_THERE_REACH)
            if item.start - led < _THERE_REACH and not any(
                other.kind is ItemKind.SUBJECT and led <= other.start < item.start for other in found
            ):
                continue  # "there is wasting": said already
            if self._denied_on_one_side(item, found, words, tokens) or (
                words[item.start - 1 : item.start] == ["with"]
                and any(other.end == item.start - 1 and other.kind is ItemKind.VALUE for other in found)
            ):
                present = {"presence": "present", "clonus": "present"}
                out.append(Item(ItemKind.VALUE, item.start, item.start, values=present, forward=True))
                continue
            if self._named_too(item, out, found, words, tokens) or (
                kind_at[item.start] is Kind.RESULT and self._found_there(item, found, words, tokens)
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
                word in ("no", "any", "without", "neither", "nor", "expect", "not")
                for word in words[max(0, item.start - 4) : item.start]
            ):
                out.append(_present(item.start))
        return out

    def _found_there(self, item: Item, found: list[Item], words: list[str], tokens: list[Token]) -> bool:
        """ "Wasting in the right arm", "fasciculation both thighs": a place and no result, so it was found there."""
        before = [k for k in found if k.end <= item.start and k.kind is not ItemKind.NEGATION]
        last = max(before, key=lambda k: k.end, default=None)
        opening = max(item.start - 4, last.end if last else 0)
        if (
            self._manoeuvres[item.ids[0]].scale != "presence"
            or item.probability < _SURE_NAME
            or (last is not None and (_is_listed(last, item, tokens) or "neither" in words[last.start : last.end]))
            or not _SOUGHT.isdisjoint(words[max(0, opening) : item.start])
        ):
            return False
        at, placed = item.end, False
        after = (k for k in found if k.start >= item.end and k.kind is not ItemKind.COMMAND)
        for following in sorted(after, key=lambda k: k.start):
            if following.start < at or (following.kind is ItemKind.PLACE and following.end == following.start):
                continue
            if words[following.start] in ("neither", "either"):
                return False  # nobody finds it "in either leg": a denial was not heard
            between = words[at : following.start]
            broken = any(tokens[k].boundary >= 0.5 for k in range(at, min(following.start + 1, len(tokens))))
            is_part = following.kind is ItemKind.SUBJECT and following.section_only and bool(following.sites)
            if (following.kind in WHERE and following.end > following.start) or is_part:
                if broken or not _TO_A_PLACE.issuperset(between):
                    break
                at, placed = max(at, following.end), True
            elif following.kind is ItemKind.SUBJECT and between == ["and"] and not (placed or broken):
                return self._found_there(following, found, words, tokens)
            else:
                claims = following.kind in (ItemKind.VALUE, ItemKind.OMISSION) and not following.reaction
                claims = claims and not (following.weak and following.grade is None)  # "with the high arches"
                apart = any(token.boundary >= SENTENCE_END for token in tokens[at : following.end])
                return placed and not (claims and len(between) <= 2 and not apart)
        return placed

    @staticmethod
    def _denies_another(denial: Item, item: Item, found: list[Item]) -> bool:
        """ "Wasting of the calf, no fasciculation": the denial is that of another finding."""
        return denial.start > item.end and any(
            other.kind is ItemKind.SUBJECT and 0 <= other.start - denial.end <= 1 and other.ids != item.ids
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

    def _denied_on_one_side(self, item: Item, found: list[Item], words: list[str], tokens: list[Token]) -> bool:
        """ "Wasting on the left, none on the right", "wasting of the left leg, no wasting of the right": present where
        it is named, absent where it is denied.
        """
        following = sorted((k for k in found if item.end <= k.start < item.end + 12), key=lambda k: k.start)
        following = [
            k
            for k in following
            if k.kind is not ItemKind.PLACE
            and not (k.kind is ItemKind.SUBJECT and {"of", "over"}.intersection(words[item.end : k.start]))
        ]  # "wasting over the thenar eminence"
        first = list(itertools.takewhile(_names_side, following))
        denial, *rest = [*following[len(first) : len(first) + 3], None]
        if denial is None or not first:
            return False
        if denial.kind is ItemKind.NEGATION and rest[0] is not None and rest[0].ids == item.ids:
            said, rest = "no", rest[1:]
        else:
            said = "none"
        second = rest[0] if rest else None
        if second is None or not _names_side(second) or words[denial.start] != said:
            return False
        begins = item.start
        while begins > max(item.start - 4, 0) and tokens[begins].boundary < COMMA:
            begins -= 1
        said_before = any(
            0 <= item.start - k.end <= 1
            and (k.kind is ItemKind.VALUE or (k.kind is ItemKind.SIDE and not _is_of_another(k, item, found)))
            for k in found
        ) or not _DENYING.isdisjoint(words[begins : item.start])
        return (
            not said_before
            and second.start - denial.end <= 5
            and all(side.ids != second.ids or side.limbs != second.limbs for side in first)
            and not any(tokens[k].boundary >= CLAUSE_MARK for k in range(item.end, second.start + 1))
        )

    def _reactions(
        self, words: list[str], tokens: list[Token], cues: Cues, kind_at: list[Kind], found: list[Item]
    ) -> list[Item]:
        values = {(item.start): item for item in found if item.kind is ItemKind.VALUE}
        taken = {at for item in found for at in range(item.start, item.end)}
        out = []
        for start, end in cues.get("reaction", ()):
            if kind_at[start] not in (Kind.RESULT, Kind.INSTRUCTION):
                continue
            if words[start - 1 : start] in (["is"], ["are"], ["was"], ["were"]) and tokens[start].boundary < 0.5:
                continue  # "power is fine": a result
            within = next((values[at] for at in range(start, end) if at in values), None)  # the "good" of "very good"
            if within is not None and within.end <= end:
                within.reaction, within.values = True, {}
            elif not any(at in taken for at in range(start, end)):
                out.append(Item(ItemKind.VALUE, start, end, reaction=True))
        return out

    def _command_items(
        self, words: list[str], tokens: list[Token], clauses: list[Clause], found: list[Item]
    ) -> list[Item]:
        stops = {
            item.start
            for item in found
            if item.kind is ItemKind.VALUE
            and (item.reaction or item.grade or not item.weak or words[item.start - 1 : item.start] == ["that's"])
        }
        mended = {
            at for item in found if item.match is not None and item.match.mended for at in range(item.start, item.end)
        }
        cuts = stops | {
            item.start
            for item in found
            if item.kind is ItemKind.HEADING or (item.kind is ItemKind.SUBJECT and not item.section_only)
        }
        regions = self._regions(found)
        named = {
            item.start
            for item in found
            if (item.kind is ItemKind.VALUE and not item.reaction and not item.weak)
            or (item.kind is ItemKind.SUBJECT and not item.section_only)
        }
        out: list[Item] = []
        segments: list[list[tuple[int, int]]] = [[]]
        for clause in clauses:
            pieces: list[tuple[int, int]] = []
            if clause.kind is Kind.INSTRUCTION:
                pieces = _cut(clause.start, clause.end, cuts)
            elif clause.kind is Kind.RESULT:
                pieces = [piece for piece in _cut(clause.start, clause.end, cuts) if _may_command(words, piece, named)]
            if not pieces or clause.kind is Kind.RESULT:
                segments.append([])
            for piece in pieces:
                segments[-1].append(piece)
                if piece[1] in stops or clause.kind is Kind.RESULT:
                    segments.append([])
        for segment in segments:
            at = 0
            while at < len(segment):
                hit = None
                for width in (1, 2, 3):
                    if at + width > len(segment):
                        break
                    start, end = segment[at][0], segment[at + width - 1][1]
                    if end - start > 26:
                        break
                    # the words of a mended term are not what was said
                    said = ["-" if k in mended else words[k] for k in range(start, end)]
                    hit = self._commands.find(said, _region_before(regions, out, self._manoeuvres, start))
                    if hit:
                        break
                if hit and self._is_told_of(hit, start, end, found):
                    hit = None
                if hit:
                    quiet = bool(out) and not any(at in stops for at in range(out[-1].end, start + 1))
                    follows = (
                        quiet
                        and start - out[-1].end <= 4
                        and not any(tokens[at].boundary >= 1.6 for at in range(out[-1].end, start + 1))
                    )
                    if (
                        follows
                        and out[-1].ids != (hit,)
                        and not any(item.kind is ItemKind.SIDE and out[-1].end <= item.start < end for item in found)
                    ):
                        at += width  # "bend your knee, pull me in": one instruction in two parts
                        continue
                    if (
                        quiet
                        and out[-1].ids == (hit,)
                        and out[-1].end >= start - 3
                        and out[-1].kind is ItemKind.COMMAND
                    ):
                        out[-1].end = end
                    out.append(Item(ItemKind.COMMAND, self._past_result(start, end, found), end, (hit,)))
                    at += width
                else:
                    at += 1
        ending = {item.end: item for item in found}
        graded = {item.start for item in found if item.grade is not None}
        out = [item for item in out if not self._tells_how(item, ending, graded, tokens)]
        return out + self._named_commands(clauses, found, out)

    def _tells_how(self, command: Item, ending: dict[int, Item], graded: set[int], tokens: list[Token]) -> bool:
        """ "Hip abduction, push out against me, five": how the test that was just named is done."""
        named = next((ending[at] for at in range(command.start, command.start - 3, -1) if at in ending), None)
        return (
            named is not None
            and named.kind is ItemKind.SUBJECT
            and not named.section_only
            and named.ids[0] in self._manoeuvres
            and self._manoeuvres[named.ids[0]].section == "power"
            and named.ids != command.ids
            and not graded.isdisjoint((command.end, command.end + 1))
            and in_one_sentence(tokens, named.end, command.start + 1)
        )

    @staticmethod
    def _is_told_of(manoeuvre: str, start: int, end: int, found: list[Item]) -> bool:
        """ "Light touch with a wisp of cotton on the left L2": the test is named, with the place of a result."""
        within = [item for item in found if start <= item.start < end]
        named = any(
            item.kind is ItemKind.SUBJECT and not item.section_only and manoeuvre in item.ids for item in within
        )
        return named and any(item.kind is ItemKind.PLACE and item.ids and item.ids[0][:1].isupper() for item in within)

    @staticmethod
    def _named_commands(clauses: list[Clause], found: list[Item], commands: list[Item]) -> list[Item]:
        """ "Finger nose, touch my finger, then your nose": an instruction in words of its own, of the test it names."""
        named: list[Item] = []
        for clause in clauses:
            if clause.kind is not Kind.INSTRUCTION:
                continue
            within = [item for item in found if clause.start <= item.start < clause.end]
            tests = [item for item in within if item.kind is ItemKind.SUBJECT and not item.section_only]
            if (
                len(tests) == 1
                and clause.end - tests[0].end > 2
                and not any(item.kind is ItemKind.VALUE for item in within)
                and not any(command.start < clause.end and command.end > clause.start for command in commands)
            ):
                named.append(Item(ItemKind.COMMAND, tests[0].end, clause.end, tests[0].ids[-1:]))
        return named

    @staticmethod
    def _past_result(start: int, end: int, found: list[Item]) -> int:
        """Where the instruction begins in "five on the left fingers straight"."""
        result = next(
            (item for item in found if item.kind is ItemKind.VALUE and not item.reaction and item.start == start), None
        )
        if result is None:
            return start
        sides = [item.end for item in found if item.kind is ItemKind.SIDE and 0 <= item.start - result.end <= 2]
        return min(max([result.end, *sides]), end - 1)

    def _regions(self, found: list[Item]) -> list[tuple[int, str]]:
        """(token, limb region) wherever a limb or one of its manoeuvres is named, in order."""
        named: list[tuple[int, str]] = []
        for item in found:
            if item.kind is ItemKind.REGION and item.ids[0] != "all":
                named.append((item.start, f"{item.ids[0]}_limb"))
            elif item.kind is ItemKind.SIDE and item.sites:
                named.append((item.start, item.sites[0]))
            elif item.kind is ItemKind.SUBJECT and not item.section_only and item.ids[0] in self._manoeuvres:
                region = self._manoeuvres[item.ids[0]].region
                if region in ("lower_limb", "upper_limb"):
                    named.append((item.start, region))
        return sorted(named)

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
        kept = []
        for item in items:
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
                while (
                    at > 0
                    and item.start - at < 3
                    and at not in near
                    and (words[at - 1] in _ADVERBS or words[at - 1] in _COPULAS or words[at - 1] in ("it's", "but"))
                ):
                    at -= 1
                anchor = near.get(at)
                copula = any(words[k] in _COPULAS for k in range(at, item.start))
                stands = (
                    anchor is not None
                    and tokens[item.start].boundary < 1
                    and (anchor.kind is not ItemKind.SUBJECT or fits(anchor, item))
                    and not (
                        (anchor.kind is ItemKind.PLACE or (anchor.kind is ItemKind.SIDE and anchor.sites))
                        and words[item.start] in ("up", "down")
                    )  # "jerk the foot up"
                )
                joined = words[item.start - 1] in ("and", "but") and words[item.end : item.end + 3] in OF_A_SIDE
                stands = stands or (joined and item.start - 1 in near)
                follows = after.get(item.end)
                if not (copula or stands or (follows is not None and fits(follows, item))):
                    continue
            kept.append(item)
        return kept

    def _omissions(
        self, found: list[Item], words: list[str], tokens: list[Token], cues: Cues, kind_at: list[Kind]
    ) -> None:
        """Gives each omission its reason, and makes an omission of a reason that stands directly at a subject."""
        reasons = sorted((start, end, kind) for kind in _REASONS for start, end in cues.get(kind, ()))
        subjects = [
            item for item in found if item.kind in (ItemKind.SUBJECT, ItemKind.HEADING) and not item.section_only
        ]
        stops = sorted(
            item.start
            for item in found
            if (item.kind in (ItemKind.VALUE,) and not item.reaction and not item.weak)
            or (item.kind is ItemKind.SUBJECT and not item.section_only)
        )
        omitted = {at for item in found if item.kind is ItemKind.OMISSION for at in range(item.start, item.end)}
        sided = held(item for item in found if item.kind is ItemKind.SIDE)
        ends = {
            item.end
            for item in found
            if item.kind in (ItemKind.SUBJECT, ItemKind.SIDE, ItemKind.PLACE, ItemKind.COMMAND, ItemKind.HEADING)
        }
        groups = {item.end for item in subjects if item.kind is ItemKind.HEADING or item.ids[0].startswith("group:")}
        added: list[Item] = []
        for start, end, kind in reasons:
            if start in omitted or kind_at[start] in (Kind.TEACHING, Kind.QUESTION, Kind.ASIDE) or kind == "pain":
                continue
            before = start
            while (
                before > 0
                and before not in ends
                and tokens[before].boundary < SENTENCE_END
                and words[before - 1] in _TO_A_REASON
            ):
                before -= 1
            direct = before in ends and tokens[start].boundary < 1.2
            # "Pinprick I am putting off", "light touch I have deferred"
            putting = words[start].endswith("ing") or not _HAVING.isdisjoint(words[max(0, start - 1) : start])
            if (
                kind == "deferred"
                and not direct
                and (putting or set(words[start:end]) & {"that", "it", "those", "them"})
            ):
                opening = start
                while opening > 0 and (words[opening - 1] in _PUTTING_OFF or opening - 1 in sided):
                    opening -= 1
                direct = any(
                    item.end == opening and (tokens[item.start].boundary >= 1 or (putting and opening < start))
                    for item in subjects
                )
            if kind == "deferred" and not direct and words[start] != "come":  # "anal tone I'll do later"
                meant = next((at for at in range(start - 1, max(start - _PROMISE, 0), -1) if words[at] in _I_SHALL), 0)
                direct = (
                    meant in ends
                    and meant not in groups
                    and all(tokens[at].boundary < CLAUSE_MARK for at in range(meant, start + 1))
                    and not any(meant < at <= start for at in stops)
                )
            if not direct and words[start] in ("declined", "refused"):  # "pinprick, he does not wish it, so declined"
                named = max((item.end for item in subjects if item.end <= start), default=-_REASON_REACH)
                direct = (
                    start - named < _REASON_REACH
                    and in_one_sentence(tokens, named, start + 1)
                    and not any(named <= at < start for at in (*stops, *omitted, *(item.start for item in added)))
                )
            ahead = (
                kind in ("declined", "unable", "deferred")
                and any(
                    item.start - end in (0, 1, 2, 3)
                    and all(tokens[at].boundary < 1 for at in range(end, item.start + 1))
                    for item in subjects
                )
                and words[end : end + 1] not in (["because"], ["to"])
                and not any(
                    omission.start < start and start - omission.end < _REASON_REACH
                    for omission in found
                    if omission.kind is ItemKind.OMISSION
                )
            )
            if (
                words[start:end]
                and words[start] in _WORN
                and any(item.end == start and item.kind is ItemKind.PLACE for item in found)
            ):
                continue  # "elbow splint", "below knee plaster"
            overlap = any(added_item.end > start for added_item in added)
            if (direct or ahead) and not overlap:
                added.append(Item(ItemKind.OMISSION, start, end, (kind,)))
        found += added
        for item in list(found):
            if item.kind is not ItemKind.OMISSION or item.ids != ("not_done",):
                continue
            because = next(
                (
                    k
                    for k in range(item.end, min(item.end + 7, len(words)))
                    if words[k] in ("because", "as", "since", "due")
                ),
                None,
            )
            stop = next(
                (at for at in stops if at >= (item.end if because is None else because + 8)),
                len(words),
            )
            limit = min(stop, item.end + _REASON_REACH)
            told = [
                (start, kind)
                for start, end, kind in reasons
                if item.end <= start < limit or (item.start <= start and end <= item.end)
            ]
            given = (kind for start, kind in told if because is not None and start > because)
            reason = next(given, told[0][1] if told else None)
            if reason is None:
                floor = max(
                    (
                        at
                        for at in [0]
                        + [
                            other.end
                            for other in found
                            if other.end <= item.start and other.kind in (ItemKind.VALUE, ItemKind.OMISSION)
                        ]
                    ),
                    default=0,
                )
                reach = _CAUSE_REACH if "so" in words[max(0, item.start - _CAUSE_REACH) : item.start] else 10
                floor = max(floor, item.start - reach)
                reason = next(
                    (kind for start, end, kind in reversed(reasons) if floor <= start and end <= item.start), None
                )
            if reason is None:  # "the ankle is in a cast, so dorsiflexion was not tested"
                cause = next((k for k in added if 0 < item.start - k.end <= 12), None)
                if cause is not None and set(words[cause.end : item.start]) & {"so", "therefore", "hence"}:
                    reason = cause.ids[0]
                    found[:] = [other for other in found if other is not cause]
            if reason:
                item.ids = (reason,)


_DEFINING = (["against"], ["movement"], ["active"], ["no"], ["gravity"], ["a"], ["when"])
_SINGULAR = ("is", "us", "ceps")
"""Endings of one muscle ("brachioradialis", "biceps")."""
_BEFORE_ORDERS = frozenset(
    """no sorry actually oh please and so wait right okay ok then but hang well just zero one two three four five plus
        minus + - left right sides absent normal reduced present impaired""".split()
)
_SURE_NAME = 0.6
"""Probability of a mended name from which the name alone, with a place, is a finding."""
_SOUGHT = frozenset(
    """no any not without nor neither or if for see check checking looking look expect find notice never isn't
        don't can't""".split()
)
_TO_A_PLACE = frozenset("in of over on at both the his her and around affecting through throughout between".split())
_WORN = frozenset("plaster cast splint brace boot dressing backslab orthosis fixator".split())
_TO_A_REASON = frozenset(
    """is was are were 's he she they he's she's they're he'd she'd they'd he'll she'll been has being
        to be patient the we sides side both same reason i've i today for now no not so it that that's it's this
        likewise also again too""".split()
)
_PUTTING_OFF = frozenset(
    "i'll we'll will i we i'd we'd i'm we're am are and just then now have i've we've had on in".split()
)
_I_SHALL = frozenset("i'll we'll".split())
_PROMISE = 9
"""Most tokens from "I'll" to "later"."""
_HAS = frozenset("has have had with shows gives".split())
_HAVING = frozenset("i we have i've we've had".split())
_EVERYDAY = frozenset(
    """stable patchy down up good fine there full strong some nothing steady high low easy free slow trace
        seen down obvious equal different odd funny strange changed gone lost less poor stiff weak sharper
        dull blunt spread quiet marked slight mild correct irregular""".split()
)


def _cut(start: int, end: int, stops: set[int]) -> list[tuple[int, int]]:
    edges = [start] + [at for at in range(start + 1, end) if at in stops] + [end]
    return [(a, b) for a, b in itertools.pairwise(edges) if b > a]


def _commanding(words: list[str]) -> bool:
    text = f" {' '.join(words)} "
    return any(word in IMPERATIVES for word in words[:4]) or any(
        f" {p} " in text for p in ("for me", "your", "against my", "don't let me", "my hand")
    )


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


def _preposed(words: list[str], start: int) -> bool:
    return start > 0 and (
        words[start - 1] in ("on", "in", "over", "to", "at", "of", "across")
        or (
            words[start - 1] in ("the", "his", "her", "this", "that")
            and start > 1
            and words[start - 2] in ("on", "in", "of", "to", "over", "for", "with", "throughout", "across")
        )
    )


def _is_joint(after: list[str]) -> bool:
    """ "At either ankle"."""
    return bool(after) and after[0] in _JOINTS


def _is_side_right(match: Match, words: list[str], tokens: list[Token]) -> bool:
    at = match.start
    before = words[at - 1] if at else ""
    after = words[match.end] if match.end < len(words) else ""
    if before in ("the", "on", "his", "her", "in", "your", "my", "both") or (before == "to"):
        return not (
            before == "the" and after in ("place", "answer", "thing", "time", "way", "one's", "amount", "direction")
        )
    if (
        (before in _GRADE_ENDS or before.isdigit())
        and tokens[at].boundary < COMMA
        and "left" in words[max(0, at - _SIDE_REACH) : at]
    ):
        return True  # "two left, three plus right, that's C8"
    if before in _RIGHT_TALK_BEFORE and after != "leg" and tokens[at].boundary < 0.6:
        return False
    if after in ("down", "up") and (
        match.end + 1 >= len(words)
        or tokens[match.end + 1].boundary >= 0.5
        or words[match.end + 1] in ("left", "and", "going")
    ):
        return True
    if after in _RIGHT_TALK_AFTER or (after == "there's" and before in ("that", "this", "it's")):
        return False
    return not (
        tokens[at].boundary >= 1
        and match.end < len(tokens)
        and tokens[match.end].boundary >= 0.6
        and after in ("okay", "so", "now", "next", "power", "reflexes", "tone", "sensation", "coordination", "gait")
    )


_GRADE_ENDS = frozenset(
    """zero nought one two three four five plus minus + - absent normal reduced brisk present impaired increased intact
        diminished negative positive sustained mute equivocal altered flexor extensor decreased""".split()
)
"""Words with which a result ends."""
_SIDE_REACH = 8
"""Most tokens from the grade of one side to that of the other."""
_GOES = ("fall", "fell", "veer", "lean", "lurch", "sway", "deviat", "drift", "stagger", "tilt", "list", "turn", "look")


def _is_direction(words: list[str], at: int) -> bool:
    """ "Falling over to the right": where somebody goes, not the side that is examined."""
    to = words[at - 2 : at] in (["to", "the"], ["towards", "the"], ["to", "your"], ["to", "his"], ["to", "her"])
    return to and any(word.startswith(_GOES) for word in words[max(0, at - 4) : at - 2])


def _is_side_left(match: Match, words: list[str]) -> bool:
    at = match.start
    after = words[match.end] if match.end < len(words) else ""
    before = words[at - 1] if at else ""
    if before == "the" and words[at - 2 : at - 1] in (["on"], ["to"], ["in"], ["at"], ["for"]):
        return True  # "on the left it's reduced"
    return after not in _LEFT_TALK_AFTER and not (
        before in _LEFT_TALK_BEFORE
        and after not in ("leg", "foot", "side", "hip", "knee", "ankle", "normal")
        and not (before == "is" and after in _STATED)
    )


_STATED = frozenset("absent present reduced increased brisk zero one two three four five".split())
"""What a side has in "the knee jerk is left absent, right two plus"."""
_AFTER_GRADE = frozenset(
    """on in bilaterally both each out and or with throughout apiece again there too either all symmetrical
        now at but while whereas for here overall equally""".split()
)


def _goes_on_in_degrees(number: Number, words: list[str]) -> bool:
    """ "Seventy degrees on the left but only thirty five on the right"."""
    said = "degrees" in words[max(0, number.start - _SIDE_REACH) : number.start]
    return said and words[number.end : number.end + 3] in OF_A_SIDE


def _answers_for_roots(words: list[str], at: int) -> bool:
    """ "The roots for biceps? Five and six": what follows the name are roots."""
    asked = next((k for k in range(at - 1, max(at - 8, 0), -1) if words[k] in ("root", "roots")), None)
    return asked is not None and words[asked + 1 : asked + 2] in (["for"], ["of"], ["to"], ["supplying"])


def _names_side(item: Item) -> bool:
    return item.kind in (ItemKind.SIDE, ItemKind.REGION)


def _grade_may_end(words: list[str], tokens: list[Token], at: int, starts: set[int]) -> bool:
    """After a bare grade comes a break, a new item or a small word, not the noun that it counts."""
    return at >= len(words) or tokens[at].boundary >= 0.5 or at in starts or words[at] in _AFTER_GRADE


def _is_no_complaint(match: Match, words: list[str]) -> bool:
    """ "It's not weakness that bothers him": no result."""
    return match.term.text == "weakness" and "not" in words[max(0, match.start - 2) : match.start]


def _is_remark(match: Match, words: list[str]) -> bool:
    """ "The fork's cold, sorry", "my hands are warm": something is said of a thing, no test is named."""
    return match.term.text in ("cold", "warm", "hot") and not _OF_A_THING.isdisjoint(
        words[max(0, match.start - 1) : match.start]
    )


def _is_told_of_a_side(words: list[str], at: int) -> bool:
    """ "Bilaterally", "on both sides", "on the left"."""
    after = words[at : at + 3]
    if after[:1] == ["on"]:
        after = [word for word in after[1:] if word != "the"]
        return after[:1] in (["left"], ["right"], ["both"])
    return after[:1] == ["bilaterally"] or after[:2] == ["both", "sides"]


def _is_of_named_things(words: list[str], at: int) -> bool:
    """ "The same muscles", "the same three on the left"."""
    counted = words[at : at + 1] in _SOME_TESTS and words[at + 1 : at + 2] in (["on"], ["are"], ["in"])
    return counted or words[at : at + 1] in _SAME_WAY


def _is_held(words: list[str], at: int) -> bool:
    """What is pulled, held or tapped: no name of a test."""
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
    """ "I put my best shoulder behind it": the examiner's own."""
    before = words[max(0, match.start - 2) : match.start]
    return _is_joint([word.removesuffix("s") for word in words[match.start : match.end]]) and (
        before[-1:] == ["my"] or (before[:1] == ["my"] and before[-1] in _OWN)
    )


def _fine_there(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Reduced at the ankles, grand at the knees": praise with a place of its own is a normal result there."""
    places = {item.start for item in found if item.is_place and (item.sites or item.ids)}
    praised: set[int] = set()
    for at, word in enumerate(words[:-2]):
        if word in _PRAISED and words[at + 1] in ("at", "over") and COMMA <= tokens[at].boundary < SENTENCE_END:
            after = at + 2 + (words[at + 2] in ("the", "both"))
            praised |= {at} if after in places else set()
    kept = [item for item in found if not (item.kind is ItemKind.VALUE and item.start in praised)]
    kept += [Item(ItemKind.VALUE, at, at + 1, values={"sensation": "normal"}) for at in sorted(praised)]
    return sorted(kept, key=lambda item: (item.start, item.kind is ItemKind.NEGATION, item.end))


def _without_echoes(found: list[Item], words: list[str]) -> list[Item]:
    """ "Two plus likewise the supinator": after a value, and before a name, the word refers to no other result."""
    valued = {item.end for item in found if item.kind is ItemKind.VALUE and not item.same}
    names = {item.start for item in found if item.kind is ItemKind.SUBJECT}
    return [
        item
        for item in found
        if not (item.same and item.start in valued and _past_small(words, item.end, names) in names)
    ]


def _so_are(found: list[Item], words: list[str], kind_at: list[Kind]) -> list[Item]:
    """ "And so are the ankle jerks", "there isn't any on the left": the last value once more, and none."""
    taken = held(found)
    values = sorted((item for item in found if item.kind is ItemKind.VALUE), key=lambda item: item.start)
    out = []
    for at in range(len(words) - 1):
        if kind_at[at] is not Kind.RESULT or at in taken:
            continue
        if words[at] == "so" and words[at + 1] in ("is", "are"):
            last = next((item for item in reversed(values) if item.end <= at), None)
            out += [replace(last, start=at, end=at + 2)] if last is not None else []
        elif words[at] in ("isn't", "aren't", "wasn't") and words[at + 1] == "any" and at + 2 not in taken:
            out.append(Item(ItemKind.VALUE, at, at + 2, values={"presence": "absent", "clonus": "absent"}))
    return out


def _affirming(found: list[Item], tokens: list[Token], cues: Cues) -> list[Item]:
    """ "Knee up. Strong.": words of full power that are a clause of their own. They end what was asked for."""
    alone = {
        (start, end)
        for start, end in cues.get("full", ())
        if tokens[start].boundary >= COMMA and (end == len(tokens) or tokens[end].boundary >= COMMA)
    }
    stated = {item.end for item in found if item.kind is ItemKind.VALUE and not item.weak}
    affirming = [
        item
        for item in found
        if item.kind is ItemKind.VALUE and item.weak and (item.start, item.end) in alone and item.start not in stated
    ]
    for item in affirming:
        item.weak = False
    return affirming


def _is_asked_for(item: Item, found: list[Item]) -> bool:
    """The last thing named before the value is an instruction, not a test."""
    named = [
        other
        for other in found
        if other.start < item.start
        and (other.kind is ItemKind.COMMAND or (other.kind is ItemKind.SUBJECT and not other.section_only))
    ]
    return bool(named) and max(named, key=lambda other: other.start).kind is ItemKind.COMMAND


def _turns(match: Match, tokens: list[Token]) -> bool:
    """ "On the left, and I'll be quicker": a side that opens a sentence."""
    before = tokens[max(0, match.start - 2) : match.start]
    return [token.text for token in before] == ["on", "the"] and before[0].boundary >= CLAUSE_MARK


def _is_too(item: Item, found: list[Item], words: list[str], tokens: list[Token]) -> bool:
    """ "Power is five throughout in both legs two": at the end of what already has a value for both sides, "too"."""
    if item.kind is not ItemKind.VALUE or words[item.start : item.end] != ["two"]:
        return False
    if item.end < len(tokens) and tokens[item.end].boundary < SENTENCE_END:
        return False
    wide = {
        other.end: other
        for other in found
        if other.kind in (ItemKind.THROUGHOUT, ItemKind.REGION)
        or (other.kind is ItemKind.SIDE and other.ids == ("both",))
    }
    values = {other.end for other in found if other.kind is ItemKind.VALUE}
    at, sided = item.start, 0
    while at > 0 and tokens[at].boundary < CLAUSE_MARK and (at in wide or words[at - 1] in ("in", "on", "the", "at")):
        sided += at in wide and wide[at].kind is ItemKind.SIDE
        at = wide[at].start if at in wide else at - 1
    return at < item.start and sided < 2 and at in values and tokens[at].boundary < CLAUSE_MARK


def _past_small(words: list[str], at: int, names: set[int]) -> int:
    """The first token from `at` on that is neither a side nor a determiner, or begins one of the `names`."""
    while words[at : at + 1] and words[at] in ("the", "his", "her", "left", "right", "both") and at not in names:
        at += 1
    return at


def _is_of_a_name(words: list[str], at: int, names: set[int]) -> bool:
    """ "Four for the left hip flexors", "three in knee extension": a small word joins a grade to the name after it."""
    if words[at : at + 1] not in (["for"], ["in"]):
        return False
    return _past_small(words, at + 1, names) in names


_NO_SIDES = (["my"], ["our"], ["when"], ["ways"], ["times"], ["because"], ["if"], ["before"], ["after"])
_OWN = frozenset("own best good other whole left right".split())
_OF_A_THING = frozenset("'s is are was were be feel feels it's that's too very so bit little rather".split())
_ADVERBS = frozenset(
    """really very a bit quite slightly too so also still all just now both going pretty fairly totally
        completely entirely then definitely clearly markedly seems looks feels""".split()
)


def _region_before(
    regions: list[tuple[int, str]], commands: list[Item], manoeuvres: dict[str, Manoeuvre], start: int
) -> str | None:
    """The limb region that was named, or whose manoeuvre was asked for, last before a token."""
    at = bisect_left(regions, (start, ""))
    place, region = regions[at - 1] if at else (-1, None)
    if commands and commands[-1].start > place:
        asked = manoeuvres[commands[-1].ids[0]].region
        region = asked if asked in ("lower_limb", "upper_limb") else region
    return region


_EXAMINING = frozenset(
    """lift lifting roll rolling flick flicking bend bending flex flexing dorsiflex tap tapping stroke stroking scrape
        scraping strike hit turn turning move moving jerk jerking support supporting hold holding""".split()
)


def _may_command(words: list[str], piece: tuple[int, int], named: set[int]) -> bool:
    """A stretch without a copula or a named result that reads like a shortened instruction ("big toe up")."""
    said = words[piece[0] : piece[1]]
    first = next((k for k, word in enumerate(said) if word not in ("and", "so", "now", "then", "but")), 0)
    if said[first : first + 1] in (["i"], ["i'm"]) and not _EXAMINING.isdisjoint(said[first + 1 : first + 2]):
        return False  # "I'm lifting under the knee": what the examiner does
    if _commanding(said):
        return True
    if len(said) > 16 or any(word in ("is", "are", "was", "were", "'s", "went", "goes", "no") for word in said):
        return False
    return not any(at in named for at in range(*piece))


def _tried_again(items: list[Item], words: list[str]) -> list[Item]:
    """ "Squeeze again, yes, three minus": the test that was just graded, done once more."""
    grades = [item.end for item in items if item.kind is ItemKind.VALUE and item.grade is not None]
    return [
        item
        for item in items
        if not (
            item.kind is ItemKind.COMMAND
            and "again" in words[item.start : item.end]
            and any(0 <= item.start - end <= 3 for end in grades)
        )
    ]


def _the_other_one(items: list[Item], words: list[str]) -> list[Item]:
    """ "Lift this leg, good, left one, good": the other leg, not a grade."""
    kept: list[Item] = []
    for item in sorted(items, key=lambda item: item.start):
        if (
            item.kind is ItemKind.VALUE
            and item.weak
            and words[item.start : item.end] == ["one"]
            and any(k.kind is ItemKind.SIDE and k.end == item.start for k in kept[-2:])
        ):
            asked = next((k.kind for k in reversed(kept) if k.kind in (ItemKind.COMMAND, ItemKind.SUBJECT)), None)
            if asked is ItemKind.COMMAND:
                continue
        kept.append(item)
    return kept


def _all_of_a_limb(found: list[Item], words: list[str], grades: set[int]) -> list[Item]:
    """ "Left arm all five": all movements of the limb."""
    limbs = (item for item in found if item.kind is ItemKind.SIDE and item.sites)
    return [
        Item(ItemKind.THROUGHOUT, limb.end, limb.end + 1)
        for limb in limbs
        if words[limb.end : limb.end + 1] == ["all"] and limb.end + 1 in grades
    ]


_ACCOMPANYING = 8
"""Most tokens from a result to what says it again."""
_NEVER_BEFORE_ON = frozenset("for to fore fife".split())


def _is_of_another(side: Item, item: Item, found: list[Item]) -> bool:
    """ "Wasting in both arms, fasciculation in the left": the first side is that of the test before it."""
    owners = (k for k in found if k.kind is ItemKind.SUBJECT and k is not item)
    return side.linked and any(0 <= side.start - owner.end <= 4 for owner in owners)


def _ends_alone(number: Number, tokens: list[Token]) -> bool:
    """ "I think it's weak but, four.": a grade between a comma and the end of the sentence."""
    return (
        number.unit == "grade"
        and not number.homophone
        and tokens[number.start].boundary >= COMMA
        and (number.end >= len(tokens) or tokens[number.end].boundary >= SENTENCE_END)
    )


def _counted_aloud(numbers: list[Number]) -> set[int]:
    """Where numbers begin that lead up to a count: "one, two, three beats"."""
    found: set[int] = set()
    for number, following in reversed(list(itertools.pairwise(numbers))):
        if (
            (following.unit == "beats" or following.start in found)
            and number.end == following.start
            and number.value == following.value - 1
            and not number.explicit
        ):
            found.add(number.start)
    return found


def _counts_things(number: Number, words: list[str]) -> bool:
    """ "Squeeze your two knees in", "the two of them": no grade."""
    if number.explicit:
        return False
    if words[number.start - 1 : number.start] == ["same"] and _is_of_named_things(words, number.start):
        return True
    return words[number.start - 1 : number.start] in _OWNING or words[number.end : number.end + 2] in _OF_THEM


_SOME_TESTS = (["two"], ["three"], ["four"], ["five"])
_SAME_WAY = tuple(
    [word]
    for word in """game drill way routine order idea reason story stretch ones muscles movements tests places levels
        dermatomes roots sites areas""".split()
)
_ANSWERS = (["sharp"], ["blunt"], ["dull"])
_SAID_ANEW = (["so"], ["so", "that's"], ["that's"], ["so", "it's"])
_PUTTING = (["make", "that"], ["make", "it"], ["call", "it"], ["call", "that"])
_OWNING = (["your"], ["my"], ["these"], ["those"])
_OF_THEM = (["of", "them"], ["of", "those"], ["of", "these"], ["of", "your"])


def _said_once(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "L4 sharp, normal, L5 blunt, so reduced", "strong, full power": one result each, said in two words."""
    normal = {item.end for item in found if item.kind is ItemKind.VALUE and item.values.get("mrc") == "normal"}

    def is_repeated(item: Item) -> bool:
        if item.kind is ItemKind.VALUE and item.start in normal and item.values.get("mrc") == "normal":
            return "power" in words[item.start : item.end] and tokens[item.start].boundary <= COMMA
        if item.kind is not ItemKind.VALUE or words[item.start : item.end] not in _ANSWERS:
            return False
        felt = item.values.get("sensation")
        return felt is not None and any(
            other.kind is ItemKind.VALUE
            and other.start >= item.end
            and other.values.get("sensation") == felt
            and (other.start == item.end or words[item.end : other.start] in _SAID_ANEW)
            and in_one_sentence(tokens, item.end, other.start + 1)
            for other in found
        )

    return [item for item in found if not is_repeated(item)]


def _without_reasons(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Straight leg raise not done on either side, too painful": why it was left out, no result."""

    def is_reason(item: Item) -> bool:
        if item.kind is not ItemKind.VALUE or item.grade is not None or "pain" not in words[item.end - 1]:
            return False
        before = [other for other in found if other.end <= item.start]
        last = max(before, key=lambda other: other.end, default=None)
        while last is not None and last.kind in (ItemKind.SIDE, ItemKind.PLACE, ItemKind.REGION):
            before.remove(last)
            last = max(before, key=lambda other: other.end, default=None)
        return last is not None and last.kind is ItemKind.OMISSION and in_one_sentence(tokens, last.end, item.start + 1)

    return [item for item in found if not is_reason(item)]


def _flag_of(term: Term) -> str:
    """What a person is asked of a term that was made out from its place."""
    if is_side(term):
        return "side_uncertain"
    names = any(meaning.kind in ("manoeuvre", "muscle") for meaning in term.meanings)
    return "manoeuvre_unsaid" if names else "value_uncertain"


def _is_sided(at: int, words: list[str], tokens: list[Token], sides: dict[int, int]) -> bool:
    """Whether a side stands right after a number: "on the right", "right", "both sides"."""
    after = at
    while after < len(words) and after < at + 2 and words[after] in ("on", "the"):
        after += 1
    return after in sides and all(tokens[k].boundary < 0.5 for k in range(at, after + 1))


def _is_joint_of(match: Match, words: list[str], matches: list[Match]) -> bool:
    """ "External rotation of the left shoulder": the joint of a movement that was named is no test of its own."""
    at = match.start
    while at > 0 and words[at - 1] in ("the", "left", "right", "his", "her"):
        at -= 1
    return (
        at > 1
        and words[at - 1] == "of"
        and _is_joint(words[match.start : match.end])
        and any(other.end == at - 1 and other.term.words[-1] in _MOVEMENTS for other in matches)
    )


def _is_of_a_movement(match: Match, words: list[str]) -> bool:
    """ "With a tremor at the target": how a finger found the nose, no movement at rest."""
    named = any(meaning.id == "involuntary_movement" for meaning in match.term.meanings)
    return named and words[match.end : match.end + 2] == ["at", "the"] and words[match.end + 2 : match.end + 3] in (
        ["target"], ["end"], ["finger"], ["nose"]
    )  # fmt: skip


def _is_listed(last: Item, item: Item, tokens: list[Token]) -> bool:
    """Whether two subjects follow each other: what was said of the first holds for the second."""
    return last.kind is ItemKind.SUBJECT and last.end == item.start and tokens[item.start].boundary < 0.5


def _present(at: int) -> Item:
    """That the finding which is named at a token is there, in no word of its own."""
    return Item(ItemKind.VALUE, at, at, values={"presence": "present"}, forward=True)


def _is_adjective(item: Item, found: list[Item], words: list[str]) -> bool:
    """ "The left calf is wasted": the finding is said of a place."""
    if item.end - item.start > 1 or not words[item.start].endswith(("ed", "ic")):
        return False
    places = (ItemKind.PLACE, ItemKind.SIDE, ItemKind.REGION)
    said_of = any(other.end == item.start and other.kind in places for other in found)
    return said_of or words[item.start - 1 : item.start] in (["is"], ["are"], ["looks"], ["look"])


def _is_aimed_at(side: Item, words: list[str]) -> bool:
    """ "On your left knee": where a limb moves to."""
    before = [word for word in words[max(0, side.start - 3) : side.start] if word not in ("your", "the", "my")]
    return before[-1:] in (["on"], ["to"], ["down"], ["over"], ["along"], ["against"], ["of"], ["at"], ["with"])


def _moving_side(items: list[Item], words: list[str]) -> list[Item]:
    """In "right heel on your left knee" the first side is that of the limb that moves."""
    dropped: list[int] = []
    opened = {item.start for item in items if item.kind in (ItemKind.SUBJECT, ItemKind.HEADING)}
    for command in (item for item in items if item.kind is ItemKind.COMMAND):
        sides = sorted(
            (item for item in items if item.kind is ItemKind.SIDE and command.start <= item.start < command.end),
            key=lambda item: item.start,
        )
        last = sides[-1] if sides else None
        if last is not None and last.end == command.end and last.start > command.start and last.end in opened:
            command.end = last.start  # "down to the left big toe | right leg power five"
            sides.pop()
        heels = [item for item in sides if words[item.end : item.end + 1] == ["heel"]]
        if command.ids == ("heel_shin",) and len(heels) == 1:  # "touch your left knee with your right heel"
            dropped += [id(item) for item in sides if item is not heels[0]]
            continue
        dropped += [id(item) for item in sides[1:] if item.ids != sides[0].ids and _is_aimed_at(item, words)]
    sides = sorted((item for item in items if item.kind is ItemKind.SIDE), key=lambda item: item.start)
    for moving, other in itertools.pairwise(sides):
        between = words[moving.end : other.start]
        if (
            between[:1] == ["heel"]
            and words[other.end : other.end + 1] in _BELOW
            and not _ALONG.isdisjoint(between[:6])
        ):
            dropped.append(id(other))  # without a break that would make it an order
    return [item for item in items if id(item) not in dropped]


_BELOW = (["shin"], ["knee"], ["leg"])
_ALONG = frozenset("down on onto along against to".split())
_COMPARED = (["compared", "with"], ["compared", "to"], ["relative", "to"])


def _without_degrees(items: list[Item], words: list[str]) -> list[Item]:
    """ "Increased in the legs, more on the left": the result holds for both, to different degrees."""
    kept = []
    for item in items:
        before = [word for word in words[max(0, item.start - 4) : item.start] if word not in ("on", "in", "the", "so")]
        if item.kind is ItemKind.SIDE and (
            before[-2:] in _COMPARED or before[-1:] in (["than"], ["versus"], ["unlike"])
        ):
            continue  # "the left is wasted compared with the right"
        compared = item.kind is ItemKind.SIDE and item.linked and before[-1:] in (["more"], ["worse"], ["especially"])
        said = (other for other in items if other.kind in (ItemKind.SIDE, ItemKind.REGION))
        if not compared or not any(0 < item.start - other.end <= 5 for other in said):
            kept.append(item)
    return kept


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


_IN = frozenset("in on at of".split())
_DENYING = frozenset("no any not without nor neither".split())


def _is_restated(item: Item, found: list[Item], tokens: list[Token]) -> bool:
    """ "There's a rest tremor, so involuntary movement present in the right arm": the same test again, with more."""
    return any(
        other.kind is ItemKind.SUBJECT
        and other.ids == item.ids
        and 0 < other.start - item.end <= 3
        and in_one_sentence(tokens, item.end, other.start + 1)
        for other in found
    )


def _is_of_a_list(words: list[str], at: int, names: set[int]) -> bool:
    """ "Five for hip flexion, for knee extension": the small word joined the name before, too."""
    return at + 1 in names and any(
        start in names and words[start - 1 - (words[start - 1] in ("the", "his", "her"))] == "for"
        for start in range(max(2, at - 4), at)
    )


def _without_worse(found: list[Item], words: list[str]) -> list[Item]:
    """ "Wasting in both arms, worse in the right hand": a remark on what was found in both."""
    remarks: set[int] = set()
    for item in found:
        if item.kind is not ItemKind.VALUE or words[item.start] != "worse":
            continue
        if any(
            side.kind is ItemKind.SIDE and side.ids == ("both",) and 0 <= item.start - side.end <= 1 for side in found
        ):
            where = [other for other in found if other.kind in WHERE and 1 <= other.start - item.end <= 3]
            remarks |= {id(item), *map(id, where)}
    return [item for item in found if id(item) not in remarks]
