"""What the open listener is told to expect: results that name the lexicon's terms which everyday English lacks.

Whisper takes its prompt for what was said before, and goes on in its style: results one after the other bring more
than a list of terms (figures: `docs/listeners.md`).
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping

from pipeline.lexicon import Lexicon
from pipeline.lexicon.model import Manoeuvre, Scale

RARE = 2.8
"""Zipf frequency (`wordfreq`) below which a general recogniser is taken not to know a word; 3 is once in a million."""
_MOST = 26
"""Results that fit into what Whisper takes as a prompt, with the words at the end."""
_GRADES = {"mrc": ("four plus", "five minus", "three", "four", "five"), "reflex": ("two plus", "absent", "one plus")}
_CLOSE = (
    "Right leg, tone normal. Knee jerks two plus, plantars downgoing. "
    "Light touch reduced over L5 and S1 on the left, normal at C6. Left side the same."
)
"""How sides, roots and results are said and written (common practice, no source). At the end, where it weighs most."""


def lexicon_prompt(lexicon: Lexicon) -> str:
    """A result for manoeuvres and muscles whose first name adds a rare word, the arms' first, and how results go on.

    A movement is never told without its opposite: who expects adduction hears it for abduction.
    """
    from wordfreq import zipf_frequency

    told: set[str] = set()
    said: list[str] = []
    grades = {scale: itertools.cycle(values) for scale, values in _GRADES.items()}
    scales = {scale.id: scale for scale in lexicon.scales}
    manoeuvres = {one.id: one for one in lexicon.manoeuvres}
    named = [(one.names[0], one) for one in lexicon.manoeuvres]
    named += [(one.names[0], manoeuvres[one.manoeuvre]) for one in lexicon.muscles]
    rare: list[tuple[str, Manoeuvre]] = []
    for first, manoeuvre in named:
        new = {word for word in first.split() if zipf_frequency(word, "en") < RARE} - told
        if new:
            told |= new
            opposite = manoeuvres.get(manoeuvre.opposite or "")
            pair = [(first, manoeuvre)]
            if opposite is not None and first == manoeuvre.names[0]:
                pair.append((opposite.names[0], opposite))
            rare += [name for name in pair if name not in rare]
    rare.sort(key=lambda name: name[1].region != "upper_limb")
    for first, manoeuvre in rare[-_MOST:]:
        result = _result(first, scales[manoeuvre.scale], grades)
        said.append(f"{result[0].upper()}{result[1:]}.")
    return " ".join((*said, _CLOSE))


def _result(name: str, scale: Scale, grades: Mapping[str, Iterator[str]]) -> str:
    if scale.grades is not None and scale.grades in grades:
        return f"{name} {next(grades[scale.grades])}"
    if scale.id == "presence":
        return f"no {name}"
    return f"{name} {next(value.say[0] for value in scale.values if value.say)}"
