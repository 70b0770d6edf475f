"""Words that mean different things in different parts of the examination."""

from __future__ import annotations

from collections import Counter

from pipeline.fill.drafts import ROOT
from pipeline.fill.turns import turns_from
from pipeline.fill.values import GROUPS, Values
from pipeline.mend.tokens import BLOCK_END, COMMA, Token, in_one_sentence
from pipeline.mend.words import BE, frequency
from pipeline.understand.items import Item, ItemKind, held

LIMBS = frozenset({"arm", "leg"})
OF_REFLEXES = ("1+", "2+", "3+")
SMALL_TALK = 5.0
"""Zipf frequency of words that name nothing ("the", "also", "there")."""
_LED_TO_A_PLACE = frozenset("at over behind above below of".split())
_TURNING = (["now"], ["then"], ["next"])
"""What leads to the next heading, and joins no finding to it: "left normal, now power"."""
_WITH_GROUPS = (("tone",), ("plantar_response",))
_ALL_ARE, _LISTED_WITHIN = frozenset("are is were was all both".split()), 2
"""What stands between "tone, power and reflexes" and their result, and how many words of it at most."""
_EVEN = frozenset("equal equally bilaterally bilateral even symmetric symmetrical".split())
_LEAVING = frozenset("i i've i'd i'll we we've we'll is are was were has to be been".split())
_TO_A_ROOT = 5
"""Most tokens from "cold" to the root at which it was felt: then it is a test."""


class Sections:
    """Settles what headings, parts of the body and names with two meanings stand for."""

    def __init__(self, values: Values) -> None:
        self._values = values
        self._manoeuvres = values.manoeuvres

    def settled(self, items: list[Item], tokens: list[Token]) -> list[Item]:
        """Decides words that mean different things in different parts of the examination."""
        out: list[Item] = []
        section: str | None = None
        modality: str | None = None
        perianal = False
        tested: Counter[str] = Counter()
        for index, item in enumerate(items):
            if item.kind is ItemKind.PLACE and "S4-5" in item.ids:
                perianal = True
            elif item.kind is ItemKind.HEADING or names_limb(item):
                perianal = False
            if item.kind is ItemKind.HEADING:
                sections = [i for i in item.ids if not i.startswith("group:")]
                group = next((i for i in item.ids if i.startswith("group:")), None)
                if sections:
                    section = sections[0]
                    if section != "sensation":
                        modality = None
                elif group:
                    section = GROUPS[group]
                if group and (
                    self._is_group_subject(items, index, tokens, group)
                    or self._is_listed_with_result(items, index, tokens, group)
                ):
                    section = GROUPS[group]
                    item.kind, item.ids = ItemKind.SUBJECT, (group,)
                out.append(item)
                continue
            if item.kind in (ItemKind.SUBJECT, ItemKind.COMMAND):
                if item.section_only:
                    excepted = bool(out) and out[-1].kind is ItemKind.EXCEPT  # "the same but for the big toe"
                    again = [i for i in item.ids if i in tested and (excepted or _is_tested_again(item, tokens))]
                    again = again or self._graded_so(items, index)
                    meant = again or [i for i in item.ids if self._manoeuvres[i].section == section]
                    joint = modality in ("vibration", "joint_position")
                    placed = not self._lists_jerks(out, section) and _is_a_place(items, index, tokens)
                    placed = placed or self._is_felt_there(items, index, tokens)
                    if item.sites and ((section == "sensation" and joint) or placed):
                        item.kind = ItemKind.PLACE
                        item.ids = item.sites
                    elif meant or self._is_a_jerk(items, index, tokens) or self._has_a_root(items, index):
                        item.ids, item.section_only = tuple(meant) or item.ids, False
                        section = self._manoeuvres[item.ids[0]].section
                        modality = item.ids[0] if section == "sensation" else modality
                    elif not self._claimed(items, index):
                        if not item.sites:
                            continue
                        item.kind, item.ids = ItemKind.PLACE, item.sites
                else:
                    if self._is_graded_plantar(items, index, tokens):
                        item.ids = ("ankle_plantarflexion",)
                        item.flags += ("manoeuvre_unsaid",)
                    here = {section}
                    if any(map(names_limb, items[index + 1 : index + 4])):
                        here -= {"perianal"}
                    elif perianal:
                        here = {"perianal"}
                    tested[item.ids[0]] += 1
                    # Before anything else, or when both sides have had their strength
                    unled = section is None or (section == "power" and tested[item.ids[0]] > 2)
                    if unled and self._may_be_reflex(items, index):
                        item.flags += ("manoeuvre_unsaid",)
                        here = {"reflexes"}
                    if len(item.ids) > 1 and self._leads_to_a_jerk(items, index):
                        here = {"reflexes"}
                    ids = [i for i in item.ids if i in GROUPS or self._manoeuvres[i].section in here]
                    elsewhere = {one for one in _of_a_section(item) if self._manoeuvres[one].section == "perianal"}
                    fitting = self._found_so(items, index)
                    ids = ids if not fitting or fitting.intersection(ids) else [i for i in item.ids if i in fitting]
                    item.ids = tuple(ids or [i for i in item.ids if i not in elsewhere])
                    first = item.ids[0]
                    section = GROUPS.get(first) or self._manoeuvres[first].section
                    if section == "sensation":
                        modality = first
                    elif section != "perianal":
                        modality, perianal = None, False
            out.append(item)
        return out

    def _is_graded_plantar(self, items: list[Item], index: int, tokens: list[Token]) -> bool:
        """ "Plantar reflection four": of the names that begin so, only the movement has a grade of strength."""
        item, after = items[index], items[index + 1 : index + 2]
        if item.ids != ("plantar_response",) or item.plural or not after or after[0].start > item.end + 1:
            return False
        if any(token.text in BE for token in tokens[item.end : item.end + 1]):
            return False  # "the plantar is four minus"
        return after[0].grade is not None and self._values.read("ankle_plantarflexion", after[0])[0] is not None

    def _found_so(self, items: list[Item], index: int) -> set[str]:
        """ "Biceps and triceps are brisk": what a muscle can mean by the finding after it, strength or reflex."""
        named = {one: self._manoeuvres[one].section for one in items[index].ids if one in self._manoeuvres}
        aside = (ItemKind.SUBJECT, ItemKind.SIDE, ItemKind.REGION)
        value = next((item for item in items[index + 1 : index + 6] if item.kind not in aside), None)
        if set(named.values()) != {"power", "reflexes"} or value is None or value.kind is not ItemKind.VALUE:
            return set()
        return {one for one in named if value.values and self._values.read(one, value)[0] is not None}

    def _graded_so(self, items: list[Item], index: int) -> list[str]:
        """ "Plantars down, big toe four": what a part of the body can mean by the grade right after it, if not all."""
        value = items[index + 1] if index + 1 < len(items) else None
        if value is None or value.grade is None or value.start > items[index].end + 1:
            return []
        graded = [one for one in items[index].ids if self._values.read(one, value)[0] is not None]
        return graded if len(graded) < len(items[index].ids) else []

    def _is_felt_there(self, items: list[Item], index: int, tokens: list[Token]) -> bool:
        """ "Ankles: joint position reduced": a place right before a test of joints, whatever was tested before."""
        item, after = items[index], items[index + 1 : index + 2]
        led = [token.text for token in tokens[max(0, item.start - 3) : item.start]]
        return (
            bool(after and item.sites)
            and after[0].kind is ItemKind.SUBJECT
            and after[0].ids[0] in self._manoeuvres
            and self._manoeuvres[after[0].ids[0]].sites == "joint"
            and after[0].start <= item.end + 1
            and _LED_TO_A_PLACE.isdisjoint(led)
        )

    def _lists_jerks(self, before: list[Item], section: str | None) -> bool:
        """ "Reflexes: absent at the ankles": jerks are listed, and not where clonus was found."""
        named = (item.ids[0] for item in reversed(before) if item.kind in (ItemKind.SUBJECT, ItemKind.HEADING))
        last = next(named, None)
        return section == "reflexes" and last is not None and (last == section or self._values.scale(last) == "reflex")

    def _leads_to_a_jerk(self, items: list[Item], index: int) -> bool:
        """ "Biceps, triceps jerks and supinator jerk two plus": a muscle that is listed with jerks."""
        item, after = items[index], items[index + 1 : index + 2]
        listed = bool(after) and after[0].kind is ItemKind.SUBJECT and 0 <= after[0].start - item.end <= 1
        return listed and all(self._values.scale(one) == "reflex" for one in after[0].ids if one in self._manoeuvres)

    def _may_be_reflex(self, items: list[Item], index: int) -> bool:
        """ "Biceps two plus": graded as reflexes are, not as strength is."""
        sections = {self._manoeuvres[one].section for one in items[index].ids if one in self._manoeuvres}
        value = next((item for item in items[index + 1 : index + 3] if item.kind is not ItemKind.SIDE), None)
        return sections >= {"power", "reflexes"} and value is not None and value.grade in OF_REFLEXES

    def _has_a_root(self, items: list[Item], index: int) -> bool:
        """ "Touch, left L4 normal", "perianal touch": what is felt, with a root after it, or the saddle before."""
        if not any(self._manoeuvres[one].sites == "dermatome" for one in items[index].ids):
            return False
        if index and "S4-5" in items[index - 1].ids and items[index - 1].end == items[index].start:
            return True
        near = (nxt for nxt in items[index + 1 : index + 4] if nxt.start - items[index].end <= _TO_A_ROOT)
        return any(nxt.kind is ItemKind.PLACE and any(map(ROOT.match, nxt.ids)) for nxt in near)

    def _claimed(self, items: list[Item], index: int) -> bool:
        """A value right after the word fits what the word would mean in its own section."""
        for nxt in items[index + 1 : index + 4]:
            if nxt.kind is ItemKind.VALUE:
                return (
                    not nxt.weak
                    and nxt.grade is None
                    and not nxt.reaction
                    and any(
                        self._values.read(one, nxt)[0] is not None and self._values.scale(one) == "plantar"
                        for one in items[index].ids
                    )
                )
            if nxt.kind not in (ItemKind.SIDE, ItemKind.REGION):
                break
        return False

    def _is_a_jerk(self, items: list[Item], index: int, tokens: list[Token]) -> bool:
        """ "Patellar two plus", "knees brisk": a tendon, or a joint with what only jerks are, whatever came before."""
        item = items[index]
        own = items[index + 1] if index + 1 < len(items) else None
        if not item.sites and (_is_left_out(items, index, tokens) or self._is_a_walk(items, index, tokens)):
            return True
        brisk = own is not None and set(own.values) == {"reflex"} and own.start <= item.end + 1
        if (item.sites and not brisk) or any(self._values.scale(one) != "reflex" for one in item.ids):
            return False
        aside = (ItemKind.SUBJECT, ItemKind.SIDE)
        value = next((nxt for nxt in items[index + 1 : index + 6] if nxt.kind not in aside), None)
        led = [token.text for token in tokens[max(0, item.start - 3) : item.start]]
        sure = item.match is None or not item.match.mended  # else a side must speak for it: "kilos, maybe four"
        return (
            (sure or any(nxt.kind is ItemKind.SIDE for nxt in items[index + 1 : index + 4]))
            and _LED_TO_A_PLACE.isdisjoint(led)
            and value is not None
            and value.kind is ItemKind.VALUE
            and not value.reaction
            and self._values.read(item.ids[0], value)[0] is not None
            and in_one_sentence(tokens, item.end, value.start + 1)
        )

    def _is_a_walk(self, items: list[Item], index: int, tokens: list[Token]) -> bool:
        """ "Romberg negative, walking impaired", "walking is normal": how the patient walked, told right after it."""
        item, after = items[index], items[index + 1 : index + 2]
        if item.ids != ("gait",) or not after or after[0].kind is not ItemKind.VALUE:
            return False
        value = after[0]
        between = [token.text for token in tokens[item.end : value.start]]
        opens = tokens[item.start].boundary >= COMMA or (index > 0 and items[index - 1].end == item.start)
        told = between in (["is"], ["was"]) or (not between and opens)
        joined = all(token.boundary < COMMA for token in tokens[item.end : value.end])
        return (
            told and joined and not (value.weak or value.reaction) and self._values.read("gait", value)[0] is not None
        )

    def _is_group_subject(self, items: list[Item], index: int, tokens: list[Token], group: str) -> bool:
        """A heading is a subject where a value belongs to it directly ("power is full", "brisk reflexes")."""
        heading = items[index]
        before = items[index - 1] if index else None
        if before is not None and before.kind is ItemKind.VALUE and before.grade is None and not before.reaction:
            between = [token.text for token in tokens[before.end : heading.start]]
            adjacent = len(between) <= 1 and between not in _TURNING and tokens[heading.start].boundary < 1.5
            owned = (
                (
                    index > 1
                    and items[index - 2].kind in (ItemKind.SUBJECT, ItemKind.NEGATION)
                    and before.start - items[index - 2].end <= 1
                )
                or (
                    index
                    > 2  # "tone in the left arm is reduced, power": and not "in the left arm there is reduced power"
                    and items[index - 3].kind is ItemKind.SUBJECT
                    and items[index - 2].kind is ItemKind.SIDE
                    and [token.text for token in tokens[items[index - 2].end : before.start]] in (["is"], ["was"])
                )
            )
            if adjacent and not owned and self._values.read(group, before)[0] is not None:
                return True
        for at, nxt in enumerate(items[index + 1 : index + 6], index + 1):
            if nxt.start < heading.end:
                continue
            if (
                any(tokens[at].boundary >= 2 for at in range(heading.end, nxt.start + 1))
                and nxt.start - heading.end > 4
            ):
                break
            if nxt.kind in (ItemKind.SIDE, ItemKind.REGION, ItemKind.THROUGHOUT, ItemKind.REST):
                continue
            if nxt.kind is ItemKind.PLACE and (group == "group:sensation" or set(nxt.ids) <= LIMBS):
                continue
            if nxt.kind is ItemKind.SUBJECT and nxt.section_only:
                continue
            if nxt.kind is ItemKind.VALUE and self._names_something(items, heading.end, nxt.start, tokens):
                return False
            if nxt.grade and turns_from(items, at, tokens):
                return False  # "Reflexes. Two plus right knee, one plus left knee."
            if nxt.kind in (ItemKind.VALUE, ItemKind.OMISSION) and not (nxt.reaction and not nxt.values):
                return nxt.kind is ItemKind.OMISSION or nxt.same or self._values.read(group, nxt)[0] is not None
            break
        return False

    def _is_listed_with_result(self, items: list[Item], index: int, tokens: list[Token], group: str) -> bool:
        """ "Normal tone and power in both legs", "tone, power and reflexes all normal": one result of the list."""
        first = last = index
        while first and _is_listed_part(items[first - 1], items[first], tokens):
            first -= 1
        while last + 1 < len(items) and _is_listed_part(items[last], items[last + 1], tokens):
            last += 1
        if first == last or not any(_is_part(item) for item in items[first : last + 1]):
            return False
        value = next(iter(items[last + 1 : last + 2]), None)
        if value is not None and value.kind is ItemKind.VALUE and value.start - items[last].end <= _LISTED_WITHIN:
            between = {token.text for token in tokens[items[last].end : value.start]}
            return between <= _ALL_ARE and self._values.read(group, value)[0] is not None
        value = items[first - 1] if first else None
        if value is None or value.kind is not ItemKind.VALUE or value.end != items[first].start:
            return False
        owner = items[first - 2] if first > 1 else None
        owned = owner is not None and owner.kind in (ItemKind.SUBJECT, ItemKind.HEADING) and owner.end == value.start
        parted = tokens[items[first].start].boundary >= BLOCK_END
        return not (owned or parted) and self._values.read(group, value)[0] is not None

    def _names_something(self, items: list[Item], start: int, end: int, tokens: list[Token]) -> bool:
        """Words that no item accounts for, between a heading and a value: perhaps a misheard name, not the group."""
        taken = held(item for item in items if item.end > start and item.start < end)
        return any(
            at not in taken
            and tokens[at].text not in _EVEN
            and (frequency(tokens[at].text) < SMALL_TALK if len(tokens[at].text) > 1 else tokens[at].text not in "ais")
            for at in range(start, end)
        )


def _is_part(item: Item) -> bool:
    """A group of tests ("power"), or what is named with such groups ("tone", "plantars")."""
    group = item.kind is ItemKind.HEADING and any(one.startswith("group:") for one in item.ids)
    return group or (item.kind is ItemKind.SUBJECT and (item.ids in _WITH_GROUPS or item.ids[0].startswith("group:")))


def _is_listed_part(first: Item, second: Item, tokens: list[Token]) -> bool:
    """ "Tone and power", "tone, power"."""
    if not (_is_part(first) and _is_part(second)) or tokens[second.start].boundary >= BLOCK_END:
        return False
    return [token.text for token in tokens[first.end : second.start]] in ([], ["and"])


def _is_a_place(items: list[Item], index: int, tokens: list[Token]) -> bool:
    """ "Reduced at the right great toe": where something was felt, not a movement; "four at the great toe" is one."""
    item = items[index]
    led = [token.text for token in tokens[max(0, item.start - 3) : item.start]]
    around = items[max(0, index - 3) : index + 3]
    return "at" in led and not any(k.kind is ItemKind.VALUE and k.grade is not None for k in around)


def _is_tested_again(item: Item, tokens: list[Token]) -> bool:
    """ "The right big toe again, four plus": a test from before, whatever came since."""
    return [token.text for token in tokens[item.end : item.end + 1]] == ["again"]


def names_limb(item: Item) -> bool:
    return item.kind is ItemKind.REGION or (item.kind is ItemKind.SIDE and bool(item.sites))


def _of_a_section(item: Item) -> set[str]:
    """What a word means in one part of the examination alone: "tone" is that of the sphincter where that is felt."""
    meanings = item.match.term.meanings if item.match is not None else ()
    return {meaning.id for meaning in meanings if meaning.kind == "manoeuvre" and meaning.section is not None}


def _is_left_out(items: list[Item], index: int, tokens: list[Token]) -> bool:
    """ "Walking I've put off", "patellar not tested": the word has one meaning, and there what is left out."""
    item, after = items[index], items[index + 1 : index + 2]
    if len(item.ids) > 1 or not after or after[0].kind is not ItemKind.OMISSION:
        return False
    return _LEAVING.issuperset(token.text for token in tokens[item.end : after[0].start])
