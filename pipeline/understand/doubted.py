"""Findings that are named as perhaps there, as gone, or as there in one part of a limb only: asked about."""

from __future__ import annotations

import re
from dataclasses import replace

from pipeline.mend.tokens import SENTENCE_END, Token, closes, in_one_sentence
from pipeline.understand.items import Item, ItemKind, is_in_words

_PERHAPS = frozenset("possible possibly probable probably perhaps maybe questionable suspected query might may".split())
_BEFORE = 3
"""Most words from "possible" to the finding."""
_AFTER = 16
"""Most words of a sentence that are looked at behind a finding."""
_GONE = re.compile(
    r"\w+ (?:(?:in|on|of|at|the|his|her|left|right|both|legs?|arms?|hands?|foot|feet|calf|calves|thighs?|sides?) )*"
    r"(?:has|have|had) (?:now |since |all |completely )*(?:gone|resolved|disappeared|cleared)\b"
)
_TAKEN_BACK = re.compile(
    r"\bbut (?:no|not|not really|not convincingly|i'm not (?:sure|convinced|certain))$"
    r"|\b(?:maybe|perhaps|possibly|probably|not sure|unsure|hard to say|don't think so|do not think so|doubt it)$"
    r"|\b(?:isn't|is not|wasn't|was not|aren't|are not) (?:something|anything|a feature|what|one|really|obvious)\b"
)
_MAYBE = frozenset("possibly perhaps maybe".split())
_UNSURE = _MAYBE | {
    "not sure",
    "not certain",
    "can't be certain",
    "can't be sure",
    "hard to say",
    "if that",
    "if anything",
}
_CLOSING = frozenset("or and nor to through".split())
"""Words that make one list of levels."""
_PRESENT = frozenset("present there preserved intact elicitable obtainable".split())
_SMALL = frozenset(
    "only just a bit quite very slightly clearly definitely is are it's still rather much a little".split()
)
"""Words between "present but" and the result."""
_LIMIT = 6
"""Most words from "but" to where the sentence may end."""
_ELSEWHERE = frozenset("none nothing".split())


def doubted(items: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """The items, in order; a finding that is said to be gone is absent, and every doubt is put to a person."""
    out: list[Item] = []
    for at, item in enumerate(items):
        limited = _limited(item, items[at + 1 : at + 2], words, tokens)
        if limited is None:
            continue
        if limited or _is_hedged(item, words, tokens):
            item = replace(item, flags=(*item.flags, "value_uncertain"))
        if item.kind is ItemKind.VALUE and item.forward and item.values.get("presence") == "present":
            item = _weighed(item, words, tokens)
        elif _is_of_another_part(item, items[max(0, at - 2) : at], items[at + 1 : at + 2], words):
            item = replace(item, values={"presence": "present"}, flags=(*item.flags, "value_uncertain"))
        elif _is_of_the_sign(item, items[max(0, at - 2) : at], words):
            item = replace(item, values={"plantar": "flexor"}, flags=(*item.flags, "value_uncertain"))
        elif item.is_place and (found := _found_elsewhere(item, out, words, tokens)) is not None:
            if found.values["sensation"] == "normal":
                continue
            normal = {"sensation": "normal"}
            out.append(Item(ItemKind.VALUE, item.start - 1, item.start, values=normal, flags=("value_uncertain",)))
        elif item.is_level and words[item.start - 1 : item.start] == ["not"]:
            if out and out[-1].kind is not ItemKind.VALUE:
                _doubt_result_at(item.ids[0], out)
            listed = not _CLOSING.isdisjoint(words[item.start : item.end])
            if listed or len(item.ids) == 1:
                continue  # "four, that's L5, not L4": a root that it is not
            item = replace(item, ids=item.ids[1:])  # "not L4, L5"
        out.append(item)
    return out


def _is_hedged(result: Item, words: list[str], tokens: list[Token]) -> bool:
    """ "Maybe four", "brisk, possibly", "four, can't be certain": a result of which the examiner is not sure."""
    if result.kind is not ItemKind.VALUE or result.same or result.reaction or result.end == result.start:
        return False
    led = next((word for word in reversed(words[max(0, result.start - 3) : result.start]) if word not in _SMALL), "")
    if led in _MAYBE and in_one_sentence(tokens, max(0, result.start - 2), result.start + 1):
        return True
    for size in (1, 2, 3):
        end = result.end + size
        if " ".join(words[result.end : end]) in _UNSURE and closes(tokens, end):
            return in_one_sentence(tokens, result.end, end)
    return False


def _doubt_result_at(level: str, before: list[Item]) -> None:
    """ "L4 reduced, no, not L4": what was just told of the level is asked about."""
    told = next((at for at in range(len(before) - 1, -1, -1) if before[at].kind is ItemKind.VALUE), None)
    near = before[max(0, told - 1) : told + 2] if told is not None else []
    if told is not None and any(item.is_level and level in item.ids for item in near):
        before[told] = replace(before[told], flags=(*before[told].flags, "value_uncertain"))


def _limited(finding: Item, after: list[Item], words: list[str], tokens: list[Token]) -> bool | None:
    """Whether "but" and words of no result limit a normal finding ("accurate but slow"); None where what follows is the
    result ("present but reduced").
    """
    end = finding.end
    if not is_in_words(finding) or words[end : end + 1] != ["but"] or tokens[end].boundary >= SENTENCE_END:
        return False
    following = after[0] if after else None
    normal = "normal" in (finding.values.get("coordination"), finding.values.get("gait"))
    graded = following is not None and (is_in_words(following) or following.grade is not None)
    if following is not None and graded and _SMALL.issuperset(words[end + 1 : following.start]):
        told = not _PRESENT.isdisjoint(words[finding.start : end])
        return None if told else normal and following.weak
    last = next((at for at in range(end + 1, end + _LIMIT) if closes(tokens, at)), None)
    unread = last is not None and last > end + 1 and (following is None or following.start >= last)
    return unread and normal


def _found_elsewhere(place: Item, before: list[Item], words: list[str], tokens: list[Token]) -> Item | None:
    """ "Vibration absent at the ankle, not at the | knee": what was found at one place and not at the other."""
    at = place.start - (words[max(0, place.start - 1)] in ("the", "his", "her"))
    led = words[max(0, at - 2) : at]
    joined = led[-1:] == ["not"] and any(one.is_place for one in before[-2:])
    if led not in (["not", "at"], ["not", "over"], ["not", "in"]) and not joined:
        return None
    found = next((one for one in reversed(before) if one.kind is ItemKind.VALUE), None)
    told = found is not None and "sensation" in found.values and in_one_sentence(tokens, found.end, place.end)
    return found if told else None


def _weighed(finding: Item, words: list[str], tokens: list[Token]) -> Item:
    end = finding.end
    while (
        end < len(words) and end - finding.end < _AFTER and (end == finding.end or tokens[end].boundary < SENTENCE_END)
    ):
        end += 1
    after = " ".join(words[finding.end : end])
    if _GONE.match(after):
        return replace(finding, values={"presence": "absent"}, flags=(*finding.flags, "value_uncertain"))
    begin = finding.start
    while begin > 0 and finding.start - begin < _BEFORE and tokens[begin].boundary < SENTENCE_END:
        begin -= 1
    led = words[begin : finding.end + 1]
    hardly = "little" in led and "a" not in led
    if _TAKEN_BACK.search(after) or hardly or not _PERHAPS.isdisjoint(words[begin : finding.end]):
        return replace(finding, flags=(*finding.flags, "value_uncertain"))
    return finding


def _is_of_another_part(denial: Item, before: list[Item], after: list[Item], words: list[str]) -> bool:
    """ "Wasting in the left thigh, | none | in the calf": the limb has the finding."""
    if denial.kind is not ItemKind.VALUE or denial.values.get("presence") != "absent" or len(before) < 2:
        return False
    sided = before[0].kind is ItemKind.SIDE and before[1].is_place
    part = after[0] if after and words[denial.start] in _ELSEWHERE else None
    return (
        sided and part is not None and part.is_place and words[denial.end : denial.end + 1] in (["in"], ["of"], ["at"])
    )


def _is_of_the_sign(item: Item, before: list[Item], words: list[str]) -> bool:
    """ "Babinski absent": of the sign, which is up; it is the response that is mute."""
    named = any(one.kind is ItemKind.SUBJECT and words[one.start].startswith("babinski") for one in before)
    return named and item.kind is ItemKind.VALUE and words[item.start] == "absent"
