"""Heard words become tokens: lower case, no punctuation, compound writings such as "5/5", "4+" and "down-going"
split.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from pipeline.hear.words import Heard, Word

SENTENCE_END = 3.0
BLOCK_END = 1.6
CLAUSE_MARK = 1.2
COMMA = 0.6
LONG_PAUSE = 0.9
"""Seconds of silence that end a sentence in most talk; a shorter pause counts in proportion."""

_PIECES = re.compile(r"[a-z]+\d+(?:-\d+)?|\d+(?:\.\d+)?|[a-zà-öø-ÿ]+(?:'[a-zà-öø-ÿ]+)*'?|[+/°%-]")
_GRADED_NAME = re.compile(r"([a-z]{2,4})([0-5])")
"""A name of initials and its grade, as recognisers write them: "EHL5"."""
_CONTRACTIONS = frozenset(
    "that's it's what's let's there's here's he's she's who's where's how's when's one's kelly's".split()
)
_HESITATIONS = frozenset("um uh er erm uhm hmm mm mhm hm".split())
_TRAILING = {".": SENTENCE_END, "?": SENTENCE_END, "!": SENTENCE_END, ";": 2.0, ":": CLAUSE_MARK, ",": COMMA}


@dataclass(slots=True)
class Token:
    """One token.

    `text` is normalised, `word` indexes the heard words, `boundary` tells how strongly the talk breaks before
    the token (0: not at all, 3: a sentence has ended), `question` is true where the sentence before it ended in
    a question mark, `asked` where its own does.
    """

    text: str
    word: int
    boundary: float
    confidence: float
    question: bool = False
    asked: bool = False


def strongest_break(tokens: list[Token], start: int, end: int) -> float:
    """The strongest break before the tokens `start`..`end` (inclusive); 0 where there are none."""
    strongest = 0.0
    for token in tokens[start : end + 1]:  # quicker than max() of so few
        if token.boundary > strongest:
            strongest = token.boundary
    return strongest


def closes(tokens: list[Token], at: int) -> bool:
    """What is said before token `at` may end there: with a comma or more, or with the talk."""
    return at >= len(tokens) or tokens[at].boundary >= COMMA


def in_one_sentence(tokens: list[Token], start: int, end: int) -> bool:
    """No sentence begins at the tokens `start`..`end` (exclusive)."""
    return all(token.boundary < SENTENCE_END for token in tokens[start:end])


def tokenise(heard: Heard) -> tuple[list[Token], list[Word]]:
    """Tokens of all utterances in order of time, and the words they index."""
    tokens: list[Token] = []
    words: list[Word] = []
    boundary, question = SENTENCE_END, False
    for utterance in heard.utterances:
        for position, word in enumerate(utterance.words):
            if position == 0 and words:
                boundary = max(boundary, _pause(words[-1], word) if heard.spoken else BLOCK_END)
            elif heard.spoken and words:
                boundary = max(boundary, _pause(words[-1], word))
            for piece in _pieces(word.text):
                if piece in _HESITATIONS:
                    continue
                tokens.append(Token(piece, len(words), boundary, word.confidence, question))
                boundary, question = 0.0, False
            tail = word.text.rstrip("\"')]}…")
            boundary = max(boundary, _TRAILING.get(tail[-1:], 0.0))
            if word.text.endswith("...") or word.text.endswith("…"):
                boundary = max(boundary, CLAUSE_MARK)
            question = question or tail.endswith("?")
            if tail.endswith("?") and tokens and not _is_tag(tokens):
                _ask(tokens)
            words.append(word)
    return tokens, words


def _is_tag(tokens: list[Token]) -> bool:
    """ "The jerk is absent, right?": a side, or a word to make sure, after what was stated."""
    return tokens[-1].text in ("right", "left", "yes") and COMMA <= tokens[-1].boundary < SENTENCE_END


def _ask(tokens: list[Token]) -> None:
    """Marks the tokens of the sentence that has just ended in a question mark; a recogniser may have left out the full
    stop of one before it, so a pause ends it too.
    """
    for token in reversed(tokens):
        token.asked = True
        if token.boundary >= CLAUSE_MARK:
            break


def _pause(before: Word, after: Word) -> float:
    return min(2.0, 2.0 * max(0.0, after.start - before.end) / LONG_PAUSE) if after.start - before.end > 0.25 else 0.0


@lru_cache(maxsize=50_000)
def _pieces(text: str) -> tuple[str, ...]:
    lowered = text.lower().replace("’", "'").replace("–", "-").replace("−", "-").replace("—", " ")
    pieces: list[str] = []
    for match in _PIECES.finditer(lowered):
        piece = match.group().rstrip("'")
        if piece == "-" and not _is_minus(lowered, match.start()):
            continue
        if piece.endswith("cep's"):
            pieces.append(piece.replace("'", ""))  # "the bicep's jerk": the name ends so
        elif piece.endswith("'s") and piece not in _CONTRACTIONS:
            pieces += [piece[:-2], "'s"]
        elif written := _GRADED_NAME.fullmatch(piece):
            pieces += written.groups()
        elif "-" in piece and piece != "-":  # "l2-4"
            first, last = piece.split("-")
            pieces += [first, "-", first[0] + last]
        else:
            pieces.append(piece)
    return tuple(pieces)


def _is_minus(text: str, at: int) -> bool:
    """A hyphen is a sign after a digit ("4-", "l2-s1"); between letters it joins a compound."""
    return at > 0 and text[at - 1].isdigit()
