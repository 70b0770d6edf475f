from __future__ import annotations

import pytest

from pipeline.engine import Engine
from pipeline.hear.audio import RATE
from pipeline.lexicon import load
from pipeline.live.dictation import Dictation, Settings
from pipeline.live.hearing import Hearing
from pipeline.record.model import ExamRecord
from tests.home import home as home
from tests.live.hearing import Recorded
from tests.live.speech import demo, pcm

SECONDS = 29
"""Of the demonstration: an inspection, both legs, the first grades."""


@pytest.fixture(scope="session")
def engine() -> Engine:
    return Engine()


@pytest.fixture(scope="session")
def hearing() -> Hearing:
    return Hearing(load())


@pytest.fixture(scope="session")
def dictated() -> bytes:
    """What is dictated in most tests."""
    return pcm(demo()[: SECONDS * RATE])


@pytest.fixture(scope="session")
def uninterrupted(
    tmp_path_factory: pytest.TempPathFactory, engine: Engine, hearing: Hearing, dictated: bytes
) -> tuple[ExamRecord, Recorded]:
    """The record of a dictation that nothing disturbed, by the real listeners, and what they heard."""
    recorded = Recorded(hearing)
    dictation = Dictation(tmp_path_factory.mktemp("whole"), Settings(title="Whole"), recorded, engine)
    for first in range(0, len(dictated), 1600):
        dictation.accept(dictated[first : first + 1600])
    record = dictation.finish().record
    dictation.close()
    return record, recorded
