"""Which manoeuvre the examiner asks the patient for: "pull your foot up towards your nose" is ankle dorsiflexion."""

from __future__ import annotations

import re
from functools import lru_cache

from pipeline.lexicon.model import Command, Lexicon

_WORD = re.compile(r"[^\W_]+")


def commanded(lexicon: Lexicon, text: str) -> list[str]:
    """The ids of the manoeuvres that `text`, one short stretch of talk, asks the patient for, in the lexicon's order.

    It says what the words would ask for, not that they are said to a patient. Where manoeuvres share a command, all of them
    come back and the region or section under examination decides.
    """
    spoken = _plain(text)
    return [
        manoeuvre.id
        for manoeuvre in lexicon.manoeuvres
        if any(heard(command, spoken) for command in manoeuvre.commands)
    ]


def heard(command: Command, spoken: str) -> bool:
    """Whether plain text (as `_plain` gives it) holds one choice of every list of `command` and none of its `none`."""
    return all(any(_plain(choice) in spoken for choice in choices) for choices in command.all) and not any(
        _plain(choice) in spoken for choice in command.none
    )


@lru_cache(maxsize=16384)
def _plain(text: str) -> str:
    """Lower-case words with one space round each, without punctuation; "don't" becomes "dont"."""
    return f" {' '.join(_WORD.findall(text.lower().replace(chr(39), '').replace('’', '')))} "
