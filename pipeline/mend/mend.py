"""Covers a stretch of tokens with lexicon terms: as written where possible, by sound where the words make no sense
otherwise.

A mend must beat "leave it alone": it needs more likeness where the heard words are everyday English, where
nothing around them belongs to an examination, and where the term is short.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise, product
from types import MappingProxyType

from pipeline.lexicon.pronounce import phones
from pipeline.mend.context import BEST_FIT, DENIED, FUNCTION, JOINTS, LIMBS, NUMBER_WORDS, PUT_OFF, Context
from pipeline.mend.covering import best_cover, best_of_each, without_padding
from pipeline.mend.joints import of_a_joint
from pipeline.mend.likely import LikelyTerms, Part
from pipeline.mend.matches import Cover, Match
from pipeline.mend.nearest import Nearest, unlike
from pipeline.mend.ngrams import BEATS, COUNT, DEGREES, GRADE, ROOT, Ngrams, kind_of
from pipeline.mend.numbers import Number, Roots, number_at, roots_at
from pipeline.mend.sides import Around, going_on, misheard_sides
from pipeline.mend.signs import with_grade, with_ones, with_sign, with_tens
from pipeline.mend.slots import Slots, beside_wasting, misheard_grades, short_names
from pipeline.mend.sound import Phones, nearest
from pipeline.mend.stretches import join_findings, join_stretches
from pipeline.mend.swallowing import (
    FINDINGS,
    NEARLY_THE_SAME,
    besides,
    completes,
    is_finding,
    is_part,
    is_place,
    is_spelled,
    is_strong,
    is_value,
    may_swallow,
    same_meaning,
)
from pipeline.mend.terms import Meaning, Term, TermIndex, is_side
from pipeline.mend.tokens import CLAUSE_MARK, COMMA, SENTENCE_END, Token
from pipeline.mend.words import BE, EVERYDAY, GRADING, REACHING, REPORTING, WHERETO, frequency

MAX_SPAN = 6
_OF_THE_TRADE = 3.4
"""Zipf frequency of words ("sciatica") that nobody uses but those who mean them."""
_UNMISTAKABLE = 2.0
"""Zipf frequency of words ("circumduction") that no recogniser writes where something else was said."""
_AROUND = 10
"""Tokens on either side of a mended term in which it changes what is likely."""
_RIVAL_WINDOW = 0.12
_REVERSAL_WINDOW = 0.25
_REVERSAL_SHARE = 0.03
_IN_SLOT = 0.6
"""Probability of what was made out from where it stands."""
_COUNTED_AS = {"grade": GRADE, "degrees": DEGREES, "beats": BEATS, "count": COUNT}
_MADE_OUT = 0.2
"""`Number.unlike` of a grade that was made out from its place: a person is shown it."""
_TOO_FAR, _TOO_FAR_IN_PIECES, _TOO_FAR_OF_MANY = 0.36, 0.22, 0.2
"""Distances at which no mend is made: of one word or two; of three or more, which sound like something by chance, for a
name of one word ("per annum eye" for "peronei") and for one of several."""


class Mender:
    """Finds terms in tokens. `learned` holds confirmed mishearings of one speaker: heard words -> term words."""

    def __init__(self, index: TermIndex, learned: dict[str, str] | None = None, ngrams: Ngrams | None = None) -> None:
        self._index = index
        self._likely = LikelyTerms(index, ngrams) if ngrams is not None else None
        self._learned = {
            tuple(heard.split()): index.terms[tuple(term.split())]
            for heard, term in (learned or {}).items()
            if tuple(term.split()) in index.terms
        }
        self._idiom_starts = frozenset(words[0] for words in index.no_terms if len(words) > 1)
        self._said_rarely = frozenset(word for word in index.left_alone if frequency(word) < _OF_THE_TRADE)
        self._nearest_terms = Nearest(index)
        self._slots = Slots(index)
        pairs = [term.words for term in index.terms.values() if len(term.words) == 2 and index.names(term)]
        self._first_words = {first for first, _ in pairs}
        self._last_words = {last for _, last in pairs}

    def cover(self, tokens: list[Token]) -> Cover:
        words = self._in_letters([token.text for token in tokens])
        if self._likely is not None:
            join_stretches(self._index, self._likely.nearest, tokens, words)
        self._without_stray_stops(tokens, words)
        roots = self._roots(tokens, words)
        _join_levels(tokens, roots)
        join_findings(tokens, roots)
        taken = [False] * len(tokens)
        for root in roots:
            taken[root.start : root.end] = [True] * (root.end - root.start)
        numbers = self._numbers(tokens, taken)
        exact = self._exact(words, tokens, taken)
        held = list(taken)
        for number in numbers:
            held[number.start : number.end] = [True] * (number.end - number.start)
        exact = [*self._cut_short(words, tokens, exact), *of_a_joint(self._index, words, exact, held), *exact]
        learned = self._learned_matches(words) + self._split(words, tokens, taken)
        by_sound = self._by_sound(
            tokens, words, exact, taken, Context(self._index, tokens, exact, numbers, roots), [True] * len(tokens)
        )
        candidates = exact + learned + best_of_each(without_padding(by_sound, exact, words), words)
        sure = [
            match for match in best_cover(candidates, [0.0] * len(tokens)) if match.mended and match.probability > 0.8
        ]
        if sure:  # what was mended tells what stands around it
            around = [False] * len(tokens)
            for match in sure:
                low = max(0, match.start - _AROUND)
                around[low : match.end + _AROUND] = [True] * len(around[low : match.end + _AROUND])
            context = Context(self._index, tokens, exact + sure, numbers, roots)
            by_sound = [match for match in by_sound if not around[match.start]]
            by_sound += self._by_sound(tokens, words, exact, taken, context, around)
            candidates = exact + learned + best_of_each(without_padding(by_sound, exact, words), words)
        worth = [0.0] * len(tokens)
        for number in numbers:
            if number.unit == "grade" and not number.homophone:
                worth[number.start] = 1.2
        at_token: dict[int, list[Match]] = {}
        for match in candidates:
            for at in range(match.start, match.end):
                at_token.setdefault(at, []).append(match)
        matches = best_cover(candidates, worth)
        mended = {match.end: match for match in matches if match.mended and len(match.term.words) == 1}
        whole = matches if mended else [match for match in matches if match.mended]
        known = {(match.start, match.end, match.term) for match in exact}
        parts = self._cut_short(words, tokens, whole, mended)
        parts += of_a_joint(self._index, words, matches, held) if whole else []
        parts = [part for part in parts if (part.start, part.end, part.term) not in known]
        if parts:  # "knee and ankle jerkins"
            matches = best_cover(parts + candidates, worth)
        matches = [self._contested(match, at_token) for match in matches]
        matches = [
            replace(match, probability=min(match.probability, _IN_SLOT)) if match.placed else match for match in matches
        ]
        matches = self._joined(matches, tokens)
        matches = self._doubted(matches)
        matches = [self._with_word_before(match, words, taken) for match in matches]
        named = {match.end for match in matches if self._index.names(match.term)}
        numbers = [_as_grade(number, tokens) if number.start in named else number for number in numbers]
        placed, grades = self._in_slots(tokens, matches, numbers, roots)
        matches = sorted(matches + placed, key=lambda match: match.start)
        numbers = sorted(numbers + grades, key=lambda number: number.start)
        covered = {at for match in matches for at in range(match.start, match.end)}
        numbers = [replace(n, start=n.start + 1) if n.start in covered and n.explicit else n for n in numbers]
        numbers = [n for n in numbers if not any(at in covered for at in range(n.start, n.end))]
        roots = [r for r in roots if not any(at in covered for at in range(r.start, r.end))]
        cover = Cover(matches, numbers, roots)
        return cover if self._likely is None else self._with_likely(cover, tokens)

    def parts(self, tokens: list[Token], cover: Cover) -> list[Part]:
        """The tokens as `Ngrams` counts them."""
        read = {match.start: (match.end, kind_of(match.term, self._index)) for match in cover.matches}
        read |= {root.start: (root.end, ROOT) for root in cover.roots}
        read |= {
            number.start: (number.end, _COUNTED_AS[number.unit])
            for number in cover.numbers
            if number.explicit or not number.homophone
        }
        found: list[Part] = []
        at = 0
        while at < len(tokens):
            end, word = read.get(at, (at + 1, tokens[at].text))
            found.append(Part(at, end, word, at in read))
            at = end
        return found

    def _handled(self, tokens: list[Token]) -> set[int]:
        """ "Flick the nail": the thing was heard right where it stands in an order."""
        ordered = self._index.ordered
        return {
            at + 2
            for at, (verb, small, thing) in enumerate(zip(tokens, tokens[1:], tokens[2:], strict=False))
            if small.text in ("the", "your", "my") and verb.text in ordered and thing.text in ordered
        }

    def _with_likely(self, cover: Cover, tokens: list[Token]) -> Cover:
        assert self._likely is not None
        homophones = {number.start for number in cover.numbers}
        told = {match.start for match in cover.matches if is_value(match.term)}
        homophones |= {  # "squeeze, great, left hand": praise; but "great is impaired"
            at for at, token in enumerate(tokens) if token.text == "great" and told.isdisjoint((at + 1, at + 2))
        }
        matches, numbers, roots = list(cover.matches), list(cover.numbers), list(cover.roots)
        for hit in self._likely.find(self.parts(tokens, cover), tokens, frozenset(homophones | self._handled(tokens))):
            start, end, said = hit.start, hit.end, hit.saying
            if tokens[end - 1].text == "'s" and end < len(tokens) and tokens[end].text.endswith("ing"):
                continue  # "Kate's holding your hand": somebody does something
            numbers = [number for number in numbers if not start <= number.start < end]
            if said.term is not None:
                matches.append(Match(start, end, said.term, _IN_SLOT, hit.distance or 1e-6, placed=True))
            elif said.grade is not None:
                value, sign = said.grade
                far = max(hit.distance, _MADE_OUT)
                numbers.append(Number(start, end, value, sign, "grade", explicit=bool(sign), unlike=far))
            else:
                roots.append(Roots(start, end, (said.text,), made_out=True))
        matches = self._joined(sorted(matches, key=lambda match: match.start), tokens)
        numbers.sort(key=lambda number: number.start)
        roots.sort(key=lambda root: root.start)
        return Cover(matches, numbers, roots)

    def _without_stray_stops(self, tokens: list[Token], words: list[str]) -> None:
        """Takes back full stops that a recogniser put within a name or after a word that ends no sentence."""
        for at in range(1, len(tokens)):
            if tokens[at].boundary < CLAUSE_MARK:
                continue
            name = self._index.terms.get((words[at - 1], words[at]))
            whole = self._index.terms.get((words[at - 1],))
            continued = words[at] in BE and whole is not None and self._index.names(whole)  # "tone. Is reduced"
            continued = continued and _ASKED_OF.isdisjoint(words[at + 1 : at + 2])
            if words[at] in PUT_OFF and tokens[at].boundary == CLAUSE_MARK:
                tokens[at].boundary = COMMA  # "tandem gait: deferred"
            parted = name is not None and self._index.is_part(words[at - 1]) and self._index.names(name)
            sign = words[at - 1] in GRADE_WORDS and self._is_sign(words, tokens, at)
            parted = parted and "at" not in words[max(0, at - 4) : at - 1]
            if sign or continued or parted or words[at - 1] in _ENDING_NOTHING:
                tokens[at].boundary = 0.0

    @staticmethod
    def _is_sign(words: list[str], tokens: list[Token], at: int) -> bool:
        """ "Left three. Minus", "three. Plus on both sides", and not "three. Plus the ankle jerk is absent"."""
        if words[at] != "plus" or at + 1 == len(words):
            return words[at] in ("plus", "minus")
        closed = words[at + 1] in _AFTER_A_SIGN or tokens[at + 1].boundary >= COMMA
        return closed or (tokens[at].boundary < SENTENCE_END and words[at + 1] not in _AFTER_AND)

    def _in_letters(self, words: list[str]) -> list[str]:
        """ "E h ell four plus": the names of letters, where they spell an abbreviation."""
        letters = [_LETTERS.get(word, word) for word in words]
        for at in range(len(words) - 2):
            spelled = letters[at : at + 3]
            if spelled != words[at : at + 3] and len("".join(spelled)) == 3 and tuple(spelled) in self._index.terms:
                words[at : at + 3] = spelled
        return words

    def _roots(self, tokens: list[Token], words: list[str]) -> list[Roots]:
        found, at = [], 0
        while at < len(tokens):
            spelled = None
            if len(words[at]) == 1:
                spelled = next((term for term in self._index.exact(words, at) if is_spelled(term)), None)
            if spelled is not None:
                at += len(spelled.words)
                continue
            root = None if self._ends_initials(words, at) else roots_at(tokens, at)
            if root:
                found.append(root)
                at = root.end
            else:
                at += 1
        return found

    def _ends_initials(self, words: list[str], at: int) -> bool:
        """ "Each L five": the letter before a number belongs to initials that sound just like the two words."""
        if at == 0 or words[at] != "l" or len(words[at - 1]) < 2 or words[at - 1] in NUMBER_WORDS:
            return False
        near = self._nearest_terms.near((words[at - 1], words[at]))
        return bool(near) and near[0][0] < NEARLY_THE_SAME and len(near[0][1].text) <= 4

    def _numbers(self, tokens: list[Token], taken: list[bool]) -> list[Number]:
        found, at = [], 0
        while at < len(tokens):
            number = None if taken[at] else number_at(tokens, at) or with_grade(tokens, at, self._index)
            if number:
                number = with_ones(with_tens(with_sign(number, tokens, self._index), tokens), tokens)
                found.append(number)
                at = number.end
            else:
                at += 1
        return found

    def _exact(self, words: list[str], tokens: list[Token], taken: list[bool]) -> list[Match]:
        found = []
        for at in range(len(words)):
            if taken[at]:
                continue
            for term in self._index.exact(words, at):
                end = at + len(term.words)
                if end - at > 1 and any(tokens[k].boundary >= 0.5 for k in range(at + 1, end)) and is_side(term):
                    continue
                if all(meaning.kind == "leave" for meaning in term.meanings):
                    continue
                if any(taken[at:end]) or any(tokens[k].boundary >= 1.2 for k in range(at + 1, end)):
                    continue
                found.append(Match(at, end, term))
        stated = {match.start: match for match in found if words[match.end : match.end + 1] in (["is"], ["are"])}

        def gives_way(match: Match) -> bool:
            """ "Then your nose, finger nose is normal": no "nose finger"; "normal on the left, out you get": a side."""
            if words[max(0, match.start - 2) : match.start + 1] == ["on", "the", "left"] and not is_side(match.term):
                return True
            if words[max(0, match.start - 1) : match.start + 1] == ["your", "nose"]:
                return True  # "my finger and then your nose | finger nose impaired"
            inner = (stated[at] for at in range(match.start + 1, match.end) if at in stated)
            return any(other.end > match.end and same_meaning(match.term, other.term) for other in inner)

        return [match for match in found if not gives_way(match)]

    def _cut_short(
        self,
        words: list[str],
        tokens: list[Token],
        exact: list[Match],
        mended: Mapping[int, Match] = MappingProxyType({}),
    ) -> list[Match]:
        """Names of which a list says a part once: "knee and ankle jerks".

        `mended`: names of one word that were misheard, by where they end ("biceps, break ear radialis and knee jerks").
        """
        index, found = self._index, []
        whole = {match.start: match for match in exact if len(match.term.words) == 2 and index.names(match.term)}
        for start, match in whole.items():
            at, joined = start - 1, False
            while at >= 0 and max(tokens[k].boundary for k in range(at + 1, start + 1)) < 1:
                term = index.terms.get((words[at], match.term.words[1]))
                misheard = mended.get(at + 1)
                if words[at] in ("and", "or"):
                    joined = True
                elif joined and misheard is not None:
                    named = misheard.term.words
                    term = index.terms.get((*named, match.term.words[1]))
                    if term is None:  # "supernator and triceps jerks" sounds like several supinators
                        term = index.terms.get((*named[:-1], named[-1].removesuffix("s"), match.term.words[1]))
                    if term is None or not index.names(term):
                        break
                    found.append(replace(misheard, term=term))
                    at = misheard.start
                elif joined and term is not None and index.is_part(words[at]) and index.names(term):
                    found.append(Match(at, at + 1, term))
                else:
                    break
                at -= 1
        return found

    def _learned_matches(self, words: list[str]) -> list[Match]:
        found = []
        for heard, term in self._learned.items():
            size = len(heard)
            found += [
                Match(at, at + size, term, 0.97, 0.01)
                for at in range(len(words) - size + 1)
                if tuple(words[at : at + size]) == heard
            ]
        return found

    def _in_slots(
        self, tokens: list[Token], matches: list[Match], numbers: list[Number], roots: list[Roots]
    ) -> tuple[list[Match], list[Number]]:
        taken = [False] * len(tokens)
        for start, end in ((part.start, part.end) for parts in (matches, numbers, roots) for part in parts):
            taken[start:end] = [True] * (end - start)
        where = {root.start: root.end for root in roots}
        where |= {match.start: match.end for match in matches if is_side(match.term) or is_place(match.term)}
        names = [
            (match.end, match.term) for match in matches if self._index.names(match.term) and not is_part(match.term)
        ]
        values = {number.start: number.end for number in numbers if number.explicit or not number.homophone}
        said = [match for match in matches if is_value(match.term)]
        values |= {match.start: match.end for match in said}
        findings = {match.start: match.term for match in said}
        limbs = {
            at for match in matches for at in range(match.start, match.end) if _OF_LIMBS.intersection(match.term.words)
        }
        starts = {match.start: match.end for match in matches if self._index.names(match.term)}
        sides = {match.start: match.term.text for match in matches if is_side(match.term)}
        around = Around(starts, values, where, sides)
        found = misheard_sides(self._index, tokens, taken, around)
        where |= {slot.start: slot.end for slot in found}
        for slot in found:
            taken[slot.start] = True
        names += going_on(tokens, names, around)
        found += self._slots.find(tokens, names, taken, where, values)
        found += beside_wasting(self._index, tokens, names, taken, where)
        counts = {number.start for number in numbers if number.unit == "count"}  # "ten normal"
        unnamed = [is_taken and at not in counts for at, is_taken in enumerate(taken)]
        found += short_names(self._index, tokens, unnamed, findings, limbs, where)
        for slot in found:
            taken[slot.start : slot.end] = [True] * (slot.end - slot.start)
        grades = misheard_grades(self._index, tokens, names, taken, where, frozenset(starts))
        placed = [
            Match(slot.start, slot.end, slot.term, _IN_SLOT, slot.distance or 1e-6, placed=True) for slot in found
        ]
        return placed, grades

    def _split(self, words: list[str], tokens: list[Token], taken: list[bool]) -> list[Match]:
        """Words that were written in two or three: "in tact", "pre served", "dim in ished"."""
        found = []
        for at, size in product(range(len(words)), (2, 3)):
            pieces = words[at : at + size]
            whole = "".join(pieces)
            part = self._index.terms.get((words[at - 1], whole)) if at and self._index.is_part(words[at - 1]) else None
            term = part or self._index.terms.get((whole,))
            if term is None or len(pieces) < size or len(whole) <= 4:
                continue
            start = at - (part is not None)
            # "Plantar flexor" may be the plantars' response
            known = all((piece,) in self._index.terms for piece in pieces)
            following = words[at + size : at + size + 1]
            known = known or (pieces[-1] in _RESPONSES and GRADE_WORDS.isdisjoint(following))
            if (
                not known
                and all(token.boundary < 0.3 for token in tokens[start + 1 : at + size])
                and not any(taken[start : at + size])
                and any(meaning.kind in ("manoeuvre", "muscle", "value", "site") for meaning in term.meanings)
            ):
                opposite = self._index.opposite(term)  # "in version" may be "eversion" as well
                share = 0.0 if opposite is None else 0.4
                found.append(Match(start, at + size, term, 0.97 - share, 0.01, opposite, share))
        return found

    def _by_sound(
        self,
        tokens: list[Token],
        words: list[str],
        exact: list[Match],
        taken: list[bool],
        context: Context,
        where: list[bool],
    ) -> list[Match]:
        """Mends that begin at the tokens for which `where` is true."""
        size = len(words)
        strong: list[list[Match]] = [[] for _ in range(size)]
        sided: set[int] = set()
        heard_right: dict[int, list[Match]] = {}
        for match in exact:
            heard_right.setdefault(match.start, []).append(match)
            if is_strong(match.term):
                for at in range(match.start, match.end):
                    strong[at].append(match)
                if is_side(match.term):
                    sided.update(range(match.start, match.end))
        barred = [  # no mend takes in a number or a side
            taken[at] or (context.graded[at] and at not in context.counted) or at in sided for at in range(size)
        ]
        heard = self._heard_together(words)
        spans: list[tuple[tuple[str, ...], int, int, float, bool]] = []
        for start in range(size):
            if barred[start] or not where[start]:
                continue
            of_reflex = words[start] == "me" and not _REFLEXES.isdisjoint(words[start + 1 : start + 2])  # "me jerks"
            begins = words[start] not in _NEVER_FIRST or of_reflex
            if words[start] in GRADE_WORDS and context.after_name(start):
                continue
            if words[start] in _BEFORE_NAMES:
                continue  # "lastly dorsiflexion", "we'll test dorsiflexion": not that of the wrist
            if words[start] == "me" and words[max(0, start - 1)] in ("stop", "let"):
                continue  # "stop me straightening it"
            for end in range(start + 1, min(start + MAX_SPAN, size) + 1):
                last = end - 1
                if heard.get(end, -1) >= start:
                    break
                if end - start > 1 and words[last] in _VERBS and words[end : end + 1] in _TO_DO_WITH:
                    continue  # "knee straighten it" is an instruction heard right
                if words[last - 1] in _VERBS and [words[last]] in _TO_DO_WITH and end - start > 1:
                    continue
                if words[start] in _LEADING and words[last] in _VERBS and end - start == 2:
                    continue  # "just relax"
                if words[start] in _DIRECTIONS and words[last] in _MANNERS:
                    continue  # so is "foot up strong"
                if words[start] in JOINTS and words[start + 1 : start + 2] in _HELD and end > start + 1:
                    continue  # and "with the knee bent"
                if barred[last] or (end - start > 1 and tokens[last].boundary >= 0.5):
                    break
                span = tuple(words[start:end])
                begins = begins and (words[last] not in _NEVER_INSIDE or context.ends_before_grade(end))
                likely = begins and self._may_end(span, start, end, words, context) and self._is_doubtful(span)
                if not likely and (end - start == 1 or span[0] in _DENYING):
                    continue
                heat = context.heat(start, end)
                if not likely:
                    if heat >= 0.5 and self._may_be_alike(span):
                        spans.append((span, start, end, heat, True))
                    continue
                # "Ankle clown us": everyday words after a part of the body may be the rest of a name.
                begun = end - start > 1 and self._index.is_part(span[0])
                rare = _RARE_LONG if end - start > 2 else _RARE
                likely = heat >= 0.3 or begun or min(map(frequency, span)) < rare
                if likely or (context.opens(start) and self._is_half_heard(span)):
                    spans.append((span, start, end, heat, False))
        self._nearest_terms.prepare({span for span, *_ in spans})
        sounding: list[tuple[Match, tuple[str, ...], float, bool]] = []
        for span, start, end, heat, alike in spans:
            mend = self._nearest(span, start, end, heat, context)
            if mend is None or (heat < 0.3 and mend.distance > _ALIKE and min(map(frequency, span)) >= _RARE):
                continue
            sounding.append((mend, span, heat, alike))
        if self._likely is not None:
            pairs = (pair for mend, *_ in sounding for pair in self._pairs(tokens, words, mend, barred))
            self._likely.nearest.prepare({tuple(words[start:end]) for start, end in pairs})
        found: list[Match] = []
        less_likely: list[Match] = []
        for mend, span, heat, alike in sounding:
            start, end = mend.start, mend.end
            long = len(self._index.sounds(mend.term)[0]) >= _LONGER
            if mend.distance > (_ALIKE if long else NEARLY_THE_SAME) and not context.counted.isdisjoint(
                range(start, end)
            ):
                continue  # "ten past two"; but "soup and eight a jerks"
            within = [inner for at in range(start, end) for inner in heard_right.get(at, ()) if inner.end <= end]
            held = {id(inner): inner for at in range(start, end) for inner in strong[at]}.values()
            if (
                span[-1] in _RESPONSES and mend.term.words[-1] not in _RESPONSES and not context.ends_before_grade(end)
            ) or any(word in _RESPONSES for word in span[1:-1]):
                continue  # "plan does flexor" is a response of the plantars, not a plantarflexor
            if alike and not self._is_alike(mend, span, [*within, *held]):
                continue
            finding = self._finding_instead(tokens, words, mend, barred)
            if finding is not None:
                found.append(finding)
                continue
            joint = words[start - 1] if start else ""
            if mend.term.text in _MOVEMENTS and joint in JOINTS and not self._index.goes_with(joint, mend.term):
                continue  # "finger a duction" is none of the hip
            if self._is_allowed(mend, span, within, list(held), words):
                by_place = not alike and heat < 0.3 and not self._index.is_part(span[0])
                by_place = by_place and min(map(frequency, span)) >= _RARE
                by_place |= self._is_far_finding(mend)
                (less_likely if alike else found).append(replace(mend, placed=True) if by_place else mend)
        ends: dict[int, int] = {}
        for match in found:
            ends[match.start] = max(match.end, ends.get(match.start, 0))

        def is_within(mend: Match) -> bool:
            """ "Extents or alice" is more than "extents or"."""
            return any(ends.get(at, 0) >= mend.end for at in range(mend.end - MAX_SPAN, mend.start + 1))

        return found + [mend for mend in less_likely if not is_within(mend)]

    def _heard_together(self, words: list[str]) -> dict[int, int]:
        """ "Out of time | gait is normal", "the flexors in the leg": by their ends, words that no mend takes in."""
        found = {
            at + length: at
            for at, word in enumerate(words)
            if word in self._idiom_starts
            for length in (2, 3)
            if tuple(words[at : at + length]) in self._index.no_terms
        }
        limbs = (at for at, word in enumerate(words) if word in _OF_LIMBS)
        return found | {at + 1: at - 2 for at in limbs if words[max(0, at - 2) : at] == ["in", "the"]}

    def _finding_instead(self, tokens: list[Token], words: list[str], mend: Match, barred: list[bool]) -> Match | None:
        """ "All tered": two words that sound more like one finding than like a name."""
        if self._likely is None:
            return None
        for start, end in self._pairs(tokens, words, mend, barred):
            gap, saying = next(iter(self._likely.nearest.near(tuple(words[start:end]))), (1.0, None))
            term = None if saying is None else saying.term
            if term is not None and is_finding(term) and gap < min(_LIKE_A_FINDING, mend.distance - _CLEARLY):
                return Match(start, end, term, _IN_SLOT, gap or 1e-6, placed=True)
        return None

    def _pairs(
        self, tokens: list[Token], words: list[str], mend: Match, barred: list[bool]
    ) -> Iterator[tuple[int, int]]:
        """Two words, `start`..`end` (exclusive), that end where a mend which does not sound much like them ends."""
        if mend.distance <= _ALIKE or tokens[mend.end - 1].boundary >= COMMA:
            return
        for start in (mend.start, mend.start - 1):
            if start < 0 or mend.end - start != 2 or barred[start]:
                continue
            if start == mend.start or (words[start],) not in self._index.terms:
                yield start, mend.end

    def _is_far_finding(self, mend: Match) -> bool:
        """ "Dresser": a short finding that is present where it is named, for words that sound rather unlike it."""
        denied = self._index.scales(mend.term) & DENIED
        return bool(denied) and mend.distance > _ALIKE and len(self._index.sounds(mend.term)[0]) < _LONG

    def _may_end(self, span: tuple[str, ...], start: int, end: int, words: list[str], context: Context) -> bool:
        """Small words end no name, but for a few that a misheard name is cut into."""
        if span[-1] in _POINTING or span[-2:] == ("that", "is"):
            return False  # "push your foot down, that's four"
        if span[-1] not in _NEVER_LAST or context.ends_before_grade(end):
            return True
        if span[-1] in ("or", "a", "are", "her") and len(span) == 2 and context.after_plantar(start):
            return True
        if span[-1] in ("or", "a", "us", "her") and len(span) > 2:  # "soup in eight or"
            return True
        if span[-1] == "in" and words[end : end + 1] in (["in"], ["of"], ["at"]):  # "waste in in the leg"
            return True
        if span[-1] != "'s":
            return False
        return words[end : end + 1] == ["sign"] or (
            len(span) > 1 and (context.ends_before_result(end) or context.opens(start))  # "half man's"
        )

    def _may_be_alike(self, span: tuple[str, ...]) -> bool:
        """Words that should be left alone, but may sound just like a long name ("a killer's reflexes")."""
        if FUNCTION.issuperset(span[-2:]) or span[-1] in BE or span[-1] in GRADE_WORDS:
            return False  # "clone us at the", "reflex is"
        if span in self._index.terms or _is_of_small_words(span):
            return False
        if span[0] in _OPENING and span[1:] in self._index.terms:
            return False  # "now reflexes"
        if span[0] in _VERBS and not _ADDRESSED.isdisjoint(span):
            return False  # "walk on your heels" is an instruction heard right
        # "planter flex shun is five and"
        return BE.isdisjoint(span) or not any(word in BE and then in NUMBER_WORDS for word, then in pairwise(span))

    def _is_alike(self, mend: Match, span: tuple[str, ...], held: list[Match]) -> bool:
        """They do, all of them, and none was heard right."""
        size = len(self._index.sounds(mend.term)[0])
        near = _ALIKE - 0.04 if size < _LONG else _ALIKE if size < _LONGER else _ALIKE + 0.03
        denied = [
            at for at, word in enumerate(span) if word in _DENYING and span[max(0, at - 1)] != "a"
        ]  # "a nil tone"
        if any(inner.start == mend.start + at + 1 for inner in held for at in denied):
            return False  # "muscles, no fasciculation"; but "ankle coal no us"
        others = [inner for inner in held if inner.term.text not in mend.term.text]  # "breaky oh radial is jerks"
        if (others and mend.distance > NEARLY_THE_SAME) or size < _LONG - 1 or mend.distance > near:
            return False
        if not self._index.of_the_trade.isdisjoint(set(span).difference(mend.term.words)):
            return False  # "dermatome and normal"; but "patter her reflexes"
        return not all(word in _SMALL for word in span if word not in mend.term.words)  # "extension of the"

    def _is_doubtful(self, span: tuple[str, ...]) -> bool:
        """The words may be something else than what was written: not a term, not plain small words."""
        if span in self._index.terms or (len(span) == 1 and span[0] in self._index.pieces):
            return False
        if _is_of_small_words(span) or self._index.left_alone.issuperset(span):
            return False
        if len(span) == 2 and span[0] in NUMBER_WORDS and span[1] in self._index.left_alone:
            return False  # "all three muscles"
        if span in self._index.times:
            return False  # "last week" is no "straight leg"
        if len(span) > 1 and not _TELLING.isdisjoint(span):
            return False
        if len(span) > 1 and span[0] in self._index.reasons and span[1:] not in self._index.seconds:
            return False  # "not tested, pain, hamstrings"; but "pain prick"
        if not self._said_rarely.isdisjoint(span):
            return self._ends_a_name(span)
        if len(span) > 1 and (not _PRAISE.isdisjoint(span) or (span[0] in _VERBS and "your" in span)):
            return False  # "my hand, good", "walk on your heels"
        if len(span) > 1 and span[0] in _VERBS and span[1] in _OBJECTS:
            return False  # "extend the knee" is an instruction heard right
        if len(span) == 2 and (
            (span[1] in _DIRECTIONS and self._index.is_part(span[0]))
            or (span[1] in WHERETO and span[0] in self._index.ordered)
        ):
            return False  # "heel back", "soles out" too
        return BE.isdisjoint(span[1:-1])

    def _ends_a_name(self, span: tuple[str, ...]) -> bool:
        """ "Tendon gait": a word of the trade that sounds just like the one that belongs before the next."""
        near = self._nearest_terms.near(span) if len(span) == 2 else []
        return bool(near) and near[0][0] < NEARLY_THE_SAME + 0.02 and near[0][1].words[1:] == span[1:]

    def _is_allowed(
        self, match: Match, span: tuple[str, ...], within: list[Match], held: list[Match], words: list[str]
    ) -> bool:
        """A mend may not swallow words that were heard right and mean something else."""
        if (
            self._index.changes_part(span, match.term)
            or self._takes_more(match, span)
            or self._adds_a_word(match, span)
        ):
            return False
        if (match.distance > 0.1 or len(span) == 1) and not REACHING.isdisjoint(span):
            return False  # "the right only manages three" names no eminence
        if words[max(0, match.start - 2) : match.start - 1] == ["my"] and words[match.start - 1] in _FOND:
            return False  # "my dear girl": who is spoken to
        if span[-1] == "i'd" and words[match.end : match.end + 1] in _RATHER:
            return False  # "a bit up I'd say", "dull I'd call it"
        if span[0] in _RESPONSES and span[1:2] in (("in",), ("on",), ("at",)):
            return False  # "flexor in an infant"
        if span[0] in _RESPONSES and words[max(0, match.start - 1) : match.start] == ["both"]:
            return False  # "plantars both extensor | heel chin impaired"
        if any(word in LIMBS and word not in match.term.words for word in span):
            return False  # "legs, town increased"
        if len(span) == 2 and span[1] in BE and self._index.is_part(span[0]):
            return False  # "the left heel is fine"
        if span[:2] in (("because", "the"), ("because", "he"), ("because", "she")):
            return False  # "deferred because the fork is lost": why, and no name
        if span[-3:-1] in (("with", "the"), ("with", "a")) and span[-1] in self._index.ordered:
            return False  # "properly with the pin": what the test was done with
        if (
            span[-1] == "no"
            and match.end < len(words)
            and any(map(self._index.names, self._index.exact(words, match.end)))
        ):
            return False  # "postural tremer, no wasting": a denial
        if len(span) > 1 and span[0] == "fine" and words[max(0, match.start - 1)] in _IS_FINE:
            return False  # "the couch is fine | ham strings five"
        if span[0] == "great" and span[-1] in self._index.ordered:
            return False  # "great, push down": praise and an order
        if span[-1] in _REFLEXES and match.term.words[-1] not in _REFLEXES:
            return False  # "elbow reflex" is no elbow flexion
        if match.distance > 0.1 and any(
            len(inner.term.words) == 1
            and frequency(inner.term.text) < _UNMISTAKABLE
            and inner.term.text not in match.term.words
            for inner in within
        ):
            return False  # a rare word of the trade does not come about by mishearing: "a great deal of circumduction"
        foreign = [inner for inner in within if not same_meaning(inner.term, match.term)]
        if any(self._is_plain(besides(inner, match, words)) for inner in foreign if is_value(inner.term)):
            return False  # "it's sustained" is not "unsustained", "dermatome and normal" not "unaided and normal"
        owned = span[-1] == match.term.words[-1] == "'s"
        if span[-1] in _NEVER_LAST and match.distance > 0.1 and match.term.words[-1] not in _RESPONSES and not owned:
            return False
        if match.distance > 0.08 and (
            (span[-1] in FUNCTION and span[:-1] in self._index.terms)
            or any(is_finding(inner.term) for inner in foreign)
        ):
            return False
        whole = {
            at
            for inner in within
            if is_strong(inner.term) or is_finding(inner.term) or inner.term.text in _RESPONSES
            for at in range(inner.start, inner.end)
        }
        if len(whole) == len(span):
            return False
        if any(self._adds_small_talk(match, inner, words) for inner in within):
            return False
        for inner in held:
            beyond = words[inner.end : match.end]
            if inner.start < match.start and len(inner.term.words) > 1 and all(word in FUNCTION for word in beyond):
                return False  # "knee flexion and": a name that was heard right is not cut in two
            near = match.distance < 0.12 or (match.distance < 0.2 and self._index.is_part(inner.term.text))
            replaced = match.distance < 0.16 and completes(match, inner.term, span)  # "annual tone"
            if not (
                same_meaning(inner.term, match.term)
                or (match.distance < 0.12 and self._index.same_test(inner.term, match.term))  # "extent sir hallux us"
                or replaced
                or (match.distance < NEARLY_THE_SAME and self._sounds_like_more(match, inner, words))
                or (near and (may_swallow(inner, span, match.start) or completes(match, inner.term, span)))
            ):
                return False
        same = [inner for inner in within if same_meaning(inner.term, match.term)]
        if same:
            widest = max(same, key=lambda inner: inner.end - inner.start)
            extra = words[match.start : widest.start] + words[widest.end : match.end]
            if all(word in FUNCTION or word in GRADE_WORDS for word in extra):  # "so nought plantarflexion"
                return False
            if is_place(widest.term) and tuple(extra) in self._index.terms:  # "perianal pin" is no "perianal skin"
                return False
            return match.distance <= 0.16 and not all(frequency(word) > 4.3 for word in extra)
        return True

    def _adds_small_talk(self, match: Match, inner: Match, words: list[str]) -> bool:
        """ "Triceps only three" is no triceps surae, "biceps looks four" no biceps jerk, "really ECR" no iliopsoas: a
        test that was heard right, and an everyday word that does not sound like the rest of another name.
        """
        besides_it = besides(inner, match, words)
        if len(besides_it) != 1 or same_meaning(inner.term, match.term) or not self._is_whole_name(inner.term.words):
            return False
        word = besides_it[0]
        rest = [one for one in match.term.words if one not in inner.term.words]
        if len(rest) != 1:
            return frequency(word) > EVERYDAY and not set(inner.term.words) & set(match.term.words)
        if frequency(rest[0]) < _RARE:
            return frequency(word) > EVERYDAY
        return frequency(word) > _SMALL_TALK and nearest(phones(word), phones(rest[0])) > _UNLIKE

    def _sounds_like_more(self, match: Match, inner: Match, words: list[str]) -> bool:
        """ "Petal are reflexes": what was heard right is no test by itself; the rest are not all small words.

        Or it is the end of a longer name, of which each word sounds the same ("heal to toe walking").
        """
        if inner.term.text not in match.term.text:
            return False
        if self._is_whole_name(inner.term.words):
            return match.distance < _SPELLED_OTHERWISE and len(match.term.words) == match.end - match.start
        return not FUNCTION.issuperset(besides(inner, match, words))

    def _is_plain(self, words: list[str]) -> bool:
        """Small words and words of the trade: nothing was misheard."""
        return all(word in FUNCTION or word in _ADDING or word in self._said_rarely for word in words)

    def _contested(self, match: Match, at_token: dict[int, list[Match]]) -> Match:
        """A mend tells of its opposite where other words at the same place may stand for it ("elbow flex tension")."""
        if not match.mended or match.rival is not None:
            return match
        others = (other for at in range(match.start, match.end) for other in at_token[at])
        against = next((other for other in others if self._index.opposed(match.term, other.term)), None)
        if against is None:
            return match
        return replace(match, rival=against.term, rival_probability=0.5 * against.probability)

    def _doubted(self, matches: list[Match]) -> list[Match]:
        """ "Gastro crocs five": two names in a row that are both far from what was written may have been one."""
        far = {match.start: match for match in matches if match.distance > _ALIKE and self._index.names(match.term)}
        in_a_row = [(match, far[match.end]) for match in far.values() if match.end in far]
        doubted = {id(match) for pair in in_a_row for match in pair}
        return [
            replace(match, probability=min(match.probability, _IN_SLOT), placed=True) if id(match) in doubted else match
            for match in matches
        ]

    def _with_word_before(self, match: Match, words: list[str], taken: list[bool]) -> Match:
        """ "No wasting or fashion circulation": what is denied begins right after "or", with a word of no meaning."""
        first = match.start - 1
        if not match.mended or first < 1 or words[first - 1] not in _DENYING_NEXT or taken[first]:
            return match
        span = tuple(words[first : match.end])
        if (
            words[first] in FUNCTION
            or (words[first],) in self._index.terms
            or not self._index.scales(match.term) & DENIED
        ):
            return match
        near = self._nearest_terms.near(span)[:1]
        whole = bool(near) and near[0][0] <= _TOO_FAR_OF_MANY and same_meaning(near[0][1], match.term)
        return replace(match, start=first) if whole else match

    def _joined(self, matches: list[Match], tokens: list[Token]) -> list[Match]:
        """ "Tan dumb gait": where one of two terms in a row was mended, and both together are a term, that is meant."""
        out: list[Match] = []
        for match in matches:
            last = out[-1] if out else None
            if last and last.end == match.start and last.mended != match.mended and tokens[match.start].boundary < 0.5:
                whole = self._index.terms.get(last.term.words + match.term.words)
                if whole is not None:
                    doubtful = last if last.mended else match
                    rival, share = self._opposite(whole, tuple(token.text for token in tokens[last.start : match.end]))
                    out[-1] = replace(
                        doubtful,
                        start=last.start,
                        end=match.end,
                        term=whole,
                        rival=rival,
                        rival_probability=share,
                        completes=False,
                    )
                    continue
            out.append(match)
        return out

    def _opposite(self, whole: Term, span: tuple[str, ...]) -> tuple[Term | None, float]:
        """The opposite movement that a name in two parts may be as well ("shoulder", "a deduction"), and its share."""
        gaps = {term: gap for gap, term in self._nearest_terms.near(span)}
        other = next((term for term in gaps if self._index.opposed(whole, term)), None)
        if other is None:
            return None, 0.0
        share = 0.5 * min(1.0, 1 - (gaps[other] - gaps.get(whole, 0.0)) / _RIVAL_WINDOW)
        return (other, share) if share > 0 else (None, 0.0)

    def _takes_more(self, match: Match, span: tuple[str, ...]) -> bool:
        """The span takes in a grade or an "is" that the term sounds little better for ("hallow cyst two")."""
        margin = 0.06 if span[-1] in BE and match.distance < NEARLY_THE_SAME else 0.12  # "how loose is four"
        rests = [span[:-1]] if span[-1] in GRADE_WORDS or span[-1] in BE else []
        rests += [span[1:]] if span[0] in GRADE_WORDS else []
        return any(
            rest
            and (
                rest == match.term.words
                or self._is_whole_name(rest)  # "triceps three" is no triceps surae
                or any(
                    same_meaning(term, match.term) and gap < match.distance + margin
                    for gap, term in self._nearest_terms.near(rest)
                )
            )
            for rest in rests
        )

    def _adds_a_word(self, match: Match, span: tuple[str, ...]) -> bool:
        """ "Reason, street leg raise": an everyday word taken for the first of a longer name."""
        shorter = self._index.terms.get(match.term.words[1:])
        return (
            len(match.term.words) > 2
            and shorter is not None
            and self._index.names(shorter)
            and span[0] != match.term.words[0]
            and frequency(span[0]) > EVERYDAY
            and nearest(phones(span[0]), phones(match.term.words[0])) > _ALIKE
            and any(term is shorter for _, term in self._nearest_terms.near(span[1:])[:1])
        )

    def _is_whole_name(self, words: tuple[str, ...]) -> bool:
        term = self._index.terms.get(words)
        return term is not None and self._index.names(term) and not is_part(term)

    def _is_half_heard(self, span: tuple[str, ...]) -> bool:
        """ "Tow walking", "he'll shin": one word of a name was heard right, the other sounds just like its own."""
        if len(span) != 2 or (span[0] not in self._first_words and span[1] not in self._last_words):
            return False
        return any(
            gap < NEARLY_THE_SAME
            and self._index.names(term)
            and (span[0] == term.words[0]) != (span[1] == term.words[1])
            for gap, term in self._nearest_terms.near(span)
            if len(term.words) == 2
        )

    def _completes(self, span: tuple[str, ...], words: tuple[str, ...]) -> bool:
        """ "Knee attention", "annual tone": half of a name was heard right, and names a test, or many, by itself."""
        if len(words) != 2 or not 2 <= len(span) <= 3:
            return False
        ended = self._index.terms.get(span[1:])
        begun = span[0] == words[0] and (span[0] in _RESPONSES or (self._index.is_part(span[0]) and len(span) == 2))
        return begun or (span[1] == words[1] and ended is not None and self._index.names(ended))

    def _nearest(self, span: tuple[str, ...], start: int, end: int, heat: float, context: Context) -> Match | None:
        near = self._nearest_terms.near(span)
        if not near or not _is_close(near[0][0], span):
            return None

        needed = _needed(span, heat)
        if 1 - near[0][0] + BEST_FIT < min(needed + _LONG_NAME, _OF_FEW_LETTERS):
            return None
        fits: dict[Term, float] = {}

        def fit(gap: float, term: Term) -> float:
            bonus = fits.get(term)
            if bonus is None:
                bonus = fits[term] = context.fit(term, start, end)
            return max(bonus, 0.0) if gap < _THE_SAME and len(span) > 1 else bonus  # "toes, tow walking"

        def is_hopeless(gap: float, term: Term) -> bool:
            """`unlike` only adds to a distance, and no term needs less than the longest."""
            return 1 - gap + fit(gap, term) < (needed + _LONG_NAME if len(term.text) > 4 else _OF_FEW_LETTERS)

        hopeful = ((gap, term) for gap, term in near if _is_close(gap, span) and not is_hopeless(gap, term))
        if all(is_hopeless(unlike(span, gap, term.words), term) for gap, term in hopeful):
            return None
        if len(span) > 1 and span[0] in _ARTICLES:
            without = self._nearest_terms.near(span[1:])
            if without and without[0][0] <= near[0][0] + _ARTICLE:
                return None
        ranked: list[tuple[float, float, Term]] = []
        score = 0.0
        for gap, term in near:
            if gap > _TOO_FAR:
                break
            if 1 - gap + fit(gap, term) > score - _REVERSAL_WINDOW:  # or it is far behind the best already
                gap = unlike(span, gap, term.words)
            ranked.append((1 - gap + fit(gap, term), 1 - gap, term))
            score = max(score, ranked[-1][0])
        ranked.sort(key=lambda hit: -hit[0])
        score, likeness, term = ranked[0]
        if len(span) > 2 and 1 - likeness > (_TOO_FAR_IN_PIECES if len(term.words) == 1 else _TOO_FAR_OF_MANY):
            return None
        need = (
            needed
            + (0.0 if self._index.names(term) else 0.08)
            + (0.06 if len(span) == 1 and len(term.words) > 1 else 0.0)
            + _short_term(self._index.sounds(term)[0])
        )
        if len(term.text) <= 4 and likeness < (0.87 if heat >= 0.5 and context.opens(start) else 0.98):
            return None
        if score < (need if len(term.text) > 4 else _OF_FEW_LETTERS):
            return None
        others = [(other, s) for s, _, other in ranked[1:] if not same_meaning(term, other)]
        rival = next(iter(others), None)
        rival_probability = 0.0
        if rival and score - rival[1] < _RIVAL_WINDOW:
            rival_probability = 0.5 * (1 - (score - rival[1]) / _RIVAL_WINDOW)
        else:  # what reverses the finding is told of from farther off
            rival = next((one for one in others if self._index.opposed(term, one[0])), None)
            if rival and score - rival[1] < _REVERSAL_WINDOW:
                rival_probability = _REVERSAL_SHARE
        probability = _logistic(14 * (score - need) + 1.2) * (1 - rival_probability)
        return Match(
            start,
            end,
            term,
            probability,
            1 - likeness or 1e-6,
            rival[0] if rival and rival_probability else None,
            rival_probability,
            self._completes(span, term.words),
        )


def _join_levels(tokens: list[Token], roots: list[Roots]) -> None:
    """Takes back the full stop before a sentence of nothing but levels that goes on with those before it ("normal at
    L4. L5 and S1 on both sides"), or after it where the finding follows ("L5. Reduced.").
    """
    level = {at for root in roots for at in range(root.start, root.end)}

    def tells_where(start: int, end: int) -> bool:
        return all(at in level or tokens[at].text in _AMONG_LEVELS for at in range(start, end))

    starts = [at for at, token in enumerate(tokens) if token.boundary >= CLAUSE_MARK] + [len(tokens)] * 2
    before = False
    for start, end, last in zip(starts, starts[1:], starts[2:], strict=False):
        here = not level.isdisjoint(range(start, end))
        if here and tells_where(start, end):
            if end < last and tokens[end].text in FINDINGS and tells_where(end + 1, last):
                tokens[end].boundary = COMMA
            elif before:
                tokens[start].boundary = COMMA
        before = here


_AMONG_LEVELS = frozenset("and also on in at the to through down or both sides left right his her too as well".split())


def _logistic(x: float) -> float:
    return 1 / (1 + math.exp(-x))


def _as_grade(number: Number, tokens: list[Token]) -> Number:
    """ "Wrist extension two fingers ...": right after a name stands its grade, no count of fingers."""
    of_fingers = [token.text for token in tokens[number.end : number.end + 1]] == ["fingers"]
    if number.unit == "count" and number.value <= 5 and of_fingers and tokens[number.start].boundary < COMMA:
        return replace(number, unit="grade")
    return number


_FOND = frozenset("good dear old young".split())
_IS_FINE = BE | {"'s", "that's", "it's", "all"}
_NEVER_FIRST = frozenset(
    """me him them us and or but is are was were be been the it he she i you we they that this these those
        there his her my your has have had if when which who what with so no not now then okay give gives
        gave""".split()
)
_BEFORE_NAMES = frozenset("distract distracting firstly secondly thirdly lastly test testing checking".split())
_SMALL_TALK, _UNLIKE = 5.2, 0.2
"""Zipf frequency and distance above which a word beside a name that was heard right is no part of a longer name."""
_RARE, _RARE_LONG = 2.6, 3.4
"""Zipf frequencies: rarer words are worth a look where nothing else points to a name; more so if three or more."""
_ALIKE = 0.1
_SPELLED_OTHERWISE = 0.01
"""How far the sounds of a longer name may be from words that a shorter one was heard right in."""
_CLEARLY, _LIKE_A_FINDING = 0.05, 0.18
"""How much more two words must sound like a finding than like a name, and how far from it they may be."""
_LONG, _LONGER = 7, 11
"""Phonemes of names that hardly anything else sounds like."""
_ARTICLES = frozenset("the his her".split())
_ARTICLE = 0.03
"""How much better a name must sound for taking in the article before it ("the anchor jerks": finger jerks?)."""
_OPENING = frozenset("now next then so and".split())
_POINTING = frozenset("that that's it's there's this these those".split())
_ASKED_OF = frozenset("it this that these he she they you there your the any his her".split())
_ENDING_NOTHING = frozenset("the an of at".split())
_AFTER_A_SIGN = frozenset("on in left right both bilaterally throughout out over and".split())
_AFTER_AND = frozenset("the a an his her there there's some also i we it it's".split())
"""What stands after a "plus" that means "and"."""
_NEVER_INSIDE = frozenset("and but no not none nil gives gave against".split())
_NEVER_LAST = frozenset(
    """or but are was were be been the that this there my your he she it's i you we they has have had if
        when which who what with so no not in at of to for a on 's by from both now then""".split()
)


def _is_close(gap: float, span: tuple[str, ...]) -> bool:
    # The distance is rounded here as it is in `_nearest`.
    return gap <= _TOO_FAR if len(span) < 3 else 1 - (1 - gap) <= _TOO_FAR_IN_PIECES


def _needed(span: tuple[str, ...], heat: float) -> float:
    """Likeness that a mend of these heard words needs."""
    rarest = min(map(frequency, span))
    need = 0.88 - 0.24 * heat
    if len(span) == 1 and rarest >= 4.3:
        need += 0.06
    if rarest >= 5.0:
        need += 0.09 + 0.06 * heat
    elif rarest >= 4.3:
        need += 0.05 + 0.04 * heat
    elif rarest >= 3.5:
        need += 0.03
    elif rarest < 1.5:
        need -= 0.05
    if span[0] in FUNCTION and not (span[0] == "a" and rarest < 1.5):  # "a ductors"
        need += 0.05
    if len(span) > 2 and rarest > 3.5:
        need += 0.03
    if len(span) > 3:
        need = max(need, 0.76)
    if span[-1] == "is":
        need += 0.04
    if len(span) > 1 and _is_done(span[0]) and span[1] in _OBJECTS | _DIRECTIONS:
        need += 0.25  # "pressing down", "lifting the knee" tell of an instruction
    elif span[0] in _VERBS and len(span) == 2:
        need += 0.15  # "straighten it" is an instruction heard right
    elif not _COUNTING_OR_MOVING.isdisjoint(span):
        need += 0.06
    if sum(word in FUNCTION for word in span) > len(span) / 2:
        need += 0.12
    return need


def _is_of_small_words(span: tuple[str, ...]) -> bool:
    return FUNCTION.issuperset([word for word in span if len(word) > 1])


def _is_done(word: str) -> bool:
    """ "Pressing", "raising"."""
    return word.endswith("ing") and not _VERBS.isdisjoint((word[:-3], f"{word[:-3]}e"))


def _short_term(said: Phones) -> float:
    size = len(said)
    return 0.09 if size <= 4 else 0.05 if size <= 5 else 0.02 if size <= 6 else _LONG_NAME if size >= 11 else 0.0


_LONG_NAME = -0.02
"""What a name of many phonemes adds to the likeness it needs: no other adds less."""
_OF_FEW_LETTERS = 0.88
"""What a name of four letters at most needs."""


_OF_LIMBS = frozenset("arm arms leg legs limb limbs".split())
_MOVEMENTS = frozenset("adduction abduction flexion extension inversion eversion".split())
_LETTERS = {
    "el": "l", "ell": "l", "ee": "e", "aitch": "h", "haitch": "h", "ef": "f", "eff": "f", "dee": "d", "see": "c",
    "ar": "r", "are": "r", "pee": "p", "bee": "b", "you": "u", "eye": "i", "em": "m", "ay": "a",
}  # fmt: skip
_LEADING = frozenset("just then now and please so".split())
_TO_DO_WITH = (["it"], ["that"], ["your"], ["my"])
"""What an order is about: "knee straighten it", "first touch my finger"."""
_VERBS = frozenset(
    """bend push pull press lift hold kick clench raise squeeze slide tap keep relax straighten walk stand
        turn run roll sit look flex extend elevate thrust resist tickle cock curl twist stretch tuck point bring
        draw put move drop open close shut take place rest pat touch""".split()
)
_COUNTING_OR_MOVING = NUMBER_WORDS | _VERBS | {f"{verb}ing" for verb in _VERBS}
_OBJECTS = frozenset("the it them that this these those your my his her".split())
_DIRECTIONS = frozenset("up down back in out under forward straight apart together off round over".split())
_HELD = (["bent"], ["straight"], ["flexed"])
_MANNERS = frozenset("strong stronger hard harder high higher tight straight".split())
_THE_SAME = 0.01
"""Distance of words that only spelling tells from a name; what stands around them does not speak against it."""
_REFLEXES = frozenset("reflex reflexes jerk jerks".split())
_ADDING = frozenset("also still again".split())
_RESPONSES = frozenset({"flexor", "extensor"})
_RATHER = (["say"], ["call"], ["put"])
GRADE_WORDS = frozenset("zero nought naught nil one two three four five".split())
_ADDRESSED = frozenset("your me my".split())
_DENYING = frozenset("no not none nil without nor".split())
_DENYING_NEXT = frozenset("no or nor without".split())
_PRAISE = frozenset("good lovely excellent perfect brilliant okay thanks nice splendid smashing fantastic".split())
_SMALL = FUNCTION | NUMBER_WORDS
_TELLING = PUT_OFF | REPORTING | GRADING


__all__ = ["Cover", "Match", "Meaning", "Mender", "frequency"]
