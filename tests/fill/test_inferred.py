"""An instruction with only a reaction is an inferred normal, with a stated result a stated one, alone nothing."""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

INFERRED = table("""
left arm. bend your elbow and don't let me straighten it. good => left elbow_flexion normal ~
right leg. lift your leg off the bed, keep it up. excellent => right hip_flexion normal ~
left leg. kick out against my hand. lovely, relax => left knee_extension normal ~
right hand. spread your fingers wide. good => right finger_abduction normal ~
left hand. squeeze my fingers as hard as you can. great => left grip normal ~
right foot. pull your foot up towards you. good. push down. good
    => right ankle_dorsiflexion normal ~, ankle_plantarflexion normal ~
touch your nose and then my finger with your right hand. well done => right finger_nose normal ~
run your left heel down your shin. good => left heel_shin normal ~
left foot. step onto my palm. super => left ankle_plantarflexion normal ~
bend the left knee, heel towards you. lovely => left knee_flexion normal ~
put your left heel on your right knee. lovely => left heel_shin normal ~
right side. push your big toe up towards your nose. okay => right great_toe_extension normal ~
Heel to shin, left leg. Grand. Right leg. Grand. => left heel_shin normal ~; right heel_shin normal ~
left finger nose lovely right finger nose lovely => left finger_nose normal ~; right finger_nose normal ~
Right arm. Chicken wing for us. Good. Haul me in. Good. Shove away. Good. => right shoulder_abduction normal ~,
 elbow_flexion normal ~, elbow_extension normal ~
left leg bend your knee good push away good => left knee_flexion normal ~, knee_extension normal ~
left arm crook the elbow and don't let me pull it straight super => left elbow_flexion normal ~
left arm keep your elbow bent and stop me straightening it grand => left elbow_flexion normal ~
Left leg, knee up. Good. Stretch it. Good. Pull the heel back in. Good. => left hip_flexion normal ~;
 left knee_extension normal ~; left knee_flexion normal ~
heel shin on the left left heel on the other shin slide it down lovely => left heel_shin normal ~
knee extension on the right kick out good => right knee_extension normal ~
""")

STATED = table("""
left leg hip flexion three plus ankle up two big toe up four minus => left hip_flexion 3+; left ankle_dorsiflexion 2;
 left great_toe_extension 4-
left knee jerk one plus ankle one plus => left knee_jerk 1+; left ankle_jerk 1+
right arm. push me away. full power => right elbow_extension normal
left foot. pull your foot up. four plus => left ankle_dorsiflexion 4+
right leg. straighten your knee. weak, four minus => right knee_extension 4-
right leg. kick out against my hand. good. right knee extension five => right knee_extension 5
""")

NOTHING = table("""
right leg. kick out against my hand => -
finger nose next, right hand => -
close your eyes for me => -
push down against my hand, harder => -
left arm. keep your arms up and don't let me push them down => -
now just relax your leg and let it go floppy => -
""")


@pytest.mark.parametrize(("talk", "wanted"), INFERRED)
def test_a_reaction_is_an_inferred_normal_that_a_person_confirms(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted
    assert all(row.confirm and "inferred_normal" in row.flags for row in rows(talk))


@pytest.mark.parametrize(("talk", "wanted"), STATED)
def test_a_stated_result_is_stated(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted
    assert not any("inferred_normal" in row.flags for row in rows(talk))


@pytest.mark.parametrize(("talk", "wanted"), NOTHING)
def test_an_instruction_alone_is_no_row(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted == set()
