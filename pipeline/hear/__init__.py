"""Sound and transcripts in; words out, each with start, end, confidence and alternatives."""

from __future__ import annotations

import mimetypes
from collections.abc import Callable, Sequence
from pathlib import Path

from pipeline.hear.audio import Sound, decode
from pipeline.hear.both import BothListeners, default_listener
from pipeline.hear.choices import Replay, listen_again
from pipeline.hear.errors import InputError
from pipeline.hear.listener import Listener, Reading
from pipeline.hear.second_listen import settle
from pipeline.hear.speech import Span, find_speech
from pipeline.hear.streaming import StreamingListener, UtteranceStream
from pipeline.hear.transcripts import as_text, is_marked, read_transcript
from pipeline.hear.words import Heard, Utterance, Word
from pipeline.record.model import Unheard

__all__ = [
    "Heard", "InputError", "Listener", "StreamingListener", "Utterance", "UtteranceStream", "Word", "hear", "listen",
    "listen_again",
]  # fmt: skip

UNHEARD_SECONDS = 1.0
"""Speech without words for longer than this must be listened to by a person."""

_HEAD = 65_536
_PREPARING = 0.05


def hear(
    path: Path | str, *, progress: Callable[[float], None] | None = None, listener: Listener | None = None
) -> Heard:
    """The words of a recording or transcript; `progress` is called with the share done, 0 to 1.

    The content decides what the file is; the extension counts only for text that nothing else marks as a transcript.
    `listener` hears recordings: by default the open one and the lexicon's, agreed, with a second listen where they
    differ. Raises `InputError` where the file cannot be used, with one line that says what to do.
    """
    path = Path(path)
    text = _text(path)
    if text is None:
        sound = decode(path)
        if listener is not None:
            return listen(sound, listener, progress=progress)
        # Making the lexicon listener's files, the first time only, is the start of the work that is told of.
        both = default_listener(progress=_part(progress, 0.0, _PREPARING))
        return listen(sound, both, progress=_part(progress, _PREPARING, 1.0))
    kind = mimetypes.guess_type(path.name)[0] or ""
    if kind.startswith(("audio/", "video/")) and not is_marked(text):
        raise InputError(f"{path.name} holds no sound but text: give the recording itself, or name the transcript .txt")
    try:
        utterances = read_transcript(text)
    except InputError as error:
        raise InputError(f"{path.name}: {error}") from None
    if progress is not None:
        progress(1.0)
    return Heard(utterances=utterances, duration=max(word.end for each in utterances for word in each.words))


def listen(sound: Sound, listener: Listener, *, progress: Callable[[float], None] | None = None) -> Heard:
    """The words of a decoded recording, and the speech in it that gave none.

    Where `listener` is `BothListeners`, what the two differ on is heard once more, and `Heard.again` is set.
    """
    told = progress or (lambda share: None)
    readings: list[tuple[Span, Reading]] = []
    for span in find_speech(sound.samples):
        readings.append((span, listener.transcribe(sound.samples, span)))
        told(span.end / sound.duration)
    heard = assemble(readings, sound.duration, sound.missing)
    if isinstance(listener, BothListeners):
        heard = settle(sound, heard, listener.agreement).model_copy(update={"again": Replay(sound)})
    told(1.0)
    return heard


def assemble(readings: Sequence[tuple[Span, Reading]], duration: float, missing: Sequence[Unheard] = ()) -> Heard:
    """What a listener made of the utterances of a recording, as one; long speech without words is `unheard`.

    `duration` of the recording in seconds; `missing`: stretches of it that could not be read.
    """
    unheard = list(missing)
    for span, reading in readings:
        unheard += _without_words(span, reading.words, reading.reason)
    return Heard(
        utterances=[Utterance(words=reading.words) for _, reading in readings if reading.words],
        unheard=sorted(unheard, key=lambda entry: entry.start),
        duration=duration,
        spoken=True,
    )


def _part(progress: Callable[[float], None] | None, first: float, last: float) -> Callable[[float], None] | None:
    """Progress that runs from `first` to `last` while a part of the work is done."""
    if progress is None:
        return None
    return lambda share: progress(first + (last - first) * share)


def _without_words(span: Span, words: list[Word], reason: str) -> list[Unheard]:
    """Stretches of an utterance longer than `UNHEARD_SECONDS` that no word covers.

    A word covers no more time than slow speech needs for it (0.6 s and 0.08 s a character: common practice, no source).
    """
    if not words:
        return [Unheard(start=span.start, end=span.end, reason=reason)] if span.duration > UNHEARD_SECONDS else []
    stretches: list[Unheard] = []
    at = span.start
    for word in [*words, Word(text="", start=span.end, end=span.end)]:
        if word.start - at > UNHEARD_SECONDS:
            stretches.append(Unheard(start=at, end=word.start, reason="speech here gave no words"))
        at = max(at, min(word.end, word.start + 0.6 + 0.08 * len(word.text)))
    return stretches


def _text(path: Path) -> str | None:
    """The text in the file, or None where it holds something else."""
    if not path.exists():
        raise InputError(f"{path}: there is no such file; check the name and the folder")
    if not path.is_file():
        raise InputError(f"{path} is a folder or a device: give one recording or transcript")
    try:
        with path.open("rb") as file:
            head = file.read(_HEAD)
            if not head:
                raise InputError(f"{path.name} is empty: give a recording or a transcript with words")
            return None if as_text(head) is None else as_text(head + file.read())
    except OSError as error:
        raise InputError(f"{path} cannot be read ({error.strerror}): check its permissions") from None
