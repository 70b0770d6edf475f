"""A second listen: what the two listeners differ on, put to the sound once more."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.hear.agree import DISAGREE, LEXICON_WON, Agreement, in_place, spoken_words
from pipeline.hear.audio import Sound
from pipeline.hear.choices import listen_again
from pipeline.hear.words import Heard, Utterance, Word

SECOND_AGREES = "second_listen_agrees"
"""Flag of a word of the open listener that the second listen preferred to the lexicon listener's reading."""
SURE = 0.9
"""Least posterior probability with which the second listen settles a difference."""

PREFERRED = 0.95
"""Least posterior probability with which the lexicon listener's reading takes the place of the open one's."""
_CONTEXT = 4


def settle(sound: Sound, heard: Heard, agreement: Agreement) -> Heard:
    """`heard`, with each word that the listeners differ on heard once more.

    Where the open listener's word wins, the flag `SECOND_AGREES` takes the place of `listeners_disagree`. Where the
    lexicon listener's reading wins, it takes the word's place with the flag `lexicon_won`, and the difference stays
    flagged. Of two readings that are a known confusion, neither gives way.
    """
    utterances = [_settled(sound, utterance, agreement) for utterance in heard.utterances]
    return heard.model_copy(update={"utterances": utterances})


def _settled(sound: Sound, utterance: Utterance, agreement: Agreement) -> Utterance:
    words = utterance.words
    settled: list[Word] = []
    at = 0
    while at < len(words):
        end = at + 1
        if DISAGREE not in words[at].flags or not words[at].alternatives:
            settled.append(words[at])
            at = end
            continue
        other = words[at].alternatives[-1]
        # A run that differs as a whole has the same reading on each of its words.
        while end < len(words) and DISAGREE in words[end].flags and words[end].alternatives[-1:] == (other,):
            end += 1
        run = words[at:end]
        share = _share_of_open(sound, words, at, end, other)
        known = agreement.is_confusion(" ".join(word.text for word in run), other)
        if share >= SURE:
            settled += [_marked(word, keep=known) for word in run]
        elif share <= 1 - PREFERRED and other and not known:
            settled += _replaced(run, other)
        else:
            settled += run
        at = end
    return Utterance(words=settled)


def _share_of_open(sound: Sound, words: list[Word], at: int, end: int, other: str) -> float:
    """Probability of the words from `at` to `end` against that of `other`, the same words around both."""
    before, after = words[max(0, at - _CONTEXT) : at], words[end : end + _CONTEXT]
    opened, rival = (
        " ".join((*(word.text for word in before), text, *(word.text for word in after)))
        for text in (" ".join(word.text for word in words[at:end]), other)
    )
    if spoken_words(opened) == spoken_words(rival):
        return 0.5
    start, stop = (before or words[at:end])[0].start, (after or words[at:end])[-1].end
    return dict(listen_again(sound, start, stop, [opened, rival]))[opened]


def _marked(word: Word, keep: bool) -> Word:
    flags = word.flags if keep else tuple(flag for flag in word.flags if flag != DISAGREE)
    return word.model_copy(update={"flags": (*flags, SECOND_AGREES)})


def _replaced(run: Sequence[Word], other: str) -> list[Word]:
    """The other reading in the time of the run, no surer than the run was."""
    sure = min(word.confidence for word in run)
    return [
        word.model_copy(update={"confidence": sure, "flags": (LEXICON_WON, DISAGREE)})
        for word in in_place(run, [Word(text=text, start=0, end=0, confidence=sure) for text in other.split()])
    ]
