"""Results that no full stop parts from an instruction, a supposition, a remark or a correction before them.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

INSTRUCTIONS = table("""
nod when you feel it light touch left foot l4 reduced l5 absent right foot l4 normal l5 reduced =>
 left light_touch@L4 reduced; left light_touch@L5 absent; right light_touch@L4 normal; right light_touch@L5 reduced
tell me when the fork stops vibration left great toe absent left ankle reduced left knee normal =>
 left vibration@great_toe absent; left vibration@ankle reduced; left vibration@knee normal
left leg straighten the knee that's full power => left knee_extension normal
left arm bend the elbow and pull that's strong straighten the elbow that's strong => left elbow_flexion normal;
 left elbow_extension normal
hold both my hands for balance heel walking is normal => midline heel_walk normal
left leg. raise that off the bed for me. four. stretch the knee. four plus => left hip_flexion 4; left knee_extension 4+
""")
REMARKS = table("""
left biceps jerk is two plus if it jumps that's brisk and in some tall people it spreads hoffmann's sign is absent on
 both sides => left biceps_jerk 2+; right hoffmann_sign absent; left hoffmann_sign absent
pinprick left c5 reduced he reckons it's prickly left c6 altered left c7 normal => left pinprick@C5 reduced;
 left pinprick@C6 altered; left pinprick@C7 normal
left finger nose is impaired as you see there right heel shin is normal => left finger_nose impaired;
 right heel_shin normal
tone is raised in the left arm with cogwheeling at the elbow and it is normal in the right arm =>
 left tone@arm increased; right tone@arm normal
vibration at the ankles deferred the nurse will bring the fork if she finds it => right vibration@ankle !deferred;
 left vibration@ankle !deferred
power is five throughout in the left leg, and i would add that left eversion is five =>
 left hip_flexion 5; left hip_extension 5; left knee_extension 5; left knee_flexion 5; left ankle_dorsiflexion 5;
 left ankle_plantarflexion 5; left great_toe_extension 5; left ankle_eversion 5
""")
TURNS = table("""
tone is increased on both sides in the arms I tested the biceps jerks which are brisk on both sides
 => right tone increased; left tone increased; right biceps_jerk brisk; left biceps_jerk brisk
the power is four throughout on the left in the arms we did grip on the right five => left hip_flexion 4;
 left hip_extension 4; left knee_extension 4; left knee_flexion 4; left ankle_dorsiflexion 4;
 left ankle_plantarflexion 4; left great_toe_extension 4; right grip 5
tone is normal in the arms it's increased in the legs => right tone@arm normal; left tone@arm normal;
 right tone@leg increased; left tone@leg increased
inspection wasting over the calf on the left none on the right => left wasting@leg present; right wasting@leg absent
wasting in both legs fasciculation in the right leg none in the left leg => right wasting@leg present;
 left wasting@leg present; right fasciculation@leg present; left fasciculation@leg absent
ankle clonus on the left four beats and no clonus on the right heel shin is normal on the right =>
 left ankle_clonus 4 beats; right ankle_clonus absent; right heel_shin normal
light touch intact l2 to l4 on both sides l5 reduced on the left normal on the right s1 normal on both sides =>
 right light_touch@L2 normal; right light_touch@L3 normal; right light_touch@L4 normal; left light_touch@L2 normal;
 left light_touch@L3 normal; left light_touch@L4 normal; left light_touch@L5 reduced; right light_touch@L5 normal;
 right light_touch@S1 normal; left light_touch@S1 normal
pin at the right l4 sharp normal l5 blunt so reduced => right pinprick@L4 normal; right pinprick@L5 reduced
left elbow extension i could not make up my mind about the right arm is four plus throughout =>
 right shoulder_abduction 4+; right elbow_flexion 4+; right elbow_extension 4+; right wrist_extension 4+;
 right finger_extension 4+; right finger_flexion 4+; right finger_abduction 4+
left inversion four, eversion in the right leg five throughout => left ankle_inversion 4; right ankle_eversion 5
tone in the left leg is one throughout => left tone@leg MAS 1
tone in the left leg is normal any weakness at all => left tone@leg normal
""")
CORRECTIONS = table("""
deltoid on the left three no wait let me do that again four => left shoulder_abduction 4
right knee jerk one plus no do it again two plus => right knee_jerk 2+
hip adduction on the right three no hang on he slid down the bed call it three plus and on the left five =>
 right hip_adduction 3+; left hip_adduction 5
left hip abduction two, no, i don't trust that, call it three => left hip_abduction 3
right eversion four, strike that, three. inversion five => right ankle_eversion 3; right ankle_inversion 5
""")
BOTH = table("""
triceps five right four left. finger flexion five and five => right elbow_extension 5; left elbow_extension 4;
 right finger_flexion 5; left finger_flexion 5
ankle eversion is a solid five and so is ankle inversion on the left => left ankle_eversion 5; left ankle_inversion 5
left leg. inversion and eversion both five => left ankle_inversion 5; left ankle_eversion 5
right ankle jerk two plus, left as on the other side => right ankle_jerk 2+; left ankle_jerk 2+
there are three beats of clonus at the left ankle and none at the right => left ankle_clonus 3 beats;
 right ankle_clonus absent
right knee jerk one plus, and that's still normal => right knee_jerk 1+
left leg. hip flexion three. big toe up. good, that's full power => left hip_flexion 3; left great_toe_extension normal
clonus nil on the left => left ankle_clonus absent
biceps wasting on the left and on the right. no fasciculations in the arms => left wasting@arm present;
 right wasting@arm present; right fasciculation@arm absent; left fasciculation@arm absent
no quadriceps wasting on the left => left wasting@leg absent
wasting is nil, left arm and right arm => left wasting@arm absent; right wasting@arm absent
""")
ASIDES = table("""
left knee jerk think about your garden absent right knee jerk one plus => left knee_jerk 0; right knee_jerk 1+
if the ankle jerk is gone think about S1. left ankle jerk two plus => left ankle_jerk 2+
left quadriceps, i can break that, four minus => left knee_extension 4-
right elbow flexion and i can overcome it four left elbow flexion five => right elbow_flexion 4; left elbow_flexion 5
finger jerk absent on both sides some healthy adults have none tone normal in both arms => right finger_jerk 0;
 left finger_jerk 0; right tone@arm normal; left tone@arm normal
pinprick. nod when you feel it normal at C6 and C7 on the left reduced at C8 => left pinprick@C6 normal;
 left pinprick@C7 normal; left pinprick@C8 reduced
in the left leg there's wasting a shin you could cut bread on no fasciculation that i see and in the right leg no
 wasting => left wasting@leg present; left fasciculation@leg absent; right wasting@leg absent
right wrist extension five. the left hand is the weaker one wrist extension three => right wrist_extension 5;
 left wrist_extension 3
left leg, wasting present fasciculation absent right leg the same => left wasting@leg present;
 left fasciculation@leg absent; right wasting@leg present; right fasciculation@leg absent
perianal pinprick normal on both sides anal tone normal tone is increased in the left leg => right pinprick@S4-5 normal;
 left pinprick@S4-5 normal; midline anal_tone normal; left tone@leg increased
romberg negative. walking i've put off until the frame comes => midline romberg negative; midline gait !deferred
left plantar mute. romberg i'll not attempt => left plantar_response mute; midline romberg !not_done
he has sore heels so unable to wear shoes. left plantar mute => left plantar_response mute
admission exam. tone increased in both legs => right tone@leg increased; left tone@leg increased
pinprick on the left c6 reduced c7 absent and on the right normal from c5 to c7 light touch normal at c6 on the left =>
 left pinprick@C6 reduced; left pinprick@C7 absent; right pinprick@C5 normal; right pinprick@C6 normal;
 right pinprick@C7 normal; left light_touch@C6 normal
right grip five and mind you'd call everything weak. right thumb abduction five => right grip 5; right thumb_abduction 5
left deltoid is one barely. left triceps is two => left shoulder_abduction 1; left elbow_extension 2
and if you asked him nicely inversion and eversion four on the right => right ankle_inversion 4; right ankle_eversion 4
left inversion is the weaker of the two at four minus => left ankle_inversion 4-
""")
COUNTED = table("""
clonus. at the right ankle sustained, at the left ankle let me count four beats => right ankle_clonus sustained;
 left ankle_clonus 4 beats
left finger jerk let me try again brisk => left finger_jerk brisk
right hip adduction let me feel four minus => right hip_adduction 4-
let me count your fingers. five. left grip four => left grip 4
""")
NEXT_LIMB = table("""
power is full throughout in the left leg and in the left arm deltoid is four => left hip_flexion normal;
 left hip_extension normal; left knee_extension normal; left knee_flexion normal; left ankle_dorsiflexion normal;
 left ankle_plantarflexion normal; left great_toe_extension normal; left shoulder_abduction 4
tone is increased in the right arm and in the right leg ankle clonus is sustained => right tone@arm increased;
 right ankle_clonus sustained
tone is increased in the right arm and in the right leg => right tone@arm increased; right tone@leg increased
no wasting in the left arm and the left leg ankle jerk two on the left => left wasting@arm absent;
 left wasting@leg absent; left ankle_jerk 2+
""")
NEXT_PLACE = table("""
light touch is intact from c5 to c7 on the left at c8 reduced on the left at t1 absent on the left =>
 left light_touch@C5 normal; left light_touch@C6 normal; left light_touch@C7 normal; left light_touch@C8 reduced;
 left light_touch@T1 absent
vibration normal at both knees at the ankles reduced on both sides at the great toes absent on both sides =>
 right vibration@knee normal; left vibration@knee normal; right vibration@ankle reduced; left vibration@ankle reduced;
 right vibration@great_toe absent; left vibration@great_toe absent
pinprick normal at l3 on the left at l4 reduced normal at l5 => left pinprick@L3 normal; left pinprick@L4 reduced;
 left pinprick@L5 normal
""")
HELPING = table("""
left arm. grip four. strike that, she helped with her right hand. grip three => left grip 3
right quads four minus he was bracing with the left leg hamstrings four => right knee_extension 4-; right knee_flexion 4
left biceps four the other arm was helping triceps three => left elbow_flexion 4; left elbow_extension 3
right grip four strike that, the other hand, grip three => left grip 3
""")
AS_WELL = table("""
right deltoid four on the right and three on the left as well => right shoulder_abduction 4; left shoulder_abduction 3
finger jerks absent on the left brisk on the right as well => left finger_jerk 0; right finger_jerk brisk
right plantar mute, on the left as well => right plantar_response mute; left plantar_response mute
""")
BACK_ON_THE_LIMB = table("""
right arm tone increased finger jerk brisk and normal on the left deltoid four => right tone@arm increased;
 right finger_jerk brisk; left finger_jerk normal; right shoulder_abduction 4
left leg tone increased clonus three beats, none on the right either. hip flexion three. => left tone@leg increased;
 left ankle_clonus 3 beats; right ankle_clonus absent; left hip_flexion 3
left leg tone increased and the right leg tone normal hip flexion three => left tone@leg increased;
 right tone@leg normal; right hip_flexion 3
""")
NO_RESULT = [
    "Listen to this from the referral letter: power two out of five in the right arm. Who believes that?",
    "the physio charted right arm power is three. i have not seen him move it",
    "squeeze your two knees together and then the two of them apart",
]


@pytest.mark.parametrize(
    ("talk", "wanted"),
    [
        *INSTRUCTIONS,
        *REMARKS,
        *TURNS,
        *CORRECTIONS,
        *BOTH,
        *ASIDES,
        *COUNTED,
        *NEXT_LIMB,
        *NEXT_PLACE,
        *HELPING,
        *AS_WELL,
        *BACK_ON_THE_LIMB,
    ],
)
def test_each_result_is_read_as_it_was_said(talk: str, wanted: set[str]) -> None:
    found = {each.replace(" contradiction", "") for each in told(talk)}
    assert found == wanted


@pytest.mark.parametrize("talk", NO_RESULT)
def test_what_was_written_by_others_or_only_counted_is_no_result(talk: str) -> None:
    assert not [row for row in rows(talk) if row.value and row.basis.value == "stated"]


def test_a_movement_of_the_other_limb_than_the_last_is_shown_to_a_person() -> None:
    found = {
        row.manoeuvre: row
        for row in rows("of the muscles of the right shoulder, abduction reached three, adduction four")
    }
    assert found["hip_adduction"].confirm
    assert "limb_unexpected" in found["hip_adduction"].flags
