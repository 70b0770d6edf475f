"""How sure a row is: a fitted model over features of hearing, mending, context and agreement.

The model is a logistic regression, fitted by `scripts/fit_confidence.py` on development cases and stored in
`confidence.json` beside this file, with its own reliability table. `confirm` follows from the target: the
chance of a silent error that the user accepts.
"""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

from pydantic import BaseModel

from pipeline.fill.rows import Draft
from pipeline.hear.words import Word
from pipeline.lexicon.model import Lexicon
from pipeline.mend.mend import Cover, Match, frequency
from pipeline.mend.tokens import Token
from pipeline.record.model import Alternative, Basis, Evidence, Reason, Row, Side, Status
from pipeline.understand.items import ItemKind

ALWAYS_CONFIRMED = frozenset(
    {
        "side_unsaid",
        "grade_unsaid",
        "modality_unsaid",
        "contradiction",
        "inferred_normal",
        "listeners_disagree",
        "side_uncertain",
    }
)
"""Flags that a person must clear whatever the confidence."""
DOUBTS = ("site_uncertain", "manoeuvre_uncertain", "misheard_term", "grade_uncertain")
"""Flags that are kept only on rows which are not sure enough."""
STRAY_FREQUENCY = 4.3
CLEARLY_MENDED = 0.9
LOW_HEARING = 0.15
"""Confidence of a listener in a word below which the word is as good as unheard."""


class ConfidenceModel(BaseModel):
    """Weights of the logistic model. `threshold`: the confidence below which a row is shown to a person."""

    intercept: float
    weights: dict[str, float]
    threshold: float
    fitted_on: str
    reliability: list[dict[str, float]] = []

    def probability(self, features: dict[str, float]) -> float:
        score = self.intercept + sum(self.weights.get(name, 0.0) * value for name, value in features.items())
        return 1 / (1 + math.exp(-max(-30.0, min(30.0, score))))


@cache
def stored_model() -> ConfidenceModel:
    """The model that came with the package."""
    return ConfidenceModel.model_validate_json((Path(__file__).parent / "confidence.json").read_text(encoding="utf-8"))


class Judge:
    """Turns drafts into rows with confidence, flags and evidence."""

    def __init__(self, lexicon: Lexicon, model: ConfidenceModel | None = None) -> None:
        self._model = model or stored_model()
        self._lexicon = lexicon
        self._left_alone = frozenset(word for name in lexicon.phrases.get("leave", ()) for word in name.split())
        self._opposite = {m.id: m.opposite for m in lexicon.manoeuvres if m.opposite}
        self._expected = {m.id: [root.root for root in m.roots] for m in lexicon.manoeuvres}
        self._expected |= {m.id: [root.root for root in m.roots] for m in lexicon.muscles}

    def rows(self, drafts: list[Draft], tokens: list[Token], words: list[Word], cover: Cover) -> list[Row]:
        """One row for each draft, in the same order."""
        covered = _covered(cover, len(tokens))
        self._mended = {match.start: match for match in cover.matches if match.mended}
        return [
            self._row(draft, tokens, words, cover, self.features(draft, tokens, words, covered)) for draft in drafts
        ]

    def features(self, draft: Draft, tokens: list[Token], words: list[Word], covered: list[bool]) -> dict[str, float]:
        """All features of one row, by name."""
        mended = [item.match for item in draft.items if item.match is not None and item.match.mended]
        said = [words[tokens[at].word] for start, end in draft.spans[-1:] for at in range(start, end)]
        strays = sum(
            1
            for start, end in draft.spans[-1:]
            for at in range(max(0, start - 2), end)
            if not covered[at]
            and len(tokens[at].text) > 2
            and frequency(tokens[at].text) < STRAY_FREQUENCY
            and tokens[at].text not in self._left_alone
        )
        hearing = [word.confidence for word in said]
        return {
            **draft.features,
            "mended": float(bool(mended)),
            "mend_doubt": max((1 - match.probability for match in mended), default=0.0),
            "mend_distance": max((match.distance for match in mended), default=0.0),
            "mend_rival": max((match.rival_probability for match in mended), default=0.0),
            "strays": float(min(strays, 4)),
            "span": float(min(sum(end - start for start, end in draft.spans[-1:]), 30)) ** 0.5,
            "homophone": float("grade_uncertain" in draft.flags),
            "group": float(draft.group),
            "inferred": float(draft.inferred),
            "repeats": float(min(draft.repeats - 1, 2)),
            "hearing_doubt": 1 - (sum(hearing) / len(hearing) if hearing else 1.0),
            "hearing_worst": 1 - min(hearing, default=1.0),
            "prompt_only": sum("prompt_only" in word.flags for word in said) / max(1, len(said)),
        }

    def _row(
        self, draft: Draft, tokens: list[Token], words: list[Word], cover: Cover, features: dict[str, float]
    ) -> Row:
        confidence = self._model.probability(features)
        flags = set(draft.flags)
        reversed_ = any(
            item.match is not None
            and item.match.rival_probability > 0.02
            and item.match.rival is not None
            and any(meaning.id == self._opposite.get(draft.manoeuvre) for meaning in item.match.rival.meanings)
            for item in draft.items
        )
        unsure = confidence < self._model.threshold
        if not any(
            item.match is not None and item.match.mended and item.match.probability < CLEARLY_MENDED
            for item in draft.items
        ):
            flags.discard("misheard_term")
        if not unsure and not reversed_:
            flags -= set(DOUBTS)
        flags |= _hearing_flags(draft, tokens, words)
        if reversed_:
            flags.add("misheard_term")
        expected = self._expected.get(draft.muscle or "", []) or self._expected.get(draft.manoeuvre, [])
        if draft.roots and expected and not set(draft.roots) & set(expected):
            flags.add("root_unexpected")
        if unsure and not flags - {"inferred_normal"}:
            flags.add("low_confidence")
        return Row(
            manoeuvre=draft.manoeuvre,
            side=Side(draft.side),
            site=draft.site,
            value=draft.value,
            roots=draft.roots,
            expected_roots=expected,
            muscle=draft.muscle,
            nerve=draft.nerve,
            status=Status.NOT_EXAMINED if draft.reason else Status.EXAMINED,
            reason=Reason(draft.reason) if draft.reason else None,
            basis=Basis.INFERRED if draft.inferred else Basis.STATED,
            confidence=round(confidence, 4),
            confirm=unsure or bool(flags),
            flags=sorted(flags),
            alternatives=_alternatives(draft),
            evidence=_evidence(draft, tokens, words, self._mended),
        )


def _hearing_flags(draft: Draft, tokens: list[Token], words: list[Word]) -> set[str]:
    """What the listeners say against the words that make the value and the side of a row."""
    said = [
        words[tokens[at].word]
        for item in draft.items
        if item.kind in (ItemKind.VALUE, ItemKind.SIDE, ItemKind.NEGATION)
        for at in range(item.start, item.end)
    ]
    flags = {"listeners_disagree"} if any("listeners_disagree" in word.flags for word in said) else set()
    if any(word.confidence < LOW_HEARING for word in said):
        flags.add("low_audio")
    return flags


def _covered(cover: Cover, size: int) -> list[bool]:
    covered = [False] * size
    spans = [(part.start, part.end) for parts in (cover.matches, cover.numbers, cover.roots) for part in parts]
    for start, end in spans:
        covered[start:end] = [True] * (end - start)
    return covered


def _alternatives(draft: Draft) -> list[Alternative]:
    """Other readings that were nearly as likely: the other side, the rival term."""
    found = []
    for item in draft.items:
        match = item.match
        if match is not None and match.rival is not None:
            for meaning in match.rival.meanings:
                if meaning.kind == "manoeuvre" and meaning.id != draft.manoeuvre:
                    found.append(
                        Alternative(slot="manoeuvre", value=meaning.id, probability=round(match.rival_probability, 3))
                    )
                    break
    if "side_uncertain" in draft.flags and draft.side in ("left", "right"):
        found.append(Alternative(slot="side", value="left" if draft.side == "right" else "right", probability=0.3))
    return found


def _evidence(draft: Draft, tokens: list[Token], words: list[Word], mended: dict[int, Match]) -> list[Evidence]:
    found = []
    for start, end in dict.fromkeys(draft.spans):
        first, last = tokens[start].word, tokens[end - 1].word
        said = words[first : last + 1]
        found.append(
            Evidence(
                start=said[0].start,
                end=max(word.end for word in said),
                heard=" ".join(word.text for word in said),
                mended=_mended_text(start, end, tokens, words, mended),
            )
        )
    return found


def _mended_text(start: int, end: int, tokens: list[Token], words: list[Word], mended: dict[int, Match]) -> str:
    """The words of a span with its mended terms put in."""
    out: list[str] = []
    at, last_word = start, -1
    while at < end:
        match = mended.get(at)
        if match is not None and match.end <= end:
            out.append(match.term.text)
            last_word = tokens[match.end - 1].word
            at = match.end
            continue
        if tokens[at].word != last_word:
            last_word = tokens[at].word
            out.append(words[last_word].text)
        at += 1
    return " ".join(out)
