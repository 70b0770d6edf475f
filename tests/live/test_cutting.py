"""Cutting as sound comes gives the very utterances of the whole recording."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from pipeline.hear.audio import RATE, Samples
from pipeline.hear.speech import Span, find_speech
from pipeline.live.cutting import Cutter
from tests.live.speech import demo


def cut(samples: Samples, step: int) -> list[Span]:
    cutter = Cutter(lambda first, last: samples[first:last])
    spans = []
    for first in range(0, samples.size, step):
        spans += cutter.accept(samples[first : first + step])
    return spans + cutter.finish()


@pytest.mark.parametrize("step", [160, 800, 5000])
def test_same_utterances_as_the_whole_recording(step: int) -> None:
    samples = demo()[: 60 * RATE]
    wanted = find_speech(samples)
    assert len(wanted) > 15
    assert cut(samples, step) == wanted


def test_speech_without_a_pause_is_cut_in_the_same_places() -> None:
    spans = find_speech(demo())
    samples = np.concatenate([demo()[int(span.start * RATE) : int(span.end * RATE)] for span in spans])[: 60 * RATE]
    wanted = find_speech(samples)
    assert any(one.end == two.start for one, two in itertools.pairwise(wanted))
    assert cut(samples, 800) == wanted


def test_tells_what_will_probably_end() -> None:
    samples = demo()[: 10 * RATE]
    cutter = Cutter(lambda first, last: samples[first:last])
    likely, ended = [], []
    for first in range(0, samples.size, 160):
        ended += cutter.accept(samples[first : first + 160])
        if cutter.likely is not None and cutter.likely not in likely:
            likely.append(cutter.likely)
            assert first + 160 >= (cutter.likely.end + 0.15) * RATE
    assert set(ended) <= set(likely)
    assert len(ended) > 2


@pytest.mark.parametrize("size", [0, 100, 512, 1024, 20_000])
def test_silence_has_no_utterances(size: int) -> None:
    assert cut(np.zeros(size, np.float32), 800) == []
