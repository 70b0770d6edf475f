"""How a word is said, in ARPAbet without stress marks: the lexicon's own way, the CMU dictionary's, else by rule."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache, lru_cache
from importlib.util import find_spec
from itertools import product
from pathlib import Path

from pipeline.lexicon.load import load

Phones = tuple[str, ...]

VOWELS = frozenset("AA AE AH AO AW AY EH ER EY IH IY OW OY UH UW".split())
CONSONANTS = frozenset("B CH D DH F G HH JH K L M N NG P R S SH T TH V W Y Z ZH".split())
PHONEMES = VOWELS | CONSONANTS
"""The 39 phonemes of the CMU Pronouncing Dictionary."""

_MOST_VARIANTS = 8


def _table(text: str) -> dict[str, str]:
    """Reads "spelling=SOUND SOUND, ..."."""
    return dict(pair.split("=", 1) for pair in " ".join(text.split()).split(", "))


_LETTERS = _table("""
    a=EY, b=B IY, c=S IY, d=D IY, e=IY, f=EH F, g=JH IY, h=EY CH, i=AY, j=JH EY, k=K EY, l=EH L, m=EH M, n=EH N,
    o=OW, p=P IY, q=K Y UW, r=AA R, s=EH S, t=T IY, u=Y UW, v=V IY, w=D AH B AH L Y UW, x=EH K S, y=W AY, z=Z IY
""")
_SIGNS = {"+": "plus", "-": "minus", "%": "percent", "&": "and", "/": "over"}
_ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen "
    "eighteen nineteen"
).split()
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()

# Letter-to-sound rules, the longest spelling first at each place; no sound is silent. `^` starts and `$` ends a word.
# They only have to come close: what counts is the distance to a heard word, and the trade's terms have entries.
_RULES = _table("""
    ^ps=S, ^pn=N, ^gn=N, ^kn=N, ^wr=R, ^x=Z, ^wh=W, ^rh=R, ^mc=M AH K, tion=SH AH N, ssion=SH AH N, sion=ZH AH
    N, cian=SH AH N, cious=SH AH S, tious=SH AH S, tial=SH AH L, cial=SH AH L, ture=CH ER, ough=AO, augh=AO,
    eigh=EY, igh=AY, tch=CH, dge=JH, sch=S K, aes=IY S, oes=IY S, ious=IY AH S, eous=IY AH S, ous$=AH S, us$=AH
    S, um$=AH M, is$=IH S, es$=IY Z, ae=IY, oe=OW, ai=EY, ay=EY, au=AO, aw=AO, ee=IY, ea=IY, ei=IY, ey=IY, eu=Y
    UW, ew=UW, ie=IY, oa=OW, oi=OY, oy=OY, oo=UW, ou=AW, ow=OW, ui=UW, ue$=UW, ar=AA R, er=ER, ir=ER, or=AO R,
    ur=ER, yr=ER, are$=EH R, ire$=AY R, ore$=AO R, ure$=Y UH R, ch=CH, ck=K, gh=G, ph=F, sh=SH, th=TH, ng$=NG,
    nk=NG K, ng=NG G, qu=K W, sc=S K, sce=S EH, sci=S IH, sy=S IH, ce=S EH, ci=S IH, cy=S IY, ge=JH EH, gi=JH
    IH, gy=JH IY, ce$=S, ge$=JH, le$=AH L, ed$=D, e$=, y$=IY, ies$=IY Z, ing$=IH NG, mb$=M, ia=IY AH, io=IY OW,
    bb=B, cc=K, dd=D, ff=F, gg=G, ll=L, mm=M, nn=N, pp=P, rr=R, ss=S, tt=T, zz=Z, a$=AH, i$=IY, o$=OW, a=AE,
    b=B, c=K, d=D, e=EH, f=F, g=G, h=HH, i=IH, j=JH, k=K, l=L, m=M, n=N, o=AA, p=P, q=K, r=R, s=S, t=T, u=AH,
    v=V, w=W, x=K S, y=IH, z=Z
""")
# A single vowel, one consonant and a final e: the vowel is long.
_LONG = re.compile(r"([aeiou])([bcdfgklmnpstvz])e(?=s?$)")
_LONG_VOWELS = {"a": "EY", "e": "IY", "i": "AY", "o": "OW", "u": "UW"}
_LONGEST = max(len(spelling) for spelling in _RULES)


_ENDINGS: dict[str, tuple[Phones, ...]] = {"'s": (("Z",), ("S",))}
"""Parts of words that talk is cut into."""


@lru_cache(maxsize=65536)
def phones(word: str) -> tuple[Phones, ...]:
    """The ways to say `word` (one word; a hyphen joins two), each a tuple of ARPAbet phonemes, the commonest first.

    Capitals are read as an acronym, letter by letter ("EHL"), digits as numbers ("L5", "5/5"). Empty for punctuation.
    """
    if word in _ENDINGS:
        return _ENDINGS[word]
    text = word.strip().replace("’", "'").strip(".,;:!?\"'()[]")
    if len(text) > 1 and text.isalpha() and text.isupper():
        return _unique([_spelled(text.lower()), *_one_word(text.lower(), guess=False)])
    parts = re.findall(r"\d+|[^\W\d_]+(?:'[^\W\d_]+)*'?|(?<=\d)[+-]|[+%&/]", text)
    # A letter beside a digit is a letter name: the L of "L5".
    letters = any(part.isdigit() for part in parts)
    return _joined([_part(part, letters) for part in parts])


def phrase_phones(words: Iterable[str]) -> tuple[Phones, ...]:
    """The ways to say several words in a row; at most eight."""
    return _joined([phones(word) for word in words if phones(word)])


def in_dictionary(word: str) -> bool:
    """Whether the CMU dictionary or the lexicon's own list has the word, so that it need not be guessed."""
    return bool(_one_word(word.lower(), guess=False))


def _part(part: str, letters: bool) -> tuple[Phones, ...]:
    if part.isdigit():
        return _joined([_one_word(word) for word in number_words(int(part))]) if len(part) <= 4 else (_digits(part),)
    if part in _SIGNS:
        return _one_word(_SIGNS[part])
    lower = part.lower()
    if len(lower) == 1 and lower in _LETTERS and (letters or lower != "a"):
        return (tuple(_LETTERS[lower].split()),)
    return _one_word(lower)


def _one_word(word: str, guess: bool = True) -> tuple[Phones, ...]:
    known = _own().get(word) or _dictionary(word)
    if known:
        return known
    stem = word.removesuffix("'s").removesuffix("'")
    if stem != word and (base := _own().get(stem) or _dictionary(stem)):
        return tuple((*one, *_plural(one)) for one in base)
    if not guess:
        return ()
    if not any(letter in "aeiouyàáâäèéêëìíîïòóôöùúûü" for letter in word):
        return (_spelled(word),)
    return (_by_rule(word),)


def _plural(base: Phones) -> Phones:
    if base[-1] in {"S", "Z", "SH", "ZH", "CH", "JH"}:
        return ("IH", "Z")
    return ("S",) if base[-1] in {"P", "T", "K", "F", "TH"} else ("Z",)


def number_words(number: int) -> list[str]:
    """The words of a whole number from 0 to 9999."""
    if number < 20:
        return [_ONES[number]]
    if number < 100:
        return [_TENS[number // 10 - 2], *(number_words(number % 10) if number % 10 else [])]
    size, name = (1000, "thousand") if number >= 1000 else (100, "hundred")
    rest = number % size
    return [
        *number_words(number // size),
        name,
        *(["and"] if 0 < rest < 100 else []),
        *(number_words(rest) if rest else []),
    ]


def _digits(digits: str) -> Phones:
    return tuple(phone for digit in digits for phone in _one_word(_ONES[int(digit)])[0])


def _spelled(letters: str) -> Phones:
    return tuple(phone for letter in letters for phone in _LETTERS.get(letter, "").split())


def _by_rule(word: str) -> Phones:
    plain = word.translate(str.maketrans("àáâäèéêëìíîïòóôöùúûüç", "aaaaeeeeiiiioooouuuuc")).replace("'", "")
    long = {match.start(1): match for match in _LONG.finditer(plain)} if len(plain) > 2 else {}
    marked = f"^{plain}$"
    said: list[str] = []
    place = 1
    while place <= len(plain):
        if (match := long.get(place - 1)) and (place == 1 or plain[place - 2] not in "aeiou"):
            said.append(_LONG_VOWELS[match.group(1)])
            place += 1
            continue
        place += _apply_rule(marked, place, said)
    return tuple(said) or _spelled(plain)


def _apply_rule(marked: str, place: int, said: list[str]) -> int:
    """Say the spelling at `place`; returns how many letters it took."""
    for length in range(_LONGEST, 0, -1):
        for start, end in ((place - 1, place - 1 + length), (place, place + length)):
            spelling = marked[start:end]
            # Only a rule that names the start of the word may reach before `place`.
            if (start < place) != spelling.startswith("^") or len(spelling) < length:
                continue
            if spelling in _RULES:
                said.extend(_RULES[spelling].split())
                return len(spelling.strip("^$"))
    return 1


def _joined(parts: list[tuple[Phones, ...]]) -> tuple[Phones, ...]:
    if not parts:
        return ()
    ways: list[Phones] = [()]
    for part in parts:
        ways = [(*left, *right) for left, right in product(ways, part)][:_MOST_VARIANTS]
    return _unique(ways)


def _unique(ways: Iterable[Phones]) -> tuple[Phones, ...]:
    return tuple(dict.fromkeys(ways))


@cache
def _own() -> dict[str, tuple[Phones, ...]]:
    return {entry.word: tuple(tuple(way.split()) for way in entry.say) for entry in load().pronunciations}


def _dictionary(word: str) -> tuple[Phones, ...]:
    return tuple(tuple(said.split()) for said in _dictionary_lines().get(word, "").splitlines())


@cache
def _dictionary_lines() -> dict[str, str]:
    """The CMU Pronouncing Dictionary (BSD licence) as it comes with pocketsphinx, without stress marks: the ways to say
    each word, one a line. No lists: the garbage collector would look at 126,000 of them again and again.
    """
    spec = find_spec("pocketsphinx")
    if spec is None or spec.origin is None:
        return {}
    text = (Path(spec.origin).parent / "model" / "en-us" / "cmudict-en-us.dict").read_text(encoding="utf-8")
    lines: dict[str, str] = {}
    for line in text.splitlines():
        head, _, said = line.partition(" ")
        word = head[: head.index("(")] if head.endswith(")") else head
        lines[word] = f"{lines[word]}\n{said}" if word in lines else said
    return lines
