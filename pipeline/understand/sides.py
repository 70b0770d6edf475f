"""Sides in talk: "right" as a side or as "right, now", "left" as a side or as "left school"."""

from __future__ import annotations

import itertools
from dataclasses import replace

from pipeline.mend.matches import Match
from pipeline.mend.tokens import BLOCK_END, CLAUSE_MARK, COMMA, SENTENCE_END, Token, closes, in_one_sentence
from pipeline.understand.items import Item, ItemKind, is_in_words, negated_at

_RIGHT_TALK_AFTER = frozenset(
    """so now okay ok next then let let's well i i'm i'll we we'll you he she can could if that's it's that
        away here there at up down through from over across along beside into everyone everybody folks students
        team everyone's guys let and away who what""".split()
) - {"and"}
_RIGHT_TALK_BEFORE = frozenset("all been that's alright you're quite half yes yeah okay ok".split())
_ASKED = tuple((verb, "that") for verb in "is was got get do".split())
_JUDGED = frozenset(("", *"that's it's is was hmm no".split()))
_NOT_JUST = frozenset(("isn't", "wasn't"))
_SEEMING = frozenset("be seem seems sound sounds".split())
_FAILING, _LOOKING = frozenset("doesn't didn't don't".split()), frozenset("look feel seem sound".split())
_AFTER_JUDGING = frozenset("let try so again i i'll do is there we we'll hold hang one hmm".split())
_LEFT_TALK_AFTER = frozenset("out over behind him her it off school home work hospital".split())
_LEFT_TALK_BEFORE = frozenset("what's is have has had i i've we we've he she they be".split())
_JOINTS = frozenset("great big toe ankle knee hip finger thumb wrist elbow shoulder heel foot hand calf thigh".split())
_SECTIONS = frozenset("power tone sensation coordination".split())
_SECTION_RESULTS = frozenset("zero one two three four five full normal increased reduced intact".split())
_NOT_OF_ONE = frozenset("both bilaterally symmetrical left".split())
_LAST_SIDE = 60
"""Most tokens from the other side to "right, power four"."""
_GRADE_ENDS = frozenset(
    """zero nought one two three four five plus minus + - absent normal reduced brisk present impaired increased intact
        diminished negative positive sustained mute equivocal altered flexor extensor decreased""".split()
)
"""Words with which a result ends."""
SIDE_REACH = 8
"""Most tokens from the grade of one side to that of the other."""
_OWNERS = (["the"], ["your"], ["his"], ["her"])
_PAIRS = tuple([word] for word in "heels soles thumbs calves thighs shins plantars".split())
_PAIRED = tuple([word] for word in "big great knee ankle biceps triceps patellar achilles".split())
_PAIRED_PARTS = (["toes"], ["jerks"], ["reflexes"])
_GOES = ("fall", "fell", "veer", "lean", "lurch", "sway", "deviat", "drift", "stagger", "tilt", "list", "turn", "look")
_STATED = frozenset("absent present reduced increased brisk zero one two three four five".split())
"""What a side has in "the knee jerk is left absent, right two plus"."""
_LIMB = frozenset("arm leg side".split())
_BELOW = (["shin"], ["knee"], ["leg"])
_FAR_ALONG = 10
"""Most tokens from the side of a heel to that of the shin it runs along."""
_ALONG = frozenset("down on onto along against to".split())
_TOWARDS = frozenset("towards toward against".split())
_WHOSE = frozenset("the his her their that this".split())
_HELPING = ("helping", "helped", "cheat", "bracing", "braced", "leaning", "leant", "leaned", "supporting", "steadying")
_USING = frozenset("using used".split())
_WHO_HELPS = frozenset("he she they he's she's they're was were kept been".split())
_RESULT_WITHIN = 4
"""Most tokens from a side to its result, with a name between them."""
_COMPARED = (["compared", "with"], ["compared", "to"], ["relative", "to"])


def preposed(words: list[str], start: int) -> bool:
    return start > 0 and (
        words[start - 1] in ("on", "in", "over", "to", "at", "of", "across")
        or (
            words[start - 1] in ("the", "his", "her", "this", "that")
            and start > 1
            and words[start - 2] in ("on", "in", "of", "to", "at", "over", "for", "with", "throughout", "across")
        )
    )


def is_pair(words: list[str], at: int) -> bool:
    """ "The two big toes", "his two heels": no grade, but both sides."""
    if words[at] != "two" or words[max(0, at - 1) : at] not in _OWNERS:
        return False
    after = words[at + 1 : at + 3]
    return after[:1] in _PAIRS or (after[:1] in _PAIRED and after[1:] in _PAIRED_PARTS)


def is_joint(after: list[str]) -> bool:
    """ "At either ankle"."""
    return bool(after) and after[0] in _JOINTS


def is_side_right(match: Match, words: list[str], tokens: list[Token]) -> bool:
    at = match.start
    before = words[at - 1] if at else ""
    after = words[match.end] if match.end < len(words) else ""
    if before in ("the", "on", "his", "her", "in", "your", "my", "both") or (before == "to"):
        if before == "the" and after == "one's":  # "the right one's two plus"; but "the right one's up to you"
            return not _STATED.isdisjoint(words[match.end + 1 : match.end + 2])
        return not (before == "the" and after in ("place", "answer", "thing", "time", "way", "amount", "direction"))
    if (
        (before in _GRADE_ENDS or before.isdigit())
        and tokens[at].boundary < COMMA
        and "left" in words[max(0, at - SIDE_REACH) : at]
    ):
        return True  # "two left, three plus right, that's C8"
    if before == "all" and words[at - 2 : at - 1] == ["be"] and after not in _LIMB:
        return False  # "two beats would be all right, power five in both legs"
    if _is_judged(words, tokens, at):
        return False
    if before in _RIGHT_TALK_BEFORE and after != "leg" and tokens[at].boundary < 0.6:
        return False
    if after in ("down", "up") and (
        match.end + 1 >= len(words)
        or tokens[match.end + 1].boundary >= 0.5
        or words[match.end + 1] in ("left", "and", "going")
    ):
        return True
    if after in _SECTIONS and not _SECTION_RESULTS.isdisjoint(words[match.end + 1 : match.end + 2]):
        last = next((word for word in words[max(0, at - _LAST_SIDE) : at][::-1] if word in ("left", "right")), "")
        if last == "left" and _NOT_OF_ONE.isdisjoint(words[match.end : match.end + 6]):
            return True  # "left, dorsiflexion two, hip extension four. Right, power four throughout"
    if after in _RIGHT_TALK_AFTER or (after == "there's" and before in ("that", "this", "it's")):
        return False
    return not (
        tokens[at].boundary >= 1
        and match.end < len(tokens)
        and tokens[match.end].boundary >= 0.6
        and after in ("okay", "so", "now", "next", "power", "reflexes", "tone", "sensation", "coordination", "gait")
    )


def _is_judged(words: list[str], tokens: list[Token], at: int) -> bool:
    """ "No, that's not right, try again", "that can't be right", "is that right": correct, and no side."""
    goes_on = at + 1 < len(words) and tokens[at + 1].boundary < COMMA and words[at + 1] not in _AFTER_JUDGING
    if goes_on or any(token.boundary >= SENTENCE_END for token in tokens[max(0, at - 1) : at + 1]):
        return False
    ends = at - (words[at - 1] == "quite")
    led, last = ["", "", *words[max(0, ends - 2) : ends]][-2:]
    negated = last in _NOT_JUST or (last == "not" and led in _JUDGED) or (led in _FAILING and last in _LOOKING)
    return negated or (led, last) in _ASKED or last in _SEEMING


def is_direction(words: list[str], at: int) -> bool:
    """ "Falling over to the right": where somebody goes, not the side that is examined."""
    to = words[at - 2 : at] in (["to", "the"], ["towards", "the"], ["to", "your"], ["to", "his"], ["to", "her"])
    return to and any(word.startswith(_GOES) for word in words[max(0, at - 4) : at - 2])


def is_side_left(match: Match, words: list[str], tokens: list[Token]) -> bool:
    at = match.start
    after = words[match.end] if match.end < len(words) else ""
    before = words[at - 1] if at and tokens[at].boundary < SENTENCE_END else ""
    if before == "the" and words[at - 2 : at - 1] in (["on"], ["to"], ["in"], ["at"], ["for"]):
        return True  # "on the left it's reduced"
    if (before, after) == ("the", "out"):
        return True  # "and the left. Out to the side"
    if words[max(0, at - 2) : at] in _WHERE_WAS_I:
        return True
    return after not in _LEFT_TALK_AFTER and not (
        before in _LEFT_TALK_BEFORE
        and after not in ("leg", "foot", "side", "hip", "knee", "ankle", "normal")
        and not (before == "is" and after in _STATED)
    )


_WHERE_WAS_I = (["was", "i"], ["were", "we"], ["am", "i"], ["are", "we"])
"""A question that is over before "left deltoid": nobody left anything."""


def is_told_of_a_side(words: list[str], at: int) -> bool:
    """ "Bilaterally", "on both sides", "on each side", "on the left"."""
    after = words[at : at + 3]
    if after[:1] == ["on"]:
        after = [word for word in after[1:] if word != "the"]
        return after[:1] in (["left"], ["right"], ["both"], ["each"])
    return after[:1] == ["bilaterally"] or after[:2] == ["both", "sides"]


def turns(match: Match, tokens: list[Token]) -> bool:
    """ "On the left, and I'll be quicker": a side that opens a sentence."""
    before = tokens[max(0, match.start - 2) : match.start]
    return [token.text for token in before] == ["on", "the"] and before[0].boundary >= CLAUSE_MARK


def is_sided(at: int, words: list[str], tokens: list[Token], sides: dict[int, int]) -> bool:
    """Whether a side stands right after a number: "on the right", "right", "both sides", "as well on the left"."""
    after = first = at + (2 if words[at : at + 2] == ["as", "well"] else words[at : at + 1] in (["too"], ["also"]))
    while after < len(words) and after < first + 2 and words[after] in ("on", "the"):
        after += 1
    return after in sides and all(tokens[k].boundary < 0.5 for k in range(at, after + 1))


def _is_aimed_at(side: Item, words: list[str]) -> bool:
    """ "On your left knee": where a limb moves to."""
    before = [word for word in words[max(0, side.start - 3) : side.start] if word not in ("your", "the", "my")]
    return before[-1:] in (["on"], ["to"], ["down"], ["over"], ["along"], ["against"], ["of"], ["at"], ["with"])


def _is_goal(side: Item, words: list[str]) -> bool:
    """ "Bring this knee towards the other one": where to, not which."""
    return not _TOWARDS.isdisjoint(words[max(0, side.start - 2) : side.start])


def moving_side(items: list[Item], words: list[str]) -> list[Item]:
    """In "right heel on your left knee" the first side is that of the limb that moves."""
    dropped = [id(item) for item in items if item.ids == ("other",) and _is_goal(item, words)]
    opened = {item.start for item in items if item.kind in (ItemKind.SUBJECT, ItemKind.HEADING)}
    all_sides = sorted((item for item in items if item.kind is ItemKind.SIDE), key=lambda item: item.start)
    for command in (item for item in items if item.kind is ItemKind.COMMAND):
        sides = [item for item in all_sides if command.start <= item.start < command.end]
        last = sides[-1] if sides else None
        if last is not None and last.end == command.end and last.start > command.start and last.end in opened:
            command.end = last.start  # "down to the left big toe | right leg power five"
            sides.pop()
        heels = [item for item in sides if words[item.end : item.end + 1] == ["heel"]]
        if command.ids == ("heel_shin",) and len(heels) == 1:  # "touch your left knee with your right heel"
            dropped += [id(item) for item in sides if item is not heels[0]]
            continue
        dropped += [id(item) for item in sides[1:] if item.ids != sides[0].ids and _is_aimed_at(item, words)]
    for moving, other in itertools.pairwise(all_sides):
        between = words[moving.end : other.start]
        if (
            between[:1] == ["heel"]
            and len(between) <= _FAR_ALONG
            and words[other.end : other.end + 1] in _BELOW
            and not _ALONG.isdisjoint(between[:6])
        ):
            dropped.append(id(other))  # without a break that would make it an order
    return [item for item in items if id(item) not in dropped]


def _helps(side: Item, words: list[str]) -> bool:
    """ "He was helping with the other hand", "the left leg was bracing": with what somebody cheats."""
    after = words[side.end : side.end + 2]
    if len(after) == 2 and after[0] in _WHO_HELPS and after[1].startswith(_HELPING):
        return True
    before = [word for word in words[max(0, side.start - 7) : side.start] if word not in _WHOSE]
    if before[-1:] in (["with"], ["on"], ["against"]):
        before.pop()
    if before[-1:] in (["himself"], ["herself"], ["it"]):
        before.pop()
    if len(before) < 2 or before[-2] not in _WHO_HELPS:
        return False
    return before[-1].startswith(_HELPING) or (before[-1] in _USING and side.ids == ("other",))


def without_helping(items: list[Item], words: list[str]) -> list[Item]:
    """The items but for the sides of limbs that only helped."""
    return [item for item in items if item.kind is not ItemKind.SIDE or not _helps(item, words)]


def _has_its_own_result(items: list[Item], at: int) -> bool:
    """ "Stronger on the right, four, than the left, three", "compared with left grip at two, the right is four"."""
    after = items[at + 1 : at + 4]
    if after and after[0].kind is ItemKind.SUBJECT:
        after.pop(0)
    if not after or after[0].kind is not ItemKind.VALUE or after[0].start - items[at].end > _RESULT_WITHIN:
        return False
    other = after[1:2] and after[1].kind is ItemKind.SIDE and after[1].ids != items[at].ids
    return bool(other) or (at > 0 and items[at - 1].grade is not None)


def without_denied(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Left grip, not right, four": where nothing is told of either side before it, the second is none.

    "Wasting on the left but not on the right" tells of the second that there is none; "brisk on the left, not on the
    right" that it is not brisk.
    """
    kept: list[Item] = []
    for item in items:
        at = item.start - 1
        while at > 0 and words[at] in ("the", "on", "in"):
            at -= 1
        if item.kind is not ItemKind.SIDE or words[at] != "not":
            kept.append(item)
            continue
        denial = kept[-1] if kept and kept[-1].kind is ItemKind.NEGATION and kept[-1].start == at else None
        before = [one for one in reversed(kept) if one.kind is not ItemKind.SUBJECT and one is not denial]
        told = (
            before.pop(0) if before and before[0].kind is ItemKind.VALUE else None
        )  # "left quads weak, not the right"
        named = next((one for one in before if not one.is_place), None)
        if (
            named is None
            or named.kind is not ItemKind.SIDE
            or {named.ids[0], item.ids[0]} != {"left", "right"}
            or not in_one_sentence(tokens, named.end, item.end)
        ):
            kept.append(item)
            continue
        kept = [one for one in kept if one is not denial]
        found = told or next(iter(before[before.index(named) + 1 :]), None)
        if found is not None and found.forward and found.values.get("presence") == "present":
            kept += [Item(ItemKind.VALUE, at, at + 1, values={"presence": "absent"}), item]
        elif found is not None and found.kind is ItemKind.VALUE and is_in_words(found) and closes(tokens, item.end):
            denied = negated_at(found, at, at + 1)
            kept += [denied, replace(item, of=denied)]
    return kept


def _has_more_of_it(result: Item, side: Item, words: list[str]) -> bool:
    """ "Ankle jerk brisk, | right more than left": the result is of both sides."""
    told = result.kind is ItemKind.VALUE and side.kind is ItemKind.SIDE and side.start - result.end <= 1
    return told and words[side.end : side.end + 1] in (["more"], ["greater"], ["worse"], ["slightly"])


def without_degrees(items: list[Item], words: list[str]) -> list[Item]:
    """ "Increased in the legs, more on the left": the result holds for both, to different degrees."""
    kept: list[Item] = []
    for at, item in enumerate(items):
        before = [word for word in words[max(0, item.start - 4) : item.start] if word not in ("on", "in", "the", "so")]
        if item.kind is ItemKind.SIDE and (
            (before[-2:] in _COMPARED or before[-1:] in (["than"], ["versus"], ["unlike"]))
            and not _has_its_own_result(items, at)
        ):
            first = kept[-1] if kept and words[item.start - 1] == "than" else None
            led = kept[-2] if len(kept) > 1 else None
            if first is not None and led is not None and _has_more_of_it(led, first, words):
                kept[-1] = replace(first, ids=("both",), flags=(*first.flags, "side_uncertain"))
            continue  # "the left is wasted compared with the right"
        compared = item.kind is ItemKind.SIDE and item.linked and before[-1:] in (["more"], ["worse"], ["especially"])
        said = (other for other in items if other.kind in (ItemKind.SIDE, ItemKind.REGION))
        if not compared or not any(0 < item.start - other.end <= 5 for other in said):
            kept.append(item)
    return kept


def behind_its_name(items: list[Item], tokens: list[Token]) -> list[Item]:
    """ "Absent ankle jerk left, right is two plus": a side behind a finding and its name belongs to them, as if "on the
    left" had been said. The items are those of the talk in their order.
    """
    said = [item for item in items if item.end > item.start]
    for at, (found, named, side) in enumerate(zip(said, said[1:], said[2:], strict=False)):
        told = found.kind is ItemKind.NEGATION or (found.kind is ItemKind.VALUE and found.grade is None)
        kinds = told and named.kind is ItemKind.SUBJECT and side.kind is ItemKind.SIDE
        if not kinds or found.same or found.reaction or named.section_only:
            continue
        joined = found.end == named.start and named.end == side.start
        parted = tokens[named.start].boundary >= BLOCK_END or tokens[side.start].boundary >= COMMA
        before = said[at - 1] if at else None
        owned = before is not None and before.kind not in (ItemKind.VALUE, ItemKind.OMISSION)
        following = said[at + 3 : at + 4]
        turned = bool(following) and following[0].kind is ItemKind.SIDE and following[0].start == side.end
        opens = not owned or tokens[found.start].boundary >= COMMA
        if joined and not parted and opens and (turned or closes(tokens, side.end)):
            side.linked = True
    return items
