"""Numbers in talk: which are the value of a result, and which count things, define a grade or name roots."""

from __future__ import annotations

import itertools
import re

from pipeline.mend.numbers import CALLING, OVERCOMING, Number
from pipeline.mend.tokens import CLAUSE_MARK, COMMA, SENTENCE_END, Token, in_one_sentence
from pipeline.mend.words import BE, GRADING, REACHING, frequency
from pipeline.understand.items import WHERE, Item, ItemKind
from pipeline.understand.sides import is_sided, is_told_of_a_side
from pipeline.understand.verdicts import verdict
from pipeline.understand.words import IMPERATIVES, REMARK_WITHIN, is_remark

COPULAS = frozenset("is are was were 's be been looks seems feels remains felt at about".split())
_HEDGES = (
    GRADING
    | REACHING
    | frozenset(
        """a an too solid only just still maybe probably about around roughly say the i'd call it that put at now also
        again both definitely perhaps certainly i make give get find grade of um uh er and or very quite really
        clearly bit slightly erm all strength power there here think would that's it's to am i'm i've as down but
        actually rather nearly almost possibly second third try attempt time generous charitable""".split()
    )
)
_UNDER = frozenset("with against on after".split())
_SHORT = 4
"""Most words that tell how a grade was reached."""
_OF_ONE = frozenset(
    """strong weaker weak stronger good lovely fine normal better worse first now same too quiet bad sore painful easy
        hard affected unaffected healthy""".split()
)
_DESCRIBED = frozenset("that's it's this that is was not".split())
"""What leads to "the interesting one"."""
_COMMON = 3.5
"""Zipf frequency of a word that is no name of a muscle."""
_HIGHEST = 5
_WRITTEN = frozenset("zero nought nil one two three four five 0 1 2 3 4 5".split())
_SIGNED = _WRITTEN | {"plus", "minus", "+", "-"}
_NEARLY_SAID = 0.08
"""Distance up to which a word is as good as the sign that it sounds like."""
_LIKE_TENS = range(13, 20)
"""Degrees that may have been tens: "sixteen" for "sixty"."""
_OTHER_ANGLE = 24
"""Most tokens from the test or the degrees of one side to an angle, with a remark between them."""
_ANGLED = frozenset("degrees raise raising".split())
_LEADING_TO = REACHING | frozenset("to only about just up is at".split())
_DEFINING = (["against"], ["movement"], ["active"], ["no"], ["gravity"], ["a"], ["when"])
_HAS = frozenset("has have had with shows gives".split())
_AFTER_GRADE = frozenset(
    """on in bilaterally both each out and or with throughout apiece again there too either all symmetrical
        now at but while whereas for here overall equally lying sitting seated standing
        supine prone otherwise before after""".split()
)
_NEVER_BEFORE_ON = frozenset("for to fore fife".split())
_SOME_TESTS = (["two"], ["three"], ["four"], ["five"])
_OF_SOME = tuple([word] for word in "on are in all normal intact fine absent".split())
_SAME_WAY = tuple(
    [word]
    for word in """game games drill drills way routine list order idea reason story stretch ones muscles movements
        exercise exercises tests places levels dermatomes roots sites areas side""".split()
)
_EFFORTS = frozenset("kick push pull squeeze grip press lift effort try hold keep".split())
_MANAGED = tuple([word] for word in "strong good nice lovely great weak poor feeble fair decent solid firm big".split())
_TOLD_OF = frozenset("for in is so that's".split())
_PUTTING = (
    ["make", "that"],
    ["make", "it"],
    ["call", "it"],
    ["call", "that"],
    ["but", "no"],
    ["back", "to"],
    ["hold", "on"],
    ["hang", "on"],
    ["me", "see"],
)
_ONE_BY_ONE = (["then", "the", "other"], ["after", "the", "other"], ["at", "a", "time"], ["by", "one"])
_SEEKING = frozenset("see get feel find elicit hear".split())
_NOT = frozenset("can't cannot couldn't don't didn't not".split())
_SENSING = (["feel", "a"], ["there's", "a"], ["see", "a"])
"""What leads to a grade that the examiner feels or sees: "today I can feel a one"."""
_COMPARED = "less more better worse stronger weaker".split()
_BOUNDS = (
    *([word, "than"] for word in _COMPARED),
    *([word, "quite"] for word in ("not", "isn't", "wasn't")),
    *(["not", "even"], ["short", "of"], ["at", "least"], ["at", "most"], ["at", "best"], ["up", "to"]),
)
_LEFT_OPEN = re.compile(
    r"(?:ish|give or take|at (?:best|least|most|worst)|or (?:better|worse|so|more|less|thereabouts|maybe)"
    r"|if (?:i'm|i am|we're|you're) (?:being )?(?:generous|kind|charitable|strict|harsh|pushed|pressed)"
    r"|if (?:pushed|pressed)|question mark|query|possibly|perhaps|maybe"
    r"|before (?:the |his |her )?(?:fall|accident|operation|surgery|stroke|injury|crash|bleed|admission|exercise)"
    r"|(?:stroke|dash|slash) (?:zero|one|two|three|four|five))\b"
)
"""What follows a grade that is not exact: "four, query three", "three at best", "four or thereabouts"."""
_ALMOST, _MAY = frozenset("almost nearly hardly generous charitable".split()), frozenset(("could", "might"))
_OPEN_WITHIN = 6
_BROKEN = tuple([verb, what] for verb in OVERCOMING for what in ("it", "that", "him", "her", "them"))
_NOT_GRADED = tuple([word, "grade"] for word in "couldn't can't cannot not didn't".split())
_THINKING = frozenset("thinks says reckons thought said reckoned".split())
_OWNING = (["your"], ["my"], ["these"], ["those"])
_GRADES = (["grade"], ["grades"], ["point"], ["points"])
_OFF = tuple([word] for word in "better worse weaker stronger less more lower higher down up below above off".split())
_NUMBERED = tuple([word] for word in "item box question step line row field page".split())
_OF_THEM = (["of", "us"], ["of", "them"], ["of", "those"], ["of", "these"], ["of", "your"], ["of", "you"])


def graded(
    number: Number,
    words: list[str],
    tokens: list[Token],
    starts: set[int],
    ends: set[int],
    subject_ends: set[int],
    names: set[int],
    sides: dict[int, int],
    counted: set[int],
) -> Item | None:
    if number.unit == "count" and not 10 <= number.value <= 120:
        return None
    if words[number.end : number.end + 1] in (["means"], ["mean"], ["meaning"]):
        return None  # "four means against some resistance"
    if words[number.end : number.end + 1] == ["is"] and words[number.end + 1 : number.end + 2] in _DEFINING:
        return None  # "grade three is against gravity"
    if number.start in counted or _answers_for_roots(words, number.start) or _counts_things(number, words):
        return None
    before = number.start
    near = before in ends or (before > 0 and words[before - 1] in COPULAS and tokens[before].boundary < 1)
    while (
        before > 0
        and not near
        and tokens[before].boundary < 1
        and (words[before - 1] in _HEDGES or words[before - 1] in COPULAS)
    ):
        before -= 1
        near = before in ends or (before > 0 and words[before - 1] in COPULAS and tokens[before].boundary < 1)
    near = near or (before > 1 and words[before - 1] in ("no", "sorry") and before - 1 in ends)
    led = words[max(0, number.start - 2) : number.start]
    near = near or led in _PUTTING + _BROKEN or (number.unit == "grade" and led in _SENSING)
    near = near or (number.unit == "grade" and _is_put_right(number.start, words, ends))
    near = near or (number.unit == "count" and goes_on_in_degrees(number, words))
    near = near or (number.end in names and words[number.start - 1] in _HAS)  # "she has three wrist extension"
    near = near or (number.end in names and not CALLING.isdisjoint(words[max(0, number.start - 3) : number.start]))
    near = near or (number.unit == "grade" and _is_of_an_effort(words, tokens, number, starts))
    if not near and number.unit == "grade" and not number.homophone and verdict(words, number.start):
        near = _grade_may_end(words, tokens, number.end, starts)
    opens = (
        tokens[before].boundary >= 0.8
        or (words[before - 1] == "today" and tokens[before - 1].boundary >= 0.8)
        or _ends_alone(number, tokens)
        or _is_under_circumstances(number, words, tokens)
    )
    near = near or (number.unit == "grade" and words[number.end : number.end + 1] == ["throughout"])
    near = near or (number.unit == "grade" and not number.homophone and _is_of_a_name(words, number.end, names))
    if not (near or opens) and number.unit == "grade" and not number.homophone:
        at = number.start
        while at > 0 and not near and tokens[at].boundary < 1 and number.start - at < 9:
            near = at in subject_ends
            at -= 1
        near = near and _grade_may_end(words, tokens, number.end, starts)
    following = number.end
    if number.homophone and not number.explicit:
        if words[number.start] == "for" and _is_of_a_list(words, number.start, names):
            return None
        closes = following >= len(words) or tokens[following].boundary >= 0.6
        set_against = (number.start in subject_ends or number.start in sides.values()) and _is_set_against(
            following, words, tokens, sides
        )
        stands_alone = words[following : following + 1] == ["on"] and is_sided(following, words, tokens, sides)
        if (
            not (
                number.start in subject_ends
                or (number.start - 1 in subject_ends and words[number.start - 1] in COPULAS)
                or (number.start in sides.values() and closes)  # "and the right for"
                or (number.start - 1 in sides.values() and words[number.start - 1] in COPULAS and closes)
                or (stands_alone and words[number.start] in _NEVER_BEFORE_ON)  # "and for on the left"
            )
            or words[number.start] == "too"
        ) and not set_against:
            return None
        ends_here = (
            closes
            or stands_alone
            or set_against
            or (following in starts and words[number.start] not in ("for",))
            or (following in starts and words[following] not in ("the", "his", "her"))
        )
        if not ends_here:
            return None
    if (
        words[number.start] == "one"
        and not number.explicit
        and words[number.start - 1] in ("left", "right", "other")
        and words[number.start - 2 : number.start - 1] in (["the"], ["his"], ["her"], ["your"])
        and not (words[number.end : number.end + 1] == ["on"] and is_sided(number.end, words, tokens, sides))
    ):
        return None  # "and the left one"
    if _is_somebody(number, words, ends) or _is_one_of_two(number, words):
        return None
    if number.homophone and words[max(0, number.start - 2) : number.start] in _NOT_GRADED:
        return None  # "inversion I couldn't grade for the pain"
    if (
        words[number.start] == "one"
        and not number.explicit
        and words[number.start - 1] in ("left", "right", "other")
        and following < len(words)
        and (words[following] in IMPERATIVES or words[following] in _OF_ONE)
    ):
        return None  # "right one pull in strong"
    weak = not (number.explicit or near or opens)
    if weak or (number.value == 1 and not number.explicit and not near) or (number.unit == "count" and not near):
        return None
    if (
        words[number.start] == "one"
        and not number.explicit
        and number.start not in subject_ends
        and following < len(words)
        and tokens[following].boundary < 0.5
        and following not in starts
        and words[following] not in _WRITTEN  # "one, three": a side each
        and words[following]
        not in (
            "on",
            "in",
            "both",
            "and",
            "with",
            "throughout",
            "at",
            "bilaterally",
            "too",
            "here",
            "barely",
            "hardly",
            "now",
            "today",
        )
        and not _is_of_a_name(words, following, names)
        and not (words[following] == "not" and not _WRITTEN.isdisjoint(words[following + 1 : following + 2]))
    ):
        return None
    flags: tuple[str, ...] = ()
    if (
        number.unlike > _NEARLY_SAID
        or words[number.start] == "too"
        or (number.unit == "degrees" and number.value in _LIKE_TENS)
        or (number.unit == "grade" and _is_a_bound(number, words))
    ):
        flags = ("value_uncertain",)
    elif number.vague or number.unlike or (number.homophone and not number.explicit):
        flags = ("grade_uncertain",)
    grade = number.text
    return Item(
        ItemKind.VALUE,
        number.start,
        number.end,
        grade=grade,
        unit=number.unit,
        flags=flags,
        weak=not number.explicit,
        probability=0.8 if flags else 1.0,
    )


def _is_a_bound(number: Number, words: list[str]) -> bool:
    """ "Almost four", "less than four", "not even a four", "four ish", "four, could be five": not the grade itself."""
    at = number.start - (words[number.start - 1] in ("a", "an"))
    after = words[number.end : number.end + _OPEN_WITHIN]
    left_open = any(
        after[k] in _MAY and after[k + 1] == "be" and after[k + 2] in _WRITTEN for k in range(len(after) - 2)
    )
    vague = _LEFT_OPEN.match(" ".join(after)) is not None
    return words[at - 1] in _ALMOST or words[max(0, at - 2) : at] in _BOUNDS or vague or left_open


def _is_one_of_two(number: Number, words: list[str]) -> bool:
    """ "Lift both knees, one then the other", "on the left I can't see one": a leg, or a jerk, and no grade."""
    if words[number.start] != "one" or number.explicit:
        return False
    sought = words[number.start - 1] in _SEEKING and not _NOT.isdisjoint(words[max(0, number.start - 3) : number.start])
    return (
        sought or words[number.end : number.end + 3] in _ONE_BY_ONE or words[number.end : number.end + 2] in _ONE_BY_ONE
    )


def _is_set_against(at: int, words: list[str], tokens: list[Token], sides: dict[int, int]) -> bool:
    """ "Inversion right too, left four", "biceps too on the right and four on the left": after a result of its own the
    other side has one.
    """
    if words[at : at + 2] == ["on", "the"] and at + 2 in sides:
        at = sides[at + 2]
        other = words[at + 2 : at + 4] == ["on", "the"] and at + 4 in sides
        return words[at : at + 1] in (["and"], ["but"]) and words[at + 1] in _WRITTEN and other
    after = sides.get(at)
    graded = after is not None and words[after : after + 1] and words[after] in _WRITTEN
    return bool(graded) and in_one_sentence(tokens, at, at + 1)


def grades_after_roots(found: list[Item], tokens: list[Token], movements: set[str]) -> list[Item]:
    """ "Dorsiflexion L4 five on both sides": without another result the last number is the grade, and shown.

    Where the next result is that of the other side ("S1 two on the right three on the left") it is surely the grade.
    """
    values = {item.start for item in found if item.kind is ItemKind.VALUE}
    ordered = sorted((item for item in found if item.kind not in WHERE or item.weak), key=lambda item: item.start)
    out: list[Item] = []
    for before, named, place, after in zip([None, *ordered], ordered, ordered[1:], [*ordered[2:], None], strict=False):
        is_movement = named.kind is ItemKind.COMMAND or (named.kind is ItemKind.SUBJECT and named.ids[0] in movements)
        if (
            not (is_movement and place.kind is ItemKind.PLACE and place.weak and place.start == named.end)
            or (before is not None and _is_told_of(before, named, tokens))
            or int(place.ids[-1][1:]) > _HIGHEST
        ):
            continue
        parted = after is not None and _is_parted_by_sides(place.end, after, values, tokens)
        if after is not None and _is_result_of(after, place, tokens) and not parted:
            continue
        grade = place.ids[-1][1:]
        place.ids, place.end = place.ids[:-1], place.end - 1
        flags = () if parted else ("value_uncertain",)
        out.append(Item(ItemKind.VALUE, place.end, place.end + 1, grade=grade, unit="grade", flags=flags))
    return found + out


def _is_told_of(value: Item, named: Item, tokens: list[Token]) -> bool:
    """ "Four minus for the calf S1 two", "so that's the quads L3 four": the name has its result before it."""
    between = (token.text for token in tokens[value.end : named.start])
    return value.kind is ItemKind.VALUE and not _TOLD_OF.isdisjoint(between)


def _is_result_of(value: Item, place: Item, tokens: list[Token]) -> bool:
    return value.kind is ItemKind.VALUE and in_one_sentence(tokens, place.end, value.start + 1)


def _is_parted_by_sides(at: int, value: Item, values: set[int], tokens: list[Token]) -> bool:
    """ "| on the right and three on the left": a side on either hand of a grade, and none after the second."""
    before = [token.text for token in tokens[at : value.start]]
    if before[-1:] in (["and"], ["but"]):
        before.pop()
    after = [token.text for token in tokens[value.end : value.end + len(before)]]
    sides = {*before[-1:], *after[-1:]} == {"left", "right"} and before[:-1] == after[:-1]
    led = before[:-1] in ([], ["on", "the"])
    return value.grade is not None and sides and led and value.end + len(after) not in values


def _is_put_right(at: int, words: list[str], ends: set[int]) -> bool:
    """ "Four, no, he'd let go of my hand, five", "four, he says, no, it's five": after a remark on the first grade."""
    no = next((k for k in range(at - 1, max(at - REMARK_WITHIN, 0), -1) if words[k] == "no"), None)
    if no is None or any(end in ends for end in range(no + 2, at)):
        return False
    graded = no in ends or (no - 2 in ends and words[no - 1] in _THINKING)
    return graded and is_remark(words[no + 1 : at])


def goes_on_in_degrees(number: Number, words: list[str]) -> bool:
    """ "Seventy degrees on the left but only thirty five on the right", "straight leg raise never tight, ninety on both
    sides", "the left reaches forty".
    """
    said = not _ANGLED.isdisjoint(words[max(0, number.start - _OTHER_ANGLE) : number.start])
    at = number.start
    while at > 0 and words[at - 1] in _LEADING_TO:
        at -= 1
    led = at < number.start and words[at - 1] in ("left", "right")
    return said and (led or is_told_of_a_side(words, number.end))


def _is_of_an_effort(words: list[str], tokens: list[Token], number: Number, starts: set[int]) -> bool:
    """ "Strong kick, five", "a feeble push two", "push, push, push, four": what the patient managed, and its grade."""
    urged = words[number.start - 2 : number.start - 1] == words[number.start - 1 : number.start]
    tried = words[number.start - 1] in _EFFORTS and (urged or words[number.start - 2 : number.start - 1] in _MANAGED)
    return tried and _grade_may_end(words, tokens, number.end, starts)


def _answers_for_roots(words: list[str], at: int) -> bool:
    """ "The roots for biceps? Five and six": what follows the name are roots."""
    asked = next((k for k in range(at - 1, max(at - 8, 0), -1) if words[k] in ("root", "roots")), None)
    return asked is not None and words[asked + 1 : asked + 2] in (["for"], ["of"], ["to"], ["supplying"])


def _grade_may_end(words: list[str], tokens: list[Token], at: int, starts: set[int]) -> bool:
    """After a bare grade comes a break, a new item or a small word, not the noun that it counts."""
    return at >= len(words) or tokens[at].boundary >= 0.5 or at in starts or words[at] in _AFTER_GRADE


def is_of_named_things(words: list[str], at: int) -> bool:
    """ "The same muscles", "the same three on the left"."""
    counted = words[at : at + 1] in _SOME_TESTS and words[at + 1 : at + 2] in _OF_SOME
    return counted or words[at : at + 1] in _SAME_WAY


def past_small(words: list[str], at: int, names: set[int]) -> int:
    """The first token from `at` on that is neither a side nor a determiner, or begins one of the `names`."""
    while words[at : at + 1] and words[at] in ("the", "his", "her", "left", "right", "both") and at not in names:
        at += 1
    return at


def _is_of_a_name(words: list[str], at: int, names: set[int]) -> bool:
    """ "Four for the left hip flexors", "three in knee extension": a small word joins a grade to the name after it."""
    if words[at : at + 1] not in (["for"], ["in"]):
        return False
    return past_small(words, at + 1, names) in names


def _ends_alone(number: Number, tokens: list[Token]) -> bool:
    """ "I think it's weak but, four.": a grade between a comma and the end of the sentence."""
    return (
        number.unit == "grade"
        and not number.homophone
        and tokens[number.start].boundary >= COMMA
        and (number.end >= len(tokens) or tokens[number.end].boundary >= SENTENCE_END)
    )


def _is_under_circumstances(number: Number, words: list[str], tokens: list[Token]) -> bool:
    """ "With some coaxing four.", "against gravity three.": all that a short sentence says."""
    if number.unit != "grade" or number.homophone:
        return False
    if number.end < len(tokens) and tokens[number.end].boundary < SENTENCE_END:
        return False
    start = number.start
    while start > 0 and number.start - start < _SHORT and tokens[start].boundary < CLAUSE_MARK:
        start -= 1
    return start < number.start and words[start] in _UNDER and tokens[start].boundary >= CLAUSE_MARK


def counted_aloud(numbers: list[Number]) -> set[int]:
    """Where numbers begin that lead up to a count: "one, two, three beats"."""
    found: set[int] = set()
    for number, following in reversed(list(itertools.pairwise(numbers))):
        if (
            (following.unit == "beats" or following.start in found)
            and number.end == following.start
            and number.value == following.value - 1
            and not number.explicit
        ):
            found.add(number.start)
    return found


_TESTED_THINGS = frozenset(
    """jerks reflexes muscles groups movements tests modalities joints fingers toes limbs levels roots dermatomes places
        sites""".split()
)
"""What is counted between "all" and its result."""


def _counts_things(number: Number, words: list[str]) -> bool:
    """ "Squeeze your two knees in", "the two of them": no grade."""
    if number.explicit:
        return False
    before = words[max(0, number.start - 2) : number.start]
    if before == ["of", "the"]:
        return True  # "the weaker of the two"
    if before[-1:] == ["all"] and before[0] in _SIGNED:
        return True  # "are five, all three"
    things = not _TESTED_THINGS.isdisjoint(words[number.end : number.end + 1])
    if before[-1:] == ["all"] and things and BE.isdisjoint(before):
        return True  # "right arm, all three jerks are two plus", but "are all five, reflexes"
    if words[number.end : number.end + 1] in _GRADES and words[number.end + 1 : number.end + 2] in _OFF:
        return True  # "one grade better than the left"
    if words[number.start - 1 : number.start] in _NUMBERED:
        return True  # "item four, knee extension"
    if words[number.start - 1 : number.start] == ["same"] and is_of_named_things(words, number.start):
        return True
    others = words[number.end : number.end + 3] == ["of", "the", "other"]
    owned = words[number.start - 1 : number.start] in _OWNING
    if owned and words[max(0, number.start - 3) : number.start - 1] == ["all", "of"]:
        # "All of these five" is a grade, "all of these five muscles" is none
        after = words[number.end : number.end + 1]
        owned = after in _SAME_WAY or not BE.isdisjoint(after)
    return others or owned or words[number.end : number.end + 2] in _OF_THEM


def _is_somebody(number: Number, words: list[str], ends: set[int]) -> bool:
    """ "Tom, you're the normal one", "the quiet one first", "that's the telling one": said of a person, a limb or a
    test, no grade.
    """
    before = words[max(0, number.start - 2) : number.start]
    if words[number.start : number.end] != ["one"] or before[-1:] == ["the"]:
        return False
    described = before[:1] == ["the"] and words[number.start - 3] in _DESCRIBED and number.start not in ends
    return before[:1] in (["the"], ["your"], ["a"]) and (
        before[-1] in _OF_ONE or (described and frequency(before[-1]) > _COMMON)
    )


def _is_of_a_list(words: list[str], at: int, names: set[int]) -> bool:
    """ "Five for hip flexion, for knee extension": the small word joined the name before, too."""
    return at + 1 in names and any(
        start in names and words[start - 1 - (words[start - 1] in ("the", "his", "her"))] == "for"
        for start in range(max(2, at - 4), at)
    )
