"""What the open listener is told to expect: the lexicon's terms that everyday English lacks."""

from __future__ import annotations

from pipeline.lexicon import Lexicon

RARE = 2.8
"""Zipf frequency (`wordfreq`) below which a general recogniser is taken not to know a word; 3 is once in a million."""
_NOTATION = ("light touch", "four plus", "five minus", "L5", "S1", "C6")
"""How grades and roots are written. At the end, where a prompt weighs most."""


def lexicon_prompt(lexicon: Lexicon) -> str:
    """Terms separated by commas: for each muscle and manoeuvre its first name, if that adds a rare word."""
    from wordfreq import zipf_frequency

    told: set[str] = set()
    terms: list[str] = []
    firsts = [one.names[0] for one in lexicon.manoeuvres] + [one.names[0] for one in lexicon.muscles]
    for first in firsts:
        new = {word for word in first.split() if zipf_frequency(word, "en") < RARE} - told
        if new:
            told |= new
            terms.append(first)
    return ", ".join((*terms, *_NOTATION))
