"""Measure the open listener: word error rate and cost on synthetic examination speech. `python -m tests.hear.measure`

Cost is the processor time of this process as a share of the length of the sound, so that other programs do not count;
on two idle cores the clock shows less.
"""

from __future__ import annotations

import argparse
import tempfile
import time
from pathlib import Path

from pipeline.hear import listen
from pipeline.hear.audio import Sound
from pipeline.hear.open_listener import PROMPT_ONLY, OpenListener
from tests.hear.speech import EXAMINATION, PROMPT, VOICES, noisy, plain, speak_all, word_error_rate


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--voices", nargs="+", default=VOICES)
    voices = parser.parse_args().voices
    reference = " ".join(EXAMINATION)
    spoken = set(plain(reference).split())
    listeners = {"prompted": OpenListener(PROMPT), "unprompted": OpenListener()}
    with tempfile.TemporaryDirectory() as folder:
        for voice in voices:
            clean, _ = speak_all(EXAMINATION, voice, Path(folder))
            for kind, samples in (("clean", clean), ("20 dB noise", noisy(clean))):
                for name, listener in listeners.items():
                    wall, processor = time.perf_counter(), time.process_time()
                    heard = listen(Sound(samples), listener)
                    wall, processor = time.perf_counter() - wall, time.process_time() - processor
                    words = [word for each in heard.utterances for word in each.words]
                    doubted = [word for word in words if PROMPT_ONLY in word.flags]
                    unsaid = sum(not set(plain(word.text).split()) <= spoken for word in doubted)
                    seconds = len(samples) / 16_000
                    rate = word_error_rate(reference, " ".join(word.text for word in words))
                    print(
                        f"{voice:16} {kind:12} {name:11} wer {rate:.3f}  processor {processor / seconds:.2f}  "
                        f"clock {wall / seconds:.2f}  prompt only {len(doubted)} (never said {unsaid})  "
                        f"unheard {sum(each.end - each.start for each in heard.unheard):.1f} s",
                        flush=True,
                    )


if __name__ == "__main__":
    main()
