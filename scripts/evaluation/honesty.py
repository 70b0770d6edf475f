"""How honest confidences are: the share that is right at each confidence, and the risk of those that pass unseen."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Curves = Mapping[str, tuple[Array, Array]]
"""Name of a kind of row -> its confidences, and 1 where the row is right, 0 where it is wrong."""

_BINS = 10


def reliability(confidence: Array, right: Array) -> list[dict[str, float]]:
    """Mean confidence and share of right rows, in ten bins of equal count."""
    return [
        {
            "rows": float(len(part)),
            "confidence": round(float(confidence[part].mean()), 4),
            "right": round(float(right[part].mean()), 4),
        }
        for part in np.array_split(np.argsort(confidence, kind="stable"), _BINS)
        if len(part)
    ]


def calibration_error(confidence: Array, right: Array) -> float:
    """Expected calibration error: mean distance of confidence and share right, in ten bins of equal width."""
    bins = np.minimum((confidence * _BINS).astype(int), _BINS - 1)
    return float(sum(abs((confidence - right)[bins == number].sum()) for number in range(_BINS)) / len(right))


def draw_reliability(curves: Curves, path: Path) -> None:
    """Share of right rows against confidence; on the diagonal, confidence is honest."""
    plot = _Plot("confidence of a row", "share of these rows that are right")
    plot.axes.plot([0, 1], [0, 1], color="0.7", linewidth=1)
    for name, (confidence, right) in curves.items():
        bins = reliability(confidence, right)
        plot.line(name, [one["confidence"] for one in bins], [one["right"] for one in bins], marker="o")
    plot.write(path)


def draw_risk(curves: Curves, threshold: float, path: Path) -> None:
    """Share of wrong rows among those that pass, against the share that passes, surest first; a dot at `threshold`.

    By confidence alone: flags that a person must clear whatever the confidence are left out.
    """
    plot = _Plot("share of rows that pass unseen", "share of these that are wrong")
    for name, (confidence, right) in curves.items():
        order = np.argsort(-confidence, kind="stable")
        passing = np.arange(1, len(order) + 1)
        risk = np.cumsum(1 - right[order]) / passing
        colour = plot.line(name, passing / len(order), risk)
        here = int((confidence >= threshold).sum())
        if here:
            plot.axes.plot([here / len(order)], [risk[here - 1]], marker="o", color=colour)
    plot.write(path)


class _Plot:
    """One drawing, the same to the byte each time."""

    def __init__(self, across: str, up: str) -> None:
        import matplotlib

        matplotlib.use("svg")
        matplotlib.rcParams["svg.hashsalt"] = "spoken-exam"
        from matplotlib import pyplot

        self._figure, self.axes = pyplot.subplots(figsize=(5.5, 4))
        self.axes.set_xlabel(across)
        self.axes.set_ylabel(up)
        self.axes.grid(color="0.92")

    def line(self, name: str, across: object, up: object, marker: str = "") -> Any:
        (drawn,) = self.axes.plot(across, up, marker=marker, label=name, linewidth=1.5)
        return drawn.get_color()

    def write(self, path: Path) -> None:
        self.axes.legend(frameon=False)
        self._figure.tight_layout()
        self._figure.savefig(path, metadata={"Date": None})
