"""What was left out, and why."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import pairwise

from pipeline.mend.tokens import CLAUSE_MARK, COMMA, SENTENCE_END, Token, closes, in_one_sentence
from pipeline.understand.items import OPPOSITE, WHERE, Item, ItemKind, held
from pipeline.understand.talk import Kind
from pipeline.understand.telling import Cues

_REASONS = ("pain", "declined", "deferred", "unable")
_REASON_REACH = 18
_COULD_NOT = frozenset("could couldn't can't cannot unable not".split())
_BECAUSE = (["because"], ["as"], ["since"], ["due"], ["for"], ["with"], ["through"], ["under"])
_CAUSE_REACH = 20
"""Most tokens back to a reason that "so" refers to."""
_WORN = frozenset("plaster cast splint brace boot dressing backslab orthosis fixator".split())
_TO_A_REASON = frozenset(
    """is was are were 's he she they he's she's they're he'd she'd they'd he'll she'll been has being
        to be patient the we sides side both same reason i've i today for now no not so it that that's it's this
        likewise also again too until till test testing sign""".split()
)
_TESTING = (["test"], ["do"], ["try"], ["check"], ["examine"], ["assess"], ["attempt"], ["ask"], ["look"], ["get"])
_SAID_BETWEEN = 7
"""Most tokens from a result to what is not going to be done about it ("which at ninety I'm not going to chase")."""
_DOING = frozenset("do have try attempt perform let me us test check the his her left right".split())
"""What stands between "declined to" and the test."""
_EXCUSING = frozenset("he he's she she's it's there's that's they've they're because as his her the".split())
_PUTTING_OFF = frozenset(
    "i'll we'll will i we i'd we'd i'm we're am are and just then now have i've we've had on in".split()
)
_I_SHALL = frozenset("i'll we'll".split())
_I_WILL = (["i", "will"], ["we", "will"], ["i", "shall"], ["we", "shall"])
_THIS_ONE = (["the", "left", "one"], ["the", "right", "one"])
_REMARK = 4
"""Most tokens from a name to what puts it off, with a remark between."""
_SAID_AGAIN: tuple[list[str], ...] = ([], ["so"], ["so", "it's"], ["so", "that's"])
"""What stands between two words for one omission."""
_COMING_BACK = frozenset("on in at when once after next later tomorrow and".split())
"""What follows "come back to" where the test it is said of stands before it."""
_THERE_OR_NOT = ("presence", "clonus")
_CONSEQUENCE = 5
"""Most tokens from a reason to the "so" that tells what was left out."""
_LINKED = 2
"""Most tokens from what was left out to its side ("on the")."""
_PROMISE = 9
"""Most tokens from "I'll" to "later"."""
_HAVING = frozenset("i we have i've we've had".split())
_I_DO_NOT = re.compile(
    r"(?:i|we) (?:(?:don't|do not) (?:do|test|check|examine|explore|assess|investigate|perform|try)"
    r"|(?:did not|didn't)|leave(?: it| them)?)(?= |$)"
    r"|(?:i'm|we're|(?:i|we) (?:am|are)) not (?:trying|chancing|risking|forcing|doing|attempting)(?: it| that)?(?= |$)"
)
_I_DO_NOT_LENGTH = 5
_EXAMINER = frozenset("i we i'm we're".split())
_GOING_ON = frozenset("today now here because as since for until till on in i we there and".split())
"""What follows "Romberg I leave", beside an excuse."""


_DULY = frozenset("formally properly specifically separately".split())
_TEST = frozenset("test tested assess assessed examine examined check checked done performed measure measured".split())


def not_duly_tested(words: list[str], kind_at: list[Kind]) -> list[Item]:
    """ "Gait not formally assessed", "tone couldn't be properly tested": left out."""
    found: list[Item] = []
    for at, word in enumerate(words[:-1]):
        if word not in _DULY or words[at + 1] not in _TEST or kind_at[at] is not Kind.RESULT:
            continue
        start = at - 1 - (words[at - 1] in ("be", "been"))
        if start >= 0 and (words[start] in ("not", "cannot") or words[start].endswith("n't")):
            found.append(Item(ItemKind.OMISSION, start, at + 2, ("not_done",)))
    return found


def _promises(words: list[str], at: int) -> bool:
    """ "I'll do it later", "the registrar will do it later", "one of you can do it later"."""
    if words[at] in _I_SHALL or words[at : at + 2] in _I_WILL:
        return True
    others = at + 2 if words[at] in ("the", "my", "our") else at + 3 if words[at : at + 2] == ["one", "of"] else at + 1
    who = others > at + 1 or words[at] in ("someone", "somebody")
    return who and words[others : others + 1] in (["will"], ["can"])


def _turns_to_another(start: int, end: int, words: list[str], tokens: list[Token]) -> bool:
    """ "I'll come back to the plantars": what is put off is named after it."""
    ended = closes(tokens, end)
    return words[start] == "come" and not (ended or words[end] in _COMING_BACK)


def _gives_up(at: int, words: list[str], tokens: list[Token]) -> bool:
    """ "At the left great toe I can't, it's bandaged": no word tells what cannot be done."""
    if words[at] not in ("i", "we") or words[at + 1] not in ("can't", "cannot"):
        return False
    ended = closes(tokens, at + 2)
    return ended or words[at + 2] in _EXCUSING


def _set_aside(at: int, words: list[str], tokens: list[Token]) -> int | None:
    """Where "(the gait) I don't examine", "(hip extension) I did not, he's in pain", "(the plantars) I leave" ends."""
    if words[at] not in _EXAMINER or tokens[at].boundary >= SENTENCE_END:
        return None
    said = _I_DO_NOT.match(" ".join(words[at : at + _I_DO_NOT_LENGTH]))
    if said is None:
        return None
    end = at + len(said[0].split())
    ended = closes(tokens, end)
    return end if ended or words[end] in _GOING_ON or words[end] in _EXCUSING else None


def _left_behind(
    found: list[Item], ends: set[int], valued: set[int], words: list[str], tokens: list[Token], kind_at: list[Kind]
) -> list[Item]:
    """ "The gait I don't examine and Romberg neither": what is named before those who leave it out.

    `ends`: where tests, sides and places end, `valued`: where results do.
    """
    told = (at for at in ends - valued if at < len(words) and kind_at[at] is Kind.RESULT)
    closed = [(at, _set_aside(at, words, tokens)) for at in told]
    added = [Item(ItemKind.OMISSION, at, end, ("not_done",)) for at, end in closed if end is not None]
    results = [item for item in (*found, *added) if item.kind in (ItemKind.VALUE, ItemKind.OMISSION)]
    results.sort(key=lambda item: item.end)
    for at in sorted(ends):
        last = bisect_right(results, at, key=lambda item: item.end)
        said = words[at : at + 1] == ["neither"] and tokens[at].boundary < SENTENCE_END
        if said and last and results[last - 1].kind is ItemKind.OMISSION:
            added.append(Item(ItemKind.OMISSION, at, at + 1, ("not_done",)))
    return added


def _so_untested(
    reason: tuple[int, int, str], found: list[Item], words: list[str], tokens: list[Token], scales: dict[str, str]
) -> bool:
    """ "She's unable to stand, so no Romberg and no gait": what a reason denies was left out. What is there or not may
    be denied for itself ("so no wasting"), and a reflex that is missing is put to a person.
    """
    _, end, kind = reason
    so = next((at for at in range(end, min(end + _CONSEQUENCE, len(words))) if words[at] == "so"), None)
    if so is None or kind == "pain" or not in_one_sentence(tokens, end, so + 1):
        return False
    at, seen = so + 1, False
    denials = {item.start: item for item in found if item.kind is ItemKind.NEGATION}
    while at in denials:
        named = next((item for item in found if item.kind is ItemKind.SUBJECT and 1 <= item.start - at <= 3), None)
        scale = scales.get(named.ids[0]) if named is not None else None
        if named is None or scale in _THERE_OR_NOT:
            break
        denial = denials[at]
        denial.kind, denial.ids, denial.forward, seen = ItemKind.OMISSION, (kind,), True, True
        denial.flags = ("value_uncertain",) if scale == "reflex" else ()
        at = named.end + (words[named.end : named.end + 1] in (["and"], ["or"]))
    return seen


_SPEAKING = frozenset("i i've we never you".split())


def omissions(
    found: list[Item],
    words: list[str],
    tokens: list[Token],
    cues: Cues,
    kind_at: list[Kind],
    scales: dict[str, str],
) -> None:
    """Gives each omission its reason, and makes an omission of a reason that stands directly at a subject; `scales`:
    that of each manoeuvre.
    """
    reasons = [(start, end, kind) for kind in _REASONS for start, end in cues.get(kind, ())]
    reasons = sorted(reasons + [(at, at + 2, "unable") for at in range(len(words) - 1) if _gives_up(at, words, tokens)])
    reasons = [
        reason
        for reason in reasons
        if words[reason[0] - 1] not in _SPEAKING or words[reason[0] : reason[1]] != ["said", "no"]
    ]  # "wasting, I never said, no wasting in either leg"
    reasons = [reason for reason in reasons if not _so_untested(reason, found, words, tokens, scales)]
    _without_reach(found, reasons, words, tokens)
    causes = _painful_and_so(found, reasons, words)
    found[:] = [item for item in found if not (item.kind is ItemKind.VALUE and item.start in causes)]
    subjects = [item for item in found if item.kind in (ItemKind.SUBJECT, ItemKind.HEADING) and not item.section_only]
    subjects.sort(key=lambda item: item.start)
    starts = [item.start for item in subjects]
    stops = sorted(
        item.start
        for item in found
        if (item.kind in (ItemKind.VALUE,) and not item.reaction and not item.weak)
        or (item.kind is ItemKind.SUBJECT and not item.section_only)
    )
    omitted = held(item for item in found if item.kind is ItemKind.OMISSION)
    denied = held(item for item in found if "absent" in item.values.values())  # "tremor I couldn't find"
    sided = held(item for item in found if item.kind is ItemKind.SIDE)
    ends = {
        item.end
        for item in found
        if item.kind in (ItemKind.SUBJECT, ItemKind.SIDE, ItemKind.PLACE, ItemKind.COMMAND, ItemKind.HEADING)
    }
    valued = _ends_of_results(found)
    told_to = valued | {item.end for item in found if item.is_place and item.start in valued}
    stated = {item.start for item in found if item.kind is ItemKind.VALUE and item.grade is not None}
    found[:] = [item for item in found if not _is_let_be(item, valued, ends, words)]
    found += _left_behind(found, ends - omitted, valued, words, tokens, kind_at)
    omitted = held(item for item in found if item.kind is ItemKind.OMISSION)
    left_out = {item.start for item in found if item.kind is ItemKind.OMISSION} | {start for start, _, _ in reasons}
    told_at = sorted((item.start, item.kind) for item in found if item.kind in (ItemKind.SUBJECT, ItemKind.VALUE))
    last_before = _last_before(found)
    groups = {item.end for item in subjects if item.kind is ItemKind.HEADING or item.ids[0].startswith("group:")}
    added: list[Item] = []
    own: set[int] = set()  # reasons that are said of another test
    for start, end, kind in reasons:
        if start in omitted | denied or kind_at[start] in (Kind.TEACHING, Kind.QUESTION, Kind.ASIDE):
            continue
        if kind == "pain" and (words[start] != "too" or _goes_on_to_a_result(end, told_at, tokens)):
            continue
        before = start
        while (
            before > 0
            and before not in ends
            and tokens[before].boundary < SENTENCE_END
            and (words[before - 1] in _TO_A_REASON or words[max(0, before - 3) : before] in _THIS_ONE)
        ):
            before -= 1
        if _explains(before, last_before, tokens):
            continue
        refused_another = before < start and before in valued and tokens[before].boundary >= SENTENCE_END
        direct = before in ends and tokens[start].boundary < 1.2 and not refused_another
        # "Pinprick I am putting off", "light touch I have deferred"
        putting = words[start].endswith("ing") or not _HAVING.isdisjoint(words[max(0, start - 1) : start])
        if kind == "deferred" and not direct and (putting or set(words[start:end]) & {"that", "it", "those", "them"}):
            opening = start
            while opening > 0 and (words[opening - 1] in _PUTTING_OFF or opening - 1 in sided):
                opening -= 1
            direct = any(
                item.end == opening and (tokens[item.start].boundary >= 1 or (putting and opening < start))
                for item in subjects
            ) or (not putting and opening < start and _is_remarked_on(opening, subjects, told_to, tokens))
        if kind == "deferred" and not direct and not _turns_to_another(start, end, words, tokens):
            meant = next((at for at in range(start - 1, max(start - _PROMISE, 0), -1) if _promises(words, at)), 0)
            direct = (  # "anal tone I'll do later"
                meant in ends
                and meant not in groups
                and all(tokens[at].boundary < CLAUSE_MARK for at in range(meant, start + 1))
                and not any(meant < at <= start for at in stops)
            )
            start = meant if direct else start
        # "Pinprick, he does not wish it, so declined", "gait, he is still in bed, so deferred"
        concluded = words[start] in ("declined", "refused") or words[max(0, start - 1)] == "so"
        if not direct and concluded:
            named = max((item.end for item in subjects if item.end <= start), default=-_REASON_REACH)
            direct = (
                start - named < _REASON_REACH
                and in_one_sentence(tokens, named, start + 1)
                and not any(named <= at < start for at in (*stops, *omitted, *(item.start for item in added)))
            )
        ahead = (
            kind in ("declined", "unable", "deferred")
            and any(
                all(tokens[at].boundary < 1 for at in range(end, item.start + 1))
                and not (kind == "unable" and item.end in stated)  # "it has been in plaster, hamstrings five"
                and left_out.isdisjoint((item.end, item.end + 1))  # "she declined, so Romberg not done"
                for item in subjects[bisect_left(starts, end) : bisect_left(starts, end + 4)]
            )
            and words[end : end + 1] not in (["because"], ["to"])
            and not any(
                omission.start < start and start - omission.end < _REASON_REACH
                for omission in found
                if omission.kind is ItemKind.OMISSION
            )
        )
        if kind == "declined" and words[end : end + 1] == ["to"]:  # "he refused to walk on his heels", "to do Romberg"
            tried = end + 1
            while tried < len(words) and words[tried] in _DOING and tried not in starts:
                tried += 1
            ahead = tried in starts and in_one_sentence(tokens, end, tried + 1)
            own |= {start} if ahead else set()
        if words[start:end] and words[start] in _WORN and any(item.end == start and item.is_place for item in found):
            continue  # "elbow splint", "below knee plaster"
        overlap = any(added_item.end > start for added_item in added)
        if (direct or ahead) and not overlap:
            added.append(Item(ItemKind.OMISSION, start, end, (kind,)))
    found += added
    closed = sorted([0, *(item.end for item in found if item.kind in (ItemKind.VALUE, ItemKind.OMISSION))])
    explained: set[int] = set()
    for item in list(found):
        if item.kind is not ItemKind.OMISSION or item.ids != ("not_done",):
            continue
        because = next(
            (
                k
                for k in range(item.end, min(item.end + 7, len(words)))
                if words[k] in ("because", "as", "since", "due")
            ),
            None,
        )
        stop = next(
            (at for at in stops if at >= (item.end if because is None else because + 8)),
            len(words),
        )
        limit = min(stop, item.end + _REASON_REACH)
        told = [
            (start, end, kind)
            for start, end, kind in reasons
            if (item.end <= start < limit and start not in own) or (item.start <= start and end <= item.end)
        ]
        if told and _is_of_the_other(told[0], item, found, tokens):
            found.append(Item(ItemKind.OMISSION, *told[0][:2], told[0][2:]))
            told = []
        if told:
            explained |= set(range(item.end, told[0][0]))
            item.end = _past_reason(told[0], item, found, words, tokens)
        given = (kind for start, _, kind in told if because is not None and start > because)
        reason = next(given, told[0][2] if told else None)
        if reason is None:
            floor = closed[bisect_right(closed, item.start) - 1]
            reach = _CAUSE_REACH if "so" in words[max(0, item.start - _CAUSE_REACH) : item.start] else 10
            floor = max(floor, item.start - reach)
            reason = next(
                (kind for start, end, kind in reversed(reasons) if floor <= start and end <= item.start), None
            )
        if reason is None:  # "the ankle is in a cast, so dorsiflexion was not tested"
            cause = next((k for k in reversed(added) if 0 < item.start - k.end <= 12), None)
            if cause is not None and set(words[cause.end : item.start]) & {"so", "therefore", "hence"}:
                reason = cause.ids[0]
                found[:] = [other for other in found if other is not cause]
        if reason:
            item.ids = (reason,)
    found[:] = [item for item in found if not (item.start in explained and _is_what_hurts(item, words))]


def _is_of_the_other(reason: tuple[int, int, str], item: Item, found: list[Item], tokens: list[Token]) -> bool:
    """ "Not tested on the right, declined on the left": no reason for the first, but what there was of the other."""
    start, end, _ = reason
    if not in_one_sentence(tokens, item.end, end + 1):
        return False
    sides = sorted((other for other in found if other.kind is ItemKind.SIDE), key=lambda side: side.start)
    first = [side for side in sides if item.end <= side.start <= item.end + _LINKED and side.end <= start]
    other = [side for side in sides if end <= side.start <= end + _LINKED and side.linked]
    return bool(first and other) and first[0].ids[0] == OPPOSITE.get(other[0].ids[0])


def _past_reason(
    reason: tuple[int, int, str], item: Item, found: list[Item], words: list[str], tokens: list[Token]
) -> int:
    """Where an omission ends: "not done, [she declined], both sides" has its side behind the reason."""
    start, end, _ = reason
    if start < item.end or not _TO_A_REASON.issuperset(words[item.end : start]):
        return item.end
    sided = any(side.kind is ItemKind.SIDE and side.start == end for side in found)
    return end if sided and in_one_sentence(tokens, item.end, end + 1) else item.end


def _without_reach(
    found: list[Item], reasons: list[tuple[int, int, str]], words: list[str], tokens: list[Token]
) -> None:
    """ "The ankle jerk could not be elicited because of the plaster": left out for that reason, and not absent."""
    for item in found:
        if item.values.get("reflex") != "0" or words[item.start] not in _COULD_NOT:
            continue
        if words[item.end : item.end + 1] not in _BECAUSE:
            continue
        why = (kind for start, _, kind in reasons if item.end < start <= item.end + _CAUSE_REACH)
        reason = next(why, None)
        if reason is not None and in_one_sentence(tokens, item.start + 1, item.end + 1):
            item.kind, item.ids, item.values = ItemKind.OMISSION, (reason,), {}


def _goes_on_to_a_result(at: int, told_at: Sequence[tuple[int, ItemKind]], tokens: list[Token]) -> bool:
    """ "Biceps too sore for more than three", "too sore, four": graded after all."""
    if at < len(tokens) and tokens[at].boundary < COMMA:
        return True
    following = bisect_left(told_at, (at,))
    if following == len(told_at) or told_at[following][1] is not ItemKind.VALUE:
        return False
    return in_one_sentence(tokens, at, told_at[following][0] + 1)


def _is_remarked_on(at: int, subjects: list[Item], told_to: set[int], tokens: list[Token]) -> bool:
    """ "Gait, on two sticks, | I'll leave that to the physio": of the test with which the statement opens."""
    return any(
        0 < at - item.end <= _REMARK
        and (tokens[item.start].boundary >= 1 or item.start in told_to)
        and in_one_sentence(tokens, item.end, at + 1)
        and told_to.isdisjoint(range(item.end, at + 1))
        for item in subjects
    )


def _is_let_be(item: Item, valued: set[int], ends: set[int], words: list[str]) -> bool:
    """ "Left plantar equivocal, I'm not going to argue", "reduced, which I'm not going to chase": what is done about a
    result, and no test is left out.
    """
    if item.kind is not ItemKind.OMISSION or words[item.end - 3 : item.end] != ["not", "going", "to"]:
        return False
    if words[item.end : item.end + 1] in _TESTING:
        return False
    before = range(item.start, max(item.start - _SAID_BETWEEN, 0), -1)
    last = next((at for at in before if at in ends or at in valued), 0)
    return last in valued or (last > 0 and words[last] == "which")


def _is_what_hurts(item: Item, words: list[str]) -> bool:
    """ "Not done, that knee again, pain": a part of the body that is why, and no test."""
    return item.section_only and not item.linked and words[item.start - 1] in ("that", "this", "his", "her", "the")


def _last_before(found: list[Item]) -> dict[int, Item]:
    """For each token, the item that begins last of those that begin before it and end shortly before it or later."""
    last: dict[int, Item] = {}
    for item in found:
        for at in range(item.start + 1, item.end + _LINKED + 1):
            if at not in last or item.start > last[at].start:
                last[at] = item
    return last


def _explains(at: int, last_before: dict[int, Item], tokens: list[Token]) -> bool:
    """ "Not done on either side, | he's unable to lie flat": why that was left out, and nothing of what follows."""
    while tokens[at].boundary < SENTENCE_END:
        last = last_before.get(at)
        if last is None or last.kind not in WHERE:
            return last is not None and last.kind is ItemKind.OMISSION
        at = last.start
    return False


def _painful_and_so(found: list[Item], reasons: list[tuple[int, int, str]], words: list[str]) -> set[int]:
    """ "It's too painful, so not tested": where a pain stands that is why something was left out, and no result."""
    left_out = {item.start for item in found if item.kind is ItemKind.OMISSION}
    return {
        at
        for start, end, kind in reasons
        if kind == "pain" and words[end : end + 1] == ["so"] and end + 1 in left_out
        for at in range(start, end)
    }


def _ends_of_results(found: list[Item]) -> set[int]:
    """Where results end, with the sides and places after them: "two plus on both sides. She doesn't want her socks off"
    refuses no test.
    """
    ends: set[int] = set()
    for item in sorted(found, key=lambda item: item.start):
        if (item.kind is ItemKind.VALUE and not item.reaction) or (
            item.kind in WHERE and not ends.isdisjoint(range(item.start - 2, item.start + 1))
        ):
            ends.add(item.end)
    return ends


def without_reasons(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Straight leg raise not done on either side, too painful": why it was left out, no result."""

    def is_reason(item: Item) -> bool:
        if item.kind is not ItemKind.VALUE or item.grade is not None or "pain" not in words[item.end - 1]:
            return False
        before = [other for other in found if other.end <= item.start]
        last = max(before, key=lambda other: other.end, default=None)
        while last is not None and last.kind in (ItemKind.SIDE, ItemKind.PLACE, ItemKind.REGION):
            before.remove(last)
            last = max(before, key=lambda other: other.end, default=None)
        return last is not None and last.kind is ItemKind.OMISSION and in_one_sentence(tokens, last.end, item.start + 1)

    return [item for item in found if not is_reason(item)]


def left_out_once(found: list[Item], words: list[str]) -> list[Item]:
    """ "Proprioception I was told to leave out, so joint position at the toe not done": said again, with its place; and
    "at the ankles I haven't checked, not done": said in two words.
    """
    dropped: set[int] = set()
    where = held(item for item in found if item.kind in WHERE or item.is_place)
    told = [item.start for item in found if item.kind is ItemKind.VALUE]
    said = [item for item in found if item.kind is ItemKind.OMISSION or _names_a_test(item)]
    for first, second in pairwise(said):
        if first.kind is second.kind is ItemKind.OMISSION and words[first.end : second.start] in _SAID_AGAIN:
            first.ids = first.ids if second.ids == ("not_done",) else second.ids
            dropped.add(id(second))
    said = [item for item in said if id(item) not in dropped]
    for named, first, again, second in zip(said, said[1:], said[2:], said[3:], strict=False):
        if (
            named.kind is again.kind is ItemKind.SUBJECT
            and first.kind is second.kind is ItemKind.OMISSION
            and named.ids == again.ids
            and words[first.end : first.end + 1] == ["so"]
            and where.issuperset(range(first.end + 1, again.start))
            and not any(named.end <= at < first.start for at in told)
        ):
            dropped |= {id(named), id(first)}
    return [item for item in found if id(item) not in dropped]


def _names_a_test(item: Item) -> bool:
    return item.kind is ItemKind.SUBJECT and not item.section_only
