"""What the work costs: python scripts/bench.py

Structuring a transcript of 9,000 words made of the written cases, the first of a process and again, against spaCy's
bare tokenisation of the same text; hearing the demonstration recordings; the peak memory of each, in a process of its
own; then the other measurements, `bench_review.py`, `bench_outputs.py` and `bench_live.py`, the last with an hour of
sound too. Seconds are of the clock;
"processor" counts all threads of the process, so that other programs on the machine hardly matter.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from tests.scoring import AUTHORED, ROOT, read_cases

WORDS = 9000
TIMES = 3
OTHERS = ("bench_review.py", "bench_outputs.py", "bench_live.py", "bench_live.py --soak")

Line = tuple[str, float, str]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--part", choices=PARTS, help="measure this part only, in this process")
    part = parser.parse_args().part
    if part:
        for line in PARTS[part]():
            print(json.dumps(line))
        return
    print(f"{platform.machine()}, {os.cpu_count()} processors, Python {platform.python_version()}", flush=True)
    for name in PARTS:
        print(f"\n{name}", flush=True)
        answer = subprocess.run(
            [sys.executable, __file__, "--part", name], check=True, stdout=subprocess.PIPE, text=True
        )
        for printed in answer.stdout.splitlines():
            what, value, unit = json.loads(printed)
            print(f"  {what:48}{value:12,.2f} {unit}", flush=True)
    for other in OTHERS:
        print(f"\n{other}", flush=True)
        name, *options = other.split()
        subprocess.run([sys.executable, Path(__file__).with_name(name), *options], check=True)


def structuring() -> Iterator[Line]:
    import spacy

    from pipeline.engine import Engine
    from pipeline.hear import Heard
    from pipeline.hear.transcripts import read_transcript

    transcript = _transcript()
    text = " ".join(block["text"] for block in transcript)
    heard = Heard(utterances=read_transcript(json.dumps({"transcript": transcript})))
    words = sum(len(utterance.words) for utterance in heard.utterances)
    start = time.perf_counter()
    engine = Engine()
    yield "building the engine", time.perf_counter() - start, "s"
    clock, processor = time.perf_counter(), time.process_time()
    engine.analyse(heard)
    yield f"structuring {words:,} words, the first talk", time.perf_counter() - clock, "s"
    yield "  processor", time.process_time() - processor, "s"
    clock, processor = _best(lambda: engine.analyse(heard))
    yield "  again, with what was looked up at hand", clock, "s"
    yield "  processor", processor, "s"
    yield "  a second", words / processor, "words"
    nlp = spacy.blank("en")
    _, bare = _best(lambda: nlp.make_doc(text))
    yield "spaCy's tokenisation alone, processor", bare, "s"
    yield "structuring to tokenisation", processor / bare, "times"
    yield "peak memory", _peak(), "MB"


def hearing() -> Iterator[Line]:
    from pipeline.hear import hear

    for name in ("dictation", "teaching"):
        clock, processor = time.perf_counter(), time.process_time()
        heard = hear(ROOT / "demo_audio" / f"{name}.opus")
        clock, processor = time.perf_counter() - clock, time.process_time() - processor
        yield f"{name}, length", heard.duration, "s"
        yield "  clock to length", clock / heard.duration, "times"
        yield "  processor to length", processor / heard.duration, "times"
    yield "peak memory", _peak(), "MB"


PARTS: dict[str, Callable[[], Iterator[Line]]] = {"structuring": structuring, "hearing": hearing}


def _transcript() -> list[dict[str, object]]:
    """Whole cases one after the other, the text as it was heard."""
    blocks: list[dict[str, object]] = []
    at, words = 0.0, 0
    for case in (case for file in AUTHORED for case in read_cases(file)):
        for block in case["transcript"]:
            if words >= WORDS:
                return blocks
            blocks.append({"t": round(at, 2), "text": block["text"]})
            count = len(block["text"].split())
            words += count
            at += 0.4 * count
    return blocks


def _best(work: Callable[[], object]) -> tuple[float, float]:
    """Seconds of the clock and of the processor, the least of several runs."""
    taken = []
    for _ in range(TIMES):
        clock, processor = time.perf_counter(), time.process_time()
        work()
        taken.append((time.perf_counter() - clock, time.process_time() - processor))
    return min(clock for clock, _ in taken), min(processor for _, processor in taken)


def _peak() -> float:
    """Megabytes; Linux counts in kB, macOS in bytes."""
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return peak / (1e6 if sys.platform == "darwin" else 1e3)


if __name__ == "__main__":
    main()
