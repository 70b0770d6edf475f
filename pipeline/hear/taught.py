"""What the open listener was taught: how examiners talk in a noisy room, as small changes of Whisper's weights.

From synthetic speech its decoder learned which words examiners say, and its encoder to hear them through noise and
echo. Each change is the product of two thin matrices (low-rank adaptation, Hu et al. 2021), so that all of them fit
into two megabytes. Made by `scripts/teach_listener.py`; figures: `docs/hearing.md`.
"""

from __future__ import annotations

import math
import struct
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

LESSONS = Path(__file__).with_name("taught.npz")
"""Arrays `<weight>@<first row>/up` (rows, rank) and `.../down` (rank, columns): what is added to these rows of a weight
is up @ down."""

_TYPES: tuple[np.dtype[Any], ...] = (np.dtype("<f4"), np.dtype("i1"), np.dtype("<i2"), np.dtype("<i4"), np.dtype("<f2"))
"""By their number in a CTranslate2 model file."""


def teach(weights: bytes) -> bytes:
    """The CTranslate2 model file `weights` with what was taught added. Raises `ValueError` where the two do not fit."""
    taught = bytearray(weights)
    places = _places(weights)
    with np.load(LESSONS) as lessons:
        for name in {key.rsplit("/", 1)[0] for key in lessons.files}:
            weight, row = name.rsplit("@", 1)
            if weight not in places:
                raise ValueError(f"the model has no weight {weight}")
            start, shape, kind = places[weight]
            change: NDArray[np.float32] = lessons[f"{name}/up"].astype(np.float32) @ lessons[f"{name}/down"]
            values = np.frombuffer(taught, kind, count=shape[0] * shape[1], offset=start).reshape(shape)
            values[int(row) : int(row) + len(change)] += change.astype(kind)
    return bytes(taught)


def variables(model: bytes) -> dict[str, NDArray[Any]]:
    """The variables of a CTranslate2 model file, by name."""
    return {
        name: np.frombuffer(model, kind, count=math.prod(shape), offset=start).reshape(shape)
        for name, (start, shape, kind) in _places(model).items()
    }


def _places(model: bytes) -> dict[str, tuple[int, tuple[int, ...], np.dtype[Any]]]:
    """Where each variable of a CTranslate2 model file begins, its shape and its type.

    The file: a version, the name of the kind of model and its revision; then, for each variable, its name, shape, type,
    size in bytes, and values (CTranslate2's `model_spec.py`, which writes it).
    """
    at = 0

    def number(form: str) -> int:
        nonlocal at
        (value,) = struct.unpack_from(f"<{form}", model, at)
        at += struct.calcsize(form)
        return int(value)

    def text() -> str:
        nonlocal at
        size = number("H")
        at += size
        return model[at - size : at - 1].decode()

    number("I"), text(), number("I")
    places: dict[str, tuple[int, tuple[int, ...], np.dtype[Any]]] = {}
    for _ in range(number("I")):
        name = text()
        shape = tuple(number("I") for _ in range(number("B")))
        kind, size = _TYPES[number("B")], number("I")
        places[name] = (at, shape, kind)
        at += size
    return places
