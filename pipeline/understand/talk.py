"""What kind of talk each clause is: a result, an instruction to the patient, teaching, a plan, a question, an aside."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from enum import StrEnum

from pipeline.mend.context import FUNCTION
from pipeline.mend.matches import Cover
from pipeline.mend.tokens import BLOCK_END, CLAUSE_MARK, COMMA, SENTENCE_END, Token
from pipeline.mend.words import BE, GRADING, REPORTING
from pipeline.understand.clauses import CLAUSE, FOUND, is_pondering
from pipeline.understand.cues import OF_A_SIDE
from pipeline.understand.grades import goes_on_in_degrees
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
_INVERTED_BEHIND = frozenset("it the he she this that there you his her both either any".split())
"""What follows "were" or "had" where it supposes something."""
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


_SAID_OF_IT = BE | {"gives", "gave"}
"""What follows "which" where nothing is asked: "which is four", "which gives way, so weak"."""
_I_REPORTED = (["said"], ["called"], ["reported"], ["recorded"], ["gave"], ["had"])
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
                    and not (
                        (reader.starts_anew(first, last, strictly=True) and not reader.imagines(told[-1].start, first))
                        or comes_true(tokens, first, last)
                        or reader.returns(first, last, strictly=True)
                    )
                ) or (
                    kind is Kind.RESULT
                    and hypothesis
                    and boundary < BLOCK_END
                    and not (
                        reader.starts_anew(first, last)
                        or reader.resumes(told[-1].start, first)
                        or comes_true(tokens, first, last)
                        or reader.returns(first, last)
                        or reader.concludes(first, last)
                        or reader.grades_a_side(first, last)
                        or reader.leaves_that_out(first, last)
                    )
                ):
                    kind = Kind.TEACHING
                elif (
                    kind is Kind.RESULT
                    and other
                    and boundary < BLOCK_END
                    and not (
                        reader.starts_anew(first, last)
                        or reader.corrects(first)
                        or reader.updates(first)
                        or reader.returns(first, last)
                        or reader.denies(first)
                        or reader.concludes(first, last)
                    )
                ):
                    kind = Kind.ASIDE
                if (
                    kind is Kind.RESULT
                    and told
                    and told[-1].kind is Kind.ASIDE
                    and boundary < BLOCK_END
                    and (reader.reports(told[-1].start, told[-1].end) or reader.quotes(first) or reader.hangs_on(first))
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
            and self._words[max(0, span[0] - 2) : span[0]] != ["one", "of"]  # "one of you will do it after lunch"
            and not self._had_happened(*span)
            and not self._wishes(span[1])
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
            if self._words[max(0, span[0] - 1)] not in _NO_ASIDE
            and self._words[span[0] - 1 : span[1]] != ["all", "yours"]
            and self._words[span[1] : span[1] + 1] not in _HANDS
            and not self._sees_it_move(span[1], cover)
        ]
        voices = [
            (at, at + 2)
            for at, word in enumerate(self._words[:-2])
            if word in _HEARERS and not _VOICED.isdisjoint(self._words[at + 1 : at + 6])
        ]  # "someone at the back says zero"
        self._voices = {start for start, _ in voices}
        self._cues["other_person"] = sorted(
            [*others, *written, *voices]
        )  # "dear colleague", "with her mother", "mum's hand"
        self._cues["general"] = sorted([*self._cues.get("general", []), *self._at_an_age()])
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
        self._cues["plan"] = [
            span
            for span in self._cues.get("plan", [])
            if self._words[span[0]] != "book" or self._words[max(0, span[0] - 1)] not in _THE_BOOK
        ]
        pondered = {at for at in range(len(tokens)) if is_pondering(tokens, at)}
        self._cues = {
            kind: [span for span in spans if pondered.isdisjoint(range(*span))] for kind, spans in self._cues.items()
        }
        self._cues["plan"] = [span for span in self._cues.get("plan", []) if not self._moves_on(*span)]
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
        self._saddle: set[int] = set()  # no side stands before it: "normal on the left, perianal absent"
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
                    if meaning.id == "S4-5":
                        self._saddle.add(match.start)
                elif meaning.kind == "not_done":
                    self._omission[match.start] = True
                elif meaning.kind == "remove":
                    self._naming[match.start : match.end] = [True] * (match.end - match.start)
        for at in range(1, size):
            if self._subject[at] and self._words[at - 1] in ("no", "without", "nor", "any"):
                self._value[at] = True
                self._value_end[at] = self._subject_end[at]
        self._named = {end: at for at, end in enumerate(self._subject_end) if end}
        for number in cover.numbers:
            named = number.start in self._named and is_told_of_a_side(self._words, number.end)
            if number.unit in ("grade", "degrees", "beats") and (named or not number.homophone):  # "elbow flexion for"
                self._value[number.start] = True
                self._value_end[number.start] = number.end
                self._graded_value[number.start] = True
            elif number.unit == "count" and number.value >= 10 and goes_on_in_degrees(number, self._words):
                self._value[number.start] = self._graded_value[number.start] = True
                self._value_end[number.start] = number.end

        self._values = [at for at, is_value in enumerate(self._value) if is_value]
        self._cue_at = {kind: _positions(spans, size) for kind, spans in self._cues.items()}
        for kind in ("modal", "general"):
            self._cues[kind] = [span for span in self._cues[kind] if not self._leaves_out_the_usual(*span)]
            self._cue_at[kind] = _positions(self._cues[kind], size)
        self._unreal = _positions([span for kind in _UNREAL for span in self._cues.get(kind, ())], size)
        self._corrections = {start for start, _ in self._cues.get("repair", ())}
        self._turns = {
            start for kind in ("other_person", "general", "history") for start, _ in self._cues.get(kind, ())
        }
        for start, end in self._cues.get("repair", ()):
            self._naming[start:end] = [True] * (end - start)  # "make that four" is no order
        for at in pondered:
            self._naming[at : at + 3] = [True] * 3
        for at in range(size):
            if self._subject[at] and self._words[at] in IMPERATIVES:  # "grip all five", "grip would be weak"
                after = self._subject_end[at]
                while after < size and (
                    self._words[after] in ("is", "are", "all", "both") or self._side[after] or self._rooted[after]
                ):
                    after += 1
                would = self._words[after : after + 1] in _WOULD_BE
                self._naming[at] = self._naming[at] or would or (after < size and self._value[after])

    def _tells_what_was_found(self, start: int, end: int) -> bool:
        """ "I could see no wasting": the examiner tells what was found, and nothing that might be."""
        if self._words[start] != "could":
            return False
        by_me = self._words[start - 1 : start] in (["i"], ["we"]) and self._words[end : end + 1] in _FINDING
        return by_me or self._words[start + 1 : start + 3] in _BE_FOUND  # "neither knee jerk could be elicited"

    def _moves_on(self, start: int, at: int) -> bool:
        """ "I'll | move on to light touch", "| now test pinprick": what is examined from here on, and no plan."""
        while self._words[at : at + 1] in _NEXT:
            at += 1
        now = not _NOW_OR_NEXT.isdisjoint(self._words[max(0, start - 1) : at]) and self._words[at : at + 1] in _TESTING
        return now or self._words[at : at + 3] in _MOVING_ON

    def _wishes(self, at: int) -> bool:
        """ "I would | like to test pinprick": a plan, and nothing that might be."""
        at += self._words[at : at + 1] == ["now"]
        return self._words[at : at + 2] == ["like", "to"] and self._words[at + 2 : at + 3] in _TESTING

    def _leaves_out_the_usual(self, start: int, end: int) -> bool:
        """ "I would normally test vibration, but there's no fork, so that's not done": of this patient, after all.

        Where the test is named again ("so vibration is not done"), that alone tells it.
        """
        after = end
        while self._words[after : after + 1] in _AS_USUAL:
            after += 1
        by_me = not _EXAMINING.isdisjoint(self._words[max(0, start - 2) : after])
        if not by_me or self._words[after : after + 1] not in _TRYING:
            return False
        named = excused = False
        for at in range(end, min(end + _EXCUSED, len(self._words))):
            told = self._subject[at] and excused
            if told or (self._value[at] and [self._words[at]] not in _AS_USUAL):
                return False
            if self._tokens[at].boundary >= SENTENCE_END:
                return False
            if self._leaves_out(at, at + 1):
                return named
            named = named or self._subject[at]
            excused = named and (excused or self._words[at] in ("but", "so"))
        return False

    def _at_an_age(self) -> list[tuple[int, int]]:
        """ "Absent ankle jerks are normal over eighty": where it says from which age on something is so."""
        return [
            (at, at + 2)
            for at in range(1, len(self._words) - 1)
            if self._words[at] in _PAST and self._words[at + 1] in _AGES and self._words[at - 1] in _USUAL
        ]

    def _sees_it_move(self, end: int, cover: Cover) -> bool:
        """ "I saw a flicker", "I had a couple of beats there": what the examiner saw of this patient, no other one."""
        if self._words[end - 1] != "a":
            return False
        grades = {number.start for number in cover.numbers}
        grades |= {match.start for match in cover.matches if any(one.kind == "value" for one in match.term.meanings)}
        return not grades.isdisjoint((end - 1, end)) or self._words[end : end + 1] in _MOVED

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
        turning = aside and any(self._unreal[start:end])  # a result, and then other talk again
        spoiled = aside and not (self.returns(start, end) or (turning and self._begins_statement(start, end)))
        pending: int | None = None
        announced = self._announced_until(start)
        unreal = next((at for at in range(announced, end) if self._marks_unreal(at)), end)
        if start < announced <= unreal < end and not (spoiled or any(self._value[announced:unreal])):
            cuts.append(announced)
            spoiled = True
        for at in range(announced if spoiled and len(cuts) > 1 else start, end):
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
            elif (
                spoiled
                and at > cuts[-1]
                and (
                    self.returns(at, end)
                    or (aside and self.concludes(at, end))
                    or (aside and self._words[at : at + 2] in _HE_MANAGED and self.grades_a_side(at, end))
                    or ((aside or self._has("history", cuts[-1], at)) and self.updates(at))
                )
            ):
                cuts.append(at)
                spoiled = False
            elif not spoiled and at in self._voices and any(self._subject[cuts[-1] : at]) and not stated:
                cuts.append(at - (self._words[at - 1] in ("a", "the", "one")))
                spoiled = True
            elif not spoiled and self._turns_away(at) and self._has_left_out(cuts[-1], at):
                cuts.append(max(self._begins_with(at), cuts[-1] + 1))
                spoiled = True
            elif not spoiled and len(stated) > 1 and self._tells_of_some(stated[-1], at):
                cuts.append(at - 1)
                spoiled = True
            elif stated and not spoiled and self._says_of_people(stated[-1], at):
                begun = self._own_beginning(stated[-1], cuts[-1])
                if begun is not None and begun > cuts[-1]:
                    cuts.append(begun - 1 if self._value_end[begun - 1] == begun else begun)
                spoiled = True
            elif self._marks_unreal(at):
                announced = self._announced_until(cuts[-1])
                if not spoiled and cuts[-1] < announced < at and self._tokens[at].boundary < 0.3:
                    cuts.append(announced)
                    spoiled = True
                    continue
                defines = word == "means" and len(stated) > 1 and self._value_end[stated[-1]] == at
                if stated == [cuts[-1] + 1] and not spoiled and self._words[cuts[-1]] in ("a", "an", "any"):
                    pass  # "a brisk jerk can be normal"
                elif defines and any(self._subject[cuts[-1] : stated[0]]) and not spoiled:
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
            elif self._is_relative(at):
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
                or (at > cuts[-1] and self._is_recorded(cuts[-1], at, end))
                or (spoiled and at > cuts[-1] and self._turns_to_limb(at, end))
            ):
                cuts.append(self._head_of_list(at, cuts[-1]))
                spoiled = False
            elif at > cuts[-1] and self._tells_of_a_finding(at):
                cuts.append(max(self._led_by_side(at), cuts[-1]))
                spoiled = False
        cuts = sorted({cut for cut in cuts if cut < end})
        return list(zip(cuts, [*cuts[1:], end], strict=True))

    def _tells_of_it(self, at: int) -> bool:
        """ "Which | is four", "which | I said was down": of the test before, and nothing is asked."""
        said = self._words[at : at + 2]
        return not _SAID_OF_IT.isdisjoint(said[:1]) or (said[:1] == ["i"] and said[1:] in _I_REPORTED)

    def _announced_until(self, start: int) -> int:
        """ "Left leg | and you must trust me", "reflexes | a brisk one would be odd": the end of what is named."""
        first = start + 2 * (self._words[start : start + 2] in (["on", "the"], ["in", "the"]))
        limb = first > start or not _LIMBS.isdisjoint(self._words[start : start + 3])
        if limb and any(self._side[first : first + 1]):
            end = first + 1
            while end < len(self._words) and self._side[end]:
                end += 1
            return end if self._words[end : end + 1] in _OTHER_TALK else start
        end = self._subject_end[start] or start + self._heading[start]
        return (
            end
            if self._words[end : end + 1] in (["a"], ["an"]) and self._heading[end + 1 : end + 2] != [True]
            else start
        )

    def _head_of_list(self, at: int, start: int) -> int:
        """ "Before anybody guesses | biceps, supinator and triceps jerks are absent": the first name, not the last."""
        if not self._subject[at] or self._words[at - 1] != "and":
            return at
        head, before = at, self._named.get(at - 1, start)
        while before > start and self._words[before - 1] not in _GOVERNORS:
            head, before = before, self._named.get(before, start)
        return head

    def returns(self, at: int, end: int, *, strictly: bool = False) -> bool:
        """ "Most lose it, | but hers is two plus", "you'd expect that to go, | and in him it's four"."""
        first = at
        while first < end - 1 and self._words[first] in _LEADING_ON:
            first += 1
        turned = not _TURNING.isdisjoint(self._words[at:first])
        if self._words[first : first + 2] in _IN_THIS_ONE:
            first, turned = first + 2, True
        elif turned and self._words[first] in _THIS_ONE_DID and self._words[first + 1 : first + 2] in _DID_NOT:
            return True  # "but his didn't, and it's five"
        elif self._words[first : first + 1] in _OF_THIS_ONE:
            first, turned = first + 1, True
        if at and self._words[at - 1] in _LEADING_ON:
            return False
        if self._words[at : at + 2] == ["but", "no"]:
            return any(self._graded_value[at + 2 : min(at + 3, end)])  # "I'd expect four, but no, five"
        if not strictly and self._words[first : first + 3] in _I_MAKE_IT:
            return any(
                self._graded_value[first + 3 : min(first + 4, end)]
            )  # "the nerve supplies it, and I make it five"
        if first > at and not strictly and self._is_so(first, end):
            return True  # "you'd hardly get any, and there's none"
        if not turned:
            return False
        return self._words[first : first + 1] in _IT_IS and any(self._value[first + 1 : min(first + 4, end)])

    def _is_so(self, at: int, end: int) -> bool:
        """ "They tend to go, | and they've gone, absent on both sides", "you'd get none, | and there's none"."""
        if self._words[at : at + 2] == ["there's", "none"]:
            return True
        said = self._words[at : at + 2] in _IT_HAS or self._words[at : at + 1] == ["they've"]
        return said and any(self._value[at + 2 : min(at + 4, end)])

    def grades_a_side(self, at: int, end: int) -> bool:
        """ "Everyone says they vanish, | zero on both sides", "you'd think not, | he managed ninety on the left"."""
        if self._words[at : at + 2] in _HE_MANAGED:
            at += 2
        elif self._words[at] in ("it's", "they're"):
            at += 1
        if at >= end:
            return False
        led = at > 0 and self._heading[at - 1]  # "students write power | five throughout"
        if not led and self._value[at] and self._words[self._value_end[at] : self._value_end[at] + 1] == ["throughout"]:
            return True  # "you'll have to trust me, | full power throughout"
        return self._grade_at(at, end) is not None and is_told_of_a_side(self._words, self._value_end[at])

    def denies(self, at: int) -> bool:
        """ "Somebody says it's gone; | it isn't, it's one plus"."""
        return self._words[at : at + 2] in (["it", "isn't"], ["they", "aren't"])

    def concludes(self, so: int, end: int) -> bool:
        """ "Somebody says zero, it isn't, | so two", "it won't stop, | so sustained": a result after "so"."""
        value = so + 1
        if self._words[so] != "so" or value >= end or not self._value[value] or self._words[value] in _EVERYDAY_VALUES:
            return False
        after = self._value_end[value]
        ends = after >= end or self._tokens[after].boundary >= 0.3 or self._unreal[after]
        return ends or self._subject[after] or self._side[after]

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

    def _says_of_people(self, value: int, at: int) -> bool:
        """ "Absent ankle jerks are normal | in the elderly": said of people, and of no patient."""
        if self._value_end[value] != at or self._words[value - 1] not in BE or self._words[at] not in _PAST:
            return False
        close = next((stop for start, stop in self._cues["general"] if start == at), None)
        if close is None or self._tokens[at].boundary >= COMMA:
            return False
        ended = close == len(self._words) or self._tokens[close].boundary >= COMMA
        return ended or self._words[close] in _GOING_ON  # else "in people over eighty you may see ..." begins

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
            or (
                self._site[close]
                and close not in self._saddle
                and (self._side[close - 1] or self._words[close - 1] in ("at", "the", "both"))
            )
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
        if value > start and self._rooted[value - 1] and not self._graded_value[value]:
            return True  # "S3 reduced"
        end = self._value_end[value]
        if self._words[end : end + 3] in OF_A_SIDE and self._words[max(start, value - 3) : value] in OF_A_SIDE:
            return True  # "reduced on the right, normal on the left"
        if value > start and self._words[value] == "none" and self._words[value - 1] == "there's":
            return True
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
        if self._tells_after(at) or (self._words[at + 1 : at + 2] == ["not"] and self._words[at] != "textbook"):
            return False  # "that might not matter", but "textbook, not a flicker"
        return self._unreal[at]

    def _begins_statement(self, at: int, end: int) -> bool:
        """A subject with a value or copula of its own begins here, not governed by the words before it."""
        if self._words[at - 1] == "and" and self._tokens[at - 1].boundary >= 0.3 and at + 1 < end:
            if self._words[at] == "no" and self._subject[at + 1]:
                return True
            if self._subject[at] and self._closes(at, end):
                return True
        if self._asked_about(at) or self._is_said_by_people(at):
            return False
        if self._is_supposed(at) or (self._words[at - 1] == "not" and self._words[at] in ("in", "on", "at")):
            return False
        if self._words[at - 1] in _GOVERNORS and not (
            self._points_at(at - 1)
            or (self._words[at - 1] == "and" and self._tells_of_a_limb(at))
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
            and (
                self._words[first] in ("is", "are", "it's") or (self._words[first] == "has" and not self._side[at - 1])
            )
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
        after = self._value_end[at]
        full = self._words[after : after + 1] == ["throughout"]  # "full strength throughout"
        if first == at and self._value[at] and (full or self._words[at] not in _EVERYDAY_VALUES):
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
        concludes = self._words[at - 1] == "so"
        if self._rooted[first] and (first > at or self._tokens[at].boundary >= COMMA or called or concludes):
            while first < end and (self._rooted[first] or self._words[first] in ("and", "to")):
                first += 1
            first = self._past_sides(first, end, ("on", "the")) if concludes else first
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

    def _is_said_by_people(self, at: int) -> bool:
        """ "People say | the reflexes are lost", "they'll tell you | the toe was up"."""
        said = at - (self._words[at - 1] in ("you", "that"))
        if self._words[said - 1] not in _SAYING:
            return False
        return not _ANYONE.isdisjoint(self._words[max(0, said - 4) : said - 1])

    def _tells_of_a_limb(self, at: int) -> bool:
        """ "I did it before you came, and | the left arm has full power"."""
        at += self._words[at] in ("the", "his", "her")
        end = at
        while any(self._side[end : end + 1]):
            end += 1
        has = end > at and self._words[end : end + 1] in (["is"], ["are"], ["has"])
        return has and any(self._value[end + 1 : end + 2])

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

    def _is_recorded(self, start: int, at: int, end: int) -> bool:
        """ "Plantar. I'm just going to scratch your foot | flexor", "vibration, can you feel that | absent": at the end
        of what the patient was told or asked, a finding in the examiner's words, of the test named before.
        """
        if self._words[at] not in _RECORDED or not self._value[at] or self._words[at - 1] in _GOVERNORS:
            return False
        after = self._past_sides(self._value_end[at], end, ("on", "the", "both"))
        if after < end and not self._value[after]:
            return False
        first = next((k for k in range(start, at) if self._words[k] not in _LEAD_INS), at)
        said = self._words[first:at]
        asked = self._words[start : start + 2] in _ASKING
        ordered = not IMPERATIVES.isdisjoint(said[:1]) and not self._naming[first]  # "pin prick is ..."
        told = asked or self._is_awaited(start) or ordered
        unreal = any(self._has(kind, start, at) for kind in _UNREAL if kind != "plan")
        if not (told or "your" in said) or (unreal and not self._is_awaited(start)):
            return False
        before = range(max(0, start - _NAMED_BEFORE), at)
        name = max((k for k in before if self._subject[k]), default=None)
        return name is not None and not any(self._value[name:start])

    def _turns_to_limb(self, at: int, end: int) -> bool:
        """ "Checking those legs after yesterday | left leg first": the limb examined now, after what had been."""
        led = at - (self._words[at - 1] in _LEAD_INS)
        after = self._past_sides(at, end, ())
        if after == at or not any(stop == led for _, stop in self._cues.get("history", ())):
            return False
        return after < end and self._words[after] in _IN_TURN

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
        """ "There is wasting", "that's wasting in the right arm": a statement of its own, whatever stood before it."""
        if self._words[at] == "that's" and self._subject[at + 1 : at + 2] == [True]:
            named = self._subject_end[at + 1]
            sided = self._words[named : named + 1] in (["in"], ["on"]) and any(self._side[named + 1 : named + 3])
            return sided and not self._is_consequence(at)
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
        if self._shows_on_a_side(at):
            return True
        if self._words[at] in ("that's", "it's"):
            found = at + 1 < end and self._value[at + 1] and self._words[at + 1] not in _PRAISE
            return self._grade_at(at + 1, end) is not None or (found and not self._is_consequence(at))
        if self._words[at : at + 2] in (["that", "is"], ["it", "is"]) and at + 2 < end and self._value[at + 2]:
            return self._words[at + 2] not in _PRAISE and not self._is_consequence(at)
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

    def _shows_on_a_side(self, at: int) -> bool:
        """ "Tap, tap, tap | impaired on the right": right after verbs that order something."""
        found = self._value[at] and self._words[at] not in _EVERYDAY_VALUES and self._words[at - 1] in IMPERATIVES
        end = self._value_end[at]
        return found and not self._naming[at - 1] and self._words[end : end + 3] in OF_A_SIDE

    def _is_consequence(self, at: int) -> bool:
        """ "If it catches | that's spasticity", "he reckons | it's tingly"."""
        if self._words[at - 3 : at] == ["as", "you", "like"]:
            return False  # "squeeze as hard as you like | that's strong"
        led = at - 1 - (self._words[at - 1 : at + 1] == ["and", "that's"])  # "hold it there and that's strong"
        return self._words[led] in _GOVERNORS | REPORTING or not _OPENING.isdisjoint(
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

    def hangs_on(self, start: int) -> bool:
        """ "I saw a man with | power of two": a small word joins it to what was told of somebody else."""
        return self._words[start - 1] in ("with", "without", "of", "had", "having")

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

    def imagines(self, start: int, at: int) -> bool:
        """ "Take a man with a cord lesion, | his plantars are up": said of one who is not there."""
        opened = self._words[start : start + 1] in _IMAGINING or self._takes_a_case(start)
        return opened and self._words[at] in ("his", "her", "he", "she", "the")

    def _takes_a_case(self, at: int) -> bool:
        taken = self._words[at : at + 2] in (["take", "a"], ["take", "an"])
        return taken and not (_PERSON | {"patient", "case"}).isdisjoint(self._words[at + 2 : at + 4])

    def opens_hypothesis(self, start: int, end: int) -> bool:
        return self._takes_a_case(start) or (
            any(
                self._words[k] in ("if", "unless", "suppose", "supposing", "imagine", "whenever", "when")
                for k in range(start, min(start + 4, end))
            )
            and not self._has("modal", start, end)
        )

    def leaves_that_out(self, start: int, end: int) -> bool:
        """ "I'll do that when the nurse is back, | so that's deferred": said of the test that was named before."""
        for at in range(start, end):
            if self._words[at] in ("that's", "it's", "so"):
                after = at + 1 + (self._words[at + 1 : at + 2] in (["that's"], ["it's"]))
                if any(self._omission[after : after + 2]) or self._puts_off(after, min(after + 2, end)):
                    return True
        return False

    def tells_of_people(self, start: int, end: int) -> bool:
        """ "In a healthy adult", "in babies", "after a stroke": people in general, not this patient."""
        first = start + (self._words[start] in ("and", "but", "now", "so"))
        led = self._words[first : first + 1]
        if led != ["in"] and not (led in _AFTER and self._words[first + 1 : first + 2] in (["a"], ["an"])):
            return False
        said = self._words[first + 1 : min(first + 6, end)]
        if said[:2] in _THE_OLD and _PERSON.isdisjoint(said[2:3]):
            return True
        people = next((at for at, word in enumerate(said) if word in _PEOPLE | _CONDITIONS), None)
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
        people = next((k for k in range(at, len(self._words)) if self._words[k] in _PEOPLE | _CONDITIONS), at + 1)
        if self._words[at + 1 : at + 3] in _THE_OLD:
            people = at + 2
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
                and not self._is_relative(start + asks)
                and not (words[asks] in BE and self._value[start + asks + 1 : start + asks + 2] == [True])
                and not (words[asks] == "do" and words[asks + 2 : asks + 3] in (["now"], ["again"], ["once"]))
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
        if self._takes_a_case(start):
            return Kind.TEACHING
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
            any(self._omission[start : self._tells_students(start, end)])
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

    def _tells_students(self, start: int, end: int) -> int:
        """Where "in a stroke you'd see the arm left alone" begins to tell what one would see, or the end."""
        return next((at for at in range(start, end) if self._words[at : at + 2] in _YOU_WOULD), end)

    def _is_awaited(self, start: int) -> bool:
        """ "Shout | if it bites", "say yes | when you feel it": what the patient is to tell."""
        if self._words[start] not in ("if", "when", "whenever") or not start:
            return False
        if self._words[start + 1 : start + 2] in _OTHERS:
            return False
        return self._words[start - 1] in _CALLING_OUT or self._words[max(0, start - 2)] in ("say", "shout", "tell")

    def _is_relative(self, at: int) -> bool:
        """ "The big toe, which is two plus", "hip flexion, which I graded four": tells, and asks nothing."""
        after = self._words[at + 1 : at + 4]
        if self._words[at] != "which" or len(after) < 2:
            return False
        graded = after[0] in ("i", "we") and not _GRADED.isdisjoint(after[1:])
        return graded or (self._tells_of_it(at + 1) and after[1] != "what")

    def _names_alone(self, start: int) -> bool:
        """A name without a result stands right before: "tandem gait, I wouldn't dare, not done"."""
        named = start
        while (
            named
            and self._tokens[named].boundary < SENTENCE_END
            and (self._side[named - 1] or self._rooted[named - 1] or self._words[named - 1] in ("on", "at", "the"))
        ):
            named -= 1  # "hip extension on the right, she'd have to roll over, not done"
        return self._tokens[named].boundary < SENTENCE_END and named in self._named

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
                and (
                    words[k + 1] in _INVERTED_BEHIND
                    or (words[k + 1] == "i" and not FOUND.isdisjoint(words[k + 2 : k + 3]))
                )
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
        return (
            any(self._value[at + 3 : at + 5] + self._rooted[at + 3 : at + 4])
            if named
            else any(self._graded_value[at + 2 : at + 4])
        )

    def _tells_after(self, at: int) -> bool:
        """ "Would call it", "would have to call it"."""
        after = at + 1 + 2 * (self._words[at + 1 : at + 3] == ["have", "to"])
        if self._words[after + 1 : after + 2] in (["everything"], ["me"], ["you"]):
            return False  # "or you'll call everything weak", "it would make me think of the cerebellum"
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
_NEXT = (["now"], ["then"], ["just"], ["next"], ["will"])
_NOW_OR_NEXT = frozenset("now next then first".split())
_TESTING = (["test"], ["check"], ["examine"], ["assess"])
_MOVING_ON = (
    *([verb, way, "to"] for verb in ("move", "go", "come", "turn") for way in ("on", "over", "now")),
    *([verb, "to", name] for verb in ("turn", "proceed") for name in ("the", "his", "her")),
)
_AS_USUAL = tuple([word] for word in "normally usually ordinarily generally always often also now then i we".split())
_TRYING = (*_TESTING, *([verb] for verb in "do try ask watch perform get go measure".split()))
_EXAMINING = frozenset("i we i'd we'd".split())
_EXCUSED = 24
"""Most tokens from what is usually tested to how it was left out."""
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
_CONDITIONS = frozenset(
    """lesion lesions stroke strokes neuropathy neuropathies polyneuropathy palsy myopathy disease radiculopathy
        myelopathy injury diabetes parkinson parkinsonism ms syringomyelia hemiplegia""".split()
)
_PERSON = _PEOPLE | {"lady", "gentleman", "chap"}
_THE_OLD = (["the", "elderly"], ["the", "old"], ["the", "young"])
_AFTER = (["after"], ["with"], ["following"])
_SAYING = frozenset("say says tell tells write think claim believe".split())
_ANYONE = frozenset("people students they they'll you'll everyone everybody textbooks books some many most".split())
_SOME = frozenset("some most many".split())
_THIS_ONE = frozenset("this that our my his her the both such is are was".split())
_BEFORE_SUPPOSING = frozenset("and but so now even well or then because".split())
_SUPPOSED = (["the"], ["he"], ["she"], ["it"], ["there"], ["his"], ["her"])
_OF_PATIENTS = frozenset("he he's he'd she she's she'd".split())
_OTHERS = (["he"], ["she"], ["they"], ["people"], ["patients"])
_PERSONS = frozenset("he she it that which who i we they you".split())
_RECORDED = frozenset(
    """reduced absent impaired increased decreased diminished flexor extensor mute equivocal downgoing upgoing intact
        preserved altered negative positive brisk sluggish depressed exaggerated unsustained sustained""".split()
)
"""Findings that an examiner tells the record, and no patient."""
_NAMED_BEFORE = 8
"""Most tokens from the name of a test to what the patient is told to do."""
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


_IDLY = tuple(
    said.split()
    for said in (
        "i'm honest",
        "i'm being",
        "we're honest",
        "you like",
        "pushed",
        "a little",
        "a bit",
        "a touch",
        "a trifle",
        "slightly",
        "somewhat",
        "rather",
        "only just",
    )
)
"""What follows an "if" that opens no hypothesis ("normal, if a little slow")."""
_ANYBODY = (["you"], ["we"], ["i"], ["someone"], ["somebody"], ["anyone"], ["people"], ["a"], ["an"])
_DONE = HAPPENED | frozenset("had done seen taken given told said made got left lost forgotten begun".split())
_NO_PAST = frozenset("need feed heed speed bleed breed exceed proceed succeed indeed".split())


def _is_past(word: str) -> bool:
    """ "Wandered", "tensed"."""
    return word.endswith("ed") and len(word) > len("used") and word not in _NO_PAST


_OTHER_TALK = (["a"], ["an"], ["and"], ["well"], ["i"], ["i'd"], ["you'd"])
_LEADING_ON = frozenset("and but yet still so well however actually fact indeed here though".split())
"""What may stand before the words in which the talk returns to the patient."""
_IT_HAS = (["it", "has"], ["they", "have"], ["it", "is"], ["they", "are"], ["it's", "gone"])
_I_MAKE_IT = (["i", "make", "it"], ["i", "make", "that"])
_HE_MANAGED = tuple([who, did] for who in ("he", "she") for did in ("managed", "manages", "gets", "got", "reaches"))
_IMAGINING = (["imagine"], ["suppose"], ["supposing"], ["picture"])
_WOULD_BE = (["would"], ["could"], ["should"], ["might"], ["may"])
_TURNING = _LEADING_ON - {"and", "so", "still", "though"}
_IN_THIS_ONE = [[small, who] for small in ("in", "with", "for") for who in ("him", "her", "fact")]
_OF_THIS_ONE = (["his"], ["hers"])
_THIS_ONE_DID = frozenset("he she his hers".split())
_DID_NOT = (["didn't"], ["doesn't"], ["hasn't"], ["isn't"], ["aren't"], ["wasn't"], ["weren't"])
_IT_IS = (["it's"], ["they're"], ["is"], ["are"])
_IS_OR_NOT = (["is"], ["are"], ["isn't"], ["aren't"])
_FINDING = (["see"], ["find"], ["feel"], ["detect"], ["elicit"], ["get"], ["hear"])
_BE_FOUND = (["be", "obtained"], ["be", "elicited"])
_AS_THEN = (["where"], ["how"], ["what"], ["as"])
_NO_ASIDE = frozenset("dear with".split())
_WRITTEN_BY_OTHERS = frozenset("letter referral summary notes report chart handover".split())
_TELLS = frozenset("says said say saying states stated reads describes described mentions quotes quoted".split())
_GRADED = GRADING | frozenset("made put called call gave got found measured".split())
_IN_TURN = frozenset("first now next then please".split())
_GOING_ON = frozenset("and but so not which as".split())
_YOU_WOULD = (["you'd", "see"], ["you'd", "find"], ["you'd", "expect"], ["you", "would"], ["you'd", "have"])
_PAST = frozenset("past over after beyond above by in".split())
_AGES = frozenset("forty fifty sixty seventy eighty ninety sixties seventies eighties nineties".split())
_USUAL = frozenset("normal common usual fine expected ordinary allowed nothing acceptable physiological".split())
_MOVED = (["twitch"], ["movement"], ["contraction"], ["beat"], ["couple"], ["few"], ["response"], ["catch"])
_THE_BOOK = frozenset("the a every any your her his in".split())
"""What stands before a book that is read, and not before "book a scan"."""
_HEARERS = frozenset("someone somebody student trainee registrar resident intern houseman junior colleague".split())
"""Who may say of a test what the examiner does not."""
_VOICED = frozenset("says said told reckons thinks thought guesses guessed shouts voted votes".split())
_HANDS = (["hand"], ["hands"], ["finger"], ["fingers"], ["fist"], ["thumb"])
_PRAISE = _EVERYDAY_VALUES - {"full", "strong"}
"""What is said to a patient for the trying, also where nothing was found."""


def _positions(spans: list[tuple[int, int]], size: int) -> list[bool]:
    flags = [False] * size
    for start, end in spans:
        flags[start:end] = [True] * (end - start)
    return flags
