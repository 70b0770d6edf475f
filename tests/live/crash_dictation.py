"""Dictates the same sound again and again, in a child for each line of standard input, which names the folder.

python -m tests.live.crash_dictation HEARD PCM: what the listeners heard (pickled), and the sound. Each child tells how
many samples were acknowledged, in the file FOLDER.acknowledged, until somebody kills it.
"""

from __future__ import annotations

import os
import pickle
import signal
import sys
import time
from pathlib import Path

from pipeline.engine import Engine
from pipeline.live.dictation import Dictation, Settings

STEP = 1600


def main() -> None:
    recorded = pickle.loads(Path(sys.argv[1]).read_bytes())
    data = Path(sys.argv[2]).read_bytes()
    # Loaded before any thread runs: a child may be made of this process.
    engine = Engine()
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)
    print("ready", flush=True)
    for line in sys.stdin:
        child = os.fork()
        if not child:
            _dictate(Path(line.strip()), recorded, data, engine)
        print(child, flush=True)


def _dictate(folder: Path, recorded: object, data: bytes, engine: Engine) -> None:
    dictation = Dictation(folder, Settings(title="Bed 4"), recorded, engine)  # type: ignore[arg-type]
    told = os.open(f"{folder}.acknowledged", os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
    # Told at the start too: where a child before this one took all of the sound, there is no more to acknowledge.
    os.write(told, dictation.samples.to_bytes(8, "little"))
    for first in range(dictation.samples * 2, len(data), STEP):
        os.write(told, dictation.accept(data[first : first + STEP]).to_bytes(8, "little"))
        time.sleep(0.002)
    time.sleep(600)


if __name__ == "__main__":
    main()
