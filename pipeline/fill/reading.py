"""What one frame says: which tests, on which sides and where, and with what results."""

from __future__ import annotations

import itertools

from pipeline.fill.drafts import ROOT, Draft, Loose, copy_of, last_of, root_order
from pipeline.fill.frame import Frame
from pipeline.fill.scope import Scope
from pipeline.fill.sections import LIMBS, names_limb
from pipeline.fill.unread import Unread
from pipeline.fill.values import GROUPS
from pipeline.fill.weighing import POWER_WORDS
from pipeline.mend.matches import Match
from pipeline.mend.tokens import BLOCK_END, CLAUSE_MARK, in_one_sentence, strongest_break
from pipeline.mend.words import BE
from pipeline.understand.items import ALL_OF_THEM, OPPOSITE, Item, ItemKind

_TURNED_WITHIN = 7
"""Most words from one result to another that takes its place."""
_THAT = frozenset("it that this them those these".split())
BOTH = ("right", "left")
_OF_POWER = ("4-", "4", "4+", "5-", "5")
_STATING = frozenset("is are was were has had shows 's".split())
_STRENGTH = frozenset("strong weak full strength power powerful".split())
_SAYING = frozenset("says said told feels felt thinks reports complains noticed".split())
_OF_ALL = frozenset("all both very really quite nice and also too bit a still".split())
_WALKS = frozenset({"heel_walk", "toe_walk", "tandem_gait"})
"""Tests of gait that an instruction may ask for by itself."""
_COMES_FROM = tuple([said, whose] for said in ("that's", "it's") for whose in ("the", "his", "her"))
_WALKED_ON = frozenset("heel toe toes foot side one".split())
_MOVED = frozenset({"heel", "finger"})
"""What stands for the side that does a test of coordination: "left heel. Lovely"."""
_FELT = frozenset({"sensation", "mrc", "tone", "gait"})
"""Scales on which patients tell of themselves ("numb", "weak", "stiff", "limping")."""
_DOUBTFUL = 0.75
_RIVALLED = 0.02
_SINGLE = 2
"""Most rows of one test, one for each side."""
_REFLEX_WORDS = frozenset("jerk jerks reflex".split())
_REGIONS = {"arm": "upper_limb", "leg": "lower_limb"}
LIMB_REGIONS = frozenset(_REGIONS.values())
_LISTING_LIMBS = frozenset("and or nor both in the his her".split())
_TO_PLACES = frozenset("at the on in over both".split())


class Reading(Scope):
    """Reads frames into drafts of rows."""

    @property
    def _unread(self) -> Unread:
        return Unread(self._tokens, self._ended)

    def _doubted(self, manoeuvre: str) -> Item | None:
        """The word that named a test, where it may have been another one: the doubt goes on with the test."""
        named = self._named.get(manoeuvre)
        if named is None:
            return None
        heard = named.match
        doubtful = heard is not None and (heard.probability < _DOUBTFUL or self._may_be_opposite(heard, manoeuvre))
        return named if doubtful or "manoeuvre_unsaid" in named.flags else None

    def _may_be_opposite(self, heard: Match, manoeuvre: str) -> bool:
        """ "Hip a duck shun three right, four left": both rows may be of the other movement."""
        opposite = self._manoeuvres[manoeuvre].opposite
        rivals = heard.rival.meanings if heard.rival is not None and heard.rival_probability > _RIVALLED else ()
        return opposite is not None and any(meaning.id == opposite for meaning in rivals)

    def _is_object(self, side: Item) -> bool:
        """ "He's sparing the left side": the side of a verb, unlike "the left heel is normal"."""
        after = [token.text for token in self._tokens[side.end : side.end + 2]]
        said_of = not _STATING.isdisjoint(after[:1]) or (after[:1] == ["heel"] and not _STATING.isdisjoint(after[1:]))
        return not side.linked and self._tokens[side.start - 1].text == "the" and not said_of

    def _explains(self, side: Item) -> bool:
        """ "Toe walking is impaired, that's the left calf for you": why, perhaps not where."""
        led = [token.text for token in self._tokens[max(0, side.start - 2) : side.start]] in _COMES_FROM
        return led and _WALKED_ON.isdisjoint(token.text for token in self._tokens[side.start : side.end + 1])

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
            turned = self._done_by_the_other(frame)
            if turned is not None:
                return self._infer(frame, turned)
            if self._command is not None and (start := self._unread.order_before(frame)) is not None:
                self._loose.append(Loose(start, frame.end, "the movement that was asked for was not understood"))
                self._ended = frame.end
            return None
        if said.reaction and not said.values and not subjects and (named := self._just_named(frame)) is not None:
            return self._infer(frame, named)
        if said.kind is ItemKind.OMISSION and not items and self._is_elsewhere(frame, subjects):
            subjects = []  # "left deltoid four. Legs not done"
        if not subjects and _goes_up_or_down(said):
            said.flags += ("manoeuvre_unsaid",)  # "those are down going": nothing but the toes does that
            subjects = [("plantar_response", None)]
        if not subjects and not self._state.section and _is_history(said, self._tokens[said.end - 1].text):
            return None
        if not subjects:
            if (
                (
                    said.kind is ItemKind.VALUE
                    and said.grade is not None
                    and (
                        not said.weak or frame.of(ItemKind.SIDE) or frame.of(ItemKind.PLACE) or _is_next_to(said, frame)
                    )
                )
                or (
                    said.kind is ItemKind.VALUE
                    and said.values
                    and not said.weak
                    and (frame.of(ItemKind.SIDE) or frame.of(ItemKind.PLACE))
                )
                or self._is_of_a_whole_limb(frame)
                or _is_of_a_section(frame)
            ):
                self._loose.append(Loose(frame.start, frame.end, "no manoeuvre was named for this result"))
            elif said.kind is ItemKind.OMISSION and self._names_part(frame):
                self._loose.append(Loose(frame.start, frame.end, "no manoeuvre was named for what was not examined"))
            return None
        otherwise = not items and self._turns_out_otherwise(frame, subjects[0][0])
        if (
            not items
            and self._manoeuvres[subjects[0][0]].sites in ("dermatome", "joint")
            and said.kind is ItemKind.VALUE
            and not frame.of(ItemKind.PLACE)
            and not frame.of(ItemKind.SIDE)
            and not otherwise
        ):
            return None
        if not items and not otherwise and self._elaborates(frame, [one for one, _ in subjects]):
            return None
        if not items and self._unread.noun_of(frame):
            self._loose.append(Loose(frame.start, frame.end, "no manoeuvre was named for this result"))
            return None
        if not items and said.kind is ItemKind.OMISSION and frame.of(ItemKind.REST):
            self._loose.append(Loose(frame.start, frame.end, "which tests are the rest was not said"))
            return None
        placed = self._manoeuvres[subjects[0][0]].sites in ("dermatome", "joint")
        if placed and frame.of(ItemKind.REST) and not frame.of(ItemKind.PLACE):
            self._loose.append(Loose(frame.start, frame.end, "which places are the rest was not said"))
            return None
        drafts: list[Draft] = []
        for subject, item in subjects:
            drafts += self._drafts_for(frame, subject, item)
        if placed and frame.of(ItemKind.REST):  # "reduced at L5, otherwise intact L2 to S1"
            drafts = [draft for draft in drafts if draft.key not in self._drafts]
        firm = not said.weak or _is_next_to(said, frame)
        if not drafts and said.kind is ItemKind.VALUE and not said.reaction and firm:
            self._loose.append(Loose(frame.start, frame.end, "the result does not fit the manoeuvre named with it"))
        return drafts

    def _is_of_a_whole_limb(self, frame: Frame) -> bool:
        """ "The right arm is weak", "both legs strong": said of a limb right after it, and no test is named."""
        said = frame.value
        limb = next((item for item in frame.pre if item.limbs), None)
        if limb is None or "mrc" not in said.values or frame.subjects or said.match is None:
            return False
        if _STRENGTH.isdisjoint(said.match.term.words) or self._is_told_by_others(limb.start):
            return False
        between = {token.text for token in self._tokens[limb.end : said.start]}
        return between <= _STATING | _OF_ALL and in_one_sentence(self._tokens, limb.end, said.start + 1)

    def _is_told_by_others(self, at: int) -> bool:
        """ "She says the left leg is weak": what the patient feels, up to a token."""
        return not _SAYING.isdisjoint(token.text for token in self._tokens[max(0, at - 4) : at])

    def _done_by_the_other(self, frame: Frame) -> Item | None:
        """ "Finger nose impaired on the right, now the left hand, lovely": the same test, asked of the other side."""
        sides = frame.of(ItemKind.SIDE)
        if len(sides) != 1 or not self._last or self._last[-1].side != OPPOSITE.get(sides[0].ids[0]):
            return None
        last = self._last[-1].manoeuvre
        led = [token.text for token in self._tokens[max(0, sides[0].start - 2) : sides[0].start]]
        moved = any(token.text in _MOVED for token in self._tokens[sides[0].end : sides[0].end + 1])
        named = (bool(sides[0].sites) or moved) and sides[0].end + moved == frame.value.start  # "right hand. Good"
        asked = self._manoeuvres[last].section == "coordination" and (named or "now" in led)
        return Item(ItemKind.COMMAND, sides[0].start, sides[0].end, (last,)) if asked else None

    def _is_elsewhere(self, frame: Frame, subjects: list[tuple[str, Item | None]]) -> bool:
        """A limb is named that none of the tests under examination, all of the other limb, is of."""
        limbs = {limb for item in frame.items for limb in item.limbs}
        tested = {self._manoeuvres[one].region for one, _ in subjects}
        return bool(limbs) and tested <= LIMB_REGIONS and limbs.isdisjoint(tested)

    def _names_part(self, frame: Frame) -> bool:
        """ "The left leg not examined", "coordination not done": a limb or a part of the examination was left out."""
        said = frame.value
        told = said.ids[0] != "unable"  # "the left leg is in plaster" leaves nothing out
        parts = [item for item in frame.items if told and (item.limbs or item.kind is ItemKind.HEADING)]
        near = any(in_one_sentence(self._tokens, min(one.end, said.end), max(one.start, said.start)) for one in parts)
        return near or (bool(frame.of(ItemKind.SIDE)) and any(item.is_place for item in frame.pre))

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

    def _turns_out_otherwise(self, frame: Frame, manoeuvre: str) -> bool:
        """ "Normal at first, but with distraction impaired": another result of the test, not more words on it."""
        said = frame.value
        if not self._last or said.start - self._ended > _TURNED_WITHIN:
            return False
        turned = any(token.text == "but" for token in self._tokens[self._ended : said.start])
        ends = said.end >= len(self._tokens) or self._tokens[said.end].boundary >= CLAUSE_MARK
        if not (turned and ends):
            return False
        value = self._values.read(manoeuvre, said)[0]
        return value is not None and value != self._last[-1].value

    def _subjects(self, frame: Frame) -> tuple[list[tuple[str, Item | None]], list[Item]]:
        """(manoeuvre, item that names it) for the frame; carried on from before where it names none."""
        said, state = frame.value, self._state
        named: list[tuple[str, Item | None]] = []
        for item in frame.subjects:
            choice = self._choose(item, said)
            if choice == "group:power" and self._is_of_no_limb(frame):
                if said.weak and not _is_next_to(said, frame):  # else it is told of below
                    self._loose.append(Loose(frame.start, frame.end, "no limb was named for this result"))
            elif choice is not None:
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
            and not any(item.kind is ItemKind.PLACE and not LIMBS.issuperset(item.ids) for item in frame.post)
            and (state.section in ("power", "reflexes", None) or said.grade in _OF_POWER)
        ):
            group = f"group:{state.section}" if f"group:{state.section}" in GROUPS else "group:power"
            if group and self._values.read(group, said)[0] is not None:
                if state.section is None and self._tokens[said.start - 1].text == "they're":
                    said.flags += (
                        "manoeuvre_unsaid",
                    )  # "they'd be brisk in the cord, but they're two plus throughout"
                return [(one, None) for one in self._expand(group, frame)], []
        if state.grouped and frame.of(ItemKind.REGION) and f"group:{state.section}" in GROUPS:
            # "Two plus in the arms, absent in the legs"
            group = f"group:{state.section}"
            if said.kind is ItemKind.OMISSION or self._values.read(group, said)[0] is not None:
                return [(one, None) for one in self._expand(group, frame)], []
        if said.grade == "5" and frame.items == [said] and self._goes_on_from_a_copy(said):
            return [(draft.manoeuvre, None) for draft in self._last], []
        if self._led_by_reflex(frame) and any(
            self._manoeuvres[one].section != "reflexes" for one in state.subjects if one in self._manoeuvres
        ):
            state.subjects = []  # "... jerks three plus": of a reflex whose name was not understood
            return [], []
        # "S3 absent, perianal absent", and not "numbness in the saddle", which she may have told of
        listed = bool(self._last) and self._manoeuvres[self._last[-1].manoeuvre].sites == "dermatome"
        rooted = any(ROOT.match(p) or (listed and p == "S4-5") for p in places)
        rooted = rooted and said.grade is None and said.kind is ItemKind.VALUE
        goes_on = (  # "ankle jerks one plus on the right, absent on the left, S1"
            state.section == "reflexes"
            and said.values.get("reflex") == "0"
            and len(places) == 1
            and all(token.boundary < BLOCK_END for token in self._tokens[self._ended : frame.start + 1])
            and any(not self._known.roots.get(one, set()).isdisjoint(places) for one in state.subjects)
        )
        if goes_on or not (rooted and state.section != "sensation" and "sensation" in said.values):
            carried = self._denied_together(frame) or state.subjects
            fitting: list[tuple[str, Item | None]] = [(one, None) for one in carried if self._can(one, said, places)]
            if fitting and not (state.grouped and not frame.of(ItemKind.SIDE)):
                return fitting, []
        if (
            (rooted and "sensation" in said.values)
            or (places and any(ROOT.match(p) for p in places) and (state.section == "sensation" or state.modality))
        ) and self._values.read("group:sensation", said)[0] is not None:
            return [(one, None) for one in self._expand("group:sensation", frame)], []
        if state.modality and self._can(state.modality, said, places):
            return [(state.modality, None)], []
        return [], []

    def _is_of_no_limb(self, frame: Frame) -> bool:
        """ "Power is three", where no limb and no side was named in the whole talk: of which muscles is not said."""
        state, grade = self._state, frame.value.grade
        limbs = self._frame_regions(frame) or self._both_limbs() or state.regions
        wide = frame.of(ItemKind.SIDE) or frame.of(ItemKind.THROUGHOUT) or frame.of(ItemKind.REST)
        return grade not in (None, "5") and not (limbs or wide or state.side)

    def _denied_together(self, frame: Frame) -> list[str]:
        """ "No tremor and no wasting in either leg, and none in the arms": none of the two."""
        joined = self._tokens[frame.start - 1].text == "and" and self._tokens[frame.start].text == "none"
        if not joined or not frame.of(ItemKind.SIDE) + frame.of(ItemKind.REGION):
            return []
        found: list[str] = []
        where = {(draft.side, draft.site) for draft in self._last}
        end = frame.start
        for _, _, drafts in reversed(self._trail):
            same = all(draft.value == "absent" for draft in drafts) and {(d.side, d.site) for d in drafts} == where
            start = drafts[0].spans[-1][0]
            if not same or not in_one_sentence(self._tokens, start + 1, end + 1) or drafts[0].spans[-1][1] < end - 1:
                break
            found[:0] = dict.fromkeys(draft.manoeuvre for draft in drafts)
            end = start
        return found

    def _goes_on_from_a_copy(self, said: Item) -> bool:
        """ "Power full throughout, left leg the same, five out of five": the grade is that of the whole limb."""
        copies = all(draft.copied is not None and draft.value in ("normal", "5") for draft in self._last)
        whole = len(self._last) > _SINGLE and copies
        return whole and said.start == self._ended and in_one_sentence(self._tokens, self._ended, said.start + 1)

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
        regions = self._frame_regions(frame) or self._both_limbs() or self._state.regions or ("lower_limb",)
        core = [m.id for m in self._known.core[GROUPS[subject]] if m.region in regions]
        if frame.of(ItemKind.REST):
            sides = self._sides(frame, None)[0]
            core = [one for one in core if not all((one, side, None) in self._drafts for side in sides)]
        return core

    def _both_limbs(self) -> tuple[str, ...]:
        """ "Power is five throughout in the arms and five throughout in the legs. Reflexes two plus throughout"."""
        if len(self._trail) < 2 or self._manoeuvres[self._last[-1].manoeuvre].section == self._state.section:
            return ()
        before = self._trail[-2][2]
        limbs = {self._manoeuvres[draft.manoeuvre].region for draft in (*before, *self._last)}
        sections = {self._manoeuvres[draft.manoeuvre].section for draft in (*before, *self._last)}
        start = self._last[0].spans[-1][0]
        joined = "and" in (self._tokens[max(0, start - 1)].text, self._tokens[start].text)
        whole = min(len(before), len(self._last)) > _SINGLE
        return tuple(sorted(limbs)) if joined and whole and len(sections) == 1 and limbs == LIMB_REGIONS else ()

    def _frame_regions(self, frame: Frame) -> tuple[str, ...]:
        sided = [item for item in frame.of(ItemKind.SIDE) if item.sites]
        if not sided:
            return tuple(dict.fromkeys(limb for item in self._last_regions(frame) for limb in item.limbs))
        after = {item.end + 1 for item in sided if self._tokens[min(item.end, frame.end - 1)].text == "and"}
        joined = [item for item in frame.of(ItemKind.REGION) if item.start in after]  # "the left arm and leg"
        found = [limb for item in (*sided, *joined) for limb in item.limbs]
        return tuple(dict.fromkeys(found))

    def _last_regions(self, frame: Frame) -> list[Item]:
        """ "Arms were done last week. Legs, power five": the limbs that were named last, unless they are listed."""
        regions = frame.of(ItemKind.REGION)
        led = sum(item.start < frame.value.start for item in regions)
        for at in range(led - 1, 0, -1):
            last, item = regions[at - 1], regions[at]
            between = {token.text for token in self._tokens[last.end : item.start]}
            if not (in_one_sentence(self._tokens, last.end, item.start + 1) and between <= _LISTING_LIMBS):
                return regions[at:]
        return regions

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
        if rule == "as_said":  # "toe walking normal. Let me see that left foot."
            end = frame.value.end
            post = [item for item in post if self._stands_alone(item) or in_one_sentence(self._tokens, end, item.end)]
            post = [item for item in post if not self._explains(item)]
        item = None
        if pre and post and post[0].ids != pre[-1].ids:
            item = post[0] if post[0].linked or post[0].ids == ("both",) else pre[-1]
        elif pre or post:
            item = post[0] if post else pre[-1]
        if item is not None:
            side = item.ids[0]
            if side == "other":
                return (), "unsaid"
            return (BOTH if side == "both" else (side,)), "said"
        if rule == "as_said":
            return ("midline",), "said"
        regions = [r for r in frame.of(ItemKind.REGION) if self._tokens[r.end - 1].text.endswith("s")]
        if regions:
            return BOTH, "region"
        if plural and not self._is_listed_in_limb(frame):
            return BOTH, "plural"
        grouped = any(one.ids[0] in ("group:power", "group:reflexes") for one in frame.subjects)
        wide = grouped or frame.of(ItemKind.THROUGHOUT) or self._goes_on_with(manoeuvre, frame)
        if wide and self._was_of_each() and not self._is_of_opening_limb(frame):
            return BOTH, "unsaid"
        if state.side == "both":
            return BOTH, "carried" if state.side_source == "said" else state.side_source
        if state.side:
            return (state.side,), "carried" if state.side_source == "said" else state.side_source
        return (), "unsaid"

    def _is_listed_in_limb(self, frame: Frame) -> bool:
        """ "The left leg now. Tone is normal. Knee and ankle jerks two plus", after those of the right: jerks that
        are many because they are listed, of the limb that was announced.
        """
        state = self._state
        other = OPPOSITE.get(state.side or "")
        named = [one for item in frame.subjects for one in item.ids[:1]]
        return (
            len(named) > 1
            and other is not None
            and state.limb == state.side
            and {self._manoeuvres[one].region for one in named if one in self._manoeuvres} <= set(state.side_limbs)
            and all((one, other, None) in self._drafts for one in named)
        )

    def _is_of_opening_limb(self, frame: Frame) -> bool:
        """ "Tone reduced on the left. The right arm is normal, power five": of the limb that begins the sentence."""
        state = self._state
        if not state.side_limbs or state.side not in OPPOSITE:
            return False
        at = state.side_mention - (self._tokens[state.side_mention - 1].text in ("the", "his", "her"))
        opens = at >= 0 and self._tokens[at].boundary >= BLOCK_END
        return opens and in_one_sentence(self._tokens, at + 1, frame.value.start + 1)

    def _goes_on_with(self, manoeuvre: str | None, frame: Frame) -> bool:
        """Whether the last result was of another movement, reflex or thing seen, of this limb or the other one."""
        last = self._last
        if manoeuvre is None or not last or last[-1].manoeuvre == manoeuvre:
            return False
        one, other = self._manoeuvres[manoeuvre], self._manoeuvres[last[-1].manoeuvre]
        # And not "right leg no wasting and no fasciculation"
        anew = self._sided > 1 or self._tokens[frame.start].boundary >= BLOCK_END
        return one.section == other.section in ("power", "reflexes", *(("inspection",) if anew else ()))

    def _was_of_each(self) -> bool:
        """ "Heel walking impaired on the left, normal on the right": of one test both sides were told, in turn.

        So they were in "no wasting on the left, no wasting on the right".
        """
        if len(self._trail) < 2 or not (self._contrasted or self._sided > 1):
            return False
        last, other = self._trail[-1][2], self._trail[-2][2]
        return (
            len(last) == len(other) == 1
            and last[0].manoeuvre == other[0].manoeuvre
            and {last[0].side, other[0].side} == {*BOTH}
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
        roots = sorted(dict.fromkeys(place for place, _ in named if ROOT.match(place)), key=root_order)
        if frame.value.kind is ItemKind.OMISSION and not named:
            last = [] if frame.subjects else self._last
            behind = {token.text for token in self._tokens[frame.value.end : frame.value.end + 1]}
            again = [
                draft.site
                for draft in last
                if draft.manoeuvre == manoeuvre and (draft.reason is not None or behind & _THAT)  # "not repeating that"
            ]
            return list(dict.fromkeys(again)) or [None], []
        if (
            kind in ("dermatome", "joint")
            and not named
            and (frame.of(ItemKind.SIDE) or (not frame.subjects and self._turns_out_otherwise(frame, manoeuvre)))
        ):
            last = [draft for draft in self._last if draft.manoeuvre == manoeuvre]
            if last:  # "normal at S3 on the right and reduced on the left": the place holds for both
                return list(dict.fromkeys(draft.site for draft in last)), []
        if kind == "dermatome":
            sites: list[str | None] = list(roots)
            sites += [place for place, _ in named if place == "S4-5"]
            return (sites or [None]), []
        if kind == "joint":
            return (self._joints_of(frame, named) or [None]), []
        if kind == "limb":
            limbs = [place for place, _ in named if place in LIMBS]
            sided = {site for item in frame.post if item.kind is ItemKind.SIDE for site in item.sites}
            led = [item for item in frame.pre if item.kind in (ItemKind.SIDE, ItemKind.PLACE)]
            more: list[str] = []
            while len(led) > 1 and led[-1].kind is ItemKind.PLACE and self._is_joined(led[-1]):
                more += LIMBS.intersection(led.pop().ids)  # "the left arm and leg"
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
                first = min(item.start for item in (*frame.of(ItemKind.SIDE), *frame.of(ItemKind.PLACE)))
                joined = [  # but "she drops things and her legs ache. No wasting in either arm"
                    place for place, item in named if place in LIMBS and item.start > first and self._is_joined(item)
                ]
                return list(dict.fromkeys([side_limb, *joined, *more])), []
            last = [] if frame.subjects else self._last
            if not limbs and not self._frame_regions(frame) and last and last[-1].manoeuvre == manoeuvre:
                return self._again(frame, manoeuvre, last), []
            joined = [place for place, item in named if place in LIMBS and self._is_joined(item)]
            return list(dict.fromkeys([limbs[0], *joined] if limbs else self._limbs(frame))), []
        if self._manoeuvres[manoeuvre].section not in ("power", "reflexes", "nerve_tension"):
            return [None], []
        whole = not frame.subjects and bool(frame.of(ItemKind.THROUGHOUT))  # "S1. The left leg is five throughout"
        grouped = any(item.ids[0] in GROUPS for item in frame.subjects)
        if whole or grouped or frame.value.kind is ItemKind.OMISSION:
            return [None], []
        if not roots and not frame.subjects and frame.of(ItemKind.SIDE) and self._trail:
            last = self._trail[-1][2]
            if last and last[-1].manoeuvre == manoeuvre and last[-1].roots_first:
                roots = list(last[-1].roots)
        return [None], roots

    def _joints_of(self, frame: Frame, named: list[tuple[str, Item]]) -> list[str | None]:
        """ "Ankles: vibration absent, joint position normal": the joint named before what was felt holds on."""
        found = dict.fromkeys(place for place, _ in named if place not in (*LIMBS, "S4-5") and not ROOT.match(place))
        if found:
            first = min((item.start for item in frame.subjects), default=0)
            self._joints = list(found) if all(item.end <= first for _, item in named) else []
            return list(found)
        if not frame.subjects or any(one.site not in self._joints for one in self._last):
            self._joints = []
        return list(self._joints)

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
        core = min((other.start for other in [frame.value, *frame.subjects] if other.start >= item.end), default=None)
        if core is None:
            return False  # it stands behind them, as in "wasting in both legs, none in the arms"
        spot = item.kind is ItemKind.PLACE and LIMBS.isdisjoint(item.ids)
        if spot and self._is_named_with_test(frame, item):
            return False
        leads = all(other.kind is ItemKind.SIDE for other in frame.pre if item.end <= other.start < core)
        felt = "sensation" in frame.value.values and (core == frame.value.start or len(item.ids) > 1)
        alone = (
            self._opens_sentence(item)
            if spot and leads
            else item.end == core and self._tokens[item.start].boundary >= 1.5
        )
        if alone and (felt or not any(map(ROOT.match, item.ids))):
            return False  # "Ankles. Vibration absent", "L5. Reduced": a heading
        return strongest_break(self._tokens, item.end, core) >= 1.5

    def _is_named_with_test(self, frame: Frame, place: Item) -> bool:
        """ "Light touch at L5. Right normal, left absent": what the test was said to be of waits for its results."""
        named = max((one for one in frame.subjects if one.end <= place.start), key=lambda one: one.end, default=None)
        if named is None or strongest_break(self._tokens, named.end, place.start) >= 1.5:
            return False
        if any(token.text in BE for token in self._tokens[named.end : place.start]):
            return False  # "the knee jerk is L3, L4": what it tests in anybody
        places = [one for one in frame.pre if one.kind is ItemKind.PLACE and one.start > place.end]
        return all(strongest_break(self._tokens, place.end, one.start) < 1.5 for one in places)

    def _opens_sentence(self, place: Item) -> bool:
        """Whether a sentence begins with a place, or with what leads to it ("at the great toes")."""
        at = place.start
        while self._tokens[at].boundary < 1.5 and self._tokens[at - 1].text in _TO_PLACES:
            at -= 1
        return self._tokens[at].boundary >= 1.5

    def _limbs(self, frame: Frame) -> list[str | None]:
        """The limbs that were named with the result, or last."""
        regions = self._frame_regions(frame) or (() if self._state.limb_at is None else self._state.regions)
        named = [limb for limb, region in _REGIONS.items() if region in regions]
        return [*named] or [None]

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
            sides = BOTH if (item and item.ids[0] in GROUPS) else ("right",)
        value, flags = (None, ()) if said.kind is ItemKind.OMISSION else self._values.read(manoeuvre, said)
        if said.kind is not ItemKind.OMISSION and value is None:
            return []
        reason = said.ids[0] if said.kind is ItemKind.OMISSION else None
        muscle = item.muscle if item and self._known.moved.get(item.muscle or "") == manoeuvre else None
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
        if not named and (other_limb := self._repeat_elsewhere(frame, last)):
            return other_limb
        if placed and not (sides or named) and last and all(draft.site for draft in last):
            return [  # "and likewise at L4"
                copy_of(draft, site=place, spans=[*draft.spans, (frame.start, frame.end)])
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
            return self._repeat_both([n for n in named if n], frame)
        elif frame.value.swapped:
            return None
        elif named and state.side:
            targets = [state.side] if state.side != "both" else list(BOTH)
        else:
            return None
        source: list[Draft]
        out: list[Draft] = []
        if named:
            wanted_ids = [n for n in named if n]
            source = []
            here = not sides or {draft.side for draft in last} == set(targets)
            for one in wanted_ids:
                meant = self._meant(one, frame)
                other = [d for d in self._drafts.values() if d.manoeuvre in meant and d.side not in targets]
                if other or one in GROUPS:
                    source += other
                elif here:
                    out += self._alike(one, last, frame)
                else:
                    scale = self._values.scale(one)
                    source += [copy_of(d, manoeuvre=one) for d in last[:1] if self._values.scale(d.manoeuvre) == scale]
        else:
            mention = self._trail[-1][1]
            run: list[list[Draft]] = []
            section = self._manoeuvres[last[-1].manoeuvre].section if last else None
            limb = bool(sides and sides[-1].sites)  # "right biceps two plus, right triceps two plus, left arm the same"
            for _, other_mention, drafts in reversed(self._trail):
                # "Left arm the same", "the same for all three"
                listed = limb or sum(map(len, run)) < frame.value.of_last < ALL_OF_THEM
                of_limb = listed and all(draft.side not in targets for draft in drafts)
                if other_mention != mention and not (of_limb or (run and self._said_with(drafts, run[-1], targets))):
                    break
                run.append(drafts)
            told = {d.key: d for drafts in reversed(run) for d in drafts}
            source = [
                self._drafts.get(key, d)  # what stands: "full throughout, five. Left, identical"
                for key, d in told.items()
                if (self._is_in(d, sides[-1].sites) if limb else self._manoeuvres[d.manoeuvre].section == section)
            ]
        there = [draft for draft in source if draft.site in placed]  # "the left is the same at L5 and normal at L4"
        for target in targets:
            for draft in there or source:
                if draft.side == target or draft.side == "midline":
                    continue
                spans = [*draft.spans, (frame.start, frame.end)]
                again = copy_of(draft, side=target, spans=spans, roots=self._roots_told(draft.manoeuvre, frame))
                again.side_source = "said"
                again.flags.update(frame.value.flags)
                if not any(again.key == other.key for other in out):
                    out.append(again)
        return out

    def _is_in(self, draft: Draft, limbs: tuple[str, ...]) -> bool:
        """Whether a result may be one of the limbs named."""
        region = _REGIONS.get(draft.site or "", self._manoeuvres[draft.manoeuvre].region)
        return region in limbs or region not in LIMB_REGIONS

    def _roots_told(self, test: str, frame: Frame) -> list[str]:
        """The roots that were said with a result; of a test of places a level is the place."""
        places = frame.of(ItemKind.PLACE) if self._manoeuvres[test].sites == "none" else []
        return [place for item in places for place in item.ids if ROOT.match(place)]

    def _alike(self, test: str, last: list[Draft], frame: Frame) -> list[Draft]:
        """ "Left quads three, hamstrings the same": what was just found, of another test."""
        scale, sites = self._values.scale(test), self._manoeuvres[test].sites
        roots = self._roots_told(test, frame)
        return [
            copy_of(draft, manoeuvre=test, roots=roots, spans=[*draft.spans, (frame.start, frame.end)])
            for draft in last
            if self._values.scale(draft.manoeuvre) == scale and self._manoeuvres[draft.manoeuvre].sites == sites
        ]

    def _repeat_elsewhere(self, frame: Frame, last: list[Draft]) -> list[Draft]:
        """ "Arms, five throughout. Legs, the same": what was said of one whole limb is said of another.

        So is what was looked for in it ("arms, no wasting, no fasciculation. Legs, likewise").
        """
        section = self._manoeuvres[last[0].manoeuvre].section if last else ""
        regions = set(self._frame_regions(frame))
        said = [item.ids[0] for item in frame.of(ItemKind.SIDE)][-1:]
        changes = {"spans": [*last[0].spans, (frame.start, frame.end)] if last else [], "side_source": "said"}
        if len(regions) == 1 and last and last[0].site in LIMBS:
            site = "leg" if regions == {"lower_limb"} else "arm"
            listed = (drafts for _, _, drafts in reversed(self._trail))
            run = list(itertools.takewhile(lambda drafts: self._is_listed_with(drafts, last[0]), listed))
            return [
                copy_of(draft, site=site, side=next(iter(set(said) & set(BOTH)), draft.side), **changes)
                for drafts in reversed(run)
                for draft in drafts
                if site != draft.site
            ]
        limbs = {self._manoeuvres[draft.manoeuvre].region for draft in last}
        whole = len({draft.manoeuvre for draft in last}) > _SINGLE and len({draft.value for draft in last}) == 1
        if not (whole and regions and f"group:{section}" in GROUPS) or regions & limbs:
            return []
        sides = set(said) & set(BOTH) or {draft.side for draft in last}
        return [
            copy_of(last[0], manoeuvre=one, side=side, **changes)
            for one in self._expand(f"group:{section}", frame)
            for side in BOTH
            if side in sides
        ]

    def _is_listed_with(self, drafts: list[Draft], last: Draft) -> bool:
        """The results are of the same limb, and of the same part of the examination, as another."""
        section = self._manoeuvres[last.manoeuvre].section
        return all(draft.site == last.site and self._manoeuvres[draft.manoeuvre].section == section for draft in drafts)

    def _meant(self, subject: str, frame: Frame) -> set[str]:
        """The test named, or those of the group named: "power in the left leg is the same"."""
        if subject not in GROUPS:
            return {subject}
        regions = self._frame_regions(frame) or self._state.regions
        return {
            test.id
            for test in self._manoeuvres.values()
            if test.section == GROUPS[subject] and (not regions or test.region in regions)
        }

    def _said_with(self, drafts: list[Draft], following: list[Draft], targets: list[str]) -> bool:
        """ "Right biceps two, right triceps two and the left is the same": of the same side, in the same sentence, and
        nothing is known of the other side yet.
        """
        end, start = drafts[-1].spans[-1][1], following[0].spans[-1][0]
        return in_one_sentence(self._tokens, end, start + 1) and all(
            draft.side == following[0].side and (draft.manoeuvre, target, draft.site) not in self._drafts
            for draft in drafts
            for target in targets
        )

    def _counted(self, frame: Frame) -> list[Draft]:
        """ "On the left all three are five": the value for so many of the last results; none if they were fewer.

        "And the right leg was five for every one of those" is said of all that were told of the other side alone.
        """
        said = frame.value
        left_out = said.kind is ItemKind.OMISSION
        last: dict[tuple[str, str | None], Draft] = {}
        told = self._trail[-1][2][-1:] if self._trail else []
        sides = [
            OPPOSITE.get(told[0].side, "") if one.ids == ("other",) and told else one.ids[0]
            for one in frame.of(ItemKind.SIDE)
        ]
        for _, _, drafts in reversed(self._trail):
            if said.of_last == ALL_OF_THEM and (
                {draft.side for draft in drafts} != {OPPOSITE.get(side) for side in sides}
                or not (left_out or all(self._values.read(draft.manoeuvre, said)[0] for draft in drafts))
            ):
                break
            for draft in reversed(drafts):
                last.setdefault((draft.manoeuvre, draft.site), draft)
            if len(last) >= said.of_last:
                break
        if said.of_last == ALL_OF_THEM:
            said.of_last = len(last)
        values = {draft.manoeuvre: self._values.read(draft.manoeuvre, said)[0] for draft in last.values()}
        fits = bool(last) and (left_out or None not in values.values())
        fits = fits and all(draft.side in OPPOSITE for draft in last.values())  # gait has no sides
        if frame.subjects or len(last) != said.of_last or not fits or len(sides) != 1:
            frame.claimed = not frame.subjects
            return []
        return [
            copy_of(
                draft,
                side=side,
                value=None if left_out else values[draft.manoeuvre],
                reason=said.ids[0] if left_out else None,
                side_source="said",
                spans=[*draft.spans, (frame.start, frame.end)],
                items=frame.items,
            )
            for draft in reversed(last.values())
            for side in (BOTH if sides[0] == "both" else sides)
        ]

    def _repeat_both(self, manoeuvres: list[str], frame: Frame) -> list[Draft]:
        """ "Ankle jerks likewise": the last manoeuvre's results, each on its own side, or on the other one."""
        return [
            copy_of(
                draft,
                manoeuvre=one,
                side=OPPOSITE[draft.side] if frame.value.swapped else draft.side,
                side_source="said",
                roots=self._roots_told(one, frame),
            )
            for one in manoeuvres
            for draft in last_of(self._drafts, self._trail)
            if self._values.scale(one) == self._values.scale(draft.manoeuvre)
        ]

    def _is_of_last_test(self, frame: Frame) -> bool:
        """ "Big toe up. Good, that's full power", "weak on the left and full power on the right": no limb is named, and
        the words point back, or the sides take turns.
        """
        at = frame.value.start
        if any(names_limb(item) or item.kind in (ItemKind.THROUGHOUT, ItemKind.HEADING) for item in frame.items):
            return False
        said = [token.text for token in self._tokens[max(0, at - 2) : at]]
        return said[-1:] in (["that's"], ["it's"]) or said in (["that", "is"], ["it", "is"]) or self._takes_turns(frame)

    def _takes_turns(self, frame: Frame) -> bool:
        """Both this result and the one before it in the sentence end with a side, each with another."""
        before = self._tokens[self._ended - 1].text if self._ended else ""
        sides = [item.ids[0] for item in frame.post if item.kind is ItemKind.SIDE]
        return (
            bool(sides)
            and sides[0] == OPPOSITE.get(before)
            and in_one_sentence(self._tokens, self._ended, frame.value.start + 1)
        )


def _is_next_to(said: Item, frame: Frame) -> bool:
    """ "Biceps jerk five", "tremor four": a value right behind a name, which may be another one than was heard."""
    return any(0 <= said.start - item.end <= 1 for item in frame.subjects)


def _is_of_a_section(frame: Frame) -> bool:
    """ "Coordination normal": a result of a whole part of the examination that is no group of tests."""
    said = frame.value
    heads = (item for item in frame.pre if item.kind is ItemKind.HEADING)
    normal = said.kind is ItemKind.VALUE and "normal" in said.values.values() and not (said.same or said.reaction)
    return normal and any(0 <= said.start - item.end <= 1 for item in heads)


def _is_history(said: Item, last: str) -> bool:
    """ "He is forty four", "woke with a numb hand", before the first test: an age, or what the patient feels.

    `last`: the last word of the value.
    """
    if said.grade is not None:
        return said.grade.isdigit() and len(said.grade) > 1 and last != "degrees"
    return len(said.values) == 1 and not _FELT.isdisjoint(said.values)


def _goes_up_or_down(said: Item) -> bool:
    """ "Up going", "downgoing"."""
    return (
        said.kind is ItemKind.VALUE
        and "plantar" in said.values
        and said.match is not None
        and said.match.term.words[-1].endswith("going")
    )
