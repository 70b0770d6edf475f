"""Which of the terms that words may stand for cover them best: those that are likelier, none overlapping."""

from __future__ import annotations

from itertools import dropwhile

from pipeline.mend.context import FUNCTION
from pipeline.mend.matches import Match
from pipeline.mend.nearest import ways_to_say
from pipeline.mend.sound import nearest
from pipeline.mend.swallowing import NEARLY_THE_SAME, is_strong, same_meaning
from pipeline.mend.words import EVERYDAY, frequency

_CLEARLY_NEARER = 0.07
_NEARLY_SAID, _OTHERWISE = 0.06, 0.4
"""Distances: up to which a name was all but said, and from which two words have nothing to do with each other."""
_LEADING = FUNCTION - {"a"}
"""Small words before a name that are hardly ever a piece of it; "a" is of many ("a ductors")."""


def without_padding(found: list[Match], exact: list[Match], words: list[str]) -> list[Match]:
    """Without "reverse straight leg raise" for "to the couch straight leg race": what leads it sounds otherwise."""
    ending: dict[int, list[Match]] = {}
    for match in (*found, *exact):
        ending.setdefault(match.end, []).append(match)

    def is_padded(match: Match) -> bool:
        for inner in ending.get(match.end, ()):
            if inner.start > match.start and _is_misled(match, inner, words):
                return True
            more = len(match.term.words) - len(inner.term.words)
            nearly = inner.distance <= _NEARLY_SAID
            if nearly and inner.start > match.start and more > 0 and match.term.words[more:] == inner.term.words:
                led, meant = tuple(words[match.start : inner.start]), match.term.words[:more]
                return nearest(ways_to_say(led), ways_to_say(meant)) > _OTHERWISE
        return False

    return [match for match in found if not is_padded(match)]


def _is_misled(match: Match, inner: Match, words: list[str]) -> bool:
    """ "We have got niche jerks": everyday words before a name make other jerks of it, of which it is less like."""
    if not inner.mended or len(inner.term.words) == 1 or inner.term.words[-1] != match.term.words[-1]:
        return False
    everyday = all(frequency(word) > EVERYDAY for word in words[match.start : inner.start])
    return everyday and inner.distance < match.distance - _CLEARLY_NEARER


def best_of_each(found: list[Match], words: list[str]) -> list[Match]:
    """Of overlapping spans for the same term only the one that sounds most like it."""

    def unlikely(match: Match) -> float:
        told = list(dropwhile(_LEADING.__contains__, words[match.start : match.end]))  # "was it daw see flexion"
        return match.distance - 0.03 * len(told)

    kept: list[Match] = []
    at: dict[int, list[Match]] = {}
    for match in sorted(found, key=lambda m: (unlikely(m), m.start, m.end)):
        places = range(match.start, match.end)
        if not any(same_meaning(match.term, other.term) for place in places for other in at.get(place, ())):
            kept.append(match)
            for place in places:
                at.setdefault(place, []).append(match)
    return kept


def best_cover(candidates: list[Match], worth: list[float]) -> list[Match]:
    """Non-overlapping matches of the highest total gain; `worth`: what a token is worth when no term covers it."""
    size = len(worth)
    by_end: list[list[Match]] = [[] for _ in range(size + 1)]
    for match in candidates:
        by_end[match.end].append(match)
    best = [0.0] * (size + 1)
    choice: list[Match | None] = [None] * (size + 1)
    for end in range(1, size + 1):
        best[end] = best[end - 1] + worth[end - 1]
        for match in by_end[end]:
            gain = best[match.start] + _gain(match)
            if gain > best[end] + 1e-9:
                best[end], choice[end] = gain, match
    found: list[Match] = []
    at = size
    while at > 0:
        chosen = choice[at]
        if chosen is None:
            at -= 1
        else:
            found.append(chosen)
            at = chosen.start
    return found[::-1]


_BEGUN = 0.14
"""Distance up to which everyday words after a part of the body are one of its movements."""
_CLAIM = 0.1
"""What each mend costs: one name for four words is likelier than two names for two."""


def _gain(match: Match) -> float:
    width = match.end - match.start
    if not match.mended:
        return 2.0 * width - 0.5 if width > 1 or is_strong(match.term) else 0.45
    either = match.probability + (match.rival_probability if _is_surely_one(match) else 0.0)
    # "Knee attention" is worth more than the knee alone.
    completed = 0.4 if match.completes else 0.0
    return width * either**2 * (1.35 - 2.0 * match.distance) - _CLAIM + completed


def _is_surely_one(match: Match) -> bool:
    """ "A duction" is abduction or adduction, "finger abolition" abduction or extension of the fingers."""
    if match.distance < NEARLY_THE_SAME or not match.completes or match.rival is None:
        return match.distance < NEARLY_THE_SAME
    of_one_part = len(match.rival.words) > 1 and match.rival.words[0] == match.term.words[0]
    return of_one_part and match.distance < _BEGUN
