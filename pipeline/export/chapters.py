"""Chapters of a recording: one for each step of the examination."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from pipeline.export.captions import stamp
from pipeline.export.exam import Exam
from pipeline.export.findings import Findings
from pipeline.export.wording import REGION_TITLES, SECTION_TITLES
from pipeline.lexicon import Lexicon
from pipeline.record.model import Row
from pipeline.record.transcript import Block, Talk

INTRODUCTION = "Introduction"


@dataclass(frozen=True)
class Chapter:
    """A step of the examination. Times in seconds."""

    start: float
    end: float
    title: str


def chapters(exam: Exam, lexicon: Lexicon) -> list[Chapter]:
    """Steps in order of time, without gaps. Each begins with the instruction that leads to its first result."""
    findings = Findings(exam.record.rows, lexicon)
    results = sorted((span.start, span.end, _title(row, findings)) for row in findings.rows for span in row.evidence)
    blocks = exam.transcript.blocks
    length = max([end for _, end, _ in results] + [block.end for block in blocks], default=0.0)
    starts: list[tuple[float, str]] = []
    heard_until = 0.0
    for title, group in groupby(results, key=lambda result: result[2]):
        run = list(group)
        starts.append((_lead(blocks, run[0][0], heard_until), title))
        heard_until = max(end for _, end, _ in run)
    if not starts or starts[0][0] > 1:
        starts.insert(0, (0.0, INTRODUCTION))
    else:
        starts[0] = (0.0, starts[0][1])
    ends = [start for start, _ in starts[1:]] + [length]
    return [Chapter(start, end, title) for (start, title), end in zip(starts, ends, strict=True) if end > start]


def webvtt_chapters(found: Iterable[Chapter]) -> str:
    """A WebVTT file of chapters."""
    blocks = [f"{stamp(chapter.start)} --> {stamp(chapter.end)}\n{chapter.title}" for chapter in found]
    return "\n\n".join(["WEBVTT", *blocks]) + "\n"


def _title(row: Row, findings: Findings) -> str:
    entry = findings.manoeuvre(row)
    section = SECTION_TITLES.get(findings.section(row), "Other")
    region = REGION_TITLES[entry.region] if entry else ""
    return f"{section}, {region}" if region and section in ("Power", "Reflexes") else section


def _lead(blocks: list[Block], result: float, earliest: float) -> float:
    """Where the talk that leads to a result begins: instructions right before it belong to the step."""
    before = [block for block in blocks if block.start <= result and block.start >= earliest]
    start = before[-1].start if before else result
    for block in reversed(before[:-1]):
        if block.kind is not Talk.INSTRUCTION:
            break
        start = block.start
    return max(start, earliest)
