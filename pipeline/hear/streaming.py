"""Hearing as somebody speaks: sound in small pieces, words as they come."""

from __future__ import annotations

from typing import Protocol

import numpy as np

from pipeline.hear.audio import RATE, Samples
from pipeline.hear.listener import Listener
from pipeline.hear.speech import LONGEST, PAUSE, Span, find_speech
from pipeline.hear.words import Utterance, Word

_STEP = 0.25
"""Seconds of new sound after which the end of an utterance is looked for."""
_TAIL = 1.5
_ONSET = 0.5
_REMEMBERED = 20.0
"""Seconds of sound before what is new: a listener may learn from them how the voice and the room sound."""


class StreamingListener(Protocol):
    """A recogniser that is fed as the sound arrives. `samples`: mono, 16 kHz; times count from the first one."""

    @property
    def utterances(self) -> list[Utterance]:
        """The utterances that have ended, in order of time; their words stay as they are."""
        ...

    def accept(self, samples: Samples) -> list[Word]:
        """Take in the next samples; returns the words of the utterance that goes on, which may still change."""
        ...

    def finish(self) -> list[Word]:
        """End the stream; returns all its words. Nothing may be accepted after it."""
        ...


class UtteranceStream:
    """Any listener as a streaming one: each utterance is heard when a pause has ended it.

    It has no words for an utterance that goes on. Speech that gave no words is in `silent`, with the reason.
    """

    def __init__(self, listener: Listener) -> None:
        self._listener = listener
        self._sound: Samples = np.zeros(0, np.float32)
        self._offset = 0
        self._new = 0
        self._unchecked = 0
        self.utterances: list[Utterance] = []
        self.silent: list[tuple[Span, str]] = []

    def accept(self, samples: Samples) -> list[Word]:
        """See `StreamingListener.accept`."""
        self._sound = np.concatenate([self._sound, samples])
        self._unchecked += samples.size
        if self._unchecked >= _STEP * RATE:
            self._unchecked = 0
            if self._paused() or self._sound.size - self._new > (LONGEST + _TAIL) * RATE:
                self._take(ended=False)
        return []

    def finish(self) -> list[Word]:
        """See `StreamingListener.finish`."""
        self._take(ended=True)
        return [word for utterance in self.utterances for word in utterance.words]

    def _paused(self) -> bool:
        """Whether the last sound is a pause: only then is it worth looking at all that is new."""
        tail = self._sound[self._new :][-int(_TAIL * RATE) :]
        speech = find_speech(tail)
        return not speech or tail.size / RATE - speech[-1].end >= PAUSE

    def _take(self, ended: bool) -> None:
        """Hear the utterances that have ended; what came long before them is let go."""
        first, here = self._new / RATE, self._sound.size / RATE
        speaking = False
        for found in find_speech(self._sound[self._new :]):
            span = Span(found.start + first, found.end + first)
            speaking = not ended and here - span.end < PAUSE
            if speaking:
                break
            self._hear(span)
            self._new = int((span.end + PAUSE / 2) * RATE)
        if not speaking:
            # The first sound of the next utterance may be there already.
            self._new = max(self._new, self._sound.size - int(_ONSET * RATE))
        dropped = max(0, self._new - int(_REMEMBERED * RATE))
        self._sound = self._sound[dropped:]
        self._new -= dropped
        self._offset += dropped

    def _hear(self, span: Span) -> None:
        offset = self._offset / RATE
        reading = self._listener.transcribe(self._sound, span)
        if not reading.words:
            self.silent.append((Span(span.start + offset, span.end + offset), reading.reason))
            return
        moved = [
            word.model_copy(update={"start": round(word.start + offset, 3), "end": round(word.end + offset, 3)})
            for word in reading.words
        ]
        self.utterances.append(Utterance(words=moved))
