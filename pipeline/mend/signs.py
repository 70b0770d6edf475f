"""Parts of numbers made out by their sound: the sign of a grade ("four pass", "three mine us"), a grade by its sign
("foe plus"), the tens or the ones of an angle ("dirty five degrees", "eighty hive degrees").
"""

from __future__ import annotations

from dataclasses import replace

from pipeline.lexicon.pronounce import phones
from pipeline.mend.nearest import span_sounds
from pipeline.mend.numbers import ONES, TENS, Number, Sign
from pipeline.mend.slots import grade_like
from pipeline.mend.sound import nearest
from pipeline.mend.terms import TermIndex
from pipeline.mend.tokens import COMMA, Token, closes
from pipeline.mend.words import frequency

_FARTHEST = {"+": 0.32, "-": 0.15}
"""Hardly a word of one syllable that begins with a p or b stands after a grade; more that begin with an m do."""
_FARTHEST_OF_TWO = 0.09
_FARTHEST_TENS = 0.16
_FARTHEST_ONES = 0.3
_OF_ANGLES = (["degrees"], ["degree"])
_BEFORE_DEGREES = frozenset("or of maybe odd plus minus ish".split())
_FARTHEST_GRADE = 0.33
_EVERYDAY = 5.8
"""Zipf frequency from which a word after "grade" is no misheard number."""
_SAID: dict[Sign, str] = {"+": "plus", "-": "minus"}
_BEGINNING: dict[Sign, tuple[str, ...]] = {"+": ("P", "B"), "-": ("M",)}
_LONGEST_PLUS = 5
"""Phonemes; "plus" has four."""
_FOLLOWING = frozenset("on in and but both for at of with he she it that there".split())
_OF_FIVE = [(*lead, five) for lead in (("out", "of"), ("over",)) for five in ("five", "5")]
_LED_TO = {"plus", "minus", *(words[0] for words in _OF_FIVE)}
"""Words right behind a grade that is made out by its sound."""
_ITSELF = frozenset(
    """but both by be because before beats bit bad best better bent bend back bed please prone pain past place places
        palm part patient patients power me my man men minute minutes point press
        pull push pinch move""".split()
)
"""Words that stand after a grade and mean what they say."""


def with_sign(number: Number, tokens: list[Token], index: TermIndex) -> Number:
    """The number with the sign that its next words sound like, if they can be nothing else; `unlike` tells how far."""
    if number.unit != "grade" or number.sign or number.vague or not 1 <= number.value <= 5:
        return number
    words = [token.text for token in tokens[number.end : number.end + 2]]
    for size in (1, 2):
        end = number.end + size
        if end > len(tokens) or any(token.boundary >= COMMA for token in tokens[number.end : end]):
            break
        said = tuple(words[:size])
        sign, gap = _sign(said)
        if sign and not (number.homophone and size > 1) and not index.exact(words, 0) and _closes(tokens, end, index):
            return replace(number, end=end, sign=sign, explicit=True, unlike=gap)
    return number


def with_grade(tokens: list[Token], at: int, index: TermIndex) -> Number | None:
    """The grade that the word at a token sounds like, if a sign or "out of five" follows or "grade" stands before."""
    word = tokens[at].text
    after = tokens[at + 1].text if at + 1 < len(tokens) else ""
    if after not in _LED_TO and tokens[at - 1].text != "grade":
        return None
    known = (word,) in index.terms or word in index.pieces or word in index.left_alone
    if known or tokens[at - 1 if at else 0].text in ("out", "of"):
        return None
    following = [token.text for token in tokens[at + 1 : at + 4] if token.boundary < COMMA]
    signed: Sign = "+" if following[:1] == ["plus"] else "-" if following[:1] == ["minus"] else ""
    rated = next((len(words) for words in _OF_FIVE if tuple(following[: len(words)]) == words), 0)
    rare = frequency(word) < _EVERYDAY  # "I can't grade any of them"
    led = at > 0 and tokens[at - 1].text == "grade" and tokens[at].boundary < COMMA and rare
    if not (signed or rated or led):
        return None
    like = grade_like(word, _FARTHEST_GRADE)
    end = at + 1 + (1 if signed else rated)
    if like is None or not (rated or _closes(tokens, end, index)):
        return None
    return Number(at - led, end, like[0], signed, "grade", explicit=True, unlike=like[1])


def with_tens(number: Number, tokens: list[Token]) -> Number:
    """The angle with the tens that the word before it sounds like, marked as `unlike` in so far as it is."""
    at = number.start - 1
    if number.unit != "degrees" or not 0 < number.value < 10 or at < 0 or tokens[at + 1].boundary >= COMMA:
        return number
    heard = phones(tokens[at].text) if tokens[at].text.isalpha() else ()
    gap, tens = min((nearest(heard, phones(word)), tens) for word, tens in TENS.items())
    if gap > _FARTHEST_TENS:
        return number
    return replace(number, start=at, value=tens + number.value, unlike=gap)


def with_ones(number: Number, tokens: list[Token]) -> Number:
    """The angle with the ones that a word before "degrees" sounds like: "eighty hive degrees"."""
    end = number.end + 2
    if number.value not in TENS.values() or [token.text for token in tokens[end - 1 : end]] not in _OF_ANGLES:
        return number
    heard = tokens[number.end]
    if heard.boundary >= COMMA or not heard.text.isalpha() or heard.text in _BEFORE_DEGREES:
        return number
    gap, ones = min((nearest(phones(heard.text), phones(word)), ones) for word, ones in ONES.items())
    value = number.value + (ones if gap <= _FARTHEST_ONES else 0)
    return replace(number, end=end, value=value, unit="degrees", unlike=max(gap, _FARTHEST_TENS))


def _sign(said: tuple[str, ...]) -> tuple[Sign, float]:
    if not all(word.isalpha() for word in said) or said[0] in _ITSELF:
        return "", 0.0
    for sign, word in _SAID.items():
        if len(said) == 1 and said[0].startswith(word):
            return sign, _FARTHEST_OF_TWO  # "four minuses"
        sounds = [sound for sound in span_sounds(said) if sound and sound[0] in _BEGINNING[sign]]
        if sign == "+":
            sounds = [sound for sound in sounds if len(sound) <= _LONGEST_PLUS or said[0].startswith("plus")]
        gap = nearest(sounds, phones(word))
        if gap <= (_FARTHEST[sign] if len(said) == 1 else _FARTHEST_OF_TWO):
            return sign, gap
    return "", 0.0


def _closes(tokens: list[Token], end: int, index: TermIndex) -> bool:
    """The result may end here, or goes on with a side, a place or the next test."""
    if closes(tokens, end) or tokens[end].text in _FOLLOWING:
        return True
    return bool(index.exact([token.text for token in tokens[end : end + index.longest]], 0))
