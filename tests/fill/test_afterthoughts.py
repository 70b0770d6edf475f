"""Results that are put right afterwards, set against others or against what others found, announced, or only bounded.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

MEANT = table("""
left hip flexion three, the right I mean => right hip_flexion 3
right grip four, five I mean. right deltoid four => right grip 5; right shoulder_abduction 4
left ankle jerk absent, that was the right I mean => right ankle_jerk 0
left knee extension four. that was the left. now the right. knee extension five => left knee_extension 4;
 right knee_extension 5
by that I mean five. right quads four => right knee_extension 4
""")
NOT_RIGHT = table("""
left quads four, no, that's not right, five => left knee_extension 5
left grip three | that can't be right let me try that again | four => left grip 4
left deltoid four | that doesn't seem right | biceps five => left shoulder_abduction 4; left elbow_flexion 5
left triceps five | is that right | grip four => left elbow_extension 5; left grip 4
the left can't lift, right deltoid four => right shoulder_abduction 4
not quite right => -
the left wasn't. right grip three => right grip 3
""")
SET_AGAINST = table("""
left quads three, previously four. left hamstrings five => left knee_extension 3; left knee_flexion 5
right ankle jerk absent, last month it was one plus. right knee jerk two plus => right ankle_jerk 0; right knee_jerk 2+
left grip four, three yesterday. left triceps five => left grip 4; left elbow_extension 5
left grip three previously, four now => left grip 4
right deltoid four, the old letter says five. right biceps four => right shoulder_abduction 4; right elbow_flexion 4
left inversion three, documented as five, left eversion four => left ankle_inversion 3; left ankle_eversion 4
her notes say left knee jerk absent. right knee jerk two plus => right knee_jerk 2+
the referral says left grip five. I get four => left grip 4 contradiction
left big toe extension documented as three, today four => left great_toe_extension 4 contradiction
the clinic found right eversion five, I find four => right ankle_eversion 4 contradiction
""")
EACH_SIDE = table("""
hamstrings three and four, left and right => left knee_flexion 3; right knee_flexion 4
grip five and four right and left => right grip 5; left grip 4
grip five right and left, deltoid four => both grip 5; both shoulder_abduction 4
""")

COMPARED = table("""
compared with the left grip at three, the right is five => left grip 3; right grip 5
grip stronger on the left, four, than the right, three => left grip 4; right grip 3
quads weaker on the right than the left, three => right knee_extension 3
light touch at C6 reduced on the left compared with the right => left light_touch@C6 reduced
left deltoid gets three and so does biceps => left shoulder_abduction 3; left elbow_flexion 3
the right triceps scores two but the left scores four => right elbow_extension 2; left elbow_extension 4
hamstrings four plus on the left versus three on the right => left knee_flexion 4+; right knee_flexion 3
""")
ANNOUNCED = table("""
next we'll test eversion on the right | push | that's three | and plantar flexion | four => right ankle_eversion 3;
 right ankle_plantarflexion 4
I'm going to test wrist flexion on the left. push against me. that's four minus => left wrist_flexion 4-
I want to look at pinprick on the right | sharp or blunt | L4 reduced L5 normal => right pinprick@L4 reduced;
 right pinprick@L5 normal
right grip five | we'll test the vibration tomorrow => right grip 5; right vibration !deferred
""")

OF_ONE_MUSCLE = table("""
left quads power four, left grip power three => left knee_extension 4; left grip 3
right tib ant power is three. right EHL power two => right ankle_dorsiflexion 3; right great_toe_extension 2
deltoid power four on the right and five on the left => right shoulder_abduction 4; left shoulder_abduction 5
no wasting of the right quads, power four in both legs => right wasting@leg absent; both leg_core 4
left hip flexion three slash five, lastly dorsiflexion 4 slash 5 => left hip_flexion 3; left ankle_dorsiflexion 4
""")
LIKEWISE = table("""
left grip four, biceps likewise, triceps ditto => left grip 4; left elbow_flexion 4; left elbow_extension 4
right knee jerk two plus. ankle jerk the same. plantar flexor => right knee_jerk 2+; right ankle_jerk 2+;
 right plantar_response flexor
left vibration at the ankle reduced, joint position the same => left vibration@ankle reduced;
 left joint_position@ankle reduced
both quads four. hamstrings the same L5 => both knee_extension 4; both knee_flexion 4 (L5)
left quads three, ankle jerk the same => left knee_extension 3
right quads three | now this is the left | four => right knee_extension 3; left knee_extension 4
right quads three, that's the right. left quads four => right knee_extension 3; left knee_extension 4
""")

TRIED = table("""
left hamstrings, don't let me win, five. evertors, resist me, four => left knee_flexion 5; left ankle_eversion 4
right deltoid don't let me push you down four => right shoulder_abduction 4
left grip squeeze squeeze squeeze three => left grip 3
right quads push push push four plus. right EHL hold hold hold two => right knee_extension 4+;
 right great_toe_extension 2
first right biceps three, second triceps four => right elbow_flexion 3; right elbow_extension 4
""")
TURNED_OUT = table("""
left grip should be five but is three => left grip 3
right quads should be five by now but they're four. right ankle jerk two plus => right knee_extension 4;
 right ankle_jerk 2+
knee jerks should be two plus but are absent on both sides => both knee_jerk 0
left grip should be five. left quads four => left knee_extension 4
right quads three before lunch and four now => right knee_extension 4
left biceps one grade better than the right, four => left elbow_flexion 4
right knee jerk two plus, the left harder to get, one plus => right knee_jerk 2+; left knee_jerk 1+
""")

WHAT_THE_TOE_DID = table("""
scraping the sole of your right foot. that's up. left sole, down => right plantar_response extensor;
 left plantar_response flexor
left plantar that's up, right plantar, it's down => left plantar_response extensor; right plantar_response flexor
plantars flexor on both sides | up you get, walk to the door. gait normal => both plantar_response flexor;
 midline gait normal
knee jerks. nothing on the left, one plus on the right => left knee_jerk 0; right knee_jerk 1+
""")

IN_TWO_PARTS = table("""
elbows up, push up against my hands, good both sides => both shoulder_abduction normal ~
left arm. wrist back, push against me, four => left wrist_extension 4
right leg. knee up, five. toes up, three => right hip_flexion 5; right ankle_dorsiflexion 3
right plantar, toes up. left plantar, toes down => right plantar_response extensor; left plantar_response flexor
stand up, walk to the door. gait normal => midline gait normal
""")

NOT_THAT_SIDE = table("""
left wrist extension, not right, four minus => left wrist_extension 4-
right leg, not the left, quads four, hamstrings five => right knee_extension 4; right knee_flexion 5
right ankle jerk, not the left, absent => right ankle_jerk 0
wasting of the left leg, not the right. tone normal in both legs => left wasting@leg present;
 right wasting@leg absent; both tone@leg normal
the right side is where the plaster is. left grip four => left grip 4
right quads three, so both of those are weak, right grip five => right knee_extension 3; right grip 5
""")

ALL_OF_A_LIST = table("""
so. quads wasting => -
left arm, triceps four, grip three. Right arm, all five => left elbow_extension 4, grip 3;
 right elbow_extension 5, grip 5
left arm, triceps four, grip three. Right arm all five throughout => left elbow_extension 4, grip 3; right arm_core 5
left leg, all five => left leg_core 5
right leg quads five, hamstrings five, hip extension not done, either side => right knee_extension 5, knee_flexion 5;
 both hip_extension !not_done
vibration, toes absent, ankles reduced, both sides => both vibration@great_toe absent, vibration@ankle reduced
""")

SORRY_NO = table("""
left grip three sorry no four triceps five => left grip 4; left elbow_extension 5
right plantar flexion four minus, hold on, no four, big toe extension two => right ankle_plantarflexion 4;
 right great_toe_extension 2
go back to bed no four. right grip five => right grip 5
strength overall is three. left grip four => left grip 4
left leg. strength is three => left leg_core 3
pinprick on the right C5 normal C6 absent C8 reduced on the left, C5 and C6 normal => right pinprick@C5 normal;
 right pinprick@C6 absent; right pinprick@C8 reduced; left pinprick@C5 normal; left pinprick@C6 normal
dysdiadochokinesis is the proper word for clumsy alternating movements. left finger nose normal =>
 left finger_nose normal
""")

ASKED = [
    ("left knee extension four. that was the right", {"right knee_extension"}),
    ("right quads almost four. right hamstrings five", {"right knee_extension"}),
    ("left hip flexion less than three", {"left hip_flexion"}),
    ("right grip no better than a four", {"right grip"}),
    ("left plantar flexion at least four, left dorsiflexion five", {"left ankle_plantarflexion"}),
    ("grip three four left and right", {"left grip", "right grip"}),
    ("left deltoid four | hold on | five", {"left shoulder_abduction"}),
    ("left deltoid four, hold on, five actually", {"left shoulder_abduction"}),
    (
        "left leg. hip flexion four, quads five. right leg, same hip flexion three",
        {"right hip_flexion", "right knee_extension"},
    ),
    ("left grip is weaker than the right", {"left grip"}),
    ("right grip three. what would you give it. I'd give four", {"right grip"}),
    ("left deltoid fades from five to four", {"left shoulder_abduction"}),
    ("right grip drops from four to three on repetition", {"right grip"}),
    ("right grip not even four", {"right grip"}),
    ("right grip isn't quite five. right deltoid five", {"right grip"}),
    ("right grip four ish", {"right grip"}),
    ("right grip three, could be four", {"right grip"}),
    ("left quads five sitting, four lying", {"left knee_extension"}),
    ("left quads three. rest your right leg. eversion five", {"right ankle_eversion"}),
    ("left quads three, look how the right shoulder drops, eversion five", {"right ankle_eversion"}),
    ("left deltoid four, hold on to the rail, left grip five", set()),
]


@pytest.mark.parametrize(
    ("talk", "wanted"),
    [
        *MEANT,
        *NOT_RIGHT,
        *SET_AGAINST,
        *EACH_SIDE,
        *COMPARED,
        *ANNOUNCED,
        *OF_ONE_MUSCLE,
        *LIKEWISE,
        *TRIED,
        *TURNED_OUT,
        *WHAT_THE_TOE_DID,
        *IN_TWO_PARTS,
        *NOT_THAT_SIDE,
        *ALL_OF_A_LIST,
        *SORRY_NO,
    ],
)
def test_only_what_was_found_and_meant_is_written(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(("talk", "wanted"), ASKED)
def test_what_may_have_been_taken_back_or_is_only_bounded_is_asked_about(talk: str, wanted: set[str]) -> None:
    assert {f"{row.side.value} {row.manoeuvre}" for row in rows(talk) if row.confirm} == wanted


def test_a_talk_may_say_the_same_any_number_of_times() -> None:
    assert told("Quads two and three, left and right. " * 1100) == {
        "left knee_extension 2",
        "right knee_extension 3",
    }
