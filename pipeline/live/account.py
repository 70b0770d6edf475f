"""From all that was heard and asked for so far to the record: a plain function, so that a crash changes nothing.

A control that changes a result becomes the words that say so, at its time, and the engine's own rules for corrections
do the rest: later results follow a changed side, a later statement stands against a changed grade.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from pipeline.engine import Analysis, Engine
from pipeline.hear import assemble
from pipeline.hear.agree import DISAGREE, spoken_words
from pipeline.hear.listener import Reading
from pipeline.hear.speech import Span
from pipeline.hear.words import Again, Heard, Word
from pipeline.lexicon.live import GRADES, Controls
from pipeline.lexicon.model import Lexicon
from pipeline.live.controls import Spoken
from pipeline.record.decide import confirmed, edited
from pipeline.record.errors import StoreError
from pipeline.record.model import ExamRecord, Row, Unheard

MARKED = "marked_for_review"
"""Flag of a row that the examiner marked while dictating."""

Key = tuple[str, str, str | None]

_SAID = {grade: said for said, grade in GRADES.items()}


@dataclass(frozen=True)
class Order:
    """A control that was given, by voice or by hand, at `span`. `words`: the sentences that it became."""

    spoken: Spoken
    span: Span
    words: tuple[str, ...] = ()


@dataclass(frozen=True)
class Answer:
    """What the examiner answered about the row `key`: "yes", "no", or what it should be: (field, value)."""

    key: Key
    value: str | None
    said: str
    field: str
    span: Span


@dataclass
class Account:
    """All that a dictation knows. `readings`: by span; without those that were controls or answers."""

    readings: dict[Span, Reading] = field(default_factory=dict)
    orders: list[Order] = field(default_factory=list)
    answers: list[Answer] = field(default_factory=list)
    missing: list[Unheard] = field(default_factory=list)

    def heard(self, duration: float, again: Again) -> Heard:
        """The words, with those of the orders in their places; `again` asks the sound once more."""
        spoken = [*self.readings.items(), *(said for order in self.orders for said in _as_words(order))]
        ordered = sorted(spoken, key=lambda one: (one[0].start, one[0].end))
        return assemble(ordered, duration, self.missing).model_copy(update={"again": again})

    def record(self, engine: Engine, duration: float, again: Again) -> ExamRecord:
        """The record so far."""
        return self._decided(engine.structure(self.heard(duration, again)))

    def analysis(self, engine: Engine, duration: float, again: Again) -> Analysis:
        """The record and the transcript."""
        found = engine.analyse(self.heard(duration, again))
        return Analysis(self._decided(found.record), found.transcript)

    def _decided(self, record: ExamRecord) -> ExamRecord:
        rows = {row.key: row for row in record.rows}
        for order in self.orders:
            if order.spoken.control == "mark":
                for row in last_rows(record.rows, order.span.end):
                    rows[row.key] = row.model_copy(update={"confirm": True, "flags": [*row.flags, MARKED]})
        for answer in self.answers:
            row_ = rows.get(answer.key)
            if row_ is not None and said_until(row_) <= answer.span.end and row_.value == answer.value:
                rows[answer.key] = _answered(row_, answer)
        return record.model_copy(update={"rows": list(rows.values())})


def last_rows(rows: Iterable[Row], time: float) -> list[Row]:
    """The rows of the last result that was said up to `time`, in seconds."""
    said = [row for row in rows if row.evidence and said_until(row) <= time]
    last = max((said_until(row) for row in said), default=0.0)
    return [row for row in said if said_until(row) == last]


def said_until(row: Row) -> float:
    """When the last words for the row ended, in seconds."""
    return max((span.end for span in row.evidence), default=0.0)


def understood(words: Sequence[Word], row: Row, spoken: Controls, lexicon: Lexicon) -> tuple[str, str] | None:
    """What the answer to a question about `row` means: ("yes" or "no", "") or (value, field); None: it is no answer."""
    said = " ".join(spoken_words(" ".join(word.text for word in words)))
    for meaning, phrases in spoken.answers.items():
        if said in phrases:
            return meaning, ""
    for phrase in sorted((one for phrases in spoken.answers.values() for one in phrases), key=len, reverse=True):
        said = said.removeprefix(f"{phrase} ")
    if said in ("left", "right") and row.side.value != "midline":
        return said, "side"
    scale = next(one.scale for one in lexicon.manoeuvres if one.id == row.manoeuvre)
    values = next(one for one in lexicon.scales if one.id == scale)
    known = {phrase: value.value for value in values.values for phrase in (*value.say, value.value)}
    if values.grades == "reflex":
        known |= {say: f"{grade[0]}+" if grade[0] != "0" else "0" for say, grade in GRADES.items() if grade[-1:] != "-"}
    elif values.grades == "mrc":
        known |= GRADES
    return (known[said], "value") if said in known else None


def _answered(row: Row, answer: Answer) -> Row:
    if answer.said == "yes":
        return confirmed(row)
    if answer.said == "no":
        return row
    try:
        return edited(row, {answer.field: answer.said})
    except StoreError:
        return row


def words_for(spoken: Spoken, rows: Sequence[Row], lexicon: Lexicon) -> list[str]:
    """The sentences that say what a control asks of the last result, `rows`; none where nothing is to be said."""
    match spoken.control:
        case "scratch":
            return ["scratch that"]
        case "grade":
            return [f"correction, grade {_SAID[spoken.choice]}"]
        case "side" if len(rows) == 1 and rows[0].value is not None and rows[0].side.value != "midline":
            # Said anew: "correction, left" alone would be taken for the side of what comes next.
            return ["scratch that", _stated(rows[0], spoken.choice, lexicon)]
        case _:
            return []


def _stated(row: Row, side: str, lexicon: Lexicon) -> str:
    manoeuvre = next(one for one in lexicon.manoeuvres if one.id == row.manoeuvre)
    scale = next(one for one in lexicon.scales if one.id == manoeuvre.scale)
    said = next((value.say[0] for value in scale.values if value.value == row.value and value.say), row.value or "")
    if scale.grades in ("mrc", "reflex") and row.value in _SAID:
        said = _SAID[row.value]
    site = next((f"at the {one.names[0]}" for one in lexicon.sites if one.id == row.site), row.site or "")
    return " ".join([side, manoeuvre.names[0], site, said, *row.roots])


def _as_words(order: Order) -> list[tuple[Span, Reading]]:
    """The order's sentences, one after the other in its time."""
    count = max(1, sum(len(sentence.split()) for sentence in order.words))
    step = order.span.duration / count
    found, at = [], order.span.start
    for sentence in order.words:
        words = []
        for text in sentence.split():
            words.append(Word(text=text, start=at, end=at + step))
            at += step
        if order.spoken.other and sentence is order.words[-1]:
            other = order.spoken.other
            doubted = {"confidence": 0.5, "alternatives": (_SAID.get(other, other),), "flags": (DISAGREE,)}
            words[-1] = words[-1].model_copy(update=doubted)
        found.append((Span(words[0].start, words[-1].end), Reading(words)))
    return found
