"""Frames: which words belong to which value.

Between two values stand sides, places and subjects that belong to the one before or to the one after; nothing
in the sound says which. Every way to cut the words between values is weighed by how examiners speak (a
preposition points back, a bare side points forward, nothing crosses the end of a sentence), and the cheapest
chain of cuts wins (Viterbi). The cost of the next best reading of a frame tells how far it can be trusted.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

from pipeline.fill.frame import SUBJECTS, VALUES, Frame
from pipeline.fill.weighing import CONNECTORS, Fits, Supplies, Weigher
from pipeline.mend.tokens import CLAUSE_MARK, SENTENCE_END, Token, in_one_sentence
from pipeline.understand.items import OPPOSITE, Item, ItemKind

NAMING = (ItemKind.SUBJECT, ItemKind.PLACE, ItemKind.SIDE)
EXCEPTED = "excepted"
"""Flag of an item that was excepted from a result and has none of its own."""
AMBIGUOUS = 0.8
"""Two readings whose costs differ by less than this are told to a person, when they give different rows."""


def build(items: list[Item], tokens: list[Token], fits: Fits, supplies: Supplies) -> list[Frame | Item]:
    """Frames and the items that stand outside frames (removals, trailing sides and headings), in order."""
    out: list[Frame | Item] = []
    segment: list[Item] = []
    excepted: Item | None = None  # the words "apart from" that lead the segment

    def flush() -> None:
        nonlocal segment, excepted
        if excepted and _names_nothing(excepted, segment, tokens):
            out.append(excepted)
            excepted = None
        if excepted and (bare := _bare_place(segment, fits)):
            bare[-1].flags += (EXCEPTED,)
            out.extend(bare)
            segment, excepted = [item for item in segment if item not in bare], None
        other = _other_side(out) if excepted else None
        parts = _segment(Weigher(segment, tokens, fits, supplies, bool(out), other), excepted is not None)
        if excepted:  # "five throughout apart from hip extension": which may have no result
            named = next((item for item in segment if item.kind in (ItemKind.SUBJECT, ItemKind.PLACE)), None)
            named = _bare_side(segment, tokens) or named
            frames = [part for part in parts if isinstance(part, Frame)]
            claimed = [item for frame in frames for item in frame.subjects]
            if named is not None and named.kind is not ItemKind.SUBJECT:
                claimed = [item for frame in frames for item in frame.items]
            if named is not None and not any(item is named for item in claimed):
                named.flags += (EXCEPTED,)
                parts = [part for part in parts if part is not named]
                parts.insert(next((at for at, part in enumerate(parts) if isinstance(part, Frame)), len(parts)), named)
        out.extend(parts)
        segment, excepted = [], None

    for item in items:
        if item.kind is ItemKind.REMOVE and segment and _opens_alone(segment[-1], item, tokens):
            segment.pop()
        elif item.kind in (ItemKind.REMOVE, ItemKind.SWAP):
            flush()
            if item.kind is ItemKind.REMOVE and _is_begun(out, item, tokens):
                while isinstance(out[-1], Item):  # "right knee jerk, scratch that": nothing was said of it yet
                    out.pop()
            else:
                out.append(item)
        elif item.kind is ItemKind.EXCEPT:
            flush()
            excepted = item
        else:
            segment.append(item)
    flush()
    return out


def _other_side(parts: list[Frame | Item]) -> str | None:
    """ "Right arm five throughout, except ...": the side that the last result was not said of, where it had one."""
    last = parts[-1] if parts else None
    said = {side for item in last.of(ItemKind.SIDE) for side in item.ids} if isinstance(last, Frame) else set()
    return OPPOSITE.get(said.pop()) if len(said) == 1 else None


def _bare_side(segment: list[Item], tokens: list[Token]) -> Item | None:
    """ "No wasting except in the left leg. Tone normal": a side alone, and nothing more in its sentence."""
    first = segment[0] if segment else None
    if first is None or first.kind is not ItemKind.SIDE or first.ids[0] not in OPPOSITE:
        return None
    return first if first.end >= len(tokens) or tokens[first.end].boundary >= SENTENCE_END else None


def _names_nothing(exception: Item, following: list[Item], tokens: list[Token]) -> bool:
    """ "Five throughout apart from the blarney. Tone normal": what is excepted was not understood."""
    if exception.end >= len(tokens) or tokens[exception.end].text in _POINTING:
        return False
    if not following:
        return True
    first = following[0].start
    return first - exception.end > 1 and not in_one_sentence(tokens, exception.end, first + 1)


_POINTING = frozenset("that this those these them it which".split())
"""Words after "apart from" that name no test."""


def _bare_place(segment: list[Item], fits: Fits) -> list[Item]:
    """ "Except the left S1, which is blunt. Vibration normal": a place, with its side, that has no result before the
    next test, which cannot have one there.
    """
    kinds = (ItemKind.SUBJECT, ItemKind.PLACE, *VALUES)
    told = [item for item in segment if item.kind in kinds and not item.section_only][:2]
    if [item.kind for item in told] != [ItemKind.PLACE, ItemKind.SUBJECT] or fits(told[1], told[0]):
        return []
    led = segment[: segment.index(told[0])][-1:]
    return [*(item for item in led if item.kind is ItemKind.SIDE), told[0]]


def _opens_alone(side: Item, removal: Item, tokens: list[Token]) -> bool:
    """ "Left, strike that, still on the right": a side in a sentence of its own, and no result is taken back."""
    return (
        side.kind is ItemKind.SIDE
        and tokens[side.start].boundary >= SENTENCE_END
        and in_one_sentence(tokens, side.end, removal.start + 1)
        and removal.start - side.end <= 1
    )


def _is_begun(parts: list[Frame | Item], item: Item, tokens: list[Token]) -> bool:
    """Right before an item a test was named, and no result yet."""
    last = parts[-1] if parts else None
    return (
        isinstance(last, Item)
        and any(isinstance(part, Frame) for part in parts)
        and (last.kind in SUBJECTS or (last.kind is ItemKind.SIDE and _is_begun(parts[:-1], item, tokens)))
        and in_one_sentence(tokens, last.end, item.start + 1)
    )


def _segment(weigher: Weigher, excepted: bool) -> list[Frame | Item]:
    items, tokens = weigher.items, weigher.tokens
    at_values = [k for k, item in enumerate(items) if item.kind in VALUES or weigher.is_denial(k)]
    if not at_values:
        return list(items)
    # cuts[i]: index of the first item that belongs to value i (everything before it belongs to value i-1)
    gaps: list[list[int]] = [[0]]
    for before, after in itertools.pairwise(at_values):
        gaps.append(list(range(before + 1, after + 1)))
    last = len(items)
    tails = [[*gap] for gap in gaps[1:]] + [list(range(at_values[-1] + 1, last + 1))]
    # Viterbi over cut positions
    best: list[dict[int, tuple[float, int | None]]] = [{0: (0.0, None)}]
    for index, value in enumerate(at_values):
        reached: dict[int, tuple[float, int | None]] = {}
        for first, (cost, _) in sorted(best[index].items(), key=lambda begun: begun[1][0]):
            for stop in tails[index]:
                known, other = reached.get(stop, (math.inf, None))
                # Of those that cost the same, the one that begins first is taken.
                most = known + 1e-9 if other is not None and first < other else known - 1e-9
                if cost >= most:
                    continue  # no result costs less than nothing
                total = cost + weigher.cost(first, value, stop, most - cost)
                if total < most:
                    reached[stop] = (total, first)
        best.append(reached)
    trail = {stop: cost + weigher.loose(stop, last) for stop, (cost, _) in best[-1].items()}
    stop = min(trail, key=lambda k: trail[k])
    cuts = [stop]
    for index in range(len(at_values), 0, -1):
        previous = best[index][cuts[-1]][1]
        assert previous is not None
        cuts.append(previous)
    cuts.reverse()
    frames: list[Frame | Item] = []
    ended: int | None = None
    for index, value in enumerate(at_values):
        frame = weigher.frame(cuts[index], value, cuts[index + 1])
        # "Except dorsiflexion, four, and the big toe, three"
        joined = ended is not None and [token.text for token in tokens[ended : frame.start]] in (
            ["and"],
            ["and", "the"],
        )
        frame.excepted = excepted and (index == 0 or joined)
        ended = frame.end if frame.excepted else None
        frames.append(frame)
    _mark_rivals(frames, weigher, cuts, at_values)
    frames.extend(items[stop:])
    _share_tail_side(frames, tokens)
    _share_side_of_places(frames, tokens)
    _share_denied_side(frames, tokens, weigher.continued)
    return frames


def _share_tail_side(parts: list[Frame | Item], tokens: list[Token]) -> None:
    """ "Toes absent, ankles reduced, both sides": the side at the end of a sentence holds for all results in it.

    So does that of "reduced at the ankle and normal at the knee on both sides", for the results of the one test.
    """
    for index, part in enumerate(parts):
        if not isinstance(part, Frame):
            continue
        tail = [
            item
            for item in part.post
            if item.kind is ItemKind.SIDE
            and item.ids == ("both",)
            and 0.5 <= tokens[item.start - 1 if tokens[item.start].boundary < 0.5 else item.start].boundary < 1.2
        ]
        listed = [] if tail else _side_of_listed_places(parts, index, tokens)
        left_out = part.value.kind is ItemKind.OMISSION  # "quads five, hip extension not done, either side"
        if not (tail or listed):
            continue
        for back in range(index - 1, -1, -1):
            other = parts[back]
            if (
                not isinstance(other, Frame)
                or other.of(ItemKind.SIDE)
                or (other.value.kind is ItemKind.OMISSION) is not left_out
                or any(tokens[at].boundary >= 1.2 for at in range(other.end, part.start + 1))
            ):
                break
            other.post.append((tail or listed)[0])
            if listed and other.subjects:
                break


def _side_of_listed_places(parts: list[Frame | Item], index: int, tokens: list[Token]) -> list[Item]:
    """The "on both sides" that ends a list of places, each with its own result, joined by "and"."""
    last, before = parts[index], parts[index - 1] if index else None
    if not (isinstance(last, Frame) and isinstance(before, Frame)) or last.subjects:
        return []
    sides = last.of(ItemKind.SIDE)
    joined = [token.text for token in tokens[before.end : last.start]] == ["and"]
    placed = all(frame.of(ItemKind.PLACE) for frame in (before, last))
    ends = bool(sides) and last.items[-1] is sides[-1] and sides[-1].ids == ("both",) and len(sides) == 1
    return sides if joined and placed and ends and in_one_sentence(tokens, before.end, last.start + 1) else []


def _share_side_of_places(parts: list[Frame | Item], tokens: list[Token]) -> None:
    """ "Cold is absent at L3 and reduced at L4 on the left": the side is that of both places, and a person is asked."""
    for first, second in reversed(list(itertools.pairwise(parts))):
        if not (isinstance(first, Frame) and isinstance(second, Frame)) or first.of(ItemKind.SIDE) or second.subjects:
            continue
        placed = second.post[:1] and second.post[0].kind is ItemKind.PLACE
        sides = [
            item for item in second.post[1:2] if item.kind is ItemKind.SIDE and item.linked and item.ids != ("both",)
        ]
        between = [token.text for token in tokens[first.end : second.start]]
        named = bool(first.subjects) and bool(first.post) and first.post[-1].kind is ItemKind.PLACE
        if placed and sides and named and between == ["and"] and in_one_sentence(tokens, first.start + 1, second.end):
            first.post.append(replace(sides[0], flags=(*sides[0].flags, "side_uncertain")))


def _names_side(part: Frame | Item) -> bool:
    return any(item.kind is ItemKind.SIDE for item in (part.items if isinstance(part, Frame) else [part]))


def _is_widened(side: Item, both: Item) -> bool:
    """ "The left thigh aches, no wasting, no tremor in either leg": of the pair, and no other limb is named."""
    pair = both.ids == ("both",) and bool(both.sites)
    return pair and side.ids != both.ids and set(side.sites) <= set(both.sites)


def _share_denied_side(parts: list[Frame | Item], tokens: list[Token], continued: bool) -> None:
    """ "No wasting and no fasciculation in either leg": the side holds for both, and for a sentence of its own where
    none was said before ("No wasting. No fasciculation in either leg"). So do the limbs ("in the arms").
    """
    for at, (first, second) in reversed(list(enumerate(itertools.pairwise(parts)))):
        if not (isinstance(first, Frame) and isinstance(second, Frame)):
            continue
        if not (first.negated and second.negated) or second.value.kind is not first.value.kind:
            continue
        said = [item for item in second.post if item.kind in (ItemKind.SIDE, ItemKind.REGION)]
        own = first.of(ItemKind.SIDE)
        led = any(side in first.post or side.end == first.value.start for side in own)  # "left arm no wasting"
        if led or not all(said and _is_widened(side, said[0]) for side in own):
            continue
        between = [tokens[at].text for at in range(first.end, second.start)]
        near = tokens[second.start].boundary < CLAUSE_MARK
        if not said or not CONNECTORS.issuperset(between):
            continue
        if near or not (own or between or continued or any(map(_names_side, parts[:at]))):
            first.post += [item for item in second.post if item.kind in (ItemKind.SIDE, ItemKind.REGION)]


def _mark_rivals(frames: list[Frame | Item], weigher: Weigher, cuts: list[int], at_values: list[int]) -> None:
    """Where another cut between two values costs nearly as little, both frames get the other reading as a rival."""
    for index in range(len(at_values) - 1):
        low, high = at_values[index] + 1, at_values[index + 1]
        chosen = cuts[index + 1]
        first, last = cuts[index], cuts[index + 2]
        base = weigher.cost(first, at_values[index], chosen) + weigher.cost(chosen, at_values[index + 1], last)
        rival, margin = None, AMBIGUOUS
        for other in range(low, high + 1):
            if other == chosen:
                continue
            moved = weigher.items[min(other, chosen) : max(other, chosen)]
            if not any(item.kind in (ItemKind.SIDE, ItemKind.PLACE, ItemKind.SUBJECT) for item in moved):
                continue
            cost = weigher.cost(first, at_values[index], other) + weigher.cost(other, at_values[index + 1], last)
            if cost - base < margin:
                rival, margin = other, cost - base
        if rival is not None:
            one, two = frames[index], frames[index + 1]
            assert isinstance(one, Frame) and isinstance(two, Frame)
            one.rival = weigher.frame(first, at_values[index], rival)
            two.rival = weigher.frame(rival, at_values[index + 1], last)
