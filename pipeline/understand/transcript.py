"""The transcript that is kept and shown: words as heard, what they were mended to, and the kind of talk."""

from __future__ import annotations

from bisect import bisect_left

from spacy.tokens import Doc

from pipeline.hear.words import Word
from pipeline.mend.matches import Match
from pipeline.mend.tokens import Token
from pipeline.mend.words import frequency
from pipeline.record.transcript import Block, SpokenWord, Talk, Transcript
from pipeline.understand.items import ItemKind
from pipeline.understand.talk import Kind

_TALK = {
    Kind.RESULT: Talk.RESULT,
    Kind.INSTRUCTION: Talk.INSTRUCTION,
    Kind.TEACHING: Talk.TEACHING,
    Kind.PLAN: Talk.ASIDE,
    Kind.QUESTION: Talk.ASIDE,
    Kind.ASIDE: Talk.ASIDE,
}


_RESULTS = (ItemKind.VALUE, ItemKind.OMISSION, ItemKind.NEGATION, ItemKind.PLACE)
_CLOSE = 0.12
_RARE = 3.0
_NEAR = 5
"""Tokens between a term and the result that speaks for it."""


def _is_shown(match: Match, tokens: list[Token], results: list[int]) -> bool:
    """Whether a reader is shown the term: not where everyday words may stand for themselves and no result is near."""
    words = [token.text for token in tokens[match.start : match.end]]
    if match.distance <= _CLOSE and (len(words) > 1 or min(map(frequency, words)) < _RARE):
        return True
    low, high = bisect_left(results, match.start - _NEAR), bisect_left(results, match.end + _NEAR)
    return high > low or (match.distance <= 2 * _CLOSE and min(map(frequency, words)) < _RARE)


def transcript_of(doc: Doc) -> Transcript:
    """Blocks of one kind of talk; the first word of a mended span carries its term, the others an empty string."""
    tokens: list[Token] = doc._.heard_tokens
    words: list[Word] = doc._.heard_words
    if not words:
        return Transcript()
    mended: dict[int, str] = {}
    results = sorted(item.start for item in doc._.items if item.kind in _RESULTS)
    for match in doc._.cover.matches:
        if match.mended and _is_shown(match, tokens, results):
            first, last = tokens[match.start].word, tokens[match.end - 1].word
            if tokens[match.start - 1].word != first if match.start else True:
                mended[first] = match.term.text
                mended.update(dict.fromkeys(range(first + 1, last + 1), ""))
    kinds = [Talk.ASIDE] * len(words)
    for clause in doc._.clauses:
        for token in tokens[clause.start : clause.end]:
            kinds[token.word] = _TALK[clause.kind]
    for item in doc._.items:
        if item.kind in (ItemKind.REPAIR, ItemKind.REMOVE, ItemKind.SWAP):
            for token in tokens[item.start : item.end]:
                kinds[token.word] = Talk.CORRECTION
    blocks: list[Block] = []
    run: list[SpokenWord] = []
    for index, word in enumerate(words):
        if run and kinds[index] is not kinds[index - 1]:
            blocks.append(_block(run, kinds[index - 1]))
            run = []
        run.append(SpokenWord(text=word.text, start=word.start, end=word.end, mended=mended.get(index)))
    blocks.append(_block(run, kinds[-1]))
    return Transcript(blocks=blocks)


def _block(words: list[SpokenWord], kind: Talk) -> Block:
    return Block(start=words[0].start, end=max(word.end for word in words), kind=kind, words=words)
