"""Captions: words cut into cues that can be read in time, as WebVTT and SRT.

Limits: two lines of 42 characters, 20 characters a second where the speech allows (common practice, no source).
WebVTT: W3C (https://www.w3.org/TR/webvtt1/); SRT has no standard.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape

from pipeline.export.spoken import ShownWord
from pipeline.record.transcript import Talk

LINE = 42
LINES = 2
SPEED = 20.0
"""Characters a second that can be read."""

LONGEST = 7.0
"""Seconds that a cue may last (common practice, no source)."""

_SHORTEST = 1.0
_PAUSE = 1.5
_STOPS = (".", "?", "!")


@dataclass(frozen=True)
class Cue:
    """One caption. Times in seconds; `lines` has one or two lines."""

    start: float
    end: float
    lines: tuple[str, ...]
    kind: Talk

    @property
    def text(self) -> str:
        return " ".join(self.lines)


def cues(words: Sequence[ShownWord]) -> list[Cue]:
    """Captions of all words: none crosses a kind of talk or a long pause, and each starts with its first word."""
    passages = _passages(words)
    made: list[Cue] = []
    for at, passage in enumerate(passages):
        following = passages[at + 1][0].start if at + 1 < len(passages) else float("inf")
        made += _cut(passage, following)
    return made


def webvtt(found: Iterable[Cue]) -> str:
    """WebVTT; the kind of talk is the class of each cue's text, such as `<c.teaching>`."""
    blocks = ["WEBVTT"]
    for at, cue in enumerate(found, 1):
        lines = "\n".join(escape(line, quote=False) for line in cue.lines)
        blocks.append(f"{at}\n{stamp(cue.start)} --> {stamp(cue.end)}\n<c.{cue.kind.value}>{lines}</c>")
    return "\n\n".join(blocks) + "\n"


def srt(found: Iterable[Cue]) -> str:
    """SRT, which knows no kinds of talk."""
    blocks = [
        f"{at}\n{stamp(cue.start, ',')} --> {stamp(cue.end, ',')}\n" + "\n".join(cue.lines)
        for at, cue in enumerate(found, 1)
    ]
    return "\n\n".join(blocks) + "\n" if blocks else ""


def stamp(seconds: float, point: str = ".") -> str:
    """`3661.5` as "01:01:01.500"."""
    milliseconds = round(seconds * 1000)
    minutes, rest = divmod(milliseconds, 60_000)
    return f"{minutes // 60:02}:{minutes % 60:02}:{rest // 1000:02}{point}{rest % 1000:03}"


def two_lines(text: str) -> tuple[str, ...] | None:
    """The text on one or two lines, the second not much longer than the first; None where it does not fit."""
    if len(text) <= LINE:
        return (text,)
    spaces = [at for at, character in enumerate(text) if character == " "]
    fitting = [at for at in spaces if at <= LINE and len(text) - at - 1 <= LINE]
    if not fitting:
        return None
    # A break after punctuation reads well; else the lines should be alike.
    best = min(fitting, key=lambda at: abs(2 * at - len(text)) - (12 if text[at - 1] in ",;:.?!" else 0))
    return text[:best], text[best + 1 :]


def _passages(words: Sequence[ShownWord]) -> list[list[ShownWord]]:
    """Words that may share cues: of one kind of talk, with no long pause between them."""
    passages: list[list[ShownWord]] = []
    for word in words:
        for piece in _pieces(word):
            last = passages[-1][-1] if passages else None
            if last and last.kind is piece.kind and piece.start - last.end < _PAUSE:
                passages[-1].append(piece)
            else:
                passages.append([piece])
    return passages


def _pieces(word: ShownWord) -> list[ShownWord]:
    """The word, or pieces of it where it is longer than a line."""
    count = -(-len(word.text) // LINE)
    step = (word.end - word.start) / max(count, 1)
    return [
        ShownWord(
            word.text[at * LINE : (at + 1) * LINE],
            word.start + at * step,
            word.start + (at + 1) * step,
            word.kind,
            word.block,
        )
        for at in range(count)
    ]


def _cut(words: list[ShownWord], following: float) -> list[Cue]:
    """The cheapest way to cut a passage into cues, by dynamic programming over the places of the cuts."""
    size = len(words)
    best: list[float] = [0.0] + [float("inf")] * size
    cut = [0] * (size + 1)
    for first in range(size):
        if best[first] == float("inf"):
            continue
        text = ""
        for last in range(first, size):
            text = f"{text} {words[last].text}" if text else words[last].text
            if last > first and (len(text) > LINES * LINE + 1 or words[last].end - words[first].start > LONGEST):
                break
            if two_lines(text) is None:
                continue
            after = words[last + 1].start if last + 1 < size else following
            total = best[first] + _cost(words[first : last + 1], text, after)
            if total < best[last + 1]:
                best[last + 1], cut[last + 1] = total, first
    bounds, end = [], size
    while end:
        bounds.append((cut[end], end))
        end = cut[end]
    return [_cue(words[first:end], words[end].start if end < size else following) for first, end in reversed(bounds)]


def _cost(words: list[ShownWord], text: str, after: float) -> float:
    """What is bad about a cue: unreadably fast, short, or ended in the middle of a sentence."""
    start, end = _times(words, len(text), after)
    speed = len(text) / max(end - start, 0.001)
    cost = 1.0 + 4.0 * max(0.0, speed - SPEED) + 2.0 * max(0.0, _SHORTEST - (end - start))
    if not text.endswith(_STOPS):
        cost += 0.3 if text.endswith((",", ";", ":")) else max(0.0, 1.0 - 2.0 * (after - words[-1].end))
    return cost


def _times(words: list[ShownWord], size: int, after: float) -> tuple[float, float]:
    """Start and end of a cue: it stays on after the last word while that helps to read it, but not into the next."""
    start = words[0].start
    wanted = max(words[-1].end, start + size / SPEED + 0.001, start + _SHORTEST)
    return start, max(min(wanted, after), start + 0.001)


def _cue(words: list[ShownWord], after: float) -> Cue:
    text = " ".join(word.text for word in words)
    lines = two_lines(text)
    assert lines is not None
    return Cue(*_times(words, len(text), after), lines, words[0].kind)
