"""Which side a row gets: said, carried on, repeated on the other side, corrected, or flagged as unsaid."""

from __future__ import annotations

import pytest

from pipeline.record.model import Side
from tests.understand.talks import rows, table, told

SAID = table("""
right knee jerk two plus, left knee jerk one plus => right knee_jerk 2+; left knee_jerk 1+
knee jerk is two plus on the right and one plus on the left => right knee_jerk 2+; left knee_jerk 1+
knee jerks two plus on both sides => both knee_jerk 2+
ankle jerks one plus bilaterally => both ankle_jerk 1+
biceps jerks symmetrical and two plus => both biceps_jerk 2+
hip flexion five both sides => both hip_flexion 5
both ankle jerks absent => both ankle_jerk 0
hip flexion four right, five left => right hip_flexion 4; left hip_flexion 5
on the left hip flexion is four and on the right it is five => left hip_flexion 4; right hip_flexion 5
grip five in each hand => both grip 5
plantars down going on the right, up going on the left
    => right plantar_response flexor; left plantar_response extensor
left and right knee extension five => both knee_extension 5
pinprick reduced at L5 on the left, normal on the right => left pinprick@L5 reduced; right pinprick@L5 normal
dorsiflexion, right four, left five => right ankle_dorsiflexion 4; left ankle_dorsiflexion 5
""")

CARRIED = table("""
right leg. hip flexion five, hip extension five, knee extension four plus
    => right hip_flexion 5, hip_extension 5, knee_extension 4+
now the left arm | shoulder abduction four | elbow flexion four plus | elbow extension five
    => left shoulder_abduction 4, elbow_flexion 4+, elbow_extension 5
left leg first. knee jerk one plus. ankle jerk absent. moving to the right. knee jerk two plus. ankle jerk two plus
    => left knee_jerk 1+, ankle_jerk 0; right knee_jerk 2+, ankle_jerk 2+
the right leg. quads five. left leg. quads four. hamstrings three
    => right knee_extension 5; left knee_extension 4, knee_flexion 3
right side first, hip flexion 5, quads 5, hamstrings 5, then the left side, hip flexion 4, quads 4+, hamstrings 5
    => right hip_flexion 5, knee_extension 5, knee_flexion 5; left hip_flexion 4, knee_extension 4+, knee_flexion 5
""")

REPEATED = table("""
right hip flexion four plus and the left is the same => right hip_flexion 4+; left hip_flexion 4+
right knee extension four. same on the other side => both knee_extension 4
left biceps jerk two plus, left triceps jerk one plus and the right is the same
    => both biceps_jerk 2+, triceps_jerk 1+
right biceps jerk three plus, left biceps jerk two plus, left triceps jerk one plus and the right is the same
    => right biceps_jerk 3+; left biceps_jerk 2+; both triceps_jerk 1+
left tone is normal in the leg, the right is the same => both tone@leg normal
right ankle jerk absent, same on the left => both ankle_jerk 0
right knee flexion five (L5 S1). same on the other side => right knee_flexion 5 (L5 S1); left knee_flexion 5
right quads five L three four, and the same on the left => right knee_extension 5 (L3 L4); left knee_extension 5
right hip flexion five, quads five, hamstrings five. left side identical
    => both hip_flexion 5, knee_extension 5, knee_flexion 5
""")

CORRECTED = table("""
right, sorry, left ankle dorsiflexion four minus => left ankle_dorsiflexion 4-
left knee jerk, no, right knee jerk one plus => right knee_jerk 1+
hip flexion four on the right, sorry, on the left => left hip_flexion 4
right quads three. correction, left quads three => left knee_extension 3
left grip four, I mean right grip four => right grip 4
right plantar up going, sorry, left plantar up going => left plantar_response extensor
""")

UNSAID = table("""
knee jerk two plus => unsaid knee_jerk 2+
dorsiflexion four => unsaid ankle_dorsiflexion 4
vibration absent at the ankle => unsaid vibration@ankle absent
straight leg raise sixty degrees => unsaid straight_leg_raise 60 degrees
""")

MIDLINE = table("""
gait is normal => midline gait normal
Romberg negative => midline romberg negative
tandem walking impaired => midline tandem_gait impaired
the right leg is weak throughout but let us see the gait. gait impaired
    => right leg_core reduced grade_unsaid; midline gait impaired
heel walking impaired on the left => left heel_walk impaired
heel walking normal, toe walking normal => midline heel_walk normal, toe_walk normal
anal tone reduced => midline anal_tone reduced
toe walking impaired on the right => right toe_walk impaired
""")


@pytest.mark.parametrize(("talk", "wanted"), [*SAID, *CARRIED, *REPEATED, *CORRECTED, *MIDLINE])
def test_the_side(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(("talk", "wanted"), UNSAID)
def test_a_side_that_was_never_said_is_put_to_a_person(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted
    assert all(row.confirm and row.side is not Side.MIDLINE for row in rows(talk))


@pytest.mark.parametrize(
    ("talk", "asked"),
    [
        ("left leg. knee up, good. right. kick out, four. foot up, three", {"knee_extension", "ankle_dorsiflexion"}),
        ("left arm. deltoid four. biceps four. right. triceps five", {"elbow_extension"}),
        ("left leg. knee up. right. kick out, five. foot up, four", {"knee_extension", "ankle_dorsiflexion"}),
        ("left arm. elbow in | right | wrist up | it's four", {"wrist_extension"}),
        ("left leg. hip flexion four. knee extension three. right. hip flexion five. knee extension five", set()),
        ("left leg. hip flexion four. right leg. knee extension five", set()),
        ("left knee jerk one plus. right. two plus", set()),
    ],
)
def test_right_alone_may_mean_well_then(talk: str, asked: set[str]) -> None:
    """Where the left is still under examination and the next test is new, the side is put to a person."""
    assert {row.manoeuvre for row in rows(talk) if "side_uncertain" in row.flags and row.confirm} == asked


@pytest.mark.parametrize(
    ("talk", "wanted"),
    [
        (
            "left leg. thigh up. right. kick out. right. foot up. three. foot down. four",
            {
                "left hip_flexion normal ~",
                "left knee_extension normal ~",
                "left ankle_dorsiflexion 3",
                "left ankle_plantarflexion 4",
            },
        ),
        (
            "left arm | bend your elbow | right | push it straight | right | cock your wrist up | four",
            {"left elbow_flexion normal ~", "left elbow_extension normal ~", "left wrist_extension 4"},
        ),
        (  # the side of the same order
            "left leg. knee up. five. right. knee up. four. left. kick out. five. right. kick out. four",
            {
                "left hip_flexion 5",
                "right hip_flexion 4",
                "left knee_extension 5",
                "right knee_extension 4",
            },
        ),
    ],
)
def test_right_between_one_order_and_the_next_time_and_again_is_praise(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(
    ("talk", "wanted"),
    [
        ("biceps four on the left and the right gets to five", {"left elbow_flexion 4", "right elbow_flexion 5"}),
        (
            "eversion four plus on the right and the left only manages three",
            {"right ankle_eversion 4+", "left ankle_eversion 3"},
        ),
        (
            "straight leg raise forty degrees on the right and the left goes to seventy",
            {"right straight_leg_raise 40 degrees", "left straight_leg_raise 70 degrees"},
        ),
        (
            "knee jerk two plus on the right and the left took a clench of the jaw, one plus",
            {"right knee_jerk 2+", "left knee_jerk 1+"},
        ),
        ("vibration absent at the left ankle and the right has it", {"left vibration@ankle absent"}),
        ("biceps jerk two plus on the left and the right as well", {"left biceps_jerk 2+", "right biceps_jerk 2+"}),
        ("wasting of the left and the right calves", {"left wasting@leg present", "right wasting@leg present"}),
    ],
)
def test_what_one_of_two_sides_does_is_told_of_it_alone(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(
    ("talk", "wanted"),
    [
        ("left arm. triceps jerk brisk. hoffmann's present", {"left triceps_jerk brisk", "left hoffmann_sign present"}),
        ("right arm. finger jerk absent, no hoffmanns", {"right finger_jerk 0", "right hoffmann_sign absent"}),
        ("left leg. knee jerk brisk. babinski's up going", {"left knee_jerk brisk", "left plantar_response extensor"}),
        ("hoffmann's are both present", {"right hoffmann_sign present", "left hoffmann_sign present"}),
        ("hoffmann's are absent", {"right hoffmann_sign absent", "left hoffmann_sign absent"}),
    ],
)
def test_a_sign_called_after_its_finder_is_one(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize("talk", ["hoffmann's negative", "hoffman's absent", "no hoffmanns", "babinski's down going"])
def test_the_side_of_such_a_sign_that_was_never_said_is_asked(talk: str) -> None:
    (row,) = rows(talk)
    assert "side_unsaid" in row.flags


@pytest.mark.parametrize(
    "talk",
    [
        "light touch left C6 reduced. the right arm's normal, power five throughout",
        "pinprick left C7 reduced. right arm normal, strength full throughout",
    ],
)
def test_what_a_sentence_says_of_the_limb_it_begins_with_is_of_that_limb(talk: str) -> None:
    power = [row for row in rows(talk) if row.manoeuvre == "elbow_flexion"]
    assert [row.side.value for row in power] == ["right"]
