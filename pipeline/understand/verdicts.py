"""The words with which an examiner settles on a grade: "I'll go with | three", "let us call that | four"."""

from __future__ import annotations

import re
from collections.abc import Sequence

_DECIDING = frozenset(
    "give call say put mark record write score grade rate make take settle go accept enter note chart document".split()
)
_VERDICT = re.compile(
    r"\b(?:i'?ll|i will|i'd|i would|we'?ll|we will|we'd|we would|let's|let us|let me|i can only|i could only|i must"
    r"|(?:i'm|i am|we're) (?:going to|gonna)|i(?:'ve| have)? (?:got )?to|i(?:'d like| want) to)"
    r"(?: only| just| still| probably| have to| be tempted to| stick my neck out and)?"
    rf" (?:{'|'.join(sorted(_DECIDING))})"
    r"(?: it| that| this| him| her| them| those| both)?(?: down)?(?: on| for| with| at| as| in)?(?: a| an| the)? $"
)
_FARTHEST = 10
"""Most words of a verdict before its grade."""


def verdict(words: Sequence[str], grade: int) -> range | None:
    """The tokens of the verdict that leads to the grade which begins at token `grade`, if there is one."""
    before = words[max(0, grade - _FARTHEST) : grade]
    if _DECIDING.isdisjoint(before):
        return None
    said = _VERDICT.search(" ".join(before) + " ")
    return None if said is None else range(grade - len(said[0].split()), grade)
