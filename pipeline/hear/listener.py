"""The seam between speech and recognisers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Protocol, runtime_checkable

from pipeline.hear.audio import Samples
from pipeline.hear.speech import Span
from pipeline.hear.words import Word


@dataclass(frozen=True)
class Reading:
    """What one listener made of one utterance: words in order of time, or why it trusts none.

    `plain`: the words of a listener that was not taught what may be said, where this one was and gives them.
    """

    words: list[Word] = field(default_factory=list)
    reason: str = "the recogniser heard no words in this speech"
    plain: list[Word] | None = None

    @property
    def untold(self) -> list[Word]:
        """The plain words, or those that there are."""
        return self.words if self.plain is None else self.plain


class Listener(Protocol):
    """A recogniser behind one call, for a whole recording and for a dictation as it happens alike."""

    def transcribe(self, samples: Samples, span: Span) -> Reading:
        """The words of the utterance `span`; `samples`: the recording (mono, 16 kHz), word times count from its start.

        A listener gives the same words for the same samples, and no words rather than words that it does not trust.
        """
        ...


@runtime_checkable
class Choosing(Listener, Protocol):
    """A listener that has several likely readings of an utterance and can take advice which of them was said."""

    def transcribe_beside(self, samples: Samples, span: Span, other: Callable[[], list[Word]]) -> Reading:
        """As `transcribe`; of readings about as likely, that with most words of `other`, by another listener."""
        ...
