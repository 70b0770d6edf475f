"""What a round at the bedside says in few words: lists that share a result, orders said of the patient, what waits.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

SHARED = table("""
Joint position is absent at the great toe and reduced at the ankle on both sides. =>
 both joint_position@great_toe absent; both joint_position@ankle reduced
temperature reduced at C7 and absent at C8 on both sides => both temperature@C7 reduced; both temperature@C8 absent
Pinprick reduced on the left at C7 and normal at C8 on both sides. => left pinprick@C7 reduced; both pinprick@C8 normal
Left wrist extension four, finger extension three, grip five. The right hand was five for every one of those. =>
 left wrist_extension 4; left finger_extension 3; left grip 5; right wrist_extension 5; right finger_extension 5;
 right grip 5
Shoulder abduction five on both sides. Left biceps four, left triceps four. The right is five for both of them. =>
 both shoulder_abduction 5; left elbow_flexion 4; left elbow_extension 4; right elbow_flexion 5;
 right elbow_extension 5
Light touch on the left is reduced at C6, reduced at C7 and normal at C8. The right is normal at all three. =>
 left light_touch@C6 reduced; left light_touch@C7 reduced; left light_touch@C8 normal; right light_touch@C6 normal;
 right light_touch@C7 normal; right light_touch@C8 normal
Tone is reduced in the right leg. Left arm and left leg, tone is normal in both. => right tone@leg reduced;
 left tone@arm normal; left tone@leg normal
Tone is increased in the left arm, and reduced in both legs. => left tone@arm increased; both tone@leg reduced
seven beats of clonus at the left ankle and none at the right the left plantar is extensor =>
 left ankle_clonus 7 beats; right ankle_clonus absent; left plantar_response extensor
three beats of clonus on the right none on the left plantars flexor => right ankle_clonus 3 beats;
 left ankle_clonus absent; both plantar_response flexor
There is wasting of both thighs and of both forearms. => both wasting@leg present; both wasting@arm present
There is wasting of both thighs and no wasting in either arm. => both wasting@leg present; both wasting@arm absent
Joint position, lost at the left great toe, odd at the right great toe and intact at both ankles. =>
 left joint_position@great_toe absent; right joint_position@great_toe altered; both joint_position@ankle normal
He tells me of numbness in the saddle area. Right grip five. => right grip 5
right plantar flexor left plantar flexor | c6 normal on both sides c8 reduced on both sides =>
 both plantar_response flexor; both light_touch@C6 normal modality_unsaid; both light_touch@C8 reduced modality_unsaid
C7 reduced on the left. => left light_touch@C7 reduced modality_unsaid
C5 normal on both sides, C6 altered on the right. => both light_touch@C5 normal modality_unsaid;
 right light_touch@C6 altered modality_unsaid
the bit everybody forgets with the pin C5 and C6 normal on both sides C7 reduced on the left => both pinprick@C5 normal,
 pinprick@C6 normal; left pinprick@C7 reduced
the trick is patience with the pin S3 reduced right and left perianal normal right and left =>
 both pinprick@S3 reduced; both pinprick@S4-5 normal
""")
NAMED = table("""
Nothing wasted in either leg. Right knee extension four. => both wasting@leg absent; right knee_extension 4
Nothing happens. Wasting in the left arm. => left wasting@arm present
The left calf is badly wasted. => left wasting@leg present
The left calf is not visibly wasted. => -
Right knee jerk is there, the left knee jerk is not there. => right knee_jerk normal; left knee_jerk 0
Ankle jerks both there and equal. => both ankle_jerk normal
Ankle jerks are there, one plus on both sides. => both ankle_jerk 1+
Is the knee jerk there? => -
The tuning fork she can't feel at either ankle, but she can at both knees. => both vibration@ankle absent;
 both vibration@knee normal
Vibration is reduced at both knees. She can at least stand. => both vibration@knee reduced
Femoral stretch on the left gets to fifty. => left femoral_stretch 50 degrees
Left grip is weak, I couldn't give it a number. => left grip reduced
Left grip I couldn't grade. => left grip !unable
Left inversion I couldn't grade for the swelling. => left ankle_inversion !unable
Right eversion I'll give four, inversion I'll make three plus. => right ankle_eversion 4; right ankle_inversion 3+
""")
ASKED = table("""
Turning the foot out, four on both sides, and turning it in, five on both sides. => both ankle_eversion 4;
 both ankle_inversion 5
Lifting the big toe, left three, right four plus. => left great_toe_extension 3; right great_toe_extension 4+
Moving on, tone is normal in the left arm. => left tone@arm normal
Anal tone, squeeze my finger. Reduced. => midline anal_tone reduced
Left hand, squeeze my fingers. Good. => left grip normal ~
Hoffmann's, flick the nail. Present on the right, absent on the left. => right hoffmann_sign present;
 left hoffmann_sign absent
Left leg. Pull this knee in towards the other one. Hip adduction is four. => left hip_adduction 4
Left leg. Knee up. Good. The other one, knee up. Good. => left hip_flexion normal ~; right hip_flexion normal ~
lift your big toes that's four on each side which is just her old neuropathy => both great_toe_extension 4
Probably an old neuropathy, I'd say. => -
Left arm. Triceps three. Right arm, same games. Push me away. Good. => left elbow_extension 3;
 right elbow_extension normal ~
Left arm. Triceps three. Right arm the same. => left elbow_extension 3; right elbow_extension 3
Grip is three on the left. Tom, you're the strong one, make a fist. => left grip 3
Grip is three on the left and the right one is five. => left grip 3; right grip 5
Left triceps jerk absent. Clench your teeth. So call that one reduced. => left triceps_jerk reduced contradiction
Right grip, I'd call that one. => right grip 1
Left leg. Big toe up, hold it, yep, they're strong. => left great_toe_extension normal
pull that left foot up four and push it down strong too => left ankle_dorsiflexion 4
Left foot, push it down. Strong too. => left ankle_plantarflexion normal
Do you feel it buzz? No, vibration's absent at the left ankle. => left vibration@ankle absent
No ankle jerk is present on the left. => left ankle_jerk 0
right biceps jerk two plus and absent on the left kim you try the plantars right flexor left flexor =>
 right biceps_jerk 2+; left biceps_jerk 0; both plantar_response flexor
Toe walking normal. Give me that left foot. => midline toe_walk normal
Toe walking is impaired on the left. => left toe_walk impaired
""")
WAITING = table("""
Tone in the legs I will do later. Right knee jerk two plus. => both tone@leg !deferred;
 right knee_jerk 2+
Anal tone I will do later. => midline anal_tone !deferred
joint position at the great toe is absent on the left anal tone i will do later =>
 left joint_position@great_toe absent; midline anal_tone !deferred
Anal tone is reduced. I will do the gait later. => midline anal_tone reduced; midline gait !deferred
Left ankle jerk left alone, too sore. => left ankle_jerk !pain
Left ankle jerk brisk. => left ankle_jerk brisk
Hip adduction I'll miss out on both sides. => both hip_adduction !not_done
Temperature on both sides she declined because she'd had enough. => both temperature !declined
The right ankle jerk I can't get at because of the boot, and the same goes for the right plantar. Left plantar flexor.
 => right ankle_jerk !unable; right plantar_response !unable; left plantar_response flexor
Wrist extension not tested on the left, I can't turn her with that elbow. => left wrist_extension !unable
Both plantars deferred, the ward round is at four. Left grip four. => both plantar_response !deferred; left grip 4
toe walking deferred the physio is free at two => midline toe_walk !deferred
Right wrist extension deferred, right grip at four plus. => right wrist_extension !deferred; right grip 4+
Light touch at S2, both sides, and her gait I'll defer. => both light_touch@S2 !deferred; midline gait !deferred
Vibration at the ankle is normal on both sides, and the gait I'll defer. => both vibration@ankle normal;
 midline gait !deferred
""")
ASIDE = table("""
vibration reduced at the left ankle normal at both knees plenty of people lose it there =>
 left vibration@ankle reduced; both vibration@knee normal
knee jerks one plus both sides ankle jerks absent both sides two is your normal students => both knee_jerk 1+;
 both ankle_jerk 0
Knee jerks absent both sides, even with her squeezing Mum's hand. => both knee_jerk 0
Mum's ankle jerks were always absent. => -
Modified Ashworth left arm one, right arm nought. A three on that scale is a limb you can hardly move. =>
 left tone@arm MAS 1; right tone@arm MAS 0
Grip is normal in both hands. Two of the other lads have the same. => both grip normal
Finger nose is impaired on the left, and on the right it's normal. Which hemisphere? It's the same side. =>
 left finger_nose impaired; right finger_nose normal
straight leg raise 70 degrees on both sides, he's a bendy man => both straight_leg_raise 70 degrees
left grip four | if the arm reflexes were lost i would think of a nerve => left grip 4
big toe eyes shut am i bending it up or down joint position's reduced on the left =>
 left joint_position@great_toe reduced
The arm reflexes were lost on both sides. => both biceps_jerk 0; both brachioradialis_jerk 0; both triceps_jerk 0
right grip five had his wrist extension gone as well i'd call the neck surgeon => right grip 5
vibration is normal at both ankles and which way am i bending this joint position is absent at the right great toe =>
 both vibration@ankle normal; right joint_position@great_toe absent
""")


@pytest.mark.parametrize(("talk", "wanted"), SHARED)
def test_what_stands_last_is_said_of_the_whole_list(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(("talk", "wanted"), NAMED)
def test_what_is_there_and_what_is_not(talk: str, wanted: set[str]) -> None:
    assert {row.removesuffix(" grade_unsaid") for row in told(talk)} == wanted


@pytest.mark.parametrize(("talk", "wanted"), ASKED)
def test_what_was_asked_for_is_what_was_tested(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(("talk", "wanted"), WAITING)
def test_what_waits_is_left_out(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(("talk", "wanted"), ASIDE)
def test_what_is_said_of_others_changes_no_result(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


def test_a_name_made_out_right_behind_one_of_the_other_limb_is_shown_to_a_person() -> None:
    grips = [row for row in rows("left tib ant crips four") if row.manoeuvre == "grip"]
    assert grips
    assert all(row.confirm and "manoeuvre_unsaid" in row.flags for row in grips)
    assert not any(row.confirm for row in rows("right grip five"))


def test_a_test_of_the_trunk_has_no_limb() -> None:
    found = rows("Like a rag doll, sphincter tone reduced in both legs.")
    assert [each.manoeuvre for each in found] == ["anal_tone"]
    assert "limb_unexpected" in found[0].flags
    assert "limb_unexpected" not in rows("Anal tone reduced.")[0].flags


def test_the_perianal_skin_is_no_joint() -> None:
    found = rows("Vibration at the knee is normal on both sides. Perianal absent left and right.")
    assert not [each for each in found if each.manoeuvre == "vibration" and each.site == "S4-5"]
