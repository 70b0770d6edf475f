"""Where a clause turns from one kind of talk to another: from teaching to a result, from a result to what was then."""

from __future__ import annotations

import itertools
from bisect import bisect_left

from pipeline.mend.context import FUNCTION
from pipeline.mend.tokens import BLOCK_END, CLAUSE_MARK, COMMA, closes
from pipeline.mend.words import BE, GRADING, REPORTING
from pipeline.understand.clauses import is_what_can_be_had
from pipeline.understand.cues import OF_A_SIDE
from pipeline.understand.sides import is_told_of_a_side
from pipeline.understand.telling import HANDS, PAST, SOON, UNREAL, WRITTEN_BY_OTHERS, Telling
from pipeline.understand.words import HAPPENED, IMPERATIVES

_LIMBS = frozenset("arm arms leg legs limb limbs".split())
_ADDRESSED = frozenset("you me us him her them".split())
_ADDRESSING = frozenset("your you me what which who where how why".split())
_OPENING = frozenset("if unless suppose supposing imagine whenever had should were when".split())
_I_FIND = (["i", "find"], ["i", "get"], ["i", "make"], ["i'd", "make"], ["i", "got"], ["i've", "got"])
_SHOULD = (["should", "be"], ["would", "be"], ["could", "be"])
_IS_IT = tuple([word] for word in "is it's that's are they're he's she's".split())
_TOLD = frozenset("say call put grade give rate score make describe record agree add note".split())
LEAD_INS = frozenset(
    """and now then okay ok right so just please sir madam love first next well good lovely great can you
        could would want i'd like to again let's uh um er alright""".split()
)
_CALLS = frozenset("shout yell say holler know me out speak stop squeal sing scream".split())
_CALLING_OUT = _CALLS | {"tell", "nod"}
_COMPARISONS = frozenset("than compared versus unlike whereas".split())
_NOW = frozenset("now today currently this".split())
QUESTION_LEADS = frozenset(
    "what which who why how does do am is are did can could would where any anyone anybody shall".split()
)
_SAID_OF_IT = BE | {"gives", "gave"}
"""What follows "which" where nothing is asked: "which is four", "which gives way, so weak"."""
_I_REPORTED = (["said"], ["called"], ["reported"], ["recorded"], ["gave"], ["had"])
_QUANTITIES = frozenset(
    """of these those such half most many some all the percent per cent a an one two three four five six seven eight
        nine ten twenty thirty forty fifty sixty seventy eighty ninety few several third quarter""".split()
)
_NO_ORDER = ("in", "eyes", "the")
"""What stands before "March" the month, before "open" of the eyes, and before the hoist."""
_CALLED = frozenset("it yes sharp now".split())
"""What stands before the first root of a list ("tell me when you feel it L4 is normal")."""
_TOOLS = (["the", "pin"], ["the", "needle"], ["the", "wool"], ["the", "cotton"])
"""What stands before it as well ("with the pin L4 is normal")."""
_FELT = frozenset("it's that's feels feel gets seems still".split())
"""What leads to what the patient is to say ("tell me if it feels reduced at the knee")."""
_ASKING = (["can", "you"], ["do", "you"], ["does", "that"], ["does", "it"], ["is", "that"], ["is", "it"])
_AT = (["at"], ["over"], ["from"], ["in"])
_I_ASK = (["what", "do"], ["what", "can"], ["what", "did"])
_I_SENSE = frozenset("see find notice feel spot".split())
PEOPLE = frozenset(
    """adult adults people person persons folk folks man men woman women child children baby babies infant infants
        newborn newborns teenager teenagers athlete athletes diabetics smokers drinkers anyone someone""".split()
)
_CONDITIONS = frozenset(
    """lesion lesions stroke strokes neuropathy neuropathies polyneuropathy palsy myopathy disease radiculopathy
        myelopathy injury diabetes parkinson parkinsonism ms syringomyelia hemiplegia""".split()
)
PERSON = PEOPLE | {"lady", "gentleman", "chap"}
_THE_OLD = (["the", "elderly"], ["the", "old"], ["the", "young"])
_AFTER = (["after"], ["with"], ["following"])
_ARTICLES = (["a"], ["an"], ["some"])
_OF_A_PLACE = (["in"], ["on"], ["of"])
_SAYING = frozenset("say says tell tells write think claim believe".split())
_ANYONE = frozenset("people students they they'll you'll everyone everybody textbooks books some many most".split())
SOME = frozenset("some most many".split())
_THIS_ONE = frozenset("this that our my his her the both such is are was".split())
_SUPPOSED = (["the"], ["he"], ["she"], ["it"], ["there"], ["his"], ["her"])
_OTHERS = (["he"], ["she"], ["they"], ["people"], ["patients"])
_PERSONS = frozenset("he she it that which who i we they you".split())
_RECORDED = frozenset(
    """reduced absent impaired increased decreased diminished flexor extensor mute equivocal downgoing upgoing intact
        preserved altered negative positive brisk sluggish depressed exaggerated unsustained sustained""".split()
)
"""Findings that an examiner tells the record, and no patient."""
_NAMED_BEFORE = 8
"""Most tokens from the name of a test to what the patient is told to do."""
_SPANS = frozenset("day week fortnight month year decade few couple while long good bit little".split())
_GOVERNORS = frozenset(
    """of if that with for the a an be been being is are was were about like than without no any expect see
        find get look test call worry think thinking suspect suspecting own 'd would could might may to and or into
        means mean giving gives
        give causes cause have has had having by where whose your my on in at when as including versus from""".split()
)
_THEY_WOULD = frozenset("you'd we'd they'd".split())
_TURNS = frozenset(
    """in remember if unless suppose imagine i'd he'd she'd you'd we'd they'd people patients most some
        anyone plan mri we'll i'll you'll i we you let don't never""".split()
)
_BETWEEN = frozenset(
    """first on the both sides at in side left right either l s c one two three four five great toe toes sign test
        testing""".split()
)
EVERYDAY_VALUES = frozenset(
    """down up good fine there full strong some nothing steady the same high low easy free slow over out
        trace seen""".split()
)
_OTHER_TALK = (["a"], ["an"], ["and"], ["well"], ["i"], ["i'd"], ["you'd"])
_LEADING_ON = frozenset("and but yet still so well however actually fact indeed here though".split())
"""What may stand before the words in which the talk returns to the patient."""
_IT_HAS = (["it", "has"], ["they", "have"], ["it", "is"], ["they", "are"], ["it's", "gone"])
_I_MAKE_IT = (["i", "make", "it"], ["i", "make", "that"])
_HE_MANAGED = tuple([who, did] for who in ("he", "she") for did in ("managed", "manages", "gets", "got", "reaches"))
_TURNING = _LEADING_ON - {"and", "so", "still", "though"}
_IN_THIS_ONE = [[small, who] for small in ("in", "with", "for") for who in ("him", "her", "fact")]
_OF_THIS_ONE = (["his"], ["hers"])
_THIS_ONE_DID = frozenset("he she his hers".split())
_DID_NOT = (["didn't"], ["doesn't"], ["hasn't"], ["isn't"], ["aren't"], ["wasn't"], ["weren't"])
_IT_IS = (["it's"], ["they're"], ["is"], ["are"])
_AS_THEN = (["where"], ["how"], ["what"], ["as"])
_THE_SAME = (["same"], ["the", "same"], ["same", "again"], ["the", "same", "again"], ["likewise"], ["ditto"])
_GRADED = GRADING | frozenset("made put called call gave got found measured".split())
_IN_TURN = frozenset("first now next then please".split())
_GOING_ON = frozenset("and but so not which as".split())
_TRYING = {("let", "me"), ("stop", "me"), ("fight", "me"), ("resist", "me"), ("against", "me"), ("against", "my")}
"""What the strength of the examiner is called when the patient is told to hold or push against it."""
_PRAISE = EVERYDAY_VALUES - {"full", "strong"}
"""What is said to a patient for the trying, also where nothing was found."""


class Splitter(Telling):
    """Cuts clauses where the kind of talk changes within them."""

    def _waits_for_its_result(self, at: int, end: int) -> bool:
        """ "Remember that T10 is the umbilicus. Vibration": the last words before a breath name what comes after."""
        last = self._words[at - 1]
        return (
            self._subject[at]
            and self._subject_end[at] == end < len(self._words)
            and self._tokens[end].boundary >= BLOCK_END
            and ((self._value[end] and self._words[end] not in _PRAISE) or self._side[end])
            and last not in FUNCTION
            and last not in IMPERATIVES
            and not (self._value[at - 1] or self._side[at - 1])
        )

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
                cuts.append(stated[-1])
                spoiled = True
            elif stated and not spoiled and self._says_of_people(stated[-1], at):
                begun = self._own_beginning(stated[-1], cuts[-1])
                if begun is not None and begun > cuts[-1]:
                    cuts.append(begun - 1 if self._value_end[begun - 1] == begun else begun)
                spoiled = True
            elif stated and not spoiled and (quoted := self._quoted_from(at)) > cuts[-1]:
                cuts.append(quoted)
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
                elif stated == [cuts[-1]] and not spoiled and self._value_end[cuts[-1]] == at and boundary < COMMA:
                    pass  # "two beats can be normal"
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
                    close = self._close_of(stated[-1], at)
                    sided = close < at and self._is_of_a_side(stated[-1], cuts[-1])
                    complete = sided or self._complete_at(stated[-1], cuts[-1])
                    if turn is not None and turn < close and (complete or self._site[turn] or self._side[close - 1]):
                        turn = close  # not within "in both arms and in both legs", "normal at both knees"
                    if turn is not None:
                        cuts.append(turn)
                    elif complete and (not self._is_past(at) or self._names_an_event(close, at)):
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
            elif (
                word in IMPERATIVES
                and not (self._naming[at] or is_what_can_be_had(self._tokens, max(0, at - 3)))  # "what I could test"
                and self._words[at - 1] not in _NO_ORDER
            ) or word in _ADDRESSING:
                if (
                    word in IMPERATIVES
                    and boundary >= 0.5
                    and at > cuts[-1]
                    and (stated or spoiled or self._repeats_on_a_side(cuts[-1], at))
                    and self._words[at - 1] not in ("me", "let", "to")
                ):
                    cuts.append(at)
                elif stated and not spoiled and self._complete_at(stated[-1], cuts[-1]):
                    pending = next((k for k in (at, at - 1) if self._tokens[k].boundary >= 0.3), pending)
                elif len(stated) > 1 and not spoiled and self._defines(stated[-2], stated[-1], cuts[-1]):
                    pending = stated[-1]
                spoiled = True
            elif word == "my" and self._words[at + 1 : at + 2] in HANDS and not stated:
                spoiled = True  # "thigh up into my hand"
            elif (
                (
                    spoiled
                    and at > cuts[-1] + (self._words[at - 1] != "please")
                    and self._begins_statement(at, end)
                    and not ((aside or self._has("history", cuts[-1], at)) and self._in_the_past(at, end))
                )
                or (spoiled and self._words[at - 1] == "again" and self._value[at] and word not in EVERYDAY_VALUES)
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
                or (spoiled and at > cuts[-1] and self._answers_what_is_seen(cuts[-1], at))
                or (spoiled and self._follows_an_order(cuts[-1], at, end))
                or (at > cuts[-1] and self._is_recorded(cuts[-1], at, end))
                or (at > cuts[-1] and self._is_shown(cuts[-1], at))
                or (spoiled and at > cuts[-1] and self._turns_to_limb(at, end))
            ):
                cuts.append(self._head_of_list(at, cuts[-1]))
                spoiled = False
            elif at > cuts[-1] and self._tells_of_a_finding(at):
                cuts.append(max(self._led_by_side(at), cuts[-1]))
                spoiled = False
        cuts = sorted({start, *(cut for cut in cuts if start < cut < end)})
        return list(zip(cuts, [*cuts[1:], end], strict=True))

    def _repeats_on_a_side(self, start: int, end: int) -> bool:
        """ "Left side the same again | touch my finger": all that is said before an order."""
        after = self._past_sides(start, end, ("on", "the", "and"))
        return after > start and [word for word in self._words[after:end] if word not in BE] in _THE_SAME

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
        named = self._past_sides(start, len(self._words), ())
        end = self._subject_end[named]
        if end and self._words[end : end + 2] in _SHOULD and self._turns_out(end):
            return end
        end = self._subject_end[start] or start + self._heading[start]
        return (
            end
            if self._words[end : end + 1] in (["a"], ["an"]) and self._heading[end + 1 : end + 2] != [True]
            else start
        )

    def _turns_out(self, at: int) -> bool:
        """ "Left grip | should be five, but is four": what it is follows what it should be."""
        but = next((k for k in range(at, min(at + SOON, len(self._words))) if self._words[k] == "but"), None)
        if but is None or self._words[but + 1 : but + 2] not in _IS_IT:
            return False
        return but + 2 < len(self._words) and (
            self._value[but + 2] or self._grade_at(but + 2, len(self._words)) is not None
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
            if at < end and self._would_be(at) and self._value[at]:
                return is_told_of_a_side(self._words, self._value_end[at])
        if at >= end:
            return False
        led = at > 0 and self._heading[at - 1]  # "students write power | five throughout"
        if not led and self._value[at] and self._words[self._value_end[at] : self._value_end[at] + 1] == ["throughout"]:
            return True  # "you'll have to trust me, | full power throughout"
        return self._grade_at(at, end) is not None and is_told_of_a_side(self._words, self._value_end[at])

    def _would_be(self, at: int) -> bool:
        """ "If they were up we'd look at the neck, | they're down on both sides": how it might be stands before it."""
        first = max(0, at - SOON)
        return any(
            self._words[k] in _THEY_WOULD and "if" in self._words[max(0, k - SOON) : k] for k in range(first, at)
        )

    def concludes(self, so: int, end: int) -> bool:
        """ "Somebody says zero, it isn't, | so two", "it won't stop, | so sustained": a result after "so"."""
        value = so + 1
        if self._words[so] != "so" or value >= end or not self._value[value] or self._words[value] in EVERYDAY_VALUES:
            return False
        after = self._value_end[value]
        ends = after >= end or self._tokens[after].boundary >= 0.3 or self._unreal[after]
        return ends or self._subject[after] or self._side[after]

    def _tells_of_some(self, value: int, at: int) -> bool:
        """ "Absent on both sides, some quite healthy people have one": no result, but how many."""
        return value >= at - 2 and self._words[value] in SOME and self._marks_unreal(at)

    def _turns_away(self, at: int) -> bool:
        """ "Remember ...", "her son says ...", "half of these patients ...": from the examination to no part of it."""
        return self._words[at] == "remember" or at in self._turns

    def _quoted_from(self, at: int) -> int:
        """ "Right biceps four, | the old notes say five": where what is written by others begins; 0 if nowhere."""
        if self._words[at] not in WRITTEN_BY_OTHERS or at not in self._turns:
            return 0
        return next((start for start in range(at, max(at - SOON, 0), -1) if self._tokens[start].boundary >= COMMA), 0)

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
        if close == stated[-1] and self._value_end[close] == at:
            return close  # "heel shin normal | dysmetria would worry me"
        return close if close < at and self._words[close] in ("a", "an", "any", "anyone", "someone", "people") else None

    def _says_of_people(self, value: int, at: int) -> bool:
        """ "Absent ankle jerks are normal | in the elderly": said of people, and of no patient."""
        if self._value_end[value] != at or self._words[value - 1] not in BE or self._words[at] not in PAST:
            return False
        close = next((stop for start, stop in self._cues["general"] if start == at), None)
        if close is None or self._tokens[at].boundary >= COMMA:
            return False
        ended = closes(self._tokens, close)
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
        if value > start and self._site[value - 1] and "at" in self._words[max(start, value - 4) : value - 1]:
            return True  # "at the elbow reduced"
        if self._words[value - 1] in BE and self._is_of_the_other(value - 1, start):
            return True
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

    def _is_of_the_other(self, copula: int, start: int) -> bool:
        """ "The right is", "the right heel is", and not "at L3 on the left is"."""
        side = copula - 1 - (not self._side[copula - 1])
        while side > start and self._side[side] and self._side[side - 1]:
            side -= 1
        led = self._words[side - 1] == "the" and self._words[side - 2] not in ("on", "in", "at")
        return led and self._side[side] and side > start

    def _is_of_a_side(self, value: int, start: int) -> bool:
        """ "Right heel shin normal | a slow one would worry me": a finding right behind its test, with a side."""
        name = self._named.get(value, start)
        return name > start and self._side[name - 1]

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
        return any(self.updates(at) for at in range(was[0] + 1, min(was[0] + SOON, len(self._words))))

    def _is_past(self, at: int) -> bool:
        """The cue places what was said before it in the past, or with another person."""
        return any(self._cue_at[kind][at] for kind in ("history", "other_person") if kind in self._cue_at)

    def _names_an_event(self, at: int, cue: int) -> bool:
        """ "Romberg negative | a fall in the last month would worry me": the time is that of something else, unlike "a
        year ago".
        """
        led, named = self._words[at : at + 1], self._words[at + 1 : at + 3]
        return led in (["a"], ["an"], ["another"]) and at + 1 < cue and _SPANS.isdisjoint(named)

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
        if not self._unreal[at] or self._tells_after(at):
            return False
        # "That might not matter", but "textbook, not a flicker"
        return self._words[at + 1 : at + 2] != ["not"] or self._words[at] == "textbook"

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
        if (
            self._words[at - 1] in _GOVERNORS
            and not (
                self._points_at(at - 1)
                or (self._words[at - 1] == "and" and self._tells_of_a_limb(at))
                or (self._words[at - 1] in _ADDRESSED and self._side[at])
                or (self._words[at - 1] == "no" and self._tokens[at].boundary >= COMMA)
                or self._words[max(0, at - 2) : at] == ["you", "are"]  # "how high up you are | inversion four"
                or self._words[max(0, at - 2) : at] in (["in", "may"], ["a", "look"])
                or self._leaves_stranded(at)
            )
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
        if self._heading[first] and (self._tokens[first].boundary >= 0.6 or self._is_throughout(first + 1)):
            return True
        if first > at and self._heading[first] and self._heads_a_test(first, end):
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
                or (self._words[first + 1 : first + 2] == ["no"] and self._subject[first + 2 : first + 3] == [True])
                or self._words[first + 1 : first + 2] == ["neither"]
            )
        ):
            return True
        if self._contrasts(at, end):
            return True
        called = self._words[at - 1] in _CALLED or self._words[max(0, at - 2) : at] in _TOOLS
        after = self._value_end[at]
        full = self._words[after : after + 1] == ["throughout"]  # "full strength throughout"
        if first == at and self._value[at] and (full or self._words[at] not in EVERYDAY_VALUES):
            asked = called and not _CALLING_OUT.isdisjoint(self._words[max(0, at - SOON) : at])
            rooted = asked and any(self._rooted[after : after + 2])  # "say when you feel it | intact from L2 to S1"
            return rooted or self._words[after : after + 1] in (["there"], ["here"], ["throughout"])
        if self._words[first] == "no" and first + 1 < end and self._subject[first + 1]:
            return True
        goes_on = self._rooted[at - 1] or self._site[at - 1] or self._side[at - 1]
        after = self._value_end[first]
        placed = not goes_on and (self._is_placed(first) or (called and any(self._rooted[after : after + 1])))
        if first > at and self._value[first] and (any(self._site[at:first]) or placed):
            return True
        if (
            first > at
            and self._value[first]
            and self._words[self._value_end[first] : self._value_end[first] + 1] == ["throughout"]
        ):
            return True  # "right arm full power throughout"
        named = any(self._heading[after : after + 1]) or self._words[after - 1] in ("power", "strength")
        if first > at and self._side[first - 1] and self._value[first] and named:
            return True  # "right arm normal tone", "left leg full power"
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
        # "Ankle jerk absent would fit", but "finger nose normal | Horner's would worry me"
        last = self._value_end[after] + 1 if after < end and self._value[after] else after + 4
        return bool(
            after < end
            and (self._words[after] in ("is", "are", "'s") or self._value[after])
            and not any(self._words[k] in ("would", "could", "might", "may") for k in range(after, min(last, end)))
        )

    def _heads_a_test(self, at: int, end: int) -> bool:
        """ "(Left leg) tone modified Ashworth two", "(right arm) power deltoid four": the heading leads to a result."""
        test = self._subject_end[at] or at + 1
        return test < end and self._subject[test] and self._closes(test, end)

    def _is_throughout(self, at: int) -> bool:
        """ "You'd call it spastic | power is full throughout": of the heading a result of this patient is told."""
        value = at + 1
        told = self._words[at:value] == ["is"] and any(self._value[value : value + 1])
        return told and self._words[self._value_end[value] : self._value_end[value] + 1] == ["throughout"]

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
        if self._words[value] in EVERYDAY_VALUES or self._words[at : at + 1] not in _AT:
            return False
        at = self._past_sides(at + 1, len(self._words), ("the", "both"))
        return any(self._rooted[at : at + 1]) or any(self._site[at : at + 1])

    def _follows_a_question(self, start: int, at: int) -> bool:
        """ "Can you feel it buzz | absent at both great toes", "tell me when it stops | reduced at the ankle": the
        finding after what the patient was asked, or asked to say.
        """
        asked = self._words[start : start + 2] in _ASKING
        called = not _CALLING_OUT.isdisjoint(self._words[max(0, at - SOON) : at]) and self._words[at - 1] not in _FELT
        asked = asked or (called and self._words[start] in _CALLING_OUT | {"when"})
        return asked and self._value[at] and self._words[at - 1] not in _GOVERNORS and self._is_placed(at)

    def _answers_what_is_seen(self, start: int, at: int) -> bool:
        """ "What do you see in the right arm | yes wasting in the right arm": found, and asked no more."""
        asked = self._words[start : start + 2] in (["what", "do"], ["what", "can"], ["what's", "there"], ["what", "is"])
        return asked and self._words[at] == "yes" and any(self._subject[at + 1 : at + 2])

    def _follows_an_order(self, start: int, at: int, end: int) -> bool:
        """ "Roll over for me, sir | S3 is reduced", "eyes shut, Tom | C5 to T1 is intact": a place, its finding."""
        if not self._rooted[at] or self._rooted[at - 1] or any(self._unreal[start:at]):
            return False
        first = next((k for k in range(start, at) if self._words[k] not in LEAD_INS), at)
        if at <= first + 1 or self._words[first] not in IMPERATIVES or self._words[at - 1] in _GOVERNORS:
            return False
        after = at
        while after < end and (self._rooted[after] or self._words[after] in ("and", "to")):
            after += 1
        return self._words[after : after + 1] in (["is"], ["are"]) and any(self._value[after + 1 : after + 2])

    def _is_recorded(self, start: int, at: int, end: int) -> bool:
        """ "Plantar. I'm just going to scratch your foot | flexor", "vibration, can you feel that | absent", "ankle
        jerk two plus on the right, left, clench your teeth | absent": at the end of what the patient was told or asked,
        a finding in the examiner's words, of the test named before, or of the side.
        """
        answered = self._words[at - 1] == "no" and is_told_of_a_side(self._words, self._value_end[at])
        if self._words[at] not in _RECORDED or not self._value[at]:
            return False
        if self._words[at - 1] in _GOVERNORS and not answered:  # "pull your hands apart, no, absent on both sides"
            return False
        after = self._past_sides(self._value_end[at], end, ("on", "the", "both"))
        told = after > self._value_end[at] and any(self._subject[after : after + 1])
        begins = after == self._value_end[at] < end and self._subject[after] and self._begins_statement(after, end)
        begins = begins and not any(self._rooted[start:at])
        if after < end and not (self._value[after] or told or begins):
            return False
        first = next((k for k in range(start, at) if self._words[k] not in LEAD_INS), at)
        said = self._words[first:at]
        asked = self._words[start : start + 2] in _ASKING
        ordered = not IMPERATIVES.isdisjoint(said[:1]) and not self._naming[first]  # "pin prick is ..."
        told = asked or self._is_awaited(start) or ordered
        unreal = any(self._has(kind, start, at) for kind in UNREAL if kind != "plan")
        if not (told or "your" in said) or (unreal and not self._is_awaited(start)):
            return False
        before = range(max(0, start - _NAMED_BEFORE), at)
        name = max((k for k in before if self._subject[k]), default=None)
        sided = start > 0 and self._side[start - 1]
        if name is None or (any(self._value[name:start]) and not sided):
            return False
        if begins:  # "still absent | ankle jerks two plus"
            self._tokens[after].boundary = max(self._tokens[after].boundary, CLAUSE_MARK)
        return True

    def _is_shown(self, start: int, at: int) -> bool:
        """ "Look at the feet | abnormal posture in both": what those who look on are shown."""
        after = self._subject_end[at]
        return (
            self._words[start] == "look"
            and self._subject[at]
            and self._words[at - 1] not in _GOVERNORS
            and self._words[after : after + 1] in (["in"], ["of"], ["on"])
            and any(self._side[after + 1 : after + 3])
        )

    def _turns_to_limb(self, at: int, end: int) -> bool:
        """ "Checking those legs after yesterday | left leg first", "they cheat with the back | left leg now, kick":
        the limb examined now, after what had been or was taught.
        """
        led = at - (self._words[at - 1] in LEAD_INS)
        after = self._past_sides(at, end, ())
        if after > at and self._words[after - 1] in ("leg", "arm"):
            now = after + (self._words[after : after + 1] in (["now"], ["next"]))
            asked = (now > after or now < end) and not IMPERATIVES.isdisjoint(self._words[now : now + 1])
            if asked or (now > after and any(self._subject[now : now + 1])):
                return self._words[at - 1] not in _GOVERNORS  # "imagine it's the exam | left leg, lift it up"
        if after == at or not any(stop == led for _, stop in self._cues.get("history", ())):
            return False
        return after < end and self._words[after] in _IN_TURN

    def _is_supposed(self, at: int) -> bool:
        """ "If both | toes went up", "if his | tone goes up", "if there's | a jerk", "had the left | toe gone up": all
        of it is supposed.
        """
        led = at
        while led > 0 and (self._side[led - 1] or self._words[led - 1] in ("the", "his", "her", "their", "there's")):
            led -= 1
        opens = self._words[led - 1] in _OPENING or (self._words[led - 1] == "had" and self._words[led] == "the")
        return 0 < led < at and opens

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
        """ "There is wasting", "that's a tremor in the right arm", "look at his feet | so wasting in the left leg": a
        statement of its own, whatever stood before it.
        """
        begun = at + 1 + (self._words[at + 1 : at + 2] in _ARTICLES)
        if self._words[at] in ("that's", "so") and self._subject[begun : begun + 1] == [True]:
            named = self._subject_end[begun]
            sided = self._words[named : named + 1] in _OF_A_PLACE and any(self._side[named + 1 : named + 3])
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

    def _in_the_past(self, at: int, end: int) -> bool:
        """ "Last year his tone was normal": it goes on with what was; but "deferred until they had a look"."""
        said = itertools.takewhile(lambda word: word not in ("until", "till"), self._words[at : min(end, at + 6)])
        return any(word in ("was", "were", "had") for word in said)

    def _gives_grades(self, at: int, end: int) -> bool:
        """ "Pull me in | five right four left", "push | that's four plus", "don't let me | five and five"."""
        if self._shows_on_a_side(at):
            return True
        if self._words[at] in ("that's", "it's"):
            found = at + 1 < end and self._value[at + 1] and self._words[at + 1] not in _PRAISE
            return self._grade_at(at + 1, end) is not None or (found and not self._is_consequence(at))
        if self._words[at : at + 2] in (["that", "is"], ["it", "is"]) and at + 2 < end and self._value[at + 2]:
            return self._words[at + 2] not in _PRAISE and not self._is_consequence(at)
        tried = self._tried_at(at)
        if any(self._subject[max(0, at - 5 if tried is None else tried) : at]):
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
            both = self._grade_at(other if after < joined else joined, end) is not None
            return sided or both or (tried is not None and (after == end or after > at + 1))
        if after < end and self._words[after] == "throughout":
            return True
        return after == end or self._grade_at(self._past_sides(after, end, ("and", "on", "the")), end) is not None

    def _tried_at(self, at: int) -> int | None:
        """ "Don't let me win | five out of five", "push against me | four plus": where the words of a trial begin that
        stand right before a token.
        """
        before = range(at - 2, max(at - SOON, 0) - 1, -1)
        return next((k for k in before if (self._words[k], self._words[k + 1]) in _TRYING), None)

    def _shows_on_a_side(self, at: int) -> bool:
        """ "Tap, tap, tap | impaired on the right": right after verbs that order something."""
        found = self._value[at] and self._words[at] not in EVERYDAY_VALUES and self._words[at - 1] in IMPERATIVES
        end = self._value_end[at]
        return found and not self._naming[at - 1] and self._words[end : end + 3] in OF_A_SIDE

    def _is_consequence(self, at: int) -> bool:
        """ "If it catches | that's spasticity", "he reckons | it's tingly"."""
        if self._words[at - 3 : at] == ["as", "you", "like"]:
            return False  # "squeeze as hard as you like | that's strong"
        led = at - 1 - (self._words[at - 1 : at + 1] == ["and", "that's"])  # "hold it there and that's strong"
        return self._words[led] in _GOVERNORS | REPORTING or not _OPENING.isdisjoint(
            self._words[max(0, at - SOON) : at]
        )

    def _asked_about(self, at: int) -> bool:
        """ "Why is the left ankle jerk", "imagine the left ankle jerk": the subject of a question or a thought."""
        while at > 0 and (self._side[at - 1] or self._words[at - 1] in ("the", "his", "her")):
            at -= 1
        if at > 0 and self._words[at - 1] in ("imagine", "suppose", "supposing"):
            return True
        return at > 1 and self._words[at - 1] in BE and self._words[at - 2] in QUESTION_LEADS

    def _closes(self, at: int, end: int) -> bool:
        """The subject at `at` has a grade, or a copula in the present, and a value of its own."""
        after = self._past_sides(self._subject_end[at], end, ("on", "in", "the", "at", "both"))
        return after < end and (self._graded_value[after] or self._words[after] in ("is", "are"))

    def corrects(self, start: int) -> bool:
        """A correction begins at a token ("make that one")."""
        return start in self._corrections

    def updates(self, at: int) -> bool:
        """ "In March; | it's five today", "last week, | now three", "| I find four": what is, after what was."""
        if self._words[at : at + 2] in _I_FIND:
            return any(self._graded_value[at + 2 : min(at + 5, len(self._words))])
        says = self._words[at] in ("it's", "now", "today", "currently")
        value = next((k for k in range(at + 1, min(at + 4, len(self._words))) if self._value[k]), None)
        if not says or value is None or any(self._subject[at:value]):
            return False
        end = self._value_end[value]
        return self._words[at] != "it's" or not _NOW.isdisjoint(self._words[at + 1 : end + 2])

    def tells_of_people(self, start: int, end: int) -> bool:
        """ "In a healthy adult", "in babies", "after a stroke": people in general, not this patient."""
        first = start + (self._words[start] in ("and", "but", "now", "so"))
        led = self._words[first : first + 1]
        if led != ["in"] and not (led in _AFTER and self._words[first + 1 : first + 2] in (["a"], ["an"])):
            return False
        said = self._words[first + 1 : min(first + 6, end)]
        if said[:2] in _THE_OLD and PERSON.isdisjoint(said[2:3]):
            return True
        people = next((at for at, word in enumerate(said) if word in PEOPLE | _CONDITIONS), None)
        return people is not None and _THIS_ONE.isdisjoint(said[:people])

    def _turns_to_people(self, at: int) -> bool:
        """ "In a healthy adult the toe goes down", and not "two beats in a healthy person would be nothing"."""
        if not self.tells_of_people(at, len(self._words)):
            return False
        people = next((k for k in range(at, len(self._words)) if self._words[k] in PEOPLE | _CONDITIONS), at + 1)
        if self._words[at + 1 : at + 3] in _THE_OLD:
            people = at + 2
        return self._words[people + 1 : people + 2] in (["the"], ["a"], ["an"], ["it"], ["they"], ["you"])

    def _is_awaited(self, start: int) -> bool:
        """ "Shout | if it bites", "say yes | when you feel it": what the patient is to tell."""
        if self._words[start] not in ("if", "when", "whenever") or not start:
            return False
        if self._words[start + 1 : start + 2] in _OTHERS:
            return False
        return self._words[start - 1] in _CALLING_OUT or self._words[max(0, start - 2)] in ("say", "shout", "tell")

    def _is_relative(self, at: int) -> bool:
        """ "The big toe, which is two plus", ""just what I can reach": tells, and asks nothing."""
        after = self._words[at + 1 : at + 4]
        if is_what_can_be_had(self._tokens, at):
            return True
        if self._words[at] != "which" or len(after) < 2:
            return False
        graded = after[0] in ("i", "we") and not _GRADED.isdisjoint(after[1:])
        return graded or (self._tells_of_it(at + 1) and after[1] != "what")

    def _is_put_off(self, start: int, end: int) -> bool:
        """ "deferred" or "declined" soon after a subject."""
        return any(self._subject[at] and self._puts_off(at, min(end, at + 12)) for at in range(start, end))

    def _tells_after(self, at: int) -> bool:
        """ "Would call it", "would have to call it"."""
        after = at + 1 + 2 * (self._words[at + 1 : at + 3] == ["have", "to"])
        if self._words[after + 1 : after + 2] in (["everything"], ["me"], ["you"]):
            return False  # "or you'll call everything weak", "it would make me think of the cerebellum"
        if self._words[at] in _THEY_WOULD and "if" in self._words[max(0, at - SOON) : at]:
            return False  # "if it were faster you'd call it spasticity"
        return not _TOLD.isdisjoint(self._words[after : after + 2])
