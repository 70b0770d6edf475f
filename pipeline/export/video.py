"""A film with captions and chapters written into it; picture and sound are copied as they are."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from html import escape
from pathlib import Path

import av
from av.subtitles.stream import SubtitleStream
from av.subtitles.subtitle import SubtitleSet

from pipeline.export.captions import Cue
from pipeline.export.chapters import Chapter
from pipeline.export.exam import ExportError

CODECS = {".mp4": "mov_text", ".m4v": "mov_text", ".mov": "mov_text", ".mkv": "webvtt", ".webm": "webvtt"}
"""How each kind of film holds captions."""

_MILLISECOND = Fraction(1, 1000)
# The encoders take captions as lines of this script format, whose header names the one style they use.
_HEADER = b"""[Script Info]
ScriptType: v4.00+

[V4+ Styles]
Format: Name, Fontname, Fontsize
Style: Default,Arial,16

[Events]
Format: Layer, Start, End, Style, Name, MarginL, MarginR, MarginV, Effect, Text
"""


def is_film(file: Path) -> bool:
    """Whether the file holds moving pictures."""
    try:
        with av.open(str(file)) as media:
            return any(not stream.disposition & av.stream.Disposition.attached_pic for stream in media.streams.video)
    except (av.FFmpegError, OSError):
        return False


def write_film(source: Path, target: Path, cues: Sequence[Cue], chapters: Sequence[Chapter]) -> None:
    """Write `source` with captions and chapters to `target`; the ending of both must be one of `CODECS`.

    Raises `ExportError` where the film cannot be read or written so; then `target` does not exist.
    """
    part = target.with_name(f"{target.stem}.part{target.suffix}")
    try:
        _remux(source, part, CODECS[target.suffix.lower()], cues, chapters)
        part.chmod(0o600)
        part.replace(target)
    except (av.FFmpegError, OSError, ValueError) as error:
        part.unlink(missing_ok=True)
        reason = " ".join(str(error).split())
        raise ExportError(
            f"{source.name}: captions cannot be written into it ({reason}); use the files beside it"
        ) from None


def _remux(source: Path, target: Path, codec: str, cues: Sequence[Cue], chapters: Sequence[Chapter]) -> None:
    with av.open(str(source)) as film, av.open(str(target), "w") as copy:
        copied = {
            stream.index: copy.add_stream_from_template(stream) for stream in (*film.streams.video, *film.streams.audio)
        }
        captions = copy.add_stream(codec)
        assert isinstance(captions, SubtitleStream)
        captions.codec_context.subtitle_header = _HEADER
        captions.time_base = _MILLISECOND
        captions.metadata["language"] = "eng"
        copy.set_chapters(
            [
                {
                    "id": at,
                    "start": round(chapter.start * 1000),
                    "end": round(chapter.end * 1000),
                    "time_base": _MILLISECOND,
                    "metadata": {"title": chapter.title},
                }
                for at, chapter in enumerate(chapters)
            ]
        )
        waiting = list(cues)
        for packet in film.demux(list(film.streams.video) + list(film.streams.audio)):
            if packet.dts is None:
                continue
            while waiting and packet.pts is not None and waiting[0].start <= packet.pts * packet.time_base:
                copy.mux(_packet(waiting.pop(0), captions))
            packet.stream = copied[packet.stream_index]
            copy.mux(packet)
        for cue in waiting:
            copy.mux(_packet(cue, captions))


def _packet(cue: Cue, stream: SubtitleStream) -> av.Packet[SubtitleStream]:
    start, end = round(cue.start * 1000), round(cue.end * 1000)
    lines = [line.replace("{", "(").replace("}", ")") for line in cue.lines]
    if stream.codec_context.name == "webvtt":
        lines = [escape(line, quote=False) for line in lines]
    text = "\\N".join(lines)
    subtitle = SubtitleSet.create(f"0,0,Default,,0,0,0,,{text}".encode(), 0, end - start, start)
    packet = stream.codec_context.encode_subtitle(subtitle)
    packet.pts = packet.dts = start
    packet.duration = end - start
    packet.time_base = _MILLISECOND
    packet.stream = stream
    return packet
