"""Writes to the store in `argv[1]` until it is killed, and prints each change after the store said that it is kept."""

from __future__ import annotations

import sys
from pathlib import Path

from pipeline.record.store import Store
from tests.record import examples
from tests.record.examples import FOUR


def main(folder: Path) -> None:
    sound = examples.sound(folder / "sound.wav", seconds=1.0)
    store = Store.open(folder / "store")
    while True:
        exam = store.add(examples.record(), title="Invented patient A", audio=sound, transcript=examples.transcript())
        told(exam, 1)
        told(exam, store.choose(exam, "row-1", FOUR, who="Ada", seen=1))
        told(exam, store.undo(exam, ["row-1"], who="Ada", seen=2))
        told(exam, store.edit(exam, "row-1", {"side": "left"}, who="Ada", seen=3))
        told(exam, store.reject(exam, "row-2", who="Ada", seen=4))
        told(exam, store.confirm_group(exam, ["row-3", "row-4"], who="Ada", seen=5))
        told(exam, store.add_row(exam, examples.inferred("grip"), who="Ada", seen=6, from_gap="unplaced-1"))
        told(exam, store.clear_unheard(exam, "unheard-1", who="Ada", seen=7))
        told(exam, store.sign(exam, name="Ada", role="Physician", statement="Checked.", seen=8))
        told(store.amend(exam, who="Ada", why="again"), 1)


def told(exam: str, revision: int) -> None:
    print(exam, revision, flush=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
