"""Clips of the recording: what to play for an item, its waveform, and answers to range requests."""

from __future__ import annotations

import re
from dataclasses import dataclass

from starlette.responses import Response

LEAD_IN = 2.0  # seconds before the words, so that the ear has the context
TAIL = 0.6  # seconds after them: a recogniser often ends a word too early
LONGEST = 120.0  # seconds that one clip may last
WIDTH, HEIGHT = 480, 64  # of a waveform, in its own units
BARS = 120


@dataclass(frozen=True)
class Clip:
    """A stretch to play and the words within it. Times in seconds; `x` positions in units of the waveform."""

    start: float
    end: float
    words_start: float
    words_end: float
    heard: str = ""
    mended: str = ""

    @property
    def words_x(self) -> float:
        return WIDTH * (self.words_start - self.start) / (self.end - self.start)

    @property
    def words_width(self) -> float:
        return WIDTH * (self.words_end - self.words_start) / (self.end - self.start)


def clip(start: float, end: float, duration: float, heard: str = "", mended: str = "") -> Clip | None:
    """What to play for the words from `start` to `end`; None when the recording does not reach there."""
    first = max(0.0, start - LEAD_IN)
    last = min(duration, max(end, start) + TAIL, first + LONGEST)
    if last - first < 0.05:
        return None
    return Clip(first, last, min(start, last), min(max(end, start), last), heard, mended)


def outline(peaks: list[float]) -> str:
    """An SVG path of bars, scaled so that quiet speech can be seen too."""
    loudest = max(max(peaks, default=0.0), 0.02)
    step, middle = WIDTH / max(len(peaks), 1), HEIGHT / 2
    return "".join(
        f"M{step * (number + 0.5):.1f} {middle - half:.1f}V{middle + half:.1f}"
        for number, peak in enumerate(peaks)
        for half in [max(1.0, 0.92 * middle * peak / loudest)]
    )


def ranged(content: bytes, wanted: str | None) -> Response:
    """A WAV, or the part of it that a Range header asks for (RFC 9110, section 14)."""
    headers = {"Accept-Ranges": "bytes"}
    match = re.fullmatch(r"bytes=(\d{0,12})-(\d{0,12})", wanted or "")
    if not match or match[0] == "bytes=-":
        return Response(content, media_type="audio/wav", headers=headers)
    size = len(content)
    if match[1]:
        first, last = int(match[1]), min(int(match[2]) if match[2] else size - 1, size - 1)
    else:
        first, last = max(size - int(match[2]), 0), size - 1
    if first > last:
        return Response(status_code=416, headers={**headers, "Content-Range": f"bytes */{size}"})
    headers["Content-Range"] = f"bytes {first}-{last}/{size}"
    return Response(content[first : last + 1], 206, media_type="audio/wav", headers=headers)
