"""Transcripts: WebVTT, SRT, plain text with or without time stamps, Vosk results, and JSON with times.

WebVTT and SRT are read by one reader of our own: the libraries drop blocks that break the format, and a dropped block
is a lost finding. Formats: WebVTT, W3C (https://www.w3.org/TR/webvtt1/); the others have no standard.
"""

from __future__ import annotations

import codecs
import html
import json
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from pipeline.hear.align import other_readings
from pipeline.hear.errors import InputError
from pipeline.hear.words import Utterance, Word

SECONDS_A_WORD = 0.35
"""Length of a word where nothing says when its block ends (common practice, no source: about 170 words a minute)."""

_LATEST = 1e6
_BOMS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_CONTROLS = re.compile(rb"[\x00-\x08\x0e-\x1a\x1c-\x1f]")
_UPPER_CONTROLS = re.compile(rb"[\x80-\x9f]")

_WEBVTT = re.compile(r"WEBVTT(?:\s|$)")
_CLOCK = r"(?:\d+:)?\d{1,2}:\d{1,2}(?:[.,]\d*)?"
_TIMING = re.compile(rf"\s*({_CLOCK})\s*-->\s*({_CLOCK})(?=\s|$)")
_BROKEN_TIMING = re.compile(r"\s*[\d:.,]+\s*-->")
_COMMENT = re.compile(r"(?:NOTE(?:\s|$)|(?:STYLE|REGION)\s*$)")
_INLINE = re.compile(
    rf"<({_CLOCK})>|</?(?:v|c|i|b|u|s|lang|ruby|rt|font|br)(?=[\s./>])[^<>]*>|\{{\\an?\d+\}}", re.IGNORECASE
)
_STAMP = r"(?:\d{1,3}:[0-5]\d|\d{1,3}):[0-5]\d(?:[.,]\d+)?"
_BRACKETED = re.compile(rf"\[({_STAMP})\]")
_LEADING = re.compile(rf"\s*({_STAMP})(?=\s|$)")
_JSON_START = re.compile(r'\s*(?:\{\s*["}]|\[\s*\{)')


@dataclass(frozen=True)
class _Block:
    """Text said together. Times in seconds; `marks`: times known inside the text, as (offset in characters, seconds);
    `words`: the words, where the source times each of them; `others`: other readings of the whole text."""

    text: str
    start: float | None = None
    end: float | None = None
    marks: tuple[tuple[int, float], ...] = ()
    words: tuple[Word, ...] = ()
    others: tuple[str, ...] = ()


def as_text(data: bytes) -> str | None:
    """The text that the bytes hold, or None when they hold no text: UTF-8, UTF-16, UTF-32, else Latin-1."""
    for mark, encoding in _BOMS:
        if data.startswith(mark):
            try:
                return data.decode(encoding)
            except UnicodeDecodeError:
                return None
    if b"\x00" in data or len(_CONTROLS.findall(data)) * 1000 > len(data):
        return None
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        # Text has few bytes between the two halves of Latin-1; 8-bit sound is full of them.
        return None if len(_UPPER_CONTROLS.findall(data)) * 20 > len(data) else data.decode("latin-1")


def is_marked(text: str) -> bool:
    """Whether the text itself says that it is a transcript: a heading, time lines, time stamps or JSON."""
    return bool(
        _WEBVTT.match(text)
        or _JSON_START.match(text)
        or _has_timings(text)
        or _BRACKETED.search(text)
        or _LEADING.match(text)
    )


def read_transcript(text: str) -> list[Utterance]:
    """The words of a transcript in any of the formats, in order of time.

    Words without a time of their own are spread evenly, by characters, over the time of their block. Raises
    `InputError` where the text is cut off or holds no word.
    """
    text = text.encode("utf-8", "replace").decode("utf-8").lstrip("\ufeff\r\n")
    if _JSON_START.match(text):
        blocks = _json_blocks(text)
    elif _WEBVTT.match(text) or _has_timings(text):
        blocks = _by_time(_cue_blocks(text))
    else:
        blocks = _typed_order(_typed_blocks(text))
    utterances = list(_timed(blocks))
    if not any(character.isalnum() for utterance in utterances for character in utterance.text):
        raise InputError("the transcript holds no words: give a transcript or a recording in which somebody speaks")
    return utterances


# Times


def _seconds(value: object) -> float | None:
    """A time in seconds from a number or a clock text; None where it is no sensible time."""
    if isinstance(value, str):
        parts = value.replace(",", ".").split(":")
        try:
            value = sum(float(part or 0) * 60**power for power, part in enumerate(reversed(parts)))
        except (ValueError, OverflowError):
            return None
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < _LATEST:
        return None
    return max(0.0, float(value))


def _by_time(blocks: Iterable[_Block]) -> list[_Block]:
    """Times written by a program are right, the order may not be: sort by start. Blocks without a time stay behind
    the block that they follow."""
    latest = 0.0
    keyed: list[tuple[float, _Block]] = []
    for block in blocks:
        latest = latest if block.start is None else block.start
        keyed.append((latest, block))
    return [block for _, block in sorted(keyed, key=lambda pair: pair[0])]


def _typed_order(blocks: Iterable[_Block]) -> list[_Block]:
    """The order of what a person typed is right, a stamp may not be: one that does not go forward counts as absent."""
    latest = -1.0
    ordered: list[_Block] = []
    for block in blocks:
        if block.start is None and not ordered:
            block = replace(block, start=0.0)
        if block.start is not None and block.start <= latest:
            block = replace(block, start=None)
        latest = latest if block.start is None else block.start
        ordered.append(block)
    return ordered


def _timed(blocks: Sequence[_Block]) -> Iterator[Utterance]:
    """Utterances of the blocks; a block without a start shares the time of the block before it."""
    groups: list[list[_Block]] = []
    for block in blocks:
        if not block.text.strip() and not block.words:
            continue
        if block.start is None and groups and not groups[-1][-1].words:
            groups[-1].append(block)
        else:
            groups.append([block])
    at = 0.0
    for number, group in enumerate(groups):
        start = at if group[0].start is None else group[0].start
        following = groups[number + 1][0].start if number + 1 < len(groups) else None
        if group[0].words:
            utterances = [_utterance(group[0], group[0].words)]
        else:
            end = group[0].end if len(group) == 1 and group[0].end is not None else following
            if end is None or end <= start:
                end = start + SECONDS_A_WORD * sum(len(block.text.split()) for block in group)
            utterances = _spread(group, start, end)
        at = max(word.end for utterance in utterances for word in utterance.words)
        yield from utterances


def _spread(group: Sequence[_Block], start: float, end: float) -> list[Utterance]:
    """Spread the words of the blocks over `start` to `end` by characters, through the marks."""
    offsets, times, offset = [0], [start], 0
    for block in group:
        for place, seconds in block.marks:
            offsets.append(offset + place)
            times.append(min(seconds, end))
        offset += len(block.text) + 1
    offsets.append(max(offset - 1, 1))
    times.append(end)
    rising = np.maximum.accumulate(times)
    utterances, offset = [], 0
    for block in group:
        places = [match.span() for match in re.finditer(r"\S+", block.text)]
        edges = np.interp([offset + edge for place in places for edge in place], offsets, rising).round(3).tolist()
        words = [
            Word(text=block.text[first:last], start=edges[2 * number], end=edges[2 * number + 1])
            for number, (first, last) in enumerate(places)
        ]
        utterances.append(_utterance(block, words))
        offset += len(block.text) + 1
    return utterances


def _utterance(block: _Block, words: Sequence[Word]) -> Utterance:
    """The words, each with what the block's other readings have in its place."""
    readings = [other_readings([word.text for word in words], other.split()) for other in block.others]
    alternatives = [
        tuple(dict.fromkeys(text for text in texts if text is not None)) for texts in zip(*readings, strict=True)
    ]
    if not alternatives:
        return Utterance(words=list(words))
    return Utterance(
        words=[word.model_copy(update={"alternatives": texts}) for word, texts in zip(words, alternatives, strict=True)]
    )


# WebVTT and SRT


def _lines(text: str) -> list[str]:
    return re.split(r"\r\n|\r|\n", text)


def _has_timings(text: str) -> bool:
    return "-->" in text and any(_TIMING.match(line) for line in _lines(text))


def _cue_blocks(text: str) -> Iterator[_Block]:
    """Cues; text that belongs to no time line stays behind the cue before it."""
    lines = _lines(text)
    first, webvtt = 0, _WEBVTT.match(text) is not None
    if webvtt:
        while first < len(lines) and lines[first].strip() and not _TIMING.match(lines[first]):
            first += 1
    start: float | None = None
    end: float | None = None
    payload: list[str] = []
    cues, opening, comment = 0, True, False
    for number in range(first, len(lines)):
        line = lines[number]
        timing = _TIMING.match(line)
        if timing is None and _BROKEN_TIMING.match(line):
            raise InputError(f"line {number + 1}: this time line cannot be read: write 00:01:02.000 --> 00:01:04.000")
        if timing is not None:
            yield _cue(payload, start, end, webvtt)
            start, end, payload = _seconds(timing[1]), _seconds(timing[2]), []
            cues, opening, comment = cues + 1, False, False
        elif not line.strip():
            opening, comment = True, False
        elif comment or (webvtt and opening and _COMMENT.match(line)):
            opening, comment = False, True
        elif not _is_identifier(line, lines[number + 1 : number + 2], opening, webvtt, cues + 1):
            payload.append(line)
            opening = False
    yield _cue(payload, start, end, webvtt)


def _is_identifier(line: str, following: Sequence[str], opening: bool, webvtt: bool, cue: int) -> bool:
    """Whether the line names the cue whose time line follows: a name (in SRT a number) behind an empty line, or the
    cue's own number where the empty line was forgotten."""
    number = line.strip()
    return bool(
        following and _TIMING.match(following[0]) and ((opening and (webvtt or number.isdigit())) or number == str(cue))
    )


def _cue(payload: Sequence[str], start: float | None, end: float | None, webvtt: bool) -> _Block:
    """A block from the lines of a cue: tags away, time stamps inside the text as marks."""
    raw, at = "\n".join(payload).strip(), 0
    unescape = html.unescape if webvtt else str
    parts: list[str] = []
    marks: list[tuple[int, float]] = []
    for tag in _INLINE.finditer(raw):
        parts.append(unescape(raw[at : tag.start()]))
        parts.append(" " if tag[0][:3].lower() == "<br" else "")
        at = tag.end()
        seconds = _seconds(tag[1]) if tag[1] else None
        if seconds is not None:
            marks.append((sum(map(len, parts)), seconds))
    text = "".join([*parts, unescape(raw[at:])])
    return _Block(text, start, end, tuple(marks))


# Text that a person typed


def _typed_blocks(text: str) -> Iterator[_Block]:
    """A block a line; `[m:ss]` starts a new one anywhere, a bare `m:ss` where the first line starts with one too."""
    bare = _LEADING.match(text) is not None
    start: float | None = None
    for line in _lines(text):
        leading = _LEADING.match(line) if bare else None
        if leading is not None:
            start, line = _seconds(leading[1]), line[leading.end() :]
        for number, piece in enumerate(_BRACKETED.split(line)):
            if number % 2:
                start = _seconds(piece)
            elif piece.strip():
                yield _Block(piece.strip(), start)
                start = None


# JSON


def _json_blocks(text: str) -> list[_Block]:
    """Blocks of Vosk results or of `{"transcript": [{"t": seconds, "text": ...}]}`, one value or several in a row."""
    items = list(_json_items(text))
    transcripts = [item["transcript"] for item in items if isinstance(item, dict) and "transcript" in item]
    if transcripts and len(items) > 1:
        raise InputError(f"the file holds {len(items)} values beside a transcript: give one transcript at a time")
    if transcripts:
        items = transcripts[0] if isinstance(transcripts[0], list) else []
    if not all(isinstance(item, dict) for item in items):
        raise _unknown_json()
    if any("t" in item for item in items):
        return _typed_order(_Block(_string(item.get("text")), _seconds(item.get("t"))) for item in items)
    return _by_time(_vosk_blocks(items))


def _json_items(text: str) -> Iterator[Any]:
    decoder = json.JSONDecoder()
    at = 0
    while at < len(text):
        if text[at].isspace() or text[at] == ",":
            at += 1
            continue
        try:
            value, at = decoder.raw_decode(text, at)
        except (ValueError, RecursionError):
            line = text.count("\n", 0, at) + 1
            raise InputError(f"the JSON that starts in line {line} is broken or cut off: mend or remove it") from None
        yield from value if isinstance(value, list) else [value]


def _unknown_json() -> InputError:
    return InputError('unknown JSON: give Vosk results, or {"transcript": [{"t": seconds, "text": "..."}]}')


def _string(value: object) -> str:
    if not isinstance(value, str):
        raise _unknown_json()
    return value.encode("utf-8", "replace").decode("utf-8")


def _vosk_blocks(items: Sequence[dict[str, Any]]) -> Iterator[_Block]:
    """Results; a partial result counts only where the recogniser was stopped before it gave the full one."""
    for number, item in enumerate(items):
        alternatives = item.get("alternatives")
        if isinstance(alternatives, list) and alternatives and all(isinstance(other, dict) for other in alternatives):
            best, *others = alternatives
            yield replace(_vosk_block(best), others=tuple(_string(other.get("text")) for other in others))
        elif "text" in item:
            yield _vosk_block(item)
        elif "partial" not in item:
            raise _unknown_json()
        elif number == len(items) - 1:
            yield _Block(_string(item["partial"]))


def _vosk_block(result: dict[str, Any]) -> _Block:
    """The text decides which words there are; their times and confidences count where there is one entry for each."""
    text = _string(result.get("text"))
    entries = result.get("result")
    words = [_vosk_word(entry) for entry in entries] if isinstance(entries, list) else []
    timed = [word for word in words if word is not None]
    if not timed:
        return _Block(text)
    if [word.text for word in timed] == text.split():
        return _Block(text, timed[0].start, words=tuple(timed))
    return _Block(text, timed[0].start, timed[-1].end)


def _vosk_word(entry: object) -> Word | None:
    if not isinstance(entry, dict):
        return None
    text, start, end, conf = entry.get("word"), *(_seconds(entry.get(key)) for key in ("start", "end", "conf"))
    if not isinstance(text, str) or not text or start is None or end is None:
        return None
    confidence = 1.0 if conf is None else min(conf, 1.0)
    return Word(text=_string(text), start=start, end=max(start, end), confidence=confidence)
