"""What says a result once more, or only remarks on it: it makes no result of its own."""

from __future__ import annotations

import itertools
import re
from bisect import bisect_left
from collections import defaultdict
from dataclasses import replace

from pipeline.mend.context import NUMBER_WORDS
from pipeline.mend.tokens import CLAUSE_MARK, COMMA, SENTENCE_END, Token, closes, in_one_sentence
from pipeline.mend.words import BE, frequency
from pipeline.understand.cues import SHOWN
from pipeline.understand.grades import past_small
from pipeline.understand.items import WHERE, Item, ItemKind, held
from pipeline.understand.presence import LIKE_THAT
from pipeline.understand.talk import Kind
from pipeline.understand.words import IMPERATIVES

_PRAISED = frozenset("grand good perfect lovely okay ok".split())
_FINE = frozenset("fine grand okay ok perfect".split())
_ANSWERS = (["sharp"], ["blunt"], ["dull"])
_LONGEST_THING = 4
_NORMAL_POWER = tuple(["is", full, power] for full in ("normal", "full") for power in ("power", "strength"))
_RESULT_REACH = 3
"""Most tokens from a name to its own result."""
_NOUN = 4.5
"""Zipf frequency up to which a word that was not read is the name of some thing."""
_SWAYS = frozenset("sways swaying sway wobbles wobbling wobbly unsteady".split())
_ROMBERG = frozenset("negative positive".split())
_TOLD = (ItemKind.VALUE, ItemKind.OMISSION, ItemKind.NEGATION)
_ALSO_NOT = tuple([word] for word in "can could was were is are did do have will would".split())
_THOSE = (["those"], ["these"], ["them"])
_SHOWS = frozenset("has had have shows showed there's".split())
_NOR_WITHIN = 6
"""Most tokens from "neither" to its "nor"."""
_FEELS_NOTHING = (["can't", "feel"], ["cannot", "feel"])
_THERE = (["in"], ["on"])
_GRADED = frozenset(("mrc", "reflex"))
_REPORTED = frozenset("said reported called recorded gave noted put graded scored had".split())
_AS = (["as"], ["like"], ["what"])
_ANEW = frozenset("but when so now actually fact again second however is it's that's".split())
"""What turns from what was said to what is so."""
_TOLD_WITHIN = 12
"""Most tokens from "I said" to the value that was said."""
_ANEW_WITHIN = 16
"""Most tokens from that value to the one that takes its place."""
_GENERALLY = tuple([word] for word in "never always would is isn't goes does doesn't means won't can can't".split())
_DETERMINERS = (["the"], ["his"], ["her"], ["that"])
_COMPARED = frozenset("weak weaker worse poor normal abnormal".split())
_WORDS_FOR = tuple([word, "for", what, "is"] for word in ("word", "term", "name") for what in ("that", "this", "it"))
_IS_THE = (["is", "the"], ["is", "a"], ["is", "just"], ["is", "what"])
_WORD_FOR = tuple([word, "for"] for word in ("word", "term", "name"))
_WORD_IS = (["word", "is"], ["term", "is"])
_LIMBS = tuple([word] for word in "one ones side leg arm hand foot limb of".split())
_SAID_ANEW = (["so"], ["so", "that's"], ["that's"], ["so", "it's"])


def fine_on_that_side(found: list[Item], words: list[str], tokens: list[Token], scales: dict[str, str]) -> list[Item]:
    """ "Heel walking impaired on the left, okay on the right", "toe walking okay on both": praise with a side of its
    own, said of a test that nobody praises a patient for, is a normal result.
    """
    sides = {item.start for item in found if item.kind is ItemKind.SIDE}
    subjects = [item for item in found if item.kind is ItemKind.SUBJECT and not item.section_only]
    praised: dict[int, str] = {}
    for at, word in enumerate(words[:-2]):
        if word not in _PRAISED or words[at + 1] != "on" or past_small(words, at + 2, sides) not in sides:
            continue
        named = max((item for item in subjects if item.end <= at), key=lambda item: item.end, default=None)
        scale = scales.get(named.ids[0], "") if named is not None else ""
        if named is None or scale not in SHOWN or not in_one_sentence(tokens, named.end, at + 1):
            continue
        told = any(named.end <= item.start < at and scale in item.values for item in found)
        if told or named.end == at:
            praised[at] = scale
    kept = [item for item in found if not (item.kind is ItemKind.VALUE and item.start in praised)]
    return kept + [Item(ItemKind.VALUE, at, at + 1, values={scale: "normal"}) for at, scale in praised.items()]


def fine_there(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Reduced at the ankles, grand at the knees", "right L4 fine": praise with a place of its own is a normal result
    there.
    """
    places = {item.start for item in found if item.is_place and (item.sites or item.ids)}
    praised: set[int] = set()
    for at, word in enumerate(words[:-2]):
        if word in _PRAISED and words[at + 1] in ("at", "over") and COMMA <= tokens[at].boundary < SENTENCE_END:
            after = at + 2 + (words[at + 2] in ("the", "both"))
            praised |= {at} if after in places else set()
    praised |= _fine_levels(found, words, tokens)
    kept = [item for item in found if not (item.kind is ItemKind.VALUE and item.start in praised)]
    kept += [Item(ItemKind.VALUE, at, at + 1, values={"sensation": "normal"}) for at in sorted(praised)]
    return sorted(kept, key=lambda item: (item.start, item.kind is ItemKind.NEGATION, item.end))


def _fine_levels(found: list[Item], words: list[str], tokens: list[Token]) -> set[int]:
    """Where "fine" stands right behind roots, or their side, with which a statement begins."""
    sides = {item.start: item for item in found if item.kind is ItemKind.SIDE}
    before = {item.end: item.start for item in sides.values()}
    fine: set[int] = set()
    for place in found:
        if not place.is_level:
            continue
        opens = tokens[before.get(place.start, place.start)].boundary >= COMMA
        at = place.end
        while words[at : at + 1] in (["on"], ["the"]) and at not in sides:
            at += 1
        at = sides[at].end if at in sides else place.end
        if opens and words[at : at + 1] and words[at] in _FINE and tokens[at].boundary < CLAUSE_MARK:
            fine.add(at)
    return fine


def without_echoes(found: list[Item], words: list[str]) -> list[Item]:
    """ "Two plus likewise the supinator", "likewise not testable": after a value, and before a name or what was left
    out, the word refers to no other result.
    """
    valued = {item.end for item in found if item.kind is ItemKind.VALUE and not item.same}
    names = {item.start for item in found if item.kind is ItemKind.SUBJECT}
    left_out = {item.start for item in found if item.kind is ItemKind.OMISSION}
    return [
        item
        for item in found
        if not item.same
        or not (item.end in left_out or (item.start in valued and past_small(words, item.end, names) in names))
    ]


_TELLING = (ItemKind.VALUE, ItemKind.SUBJECT, ItemKind.COMMAND, ItemKind.OMISSION)
_NOT_GOT = tuple([denial, verb] for denial in ("can't", "cannot", "couldn't", "not") for verb in ("get", "find"))
_NOT_GOT_WITHIN = 9
"""Most words from the jerk of one side to the other, which was not got."""
_TOO_WITHIN = 8
"""Most words between a result and the side that has it, too."""


def so_are(found: list[Item], words: list[str], kind_at: list[Kind]) -> list[Item]:
    """ "And so are the ankle jerks", "as was vibration", "five throughout, and so is the left", "so it is on the left",
    "there isn't any on the left", "but he can at both knees": the last value once more, none, or that it is not so
    there.
    """
    taken = held(found)
    names = {item.start for item in found if item.kind is ItemKind.SUBJECT}
    values = sorted((item for item in found if item.kind is ItemKind.VALUE), key=lambda item: item.start)
    throughout = {item.start: item for item in found if item.kind is ItemKind.THROUGHOUT}
    out = []
    for at in range(len(words) - 1):
        if kind_at[at] is not Kind.RESULT or at in taken:
            continue
        likened = words[at] == "so" or (words[at] == "as" and past_small(words, at + 2, names) in names)
        turned = (
            words[at] == "so" and words[at + 1] == "it" and words[at + 3 : at + 4] in _THERE
        )  # "so it is on the left"
        be = at + 1 + turned
        if likened and words[be] in _SO_DOES and taken.isdisjoint((at + 1, be)):
            last = next((item for item in reversed(values) if item.end <= at), None)
            if last is not None:
                wide = throughout.get(last.end) if past_small(words, be + 1, names) not in names else None
                out += [replace(last, start=at, end=be + 1 - (wide is not None))]
                out += [replace(wide, start=be, end=be + 1)] if wide is not None else []
        elif words[at] == "can" and words[at + 1] in ("at", "on", "over", "in"):
            last = next((item for item in reversed(values) if item.end <= at), None)
            if last is not None and words[last.start : last.end] in _FEELS_NOTHING:
                out.append(Item(ItemKind.VALUE, at, at + 1, values={"sensation": "normal"}))
        elif words[at] in ("isn't", "aren't", "wasn't") and words[at + 1] == "any" and at + 2 not in taken:
            out.append(Item(ItemKind.VALUE, at, at + 2, values={"presence": "absent", "clonus": "absent"}))
    return out


_SO_DOES = BE | {"does", "do", "did"}


def that_side_too(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Left hip extension four, the right too": the last value once more, on the side that ends the sentence.

    It is asked about: the other side may have been "two".
    """
    sides = {item.end: item for item in found if item.kind is ItemKind.SIDE and item.ids[0] in ("left", "right")}
    told = sorted((item for item in found if item.kind in _TELLING), key=lambda item: item.start)
    starts = [item.start for item in told]
    out: list[Item] = []
    for at, side in sides.items():
        if words[at : at + 1] not in (["too"], ["also"]) or not closes(tokens, at + 1) or at in starts:
            continue
        last = told[bisect_left(starts, at) - 1] if starts and starts[0] < at else side
        if last.kind is ItemKind.VALUE and side.start - last.end <= _TOO_WITHIN:
            heard_as_two = words[at] == "too" and last.grade != "2"
            out.append(replace(last, start=at, end=at + 1, flags=("value_uncertain",) if heard_as_two else last.flags))
    return out


def not_got(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Knee jerk two plus on the right, I can't get the left": absent there, and asked about."""
    sides = [item for item in found if item.kind is ItemKind.SIDE and item.ids[0] in ("left", "right")]
    jerks = {item.end for item in found if item.kind is ItemKind.VALUE and _is_of_a_jerk(item)}
    out: list[Item] = []
    for side in sides:
        at = side.start - (words[side.start - 1 : side.start] in (["the"], ["his"], ["her"]))
        tried = words[max(0, at - 2) : at] in _NOT_GOT
        ended = side.end + (words[side.end : side.end + 1] == ["one"])
        if tried and closes(tokens, ended) and not jerks.isdisjoint(range(max(0, at - _NOT_GOT_WITHIN), at)):
            out.append(Item(ItemKind.VALUE, at - 1, at, values={"reflex": "0"}, flags=("value_uncertain",)))
    return out


def _is_of_a_jerk(item: Item) -> bool:
    return "reflex" in item.values or (item.grade or "").endswith("+")


def throughout_too(found: list[Item]) -> list[Item]:
    """ "The right arm is five throughout, the right leg the same": all of the other limb."""
    out: list[Item] = []
    limbs: tuple[str, ...] = ()
    wide: tuple[Item, Item, tuple[str, ...]] | None = None
    for item in found:
        last = out[-1] if out else item
        if wide is not None and item.same and last.limbs and set(last.limbs).isdisjoint(wide[2]):
            out.append(replace(wide[0], start=item.start, end=item.end))
            item = replace(wide[1], start=item.end - 1, end=item.end)
        limbs = item.limbs or limbs
        if item.kind is ItemKind.THROUGHOUT and (last.grade is not None or "mrc" in last.values):
            wide = (last, item, limbs)
        elif item.kind is ItemKind.SUBJECT:
            wide = None
        out.append(item)
    return out


def nor_those(found: list[Item], words: list[str]) -> list[Item]:
    """ "Could not be tested, nor could the left ankle jerk", "not done, nor tandem gait": the tests after it were left
    out like those before.
    """
    out: list[Item] = []
    for item, following in itertools.zip_longest(found, found[1:]):
        if item.kind is ItemKind.NEGATION and words[item.start] in ("nor", "neither"):
            also = words[item.end : item.end + 1] in _ALSO_NOT
            named = following is not None and following.kind is ItemKind.SUBJECT and following.start == item.end
            last = next((other for other in reversed(out) if other.kind in _TOLD), None)
            if last is not None and last.kind is ItemKind.OMISSION and (also or (named and words[item.start] == "nor")):
                item = replace(last, start=item.start, end=item.end + also, forward=True)
        out.append(item)
    return out


def neither_there(found: list[Item], words: list[str], scales: dict[str, str]) -> list[Item]:
    """ "Left arm, neither", "the other leg has none of those", "nothing like that on the left": what was looked for
    last is absent there, too.
    """
    out: list[Item] = []
    for item, following in itertools.zip_longest(found, found[1:]):
        side = out[-1] if out else None
        said = words[item.start : item.start + 3]
        likened = item.kind is ItemKind.NEGATION and said == LIKE_THAT
        pointing = likened or (said[:2] == ["none", "of"] and said[2:] in _THOSE)
        if likened and following is not None and following.kind is ItemKind.SIDE and following.linked:
            side = following
        if (
            (pointing or (item.kind is ItemKind.NEGATION and said[:1] == ["neither"]))
            and side is not None
            and side.kind is ItemKind.SIDE
            and (side is following or side.end == item.start - (words[item.start - 1] in _SHOWS))
            and "nor" not in words[item.end : item.end + _NOR_WITHIN]
        ):
            looked_for = _looked_for(out, scales)
            if len(looked_for) == 2 or (pointing and looked_for):
                absent = {"presence": "absent", "clonus": "absent"}
                item = Item(ItemKind.VALUE, item.start, item.end, values=absent, of_last=len(looked_for))
                side.of = item if side is following else side.of
        if not (likened and item.kind is ItemKind.NEGATION):
            out.append(item)
    return out


def _looked_for(items: list[Item], scales: dict[str, str]) -> set[str]:
    """The last tests in a row of what is there or not."""
    found: set[str] = set()
    for item in reversed(items):
        if item.kind is ItemKind.SUBJECT and not item.is_place:
            if scales.get(item.ids[0]) != "presence":
                break
            found.add(item.ids[0])
    return found


def is_too(item: Item, found: list[Item], words: list[str], tokens: list[Token]) -> bool:
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


def said_once(found: list[Item], words: list[str], tokens: list[Token], scales: dict[str, str]) -> list[Item]:
    """ "L4 sharp, normal, L5 blunt, so reduced", "strong, full power", "up a little, I'd say increased": one result
    each, said in two words; not "tone normal, full power", of two tests. `scales`: that of each test.
    """
    others = {item.end for item in found if item.kind is ItemKind.SUBJECT and scales.get(item.ids[0], "mrc") != "mrc"}
    normal = {
        item.end
        for item in found
        if item.kind is ItemKind.VALUE
        and item.values.get("mrc") == "normal"
        and others.isdisjoint((item.start, item.start - (words[item.start - 1] in BE)))
    }
    stated = {item.start: item for item in found if item.kind is ItemKind.VALUE}
    graded = {item.end: item for item in stated.values() if item.grade is not None}

    def is_put_better(item: Item) -> bool:
        hedge = next((said for said in _RATHER if words[item.end : item.end + len(said)] == said), None)
        better = None if hedge is None else stated.get(item.end + len(hedge))
        shared = () if better is None else better.values.keys() & item.values.keys()
        return better is not None and bool(shared) and all(better.values[one] == item.values[one] for one in shared)

    def is_drawn(item: Item, other: Item) -> bool:
        """ "Blunt by her account, so reduced": nothing that was tested stands between."""
        between = words[item.end : other.start]
        named = any(item.end <= one.start < other.start and one.kind is not ItemKind.SIDE for one in found)
        return between in _SAID_ANEW or (between[-1:] == ["so"] and not named)

    def is_of_romberg(item: Item) -> bool:
        """ "Romberg negative, he sways just as much with them open": what was seen, after what it means."""
        return words[item.start] in _SWAYS and any(
            words[other.start] in _ROMBERG
            and other.end <= item.start
            and in_one_sentence(tokens, other.end, item.start + 1)
            for other in found
            if other.kind is ItemKind.VALUE and "romberg" in other.values
        )

    def is_in_words(item: Item) -> bool:
        """ "One, just a flicker": what the grade before it means, and part of it."""
        last = graded.get(item.start)
        if last is None or last.grade != item.values.get("mrc"):
            return False
        last.end, last.weak = item.end, False
        return True

    def is_repeated(item: Item) -> bool:
        if item.kind is ItemKind.VALUE and "romberg" in item.values and is_of_romberg(item):
            return True
        if item.kind is ItemKind.VALUE and item.start in normal and item.values.get("mrc") == "normal":
            return "power" in words[item.start : item.end] and tokens[item.start].boundary <= COMMA
        if item.kind is ItemKind.VALUE and (is_put_better(item) or is_in_words(item)):
            return True
        if item.kind is not ItemKind.VALUE or words[item.start : item.end] not in _ANSWERS:
            return False
        felt = item.values.get("sensation")
        return felt is not None and any(
            other.kind is ItemKind.VALUE
            and other.start >= item.end
            and other.values.get("sensation") == felt
            and (other.start == item.end or is_drawn(item, other))
            and in_one_sentence(tokens, item.end, other.start + 1)
            for other in found
        )

    return [item for item in found if not is_repeated(item)]


_RATHER = tuple(
    said.split()
    for said in ("i'd say", "i would say", "i'd call it", "i would call it", "i'd put it at", "i'd put it as")
)


def of_the_other_side(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Left biceps four, no, that's the right": the side is put right, and nothing is denied.

    "Left biceps four, that was the right" is asked about: it may tell of what was done before.
    """
    results = {item.end for item in found if item.kind is ItemKind.VALUE and (item.grade or not item.weak)}
    denials = {item.start: item for item in found if item.kind is ItemKind.NEGATION}
    denied: set[int] = set()
    repairs: list[Item] = []
    sides = [item for item in found if item.kind is ItemKind.SIDE and item.ids[0] in ("left", "right")]
    for before, side in zip([None, *sides], sides, strict=False):
        led = next((said for said in _THAT_IS if words[side.start - len(said) : side.start] == said), None)
        if led is None:
            continue
        at = side.start - len(led) - 1
        ends = closes(tokens, side.end) or words[side.end] in ("one", "side")
        told = at + (words[at] not in ("and", "but"))
        objects = _objection(at, results, words)
        if objects is not None and ends:
            denied |= {id(denials[k]) for k in range(objects, at + 1) if k in denials}
            repairs.append(Item(ItemKind.REPAIR, objects, objects + 1))
        elif told in results and "was" in led and ends and before is not None and before.ids != side.ids:
            side.flags += ("side_uncertain",)
            repairs.append(Item(ItemKind.REPAIR, at + 1, at + 2))
    return [*(item for item in found if id(item) not in denied), *repairs]


def said_wrongly(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Did I say left? I meant right", "I keep saying left, it's the right": of a side only the second is meant."""
    names = {item.start for item in found if item.kind is ItemKind.SUBJECT}
    sides = [item for item in found if item.kind is ItemKind.SIDE and item.ids[0] in ("left", "right")]
    wrong = {
        id(side): Item(ItemKind.REPAIR, side.start, side.end)
        for side, other in itertools.pairwise(sides)
        if words[side.start - 1] in _SAYING
        and other.ids != side.ids
        and other.start - side.end <= _OBJECTED_WITHIN
        and closes(tokens, other.end)
        and other.end not in names
    }
    return [*(item for item in found if id(item) not in wrong), *wrong.values()]


def wrong_side(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Left grip four. Oh, that's the wrong side": the result is of the other one, and a person is asked."""
    results = {item.end for item in found if item.kind is ItemKind.VALUE and (item.grade or not item.weak)}
    sides = {item.start for item in found if item.kind is ItemKind.SIDE and item.ids[0] in ("left", "right")}
    denied: set[int] = set()
    repairs: list[Item] = []
    for at in range(1, len(words) - 1):
        if words[at] != "wrong" or words[at + 1] not in _LIMB_NAMES or not closes(tokens, at + 2):
            continue
        said = next((k for k in range(at, max(at - _OBJECTED_WITHIN, 0), -1) if k in results), None)
        if said is None:
            continue
        denied |= set(range(said, at + 2))
        repairs.append(Item(ItemKind.REPAIR, at, at + 1))
        if sides.isdisjoint((at + 2, at + 3)):  # "wrong side, right"
            flags = ("side_uncertain",)
            repairs.append(Item(ItemKind.SIDE, at + 1, at + 2, ("other",), linked=True, flags=flags))
    return [*(item for item in found if item.start not in denied or item.kind is ItemKind.VALUE), *repairs]


def _objection(at: int, results: set[int], words: list[str]) -> int | None:
    """Where the words begin with which an examiner objects to the last result, if just they end at token `at`."""
    first = next((k for k in range(at, max(at - _OBJECTED_WITHIN, 0), -1) if k in results), None)
    if first is None or not _OBJECTION.fullmatch(" ".join(words[first : at + 1])):
        return None
    return first


def meant(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Right biceps four, the left I mean", "four, five I mean": what is put right is told before the words for it."""
    results = {item.end for item in found if item.kind is ItemKind.VALUE}
    ends = {item.end: item for item in found if item.kind in (ItemKind.SIDE, ItemKind.VALUE, ItemKind.SUBJECT)}
    for item in found:
        put = ends.get(item.start)
        if item.kind is not ItemKind.REPAIR or words[item.start : item.end] != ["i", "mean"] or put is None:
            continue
        at = put.start
        while at > 0 and at not in results and words[at - 1] in _LEADING_TO_IT:
            at -= 1
        closed = item.end == len(words) or tokens[item.end].boundary >= SENTENCE_END
        if closed and at in results and at > 0:
            item.start = item.end = at
    return sorted(found, key=lambda item: (item.start, item.end))


_LEADING_TO_IT = frozenset("and but no that that's was it it's is the on in his her".split())
_THAT_IS = tuple(
    [*said.split(), whose]
    for said in ("that's", "that was", "it's", "it was", "that is", "")
    for whose in ("the", "his", "her", "your")
)
_OBJECTION = re.compile(r"(?:(?: ?\b(?:no|actually|oh|ah|wait|hang on|hold on))(?: a (?:second|minute|moment))?)+")
_OBJECTED_WITHIN = 5
"""Most words from a result to "that's the right": "no, hang on a second"."""
_SAYING = frozenset("say saying said".split())
_LIMB_NAMES = frozenset("side arm leg hand foot limb".split())
_DENYING = frozenset("not isn't wasn't aren't weren't".split())
_INSTEAD_OF_IT = frozenset("but it's they're rather".split())
_INSTEAD = _INSTEAD_OF_IT | frozenset("a an it is really actually only just more like".split())


def without_contrasts(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "It's three, not two", "reduced but not absent", "not four but three": what it is not is no result."""
    values = {item.end: item for item in found if item.kind is ItemKind.VALUE and not item.reaction}
    by_start = {item.start: item for item in values.values()}

    def is_contrast(item: Item) -> bool:
        at = item.start - 1 - (words[item.start - 1] in ("just", "only", "quite", "merely"))
        if item.kind is not ItemKind.VALUE or words[at] != "not":
            return False
        told = values.get(at - (words[at - 1] in ("and", "but")))
        if told is None or not _are_alike(told, item) or not in_one_sentence(tokens, told.end, item.start + 1):
            return False
        told.instead_of = replace(item, negated=False)
        return True

    def gives_way(item: Item) -> bool:
        if item.kind is not ItemKind.VALUE or _DENYING.isdisjoint(words[max(0, item.start - 1) : item.start + 1]):
            return False
        at = item.end
        while at < len(words) and words[at] in _INSTEAD:
            at += 1
        told = by_start.get(at)
        if told is None or _INSTEAD_OF_IT.isdisjoint(words[item.end : at]) or not _are_alike(item, told):
            return item.unit == "grade" and told is None  # "not four": nothing says what it is
        if not in_one_sentence(tokens, item.start, at + 1):
            return False
        told.instead_of = replace(item, negated=False)
        return True

    return [item for item in found if not (is_contrast(item) or gives_way(item))]


def _are_alike(first: Item, second: Item) -> bool:
    """Two values that can be of the same test."""
    if first.grade or second.grade:
        return bool(first.grade and second.grade) or not _GRADED.isdisjoint((*first.values, *second.values))
    return bool(first.values.keys() & second.values.keys())


def _is_named_again(item: Item, before: list[Item]) -> bool:
    """ "Left grip I had as weak, on trying again left grip is strong"."""
    last = next((other for other in reversed(before) if other.kind is item.kind), None)
    return item.kind in (ItemKind.SUBJECT, *WHERE) and last is not None and last.ids == item.ids


def without_withdrawn(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "I said the ankle was absent, when I did it again it is reduced": what was said gives way to what is."""
    said = [
        at
        for at in range(len(words) - 2)
        if words[at] in ("i", "we")
        and words[at + 1] in _REPORTED
        and words[at - 1 : at] not in _AS
        and words[at + 2] not in IMPERATIVES  # "I said squeeze, four"
    ]
    if not said:
        return found
    ordered = sorted((item for item in found if not item.reaction), key=lambda item: item.start)
    values = [at for at, item in enumerate(ordered) if item.kind is ItemKind.VALUE]
    starts = [ordered[at].start for at in values]
    dropped: set[int] = set()
    added: list[Item] = []
    for at in said:
        index = bisect_left(starts, at)
        if index + 1 >= len(values):
            continue
        first, second = (ordered[value] for value in values[index : index + 2])
        before, between = ordered[: values[index]], ordered[values[index] + 1 : values[index + 1]]
        if not (
            first.start - at <= _TOLD_WITHIN
            and in_one_sentence(tokens, at + 1, first.start + 1)
            and second.start - first.end <= _ANEW_WITHIN
            and all(item.kind is ItemKind.NEGATION or _is_named_again(item, before) for item in between)
            and not _ANEW.isdisjoint(words[first.end : second.start])
            and _are_alike(first, second)
        ):
            continue
        dropped.add(id(first))
        if any(item.kind is ItemKind.SUBJECT for item in between):
            second.instead_of = first
        else:
            added.append(replace(second, start=first.start, instead_of=first))
            dropped.add(id(second))
    return [item for item in found if id(item) not in dropped] + added


def named_once(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "There's involuntary movement, a resting tremor": the same once more, in other words and without a result.

    So is what was made out of the words of the order: "heel shin, right heel down the other shin".
    """
    results = {item.start for item in found if item.kind is ItemKind.VALUE}
    names: dict[int, list[Item]] = defaultdict(list)
    for item in found:
        if item.kind is ItemKind.SUBJECT:
            names[item.end].append(item)

    def has_result(item: Item) -> bool:
        within = range(item.end, item.end + _RESULT_REACH)
        return any(
            at in results
            and in_one_sentence(tokens, item.end, at + 1)
            and words[at + 1 : at + 2] not in _THERE  # "a tremor, none in the left arm"
            for at in within
        )

    def is_order(item: Item) -> bool:
        led = words[item.start - 1 : item.start] in (["left"], ["right"])
        made_out = item.kind is ItemKind.SUBJECT and item.match is not None and item.match.mended
        return led and made_out and any(other.ids == item.ids for other in names.get(item.start - 1, ()))

    kept = []
    for item in found:
        if is_order(item):
            continue
        before = [*names.get(item.start, ()), *names.get(item.start - 1, ())]
        first = next(
            (
                other
                for other in before
                if item.kind is ItemKind.SUBJECT
                and other.ids == item.ids
                and words[other.end : item.start] in ([], ["a"], ["the"])
                and words[other.start : other.end] != words[item.start : item.end]
                and (tokens[other.end].boundary >= COMMA or words[other.end] == "a")
                and in_one_sentence(tokens, other.end, item.start + 1)
                and not has_result(item)
            ),
            None,
        )
        if first is None:
            kept.append(item)
        else:
            first.end = item.end
    return kept


def without_words_for(found: list[Item], words: list[str]) -> list[Item]:
    """ "The word for that is dysdiadochokinesis", "the long word is", "ataxia is the word for clumsy heel shin": a term
    is taught, which was not looked for.
    """

    def explains(at: int) -> bool:
        return words[at : at + 2] in _WORD_FOR and "is" in words[max(0, at - 4) : at]

    def is_taught(item: Item) -> bool:
        led = words[max(0, item.start - 4) : item.start]
        explained = explains(item.start - 2) or explains(item.start - 3)
        if item.kind is ItemKind.VALUE:
            return item.grade is None and explained
        called = words[item.end : item.end + 2] in _IS_THE and (explains(item.end + 2) or explains(item.end + 3))
        return item.kind is ItemKind.SUBJECT and (led in _WORDS_FOR or led[-2:] in _WORD_IS or explained or called)

    return [item for item in found if not is_taught(item)]


def without_scale(found: list[Item], words: list[str]) -> list[Item]:
    """ "Grip five. Five is normal power": what a grade means, and no result; but "hip flexion five is normal power"."""
    defined = [at - 1 for at in range(1, len(words)) if words[at] == "is" and words[at : at + 3] in _NORMAL_POWER]
    defined = [at for at in defined if words[at] in NUMBER_WORDS]
    if not defined:
        return found
    said = sorted((item for item in found if item.kind not in WHERE), key=lambda item: item.start)
    dropped: set[int] = set()
    for at in defined:
        last = next((item for item in reversed(said) if item.end <= at), None)
        named = last is not None and last.kind in (ItemKind.SUBJECT, ItemKind.COMMAND, ItemKind.HEADING)
        dropped |= set(range(at + named, at + 4))
    return [item for item in found if item.start not in dropped]


_TO_NERVE = 2
"""Most words from a grade to the nerve that is judged by it ("so the")."""
_WHERE_TO = [[word] for word in "missing further beyond past".split()]


def without_things(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "So the back columns are fine", "a normal haemoglobin", "the left leg is the weaker one": said of no test."""
    taken = held(found)
    nerves = {item.end: item.start for item in found if item.kind is ItemKind.PLACE and item.nerve and not item.ids}
    graded = {item.end for item in found if item.kind is ItemKind.VALUE and item.grade is not None}

    def is_of_a_limb(item: Item) -> bool:
        led = words[item.start - 1 : item.start] in _DETERMINERS and words[item.start] in _COMPARED
        return led and item.end == item.start + 1 and words[item.end : item.end + 1] in _LIMBS

    def is_concluded(item: Item) -> bool:
        at = item.start - 1
        if not item.weak or words[at] not in ("is", "are", "'s"):
            return False
        thing = at
        while thing > 0 and thing - 1 not in taken and words[thing - 1] != "so" and at - thing < _LONGEST_THING:
            thing -= 1
        return (
            words[thing - 1 : thing] == ["so"]
            and words[thing] in ("the", "his", "her")
            and at - thing > 1
            and in_one_sentence(tokens, thing, at + 1)
        )

    def is_of_a_kind(item: Item) -> bool:
        """ "A normal one never does that"."""
        led = words[max(0, item.start - 1) : item.end + 1] == ["a", "normal", "one"]
        return led and words[item.end + 1 : item.end + 2] in _GENERALLY

    def is_away(item: Item) -> bool:
        """ "The tuning fork's gone missing", "it's gone further than that"."""
        led = words[item.start - 1 : item.end] == ["gone", "missing"]
        return led or (words[item.start] == "gone" and words[item.start + 1 : item.start + 2] in _WHERE_TO)

    def is_of_a_nerve(item: Item) -> bool:
        """ "Hip adduction four plus, obturator's fine": after a grade, what that says of the nerve."""
        start = nerves.get(item.start - 1) if words[item.start - 1] in ("is", "'s") else None
        return start is not None and not graded.isdisjoint(range(start - _TO_NERVE, start + 1))

    def is_of_a_noun(item: Item) -> bool:
        after = item.end
        return (
            words[item.start - 1 : item.start] == ["a"]
            and words[item.start : after] == ["normal"]
            and after < len(words)
            and after not in taken
            and tokens[after].boundary < COMMA
            and frequency(words[after]) < _NOUN
            and (after + 1 == len(words) or tokens[after + 1].boundary >= CLAUSE_MARK)
        )

    return [
        item
        for item in found
        if item.kind is not ItemKind.VALUE
        or item.grade is not None
        or not any(
            told(item) for told in (is_concluded, is_of_a_noun, is_of_a_limb, is_of_a_kind, is_away, is_of_a_nerve)
        )
    ]


def without_summing(found: list[Item], words: list[str]) -> list[Item]:
    """ "Three, so both of those are weak": what was told is summed up, and the other side is not meant."""
    in_order = sorted(found, key=lambda item: item.start)
    summed: set[int] = set()
    for side, value in itertools.pairwise(in_order):
        sums = words[side.start : side.start + 2] == ["both", "of"] and words[side.start - 1] in ("so", "meaning")
        if sums and side.kind is ItemKind.SIDE and value.kind is ItemKind.VALUE and "reduced" in value.values.values():
            summed |= {id(side), id(value)}
    return [item for item in found if id(item) not in summed]


def without_worse(found: list[Item], words: list[str]) -> list[Item]:
    """ "Wasting in both arms, worse in the right hand": a remark on what was found in both. "The flexors weaker than
    the extensors" is one on the whole limb.
    """
    remarks: set[int] = set()
    for item in found:
        if item.kind is not ItemKind.VALUE:
            continue
        than = [word for word in words[item.end : item.end + 3] if word != "the"]
        if than[:1] == ["than"] and any(word.endswith("ors") for word in than[1:2]):
            remarks.add(id(item))
        if words[item.start] != "worse":
            continue
        if any(
            side.kind is ItemKind.SIDE and side.ids == ("both",) and 0 <= item.start - side.end <= 1 for side in found
        ):
            where = [other for other in found if other.kind in WHERE and 1 <= other.start - item.end <= 3]
            remarks |= {id(item), *map(id, where)}
    return [item for item in found if id(item) not in remarks]
