"""The listener that `hear` uses: an open one and the lexicon's, side by side on each utterance, agreed."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from pipeline.hear.agree import Agreement
from pipeline.hear.audio import Samples
from pipeline.hear.lexicon_listener import LexiconListener
from pipeline.hear.listener import Choosing, Listener, Reading
from pipeline.hear.open_listener import TRUSTED, OpenListener
from pipeline.hear.prompt import lexicon_prompt
from pipeline.hear.speech import Span
from pipeline.hear.vosk_listener import VoskListener, find_model
from pipeline.hear.words import Word
from pipeline.lexicon import Lexicon, load


class BothListeners:
    """See `pipeline.hear.agree` for what becomes of the words."""

    def __init__(self, opened: Listener, lexicon: Listener, agreement: Agreement) -> None:
        self.agreement = agreement
        self._open = opened
        self._lexicon = lexicon
        # Both recognisers let go of the interpreter while they work or while the other does.
        self._beside = ThreadPoolExecutor(max_workers=1, thread_name_prefix="lexicon-listener")

    def transcribe(self, samples: Samples, span: Span) -> Reading:
        """See `Listener.transcribe`. Speech of which the open listener trusts no word stays without words."""
        return self.hear(samples, span)[0]

    def hear(self, samples: Samples, span: Span) -> tuple[Reading, list[Word]]:
        """What the listeners agree on, and the plain words of the open one: it was not taught the spoken controls."""
        beside = self._beside.submit(self._lexicon.transcribe, samples, span)
        if isinstance(self._open, Choosing):
            heard = self._open.transcribe_beside(samples, span, lambda: beside.result().words)
        else:
            heard = self._open.transcribe(samples, span)
        return Reading(self.agreement.merge(heard.words, beside.result().words), heard.reason), heard.untold


def open_listener(lexicon: Lexicon, *, plain: bool = False) -> Listener:
    """The open listener of this computer: Vosk where an English model is configured, or else the built-in Whisper.

    `plain`: see `OpenListener`.
    """
    return VoskListener() if find_model() else OpenListener(lexicon_prompt(lexicon), plain=plain)


def default_listener(
    lexicon: Lexicon | None = None, progress: Callable[[float], None] | None = None, *, plain: bool = False
) -> BothListeners:
    """Both listeners. `progress` is called with the share done while the lexicon listener's files are first made.

    `plain`: see `OpenListener`.
    """
    lexicon = lexicon or load()
    opened = open_listener(lexicon, plain=plain)
    return BothListeners(opened, LexiconListener(lexicon, progress), agreement(lexicon, opened))


def agreement(lexicon: Lexicon, opened: Listener) -> Agreement:
    """How the lexicon listener is weighed against `opened`: one that was taught is trusted where it is sure."""
    return Agreement(lexicon, TRUSTED) if isinstance(opened, OpenListener) else Agreement(lexicon)
