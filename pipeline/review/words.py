"""The transcript with every row linked to its words."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import groupby

from pipeline.record.transcript import Block, SpokenWord, Transcript
from pipeline.record.views import Item


@dataclass(frozen=True)
class Piece:
    """Words as heard, and the term that they were mended to: None where they stand as heard, empty where they went."""

    heard: str
    mended: str | None


@dataclass
class Run:
    """Words that follow each other and belong to the same row, or to none."""

    item: str | None
    words: list[SpokenWord] = field(default_factory=list)

    @property
    def pieces(self) -> list[Piece]:
        """The words, those that were mended and those that were not apart."""
        return [_piece(list(part), mended) for mended, part in groupby(self.words, key=_was_mended)]


@dataclass(frozen=True)
class TalkBlock:
    """A block of one kind of talk, cut into runs. Times in seconds."""

    start: float
    end: float
    kind: str
    runs: list[Run]


def linked(transcript: Transcript, rows: Sequence[Item], selected: str | None) -> list[TalkBlock]:
    """The transcript's blocks. A word that several rows rest on leads to the selected one, else to the first."""
    words = [word for block in transcript.blocks for word in block.words]
    middles = [(word.start + word.end) / 2 for word in words]
    owner: dict[int, str] = {}
    for item in sorted(rows, key=lambda one: one.id != selected):
        for span in item.state.data["evidence"]:
            for at in range(bisect_left(middles, span["start"]), bisect_right(middles, span["end"])):
                owner.setdefault(at, item.id)
    blocks, at = [], 0
    for block in transcript.blocks:
        owners = [owner.get(at + offset) for offset in range(len(block.words))]
        at += len(block.words)
        blocks.append(_block(block, owners))
    return blocks


def _block(block: Block, owners: Sequence[str | None]) -> TalkBlock:
    runs: list[Run] = []
    for word, item in zip(block.words, owners, strict=True):
        if not runs or runs[-1].item != item:
            runs.append(Run(item))
        runs[-1].words.append(word)
    return TalkBlock(block.start, block.end, block.kind.value, runs)


def _was_mended(word: SpokenWord) -> bool:
    return word.mended is not None and word.mended != word.text


def _piece(words: list[SpokenWord], mended: bool) -> Piece:
    # Several heard words can stand for one term: then the later ones are mended to nothing.
    term = " ".join(word.mended for word in words if word.mended) if mended else None
    return Piece(" ".join(word.text for word in words), term)
