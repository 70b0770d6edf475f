"""An invented examination, as the engine would leave it."""

from __future__ import annotations

import math
import struct
import wave
from pathlib import Path

from pipeline.record.model import Alternative, Basis, Evidence, ExamRecord, Reason, Row, Side, Status, Unheard, Unplaced
from pipeline.record.transcript import Block, SpokenWord, Talk, Transcript

FOUR = Alternative(slot="value", value="4", probability=0.3)
LEFT = Alternative(slot="side", value="left", probability=0.4)


def record() -> ExamRecord:
    return ExamRecord(
        rows=[
            Row(
                manoeuvre="ankle_dorsiflexion",
                side=Side.RIGHT,
                value="4-",
                roots=["L4", "L5"],
                muscle="tibialis_anterior",
                confidence=0.62,
                confirm=True,
                flags=["misheard_term", "grade_uncertain"],
                alternatives=[FOUR, LEFT],
                evidence=[
                    Evidence(start=1, end=2, heard="tibby alice four minus", mended="tibialis anterior four minus")
                ],
            ),
            Row(
                manoeuvre="knee_jerk",
                side=Side.LEFT,
                value="2+",
                confidence=0.97,
                evidence=[Evidence(start=2, end=3, heard="knee jerk two plus", mended="knee jerk two plus")],
            ),
            inferred("hip_flexion"),
            inferred("knee_extension"),
            Row(manoeuvre="straight_leg_raise", side=Side.RIGHT, status=Status.NOT_EXAMINED, reason=Reason.PAIN),
        ],
        unheard=[Unheard(start=0.2, end=0.9, reason="speech without words")],
        unplaced=[Unplaced(start=3, end=3.5, text="brisk there", reason="no manoeuvre was named")],
    )


def inferred(manoeuvre: str) -> Row:
    return Row(
        manoeuvre=manoeuvre,
        side=Side.LEFT,
        value="normal",
        basis=Basis.INFERRED,
        confidence=0.8,
        confirm=True,
        flags=["inferred_normal"],
        evidence=[Evidence(start=2, end=3, heard="push up good", mended="push up good")],
    )


def transcript() -> Transcript:
    words = [SpokenWord(text="tibby", start=1, end=1.4, mended="tibialis"), SpokenWord(text="four", start=1.5, end=2)]
    return Transcript(blocks=[Block(start=1, end=2, kind=Talk.RESULT, words=words)])


def sound(path: Path, seconds: float = 4.0, rate: int = 8000) -> Path:
    """A tone that grows louder, as a WAV at another rate than the store's."""
    count = int(seconds * rate)
    samples = [int(30000 * i / count * math.sin(2 * math.pi * 440 * i / rate)) for i in range(count)]
    with wave.open(str(path), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(rate)
        out.writeframes(struct.pack(f"<{count}h", *samples))
    return path
