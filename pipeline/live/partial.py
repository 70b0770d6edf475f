"""Words of an utterance that goes on: shown at once, never taken down, and often not what is heard in the end."""

from __future__ import annotations

from typing import Any, Protocol

from pipeline.hear.audio import Samples
from pipeline.hear.lexicon_listener import as_pcm, model_files
from pipeline.hear.vosk_listener import VoskListener, find_model
from pipeline.lexicon import Lexicon


class Partial(Protocol):
    """Fed with one utterance as it is spoken."""

    def accept(self, samples: Samples) -> str:
        """The words so far."""
        ...

    def restart(self) -> None:
        """Forgets the utterance: the next samples begin another one."""
        ...


class LexiconPartial:
    """By the lexicon listener's own model, which can be fed in pieces."""

    def __init__(self, lexicon: Lexicon) -> None:
        from pocketsphinx import Decoder

        files = model_files(lexicon)
        self._initials = files.initials
        # Searches less widely than the listener itself: these words need only be quick.
        self._decoder: Any = Decoder(
            lm=str(files.language_model), dict=str(files.dictionary), loglevel="FATAL", fwdflat=False, bestpath=False,
            maxhmmpf=1500, maxwpf=10,
        )  # fmt: skip
        self._begun = False

    def accept(self, samples: Samples) -> str:
        """See `Partial.accept`."""
        if not self._begun:
            self._decoder.start_utt()
            self._begun = True
        self._decoder.process_raw(as_pcm(samples))
        found = self._decoder.hyp()
        words = found.hypstr.split() if found is not None else []
        return " ".join(self._initials.get(word, word) for word in words if word[:1].isalpha())

    def restart(self) -> None:
        """See `Partial.restart`."""
        if self._begun:
            self._decoder.end_utt()
            self._begun = False


class VoskPartial:
    """By the streaming listener."""

    def __init__(self) -> None:
        self._listener = VoskListener()
        self._stream = self._listener.stream()

    def accept(self, samples: Samples) -> str:
        """See `Partial.accept`."""
        return " ".join(word.text for word in self._stream.accept(samples))

    def restart(self) -> None:
        """See `Partial.restart`."""
        self._stream = self._listener.stream()


def partial(lexicon: Lexicon) -> Partial:
    """The streaming listener where an English model of it is on this computer, else the lexicon's."""
    return VoskPartial() if find_model() else LexiconPartial(lexicon)
