"""The signs of the fitted confidence: more doubt never raises it."""

from __future__ import annotations

import numpy as np
import pytest

from pipeline.fill.confidence import stored_model
from scripts.fit_confidence import DOUBTS, SUPPORTS, fit, probabilities


def test_no_doubt_raises_the_stored_confidence_and_no_support_lowers_it() -> None:
    weights = stored_model().weights
    assert {*weights} >= DOUBTS
    assert all(weights[name] <= 0 for name in DOUBTS)
    assert all(weights[name] >= 0 for name in SUPPORTS)


def test_a_doubt_that_goes_with_right_rows_gets_no_weight() -> None:
    rng = np.random.default_rng(1)
    doubt, other = rng.random(500), rng.random(500)
    right = (rng.random(500) < 0.2 + 0.5 * doubt + 0.2 * other).astype(float)
    _, free = fit(np.column_stack([doubt, other]), right, np.ones(500), ["some_doubt", "other"])
    _, held = fit(np.column_stack([doubt, other]), right, np.ones(500), ["mend_rival", "other"])
    assert free[0] > 0.5
    assert held[0] == 0
    assert held[1] > 0


def test_the_fit_gives_back_known_chances() -> None:
    rng = np.random.default_rng(2)
    features = rng.random((4000, 2))
    chance = 1 / (1 + np.exp(-(2 - 3 * features[:, 0])))
    right = (rng.random(4000) < chance).astype(float)
    intercept, weights = fit(features, right, np.ones(4000), ["mend_doubt", "other"])
    found = probabilities(intercept, weights, features)
    assert float(np.abs(found - chance).mean()) == pytest.approx(0, abs=0.03)
