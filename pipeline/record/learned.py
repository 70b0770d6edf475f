"""What a reviewer's decision teaches about a speaker: which heard words stood for which term, never a side or grade."""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import SequenceMatcher

from sqlalchemy import select
from sqlalchemy.orm import Session

from pipeline.record import schema
from pipeline.record.model import Row
from pipeline.record.trail import Change, State

_NOT_TERMS = frozenset(
    """left right both bilateral bilaterally midline side sides other same symmetrical
    zero one two three four five six seven eight nine ten plus minus grade out of over for to too
    normal abnormal full intact preserved present absent brisk reduced diminished increased decreased altered
    weak strong flexor extensor equivocal mute up down going positive negative impaired sustained beats degrees
    no not none""".split()
)
"""Words that say a side or a value. A mend that touches one of them is not remembered."""


@dataclass(frozen=True)
class Learned:
    """`heard` stood for the lexicon's `term`, as reviewers agreed `count` times."""

    heard: str
    term: str
    count: int


def mended_term(row: Row) -> tuple[str, str] | None:
    """The heard words and the term that a decided row settles, or None when no term of it was mended.

    Only the words that the mend replaced count, and only when it replaced one stretch: two cannot be told apart.
    """
    found = {piece for span in row.evidence for piece in _replaced(span.heard, span.mended)}
    if len(found) != 1:
        return None
    return found.pop(), row.muscle or row.manoeuvre


def settle(session: Session, speaker: str | None, change: Change) -> None:
    """Counts what a change settles about a mended term, and takes back what the state before it had settled."""
    before, after = _settled(change.before), _settled(change.after)
    if speaker is None or before == after:
        return
    for term, step in ((before, -1), (after, 1)):
        if term is not None:
            _count(session, speaker, *term, step)


def _settled(state: State | None) -> tuple[str, str] | None:
    if state is None or state.open or state.decision not in ("confirmed", "chosen", "edited"):
        return None
    return mended_term(state.row)


def _count(session: Session, speaker: str, heard: str, term: str, step: int) -> None:
    # Compared here and not by the database: encrypted, the same words look different each time.
    query = select(schema.LearnedTerm).where(schema.LearnedTerm.speaker == speaker)
    for known in session.scalars(query):
        if (known.heard, known.term) == (heard, term):
            known.count += step
            if known.count <= 0:
                session.delete(known)
            return
    if step > 0:
        session.add(schema.LearnedTerm(speaker=speaker, heard=heard, term=term, count=step))


def _replaced(heard: str, mended: str) -> list[str]:
    said, meant = _words(heard), _words(mended)
    pieces = []
    for change, a, b, c, d in SequenceMatcher(None, said, meant, autojunk=False).get_opcodes():
        if change == "replace" and not _NOT_TERMS.intersection(said[a:b] + meant[c:d]) and not _numeric(said[a:b]):
            pieces.append(" ".join(said[a:b]))
    return pieces


def _words(text: str) -> list[str]:
    return re.findall(r"[^\W_]+(?:['’][^\W_]+)*", text.lower())


def _numeric(words: list[str]) -> bool:
    return any(any(character.isdigit() for character in word) for word in words)
