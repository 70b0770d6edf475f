"""Fits the confidence model on development cases and stores it with its reliability table.

Usage: python scripts/fit_confidence.py [--target 0.07]

The cases at odd positions (1st, 3rd, ...) of each file in tests/cases are fitted on, each as spoken and as a
recogniser wrote it; the cases at even positions are held out and give the figures that are printed. Rows are
right or wrong by the rules of the record contract: side, site, value and status all count.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import click
import numpy as np
from sklearn.linear_model import LogisticRegression
from sklearn.model_selection import GroupKFold, cross_val_predict

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from pipeline.engine import Engine  # noqa: E402
from pipeline.fill.confidence import ALWAYS_CONFIRMED, ConfidenceModel, _covered  # noqa: E402
from pipeline.hear.words import Heard  # noqa: E402
from pipeline.understand.pipeline import read  # noqa: E402
from tests.scoring import AUTHORED, heard, matches, read_cases  # noqa: E402

DOUBTS = frozenset(
    """mend_doubt mend_distance mend_rival mended strays hearing_doubt hearing_worst prompt_only homophone
        rival_side rival_other carried_subject orphans gap crossing everyday bare_grade""".split()
)
"""Features that may only lower the confidence, whatever a small sample says."""
MODEL = ROOT / "pipeline" / "fill" / "confidence.json"


def examples(
    engine: Engine, talks: list[tuple[str, Heard, list[dict[str, Any]]]]
) -> tuple[list[dict[str, float]], list[bool], list[str], list[bool]]:
    """(features, right, group, always confirmed) of every row of every talk."""
    features: list[dict[str, float]] = []
    right: list[bool] = []
    groups: list[str] = []
    always: list[bool] = []
    for name, talk, wanted in talks:
        doc = read(engine.nlp, talk)
        tokens, words, cover = doc._.heard_tokens, doc._.heard_words, doc._.cover
        drafts, _ = engine._filler.fill(doc._.items, tokens)
        rows = engine._judge.rows(drafts, tokens, words, cover)
        covered = _covered(cover, len(tokens))
        good = {id(match.predicted) for match in matches(rows, wanted) if match.right}
        for draft, row in zip(drafts, rows, strict=True):
            features.append(engine._judge.features(draft, tokens, words, covered))
            right.append(id(row) in good)
            groups.append(name)
            always.append(bool(draft.flags & ALWAYS_CONFIRMED))
    return features, right, groups, always


def talks_of(files: list[Path], parity: int) -> list[tuple[str, Heard, list[dict[str, Any]]]]:
    """Each case twice: as spoken and as heard."""
    talks = []
    for file in files:
        for case in read_cases(file)[parity::2]:
            spoken = {**case, "transcript": [{"t": 0, "text": case["clean"]}]}
            talks += [(case["id"], heard(spoken), case["rows"]), (case["id"], heard(case), case["rows"])]
    return talks


def recognised(parity: int) -> list[tuple[str, Heard, list[dict[str, Any]]]]:
    """Cases that the evaluation has rendered and recognised, where its cache is present."""
    talks = []
    folder = Path.home() / ".cache" / "spoken-exam" / "recognised"
    for file in sorted(folder.glob("*.jsonl")):
        for line in file.read_text(encoding="utf-8").splitlines():
            case = json.loads(line)
            tail = case["id"].split("-")[-1]
            if tail.isdigit() and (int(tail) - 1) % 2 == parity:
                talks.append((case["id"], Heard.model_validate(case["heard"]), case["rows"]))
    return talks


def reliability(confidence: np.ndarray, right: np.ndarray) -> list[dict[str, float]]:
    """Mean confidence and share of right rows in bins of equal count."""
    order = np.argsort(confidence)
    table = []
    for part in np.array_split(order, 10):
        if len(part):
            table.append(
                {
                    "rows": float(len(part)),
                    "confidence": round(float(confidence[part].mean()), 4),
                    "right": round(float(right[part].mean()), 4),
                }
            )
    return table


@click.command()
@click.option(
    "--target",
    default=0.15,
    show_default=True,
    help="A row whose chance of being wrong is above this is shown to a person.",
)
def main(target: float) -> None:
    engine = Engine()
    files = list(AUTHORED)
    fit_talks = talks_of(files, 0) + recognised(0)
    features, right, groups, _always = examples(engine, fit_talks)
    names = sorted({name for row in features for name in row})
    matrix = np.array([[row.get(name, 0.0) for name in names] for row in features])
    outcome = np.array(right)
    scale = matrix.std(axis=0)
    scale[scale == 0] = 1.0
    regression = LogisticRegression(C=0.3, max_iter=5000)
    held_in = cross_val_predict(
        regression, matrix / scale, outcome, groups=np.array(groups), cv=GroupKFold(8), method="predict_proba"
    )[:, 1]
    regression.fit(matrix / scale, outcome)
    doubts = np.array([name in DOUBTS for name in names])
    weights = np.where(doubts, np.minimum(regression.coef_[0], 0.0), regression.coef_[0]) / scale
    threshold = 1 - target
    model = ConfidenceModel(
        intercept=round(float(regression.intercept_[0]), 5),
        weights={name: round(float(weight), 5) for name, weight in zip(names, weights, strict=True)},
        threshold=round(threshold, 4),
        fitted_on=f"{len(features)} rows of {len(fit_talks)} talks, cross-validated by case; target {target}",
        reliability=reliability(held_in, outcome),
    )
    MODEL.write_text(model.model_dump_json(indent=1) + "\n", encoding="utf-8")
    click.echo(f"fitted on {model.fitted_on}; threshold {model.threshold}")
    for name, weight in sorted(model.weights.items(), key=lambda pair: -abs(pair[1])):
        click.echo(f"  {name:20} {weight:+.3f}")
    for label, talks in (("held out", talks_of(files, 1) + recognised(1)), ("fitted", fit_talks)):
        f, r, _, a = examples(engine, talks)
        confidence = np.array([model.probability(row) for row in f])
        rr = np.array(r)
        unseen = (confidence >= threshold) & ~np.array(a)
        error = sum(abs(row["confidence"] - row["right"]) * row["rows"] for row in reliability(confidence, rr)) / len(
            rr
        )
        click.echo(
            f"{label}: rows {len(rr)} right {rr.mean():.4f} flagged {1 - unseen.mean():.4f} "
            f"silent {1 - rr[unseen].mean():.4f} calibration error {error:.4f}"
        )


if __name__ == "__main__":
    main()
