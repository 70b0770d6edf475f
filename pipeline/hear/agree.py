"""Two listeners' words for one utterance, made into one sequence.

The open listener's words stand. The lexicon listener confirms them, puts another reading beside them, or, where the
open listener plainly garbled a term of the same sound or was less sure of what sounds alike, replaces them. Where it is
much surer of a whole utterance, and nearly all of that belongs to an examination, its words stand instead. A word that
only the lexicon listener heard is never added to the open one's: it expects terms everywhere. Where the record could
hang on a word that one listener alone heard, the word is flagged.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from math import inf

from rapidfuzz.distance import Levenshtein

from pipeline.hear.trigrams import talk
from pipeline.hear.words import Word
from pipeline.lexicon import Lexicon, phones, phrase_phones
from pipeline.lexicon.model import Manoeuvre, Muscle, Nerve, Site
from pipeline.lexicon.pronounce import number_words

AGREE = "listeners_agree"
"""Flag of a word that both listeners heard."""
DISAGREE = "listeners_disagree"
"""Flag of a word where they differ and the record could change with the reading."""
LEXICON_WON = "lexicon_won"
"""Flag of a term of the lexicon listener that stands in place of the open listener's garbled words."""

_NEGATIONS = frozenset({"no", "not", "never", "without"})
_SIGNS = {"+": "plus", "%": "percent", "°": "degrees"}
_NUMBERS = frozenset(word for number in range(100) for word in number_words(number)) | {"plus", "minus", "half"}
_FUNCTION_WORD = 5.9
"""Zipf frequency (`wordfreq`) from which a word of a term says nothing by itself ("of", "the", "at")."""
_RARE = 3.2
"""Zipf frequency below which a word does not occur in everyday talk."""
_SURE = 0.5
_SAME_SOUND = 0.4
"""Largest share of phonemes that differ between a term and the garbled words it may replace."""
_LONGEST_GARBLE = 6
_ALIKE = 0.67
"""Largest share of phonemes that differ between two readings of which the surer one stands."""
_LEAST_SURE, _LESS_SURE = 0.4, 0.2
"""A reading of the lexicon listener that replaces another has at least this confidence, and at most so much less."""
_LEADS, _LEADS_BY, _LEADS_ON = 0.6, 0.2, 0.6
"""Mean confidence, its lead over the open listener's, and the share of telling words, with which the lexicon listener's
words of an utterance stand. These and the three above: the best row F1 of some tens tried on 24 recordings."""
_UNLIKELIER = 2.0
"""How much less likely examiners may be to say what takes the place of other words, as a logarithm."""
_GAP = 0.55
_SLACK = 0.4
"""Seconds by which the two listeners may place one word differently."""


@dataclass(frozen=True)
class _Token:
    """A word as it is said; `word` is the place of the written word that it comes from."""

    text: str
    word: int
    middle: float


@dataclass
class _Run:
    """Tokens in the same place of both sequences: (first, last) of the open one's against the lexicon one's."""

    open: tuple[int, int]
    lexicon: tuple[int, int]


@dataclass
class _Verdict:
    """What the comparison says of one written word of the open listener."""

    agreed: int = 0
    disputed: bool = False
    readings: list[str] = field(default_factory=list)


class Agreement:
    """Compares readings with one lexicon in mind.

    `trusted`: the confidence from which a word of the open listener neither gives way nor is disputed; default: none.
    """

    def __init__(self, lexicon: Lexicon, trusted: float = inf) -> None:
        self._trusted = trusted
        named: list[Manoeuvre | Muscle | Nerve | Site] = [
            *lexicon.manoeuvres, *lexicon.muscles, *lexicon.nerves, *lexicon.sites
        ]  # fmt: skip
        names = [name for entry in named for name in entry.names]
        names += [entry.word for entry in lexicon.pronunciations]
        said = [word for scale in lexicon.scales for value in scale.values for word in value.say]
        said += [
            phrase for kind in ("side_left", "side_right", "side_both") for phrase in lexicon.phrases.get(kind, [])
        ]
        self._telling = {
            word for phrase in (*names, *said) for word in spoken_words(phrase) if zipf(word) < _FUNCTION_WORD
        }
        self._telling |= _NUMBERS | _NEGATIONS | {"left", "right", "both"}
        self._terms = {
            words
            for words in (tuple(spoken_words(name)) for name in names)
            if any(zipf(word) < _RARE for word in words)
        }
        self._longest = max((len(term) for term in self._terms), default=0)
        self._confusions = {frozenset(pair) for one in lexicon.confusions for pair in _differing_words(*one.pair)}

    def merge(self, opened: Sequence[Word], lexicon: Sequence[Word]) -> list[Word]:
        """The words of one utterance. `opened` and `lexicon`: what each listener heard in it, in order of time."""
        if self._leads(opened, lexicon):
            return self._merged(lexicon, opened, replaces=False)
        return self._merged(opened, lexicon, replaces=True)

    def _leads(self, opened: Sequence[Word], lexicon: Sequence[Word]) -> bool:
        """Whether the lexicon listener is so much surer of an utterance of examination that its words stand."""
        if not opened or not lexicon or not _overlap(opened, lexicon):
            return False
        sure, other = (sum(word.confidence for word in words) / len(words) for words in (lexicon, opened))
        if other >= self._trusted:
            return False
        heard, said = ([part for word in words for part in spoken_words(word.text)] for words in (opened, lexicon))
        telling = sum(part in self._telling for part in said) / max(1, len(said))
        return (
            sure >= _LEADS
            and sure - other >= _LEADS_BY
            and telling >= _LEADS_ON
            and heard != said
            and sound_distance(tuple(said), tuple(heard)) <= _ALIKE
            and not self.is_confusion(" ".join(heard), " ".join(said))
        )

    def _merged(self, opened: Sequence[Word], lexicon: Sequence[Word], replaces: bool) -> list[Word]:
        """The words of `opened`, judged by those of `lexicon`, which may take their place where `replaces` is true."""
        left, right = _tokens(opened), _tokens(lexicon)
        verdicts = [_Verdict() for _ in opened]
        confidence: list[list[float]] = [[] for _ in opened]
        won: dict[int, tuple[int, list[Word]]] = {}
        for run in self._runs(left, right):
            (a, b), (c, d) = run.open, run.lexicon
            if b - a == d - c == 1 and self._agrees(left[a].text, right[c].text):
                verdicts[left[a].word].agreed += 1
                confidence[left[a].word].append(lexicon[right[c].word].confidence)
                continue
            if a < b and min(opened[token.word].confidence for token in left[a:b]) >= self._trusted:
                continue
            better = self._better(left[a:b], right[c:d], opened, lexicon) if replaces else None
            if better is not None and not _is_unlikelier(opened, *better):
                first, last, words = better
                won[first] = (last, words)
            else:
                self._dispute(left[a:b], right[c:d], left, a, opened, lexicon, verdicts)
        counts = [0] * len(opened)
        for token in left:
            counts[token.word] += 1
        return self._written(opened, verdicts, counts, confidence, won)

    def is_confusion(self, one: str, other: str) -> bool:
        """Whether two readings differ in a pair that the lexicon lists as a confusion that hurts."""
        first, second = {*spoken_words(one)}, {*spoken_words(other)}
        return any(frozenset((a, b)) in self._confusions for a in first - second for b in second - first)

    def _agrees(self, one: str, other: str) -> bool:
        """Same word, or another spelling of the same sound, unless the two are known to be confused."""
        if one == other:
            return True
        return frozenset((one, other)) not in self._confusions and bool({*phones(one)} & {*phones(other)})

    def _runs(self, left: list[_Token], right: list[_Token]) -> list[_Run]:
        """Agreeing tokens one by one, and what differs between them as one run."""
        runs: list[_Run] = []
        for a, c in _aligned(left, right):
            same = a is not None and c is not None and self._agrees(left[a].text, right[c].text)
            start_a = runs[-1].open[1] if runs else 0
            start_c = runs[-1].lexicon[1] if runs else 0
            end_a, end_c = start_a + (a is not None), start_c + (c is not None)
            if same or not runs or self._is_agreed(runs[-1], left, right):
                runs.append(_Run((start_a, end_a), (start_c, end_c)))
            else:
                runs[-1] = _Run((runs[-1].open[0], end_a), (runs[-1].lexicon[0], end_c))
        return runs

    def _is_agreed(self, run: _Run, left: list[_Token], right: list[_Token]) -> bool:
        (a, b), (c, d) = run.open, run.lexicon
        return b - a == d - c == 1 and self._agrees(left[a].text, right[c].text)

    def _better(
        self, left: list[_Token], right: list[_Token], opened: Sequence[Word], lexicon: Sequence[Word]
    ) -> tuple[int, int, list[Word]] | None:
        """A term of the lexicon listener that whole garbled words sound like: (first word, last word, new words)."""
        for start in range(len(right)):
            for size in range(min(self._longest, len(right) - start), 0, -1):
                term = tuple(token.text for token in right[start : start + size])
                if term not in self._terms:
                    continue
                heard = [lexicon[token.word] for token in right[start : start + size]]
                found = self._garbled(term, left, opened, heard)
                if found is not None:
                    return (*found, heard)
                break
        return self._surer(left, right, opened, lexicon)

    def _surer(
        self, left: list[_Token], right: list[_Token], opened: Sequence[Word], lexicon: Sequence[Word]
    ) -> tuple[int, int, list[Word]] | None:
        """The lexicon listener's reading of whole words, where it tells something and is the surer of two alike."""
        places, others = sorted({token.word for token in left}), sorted({token.word for token in right})
        if not left or not right or not (_whole(places, left, opened) and _whole(others, right, lexicon)):
            return None
        one, other = tuple(token.text for token in left), tuple(token.text for token in right)
        if not (self._telling & {*other}) or not self._tells([*one], [*other]):
            return None
        words = [opened[place] for place in places]
        if self.is_confusion(" ".join(one), " ".join(other)) or _fluent(words):
            return None
        heard = [lexicon[place] for place in others]
        sure = min(word.confidence for word in heard)
        if sure < max(_LEAST_SURE, min(word.confidence for word in words) - _LESS_SURE) or not _overlap(words, heard):
            return None
        return (places[0], places[-1], heard) if sound_distance(other, one) <= _ALIKE else None

    def _garbled(
        self, term: tuple[str, ...], left: list[_Token], opened: Sequence[Word], heard: list[Word]
    ) -> tuple[int, int] | None:
        places = sorted({token.word for token in left})
        best: tuple[float, int, int] | None = None
        for at, first in enumerate(places):
            for last in places[at : at + _LONGEST_GARBLE]:
                words = opened[first : last + 1]
                if words[0].start > heard[-1].end + _SLACK or words[-1].end < heard[0].start - _SLACK:
                    continue
                unlike = sound_distance(term, tuple(word for one in words for word in spoken_words(one.text)))
                if unlike <= _SAME_SOUND and not _fluent(words) and (best is None or unlike < best[0]):
                    best = (unlike, first, last)
        return None if best is None else best[1:]

    def _dispute(
        self,
        run: list[_Token],
        other: list[_Token],
        left: list[_Token],
        at: int,
        opened: Sequence[Word],
        lexicon: Sequence[Word],
        verdicts: list[_Verdict],
    ) -> None:
        """Put the other reading beside the words of the run, and mark them where the record could change with it."""
        telling = self._tells([token.text for token in run], [token.text for token in other])
        if not run:
            # Only the lexicon listener heard this: it stands as a doubt on the word before, which may have lost it.
            if not telling or not left:
                return
            before = left[at - 1] if at else left[0]
            if abs(other[0].middle - before.middle) > 1.0:
                return
            heard = " ".join(token.text for token in other)
            place, text = before.word, opened[before.word].text
            verdicts[place].readings.append(f"{text} {heard}" if at else f"{heard} {text}")
            verdicts[place].disputed = True
            return
        one_to_one = len(run) == len(other)
        whole = " ".join(lexicon[place].text for place in dict.fromkeys(token.word for token in other))
        for number, token in enumerate(run):
            verdict = verdicts[token.word]
            verdict.readings.append(other[number].text if one_to_one else whole)
            verdict.disputed |= self._tells([token.text], [other[number].text]) if one_to_one else telling

    def _tells(self, one: list[str], other: list[str]) -> bool:
        """Whether a difference could change the record: a term, number, side or negation, or a known confusion."""
        return self._telling & {*one} != self._telling & {*other} or self.is_confusion(" ".join(one), " ".join(other))

    @staticmethod
    def _written(
        opened: Sequence[Word],
        verdicts: list[_Verdict],
        counts: list[int],
        confidence: list[list[float]],
        won: dict[int, tuple[int, list[Word]]],
    ) -> list[Word]:
        words: list[Word] = []
        at = 0
        while at < len(opened):
            if at in won:
                last, heard = won[at]
                words += in_place(opened[at : last + 1], heard)
                at = last + 1
                continue
            word, verdict = opened[at], verdicts[at]
            flags, readings, sure = word.flags, word.alternatives, word.confidence
            if verdict.agreed == counts[at] and not verdict.disputed and counts[at]:
                flags = (*flags, AGREE)
                sure = 1 - (1 - sure) * (1 - min(confidence[at]))
            if verdict.disputed:
                flags = (*flags, DISAGREE)
            other = " ".join(dict.fromkeys(reading for reading in verdict.readings if reading))
            if verdict.readings and other not in (*readings, word.text):
                readings = (*readings, other)
            words.append(word.model_copy(update={"flags": flags, "alternatives": readings, "confidence": sure}))
            at += 1
        return words


def _whole(places: Sequence[int], tokens: Sequence[_Token], words: Sequence[Word]) -> bool:
    """Whether the tokens are all of the words at these places."""
    return sum(len(spoken_words(words[place].text)) for place in places) == len(tokens)


def in_place(garbled: Sequence[Word], heard: Sequence[Word]) -> list[Word]:
    """The term, with the punctuation and the time of the words it replaces; their text stays beside it."""
    was = " ".join(word.text for word in garbled)
    tail = re.search(r"[.,;:!?]*$", garbled[-1].text)
    start, end = garbled[0].start, max(garbled[-1].end, garbled[0].start)
    words = []
    for number, word in enumerate(heard):
        text = word.text + (tail.group() if tail and number == len(heard) - 1 else "")
        words.append(
            Word(
                text=text,
                start=round(start + (end - start) * number / len(heard), 3),
                end=round(start + (end - start) * (number + 1) / len(heard), 3),
                confidence=min(word.confidence, max(each.confidence for each in garbled)),
                alternatives=(was,),
                flags=(LEXICON_WON,),
            )
        )
    return words


def _is_unlikelier(opened: Sequence[Word], first: int, last: int, instead: Sequence[Word]) -> bool:
    """Whether examiners would hardly say the new words between those around: "ten normal throughout" for "tone"."""

    def said(words: Sequence[Word]) -> list[str]:
        return [part for word in words for part in spoken_words(word.text)]

    before, after = said(opened[:first])[-2:], said(opened[last + 1 :])[:2]
    was, would_be = (talk().of([*before, *said(words), *after]) for words in (opened[first : last + 1], instead))
    return would_be < was - _UNLIKELIER


def _overlap(words: Sequence[Word], others: Sequence[Word]) -> bool:
    return words[0].start <= others[-1].end + _SLACK and others[0].start <= words[-1].end + _SLACK


def _fluent(words: Sequence[Word]) -> bool:
    """Whether the open listener's words are ordinary English of which it was sure."""
    ordinary = all(zipf(part) >= _RARE for word in words for part in spoken_words(word.text))
    return ordinary and sum(word.confidence for word in words) / len(words) >= _SURE


def _tokens(words: Sequence[Word]) -> list[_Token]:
    tokens: list[_Token] = []
    for place, word in enumerate(words):
        parts = spoken_words(word.text)
        for number, part in enumerate(parts):
            middle = word.start + (word.end - word.start) * (number + 0.5) / len(parts)
            tokens.append(_Token(part, place, middle))
    return tokens


def _aligned(left: list[_Token], right: list[_Token]) -> list[tuple[int | None, int | None]]:
    """Pairs of places, None where one side has nothing: the cheapest alignment by word, sound and time."""
    rows, columns = len(left) + 1, len(right) + 1
    cost = [[0.0] * columns for _ in range(rows)]
    for a in range(1, rows):
        cost[a][0] = a * _GAP
    for c in range(1, columns):
        cost[0][c] = c * _GAP
    for a in range(1, rows):
        for c in range(1, columns):
            pair = cost[a - 1][c - 1] + _pair_cost(left[a - 1], right[c - 1])
            cost[a][c] = min(pair, cost[a - 1][c] + _GAP, cost[a][c - 1] + _GAP)
    pairs: list[tuple[int | None, int | None]] = []
    a, c = len(left), len(right)
    while a or c:
        # Steps are compared, not sums: sums of the same gaps in another order differ in the last digit.
        pair = cost[a - 1][c - 1] + _pair_cost(left[a - 1], right[c - 1]) if a and c else inf
        skip_left = cost[a - 1][c] + _GAP if a else inf
        skip_right = cost[a][c - 1] + _GAP if c else inf
        if pair <= min(skip_left, skip_right):
            a, c = a - 1, c - 1
            pairs.append((a, c))
        elif skip_left <= skip_right:
            a -= 1
            pairs.append((a, None))
        else:
            c -= 1
            pairs.append((None, c))
    return pairs[::-1]


def _pair_cost(one: _Token, other: _Token) -> float:
    apart = max(0.0, abs(one.middle - other.middle) - _SLACK)
    return min(2.0, apart) + (0.0 if one.text == other.text else sound_distance((one.text,), (other.text,)))


@lru_cache(maxsize=65536)
def sound_distance(one: tuple[str, ...], other: tuple[str, ...]) -> float:
    """Share of phonemes that differ between two phrases, 0 to 1, over all ways to say them."""
    ways = [(a, b) for a in phrase_phones(one) for b in phrase_phones(other)]
    return min((Levenshtein.normalized_distance(a, b) for a, b in ways), default=1.0)


@lru_cache(maxsize=65536)
def zipf(word: str) -> float:
    """How common an English word is: the base-10 logarithm of its uses in a billion words."""
    from wordfreq import zipf_frequency

    return float(zipf_frequency(word, "en"))


def spoken_words(text: str) -> list[str]:
    """A written word as it is said, in lower case: "L5" is l, five; "4-" four, minus; "5/5" five, out, of, five."""
    pieces = re.findall(r"[a-zà-öø-ÿ]+(?:'[a-z]+)?|\d+|[+°%/-]", text.lower().replace("’", "'").replace("–", "-"))
    said: list[str] = []
    for at, piece in enumerate(pieces):
        before, after = pieces[at - 1] if at else "", pieces[at + 1] if at + 1 < len(pieces) else ""
        if piece.isdigit():
            # Levels above twelve do not exist: "L23" is L two three.
            separate = len(piece) > 1 and before in ("l", "s", "c", "t") and (before != "t" or int(piece) > 12)
            parts = [*piece] if separate or len(piece) > 4 else [piece]
            said += [word for part in parts for word in number_words(int(part))]
        elif piece == "/":
            said += ["out", "of"] if before.isdigit() and after.isdigit() else []
        elif piece == "-":
            said += ["minus"] if before.isdigit() and not after else []
        else:
            said.append(_SIGNS.get(piece, piece))
    return said


def _differing_words(one: str, other: str) -> list[tuple[str, str]]:
    """The word pairs in which two confusable terms differ: "up going" and "down going" in (up, down)."""
    first, second = spoken_words(one), spoken_words(other)
    if len(first) != len(second):
        return [(a, b) for a in first for b in second if a != b]
    return [(a, b) for a, b in zip(first, second, strict=True) if a != b]
