"""Heard words against those that were said: word errors, lexicon terms heard whole, passages lost, terms made up."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, fields

import jiwer

from pipeline.hear.words import Heard
from pipeline.lexicon import Lexicon
from scripts.speech.text import spoken
from scripts.speech.voices import Sentence

_SAME = {"zero": "nought", "ok": "okay", "halux": "hallux"}
_LOST = 0.2
"""A sentence of which no more than this share was heard is dropped."""


@dataclass
class WordCount:
    """Sums over recordings. `terms` counts each time one was said.

    `dropped`: words of sentences that were not heard; `untold`: those of which no unheard entry tells either.
    `bled`: words of the prompt that were heard where others, or none, were said.
    """

    words: int = 0
    errors: int = 0
    terms: int = 0
    recalled: int = 0
    dropped: int = 0
    untold: int = 0
    bled: int = 0

    def __iadd__(self, other: WordCount) -> WordCount:
        for one in fields(self):
            setattr(self, one.name, getattr(self, one.name) + getattr(other, one.name))
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


def compare(sentences: Sequence[Sentence], heard: Heard, terms: set[tuple[str, ...]], prompt: set[str]) -> WordCount:
    """Counts for one recording. A term is recalled where all its words were heard in its place; `prompt`: its words."""
    said = [plain_words(sentence.text) for sentence in sentences]
    want = [word for words in said for word in words]
    got = plain_words(" ".join(utterance.text for utterance in heard.utterances))
    aligned = jiwer.process_words(" ".join(want), " ".join(got) or "-")
    right = [False] * len(want)
    made_up: list[str] = []
    for chunk in aligned.alignments[0]:
        if chunk.type == "equal":
            right[chunk.ref_start_idx : chunk.ref_end_idx] = [True] * (chunk.ref_end_idx - chunk.ref_start_idx)
        else:
            made_up += got[chunk.hyp_start_idx : chunk.hyp_end_idx]
    count = WordCount(
        words=len(want),
        errors=aligned.substitutions + aligned.deletions + aligned.insertions,
        bled=sum(word in prompt for word in made_up),
    )
    _count_dropped(count, sentences, said, right, heard)
    longest = max(map(len, terms))
    at = 0
    while at < len(want):
        size = next((n for n in range(longest, 0, -1) if tuple(want[at : at + n]) in terms), 0)
        if size:
            count.terms += 1
            count.recalled += all(right[at : at + size])
        at += size or 1
    return count


def _count_dropped(
    count: WordCount, sentences: Sequence[Sentence], said: list[list[str]], right: list[bool], heard: Heard
) -> None:
    at = 0
    for sentence, words in zip(sentences, said, strict=True):
        if sum(right[at : at + len(words)]) <= _LOST * len(words):
            count.dropped += len(words)
            told = any(one.start < sentence.end and one.end > sentence.start for one in heard.unheard)
            # A sentence that came out as other words is wrong, but not gone.
            spoken_over = any(
                word.start < sentence.end and word.end > sentence.start
                for one in heard.utterances
                for word in one.words
            )
            count.untold += 0 if told or spoken_over else len(words)
        at += len(words)
