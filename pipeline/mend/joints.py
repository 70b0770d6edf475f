"""Movements of which the joint was named before: "hips: flexion five on both sides, L two, extension four"."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from pipeline.mend.context import DENIED, JOINTS, LIMBS
from pipeline.mend.matches import Match
from pipeline.mend.terms import Term, TermIndex

_BETWEEN = frozenset(
    "and or is are was were at a the out over on also only it it's that that's this i i'm testing actually".split()
)
"""Small words between two movements of a joint."""
_LIMB_WORDS = LIMBS | {"leg", "arm"}


def of_a_joint(index: TermIndex, words: list[str], matches: Iterable[Match], held: Sequence[bool]) -> list[Match]:
    """The joint goes on until another part, a limb, or a word that nothing accounts for.

    `matches`: the terms found; `held`: the tokens of numbers and roots.
    """
    whole: dict[int, Match] = {}
    for match in matches:
        if match.start not in whole or whole[match.start].end < match.end:
            whole[match.start] = match
    found: list[Match] = []
    joint: tuple[str, ...] = ()
    at, of_movement = 0, False
    while at < len(words):
        here = whole.get(at)
        end = at + 1 if here is None else here.end
        moved = index.terms.get((*joint, words[at])) if joint and end == at + 1 else None
        own = of_movement and here is not None and here.term.words == (words[at],) and _names_a_test(here.term)
        if moved is not None and _is_movement(index, moved) and not own and _is_its_name(index, words[at], here):
            found.append(Match(at, end, moved))
        elif here is not None and _is_of_no_joint(here.term):
            joint = ()
        elif here is not None or words[at].removesuffix("s") in JOINTS:
            last, joint = joint, _joint_after(index, joint, words[at:end], here)
            of_movement = (of_movement and joint == last) or (here is not None and _is_movement(index, here.term))
        elif not held[at] and words[at] not in _BETWEEN:
            joint = ()
        at = end
    return found


def _joint_after(index: TermIndex, joint: tuple[str, ...], said: list[str], match: Match | None) -> tuple[str, ...]:
    """The joint under examination after "ankles", "the right hip", "knee extension", "knee jerk" or "on the left"."""
    tested = match is not None and _names_a_test(match.term)
    moved = match is not None and _is_movement(index, match.term)
    if match is not None and moved and len(match.term.words) > 1:
        begun = match.term.words[:-1]
        guessed = said == [match.term.words[-1]]  # "extension" alone, taken for that of the knee
        return begun if index.is_part(begun[-1]) and not guessed else ()
    named = tuple(word.removesuffix("s") for word in said if word.removesuffix("s") in JOINTS)[-1:]
    if not named:
        return () if moved or not _LIMB_WORDS.isdisjoint(said) else joint
    named = ((said[0],) if said[0] in ("great", "big") else ()) + named
    return named if not tested or named == joint else ()


def _is_of_no_joint(term: Term) -> bool:
    """ "Some" and "beats" are said of twitches and clonus only."""
    scales = {meaning.id.split(":")[0] for meaning in term.meanings if meaning.kind == "value"}
    return bool(scales) and scales <= DENIED


def _is_its_name(index: TermIndex, word: str, here: Match | None) -> bool:
    """ "Extension", and not "extensor", how the toe went, or "spread", what is asked for."""
    said = here is not None and any(meaning.kind == "value" for meaning in here.term.meanings)
    return not said and word not in index.ordered


def _names_a_test(term: Term) -> bool:
    """ "Knee jerk", and not "knee", which stands for its jerk among the reflexes."""
    return any(meaning.kind in ("manoeuvre", "muscle") and meaning.section is None for meaning in term.meanings)


def _is_movement(index: TermIndex, term: Term) -> bool:
    return "mrc" in index.scales(term) and _names_a_test(term)
