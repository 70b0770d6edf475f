"""Heard words against the words that were said: word errors, and lexicon terms heard whole."""

from __future__ import annotations

import re
from dataclasses import dataclass

import jiwer

from pipeline.lexicon import Lexicon
from scripts.speech.text import spoken

_SAME = {"zero": "nought", "ok": "okay", "halux": "hallux"}


@dataclass
class WordCount:
    """Sums over recordings; `terms` counts each time one was said."""

    words: int = 0
    errors: int = 0
    terms: int = 0
    recalled: int = 0

    def __iadd__(self, other: WordCount) -> WordCount:
        self.words += other.words
        self.errors += other.errors
        self.terms += other.terms
        self.recalled += other.recalled
        return self


def plain_words(text: str) -> list[str]:
    """Words in one way of writing: lower case, numbers, grades and roots as they are said, no punctuation."""
    # "L-2-3", "L23", "L2, 3" and "L2,3" are all the same words: L two three.
    text = re.sub(r"\b([CTLSctls])-?(\d)[-, ]*(\d)\b", r"\1\2 \3", text)
    text = re.sub(r"\b([ctls])(?=\d)", lambda found: found[1].upper(), text)
    text = spoken(re.sub(r"(?<=\w)-(?=[A-Za-z])", " ", text)).lower()
    return [_SAME.get(word, word) for word in re.findall(r"[a-z]+(?:'[a-z]+)?", text)]


def terms_of(lexicon: Lexicon) -> set[tuple[str, ...]]:
    """What counts as a term: names of manoeuvres and muscles, values that are said, sides, grades and roots."""
    said = [name for entry in (*lexicon.manoeuvres, *lexicon.muscles) for name in entry.names]
    said += [word for scale in lexicon.scales for value in scale.values for word in value.say]
    said += ["left", "right", "both", "plus", "minus", "zero", "one", "two", "three", "four", "five"]
    levels = [entry.id for entry in lexicon.dermatomes if entry.id[1:].isdigit()]
    return {words for words in (tuple(plain_words(term)) for term in [*said, *levels]) if words}


def compare(said: str, heard: str, terms: set[tuple[str, ...]]) -> WordCount:
    """Counts for one recording. A term is recalled where all its words were heard in its place."""
    want, got = plain_words(said), plain_words(heard)
    if not want:
        return WordCount(0, len(got))
    aligned = jiwer.process_words(" ".join(want), " ".join(got) or "-")
    right = [False] * len(want)
    for chunk in aligned.alignments[0]:
        if chunk.type == "equal":
            right[chunk.ref_start_idx : chunk.ref_end_idx] = [True] * (chunk.ref_end_idx - chunk.ref_start_idx)
    count = WordCount(len(want), aligned.substitutions + aligned.deletions + aligned.insertions)
    longest = max(map(len, terms))
    at = 0
    while at < len(want):
        size = next((n for n in range(longest, 0, -1) if tuple(want[at : at + n]) in terms), 0)
        if size:
            count.terms += 1
            count.recalled += all(right[at : at + size])
        at += size or 1
    return count
