"""Sides that are named in passing: of a limb that rests, of a thing, of where somebody is, of a story.

The next result may be of the other side, so one that would be carried from there is asked about.
"""

from __future__ import annotations

import itertools
from bisect import bisect_left

from pipeline.mend.tokens import SENTENCE_END, Token, closes
from pipeline.understand.items import Item, ItemKind

_RESTED_WITHIN = 6
_RESTING = frozenset("rest resting lower leave".split())
_SEEING_HOW = tuple((see, how) for see in "see look watch notice".split() for how in ("how", "that", "the"))
_PLACED = (
    *("turn", "roll", "lie", "lying", "sit", "stand", "kneel", "face", "facing", "head"),
    *("shuffl", "lean", "shift", "fell", "prop"),
)
"""How words begin for what is done to or at a side: "roll onto your left", "I am standing on his right"."""
_TOLD_OF = frozenset(
    """he she they it there who which he's she's it's they're there's he'd she'd is was were are has had
        says said""".split()
)
"""Words of a sentence that tells something: "he broke his left leg", "the drip is in the left hand"."""
_TOLD_WITHIN = 8
_JOINING = tuple([word] for word in "the his her a on in at to of for with my whose".split())
"""Words right before a side that is part of a sentence and no heading."""
_OVER = frozenset("over across behind beneath".split())
""" "Left leg crossed over the right", "a scar over the right knee"."""
_COMPLAINTS = frozenset(
    """pain pains ache aching painful sore tingling numbness weakness swelling swollen scar scars ulcer
        wound rash bruise bruised bruising fracture fractured broken cast plaster cannula line drip catheter
        fistula pacemaker bandage dressing splint sling brace prosthesis prosthetic amputation amputated
        replacement replaced surgery operation injury injured lesion stroke palsy tumour disc radiculopathy
        sciatica hemiplegia hemiparesis neuropathy plexopathy drop bruit arthritis arthritic contracture""".split()
)
"""What a sentence tells of a side that is no result: "pain in the left arm", "left hemiplegia"."""
_SORE = frozenset("painful sore swollen bruised broken fractured injured amputated replaced arthritic".split())
_WHOSE, _WHERE = frozenset("the his her my".split()), frozenset("in on of to down over at from around".split())
_COMPLAINED_WITHIN = 4
"""Words behind a side in which a complaint is of it: "left total knee replacement"."""
_ANNOUNCING = frozenset(
    """now next let's let start starting begin beginning moving move turning swap swapping switch switching change
        changing test testing examine examining check checking doing go going come coming back same compare
        comparing done finished i'm i'll we're we'll""".split()
)
"""Words of a sentence that turns to a limb: "he is ready so we start on the left"."""
_ENDING = tuple([word] for word in "done finished complete completes completed finishes".split())
_WITH_THE, _ENDED_WITHIN = frozenset("with the his her".split()), 3
"""What stands between such a word and the limb that is done: "finished with his left leg"."""
_POINTING, _POINTED_WITHIN = frozenset("this that that's it's here's here".split()), 4
"""Words that open a sentence which only shows the limb: "this is the left"."""
_SEEKING = frozenset("find get elicit see feel".split())
_FOUND = {("there", "it", "is"), ("there", "we", "go"), ("i've", "got", "it"), ("there", "we", "are")}
_FOUND_WITHIN = 7
"""Most words in which what was looked for is found after all."""
_RESULTS = (
    ItemKind.SUBJECT,
    ItemKind.VALUE,
    ItemKind.COMMAND,
    ItemKind.OMISSION,
    ItemKind.HEADING,
    ItemKind.THROUGHOUT,
    ItemKind.SWAP,
)


def in_passing(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Right quads three. Rest your left leg", "he broke his left leg": asked about where it is carried on."""
    last: tuple[str, ...] = ()
    ordered = {at for item in items if item.kind is ItemKind.COMMAND for at in range(item.start, item.end)}
    sides = {item.end for item in items if item.kind is ItemKind.SIDE}
    results = [
        item.start
        for item in items
        if item.kind in _RESULTS and not (item.section_only and item.start in sides)  # "the left ankle is swollen"
    ]
    for item in items:
        if item.kind is not ItemKind.SIDE or item.ids[0] not in ("left", "right"):
            continue
        turns = item.ids != last and item.start not in ordered
        told = turns and ((last and _rests(item.start, words, tokens)) or _is_told(item, results, words, tokens))
        if told or _is_ended(item, words, tokens):
            item.flags, item.sites = (*item.flags, "side_uncertain"), ()
        else:
            last = item.ids
    items = [item for at, item in enumerate(items) if not (_is_doubted(item) and _turns_at_once(items, at))]
    return [item for item in items if item.kind is not ItemKind.SIDE or not _is_found_after_all(item, words)]


def _is_found_after_all(side: Item, words: list[str]) -> bool:
    """ "I can't find the left, oh, there it is, two plus on both sides": no result is of that side alone."""
    *_, denied, verb, the = ["", "", "", *words[max(0, side.start - 3) : side.start]]
    sought = the == "the" and verb in _SEEKING and (denied.endswith("n't") or denied in ("cannot", "not"))
    after = words[side.end : side.end + _FOUND_WITHIN]
    return sought and any(tuple(found) in _FOUND for found in zip(after, after[1:], after[2:], strict=False))


def _is_doubted(item: Item) -> bool:
    return item.kind is ItemKind.SIDE and "side_uncertain" in item.flags and not item.sites


def _turns_at_once(items: list[Item], at: int) -> bool:
    """ "The right is his good side. | Left grip four": the side that was told of has no result."""
    following = next((item for item in items[at + 1 : at + 3] if not item.is_place), None)
    return following is not None and following.kind is ItemKind.SIDE and following.of is None


def _rests(side: int, words: list[str], tokens: list[Token]) -> bool:
    """Words right before the token of a side, within its sentence, let a limb rest or point to it."""
    at = side
    while at > 0 and side - at < _RESTED_WITHIN and tokens[at].boundary < SENTENCE_END:
        at -= 1
    pairs = itertools.pairwise(words[max(0, at - 1) : side])
    return any((one in _RESTING and led != "at") or (led, one) in _SEEING_HOW for led, one in pairs)


def _is_ended(side: Item, words: list[str], tokens: list[Token]) -> bool:
    """ "Left leg done", "that completes the left", "finished with the left": what comes next may be of the other."""
    at = side.end + (words[side.end : side.end + 1] in (["is"], ["all"]))
    if words[at : at + 1] in _ENDING:
        return closes(tokens, at + 1)
    led = words[max(0, side.start - _ENDED_WITHIN) : side.start]
    before = [word for word in led if word not in _WITH_THE]
    return closes(tokens, side.end) and before[-1:] in _ENDING and (before[-1:] != ["done"] or "with" in led)


def _sentence(side: Item, tokens: list[Token]) -> tuple[int, int]:
    """The tokens of the sentence that a side stands in."""
    start, end = side.start, side.end
    while start > 0 and tokens[start].boundary < SENTENCE_END:
        start -= 1
    while end < len(tokens) and tokens[end].boundary < SENTENCE_END:
        end += 1
    return start, end


def _is_told(side: Item, results: list[int], words: list[str], tokens: list[Token]) -> bool:
    """A sentence without any test or result that says something else than which limb comes."""
    start, end = _sentence(side, tokens)
    first = bisect_left(results, start)
    if first < len(results) and results[first] < end:
        return False
    before, after = words[start : side.start][-_TOLD_WITHIN:], words[side.end : end][:_TOLD_WITHIN]
    placed = next((at for at, word in enumerate(before) if word.startswith(_PLACED) and word != "turning"), None)
    if placed is not None and _ANNOUNCING.isdisjoint(before[placed + 1 :]):
        return True
    if not _ANNOUNCING.isdisjoint(words[start:end]):
        return False
    if not _OVER.isdisjoint(before[-2:]):
        return True
    if before and before[0] in _POINTING and len(before) <= _POINTED_WITHIN:
        return False
    if _is_complained_of(before, words, side.end, tokens):
        return True
    joined = before[-1:] in _JOINING
    return (joined and not _TOLD_OF.isdisjoint(before)) or not _TOLD_OF.isdisjoint(after)


def _is_complained_of(before: list[str], words: list[str], end: int, tokens: list[Token]) -> bool:
    """ "Pain in the left arm", "swollen left ankle", "left ankle fracture": what is wrong is named next to the side."""
    led = [word for word in before if word not in _WHOSE][-2:]
    if led and (led[-1] in _SORE or (led[0] in _COMPLAINTS and led[-1] in _WHERE)):
        return True
    last = next((at for at in range(end, end + _COMPLAINED_WITHIN) if closes(tokens, at)), end + _COMPLAINED_WITHIN)
    return not _COMPLAINTS.isdisjoint(words[end:last])
