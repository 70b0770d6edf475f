"""Written examination talk turned into words that any voice says alike: "L5, 4+" becomes "L five, four plus"."""

from __future__ import annotations

import re

from num2words import num2words

_TITLES = {"Dr": "Doctor", "Mr": "Mister", "Mrs": "Missis", "Ms": "Miz", "Prof": "Professor"}

_TITLE = re.compile(r"\b(Dr|Mr|Mrs|Ms|Prof)\b\.?")
_ROOT_RANGE = re.compile(r"\b([CTLS])(\d{1,2})\s*[-–]\s*([CTLS])(\d{1,2})\b")
_ROOT_PAIR = re.compile(r"\b([CTLS])(\d{1,2})\s*[-–/]\s*(\d{1,2})\b")
_ROOT = re.compile(r"\b([CTLS])(\d{1,2})\b")
_OUT_OF = re.compile(r"\b(\d)\s*/\s*(\d)\b")
_PLUS = re.compile(r"\b(\d)\s?\+")
_MINUS = re.compile(r"\b(\d)\s?[-−](?=[\s.,;]|$)")
_NUMBER = re.compile(r"\b\d{1,3}\b")
_CAPITALS = re.compile(r"\b[A-Z]{2,5}\b")
_SENTENCE_END = re.compile(r"(?<=[.!?])\s+")


def spoken(text: str) -> str:
    """The words to say for `text`: roots, grades, numbers, titles and initials written out; punctuation kept."""
    text = _TITLE.sub(lambda found: _TITLES[found[1]], text)
    text = _ROOT_RANGE.sub(r"\1 \2 to \3 \4", text)
    text = _ROOT_PAIR.sub(r"\1 \2 \3", text)
    text = _ROOT.sub(r"\1 \2", text)
    text = _OUT_OF.sub(r"\1 out of \2", text)
    text = _PLUS.sub(r"\1 plus", text)
    text = _MINUS.sub(r"\1 minus", text)
    text = text.replace("°", " degrees").replace("%", " per cent").replace("&", " and ")
    text = _NUMBER.sub(lambda found: num2words(int(found[0])), text)
    text = _CAPITALS.sub(lambda found: " ".join(found[0]), text)
    return " ".join(text.split())


def sentences(text: str) -> list[str]:
    """`text` cut after full stops, question and exclamation marks; empty for text without words."""
    return [part for part in _SENTENCE_END.split(_TITLE.sub(r"\1", text).strip()) if any(map(str.isalnum, part))]
