"""The lexicon listener: pocketsphinx with a language model and a dictionary made from the lexicon.

It knows the trade's phrases and, so that free talk does not become findings, the commonest words of general English.
Its files are made on first use and kept under a name that changes with the lexicon and with the code that makes them.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import shutil
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path
from typing import Any

import numpy as np
import platformdirs

from pipeline.hear import dictionary, ngrams, phrases
from pipeline.hear.audio import RATE, Samples
from pipeline.hear.listener import Reading
from pipeline.hear.speech import PAUSE, Span
from pipeline.hear.words import Word
from pipeline.lexicon import Lexicon, load, pronounce

CACHE_VARIABLE = "SPOKEN_EXAM_CACHE"
BACKGROUND_SHARE = 0.35
"""Part of all probability that general English has after any words. Figures behind it: `docs/listeners.md`."""

_CHANNEL_SECONDS = 15.0
_MOST_STATES, _MOST_WORDS = 3000, 20
_MARGIN = PAUSE / 2
_FRAMES_A_SECOND = 100
_KEPT = 3
_MODEL, _DICTIONARY, _INITIALS = "phrases.lm", "words.dict", "initials.txt"


@dataclass(frozen=True)
class ModelFiles:
    """The files of one lexicon's listener; `initials` are the words that are written in capitals."""

    language_model: Path
    dictionary: Path
    initials: dict[str, str]


class LexiconListener:
    """Hears the lexicon's terms, and everyday words around them. Deterministic, and reads nothing from a network.

    `progress` is called with the share done, 0 to 1, while the files are made, which happens once for a lexicon and
    takes some seconds.
    """

    def __init__(self, lexicon: Lexicon | None = None, progress: Callable[[float], None] | None = None) -> None:
        from pocketsphinx import Decoder

        files = model_files(lexicon or load(), progress)
        self._initials = files.initials
        self._decoder: Any = Decoder(
            lm=str(files.language_model), dict=str(files.dictionary), loglevel="FATAL", fwdflat=False,
            maxhmmpf=_MOST_STATES, maxwpf=_MOST_WORDS,
        )  # fmt: skip
        self._ear = Ear()

    def transcribe(self, samples: Samples, span: Span) -> Reading:
        """See `Listener.transcribe`. Words are in lower case, numbers in words, initials in capitals."""
        first = max(0, int((span.start - _MARGIN) * RATE))
        clip = samples[first : int((span.end + _MARGIN) * RATE)]
        if not clip.size:
            return Reading()
        # What is left in the decoder of one utterance must not change how it hears the next.
        self._decoder.reinit_feat()
        self._decoder.set_cmn(self._ear.channel(samples, span))
        self._decoder.start_utt()
        self._decoder.process_raw(as_pcm(clip))
        self._decoder.end_utt()
        words = [self._word(segment, first / RATE, span) for segment in self._decoder.seg() or ()]
        return Reading([word for word in words if word is not None])

    def _word(self, segment: Any, offset: float, span: Span) -> Word | None:
        text = segment.word.split("(")[0]
        if not text[:1].isalpha():
            # Silence and noise have names such as <sil> and [NOISE].
            return None
        start = min(max(offset + segment.start_frame / _FRAMES_A_SECOND, span.start), span.end)
        end = min(max(offset + (segment.end_frame + 1) / _FRAMES_A_SECOND, start), span.end)
        probability = min(max(float(segment.prob), 0.0), 1.0)
        return Word(
            text=self._initials.get(text, text), start=round(start, 3), end=round(end, 3), confidence=probability
        )


class Ear:
    """Learns how voice and microphone colour the sound: the mean of its cepstra, as the decoder takes it.

    The decoder's own running mean would make what it hears in one utterance depend on those it heard before, and the
    mean of one short utterance alone is poor. So the sound around the utterance is run through a decoder that has
    nothing to search for.
    """

    def __init__(self) -> None:
        from pocketsphinx import Decoder

        with tempfile.TemporaryDirectory() as folder:
            words = Path(folder) / "one.dict"
            words.write_text("a AH\n", encoding="utf-8")
            self._decoder: Any = Decoder(lm=None, dict=str(words), loglevel="FATAL", fwdflat=False, bestpath=False)
        self._decoder.add_fsg("nothing", self._decoder.create_fsg("nothing", 0, 0, [(0, 0, 1.0, "a")]))
        self._decoder.activate_search("nothing")

    def channel(self, samples: Samples, span: Span) -> str:
        """The mean in the `_CHANNEL_SECONDS` up to the end of `span`, or from the start of the recording."""
        last = int(max(span.end, _CHANNEL_SECONDS) * RATE)
        self._decoder.reinit_feat()
        self._decoder.start_utt()
        self._decoder.process_raw(as_pcm(samples[max(0, last - int(_CHANNEL_SECONDS * RATE)) : last]))
        self._decoder.end_utt()
        return str(self._decoder.get_cmn(True))


def as_pcm(samples: Samples) -> bytes:
    """16-bit little-endian samples, as decoders take them."""
    return (np.clip(samples, -1.0, 1.0) * 32767).astype("<i2").tobytes()


def cache_folder() -> Path:
    """Where the listener's files are kept: under the folder in `SPOKEN_EXAM_CACHE`, or else in the user's cache."""
    return Path(os.environ.get(CACHE_VARIABLE) or platformdirs.user_cache_dir("spoken-exam")) / "lexicon-listener"


def model_files(lexicon: Lexicon, progress: Callable[[float], None] | None = None) -> ModelFiles:
    """The files for `lexicon`, made if they are not in the cache."""
    told = progress or (lambda share: None)
    folder = cache_folder() / content_hash(lexicon)
    if not folder.is_dir():
        folder.parent.mkdir(parents=True, exist_ok=True)
        unfinished = Path(tempfile.mkdtemp(dir=folder.parent, prefix="unfinished-"))
        try:
            _write(lexicon, unfinished, told)
            # Another process may have been quicker: its files are the same.
            with contextlib.suppress(OSError):
                unfinished.rename(folder)
        finally:
            shutil.rmtree(unfinished, ignore_errors=True)
        _drop_old(folder.parent)
    told(1.0)
    initials = (folder / _INITIALS).read_text(encoding="utf-8").split()
    return ModelFiles(folder / _MODEL, folder / _DICTIONARY, {word.lower(): word for word in initials})


def _write(lexicon: Lexicon, folder: Path, told: Callable[[float], None]) -> None:
    told(0.0)
    sentences = list(phrases.phrases(lexicon))
    special = {word.lower(): word for sentence in sentences for word in sentence}
    told(0.2)
    common = dictionary.common_english()
    said = dictionary.dictionary(special.values(), common)
    with (folder / _DICTIONARY).open("w", encoding="utf-8") as out:
        for word, ways in sorted(said.items()):
            for number, way in enumerate(ways, 1):
                out.write(f"{word}{f'({number})' if number > 1 else ''} {' '.join(way)}\n")
    told(0.3)
    known = [tuple(word.lower() for word in sentence if word.lower() in said) for sentence in sentences]
    with (folder / _MODEL).open("w", encoding="utf-8") as out:
        ngrams.write_arpa(known, common, BACKGROUND_SHARE, out)
    initials = sorted(word for word in special.values() if len(word) > 1 and word.isupper())
    (folder / _INITIALS).write_text("\n".join(initials), encoding="utf-8")


def content_hash(lexicon: Lexicon) -> str:
    """Names the listener's files: changes with the lexicon, the code that makes them and the packages it draws on."""
    digest = hashlib.sha256(lexicon.model_dump_json().encode())
    for module in (phrases, dictionary, ngrams, pronounce):
        digest.update(Path(str(module.__file__)).read_bytes())
    digest.update(f"{BACKGROUND_SHARE} {version('wordfreq')} {version('pocketsphinx')}".encode())
    return digest.hexdigest()[:24]


def _drop_old(folder: Path) -> None:
    """Keep the files of the lexicons used last; a decoder that runs has read its own already."""
    made = sorted(
        (path for path in folder.iterdir() if not path.name.startswith("unfinished-")),
        key=lambda path: path.stat().st_mtime,
    )
    for old in made[:-_KEPT]:
        shutil.rmtree(old, ignore_errors=True)
