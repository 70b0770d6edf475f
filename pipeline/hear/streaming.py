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
_SILENCE_KEPT = 0.5


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

    It has no words for an utterance that goes on. Speech that gave no words is in `unheard_spans`, with the reason.
    """

    def __init__(self, listener: Listener) -> None:
        self._listener = listener
        self._pending: Samples = np.zeros(0, np.float32)
        self._offset = 0.0
        self._unchecked = 0
        self.utterances: list[Utterance] = []
        self.unheard_spans: list[tuple[Span, str]] = []

    def accept(self, samples: Samples) -> list[Word]:
        """See `StreamingListener.accept`."""
        self._pending = np.concatenate([self._pending, samples])
        self._unchecked += samples.size
        if self._unchecked >= _STEP * RATE:
            self._unchecked = 0
            if self._paused() or self._pending.size > (LONGEST + _TAIL) * RATE:
                self._take(ended=False)
        return []

    def finish(self) -> list[Word]:
        """See `StreamingListener.finish`."""
        self._take(ended=True)
        return [word for utterance in self.utterances for word in utterance.words]

    def _paused(self) -> bool:
        """Whether the last sound is a pause: only then is it worth looking at all of it."""
        tail = self._pending[-int(_TAIL * RATE) :]
        speech = find_speech(tail)
        return not speech or tail.size / RATE - speech[-1].end >= PAUSE

    def _take(self, ended: bool) -> None:
        """Hear the utterances that have ended and let go of their sound."""
        here = self._pending.size / RATE
        done = 0.0
        for span in find_speech(self._pending):
            if not ended and here - span.end < PAUSE:
                break
            reading = self._listener.transcribe(self._pending, span)
            if reading.words:
                self.utterances.append(Utterance(words=[self._moved(word) for word in reading.words]))
            else:
                self.unheard_spans.append((Span(span.start + self._offset, span.end + self._offset), reading.reason))
            done = span.end + PAUSE / 2
        else:
            # No speech is going on; its first sound may be, so a little is kept.
            done = max(done, here - _SILENCE_KEPT)
        kept = min(int(done * RATE), self._pending.size)
        self._pending = self._pending[kept:]
        self._offset += kept / RATE

    def _moved(self, word: Word) -> Word:
        times = {"start": round(word.start + self._offset, 3), "end": round(word.end + self._offset, 3)}
        return word.model_copy(update=times)
