"""Small word classes of spoken English that more than one component needs."""

IMPERATIVES = frozenset(
    """lift push pull bend straighten kick bring raise keep hold press squeeze turn point cock close shut
        open relax tell say look listen watch walk stand sit lie roll hop tap slide run put take give let
        show move touch clench try come pop shuffle make curl spread wiggle don't resist stop flop scoot
        step drop swing tuck stretch extend grip grab follow copy stay stick wriggle haul heave shove boot
        crank tug yank scoop squash stamp jam pin drive dig prise fend fight beat fold flex draw drag splay
        scrunch rest reach crush hook pinch fan bear lock shake loosen march rise crouch squat jump skip
        elevate depress hoist""".split()
)
"""Verbs that open an instruction to a patient."""
HAPPENED = frozenset("been gone come become shown stayed".split())
"""What might have come to pass: "had the knee jerk gone too"."""
_LEAVES = (["i", "left"], ["we", "left"], ["i've", "left"], ["we've", "left"], ["have", "left"])
_TO_WHAT_IS_LEFT = frozenset("the his her both right left".split())


def is_left_out(words: list[str], start: int, end: int) -> bool:
    """ "I'll leave tandem gait out": what stands in `start`..`end` (exclusive) is."""
    if words[end : end + 1] != ["out"]:
        return False
    while start > 1 and words[start - 1] in _TO_WHAT_IS_LEFT and words[start - 2 : start] not in _LEAVES:
        start -= 1
    return words[start - 1] in ("leave", "leaving") or words[max(0, start - 2) : start] in _LEAVES


_REMARKING = tuple(
    [word] for word in "i i'm i'd i've he he's he'd she she's she'd they it it's that that's wait hang hold".split()
)
REMARK_WITHIN = 12
"""Most tokens from "no" to the result that it puts in place of another."""


def is_remark(words: list[str]) -> bool:
    """ "She'd let go of the bar", "let me be honest": said between a result and a better one."""
    return len(words) <= REMARK_WITHIN and (words[:2] == ["let", "me"] or words[:1] in _REMARKING)
