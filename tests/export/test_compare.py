"""Comparison over time: outcomes by scale, what may be the examiner, and charts that need no colour."""

import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest
from docx import Document

from pipeline.export.charts import LARGEST, panels, trend_svg
from pipeline.export.comparison import comparison, write_comparison
from pipeline.export.exam import Exam
from pipeline.lexicon import load
from pipeline.record.compare import RELIABILITY, Outcome, compare, courses
from pipeline.record.model import ExamRecord, Row
from tests.export.cases import cases, record
from tests.export.readers import pdf_pages

LEXICON = load()
SVG = "{http://www.w3.org/2000/svg}"


def row(manoeuvre: str, value: str | None, side: str = "right", **more: object) -> Row:
    return Row.model_validate({"manoeuvre": manoeuvre, "side": side, "value": value, **more})


def outcome(manoeuvre: str, before: str, after: str, **more: object) -> tuple[Outcome, bool]:
    (change,) = compare([row(manoeuvre, before, **more)], [row(manoeuvre, after, **more)], LEXICON)
    return change.outcome, change.within_variation


BETTER, WORSE, SAME, CHANGED = Outcome.BETTER, Outcome.WORSE, Outcome.SAME, Outcome.CHANGED


@pytest.mark.parametrize(
    ("manoeuvre", "before", "after", "found", "within"),
    [
        ("hip_flexion", "3", "4", BETTER, True),
        ("hip_flexion", "3", "5", BETTER, False),
        ("hip_flexion", "4", "4-", WORSE, True),
        ("hip_flexion", "4-", "4+", BETTER, False),
        ("hip_flexion", "4", "5-", BETTER, False),
        ("hip_flexion", "5", "normal", SAME, False),
        ("hip_flexion", "normal", "5-", WORSE, True),
        ("hip_flexion", "reduced", "4", CHANGED, False),
        ("hip_flexion", "reduced", "normal", BETTER, False),
        ("knee_jerk", "0", "1+", BETTER, True),
        ("knee_jerk", "4+", "2+", BETTER, False),
        ("knee_jerk", "1+", "3+", CHANGED, False),
        ("knee_jerk", "normal", "3+", WORSE, True),
        ("knee_jerk", "brisk", "3+", CHANGED, False),
        ("tone", "MAS 1", "MAS 1+", WORSE, True),
        ("tone", "MAS 3", "MAS 1", BETTER, False),
        ("tone", "normal", "MAS 0", SAME, False),
        ("tone", "increased", "reduced", CHANGED, False),
        ("light_touch", "absent", "reduced", BETTER, True),
        ("light_touch", "normal", "absent", WORSE, False),
        ("light_touch", "reduced", "altered", CHANGED, False),
        ("plantar_response", "flexor", "extensor", WORSE, False),
        ("plantar_response", "mute", "extensor", CHANGED, False),
        ("ankle_clonus", "4 beats", "sustained", WORSE, False),
        ("ankle_clonus", "4 beats", "absent", BETTER, False),
        ("straight_leg_raise", "40 degrees", "70 degrees", BETTER, False),
        ("straight_leg_raise", "40 degrees", "negative", BETTER, False),
        ("gait", "impaired", "impaired", SAME, False),
    ],
)
def test_outcomes_by_scale(manoeuvre: str, before: str, after: str, found: Outcome, within: bool) -> None:
    assert outcome(manoeuvre, before, after) == (found, within)


@pytest.mark.parametrize(("manoeuvre", "before", "after"), [("hip_flexion", "2", "4+"), ("knee_jerk", "0", "2+")])
def test_what_is_better_one_way_is_worse_the_other(manoeuvre: str, before: str, after: str) -> None:
    assert outcome(manoeuvre, before, after)[0] is BETTER
    assert outcome(manoeuvre, after, before)[0] is WORSE


def test_rows_that_came_or_went() -> None:
    omitted = row("romberg", None, "midline", status="not_examined", reason="pain")
    before = [row("gait", "normal", "midline"), row("hip_flexion", "4"), omitted]
    after = [row("hip_flexion", "4", "left"), row("hip_flexion", None, status="not_examined", reason="pain"), omitted]
    found = {(one.row.manoeuvre, one.row.side.value): one.outcome for one in compare(before, after, LEXICON)}
    assert found == {
        ("hip_flexion", "left"): Outcome.NEWLY_EXAMINED,
        ("hip_flexion", "right"): Outcome.NO_LONGER_EXAMINED,
        ("gait", "midline"): Outcome.NO_LONGER_EXAMINED,
    }


@pytest.mark.parametrize("case", cases(), ids=lambda case: str(case["id"]))
def test_an_examination_compared_with_itself_is_the_same(case: dict[str, object]) -> None:
    rows = record(case).rows
    examined = {one.key for one in rows if one.value is not None}
    changes = compare(rows, rows, LEXICON)
    assert {change.row.key for change in changes} == examined
    assert {change.outcome for change in changes} <= {SAME} and not any(one.within_variation for one in changes)


def test_a_course_runs_through_all_examinations() -> None:
    (course,) = courses([[row("hip_flexion", "3")], [], [row("hip_flexion", "4")]], LEXICON)
    assert [one.value if one else None for one in course.rows] == ["3", None, "4"]
    assert [one.outcome for one in course.changes if one] == [Outcome.NO_LONGER_EXAMINED, Outcome.NEWLY_EXAMINED]


def exams(*values: str) -> list[Exam]:
    return [
        Exam(ExamRecord(rows=[row("ankle_dorsiflexion", value), row("ankle_dorsiflexion", "5", "left", confirm=True)]))
        for value in values
    ]


def test_the_report_says_what_may_be_the_examiner_and_who_found_out() -> None:
    text = comparison(exams("3", "4", "5-"), ["January", "March", "May"], LEXICON)
    assert "- Better: Ankle dorsiflexion, right 4 to 5-\n" in text
    assert "| Ankle dorsiflexion, right | 3 | 4 (better; possibly within examiner variation) | 5- (better) |" in text
    assert RELIABILITY["mrc"].source in text.replace("\\", "") and RELIABILITY["reflex"].source not in text
    assert "5, unconfirmed (same)" in text


def test_a_scale_without_a_citable_figure_is_named() -> None:
    raised = [Exam(ExamRecord(rows=[row("straight_leg_raise", value)])) for value in ("40 degrees", "60 degrees")]
    text = comparison(raised, ["A", "B"], LEXICON)
    assert "No citable figure was found for: Nerve tension test, or its angle." in text.replace("\\", "")


def test_charts_tell_the_sides_apart_without_colour() -> None:
    found = panels(courses([one.record.rows for one in exams("3", "4-", "4+")], LEXICON), LEXICON)
    root = ElementTree.fromstring(trend_svg(found, ["A", "B", "C"], "Trends"))
    (panel,) = root.findall(f"{SVG}g")
    right, left = panel.findall(f"{SVG}polyline")
    assert (right.get("stroke-dasharray"), left.get("stroke-dasharray")) == (None, "5 3")
    assert len(panel.findall(f"{SVG}circle")) == len(panel.findall(f"{SVG}rect")) == 3
    texts = [text.text for text in panel.findall(f"{SVG}text")]
    assert {"Ankle dorsiflexion", "R", "L", "A", "B", "C", "0", "5"} <= set(texts) and texts.count("?") == 3
    heights = [float(pair.split(",")[1]) for pair in str(right.get("points")).split()]
    step = (heights[0] - heights[2]) / 4
    assert heights[0] - heights[1] == pytest.approx(2 * step, abs=0.11)
    assert "Ankle dorsiflexion, right: A 3, B 4-, C 4+" in str(root.findtext(f"{SVG}desc"))


def test_nothing_graded_twice_makes_no_chart() -> None:
    seen = [[row("gait", "normal", "midline"), row("hip_flexion", "reduced")], [row("hip_flexion", "4")]]
    assert panels(courses(seen, LEXICON), LEXICON) == []


def test_report_and_charts_are_written_in_all_forms(tmp_path: Path) -> None:
    powers = [entry.id for entry in LEXICON.manoeuvres if entry.scale == "mrc"]
    assert len(powers) > LARGEST
    seen = [Exam(ExamRecord(rows=[row(one, value) for one in powers])) for value in ("3", "4")]
    written = write_comparison(seen, ["A", "B"], LEXICON, tmp_path)
    pictures = [f"trends-{at}.{ending}" for at in (1, 2) for ending in ("svg", "png")]
    pictures = pictures if len(powers) <= 2 * LARGEST else [*pictures, "trends-3.svg", "trends-3.png"]
    assert [one.name for one in written] == [*pictures, "comparison.md", "comparison.docx", "comparison.pdf"]
    picture = (tmp_path / "trends-1.png").read_bytes()
    assert picture[:8] == b"\x89PNG\r\n\x1a\n" and int.from_bytes(picture[16:20]) > 1000
    text = " ".join(pdf_pages(tmp_path / "comparison.pdf"))
    assert "Check that all examinations are of the same patient" in text
    assert len(Document(str(tmp_path / "comparison.docx")).inline_shapes) == len(pictures) // 2
    assert "Trends by movement and side" in text


def test_labels_thin_out_when_there_are_many() -> None:
    seen = exams(*["3", "4", "5"] * 4)
    found = panels(courses([one.record.rows for one in seen], LEXICON), LEXICON)
    text = trend_svg(found, [f"visit {at}" for at in range(12)], "Trends")
    assert text.count(">visit ") == 4


def test_an_entry_that_is_not_compared_is_listed() -> None:
    """An unsigned record may hold two results for the same row: the later one is compared."""
    twice = Exam(ExamRecord(rows=[row("hip_flexion", "3"), row("hip_flexion", "4")]))
    once = Exam(ExamRecord(rows=[row("hip_flexion", "5")]))
    text = comparison([twice, once], ["March", "May"], LEXICON).replace("\\", "")
    assert "- Better: Hip flexion, right 4 to 5" in text
    assert "- March: Hip flexion, right 3" in text.partition("## Recorded more than once")[2]
    assert "Recorded more than once" not in comparison([once, once], ["March", "May"], LEXICON)
