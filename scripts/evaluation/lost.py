"""Results that were said and left no trace: neither a row, nor an entry that a person must clear."""

from __future__ import annotations

import re
from collections.abc import Sequence

from pipeline.engine import Engine
from pipeline.hear.words import Heard, Utterance, Word
from pipeline.lexicon import Lexicon
from pipeline.record.model import ExamRecord
from scripts.evaluation.score import Row, paired
from scripts.speech.voices import Sentence

Span = tuple[float, float]


def lost_rows(
    missed: Sequence[Row], extra: Sequence[Row], record: ExamRecord, said: Sequence[tuple[Row, list[Span]]]
) -> list[Row]:
    """Those of the `missed` rows that ended nowhere.

    A row ended somewhere where, at the time at which it was `said`, an unplaced or unheard entry stands, one of the
    `extra` rows that nobody wanted, or a row flagged as a contradiction, whose evidence shows the result that it
    replaced; each row stands for one.
    """
    entries = [(one.start, one.end) for one in (*record.unplaced, *record.unheard)]
    places = {id(row): spans for row, spans in said}
    contradicted = [row.model_dump(mode="json") for row in record.rows if "contradiction" in row.flags and row.confirm]
    free = [*extra, *(row for row in contradicted if row not in extra)]
    lost: list[Row] = []
    for row in missed:
        spans = places[id(row)]
        if _touch(spans, entries):
            continue
        instead = next((one for one in free if _touch(spans, _times(one))), None)
        if instead is None:
            lost.append(row)
        else:
            free.remove(instead)
    return lost


def said_at(rows: Sequence[Row], sentences: Sequence[Sentence], engine: Engine) -> list[tuple[Row, list[Span]]]:
    """When each row was said, in seconds: where the engine finds it in the sentences as written; for a row that it does
    not find there, every sentence that names its manoeuvre or one of its muscles; and where none does, the time between
    the rows before and after it, which a case lists as they were said.
    """
    utterances = [_utterance(one) for one in sentences]
    read = engine.structure(Heard(utterances=utterances, duration=sentences[-1].end))
    pairs, _ = paired([row.model_dump(mode="json") for row in read.rows], rows)
    said = [(want, _named(want, sentences, engine.lexicon) if got is None else _times(got)) for got, want in pairs]
    times = {id(row): spans for row, spans in said}
    in_order = [times[id(row)] for row in rows]
    for at, row in enumerate(rows):
        if not times[id(row)]:
            before = [spans[-1][1] for spans in in_order[:at] if spans]
            after = [spans[0][0] for spans in in_order[at + 1 :] if spans]
            times[id(row)] = [(before[-1] if before else 0.0, after[0] if after else sentences[-1].end)]
    return [(row, times[id(row)]) for row, _ in said]


def _utterance(sentence: Sentence) -> Utterance:
    words = sentence.text.split()
    each = (sentence.end - sentence.start) / len(words)
    return Utterance(
        words=[
            Word(text=word, start=sentence.start + at * each, end=sentence.start + (at + 1) * each)
            for at, word in enumerate(words)
        ]
    )


def _times(row: Row) -> list[Span]:
    return [(one["start"], one["end"]) for one in row["evidence"]]


def _touch(some: Sequence[Span], others: Sequence[Span]) -> bool:
    return any(start < end_ and end > start_ for start, end in some for start_, end_ in others)


def _named(row: Row, sentences: Sequence[Sentence], lexicon: Lexicon) -> list[Span]:
    manoeuvre = row["manoeuvre"]
    names = [name for one in lexicon.manoeuvres if one.id == manoeuvre for name in (*one.names, *one.section_names)]
    names += [name for one in lexicon.muscles if one.manoeuvre == manoeuvre for name in one.names]
    pattern = re.compile(rf"\b(?:{'|'.join(map(re.escape, names))})\b", re.IGNORECASE)
    return [(one.start, one.end) for one in sentences if pattern.search(one.text)]
