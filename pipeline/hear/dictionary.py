"""The words that the lexicon listener knows: those of the lexicon's phrases, and the commonest of general English."""

from __future__ import annotations

import re
from collections.abc import Iterable

from pipeline.lexicon.pronounce import VOWELS, Phones, in_dictionary, phones

COMMON_WORDS = 8000
_SEARCHED = 12_000
_MOST_WAYS = 8


def common_english() -> dict[str, float]:
    """The `COMMON_WORDS` commonest English words that the pronouncing dictionary has, with their frequencies."""
    from wordfreq import top_n_list, word_frequency

    words = (word for word in top_n_list("en", _SEARCHED) if re.fullmatch(r"[a-z']+", word) and in_dictionary(word))
    return {word: word_frequency(word, "en") for word, _ in zip(words, range(COMMON_WORDS), strict=False)}


def dictionary(special: Iterable[str], common: Iterable[str]) -> dict[str, list[Phones]]:
    """How each word is said; keys in lower case. `special` words are listed with their British sound as well.

    `special` keeps capitals, because initials are said letter by letter.
    """
    said: dict[str, list[Phones]] = {word: [*phones(word)][:_MOST_WAYS] for word in common}
    for word in special:
        american = phones(word)
        ways = dict.fromkeys((*american, *map(british, american)))
        said[word.lower()] = [*ways][:_MOST_WAYS]
    return {word: ways for word, ways in said.items() if ways}


def british(way: Phones) -> Phones:
    """An American pronunciation as southern British English has it, in the same phonemes.

    No R but before a vowel, the vowel of "lot" rounded, a weak ending in "-er" open (common knowledge of the two
    accents; no source).
    """
    said: list[str] = []
    for at, phone in enumerate(way):
        after = way[at + 1] if at + 1 < len(way) else ""
        if phone == "R" and at and after not in VOWELS:
            if said[-1] in ("IH", "EH", "UH"):
                said.append("AH")
        elif phone == "ER" and after in VOWELS:
            said += ["AH", "R"]
        elif phone == "ER" and at > 1 and after in ("", "Z", "D") and at + 2 >= len(way):
            said.append("AH")
        else:
            said.append("AO" if phone == "AA" and after != "R" else phone)
    return tuple(said)
