"""Grades that the examiner settles on or tells in turn, and sides that are named for something else than a test.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

SETTLED = table("""
left hip flexion, I'll settle for three => left hip_flexion 3
right big toe extension. hmm. I'm going to go with four minus => right great_toe_extension 4-
left ankle jerk, I'd settle for one plus => left ankle_jerk 1+
right wrist extension I have to say is four => right wrist_extension 4
left deltoid, let us say four plus, right deltoid let's say five => left shoulder_abduction 4+;
 right shoulder_abduction 5
right grip, I can only give that a two => right grip 2
some people would give it five. right grip, I will give it four => right grip 4
we'll take three steps to the side. left eversion four => left ankle_eversion 4
let's give it three goes. left inversion four => left ankle_inversion 4
right biceps four. if he were stronger I'd give him five => right elbow_flexion 4
left hip extension four, that should read three => left hip_extension 3
left hip extension four, amend to three => left hip_extension 3
""")
OF_A_CASE = table("""
left ankle jerk two plus, that should be absent in a root lesion => left ankle_jerk 2+
right knee jerk brisk, that should be one plus for a man of that age => right knee_jerk brisk
left triceps five, that should be four => left elbow_extension 4
""")
IN_TURN = table("""
left hip flexion four and eversion five; right, three and two => left hip_flexion 4; left ankle_eversion 5;
 right hip_flexion 3; right ankle_eversion 2
on the right deltoid is four and grip is five whereas on the left they are five and three => right shoulder_abduction 4;
 right grip 5; left shoulder_abduction 5; left grip 3
right deltoid and grip are four and five, on the left three and two => right shoulder_abduction 4; right grip 5;
 left shoulder_abduction 3; left grip 2
left leg. hip flexion five, inversion four, eversion three. right leg. five, five, four plus => left hip_flexion 5;
 left ankle_inversion 4; left ankle_eversion 3; right hip_flexion 5; right ankle_inversion 5; right ankle_eversion 4+
right biceps jerk two plus, triceps jerk one plus, on the left brisk and absent => right biceps_jerk 2+;
 right triceps_jerk 1+; left biceps_jerk brisk; left triceps_jerk 0
left deltoid four, grip five, right both five => left shoulder_abduction 4; left grip 5; right shoulder_abduction 5;
 right grip 5
""")
NOT_IN_TURN = table("""
left deltoid four, grip five, on the right three => left shoulder_abduction 4; left grip 5; right grip 3
left deltoid four. right grip five and triceps three => left shoulder_abduction 4; right grip 5; right elbow_extension 3
""")
USUALLY = table("""
the ankle jerk is usually two plus. here on the left it is absent => left ankle_jerk 0
normally hip flexion is five. here on the right they are four => right hip_flexion 4
""")


TOO_SORE = table("""
left eversion four plus, hip flexion too sore, great toe extension four minus => left ankle_eversion 4+;
 left hip_flexion !pain; left great_toe_extension 4-
right deltoid four. biceps too sore. triceps three => right shoulder_abduction 4; right elbow_flexion !pain;
 right elbow_extension 3
left knee jerk two plus, ankle jerk too tender, plantar flexor => left knee_jerk 2+; left ankle_jerk !pain;
 left plantar_response flexor
right deltoid four, biceps too sore, two, triceps three => right shoulder_abduction 4; right elbow_flexion 2;
 right elbow_extension 3
""")
THE_OTHER_TOO = table("""
left hip extension four plus, the right also => both hip_extension 4+
right hip extension two, left too => both hip_extension 2
right grip four, left two => right grip 4; left grip 2
""")


@pytest.mark.parametrize(
    ("talk", "wanted"), [*SETTLED, *OF_A_CASE, *IN_TURN, *NOT_IN_TURN, *USUALLY, *TOO_SORE, *THE_OTHER_TOO]
)
def test_what_was_settled_on_and_told_in_turn_is_written(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(
    "decision",
    [
        f"{who} {what}"
        for who in ("I'll", "I will", "I would", "I'm going to", "let's", "let us", "I have to", "I can only")
        for what in ("give it", "go with", "settle for", "put", "score that", "record", "take", "mark it")
    ],
)
def test_a_grade_that_is_settled_on_takes_the_place_of_the_first_or_is_shown(decision: str) -> None:
    """The first grade never stands as if nothing had been said after it."""
    found = rows(f"left inversion four, {decision} three")
    assert [row for row in found if row.confirm or row.value == "3"] or not found


@pytest.mark.parametrize(
    "talk",
    [
        f"left hip extension {grade}"
        for grade in (
            "four at best",
            "four or better",
            "up to four",
            "four or thereabouts",
            "four if I'm generous",
            "four question mark",
            "four, query three",
            "four stroke three",
            "four dash three",
            "a generous four",
            "five before and four after exercise",
            "four, the right too",
        )
    ]
    + ["triceps jerk brisk, right more than left"],
)
def test_a_grade_that_is_not_exact_or_may_be_of_one_side_is_asked_about(talk: str) -> None:
    assert any(row.confirm for row in rows(talk))


NAMED_IN_PASSING = [
    "I am standing on his right. eversion three",
    "now turn onto your left side please. hip abduction five",
    "roll over to the right. hip extension four",
    "shuffle to the left side of the bed. deltoid four",
    "the right shoe is worn. eversion four",
    "he had a clot on the right side of the brain. grip four",
    "he lost his right eye as a boy. biceps four",
    "she burnt her right hand on the stove. grip four",
    "he favours the left. hip abduction four",
    "the drip is in the left hand. biceps four",
    "his symptoms are all on the left. grip four",
    "his weak side is the left. great toe extension four",
    "there is a tattoo on the left. eversion four",
    "left leg crossed over the right. knee jerk two plus",
    "left leg done. hip flexion four",
    "left sided stroke. biceps four",
    "pain in the left arm. biceps four",
    "scar on the left knee. quads four",
    "left ankle is swollen. eversion four",
    "swollen left knee. eversion four",
    "pacemaker on the left. biceps four",
    "that completes the left leg. hip flexion four",
    "finished with the right. hip flexion four",
    "left done, right next, hip flexion four",
]
TURNED_TO = [
    "he is ready so we start on the left. biceps four",
    "I go round to the left. biceps four",
    "this is the left. biceps four",
    "over to the left. biceps four",
    "turning to the left arm. biceps four",
    "his left arm now. biceps four",
    "she says her right is fine. left biceps four",
    "the right is his good side. left biceps four",
    "right arm finished, now left. biceps four",
    "plaster on the right wrist already so left arm first. biceps four",
    "now the left arm, the one with the scar. biceps four",
    "right arm done. left arm. biceps four",
]


@pytest.mark.parametrize("talk", NAMED_IN_PASSING)
def test_a_side_that_was_named_for_something_else_is_asked_about(talk: str) -> None:
    (row,) = rows(talk)
    assert row.confirm and {"side_uncertain", "side_unsaid"} & {*row.flags}


@pytest.mark.parametrize("talk", TURNED_TO)
def test_a_side_that_is_turned_to_is_carried(talk: str) -> None:
    (row,) = rows(talk)
    assert (row.side.value, row.confirm) == ("left", False)


@pytest.mark.parametrize(
    ("talk", "asked"),
    [
        ("pinprick reduced left L5, S1 right. vibration normal in both great toes", {"pinprick"}),
        ("left knee jerk two plus right. ankle jerk one plus", {"knee_jerk"}),
        ("left hip flexion four right leg. hip flexion five", set()),
        ("left deltoid four. right. deltoid five", set()),
    ],
)
def test_a_result_with_the_other_side_right_behind_it_is_asked_about(talk: str, asked: set[str]) -> None:
    assert {row.manoeuvre for row in rows(talk) if "side_uncertain" in row.flags} == asked


GOOD_SIDE = table("""
left eversion four. now the good side. five => left ankle_eversion 4; right ankle_eversion 5
right grip four, five on the unaffected side => right grip 4; left grip 5
left knee jerk two plus, brisk on the affected side => left knee_jerk 2+; right knee_jerk brisk
right deltoid five, the weaker side is four => right shoulder_abduction 5; left shoulder_abduction 4
""")


@pytest.mark.parametrize(("talk", "wanted"), GOOD_SIDE)
def test_the_good_side_is_the_other_one_and_asked_about(talk: str, wanted: set[str]) -> None:
    first, second = rows(talk)
    assert told(talk) == wanted
    assert [first.confirm, second.confirm].count(True) == 1 and {first.side, second.side} == {"left", "right"}


@pytest.mark.parametrize(
    ("talk", "wanted"),
    table("""
the bad side, which is the left, deltoid four => left shoulder_abduction 4
left grip four, weaker than the good side => left grip 4
right grip four compared with the good side => right grip 4
start with the good side. right grip five => right grip 5
now the good side. power is full throughout in the left arm => left arm_core normal
"""),
)
def test_the_good_side_that_is_only_spoken_of_turns_to_none(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted
    assert not any(row.confirm for row in rows(talk))
