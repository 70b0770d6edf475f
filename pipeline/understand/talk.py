"""What kind of talk each clause is: a result, an instruction to the patient, teaching, a plan, a question, an aside."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from pipeline.mend.matches import Cover
from pipeline.mend.tokens import BLOCK_END, CLAUSE_MARK, COMMA, SENTENCE_END, Token
from pipeline.mend.words import BE, STATES, WHERETO
from pipeline.understand.clauses import CLAUSE, FOUND
from pipeline.understand.kinds import Kinds
from pipeline.understand.splitting import EVERYDAY_VALUES, LEAD_INS, PEOPLE, PERSON, QUESTION_LEADS, SOME, Splitter
from pipeline.understand.telling import WRITTEN_BY_OTHERS, Cues
from pipeline.understand.words import IMPERATIVES


class Kind(Kinds):
    """What a clause is for."""

    RESULT: ClassVar[Kind]
    INSTRUCTION: ClassVar[Kind]
    TEACHING: ClassVar[Kind]
    PLAN: ClassVar[Kind]
    QUESTION: ClassVar[Kind]
    ASIDE: ClassVar[Kind]


@dataclass(slots=True)
class Clause:
    """Tokens `start`..`end` (exclusive) of one clause, with its kind of talk."""

    start: int
    end: int
    kind: Kind


_INVERTED_BEHIND = frozenset("it the he she this that there you his her both either any".split())
"""What follows "were" or "had" where it supposes something."""
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
_WHERE_IT_IS = frozenset("it it's they they're he he's she she's".split())
"""What follows "where" in "apart from C7, where it was reduced", "altered at L4, where he feels pins and needles"."""
_QUESTION_WORDS = frozenset("what which who why how where".split())
_EXAMINERS = frozenset("i i'll we we'll".split())
"""Who puts a test off in "gait we'll look at when the cast is off"."""


def comes_true(tokens: list[Token], start: int, end: int) -> bool:
    """ "If it were three I'd worry, | but it's four": how it is, after how it might be."""
    at = start
    while at < end and tokens[at].text in _IN_FACT:
        at += 1
    led = at > start or (start > 0 and tokens[start - 1].text in _IN_FACT)
    return led and [token.text for token in tokens[at : min(at + 1, end)]] == ["it's"]


_IN_FACT = frozenset("but yet however actually well in fact as it happens here".split())
_CALLING = (["call"], ["make"], ["say"], ["put"], ["record"], ["give"], ["grade"])
_TO = frozenset("to for from".split())
_AUXILIARIES = frozenset("can could did do does will would was were".split())
""" "Could not elicit the ankle jerk": with "not" right after them they ask nothing."""
_SHORT = 5
"""Most words of an order that is said as a question."""
_SENSED = frozenset("hear see feel notice did isn't".split())
_BEFORE_SUPPOSING = frozenset("and but so now even well or then because".split())
_OF_PATIENTS = frozenset("he he's he'd she she's she'd".split())
_IMAGINING = (["imagine"], ["suppose"], ["supposing"], ["picture"])
_YOU_WOULD = (["you'd", "see"], ["you'd", "find"], ["you'd", "expect"], ["you", "would"], ["you'd", "have"])


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
                if kind is Kind.RESULT and reader.finds_otherwise(told, first):
                    told[-1].kind = Kind.RESULT
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


_TESTING = frozenset("test testing check checking examine examining assess look try do start begin".split())
_TESTED_WITHIN = 5
_COMING = frozenset("now next so then okay and first i i'll i'm i'd we we'll we're let let's".split())


class _Reader(Splitter):
    """Tells the kind of a clause that was cut."""

    def denies(self, at: int) -> bool:
        """ "Somebody says it's gone; | it isn't, it's one plus"."""
        return self._words[at : at + 2] in (["it", "isn't"], ["they", "aren't"])

    def answers(self, question: Clause, start: int, end: int) -> bool:
        """ "What would you expect in a root lesion? Weak dorsiflexion": the answer tells of no patient."""
        asked = self._words[question.start : question.end]
        supposed = question.kind is Kind.QUESTION and any(word in ("would", "expect", "you'd") for word in asked)
        told = any(self._side[start:end]) or any(word in ("is", "are", "'s") for word in self._words[start:end])
        told = told or (
            "give" in asked and self._words[start] in ("i", "i'd")
        )  # "what would you give it? I'd give four"
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
            return not any(self._value[start:end])
        if self._words[end - 1] == "say" and self._words[end - 2] in WRITTEN_BY_OTHERS:
            return True
        if self._words[end - 1] in ("chart", "notes", "letter") and "written" in self._words[start:end]:
            return True
        if self._tokens[end].boundary == CLAUSE_MARK and self._words[end - 1] in WRITTEN_BY_OTHERS:
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

    def finds_otherwise(self, told: list[Clause], at: int) -> bool:
        """ "The referral says | right biceps five, | I find four": the test is named in what others found, and both are
        read, the second in place of the first.
        """
        if not told or told[-1].kind is not Kind.ASIDE:
            return False
        start, end = told[-1].start, told[-1].end
        recorded = "documented" in self._words[start:end]
        of_others = recorded or any(self.reports(clause.start, clause.end) for clause in told[-2:])
        named = any(self._subject[start:end]) and any(self._value[start:end])
        return of_others and named and self.updates(at)

    def imagines(self, start: int, at: int) -> bool:
        """ "Take a man with a cord lesion, | his plantars are up": said of one who is not there."""
        opened = self._words[start : start + 1] in _IMAGINING or self._takes_a_case(start)
        return opened and self._words[at] in ("his", "her", "he", "she", "the")

    def _takes_a_case(self, at: int) -> bool:
        taken = self._words[at : at + 2] in (["take", "a"], ["take", "an"])
        return taken and not (PERSON | {"patient", "case"}).isdisjoint(self._words[at + 2 : at + 4])

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

    def _tells_of_a_kind(self, words: list[str]) -> bool:
        """ "A cerebellar man sways with his eyes open": whoever has it."""
        people = next((at for at, word in enumerate(words[1:4], 1) if word in PEOPLE), None)
        does = words[people + 1 : people + 2] if people is not None else []
        return words[0] in ("a", "an") and any(word.endswith("s") and word not in BE for word in does)

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
        lead = next((k for k, word in enumerate(words) if word not in LEAD_INS), len(words) - 1)
        orders = lead < len(words) and words[lead] in IMPERATIVES and not self._naming[start + lead]
        orders = orders and not (
            words[lead - 1 : lead] == ["i'd"]
            and (words[lead] == "say" or any(self._value[start + lead : start + lead + 2]))
        )
        of_patient = words[asks : asks + 2] in (["is", "your"], ["are", "your"])  # "is your toe up or down"
        asked = of_patient or (self._tokens[start].asked and not self._asks_after(start, end))
        subject, value = any(self._subject[start:end]), any(self._value[start:end])
        if any(f" {polite} " in text for polite in _POLITE_IF):
            return Kind.INSTRUCTION
        if asked or (
            (
                words[asks] in QUESTION_LEADS
                and not self._is_relative(start + asks)
                and not (words[asks] in _AUXILIARIES and words[asks + 1 : asks + 2] == ["not"])
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
            return Kind.INSTRUCTION if self._asks_to_move(words) else Kind.QUESTION
        if self._takes_a_case(start):
            return Kind.TEACHING
        if self._has("other_person", start, end) and not (self._is_put_off(start, end) or self._hands_on(start)):
            return Kind.ASIDE  # but "gait my colleague will do tomorrow"
        if self._has("history", start, end) and not (self._gives_way(start, end) or self._leaves_out_first(start, end)):
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
        some = words[0] in SOME and not PEOPLE.isdisjoint(words[1:2])
        if some or self.tells_of_people(start, end) or self._tells_of_a_kind(words):
            return Kind.TEACHING
        if words[:2] == ["a", "normal"] and subject and any(word in ("is", "are", "goes", "means") for word in words):
            return Kind.TEACHING  # "a normal straight leg raise is eighty degrees"
        if words[0] in ("a", "an") and self._subject[start + 1 : start + 2] == [True] and " is only " in text:
            return Kind.TEACHING  # "a straight leg raise is only positive if it hurts below the knee"
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
            to_patient = self._to_patient(text, words, orders) or self._comes_next(start, end)
            return Kind.INSTRUCTION if to_patient else Kind.PLAN
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

    def _comes_next(self, start: int, end: int) -> bool:
        """ "Now we'll test inversion on the left": the test that is done at once, not one for later."""
        named = next((at for at in range(start, end) if self._subject[at]), None)
        if named is None or self._has("deferred", start, end) or any(self._value[start:end]):
            return False
        led = next((at for at in range(start, named) if self._words[at] in _TESTING), None)
        return led is not None and named - led <= _TESTED_WITHIN and self._words[start] in _COMING

    def _tells_students(self, start: int, end: int) -> int:
        """Where "in a stroke you'd see the arm left alone" begins to tell what one would see, or the end."""
        return next((at for at in range(start, end) if self._words[at : at + 2] in _YOU_WOULD), end)

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

    def _hands_on(self, start: int) -> bool:
        """ "Plantars | I'll leave those to the night team": of the test that was named right before."""
        left = self._words[start] in ("i'll", "we'll") and self._words[start + 1 : start + 2] == ["leave"]
        return left and self._puts_off(start + 1, start + 2)

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

    @staticmethod
    def _asks_to_move(words: list[str]) -> bool:
        """ "Kick?", "foot up?": an order, said as a question."""
        moves = words[0] in IMPERATIVES or (len(words) > 1 and words[-1] in WHERETO)
        return moves and len(words) <= _SHORT and "or" not in words and words[0] not in QUESTION_LEADS

    def _asks_after(self, start: int, end: int) -> bool:
        """ "Four on the left, and what root is that?": a result, and a question about it in the same sentence."""
        if self._words[start] not in QUESTION_LEADS and self._stated(start, end):
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
            and self._words[start] not in QUESTION_LEADS
            and self._stated(start, end)
        )

    def _opens(self, start: int, end: int) -> bool:
        words = self._words[start:end]
        for k, word in enumerate(words[:4]):
            if word in ("if", "unless", "suppose", "supposing", "imagine", "whenever"):
                return k == 0 or words[k - 1] not in ("see", "as", "even", "asked", "ask", "tell", "me")
            if (
                word == "when"
                and k + 1 < len(words)
                and (
                    words[k + 1] in ("you", "we", "it", "they", "people", "the", "a", "someone", "patients")
                    or self._is_found(start + k + 1, end)
                )
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

    def _is_found(self, at: int, end: int) -> bool:
        """ "(When) Romberg is positive": a test, and what is found of it."""
        after = self._subject_end[at] if self._subject[at] else end
        return after + 1 < end and self._words[after] in BE and self._value[after + 1]

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

    def _stated(self, start: int, end: int) -> bool:
        """A subject directly followed by a value or a copula and a value."""
        for at in range(start, end):
            if self._subject[at] and not self._asked_about(at):
                after = self._past_sides(self._subject_end[at], end, ("on", "the"))
                if after < end and self._value[after]:
                    return True
                if (
                    after + 1 < end
                    and (self._words[after] in STATES or self._words[after] == "'s")
                    and self._value[after + 1]
                    and self._words[at - 1 if at else 0] not in ("is", "are", "does")
                ):
                    return True
        return False

    def _graded(self, start: int, end: int) -> bool:
        return any(self._value[k] and self._words[k] not in EVERYDAY_VALUES for k in range(start, end))

    def _to_patient(self, text: str, words: list[str], orders: bool) -> bool:
        if orders:
            return True
        if words[0] in _OF_PATIENTS and "your" not in words:
            return False  # "she'd let go of my hand"
        return any(f" {phrase} " in text for phrase in _TO_PATIENT)
