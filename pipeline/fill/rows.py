"""From frames to rows: what carries on (side, section, modality), what repeats, what replaces."""

from __future__ import annotations

import math
import re
from collections import Counter
from dataclasses import dataclass, field, replace
from itertools import pairwise

from pipeline.fill.frames import EXCEPTED, POWER_WORDS, Frame, build, places_by_side
from pipeline.fill.values import GROUPS, Values
from pipeline.lexicon.model import Lexicon
from pipeline.mend.mend import frequency
from pipeline.mend.tokens import BLOCK_END, COMMA, Token, in_one_sentence
from pipeline.understand.items import Item, ItemKind, held
from pipeline.understand.words import IMPERATIVES


def root_order(root: str) -> tuple[int, int]:
    """Sort key of a spinal root, from the neck down."""
    return "CTLS".index(root[0]), int(root[1:])


_ROOT = re.compile(r"[CTLS]\d+$")
_OPPOSITE = {"left": "right", "right": "left"}
_BOTH = ("right", "left")
_LIMBS = frozenset({"arm", "leg"})
_OF_POWER = ("4-", "4", "4+", "5-", "5")
_OF_REFLEXES = ("1+", "2+", "3+")
_STATING = frozenset("is are was were has had shows 's".split())
_WALKS = frozenset({"heel_walk", "toe_walk", "tandem_gait"})
"""Tests of gait that an instruction may ask for by itself."""
_RARE = 4.0
_BODY = frozenset(
    """toe toes foot feet heel heels ankle ankles knee knees hip hips thigh thighs finger fingers thumb thumbs wrist
        wrists elbow elbows shoulder shoulders""".split()
)
_MOVES = IMPERATIVES | frozenset("up down out in back apart together".split())
_DOUBTFUL = 0.75
_POINTED = 6.2
_POINTING = frozenset("it this that these those he she they there which what both one ones rest others other".split())
_AMONG_PLACES = frozenset(
    """a also and are as at both but down exactly from her here his in is it's just like likewise of on only or over
        side sides that the then there to too up well with""".split()
)
"""Words that join the places of one finding."""
_NEAR = 8
"""Most tokens between two places of one finding."""
_SAID_WITH = 4
"""Most tokens from a side to the test or place that it was said with."""
_NOUN = 4.5
_SMALL_TALK = 5.0
"""Zipf frequency of words that name nothing ("the", "also", "there")."""


@dataclass(slots=True)
class Draft:
    """A row before it is judged, with what its confidence depends on."""

    manoeuvre: str
    side: str
    site: str | None
    value: str | None
    reason: str | None = None
    roots: list[str] = field(default_factory=list)
    muscle: str | None = None
    nerve: str | None = None
    inferred: bool = False
    flags: set[str] = field(default_factory=set)
    items: list[Item] = field(default_factory=list)
    spans: list[tuple[int, int]] = field(default_factory=list)
    side_source: str = "said"
    frame: int = -1
    group: bool = False
    repeats: int = 1
    roots_first: bool = False
    value_flags: tuple[str, ...] = ()
    features: dict[str, float] = field(default_factory=dict)

    @property
    def key(self) -> tuple[str, str, str | None]:
        return self.manoeuvre, self.side, self.site


@dataclass(slots=True)
class Loose:
    """A result that could not be placed: tokens `start`..`end` (exclusive)."""

    start: int
    end: int
    reason: str


@dataclass(slots=True)
class _State:
    side: str | None = None  # left, right, both
    side_source: str = "unsaid"
    side_mention: int = -1
    side_section: str | None = None
    limb: str | None = None  # the side that a heading announced ("left leg.")
    apart: str | None = None  # a result on the other side since then: "aside", or "doubt" where it may have changed
    doubtful: bool = False
    section: str | None = None
    modality: str | None = None
    subjects: list[str] = field(default_factory=list)
    grouped: bool = False
    regions: tuple[str, ...] = ()
    limb_at: int | None = None  # where a limb was named last


class Filler:
    """Fills rows from the items of one talk."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._values = Values(lexicon)
        self._manoeuvres = self._values.manoeuvres
        self.moved = {muscle.id: muscle.manoeuvre for muscle in lexicon.muscles}
        self._roots = {one.id: {supply.root for supply in one.roots} for one in lexicon.manoeuvres}
        self._roots |= {one.id: {supply.root for supply in one.roots} for one in lexicon.muscles}
        self._core = {
            section: [m for m in lexicon.manoeuvres if m.core and m.section == section]
            for section in ("power", "reflexes")
        }

    def fill(self, items: list[Item], tokens: list[Token]) -> tuple[list[Draft], list[Loose]]:
        """Drafts in order of first mention, and what could not be placed."""
        work = _Work(self, tokens)
        items = _other_sides(_repair(self._sectioned(items, tokens), tokens))
        for part in build(items, tokens, self._fits, self._supplies):
            work.take(part)
        return work.finish()

    def _supplies(self, subject: Item, place: Item) -> bool:
        said = {one for one in place.ids if _ROOT.match(one)}
        known = self._roots.get(subject.muscle or "") or {
            root for one in subject.ids for root in self._roots.get(one, ())
        }
        return not (said and known) or not said.isdisjoint(known)

    def _fits(self, subject: Item, value: Item) -> bool:
        if value.kind is ItemKind.PLACE:
            return any(
                (s in GROUPS and s == "group:sensation")
                or (s in self._manoeuvres and self._manoeuvres[s].sites in ("dermatome", "joint"))
                for s in subject.ids
            )
        if value.kind is ItemKind.OMISSION or value.same:
            return True
        if value.reaction and not value.values and value.grade is None:
            return subject.kind is ItemKind.COMMAND
        if value.reaction and subject.kind is ItemKind.COMMAND:
            return True
        return any(self._values.read(s, value)[0] is not None for s in subject.ids)

    def _sectioned(self, items: list[Item], tokens: list[Token]) -> list[Item]:
        """Decides words that mean different things in different parts of the examination."""
        out: list[Item] = []
        section: str | None = None
        modality: str | None = None
        perianal = False
        tested: Counter[str] = Counter()
        for index, item in enumerate(items):
            if item.kind is ItemKind.PLACE and "S4-5" in item.ids:
                perianal = True
            elif item.kind is ItemKind.HEADING or _names_limb(item):
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
                if group and self._is_group_subject(items, index, tokens, group):
                    section = GROUPS[group]
                    item.kind, item.ids = ItemKind.SUBJECT, (group,)
                out.append(item)
                continue
            if item.kind in (ItemKind.SUBJECT, ItemKind.COMMAND):
                if item.section_only:
                    meant = [i for i in item.ids if self._manoeuvres[i].section == section]
                    joint = modality in ("vibration", "joint_position")
                    if item.sites and ((section == "sensation" and joint) or _is_a_place(items, index, tokens)):
                        item.kind = ItemKind.PLACE
                        item.ids = item.sites
                    elif meant:
                        item.ids, item.section_only = tuple(meant), False
                    elif not self._claimed(items, index):
                        if not item.sites:
                            continue
                        item.kind, item.ids = ItemKind.PLACE, item.sites
                else:
                    here = {section}
                    if perianal and not any(map(_names_limb, items[index + 1 : index + 4])):
                        here = {"perianal"}
                    tested[item.ids[0]] += 1
                    # Before anything else, or when both sides have had their strength
                    unled = section is None or (section == "power" and tested[item.ids[0]] > 2)
                    if unled and self._may_be_reflex(items, index):
                        item.flags += ("manoeuvre_unsaid",)
                        here = {"reflexes"}
                    ids = [i for i in item.ids if i in GROUPS or self._manoeuvres[i].section in here]
                    elsewhere = {one for one in _of_a_section(item) if self._manoeuvres[one].section == "perianal"}
                    item.ids = tuple(ids or [i for i in item.ids if i not in elsewhere])
                    first = item.ids[0]
                    section = GROUPS.get(first) or self._manoeuvres[first].section
                    if section == "sensation":
                        modality = first
                    elif section != "perianal":
                        modality, perianal = None, False
            out.append(item)
        return out

    def _may_be_reflex(self, items: list[Item], index: int) -> bool:
        """ "Biceps two plus": graded as reflexes are, not as strength is."""
        sections = {self._manoeuvres[one].section for one in items[index].ids if one in self._manoeuvres}
        value = next((item for item in items[index + 1 : index + 3] if item.kind is not ItemKind.SIDE), None)
        return sections >= {"power", "reflexes"} and value is not None and value.grade in _OF_REFLEXES

    def _claimed(self, items: list[Item], index: int) -> bool:
        """A value right after the word, or a root, fits what the word would mean in its own section."""
        if any(self._manoeuvres[one].sites == "dermatome" for one in items[index].ids):
            near = (nxt for nxt in items[index + 1 : index + 4] if nxt.start - items[index].end <= _TO_A_ROOT)
            return any(nxt.kind is ItemKind.PLACE and any(map(_ROOT.match, nxt.ids)) for nxt in near)
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

    def _is_group_subject(self, items: list[Item], index: int, tokens: list[Token], group: str) -> bool:
        """A heading is a subject where a value belongs to it directly ("power is full", "brisk reflexes")."""
        heading = items[index]
        before = items[index - 1] if index else None
        if before is not None and before.kind is ItemKind.VALUE and before.grade is None and not before.reaction:
            adjacent = heading.start - before.end <= 1 and tokens[heading.start].boundary < 1.5
            owned = (
                index > 1
                and items[index - 2].kind in (ItemKind.SUBJECT, ItemKind.NEGATION)
                and before.start - items[index - 2].end <= 1
            )
            if adjacent and self._values.read(group, before)[0] is not None:
                return not owned
        for nxt in items[index + 1 : index + 6]:
            if nxt.start < heading.end:
                continue
            if (
                any(tokens[at].boundary >= 2 for at in range(heading.end, nxt.start + 1))
                and nxt.start - heading.end > 4
            ):
                break
            if nxt.kind in (ItemKind.SIDE, ItemKind.REGION, ItemKind.THROUGHOUT, ItemKind.REST):
                continue
            if nxt.kind is ItemKind.PLACE and (group == "group:sensation" or set(nxt.ids) <= _LIMBS):
                continue
            if nxt.kind is ItemKind.SUBJECT and nxt.section_only:
                continue
            if nxt.kind is ItemKind.VALUE and self._names_something(items, heading.end, nxt.start, tokens):
                return False
            if nxt.kind in (ItemKind.VALUE, ItemKind.OMISSION) and not (nxt.reaction and not nxt.values):
                return nxt.kind is ItemKind.OMISSION or nxt.same or self._values.read(group, nxt)[0] is not None
            break
        return False

    def _names_something(self, items: list[Item], start: int, end: int, tokens: list[Token]) -> bool:
        """Words that no item accounts for, between a heading and a value: perhaps a misheard name, not the group."""
        taken = held(item for item in items if item.end > start and item.start < end)
        return any(
            at not in taken
            and (frequency(tokens[at].text) < _SMALL_TALK if len(tokens[at].text) > 1 else tokens[at].text not in "ais")
            for at in range(start, end)
        )


class _Work:
    """The state of filling one talk."""

    def __init__(self, filler: Filler, tokens: list[Token]) -> None:
        self._filler = filler
        self._values = filler._values
        self._manoeuvres = filler._manoeuvres
        self._tokens = tokens
        self._state = _State()
        self._drafts: dict[tuple[str, str, str | None], Draft] = {}
        self._loose: list[Loose] = []
        self._history: list[tuple[int, list[Draft], list[Draft | None]]] = []
        self._frame_no = 0
        self._trail: list[tuple[int, int, list[Draft]]] = []  # (frame number, side mention, drafts)
        self._command: Item | None = None
        self._named: dict[str, Item] = {}
        self._side_frame = 0
        self._carried: tuple[str | None, str] = (None, "unsaid")
        self._ended = 0
        self._contrasted = False
        self._pin_at = next(
            (i for i, t in enumerate(tokens) if t.text in ("pin", "pinprick", "neurotip", "sharp")), None
        )
        self._touch_at = next(
            (
                i
                for i, t in enumerate(tokens)
                if t.text in ("touch", "cotton", "fingertip", "brush", "wisp") and tokens[i - 1].text != "a"
            ),
            None,
        )

    # -- taking frames ------------------------------------------------------------------------------------------------

    def take(self, part: Frame | Item) -> None:
        if isinstance(part, Item):
            self._take_item(part)
            return
        for one in _by_limb(part):
            for two in _by_place(one):
                self._take_frame(two)

    def _take_frame(self, part: Frame) -> None:
        for item in part.pre:
            self._note(item)
        self._back_to_limb(part)
        self._carried = (self._state.side, self._state.side_source)
        drafts = self._read(part)
        if drafts is None:
            drafts = []
        for item in part.post:
            self._note(item, quiet=True)
        self._commit(part, drafts)
        for item in part.post:
            if item.kind is ItemKind.SIDE and self._is_of_all(item):
                self._side_for_all(item, math.inf)

    def _take_item(self, item: Item) -> None:
        if item.kind is ItemKind.REMOVE:
            self._undo()
        elif item.kind is ItemKind.SWAP:
            self._swap()
        elif EXCEPTED in item.flags and item.kind in (ItemKind.SUBJECT, ItemKind.PLACE) and self._trail:
            self._leave_out(item)
        else:
            self._note(item)
            if item.kind is ItemKind.SIDE and self._is_of_all(item):
                self._side_for_all(item, math.inf)

    def _leave_out(self, item: Item) -> None:
        """Takes a test or a place that was excepted out of the last result, on the side that was said with it."""
        sided = abs(item.start - self._state.side_mention) <= _SAID_WITH
        for draft in self._trail[-1][2]:
            meant = (draft.site if item.kind is ItemKind.PLACE else draft.manoeuvre) in item.ids
            of_side = not sided or self._state.side in (draft.side, "both")
            if meant and of_side and self._drafts.get(draft.key) is draft:
                del self._drafts[draft.key]
        self._loose.append(Loose(item.start, item.end, "excepted from a result, and no result of its own was said"))

    @property
    def _last(self) -> list[Draft]:
        """The rows of the last result; none before the first."""
        return self._trail[-1][2] if self._trail else []

    def _doubted(self, manoeuvre: str) -> Item | None:
        """The word that named a test, where it may have been another one: the doubt goes on with the test."""
        named = self._named.get(manoeuvre)
        if named is None:
            return None
        doubtful = named.match is not None and named.match.probability < _DOUBTFUL
        return named if doubtful or "manoeuvre_unsaid" in named.flags else None

    def _is_of_all(self, side: Item) -> bool:
        """ "All on the left", "both on the left"."""
        return any(token.text in ("all", "both") for token in self._tokens[max(0, side.start - 3) : side.start])

    def _note(self, item: Item, *, quiet: bool = False) -> None:
        """What an item changes for all that follows."""
        state = self._state
        if item.kind is ItemKind.HEADING:
            state.section = item.ids[0]
            if state.section != "sensation":
                state.modality = None
        elif item.kind is ItemKind.REGION:
            state.regions = item.limbs
            state.limb_at = item.start
            if self._tokens[item.end - 1].text.endswith("s") and not quiet and state.side_source == "unsaid":
                state.side, state.side_source = "both", "heading"
        elif item.kind is ItemKind.SIDE:
            side = item.ids[0]
            if side == "other":
                return
            if item.sites:
                state.regions, state.limb_at = item.sites, item.start
            state.side, state.side_source, state.side_mention = side, "said", item.start
            state.side_section, state.doubtful = state.section, False
            if self._stands_alone(item):
                state.limb, state.apart = side if side in _OPPOSITE else None, None
        elif item.kind in (ItemKind.SUBJECT, ItemKind.COMMAND) and not item.section_only:
            here = (
                one for one in item.ids if one in self._manoeuvres and self._manoeuvres[one].region in state.regions
            )
            first = next(here, item.ids[0])
            state.section = GROUPS.get(first) or self._manoeuvres[first].section
            if state.section == "sensation" and first in self._manoeuvres:
                state.modality = first
            if item.kind is ItemKind.SUBJECT:
                state.subjects = [one for one in item.ids[:1] if one in self._manoeuvres]
                state.grouped = False
            if (
                first in self._manoeuvres
                and self._manoeuvres[first].region in ("lower_limb", "upper_limb")
                and state.regions != ("lower_limb", "upper_limb")
            ):
                state.regions = (self._manoeuvres[first].region,)

    def _is_object(self, side: Item) -> bool:
        """ "He's sparing the left side": the side of a verb."""
        after = self._tokens[side.end].text if side.end < len(self._tokens) else ""
        return not side.linked and self._tokens[side.start - 1].text == "the" and after not in _STATING

    def _stands_alone(self, side: Item) -> bool:
        """A side that is a sentence of its own announces the limb that is examined."""
        before = side.start - (side.start > 0 and self._tokens[side.start - 1].text in ("the", "his", "her", "now"))
        after = side.end + (side.end < len(self._tokens) and self._tokens[side.end].text in ("now", "first", "next"))
        opens = self._tokens[before].boundary >= 1.5
        return opens and (after >= len(self._tokens) or self._tokens[after].boundary >= 1)

    def _back_to_limb(self, frame: Frame) -> None:
        """After "left leg ... none on the right either" a new test without a side is on the left again."""
        state = self._state
        if any(item.kind is ItemKind.COMMAND for item in frame.subjects):
            state.apart = None
        if state.apart and state.limb and frame.subjects and not frame.of(ItemKind.SIDE):
            state.side, state.doubtful, state.apart = state.limb, state.apart == "doubt", None

    # -- reading one frame --------------------------------------------------------------------------------------------

    def _read(self, frame: Frame) -> list[Draft] | None:
        said = frame.value
        if said.same:
            return self._repeat(frame)
        if said.of_last and (counted := self._counted(frame)):
            return counted
        subjects, items = self._subjects(frame)
        if (
            said.reaction
            and not any(item.kind is ItemKind.SUBJECT for item in items)
            and not (said.values and subjects and not any(i.kind is ItemKind.COMMAND for i in items))
        ):
            commands = [item for item in frame.subjects if item.kind is ItemKind.COMMAND]
            if commands:
                self._command = commands[-1]
                return self._infer(frame, commands[-1])
            if (
                frame.of(ItemKind.SIDE)
                and self._command is not None
                and self._trail
                and self._trail[-1][2][-1].inferred
            ):
                return self._infer(frame, self._command)
            return None
        if said.reaction and not said.values and not subjects and (named := self._just_named(frame)) is not None:
            return self._infer(frame, named)
        if not subjects and _goes_up_or_down(said):
            said.flags += ("manoeuvre_unsaid",)  # "those are down going": nothing but the toes does that
            subjects = [("plantar_response", None)]
        if not subjects:
            if (
                said.kind is ItemKind.VALUE
                and said.grade is not None
                and (not said.weak or frame.of(ItemKind.SIDE) or frame.of(ItemKind.PLACE))
            ) or (
                said.kind is ItemKind.VALUE
                and said.values
                and not said.weak
                and (frame.of(ItemKind.SIDE) or frame.of(ItemKind.PLACE))
            ):
                self._loose.append(Loose(frame.start, frame.end, "no manoeuvre was named for this result"))
            elif said.kind is ItemKind.OMISSION and frame.of(ItemKind.SIDE) and self._names_place(frame):
                self._loose.append(Loose(frame.start, frame.end, "no manoeuvre was named for what was not examined"))
            return None
        if (
            not items
            and subjects
            and self._manoeuvres[subjects[0][0]].sites in ("dermatome", "joint")
            and said.kind is ItemKind.VALUE
            and not frame.of(ItemKind.PLACE)
            and not frame.of(ItemKind.SIDE)
        ):
            return None
        if not items and self._elaborates(frame, [one for one, _ in subjects]):
            return None
        if not items and self._tells_of_a_noun(frame) and self._has_unread_subject(frame):
            self._loose.append(Loose(frame.start, frame.end, "no manoeuvre was named for this result"))
            return None
        placed = self._manoeuvres[subjects[0][0]].sites in ("dermatome", "joint")
        if placed and frame.of(ItemKind.REST) and not frame.of(ItemKind.PLACE):
            self._loose.append(Loose(frame.start, frame.end, "which places are the rest was not said"))
            return None
        drafts: list[Draft] = []
        for subject, item in subjects:
            drafts += self._drafts_for(frame, subject, item)
        if not drafts and said.kind is ItemKind.VALUE and not said.reaction and not said.weak:
            self._loose.append(Loose(frame.start, frame.end, "the result does not fit the manoeuvre named with it"))
        return drafts

    @staticmethod
    def _names_place(frame: Frame) -> bool:
        return any(item.is_place for item in frame.pre)

    def _just_named(self, frame: Frame) -> Item | None:
        """The test right before a reaction: "hip flexion good"."""
        named = [item for item in frame.subjects if item.kind is ItemKind.SUBJECT and not item.section_only]
        if len(named) != 1 or not 0 <= frame.value.start - named[0].end <= 1:
            return None
        return named[0] if self._tokens[frame.value.start].boundary < 1.2 else None

    def _elaborates(self, frame: Frame, subjects: list[str]) -> bool:
        """ "Reduced at L5, she says it's fuzzy": more words on a result that was just given, not a result of its
        own.
        """
        if "again" in [token.text for token in self._tokens[max(0, frame.start - 4) : frame.start]]:
            return False
        if frame.value.grade is not None or frame.of(ItemKind.SIDE) or frame.of(ItemKind.PLACE):
            return False
        last = self._last
        if frame.value.kind is ItemKind.OMISSION:
            return bool(last) and last[-1].reason is not None and {draft.manoeuvre for draft in last} == set(subjects)
        return (
            bool(last)
            and {draft.manoeuvre for draft in last} == set(subjects)
            and not last[-1].inferred
            and (
                last[-1].site is not None
                or self._values.scale(subjects[0]) in ("gait", "coordination", "presence", "tone")
            )
        )

    def _subjects(self, frame: Frame) -> tuple[list[tuple[str, Item | None]], list[Item]]:
        """(manoeuvre, item that names it) for the frame; carried on from before where it names none."""
        said, state = frame.value, self._state
        named: list[tuple[str, Item | None]] = []
        for item in frame.subjects:
            choice = self._choose(item, said)
            if choice is not None:
                named += [(one, item) for one in self._expand(choice, frame)]
        if named or (frame.subjects and any(not item.section_only for item in frame.subjects)):
            if named:
                for item in frame.subjects:
                    self._note(item)
                state.subjects = [one for one, _ in named]
                state.grouped = any(item.ids[0] in GROUPS for item in frame.subjects)
            return named, frame.subjects
        if (
            said.match is not None
            and said.kind is ItemKind.VALUE
            and set(said.match.term.words) & POWER_WORDS
            and said.values.get("mrc") == "normal"
            and not self._is_of_last_test(frame)
        ):
            return [(one, None) for one in self._expand("group:power", frame)], []
        places = [p for item in frame.of(ItemKind.PLACE) for p in item.ids]
        if frame.of(ItemKind.REST) or (
            frame.of(ItemKind.THROUGHOUT)
            and said.kind is ItemKind.VALUE
            and not any(item.kind is ItemKind.PLACE and not _LIMBS.issuperset(item.ids) for item in frame.post)
            and (state.section in ("power", "reflexes", None) or said.grade in _OF_POWER)
        ):
            group = f"group:{state.section}" if f"group:{state.section}" in GROUPS else "group:power"
            if group and self._values.read(group, said)[0] is not None:
                return [(one, None) for one in self._expand(group, frame)], []
        if state.grouped and frame.of(ItemKind.REGION) and f"group:{state.section}" in GROUPS:
            # "Two plus in the arms, absent in the legs"
            group = f"group:{state.section}"
            if said.kind is ItemKind.OMISSION or self._values.read(group, said)[0] is not None:
                return [(one, None) for one in self._expand(group, frame)], []
        if self._led_by_reflex(frame) and any(
            self._manoeuvres[one].section != "reflexes" for one in state.subjects if one in self._manoeuvres
        ):
            state.subjects = []  # "... jerks three plus": of a reflex whose name was not understood
            return [], []
        rooted = any(_ROOT.match(p) for p in places) and said.grade is None and said.kind is ItemKind.VALUE
        goes_on = (  # "ankle jerks one plus on the right, absent on the left, S1"
            state.section == "reflexes"
            and said.values.get("reflex") == "0"
            and len(places) == 1
            and all(token.boundary < BLOCK_END for token in self._tokens[self._ended : frame.start + 1])
            and any(not self._filler._roots.get(one, set()).isdisjoint(places) for one in state.subjects)
        )
        if goes_on or not (rooted and state.section != "sensation" and "sensation" in said.values):
            fitting: list[tuple[str, Item | None]] = [
                (one, None) for one in state.subjects if self._can(one, said, places)
            ]
            if fitting and not (state.grouped and not frame.of(ItemKind.SIDE)):
                return fitting, []
        if (
            (rooted and "sensation" in said.values)
            or (places and any(_ROOT.match(p) for p in places) and (state.section == "sensation" or state.modality))
        ) and self._values.read("group:sensation", said)[0] is not None:
            return [(one, None) for one in self._expand("group:sensation", frame)], []
        if state.modality and self._can(state.modality, said, places):
            return [(state.modality, None)], []
        return [], []

    def _led_by_reflex(self, frame: Frame) -> bool:
        before = range(max(0, frame.start - 1), frame.value.start)
        return not frame.subjects and any(self._tokens[at].text in _REFLEX_WORDS for at in before)

    def _can(self, manoeuvre: str, said: Item, places: list[str]) -> bool:
        if said.kind is ItemKind.OMISSION:
            return True
        if said.reaction and not said.values:
            return False
        return self._values.read(manoeuvre, said)[0] is not None

    def _choose(self, item: Item, said: Item) -> str | None:
        fitting = [
            one
            for one in item.ids
            if said.kind is ItemKind.OMISSION or said.same or self._values.read(one, said)[0] is not None
        ]
        if not fitting:
            return None
        section = self._state.section
        near = [one for one in fitting if one in GROUPS or self._manoeuvres[one].region in self._state.regions]
        fitting = near or fitting
        return next(
            (one for one in fitting if (GROUPS.get(one) or self._manoeuvres[one].section) == section), fitting[0]
        )

    def _expand(self, subject: str, frame: Frame) -> list[str]:
        if subject not in GROUPS:
            return [subject]
        if subject == "group:sensation":
            if self._state.modality in ("light_touch", "pinprick", "temperature"):
                return [self._state.modality]
            if (
                self._pin_at is not None
                and self._pin_at < frame.end
                and not (self._touch_at is not None and self._pin_at < self._touch_at < frame.end)
            ):
                return ["pinprick"]
            if self._touch_at is None or self._touch_at >= frame.end:
                frame.value.flags = (*frame.value.flags, "modality_unsaid")
            return ["light_touch"]
        regions = self._frame_regions(frame) or self._state.regions or ("lower_limb",)
        core = [m.id for m in self._filler._core[GROUPS[subject]] if m.region in regions]
        if frame.of(ItemKind.REST):
            sides = self._sides(frame, None)[0]
            core = [one for one in core if not all((one, side, None) in self._drafts for side in sides)]
        return core

    def _frame_regions(self, frame: Frame) -> tuple[str, ...]:
        found: list[str] = []
        for item in frame.of(ItemKind.SIDE):
            found += item.sites
        for item in [] if found else frame.of(ItemKind.REGION):
            found += item.limbs
        return tuple(dict.fromkeys(found))

    def _sides(self, frame: Frame, manoeuvre: str | None, plural: bool = False) -> tuple[tuple[str, ...], str]:
        """(sides, how they are known): said, region, plural, carried, contrast, unsaid."""
        state = self._state
        rule = self._manoeuvres[manoeuvre].sides if manoeuvre else "each"
        if rule == "midline":
            return ("midline",), "said"
        pre = [item for item in frame.pre if item.kind is ItemKind.SIDE]
        if rule == "as_said":  # "he's sparing the left side. Heel walking normal."
            pre = [
                item
                for item in pre
                if self._stands_alone(item) or not (self._detached(frame, item) or self._is_object(item))
            ]
        post = [item for item in frame.post if item.kind is ItemKind.SIDE]
        item = None
        if pre and post and post[0].ids != pre[-1].ids:
            item = post[0] if post[0].linked or post[0].ids == ("both",) else pre[-1]
        elif pre or post:
            item = post[0] if post else pre[-1]
        if item is not None:
            side = item.ids[0]
            if side == "other":
                return (), "unsaid"
            return (_BOTH if side == "both" else (side,)), "said"
        if rule == "as_said":
            return ("midline",), "said"
        regions = [r for r in frame.of(ItemKind.REGION) if self._tokens[r.end - 1].text.endswith("s")]
        if regions:
            return _BOTH, "region"
        if plural:
            return _BOTH, "plural"
        grouped = any(one.ids[0] in ("group:power", "group:reflexes") for one in frame.subjects)
        if (grouped or frame.of(ItemKind.THROUGHOUT) or self._goes_on_with(manoeuvre)) and self._was_of_each():
            return _BOTH, "unsaid"
        if state.side == "both":
            return _BOTH, "carried" if state.side_source == "said" else state.side_source
        if state.side:
            return (state.side,), "carried" if state.side_source == "said" else state.side_source
        return (), "unsaid"

    def _follows_a_reflex(self, draft: Draft) -> bool:
        """ "Push down on my hand. Two plus.", after a reflex: the patient may have pushed to bring it out."""
        last = self._last
        return (
            bool(last)
            and self._manoeuvres[draft.manoeuvre].section == "power"
            and self._manoeuvres[last[-1].manoeuvre].section == "reflexes"
            and draft.value in _OF_REFLEXES
        )

    def _goes_on_with(self, manoeuvre: str | None) -> bool:
        """Whether the last result was of another movement or reflex of the same limb."""
        last = self._last
        if manoeuvre is None or not last or last[-1].manoeuvre == manoeuvre:
            return False
        one, other = self._manoeuvres[manoeuvre], self._manoeuvres[last[-1].manoeuvre]
        return one.section == other.section in ("power", "reflexes") and one.region == other.region

    def _was_of_each(self) -> bool:
        """ "Heel walking impaired on the left, normal on the right": of one test both sides were told, in turn."""
        if len(self._trail) < 2 or not self._contrasted:
            return False
        last, other = self._trail[-1][2], self._trail[-2][2]
        return (
            len(last) == len(other) == 1
            and last[0].manoeuvre == other[0].manoeuvre
            and {last[0].side, other[0].side} == {*_BOTH}
        )

    def _places(self, frame: Frame, manoeuvre: str) -> tuple[list[str | None], list[str]]:
        """(sites, roots) of the frame for a manoeuvre."""
        kind = self._manoeuvres[manoeuvre].sites
        named = [
            (place, item)
            for item in frame.post + frame.pre[::-1]
            if item.kind is ItemKind.PLACE and not self._detached(frame, item)
            for place in item.ids
        ]
        roots = sorted(dict.fromkeys(place for place, _ in named if _ROOT.match(place)), key=root_order)
        if frame.value.kind is ItemKind.OMISSION and not named:
            last = [] if frame.subjects else self._last
            again = [draft.site for draft in last if draft.manoeuvre == manoeuvre and draft.reason is not None]
            return list(dict.fromkeys(again)) or [None], []
        if kind in ("dermatome", "joint") and not named and frame.of(ItemKind.SIDE):
            last = [draft for draft in self._last if draft.manoeuvre == manoeuvre]
            if last:  # "normal at S3 on the right and reduced on the left": the place holds for both
                return list(dict.fromkeys(draft.site for draft in last)), []
        if kind == "dermatome":
            sites: list[str | None] = list(roots)
            sites += [place for place, _ in named if place == "S4-5"]
            return (sites or [None]), []
        if kind == "joint":
            joints = [place for place, _ in named if place not in _LIMBS and not _ROOT.match(place)]
            return (list(dict.fromkeys(joints)) or [None]), []
        if kind == "limb":
            limbs = [place for place, _ in named if place in _LIMBS]
            sided = {site for item in frame.post if item.kind is ItemKind.SIDE for site in item.sites}
            led = [item for item in frame.pre if item.kind in (ItemKind.SIDE, ItemKind.PLACE)]
            both = len(sided) == 2 and len({item.ids for item in frame.post if item.kind is ItemKind.SIDE}) == 1
            if not sided and led and led[-1].kind is ItemKind.SIDE:
                sided = set(led[-1].sites)
                if len(led) > 1 and led[-2].ids == led[-1].ids and self._is_joined(led[-1]):
                    # "The right arm and right leg are normal for tone"
                    both = bool(sided) and bool(led[-2].sites) and sided.isdisjoint(led[-2].sites)
            if both or self._in_all_limbs(frame):
                return ["arm", "leg"], []  # "in both arms and both legs", "in all four limbs"
            if len(sided) == 1:
                side_limb = "leg" if sided == {"lower_limb"} else "arm"
                joined = [place for place, item in named if place in _LIMBS and self._is_joined(item)]
                return list(dict.fromkeys([side_limb, *joined])), []
            last = [] if frame.subjects else self._last
            if not limbs and not self._frame_regions(frame) and last and last[-1].manoeuvre == manoeuvre:
                return self._again(frame, manoeuvre, last), []
            joined = [place for place, item in named if place in _LIMBS and self._is_joined(item)]
            return list(dict.fromkeys([limbs[0], *joined] if limbs else [self._limb(frame)])), []
        if self._manoeuvres[manoeuvre].section not in ("power", "reflexes", "nerve_tension"):
            return [None], []
        if any(item.ids[0] in GROUPS for item in frame.subjects) or frame.value.kind is ItemKind.OMISSION:
            return [None], []
        if not roots and not frame.subjects and frame.of(ItemKind.SIDE) and self._trail:
            last = self._trail[-1][2]
            if last and last[-1].manoeuvre == manoeuvre and last[-1].roots_first:
                roots = list(last[-1].roots)
        return [None], roots

    def _in_all_limbs(self, frame: Frame) -> bool:
        kinds = (ItemKind.SIDE, ItemKind.REGION)
        named = (item for item in frame.items if item.kind in kinds and not self._detached(frame, item))
        return any(
            item.ids == ("all",) or "four" in (token.text for token in self._tokens[item.start : item.end])
            for item in named
        )

    def _again(self, frame: Frame, manoeuvre: str, last: list[Draft]) -> list[str | None]:
        """The limbs of the last result; "on the left" after "in the right arm and the right leg" is said of both."""
        sides = frame.of(ItemKind.SIDE)
        both = bool(sides) and sides[-1].linked
        sites = list(dict.fromkeys(draft.site for draft in last if draft.manoeuvre == manoeuvre))
        return sites if both else sites[-1:]

    def _is_joined(self, item: Item) -> bool:
        """ "In the right arm and leg", "in the arms or the legs": the second limb."""
        at = item.start
        while at > 0 and self._tokens[at - 1].text in ("the", "in", "his", "her"):
            at -= 1
        return at > 0 and self._tokens[at - 1].text in ("and", "or", "nor")

    def _detached(self, frame: Frame, item: Item) -> bool:
        """A place before the end of an earlier sentence does not belong to the result."""
        if item not in frame.pre:
            return False
        if any(
            other.kind is ItemKind.PLACE and item.end <= subject.start < other.start
            for other in frame.items
            for subject in frame.subjects
        ):
            return True  # "L2 to L4, pinprick at L3": the subject has a place of its own
        core = min(other.start for other in [frame.value, *frame.subjects] if other.start >= item.end)
        return any(self._tokens[at].boundary >= 1.5 for at in range(item.end, core + 1))

    def _limb(self, frame: Frame) -> str | None:
        regions = self._frame_regions(frame) or (() if self._state.limb_at is None else self._state.regions)
        if len(regions) == 1:
            return "leg" if regions[0] == "lower_limb" else "arm"
        return None

    def _drafts_for(self, frame: Frame, manoeuvre: str, item: Item | None) -> list[Draft]:
        said = frame.value
        if item is not None:
            self._named[manoeuvre] = item
        naming = item or self._doubted(manoeuvre)
        plural = bool(item and item.plural) and self._manoeuvres[manoeuvre].section in ("reflexes",)
        sites, roots = self._places(frame, manoeuvre)
        places = [p for p in frame.pre + frame.post if p.kind is ItemKind.PLACE]
        plural = plural or (
            bool(places) and self._manoeuvres[manoeuvre].sites == "joint" and all(p.plural for p in places)
        )
        sides, source = self._sides(frame, manoeuvre, plural)
        if not sides:
            source = "unsaid"
            sides = _BOTH if (item and item.ids[0] in GROUPS) else ("right",)
        value, flags = (None, ()) if said.kind is ItemKind.OMISSION else self._values.read(manoeuvre, said)
        if said.kind is not ItemKind.OMISSION and value is None:
            return []
        reason = said.ids[0] if said.kind is ItemKind.OMISSION else None
        muscle = item.muscle if item and self._filler.moved.get(item.muscle or "") == manoeuvre else None
        nerve = next((p.nerve for p in frame.pre + frame.post if p.nerve), None)
        drafts = []
        for side in sides:
            for site in sites:
                drafts.append(
                    Draft(
                        manoeuvre,
                        side,
                        site,
                        value,
                        reason,
                        list(roots),
                        muscle,
                        nerve,
                        side_source=source,
                        items=[said, *([naming] if naming else []), *frame.of(ItemKind.SIDE), *places],
                        spans=[(frame.start, frame.end)],
                        value_flags=flags,
                        roots_first=any(item.kind is ItemKind.PLACE for item in frame.pre),
                        group=bool(item and item.ids[0] in GROUPS),
                    )
                )
        return drafts

    def _infer(self, frame: Frame, command: Item) -> list[Draft]:
        manoeuvre = command.ids[0]
        if self._manoeuvres[manoeuvre].section not in ("power", "coordination") and manoeuvre not in _WALKS:
            return []
        if self._manoeuvres[manoeuvre].sites != "none":
            return []
        self._note(command)
        self._state.subjects = [manoeuvre]
        value = self._values.normal(manoeuvre)
        sides, source = self._sides(frame, manoeuvre)
        if not sides:
            sides, source = ("right",), "unsaid"
        if len(sides) == 2 and source != "said":
            source = "contrast"
        roots = self._places(frame, manoeuvre)[1]
        return [
            Draft(
                manoeuvre,
                side,
                None,
                value,
                roots=list(roots),
                inferred=True,
                side_source=source,
                items=[command],
                spans=[(frame.start, frame.end)],
            )
            for side in sides
        ]

    def _repeat(self, frame: Frame) -> list[Draft] | None:
        """ "The left is the same": the last results, on the side named (or on the other one)."""
        sides = frame.of(ItemKind.SIDE)
        state = self._state
        named = [self._choose(item, frame.value) for item in frame.subjects if not item.section_only]
        if not self._trail:
            return None
        placed = [place for item in frame.of(ItemKind.PLACE) for place in item.ids]
        last = self._trail[-1][2]
        if placed and not (sides or named) and last and all(draft.site for draft in last):
            return [  # "and likewise at L4"
                _copy(draft, site=place, spans=[*draft.spans, (frame.start, frame.end)])
                for place in placed
                for draft in last
                if draft.site != place
            ]
        if sides:
            targets = [sides[-1].ids[0]]
            if targets[0] in ("both", "other"):
                if frame.value.values and state.subjects:
                    frame.value.same = False
                    return self._read(frame)
                return None
        elif named and not sides and {d.side for d in last_of(self._drafts, self._trail)} == {"left", "right"}:
            return self._repeat_both([n for n in named if n], swapped=frame.value.swapped)
        elif frame.value.swapped:
            return None
        elif named and state.side:
            targets = [state.side] if state.side != "both" else list(_BOTH)
        else:
            return None
        source: list[Draft]
        if named:
            wanted_ids = [n for n in named if n]
            source = []
            for one in wanted_ids:
                other = [d for d in self._drafts.values() if d.manoeuvre == one and d.side not in targets]
                if other:
                    source += other
                else:
                    scale = self._values.scale(one)
                    source += [_copy(d, manoeuvre=one) for d in last[:1] if self._values.scale(d.manoeuvre) == scale]
        else:
            mention = self._trail[-1][1]
            run = []
            section = self._manoeuvres[last[-1].manoeuvre].section if last else None
            limb = bool(sides and sides[-1].sites)  # "right biceps two plus, right triceps two plus, left arm the same"
            for _, other_mention, drafts in reversed(self._trail):
                of_limb = limb and all(
                    draft.side not in targets and self._manoeuvres[draft.manoeuvre].section == section
                    for draft in drafts
                )
                if other_mention != mention and not of_limb:
                    break
                run.append(drafts)
            source = [d for drafts in reversed(run) for d in drafts if self._manoeuvres[d.manoeuvre].section == section]
        out: list[Draft] = []
        for target in targets:
            for draft in source:
                if draft.side == target or draft.side == "midline":
                    continue
                roots = [place for item in frame.of(ItemKind.PLACE) for place in item.ids if _ROOT.match(place)]
                copy = _copy(draft, side=target, spans=[*draft.spans, (frame.start, frame.end)])
                if self._manoeuvres[draft.manoeuvre].sites == "none":
                    copy.roots = roots
                copy.side_source = "said"
                if not any(copy.key == other.key for other in out):
                    out.append(copy)
        return out

    def _counted(self, frame: Frame) -> list[Draft]:
        """ "On the left all three are five": the value for so many of the last results; none if they were fewer."""
        last: dict[tuple[str, str | None], Draft] = {}
        for _, _, drafts in reversed(self._trail):
            for draft in reversed(drafts):
                last.setdefault((draft.manoeuvre, draft.site), draft)
            if len(last) >= frame.value.of_last:
                break
        values = {draft.manoeuvre: self._values.read(draft.manoeuvre, frame.value)[0] for draft in last.values()}
        sides = frame.of(ItemKind.SIDE)
        if frame.subjects or len(last) != frame.value.of_last or None in values.values() or len(sides) != 1:
            return []
        return [
            _copy(
                draft,
                side=side,
                value=values[draft.manoeuvre],
                reason=None,
                side_source="said",
                spans=[*draft.spans, (frame.start, frame.end)],
                items=frame.items,
            )
            for draft in reversed(last.values())
            for side in (_BOTH if sides[0].ids == ("both",) else sides[0].ids)
        ]

    def _repeat_both(self, manoeuvres: list[str], swapped: bool) -> list[Draft]:
        """ "Ankle jerks likewise": the last manoeuvre's results, each on its own side, or on the other one."""
        return [
            _copy(draft, manoeuvre=one, side=_OPPOSITE[draft.side] if swapped else draft.side, side_source="said")
            for one in manoeuvres
            for draft in last_of(self._drafts, self._trail)
            if self._values.scale(one) == self._values.scale(draft.manoeuvre)
        ]

    # -- committing ---------------------------------------------------------------------------------------------------

    def _commit(self, frame: Frame, drafts: list[Draft]) -> None:
        if not drafts or self._is_remark(frame):
            return
        self._frame_no += 1
        state = self._state
        self._share_roots(frame, drafts)
        rival_sides = self._rival(frame, drafts)
        sure = any(item.match is not None and not item.match.mended for item in frame.subjects)
        asked = any(item.kind is ItemKind.COMMAND for item in frame.subjects)
        named = any(item.kind is ItemKind.SUBJECT for item in frame.subjects)
        unread = self._cut_off if sure or asked else self._unknown_before
        unknown = (frame.value.grade is not None and unread(frame)) or self._other_name(frame)
        unknown = (
            unknown
            or self._lost_result(frame)
            or self._unread_among_places(frame)
            or self._asked_in_vain(frame)
            or self._led_by_unread(frame)
            or self._goes_on(frame)
        )
        limbs = _limbs(frame)
        before: list[Draft | None] = []
        for draft in drafts:
            draft.frame = self._frame_no
            draft.flags |= rival_sides | ({"manoeuvre_uncertain"} if frame.claimed else set())
            draft.features = draft.features or self._features(frame, draft)
            draft.flags |= set(draft.value_flags) | {flag for item in draft.items for flag in item.flags}
            if draft.side_source in ("unsaid", "heading"):
                draft.flags.add("side_unsaid")
            if (draft.side_source == "carried" and state.doubtful) or (draft.site and _is_torn(frame)):
                draft.flags.add("side_uncertain")
            if (
                draft.site is None
                and not draft.reason
                and self._manoeuvres[draft.manoeuvre].sites in ("dermatome", "joint")
            ):
                draft.flags.add("site_unsaid")
            if draft.value == "reduced" and self._values.scale(draft.manoeuvre) == "mrc":
                draft.flags.add("grade_unsaid")
            if draft.inferred:
                draft.flags.add("inferred_normal")
            if draft.site is None and self._manoeuvres[draft.manoeuvre].sites == "limb":
                draft.site = next(
                    (site for site in ("leg", "arm") if (draft.manoeuvre, draft.side, site) in self._drafts), None
                )
            if unknown:
                draft.flags.add("unknown_words")
            if not named and self._follows_a_reflex(draft):
                draft.flags.add("manoeuvre_unsaid")
            if limbs and self._manoeuvres[draft.manoeuvre].region in _LIMB_REGIONS - limbs:
                draft.flags.add("limb_unexpected")
            if self._turns_to_another_limb(frame, draft):
                draft.flags.add("limb_unexpected")
            old = self._drafts.get(draft.key)
            before.append(old)
            self._place(draft, old, frame)
        sides = frame.of(ItemKind.SIDE)
        if not sides and state.side in _BOTH and all(draft.side_source == "unsaid" for draft in drafts):
            state.side, state.side_source = "both", "unsaid"  # after "two on the left, three on the right"
        last = [item for item in frame.post if item.kind is ItemKind.SIDE]
        if last and len(last) == len(sides):
            self._side_for_all(last[0], 1.5)
        if sides:
            chosen = self._sides(frame, drafts[0].manoeuvre)[0]
            self._side_frame = self._frame_no
            if chosen and chosen != ("midline",):
                state.side = "both" if len(chosen) == 2 else chosen[0]
                state.side_source = "said"
                if (
                    last
                    and not frame.subjects
                    and state.limb
                    and state.side == _OPPOSITE[state.limb]
                    and not drafts[0].inferred
                ):
                    said = {token.text for token in self._tokens[frame.start : frame.end + 1]}
                    state.apart = "aside" if said & {"either", "too", "also", "neither"} else "doubt"
                else:
                    state.apart = None
                state.side_mention = sides[0].start
        self._ended = frame.end
        self._contrasted = not frame.subjects
        self._history.append((self._frame_no, drafts, before))
        self._trail.append((self._frame_no, state.side_mention, drafts))

    def _is_remark(self, frame: Frame) -> bool:
        """ "Ankle jerks one plus, and that's still normal": what is thought of the grade that was just given."""
        at = frame.value.start
        led = [token.text for token in self._tokens[max(0, at - 2) : at]]
        graded = bool(self._last) and all(one.value and one.value[:1].isdigit() for one in self._last)
        return (
            graded
            and frame.value.grade is None
            and frame.value.values.get("mrc") == "normal"
            and not (frame.subjects or frame.of(ItemKind.SIDE))
            and (led[-1:] == ["that's"] or led in (["that's", "still"], ["that", "is"]))
            and in_one_sentence(self._tokens, self._ended, at + 1)
        )

    def _is_of_last_test(self, frame: Frame) -> bool:
        """ "Big toe up. Good, that's full power": no limb is named, and the words point back."""
        at = frame.value.start
        named = any(_names_limb(item) or item.kind in (ItemKind.THROUGHOUT, ItemKind.HEADING) for item in frame.items)
        return not named and at > 0 and self._tokens[at - 1].text in ("that's", "it's")

    def _turns_to_another_limb(self, frame: Frame, draft: Draft) -> bool:
        """ "Shoulder abduction four, adduction five": a movement without its joint, of the other limb than the last."""
        bare = any(
            self._tokens[item.end - 1].text in _MOVEMENTS and item.end - item.start == 1 for item in frame.subjects
        )
        if not bare or not self._last:
            return False
        last = self._manoeuvres[self._last[-1].manoeuvre].region
        here = self._manoeuvres[draft.manoeuvre].region
        near = in_one_sentence(self._tokens, self._ended, frame.start + 1)
        return {last, here} == _LIMB_REGIONS and (near or (self._state.limb_at or 0) < self._ended)

    def _share_roots(self, frame: Frame, drafts: list[Draft]) -> None:
        """ "Wrist extensors five on the right, four plus on the left, C6": the root is that of both."""
        if frame.subjects or not self._trail or not any(item.kind is ItemKind.PLACE for item in frame.post):
            return
        if any(self._tokens[at].boundary >= BLOCK_END for at in range(self._ended, frame.start + 1)):
            return
        for draft in drafts:
            for other in self._trail[-1][2]:
                if draft.manoeuvre == other.manoeuvre and draft.side != other.side and not other.roots:
                    other.roots = list(draft.roots)

    def _cut_off(self, frame: Frame) -> bool:
        """One word stands alone between the test and its grade ("knee flex tension four"): the name may go on."""
        at = frame.value.start - 1
        word = self._tokens[at].text
        taken = held(frame.items)
        named = [item for item in frame.subjects if item.kind is ItemKind.SUBJECT]
        return (
            (not named or any(item.end == at for item in named))
            and (not named or at not in taken)
            and self._tokens[at + 1].boundary < 0.5
            and word.isalpha()
            and not word.endswith("ly")
            and frequency(word) < _NOUN
        )

    def _unknown_before(self, frame: Frame) -> bool:
        """A word that nothing accounts for, right before a grade without a test of its own: perhaps a misheard name."""
        taken = held(frame.items)
        names = {item.end for item in frame.subjects}
        at = frame.value.start - 1
        while at >= 0 and frame.value.start - at <= 4 and self._tokens[at + 1].boundary < 0.6:
            word = self._tokens[at].text
            if at + 1 in names:
                break
            if at not in taken:
                if self._ended == at + 1:
                    break
                if len(word) > 2 and word.isalpha() and frequency(word) < _SMALL_TALK:
                    return True
            at -= 1
        return False

    def _other_name(self, frame: Frame) -> bool:
        """A rare word opens a finding in words that goes on with an earlier test ("vibrating absent at the ankle"), or
        stands between two places of one finding ("L5 halted, S1 reduced"): perhaps another name, another result.
        """
        said = frame.value
        if frame.subjects or said.grade is not None or said.kind is not ItemKind.VALUE or not said.values:
            return False
        if self._has_unread_subject(frame):
            return True
        taken = held(frame.items)
        places = [item for item in frame.pre if item.kind is ItemKind.PLACE]
        between = [at for one, other in pairwise(places) for at in range(one.end, other.start)]
        if any(at not in taken and self._is_rare(at, _NOUN) for at in between):
            return True
        first = min([item.start for item in frame.pre if item.kind in (ItemKind.SIDE, ItemKind.PLACE)] + [said.start])
        return first > self._ended and self._tokens[first].boundary < 0.6 and self._is_rare(first - 1, _RARE)

    def _lost_result(self, frame: Frame) -> bool:
        """ "Joint position at the toe we deuced right, normal left": an unread word stands where a result was due,
        so that the side after it may be that of another result.
        """
        said = frame.value
        sides = [item for item in frame.pre if item.kind is ItemKind.SIDE and not item.linked]
        if not (frame.subjects and sides) or said.kind is not ItemKind.VALUE or sides[-1].end != said.start:
            return False
        at = sides[-1].start - 1
        after = max(item.end for item in frame.subjects)
        return after <= at and at not in held(frame.items) and self._is_rare(at, _NOUN)

    def _unread_among_places(self, frame: Frame) -> bool:
        """ "Normal at C6 and old third at C8": what stands between two places, or two sides, of one finding and is no
        small word may be another finding.
        """
        if frame.value.kind is not ItemKind.VALUE:
            return False
        taken = held(frame.items)
        sides = [item for item in frame.post if item.kind is ItemKind.SIDE and item.ids[0] in _OPPOSITE]
        roots = [
            [item for item in items if item.kind is ItemKind.PLACE and item.ids and _ROOT.match(item.ids[0])]
            for items in (frame.pre, frame.post)
        ]
        return any(
            at not in taken and self._tokens[at].text.isalpha() and self._tokens[at].text not in _AMONG_PLACES
            for one, other in (pair for items in (*roots, sides) for pair in pairwise(items))
            if other.start - one.end <= _NEAR
            and one.ids != other.ids
            and all(token.boundary < COMMA for token in self._tokens[one.end : other.start])
            for at in range(one.end, other.start)
        )

    def _goes_on(self, frame: Frame) -> bool:
        """A part of the body stands for its test, and a word that was not read follows ("no ankle coal no us")."""
        taken = held(frame.items)
        return any(
            _stands_for_test(item)
            and item.end < min(frame.end + 1, len(self._tokens))
            and item.end not in taken
            and self._tokens[item.end].boundary < 0.5
            and len(self._tokens[item.end].text) > 2
            and frequency(self._tokens[item.end].text) < _SMALL_TALK
            for item in frame.subjects
        )

    def _asked_in_vain(self, frame: Frame) -> bool:
        """An instruction that was not read ("toes up to the ceiling") stands before a result that names no test."""
        if any(not item.section_only for item in frame.subjects) or frame.value.same:
            return False
        taken = held(frame.items)
        between = [self._tokens[at].text for at in range(self._ended, frame.start) if at not in taken]
        return not _BODY.isdisjoint(between) and not _MOVES.isdisjoint(between)

    def _led_by_unread(self, frame: Frame) -> bool:
        """ "Rate five throughout": the word before a result for a whole limb may be the side, or another test."""
        at = frame.value.start - 1
        led = any(item.kind is ItemKind.SIDE for item in frame.pre)
        if frame.subjects or led or not frame.of(ItemKind.THROUGHOUT) or at < self._ended:
            return False
        word = self._tokens[at].text
        named = at in held(frame.items) or word in _LEADING or not word.isalpha()
        return not named and self._tokens[at + 1].boundary < 0.5

    def _has_unread_subject(self, frame: Frame) -> bool:
        """ "Half man's is present", "his thyroid, which was normal": before the finding a copula, before that a noun
        that nothing accounts for.
        """
        at = frame.value.start - 1
        if at < 1 or self._tokens[at].text not in ("is", "are", "was", "were") or at - 1 < self._ended:
            return False
        at -= self._tells_of_a_noun(frame)
        word = self._tokens[at - 1].text
        named = (at - 1) in held(frame.items)
        return not named and word not in _POINTING and word.removesuffix("'s").isalnum() and frequency(word) < _POINTED

    def _tells_of_a_noun(self, frame: Frame) -> bool:
        """ "B12, which was normal"."""
        return frame.value.start > 2 and self._tokens[frame.value.start - 2].text == "which"

    def _is_rare(self, at: int, below: float) -> bool:
        word = self._tokens[at].text
        return word.isalpha() and len(word) > 4 and frequency(word) < below

    def _features(self, frame: Frame, draft: Draft) -> dict[str, float]:
        """What the confidence of a row depends on, as far as the frame tells; read by `pipeline.fill.confidence`."""
        said = frame.value
        named = [item for item in frame.subjects if item.kind is ItemKind.SUBJECT]
        owner = min(named, key=lambda item: abs(item.start - said.start), default=None)
        gap, crossing = 0, 0.0
        if owner is not None:
            first, second = (owner, said) if owner.start <= said.start else (said, owner)
            gap = max(0, second.start - first.end)
            crossing = max((self._tokens[at].boundary for at in range(first.end, second.start + 1)), default=0.0)
        since = self._frame_no - self._side_frame if draft.side_source == "carried" else 0
        return {
            "carried_subject": float(not frame.subjects),
            "gap": float(min(gap, 12)),
            "crossing": min(crossing, 3.0),
            "orphans": float(len(frame.orphans)),
            "everyday": float(said.weak and said.grade is None),
            "bare_grade": float(said.grade is not None and said.weak),
            "side_carried": float(draft.side_source == "carried"),
            "side_since": float(min(since, 20)) ** 0.5,
            "side_other_section": float(
                draft.side_source == "carried" and self._state.side_section not in (None, self._state.section)
            ),
            "side_plural": float(draft.side_source == "plural"),
            "side_region": float(draft.side_source == "region"),
            "sides_in_frame": float(len({item.ids for item in frame.of(ItemKind.SIDE)}) > 1),
            "value_first": float(
                owner is not None
                and owner.start > said.start
                and said.kind is not ItemKind.NEGATION
                and not (said.forward or frame.led)
            )
            or float(frame.claimed),
            "omission": float(draft.reason is not None),
            "same": float(said.same),
            "places": float(sum(len(item.ids) for item in frame.of(ItemKind.PLACE)) > 1),
            "rival_side": float("side_uncertain" in draft.flags),
            "rival_other": float(bool(draft.flags & {"site_uncertain", "manoeuvre_uncertain"})),
        }

    def _place(self, draft: Draft, old: Draft | None, frame: Frame) -> None:
        if old is None:
            self._drafts[draft.key] = draft
            return
        if draft.inferred and not old.inferred:
            old.spans += draft.spans
            old.repeats += 1
            return
        if old.value == draft.value and old.reason == draft.reason:
            old.spans += draft.spans
            old.repeats += 1
            old.roots += [root for root in draft.roots if root not in old.roots]
            old.muscle = old.muscle or draft.muscle
            if not (old.flags and not draft.flags) or old.inferred:
                old.flags |= draft.flags
            elif "side_unsaid" not in old.flags:
                old.flags &= {"contradiction"}
            if old.inferred and not draft.inferred:
                old.inferred = False
                old.flags.discard("inferred_normal")
            return
        agreed = (
            old.inferred
            or frame.excepted
            or (old.group and self._frame_no - old.frame <= 2)
            or old.reason is not None
            or _refines(old.value, draft.value)
        )
        vaguer = draft.value is not None and old.value is not None and _refines(draft.value, old.value)
        if vaguer and not frame.excepted:
            old.spans += draft.spans
            return
        if not agreed:
            draft.flags.add("contradiction")
        draft.roots = draft.roots or old.roots
        del self._drafts[draft.key]
        draft.spans = [*old.spans, *draft.spans]
        self._drafts[draft.key] = draft

    def _rival(self, frame: Frame, drafts: list[Draft]) -> set[str]:
        """Flags where the next best reading of the frame gives another side or another place."""
        if frame.rival is None:
            return set()
        other = frame.rival
        flags = set()
        mine = drafts[0]
        if self._manoeuvres[mine.manoeuvre].sides == "each":
            others = self._rival_sides(frame, mine)
            if others and set(others) != {d.side for d in drafts if d.manoeuvre == mine.manoeuvre}:
                flags.add("side_uncertain")
        if self._places(other, mine.manoeuvre)[0] != self._places(frame, mine.manoeuvre)[0]:
            flags.add("site_uncertain")
        mine_ids = [s.ids for s in frame.subjects]
        other_ids = [s.ids for s in other.subjects]
        if other_ids and other_ids != mine_ids:
            flags.add("manoeuvre_uncertain")
        return flags

    def _rival_sides(self, frame: Frame, mine: Draft) -> tuple[str, ...]:
        """The sides of the other reading: "finger extension five on the right finger abduction five" may go on with the
        left until "on the right".
        """
        other, state = frame.rival, self._state
        assert other is not None
        now = state.side, state.side_source
        last = frame.items[-1]
        runs_on = last.kind is ItemKind.SIDE and last.end < len(self._tokens) and self._tokens[last.end].boundary < 0.5
        if runs_on and last.ids == (mine.side,) and self._carried == (_OPPOSITE.get(mine.side), "said"):
            state.side, state.side_source = self._carried
        sides, _ = self._sides(other, mine.manoeuvre, mine.side_source == "plural")
        state.side, state.side_source = now
        return sides

    def _undo(self) -> None:
        if not self._history:
            return
        _, drafts, before = self._history.pop()
        if self._trail:
            self._trail.pop()
        for draft, old in zip(drafts, before, strict=True):
            self._drafts.pop(draft.key, None)
            if old is not None:
                self._drafts[old.key] = old

    def _side_for_all(self, side: Item, stop: float) -> None:
        """ "L4 normal, L5 reduced on the left", "all on the left": a side said last, for results that had none."""
        if side.ids[0] not in _OPPOSITE:
            return
        end, found = side.start, []
        for _, _, drafts in reversed(self._trail):
            if not drafts or any(draft.side_source != "unsaid" for draft in drafts):
                break
            start, last = drafts[0].spans[-1]
            if any(self._tokens[at].boundary >= stop for at in range(last, end + 1)):
                break
            found.append(drafts)
            end = start
        for draft in (draft for drafts in reversed(found) for draft in drafts):
            if self._drafts.get(draft.key) is draft:
                del self._drafts[draft.key]
                draft.side, draft.side_source = side.ids[0], "said"
                draft.flags = (draft.flags - {"side_unsaid"}) | {"side_uncertain"}
                self._drafts[draft.key] = draft

    def _swap(self) -> None:
        """ "Other way round": the last two results for one manoeuvre change sides."""
        pair: list[Draft] = []
        for _, drafts, _ in reversed(self._history[-3:]):
            for draft in reversed(drafts):
                if not pair or (
                    draft.manoeuvre == pair[0].manoeuvre
                    and draft.site == pair[0].site
                    and draft.side == _OPPOSITE.get(pair[0].side)
                ):
                    pair.append(draft)
                if len(pair) == 2:
                    break
            if len(pair) == 2:
                break
        if len(pair) == 2:
            first, second = pair
            first.value, second.value = second.value, first.value
            first.reason, second.reason = second.reason, first.reason

    def finish(self) -> tuple[list[Draft], list[Loose]]:
        return list(self._drafts.values()), self._loose


def last_of(drafts: dict[tuple[str, str, str | None], Draft], trail: list[tuple[int, int, list[Draft]]]) -> list[Draft]:
    """All results so far for the manoeuvre that was reported last."""
    last = trail[-1][2][-1].manoeuvre if trail and trail[-1][2] else None
    return [draft for draft in drafts.values() if draft.manoeuvre == last]


def _copy(draft: Draft, **changes: object) -> Draft:
    values = {name: getattr(draft, name) for name in Draft.__dataclass_fields__}
    values |= {
        "flags": set(draft.flags),
        "roots": [],
        "spans": list(draft.spans),
        "items": list(draft.items),
        **changes,
    }
    return Draft(**values)


def _refines(old: str | None, new: str | None) -> bool:
    """The new value says the same more exactly: "weak", then "four minus"."""
    if old is None or new is None:
        return False
    if old == "reduced":
        return new in {"1", "2-", "2", "2+", "3-", "3", "3+", "4-", "4", "4+", "5-", "1+"}
    if old == "normal":
        return new in {"5", "2+"}
    if old == "brisk":
        return new in {"3+", "4+"}
    if old == "present":
        return new.endswith("beats") or new == "sustained" or new == "normal"
    if old == "increased":
        return new.startswith("MAS") and new != "MAS 0"
    return False


def _other_sides(items: list[Item]) -> list[Item]:
    """ "The other side" is the opposite of the side that was named last, "on that side" the same."""
    last: str | None = None
    for item in items:
        if item.kind is ItemKind.SIDE:
            if item.ids[0] == "other" and last is not None:
                item.ids = (_OPPOSITE[last],)
            elif item.ids[0] == "that":
                item.ids = (last or "other",)
            if item.ids[0] in _OPPOSITE:
                last = item.ids[0]
    return items


def _repair(items: list[Item], tokens: list[Token]) -> list[Item]:
    """Applies corrections within a result ("right, sorry, left"): what is taken back goes."""
    items = list(items)
    at = 0
    while at < len(items):
        item = items[at]
        following = items[at + 1] if at + 1 < len(items) else None
        led = (
            following is not None
            and following.start >= item.end
            and tokens[item.start].text == "no"
            and _TO_A_PLACE.issuperset(token.text for token in tokens[item.end : following.start])
        )
        denial = (
            item.kind is ItemKind.NEGATION
            and following is not None
            and (
                (following.kind in (ItemKind.SIDE, ItemKind.VALUE) and following.start == item.end)
                or (following.kind in (ItemKind.SIDE, ItemKind.PLACE) and led)  # "no, on the right", "no, at the ankle"
                or (following.grade is not None and _is_put_instead(item, following, tokens))
            )
            and (
                tokens[item.start].boundary >= 0.5
                or tokens[item.end].boundary >= 0.5
                or (at > 0 and items[at - 1].grade is not None and following.grade is not None)
            )
        )
        if item.kind is ItemKind.REMOVE and _puts_another(items, at, tokens):
            item.kind = ItemKind.REPAIR
        if item.kind is not ItemKind.REPAIR and not denial:
            at += 1
            continue
        changed = _mend_at(items, at, tokens)
        if changed is None:
            del items[at]
        else:
            items = changed
        at = max(0, at - 1)
    return items


_PUT_RIGHT_WITHIN, _TOLD_WITHIN = 6, 12
"""Most tokens from a correction to what it puts, and to what is said with "call it" or "make it"."""
_TO_A_PLACE = frozenset("on in at over the his her".split())


def _puts_another(items: list[Item], at: int, tokens: list[Token]) -> bool:
    """ "Three, strike that, two": another grade of the same test follows at once."""
    before, after = items[at - 1 : at] if at else [], items[at + 1 : at + 3]
    return (
        bool(before and after)
        and before[0].grade is not None
        and after[0].grade is not None
        and after[0].start == items[at].end
        and in_one_sentence(tokens, before[0].end, after[0].end)
        and not (
            len(after) > 1
            and after[1].kind is ItemKind.SUBJECT
            and after[1].start - after[0].end <= 1
            and tokens[after[1].start].boundary < COMMA
        )
    )


def _is_put_instead(denial: Item, value: Item, tokens: list[Token]) -> bool:
    """ "No, call it four", "no, I don't believe that, call it zero"."""
    near = tokens[denial.start].text == "no" and value.start - denial.end <= _TOLD_WITHIN
    return _is_restated(denial.end, value, tokens) or (near and _is_restated(value.start - 2, value, tokens))


def _is_restated(start: int, value: Item, tokens: list[Token]) -> bool:
    """ "No, call it four": nothing from a token on to a value but words that give one."""
    between = [token.text for token in tokens[start : value.start]]
    return bool(between) and _RESTATING.issuperset(between)


_RESTATING = frozenset("call make it that let's i'd i'll say it's that's put give i think just so".split())


def _mend_at(items: list[Item], at: int, tokens: list[Token]) -> list[Item] | None:
    repair = items[at]
    if _is_apology(items, at, tokens):
        return None
    follow = at + 1
    while follow < len(items) and items[follow].kind in (
        ItemKind.REPAIR,
        ItemKind.HEADING,
        ItemKind.REGION,
        ItemKind.NEGATION,
    ):
        follow += 1
    if follow >= len(items):
        return None
    led = max(item.end for item in items[at:follow] if item.kind in (ItemKind.REPAIR, ItemKind.NEGATION))
    told = _is_restated(items[follow].start - 2, items[follow], tokens)
    if items[follow].start - led > (_TOLD_WITHIN if told else _PUT_RIGHT_WITHIN):
        return None
    new = items[follow]
    kind = new.kind
    back = at - 1
    values = 0
    while back >= 0 and at - back <= 6:
        old = items[back]
        if old.kind is kind and not (kind is ItemKind.SUBJECT and old.section_only):
            break
        values += old.kind in (ItemKind.VALUE, ItemKind.OMISSION)
        if values > 1:
            return None
        back -= 1
    else:
        return None
    if back < 0 or items[back].kind is not kind:
        return None
    upcoming: list[Item] = []
    for item in items[follow + 1 : follow + 5]:
        if item.kind is ItemKind.SIDE and any(u.kind is ItemKind.VALUE for u in upcoming):
            break
        upcoming.append(item)
    restated = any(item.kind in (ItemKind.VALUE, ItemKind.OMISSION) for item in upcoming[:3])
    if repair.kind is ItemKind.NEGATION and any(item.kind is ItemKind.SUBJECT for item in items[back + 1 : at]):
        return None
    if kind is ItemKind.VALUE:
        between = [item for item in items[back + 1 : at] if item.kind is not ItemKind.REPAIR]
        narrower = next((item for item in items[follow + 1 : follow + 2] if item.kind is ItemKind.SIDE), None)
        if narrower and narrower.ids[0] in _OPPOSITE and any(item.ids == ("both",) for item in between):
            return _excepted(items, at, follow)  # "five on both sides, sorry, four on the left"
        if narrower and any(item.kind is ItemKind.SIDE and item.ids != narrower.ids for item in between):
            # "Five on the right, sorry, four on the left": perhaps both are meant
            new.flags += ("side_uncertain",)
            between = [item for item in between if item.kind is not ItemKind.SIDE]
        return items[:back] + between + items[follow:]
    between_values = any(item.kind in (ItemKind.VALUE, ItemKind.OMISSION) for item in items[back + 1 : at])
    if kind is ItemKind.PLACE and not any(item.kind is ItemKind.SIDE for item in items[follow + 1 : follow + 2]):
        sides = [item for item in items[back + 1 : at] if item.kind is ItemKind.SIDE]
        return items[:back] + sides + items[follow:]  # "at L5 on the left, sorry, S1"
    if not between_values:
        return items[:back] + items[follow:]
    if kind is ItemKind.SIDE:
        subject_before = _subject_near(items, back, 1)
        subject_after = next((i for i in items[follow + 1 : follow + 3] if i.kind is ItemKind.SUBJECT), None)
        if (
            subject_after is not None
            and subject_before is not None
            and not set(subject_after.ids) & set(subject_before.ids)
        ):
            if new.ids == items[back].ids and _same_result(items[back:at], items[follow : follow + 4]):
                return items[:back] + items[follow:]  # only the test is put right
            return None
        if restated and items[back].ids == ("both",) and new.ids[0] in _OPPOSITE and subject_after is None:
            return _excepted(items, at, follow)  # "both flexor, sorry, the left is extensor": the right stays
        if restated:
            return (
                items[:back] + items[follow:]
                if subject_after is not None or subject_before is None
                else items[:back] + [i for i in items[back + 1 : at] if i.kind is ItemKind.SUBJECT] + items[follow:]
            )
        moved = list(items)
        moved[back] = new
        del moved[follow]
        del moved[at]
        return moved
    if kind is ItemKind.SUBJECT:
        if set(items[back].ids) & set(new.ids) or tokens[repair.start].text in ("correction", "make", "i", "rather"):
            return items[:back] + items[follow:]
        return None
    if kind is ItemKind.PLACE:
        return items[:back] + items[follow:]
    return None


def _excepted(items: list[Item], at: int, follow: int) -> list[Item]:
    """The correction at a place as an exception: what was said of both sides stands for the other one."""
    items[at].kind = ItemKind.EXCEPT
    return [*items[: at + 1], *items[follow:]]


def _same_result(first: list[Item], second: list[Item]) -> bool:
    said = [next((item for item in items if item.kind is ItemKind.VALUE), None) for items in (first, second)]
    one, two = said
    return one is not None and two is not None and (one.grade, one.values) == (two.grade, two.values)


def _is_apology(items: list[Item], at: int, tokens: list[Token]) -> bool:
    """ "Sorry, that's enough": nothing is put right in the words that follow."""
    end = items[at].end
    if tokens[items[at].start].text != "sorry" or [word.text for word in tokens[end : end + 1]] != ["that's"]:
        return False
    told = (ItemKind.SIDE, ItemKind.VALUE, ItemKind.PLACE)
    return not any(0 <= item.start - end <= 3 and item.kind in told for item in items[at + 1 : at + 3])


def _subject_near(items: list[Item], at: int, step: int) -> Item | None:
    for item in items[at : at + 4] if step > 0 else items[max(0, at - 4) : at][::-1]:
        if item.kind is ItemKind.SUBJECT:
            return item
    for item in items[max(0, at - 3) : at][::-1]:
        if item.kind is ItemKind.SUBJECT:
            return item
    return None


_MOVEMENTS = frozenset("flexion extension abduction adduction flexors extensors abductors adductors".split())
_REFLEX_WORDS = frozenset("jerk jerks reflex".split())


def _stands_for_test(item: Item) -> bool:
    """A part of the body that names a test only in its section ("the knees" among the reflexes)."""
    return item.match is not None and any(meaning.section is not None for meaning in item.match.term.meanings)


_LEADING = frozenset(
    """power strength otherwise again still also is are all the rest about just good it's that's so and then now of
        movements muscles groups everything legs arms limb limbs""".split()
)
"""Words that lead to a result for a whole limb and name no side."""
_TO_A_ROOT = 5
"""Most tokens from "cold" to the root at which it was felt: then it is a test."""
_LIMB_REGIONS = frozenset({"upper_limb", "lower_limb"})


def _goes_up_or_down(said: Item) -> bool:
    """ "Up going", "downgoing"."""
    return (
        said.kind is ItemKind.VALUE
        and "plantar" in said.values
        and said.match is not None
        and said.match.term.words[-1].endswith("going")
    )


def _by_limb(frame: Frame) -> list[Frame]:
    """ "In both arms and in the right leg": the result once for each of the two."""
    two = next((item for item in frame.of(ItemKind.SIDE) if item.also is not None), None)
    if two is None or two.also is None:
        return [frame]
    return [
        replace(
            frame,
            pre=[limb if item is two else item for item in frame.pre],
            post=[limb if item is two else item for item in frame.post],
        )
        for limb in (replace(two, also=None, end=two.also.start), two.also)
    ]


def _by_place(frame: Frame) -> list[Frame]:
    """ "Reduced at C7 on the right and at T1 on the left": the result once for each place with its own side."""
    pairs = places_by_side(frame.post)
    if not pairs:
        return [frame]
    parted = {id(item) for pair in pairs for item in pair}
    rest = [item for item in frame.post if id(item) not in parted]
    return [replace(frame, post=[*rest, *pair]) for pair in pairs]


def _is_torn(frame: Frame) -> bool:
    """ "Right leg, in fact L2 to S1, left leg normal": of the first side and its places nothing is said any more."""
    sides = [item for item in frame.pre if item.kind is ItemKind.SIDE and item.ids[0] in _OPPOSITE]
    between = [
        item
        for item in frame.pre
        if item.kind is ItemKind.PLACE
        and item.ids
        and _ROOT.match(item.ids[0])
        and sides
        and sides[0].end <= item.start < sides[-1].start
    ]
    return bool(between) and sides[0].ids != sides[-1].ids


def _limbs(frame: Frame) -> frozenset[str]:
    """The limbs that were named with a result; none where all were meant."""
    named = {limb for item in frame.items for limb in item.limbs}
    return frozenset(named) if named < _LIMB_REGIONS else frozenset()


def _is_a_place(items: list[Item], index: int, tokens: list[Token]) -> bool:
    """ "Reduced at the right great toe": where something was felt, not a movement; "four at the great toe" is one."""
    item = items[index]
    led = [token.text for token in tokens[max(0, item.start - 3) : item.start]]
    around = items[max(0, index - 3) : index + 3]
    return "at" in led and not any(k.kind is ItemKind.VALUE and k.grade is not None for k in around)


def _names_limb(item: Item) -> bool:
    return item.kind is ItemKind.REGION or (item.kind is ItemKind.SIDE and bool(item.sites))


def _of_a_section(item: Item) -> set[str]:
    """What a word means in one part of the examination alone: "tone" is that of the sphincter where that is felt."""
    meanings = item.match.term.meanings if item.match is not None else ()
    return {meaning.id for meaning in meanings if meaning.kind == "manoeuvre" and meaning.section is not None}
