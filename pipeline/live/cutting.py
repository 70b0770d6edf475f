"""Utterances out of sound as it comes, cut exactly as `pipeline.hear.speech.find_speech` cuts a whole recording."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from pipeline.hear import speech
from pipeline.hear.audio import RATE, Samples
from pipeline.hear.speech import LONGEST, PAUSE, Span

_WINDOW = 512
_CONTEXT = 64
"""Samples that the model (Silero VAD, as faster-whisper carries it) takes in one step, and of the step before."""
_SPEECH, _SILENCE = 0.5, 0.35
"""Probabilities above which speech begins and below which it may end: the defaults of faster-whisper."""
_SHORTEST = round(0.1 * RATE)
_MARGIN = PAUSE / 2


class Cutter:
    """Fed with all samples of a recording, from its first one on. `read(first, last)` gives those it was fed with.

    `speaking`: whether somebody speaks. `likely`: the utterance that will end, if the pause that is going on lasts.
    """

    def __init__(self, read: Callable[[int, int], Samples]) -> None:
        from faster_whisper.vad import get_vad_model

        self._session = get_vad_model().session
        self._read = read
        self._state = [np.zeros((1, 1, 128), np.float32) for _ in range(2)]
        self._context = np.zeros(_CONTEXT, np.float32)
        self._rest: Samples = np.zeros(0, np.float32)
        self._at = 0
        self._start: int | None = None
        self._pause = 0

    @property
    def speaking(self) -> bool:
        return self._start is not None

    @property
    def likely(self) -> Span | None:
        if self._start is None or not self._pause or self._pause - self._start <= _SHORTEST:
            return None
        heard_out = self._at - self._pause >= _MARGIN * RATE
        span = Span(self._start / RATE, self._pause / RATE)
        return span if heard_out and span.duration <= LONGEST else None

    def accept(self, samples: Samples) -> list[Span]:
        """Takes in the next samples; returns the utterances that have ended."""
        self._rest = np.concatenate([self._rest, samples])
        count = self._rest.size // _WINDOW
        if not count:
            return []
        windows = self._rest[: count * _WINDOW].reshape(count, _WINDOW)
        self._rest = self._rest[count * _WINDOW :]
        before = np.concatenate([self._context[np.newaxis], windows[:-1, -_CONTEXT:]])
        self._context = windows[-1, -_CONTEXT:]
        given = {"input": np.concatenate([before, windows], 1), "h": self._state[0], "c": self._state[1]}
        told, *self._state = self._session.run(None, given)
        return [span for probability in told.reshape(-1) for span in self._step(float(probability))]

    def finish(self) -> list[Span]:
        """The utterances that the end of the sound ends."""
        end = self._at + self._rest.size
        spans = self.accept(np.zeros(_WINDOW - self._rest.size % _WINDOW, np.float32))
        if self._start is not None and end - self._start > _SHORTEST:
            spans += self._cut(self._start, end)
        self._start = None
        return spans

    def _step(self, probability: float) -> list[Span]:
        at, self._at = self._at, self._at + _WINDOW
        if probability >= _SPEECH:
            self._pause = 0
            if self._start is None:
                self._start = at
            elif at - self._start > LONGEST * RATE:
                # It goes on past here, so that where it is cut is settled.
                first, *_ = self._cut(self._start, at)
                self._start = round(first.end * RATE)
                return [first]
        elif probability < _SILENCE and self._start is not None:
            self._pause = self._pause or at
            if at - self._pause >= PAUSE * RATE:
                start, self._start = self._start, None
                end, self._pause = self._pause, 0
                return self._cut(start, end) if end - start > _SHORTEST else []
        return []

    def _cut(self, start: int, end: int) -> list[Span]:
        samples = self._read(start, end)
        return [
            Span((start + round(one.start * RATE)) / RATE, (start + round(one.end * RATE)) / RATE)
            for one in speech._cut(samples, 0, end - start)
        ]
