"""How alike two stretches of sound are: phonemes with articulatory distances.

Features after the place, manner and voice columns of the International Phonetic Association's consonant chart and the height and
backness of its vowel chart (from memory); the weights are common practice in alignment of phoneme strings, no source.
"""

from __future__ import annotations

from functools import lru_cache

Phones = tuple[str, ...]

# place (front of the mouth to the back), manner (closed to open), voice
_CONSONANTS: dict[str, tuple[float, float, int]] = {
    "P": (0, 0, 0), "B": (0, 0, 1), "M": (0, 1, 1), "F": (0.5, 2, 0), "V": (0.5, 2, 1), "W": (0, 4, 1),
    "TH": (1.5, 2, 0), "DH": (1.5, 2, 1), "T": (2, 0, 0), "D": (2, 0, 1), "N": (2, 1, 1), "S": (2, 2, 0), "Z": (2, 2, 1),
    "L": (2, 4, 1), "R": (2.5, 4, 1), "SH": (3, 2, 0), "ZH": (3, 2, 1), "CH": (3, 1, 0), "JH": (3, 1, 1), "Y": (3.5, 4, 1),
    "K": (5, 0, 0), "G": (5, 0, 1), "NG": (5, 1, 1), "HH": (6, 3, 0),
}  # fmt: skip
# height (closed to open), backness, rounded
_VOWELS: dict[str, tuple[float, float, int]] = {
    "IY": (0, 0, 0), "IH": (0.7, 0.3, 0), "EY": (1.2, 0.2, 0), "EH": (2, 0.3, 0), "AE": (3, 0.4, 0), "AA": (3.4, 1.6, 0),
    "AO": (2.4, 2, 1), "OW": (1.4, 2, 1), "UH": (0.8, 1.7, 1), "UW": (0, 2, 1), "AH": (2, 1.1, 0), "ER": (1.8, 1.1, 0),
    "AY": (2.6, 0.8, 0), "AW": (2.8, 1.3, 0), "OY": (1.8, 1.4, 1),
}  # fmt: skip
_WEAK = frozenset({"HH", "Y", "W"})
_NASAL, _LIQUID, _STOP = frozenset({"M", "N", "NG"}), frozenset({"L", "R"}), frozenset("PBTDKG")

_COARSE = {
    **dict.fromkeys(_VOWELS, "a"), "ER": "ar",
    "P": "p", "B": "p", "T": "t", "D": "t", "TH": "t", "DH": "t", "K": "k", "G": "k", "F": "f", "V": "f", "S": "s", "Z": "s",
    "SH": "c", "ZH": "c", "CH": "c", "JH": "c", "M": "m", "N": "n", "NG": "n", "L": "l", "R": "r", "W": "w", "Y": "", "HH": "",
}  # fmt: skip


def coarse(phones: Phones) -> str:
    """A short key for retrieval: voicing is lost, vowels become one letter, glides vanish."""
    key = "".join(_COARSE.get(phone, "") for phone in phones)
    return key.replace("aa", "a").replace("aa", "a")


def _substitution(first: str, second: str) -> float:
    if first == second:
        return 0.0
    if first in _VOWELS and second in _VOWELS:
        if "AH" in (first, second) or "IH" in (first, second):  # reduced vowels stand for any other
            return 0.15
        one, two = _VOWELS[first], _VOWELS[second]
        return min(0.45, 0.12 + 0.1 * abs(one[0] - two[0]) + 0.08 * abs(one[1] - two[1]))
    if first in _CONSONANTS and second in _CONSONANTS:
        one, two = _CONSONANTS[first], _CONSONANTS[second]
        place, manner, voice = abs(one[0] - two[0]), abs(one[1] - two[1]), one[2] != two[2]
        cost = 0.13 * place + 0.2 * manner + (0.15 if voice else 0.0)
        if {first, second} <= _NASAL:
            cost = min(cost, 0.3)
        if {first, second} <= _LIQUID:
            cost = min(cost, 0.45)
        if {first, second} <= _STOP:
            cost = max(cost, 0.15) if place == 0 else min(cost, 0.65)
        return min(1.0, cost)
    if "ER" in (first, second) and "R" in (first, second):
        return 0.3
    return 1.0


_SUBSTITUTION = {
    (first, second): _substitution(first, second)
    for first in {**_CONSONANTS, **_VOWELS}
    for second in {**_CONSONANTS, **_VOWELS}
}


def _dropped(phone: str) -> float:
    """Cost of a phone that is heard but not said, or said but not heard."""
    if phone in _WEAK:
        return 0.3
    if phone in ("AH", "IH"):
        return 0.35
    if phone in _VOWELS:
        return 0.5
    if phone in ("T", "D", "N", "R"):  # weak at the ends of syllables in running speech
        return 0.6
    return 0.8


_DROPPED = {phone: _dropped(phone) for phone in {**_CONSONANTS, **_VOWELS}}


@lru_cache(maxsize=200_000)
def distance(heard: Phones, said: Phones) -> float:
    """Weighted edit distance divided by the mean length: 0 for the same sound, about 1 for unrelated ones."""
    if not heard or not said:
        return 1.0
    drops = [_DROPPED[phone] for phone in said]
    row = [0.0]
    for drop in drops:
        row.append(row[-1] + drop)
    for phone in heard:
        skip = _DROPPED[phone]
        previous = row[0]
        row[0] += skip
        left = row[0]
        for index, other in enumerate(said, 1):
            above = row[index]
            cost = previous + _SUBSTITUTION[phone, other]
            if above + skip < cost:
                cost = above + skip
            if left + drops[index - 1] < cost:
                cost = left + drops[index - 1]
            row[index] = left = cost
            previous = above
    return row[-1] / ((len(heard) + len(said)) / 2)
