"""Terms found in tokens."""

from __future__ import annotations

from dataclasses import dataclass

from pipeline.mend.numbers import Number, Roots
from pipeline.mend.terms import Term


@dataclass(frozen=True, slots=True)
class Match:
    """A term found in tokens `start`..`end` (exclusive).

    `probability` is 1 for words heard as written; `completes`: half of a name was heard as written, the other half
    was mended; `rival` is the nearest term by sound with another meaning, and `rival_probability` its share; `placed`:
    it was made out from where it stands (`pipeline.mend.slots`).
    """

    start: int
    end: int
    term: Term
    probability: float = 1.0
    distance: float = 0.0
    rival: Term | None = None
    rival_probability: float = 0.0
    completes: bool = False
    placed: bool = False

    @property
    def mended(self) -> bool:
        return self.distance > 0 or self.probability < 1


@dataclass(frozen=True, slots=True)
class Cover:
    """What stands where: terms, numbers and roots, none overlapping within its list."""

    matches: list[Match]
    numbers: list[Number]
    roots: list[Roots]
