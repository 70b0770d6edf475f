"""The parts of the page that need no browser: order, words, waveform, chart, and what may be written."""

from __future__ import annotations

from pathlib import Path

import pytest

from pipeline.engine import Engine
from pipeline.hear.words import Heard, Utterance, Word
from pipeline.lexicon import load
from pipeline.record.model import Evidence, ExamRecord, Row
from pipeline.record.store import Store
from pipeline.record.transcript import Block, SpokenWord, Talk, Transcript
from pipeline.review import body, page, risk, sound, tables, wording, words
from pipeline.review.vocabulary import Vocabulary
from tests.review import demo


@pytest.fixture(scope="module")
def vocabulary() -> Vocabulary:
    return Vocabulary(load())


def row(**fields: object) -> Row:
    return Row.model_validate({"manoeuvre": "ankle_dorsiflexion", "side": "left", "value": "4", **fields})


def test_the_list_begins_with_what_could_hurt_most(store: Store, exam: str) -> None:
    view = store.exam(exam)
    order = [page.line(item) for item in risk.ordered(view)]
    assert order == [
        "Ankle jerk, right: 1+",  # side unsaid
        "Ankle eversion, right: 4+",  # side uncertain
        "Knee jerk, right: brisk",  # contradiction
        "Ankle inversion, right: 4",  # low confidence
        "Ankle dorsiflexion, right: 4−",
        "Speech without words at 0:05",
        "Words without a row at 1:19",
        "Great toe extension, right: 3",
        "Light touch L5, right: reduced",
    ]
    assert {page.line(item).split(",")[0] for item in risk.group(view)} == {
        "Hip flexion",
        "Knee extension",
        "Knee flexion",
    }


def test_an_inferred_normal_with_another_doubt_is_not_in_the_group(store: Store) -> None:
    record = demo.large(10)
    record.rows[0].flags.append("side_uncertain")
    view = store.exam(store.add(record, title="T"))
    assert [item.id for item in risk.group(view)] == ["row-6"]
    assert risk.ordered(view)[0].id == "row-1"


def test_rows_of_the_same_words_are_offered_together_and_passed_together(store: Store) -> None:
    said = [Evidence(start=1, end=2, heard="normal throughout", mended="normal throughout")]
    rows = [
        demo.doubtful(name, side, "5", 0.7, "low_audio", evidence=said)
        for name in ("hip_flexion", "knee_flexion")
        for side in ("right", "left")
    ]
    alone = demo.doubtful("knee_jerk", "left", "2+", 0.8, "low_audio")
    exam = store.add(ExamRecord.model_validate({"rows": [*rows, alone]}), title="T")
    gathered = page.gather(store, Vocabulary(load()), exam)
    assert gathered.detail is not None
    assert [item.id for item in gathered.detail.together] == ["row-1", "row-2", "row-3", "row-4"]
    assert (gathered.following, gathered.detail.after) == ("row-2", "row-5")
    single = page.gather(store, Vocabulary(load()), exam, "row-5").detail
    assert single is not None and single.together == []


@pytest.mark.parametrize(
    "flag",
    "misheard_term side_unsaid side_uncertain grade_unsaid grade_uncertain inferred_normal root_unexpected "
    "contradiction listeners_disagree low_audio modality_unsaid manoeuvre_unsaid value_uncertain "
    "low_confidence".split(),
)
def test_each_flag_has_a_sentence(flag: str) -> None:
    assert wording.reason(flag) == wording.FLAGS[flag]
    assert wording.FLAGS[flag].endswith(".") and flag.split("_")[0] != wording.FLAGS[flag]


def test_a_new_flag_is_readable_too() -> None:
    assert wording.reason("speaker_changed") == "Speaker changed."


def test_a_minus_cannot_be_overlooked() -> None:
    assert wording.whole(row(value="4-")) == "Ankle dorsiflexion, left: 4−"
    assert (
        wording.grade("mute") == "mute" and wording.percent(1.0) == "99\u202f%" and wording.percent(0.001) == "1\u202f%"
    )


@pytest.mark.parametrize(
    ("fields", "problem"),
    [
        ({}, None),
        ({"value": "4 minus"}, "one of 0, 1, 2-"),
        ({"manoeuvre": "ankle_flexing"}, "Choose a manoeuvre"),
        ({"side": "midline"}, "left or right"),
        ({"site": "L5"}, "no site"),
        ({"manoeuvre": "light_touch", "value": "normal"}, "Name the site"),
        ({"manoeuvre": "light_touch", "value": "normal", "site": "ankle"}, "one of C2"),
        ({"manoeuvre": "light_touch", "value": "normal", "site": "L5"}, None),
        ({"manoeuvre": "vibration", "value": "absent", "site": "great_toe"}, None),
        ({"manoeuvre": "romberg", "value": "negative"}, "no side"),
        ({"manoeuvre": "heel_walk", "value": "impaired"}, None),
        ({"manoeuvre": "ankle_clonus", "value": "3 beats"}, None),
        ({"manoeuvre": "ankle_clonus", "value": "many beats"}, "such as 3 beats"),
        ({"manoeuvre": "straight_leg_raise", "value": "40 degrees"}, None),
        ({"manoeuvre": "tone", "value": "MAS 1+", "site": "leg"}, None),
        ({"value": None, "status": "not_examined", "reason": "pain"}, None),
        ({"roots": ["L4", "L6"]}, "L6 is no root"),
        ({"roots": ["T12", "L1", "S5"]}, None),
    ],
)
def test_only_what_the_lexicon_knows_can_be_written(
    vocabulary: Vocabulary, fields: dict[str, object], problem: str | None
) -> None:
    found = vocabulary.problem(row(**fields))
    assert found is None if problem is None else problem in (found or "")


def test_right_and_left_stand_side_by_side(store: Store, exam: str, vocabulary: Vocabulary) -> None:
    view = store.exam(exam)
    sections = {section.title: section.lines for section in tables.side_by_side(view.rows, vocabulary)}
    assert list(sections) == [
        "Inspection", "Tone", "Power", "Reflexes", "Sensation", "Nerve tension", "Gait", "Perianal region",
    ]  # fmt: skip
    knee = sections["Reflexes"][0]
    assert [item.row.value for item in (*knee.right, *knee.left)] == ["brisk", "2+"]
    assert [line.subject for line in sections["Sensation"]][:5] == [
        f"Light touch {site}" for site in ("L2", "L3", "L4", "L5", "S1")
    ]
    assert sum(len(line.right + line.left + line.midline) for lines in sections.values() for line in lines) == 40


def test_words_belong_to_the_row_that_rests_on_them(store: Store, exam: str) -> None:
    view, transcript = store.exam(exam), store.transcript(exam)
    assert transcript is not None
    (block,) = [one for one in words.linked(transcript, view.rows, None) if "tibby" in str(one.runs)]
    (run,) = block.runs
    assert run.item == "row-13"
    assert [(piece.heard, piece.mended) for piece in run.pieces] == [
        ("right leg", None),
        ("tibby alice interior", "tibialis anterior"),
        ("four minus L4 five", None),
    ]
    both = words.linked(transcript, view.rows, "row-8")
    assert [run.item for block in both for run in block.runs if run.item in ("row-7", "row-8")] == ["row-8"]


def test_what_the_engine_leaves_can_be_reviewed(store: Store, vocabulary: Vocabulary) -> None:
    """Words as a listener hears them, through the real engine, the store and the page's own gathering."""
    said = (
        "right leg power tibby alice interior four minus left knee jerk two plus light touch reduced at L5 on the left"
    )
    heard = [Word(text=text, start=number / 2, end=(number + 1) / 2) for number, text in enumerate(said.split())]
    analysis = Engine().analyse(Heard(utterances=[Utterance(words=heard)], duration=len(heard) / 2))
    exam = store.add(analysis.record, title="T", transcript=analysis.transcript)
    assert store.export_record(exam) == analysis.record and analysis.record.rows
    gathered = page.gather(store, vocabulary, exam)
    shown = [piece.heard for block in gathered.talk for run in block.runs for piece in run.pieces]
    assert " ".join(shown) == said
    linked = {run.item for block in gathered.talk for run in block.runs} - {None}
    assert linked == {item.id for item in gathered.exam.rows}
    assert all(vocabulary.problem(row) is None for row in analysis.record.rows)


def test_words_outside_every_row_are_kept(store: Store, exam: str) -> None:
    said = [SpokenWord(text=text, start=at, end=at + 1) for at, text in enumerate(["a", "b", "c"])]
    blocks = words.linked(Transcript(blocks=[Block(start=0, end=3, kind=Talk.ASIDE, words=said)]), [], None)
    assert [piece.heard for piece in blocks[0].runs[0].pieces] == ["a b c"]


def test_a_clip_has_two_seconds_of_lead_in_where_there_are_two() -> None:
    clip = sound.clip(10, 11, 60)
    assert clip is not None and (clip.start, clip.end) == (8.0, pytest.approx(11.6))
    assert clip.words_x / sound.WIDTH == pytest.approx(2 / 3.6) and clip.words_width / sound.WIDTH == pytest.approx(
        1 / 3.6
    )
    early = sound.clip(0.5, 1, 60)
    assert early is not None and early.start == 0
    assert sound.clip(70, 71, 60) is None
    long = sound.clip(5, 500, 600)
    assert long is not None and long.end - long.start == sound.LONGEST


def test_the_waveform_shows_loud_and_quiet() -> None:
    path = sound.outline([0.1, 0.5, 0.0])
    heights = [abs(float(bar.split("V")[1]) - float(bar.split("V")[0].split()[1])) for bar in path.split("M")[1:]]
    assert heights[1] == pytest.approx(0.92 * sound.HEIGHT, abs=0.2)
    assert heights[1] > 4 * heights[0] > 4 * heights[2] > 0


def test_the_chart_puts_findings_on_the_patients_side(store: Store, exam: str, vocabulary: Vocabulary) -> None:
    rows = [item.row for item in store.exam(exam).rows]
    chart = body.chart(rows, vocabulary)
    right = [label for label in chart.labels if label.x < body.CENTRE]
    assert ("dorsiflexion", "4−", False) in next(label for label in right if label.joint == "ankle").lines
    (reduced,) = [point for point in chart.front if point.site == "L5" and point.kind == "absent"]
    assert reduced.x < body.CENTRE, "seen from the front, the patient's right is on the viewer's left"
    assert not chart.seen_behind
    behind = body.chart([row(manoeuvre="pinprick", side="right", site="S3", value="reduced")], vocabulary)
    (point,) = [point for point in behind.back if point.kind]
    assert point.x > body.BACK_CENTRE, "seen from behind, the patient's right is on the viewer's right"
    assert body.chart([], vocabulary).empty


def test_the_chart_has_a_point_for_every_dermatome_and_a_joint_for_every_movement(vocabulary: Vocabulary) -> None:
    everything = [row(manoeuvre="pinprick", site=site, value="normal") for site in vocabulary.dermatomes]
    power = [row(manoeuvre=one.id) for one in vocabulary.by_section["Power"]]
    chart = body.chart([*everything, *power], vocabulary)
    shown = {point.site for point in (*chart.front, *chart.back) if point.kind}
    assert shown == set(vocabulary.dermatomes)
    assert sum(len(label.lines) for label in chart.labels) == len(power)
    for label in chart.labels:
        assert 0 <= label.y <= body.HEIGHT


def test_the_page_takes_no_style_from_elsewhere() -> None:
    assert "http" not in Path("pipeline/review/static/review.css").read_text()
