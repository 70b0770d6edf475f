"""Transcripts for the tests: lines of talk, spoken at a steady rate, with misheard spans written as `heard=>mended`."""

from pipeline.export.exam import Exam
from pipeline.lexicon import load
from pipeline.record.model import ExamRecord, Row
from pipeline.record.transcript import Block, SpokenWord, Talk, Transcript
from tests.export.cases import cases

CHARACTERS_A_SECOND = 14.0

BEDSIDE = [
    ("aside", "Good morning and thank you for letting us visit."),
    ("teaching", "Before you touch anybody, stand at the end of the bed and look."),
    ("instruction", "Lift your knee up and don't let me press it down."),
    ("result", "Right hip flexion five, L two three. Left {ilia so as=>iliopsoas} four."),
    ("teaching", "{ilia so as=>Iliopsoas} is supplied by the femoral nerve, L2 and L3."),
    ("instruction", "Pull your foot up."),
    ("result", "{tibby alice interior.=>tibialis anterior} four minus, L four five."),
    ("teaching", "Tibialis anterior gets S1 from the superficial peroneal nerve."),
    ("correction", "Sorry, the left one."),
    ("instruction", "I am going to tap your knee."),
    ("result", "Knee jerks two plus on both sides."),
]


def transcript(lines: list[tuple[str, str]], rate: float = CHARACTERS_A_SECOND, pause: float = 0.4) -> Transcript:
    blocks, now = [], 0.5
    for kind, line in lines:
        words, start = [], now
        for part in line.replace("{", "\0{").replace("}", "\0").split("\0"):
            heard, _, mended = part.strip("{").partition("=>")
            for at, text in enumerate(heard.split()):
                until = now + (len(text) + 1) / rate
                changed = (mended if at == 0 else "") if mended else None
                words.append(SpokenWord(text=text, start=now, end=until - 0.02, mended=changed))
                now = until
        blocks.append(Block(start=start, end=words[-1].end, kind=Talk(kind), words=words))
        now += pause
    return Transcript(blocks=blocks)


def row_at(transcript: Transcript, block: int, **fields: object) -> Row:
    span = transcript.blocks[block]
    evidence = [{"start": span.start, "end": span.end, "heard": "", "mended": ""}]
    return Row.model_validate({"evidence": evidence, **fields})


def bedside() -> Exam:
    talk = transcript(BEDSIDE)
    rows = [
        row_at(talk, 3, manoeuvre="hip_flexion", side="right", value="5", roots=["L2", "L3"]),
        row_at(talk, 3, manoeuvre="hip_flexion", side="left", value="4", muscle="iliopsoas"),
        row_at(
            talk,
            6,
            manoeuvre="ankle_dorsiflexion",
            side="left",
            value="4-",
            roots=["L4", "L5"],
            muscle="tibialis_anterior",
        ),
        row_at(talk, 10, manoeuvre="knee_jerk", side="right", value="2+"),
        row_at(talk, 10, manoeuvre="knee_jerk", side="left", value="2+"),
    ]
    return Exam(ExamRecord(rows=rows), talk, title="Bedside teaching")


def spoken_case(case: dict[str, object], rate: float = CHARACTERS_A_SECOND) -> Transcript:
    """The words of a case as one long block: the hardest thing to cut."""
    return transcript([("result", str(case["clean"]))], rate)


def hour() -> Exam:
    """A session of sixty minutes: the cases' own talk, 8,000 words; 400 rows, theirs and all of sensation."""
    kinds = ("instruction", "result", "teaching", "aside")
    lines, rows = [], []
    sentences = [
        (case, sentence) for case in cases() for sentence in str(case["clean"]).split(". ") if sentence.strip()
    ]
    while len(lines) < 1000:
        at = len(lines)
        lines.append((kinds[at % 4], sentences[at % len(sentences)][1].strip() + "."))
    talk = transcript(lines)
    scale = 3600 / talk.blocks[-1].end
    talk = transcript(lines, CHARACTERS_A_SECOND / scale, 0.4 * scale)
    seen = set()
    wanted = [row for case in cases() for row in case["rows"] if row["side"] != "unsaid"]
    wanted += [
        {"manoeuvre": sense, "side": side, "site": entry.id, "value": "normal"}
        for sense in ("light_touch", "pinprick", "temperature", "vibration", "joint_position")
        for entry in load().dermatomes
        for side in ("right", "left")
    ]
    for at, fields in enumerate(wanted):
        key = (fields["manoeuvre"], fields["side"], fields["site"])
        if key not in seen and len(rows) < 400:
            seen.add(key)
            rows.append(row_at(talk, (at * 2) % len(lines), **fields))
    return Exam(ExamRecord(rows=rows), talk, title="An hour of teaching")
