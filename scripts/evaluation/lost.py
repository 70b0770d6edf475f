"""Results that were said and left no trace: neither a row, nor an entry that a person must clear."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from pipeline.lexicon import Lexicon
from pipeline.record.model import ExamRecord
from scripts.speech.voices import Sentence


def lost_rows(
    missed: Sequence[dict[str, Any]], record: ExamRecord, sentences: Sequence[Sentence], lexicon: Lexicon
) -> list[dict[str, Any]]:
    """Those of the `missed` rows of which nothing tells a person that something was said.

    A row's place is every sentence that names its manoeuvre or one of its muscles. It is accounted for where an
    unplaced or unheard entry touches one of them. A row that no sentence names ("power is full throughout") is lost.
    """
    entries = [(one.start, one.end) for one in (*record.unplaced, *record.unheard)]
    return [
        row
        for row in missed
        if not any(
            start < one.end and end > one.start
            for one in sentences
            if _names(row["manoeuvre"], lexicon).search(one.text)
            for start, end in entries
        )
    ]


def _names(manoeuvre: str, lexicon: Lexicon) -> re.Pattern[str]:
    names = [name for one in lexicon.manoeuvres if one.id == manoeuvre for name in (*one.names, *one.section_names)]
    names += [name for one in lexicon.muscles if one.manoeuvre == manoeuvre for name in one.names]
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, names))})\b", re.IGNORECASE)
