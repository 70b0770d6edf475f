"""Fits the confidence of rows on development cases; stores it with its reliability table; draws how honest it is.

Usage: python scripts/fit_confidence.py [--accepted 0.07]

Fitted on: the cases at odd positions (1st, 3rd, ...) of each file in tests/cases, each as spoken and as a recogniser
wrote it, and recordings of them in five voices, with the second listen and without. Held out, for the figures and the
drawings: the cases at even positions, and recordings of them in five other voices. Recordings are heard on the first
run, which takes about 20 minutes; after that what was heard is kept, and a run takes a minute or two.
"""

from __future__ import annotations

import itertools
import sys
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click
import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from pipeline.engine import Engine  # noqa: E402
from pipeline.fill.confidence import ConfidenceModel, Judge, Judged  # noqa: E402
from pipeline.fill.drafts import Draft  # noqa: E402
from pipeline.hear.words import Heard, Word  # noqa: E402
from pipeline.mend.tokens import Token  # noqa: E402
from pipeline.understand.pipeline import read  # noqa: E402
from scripts.evaluation import honesty  # noqa: E402
from scripts.evaluation.recognised import KeptReplay, Recogniser  # noqa: E402
from scripts.evaluation.sample import CONDITIONS, Part, case_files, recordings  # noqa: E402
from tests.scoring import AUTHORED, heard, matches, read_cases  # noqa: E402

DOUBTS = frozenset(
    """mend_doubt mend_distance mend_rival mended strays hearing_doubt hearing_worst prompt_only homophone
        rival_side rival_other carried_subject orphans gap crossing everyday bare_grade side_carried side_since
        side_other_section slot_doubt slot_alone slot_replaced around_alone around_doubt unheard_near side_missed
        again_doubt again_against""".split()
)
"""More of these never raises the confidence, whatever a small sample says."""
SUPPORTS = frozenset("repeats again_sure".split())
"""More of these never lowers it."""
RECORDINGS = 12
SPEECH = 3.0
"""Weight of a row from a recording against one from text, of which there are far more."""
RIDGE = 3.0
FOLDS = 8
MODEL = ROOT / "pipeline" / "fill" / "confidence.json"
DRAWINGS = ROOT / "docs" / "img"

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Example:
    """One row before its confidence is known, and whether it is right.

    `source`: text, or a condition of recording; `unsettled`: heard without the second listen.
    """

    case: str
    source: str
    weight: float
    unsettled: bool
    right: bool
    draft: Draft
    tokens: list[Token]
    words: list[Word]
    judged: Judged


def examples(engine: Engine, part: Part) -> list[Example]:
    """Every row of every talk of one part."""
    found: list[Example] = []
    for case, source, weight, talk, wanted in talks(engine, part):
        doc = read(engine.nlp, talk)
        tokens, words, cover, items = doc._.heard_tokens, doc._.heard_words, doc._.cover, doc._.items
        drafts, _ = engine._filler.fill(items, tokens)
        judged = engine._judge.judge(drafts, tokens, words, cover, items, talk)
        rows = engine._judge.rows(drafts, tokens, words, judged)
        good = {id(match.predicted) for match in matches(rows, wanted) if match.right}
        found += [
            Example(
                case,
                source,
                weight,
                source != "text" and talk.again is None,
                id(row) in good,
                draft,
                tokens,
                words,
                one,
            )
            for draft, one, row in zip(drafts, judged, rows, strict=True)
        ]
        if isinstance(talk.again, KeptReplay):
            talk.again.keep()
    return found


def talks(engine: Engine, part: Part) -> Iterator[tuple[str, str, float, Heard, list[dict[str, Any]]]]:
    """(case, source, weight, what was heard, wanted rows)."""
    for file in AUTHORED:
        for case in read_cases(file)[0 if part == "fitted" else 1 :: 2]:
            spoken = {**case, "transcript": [{"t": 0, "text": case["clean"]}]}
            yield case["id"], "text", 1.0, heard(spoken), case["rows"]
            yield case["id"], "text", 1.0, heard(case), case["rows"]
    recogniser = Recogniser(engine.lexicon, latest=True)
    for one in itertools.islice(recordings(case_files(), part), RECORDINGS):
        settled = recogniser.hear(one, "second")
        yield one.case["id"], one.condition, SPEECH, settled, one.case["rows"]
        if part == "fitted":
            # A dictation as it happens has no second listen.
            yield one.case["id"], one.condition, SPEECH / 2, recogniser.hear(one, "both"), one.case["rows"]


def fit(features: Array, right: Array, weight: Array, names: Sequence[str]) -> tuple[float, Array]:
    """Intercept and weights of the logistic regression with the least loss among those with the signs above."""
    scale = features.std(axis=0)
    scale[scale == 0] = 1.0
    scaled = np.column_stack([np.ones(len(features)), features / scale])
    sign = np.where(right > 0, 1.0, -1.0)

    def loss(point: Array) -> tuple[float, Array]:
        margin = sign * (scaled @ point)
        error = -sign * weight / (1 + np.exp(margin))
        slope = scaled.T @ error
        slope[1:] += RIDGE * point[1:]
        return float(weight @ np.logaddexp(0, -margin) + RIDGE / 2 * point[1:] @ point[1:]), slope

    limits: list[tuple[float | None, float | None]] = [(None, None)]
    limits += [(0 if name in SUPPORTS else None, 0 if name in DOUBTS else None) for name in names]
    found = minimize(loss, np.zeros(len(limits)), jac=True, bounds=limits, method="L-BFGS-B")
    return float(found.x[0]), found.x[1:] / scale


def probabilities(intercept: float, weights: Array, features: Array) -> Array:
    return np.asarray(1 / (1 + np.exp(-(intercept + features @ weights))))


def crossed(features: Array, right: Array, weight: Array, cases: Sequence[str], names: Sequence[str]) -> Array:
    """The confidence of each row by a model that was fitted without its case."""
    fold_of = {case: number % FOLDS for number, case in enumerate(dict.fromkeys(cases))}
    folds = np.array([fold_of[case] for case in cases])
    confidence = np.zeros(len(right))
    for fold in range(FOLDS):
        rest = folds != fold
        confidence[~rest] = probabilities(*fit(features[rest], right[rest], weight[rest], names), features[~rest])
    return confidence


@click.command(help=(__doc__ or "").split("\n", 1)[0])
@click.option(
    "--accepted", default=0.07, show_default=True, type=click.FloatRange(0, 1),
    help="A row whose chance of being wrong is above this is shown to a person.",
)  # fmt: skip
def main(accepted: float) -> None:
    engine = Engine()
    fitted = examples(engine, "fitted")
    names = sorted({name for one in fitted for name in one.judged.features})
    features, right = table(fitted, names), np.array([one.right for one in fitted], float)
    weight = np.array([one.weight for one in fitted])
    cases = [one.case for one in fitted]
    intercept, weights = fit(features, right, weight, names)
    spoken = sum(one.source != "text" for one in fitted)
    model = ConfidenceModel(
        intercept=round(intercept, 5),
        weights={name: round(float(one), 5) for name, one in zip(names, weights, strict=True)},
        accepted=accepted,
        fitted_on=f"{len(fitted)} rows, {spoken} of them from recordings; the table is cross-validated by case",
        reliability=honesty.reliability(crossed(features, right, weight, cases, names), right),
    )
    MODEL.write_text(model.model_dump_json(indent=1) + "\n", encoding="utf-8")
    click.echo(f"fitted on {model.fitted_on}")
    for name, one in sorted(model.weights.items(), key=lambda pair: -abs(pair[1])):
        click.echo(f"  {name:20} {one:+.3f}")
    held_out = examples(engine, "held out")
    judge = Judge(engine.lexicon, model, accepted)
    click.echo(f"{'':20}{'rows':>8}{'right':>8}{'flagged':>9}{'silent':>8}{'passing':>9}{'calibration':>13}")
    for label, group in (("fitted", fitted), ("held out", held_out)):
        for source in ("text", *CONDITIONS):
            show(f"{label}, {source}", [one for one in group if one.source == source and not one.unsettled], judge)
    draw(held_out, model)


def table(rows: Sequence[Example], names: Sequence[str]) -> Array:
    return np.array([[one.judged.features.get(name, 0.0) for name in names] for one in rows])


def show(label: str, rows: Sequence[Example], judge: Judge) -> None:
    """Shares: right of all, to be confirmed one by one, wrong of those that pass; and how many pass."""
    if not rows:
        return
    judged = [judge.row(one.draft, one.tokens, one.words, one.judged) for one in rows]
    passing = [one for one, row in zip(rows, judged, strict=True) if not row.confirm]
    flagged = sum(row.confirm and row.flags != ["inferred_normal"] for row in judged)
    silent = sum(not one.right for one in passing) / max(1, len(passing))
    right = np.array([one.right for one in rows], float)
    error = honesty.calibration_error(np.array([row.confidence for row in judged]), right)
    shares = f"{len(rows):8}{right.mean():8.3f}{flagged / len(rows):9.3f}{silent:8.3f}{len(passing):9}{error:13.3f}"
    click.echo(f"{label:20}{shares}")


def draw(rows: Sequence[Example], model: ConfidenceModel) -> None:
    kinds: dict[str, list[Example]] = defaultdict(list)
    for one in rows:
        kinds[
            "text" if one.source == "text" else "speech, noise of 10 dB" if one.source == "noise10" else "speech"
        ].append(one)
    curves = {
        kind: (
            np.array([model.probability(one.judged.features) for one in group]),
            np.array([one.right for one in group], float),
        )
        for kind, group in kinds.items()
    }
    DRAWINGS.mkdir(parents=True, exist_ok=True)
    honesty.draw_reliability(curves, DRAWINGS / "reliability.svg")
    honesty.draw_risk(curves, 1 - model.accepted, DRAWINGS / "risk-coverage.svg")


if __name__ == "__main__":
    main()
