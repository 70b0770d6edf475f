"""How sure a row is: a fitted model over features of hearing, mending, context and agreement.

The model is a logistic regression, fitted by `scripts/fit_confidence.py` on development cases and stored in
`confidence.json` beside this file, with its own reliability table. `confirm` follows from the target: the
chance of a silent error that the user accepts.
"""

from __future__ import annotations

import math
import os
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from pydantic import BaseModel

from pipeline.fill.again import Answer, SlotListener, Slots
from pipeline.fill.drafts import Draft
from pipeline.hear.agree import AGREE, LEXICON_WON
from pipeline.hear.errors import InputError
from pipeline.hear.words import Heard, Word
from pipeline.lexicon.model import Lexicon
from pipeline.mend.matches import Cover, Match
from pipeline.mend.tokens import Token
from pipeline.mend.words import frequency
from pipeline.record.model import Alternative, Basis, Evidence, Reason, Row, Side, Status
from pipeline.understand.items import Item, ItemKind

ALWAYS_CONFIRMED = frozenset(
    {
        "side_unsaid",
        "grade_unsaid",
        "modality_unsaid",
        "value_uncertain",
        "manoeuvre_unsaid",
        "contradiction",
        "inferred_normal",
        "listeners_disagree",
        "side_uncertain",
        "limb_unexpected",
        "may_be_taken_back",
    }
)
"""Flags that a person must clear whatever the confidence."""
DOUBTS = ("site_uncertain", "manoeuvre_uncertain", "misheard_term", "grade_uncertain")
"""Flags that are kept only on rows which are not sure enough."""
STRAY_FREQUENCY = 4.3
CLEARLY_MENDED = 0.9
_TORN = 0.35
"""Probability of another name from which a person is always asked which was said; 0.5 is a tie."""
LOW_HEARING = 0.15
"""Confidence of a listener in a word below which the word is as good as unheard."""
ACCEPTED_VARIABLE = "SPOKEN_EXAM_ACCEPTED"
SURE = 0.9
"""Probability from which the second listen speaks for a value."""
PASSES = {"side": 0.9, "value": 0.75, "manoeuvre": 0.75}
"""Least probability by the second listen with which a slot that it was asked about passes unseen."""
_AROUND = 20
"""Words on either side of a result that tell how well speech was heard there."""
_NEARBY = 8.0
"""Seconds within which speech without words casts doubt on a row."""
_SIDES = frozenset(("left", "right"))


class ConfidenceModel(BaseModel):
    """Weights of the logistic model. `accepted`: the chance of being wrong above which a row is shown to a person."""

    intercept: float
    weights: dict[str, float]
    accepted: float
    fitted_on: str
    reliability: list[dict[str, float]] = []

    def probability(self, features: dict[str, float]) -> float:
        score = self.intercept + sum(self.weights.get(name, 0.0) * value for name, value in features.items())
        return 1 / (1 + math.exp(-max(-30.0, min(30.0, score))))


@cache
def stored_model() -> ConfidenceModel:
    """The model that came with the package."""
    return ConfidenceModel.model_validate_json((Path(__file__).parent / "confidence.json").read_text(encoding="utf-8"))


@dataclass(frozen=True)
class Judged:
    """What the confidence of a row follows from: features by name, and the answers of the second listen.

    `mended`: the mended terms of the talk, by token.
    """

    features: dict[str, float]
    answers: list[Answer]
    mended: dict[int, Match]


class Judge:
    """Turns drafts into rows with confidence, flags and evidence."""

    def __init__(self, lexicon: Lexicon, model: ConfidenceModel | None = None, accepted: float | None = None) -> None:
        self._model = model or stored_model()
        self._threshold = 1 - (self._accepted() if accepted is None else accepted)
        self._slots = Slots(lexicon)
        self._left_alone = frozenset(word for name in lexicon.phrases.get("leave", ()) for word in name.split())
        self._opposite = {m.id: m.opposite for m in lexicon.manoeuvres if m.opposite}
        self._expected = {m.id: [root.root for root in m.roots] for m in lexicon.manoeuvres}
        self._expected |= {m.id: [root.root for root in m.roots] for m in lexicon.muscles}

    def _accepted(self) -> float:
        """The chance of a wrong row that passes, as the user or the stored model has it."""
        said = os.environ.get(ACCEPTED_VARIABLE)
        if not said:
            return self._model.accepted
        try:
            accepted = float(said)
        except ValueError:
            accepted = math.nan
        if not 0 <= accepted <= 1:
            raise InputError(f"{ACCEPTED_VARIABLE} is '{said}': give a chance from 0 to 1, such as 0.05, or unset it")
        return accepted

    def rows(self, drafts: list[Draft], tokens: list[Token], words: list[Word], judged: list[Judged]) -> list[Row]:
        """One row for each draft, in the same order; of "the left is the same" none is surer than what it repeats."""
        sure = {
            (draft.key, draft.value): self._model.probability(one.features)
            for draft, one in zip(drafts, judged, strict=True)
        }
        rows = []
        for draft, one in zip(drafts, judged, strict=True):
            first = draft.copied or draft
            certain = min(sure[draft.key, draft.value], sure.get((first.key, first.value), 1.0))
            rows.append(self.row(draft, tokens, words, one, certain))
        return rows

    def judge(
        self,
        drafts: list[Draft],
        tokens: list[Token],
        words: list[Word],
        cover: Cover,
        items: Sequence[Item],
        heard: Heard,
    ) -> list[Judged]:
        """The features of each draft by name, and what the sound said when it was asked again.

        `items` are those of the whole talk; `heard` tells what was heard of it, and asks the sound once more.
        """
        covered = _covered(cover, len(tokens))
        changed = {match.start: match for match in cover.matches if match.mended}
        slots = SlotListener(self._slots, tokens, words, heard.again) if heard.again is not None else None
        around = Surroundings(tokens, words, [item for item in items if item.kind is ItemKind.SIDE], heard)
        judged = []
        for draft in drafts:
            mention = around.side_mention(draft)
            parts = [*draft.items, *([mention] if mention is not None else [])]
            answers = slots.answers(draft.manoeuvre, parts) if slots is not None else []
            features = {
                **self._features(draft, tokens, words, covered),
                **around.features(draft, parts, mention),
                **_second_features(answers),
            }
            judged.append(Judged(features, answers, changed))
        return judged

    def _features(self, draft: Draft, tokens: list[Token], words: list[Word], covered: list[bool]) -> dict[str, float]:
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

    def row(self, draft: Draft, tokens: list[Token], words: list[Word], judged: Judged, confidence: float) -> Row:
        """The row of a judged draft."""
        flags = set(draft.flags)
        reversed_ = any(
            item.match is not None
            and item.match.rival_probability > 0.02
            and item.match.rival is not None
            and any(meaning.id == self._opposite.get(draft.manoeuvre) for meaning in item.match.rival.meanings)
            for item in draft.items
        )
        torn = any(item.match is not None and _is_torn(item.match) for item in draft.items)
        unsure = confidence < self._threshold
        if not any(
            item.match is not None and item.match.mended and item.match.probability < CLEARLY_MENDED
            for item in draft.items
        ):
            flags.discard("misheard_term")
        if not unsure and not reversed_:
            flags -= set(DOUBTS)
        flags |= _hearing_flags(draft, tokens, words, judged)
        if reversed_ or torn:
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
            alternatives=_alternatives(draft, judged.answers),
            evidence=_evidence(draft, tokens, words, judged.mended),
        )


def _is_torn(match: Match) -> bool:
    """A mended name that sounds nearly as much like the name of another test."""
    meant = {meaning.id for meaning in match.term.meanings if meaning.kind in ("manoeuvre", "muscle")}
    other = {meaning.id for meaning in match.rival.meanings} if match.rival is not None else meant
    return bool(meant) and match.rival_probability > _TORN and meant.isdisjoint(other)


class Surroundings:
    """How well speech was heard around a row, and the mention of the side that it carries on."""

    def __init__(self, tokens: list[Token], words: list[Word], sides: Sequence[Item], heard: Heard) -> None:
        self._tokens, self._words = tokens, words
        self._sides = sides
        self._starts = [item.start for item in sides]
        self._unheard = heard.unheard
        agreed = [AGREE in word.flags for word in words]
        # Only where two listeners heard does it mean something that they do not agree.
        self._agreed = agreed if any(agreed) else [True] * len(words)

    def features(self, draft: Draft, parts: Sequence[Item], mention: Item | None) -> dict[str, float]:
        """Doubts, each 0 where nothing speaks against the hearing of the parts of the row, and around it."""
        slots = {self._tokens[at].word for item in parts for at in range(item.start, item.end)}
        first = min((self._tokens[start].word for start, _ in draft.spans[-1:]), default=0)
        last = max((self._tokens[end - 1].word for _, end in draft.spans[-1:]), default=-1)
        near = range(max(0, first - _AROUND), min(len(self._words), last + 1 + _AROUND))
        start, end = (self._words[first].start, self._words[last].end) if self._words else (0.0, 0.0)
        return {
            "slot_doubt": 1 - min((self._words[at].confidence for at in slots), default=1.0),
            "slot_alone": sum(not self._agreed[at] for at in slots) / max(1, len(slots)),
            "slot_replaced": float(any(LEXICON_WON in self._words[at].flags for at in slots)),
            "around_alone": sum(not self._agreed[at] for at in near) / max(1, len(near)),
            "around_doubt": 1 - sum(self._words[at].confidence for at in near) / len(near) if near else 0.0,
            "unheard_near": float(
                any(one.start < end + _NEARBY and one.end > start - _NEARBY for one in self._unheard)
            ),
            "side_missed": float(self.side_may_be_missed(draft, mention)),
        }

    def side_mention(self, draft: Draft) -> Item | None:
        """Where the side that the draft carries on was said; None where it was said with the result."""
        if draft.side not in _SIDES or draft.side_source != "carried" or not draft.spans:
            return None
        at = bisect_left(self._starts, draft.spans[-1][0]) - 1
        return self._sides[at] if at >= 0 and draft.side in self._sides[at].ids else None

    def side_may_be_missed(self, draft: Draft, mention: Item | None) -> bool:
        """Whether a listener heard another side between the mention of the side and the row."""
        if mention is None:
            return False
        other = next(iter(_SIDES - {draft.side}))
        between = self._words[self._tokens[mention.end - 1].word + 1 : self._tokens[draft.spans[-1][1] - 1].word + 1]
        return any(other in reading.lower().split() for word in between for reading in word.alternatives)


def _second_features(answers: Sequence[Answer]) -> dict[str, float]:
    return {
        "again_doubt": max((1 - answer.said for answer in answers), default=0.0),
        "again_against": max((answer.rival for answer in answers), default=0.0) ** 2,
        "again_sure": float(bool(answers) and min(answer.said for answer in answers) >= SURE),
    }


def _hearing_flags(draft: Draft, tokens: list[Token], words: list[Word], judged: Judged) -> set[str]:
    """What the listeners, and the second listen, say against the words that make a row."""
    said = [
        words[tokens[at].word]
        for item in draft.items
        if item.kind in (ItemKind.VALUE, ItemKind.SIDE, ItemKind.NEGATION)
        for at in range(item.start, item.end)
    ]
    flags = {"listeners_disagree"} if any("listeners_disagree" in word.flags for word in said) else set()
    if any(answer.rival > answer.said for answer in judged.answers):
        flags.add("listeners_disagree")
    # A side or a value that one listener alone heard passes only if the second listen heard it too.
    if any(word.confidence < LOW_HEARING for word in said) or any(
        answer.said < PASSES.get(answer.slot, 0.0) for answer in judged.answers
    ):
        flags.add("low_audio")
    if judged.features["side_missed"]:
        flags.add("side_uncertain")
    return flags


def _covered(cover: Cover, size: int) -> list[bool]:
    covered = [False] * size
    spans = [(part.start, part.end) for parts in (cover.matches, cover.numbers, cover.roots) for part in parts]
    for start, end in spans:
        covered[start:end] = [True] * (end - start)
    return covered


def _alternatives(draft: Draft, answers: Sequence[Answer]) -> list[Alternative]:
    """Other readings that were nearly as likely: what the second listen heard, the other side, the rival term."""
    found = [
        Alternative(slot="side" if answer.slot == "side" else "value", value=answer.other, probability=answer.rival)
        for answer in answers
        if answer.slot in ("side", "value") and answer.rival > 1 - SURE
    ]
    for item in draft.items:
        match = item.match
        if match is not None and match.rival is not None:
            for meaning in match.rival.meanings:
                if meaning.kind == "manoeuvre" and meaning.id != draft.manoeuvre:
                    found.append(
                        Alternative(slot="manoeuvre", value=meaning.id, probability=round(match.rival_probability, 3))
                    )
                    break
    known = any(one.slot == "side" for one in found)
    if "side_uncertain" in draft.flags and draft.side in ("left", "right") and not known:
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
