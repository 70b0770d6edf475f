"""How alike two stretches of sound are: phonemes with articulatory distances.

Features after the place, manner and voice columns of the International Phonetic Association's consonant chart and the
height and backness of its vowel chart (from memory); the weights are common practice in alignment of phoneme strings,
no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise, product

import numpy as np
from numpy.typing import NDArray

Phones = tuple[str, ...]
Indices = NDArray[np.intp]

# place (front of the mouth to the back), manner (closed to open), voice
_CONSONANTS: dict[str, tuple[float, float, int]] = {
    "P": (0, 0, 0), "B": (0, 0, 1), "M": (0, 1, 1), "F": (0.5, 2, 0), "V": (0.5, 2, 1), "W": (0, 4, 1),
    "TH": (1.5, 2, 0), "DH": (1.5, 2, 1), "T": (2, 0, 0), "D": (2, 0, 1), "N": (2, 1, 1), "S": (2, 2, 0),
    "Z": (2, 2, 1), "L": (2, 4, 1), "R": (2.5, 4, 1), "SH": (3, 2, 0), "ZH": (3, 2, 1), "CH": (3, 1, 0),
    "JH": (3, 1, 1), "Y": (3.5, 4, 1), "K": (5, 0, 0), "G": (5, 0, 1), "NG": (5, 1, 1), "HH": (6, 3, 0),
}  # fmt: skip
# height (closed to open), backness, rounded
_VOWELS: dict[str, tuple[float, float, int]] = {
    "IY": (0, 0, 0), "IH": (0.7, 0.3, 0), "EY": (1.2, 0.2, 0), "EH": (2, 0.3, 0), "AE": (3, 0.4, 0),
    "AA": (3.4, 1.6, 0), "AO": (2.4, 2, 1), "OW": (1.4, 2, 1), "UH": (0.8, 1.7, 1), "UW": (0, 2, 1),
    "AH": (2, 1.1, 0), "ER": (1.8, 1.1, 0), "AY": (2.6, 0.8, 0), "AW": (2.8, 1.3, 0), "OY": (1.8, 1.4, 1),
}  # fmt: skip
_WEAK = frozenset({"HH", "Y", "W"})
_NASAL, _LIQUID, _STOP = frozenset({"M", "N", "NG"}), frozenset({"L", "R"}), frozenset("PBTDKG")

_COARSE = {
    **dict.fromkeys(_VOWELS, "a"), "ER": "A",
    "P": "p", "B": "p", "T": "t", "D": "t", "TH": "t", "DH": "t", "K": "k", "G": "k", "F": "f", "V": "f",
    "S": "s", "Z": "s", "SH": "c", "ZH": "c", "CH": "c", "JH": "c", "M": "m", "N": "n", "NG": "n",
    "L": "l", "R": "r", "W": "w", "Y": "", "HH": "",
}  # fmt: skip


_ALL = (*_CONSONANTS, *_VOWELS)
_CODE = {phone: code for code, phone in enumerate(_ALL, 1)}
"""Code 0 stands for no phone at all."""
_VANISHING = bytes(_CODE[phone] for phone, letter in _COARSE.items() if not letter)
_KEYED = bytes.maketrans(
    bytes(_CODE[phone] for phone, letter in _COARSE.items() if letter), "".join(_COARSE.values()).encode()
)


def written(phones: Phones) -> bytes:
    """Phones as their codes, which are quicker to join, to compare and to key."""
    return bytes(map(_CODE.__getitem__, phones))


def read(sound: bytes) -> Phones:
    """The phones that were `written`."""
    return tuple([_ALL[code - 1] for code in sound])


def coarse(phones: Phones) -> str:
    """A short key for retrieval: voicing is lost, vowels become one letter, glides vanish."""
    return coarse_key(written(phones))


def coarse_key(sound: bytes) -> str:
    """`coarse` of phones that were `written`."""
    key = sound.translate(_KEYED, _VANISHING).replace(b"A", b"ar")
    return key.replace(b"aa", b"a").replace(b"aa", b"a").decode()


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
            cost = max(cost, 0.15) if place == 0 else min(max(cost, 0.5), 0.65)
        return min(1.0, cost)
    if "ER" in (first, second) and "R" in (first, second):
        return 0.3
    return 1.0


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


# In thousandths: whole numbers add up to the same sum in any order, so one pair and many pairs give equal distances.
_SUBSTITUTION = {first: {second: round(1000 * _substitution(first, second)) for second in _ALL} for first in _ALL}
_DROPPED = {phone: round(1000 * _dropped(phone)) for phone in _ALL}


def distance(heard: Phones, said: Phones) -> float:
    """Weighted edit distance divided by the mean length: 0 for the same sound, about 1 for unrelated ones."""
    if not heard or not said:
        return 1.0
    drops = [_DROPPED[phone] for phone in said]
    row = [0]
    for drop in drops:
        row.append(row[-1] + drop)
    for phone in heard:
        skip, costs = _DROPPED[phone], _SUBSTITUTION[phone]
        previous = row[0]
        best = row[0] = previous + skip
        for index, other in enumerate(said, 1):
            above = row[index]
            best += drops[index - 1]
            # comparisons in place of min(): this is where most of the time goes
            if above + skip < best:
                best = above + skip
            if previous + costs[other] < best:
                best = previous + costs[other]
            row[index] = best
            previous = above
    return row[-1] / (500 * (len(heard) + len(said)))


def nearest(heard: Iterable[Phones], said: Iterable[Phones], default: float = 1.0) -> float:
    """The least distance between ways to say two words or phrases; `default` where there are none."""
    return min((distance(one, two) for one, two in product(heard, said)), default=default)


_DROPS = np.array([0, *(_DROPPED[phone] for phone in _ALL)], np.int32)
_GAINS = np.zeros((len(_DROPS), len(_DROPS)), np.int32)
"""What it saves to let one phone stand for the other instead of dropping both."""
for _first, _costs in _SUBSTITUTION.items():
    for _second, _cost in _costs.items():
        _GAINS[_CODE[_first], _CODE[_second]] = max(0, _DROPPED[_first] + _DROPPED[_second] - _cost)
_CELLS = 1 << 15
"""Phones compared in one step: enough to make numpy worth its call, few enough to stay in the processor's cache."""


class Sounds:
    """Stretches of sound as codes (`written`), one after the other, for `distances`."""

    def __init__(self, sounds: Sequence[bytes]) -> None:
        self.lengths: Indices = np.array([len(sound) for sound in sounds], np.intp)
        codes = np.frombuffer(b"".join(sounds), np.uint8)
        ends = np.cumsum(self.lengths)
        drops = np.concatenate(([0], np.cumsum(_DROPS[codes])))
        self.drops: NDArray[np.int64] = drops[ends] - drops[ends - self.lengths]
        rows = np.zeros((len(sounds), self.lengths.max(initial=0)), np.uint8)
        rows[np.arange(rows.shape[1]) < self.lengths[:, None]] = codes
        self._columns = np.ascontiguousarray(rows.T)

    def columns(self, chosen: Indices) -> Indices:
        """One column of codes for each chosen sound, filled up with 0 to the length of the longest."""
        columns: Indices = self._columns[: self.lengths[chosen].max()].take(chosen, axis=1).astype(np.intp)
        return columns


def distances(heard: Sounds, said: Sounds, first: Indices, second: Indices) -> NDArray[np.float64]:
    """`distance` of many pairs: heard sound `first[k]` and said sound `second[k]` for each k. No sound may be empty."""
    saved = np.empty(len(first), np.int64)
    # The longest first and like lengths together, so that little is filled up.
    order = np.argsort(said.lengths[second] - 1000 * (heard.lengths[first] // 4))
    start = 0
    while start < len(order):
        width = max(1, _CELLS // int(heard.lengths[first[order[start]]]))
        block = order[start : start + width]
        saved[block] = _saved(heard.columns(first[block]), said.columns(second[block]))
        start += width
    cost = heard.drops[first] + said.drops[second] - saved
    gaps: NDArray[np.float64] = cost / (500 * (heard.lengths[first] + said.lengths[second]))
    return gaps


def _saved(heard: Indices, said: Indices) -> NDArray[np.int32]:
    """The most that aligning each pair of columns saves against dropping every phone of both."""
    gains = _GAINS.ravel()
    best = np.zeros((len(said) + 1, said.shape[1]), np.int32)
    for row in heard * len(_GAINS):
        aligned = gains.take(row + said, mode="wrap")  # quicker than a check: no index is out of range
        aligned += best[:-1]
        np.maximum(best[1:], aligned, out=best[1:])
        for before, after in pairwise(best):
            np.maximum(before, after, out=after)
    saved: NDArray[np.int32] = best[-1]
    return saved
