"""What a reviewer's decision teaches about a speaker: which heard words stood for which term, never a side or grade."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cache

from sqlalchemy import select
from sqlalchemy.orm import Session

from pipeline.record import schema
from pipeline.record.model import Evidence, Row
from pipeline.record.trail import Change, Content, State

_NOT_TERMS = frozenset(
    """left right both bilateral bilaterally midline zero one three five six seven eight nine ten plus minus grade
    normal abnormal full intact preserved present absent brisk reduced diminished increased decreased altered
    weak strong positive negative impaired not none""".split()
)
"""Words that say a side or a value. A mend that touches one of them is not remembered."""
_MAY_BE_GRADES = frozenset("to too two for four".split())
"""Words that are part of many misheard terms ("to be alice"), but after one are more likely its grade."""

_EVERYDAY = 5.0
_EVERYDAY_ALONE = 4.0
"""Zipf frequencies from which heard words are too common to stand for a term wherever they occur: common practice."""
_FARTHEST = 0.3
"""Distance in sound from which heard words are not learned as a term that a person put in place of the engine's.

Tried on fifteen mishearings and every manoeuvre and muscle: one in fourteen is nearer than that by chance.
"""
_NEAR_TIE = 0.05

Words = tuple[str, ...]


@dataclass(frozen=True)
class Learned:
    """`heard` stood for the lexicon's `term` when `speaker` spoke, as reviewers agreed `count` times."""

    speaker: str
    heard: str
    term: str
    count: int


def agreed(found: Iterable[Learned]) -> dict[str, str]:
    """Heard words -> term, for the engine; without words that reviewers took for two terms equally often."""
    counts: dict[str, dict[str, int]] = defaultdict(dict)
    for one in found:
        counts[one.heard][one.term] = one.count
    terms = {}
    for heard, of_heard in counts.items():
        most = max(of_heard.values())
        best = [term for term, count in of_heard.items() if count == most]
        if len(best) == 1:
            terms[heard] = best[0]
    return terms


def mishearings(original: Row, decided: Row) -> frozenset[tuple[str, str]]:
    """(heard words, term) of each mended term that a decision settles.

    `original` is the row as the engine left it. A term counts when it named what the engine took the row for; where
    the reviewer put something else there, a name of that which sounds like the heard words, if there is one. Nothing
    is learned where the opposite movement was nearly as likely, or of words too common to mean the term everywhere.
    """
    names = _names()
    opposite = names.opposite.get(original.manoeuvre)
    others = {one.value for one in original.alternatives if one.slot == "manoeuvre"}
    if opposite is not None and opposite in {decided.manoeuvre, *others}:
        return frozenset()
    was = {original.manoeuvre, original.muscle}
    now = was if was == {decided.manoeuvre, decided.muscle} else {decided.muscle or decided.manoeuvre}
    spans = [names.in_span(span) for span in original.evidence]
    said = {name for span in spans for _, name in span}
    found = set()
    for heard, name in {one for span in spans for one in span}:
        if heard == name or not names.ids[name] & was or not _may_be_learned(heard):
            continue
        term: Words | None = name
        if not names.ids[name] & now:
            # Where the right name was heard too, the row was put wrongly, not misheard.
            term = None if any(names.ids[other] & now for other in said) else names.sounding_like(heard, decided)
        if term is not None:
            found.add((" ".join(heard), " ".join(term)))
    return frozenset(found)


def settle(session: Session, exam: schema.Examination, change: Change) -> None:
    """Counts what a change settles about mended terms, and takes back what the state before it had settled."""
    if exam.speaker is None or not (_teaches(change.before) or _teaches(change.after)):
        return
    original = _original(session, exam.id, change.item)
    if original is None:
        return
    before, after = (
        mishearings(original, state.row) if state is not None and _teaches(state) else frozenset()
        for state in (change.before, change.after)
    )
    for heard, term in before - after:
        _count(session, exam.speaker, heard, term, -1)
    for heard, term in after - before:
        _count(session, exam.speaker, heard, term, 1)


def _teaches(state: State | None) -> bool:
    if state is None or state.open or state.decision not in ("confirmed", "chosen", "edited"):
        return False
    return any(span["heard"] != span["mended"] for span in state.data["evidence"])


def _original(session: Session, exam_id: str, item: str) -> Row | None:
    """The row as it came into the examination; None where a reviewer added it."""
    first = session.scalar(select(schema.Entry.change).where(schema.Entry.exam_id == exam_id, schema.Entry.number == 1))
    changes = Content.model_validate_json(first).changes if first else []
    return next((one.after.row for one in changes if one.item == item and one.after is not None), None)


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


class _Names:
    """The lexicon's names of manoeuvres and muscles."""

    def __init__(self) -> None:
        from pipeline.lexicon import load

        lexicon = load()
        self.opposite = {one.id: one.opposite for one in lexicon.manoeuvres}
        self.ids: dict[Words, set[str | None]] = defaultdict(set)
        self._names: dict[str, list[Words]] = defaultdict(list)
        named: list[tuple[tuple[str, ...], list[str]]] = [((one.id,), one.names) for one in lexicon.manoeuvres]
        named += [((one.id, one.manoeuvre), one.names) for one in lexicon.muscles]
        for ids, names in named:
            for words in [tuple(name.lower().replace("-", " ").split()) for name in names]:
                self.ids[words].update(ids)
                for named_one in ids:
                    self._names[named_one].append(words)
        self._longest = max(map(len, self.ids))

    def in_span(self, span: Evidence) -> list[tuple[Words, Words]]:
        """Each name in the mended words, with the words heard there; without names that cannot be told apart."""
        heard, mended = _tokens(span.heard), _tokens(span.mended)
        steps = SequenceMatcher(None, heard, mended, autojunk=False).get_opcodes()
        starts, ends = {0: 0}, {0: 0}
        for kind, a, b, c, d in steps:
            for offset in range(d - c + 1 if kind == "equal" else 1):
                starts[c + offset] = a + offset
                ends.setdefault(c + offset, a + offset)
            starts[d] = b
            ends.setdefault(d, b)
        found, at = [], 0
        while at < len(mended):
            sizes = range(min(self._longest, len(mended) - at), 0, -1)
            size = next((size for size in sizes if mended[at : at + size] in self.ids), 0)
            if size and at in starts and at + size in ends:
                found.append((heard[starts[at] : ends[at + size]], mended[at : at + size]))
            at += size or 1
        return found

    def sounding_like(self, heard: Words, row: Row) -> Words | None:
        """The name of what a row names that sounds most like the heard words; None where none sounds like them.

        Of names that sound nearly as much like them the first is the one in use.
        """
        from pipeline.mend.nearest import span_sounds
        from pipeline.mend.sound import distance

        sounds = span_sounds(heard)
        gaps = {
            name: min((distance(one, other) for one in sounds for other in span_sounds(name)), default=1.0)
            for name in self._names.get(row.muscle or row.manoeuvre, [])
        }
        least = min(gaps.values(), default=1.0)
        if least >= _FARTHEST:
            return None
        return next(name for name, gap in gaps.items() if gap <= least + _NEAR_TIE)


@cache
def _names() -> _Names:
    return _Names()


def _may_be_learned(heard: Words) -> bool:
    from pipeline.mend.words import frequency

    if not heard or heard[-1] in _MAY_BE_GRADES:
        return False
    if any(word in _NOT_TERMS or any(letter.isdigit() for letter in word) for word in heard):
        return False
    rarest = min(map(frequency, heard))
    return rarest < (_EVERYDAY_ALONE if len(heard) == 1 else _EVERYDAY)


def _tokens(text: str) -> Words:
    """The words as the engine compares them."""
    # The engine takes a moment to load, and most commands about records never need it.
    from pipeline.hear.words import Heard, Utterance, Word
    from pipeline.mend.tokens import tokenise

    words = [Word(text=word, start=0, end=0) for word in text.split()]
    tokens, _ = tokenise(Heard(utterances=[Utterance(words=words)])) if words else ([], [])
    return tuple(token.text for token in tokens)
