"""What kind of talk each clause is: a result, an instruction to the patient, teaching, a plan, a question, an aside."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from enum import StrEnum

from pipeline.mend.context import FUNCTION
from pipeline.mend.matches import Cover
from pipeline.mend.tokens import BLOCK_END, CLAUSE_MARK, COMMA, SENTENCE_END, Token
from pipeline.mend.words import BE, REPORTING
from pipeline.understand.clauses import CLAUSE, is_pondering
from pipeline.understand.cues import OF_A_SIDE
from pipeline.understand.sides import is_told_of_a_side
from pipeline.understand.words import HAPPENED, IMPERATIVES, is_left_out


class Kind(StrEnum):
    RESULT = "result"
    INSTRUCTION = "instruction"
    TEACHING = "teaching"
    PLAN = "plan"
    QUESTION = "question"
    ASIDE = "aside"


@dataclass(slots=True)
class Clause:
    """Tokens `start`..`end` (exclusive) of one clause, with its kind of talk."""

    start: int
    end: int
    kind: Kind


Cues = dict[str, list[tuple[int, int]]]

_LIMBS = frozenset("arm arms leg legs limb limbs".split())
_ADDRESSED = frozenset("you me us him her them".split())
_ADDRESSING = frozenset("your you me what which who where how why".split())
_OPENING = frozenset("if unless suppose supposing imagine whenever had should were when".split())
_POLITE_IF = (
    "if you could",
    "if you can",
    "if you would",
    "if you wouldn't",
    "if anything hurts",
    "if it hurts",
    "if you feel",
    "if that hurts",
    "if it's sharp",
    "if you don't",
    "if i can",
    "if i could",
    "if i may",
)
_TOLD = frozenset("say call put grade give rate score make describe record agree add note".split())
_UNREAL = ("modal", "general", "history", "hypothetical", "other_person", "plan")
"""Kinds of cues for what is no result of this patient now."""
_RESUME = frozenset("here now okay ok right so next today his her this in on left right both there the".split())
_LEAD_INS = frozenset(
    """and now then okay ok right so just please sir madam love first next well good lovely great can you
        could would want i'd like to again let's uh um er alright""".split()
)
_TO_PATIENT = (
    "for me",
    "your",
    "don't let me",
    "do not let me",
    "against my",
    "against me",
    "hold it",
    "you feel",
    "let go",
    "my hand",
    "my hands",
    "my finger",
    "my fingers",
    "my fist",
    "stop me",
    "push me",
    "pull me",
)
_CALLS = frozenset("shout yell say holler know me out speak stop squeal sing scream".split())
_CALLING_OUT = _CALLS | {"tell", "nod"}
_COMPARISONS = frozenset("than compared versus unlike whereas".split())
_NOW = frozenset("now today currently this".split())
_SOON = 10
"""Most tokens from when something was to how it is now, and from an "if" to what it would mean."""
_WHERE_IT_IS = frozenset("it it's they they're he he's she she's".split())
"""What follows "where" in "apart from C7, where it was reduced", "altered at L4, where he feels pins and needles"."""
_QUESTION_LEADS = frozenset(
    "what which who why how does do am is are did can could would where any anyone anybody shall".split()
)
_QUESTION_WORDS = frozenset("what which who why how where".split())
_EXAMINERS = frozenset("i i'll we we'll".split())
"""Who puts a test off in "gait we'll look at when the cast is off"."""


_UP_YOU_GET = (["up", "you", "get"], ["down", "you", "get"], ["off", "you", "get"])
_QUANTITIES = frozenset(
    """of these those such half most many some all the percent per cent a an one two three four five six seven eight
        nine ten twenty thirty forty fifty sixty seventy eighty ninety few several third quarter""".split()
)


class TalkTeller:
    """Tells the kind of each clause from cue phrases, word order, and what the clauses before it were."""

    def tell(self, tokens: list[Token], clauses: list[tuple[int, int]], cues: Cues, cover: Cover) -> list[Clause]:
        reader = _Reader(tokens, cues, cover)
        told: list[Clause] = []
        hypothesis = False  # an "if" is open: what follows is still its consequence
        bare_if = False
        other = False
        for start, end in clauses:
            for first, last in reader.split(start, end, aside=other or (hypothesis and not bare_if)):
                kind = reader.kind(first, last)
                if first > start and kind is Kind.RESULT and told[-1].kind is Kind.INSTRUCTION:
                    tokens[first].boundary = max(tokens[first].boundary, CLAUSE)
                boundary = tokens[first].boundary
                if (
                    kind is Kind.RESULT
                    and bare_if
                    and boundary < BLOCK_END
                    and not (reader.starts_anew(first, last, strictly=True) or comes_true(tokens, first, last))
                ) or (
                    kind is Kind.RESULT
                    and hypothesis
                    and boundary < BLOCK_END
                    and not (
                        reader.starts_anew(first, last)
                        or reader.resumes(told[-1].start, first)
                        or comes_true(tokens, first, last)
                        or reader.leaves_that_out(first, last)
                    )
                ):
                    kind = Kind.TEACHING
                elif (
                    kind is Kind.RESULT
                    and other
                    and boundary < SENTENCE_END
                    and not (reader.starts_anew(first, last) or reader.corrects(first) or reader.updates(first))
                ):
                    kind = Kind.ASIDE
                if (
                    kind is Kind.RESULT
                    and told
                    and told[-1].kind is Kind.ASIDE
                    and boundary < BLOCK_END
                    and (reader.reports(told[-1].start, told[-1].end) or reader.quotes(first))
                ):
                    kind = Kind.ASIDE
                if kind is Kind.RESULT and told and reader.answers(told[-1], first, last):
                    kind = Kind.TEACHING
                if kind is Kind.RESULT and boundary < SENTENCE_END and told:
                    general = reader.tells_of_people(told[-1].start, told[-1].end)
                    kind = Kind.TEACHING if general else kind
                if kind is Kind.ASIDE and told and reader.dated(told[-1].start, first, last):
                    told[-1].kind = Kind.ASIDE
                bare_if = (
                    kind is Kind.TEACHING
                    and reader.opens_hypothesis(first, last)
                    and not reader.tells_its_consequence(first, last)
                )
                hypothesis = kind is Kind.TEACHING
                other = kind is Kind.ASIDE
                told.append(Clause(first, last, kind))
        return told


def comes_true(tokens: list[Token], start: int, end: int) -> bool:
    """ "If it were three I'd worry, | but it's four": how it is, after how it might be."""
    at = start
    while at < end and tokens[at].text in _IN_FACT:
        at += 1
    led = at > start or (start > 0 and tokens[start - 1].text in _IN_FACT)
    return led and [token.text for token in tokens[at : min(at + 1, end)]] == ["it's"]


_IN_FACT = frozenset("but yet however actually well in fact as it happens here".split())

_ENTERED = frozenset("recorded noted entered documented charted".split())
"""What "must be" or "should be" tells the record to hold."""


class _Reader:
    def __init__(self, tokens: list[Token], cues: Cues, cover: Cover) -> None:
        self._words = [token.text for token in tokens]
        self._tokens = tokens
        for match in cover.matches:
            if match.mended:  # the words as heard say nothing about the kind of talk
                self._words[match.start : match.end] = ["-"] * (match.end - match.start)
        idle = {at for at in range(len(tokens)) if self._supposes_nothing(at)}
        for at in idle:
            self._words[at] = "-"
        self._cues = {kind: [span for span in sorted(spans) if span[0] not in idle] for kind, spans in cues.items()}
        self._cues["modal"] = [
            span
            for span in self._cues.get("modal", [])
            if self._words[span[1] : span[1] + 1] != ["not"]
            and not self._had_happened(*span)
            and not (span[0] and self._words[span[0] - 1] == "no" and self._words[span[0]].endswith("'d"))
            and not self._tells_what_was_found(*span)
            and not (
                self._words[span[1] : span[1] + 1] == ["be"] and _ENTERED & {*self._words[span[1] + 1 : span[1] + 3]}
            )
            and not any(start <= span[1] <= end for start, end in self._cues.get("declined", []))  # "she'd rather not"
            and not any(start <= span[0] < end for start, end in self._cues.get("repair", []))  # "I should say"
        ]
        written = [
            (at, at + 2)
            for at, word in enumerate(self._words[:-2])
            if word in _WRITTEN_BY_OTHERS and not _TELLS.isdisjoint(self._words[at + 1 : at + 3])
        ]  # "the GP's letter is saying power two"
        told = self._cues.get("other_person", [])
        others = [
            span
            for span in told
            if self._words[max(0, span[0] - 1)] not in _NO_ASIDE and self._words[span[1] : span[1] + 1] not in _HANDS
        ]
        self._cues["other_person"] = sorted([*others, *written])  # "dear colleague", "with her mother", "mum's hand"
        for unreal in ("modal", "general"):
            self._cues[unreal] = [span for span in self._cues.get(unreal, []) if not self._is_as_expected(span[0])]
        self._cues["general"] = [
            span
            for span in self._cues["general"]
            if not (
                self._looks_and_tells(*span)
                or self._is_of_this_patient(*span)
                or self._turns_thoughts(*span)
                or self._words[max(0, span[0] - 1) : span[1]] in _UP_YOU_GET
                or self._is_thanked(*span)
            )
        ]
        self._cues["history"] = [
            span for span in self._cues.get("history", []) if not (self._moves_back(*span) or self._is_todays(*span))
        ]
        pondered = {at for at in range(len(tokens)) if is_pondering(tokens, at)}
        self._cues = {
            kind: [span for span in spans if pondered.isdisjoint(range(*span))] for kind, spans in self._cues.items()
        }
        self._cue_at = {kind: _positions(spans, len(tokens)) for kind, spans in self._cues.items()}
        self._unreal = _positions([span for kind in _UNREAL for span in self._cues.get(kind, ())], len(tokens))
        size = len(tokens)
        self._subject_end = [0] * (size + 1)
        self._subject = [False] * size
        self._naming = [False] * size  # tokens of a name ("light touch"), which give no order
        self._value_end = [0] * (size + 1)
        self._graded_value = [False] * size
        self._rooted = [False] * (size + 1)
        for root in cover.roots:
            self._rooted[root.start : root.end] = [True] * (root.end - root.start)
        self._value = [False] * size
        self._heading = [False] * size
        self._side = [False] * size
        self._site = [False] * size
        self._omission = [False] * size
        for match in cover.matches:
            for meaning in match.term.meanings:
                if meaning.kind in ("manoeuvre", "muscle") or meaning.kind.startswith("group_"):
                    self._subject[match.start] = True
                    self._subject_end[match.start] = match.end
                    if is_left_out(self._words, match.start, match.end):
                        self._omission[match.end] = True
                    if match.end - match.start > 1:
                        self._naming[match.start : match.end] = [True] * (match.end - match.start)
                elif meaning.kind == "value":
                    self._value[match.start] = True
                    self._value_end[match.start] = max(self._value_end[match.start], match.end)
                elif meaning.kind.startswith("section_"):
                    self._heading[match.start] = True
                elif meaning.kind.startswith("side_"):
                    self._side[match.start : match.end] = [True] * (match.end - match.start)
                elif meaning.kind == "site":
                    self._site[match.start] = True
                elif meaning.kind == "not_done":
                    self._omission[match.start] = True
                elif meaning.kind == "remove":
                    self._naming[match.start : match.end] = [True] * (match.end - match.start)
        for at in range(1, size):
            if self._subject[at] and self._words[at - 1] in ("no", "without", "nor", "any"):
                self._value[at] = True
                self._value_end[at] = self._subject_end[at]
        subject_ends = set(self._subject_end)
        for number in cover.numbers:
            named = number.start in subject_ends and is_told_of_a_side(self._words, number.end)
            if number.unit in ("grade", "degrees", "beats") and (named or not number.homophone):  # "elbow flexion for"
                self._value[number.start] = True
                self._value_end[number.start] = number.end
                self._graded_value[number.start] = True

        self._values = [at for at, is_value in enumerate(self._value) if is_value]
        self._corrections = {start for start, _ in self._cues.get("repair", ())}
        self._turns = {
            start for kind in ("other_person", "general", "history") for start, _ in self._cues.get(kind, ())
        }
        for start, end in self._cues.get("repair", ()):
            self._naming[start:end] = [True] * (end - start)  # "make that four" is no order
        for at in pondered:
            self._naming[at : at + 3] = [True] * 3
        for at in range(size):
            if self._subject[at] and self._words[at] in IMPERATIVES:  # "grip all five"
                after = self._subject_end[at]
                while after < size and (
                    self._words[after] in ("is", "are", "all", "both") or self._side[after] or self._rooted[after]
                ):
                    after += 1
                self._naming[at] = self._naming[at] or (after < size and self._value[after])

    def _tells_what_was_found(self, start: int, end: int) -> bool:
        """ "I could see no wasting": the examiner tells what was found, and nothing that might be."""
        if self._words[start] != "could":
            return False
        by_me = self._words[start - 1 : start] in (["i"], ["we"]) and self._words[end : end + 1] in _FINDING
        return by_me or self._words[start + 1 : start + 3] in _BE_FOUND  # "neither knee jerk could be elicited"

    def _had_happened(self, start: int, end: int) -> bool:
        """ "Because he'd had enough", "I'd wandered off": how it had been, and not how it would be."""
        after = self._words[end : end + 1]
        return self._words[start].endswith("'d") and bool(after) and (after[0] in _DONE or _is_past(after[0]))

    def _supposes_nothing(self, at: int) -> bool:
        """ "If I'm honest", "if pushed", "I suppose": a way to put a result."""
        if self._words[at] == "suppose":
            return self._words[at - 1 : at] in (["i"], ["we"])
        return self._words[at] == "if" and any(self._words[at + 1 : at + 1 + len(end)] == end for end in _IDLY)

    def _is_of_this_patient(self, start: int, end: int) -> bool:
        """ "He overshoots every time", and not "every time you see one"."""
        return self._words[start:end] == ["every", "time"] and self._words[end : end + 1] not in _ANYBODY

    def _is_thanked(self, start: int, end: int) -> bool:
        """ "Thanks everybody", "thank you, everyone": said to those who helped, and not of all people."""
        return self._words[start:end] in (["everyone"], ["everybody"]) and self._words[start - 1 : start] in _THANKING

    def _looks_and_tells(self, start: int, end: int) -> bool:
        """ "We look for wasting, and there isn't any": what is looked for, and then what is found."""
        if self._words[end - 2 : end] != ["look", "for"]:
            return False
        told = next((at for at in range(end, min(end + _SOON, len(self._words))) if self._words[at] == "there"), None)
        return (
            told is not None
            and self._words[told + 1 : told + 2] in _IS_OR_NOT
            and all(token.boundary < SENTENCE_END for token in self._tokens[end : told + 1])
        )

    def _turns_thoughts(self, start: int, end: int) -> bool:
        """ "Right knee jerk, think about the beach, one plus": said to the patient, to take the mind off the hammer."""
        before = self._words[max(0, start - 1) : start]
        return self._words[start:end] == ["think", "about"] and before != [] and before[0] not in _THINKING

    def _moves_back(self, start: int, end: int) -> bool:
        """ "Pull your heel back in", and not "back in March": a direction, no time."""
        ends = end == len(self._words) or self._tokens[end].boundary >= COMMA
        return self._words[start:end] == ["back", "in"] and ends

    def _is_todays(self, start: int, end: int) -> bool:
        """ "Preop exam, tone normal", "admission clerking", and not "at his preop clerking power was five"."""
        led = not _AT_ANOTHER_TIME.isdisjoint(self._words[max(0, start - 1) : start + 1])
        return not led and self._words[end : end + 1] in _OF_TODAY

    def _is_as_expected(self, at: int) -> bool:
        """ "As one would expect", "as you'd expect": said of what was found; "while I think of it" is an aside."""
        before = self._words[max(0, at - 3) : at]
        if before[-2:] == ["while", "i"]:
            return True
        return "as" in before and _EXPECTING.issuperset(before[before.index("as") + 1 :])

    def _waits_for_its_result(self, at: int, end: int) -> bool:
        """ "Remember that T10 is the umbilicus. Vibration": the last words before a breath name what comes after."""
        last = self._words[at - 1]
        return (
            self._subject[at]
            and self._subject_end[at] == end < len(self._words)
            and self._tokens[end].boundary >= BLOCK_END
            and (self._value[end] or self._side[end])
            and last not in FUNCTION
            and last not in IMPERATIVES
            and not (self._value[at - 1] or self._side[at - 1])
        )

    def _has(self, kind: str, start: int, end: int) -> bool:
        return any(self._cue_at.get(kind, ())[start:end])

    def _first(self, kind: str, start: int, end: int) -> tuple[int, int] | None:
        return next((span for span in self._cues.get(kind, ()) if start <= span[0] and span[1] <= end), None)

    def _text(self, start: int, end: int) -> str:
        return " ".join(self._words[start:end])

    def split(self, start: int, end: int, aside: bool) -> list[tuple[int, int]]:
        """Cuts a clause where teaching, history or a comparison turns into a result or the other way round.

        `aside`: an aside or teaching is under way where the clause begins.
        """
        cuts = [start]
        spoiled = aside
        pending: int | None = None
        for at in range(start, end):
            word = self._words[at]
            boundary = self._tokens[at].boundary
            stated = self._values[bisect_left(self._values, cuts[-1]) : bisect_left(self._values, at)]
            if self._is_awaited(at):
                spoiled = True
            elif spoiled and at > cuts[-1] and ((boundary >= 0.5 and self.corrects(at)) or self.resumes(cuts[-1], at)):
                cuts.append(at)
                spoiled = False
            elif spoiled and at > cuts[-1] and self._waits_for_its_result(at, end):
                self._tokens[at].boundary = max(boundary, BLOCK_END)
                cuts.append(at)
                spoiled = False
            elif word in _COMPARISONS and stated and self._has("history", at, end):
                cuts.append(at)
                spoiled = True
            elif self._has("history", at, at + 1) and self._brings_up_to_date(cuts[-1], end):
                continue
            elif stated and not spoiled and self._was_then(stated[-1], at):
                spoiled = not self._gives_way(cuts[-1], end)
                begun = self._points_back(stated) or self._own_beginning(stated[-1], cuts[-1])
                if spoiled and begun is not None and begun > cuts[-1]:
                    cuts.append(begun)
            elif spoiled and at > cuts[-1] and self._has("history", cuts[-1], at) and self.updates(at):
                cuts.append(at)
                spoiled = False
            elif not spoiled and self._turns_away(at) and self._has_left_out(cuts[-1], at):
                cuts.append(max(self._begins_with(at), cuts[-1] + 1))
                spoiled = True
            elif not spoiled and len(stated) > 1 and self._tells_of_some(stated[-1], at):
                cuts.append(at - 1)
                spoiled = True
            elif self._marks_unreal(at):
                defines = word == "means" and len(stated) > 1 and self._value_end[stated[-1]] == at
                if defines and any(self._subject[cuts[-1] : stated[0]]) and not spoiled:
                    cuts.append(stated[-1])  # "five on both sides | three means gravity only"
                elif stated and not spoiled:
                    turn = (
                        self._limit(stated[-1])
                        or self._generality(stated, cuts[-1], at)
                        or next(
                            (
                                k
                                for value in reversed(stated)
                                for k in range(at, value, -1)
                                if self._tokens[k].boundary >= 0.3
                                and (
                                    value == stated[-1]
                                    or (
                                        self._complete_at(value, cuts[-1])
                                        and not self._complete_at(stated[-1], cuts[-1])
                                    )
                                )
                            ),
                            None,
                        )
                    )
                    complete = self._complete_at(stated[-1], cuts[-1])
                    close = self._close_of(stated[-1], at)
                    if turn is not None and (complete or self._site[turn]) and turn < close:
                        turn = close  # not within "in both arms and in both legs", "normal at both knees"
                    if turn is not None:
                        cuts.append(turn)
                    elif complete and not self._is_past(at):
                        cuts.append(max(close, cuts[-1] + 1))
                    elif (
                        word in _TURNS
                        or self._cue_at.get("other_person", [False] * (at + 1))[at]
                        or any(self._value[at:end])
                    ):
                        cuts.append(at)
                    elif complete and (begun := self._own_beginning(stated[-1], cuts[-1])) is not None:
                        cuts.append(begun)
                elif pending is not None and pending > cuts[-1]:
                    cuts.append(pending)
                spoiled = True
            elif stated and not spoiled and self._compares_with_then(at, end):
                cuts.append(at)
                spoiled = True
            elif (
                word == "which"
                and not BE.isdisjoint(self._words[at + 1 : at + 2])
                and self._words[at + 2 : at + 3] != ["what"]
            ):
                continue
            elif word in ("what", "which", "who") and stated and not spoiled and boundary >= 0.3:
                cuts.append(at)
                spoiled = True
            elif (word in IMPERATIVES and not self._naming[at] and self._words[at - 1] not in _NO_ORDER) or (
                word in _ADDRESSING
            ):
                if (
                    word in IMPERATIVES
                    and boundary >= 0.5
                    and (stated or spoiled)
                    and at > cuts[-1]
                    and self._words[at - 1] not in ("me", "let", "to")
                ):
                    cuts.append(at)
                elif stated and not spoiled and self._complete_at(stated[-1], cuts[-1]):
                    pending = next((k for k in (at, at - 1) if self._tokens[k].boundary >= 0.3), pending)
                elif len(stated) > 1 and not spoiled and self._defines(stated[-2], stated[-1], cuts[-1]):
                    pending = stated[-1]
                spoiled = True
            elif word == "my" and self._words[at + 1 : at + 2] in _HANDS and not stated:
                spoiled = True  # "thigh up into my hand"
            elif (
                (
                    spoiled
                    and at > cuts[-1] + 1
                    and self._begins_statement(at, end)
                    and not ((aside or self._has("history", cuts[-1], at)) and self._in_the_past(at, end))
                )
                or (spoiled and self._words[at - 1] == "again" and self._value[at] and word not in _EVERYDAY_VALUES)
                or (
                    spoiled
                    and word == "it's"
                    and boundary >= 0.8
                    and at + 1 < end
                    and self._value[at + 1]
                    and self._words[cuts[-1]] in IMPERATIVES
                )
                or (spoiled and at > cuts[-1] and self._gives_grades(at, end))
                or (spoiled and at > cuts[-1] and self._follows_a_question(cuts[-1], at))
                or (spoiled and self._follows_an_order(cuts[-1], at, end))
            ):
                cuts.append(at)
                spoiled = False
            elif at > cuts[-1] and self._tells_of_a_finding(at):
                cuts.append(max(self._led_by_side(at), cuts[-1]))
                spoiled = False
        cuts = sorted({cut for cut in cuts if cut < end})
        return list(zip(cuts, [*cuts[1:], end], strict=True))

    def _tells_of_some(self, value: int, at: int) -> bool:
        """ "Absent on both sides, some healthy people have one": no result, but how many."""
        return value == at - 1 and self._words[value] in _SOME and self._marks_unreal(at)

    def _turns_away(self, at: int) -> bool:
        """ "Remember ...", "her son says ...", "half of these patients ...": from the examination to no part of it."""
        return self._words[at] == "remember" or at in self._turns

    def _begins_with(self, at: int) -> int:
        """Where "five percent of these patients" begins, told of the cue in it."""
        while at > 0 and self._tokens[at].boundary < COMMA and self._words[at - 1] in _QUANTITIES:
            at -= 1
        return at

    def _has_left_out(self, start: int, end: int) -> bool:
        """ "Romberg is put off | her son says she fell": a test, and that it was left out."""
        named = next((at for at in range(start, end) if self._subject[at]), None)
        return named is not None and self._leaves_out(named, end)

    def resumes(self, start: int, at: int) -> bool:
        """ "Though that might be the plaster, | and normal on the left", "I'd let it pass, | so normal on the left"."""
        led = ("and", "but") if self._words[start] in ("though", "although") else ("so",)
        if self._words[at] not in led or not any(self._value[at + 1 : at + 2]) or "if" in self._words[start:at]:
            return False
        side = self._value_end[at + 1]
        return self._words[side : side + 3] in OF_A_SIDE

    def _limit(self, value: int) -> int | None:
        """Where "more than five beats would be" begins, said after a result."""
        return next(
            (
                k
                for k in range(value - 2, max(value - 5, 0), -1)
                if self._words[k] in ("more", "less", "fewer", "anything")
                and self._words[k + 1] in ("than", "over", "above")
            ),
            None,
        )

    def _generality(self, stated: list[int], start: int, at: int) -> int | None:
        """Where "an upgoing toe would" begins, said after a complete result."""
        done = [value for value in stated if self._complete_at(value, start)]
        if not done or done[-1] == stated[-1]:
            return None
        if self._words[stated[-1] - 1] in ("a", "an") and self._tokens[stated[-1]].boundary < 0.3:
            return stated[-1] - 1
        close = self._close_of(done[-1], at)
        return close if close < at and self._words[close] in ("a", "an", "any", "anyone", "someone", "people") else None

    def _defines(self, value: int, grade: int, start: int) -> bool:
        """ "Absent on both sides two is your normal": a statement about grades begins where a result was complete."""
        said = self._words[self._value_end[grade] : self._value_end[grade] + 1] == ["is"]
        return said and self._complete_at(value, start) and self._close_of(value, grade) == grade

    def _own_beginning(self, value: int, start: int) -> int | None:
        """Where the statement of a value begins, if another stands before it ("gait deferred | the toe was five")."""
        at = next((at for at in range(value - 1, start, -1) if self._subject[at]), None)
        if at is None:
            return None
        while at > start and (self._side[at - 1] or self._words[at - 1] in ("the", "his", "her")):
            at -= 1
        told = any(self._value[k] or self._omission[k] for k in range(start, at))
        return at if at > start and (told or self._is_put_off(start, at)) else None

    def _points_back(self, stated: list[int]) -> int | None:
        """Where "that was only a three" or "which was three" begins, said of the result before it."""
        if len(stated) < 2:
            return None
        was = next(at for at in range(stated[-1] - 1, 0, -1) if self._words[at] in ("was", "were"))
        return was - 1 if self._words[was - 1] in ("that", "which", "it", "this") and was - 1 > stated[-2] else None

    def _close_of(self, value: int, at: int) -> int:
        """Where a stated value ends, with the sides and places said after it."""
        close = self._value_end[value]
        if close < at and self._subject[close] and self._tokens[value].boundary >= 1:
            close = self._subject_end[close]  # "normal gait"
        while close < at and (
            self._side[close]
            or self._words[close] in _BETWEEN
            or self._words[close] in ("to", "and", "through", "down", "throughout")
            or self._words[close] in _LIMBS
            or (self._site[close] and (self._side[close - 1] or self._words[close - 1] in ("at", "the", "both")))
            or self._rooted[close]
        ):
            close += 1
        return close

    def _complete_at(self, value: int, start: int) -> bool:
        """The value at a token closes a statement of its own: a subject, a copula or nothing between, the value."""
        if value > start and self._words[value - 1] in ("it's", "that's") and not self._graded_value[value]:
            return True
        if value > start and self._subject[value] and self._words[value - 1] == "no":
            return True  # "no wasting in either leg"
        if self._tokens[value].boundary >= 1 and self._subject[self._value_end[value] : self._value_end[value] + 1] == [
            True
        ]:
            return True
        for at in range(start, value):
            if self._subject[at]:
                between = self._words[self._subject_end[at] : value]
                if all(
                    word in ("is", "are", "'s", "was", "were") or word in _BETWEEN or word == "-" for word in between
                ):
                    return bool(between) or self._graded_value[value] or self._tokens[start].boundary >= 1
        return False

    def _is_of_then(self, value: int) -> bool:
        """ "Was four", "was only a four"."""
        at = value
        while at > value - 3 and self._words[at - 1] in ("only", "a", "an", "just", "about", "still", "both"):
            at -= 1
        return self._words[at - 1] in ("was", "were")

    def _was_then(self, value: int, at: int) -> bool:
        """ "Was four in March", "was four, according to the letter": the cue at a token says when, or by whom."""
        return (
            self._has("history", at, at + 1)
            and self._is_of_then(value)
            and all(
                token.boundary < COMMA or token.text in ("when", "according") for token in self._tokens[value : at + 1]
            )
        )

    def _compares_with_then(self, at: int, end: int) -> bool:
        """ "Which is where she was before surgery": a remark on what was just found."""
        asked = self._words[at : at + 3]
        remarks = asked[:1] == ["which"] and asked[1:2] in (["is"], ["are"], ["'s"]) and asked[2:] in _AS_THEN
        return remarks and self._has("history", at, end)

    def _gives_way(self, start: int, end: int) -> bool:
        """ "Was absent last week. It's two plus now": how it was, and then how it is."""
        was = [at for at in range(start + 1, end) if self._value[at] and self._is_of_then(at)]
        if not was or not self._has("history", start, end):
            return False
        return any(self.updates(at) for at in range(was[0] + 1, min(was[0] + _SOON, len(self._words))))

    def _is_past(self, at: int) -> bool:
        """The cue places what was said before it in the past, or with another person."""
        return any(self._cue_at[kind][at] for kind in ("history", "other_person") if kind in self._cue_at)

    def _supposes(self, at: int) -> bool:
        """ "Had the hip been weak"."""
        return (
            self._words[at] == "had"
            and self._words[at + 1 : at + 2] in _SUPPOSED
            and not HAPPENED.isdisjoint(self._words[at + 2 : at + 7])
            and not (at and self._words[at - 1] in _PERSONS)
        )

    def _marks_unreal(self, at: int) -> bool:
        if self._supposes(at) or self._turns_to_people(at):
            return True
        if self._words[at] in ("impression", "diagnosis", "conclusion"):
            return True
        if self._tells_after(at) or self._words[at + 1 : at + 2] == ["not"]:
            return False
        return self._unreal[at]

    def _begins_statement(self, at: int, end: int) -> bool:
        """A subject with a value or copula of its own begins here, not governed by the words before it."""
        if self._words[at - 1] == "and" and self._tokens[at - 1].boundary >= 0.3 and at + 1 < end:
            if self._words[at] == "no" and self._subject[at + 1]:
                return True
            if self._subject[at] and self._closes(at, end):
                return True
        if self._asked_about(at):
            return False
        if self._is_supposed(at):
            return False
        if self._words[at - 1] in _GOVERNORS and not (
            self._points_at(at - 1)
            or (self._words[at - 1] in _ADDRESSED and self._side[at])
            or (self._words[at - 1] == "no" and self._tokens[at].boundary >= COMMA)
            or self._words[max(0, at - 2) : at] == ["you", "are"]  # "how high up you are | inversion four"
            or self._leaves_stranded(at)
        ):
            return False
        first = at
        while (
            first < end
            and (
                self._side[first]
                or (self._site[first] and not self._subject[first])
                or self._words[first] in ("on", "in", "the", "his", "her", "at", "both")
            )
            and first < at + 4
        ):
            first += 1
        if first >= end:
            return False
        if self._heading[first] and self._tokens[first].boundary >= 0.6:
            return True
        if self._words[at] == "there" and self._words[at + 1 : at + 2] in (["is"], ["are"], ["was"]):
            return any(self._subject[at + 2 : at + 4])
        if (
            first > at
            and self._side[first - 1]
            and self._words[first] in ("is", "are", "it's")
            and (
                self._value[first + 1 : first + 2] == [True]
                or self._subject[first + 1 : first + 2] == [True]  # "neither leg is wasted"
                or self._words[first + 1 : first + 3] == ["the", "same"]
            )
        ):
            return True
        if self._contrasts(at, end):
            return True
        called = self._words[at - 1] in _CALLED or self._words[max(0, at - 2) : at] in _TOOLS
        if first == at and self._value[at] and self._words[at] not in _EVERYDAY_VALUES:
            after = self._value_end[at]
            asked = called and not _CALLING_OUT.isdisjoint(self._words[max(0, at - _SOON) : at])
            rooted = asked and any(self._rooted[after : after + 2])  # "say when you feel it | intact from L2 to S1"
            return rooted or self._words[after : after + 1] in (["there"], ["here"], ["throughout"])
        if self._words[first] == "no" and first + 1 < end and self._subject[first + 1]:
            return True
        goes_on = self._rooted[at - 1] or self._site[at - 1] or self._side[at - 1]
        placed = not goes_on and self._is_placed(first)
        if first > at and self._value[first] and (any(self._site[at:first]) or placed):
            return True
        if (
            first > at
            and self._value[first]
            and self._words[self._value_end[first] : self._value_end[first] + 1] == ["throughout"]
        ):
            return True  # "right arm full power throughout"
        if self._rooted[first] and (first > at or self._tokens[at].boundary >= COMMA or called):
            while first < end and (self._rooted[first] or self._words[first] in ("and", "to")):
                first += 1
            return first < end and (self._words[first] in ("is", "are") or self._value[first])
        if not self._subject[first]:
            return False
        after = self._subject_end[first]
        while (
            after < end
            and not self._omission[after]
            and not (self._graded_value[after] and not self._rooted[after])
            and (self._side[after] or self._site[after] or self._rooted[after] or self._words[after] in _BETWEEN)
            and after < self._subject_end[first] + 7
        ):
            after += 1
        while after + 1 < end and self._words[after] == "and" and self._subject[after + 1]:
            after = self._subject_end[after + 1]  # "knee extension and knee flexion three"
        if after < end and self._leaves_out(after, after + 1):
            return True
        return bool(
            after < end
            and (self._words[after] in ("is", "are", "'s") or self._value[after])
            and not any(self._words[k] in ("would", "could", "might", "may") for k in range(after, min(after + 4, end)))
        )

    def _is_placed(self, value: int) -> bool:
        """ "Reduced at L5", "absent at the great toe": a finding with its place, and no everyday word."""
        at = self._value_end[value]
        if self._words[value] in _EVERYDAY_VALUES or self._words[at : at + 1] not in _AT:
            return False
        at = self._past_sides(at + 1, len(self._words), ("the", "both"))
        return any(self._rooted[at : at + 1]) or any(self._site[at : at + 1])

    def _follows_a_question(self, start: int, at: int) -> bool:
        """ "Can you feel it buzz | absent at both great toes": the finding after what the patient was asked."""
        asked = self._words[start : start + 2] in _ASKING
        return asked and self._value[at] and self._words[at - 1] not in _GOVERNORS and self._is_placed(at)

    def _follows_an_order(self, start: int, at: int, end: int) -> bool:
        """ "Roll over for me, sir | S3 is reduced", "eyes shut, Tom | C5 to T1 is intact": a place, its finding."""
        if not self._rooted[at] or self._rooted[at - 1] or any(self._unreal[start:at]):
            return False
        first = next((k for k in range(start, at) if self._words[k] not in _LEAD_INS), at)
        if at <= first + 1 or self._words[first] not in IMPERATIVES or self._words[at - 1] in _GOVERNORS:
            return False
        after = at
        while after < end and (self._rooted[after] or self._words[after] in ("and", "to")):
            after += 1
        return self._words[after : after + 1] in (["is"], ["are"]) and any(self._value[after + 1 : after + 2])

    def _is_supposed(self, at: int) -> bool:
        """ "If both | toes went up": the side of the subject was said in the supposition."""
        led = at
        while led > 0 and self._side[led - 1]:
            led -= 1
        return 0 < led < at and self._words[led - 1] in _OPENING

    def _points_at(self, at: int) -> bool:
        """ "With that", "about that": the word stands for what was just said and governs nothing."""
        return self._words[at] == "that" and self._words[at - 1] in ("with", "about", "for", "after")

    def _leaves_stranded(self, at: int) -> bool:
        """ "A calf you could balance a cup on | no fasciculation": the small word before governs nothing."""
        asked = (
            self._words[at - 4 : at - 2] in _I_ASK and self._words[at - 1] in _I_SENSE
        )  # "what do I see | no wasting"
        stranded = (asked or self._words[at - 1] in ("on", "in", "at")) and self._words[at] == "no"
        return stranded and any(self._subject[at + 1 : at + 2])

    def _contrasts(self, at: int, end: int) -> bool:
        """ "Left absent, right one plus": a side and its result, twice."""
        if any(self._subject[max(0, at - 4) : at]):
            return False
        for _ in range(2):
            value = self._past_sides(at, end, ("on", "the", "and"))
            if value == at or value >= end or not self._value[value]:
                return False
            at = self._value_end[value]
        return True

    def _tells_of_a_finding(self, at: int) -> bool:
        """ "There is wasting": a statement of its own, whatever stood before it."""
        return (
            self._words[at] == "there"
            and self._words[at + 1 : at + 2] in (["is"], ["are"])
            and any(self._subject[at + 2 : at + 4])
            and self._words[at - 1] not in _GOVERNORS
        )

    def _led_by_side(self, at: int) -> int:
        """Where "in the right hand there is" begins."""
        first = at
        while first > 0 and (
            self._side[first - 1] or self._site[first - 1] or self._words[first - 1] in ("the", "his", "her")
        ):
            first -= 1
        return first - 1 if 0 < first < at and self._words[first - 1] in ("in", "on", "at") else at

    def _brings_up_to_date(self, start: int, end: int) -> bool:
        """ "Which was absent in March, is one plus": of the same test, what is now."""
        named = next((at for at in range(start, end) if self._subject[at]), end)
        past = next((at for at in range(named, end) if self._words[at] in ("was", "were")), end)
        told = ("now", "is", "are") if past < end and self._words[past - 1] == "which" else ("now",)
        now = next((at for at in range(past, end) if self._words[at] in told), end)
        again = any(self._subject[past:end])
        return not again and any(self._value[now : min(end, now + 3)]) and self._has("history", past, now)

    def _in_the_past(self, at: int, end: int) -> bool:
        """ "Last year his tone was normal": the statement goes on with what was."""
        return any(word in ("was", "were", "had") for word in self._words[at : min(end, at + 6)])

    def _gives_grades(self, at: int, end: int) -> bool:
        """ "Pull me in | five right four left", "push | that's four plus", "don't let me | five and five"."""
        if self._words[at] in ("that's", "it's"):
            found = at + 1 < end and self._value[at + 1] and self._words[at + 1] not in _PRAISE
            return self._grade_at(at + 1, end) is not None or (found and not self._is_consequence(at))
        if any(self._subject[max(0, at - 5) : at]):
            return False
        if self._words[at - 1] in ("to", "for", "of", "count", "than", "about", "at"):
            return False
        side = self._past_sides(at, end, ("on", "the"))
        after = self._grade_at(side, end)
        if after is None:
            return False
        if side == at:
            joined = after + 1 if after < end and self._words[after] == "and" else after
            sided = self._past_sides(after, end, ("on", "the", "each")) > after
            other = self._past_sides(joined, end, ("on", "the"))  # "five and on the left four"
            return sided or self._grade_at(other if after < joined else joined, end) is not None
        if after < end and self._words[after] == "throughout":
            return True
        return after == end or self._grade_at(self._past_sides(after, end, ("and", "on", "the")), end) is not None

    def _is_consequence(self, at: int) -> bool:
        """ "If it catches | that's spasticity", "he reckons | it's tingly"."""
        if self._words[at - 3 : at] == ["as", "you", "like"]:
            return False  # "squeeze as hard as you like | that's strong"
        return self._words[at - 1] in _GOVERNORS | REPORTING or not _OPENING.isdisjoint(
            self._words[max(0, at - _SOON) : at]
        )

    def _grade_at(self, at: int, end: int) -> int | None:
        """Where a grade that begins at a token ends."""
        return self._value_end[at] if at < end and self._graded_value[at] else None

    def _asked_about(self, at: int) -> bool:
        """ "Why is the left ankle jerk", "imagine the left ankle jerk": the subject of a question or a thought."""
        while at > 0 and (self._side[at - 1] or self._words[at - 1] in ("the", "his", "her")):
            at -= 1
        if at > 0 and self._words[at - 1] in ("imagine", "suppose", "supposing"):
            return True
        return at > 1 and self._words[at - 1] in BE and self._words[at - 2] in _QUESTION_LEADS

    def _past_sides(self, at: int, end: int, small: tuple[str, ...]) -> int:
        """The first of at most five tokens from `at` on that is neither part of a side nor one of the small words."""
        stop = min(end, at + 5)
        while at < stop and (self._side[at] or self._words[at] in small):
            at += 1
        return at

    def _closes(self, at: int, end: int) -> bool:
        """The subject at `at` has a grade, or a copula in the present, and a value of its own."""
        after = self._past_sides(self._subject_end[at], end, ("on", "in", "the", "at", "both"))
        return after < end and (self._graded_value[after] or self._words[after] in ("is", "are"))

    def answers(self, question: Clause, start: int, end: int) -> bool:
        """ "What would you expect in a root lesion? Weak dorsiflexion": the answer tells of no patient."""
        asked = self._words[question.start : question.end]
        supposed = question.kind is Kind.QUESTION and any(word in ("would", "expect", "you'd") for word in asked)
        told = any(self._side[start:end]) or any(word in ("is", "are", "'s") for word in self._words[start:end])
        return supposed and not told and not self.starts_anew(start, end)

    def starts_anew(self, start: int, end: int, *, strictly: bool = False) -> bool:
        """The clause begins like a fresh report: a heading, a side or a subject, not a pronoun that points back."""
        first = start
        while first < end and self._words[first] in (
            "and",
            "now",
            "okay",
            "ok",
            "right",
            "so",
            "then",
            "next",
            "but",
            "here",
            "well",
            "today",
            "all",
            "good",
            "anyway",
            "the",
            "on",
            "in",
            "his",
            "her",
            "this",
            "again",
            "back",
            "to",
            "for",
        ):
            if self._words[first] in ("okay", "ok", "here", "now", "right", "next", "today", "anyway") and not (
                strictly and self._tokens[start].boundary < 0.6
            ):
                return True
            first += 1
        if first >= end:
            return False
        if self._heading[first] or self._side[first] or (self._site[first] and any(self._subject[first : first + 3])):
            return True
        if self._words[first] in ("no", "there's", "there") and any(self._subject[first : first + 6]):
            return True
        if self._rooted[first] and self._words[start] not in _TO and any(self._value[first:end]):
            return True
        return (self._subject[first] and any(self._value[first:end])) or (
            self._subject[first] and self._leaves_out(first, end)
        )

    def corrects(self, start: int) -> bool:
        """A correction begins at a token ("make that one")."""
        return start in self._corrections

    def updates(self, at: int) -> bool:
        """ "In March; | it's five today", "last week, | now three": what is, after what was."""
        says = self._words[at] in ("it's", "now", "today", "currently")
        value = next((k for k in range(at + 1, min(at + 4, len(self._words))) if self._value[k]), None)
        if not says or value is None or any(self._subject[at:value]):
            return False
        end = self._value_end[value]
        return self._words[at] != "it's" or not _NOW.isdisjoint(self._words[at + 1 : end + 2])

    def quotes(self, start: int) -> bool:
        """ "The hospital's chart | reads reflexes three plus"."""
        return self._tokens[start].text in ("reads", "says", "states", "describes", "records")

    def dated(self, start: int, end: int, after: int) -> bool:
        """ "Tone was increased | when Dr Mehta saw him in June": the second clause, up to `after`, says when it was."""
        stated = [at for at in range(start, end) if self._value[at]]
        return (
            self._words[end] == "when"
            and self._tokens[end].boundary < CLAUSE_MARK
            and self._has("history", end, after)
            and bool(stated)
            and self._is_of_then(stated[-1])
        )

    def reports(self, start: int, end: int) -> bool:
        """The words before `end` introduce what somebody else found."""
        if self._points_at(end - 1):
            return False  # "her mother helped me with that"
        if self._words[start : start + 2] == ["according", "to"] or self._words[start] == "documented":
            return True
        if self._words[end - 1] in ("chart", "notes", "letter") and "written" in self._words[start:end]:
            return True
        if self._tokens[end].boundary == CLAUSE_MARK and self._words[end - 1] in _WRITTEN_BY_OTHERS:
            return True  # "listen to this from the letter: power three"
        return not self._has("remove", end - 1, end) and self._words[end - 1] in (
            "wrote",
            "charted",
            "writes",
            "says",
            "said",
            "reckons",
            "reckoned",
            "found",
            "thought",
            "recorded",
            "documented",
            "reported",
            "had",
            "noted",
            "that",
            "read",
            "reads",
        )

    def opens_hypothesis(self, start: int, end: int) -> bool:
        return any(
            self._words[k] in ("if", "unless", "suppose", "supposing", "imagine", "whenever", "when")
            for k in range(start, min(start + 4, end))
        ) and not self._has("modal", start, end)

    def leaves_that_out(self, start: int, end: int) -> bool:
        """ "I'll do that when the nurse is back, | so that's deferred": said of the test that was named before."""
        for at in range(start, end):
            if self._words[at] in ("that's", "it's", "so"):
                after = at + 1 + (self._words[at + 1 : at + 2] in (["that's"], ["it's"]))
                if any(self._omission[after : after + 2]) or self._puts_off(after, min(after + 2, end)):
                    return True
        return False

    def tells_of_people(self, start: int, end: int) -> bool:
        """ "In a healthy adult", "in babies": people in general, not this patient."""
        first = start + (self._words[start] in ("and", "but", "now", "so"))
        if self._words[first : first + 1] != ["in"]:
            return False
        said = self._words[first + 1 : min(first + 6, end)]
        people = next((at for at, word in enumerate(said) if word in _PEOPLE), None)
        return people is not None and _THIS_ONE.isdisjoint(said[:people])

    def _tells_of_a_kind(self, words: list[str]) -> bool:
        """ "A cerebellar man sways with his eyes open": whoever has it."""
        people = next((at for at, word in enumerate(words[1:4], 1) if word in _PEOPLE), None)
        does = words[people + 1 : people + 2] if people is not None else []
        return words[0] in ("a", "an") and any(word.endswith("s") and word not in BE for word in does)

    def _turns_to_people(self, at: int) -> bool:
        """ "In a healthy adult the toe goes down", and not "two beats in a healthy person would be nothing"."""
        if not self.tells_of_people(at, len(self._words)):
            return False
        people = next(k for k in range(at, len(self._words)) if self._words[k] in _PEOPLE)
        return self._words[people + 1 : people + 2] in (["the"], ["a"], ["an"], ["it"], ["they"], ["you"])

    def tells_its_consequence(self, start: int, end: int) -> bool:
        """ "If the thumb jumps, that is Hoffmann's"."""
        return any(
            word == "that's" or (word == "that" and self._words[at + 1] in ("is", "means"))
            for at, word in enumerate(self._words[start + 2 : end - 1], start + 2)
        )

    def kind(self, start: int, end: int) -> Kind:
        words = self._words[start:end]
        text = f" {' '.join(words)} "
        if self._has("repair", start, start + 1) and words[0] in IMPERATIVES:
            return Kind.RESULT  # "make that left mute"
        asks = next(
            (
                k
                for k, word in enumerate(words)
                if word not in ("and", "so", "now", "okay", "ok", "then", "but", "well")
            ),
            0,
        )
        lead = next((k for k, word in enumerate(words) if word not in _LEAD_INS), len(words) - 1)
        orders = lead < len(words) and words[lead] in IMPERATIVES and not self._naming[start + lead]
        of_patient = words[asks : asks + 2] in (["is", "your"], ["are", "your"])  # "is your toe up or down"
        asked = of_patient or (self._tokens[start].asked and not self._asks_after(start, end))
        subject, value = any(self._subject[start:end]), any(self._value[start:end])
        if any(f" {polite} " in text for polite in _POLITE_IF):
            return Kind.INSTRUCTION
        if asked or (
            (
                words[asks] in _QUESTION_LEADS
                and not (
                    words[asks] == "which"
                    and not BE.isdisjoint(words[asks + 1 : asks + 2])
                    and words[asks + 2 : asks + 3] != ["what"]
                )
                and not (words[asks] == "do" and words[asks + 2 : asks + 3] in (["now"], ["again"]))
                and not (words[asks] == "which" and self._names_alone(start) and self._leaves_out(start, end))
                and not (words[asks] == "where" and not _WHERE_IT_IS.isdisjoint(words[asks + 1 : asks + 2]))
            )
            and not self._stated(start, end)
        ):
            if any(text.startswith(f" {w} ") for w in ("can you", "could you", "would you", "will you")) or (
                " can you " in text and any(w in IMPERATIVES for w in words)
            ):
                return Kind.INSTRUCTION
            return Kind.QUESTION
        if self._has("other_person", start, end):
            return Kind.ASIDE
        if self._has("history", start, end) and not (
            self._brings_up_to_date(start, end) or self._gives_way(start, end) or self._leaves_out_first(start, end)
        ):
            return Kind.ASIDE
        if self._is_awaited(start):
            return Kind.INSTRUCTION
        opens = self._opens(start, end)
        named = subject or (self._names_alone(start) and not self._has("general", start, end))
        omission = (named or self._leaves_out_the_last(start, end)) and (
            any(self._omission[start:end])
            or (not opens and self._is_put_off(start, end))
            or (
                not subject
                and (not opens or self._words[start] in _EXAMINERS)
                and self._puts_off(start, min(end, start + 12))
            )
        )
        supposed = next((at for at in range(start, end) if self._supposes(at)), None)
        if (opens or (supposed is not None and not any(self._value[start:supposed]))) and not omission:
            return Kind.TEACHING
        some = words[0] in _SOME and not _PEOPLE.isdisjoint(words[1:2])
        if some or self.tells_of_people(start, end) or self._tells_of_a_kind(words):
            return Kind.TEACHING
        if words[:2] == ["a", "normal"] and subject and any(word in ("is", "are", "goes", "means") for word in words):
            return Kind.TEACHING  # "a normal straight leg raise is eighty degrees"
        if self._has("modal", start, end) and not omission and not self._reported(start, end):
            return Kind.INSTRUCTION if self._to_patient(text, words, orders) else Kind.TEACHING
        if self._has("general", start, end) and not (omission or self._explains_a_name(start, end)):
            return Kind.TEACHING
        if (
            self._has("plan", start, end)
            and not omission
            and not (subject and self._has("deferred", start, end))
            and not (self._stated(start, end) or self._reported(start, end))
        ):
            return Kind.INSTRUCTION if self._to_patient(text, words, orders) else Kind.PLAN
        if self._has("impression", start, end) and not (subject and value) and not self._gives_grades(start, end):
            return Kind.PLAN
        ordered = (
            orders
            and not self._stated(start, end)
            and not any(self._graded_value[start:end])
            and sum(self._value[start:end]) < 2
        )
        if (
            self._to_patient(text, words, orders)
            and (ordered or not (self._graded(start, end) or self._stated(start, end)))
            and not omission
        ):
            return Kind.INSTRUCTION
        return Kind.RESULT

    def _is_awaited(self, start: int) -> bool:
        """ "Shout | if it bites", "say yes | when you feel it": what the patient is to tell."""
        if self._words[start] not in ("if", "when", "whenever") or not start:
            return False
        if self._words[start + 1 : start + 2] in _OTHERS:
            return False
        return self._words[start - 1] in _CALLING_OUT or self._words[max(0, start - 2)] in ("say", "shout", "tell")

    def _names_alone(self, start: int) -> bool:
        """A name without a result stands right before: "tandem gait, I wouldn't dare, not done"."""
        return self._tokens[start].boundary < SENTENCE_END and any(
            self._subject[at] and self._subject_end[at] == start for at in range(max(0, start - 6), start)
        )

    def _leaves_out_first(self, start: int, end: int) -> bool:
        """ "Grip not tested, that hand's in a cast from last month": what was left out, and then why."""
        past = next((span[0] for span in self._cues.get("history", ()) if start <= span[0] < end), end)
        left_out = [at for at in range(start, past) if self._leaves_out(at, at + 1)]
        left = left_out[-1] if left_out else past
        alone = left < past and self._names_alone(start) and not any(self._subject[past:end])
        named = any(self._subject[start:left]) or alone
        return named and any(self._tokens[at].boundary >= 0.5 for at in range(left + 1, past + 1) if at < end)

    def _leaves_out(self, start: int, end: int) -> bool:
        return any(self._omission[start:end]) or self._puts_off(start, end)

    def _leaves_out_the_last(self, start: int, end: int) -> bool:
        """ "On the left neither could be tested": the last two tests."""
        return any(self._omission[at] and self._words[at] == "neither" for at in range(start, end))

    def _explains_a_name(self, start: int, end: int) -> bool:
        """ "The deltoid, supplied by C5, is four": said between commas of a name that then has its grade."""
        general = [span for span in self._cues.get("general", ()) if start <= span[0] and span[1] <= end]
        return all(
            self._words[last - 1] == "by"
            and self._tokens[first].boundary >= 0.5
            and any(
                self._graded_value[at] and self._words[at - 1] in ("is", "are") and self._tokens[at - 1].boundary >= 0.5
                for at in range(last + 1, end)
            )
            and any(self._subject[start:first])
            for first, last in general
        )

    def _asks_after(self, start: int, end: int) -> bool:
        """ "Four on the left, and what root is that?": a result, and a question about it in the same sentence."""
        if self._words[start] not in _QUESTION_LEADS and self._stated(start, end):
            last = next(at for at in range(end - 1, start - 1, -1) if self._value[at])
            if any(self._words[at] in _SENSED and self._tokens[at].boundary >= COMMA for at in range(last + 1, end)):
                return True  # "gait impaired, hear the slap?"
        at = end
        while at < len(self._words) and self._words[at] in ("and", "so", "but", "now"):
            at += 1
        asks = self._words[at : at + 1]
        # "Romberg is positive, now if the plantars were up, what would you say?"
        supposes = asks == ["if"] and at > end
        return (
            bool(asks)
            and (asks[0] in _QUESTION_WORDS or supposes)
            and not any(self._tokens[k].boundary >= SENTENCE_END for k in range(end, at + 1))
            and self._words[start] not in _QUESTION_LEADS
            and self._stated(start, end)
        )

    def _puts_off(self, start: int, end: int) -> bool:
        return self._has("deferred", start, end) or self._has("declined", start, end)

    def _is_put_off(self, start: int, end: int) -> bool:
        """ "deferred" or "declined" soon after a subject."""
        return any(self._subject[at] and self._puts_off(at, min(end, at + 12)) for at in range(start, end))

    def _opens(self, start: int, end: int) -> bool:
        words = self._words[start:end]
        for k, word in enumerate(words[:4]):
            if word in ("if", "unless", "suppose", "supposing", "imagine", "whenever"):
                return k == 0 or words[k - 1] not in ("see", "as", "even", "asked", "ask", "tell", "me")
            if (
                word == "when"
                and k + 1 < len(words)
                and words[k + 1] in ("you", "we", "it", "they", "people", "the", "a", "someone", "patients")
            ):
                return True
            if (
                word in ("had", "were", "should")
                and _BEFORE_SUPPOSING.issuperset(words[:k])
                and words[k + 1 : k + 3] != ["the", "same"]
                and words[k + 1 : k + 2]
                and words[k + 1]
                in ("it", "the", "he", "she", "this", "that", "there", "you", "his", "her", "both", "either", "any")
            ):
                return True
        return (
            any(
                word in ("if", "unless")
                and k
                and words[k - 1] not in ("see", "as", "even", "tell", "me", "say", "wonder")
                and not self._is_put_off(start, start + k)  # "deferred, the team will do that if he can feel"
                for k, word in enumerate(words)
            )
            and not any(word in ("is", "are") for word in words[:3])
        )

    def _reported(self, start: int, end: int) -> bool:
        """ "I'd call that four": the examiner hedges, but reports."""
        return any(
            (
                self._words[k] in ("i'd", "would", "might", "could", "you'd", "you'll", "i", "can", "going")
                and self._tells_after(k)
            )
            or self._calls_it(k)
            for k in range(start, end)
        )

    def _calls_it(self, at: int) -> bool:
        """ "I'll call it three", "I'll give four"."""
        if self._words[at] not in ("i'll", "we'll") or self._words[at + 1 : at + 2] not in _CALLING:
            return False
        named = self._words[at + 2 : at + 3] in (["it"], ["that"], ["this"])
        return any(self._value[at + 3 : at + 5]) if named else any(self._graded_value[at + 2 : at + 4])

    def _tells_after(self, at: int) -> bool:
        """ "Would call it", "would have to call it"."""
        after = at + 1 + 2 * (self._words[at + 1 : at + 3] == ["have", "to"])
        if self._words[after + 1 : after + 2] == ["everything"]:
            return False  # "or you'll call everything weak"
        return not _TOLD.isdisjoint(self._words[after : after + 2])

    def _stated(self, start: int, end: int) -> bool:
        """A subject directly followed by a value or a copula and a value."""
        for at in range(start, end):
            if self._subject[at] and not self._asked_about(at):
                after = self._past_sides(self._subject_end[at], end, ("on", "the"))
                if after < end and self._value[after]:
                    return True
                if (
                    after + 1 < end
                    and self._words[after] in ("is", "are", "'s", "was", "were")
                    and self._value[after + 1]
                    and self._words[at - 1 if at else 0] not in ("is", "are", "does")
                ):
                    return True
        return False

    def _graded(self, start: int, end: int) -> bool:
        return any(self._value[k] and self._words[k] not in _EVERYDAY_VALUES for k in range(start, end))

    def _to_patient(self, text: str, words: list[str], orders: bool) -> bool:
        if orders:
            return True
        if words[0] in _OF_PATIENTS and "your" not in words:
            return False  # "she'd let go of my hand"
        return any(f" {phrase} " in text for phrase in _TO_PATIENT)


_NO_ORDER = ("in", "eyes")
"""What stands before "March" the month, and before "open" of the eyes."""
_CALLING = (["call"], ["make"], ["say"], ["put"], ["record"], ["give"], ["grade"])
_CALLED = frozenset("it yes sharp now".split())
"""What stands before the first root of a list ("tell me when you feel it L4 is normal")."""
_TOOLS = (["the", "pin"], ["the", "wool"])
"""What stands before it as well ("with the pin L4 is normal")."""
_EXPECTING = frozenset("one you we i would you'd we'd i'd one'd might have".split())
_THINKING = frozenset(
    "we you i they to would will should must could might and then we'd you'd i'd we'll you'll i'll".split()
)
_OF_TODAY = (["exam"], ["clerking"], ["examination"], ["assessment"], ["check"], ["screen"])
"""What "preop" and "admission" are said of where it is done now: "preop exam, tone normal"."""
_AT_ANOTHER_TIME = frozenset("at in on from per since his her the".split())
_TO = frozenset("to for from".split())
_THANKING = (["thanks"], ["you"])
_ASKING = (["can", "you"], ["do", "you"], ["does", "that"], ["does", "it"], ["is", "that"], ["is", "it"])
_AT = (["at"], ["over"], ["from"], ["in"])
_I_ASK = (["what", "do"], ["what", "can"], ["what", "did"])
_I_SENSE = frozenset("see find notice feel spot".split())
_SENSED = frozenset("hear see feel notice did isn't".split())
_PEOPLE = frozenset(
    """adult adults people person persons folk folks man men woman women child children baby babies infant infants
        newborn newborns teenager teenagers athlete athletes diabetics smokers drinkers anyone someone""".split()
)
_SOME = frozenset("some most many".split())
_THIS_ONE = frozenset("this that our my his her the both such is are was".split())
_BEFORE_SUPPOSING = frozenset("and but so now even well or then because".split())
_SUPPOSED = (["the"], ["he"], ["she"], ["it"], ["there"], ["his"], ["her"])
_OF_PATIENTS = frozenset("he he's he'd she she's she'd".split())
_OTHERS = (["he"], ["she"], ["they"], ["people"], ["patients"])
_PERSONS = frozenset("he she it that which who i we they you".split())
_GOVERNORS = frozenset(
    """of if that with for the a an be been being is are was were about like than without no any expect see
        find get look test call worry own 'd would could might may to and or into means mean giving gives
        give causes cause have has had having by where whose your my on in at when as including versus from""".split()
)
_TURNS = frozenset(
    """in remember if unless suppose imagine i'd he'd she'd you'd we'd they'd people patients most some
        anyone plan mri we'll i'll you'll i we you let don't never""".split()
)
_BETWEEN = frozenset(
    """on the both sides at in side left right either l s c one two three four five great toe toes sign test
        testing""".split()
)
_EVERYDAY_VALUES = frozenset(
    """down up good fine there full strong some nothing steady the same high low easy free slow over out
        trace seen""".split()
)


_IDLY = (["i'm", "honest"], ["i'm", "being"], ["we're", "honest"], ["you", "like"], ["pushed"])
"""What follows an "if" that opens no hypothesis."""
_ANYBODY = (["you"], ["we"], ["i"], ["someone"], ["somebody"], ["anyone"], ["people"], ["a"], ["an"])
_DONE = HAPPENED | frozenset("had done seen taken given told said made got left lost forgotten begun".split())
_NO_PAST = frozenset("need feed heed speed bleed breed exceed proceed succeed indeed".split())


def _is_past(word: str) -> bool:
    """ "Wandered", "tensed"."""
    return word.endswith("ed") and len(word) > len("used") and word not in _NO_PAST


_IS_OR_NOT = (["is"], ["are"], ["isn't"], ["aren't"])
_FINDING = (["see"], ["find"], ["feel"], ["detect"], ["elicit"], ["get"], ["hear"])
_BE_FOUND = (["be", "obtained"], ["be", "elicited"])
_AS_THEN = (["where"], ["how"], ["what"], ["as"])
_NO_ASIDE = frozenset("dear with".split())
_WRITTEN_BY_OTHERS = frozenset("letter referral summary notes report chart handover".split())
_TELLS = frozenset("says said say saying states stated reads describes described mentions quotes quoted".split())
_HANDS = (["hand"], ["hands"], ["finger"], ["fingers"], ["fist"], ["thumb"])
_PRAISE = _EVERYDAY_VALUES - {"full", "strong"}
"""What is said to a patient for the trying, also where nothing was found."""


def _positions(spans: list[tuple[int, int]], size: int) -> list[bool]:
    flags = [False] * size
    for start, end in spans:
        flags[start:end] = [True] * (end - start)
    return flags
