"""Where clauses begin: punctuation and pauses where there are any, the turns of spoken English where there are none."""

from __future__ import annotations

from pipeline.mend.matches import Cover, Match
from pipeline.mend.numbers import TELLING
from pipeline.mend.terms import is_side
from pipeline.mend.tokens import CLAUSE_MARK, COMMA, SENTENCE_END, Token
from pipeline.mend.words import STATES, WHERETO
from pipeline.understand.words import HAPPENED, IMPERATIVES

CLAUSE = 1.0
_OPENERS = frozenset(
    """i i'm i'd i'll i've he he's he'd she she's she'd it it's that's there there's here here's let let's
        we we're we'll we'd you you'd you'll you're they they're they'd if when unless whenever remember
        what what's who which where why how does do did can could would should suppose imagine okay ok now
        so next then but please because and""".split()
)
_BIND = frozenset(
    """don't am i you he she we they it there this not never to if when unless whenever that who which what
        where because as than and or but so while since of for with to at in on how why the a an let lets
        let's can could would do does did should will is are was were be then now okay i'd i'll we'd
        we'll you'd you'll they'll he'll she'll like about by""".split()
)
_TURNED_TO = (["now"], ["please"], ["sir"], ["madam"], ["next"])
"""What follows "other arm" where the patient is to move that one."""
_MOVED_PARTS = frozenset("heel foot feet toe toes knee elbow wrist hand finger fingers thumb".split())
_OF_THE_PART = frozenset("left right other the your that big great".split())
_WAYS = tuple([way] for way in (*sorted(WHERETO), "on", "onto", "to", "towards"))
_BEGINNING = frozenset("start starting begin beginning".split())
_INVERTED = frozenset("am can could would do does did should will".split())
_PREDICATES = frozenset(
    """is was feels felt looks seems has had would could should can can't couldn't will won't may might
        goes went doesn't didn't isn't wasn't comes gives makes hurts have are were see get know want find
        need just say think'd'll'd never always often usually must ought tend do did don't""".split()
)
_ASKED = frozenset("you i we he she they it anyone anybody someone somebody that this the".split())
_INVERTED_SUBJECTS = frozenset(
    "the his her both either any it this that there he she these those one left right".split()
)
_SOFT_AFTER_OPENER = {
    "and": 0.3,
    "that's": 0.9,
    "it's": 0.9,
    "then": 0.8,
    "because": 0.5,
    "so": 0.9,
    "which": 0.4,
    "there": 0.6,
    "here": 0.8,
    "now": 1.0,
}


_TAGS = tuple([verb, who] for verb in "did didn't have haven't".split() for who in ("i", "we"))
_AFTER_A_TAG = frozenset("so and but then".split())
_STRENGTH = frozenset(("power", "strength"))
_WHOSE = frozenset("the his her left right both".split())
_WITHIN = (["of"], ["in"], ["from"], ["for"])
_TO_SUPPOSED = 4
"""Most tokens from "if" to the heading that it supposes something of."""
_HEARERS = frozenset("you anyone anybody".split())
_BY_DEFAULT = ["unless", "i", "say"]
"""A whole condition by itself: "both sides unless I say: hip flexion four"."""
_OTHERWISE = frozenset("otherwise so different differently".split())
_PONDERED = (["see"], ["think"], ["check"], ["look"], ["be"], ["count"], ["feel"], ["try"])
_SOUGHT = frozenset("if how what whether you your that this the it for at".split())
_EXAMINED = frozenset("looked seen done tested examined checked covered assessed".split())
_SUMMING = frozenset("summarise summarize summary recap conclude conclusion".split())
_TO_SUM = frozenset("like want going need able asked have me try just here this".split())
_SEEING = frozenset("see find note notice saw found noted noticed".split())
FOUND = frozenset("found seen felt heard".split())
"""What one might have done in "had I found one brisk"."""
_MOVED = frozenset("heel heels foot feet toes wrist elbow".split())
"""What goes back, in "heel back to your bottom"."""
_PART_OF_IT = frozenset("just only from that's at with of by is for".split())
_THAT = frozenset("this that these those".split())
_DUTY = frozenset("must should always never need have don't may can could will".split())
_WHO_CAN = (["i"], ["we"], ["he"], ["she"], ["little"])
_PEOPLE = frozenset("nobody everybody everyone somebody someone".split())
_SPEAKERS = frozenset("i i'd i'll i've we we'd we'll".split())


def _leads_in(tokens: list[Token], match: Match) -> bool:
    """Whether a side or limb is said with a preposition, at the head of its statement."""
    before = [token.text for token in tokens[max(0, match.start - 2) : match.start]]
    names = any(meaning.kind.startswith(("side_", "region_", "site")) for meaning in match.term.meanings)
    return names and bool({"in", "on"}.intersection(before))


def _preposition_of(match: Match, tokens: list[Token]) -> int:
    return match.start - 1 if tokens[match.start - 1].text in ("in", "on") else match.start - 2


def _is_sided(match: Match, tokens: list[Token], sides: set[int]) -> bool:
    """ "Five on both sides | in the arms I did grip": what was said before has its side."""
    return _preposition_of(match, tokens) in sides


def _tells(tokens: list[Token], at: int, told: set[int]) -> bool:
    """Whether the examiner says of himself that he gives a result: "I'd call that absent"."""
    after = at + 1
    if after >= len(tokens) or tokens[after].text not in TELLING:
        return False
    while after + 1 < len(tokens) and after - at < 4 and after + 1 not in told:
        after += 1
        if tokens[after].text not in ("it", "that", "this", "at", "as", "about", "a", "maybe"):
            return False
    return after + 1 in told


def _is_of_a_finding(at: int, ends: set[int], told: set[int], tokens: list[Token]) -> bool:
    """ "You get brisk jerks": a finding before the heading that is said of no test before it."""
    found = at - 1 in told and at - 1 not in ends and tokens[at - 2].text != "a"
    return found and all(token.boundary < COMMA for token in tokens[at - 1 : at + 1])


_USUAL = frozenset("normal usual average standard baseline".split())


def is_pondering(tokens: list[Token], at: int) -> bool:
    """Whether "let me see" or "let me count" is said at a token, and nothing that is looked for."""
    if tokens[at].text != "let":
        return False
    said = [token.text for token in tokens[at : at + 4]]
    return said[:2] == ["let", "me"] and said[2:3] in _PONDERED and _SOUGHT.isdisjoint(said[3:])


def _is_by_default(tokens: list[Token], at: int) -> bool:
    """Whether something new begins at a token after "both sides unless I say"."""
    return [token.text for token in tokens[max(0, at - 3) : at]] == _BY_DEFAULT and tokens[at].text not in _OTHERWISE


def _is_to_be_kept(tokens: list[Token], at: int) -> bool:
    """Whether "this you must always say", "that you should write down" begins at a token."""
    said = [token.text for token in tokens[at + 1 : at + 3]]
    return said[:1] == ["you"] and not _DUTY.isdisjoint(said[1:]) and tokens[at - 1].text not in _BIND


def is_what_can_be_had(tokens: list[Token], at: int) -> bool:
    """Whether "what" is said at a token of a part, as in "just what I can reach", and asks nothing."""
    if tokens[at].text != "what" or at == 0 or tokens[at - 1].text not in _PART_OF_IT:
        return False
    return tokens[at].boundary < COMMA and [token.text for token in tokens[at + 1 : at + 2]] in _WHO_CAN


def _is_seen_to(at: int, limbs: dict[int, int], tokens: list[Token]) -> bool:
    """Whether it is said of a limb at a token that it was examined: "arms seen last week", "the arms were done"."""
    end = limbs.get(at + (tokens[at].text in ("the", "his", "her")), len(tokens))
    end += end < len(tokens) and tokens[end].text in ("was", "were")
    return end < len(tokens) and tokens[end].text in _EXAMINED


def _ends_a_tag(tokens: list[Token], at: int) -> bool:
    """Whether something new begins at a token after "I forgot the tone, didn't I"."""
    return tokens[at].text in _AFTER_A_TAG and [token.text for token in tokens[max(0, at - 2) : at]] in _TAGS


def _is_supposed(tokens: list[Token], at: int) -> bool:
    """Whether a heading is what an "if" supposes: "if the leg reflexes were lost"."""
    before = tokens[max(0, at - _TO_SUPPOSED) : at]
    return any(token.text == "if" for token in before) and all(
        token.boundary < COMMA or token.text == "if" for token in before
    )


def _has_power(muscle: Match, tokens: list[Token]) -> bool:
    """ "Left quads power four": of that muscle; but "no wasting of the quads, power four in both legs"."""
    after = tokens[muscle.end : muscle.end + 1]
    if not after or after[0].text not in _STRENGTH or after[0].boundary >= COMMA:
        return False
    before = [token.text for token in tokens[max(0, muscle.start - 3) : muscle.start] if token.text not in _WHOSE]
    return any(meaning.kind == "muscle" for meaning in muscle.term.meanings) and before[-1:] not in _WITHIN


def mark_clauses(tokens: list[Token], cover: Cover, reactions: list[tuple[int, int]]) -> None:
    """Raises `Token.boundary` to at least `CLAUSE` where a clause begins."""
    inside = {at for match in cover.matches for at in range(match.start + 1, match.end)}
    headings = {
        match.start
        for match in cover.matches
        if any(meaning.kind.startswith("section_") for meaning in match.term.meanings)
    }
    headings -= {match.end for match in cover.matches if _has_power(match, tokens)}
    wide = {match.start for match in cover.matches if match.start in headings and match.end - match.start > 1}
    said = [match for match in cover.matches if is_side(match.term)]
    sides = {match.end for match in said}
    limbs = {
        match.end
        for match in said
        if match.end - match.start > 1 and tokens[match.start - 1].text not in ("on", "in", "the")
    }
    turns = {
        match.start
        for match in said
        if match.term.words[0] == "other" and [token.text for token in tokens[match.end : match.end + 1]] in _TURNED_TO
    }
    subjects = {
        match.start: match.end
        for match in cover.matches
        if any(meaning.kind in ("manoeuvre", "muscle") and meaning.section is None for meaning in match.term.meanings)
    }
    made_out = {match.start for match in cover.matches if match.mended and match.start in subjects}
    limbs_named = {
        match.start: match.end
        for match in cover.matches
        if any(meaning.kind.startswith("region_") for meaning in match.term.meanings)
    }
    ends = (
        {match.end for match in cover.matches}
        | {n.end for n in cover.numbers}
        | {r.end for r in cover.roots}
        | {end for _, end in reactions}
    )
    last = {match.end: match for match in cover.matches}
    told = {n.start for n in cover.numbers if n.unit == "grade"} | {
        match.start for match in cover.matches if any(meaning.kind == "value" for meaning in match.term.meanings)
    }
    graded = {n.end for n in cover.numbers if n.unit == "grade"}
    for at in range(1, len(tokens)):
        token, before = tokens[at], tokens[at - 1].text
        if at in inside:
            continue
        raised = token.boundary
        following = tokens[at + 1].text if at + 1 < len(tokens) else ""
        if (token.text in ("it", "you") and following not in _PREDICATES) or (token.text == "it's" and at in sides):
            pass
        elif token.text == "before" and following in _HEARERS and at in ends | {end + 1 for end in ends}:
            raised = max(raised, CLAUSE)  # "two beats, and before you ask, two can be normal"
        elif token.text == "now" and _sends_a_part(tokens, at):
            pass  # "left heel now on to the right knee", "foot now up"
        elif token.text in ("to", "in") and following in _SUMMING and before not in _TO_SUM:
            raised = max(raised, SENTENCE_END)  # "unable to stand | to summarise reduced tone"
        elif token.text in _THAT and _is_to_be_kept(tokens, at) and (at in ends or token.text != "that"):
            raised = max(raised, CLAUSE)  # "five in both legs, this you must always say"
        elif at in turns and at in ends:
            raised = max(raised, SENTENCE_END)  # "plantarflexion four plus, other leg now", "right, other arm please"
        elif token.text in _BEGINNING and following == "with" and before not in _BIND and at in ends:
            raised = max(raised, CLAUSE)  # "normal in both arms | start with the right, elbow out"
        elif token.text == "excuse" and following == "me":
            raised = max(raised, CLAUSE)  # somebody breaks in
        elif is_pondering(tokens, at):
            pass  # "the right leg, let me see, also increased"
        elif token.text in ("is", "are") and following == "your" and at in ends:
            if tokens[at + 2 : at + 3] and tokens[at + 2].text not in _USUAL:  # "two is your normal"
                raised = max(raised, CLAUSE)  # "normal at both knees, is your toe up or down"
        elif token.text == "that" and following == "one" and tokens[at + 2 : at + 3] and tokens[at + 2].text == "is":
            raised = max(raised, CLAUSE)  # "kick out, oh, that one is strong"
        elif token.text == "that" and following == "one's":
            raised = max(raised, CLAUSE)  # "big toe up, that one's slow in everybody"
        elif token.text in _INVERTED:
            if at + 1 < len(tokens) and tokens[at + 1].text in _ASKED and before not in _BIND | {"me", "way"}:
                raised = max(raised, CLAUSE)
        elif (
            token.text in ("had", "were", "should")
            and (at in ends or token.boundary >= 0.5 or _might_have(at, subjects, tokens))
            and following in _INVERTED_SUBJECTS
            and not (following in ("both", "all") and at + 2 in told)  # "hip and knee flexion were both five"
            and [word.text for word in tokens[at + 1 : at + 3]] != ["the", "same"]
            and (token.text != "had" or not HAPPENED.isdisjoint(word.text for word in tokens[at + 2 : at + 8]))
        ):
            raised = max(raised, CLAUSE)  # "had the reflexes been brisk", "were the toes upgoing"
        elif token.text in ("there", "there's") and at in last and _leads_in(tokens, last[at]):
            joint = _preposition_of(last[at], tokens) - 1  # "in the legs there is wasting"
            if joint > 0 and tokens[joint].text in ("and", "but"):
                tokens[joint].boundary = max(tokens[joint].boundary, CLAUSE)
        elif (
            token.text in _SPEAKERS
            and at in last
            and _leads_in(tokens, last[at])
            and (_is_sided(last[at], tokens, sides) or following in _SEEING)
        ):
            opening = _preposition_of(last[at], tokens)
            tokens[opening].boundary = max(tokens[opening].boundary, CLAUSE)
        elif (
            token.text in _SPEAKERS
            and (at in ends or is_pondering(tokens, max(0, at - 3)))
            and _tells(tokens, at, told)
        ):
            pass  # "hip flexion I make that four"
        elif before not in _BIND and _is_seen_to(at, limbs_named, tokens):
            raised = max(raised, CLAUSE_MARK)  # "ankle jerks absent | arms seen last week"
        elif token.text in _PEOPLE and (at in ends or (before in ("and", "but") and at - 1 in ends)):
            raised = max(raised, CLAUSE)  # "wasting in both legs and nobody wrote it down"
        elif token.text == "had" and following == "i" and tokens[at + 2 : at + 3] and tokens[at + 2].text in FOUND:
            raised = max(raised, CLAUSE)  # "had I found one brisk"
        elif (token.text == "i" and before == "had" and following in FOUND) or is_what_can_be_had(tokens, at):
            pass
        elif token.text in _OPENERS and before not in _BIND:
            raised = max(raised, _SOFT_AFTER_OPENER.get(token.text, CLAUSE))
        elif (
            token.text in _OPENERS
            and (token.text in ("if", "when", "unless", "what", "who", "why", "how") or following == "way")
            and before in ("and", "but", "so", "because")
        ):
            raised = max(raised, CLAUSE)
        elif (
            token.text in ("up", "back")
            and at in ends
            and [word.text for word in tokens[at + 1 : at + 3]] == ["on", "your"]
        ):
            raised = max(raised, CLAUSE)  # "normal at L5 up on your heels"
        elif (
            token.text in IMPERATIVES
            and at not in made_out  # "reduced right pin break"
            and before not in _BIND
            and before
            not in (
                "not",
                "never",
                "in",  # "in March"
                "eyes",  # "with the eyes open"
                "toes",  # "toes curl"
                "and",
                "just",
                "you",
                "they",
                "we",
                "i",
                "now",
                "please",
                "can't",
                "cannot",
                "won't",
                "couldn't",
                "me",
                "them",
                "to",
                "let",
                "the",
                "a",
            )
            and not (token.text == "grip" and before in ("his", "her", "their"))
        ):
            raised = max(raised, 0.7)
        elif (
            at in headings
            and (
                (token.text == "hammer" and at in graded)
                or not (_is_supposed(tokens, at) or _is_of_a_finding(at, ends, told, tokens))
            )
            and (at in ends or before in _BIND or token.boundary > 0.2 or at in wide)
            and not (
                at in sides
                and token.boundary < 0.5
                and (token.text == "tone" or at in limbs or following in ("is", "are"))
            )
            and before
            not in (
                "right",
                "left",
                "both",
                "the",
                "of",
                "full",
                "normal",
                "and",
                "his",
                "her",
                "that",
                "this",
                "no",
                "on",
                "for",
                "in",
                "good",
                "all",
                "tendon",
                "to",
                "reduced",
                "my",
                "a",
            )
        ):
            raised = max(raised, CLAUSE_MARK)  # "if it moves it earns a one | hammer, left knee jerk two"
        elif (
            at in subjects
            and at not in sides
            and before not in _BIND
            and subjects[at] < len(tokens)
            and tokens[subjects[at]].text in STATES
        ):
            raised = max(raised, 0.7)
        if before == "say" and _is_by_default(tokens, at):
            raised = max(raised, SENTENCE_END)
        if _ends_a_tag(tokens, at):
            raised = max(raised, CLAUSE)
        if (
            token.text in ("back", "moving", "turning", "over", "onto", "starting", "beginning")
            and before not in _BIND | _MOVED
            and at + 1 < len(tokens)
            and tokens[at + 1].text in ("to", "on", "with", "onto")
        ):
            raised = max(raised, CLAUSE)
        token.boundary = raised
    for start, end in reactions:
        if start in sides and end in told and start - 1 not in inside and tokens[start].boundary <= COMMA:
            continue  # "on the right fine, normal"
        if start > 0 and start not in inside:
            tokens[start].boundary = max(tokens[start].boundary, CLAUSE)
        if end < len(tokens) and end not in inside:
            tokens[end].boundary = max(tokens[end].boundary, CLAUSE)


def _sends_a_part(tokens: list[Token], now: int) -> bool:
    """ "Left heel | now on to the right knee": where a part goes that an order begins with."""
    at = now - 1
    if tokens[at].text not in _MOVED_PARTS or [token.text for token in tokens[now + 1 : now + 2]] not in _WAYS:
        return False
    while at > 0 and tokens[at].boundary < COMMA and tokens[at - 1].text in _OF_THE_PART:
        at -= 1
    return at == 0 or tokens[at].boundary >= COMMA


def _might_have(had: int, subjects: dict[int, int], tokens: list[Token]) -> bool:
    """ "Gait was slow | had the left knee jerk been lost": what might have been found, whatever stands before it."""
    named = (subjects[at] for at in (had + 2, had + 3) if at in subjects)
    return any(not HAPPENED.isdisjoint(token.text for token in tokens[end : end + 1]) for end in named)


def answers(tokens: list[Token], full: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """ "Push down, strong": words of full power that answer the order of their sentence, as a reaction does."""
    found = []
    for start, end in full:
        if tokens[start].boundary < COMMA or (end < len(tokens) and tokens[end].boundary < COMMA):
            continue
        at = start - 1
        while at > 0 and tokens[at].boundary < COMMA:
            at -= 1
        if at >= 0 and tokens[at].text in IMPERATIVES:
            found.append((start, end))
    return found


def spans(tokens: list[Token]) -> list[tuple[int, int]]:
    """(start, end) of each clause."""
    starts = [0] + [at for at in range(1, len(tokens)) if tokens[at].boundary >= CLAUSE]
    return list(zip(starts, [*starts[1:], len(tokens)], strict=True)) if tokens else []
