"""One dictation: sound into the journal, utterances out of it, words, controls, the record, the board.

`accept` is called with the sound as it comes; it writes, cuts and shows partial words. A thread of its own hears the
utterances. Everything that the record depends on is in the journal, so that a dictation opened again, after whatever
ended it, goes on as if nothing had happened.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import numpy as np
from pydantic import BaseModel

from pipeline.engine import Analysis, Engine
from pipeline.hear.audio import RATE, Samples
from pipeline.hear.listener import Reading
from pipeline.hear.speech import PAUSE, Span
from pipeline.hear.words import Word
from pipeline.lexicon.live import ControlId, controls, plans
from pipeline.live.account import Account, Answer, Order, last_rows, understood, words_for
from pipeline.live.board import Board, filled, row_text
from pipeline.live.controls import Spoken
from pipeline.live.cutting import Cutter
from pipeline.live.hearing import SETTLED, Hears, Piece
from pipeline.live.journal import Journal
from pipeline.live.memory import give_back
from pipeline.live.partial import Partial
from pipeline.record.model import ExamRecord, Row, Unheard

JOURNAL = "sound.journal"

_Ask = tuple[float, float, tuple[str, ...]]

_ANSWER_SECONDS = 8.0
_GIVE_BACK = 60.0
"""Seconds of sound after which memory that is free goes back to the system."""
_PARTIAL_STEP = round(0.1 * RATE)
_MARGIN = round(PAUSE / 2 * RATE)


class Settings(BaseModel):
    """What a dictation was started with. `wait`: nothing is taken down before the spoken start."""

    title: str
    plan: str = "lower_limb"
    speaker: str | None = None
    wait: bool = False
    read_back: bool = False


class Dictation:
    """A dictation in `folder`, new or opened again. `changed` is called with each new board, from several threads.

    `say` speaks a sentence and returns at once; the sound that comes in meanwhile is to be given as `muted`. Raises
    `LiveError` where the journal cannot be used; `failure` is what ended the hearing, if something did.
    """

    def __init__(
        self,
        folder: Path,
        settings: Settings,
        hearing: Hears,
        engine: Engine,
        *,
        partial: Partial | None = None,
        changed: Callable[[Board], None] = lambda board: None,
        say: Callable[[str], None] | None = None,
    ) -> None:
        self.settings = settings
        self._hearing, self._engine, self._partial = hearing, engine, partial
        self._changed, self._say = changed, say
        self._plan = plans()[settings.plan]
        self._state = "waiting" if settings.wait else "listening"
        self._account = Account()
        self._waiting: list[Span] = []
        self._first: dict[Span, Piece] = {}
        self._ahead: Span | None = None
        self._aside: list[tuple[Span, Samples]] = []
        self._aside_cutter: Cutter | None = None
        self._aside_sound = np.zeros(0, np.float32)
        self._fed = 0
        self._given_back = 0
        self._muted = 0
        self._question: tuple[Row, int] | None = None
        self._asked: set[tuple[tuple[str, str, str | None], str | None]] = set()
        self._answers: dict[_Ask, list[tuple[str, float]]] = {}
        self._asks: list[_Ask] = []
        self._record = ExamRecord()
        self._last_heard = ""
        self._ended = self._stopping = False
        self.failure: Exception | None = None
        self._lock = threading.RLock()
        self._work = threading.Condition(self._lock)
        self.journal = Journal(folder / JOURNAL)
        self._cutter = Cutter(self.journal.read)
        self.board = Board(state=self._state, title=settings.title)
        with self._lock:
            self._replay()
            self._refresh()
        self._thread = threading.Thread(target=self._run, name="dictation", daemon=True)
        self._thread.start()

    @property
    def samples(self) -> int:
        """How many samples the journal holds."""
        return self.journal.samples

    @property
    def state(self) -> str:
        return self._state

    @property
    def record(self) -> ExamRecord:
        """The record of all that was heard so far."""
        return self._record

    def accept(self, pcm: bytes, muted: bool = False) -> int:
        """Takes in 16-bit samples at 16 kHz; returns how many samples are surely on the disk.

        While paused, and where `muted` (the program itself speaks), silence of the same length is written instead.
        """
        with self._lock:
            if self.failure is not None:
                raise self.failure
            if self._state == "finished":
                return self.journal.synced
            quiet = muted or self._state in ("paused", "waiting")
            self.journal.add_sound(bytes(len(pcm)) if quiet else pcm)
            samples = (np.frombuffer(pcm, "<i2") / 32768).astype(np.float32)
            if muted:
                self._muted = self.journal.samples
            elif quiet:
                self._listen_aside(samples)
            self._cut(np.zeros_like(samples) if quiet else samples)
            self._show_partial()
            return self.journal.synced

    def command(self, control: ControlId) -> None:
        """A control given by hand."""
        with self._lock:
            now = self.journal.samples / RATE
            self._obey(Order(Spoken(control), Span(now, now)))
            self._work.notify_all()

    def sync(self) -> int:
        """Brings all sound to the disk; returns how many samples that is."""
        with self._lock:
            self.journal.sync()
            return self.journal.synced

    def drain(self) -> None:
        """Returns when all that was said is heard, as far as the sound goes."""
        with self._work:
            while self._next() is not None and self.failure is None:
                self._work.wait()
            if self.failure is not None:
                raise self.failure

    def finish(self) -> Analysis:
        """Ends the dictation and hears all of it; returns record and transcript. The journal stays until deleted."""
        with self._work:
            if not self._ended:
                self._ended = True
                self._waiting += self._cutter.finish()
            self._state = "finished"
            self._work.notify_all()
        self.drain()
        with self._lock:
            self._show(state="finished", partial="")
            return self._account.analysis(self._engine, self._seconds, self._again)

    def close(self) -> None:
        """Lets go of the journal; what it holds can be opened again."""
        with self._work:
            if self._stopping:
                return
            self._stopping = True
            self._work.notify_all()
        self._thread.join()
        self.journal.close()

    # Sound

    @property
    def _seconds(self) -> float:
        return self.journal.samples / RATE

    def _cut(self, samples: Samples) -> None:
        spans = self._cutter.accept(samples)
        known = {order.span for order in self._account.orders} | {answer.span for answer in self._account.answers}
        self._waiting += [span for span in spans if span not in self._account.readings and span not in known]
        self._ahead = self._cutter.likely
        if spans or self._ahead is not None or self.journal.samples >= SETTLED * RATE:
            self._work.notify_all()

    def _listen_aside(self, samples: Samples) -> None:
        """While paused nothing is kept, but somebody may say that it goes on."""
        if self._aside_cutter is None:
            self._aside_sound = np.zeros(0, np.float32)
            sound = self._aside_sound
            self._aside_cutter = Cutter(lambda first, last: sound[first:last])
        self._aside_sound = np.concatenate([self._aside_sound, samples])
        sound = self._aside_sound
        for span in self._aside_cutter.accept(samples):
            self._aside.append((span, sound))
            self._work.notify_all()
        if self._aside_sound.size > 60 * RATE and not self._aside_cutter.speaking:
            self._aside_cutter = None

    def _show_partial(self) -> None:
        if self._partial is None:
            return
        if self._cutter.speaking:
            first = max(self._fed, self.journal.samples - round(0.8 * RATE)) if not self.board.partial else self._fed
            if self.journal.samples - first >= _PARTIAL_STEP:
                words = self._partial.accept(self.journal.read(first, self.journal.samples))
                self._fed = self.journal.samples
                self._show(partial=words or "…")
        else:
            if self.board.partial:
                self._partial.restart()
                self._show(partial="")
            self._fed = max(self._fed, self.journal.samples - 3 * _MARGIN)

    # Hearing

    def _run(self) -> None:
        while True:
            with self._work:
                while (task := self._next()) is None and not self._stopping:
                    self._work.notify_all()
                    if self.journal.samples - self._given_back >= _GIVE_BACK * RATE:
                        self._given_back = self.journal.samples
                        give_back()
                    self._work.wait()
                if self._stopping:
                    return
            try:
                assert task is not None
                task()
            except Exception as error:
                with self._work:
                    self.failure = error
                    self._work.notify_all()
                return
            with self._work:
                self._work.notify_all()

    def _next(self) -> Callable[[], None] | None:
        """What to do next: new utterances first, then the one that will probably end, then second thoughts."""
        if self._aside:
            aside = self._aside[0]
            return lambda: self._hear_aside(*aside)
        if self._waiting:
            span = self._waiting[0]
            return lambda: self._hear(span)
        if self._ahead is not None and self._ahead not in self._first and not self._ended:
            ahead = self._ahead
            return lambda: self._hear_ahead(ahead)
        if self._cutter.speaking and not self._ended:
            # An utterance may end at any moment, and its rows are waited for.
            return None
        settled = self._ended or self.journal.samples >= (SETTLED + 1) * RATE
        for span in self._first:
            if span in self._account.readings and (settled or span.end >= SETTLED):
                return lambda: self._settle(span)
        provisional = any(span in self._account.readings for span in self._first)
        if self._asks and settled and not provisional:
            return self._ask_sound
        idle = not provisional and not self._asks
        if self._say is not None and self.settings.read_back and idle and not self._ended:
            row = self._unsure()
            if row is not None:
                return lambda: self._ask(row)
        return None

    def _hear_ahead(self, span: Span) -> None:
        piece = self._hearing.hear(self.journal.read, self.journal.samples, span)
        with self._lock:
            self._first = {known: one for known, one in self._first.items() if known in self._account.readings}
            self._first[span] = piece

    def _hear(self, span: Span) -> None:
        piece = self._first.get(span) or self._hearing.hear(self.journal.read, self.journal.samples, span)
        with self._lock:
            self._waiting.remove(span)
            self._first[span] = piece
            if piece.control is not None:
                self._first.pop(span)
                self._obey(Order(piece.control, span))
            elif not self._take_answer(span, piece.opened):
                self._account.readings[span] = piece.reading
                self._last_heard = _text(piece.reading.words) or self._last_heard
                # With more to hear, the rows wait: understanding everything anew takes longer the longer it gets.
                if not self._waiting:
                    self._refresh(message="")

    def _settle(self, span: Span) -> None:
        """Hears the utterance as it is heard in the end, and notes that."""
        reading = first = self._first[span].reading
        if span.end < SETTLED:
            reading = self._hearing.rehear(self.journal.read, self.journal.samples, span)
        reading = self._hearing.settle(self.journal.read, self.journal.samples, span, reading)
        with self._lock:
            del self._first[span]
            self._account.readings[span] = reading
            words = [word.model_dump(mode="json") for word in reading.words]
            self.journal.add_note({"reading": _numbers(span), "words": words, "reason": reading.reason})
            if reading != first:
                self._refresh()

    def _again(self, start: float, end: float, phrases: Sequence[str]) -> list[tuple[str, float]]:
        """What the sound answered; where it was not asked yet, undecided, until there is time to ask."""
        ask = (start, end, tuple(phrases))
        if ask in self._answers:
            return self._answers[ask]
        self._asks.append(ask)
        return [(phrase, 1 / len(phrases)) for phrase in phrases]

    def _ask_sound(self) -> None:
        start, end, phrases = ask = self._asks[0]
        answer = self._hearing.ask(self.journal.read, self.journal.samples, start, end, phrases)
        with self._lock:
            self._answers[ask] = answer
            self._asks = [one for one in self._asks if one not in self._answers]
            if not self._asks:
                self._refresh()

    def _hear_aside(self, span: Span, sound: Samples) -> None:
        piece = self._hearing.hear(lambda first, last: sound[first:last], sound.size, span)
        with self._lock:
            del self._aside[0]
            wanted = ("start", "resume", "finish") if self._state in ("paused", "waiting") else ()
            if piece.control is not None and piece.control.control in wanted:
                now = self._seconds
                self._obey(Order(piece.control, Span(now, now)))

    # Controls

    def _obey(self, order: Order) -> None:
        """Notes the order, does it, and says on the board what was done."""
        spoken = order.spoken
        self._refresh()
        before = last_rows(self._record.rows, order.span.end)
        order = Order(spoken, order.span, tuple(words_for(spoken, before, self._engine.lexicon)))
        note: dict[str, Any] = {"order": spoken.control, "choice": spoken.choice, "other": spoken.other}
        self.journal.add_note(note | {"span": _numbers(order.span), "words": list(order.words)})
        self._apply(order)
        self._refresh()
        message = self._answer(order, before)
        self._show(message=message, state=self._state)
        if self._say is not None and self.settings.read_back and spoken.control in ("read_back", "missing"):
            self._say(message)

    def _apply(self, order: Order) -> None:
        self._account.orders.append(order)
        match order.spoken.control:
            case "start" | "resume":
                self._state = "listening"
            case "pause":
                self._state = "paused"
            case "finish":
                self._state = "finished"
        self._aside_cutter = None

    def _answer(self, order: Order, before: list[Row]) -> str:
        spoken = order.spoken
        after = last_rows(self._record.rows, order.span.end)
        named = ", ".join(map(row_text, before)) or "nothing was taken down yet"
        match spoken.control:
            case "start" | "resume":
                return "Listening."
            case "pause":
                return "Paused: nothing is taken down or recorded."
            case "finish":
                return "Finished."
            case "scratch":
                gone = {row.key for row in self._record.rows}
                done = bool(before) and all(row.key not in gone for row in before)
                return f"Taken out: {named}." if done or not before else f"Not taken out, say it otherwise: {named}."
            case "side" | "grade":
                values = {row.side.value if spoken.control == "side" else row.value for row in after}
                if spoken.choice in values:
                    return f"Changed: {', '.join(map(row_text, after))}."
                if before:
                    self._obey(Order(Spoken("mark"), order.span))
                return f"Not changed to {spoken.choice}, marked for review: {named}."
            case "mark":
                return f"Marked for review: {named}."
            case "read_back":
                return f"Last: {named}."
            case "missing":
                missing = ", ".join(self.board.missing)
                return f"Not mentioned yet: {missing}." if missing else "Nothing of the plan is missing."

    # Questions

    def _unsure(self) -> Row | None:
        """The next row to ask about: unsure, with nothing said after it, and not asked before."""
        if self._question is not None:
            row, asked = self._question
            if self.journal.samples - max(asked, self._muted) <= _ANSWER_SECONDS * RATE:
                return None
            self._question = None
            self._show(question="")
        for row in self._record.rows:
            if row.confirm and row.flags != ["inferred_normal"] and (row.key, row.value) not in self._asked:
                return row
        return None

    def _ask(self, row: Row) -> None:
        with self._lock:
            if (row.key, row.value) in self._asked:
                return
            self._asked.add((row.key, row.value))
            self.journal.add_note({"asked": list(row.key), "value": row.value})
            self._question = (row, self.journal.samples)
            question = f"{row_text(row)}?"
            self._show(question=question)
        assert self._say is not None
        self._say(question)

    def _take_answer(self, span: Span, words: list[Word]) -> bool:
        """Whether the utterance answers the question that is open; then it is not talk about the patient."""
        if self._question is None:
            return False
        row, asked = self._question
        if span.start * RATE < asked or span.start * RATE - max(asked, self._muted) > _ANSWER_SECONDS * RATE:
            return False
        meant = understood(words, row, controls(), self._engine.lexicon)
        if meant is None:
            return False
        self._question = None
        self._first.pop(span, None)
        answer = Answer(row.key, row.value, meant[0], meant[1], span)
        self.journal.add_note(
            {
                "answer": list(row.key),
                "value": row.value,
                "said": meant[0],
                "field": meant[1],
                "span": _numbers(span),
            }
        )
        self._account.answers.append(answer)
        self._refresh(question="")
        done = {"yes": "Confirmed", "no": "Left for review"}.get(meant[0], f"Changed to {meant[0]}")
        self._show(message=f"{done}: {row_text(row)}.")
        return True

    # What is known

    def _replay(self) -> None:
        """Takes in what the journal holds: notes first, so that nothing is heard or obeyed twice."""
        for _at, note in self.journal.notes:
            if "reading" in note:
                words = [Word.model_validate(word) for word in note["words"]]
                self._account.readings[Span(*note["reading"])] = Reading(words, note["reason"])
                self._last_heard = _text(words) or self._last_heard
            elif "order" in note:
                spoken = Spoken(note["order"], note["choice"], note["other"])
                self._apply(Order(spoken, Span(*note["span"]), tuple(note["words"])))
            elif "asked" in note:
                manoeuvre, side, site = note["asked"]
                self._asked.add(((manoeuvre, side, site), note["value"]))
            elif "answer" in note:
                manoeuvre, side, site = note["answer"]
                self._account.answers.append(
                    Answer((manoeuvre, side, site), note["value"], note["said"], note["field"], Span(*note["span"]))
                )
        self.journal.notes.clear()
        for first, last in self.journal.damaged:
            self._account.missing.append(
                Unheard(start=first / RATE, end=last / RATE, reason="the journal is damaged here: its sound is lost")
            )
        for first in range(0, self.journal.samples, RATE):
            self._cut(self.journal.read(first, min(first + RATE, self.journal.samples)))
        self._fed = self.journal.samples

    def _refresh(self, **shown: str) -> None:
        self._asks = []
        self._record = self._account.record(self._engine, self._seconds, self._again)
        fields = filled(self._record, self._last_heard, self._plan, self._engine.lexicon, self._seconds)
        self._show(state=self._state, **fields, **shown)

    def _show(self, **fields: Any) -> None:
        self.board = self.board.model_copy(update={"seconds": self._seconds, **fields})
        self._changed(self.board)


def _numbers(span: Span) -> list[float]:
    return [span.start, span.end]


def _text(words: list[Word]) -> str:
    return " ".join(word.text for word in words)
