"""A transcript as it is shown: mended terms in place of what was misheard, each word with its time and kind of talk."""

from __future__ import annotations

from dataclasses import dataclass

from pipeline.record.transcript import Block, SpokenWord, Talk, Transcript


@dataclass(frozen=True)
class ShownWord:
    """One word as shown. Times in seconds; `block` counts the transcript's blocks."""

    text: str
    start: float
    end: float
    kind: Talk
    block: int


@dataclass(frozen=True)
class Change:
    """A span that was mended. Times in seconds."""

    start: float
    end: float
    heard: str
    mended: str


def shown_words(transcript: Transcript) -> list[ShownWord]:
    """All words as shown; the words of a mended phrase share its time by their length."""
    return [
        word
        for at, block in enumerate(transcript.blocks)
        for span in _spans(block)
        for word in _spread(span, block.kind, at)
    ]


def changes(transcript: Transcript) -> list[Change]:
    """Everything that is shown otherwise than it was heard, in order of time."""
    return [
        Change(span[0].start, span[-1].end, " ".join(word.text for word in span), _text(span))
        for block in transcript.blocks
        for span in _spans(block)
        if span[0].mended is not None
    ]


def block_text(block: Block) -> str:
    """The words of a block as shown."""
    return " ".join(text for span in _spans(block) if (text := _text(span)))


def _spans(block: Block) -> list[list[SpokenWord]]:
    """Words that are shown together: a mended span, or a word alone."""
    spans: list[list[SpokenWord]] = []
    for word in block.words:
        if word.mended == "" and spans and spans[-1][0].mended is not None:
            spans[-1].append(word)
        else:
            spans.append([word])
    return spans


def _text(span: list[SpokenWord]) -> str:
    """What is shown for a span; the punctuation after the last heard word stays."""
    first, last = span[0], span[-1]
    if first.mended is None:
        return first.text
    heard = last.text.rstrip()
    stop = heard[len(heard.rstrip(".,;:?!")) :]
    return first.mended if not first.mended or first.mended.endswith(tuple(".,;:?!")) else first.mended + stop


def _spread(span: list[SpokenWord], kind: Talk, block: int) -> list[ShownWord]:
    words = _text(span).split()
    start, end = span[0].start, max(word.end for word in span)
    size = sum(map(len, words))
    shown, at = [], start
    for word in words:
        until = at + (end - start) * len(word) / size
        shown.append(ShownWord(word, at, until, kind, block))
        at = until
    return shown
