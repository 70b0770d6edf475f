"""From frames to rows: what carries on (side, section, modality), what repeats, what replaces."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import replace

from pipeline.fill.corrections import corrected, other_sides
from pipeline.fill.drafts import ROOT, Draft, Loose, copy_of, refines
from pipeline.fill.frame import Frame, places_by_side
from pipeline.fill.frames import EXCEPTED, NAMING, build
from pipeline.fill.in_vain import InVain
from pipeline.fill.reading import BOTH, LIMB_REGIONS, Reading
from pipeline.fill.renamed import renamed
from pipeline.fill.scope import Known
from pipeline.fill.sections import OF_REFLEXES, Sections
from pipeline.lexicon.model import Lexicon
from pipeline.mend.tokens import BLOCK_END, CLAUSE_MARK, COMMA, SENTENCE_END, Token, closes, in_one_sentence
from pipeline.mend.words import EVERYDAY, frequency
from pipeline.understand.extract import is_plural
from pipeline.understand.items import OPPOSITE, Item, ItemKind

_SAID_AGAIN = "said again of the test before it; it may be of another test or side"
_BEHIND_UNREAD = "the test before it has another grade, and the words between were not understood"
_HARDLY = 0.9
"""Probability of a misheard name below which it is doubted where the other limb is examined."""
_LESS = frozenset("weaker reduced less weak duller".split())
_SWAP_LED = 3
"""Tokens before "the other way round" that may deny it or ask."""
_SAID_WITH = 4
"""Most tokens from a side to the test or place that it was said with."""
_WITHOUT_JOINT = frozenset("flexion extension abduction adduction flexors extensors abductors adductors".split())
_NOT_OF_ALL = LIMB_REGIONS | {"trunk"}
_LEADING_TO_LIMBS = frozenset("in of on at from over for throughout across and or nor".split())


class Filler:
    """Fills rows from the items of one talk."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._known = Known.of(lexicon)

    def fill(self, items: list[Item], tokens: list[Token]) -> tuple[list[Draft], list[Loose]]:
        """Drafts in order of first mention, and what could not be placed."""
        work = _Work(self._known, tokens)
        items = renamed(Sections(self._known.values).settled(items, tokens), tokens, self._known.values)
        items = other_sides(corrected(items, tokens))
        for part in build(items, tokens, self._fits, self._supplies):
            work.take(part)
        return work.finish()

    def _supplies(self, subject: Item, place: Item) -> bool:
        said = {one for one in place.ids if ROOT.match(one)}
        roots = self._known.roots
        known = roots.get(subject.muscle or "") or {root for one in subject.ids for root in roots.get(one, ())}
        return not (said and known) or not said.isdisjoint(known)

    def _fits(self, subject: Item, value: Item) -> bool:
        manoeuvres = self._known.values.manoeuvres
        if value.kind is ItemKind.PLACE:
            kinds = ("dermatome",) if value.is_level else ("joint",) if value.ids else ("dermatome", "joint")
            return any(
                s == "group:sensation" or (s in manoeuvres and manoeuvres[s].sites in kinds) for s in subject.ids
            )
        if value.kind is ItemKind.OMISSION or value.same:
            return True
        if value.reaction and not value.values and value.grade is None:
            return subject.kind is ItemKind.COMMAND
        if value.reaction and subject.kind is ItemKind.COMMAND:
            return True
        return any(self._known.values.read(s, value)[0] is not None for s in subject.ids)


class _Work(Reading):
    """Takes frame after frame, and keeps what each says."""

    def __init__(self, known: Known, tokens: list[Token]) -> None:
        super().__init__(known, tokens)
        self._examined = self._state.regions  # before what is said with a result
        self._claimed = False  # a grade in this sentence may be of the test before or behind it
        self._in_vain = InVain(self._manoeuvres, tokens)

    def take(self, part: Frame | Item) -> None:
        if isinstance(part, Item):
            self._take_item(part)
            return
        for one in _by_limb(part):
            for two in _by_place(one):
                self._take_frame(two)

    def _take_frame(self, part: Frame) -> None:
        for first in part.pre[:1]:
            self._doubt_side_behind(first)
        under: dict[int, str | None] = {}  # the side under examination when an item was said
        self._examined = self._state.regions
        for item in part.pre:
            self._note(item)
            under[item.start] = self._state.side
        for side, named in itertools.pairwise(part.pre):
            self._open_limb(side, named)
        self._back_to_limb(part)
        self._carried = (self._state.side, self._state.side_source)
        kept = len(self._loose)
        drafts = self._read(part) or []
        if part.excepted and not drafts:
            self._doubt_excepted(part.items, part.start)
        for item in part.post:
            self._note(item, quiet=True)
        self._commit(part, drafts)
        for item in part.items:
            if item not in part.subjects or not (drafts or len(self._loose) > kept):
                self._in_vain.note(item, under.get(item.start, self._state.side))
        for side, named in itertools.pairwise(part.pre):
            if side.kind is ItemKind.SIDE and side.end == named.start and drafts and named in part.subjects:
                self._in_vain.note_for(named, side.ids[0])
        for item in part.post:
            if item.kind is ItemKind.SIDE and self._is_of_all(item):
                self._side_for_all(item, math.inf)

    def _take_item(self, item: Item) -> None:
        if item.kind is ItemKind.REMOVE:
            self._undo()
        elif item.kind is ItemKind.SWAP:
            self._swap(item)
        elif item.kind is ItemKind.EXCEPT:
            self._except_unread(item)
        elif EXCEPTED in item.flags and item.kind in NAMING and self._trail:
            self._leave_out(item)
        else:
            self._doubt_side_behind(item)
            self._note(item)
            self._in_vain.note(item, self._state.side)
            if item.kind is ItemKind.SIDE and self._is_of_all(item):
                self._side_for_all(item, math.inf)

    def _doubt_side_behind(self, side: Item) -> None:
        """ "Reduced left L5, S1 right": the other side, right behind a result at the end of its sentence."""
        ends = side.end >= len(self._tokens) or self._tokens[side.end].boundary >= SENTENCE_END
        if side.kind is not ItemKind.SIDE or side.sites or not ends or side.start != self._ended or not self._trail:
            return
        for draft in self._trail[-1][2]:
            if draft.side == OPPOSITE.get(side.ids[0]) and self._tokens[side.start].boundary < COMMA:
                draft.flags.add("side_uncertain")

    def _leave_out(self, item: Item) -> None:
        """Takes a test, a place or a side that was excepted out of the last result; a test on the side said with it."""
        sided = abs(item.start - self._state.side_mention) <= _SAID_WITH
        meant = [
            draft
            for draft in self._trail[-1][2]
            if {ItemKind.PLACE: draft.site, ItemKind.SIDE: draft.side}.get(item.kind, draft.manoeuvre) in item.ids
            and (not sided or self._state.side in (draft.side, "both"))
            and self._drafts.get(draft.key) is draft
        ]
        for draft in meant:
            del self._drafts[draft.key]
        if not meant and in_one_sentence(self._tokens, self._ended, item.start + 1):
            self._doubt_excepted([item], item.start)
        self._loose.append(Loose(item.start, item.end, "excepted from a result, and no result of its own was said"))

    def _except_unread(self, item: Item) -> None:
        """ "Five throughout except the blarney": a test of the group that was not understood, where it may be one."""
        tokens = self._tokens
        end = next((at for at in range(item.end + 1, len(tokens)) if closes(tokens, at)), len(tokens))
        told = self._trail[-1][2] if self._trail else []
        group = len({draft.manoeuvre for draft in told}) > 1
        rare = any(frequency(token.text) < EVERYDAY for token in tokens[item.end : end])
        if group and rare and in_one_sentence(tokens, self._ended, item.start + 1):
            self._loose.append(Loose(item.start, end, "what is excepted from the result was not understood"))
            self._doubt_excepted([], item.start)

    def _doubt_excepted(self, named: list[Item], start: int) -> None:
        """ "Five throughout except the knee": of which tests of the last result that is was not understood."""
        joints = tuple({one for item in named for one in (*item.sites, *(item.ids if item.is_place else ()))})
        told = self._trail[-1][2] if self._trail else []
        if told and any(told[-1].spans[-1][1] <= loose.start and loose.end <= start for loose in self._loose):
            return  # of a result that was not placed
        moved = [draft for draft in told if joints and draft.manoeuvre.startswith(joints)]
        for draft in moved or told:
            draft.flags.add("may_be_taken_back")

    def _is_of_all(self, side: Item) -> bool:
        """ "All on the left", "both on the left"."""
        return any(token.text in ("all", "both") for token in self._tokens[max(0, side.start - 3) : side.start])

    def _may_be_both(self, draft: Draft) -> bool:
        """ "Left leg, planted down going": made out as "plantars", where no "s" was heard."""
        reflex = draft.side_source == "carried" and self._manoeuvres[draft.manoeuvre].section == "reflexes"
        named = (item for item in draft.items if item.kind is ItemKind.SUBJECT and not item.plural) if reflex else ()
        return any(item.match is not None and item.match.mended and is_plural(item.match) for item in named)

    def _is_explained(self, frame: Frame, draft: Draft) -> bool:
        as_said = draft.side == "midline" and self._manoeuvres[draft.manoeuvre].sides == "as_said"
        return as_said and any(map(self._explains, frame.of(ItemKind.SIDE)))

    def _follows_a_reflex(self, draft: Draft) -> bool:
        """ "Push down on my hand. Two plus.", after a reflex: the patient may have pushed to bring it out."""
        last = self._last
        return (
            bool(last)
            and self._manoeuvres[draft.manoeuvre].section == "power"
            and self._manoeuvres[last[-1].manoeuvre].section == "reflexes"
            and draft.value in OF_REFLEXES
        )

    def _commit(self, frame: Frame, drafts: list[Draft]) -> None:
        if not drafts or self._is_remark(frame):
            return
        unknown = not frame.value.of_last and self._unread.around(frame)
        other = _SAID_AGAIN if self._is_of_something_else(frame, drafts, unknown) else None
        other = other or (_BEHIND_UNREAD if self._is_of_unread_test(frame, drafts) else None)
        if other is not None:
            self._loose.append(Loose(self._said_from(frame), frame.end, other))
            self._ended = frame.end
            return
        self._frame_no += 1
        state = self._state
        self._share_roots(frame, drafts)
        rival_sides = self._rival(frame, drafts)
        if self._turned is not None and all(side.start <= self._turned for side in frame.of(ItemKind.SIDE)):
            others = {(draft.manoeuvre, OPPOSITE.get(draft.side, ""), draft.site) for draft in drafts}
            if others.isdisjoint(self._drafts):  # "left leg. knee up, four. right. kick out, five"
                state.doubtful = True
                rival_sides.add("side_uncertain")
        self._turned = None
        self._claimed = frame.claimed or (self._claimed and in_one_sentence(self._tokens, self._ended, frame.start + 1))
        shifted = self._may_be_shifted(frame, drafts)
        rival_sides |= {"side_uncertain"} if shifted else set()
        self._say_where_left_out(frame, drafts)
        self._adrift = shifted or all(draft.side_source == "unsaid" for draft in drafts)
        named = any(item.kind is ItemKind.SUBJECT for item in frame.subjects)
        limbs = _limbs(frame, self._tokens)
        before: list[Draft | None] = []
        for draft in drafts:
            draft.frame = self._frame_no
            draft.flags |= rival_sides | ({"manoeuvre_uncertain"} if self._claimed else set())
            draft.features = draft.features or self._features(frame, draft)
            draft.flags |= set(draft.value_flags) | {flag for item in draft.items for flag in item.flags}
            if draft.side_source in ("unsaid", "heading"):
                draft.flags.add("side_unsaid")
            if (draft.side_source == "carried" and state.doubtful) or (draft.site and _is_torn(frame)):
                draft.flags.add("side_uncertain")
            if self._is_explained(frame, draft) or self._is_between_sides(frame) or self._may_be_both(draft):
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
            if limbs and self._manoeuvres[draft.manoeuvre].region in _NOT_OF_ALL - limbs:
                draft.flags.add("limb_unexpected")
            if self._turns_to_another_limb(frame, draft) or self._is_misheard_of_another_limb(frame, draft):
                draft.flags.add("limb_unexpected")
            old = self._drafts.get(draft.key)
            before.append(old)
            self._place(draft, old, frame)
        sides = frame.of(ItemKind.SIDE)
        if not sides and state.side in BOTH and all(draft.side_source == "unsaid" for draft in drafts):
            state.side, state.side_source = "both", "unsaid"  # after "two on the left, three on the right"
        last = [item for item in frame.post if item.kind is ItemKind.SIDE]
        if last and len(last) == len(sides) and not frame.excepted:
            self._side_for_all(last[0], 1.5)
            self._both_for_all(last[0], drafts)
        if sides:
            chosen = self._sides(frame, drafts[0].manoeuvre)[0]
            self._side_frame = self._frame_no
            if chosen and chosen != ("midline",):
                state.side = "both" if len(chosen) == 2 else chosen[0]
                state.side_source = "said"
                if (
                    (self._is_told_again(frame, drafts) if frame.subjects else last)
                    and state.limb
                    and state.side == OPPOSITE[state.limb]
                    and not drafts[0].inferred
                ):
                    said = {token.text for token in self._tokens[frame.start : frame.end + 1]}
                    state.apart = "aside" if said & {"either", "too", "also", "neither"} else "doubt"
                else:
                    state.apart = None
                state.side_mention = sides[0].start
        self._ended = frame.end
        self._contrasted = not frame.subjects
        self._sided = self._sided + 1 if last and last[-1].linked and len(sides) == 1 else 0
        self._history.append((self._frame_no, drafts, before))
        self._trail.append((self._frame_no, state.side_mention, drafts))

    def _is_told_again(self, frame: Frame, drafts: list[Draft]) -> bool:
        """ "Tone in the left leg increased, tone in the right leg normal": the last test, named with its other side."""
        sides = frame.of(ItemKind.SIDE)
        last = self._last[-1:]
        return (
            len(sides) == 1
            and sides[0].linked
            and sides[0].start >= frame.subjects[0].end
            and all(one.manoeuvre == drafts[0].manoeuvre and one.side == OPPOSITE.get(drafts[0].side) for one in last)
        )

    def _may_be_shifted(self, frame: Frame, drafts: list[Draft]) -> bool:
        """ "Knee jerk two plus left knee jerk three plus": the first result has no side, or else the last has none."""
        side = frame.items[0]
        return (
            self._adrift
            and side.kind is ItemKind.SIDE
            and side.start == self._ended
            and not side.linked
            and self._tokens[side.start].boundary < CLAUSE_MARK
            and bool(frame.subjects)
            and drafts[0].manoeuvre == self._last[-1].manoeuvre
        )

    def _say_where_left_out(self, frame: Frame, drafts: list[Draft]) -> None:
        """ "Pinprick I've not done, so that's L5 on both sides declined": a test left out, and then its place."""
        if frame.subjects or not all(new.reason and new.site for new in drafts):
            return
        for old in self._last:
            widely = old.reason and not old.site and old.manoeuvre == drafts[0].manoeuvre
            if widely and self._drafts.get(old.key) is old:
                del self._drafts[old.key]

    def _is_of_something_else(self, frame: Frame, drafts: list[Draft], unknown: bool) -> bool:
        """ "Hip flexors five. Clutch five", "hip flexors five, five": a result that says again what is known of a test,
        behind a word that was not read, with "as well", or in one breath with it.
        """
        said = frame.value
        if frame.subjects or said.same or said.reaction or said.of_last:
            return False
        if said.kind is ItemKind.OMISSION:
            felt = self._manoeuvres[drafts[0].manoeuvre].sites in ("dermatome", "joint")  # a part may be its place
            if felt or not self._unread.part_before(frame):
                return False
            told = {(old.manoeuvre, old.side) for old in self._drafts.values() if old.value is not None}
            return told.issuperset((new.manoeuvre, new.side) for new in drafts)
        known = [self._drafts.get(draft.key) for draft in drafts]
        if any(old is None or old.value != draft.value for old, draft in zip(known, drafts, strict=True)):
            return False
        if unknown or self._unread.name_before(frame):
            return True
        if said.grade is None or frame.items != [said] or len(drafts) > 1 or not self._last:
            return False
        before = self._last[-1].items[0]
        alike = before.grade == said.grade and before.end - before.start == said.end - said.start
        in_one_breath = said.start == self._ended and self._tokens[said.start].boundary < CLAUSE_MARK
        also = [token.text for token in self._tokens[said.end : said.end + 2]] == ["as", "well"]
        return also or (alike and in_one_breath)  # and not "two, two out of five"

    def _is_of_unread_test(self, frame: Frame, drafts: list[Draft]) -> bool:
        """ "Hip flexors five. Clutch three", "toes back, four. Press. Three": another grade behind a name or an order
        that was not read is that of another test; the test before it keeps its own.
        """
        said = frame.value
        if said.grade is None or said.instead_of is not None or frame.excepted or frame.subjects:
            return False
        known = [self._drafts.get(draft.key) for draft in drafts]
        graded = all(
            old and old.value and not old.inferred and old.value != new.value
            for old, new in zip(known, drafts, strict=True)
        )
        of_power = all(self._values.scale(draft.manoeuvre) == "mrc" for draft in drafts)
        return graded and of_power and not frame.of(ItemKind.SIDE) and self._unread.test_before(frame)

    def _said_from(self, frame: Frame) -> int:
        """Where the words begin that say something again: in one breath, with the result before them."""
        if frame.start == self._ended and self._last:
            return self._last[-1].spans[-1][0]
        return min(frame.start, max(self._ended, frame.value.start - 2))

    def _is_between_sides(self, frame: Frame) -> bool:
        """ "On the right that's three, on the left": one of the two sides has a result that was not heard.

        In "reduced left L5, S1 right" each of the places has its own.
        """
        before = [item for item in frame.pre if item.kind is ItemKind.SIDE and item.ids[0] in OPPOSITE]
        after = [item for item in frame.post if item.kind is ItemKind.SIDE and item.ids[0] in OPPOSITE]
        placed = any(item.kind is ItemKind.PLACE for item in frame.post)
        if (
            placed
            and len({item.ids for item in after}) > 1
            and in_one_sentence(self._tokens, after[0].end, after[-1].end)
        ):
            return True
        if not (before and after) or before[-1].ids == after[0].ids:
            return False
        between = [token.text for token in self._tokens[before[-1].end : frame.value.start]]
        return before[-1].linked and after[0].linked and between in (["that's"], ["it's"], ["is"])

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

    def _turns_to_another_limb(self, frame: Frame, draft: Draft) -> bool:
        """ "Shoulder abduction four, adduction five": a movement without its joint, of the other limb than the last."""
        bare = any(
            self._tokens[item.end - 1].text in _WITHOUT_JOINT and item.end - item.start == 1 for item in frame.subjects
        )
        if not bare or not self._last:
            return False
        last = self._manoeuvres[self._last[-1].manoeuvre].region
        here = self._manoeuvres[draft.manoeuvre].region
        near = in_one_sentence(self._tokens, self._ended, frame.start + 1)
        return {last, here} == LIMB_REGIONS and (near or (self._state.limb_at or 0) < self._ended)

    def _is_misheard_of_another_limb(self, frame: Frame, draft: Draft) -> bool:
        """ "Tone normal in both arms. Tricycles four": a name that was made out is of a limb that nobody turned to."""
        if all(item.probability >= _HARDLY for item in frame.subjects) or any(item.limbs for item in frame.pre):
            return False
        region = self._manoeuvres[draft.manoeuvre].region
        return {region, *self._examined} == LIMB_REGIONS and region not in self._examined

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
            "everyday": float(said.weak and said.grade is None and not (gap == 0 and "mrc" in said.values)),
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
            if draft.copied is not None:
                old.spans[:0] = draft.spans  # "the left is the same" adds nothing to what is known of the left
            else:
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
        scale = self._values.scale(draft.manoeuvre)
        agreed = (
            old.inferred
            or frame.excepted
            or (old.group and self._frame_no - old.frame <= 2)
            or old.reason is not None
            or refines(old.value, draft.value, scale)
            or self._is_put_right(old, frame.value)
        )
        vaguer = refines(draft.value, old.value, scale)
        if vaguer and not frame.excepted:
            if self._is_compared(draft, old, frame):
                old.flags.add("value_uncertain")
            old.spans += draft.spans
            return
        if not agreed or (old.reason is not None and "contradiction" in old.flags):
            draft.flags.add("contradiction")
        draft.roots = draft.roots or old.roots
        del self._drafts[draft.key]
        draft.spans = [*old.spans, *draft.spans]
        self._drafts[draft.key] = draft

    def _is_compared(self, draft: Draft, old: Draft, frame: Frame) -> bool:
        """ "Both quads four, the left slightly weaker": not the same on both sides."""
        other = self._drafts.get((draft.manoeuvre, OPPOSITE.get(draft.side, ""), draft.site))
        same = other is not None and other.value == old.value and other.frame == old.frame
        return same and bool(frame.of(ItemKind.SIDE)) and self._tokens[frame.value.start].text in _LESS

    def _is_put_right(self, old: Draft, said: Item) -> bool:
        """ "So it's three, not two": the value that was taken back is that of the row."""
        before = said.instead_of
        return before is not None and self._values.read(old.manoeuvre, before)[0] == old.value

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
        if runs_on and last.ids == (mine.side,) and self._carried == (OPPOSITE.get(mine.side), "said"):
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
        if side.ids[0] not in OPPOSITE:
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

    def _both_for_all(self, side: Item, drafts: list[Draft]) -> None:
        """ "Reflexes, biceps two, triceps two on both sides": of both is all that was told under the heading,
        if it came after the last side; without "on" a person is asked.
        """
        if side.ids != ("both",) or side.sites:
            return
        for _, mention, others in reversed(self._trail):
            if mention > self._headed_at or not others or others[0].spans[-1][0] < self._headed_at:
                break
            if self._manoeuvres[others[0].manoeuvre].section != self._manoeuvres[drafts[0].manoeuvre].section:
                break  # "right leg power, knee up, good. Knee jerks two plus on both sides"
            if any(one.side_source not in ("unsaid", "carried") or one.side not in OPPOSITE for one in others):
                break
            for one in others:
                other = copy_of(one, side=OPPOSITE[one.side])
                if self._drafts.get(one.key) is not one or other.key in self._drafts:
                    continue
                for each in (one, other):
                    each.side_source = "said"
                    each.flags -= {"side_unsaid"}
                    each.flags |= set() if side.linked and one.value == drafts[0].value else {"side_uncertain"}
                self._drafts[other.key] = other

    def _swap(self, item: Item) -> None:
        """ "Other way round": the last two results for one manoeuvre change sides; those of two tests of one side are
        changed, too, and a person is asked, as where there is no such pair. "Or is it the other way round?" only asks.
        """
        led = {token.text for token in self._tokens[max(0, item.start - _SWAP_LED) : item.start]}
        if "not" in led:
            return
        sided = self._last_pair(lambda one, two: one.key[::2] == two.key[::2] and one.side == OPPOSITE.get(two.side))
        pair = sided or self._last_pair(self._is_told_alike)
        if pair is None:
            self._loose.append(Loose(item.start, item.end, "which results are the other way round was not understood"))
            return
        first, second = pair
        asked = "or" in led
        if not asked:
            first.value, second.value = second.value, first.value
            first.reason, second.reason = second.reason, first.reason
        if asked or sided is None:
            for draft in pair:
                draft.flags.add("may_be_taken_back")

    def _last_pair(self, paired: Callable[[Draft, Draft], bool]) -> tuple[Draft, Draft] | None:
        """The last result and the nearest one before it that makes a pair with it."""
        told = [draft for _, drafts, _ in reversed(self._history[-3:]) for draft in reversed(drafts)]
        other = next((one for one in told[1:] if paired(told[0], one)), None)
        return (told[0], other) if other is not None else None

    def _is_told_alike(self, one: Draft, two: Draft) -> bool:
        """Two tests of one scale on the same side, told one right after the other."""
        alike = self._values.scale(one.manoeuvre) == self._values.scale(two.manoeuvre) and one.side == two.side
        return alike and one.frame - two.frame == 1 and one.value != two.value

    def finish(self) -> tuple[list[Draft], list[Loose]]:
        drafts = list(self._drafts.values())
        return drafts, sorted([*self._loose, *self._in_vain.loose(drafts)], key=lambda part: part.start)


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
    sides = [item for item in frame.pre if item.kind is ItemKind.SIDE and item.ids[0] in OPPOSITE]
    between = [
        item
        for item in frame.pre
        if item.kind is ItemKind.PLACE
        and item.ids
        and ROOT.match(item.ids[0])
        and sides
        and sides[0].end <= item.start < sides[-1].start
    ]
    return bool(between) and sides[0].ids != sides[-1].ids


def _heading_after(frame: Frame, tokens: list[Token]) -> Item | None:
    """ "On both sides. Down to the legs": a limb after a result and its side, which heads what comes."""
    sided = bool(frame.of(ItemKind.SIDE))
    limb = next((item for item in reversed(frame.post) if sided and item.kind is ItemKind.REGION), None)
    at = limb.start - 1 if limb is not None else -1
    while at >= 0 and tokens[at].text in ("the", "his", "her", "both"):
        at -= 1
    return limb if at >= 0 and tokens[at].text not in _LEADING_TO_LIMBS else None


def _limbs(frame: Frame, tokens: list[Token]) -> frozenset[str]:
    """The limbs that were named with a result; none where all were meant."""
    heading = _heading_after(frame, tokens)
    named = {limb for item in frame.items if item is not heading for limb in item.limbs}
    return frozenset(named) if named < LIMB_REGIONS else frozenset()
