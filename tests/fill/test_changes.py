"""What replaces, removes or agrees with an earlier row: corrections, contradictions, repeats, results left out."""

from __future__ import annotations

import pytest

from pipeline.record.model import Status
from tests.understand.talks import rows, table, told

CORRECTED = table("""
right hip flexion four, no, four plus => right hip_flexion 4+
left quads five, sorry, four => left knee_extension 4
right knee jerk two plus. scratch that. right knee jerk one plus => right knee_jerk 1+
right quads four. scratch that => -
right hip flexion five. left hip flexion four. scratch that => right hip_flexion 5
right quads four, left quads five. other way round => right knee_extension 5; left knee_extension 4
right EHL three, I mean the left EHL three => left great_toe_extension 3
left hamstrings four, make that four plus => left knee_flexion 4+
right pinprick reduced at L4, sorry, at L5 => right pinprick@L5 reduced
left deltoid not four but three => left shoulder_abduction 3
left quads isn't five, it's four plus => left knee_extension 4+
right ankle jerk not absent but one plus => right ankle_jerk 1+
left grip not four => -
left pinprick at L4 not reduced but absent => left pinprick@L4 absent
left biceps three as opposed to five on the right => left elbow_flexion 3; right elbow_flexion 5
left biceps four, no, that's the right => right elbow_flexion 4
right eversion three, actually that was the left. dorsiflexion four
    => left ankle_eversion 3, ankle_dorsiflexion 4
left deltoid I called four but it's really three => left shoulder_abduction 3
left knee jerk absent, sorry, that's the right. ankle jerk one plus => right knee_jerk 0, ankle_jerk 1+
left grip four, sorry, right. biceps five => right grip 4, elbow_flexion 5
left grip four sorry that was the right biceps five => right grip 4, elbow_flexion 5
left triceps four, no, that's right, wrist extension five => left elbow_extension 4, wrist_extension 5
left quads two, beg your pardon, three => left knee_extension 3
right plantar extensor, strike that. right plantar flexor => right plantar_response flexor
right knee extension four, no sorry, left knee extension four => left knee_extension 4
left hip flexion five. no wait, four => left hip_flexion 4
right knee jerk two plus, left knee jerk absent, other way round => right knee_jerk 0; left knee_jerk 2+
left wrist extension three. ignore that. left wrist extension four => left wrist_extension 4
left ankle jerk one plus. delete that => -
pinprick reduced at L5 on the right, sorry on the left => left pinprick@L5 reduced
light touch right L2 to L4 normal, no, correction, right L3 is reduced
    => right light_touch@L2 normal, light_touch@L3 reduced, light_touch@L4 normal
pinprick left C6 to C8 normal sorry C7 absent
    => left pinprick@C6 normal, pinprick@C7 absent, pinprick@C8 normal
pinprick L3 to L5 normal on both sides sorry left L4 is reduced
    => right pinprick@L3 normal, pinprick@L4 normal, pinprick@L5 normal;
       left pinprick@L3 normal, pinprick@L4 reduced, pinprick@L5 normal
light touch left L4 and L5 reduced sorry L5 reduced => left light_touch@L5 reduced
light touch left L4 to S1 reduced sorry right L5 reduced => right light_touch@L5 reduced
ankle jerks right one plus left sorry three plus => right ankle_jerk 1+; left ankle_jerk 3+
left plantar flexor right let me do that again extensor => left plantar_response flexor; right plantar_response extensor
triceps four left three right sorry two => left elbow_extension 4; right elbow_extension 2
""")

CONTRADICTED = table("""
left finger nose normal at first, but with his eyes closed impaired => left finger_nose impaired contradiction
right light touch at S1 normal, but the second time reduced => right light_touch@S1 reduced contradiction
right quads five. left quads five. right quads three => right knee_extension 3 contradiction; left knee_extension 5
left ankle jerk two plus. left knee jerk two plus. left ankle jerk absent
    => left ankle_jerk 0 contradiction, knee_jerk 2+
right pinprick normal at L5. right light touch normal at L5. right pinprick reduced at L5
    => right pinprick@L5 reduced contradiction, light_touch@L5 normal
right EHL five. right knee jerk two. right big toe again, that's four plus
    => right great_toe_extension 4+ contradiction, knee_jerk 2+
right triceps jerk reduced. right triceps jerk two plus => right triceps_jerk 2+ contradiction
""")

AGREEING = table("""
right quads four. right hamstrings five. right quads, let me check, four => right knee_extension 4, knee_flexion 5
left ankle jerk one plus. right ankle jerk two plus. left ankle jerk one plus again
    => left ankle_jerk 1+; right ankle_jerk 2+
left dorsiflexion is weak. yes left dorsiflexion four => left ankle_dorsiflexion 4
left heel shin is clumsy, he misses the shin => left heel_shin impaired
right triceps jerk reduced. right triceps jerk one plus => right triceps_jerk 1+
""")

LEFT_OUT = table("""
the straight leg raise was declined on the left => left straight_leg_raise !declined
left light touch was declined => left light_touch !declined
he refused the plantar on the right => right plantar_response !declined
she declined the rectal examination so anal tone not done => midline anal_tone !declined
right hip flexion not tested because of pain => right hip_flexion !pain
left hip extension could not be tested, too sore => left hip_extension !pain
left shoulder abduction not assessed because it hurts => left shoulder_abduction !pain
left ankle dorsiflexion not tested, the foot is in plaster => left ankle_dorsiflexion !unable
heel walking not possible, he is too weak => midline heel_walk !unable
gait not assessed, she cannot stand => midline gait !unable
right grip not tested, the hand is in a splint => right grip !unable
tandem gait not attempted, too unsteady => midline tandem_gait !unable
gait deferred => midline gait !deferred
romberg not done, will be done later by the physiotherapist => midline romberg !deferred
vibration on the left not tested, deferred to tomorrow => left vibration !deferred
left finger nose not done => left finger_nose !not_done
romberg not tested => midline romberg !not_done
right femoral stretch omitted => right femoral_stretch !not_done
I didn't test the adductors on the right => right hip_adduction !not_done
joint position sense was not tested on either side => both joint_position !not_done
plantars not done on both sides => both plantar_response !not_done
heel walk and toe walk not done => midline heel_walk !not_done, toe_walk !not_done
left hip abduction and adduction not tested => left hip_abduction !not_done, hip_adduction !not_done
I will leave out the femoral stretch on the left => left femoral_stretch !not_done
gait not examined => midline gait !not_done
""")

EXAMINED_AFTER_ALL = table("""
right quads not tested because of pain. left quads five. right quads four
    => right knee_extension 4; left knee_extension 5
""")


@pytest.mark.parametrize(("talk", "wanted"), [*CORRECTED, *AGREEING, *EXAMINED_AFTER_ALL])
def test_the_row_that_stands(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(("talk", "wanted"), CONTRADICTED)
def test_of_two_results_the_later_stands_and_a_person_must_confirm_it(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted
    assert [row.confirm for row in rows(talk) if "contradiction" in row.flags] == [True]


def test_both_results_are_evidence_of_a_contradiction() -> None:
    (row,) = rows("left ankle jerk two plus. left ankle jerk absent")
    assert [span.heard for span in row.evidence] == ["left ankle jerk two plus.", "left ankle jerk absent"]


def test_a_repeated_test_adds_evidence() -> None:
    (row,) = rows("left ankle jerk one plus. left ankle jerk one plus again")
    assert len(row.evidence) == 2


@pytest.mark.parametrize(("talk", "wanted"), LEFT_OUT)
def test_what_was_left_out_is_a_row_with_its_reason(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted
    assert all(row.status is Status.NOT_EXAMINED and row.value is None for row in rows(talk))


def test_every_reason_is_in_the_table() -> None:
    reasons = {row.split("!")[1].split()[0] for _, wanted in LEFT_OUT for row in wanted}
    assert reasons == {"declined", "pain", "unable", "deferred", "not_done"}
