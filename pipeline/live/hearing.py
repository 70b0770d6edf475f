"""What one utterance of a dictation holds: words as a whole recording would give them, or a spoken control."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Protocol

import numpy as np

from pipeline.hear import assemble, listen_again
from pipeline.hear.audio import RATE, Samples, Sound
from pipeline.hear.both import default_listener
from pipeline.hear.listener import Reading
from pipeline.hear.second_listen import settle
from pipeline.hear.speech import PAUSE, Span
from pipeline.hear.words import Word
from pipeline.lexicon import Lexicon
from pipeline.live.controls import Spoken, Spotter

SETTLED = 15.0
"""A listener learns the sound of voice and room from the first seconds of a recording up to here, also for what was
said earlier in them: that is heard again when they are there, so that it is heard as in the whole recording."""
_BEFORE = 20.0
_MARGIN = PAUSE / 2

Read = Callable[[int, int], Samples]
"""The samples of the recording from one place to another."""


@dataclass(frozen=True)
class Piece:
    """An utterance as it was heard. `opened`: the words of the open listener alone."""

    reading: Reading
    control: Spoken | None = None
    opened: list[Word] = field(default_factory=list)


class Hears(Protocol):
    """What a dictation asks of recognition; `read` gives sound, `length` is how many samples there are so far."""

    def hear(self, read: Read, length: int, span: Span) -> Piece:
        """The utterance `span`, heard for the first time."""
        ...

    def rehear(self, read: Read, length: int, span: Span) -> Reading:
        """The same words as `hear`, if enough sound was there for it: else better ones."""
        ...

    def settle(self, read: Read, length: int, span: Span, reading: Reading) -> Reading:
        """The reading after a second listen to what the listeners differ on."""
        ...

    def ask(self, read: Read, length: int, start: float, end: float, phrases: Sequence[str]) -> list[tuple[str, float]]:
        """As `pipeline.hear.listen_again`."""
        ...


class Hearing:
    """See `Hears`. By the listeners of a whole recording."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._both = default_listener(lexicon, plain=True)
        self._spotter = Spotter()

    def hear(self, read: Read, length: int, span: Span) -> Piece:
        """See `Hears.hear`."""
        sound = _around(read, length, span)
        reading, opened = self._both.hear(sound, span)
        first, last = max(0, int((span.start - _MARGIN) * RATE)), int((span.end + _MARGIN) * RATE)
        control = self._spotter.spot(sound[first:last], span.duration, opened)
        return Piece(reading, control, opened)

    def rehear(self, read: Read, length: int, span: Span) -> Reading:
        """See `Hears.rehear`."""
        return self._both.transcribe(_around(read, length, span), span)

    def settle(self, read: Read, length: int, span: Span, reading: Reading) -> Reading:
        """See `Hears.settle`."""
        sound = Sound(_around(read, length, span))
        settled = settle(sound, assemble([(span, reading)], sound.duration), self._both.agreement)
        words = [word for utterance in settled.utterances for word in utterance.words]
        return Reading(words, reading.reason)

    def ask(self, read: Read, length: int, start: float, end: float, phrases: Sequence[str]) -> list[tuple[str, float]]:
        """See `Hears.ask`."""
        return listen_again(Sound(_around(read, length, Span(start, end))), start, end, phrases)


def _around(read: Read, length: int, span: Span) -> Samples:
    """The recording up to a little after `span`, filled only where a listener looks, so that all times stay right."""
    last = min(length, int(max(span.end + _MARGIN, SETTLED) * RATE) + 1)
    # Zeroed memory that nobody touches takes no room.
    samples = np.zeros(last, np.float32)
    first = max(0, int((span.start - _BEFORE) * RATE))
    samples[first:] = read(first, last)
    return samples
