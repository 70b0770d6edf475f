"""How common words are, and words with which people tell of results."""

from __future__ import annotations

from functools import lru_cache

from wordfreq import zipf_frequency


@lru_cache(maxsize=50_000)
def frequency(word: str) -> float:
    """Zipf frequency of an English word (0: unknown, 3: once in a million words, 7: "the")."""
    return zipf_frequency(word, "en")


EVERYDAY = 4.3
"""Zipf frequency of words that are likelier meant than misheard."""
BE = frozenset("is are was were".split())
"""Forms of the verb that join a name to its result."""
STATES = BE | frozenset("feels looks seems".split())
"""Verbs behind the name of a test that lead to its result."""
REPORTING = frozenset("reckons reckoned says said thinks thought feels felt swears tells".split())
"""Verbs of what somebody says of a result."""
GRADING = frozenset(
    """giving scoring making calling getting putting rating marking recording grading scored graded rated marked
        recorded given""".split()
)
"""Verbs with which an examiner gives a grade: "grip I'm scoring four"."""
REACHING = frozenset(
    """gets got goes went comes came reaches reached manages managed makes made drops dropped falls fell holds held
        stops stopped rises rose improves improved gives gave lifts scores rates""".split()
)
"""Verbs of what one side or one test came to: "and the right only manages three"."""
WHERETO = frozenset("up down out in back apart together straight bent".split())
"""Where a part of the body is to go: "wrists back", "heel in"."""
ANNOUNCING = frozenset("now then next first".split())
"""What stands behind a side that is examined from there on: "left leg then, hip flexion five"."""
