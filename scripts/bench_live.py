"""What a live dictation costs, and how well the spoken controls are told from talk.

python scripts/bench_live.py             time from the end of an utterance to its rows, and to partial words, on the
                                         demonstration recordings at their own speed; rows against the recording's
python scripts/bench_live.py --controls  share of controls understood, by voice and noise; false ones in talk (long)
python scripts/bench_live.py --soak      an hour of sound, faster than it is spoken; what the listeners hear is heard
                                         once and given again; sound kept, and memory
"""

from __future__ import annotations

import argparse
import math
import os
import random
import resource
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from pipeline.engine import Engine
from pipeline.hear import listen
from pipeline.hear.audio import RATE, Samples, Sound, decode
from pipeline.hear.both import default_listener, open_listener
from pipeline.hear.listener import Listener, Reading
from pipeline.hear.speech import PAUSE, Span, find_speech
from pipeline.lexicon import load
from pipeline.live.board import Board
from pipeline.live.controls import LONGEST, SHORTEST, Spotter
from pipeline.live.dictation import Dictation, Settings
from pipeline.live.hearing import Hearing, Hears, Piece, Read
from pipeline.live.partial import partial
from pipeline.record.model import ExamRecord
from scripts.speech.render import render
from scripts.speech.sound import read
from tests.scoring import AUTHORED, ROOT, read_cases

BLOCK = RATE // 20
VOICES = ("flite-slt", "flite-rms", "espeak-gb", "espeak-us", "piper-joe", "hibari-gb", "hibari-us")
TALKERS = ("flite-slt", "flite-rms", "flite-awb", "espeak-gb")
SAID = {
    "start dictation": ("start", ""), "pause": ("pause", ""), "pause dictation": ("pause", ""),
    "resume": ("resume", ""), "resume dictation": ("resume", ""), "scratch the last result": ("scratch", ""),
    "scratch that": ("scratch", ""), "change side to left": ("side", "left"), "change side to right": ("side", "right"),
    "change result to three": ("grade", "3"), "change result to four plus": ("grade", "4+"),
    "change result to five minus": ("grade", "5-"), "mark for review": ("mark", ""), "read back": ("read_back", ""),
    "what is missing": ("missing", ""), "finish dictation": ("finish", ""),
}  # fmt: skip
_UNLIKE = -16.0
"""Fit of the carrier below which talk cannot open like it: the worst control in noise had -14."""
SETTLING = 600.0
"""Seconds of sound after which memory is looked at first, for half as long: by then everything is loaded."""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--controls", action="store_true")
    parser.add_argument("--talk", action="store_true", help="of --controls only the false ones in talk")
    parser.add_argument("--soak", action="store_true")
    parser.add_argument("--seconds", type=float, default=3600.0, help="of talk or of the soak (default: an hour)")
    given = parser.parse_args()
    print(f"{os.cpu_count()} processors, load {os.getloadavg()[0]:.1f} before the start", flush=True)
    if given.controls or given.talk:
        if given.controls:
            understood()
        false_triggers(given.seconds)
    elif given.soak:
        soak(given.seconds)
    else:
        for name in ("dictation", "teaching"):
            speed(name)


# Time


def speed(name: str) -> None:
    """One recording, at its own speed."""
    lexicon = load()
    engine, hearing = Engine(lexicon), Hearing(lexicon)
    pcm = _pcm(decode(ROOT / "demo_audio" / f"{name}.opus").samples)
    boards: list[tuple[float, Board]] = []
    with tempfile.TemporaryDirectory() as folder:
        dictation = _Timed(
            Path(folder), Settings(title=name), hearing, engine, partial=partial(lexicon),
            changed=lambda board: boards.append((time.perf_counter(), board)),
        )  # fmt: skip
        begun = time.perf_counter()
        for first in range(0, len(pcm), BLOCK * 2):
            time.sleep(max(0.0, begun + (first / 2 + BLOCK) / RATE - time.perf_counter()))
            dictation.accept(pcm[first : first + BLOCK * 2])
        record = dictation.finish().record
        dictation.close()
    waits = [at - begun - span.end for span, at in dictation.taken]
    ages = [at - begun - board.seconds for at, board in boards if board.partial not in ("", "…")]
    print(f"\n{name}: {len(pcm) / 2 / RATE:.0f} s, {len(waits)} utterances")
    _percentiles("end of an utterance to its rows", waits)
    _percentiles("partial words: age of the last sound that they are made of", ages)
    sound = Sound((np.frombuffer(pcm, "<i2") / 32768).astype(np.float32))
    _agreement(record, engine.structure(listen(sound, default_listener(lexicon))))


class _Timed(Dictation):
    """Notes when the rows of each utterance are on the board."""

    def __init__(self, *args: object, **more: object) -> None:
        self.taken: list[tuple[Span, float]] = []
        super().__init__(*args, **more)  # type: ignore[arg-type]

    def _hear(self, span: Span) -> None:
        super()._hear(span)
        self.taken.append((span, time.perf_counter()))


def _agreement(live: ExamRecord, batch: ExamRecord) -> None:
    ours, theirs = ({row.model_dump_json() for row in record.rows} for record in (live, batch))
    score = 2 * len(ours & theirs) / max(1, len(ours) + len(theirs))
    print(f"  rows live and of the whole recording: {len(ours)} and {len(theirs)}, F1 {score:.3f}, flags and all")


def _percentiles(what: str, seconds: Sequence[float]) -> None:
    ordered = sorted(seconds)
    nearly = ordered[min(len(ordered) - 1, round(0.95 * len(ordered)))]
    print(f"  {what}: median {statistics.median(ordered):.2f} s, 95 in 100 within {nearly:.2f} s")


# Controls


def understood() -> None:
    """Each wording in each voice, clean and in noise; right means: the control and its side or grade."""
    opened, spotter = open_listener(load(), plain=True), Spotter()
    for condition in ("clean", "noise10"):
        right = other = 0
        for voice in VOICES:
            of_voice = 0
            for words, wanted in SAID.items():
                silence = np.zeros(RATE // 2, np.float32)
                said, _ = read(render(f"computer, {words}.", voice, condition).path)
                found = list(_spotted(np.concatenate([silence, said, silence]), opened, spotter))
                of_voice += found == [wanted]
                other += any(one[0] != wanted[0] for one in found)
            right += of_voice
            print(f"  {condition:8} {voice:12} {of_voice} of {len(SAID)}", flush=True)
        count = len(SAID) * len(VOICES)
        print(f"{condition}: {right} of {count} understood ({right / count:.3f}); taken for another control: {other}")


def false_triggers(seconds: float) -> None:
    """Talk of the written cases, as spoken, in several voices; every control that is heard in it is a false one."""
    opened, spotter = open_listener(load(), plain=True), Spotter()
    texts = [case["clean"] for file in AUTHORED for case in read_cases(file)]
    random.Random(1).shuffle(texts)
    total, utterances, false = 0.0, 0, 0
    for number, text in enumerate(text for _ in range(9) for text in texts):
        voice, condition = TALKERS[number % len(TALKERS)], ("clean", "noise20")[number // len(TALKERS) % 2]
        samples, _ = read(render(text, voice, condition).path)
        for control in _spotted(samples, opened, spotter, least=_UNLIKE):
            false += 1
            print(f"  false: {control} in case {number}, {voice}, {condition}", flush=True)
        total += samples.size / RATE
        utterances += len(find_speech(samples))
        if total >= seconds:
            break
    print(f"{total:.0f} s of talk, {utterances} utterances: {false} false controls")


def _spotted(
    samples: Samples, opened: Listener, spotter: Spotter, least: float = -math.inf
) -> Iterator[tuple[str, str]]:
    """Controls in the sound. What fits the carrier less than `least` is not heard at all, to save time."""
    for span in find_speech(samples):
        if SHORTEST <= span.duration <= LONGEST:
            margin = PAUSE / 2
            clip = samples[max(0, int((span.start - margin) * RATE)) : int((span.end + margin) * RATE)]
            if least > -math.inf and spotter.carrier_fit(clip) < least:
                continue
            words = opened.transcribe(samples, span).untold
            found = spotter.spot(clip, span.duration, words)
            if found is not None:
                yield found.control, found.choice


# Soak


class _Repeats:
    """Gives what was heard in one pass of a recording again in each pass after it."""

    def __init__(self, real: Hears, period: int) -> None:
        self._real, self._period = real, period / RATE
        self._known: dict[tuple[object, ...], Reading] = {}

    def hear(self, read: Read, length: int, span: Span) -> Piece:
        key = (round(span.start % self._period, 1), round(span.duration, 1))
        if key not in self._known:
            self._known[key] = _moved(self._real.hear(read, length, span).reading, -span.start)
        return Piece(_moved(self._known[key], span.start))

    def rehear(self, read: Read, length: int, span: Span) -> Reading:
        return self.hear(read, length, span).reading

    def settle(self, read: Read, length: int, span: Span, reading: Reading) -> Reading:
        return reading

    def ask(self, read: Read, length: int, start: float, end: float, phrases: Sequence[str]) -> list[tuple[str, float]]:
        return [(phrase, 1 / len(phrases)) for phrase in phrases]


def _moved(reading: Reading, by: float) -> Reading:
    words = [
        word.model_copy(update={"start": max(0.0, word.start + by), "end": max(0.0, word.end + by)})
        for word in reading.words
    ]
    return Reading(words, reading.reason)


def soak(seconds: float) -> None:
    """The demonstration dictation over and over."""
    lexicon = load()
    samples = decode(ROOT / "demo_audio" / "dictation.opus").samples
    pcm = _pcm(samples[: samples.size // BLOCK * BLOCK])
    hearing = _Repeats(Hearing(lexicon), len(pcm) // 2)
    begun, memory = time.perf_counter(), math.inf
    with tempfile.TemporaryDirectory() as folder:
        dictation = Dictation(Path(folder), Settings(title="Soak"), hearing, Engine(lexicon), partial=partial(lexicon))
        sent = 0
        while sent < seconds * RATE:
            for first in range(0, len(pcm), BLOCK * 2):
                dictation.accept(pcm[first : first + BLOCK * 2])
                sent += len(pcm[first : first + BLOCK * 2]) // 2
            dictation.drain()
            if SETTLING <= sent / RATE < 1.5 * SETTLING:
                memory = min(memory, _memory())
            print(f"  {sent / RATE:6.0f} s  {_memory():6.0f} MB  {dictation.board.rows} rows", flush=True)
        kept, after = dictation.samples, _memory()
        dictation.close()
    taken = time.perf_counter() - begun
    print(f"{sent / RATE:.0f} s of sound in {taken:.0f} s; samples sent {sent}, in the journal {kept}")
    if memory < math.inf:  # the run was long enough to settle
        print(f"memory after {SETTLING:.0f} s {memory:.0f} MB, at the end {after:.0f} MB: {after / memory - 1:+.1%}")


def _memory() -> float:
    """Megabytes that the process has in memory now; where the system does not tell, the most it had."""
    status = Path("/proc/self/statm")
    if status.exists():
        return int(status.read_text().split()[1]) * resource.getpagesize() / 1e6
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6


def _pcm(samples: Samples) -> bytes:
    return (np.clip(samples, -1, 1) * 32767).round().astype("<i2").tobytes()


if __name__ == "__main__":
    main()
