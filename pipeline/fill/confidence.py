"""Judges drafts: how sure a row is, and whether a person must confirm it."""

from __future__ import annotations

from pipeline.fill.rows import Draft
from pipeline.hear.words import Word
from pipeline.lexicon.model import Lexicon
from pipeline.mend.mend import Cover
from pipeline.mend.tokens import Token
from pipeline.record.model import Basis, Evidence, Reason, Row, Side, Status


class Judge:
    def __init__(self, lexicon: Lexicon) -> None:
        self._lexicon = lexicon

    def rows(self, drafts: list[Draft], tokens: list[Token], words: list[Word], cover: Cover) -> list[Row]:
        return judge(drafts, tokens, words)


def judge(drafts: list[Draft], tokens: list[Token], words: list[Word]) -> list[Row]:
    rows = []
    for draft in drafts:
        probability = 0.99
        for item in draft.items:
            probability = min(probability, item.probability)
        flags = set(draft.flags)
        if probability > 0.8:
            flags.discard("misheard_term")
        confirm = bool(flags)
        rows.append(
            Row(
                manoeuvre=draft.manoeuvre,
                side=Side(draft.side),
                site=draft.site,
                value=draft.value,
                roots=draft.roots,
                muscle=draft.muscle,
                nerve=draft.nerve,
                status=Status.NOT_EXAMINED if draft.reason else Status.EXAMINED,
                reason=Reason(draft.reason) if draft.reason else None,
                basis=Basis.INFERRED if draft.inferred else Basis.STATED,
                confidence=probability,
                confirm=confirm,
                flags=sorted(flags),
                evidence=[
                    Evidence(
                        start=words[tokens[a].word].start,
                        end=words[tokens[b - 1].word].end,
                        heard=" ".join(w.text for w in words[tokens[a].word : tokens[b - 1].word + 1]),
                        mended="",
                    )
                    for a, b in draft.spans
                ],
            )
        )
    return rows
