"""The seam between speech and recognisers."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Protocol

from pipeline.hear.audio import Samples
from pipeline.hear.speech import Span
from pipeline.hear.words import Word


@dataclass(frozen=True)
class Reading:
    """What one listener made of one utterance: words in order of time, or why it trusts none."""

    words: list[Word] = field(default_factory=list)
    reason: str = "the recogniser heard no words in this speech"


class Listener(Protocol):
    """A recogniser behind one call, for a whole recording and for a dictation as it happens alike."""

    def transcribe(self, samples: Samples, span: Span) -> Reading:
        """The words of the utterance `span`; `samples`: the recording (mono, 16 kHz), word times count from its start.

        A listener gives the same words for the same samples, and no words rather than words that it does not trust.
        """
        ...
