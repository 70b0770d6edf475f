"""Words as a listener heard them: what every reader and recogniser returns."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from pydantic import BaseModel, ConfigDict, Field

from pipeline.record.model import Unheard

Again = Callable[[float, float, Sequence[str]], Sequence[tuple[str, float]]]
"""(start, end, phrases) -> each phrase with the probability that it was said between these seconds."""


class Word(BaseModel):
    """One heard word. `text` keeps the punctuation that the listener wrote; times in seconds."""

    model_config = ConfigDict(frozen=True)

    text: str
    start: float = Field(ge=0)
    end: float = Field(ge=0)
    confidence: float = Field(default=1.0, ge=0, le=1)
    alternatives: tuple[str, ...] = ()
    flags: tuple[str, ...] = ()


class Utterance(BaseModel):
    """Words spoken in one breath: between two pauses, or in one block of a transcript."""

    words: list[Word]

    @property
    def start(self) -> float:
        return self.words[0].start

    @property
    def end(self) -> float:
        return self.words[-1].end

    @property
    def text(self) -> str:
        return " ".join(word.text for word in self.words)


class Heard(BaseModel):
    """All that was heard: utterances in order of time, and speech that gave no words.

    `duration` in seconds; `spoken` is true when the words come from audio, so that pauses between them mean something.
    `again` asks the sound once more, where there is sound; it is never written out.
    """

    utterances: list[Utterance] = []
    unheard: list[Unheard] = []
    duration: float = Field(default=0, ge=0)
    spoken: bool = False
    again: Again | None = Field(default=None, exclude=True, repr=False)
