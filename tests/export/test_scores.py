"""Scores against published cases, and what keeps them from being computed."""

import pytest

from pipeline.record.model import Row, Side
from pipeline.record.scores import LOWER_EXTREMITY, MRC_SUM, Definition, ashworth, points, score


def graded(definition: Definition, right: list[str], left: list[str]) -> list[Row]:
    sides = ((Side.RIGHT, right), (Side.LEFT, left))
    return [
        Row(manoeuvre=part.manoeuvre, side=side, value=grade)
        for side, grades in sides
        for part, grade in zip(definition.parts, grades, strict=True)
    ]


# Grades L2, L3, L4, L5, S1 and totals as published: InSTeP module 5 cases in the validation set of the Rick Hansen
# Institute's ISNCSCI algorithm (tests/isncsci-tests-1.js of the public repository thbland/core), cases 2, 3 and 5.
@pytest.mark.parametrize(
    ("right", "left", "right_total", "left_total", "total"),
    [
        (["0", "0", "0", "0", "0"], ["0", "0", "0", "0", "0"], 0, 0, 0),
        (["3", "0", "0", "0", "0"], ["4", "0", "0", "0", "0"], 3, 4, 7),
        (["1", "0", "0", "0", "0"], ["3", "1", "0", "0", "0"], 1, 4, 5),
    ],
)
def test_lower_extremity_motor_score_of_published_cases(
    right: list[str], left: list[str], right_total: int, left_total: int, total: int
) -> None:
    found = score(graded(LOWER_EXTREMITY, right, left), LOWER_EXTREMITY)
    assert (found.subtotal(Side.RIGHT), found.subtotal(Side.LEFT), found.total) == (right_total, left_total, total)


# Constructed from the definitions: no published examination with all grades and its total was found.
def test_the_scores_of_full_power_are_their_maxima() -> None:
    assert score(graded(LOWER_EXTREMITY, ["5"] * 5, ["5"] * 5), LOWER_EXTREMITY).total == LOWER_EXTREMITY.maximum == 50
    assert score(graded(MRC_SUM, ["normal"] * 6, ["5"] * 6), MRC_SUM).total == MRC_SUM.maximum == 60


# Constructed from the definition.
def test_mrc_sum_score_adds_six_movements_on_both_sides() -> None:
    found = score(graded(MRC_SUM, ["4", "4", "3", "2", "3", "1"], ["4", "5", "4", "3", "3", "0"]), MRC_SUM)
    assert (found.subtotal(Side.RIGHT), found.subtotal(Side.LEFT), found.total) == (17, 19, 36)


@pytest.mark.parametrize(
    ("value", "counts"),
    [("0", 0), ("2-", 2), ("3+", 3), ("4-", 4), ("4+", 4), ("5-", 4), ("5", 5), ("normal", 5), ("reduced", None)],
)
def test_plus_and_minus_are_dropped_but_five_minus_is_not_normal(value: str, counts: int | None) -> None:
    assert points(value) == counts


def test_a_recorded_grade_is_kept_beside_its_points() -> None:
    found = score(graded(LOWER_EXTREMITY, ["5", "5", "4-", "3+", "5"], ["5"] * 5), LOWER_EXTREMITY)
    signed = {one.part.label: (one.recorded, one.points) for one in found.counted if one.recorded[1:]}
    assert signed == {"L4 ankle dorsiflexors": ("4-", 4), "L5 long toe extensors": ("3+", 3)}


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"confirm": True}, "unconfirmed"),
        ({"value": "reduced"}, "no grade was given (reduced)"),
        ({"value": None, "status": "not_examined", "reason": "pain"}, "not examined (pain)"),
        ({"side": "midline"}, "not recorded"),
    ],
)
def test_nothing_is_added_up_while_a_part_is_missing(change: dict[str, object], reason: str) -> None:
    rows = graded(LOWER_EXTREMITY, ["5"] * 5, ["4"] * 5)
    rows[1] = Row.model_validate(rows[1].model_dump() | change)
    found = score(rows, LOWER_EXTREMITY)
    (missing,) = found.missing
    assert (missing.part.label, missing.side, missing.reason) == ("L3 knee extensors", Side.RIGHT, reason)
    assert (found.total, found.subtotal(Side.RIGHT), found.subtotal(Side.LEFT)) == (None, None, 20)


def test_two_entries_for_one_part_are_not_chosen_between() -> None:
    rows = graded(MRC_SUM, ["5"] * 6, ["5"] * 6)
    found = score([*rows, rows[0].model_copy(update={"value": "3"})], MRC_SUM)
    assert found.total is None
    assert found.missing[0].reason == "recorded more than once; keep one entry"


def test_modified_ashworth_grades_are_listed_not_added() -> None:
    tones = [("left", "arm", "MAS 1+"), ("left", "leg", "increased"), ("right", "leg", "MAS 0")]
    rows = [Row(manoeuvre="tone", side=Side(side), site=site, value=value) for side, site, value in tones]
    assert [(row.side.value, row.site, row.value) for row in ashworth(rows)] == [tones[0], tones[2]]
