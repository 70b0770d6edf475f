"""The program's voice: a synthesiser of this computer, called as a program."""

from __future__ import annotations

import shutil
import subprocess
import threading
import time
from pathlib import Path

from pipeline.live.errors import LiveError

_AFTER = 0.3
"""Seconds after the last word in which the room still sounds of it (common practice, no source)."""
_SPOKEN = {"-": " minus", "+": " plus"}


class Voice:
    """Says one sentence after the other. Raises `LiveError` where no synthesiser is on this computer."""

    def __init__(self) -> None:
        self._program = synthesiser()
        self._lock = threading.Lock()
        self._until = 0.0
        self._saying = 0

    @property
    def speaking(self) -> bool:
        """Whether it speaks, or the room still sounds of it: what is heard now is to be ignored."""
        return self._saying > 0 or time.monotonic() < self._until

    def say(self, text: str) -> None:
        """Begins to say it, after what is being said, and returns at once."""
        self._saying += 1
        threading.Thread(target=self._run, args=(spoken(text),), daemon=True).start()

    def _run(self, text: str) -> None:
        with self._lock:
            try:
                subprocess.run([*_command(self._program), text], capture_output=True, check=False)
            finally:
                self._until = time.monotonic() + _AFTER
                self._saying -= 1


def synthesiser() -> str:
    """The program that speaks. Raises `LiveError` where there is none."""
    for name in ("espeak-ng", "flite"):
        if shutil.which(name):
            return name
    raise LiveError("read-back needs a voice: install espeak-ng or flite, or leave out --read-back")


def speak_to(path: Path, text: str) -> None:
    """Writes the sentence as a WAV file. Raises `LiveError` where no synthesiser works."""
    program = synthesiser()
    target = ["-w", str(path)] if program == "espeak-ng" else ["-o", str(path)]
    command = [*_command(program)[:-1], *target, *_command(program)[-1:], spoken(text)]
    if subprocess.run(command, capture_output=True, check=False).returncode or not path.exists():
        raise LiveError(f"{program} does not speak: install it again, or leave out --read-back")


def spoken(text: str) -> str:
    """The text with grades as they are said: "4-" as "4 minus"."""
    words = []
    for word in text.split():
        bare = word.rstrip("?.,;")
        if bare[:1].isdigit() and bare[-1:] in _SPOKEN:
            word = bare[:-1] + _SPOKEN[bare[-1]] + word[len(bare) :]
        words.append(word)
    return " ".join(words)


def _command(program: str) -> list[str]:
    return ["espeak-ng", "-s", "165", "--"] if program == "espeak-ng" else ["flite", "-t"]
