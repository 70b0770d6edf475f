"""An invented examination, spoken by a synthetic voice, as the engine would leave it: every kind of doubt is in it."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from pipeline.record.model import Alternative, Basis, Evidence, ExamRecord, Row, Unheard, Unplaced
from pipeline.record.store import Store
from pipeline.record.transcript import Block, SpokenWord, Talk, Transcript
from scripts.speech.render import render

TITLE = "Lower limbs, invented patient B"
SPEAKER = "Dr Imogen Hale"


@dataclass(frozen=True)
class Line:
    """What was said, of which kind, how it was heard, and the rows it makes.

    `heard` may hold `words=>term` for words that were mended to a term; without it the words were heard as said.
    """

    kind: Talk
    said: str
    heard: str = ""
    rows: list[dict[str, Any]] = field(default_factory=list)


def both(manoeuvre: str, value: str, **more: Any) -> list[dict[str, Any]]:
    return [{"manoeuvre": manoeuvre, "side": side, "value": value, "confidence": 0.97, **more} for side in SIDES]


def doubtful(manoeuvre: str, side: str, value: str, confidence: float, *flags: str, **more: Any) -> dict[str, Any]:
    row = {"manoeuvre": manoeuvre, "side": side, "value": value, "confidence": confidence, "confirm": True}
    return {**row, "flags": list(flags), **more}


def inferred(manoeuvre: str, side: str) -> dict[str, Any]:
    return doubtful(manoeuvre, side, "normal", 0.85, "inferred_normal", basis=Basis.INFERRED)


def other(slot: str, value: str, probability: float) -> dict[str, Any]:
    return {"slot": slot, "value": value, "probability": probability}


SIDES = ("right", "left")
LINES = [
    Line(Talk.ASIDE, "Thank you for coming in this morning."),
    Line(Talk.INSTRUCTION, "Lie back for me and let both legs go loose."),
    Line(
        Talk.RESULT,
        "There is no wasting and no fasciculation in either leg.",
        "there is no wasting and no [vesicular nations=>fasciculation] in either leg",
        [*both("wasting", "absent", site="leg"), *both("fasciculation", "absent", site="leg")],
    ),
    Line(Talk.RESULT, "Tone is normal on both sides.", rows=both("tone", "normal", site="leg")),
    Line(
        Talk.INSTRUCTION,
        "Push your right knee up against my hand. Good. And the left. Lovely, relax.",
        rows=[inferred("hip_flexion", "right"), inferred("hip_flexion", "left")],
    ),
    Line(
        Talk.INSTRUCTION,
        "Now straighten that knee. Excellent. And the other one. Good.",
        rows=[inferred("knee_extension", "right"), inferred("knee_extension", "left")],
    ),
    Line(
        Talk.INSTRUCTION,
        "Bend it, pull your heel towards you. Good. And again over here.",
        rows=[inferred("knee_flexion", "right"), inferred("knee_flexion", "left")],
    ),
    Line(
        Talk.RESULT,
        "Right leg. Tibialis anterior four minus, L four five.",
        "right leg [tibby alice interior=>tibialis anterior] four minus L4 five",
        [
            doubtful(
                "ankle_dorsiflexion", "right", "4-", 0.58, "misheard_term", "grade_uncertain",
                muscle="tibialis_anterior", roots=["L4", "L5"], expected_roots=["L4", "L5"],
                alternatives=[other("value", "4", 0.31), other("manoeuvre", "ankle_inversion", 0.08)],
            )
        ],
    ),
    Line(
        Talk.RESULT,
        "Extensor hallucis longus three, L five.",
        "[extent sir hallux is longest=>extensor hallucis longus] three L5",
        [
            doubtful(
                "great_toe_extension", "right", "3", 0.74, "misheard_term",
                muscle="extensor_hallucis_longus", roots=["L5"], expected_roots=["L5"],
            )
        ],
    ),
    Line(
        Talk.RESULT,
        "Peronei four plus.",
        "[pair o'knee eye=>peronei] four plus",
        [
            doubtful(
                "ankle_eversion", "right", "4+", 0.66, "misheard_term", "side_uncertain",
                muscle="peronei", expected_roots=["L5", "S1"], alternatives=[other("side", "left", 0.27)],
            )
        ],
    ),
    Line(
        Talk.RESULT,
        "Inversion four.",
        "[in version=>inversion] four",
        [
            doubtful(
                "ankle_inversion", "right", "4", 0.49, "listeners_disagree",
                alternatives=[other("manoeuvre", "ankle_eversion", 0.41)],
            )
        ],
    ),
    Line(
        Talk.RESULT,
        "Plantarflexion five.",
        rows=[{"manoeuvre": "ankle_plantarflexion", "side": "right", "value": "5", "confidence": 0.93}],
    ),
    Line(
        Talk.RESULT,
        "Left leg, below the knee, power is five throughout.",
        rows=[
            {"manoeuvre": name, "side": "left", "value": "5", "confidence": 0.95}
            for name in ("ankle_dorsiflexion", "great_toe_extension", "ankle_plantarflexion", "ankle_eversion")
        ],
    ),
    Line(
        Talk.TEACHING,
        "Remember, a foot drop with weak inversion points to the root and not to the nerve.",
    ),
    Line(Talk.RESULT, "Knee jerks are two plus and symmetrical."),
    Line(
        Talk.RESULT,
        "The right knee jerk is brisk now.",
        rows=[
            {"manoeuvre": "knee_jerk", "side": "left", "value": "2+", "confidence": 0.96},
            doubtful("knee_jerk", "right", "brisk", 0.61, "contradiction", alternatives=[other("value", "2+", 0.36)]),
        ],
    ),
    Line(
        Talk.RESULT,
        "Ankle jerk one plus.",
        "[uncle=>ankle] jerk one plus",
        [doubtful("ankle_jerk", "right", "1+", 0.55, "side_unsaid", alternatives=[other("side", "left", 0.43)])],
    ),
    Line(Talk.RESULT, "Plantars are both down going.", rows=both("plantar_response", "flexor")),
    Line(
        Talk.TEACHING,
        "If the toe went up instead, that would be an upper motor neurone sign.",
    ),
    Line(
        Talk.RESULT,
        "Light touch is reduced in the right L five dermatome, normal at L four and S one.",
        "light touch is reduced in the right L5 [derma tome=>dermatome] normal at L4 and S1",
        [
            doubtful("light_touch", "right", "reduced", 0.79, "low_audio", site="L5"),
            {"manoeuvre": "light_touch", "side": "right", "site": "L4", "value": "normal", "confidence": 0.94},
            {"manoeuvre": "light_touch", "side": "right", "site": "S1", "value": "normal", "confidence": 0.94},
        ],
    ),
    Line(
        Talk.RESULT,
        "On the left it is intact from L two to S one.",
        rows=[
            {"manoeuvre": "light_touch", "side": "left", "site": site, "value": "normal", "confidence": 0.95}
            for site in ("L2", "L3", "L4", "L5", "S1")
        ],
    ),
    Line(
        Talk.RESULT,
        "Pinprick is absent over the right L five.",
        rows=[{"manoeuvre": "pinprick", "side": "right", "site": "L5", "value": "absent", "confidence": 0.92}],
    ),
    Line(
        Talk.CORRECTION,
        "Straight leg raise forty degrees on the left, sorry, on the right. Ninety on the left.",
        rows=[
            {"manoeuvre": "straight_leg_raise", "side": "right", "value": "40 degrees", "confidence": 0.94},
            {"manoeuvre": "straight_leg_raise", "side": "left", "value": "90 degrees", "confidence": 0.94},
        ],
    ),
    Line(
        Talk.RESULT,
        "Heel walking is impaired on the right. Gait is otherwise normal.",
        rows=[
            {"manoeuvre": "heel_walk", "side": "right", "value": "impaired", "confidence": 0.93},
            {"manoeuvre": "gait", "side": "midline", "value": "normal", "confidence": 0.95},
        ],
    ),
    Line(Talk.RESULT, "Brisk there on that side."),
    Line(
        Talk.RESULT,
        "We leave anal tone for the ward.",
        rows=[{"manoeuvre": "anal_tone", "side": "midline", "status": "not_examined", "reason": "deferred"}],
    ),
    Line(Talk.CONTROL, "Read that back, please."),
]  # fmt: skip


@dataclass(frozen=True)
class Demo:
    record: ExamRecord
    transcript: Transcript
    audio: Path


def demo() -> Demo:
    """The examination with its recording; the recording is made once and then taken from the cache."""
    # One sentence for each line, so that the voice tells the time of each.
    spoken = render(" ".join(_one_sentence(line.said) for line in LINES), "hibari-gb")
    blocks, rows = [], []
    for line, sentence in zip(LINES, spoken.sentences, strict=True):
        words = _words(line.heard or line.said.lower().replace(".", "").replace(",", ""), sentence.start, sentence.end)
        blocks.append(Block(start=sentence.start, end=sentence.end, kind=line.kind, words=words))
        heard = " ".join(word.text for word in words)
        mended = " ".join(word.text if word.mended is None else word.mended for word in words if word.mended != "")
        evidence = Evidence(start=sentence.start, end=sentence.end, heard=heard, mended=mended)
        rows += [Row.model_validate({**row, "evidence": [evidence]}) for row in line.rows]
    loose = blocks[-3]
    return Demo(
        ExamRecord(
            rows=rows,
            unheard=[Unheard(start=blocks[1].end, end=blocks[1].end + 1.4, reason="speech that gave no words")],
            unplaced=[
                Unplaced(
                    start=loose.start, end=loose.end, text="brisk there on that side", reason="no manoeuvre was named"
                )
            ],
        ),
        Transcript(blocks=blocks),
        spoken.path,
    )


def add(store: Store) -> str:
    """Puts the examination into a store and returns its id."""
    made = demo()
    return store.add(
        made.record, title=TITLE, audio=made.audio, transcript=made.transcript, speaker=SPEAKER, who="spoken-exam"
    )


def large(rows: int = 400) -> ExamRecord:
    """A record of many rows, every third in doubt and every fifth inferred."""
    made = []
    for number in range(rows):
        flags = ["inferred_normal"] if number % 5 == 0 else ["grade_uncertain"] if number % 3 == 0 else []
        made.append(
            Row(
                manoeuvre=f"movement_{number // 2}",
                side=SIDES[number % 2],
                value="normal" if number % 5 == 0 else "4",
                basis=Basis.INFERRED if number % 5 == 0 else Basis.STATED,
                confidence=0.5 + number % 50 / 100,
                confirm=bool(flags),
                flags=flags,
                alternatives=[Alternative(slot="value", value="4+", probability=0.2)],
                evidence=[Evidence(start=number, end=number + 1, heard="four", mended="four")],
            )
        )
    return ExamRecord(rows=made)


def _one_sentence(said: str) -> str:
    return said.rstrip(".").replace(". ", ", ") + "."


def _words(heard: str, start: float, end: float) -> list[SpokenWord]:
    pieces: list[tuple[str, str | None]] = []
    for part in heard.replace("[", "|[").replace("]", "|").split("|"):
        if part.startswith("["):
            said, meant = part[1:].split("=>")
            said_words = said.split()
            pieces += [(word, meant if number == 0 else "") for number, word in enumerate(said_words)]
        else:
            pieces += [(word, None) for word in part.split()]
    step = (end - start) / len(pieces)
    return [
        SpokenWord(text=text, start=start + step * number, end=start + step * (number + 1), mended=mended)
        for number, (text, mended) in enumerate(pieces)
    ]
