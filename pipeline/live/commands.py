"""The command `listen`: hands-free dictation in the terminal."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from itertools import chain
from pathlib import Path
from types import FrameType

import click

from pipeline.engine import Engine
from pipeline.hear.audio import RATE, decode
from pipeline.lexicon import load
from pipeline.lexicon.live import plans
from pipeline.live import sessions, sources
from pipeline.live.board import clock
from pipeline.live.dictation import Dictation, Settings
from pipeline.live.hearing import Hearing
from pipeline.live.partial import partial
from pipeline.live.terminal import screen
from pipeline.live.voice import Voice
from pipeline.record.commands import open_store
from pipeline.record.learned import agreed
from pipeline.record.store import Store


class _Stopped(click.ClickException):
    exit_code = 130
    """128 + SIGINT, as shells count it."""


@click.command()
@click.option("--input", "source", metavar="FILE", help="A recording at its own speed, or - for 16 kHz mono s16le PCM.")
@click.option("--device", metavar="NAME", help="The microphone: its name, part of it, or its number.")
@click.option("--title", help="What the record is called: no name of a patient where that is not allowed.")
@click.option("--speaker", help="Who examines and speaks; what was learned of this speaker is used.")
@click.option("--plan", type=click.Choice(list(plans())), default="lower_limb", show_default=True,
              help="What the examination is meant to hold; the board names what was not mentioned.")  # fmt: skip
@click.option("--wait", is_flag=True, help='Take nothing down before "computer, start dictation".')
@click.option("--read-back", is_flag=True, help="Say what is unsure aloud, and take the answer.")
@click.option("--resume", is_flag=True, help="Go on with the dictation that was begun last and not finished.")
@click.pass_context
def listen(
    context: click.Context,
    source: str | None,
    device: str | None,
    title: str | None,
    speaker: str | None,
    plan: str,
    wait: bool,
    read_back: bool,
    resume: bool,
) -> None:
    """Take a dictation down as it is spoken, hands-free, and keep it for review.

    Say "computer, pause" or "computer, finish dictation"; docs/live.md lists all. Ctrl+C stops, --resume goes on.
    """
    store = open_store(context)
    voice = Voice() if read_back else None
    if source not in (None, "-"):
        decode(Path(source or ""))
    settings = Settings(
        title=(title or "").strip() or f"Dictation {datetime.now():%Y-%m-%d %H:%M}",
        plan=plan,
        speaker=(speaker or "").strip() or None,
        wait=wait,
        read_back=read_back,
    )
    session = sessions.reopen() if resume else None
    exam_id = _dictate(session, settings, source, device, store, voice)
    exam = store.exam(exam_id)
    click.echo(exam_id)
    todo = "review and sign it" if not exam.open_items else f"decide {len(exam.open_items)} open items and sign it"
    click.echo(f"Kept {len(exam.rows)} rows. Next, {todo}: spoken-exam review", err=True)


def _dictate(
    session: sessions.Session | None,
    settings: Settings,
    source: str | None,
    device: str | None,
    store: Store,
    voice: Voice | None,
) -> str:
    """Dictates until it is finished, and keeps it; `session` is one to go on with, or None for a new one."""
    lexicon = load()
    speaker = session.settings.speaker if session else settings.speaker
    engine = Engine(lexicon, agreed(store.learned(speaker)) if speaker else {})
    hearing, early = Hearing(lexicon), partial(lexicon)
    # The microphone is tried before a dictation is begun in vain.
    blocks = _tried(sources.microphone(device)) if source is None else sources.standard_input()
    session = session or sessions.begin(settings)
    shown = screen()
    dictation = Dictation(
        session.folder, session.settings, hearing, engine,
        partial=early, changed=shown.show, say=voice.say if voice else None,
    )  # fmt: skip
    try:
        with _stops() as stop, shown.open():
            if source not in (None, "-"):
                blocks = sources.recording(Path(source or ""), dictation.samples)
            for block in blocks:
                dictation.accept(block, muted=voice is not None and voice.speaking)
                if stop.asked:
                    raise KeyboardInterrupt
                if dictation.state == "finished":
                    break
            analysis = dictation.finish()
        return sessions.keep(session, dictation, analysis, store)
    except KeyboardInterrupt:
        at = clock(dictation.samples / RATE)
        raise _Stopped(f"stopped at {at}, all kept: go on with 'spoken-exam listen --resume'") from None
    finally:
        dictation.close()


class _Stop:
    """Whether Ctrl+C was pressed."""

    asked = False


@contextmanager
def _stops() -> Iterator[_Stop]:
    """Remembers Ctrl+C: a library may swallow the exception, and the loop would wait for sound for ever."""
    stop = _Stop()

    def remember(number: int, frame: FrameType | None) -> None:
        stop.asked = True
        raise KeyboardInterrupt

    before = signal.getsignal(signal.SIGINT)
    if before is not signal.default_int_handler:  # a shell starts what runs in its background deaf to Ctrl+C
        yield stop
        return
    signal.signal(signal.SIGINT, remember)
    try:
        yield stop
    finally:
        signal.signal(signal.SIGINT, before)


def _tried(blocks: Iterator[bytes]) -> Iterator[bytes]:
    """The same blocks, the first of them taken already."""
    return chain([next(blocks)], blocks)
