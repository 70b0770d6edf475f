"""What the items of a statement say together: which side, place or test a result is meant for.

Each step takes the items in order and gives them back with one way of speaking resolved: two limbs in one breath, a
result for each of two tests, "both", "the same", "but not on the right".
"""

from __future__ import annotations

import itertools
from dataclasses import replace

from pipeline.mend.tokens import BLOCK_END, CLAUSE_MARK, COMMA, SENTENCE_END, Token, in_one_sentence
from pipeline.mend.words import REACHING
from pipeline.understand.announced import in_announced_order, is_pair, side_of
from pipeline.understand.both import both_of_two
from pipeline.understand.counted import of_the_last
from pipeline.understand.in_turn import in_turn
from pipeline.understand.items import WHERE, Item, ItemKind
from pipeline.understand.levels import last_root_apart, turned_levels

_NAMELY = (
    ["that", "is"], ["that's"], ["namely"], ["meaning"], ["by", "which", "i", "mean"], ["by", "that", "i", "mean"]
)  # fmt: skip
"""What leads from a result to the tests that it was meant for."""
_SIDES = frozenset(("left", "right"))
_ON_THE = 2
"""Words of "on the" before a side."""
_NAMED_WITH_LIMB = frozenset("tone power reflexes group:power group:reflexes".split())
_RESPECTIVE = 30
"""Most tokens from what "respectively" arranges to the word itself."""
_SKIPPING = frozenset("skip skipping omit omitting".split())
_FAR = frozenset("step steps pace paces yard yards metre metres".split())
_SAYS = frozenset("says said calls describes".split())
_TO_A_TIME = frozenset("at till until by before".split())
_NAMED_NEXT = 3
"""Most tokens from what leaves a test out to its name."""
_PERSONS = frozenset("he she he's she's they it".split())
_NUMBERING = frozenset("number figure grade graded gradable score".split())
_SAME_FOR = 4
"""Most tokens from "the same" to the test that it is for."""
_NAMING = (ItemKind.SUBJECT, ItemKind.COMMAND)
_NO_VERBS = frozenset("as this yes plus perhaps always sometimes besides across thus less minus sides".split())
"""Words that end as a verb does, and are none."""
_DID = frozenset("had took went".split())
_ONE_ONLY = (["one"], ["only"], ["just"], ["barely"], ["still"], ["also"])
_STATING_ONE = tuple(
    [word] for word in "is was 's it's that's looks seems i'd i'll i've i'm we we've well a not".split()
)
"""What opens a statement of its own of the second side in "on the left, and on the right I've just about got it"."""
_ALTERNATIVES = frozenset("or nor".split())
_JOINING = _ALTERNATIVES | {"and"}
_AROUND_LIMBS = _JOINING | frozenset("in the on his her".split())
_NO_RESULT = frozenset(
    """reason problem story issue level levels place places area areas site sites spot spots distribution dermatome
        dermatomes root roots territory time""".split()
)
_LINKING = frozenset("is are was were it's just exactly and".split())


def arranged(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """The items, with what they say together resolved; `words` are the texts of `tokens`."""
    found = _each_side(_put_right_at_last(_limb_of_next(items, words, tokens), words, tokens), words)
    found = last_root_apart(turned_levels(_but_not_there(found, words, tokens), words, tokens), words, tokens)
    found = _on_to_the_other(_both_sides(_two_limbs(found, words, tokens), words, tokens))
    found = _neither_of_the_last(of_the_last(found, words, tokens), words, tokens)
    found = _both_limbs(both_of_two(found, words, tokens), words, tokens)
    found = _namely(found, words, tokens)
    found = _in_order_of_sides(_respectively(found, words, tokens), words, tokens)
    found = in_turn(_one_each(_listed_for(found, words), words, tokens), words, tokens)
    found = _both_alike(in_announced_order(found, words, tokens), words)
    found = _denied_once(found, tokens)
    found = _reported_once(_stated_once(found, tokens), words)
    found = _said_at(found, words)
    return _resolve_same(_swapped(found, words), words)


def _limb_of_next(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Absent on the left, brisk on the right | leg tone is increased": the limb names the next test, where the side
    before it was that of no limb, or a new utterance begins with it.
    """
    kept: list[Item] = []
    for item, following in itertools.zip_longest(items, items[1:]):
        kept.append(item)
        if (
            item.kind is not ItemKind.SIDE
            or len(item.sites) != 1
            or item.end - item.start != 2
            or words[item.start] not in _SIDES
            or words[item.start - 2 : item.start] != ["on", "the"]
            or not _is_of_limbs(following, item.end)
        ):
            continue
        last = next((other for other in reversed(kept[:-1]) if other.kind is ItemKind.SIDE), None)
        turned = last is not None and {last.ids, item.ids} == {("left",), ("right",)} and not last.sites
        told = len(kept) > 1 and kept[-2].kind is ItemKind.VALUE and kept[-2].end == item.start - 2
        if (told or words[item.start - 3] == "and") and (turned or tokens[item.end - 1].boundary >= COMMA):
            at, limb = item.end - 1, item.sites[0]
            kept[-1] = replace(item, end=at, sites=())
            kept += [
                Item(ItemKind.REGION, at, item.end, (limb.removesuffix("_limb"),)),
                Item(ItemKind.PLACE, at, item.end, ("leg" if limb == "lower_limb" else "arm",)),
            ]
    return kept


def _is_of_limbs(item: Item | None, at: int) -> bool:
    """ "Arm | tone", "leg | power": a test that is named with its limb stands at a token."""
    return item is not None and item.start == at and not _NAMED_WITH_LIMB.isdisjoint(item.ids)


def _on_to_the_other(items: list[Item]) -> list[Item]:
    """ "Grip four on the left and five on the right and | left deltoid four": the left had a grade of its own."""
    kept: list[Item] = []
    for item, following in itertools.zip_longest(items, items[1:]):
        told = [ItemKind.VALUE, ItemKind.SIDE, ItemKind.VALUE]
        if (
            item.unit is not None
            and item.kind is ItemKind.SIDE
            and [other.kind for other in kept[-3:]] == told
            and kept[-2].ids == (item.unit.split()[-1],)
            and following is not None
            and following.kind is ItemKind.SUBJECT
        ):
            first, last = item.unit.split()
            kept.append(replace(item, end=item.start + 1, ids=(first,), unit=None))
            item = replace(item, start=item.end - 1, ids=(last,), unit=None, linked=False)
        kept.append(item)
    return kept


def without_stories(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Romberg declined, she fell doing it in clinic": what was left out has no result, but a story.

    "I'll skip the plantars, not done on either side" leaves them out once.
    """
    kept: list[Item] = []
    for at, item in enumerate(items):
        kinds = [other.kind for other in items[at : at + 3]]
        if kinds == [ItemKind.OMISSION, ItemKind.SUBJECT, ItemKind.OMISSION] and words[item.end - 1] in _SKIPPING:
            continue
        if (
            item.kind is ItemKind.OMISSION
            and words[item.end - 1] == "skipped"
            and (_is_of_what_follows(item, items, words) or _is_said_in_full(item, items[at + 1 :]))
        ):
            continue  # "oh, I skipped reflexes": it comes now
        sided = [other.kind for other in items[at + 1 : at + 2]] == [ItemKind.SIDE]
        told = [other for other in kept[-2:] if sided or not (other.kind is ItemKind.SIDE and other.linked)]
        if told and _is_left_out_once(told[-1], items[at : at + 4], tokens):
            continue  # "not done on either side, her legs are too sore"; but "declined on the right"
        last = next((other for other in reversed(kept) if other.kind not in WHERE), None)
        if (
            last is not None
            and last.kind is ItemKind.OMISSION
            and item.kind is ItemKind.VALUE
            and not (item.same or item.reaction or item.forward)
            and in_one_sentence(tokens, last.end, item.start + 1)
            and (_is_time(item, words) if item.grade is not None else _tells_a_story(kept[-1].end, item.start, words))
        ):
            continue
        if last is not None and item.kind is ItemKind.OMISSION and _is_no_number(last, item, words, tokens):
            continue
        if last is not None and _is_how_far(last, item, words, tokens):
            continue
        if (
            last is not None
            and last.kind is ItemKind.VALUE
            and item.kind is ItemKind.OMISSION
            and item.match is not None
            and item.match.mended
            and _tells_a_story(kept[-1].end, item.start, words)
        ):
            continue  # "seventy on both sides, she's a bandaged girl": nobody takes a result back so
        kept.append(item)
    return kept


def _is_time(item: Item, words: list[str]) -> bool:
    """ "Plantars deferred on both sides, the consultant comes at four": when, and no grade."""
    return words[item.start - 1] in _TO_A_TIME and item.grade is not None and item.grade.isdigit()


def _is_left_out_once(last: Item, following: list[Item], tokens: list[Token]) -> bool:
    """ "Not done, she declined and I'm not going to insist": said twice of one test, and no other is named."""
    again, *others = following
    named = any(
        other.kind is ItemKind.SUBJECT
        and other.start - again.end <= _NAMED_NEXT
        and in_one_sentence(tokens, again.end, other.start + 1)
        for other in others
    )
    return (
        last.kind is again.kind is ItemKind.OMISSION
        and in_one_sentence(tokens, last.end, again.start + 1)
        and not named
    )


def _is_no_number(last: Item, item: Item, words: list[str], tokens: list[Token]) -> bool:
    """ "Weak on both sides, I couldn't give it a number": the result stands, without a grade."""
    return (
        last.kind is ItemKind.VALUE
        and last.grade is None
        and bool(last.values)
        and not _NUMBERING.isdisjoint(words[item.start : item.end + 4])
        and in_one_sentence(tokens, last.end, item.start + 1)
    )


def _is_how_far(last: Item, item: Item, words: list[str], tokens: list[Token]) -> bool:
    """ "Tandem gait impaired, couldn't manage two steps": how it went, and not that it was left out."""
    told = last.kind is ItemKind.VALUE and "gait" in last.values and item.kind is ItemKind.OMISSION
    far = not _FAR.isdisjoint(words[item.end : item.end + 4])
    return told and far and in_one_sentence(tokens, last.end, item.start + 1)


def _is_said_in_full(omission: Item, following: list[Item]) -> bool:
    """ "Vibration I've skipped, both ankles not done": the same again, with its place."""
    where = list(itertools.takewhile(lambda item: item.kind in WHERE or item.is_place, following))
    parts = [omission, *where, *following[len(where) : len(where) + 1]]
    return (
        bool(where)
        and parts[-1].kind is ItemKind.OMISSION
        and all(one.end == two.start for one, two in itertools.pairwise(parts))
    )


def _tells_a_story(start: int, end: int, words: list[str]) -> bool:
    """ "She fell", "the fork's gone", "the falls clinic", "too unsteady": of somebody, of a thing, or why."""
    led = words[start : start + 1] == ["the"] or words[end - 1] in _LEADING_TO_WHY
    return led or not _PERSONS.isdisjoint(words[start:end])


_LEADING_TO_WHY = frozenset("too of with for from to his her their any".split())
"""What stands right before a finding that is why something was left out: "because of falls"."""


def _is_of_what_follows(item: Item, items: list[Item], words: list[str]) -> bool:
    return words[item.end : item.end + 1] == ["the"] or any(
        other.start == item.end and other.kind in (ItemKind.SUBJECT, ItemKind.HEADING) for other in items
    )


def same_for(items: list[Item], words: list[str]) -> list[Item]:
    """ "The left hip not tested, same for the left knee": the last result, or that there was none, once more."""
    kept: list[Item] = []
    repeated = -1
    for at, item in enumerate(items):
        if item.start == repeated and item.same:
            continue
        stated = _result_for(item, kept, items[at + 1 :], words) if item.kind is ItemKind.VALUE and item.same else None
        if stated is not None:
            repeated = item.start
            end = item.end + (words[item.end : item.end + 1] == ["goes"])
            kept.append(replace(stated, start=item.start, end=end))
        else:
            kept.append(item)
    return kept


def _result_for(item: Item, before: list[Item], after: list[Item], words: list[str]) -> Item | None:
    """The result that "the same for left hip abduction" or "triceps ditto" gives to another test: the last one."""
    told = [k for k in before if k.kind in (ItemKind.VALUE, ItemKind.OMISSION, ItemKind.SUBJECT)]
    led = bool(told) and told[-1].kind is ItemKind.SUBJECT and _is_said_of(item, told[-1], words)
    ahead = (k for k in after if not (k.kind is ItemKind.SIDE or k.same))
    named = told.pop() if led else next(ahead, item)
    last = next((k for k in reversed(told) if k.kind is not ItemKind.SUBJECT), None)
    tested = next((k for k in reversed(told) if k.kind is ItemKind.SUBJECT), None)
    if (
        last is None
        or tested is None
        or last.reaction
        or named.kind is not ItemKind.SUBJECT
        or named.ids == tested.ids
        or sum(k.kind is ItemKind.VALUE and k.start > tested.start for k in told) > 1  # one for each side
    ):
        return None
    if led:
        return last if last.kind is ItemKind.OMISSION or words[item.start] == "ditto" else None
    goes = 2 if words[item.end : item.end + 1] == ["goes"] else 1
    joined = words[item.end : item.end + goes] in (["for"], ["with"], ["goes", "for"])
    joined = joined or (words[item.start] == "ditto" and named.start == item.end)
    beyond = next((k for k in after if k.start >= named.end and not (k.kind is ItemKind.SIDE or k.same)), named)
    again = beyond.kind in (ItemKind.VALUE, ItemKind.OMISSION) and beyond.start - named.end <= 2
    return None if again or not joined or named.start - item.end > _SAME_FOR else last


def _is_said_of(item: Item, named: Item, words: list[str]) -> bool:
    """ "Triceps ditto", "and the right finger jerk as well"."""
    return item.start - named.end <= 1 and words[item.start] in ("ditto", "as", "likewise")


def _both_sides(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Left or right", "in the left calf and in the right calf": one mention of both sides."""
    kept: list[Item] = []
    for index, item in enumerate(items):
        if item.kind is ItemKind.SIDE and item.ids[0] in ("left", "right"):
            back = len(kept) - 1
            while (
                back >= 0
                and (
                    kept[back].kind in (ItemKind.REGION, ItemKind.PLACE)
                    or (kept[back].kind is ItemKind.SUBJECT and kept[back].section_only)
                )
                and not kept[back].is_level
            ):
                back -= 1
            other = kept[back] if back >= 0 else None
            if (
                other is not None
                and other.kind is ItemKind.SIDE
                and other.ids[0] in ("left", "right")
                and other.ids != item.ids
            ):
                between = words[other.end : item.start]
                ends = item.end == len(words) or tokens[item.end].boundary >= SENTENCE_END
                behind = items[index + 1 : index + 6]
                ends = ends or (other.start == kept[back - 1].end and _has_own_side(behind, item.end))
                apart = max(tokens[at].boundary for at in range(other.end, item.start + 1))
                joined = not _JOINING.isdisjoint(between) and (
                    apart < 0.5 or (ends and between[:1] == ["and"] and apart <= COMMA)  # "right arm, and left arm."
                )
                plain = all(
                    word
                    in (
                        "and",
                        "or",
                        "nor",
                        "in",
                        "on",
                        "the",
                        "at",
                        "from",
                        "over",
                        "leg",
                        "arm",
                        "foot",
                        "hand",
                        "side",
                    )
                    or any(k.start <= at < k.end for k in kept[back + 1 :])
                    for at, word in enumerate(between, other.end)
                )
                following = next(
                    (k for k in items[index + 1 : index + 3] if k.kind not in (ItemKind.REGION, ItemKind.PLACE)), None
                )
                denied = (
                    following is not None
                    and following.kind is ItemKind.NEGATION
                    and following.start == item.end
                    and tokens[following.start].boundary < CLAUSE_MARK
                )
                claimed = (denied and len(between) > 1) or (
                    following is not None
                    and following.kind in (ItemKind.VALUE, ItemKind.OMISSION)
                    and following.start - item.end <= 2
                    and tokens[following.start].boundary < 1
                    and following.grade is None
                    and len(between) > 1
                )
                subject_follows = (
                    following is not None
                    and following.kind is ItemKind.SUBJECT
                    and not (following.section_only and following.plural)  # "of the left and the right calves"
                    and following.start == item.end
                    and tokens[item.end].boundary < BLOCK_END
                    and len(between) > 1
                    and not _is_of_both_sides([k for k in items[index + 2 : index + 5] if not k.is_place][:2], tokens)
                )
                again = _is_named_again(kept[:back], following, item.end)
                other.linked |= again and between == ["and"]
                graded = (
                    following is not None
                    and following.kind is ItemKind.VALUE
                    and following.grade is not None
                    and following.start - item.end <= 1
                    and tokens[following.start].boundary < 0.5
                    and [k.kind for k in kept[max(0, back - 2) : back] if k.kind is not ItemKind.THROUGHOUT][-1:]
                    == [ItemKind.VALUE]
                )
                # "Impaired on the left, and the right is, let me see, normal"
                after = item.end + (words[item.end : item.end + 1] in _ONE_ONLY)
                # "... on the right, and on the left he did not want it"
                stated = len(between) > 1 and (
                    words[after : after + 1] in _STATING_ONE
                    or _does(after, items[index + 1 : index + 2], words, tokens)
                    or not _PERSONS.isdisjoint(words[item.end : item.end + 1])
                )
                if joined and plain and not (claimed or stated or again) and not subject_follows and not graded:
                    other.unit = f"{other.ids[0]} {item.ids[0]}"
                    other.ids, other.end = ("both",), item.end
                    other.flags = tuple(dict.fromkeys((*other.flags, *item.flags)))
                    continue
        kept.append(item)
    return kept


def _has_own_side(following: list[Item], at: int) -> bool:
    """ "Two plus right, and left | heel shin impaired on the right": the test behind the side has another."""
    if not following or following[0].kind is not ItemKind.SUBJECT or following[0].start != at:
        return False
    stated = [item for item in following[1:] if item.kind is not ItemKind.COMMAND][:2]
    told = [item.kind for item in stated] == [ItemKind.VALUE, ItemKind.SIDE]
    return told and (stated[1].linked or stated[1].ids == ("both",))


def _does(at: int, following: list[Item], words: list[str], tokens: list[Token]) -> bool:
    """ "Absent on the left, and the right has it", "and the right catches": what one side does is told."""
    if at >= len(words) or tokens[at].boundary >= CLAUSE_MARK or any(item.start == at for item in following):
        return False
    word = words[at]
    ending = word.endswith("s") and word.isalpha() and word not in _NO_VERBS
    return ending or word in REACHING or word in _DID


def _is_named_again(before: list[Item], named: Item | None, at: int) -> bool:
    """ "Tone increased left arm and | right arm tone normal": a test with its result stands behind the side."""
    if named is None or named.kind is not ItemKind.SUBJECT or named.start != at:
        return False
    told = [item.kind for item in before[-2:]] == [ItemKind.SUBJECT, ItemKind.VALUE]
    return told and not set(before[-2].ids).isdisjoint(named.ids)


def _is_of_both_sides(stated: list[Item], tokens: list[Token]) -> bool:
    """ "... is normal bilaterally": a result and both sides right behind it."""
    return (
        [item.kind for item in stated] == [ItemKind.VALUE, ItemKind.SIDE]
        and stated[1].ids == ("both",)
        and stated[1].start - stated[0].end <= 1
        and in_one_sentence(tokens, stated[0].start, stated[1].end)
    )


def _put_right_at_last(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Left toe reduced, so left toe absent, I should say": what stands before the correction is what holds."""
    kept: list[Item] = []
    for item in items:
        last = kept[-1] if kept else None
        if (
            item.kind is ItemKind.REPAIR
            and words[item.start : item.end] == ["i", "should", "say"]
            and last is not None
            and last.kind is ItemKind.VALUE
            and last.end == item.start
            and (item.end == len(tokens) or tokens[item.end].boundary >= SENTENCE_END)
        ):
            first = len(kept) - 1
            while (
                first > 0
                and kept[first - 1].kind in (ItemKind.SUBJECT, *WHERE)
                and tokens[kept[first].start].boundary < COMMA
            ):
                first -= 1
            at = kept[first].start
            kept.insert(first, replace(item, start=at, end=at))
        else:
            kept.append(item)
    return kept


def _each_side(items: list[Item], words: list[str]) -> list[Item]:
    """ "Each knee jerk": on both sides."""
    kept: list[Item] = []
    said = {item.end for item in items if item.kind is ItemKind.VALUE}  # "five minus each, ..."
    for item in items:
        at = item.start - 1
        if item.kind is ItemKind.SUBJECT and at >= 0 and words[at] == "each" and at not in said:
            kept.append(Item(ItemKind.SIDE, item.start - 1, item.start, ("both",)))
        kept.append(item)
    return kept


def _but_not_there(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Positive on the left but not on the right": there it is absent."""
    kept: list[Item] = []
    for index, item in enumerate(items):
        where = kept[-1] if kept else None
        if where is not None and where.kind is item.kind is ItemKind.SIDE and where.ids != item.ids:
            at = item.start
            while at > where.end and words[at - 1] in ("on", "in", "at", "of", "the"):
                at -= 1
            present = next((k for k in reversed(kept) if k.kind is ItemKind.VALUE), None)
            after = items[index + 1] if index + 1 < len(items) else None
            own = after is not None and after.kind is ItemKind.VALUE and after.start - item.end <= 3
            if (
                words[at - 1] == "not"
                and (words[at - 2] in ("but", "and") or tokens[at - 1].boundary >= COMMA)
                and at - 2 <= where.end
                and present is not None
                and present.values.get("presence") == "present"
                and not own
            ):
                kept.append(Item(ItemKind.VALUE, at - 1, at, values={"presence": "absent", "clonus": "absent"}))
        kept.append(item)
    return kept


def _two_limbs(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "In both arms and in the right leg": one mention of two limbs, each with a side of its own."""
    kept: list[Item] = []
    for index, item in enumerate(items):
        other = kept[-1] if kept else None
        if (
            other is not None
            and item.kind is other.kind is ItemKind.SIDE
            and len(item.sites) == len(other.sites) == 1
            and item.sites != other.sites
        ):
            between = words[other.end : item.start]
            alternative = not _ALTERNATIVES.isdisjoint(between)
            told = len(kept) > 1 and kept[-2].kind in (ItemKind.VALUE, ItemKind.OMISSION)
            after = items[index + 1] if index + 1 < len(items) else None
            denied = items[index + 1 : index + 4]  # "no wasting in the left leg"
            elsewhere = [k.kind for k in denied] == [ItemKind.NEGATION, ItemKind.SUBJECT, ItemKind.SIDE]
            own = (
                after is not None
                and not alternative  # "no wasting in the right arm or the right leg, tone normal"
                and (told or after.kind in (ItemKind.NEGATION, ItemKind.SUBJECT))
                and after.kind in (ItemKind.VALUE, ItemKind.OMISSION, ItemKind.NEGATION, ItemKind.SUBJECT)
                and not elsewhere
                and after.start - item.end <= 2
                and words[after.start - 1] not in ("and", "but")
                and tokens[after.start].boundary < COMMA
            )
            apart = item.ids != other.ids or alternative
            joined = apart and not _JOINING.isdisjoint(between) and _AROUND_LIMBS.issuperset(between)
            if joined and not own and max(token.boundary for token in tokens[other.end : item.start + 1]) < COMMA:
                other.also, other.end = item, item.end
                continue
        kept.append(item)
    return kept


def _neither_of_the_last(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "On the left neither could be tested": the last two tests, on the side next to it."""
    for item in items:
        if item.kind is not ItemKind.OMISSION or words[item.start] != "neither":
            continue
        item.of_last = 2
        for side in items:
            led = side.end == item.start and tokens[item.start].boundary < CLAUSE_MARK
            followed = words[item.end : side.start] in (["on"], ["on", "the"])
            if side.kind is ItemKind.SIDE and (led or followed):
                side.of = item
    return items


def _both_limbs(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Left arm and left leg, tone is normal in both": both of the limbs, not both sides."""
    kept: list[Item] = []
    pair: list[Item] = []
    for item in items:
        if (
            words[item.start - 1 : item.end] == ["in", "both"]
            and len(pair) == 2
            and pair[0].ids == pair[1].ids
            and pair[0].sites != pair[1].sites
            and words[pair[0].end : pair[1].start] in (["and"], ["and", "the"])
            and in_one_sentence(tokens, pair[1].end, item.start + 1)
        ):
            continue
        if item.kind is ItemKind.SIDE:
            pair = [*pair[-1:], item]
        kept.append(item)
    return kept


def _stated_once(items: list[Item], tokens: list[Token]) -> list[Item]:
    """ "Fine, normal from L4 to S1", "no flicker, zero for each of them": a result twice, then in full."""
    kept: list[Item] = []
    for item, following in itertools.zip_longest(items, items[1:]):
        again = (
            following is not None
            and item.kind is following.kind is ItemKind.VALUE
            and item.end == following.start
            and not (item.same or item.reaction or item.negated or following.negated)
            and tokens[following.start].boundary < SENTENCE_END
            and tokens[item.start].text != tokens[following.start].text  # "absent, absent": one for each side
            and tokens[following.start].text not in ("so", "as")  # "reduced, as was the ankle jerk"
            and (
                item.values.get("sensation", "") == following.values.get("sensation")
                or (item.values.get("mrc", "") == following.grade and _is_for_more(following, tokens))
            )
        )
        if not again and not _is_one_gait(kept[-2:], item, tokens):
            kept.append(item)
    return kept


def _is_one_gait(before: list[Item], item: Item, tokens: list[Token]) -> bool:
    """ "Stiff and slow", "gait high stepping, slapping": two words for how somebody walks."""
    last = before[-1] if before else None
    if last is None or not last.kind is item.kind is ItemKind.VALUE or last.match is item.match:
        return False
    if last.weak and not item.weak:
        return False  # "he's slow, impaired": an everyday word may be none of it
    between = [token.text for token in tokens[last.end : item.start]]
    named = "gait" in before[0].ids and in_one_sentence(tokens, before[0].end, item.start + 1)
    return (
        (between == ["and"] or (named and not between))
        and last.values.get("gait", "") == item.values.get("gait")
        and in_one_sentence(tokens, last.end, item.start + 1)
    )


def _is_for_more(value: Item, tokens: list[Token]) -> bool:
    return [token.text for token in tokens[value.end : value.end + 1]] == ["for"]


def _reported_once(items: list[Item], words: list[str]) -> list[Item]:
    """ "Altered, he says it's fuzzy", "altered at L5, fuzzy he says": the patient's own word for a result."""
    kept: list[Item] = []
    for item in items:
        said = {*words[max(0, item.start - 3) : item.start]}
        last = next((other for other in reversed(kept) if not (other.kind is ItemKind.PLACE and other.linked)), None)
        if (
            last is not None
            and item.kind is last.kind is ItemKind.VALUE
            and item.values
            and item.start - kept[-1].end <= 5
            and not _contradicts(item, last)
            and ((last is kept[-1] and not _SAYS.isdisjoint(said)) or _is_patients_own(item, words))
        ):
            continue
        kept.append(item)
    return kept


def _contradicts(item: Item, last: Item) -> bool:
    """ "Fuzzy, she says, normal": only one of the two is normal."""
    return ("normal" in item.values.values()) != ("normal" in last.values.values())


def _is_patients_own(item: Item, words: list[str]) -> bool:
    """ "Fuzzy he says", and not "altered, he says it's fuzzy", where the word of the trade is the examiner's."""
    person, says = [*words[item.end : item.end + 2], "", ""][:2]
    return person in ("he", "she", "they") and says in _SAYS and words[item.start] not in item.values.values()


def _respectively(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Eversion and inversion are zero and one respectively": each subject gets its own value, or each side."""
    for at, word in enumerate(words):
        if word != "respectively":
            continue
        said = [
            item
            for item in items
            if item.end <= at
            and at - item.start < _RESPECTIVE
            and not any(tokens[k].boundary >= 1.2 for k in range(item.end, at + 1))
        ]
        values = [item for item in said if item.kind is ItemKind.VALUE]
        ordered = next((item for item in reversed(said) if _order_of(item, words)), None)
        if ordered is not None:
            pairs = [pair for pair in itertools.pairwise(values) if is_pair(*pair, words, tokens)]
            for pair in pairs:
                for side, value in zip(_order_of(ordered, words), pair, strict=True):
                    items.insert(items.index(value) + 1, side_of(value, side, len(words)))
            if pairs:
                items.remove(ordered)
            continue
        places = [item for item in said if item.kind is ItemKind.PLACE and values and item.end <= values[0].start]
        if places and len(values) > 1 and len(places[-1].ids) == len(values):
            _give_to_each_root(items, places[-1], values)
            continue
        parted = (k for k in range(len(values) - 1, 0, -1) if not is_pair(values[k - 1], values[k], words, tokens))
        values = values[next(parted, 0) :]
        subjects = [item for item in said if item.kind is ItemKind.SUBJECT and values and item.end <= values[0].start]
        if len(values) < 2 or len(subjects) < len(values):
            continue
        _give_to_each(items, subjects[-len(values) :], values, words)
    return items


def _in_order_of_sides(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Quads two and three, left and right", "right and left, four and five": a grade for each side, in their order.

    Without "and" the first of the two grades may have been taken back, which is asked about.
    """
    at = 1
    while at < len(items) - 1:
        first, second = items[at - 1 : at + 1]
        ordered = None
        if first.grade and second.grade and first.grade != second.grade and is_pair(first, second, words, tokens):
            around = [items[at + 1], *items[at - 2 : at - 1]]
            sides = (side for side in around if _order_of(side, words) and _is_next_to(side, first, second))
            ordered = next(sides, None)
        if ordered is None:
            at += 1
            continue
        flags = () if words[first.end : second.start] == ["and"] else ("side_uncertain",)
        given: list[Item] = []
        for side, value in zip(_order_of(ordered, words), (first, second), strict=True):
            value.flags += flags
            given += [value, side_of(value, side, len(words))]
        led = ordered is not items[at + 1]
        items[at - 1 - led : at + 2 - led] = given
    return items


def _is_next_to(side: Item, first: Item, second: Item) -> bool:
    return side.end == first.start or 0 <= side.start - second.end <= _ON_THE


def _give_to_each_root(items: list[Item], place: Item, values: list[Item]) -> None:
    """ "C6, C7 and C8 on the right are normal, reduced and normal respectively": each root and its value in turn."""
    at = items.index(place)
    side = next((item for item in items[at + 1 :] if item.kind is ItemKind.SIDE and item.end <= values[0].start), None)
    pairs: list[Item] = []
    for number, (root, value) in enumerate(zip(place.ids, values, strict=True)):
        items.remove(value)
        start = min(place.start + number, place.end - 1)
        value.start = value.end = start + 1
        own = [] if side is None else [side_of(value, side.ids[0], place.end + 1)]
        pairs += [replace(place, ids=(root,), start=start, end=start + 1), value, *own]
    items[at : at + 1] = pairs
    if side is not None:
        items.remove(side)


def _listed_for(items: list[Item], words: list[str]) -> list[Item]:
    """ "Five, five and four plus for hip flexion, knee extension and knee flexion": the results, and then the tests."""
    for at in range(len(items)):
        if items[at].grade is None:
            continue
        values = list(
            itertools.takewhile(lambda item: item.kind is ItemKind.VALUE and item.grade is not None, items[at:])
        )
        if len(values) < 2 or words[values[-1].end : values[-1].end + 1] != ["for"]:
            continue
        named = itertools.takewhile(
            lambda item: item.kind in (ItemKind.SUBJECT, ItemKind.SIDE), items[at + len(values) :]
        )
        subjects = [item for item in named if item.kind is ItemKind.SUBJECT]
        if len(subjects) != len(values) or subjects[0].start - values[-1].end > _SAME_FOR:
            continue
        _give_to_each(items, subjects, values, words)
    return items


def _namely(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "All reflexes are absent, that is biceps, triceps and knee": the tests that a result was meant for.

    So are those of "reflexes two plus and symmetrical, biceps, knee and ankle".
    """
    for at, said in enumerate(items):
        if said.kind is not ItemKind.VALUE or said.reaction or said.same:
            continue
        first = at + 1
        while first < len(items) and items[first].kind is ItemKind.SIDE:
            first += 1
        if [item.kind for item in items[first : first + 2]] != [ItemKind.SUBJECT] * 2:
            continue
        subjects = _in_a_row(items[first:], words, tokens)
        opens = items[first - 1].end
        sided = at > 1 and items[at - 1].ids == ("both",)  # "reflexes symmetrical, two plus, knees and ankles"
        of_both = sided or (first > at + 1 and items[at + 1].ids == ("both",))
        group = items[at - 1 - sided] if at else None
        listed = len(subjects) > 1 and words[subjects[-2].end : subjects[-1].start] == ["and"]
        listed = listed and of_both and opens == subjects[0].start and group is not None and _is_group(group)
        if len(subjects) < 2 or not (listed or words[opens : subjects[0].start] in _NAMELY):
            continue
        if group is not None and group.kind is ItemKind.SUBJECT and _is_group(group):
            items.remove(group)
        copies = [replace(said) for _ in subjects[1:]]
        place = items.index(said) + 1
        items[place:place] = copies
        _give_to_each(items, subjects, [said, *copies], words)
        break
    return items


def _is_group(item: Item) -> bool:
    """ "Reflexes", "power"."""
    return any(one.startswith("group:") for one in item.ids)


def _in_a_row(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """The tests that follow one another in one sentence, but the last where a result of its own follows it."""
    found: list[Item] = []
    for item in itertools.takewhile(lambda item: item.kind is ItemKind.SUBJECT, items):
        if found and not (
            words[found[-1].end : item.start] in ([], ["and"])
            and in_one_sentence(tokens, found[-1].end, item.start + 1)
        ):
            break
        found.append(item)
    end, rest = (found[-1].end if found else 0), items[len(found) : len(found) + 2]
    if rest and rest[0].ids == ("both",) and not rest[0].sites:
        end = rest.pop(0).end  # "biceps, knees and ankles, plantars both flexor"
    if not found or not rest or rest[0].kind is not ItemKind.VALUE or rest[0].start - end > 1:
        return found
    return found[:-1] if in_one_sentence(tokens, found[-1].end, rest[0].start + 1) else found


def _order_of(item: Item, words: list[str]) -> list[str]:
    """The sides of "left and right" in their order; empty where it names no two."""
    if item.kind is not ItemKind.SIDE:
        return []
    sides = item.unit.split() if item.unit else [word for word in words[item.start : item.end] if word in _SIDES]
    return sides if {*sides} == _SIDES and len(sides) == len(_SIDES) else []


def _one_each(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Quads and hamstrings are five and four on the right": two results for two tests."""
    found = [item for item in items if item.kind in (ItemKind.SUBJECT, ItemKind.COMMAND, ItemKind.VALUE)]
    for one, two, first, second in zip(found, found[1:], found[2:], found[3:], strict=False):
        if (
            one.kind is two.kind is ItemKind.SUBJECT
            and words[one.end : two.start] == ["and"]
            and is_pair(first, second, words, tokens)
            and words[first.end : second.start] == ["and"]
            and first.grade
            and second.grade
            and second.end > second.start
            and words[first.start - 1] not in ("all", "both")
            and not any(item.kind is ItemKind.SIDE and first.end <= item.start < second.end for item in items)
            and all(token.boundary < BLOCK_END for token in tokens[two.end : first.start + 1])
        ):
            _give_to_each(items, [one, two], [first, second], words)
    return items


def _both_alike(items: list[Item], words: list[str]) -> list[Item]:
    """ "Elbow flexion five and five": one grade for each side."""
    out: list[Item] = []
    for at, item in enumerate(items):
        last = out[-1] if out else None
        following = items[at + 1] if at + 1 < len(items) else None
        if (
            item.kind is ItemKind.VALUE
            and item.grade is not None
            and last is not None
            and last.kind is ItemKind.VALUE
            and words[last.start : last.end] == words[item.start : item.end]
            and words[last.end : item.start] == ["and"]
            and next((other.kind for other in reversed(out[:-1]) if other.kind is not ItemKind.PLACE), None) in _NAMING
            and not (following is not None and following.kind is ItemKind.SIDE and following.start - item.end <= 2)
        ):
            out.append(Item(ItemKind.SIDE, item.start, item.end, ("both",), probability=item.probability))
        else:
            out.append(item)
    return out


def _give_to_each(items: list[Item], subjects: list[Item], values: list[Item], words: list[str]) -> None:
    """Puts each value after its subject, with the side that was said after all of them, or before."""
    at = items.index(values[-1]) + 1
    after = items[at] if at < len(items) else None
    led = next((item for item in items[items.index(subjects[-1]) : at] if item.kind is ItemKind.SIDE), None)
    close = after is not None and after.kind is ItemKind.SIDE and after.start - values[-1].end <= 3
    before = items[items.index(subjects[0]) - 1] if items[0] is not subjects[0] else None
    if close and before is not None and before.kind is ItemKind.SIDE and items[at + 1 : at + 2]:
        led = led or (before if items[at + 1].kind is ItemKind.VALUE else None)
        close = led is not before  # "left quads and eversion are four and five, on the right | five and four"
    side = after if close else led
    for subject, value in zip(subjects, values, strict=True):
        items.remove(value)
        value.start = value.end = min(subject.end, len(words) - 1)
        own = [] if side is None else [side_of(value, side.ids[0], len(words))]
        place = items.index(subject) + 1
        items[place:place] = [value, *own]
    if side is not None:
        items.remove(side)


def _stands_apart(denied: Item, named: Item, tokens: list[Token]) -> bool:
    """ "No wasting, abnormal posture present": nothing joins the second finding to the one that is denied."""
    between = {token.text for token in tokens[denied.end : named.start]}
    return denied.kind is ItemKind.SUBJECT and between.isdisjoint(("or", "nor", "and"))


def _denied_once(items: list[Item], tokens: list[Token]) -> list[Item]:
    """In "no wasting seen" the finding is the denial; "seen" adds nothing."""
    kept: list[Item] = []
    for item in items:
        if (
            item.kind is ItemKind.VALUE
            and set(item.values.values()) & {"present", "positive"}
            and not item.grade
            and not item.forward
        ):
            back = [k for k in kept[-6:] if not any(tokens[at].boundary >= 1 for at in range(k.end, item.start + 1))]
            while back and back[-1].kind in (ItemKind.SUBJECT, ItemKind.SIDE, ItemKind.PLACE, ItemKind.REGION):
                back.pop()
            gap = item.start - kept[-1].end if kept and kept[-1].kind is ItemKind.SUBJECT else -1
            stated = (
                gap in (0, 1)
                and len(back) < len(kept) - 1
                and (kept[-2].kind in WHERE or (gap == 1 and kept[-2].kind is not ItemKind.NEGATION))
            )  # "no wasting in either leg, fasciculations present"
            stated = stated or (kept != [] and kept[-1].kind in WHERE and _is_named_apart(kept, tokens))
            if back and back[-1].kind is ItemKind.NEGATION and kept[-1].kind is not ItemKind.NEGATION and not stated:
                if gap != 0 or not _stands_apart(kept[-2], kept[-1], tokens):
                    continue
                item.flags += ("value_uncertain",) if kept[-1].start == kept[-2].end else ()
        kept.append(item)
    return kept


def _is_named_apart(kept: list[Item], tokens: list[Token]) -> bool:
    """ "No wasting in the right arm, tremor in the right arm [present]": each has a place, and no "or" joins them."""
    at = len(kept) - 1
    while at > 0 and kept[at].kind in WHERE:
        at -= 1
    named, before = kept[at], kept[at - 1]
    joined = tokens[named.start - 1].text in ("or", "nor", "and")
    return at > 0 and named.kind is ItemKind.SUBJECT and before.kind in WHERE and not joined


def _said_at(items: list[Item], words: list[str]) -> list[Item]:
    """ "Positive at thirty degrees" is positive; "weak at three plus" is three plus: one result, not two."""
    kept: list[Item] = []
    for item, following in itertools.zip_longest(items, items[1:]):
        back = [k for k in kept[-3:] if k.kind is not ItemKind.SIDE]
        last = back[-1] if back else None
        if (
            last is not None
            and last.kind is ItemKind.VALUE
            and last.values
            and item.kind is ItemKind.VALUE
            and item.grade is not None
            and item.start - last.end <= 6
            and words[item.start - 1] in ("at", "to", "from", "past", "beyond", "about")
        ):
            if item.unit in ("degrees", "count") and "nerve_tension" in last.values:
                continue
            if item.unit == "grade" and last.values.get("mrc") == "reduced":
                kept.remove(last)
        elif (
            last is not None
            and last.values.get("mrc") == "normal"
            and item.grade == "5"
            and 0 <= item.start - last.end <= 1
            and kept[-1] is last
            and not (
                [k.kind for k in kept[-2:-1]] == [ItemKind.SUBJECT]
                and following is not None
                and following.kind is ItemKind.THROUGHOUT
            )  # "tone normal, five throughout"
        ):
            kept.remove(last)  # "that's full strength, five"
        kept.append(item)
    return kept


def _swapped(items: list[Item], words: list[str]) -> list[Item]:
    """ "Ankle jerk the other way round": the last result of both sides is said of another test, its sides exchanged."""
    kept: list[Item] = []
    for item in items:
        last = kept[-1] if kept else None
        if (
            item.kind is ItemKind.SWAP
            and last is not None
            and last.kind is ItemKind.SUBJECT
            and _LINKING.issuperset(words[last.end : item.start])
        ):
            item = replace(item, kind=ItemKind.VALUE, same=True, swapped=True)
        kept.append(item)
    return kept


def _resolve_same(items: list[Item], words: list[str]) -> list[Item]:
    """ "as well" after a stated value only underlines it; "the same" without it repeats the last result."""
    kept: list[Item] = []
    for at, item in enumerate(items):
        if (
            item.kind is ItemKind.VALUE
            and words[item.start : item.end] == ["likewise"]
            and _is_stated_next(item, items[at + 1 :])
        ):
            continue  # "likewise reduced at S1": no other place is
        if item.kind is ItemKind.SIDE and _is_likened_to(item, kept, words):
            continue
        if item.same and (
            _is_told_anew(item, items[at + 1 : at + 4]) or _is_done_anew(item, kept, items[at + 1 :], words)
        ):
            continue
        if item.kind is ItemKind.VALUE and item.same and not _NO_RESULT.isdisjoint(words[item.end : item.end + 1]):
            continue  # "at the same levels", "for the same reason"
        if item.kind is ItemKind.VALUE and item.same and words[item.start] in ("as", "likewise", "same"):
            recent = next(
                (k for k in reversed(kept) if k.kind in (ItemKind.VALUE, ItemKind.SIDE, ItemKind.SUBJECT)), None
            )
            if words[item.start] == "as" and (
                recent is None
                or (recent.kind is ItemKind.VALUE and item.start - recent.end <= 4)
                or _has_each_its_own(kept[-4:])
                or _is_told_in_full(kept)
            ):
                continue
        if item.same and words[item.start : item.end] == ["same"] and _is_of_a_test(item, items[at + 1 : at + 3]):
            item.flags += ("value_uncertain",)
        kept.append(item)
    return kept


def _is_of_a_test(same: Item, following: list[Item]) -> bool:
    """ "Left leg, same hip flexion five": perhaps the same test, and nothing else of that leg is told."""
    kinds = [item.kind for item in following]
    return kinds == [ItemKind.SUBJECT, ItemKind.VALUE] and following[0].start == same.end


def _is_told_in_full(said: list[Item]) -> bool:
    """ "Tone is increased on the right and tone is increased on the left (as well)": named anew for the other side."""
    kinds = [item.kind for item in said[-6:]]
    once = [ItemKind.SUBJECT, ItemKind.VALUE, ItemKind.SIDE]
    return kinds == once * 2 and said[-6].ids == said[-3].ids and said[-4].linked and said[-1].linked


def _has_each_its_own(said: list[Item]) -> bool:
    """ "Three on the right, two on the left (as well)": the last side has a result already."""
    kinds = [item.kind for item in said]
    if kinds != [ItemKind.VALUE, ItemKind.SIDE] * 2 or said[1].ids == said[3].ids or said[2].same:
        return False
    return said[0].grade != said[2].grade or not (said[0].grade or said[0].values.items() & said[2].values.items())


def _is_likened_to(side: Item, before: list[Item], words: list[str]) -> bool:
    """ "The left is the same as the right", "right leg, ... inversion the same as the left": of the latter nothing is
    told.
    """
    if len(before) < 2 or not before[-1].same or words[before[-1].end - 1 : side.start] not in _LIKENING:
        return False
    if before[-2].kind not in (ItemKind.SIDE, ItemKind.SUBJECT):
        return False
    examined = next((item for item in reversed(before) if item.kind is ItemKind.SIDE), None)
    return examined is not None and examined.ids != side.ids


_LIKENING = (
    *(["same", "as", *rest] for rest in ([], ["the"], ["on", "the"])),
    *(["identical", "to", *rest] for rest in ([], ["the"])),
)


def _is_told_anew(item: Item, following: list[Item]) -> bool:
    """ "Pinprick gives the same, right L5 absent": what is the same is told once more, place by place."""
    kinds = [other.kind for other in following]
    told = kinds == [ItemKind.SIDE, ItemKind.PLACE, ItemKind.VALUE] and following[1].is_level
    return told and following[0].start == item.end and not following[0].linked


def _is_done_anew(item: Item, before: list[Item], following: list[Item], words: list[str]) -> bool:
    """ "Left arm, same again: elbow out to the side for me": what had a result is done again."""
    if words[item.end - 1] != "again" and words[item.end : item.end + 1] != ["again"]:
        return False
    told = next((other for other in following if other.kind in _NAMING), None)
    if told is None or told.kind is not ItemKind.COMMAND:
        return False
    tested = [at for at, other in enumerate(before) if not {*other.ids}.isdisjoint(told.ids)]
    found = next((other for at in tested[-1:] for other in before[at:] if other.kind is ItemKind.VALUE), None)
    return found is not None and not found.reaction


def _is_stated_next(item: Item, following: list[Item]) -> bool:
    """Whether a value of its own stands right after "likewise"."""
    other = next((other for other in following if not other.same), None)
    return other is not None and other.kind is ItemKind.VALUE and bool(other.values) and other.start == item.end
