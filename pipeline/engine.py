"""The engine: heard words in; the exam record and the transcript by kind of talk out."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from spacy.tokens import Doc

from pipeline.fill.confidence import Judge
from pipeline.fill.rows import Filler
from pipeline.hear.words import Heard, Word
from pipeline.lexicon import load
from pipeline.lexicon.model import Lexicon
from pipeline.mend.tokens import Token
from pipeline.record.model import ExamRecord, Unplaced
from pipeline.record.transcript import Transcript
from pipeline.understand.pipeline import make_pipeline, read
from pipeline.understand.transcript import transcript_of


@dataclass(frozen=True, slots=True)
class Analysis:
    """What one talk gave: the record, and the transcript with mended terms and kinds of talk."""

    record: ExamRecord
    transcript: Transcript


class Engine:
    """Understands talk about an examination. Building one takes about a second; it can be used for any number of talks.

    `learned` holds mishearings of one speaker that a person has confirmed: heard words -> term of the lexicon.
    `accepted`: the chance that a row is wrong, 0 to 1, up to which nobody is asked to confirm it; default: that of the
    variable `SPOKEN_EXAM_ACCEPTED`, or else of the stored model.
    """

    def __init__(
        self, lexicon: Lexicon | None = None, learned: dict[str, str] | None = None, accepted: float | None = None
    ) -> None:
        self.lexicon = lexicon or load()
        self.nlp = make_pipeline(self.lexicon, learned)
        self._filler = Filler(self.lexicon)
        self._judge = Judge(self.lexicon, accepted=accepted)

    def analyse(self, heard: Heard) -> Analysis:
        """The record and the transcript of what was heard; deterministic, and never raises on any text."""
        with _no_collecting():
            doc = read(self.nlp, heard)
            return Analysis(self._record(doc, heard), transcript_of(doc))

    def structure(self, heard: Heard) -> ExamRecord:
        """The record alone."""
        with _no_collecting():
            return self._record(read(self.nlp, heard), heard)

    def _record(self, doc: Doc, heard: Heard) -> ExamRecord:
        tokens: list[Token] = doc._.heard_tokens
        words: list[Word] = doc._.heard_words
        drafts, loose = self._filler.fill(doc._.items, tokens)
        judged = self._judge.judge(drafts, tokens, words, doc._.cover, doc._.items, heard)
        rows = self._judge.rows(drafts, tokens, words, judged)
        unplaced = [_unplaced(tokens, words, part.start, part.end, part.reason) for part in loose]
        return ExamRecord(rows=rows, unheard=heard.unheard, unplaced=unplaced)


@contextmanager
def _no_collecting() -> Iterator[None]:
    """Without the garbage collector: one talk makes no cycles, and each round of it would walk the whole lexicon."""
    enabled = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if enabled:
            gc.enable()


def _unplaced(tokens: list[Token], words: list[Word], start: int, end: int, reason: str) -> Unplaced:
    first = min(start, len(tokens) - 1)  # what was left unsaid may stand behind the last word
    last = min(max(first, end - 1), len(tokens) - 1)
    said = words[tokens[first].word : tokens[last].word + 1]
    return Unplaced(
        start=said[0].start,
        end=max(word.end for word in said),
        text=" ".join(word.text for word in said),
        reason=reason,
    )
