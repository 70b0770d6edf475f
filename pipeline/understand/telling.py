"""What is known of each token before its clause is told: cue phrases that hold, names, values, sides and places."""

from __future__ import annotations

from itertools import pairwise

from pipeline.mend.matches import Cover, Match
from pipeline.mend.swallowing import is_value
from pipeline.mend.tokens import COMMA, SENTENCE_END, Token, closes
from pipeline.understand.clauses import is_pondering, is_what_can_be_had
from pipeline.understand.grades import goes_on_in_degrees
from pipeline.understand.sides import is_told_of_a_side
from pipeline.understand.verdicts import verdict
from pipeline.understand.words import HAPPENED, IMPERATIVES, is_left_out

Cues = dict[str, list[tuple[int, int]]]
UNREAL = ("modal", "general", "history", "hypothetical", "other_person", "plan")
"""Kinds of cues for what is no result of this patient now."""
SOON = 10
"""Most tokens from when something was to how it is now, and from an "if" to what it would mean."""
_HERE_AND_NOW = (["up", "you", "get"], ["down", "you", "get"], ["off", "you", "get"], ["there", "you", "see"])
_ENTERED = frozenset("recorded noted entered documented charted".split())
"""What "must be" or "should be" tells the record to hold."""
_CASES = tuple((small, article) for small in ("in", "with", "for") for article in ("a", "an", "any", "every"))
_SUPPOSED, _CASE_WITHIN = frozenset("if unless when".split()), 5
"""What follows a result that is told of a case, within so many words."""
_EXPECTING = frozenset("one you we i would you'd we'd i'd one'd might have".split())
_NEXT = (["now"], ["then"], ["just"], ["next"], ["will"])
_NOW_OR_NEXT = frozenset("now next then first".split())
_TESTING = (["test"], ["check"], ["examine"], ["assess"])
_DONE_NORMALLY = frozenset("feels feel felt walks walked walking moves moved swings hangs stands bends".split())
"""What stands before "normally" in "he feels normally on the right", of this patient."""
_ALL_THAT_IS_DONE = 4
"""Most tokens from "all I'll" to "is" in "all I'll be testing is"."""
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
_THANKING = (["thanks"], ["you"])
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


_WOULD_BE = (["would"], ["could"], ["should"], ["might"], ["may"])
_IS_OR_NOT = (["is"], ["are"], ["isn't"], ["aren't"])
_FINDING = (["see"], ["find"], ["feel"], ["detect"], ["elicit"], ["get"], ["hear"])
_BE_FOUND = (["be", "obtained"], ["be", "elicited"])
_NO_ASIDE = frozenset("dear with".split())
WRITTEN_BY_OTHERS = frozenset("letter referral summary notes report chart handover".split())
_THERE_OR_NOT = frozenset("wasting fasciculation abnormal_posture involuntary_movement".split())
_SOME = frozenset("a an some".split())
_WHAT_COMES = (["this"], ["it"], ["that"], ["these"])
_TICKLING = tuple([verb] for verb in "tickle hurt sting pinch prick scratch".split())
"""What is said to a patient before a sole is stroked or a leg lifted."""
_IN_A_CASE = (["in"], ["at"], ["with"], ["when"], ["if"])
_IN_SUCH_A_CASE = frozenset("if unless when whenever where once that usually".split())
_TO_ITS_SIDE = 3
"""Most tokens from what is there to its side ("in the")."""
_TELLS = frozenset("says said say saying states stated reads describes described mentions quotes quoted".split())
PAST = frozenset("past over after beyond above by in".split())
_AGES = frozenset("forty fifty sixty seventy eighty ninety sixties seventies eighties nineties".split())
_I_AM = frozenset({"i'm", "am", "we're"})
_INTRODUCED = 7
"""Most words from "I'm" to "students"."""
_SEE_ONE = [[verb, "one"] for verb in "see find notice feel spot have want need do get".split()]
_USUAL = frozenset("normal common usual fine expected ordinary allowed nothing acceptable physiological".split())
_MOVED = (["twitch"], ["movement"], ["contraction"], ["beat"], ["couple"], ["few"], ["response"], ["catch"])
_THE_BOOK = frozenset("the a every any your her his in".split())
"""What stands before a book that is read, and not before "book a scan"."""
_HEARERS = frozenset("someone somebody student trainee registrar resident intern houseman junior colleague".split())
"""Who may say of a test what the examiner does not."""
_VOICED = frozenset("says said told reckons thinks thought guesses guessed shouts voted votes".split())
HANDS = (["hand"], ["hands"], ["finger"], ["fingers"], ["fist"], ["thumb"])


def _positions(spans: list[tuple[int, int]], size: int) -> list[bool]:
    flags = [False] * size
    for start, end in spans:
        flags[start:end] = [True] * (end - start)
    return flags


class Telling:
    """The tokens of a talk, with the cues of each kind of talk and what stands where."""

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
        self._cues["repair"] = [span for span in self._cues.get("repair", []) if not self._is_of_a_case(*span)]
        self._cues["modal"] = [
            span
            for span in self._cues.get("modal", [])
            if self._words[span[1] : span[1] + 1] != ["not"]
            and self._words[max(0, span[0] - 2) : span[0]] != ["one", "of"]  # "one of you will do it after lunch"
            and not self._had_happened(*span)
            and not is_what_can_be_had(tokens, max(0, span[0] - 2))  # "from what I could test"
            and not self._wishes(span[1])
            and not self._warns(*span)
            and not (span[0] and self._words[span[0] - 1] == "no" and self._words[span[0]].endswith("'d"))
            and not self._tells_what_was_found(*span)
            and not (
                self._words[span[1] : span[1] + 1] == ["be"] and _ENTERED & {*self._words[span[1] + 1 : span[1] + 3]}
            )
            and not any(start <= span[1] <= end for start, end in self._cues.get("declined", []))  # "she'd rather not"
            and not any(start <= span[0] < end for start, end in self._cues["repair"])  # "I should say"
        ]
        written = [
            (at, at + 2)
            for at, word in enumerate(self._words[:-2])
            if word in WRITTEN_BY_OTHERS and not _TELLS.isdisjoint(self._words[at + 1 : at + 3])
        ]  # "the GP's letter is saying power two"
        told = self._cues.get("other_person", [])
        others = [
            span
            for span in told
            if self._words[max(0, span[0] - 1)] not in _NO_ASIDE
            and self._words[span[0] - 1 : span[1]] != ["all", "yours"]
            and self._words[span[1] : span[1] + 1] not in HANDS
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
                or self._words[max(0, span[0] - 1) : span[1]] in _HERE_AND_NOW
                or self._is_thanked(*span)
                or self._is_who_speaks(span[0])
                or (self._words[span[0]] == "normally" and self._words[span[0] - 1] in _DONE_NORMALLY)
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
        for match in cover.matches:
            if self._is_found_there(match):
                self._value[match.start], self._value_end[match.start] = True, match.end
        self._named = {end: at for at, end in enumerate(self._subject_end) if end}
        for number in cover.numbers:
            named = number.start in self._named and is_told_of_a_side(self._words, number.end)
            if self._words[max(0, number.start - 1) : number.end] in _SEE_ONE:
                continue  # "Horner's would have told me, but I don't see one, left grip four"
            if number.unit in ("grade", "degrees", "beats") and (named or not number.homophone):  # "elbow flexion for"
                self._value[number.start] = True
                self._value_end[number.start] = number.end
                self._graded_value[number.start] = True
            elif number.unit == "count" and number.value >= 10 and goes_on_in_degrees(number, self._words):
                self._value[number.start] = self._graded_value[number.start] = True
                self._value_end[number.start] = number.end

        self._values = [at for at, is_value in enumerate(self._value) if is_value]
        graded = (at for at in self._values if self._graded_value[at] and not self._is_counted(self._value_end[at]))
        decided = {at for grade in graded for at in verdict(self._words, grade) or ()}
        for kind in UNREAL if decided else ():
            self._cues[kind] = [span for span in self._cues.get(kind, []) if decided.isdisjoint(range(*span))]
        for at in decided:
            self._naming[at] = True  # "I'll give it three" is no order
        self._cue_at = {kind: _positions(spans, size) for kind, spans in self._cues.items()}
        for kind in ("modal", "general"):
            self._cues[kind] = [span for span in self._cues[kind] if not self._leaves_out_the_usual(*span)]
            self._cue_at[kind] = _positions(self._cues[kind], size)
        self._unreal = _positions([span for kind in UNREAL for span in self._cues.get(kind, ())], size)
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

    def _is_found_there(self, match: Match) -> bool:
        """ "There is an abnormal posture of the left arm": a result, whatever is said of the arm after it."""
        if not any(meaning.id in _THERE_OR_NOT for meaning in match.term.meanings):
            return False
        at = match.start - (self._words[match.start - 1] in _SOME)
        if self._words[max(0, at - 2) : at] == ["there", "is"]:
            at -= 2
        elif self._words[at - 1 : at] == ["there's"]:
            at -= 1
        else:
            return False
        return self._words[at - 1] not in _IN_SUCH_A_CASE and any(self._side[match.end : match.end + _TO_ITS_SIDE])

    def _is_of_a_case(self, start: int, end: int) -> bool:
        """ "Three plus, that should be | absent in a root lesion": what is so in general, and no correction."""
        after = self._words[end : end + _CASE_WITHIN]
        cased = any(pair in _CASES for pair in pairwise(after)) or not _SUPPOSED.isdisjoint(after)
        return "should" in self._words[start:end] and "be" in self._words[start:end] and cased

    def _is_counted(self, at: int) -> bool:
        """ "I'll take three | steps": what follows a number is what there are so many of."""
        word = self._words[at] if at < len(self._words) and self._tokens[at].boundary < COMMA else ""
        return len(word) > len("'ss") and word.endswith("s") and not self._value[at] and not self._subject[at]

    def _tells_what_was_found(self, start: int, end: int) -> bool:
        """ "I could see no wasting": the examiner tells what was found, and nothing that might be."""
        if self._words[start] != "could":
            return False
        by_me = self._words[start - 1 : start] in (["i"], ["we"]) and self._words[end : end + 1] in _FINDING
        return by_me or self._words[start + 1 : start + 3] in _BE_FOUND  # "neither knee jerk could be elicited"

    def _moves_on(self, start: int, at: int) -> bool:
        """ "I'll | move on to light touch", "| now test pinprick", "all I'll | do is vibration": what is examined from
        here on, and no plan.
        """
        if self._words[max(0, start - 1) : start] == ["all"] and "is" in self._words[at : at + _ALL_THAT_IS_DONE]:
            return True
        while self._words[at : at + 1] in _NEXT:
            at += 1
        now = not _NOW_OR_NEXT.isdisjoint(self._words[max(0, start - 1) : at]) and self._words[at : at + 1] in _TESTING
        return now or self._words[at : at + 3] in _MOVING_ON

    def _wishes(self, at: int) -> bool:
        """ "I would | like to test pinprick": a plan, and nothing that might be."""
        at += self._words[at : at + 1] == ["now"]
        return self._words[at : at + 2] == ["like", "to"] and self._words[at + 2 : at + 3] in _TESTING

    def _warns(self, start: int, end: int) -> bool:
        """ "Left plantar, this may | tickle, flexor": said to the patient of what comes."""
        told = self._words[start - 1 : start] in _WHAT_COMES and self._words[end : end + 1] in _TICKLING
        return told and self._words[end + 1 : end + 2] not in _IN_A_CASE

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
            if self._words[at] in PAST and self._words[at + 1] in _AGES and self._words[at - 1] in _USUAL
        ]

    def _sees_it_move(self, end: int, cover: Cover) -> bool:
        """ "I saw a flicker", "I had a couple of beats there": what the examiner saw of this patient, no other one."""
        if self._words[end - 1] != "a":
            return False
        here = (end - 1, end)
        return (
            self._words[end : end + 1] in _MOVED
            or any(number.start in here for number in cover.numbers)
            or any(match.start in here and is_value(match.term) for match in cover.matches)
        )

    def _had_happened(self, start: int, end: int) -> bool:
        """ "Because he'd had enough", "I'd wandered off": how it had been, and not how it would be."""
        after = self._words[end : end + 1]
        return self._words[start].endswith("'d") and bool(after) and (after[0] in _DONE or _is_past(after[0]))

    def _supposes_nothing(self, at: int) -> bool:
        """ "If I'm honest", "if pushed", "I suppose": a way to put a result; "as if you're driving": how it is done;
        "sorry if it tickles": said to the patient.
        """
        if self._words[at] == "suppose":
            return self._words[at - 1 : at] in (["i"], ["we"])
        if self._words[at] == "if" and self._words[at - 1 : at] in (["as"], ["sorry"]):
            return True
        return self._words[at] == "if" and any(self._words[at + 1 : at + 1 + len(end)] == end for end in _IDLY)

    def _is_of_this_patient(self, start: int, end: int) -> bool:
        """ "He overshoots every time", and not "every time you see one"."""
        return self._words[start:end] == ["every", "time"] and self._words[end : end + 1] not in _ANYBODY

    def _is_who_speaks(self, at: int) -> bool:
        """ "I'm one of the third year students": nothing that holds in general."""
        if self._words[at] != "students" or self._words[at + 1 : at + 2] in (["who"], ["that"]):
            return False
        led = range(max(0, at - _INTRODUCED), at - 2)
        return any(self._words[k] in _I_AM and self._words[k + 2] == "of" for k in led)

    def _is_thanked(self, start: int, end: int) -> bool:
        """ "Thanks everybody", "thank you, everyone": said to those who helped, and not of all people."""
        return self._words[start:end] in (["everyone"], ["everybody"]) and self._words[start - 1 : start] in _THANKING

    def _looks_and_tells(self, start: int, end: int) -> bool:
        """ "We look for wasting, and there isn't any": what is looked for, and then what is found."""
        if self._words[end - 2 : end] != ["look", "for"]:
            return False
        told = next((at for at in range(end, min(end + SOON, len(self._words))) if self._words[at] == "there"), None)
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
        ends = closes(self._tokens, end)
        return self._words[start:end] == ["back", "in"] and ends

    def _is_todays(self, start: int, end: int) -> bool:
        """ "Preop exam, tone normal", "admission clerking", and not "at his preop clerking power was five"."""
        led = not _AT_ANOTHER_TIME.isdisjoint(self._words[max(0, start - 1) : start + 1])
        return not led and self._words[end : end + 1] in _OF_TODAY

    def _is_as_expected(self, at: int) -> bool:
        """ "As one would expect", "weaker than it should be": said of what was found; "while I think of it" is said by
        the way.
        """
        before = self._words[max(0, at - 3) : at]
        if before[-2:] == ["while", "i"] or "than" in before[-2:]:
            return True
        return "as" in before and _EXPECTING.issuperset(before[before.index("as") + 1 :])

    def _has(self, kind: str, start: int, end: int) -> bool:
        return any(self._cue_at.get(kind, ())[start:end])

    def _first(self, kind: str, start: int, end: int) -> tuple[int, int] | None:
        return next((span for span in self._cues.get(kind, ()) if start <= span[0] and span[1] <= end), None)

    def _text(self, start: int, end: int) -> str:
        return " ".join(self._words[start:end])

    def _grade_at(self, at: int, end: int) -> int | None:
        """Where a grade that begins at a token ends."""
        return self._value_end[at] if at < end and self._graded_value[at] else None

    def _past_sides(self, at: int, end: int, small: tuple[str, ...]) -> int:
        """The first of at most five tokens from `at` on that is neither part of a side nor one of the small words."""
        stop = min(end, at + 5)
        while at < stop and (self._side[at] or self._words[at] in small):
            at += 1
        return at

    def _leaves_out(self, start: int, end: int) -> bool:
        return any(self._omission[start:end]) or self._puts_off(start, end)

    def _puts_off(self, start: int, end: int) -> bool:
        return self._has("deferred", start, end) or self._has("declined", start, end)
