"""Spoken and written numbers of the trade: grades with plus and minus, counts, angles, spinal roots."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from pipeline.mend.tokens import COMMA, Token
from pipeline.mend.words import WHERETO

_WORDS = {
    "zero": 0,
    "nought": 0,
    "naught": 0,
    "nil": 0,
    "one": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "seven": 7,
    "eight": 8,
    "nine": 9,
    "ten": 10,
    "eleven": 11,
    "twelve": 12,
    "thirteen": 13,
    "fourteen": 14,
    "fifteen": 15,
    "sixteen": 16,
    "seventeen": 17,
    "eighteen": 18,
    "nineteen": 19,
    "fives": 5,
    "fours": 4,
    "threes": 3,
    "twos": 2,
}
TENS = {"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90}
ONES = {word: value for word, value in _WORDS.items() if 0 < value < 10 and not word.endswith("s")}
_HOMOPHONES = {"for": 4, "fore": 4, "to": 2, "too": 2, "won": 1, "free": 3, "tree": 3, "fife": 5}
_GRADES = frozenset("zero one two three four five 0 1 2 3 4 5".split())
_PLUS, _MINUS = frozenset({"+", "plus"}), frozenset({"-", "minus"})
_BEGINNINGS = {*_WORDS, *TENS, *_HOMOPHONES, *_PLUS, "a", "great", "grade", "graded", "mrc"}
"""Words with which a number may begin."""
_UNITS = frozenset(
    """year years yr yrs week weeks day days month months hour hours minute minutes second seconds o'clock
        milligrams milligram mg mils ml millilitres grams percent % times time kilos kg steps metres meters
        miles stone pm am people patients students tablets things reasons more fingers units levels sets
        sessions pillows stairs flights old weekly daily hourly litres inches feet cm mm centimetres hertz
        hz volts pounds stitches of's sticks crutches ago quick different sorts kinds types thirds quarters
        yards children hundred thousand million point kids operations falls attacks episodes questions
        examples breath sentence""".split()
)
_MOVED = {"fingers": WHERETO, "feet": frozenset("up down in out".split())}
"""What is counted, or told to move after a grade: "five fingers straight", "four feet up"."""
_OF_A_SIDE = frozenset("left right side sides bilaterally".split())
_TURNING = frozenset("but sorry wait actually oh correction on".split())
_NOT_BEFORE = frozenset(
    """stage bed room ward type bay number phase aged age category level vertebra this that other any which
        another first day week chapter slide case part theatre no channel page question clinic march april
        may june july august january february september october november december""".split()
)
TELLING = frozenset("say call put grade give rate score make get got made".split())
"""Verbs with which an examiner gives a result."""
CALLING = frozenset("number numbers grade grades score scores figure figures".split())
"""What an examiner announces who says the grade before the name."""
OVERCOMING = frozenset("break overcome beat".split())
"""What an examiner can do to a weak movement: "I can break that, four"."""
_BEFORE_THAT = TELLING | OVERCOMING | frozenset("scratch strike scrap delete cancel erase".split())
"""Verbs of what a grade follows: what tells it, what the examiner did to the limb, or what is taken back."""
_TO_BEGIN_WITH = frozenset("side leg arm limb hand foot legs arms power strength".split())
_POINTING = frozenset("that this it these those".split())
_NOT_BEFORE_ONE = frozenset(
    """the good nice great lovely bad big other little next last sore affected weak important main key only easy hard
        difficult tricky classic typical useful obvious same""".split()
)
_OF_A_NAME = (["is"], ["are"], ["for"])
"""What joins a grade to the name after it: "four is knee flexion"."""
_ORDER = (
    [f"C{n}" for n in range(1, 9)]
    + [f"T{n}" for n in range(1, 13)]
    + [f"L{n}" for n in range(1, 6)]
    + [f"S{n}" for n in range(1, 6)]
)
_LETTERS = {
    "c": "C",
    "t": "T",
    "l": "L",
    "s": "S",
    "el": "L",
    "ell": "L",
    "elle": "L",
    "elf": "L",
    "ess": "S",
    "es": "S",
    "tee": "T",
    "cee": "C",
}
_LIKE_LETTERS = {"sea": "C", "see": "C", "tea": "T", "as": "S"}
_PLACED = {
    **dict.fromkeys("as is has yes ace ess ass".split(), "S"),
    **dict.fromkeys("see sea seat seed seek".split(), "C"),
    **dict.fromkeys("elf hell el ell ale".split(), "L"),
    **dict.fromkeys("tee tea".split(), "T"),
}
"""What recognisers write for a letter: taken for one only where a place is due ("reduced at has one")."""
_SEES = frozenset(
    """i we you they he she can could can't cannot couldn't will would i'll we'll you'll to let let's did do
        don't not him her them it a the of cup some""".split()
)
_HIGHEST = {"C": 8, "T": 12, "L": 5, "S": 5}
_RANGE = frozenset({"to", "two", "2", "through", "thru", "until", "till", "-"})
_ALL_THE_WAY = frozenset("down right all up inclusive the way through on".split())
_COMPACT = re.compile(r"([clst])(\d+)$")


Sign = Literal["", "+", "-"]


@dataclass(frozen=True, slots=True)
class Number:
    """A number in tokens `start`..`end` (exclusive).

    `unit` tells how it was said: `grade` (0 to 5, perhaps with a sign), `degrees`, `beats`, or `count` (any
    other number). `homophone`: an everyday word that sounds like it was written ("for"); `vague`: a range or a
    half was said ("four to five"); `unlike`: how far the word for its sign sounds from it.
    """

    start: int
    end: int
    value: int
    sign: Sign
    unit: Literal["grade", "degrees", "beats", "count"]
    homophone: bool = False
    explicit: bool = False
    vague: bool = False
    unlike: float = 0.0

    @property
    def text(self) -> str:
        return f"{self.value}{self.sign}"


@dataclass(frozen=True, slots=True)
class Roots:
    """Spinal roots or dermatomes named in tokens `start`..`end` (exclusive), in order of naming.

    `made_out`: told by the sound and by what examiners say there, not heard as written.
    """

    start: int
    end: int
    roots: tuple[str, ...]
    last_may_be_grade: bool = False
    made_out: bool = False


def _plain(tokens: list[Token], at: int) -> tuple[int, int] | None:
    """(value, tokens used) of the number that begins at `at`."""
    text = tokens[at].text
    following = [token.text for token in tokens[at + 1 : at + 4]]
    if text in ("one", "a", "1") and following[:1] == ["hundred"]:
        rest = 2 + (following[1:2] == ["and"])
        tail = _plain(tokens, at + rest) if at + rest < len(tokens) and tokens[at + rest].boundary < 1 else None
        return (100 + tail[0], rest + tail[1]) if tail and tail[0] < 100 else (100, 2)
    if text in ("one", "two", "1", "2") and following[:1] and following[0] in TENS and tokens[at + 1].boundary < 0.5:
        tail = _plain(tokens, at + 1)  # "one twenty eight" is what a tuning fork has
        return (100 * _WORDS.get(text, 1) + tail[0], 1 + tail[1]) if tail else None
    if text.isdigit():
        return int(text[:6]), 1
    if text in _WORDS:
        return _WORDS[text], 1
    if text in TENS:
        if following[1:2] == ["zero"] and 10 * _WORDS.get(following[0], 0) == TENS[text]:
            return TENS[text], 3  # "sixty, six zero"
        if at + 1 < len(tokens) and 0 < _WORDS.get(tokens[at + 1].text, 0) < 10 and tokens[at + 1].boundary < 1:
            return TENS[text] + _WORDS[tokens[at + 1].text], 2
        return TENS[text], 1
    return None


def number_at(tokens: list[Token], at: int) -> Number | None:
    """The grade, angle or count that begins at token `at`, or None."""
    if tokens[at].text not in _BEGINNINGS and not tokens[at].text.isdigit():
        return None
    start, end = at, at
    size = len(tokens)

    def text(index: int) -> str:
        return tokens[index].text if index < size and (index == start or tokens[index].boundary < 1) else ""

    if text(start) == "great" and text(start + 1) in _GRADES:  # "grade four"
        end += 1
    explicit = text(end) in ("grade", "mrc", "graded")
    while text(end) in ("grade", "mrc", "graded", "of") and end - start < 3 and explicit:
        end += 1
    pluses = 0
    while text(end + pluses) in _PLUS:
        pluses += 1
    if pluses:
        written = all(tokens[end + k].text == "+" for k in range(pluses))
        if (pluses >= 2 or written or explicit) and pluses <= 4:
            return Number(start, end + pluses, pluses, "+", "grade", explicit=True)
        return None
    if end >= size:
        return None
    plain = _plain(tokens, end) if (end == start or tokens[end].boundary < 1) else None
    homophone = False
    if explicit and (
        text(end + 1) in _POINTING or (start and tokens[start].boundary < 0.5 and tokens[start - 1].text == "no")
    ):
        return None  # "no grade for that"
    if plain is None and text(end) in _HOMOPHONES:
        plain, homophone = (_HOMOPHONES[text(end)], 1), True
    if plain is None:
        return None
    value, used = plain
    end += used
    sign: Sign = ""

    def take_sign() -> bool:
        nonlocal sign, end
        for signs, mark in ((_PLUS, "+"), (_MINUS, "-")):
            if text(end) in signs:
                sign = mark  # type: ignore[assignment]
                while text(end) in signs:
                    end += 1
                return True
        return False

    signed = take_sign()
    out_of = False
    for lead in (("out", "of"), ("over",), ("slash",), ("by",), ("/",), ("of",), ("on",)):
        if all(text(end + k) == word for k, word in enumerate(lead)) and text(end + len(lead)) in (
            "5",
            "five",
            "4",
            "four",
            "fife",
        ):
            if lead in (("of",), ("on",)) and text(end + 1) not in ("5", "five"):
                continue
            end += len(lead) + 1
            out_of = True
            if not signed:
                signed = take_sign()
            break
    vague = False
    if value <= 5 and not homophone and text(end) in ("to", "or", "-") and text(end + 1) in _GRADES:
        if text(end + 2) not in ("beats", "beat", "degrees"):
            vague, end = True, end + 2
    elif text(end) == "and" and text(end + 1) == "a" and text(end + 2) == "half":
        vague, end = True, end + 3
    elif value < 5 and not homophone and text(end) == "point" and text(end + 1) in _GRADES:
        vague, end = True, end + 2  # "four point five"
    elif value > 5 and text(end) in ("to", "-") and end + 1 < size:
        upper = _plain(tokens, end + 1)
        if upper and upper[0] > value and text(end + 1 + upper[1]) in ("degrees", "degree"):
            value, end, vague = upper[0], end + 1 + upper[1], True
    following = text(end)
    if following in ("degrees", "degree", "°"):
        return Number(start, end + 1, value, "", "degrees", homophone, True, vague)
    if following in ("beats", "beat"):
        return Number(start, end + 1, value, "", "beats", homophone, True)
    if following in ("or", "to") and text(end + 1) in _WORDS and text(end + 2) in ("beats", "beat"):
        return Number(start, end + 3, _WORDS[text(end + 1)], "", "beats", homophone, True)
    before = tokens[start - 1].text if start and tokens[start].boundary < 1 else ""
    if before in _POINTING and tokens[start].boundary >= COMMA:
        before = ""  # "strike that, two"
    if before == "no" and start > 1 and tokens[start - 2].text in _GRADES | _PLUS | _MINUS | _OF_A_SIDE | _TURNING:
        before = ""  # "four, no, five", "four on the left, no, five" is a correction, "bed no five" is not
    if before in ("that", "this") and start > 1 and tokens[start - 2].text in _BEFORE_THAT:
        before = ""  # "make that four", "I'd call that four", "I can break that, four", "scratch that four"
    if before == "first" and start > 1 and tokens[start - 2].text in CALLING | _TO_BEGIN_WITH:
        before = ""  # "power, grades first, five", "right side first, five throughout"
    if not (explicit or out_of or signed) and (
        (following in _UNITS and tokens[end].boundary < COMMA and text(end + 1) not in _MOVED.get(following, ()))
        or before in _NOT_BEFORE
        or (text(start) == "one" and (before in _NOT_BEFORE_ONE or following in ("side", "another", "by")))
        or (following, text(end + 1), text(end + 2)) == ("at", "a", "time")
    ):
        return Number(start, end, value, "", "count", homophone)
    if value > 5:
        return Number(start, end, value, "", "count", homophone)
    if homophone and not (signed or out_of or explicit):
        return Number(start, end, value, "", "grade", True, False)
    return Number(start, end, value, sign, "grade", homophone, explicit or out_of or signed, vague)


def _named(letter: str, digits: str) -> list[str] | None:
    whole = int(digits[:4])
    if letter == "T" and 1 <= whole <= 12:
        return [f"T{whole}"]
    numbers = [int(digit) for digit in digits]
    if all(1 <= number <= _HIGHEST[letter] for number in numbers) and numbers == sorted(set(numbers)):
        return [f"{letter}{number}" for number in numbers]
    return None


def _head(tokens: list[Token], at: int) -> tuple[list[str], int] | None:
    """(roots, tokens used) of "L5", "L45", "L five", "ell 5" at `at`."""
    if at >= len(tokens):
        return None
    text = tokens[at].text
    compact = _COMPACT.match(text)
    if compact:
        named = _named(compact[1].upper(), compact[2])
        return (named, 1) if named else None
    placed = _PLACED.get(text)
    if placed and not (_is_place_due(tokens, at) or _is_told_what_was_felt(tokens, at)):
        placed = None
    letter = _LETTERS.get(text) or _like_letter(tokens, at) or placed
    if letter and at + 1 < len(tokens) and tokens[at + 1].boundary < 0.5:
        plain = _plain(tokens, at + 1)
        if plain is None and (len(text) == 1 or placed) and tokens[at + 1].text in ("for", "fore", "to", "too", "won"):
            plain = _HOMOPHONES[tokens[at + 1].text], 1
        if plain:
            named = _named(letter, str(plain[0]))
            return (named, 1 + plain[1]) if named else None
    return None


def _like_letter(tokens: list[Token], at: int) -> str | None:
    """The letter of "sea five" and "four as one", where the word is not one of everyday talk ("see two patients")."""
    letter = _LIKE_LETTERS.get(tokens[at].text)
    if letter is None or at + 1 >= len(tokens):
        return None
    number = _plain(tokens, at + 1)
    before = tokens[at - 1].text if at and tokens[at].boundary < 1 else ""
    if number is None or before in _SEES:
        return None
    if letter == "S" and before not in _GRADES | _PLUS | _MINUS:
        return None
    after = at + 1 + number[1]
    return None if after < len(tokens) and tokens[after].text in _UNITS else letter


def _is_place_due(tokens: list[Token], at: int) -> bool:
    """After "at", "over" or "from", and after "to" or "and" that goes on from a root."""
    before = [token.text for token in tokens[max(0, at - 2) : at]]
    if not before or tokens[at].boundary >= 0.5:
        return False
    goes_on = before[-1] in ("to", "and", "through") and len(before) > 1
    if tokens[at].text == "is" and not goes_on:
        return False
    return before[-1] in ("at", "over", "from") or (
        goes_on and (_COMPACT.match(before[0]) is not None or before[0] in _WORDS or before[0].isdigit())
    )


def _is_told_what_was_felt(tokens: list[Token], at: int) -> bool:
    """ "Pinprick seat eight reduced": a number between such a word and a finding makes it a level."""
    if at + 2 >= len(tokens) or tokens[at].text in _VERBS:
        return False
    before = tokens[at - 1].text if at else ""
    number = _plain(tokens, at + 1)
    behind = tokens[at + 1 + number[1] : at + 2 + number[1]] if number else []
    return before not in _SEES and any(token.text in _FELT and token.boundary < COMMA for token in behind)


_VERBS = frozenset("is has yes as".split())
_FELT = frozenset("normal reduced absent intact altered diminished increased impaired".split())
_SIDES = (["left"], ["right"], ["both"])


def _is_graded(tokens: list[Token], at: int) -> bool:
    number = number_at(tokens, at)
    if number is None:
        return False
    following = [token.text for token in tokens[number.end : number.end + 1]]
    told = tokens[at].boundary >= COMMA and (following in _OF_A_NAME or following in _SIDES)
    return number.explicit or number.unit in ("degrees", "beats") or told


def roots_between(first: str, last: str) -> tuple[str, ...]:
    """The roots from one to another; none where the last stands above the first."""
    return tuple(_ORDER[_ORDER.index(first) : _ORDER.index(last) + 1])


def _is_told_by_itself(tokens: list[Token], end: int) -> bool:
    """ "From L2 to L4 | L5 is reduced": of the root that ends here something of its own is said."""
    return [token.text for token in tokens[end : end + 1]] == ["is"]


def _spans_on(tokens: list[Token], end: int, last: str, roots: list[str]) -> bool:
    """ "Reduced T10 to L2 | L3 to S1 altered": of one result it would have been one span."""
    below = len(roots) == 1 and roots[0][0] == last[0] and _ORDER.index(roots[0]) == _ORDER.index(last) + 1
    return below and [token.text for token in tokens[end : end + 1]] == ["to"]


def roots_at(tokens: list[Token], at: int) -> Roots | None:
    """Roots that begin at token `at`: "L5", "L two three", "L5 S1", "L2 to S1", "L4 and 5", or None."""
    first = _head(tokens, at)
    if first is None:
        return None
    roots, end = list(first[0]), at + first[1]
    last_may_be_grade = spanned = False
    size = len(tokens)
    while end < size and tokens[end].boundary < 1.2:
        step = end
        while step < size and tokens[step].text in ("and", "or", "/", "slash", "comma", "&", "then", "plus"):
            step += 1
        # a range: "L2 to S1", "L2 down to 4"
        mark = step
        far = mark
        while far < size and far - mark < 4 and tokens[far].text in _ALL_THE_WAY:
            far += 1
        if far < size and tokens[far].text in _RANGE:
            mark = far
        if (mark == end or mark > step) and mark < size and tokens[mark].text in _RANGE:
            after = _head(tokens, mark + 1)
            if after is None and mark + 1 < size and tokens[mark].text not in ("two", "2"):
                plain = _plain(tokens, mark + 1)
                letter = roots[-1][0]
                if (
                    plain
                    and roots[-1][1:].isdigit()
                    and int(roots[-1][1:]) < plain[0] <= _HIGHEST[letter]
                    and not _is_graded(tokens, mark + 1)
                ):
                    after = ([f"{letter}{plain[0]}"], plain[1])
            if after and _ORDER.index(after[0][0]) > _ORDER.index(roots[-1]):
                roots += [*roots_between(roots[-1], after[0][0])[1:], *after[0][1:]]
                end = mark + 1 + after[1]
                spanned = True
                continue
        nxt = _head(tokens, step)
        if nxt and spanned and step == end and _spans_on(tokens, end + nxt[1], roots[-1], nxt[0]):
            break
        if nxt and not (step == end and len(roots) > 1 and _is_told_by_itself(tokens, end + nxt[1])):
            roots += [root for root in nxt[0] if root not in roots]
            end = step + nxt[1]
            last_may_be_grade = False
            continue
        # a bare number continues the letter: "L two three", "L4 and 5"
        if step < size and tokens[step].boundary < 1:
            plain = _plain(tokens, step)
            letter, last = roots[-1][0], int(roots[-1][1:])
            if (
                plain
                and last < plain[0] <= _HIGHEST[letter]
                and plain[0] - last <= 2
                and not _is_graded(tokens, step)
                and letter != "T"
            ) and (plain[0] - last == 1 or step > end):
                roots.append(f"{letter}{plain[0]}")
                last_may_be_grade = step == end
                end = step + plain[1]
                continue
        break
    return Roots(at, end, tuple(roots), last_may_be_grade)
