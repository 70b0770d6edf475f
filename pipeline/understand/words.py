"""Small word classes of spoken English that more than one component needs."""

IMPERATIVES = frozenset(
    """lift push pull bend straighten kick bring raise keep hold press squeeze turn point cock close shut
        open relax tell say look listen watch walk stand sit lie roll hop tap slide run put take give let
        show move touch clench try come pop shuffle make curl spread wiggle don't resist stop flop scoot
        step drop swing tuck stretch extend grip grab follow copy stay stick wriggle haul heave shove boot
        crank tug yank scoop squash stamp jam pin drive dig prise fend fight beat fold flex draw drag splay
        scrunch rest reach crush hook pinch fan bear lock shake loosen march rise crouch squat jump skip""".split()
)
"""Verbs that open an instruction to a patient."""
