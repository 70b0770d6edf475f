"""The transcript that is kept beside a record: words with their times, in blocks of one kind of talk."""

from __future__ import annotations

from enum import StrEnum

from pydantic import BaseModel, ConfigDict, Field


class Talk(StrEnum):
    """Kinds of talk; only `result` and `correction` make rows."""

    RESULT = "result"
    INSTRUCTION = "instruction"
    TEACHING = "teaching"
    ASIDE = "aside"
    CORRECTION = "correction"
    CONTROL = "control"


class SpokenWord(BaseModel):
    """One word as heard, and what it was mended to where that differs. Times in seconds."""

    model_config = ConfigDict(frozen=True)

    text: str
    start: float = Field(ge=0)
    end: float = Field(ge=0)
    mended: str | None = None


class Block(BaseModel):
    """Words of one kind of talk that follow each other. Times in seconds."""

    model_config = ConfigDict(frozen=True)

    start: float = Field(ge=0)
    end: float = Field(ge=0)
    kind: Talk
    words: list[SpokenWord]


class Transcript(BaseModel):
    """All talk of one recording, in order of time."""

    blocks: list[Block] = []
