"""What is said between results and is none: remarks, generalities, stories. What a short word gives to another test.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import rows, table, told

LEFT_OUT = table("""
Right grip four. The left ankle jerk I never tested. => right grip 4; left ankle_jerk !not_done
Right hip extension not tested for pain, same for right hip abduction. => right hip_extension !pain;
 right hip_abduction !pain
Toe walk not tested because of the pain, ditto heel walk. => midline toe_walk !pain; midline heel_walk !pain
The left Hoffmann's I left out, and the left finger jerk as well. => left hoffmann_sign !not_done;
 left finger_jerk !not_done
Left deltoid four, left wrist flexion I skipped, left grip three. => left shoulder_abduction 4;
 left wrist_flexion !not_done; left grip 3
Light touch, she does not want that, so declined on both sides. => right light_touch !declined;
 left light_touch !declined
Right ankle jerk one plus. The left I couldn't get at because of the boot. => right ankle_jerk 1+;
 left ankle_jerk !unable
Romberg declined, she fell at home last week. => midline romberg !declined
Vibration at the great toe not done on either side, the fork's gone missing. => right vibration@great_toe !not_done;
 left vibration@great_toe !not_done
Knee jerks both two plus, I'll skip the plantars, not done on either side. => right knee_jerk 2+; left knee_jerk 2+;
 right plantar_response !not_done; left plantar_response !not_done
Oh, I skipped tone. Tone is normal in both legs. => right tone@leg normal; left tone@leg normal
Right wrist extension four, right grip three. On the left neither could be tested, too painful. =>
 right wrist_extension 4; right grip 3; left wrist_extension !pain; left grip !pain
left hip flexion four left knee flexion five neither can be done on the right because of the cast => left hip_flexion 4;
 left knee_flexion 5; right hip_flexion !unable; right knee_flexion !unable
Wasting in neither arm. => right wasting@arm absent; left wasting@arm absent
I left the left finger jerk out. => left finger_jerk !not_done
We'll leave toe walking out for now. => midline toe_walk !not_done
Left knee flexion out of five is four. => left knee_flexion 4
I leave the hammer out of this, right triceps jerk two. => right triceps_jerk 2+
Heel shin impaired on both sides. He cannot weight bear, so no Romberg and no tandem gait. => right heel_shin impaired;
 left heel_shin impaired; midline romberg !unable; midline tandem_gait !unable
She is too weak, so no clonus at the left ankle. => left ankle_clonus absent
Romberg's test he asked not to have. => midline romberg !declined
Left finger nose she'd sooner not. => left finger_nose !declined
Tandem gait I will test on my next visit. => midline tandem_gait !deferred
Right heel shin we'll look at when the drain is out. => right heel_shin !deferred
Vibration at both ankles we'll come back to after lunch. => right vibration@ankle !deferred;
 left vibration@ankle !deferred
Biceps jerk two plus on the left. We'll come back to the triceps jerks. => left biceps_jerk 2+;
 left triceps_jerk !deferred; right triceps_jerk !deferred
Toe walking I'll leave to the physiotherapist. => midline toe_walk !deferred
Temperature skipped, both sides. Right ankle jerk one plus. => right temperature !not_done; left temperature !not_done;
 right ankle_jerk 1+
left leg vibration i've skipped both ankles not done => right vibration@ankle !not_done; left vibration@ankle !not_done
Femoral stretch I haven't tried on either side. => right femoral_stretch !not_done; left femoral_stretch !not_done
Anal tone, that's for the surgeons to do. => midline anal_tone !deferred
Finger nose is not done, he refused, both sides. Heel shin is normal on both sides. => right finger_nose !declined;
 left finger_nose !declined; right heel_shin normal; left heel_shin normal
rapid alternating not done she declined both sides finger nose is impaired on both sides =>
 right rapid_alternating !declined; left rapid_alternating !declined; right finger_nose impaired;
 left finger_nose impaired
Grip not done, in plaster, left. Right grip five. => left grip !unable; right grip 5
Grip not tested on either side, her fingers are too sore. => right grip !pain; left grip !pain
Hip abduction not tested on the left, declined on the right. => left hip_abduction !not_done;
 right hip_abduction !declined
Hip extension not tested on the right, too painful on the left. => right hip_extension !not_done;
 left hip_extension !pain
Ankle jerk not tested on the right because of the plaster, two plus on the left. => right ankle_jerk !unable;
 left ankle_jerk 2+
tandem gait i'm not risking she's unsteady enough romberg negative => midline tandem_gait !not_done;
 midline romberg negative
Toe walking we're not trying, he's in a cast. => midline toe_walk !unable
Left grip four, I'm not trying that again. => left grip 4
Romberg will wait until the physio is here. => midline romberg !deferred
Knee jerks can't be done on either side, in a cast still, and plantars likewise. =>
 right knee_jerk !unable; left knee_jerk !unable; right plantar_response !unable; left plantar_response !unable
Tandem gait, it is late, so postponed. Romberg negative. => midline tandem_gait !deferred; midline romberg negative
heel walking the toe is bandaged so not done => midline heel_walk !unable
day two the right ankle's in plaster left leg tone increased | hip flexion four on the left => left tone@leg increased;
 left hip_flexion 4
Right grip five. He was drowsy, so most of this could not be done. => right grip 5
Right grip could not be done. => right grip !not_done
Left hip abduction four. Right hip abduction I'll get when you've turned over. => left hip_abduction 4;
 right hip_abduction !deferred
Triceps jerks two plus on both sides. Plantars, he's ticklish, I'll leave those alone. => right triceps_jerk 2+;
 left triceps_jerk 2+; right plantar_response !not_done; left plantar_response !not_done
Vibration reduced at both ankles. I asked her to sit up and she declined, so Romberg not done. =>
 right vibration@ankle reduced; left vibration@ankle reduced; midline romberg !declined
Gait impaired and he wasn't able to attempt heel walking. => midline gait impaired; midline heel_walk !unable
she's unable to manage toe walking gait normal => midline toe_walk !unable; midline gait normal
and i forgot the left grip didn't i so left grip not done right grip four => left grip !not_done; right grip 4
Pinprick normal at C7 on the left. Temperature not done, I've nothing warm. => left pinprick@C7 normal;
 left temperature !not_done
Left biceps jerk, nothing. => left biceps_jerk 0
romberg is deferred the nurses are washing him at ten his daughter asked about the diet => midline romberg !deferred
we'll leave the romberg until tomorrow => midline romberg !deferred
Leave the left plantar until later, she is cold. => left plantar_response !deferred
left ankle jerk two plus until later in the day => left ankle_jerk 2+
Heel walking I won't ask him for, he has a blister. => midline heel_walk !not_done
vibration both sides we'll leave those for the registrar => both vibration !deferred
romberg and tandem gait are for the physios => midline romberg !deferred, tandem_gait !deferred
right grip three is for the physios to work on => right grip 3
gate clearly can't be tested, he's in traction => midline gait !unable
tandem gate unfortunately not done => midline tandem_gait !not_done
the garden gate obviously can't be opened => -
plantars I'll leave those to the night team => both plantar_response !deferred
joint position on the left, we'll leave that for my colleague => left joint_position !deferred
right grip five. I'll leave that to the night team => right grip 5
tandem gait's for the physios => midline tandem_gait !deferred
""")
AGAIN = table("""
Pinprick absent at L4 and L5 on the left. Light touch is likewise absent at L5 on the left. =>
 left pinprick@L4 absent; left pinprick@L5 absent; left light_touch@L5 absent
Left triceps jerk three plus, biceps ditto. => left triceps_jerk 3+; left biceps_jerk 3+
Light touch fine, normal from L3 to L5 in both legs. => right light_touch@L3 normal; right light_touch@L4 normal;
 right light_touch@L5 normal; left light_touch@L3 normal; left light_touch@L4 normal; left light_touch@L5 normal
The knee jerks are two plus on the right and, let me repeat it, yes, two plus on the left. => right knee_jerk 2+;
 left knee_jerk 2+
Left leg tone is reduced, and the right leg, let me see, also reduced. => left tone@leg reduced; right tone@leg reduced
Eversion one on the left, one on the right. => left ankle_eversion 1; right ankle_eversion 1
Light touch was intact at L4 bilaterally, as were vibration and joint position at both great toes. =>
 right light_touch@L4 normal; left light_touch@L4 normal; right vibration@great_toe normal;
 left vibration@great_toe normal; right joint_position@great_toe normal; left joint_position@great_toe normal
the left knee jerk was reduced as was the left ankle jerk => left knee_jerk reduced; left ankle_jerk reduced
Pinprick was normal on the left and so was light touch at C5. => left pinprick normal; left light_touch@C5 normal
left pinprick reduced at as was one => left pinprick@S1 reduced
elbow flexors elbow extensors wrist extensors not a flicker zero for all of them on both sides =>
 right elbow_flexion 0; left elbow_flexion 0; right elbow_extension 0; left elbow_extension 0;
 right wrist_extension 0; left wrist_extension 0
Left hip flexors, knee extensors, two for each of them. => left hip_flexion 2; left knee_extension 2
Left hip abduction, not a flicker, zero. => left hip_abduction 0
The biceps jerk was one plus on the left and three plus on the right, and the triceps jerks were the same. =>
 left biceps_jerk 1+; right biceps_jerk 3+; left triceps_jerk 1+; right triceps_jerk 3+
Left knee jerk two plus. Were the reflexes the same everywhere I'd relax. => left knee_jerk 2+
Pinprick, left L4 normal, left L5 reduced, tell me when it changes, oh, so left L5 absent, I should say. Left S1 normal.
 => left pinprick@L4 normal; left pinprick@L5 absent; left pinprick@S1 normal
Right grip three, I should say four. Left grip five. => right grip 4; left grip 5
Left biceps two plus, left triceps one plus. The right is the mirror image. => left biceps_jerk 2+;
 left triceps_jerk 1+; right biceps_jerk 2+; right triceps_jerk 1+
""")
IN_TURN = table("""
The left and right ankle jerks are one plus and three plus respectively. => left ankle_jerk 1+; right ankle_jerk 3+
Reflexes. Knees one plus and two plus, ankles two plus and three plus, left and right respectively. =>
 left knee_jerk 1+; right knee_jerk 2+; left ankle_jerk 2+; right ankle_jerk 3+
Pinprick at C5, C6 and C7 on the left is normal, absent and reduced respectively. => left pinprick@C5 normal;
 left pinprick@C6 absent; left pinprick@C7 reduced
Four, three and five for left hip flexion, knee extension and knee flexion. => left hip_flexion 4;
 left knee_extension 3; left knee_flexion 5
Knee extension, L three four, five left, four minus right. => left knee_extension 5 (L3 L4);
 right knee_extension 4- (L3 L4)
Ankle clonus on the left, one, two, three, four beats. Right none. => left ankle_clonus 4 beats;
 right ankle_clonus absent
Light touch in the legs normal L2 to L4 on both sides, L5 reduced on the right. => right light_touch@L2 normal;
 right light_touch@L3 normal; right light_touch@L4 normal; left light_touch@L2 normal; left light_touch@L3 normal;
 left light_touch@L4 normal; right light_touch@L5 reduced
Left leg. Ankle inversion five, S1. Right, strike that, still on the left, ankle eversion four. =>
 left ankle_inversion 5 (S1) root_unexpected; left ankle_eversion 4
Right knee extension four. Hip abduction three big toe four left side, knee extension five. => right knee_extension 4;
 right hip_abduction 3; right great_toe_extension 4; left knee_extension 5
Hip flexion three right side, four left side, knee extension five on both sides. => right hip_flexion 3;
 left hip_flexion 4; right knee_extension 5; left knee_extension 5
squeeze my fingers, grip for on each side, and spread them => right grip 4; left grip 4
""")
GENERAL = table("""
Legs. Fasciculation in the left leg, none in the right leg. => left fasciculation@leg present;
 right fasciculation@leg absent
wasting in the left calf and none on the right => left wasting@leg present; right wasting@leg absent
right arm grip one so both branches are out left arm grip five => right grip 1; left grip 5
right elbow flexion four plus other arm now left elbow flexion five => right elbow_flexion 4+; left elbow_flexion 5
lift both knees up one then the other hold against me good => right hip_flexion normal ~; left hip_flexion normal ~
the right biceps jerk I can't see one => -
Plantars flexor both sides. What would worry you more? A motor level and up going toes, well done. Right grip four. =>
 right plantar_response flexor; left plantar_response flexor; right grip 4
right knee jerk one plus. above the lesion you will get brisk reflexes and an up going toe | left knee jerk absent =>
 right knee_jerk 1+; left knee_jerk 0
both arms no tremor and no wasting either sure it'd be years before you'd see that =>
 right involuntary_movement@arm absent; left involuntary_movement@arm absent;
 right wasting@arm absent; left wasting@arm absent
In 2016 both knee jerks were brisk. Right ankle jerk two plus. => right ankle_jerk 2+
Left grip is weak and I cannot grade any of it. => left grip reduced grade_unsaid
Left grip grade tree. => left grip 3
Plantars, left flexor, right also flexor. => left plantar_response flexor; right plantar_response flexor
Right elbow flexor four. => right elbow_flexion 4
Vibration is normal at both ankles so the long tracts are fine. => right vibration@ankle normal;
 left vibration@ankle normal
Left plantar extensor. Do not be misled by a normal haemoglobin. => left plantar_response extensor
There is a normal ankle jerk on the left. => left ankle_jerk normal
Left arm. Push me away. Oh, that one is strong. => left elbow_extension normal
Plantars extensor on both sides. In a healthy adult the toe goes down. => right plantar_response extensor;
 left plantar_response extensor
toes are down on both sides in babies the toe goes up => right plantar_response flexor; left plantar_response flexor
There is no wasting in either arm, as one would expect so soon. => right wasting@arm absent; left wasting@arm absent
Right ankle clonus six beats, and before you ask, two can be normal. => right ankle_clonus 6 beats
Anal tone is reduced. If that tone had been normal we might have waited. => midline anal_tone reduced
The GP's letter says power two by five. Left ankle dorsiflexion is four. => left ankle_dorsiflexion 4
Right hip flexion four plus, no, wait, push again, four, I'll call it four. => right hip_flexion 4
right hip flexion two, it was only a one last month => right hip_flexion 2
Right hip flexion is only a one. Knee extension two. => right hip_flexion 1; right knee_extension 2
Left grip. Squeeze again. I'll call it three. => left grip 3
Vibration absent at both great toes, grand at the knees. => right vibration@great_toe absent;
 left vibration@great_toe absent; right vibration@knee normal; left vibration@knee normal
Right plantar extensor, no, hold on, that's flexor. => right plantar_response flexor
Gait impaired, hear the slap? => midline gait impaired
Right plantar down going, and the left plantar, well, I'd have to call that equivocal. => right plantar_response flexor;
 left plantar_response equivocal
dear colleague i saw him today and there was no wasting in either arm => right wasting@arm absent;
 left wasting@arm absent
now you know what i'm after left leg full power throughout => left hip_flexion normal; left hip_extension normal;
 left knee_extension normal; left knee_flexion normal; left ankle_dorsiflexion normal;
 left ankle_plantarflexion normal; left great_toe_extension normal
vibration at the ankles not done on either side the fork's gone missing heel shin on the left normal =>
 right vibration@ankle !not_done; left vibration@ankle !not_done; left heel_shin normal
Tremor must be recorded as present in the left arm. => left involuntary_movement@arm present
left biceps jerk brisk, to be honest => left biceps_jerk brisk
right tone increased, to be perfectly clear => right tone increased
it's normal to be tired. left grip four => left grip 4
""")
NAMES = table("""
No wasting in the left arm, a few fasciculations over the triceps. => left wasting@arm absent;
 left fasciculation@arm present
Cold is normal at T10 on both sides. => right temperature@T10 normal; left temperature@T10 normal
Reflexes. Knees two plus on both sides. Toes down on both sides. => right knee_jerk 2+; left knee_jerk 2+;
 right plantar_response flexor; left plantar_response flexor
All the reflexes, knee, ankle and biceps, are absent bilaterally. => right knee_jerk 0; left knee_jerk 0;
 right ankle_jerk 0; left ankle_jerk 0; right biceps_jerk 0; left biceps_jerk 0
Curl your toes round my finger, left four. => left toe_flexion 4
Left elbow, pull me in. Four minus. => left elbow_flexion 4-
right hip abduction push out against me four => right hip_abduction 4
left leg foot up strong that's five => left ankle_dorsiflexion 5
Pinprick reduced at L4, both sides, and gone at L5 and S1, both sides. => right pinprick@L4 reduced;
 left pinprick@L4 reduced; right pinprick@L5 absent; left pinprick@L5 absent; right pinprick@S1 absent;
 left pinprick@S1 absent
light touch on the left normal at C6 but odd over C7 => left light_touch@C6 normal; left light_touch@C7 altered
Pinprick on the left normal at C6, and he's gone in the evening. => left pinprick@C6 normal
I could not elicit the ankle jerks on either side. => right ankle_jerk 0; left ankle_jerk 0
The left triceps jerk I couldn't elicit because of the cast. => left triceps_jerk !unable
Bending the elbow left five, right four plus. => left elbow_flexion 5; right elbow_flexion 4+
pinprick is normal at L4 on the right and on the left heel shin is normal bilaterally => right pinprick@L4 normal;
 left pinprick@L4 normal; right heel_shin normal; left heel_shin normal
Pinprick is reduced at L4 on the right and on the left knee jerk is absent. => right pinprick@L4 reduced;
 left knee_jerk 0
Ankle clonus while I think of it, absent on both sides. => right ankle_clonus absent; left ankle_clonus absent
Knee up, L2, three on both sides. => right hip_flexion 3 (L2); left hip_flexion 3 (L2)
left knee extension L3 two => left knee_extension 2 (L3)
Right knee jerk brisk. Light touch is absent at L3 and reduced at L4 on the left. => right knee_jerk brisk;
 left light_touch@L3 absent; left light_touch@L4 reduced
On the right light touch is absent at L3, and reduced at L4 on the left. => right light_touch@L3 absent;
 left light_touch@L4 reduced
Left knee extension, L three four, five. => left knee_extension 5 (L3 L4)
left knee extension three so that's the quads L three four => left knee_extension 3 (L3 L4)
Left biceps and triceps are absent. => left biceps_jerk 0; left triceps_jerk 0
right biceps, supinator and triceps brisk => right biceps_jerk brisk; right brachioradialis_jerk brisk;
 right triceps_jerk brisk
Left biceps and triceps four. => left elbow_flexion 4; left elbow_extension 4
Left supinator jerk absent, left triceps jerk one plus. The two on the right are both two plus. =>
 left brachioradialis_jerk 0; left triceps_jerk 1+; right brachioradialis_jerk 2+; right triceps_jerk 2+
left biceps jerk reduced left knee jerk reduced left ankle jerk one plus the three on the right are all three plus =>
 left biceps_jerk reduced; left knee_jerk reduced; left ankle_jerk 1+; right biceps_jerk 3+; right knee_jerk 3+;
 right ankle_jerk 3+
Left grip four. The one on the right is five. => left grip 4; right grip 5
light touch reduced at L4 and L5 on the left and normal at both of those on the right => left light_touch@L4 reduced;
 left light_touch@L5 reduced; right light_touch@L4 normal; right light_touch@L5 normal
the knee jerks were brisk bilaterally and there were six beats of clonus at the left ankle and none at the right =>
 right knee_jerk brisk; left knee_jerk brisk; left ankle_clonus 6 beats; right ankle_clonus absent
right leg no wasting no fasciculation and the right leg has an abnormal posture => right wasting@leg absent;
 right fasciculation@leg absent; right abnormal_posture@leg present
Neither arm has fasciculation and neither leg shows wasting. => right fasciculation@arm absent;
 left fasciculation@arm absent; right wasting@leg absent; left wasting@leg absent
In the left arm there was no wasting and he does not have any fasciculation. => left wasting@arm absent;
 left fasciculation@arm absent
External rotation of the left shoulder not tested, shoulder abduction on the left three. =>
 left shoulder_external_rotation !not_done; left shoulder_abduction 3
Abnormal posture in both legs, with the high arches. => right abnormal_posture@leg present;
 left abnormal_posture@leg present
Knee jerk is left absent, right one plus. => left knee_jerk 0; right knee_jerk 1+
Left arm. Triceps four minus, and that right there's C7. Wrist extension three. => left elbow_extension 4- (C7);
 left wrist_extension 3
heel walking normal on both sides now on to the couch straight leg race sixty degrees on the left =>
 left straight_leg_raise 60 degrees; right heel_walk normal; left heel_walk normal
Left ankle jerk one plus. Hook your fingers together and pull. Yeah, one plus still. => left ankle_jerk 1+
The reflexes are absent on both sides, that is biceps, triceps and ankle. => right biceps_jerk 0;
 left biceps_jerk 0; right triceps_jerk 0; left triceps_jerk 0; right ankle_jerk 0; left ankle_jerk 0
right arm below the elbow it's four plus by which i mean wrist extension finger extension and grip. left grip five
 => right wrist_extension 4+; right finger_extension 4+; right grip 4+; left grip 5
reflexes absent on both sides that is knee and ankle plantars mute both sides => right knee_jerk 0; left knee_jerk 0;
 right ankle_jerk 0; left ankle_jerk 0; right plantar_response mute; left plantar_response mute
Left hip flexion four, that's fine. Left knee extension five, knee flexion four. => left hip_flexion 4;
 left knee_extension 5; left knee_flexion 4
Left grip four, I mean three. => left grip 3
no fasciculation in either arm power triceps four plus on both sides => right fasciculation@arm absent;
 left fasciculation@arm absent; right elbow_extension 4+; left elbow_extension 4+
Wasting in the left triceps. => left wasting@arm present
Left hip flexion four. Below the knee it's all three, by which I mean dorsiflexion and plantarflexion. =>
 left hip_flexion 4; left ankle_dorsiflexion 3; left ankle_plantarflexion 3
Right foot, dorsi and plantar flexion four, left plantar and dorsiflexion five. => right ankle_dorsiflexion 4;
 right ankle_plantarflexion 4; left ankle_plantarflexion 5; left ankle_dorsiflexion 5
left plantar flexor and dorsiflexion five => left plantar_response flexor; left ankle_dorsiflexion 5
""")
REFUSED = table("""
He's said no to the plantars on both sides. => right plantar_response !declined; left plantar_response !declined
she says no to romberg gait normal => midline romberg !declined; midline gait normal
On inspection he said there's no wasting in the right arm. => right wasting@arm absent
Biceps jerks one plus on both sides. He doesn't want the sling off. Left triceps jerk two plus. =>
 right biceps_jerk 1+; left biceps_jerk 1+; left triceps_jerk 2+
Left biceps jerk. He declined. => left biceps_jerk !declined
Right wrist extension and right grip could not be tested, the hand's in a splint. Nor could the right biceps jerk or the
 right triceps jerk. => right wrist_extension !unable; right grip !unable; right biceps_jerk !unable;
 right triceps_jerk !unable
left knee flexion was not tested nor was hip extension right knee flexion five => left knee_flexion !not_done;
 left hip_extension !not_done; right knee_flexion 5
No wasting nor fasciculation in the left arm. => left wasting@arm absent; left fasciculation@arm absent
Left shoulder abduction I left alone. Left elbow flexion four. => left shoulder_abduction !not_done;
 left elbow_flexion 4
Anal tone not done, she refused and I'm not going to argue. Knee jerks two plus both sides. =>
 midline anal_tone !declined; right knee_jerk 2+; left knee_jerk 2+
Right finger jerk not done, and I didn't check the left finger jerk. => right finger_jerk !not_done;
 left finger_jerk !not_done
Straight leg raise was fifty degrees on the left and on the right he would rather not. =>
 left straight_leg_raise 50 degrees; right straight_leg_raise !declined
perianal pinprick is normal on both sides her husband was a help with that anal tone is reduced =>
 right pinprick@S4-5 normal; left pinprick@S4-5 normal; midline anal_tone reduced
""")
REMARKS = table("""
Finger nose is impaired on the left, although that may be the shoulder, and normal on the right. =>
 left finger_nose impaired; right finger_nose normal
Left grip five, though it would be weak if the wrist were sore and normal on the right. => left grip 5
Light touch on the right, altered at C7, prickly she says, normal at C5 and C6. => right light_touch@C7 altered;
 right light_touch@C5 normal; right light_touch@C6 normal
light touch left arm altered at T1 fuzzy he says normal at C8 => left light_touch@T1 altered; left light_touch@C8 normal
Light touch on the left, at C5 normal, at C6 altered, she says fuzzy, at C7 normal. => left light_touch@C5 normal;
 left light_touch@C6 altered; left light_touch@C7 normal
Left tib ant four, that was only a two in the spring, left EHL three. => left ankle_dorsiflexion 4;
 left great_toe_extension 3
right quads four plus which was a four last week right hamstrings five => right knee_extension 4+; right knee_flexion 5
Left quads was a three last week, it's four today. => left knee_extension 4
Plantars are extensor on the right and flexor on the left, which is how he was before the operation. =>
 right plantar_response extensor; left plantar_response flexor
In the autumn the plantars were both flexor, according to the letter. => -
Heel walking and toe walking were both impaired. => midline heel_walk impaired; midline toe_walk impaired
Left quads five. Were both plantars extensor I would worry. => left knee_extension 5
I could find no wasting and no fasciculation in either arm. => right wasting@arm absent; left wasting@arm absent;
 right fasciculation@arm absent; left fasciculation@arm absent
You could see wasting in the left arm with a C8 root. => -
With her sister holding her hand the gait was wide based and lurching. Romberg negative. => midline gait impaired;
 midline romberg negative
Her sister has a wide based gait. => -
Gait is waddling, unsteady. Heel walking normal. => midline gait impaired; midline heel_walk normal
She has a slow, shuffling gait. => midline gait impaired
he has a stiff and slow gait and tandem gait is impaired => midline gait impaired; midline tandem_gait impaired
Her gait is normal, and so is the tandem gait. => midline gait normal; midline tandem_gait normal
the gait is stiff and slow tandem gait I did not attempt => midline gait impaired; midline tandem_gait !not_done
She toe walks normally and heel walks normally. => midline toe_walk normal; midline heel_walk normal
The left ankle jerk is normally two plus in the young. => -
Toe walk is impaired on the left, she drags the toes, and fine on the right. => left toe_walk impaired;
 right toe_walk normal
Tone in the right leg is normal. Left leg, loose again for me, normal too. => right tone@leg normal;
 left tone@leg normal
Left arm tone normal, right arm floppy. => left tone@arm normal; right tone@arm reduced
On the left pinprick is intact L3 to S1. What have we not looked at yet? Right, the saddle. => left pinprick@L3 normal;
 left pinprick@L4 normal; left pinprick@L5 normal; left pinprick@S1 normal
Pinprick on the left is reduced at L5. And at S1. => left pinprick@L5 reduced; left pinprick@S1 reduced
Gait normal, heel shin is impaired on the left now, if the ataxia were sensory what would the Romberg do? =>
 midline gait normal; left heel_shin impaired
If the ankle jerk is absent what would you think of? Left knee jerk two plus. => left knee_jerk 2+
vibration reduced at both ankles and normal at both knees is your toe up or down joint position absent at both toes
 => right vibration@ankle reduced; left vibration@ankle reduced; right vibration@knee normal;
 left vibration@knee normal; right joint_position@great_toe absent; left joint_position@great_toe absent
Left L4 and L5 are normal light touch I haven't tested on the right => left light_touch@L4 normal;
 left light_touch@L5 normal; right light_touch !not_done
vibration at the left ankle is absent pinprick I didn't do on either side => left vibration@ankle absent;
 left pinprick !not_done; right pinprick !not_done
Right finger flexion three no wait once more sir that is four. Left finger flexion five. => right finger_flexion 4;
 left finger_flexion 5
Neither biceps jerk could be elicited. The left triceps jerk could be obtained. => right biceps_jerk 0;
 left biceps_jerk 0; left triceps_jerk normal
neither knee jerk was present left plantar flexor => right knee_jerk 0; left knee_jerk 0; left plantar_response flexor
Left leg, neither wasting nor fasciculation. => left wasting@leg absent; left fasciculation@leg absent
If the ankle jerk could be elicited I would not worry. => -
Wasting of the left arm. The right forearm is not wasted. => left wasting@arm present; right wasting@arm absent
The left calf is wasted, the right calf isn't wasted. => left wasting@leg present; right wasting@leg absent
Pinprick. On the left, C7 blunt by her account, so reduced, C6 and C8 fine. => left pinprick@C7 reduced;
 left pinprick@C6 normal; left pinprick@C8 normal
light touch on the right l four l five and s one all fine => right light_touch@L4 normal; right light_touch@L5 normal;
 right light_touch@S1 normal
Light touch at L4. Fine, thanks. => -
Straight leg raise, the left gets to fifty degrees, the right only reaches forty five. =>
 left straight_leg_raise 50 degrees; right straight_leg_raise 45 degrees
Toe walking impaired on the left, okay on the right. Heel walking okay on both. Romberg negative. =>
 left toe_walk impaired; right toe_walk normal; right heel_walk normal; left heel_walk normal; midline romberg negative
toe walking okay on both gait normal => right toe_walk normal; left toe_walk normal; midline gait normal
Walk on your toes. Okay. On the left nothing else to do. => midline toe_walk normal ~
""")
TOGETHER = table("""
Pinprick reduced at right C8. C6 and C7 on that side fine. => right pinprick@C8 reduced; right pinprick@C6 normal;
 right pinprick@C7 normal
Light touch. Left L3 okay, L4 absent. => left light_touch@L3 normal; left light_touch@L4 absent
light touch reduced at L4 on the left fine and now the right side L4 normal => left light_touch@L4 reduced;
 right light_touch@L4 normal
finger nose is impaired on the left and on the right | gait is normal => left finger_nose impaired;
 right finger_nose impaired; midline gait normal
wrist extension is five on the left and on the right grip is four => left wrist_extension 5; right grip 4
grip my fingers as tight as you like that's strong on both sides => right grip normal; left grip normal
left leg. straighten your knee. good. and bend it back. lovely => left knee_extension normal ~;
 left knee_flexion normal ~
left leg. bend your back for me. good => -
left leg knee extension knee flexion plantarflexion all four right grip three => left knee_extension 4;
 left knee_flexion 4; left ankle_plantarflexion 4; right grip 3
right arm grip elbow flexion five => right elbow_flexion 5
arms nil fasciculation nil wasting both sides => right fasciculation@arm absent; left fasciculation@arm absent;
 right wasting@arm absent; left wasting@arm absent
nil tremor of the left arm => left involuntary_movement@arm absent
left leg fasciculation nil wasting nil knee jerk nil => left fasciculation@leg absent; left wasting@leg absent;
 left knee_jerk 0
Reflexes. Patellars right two plus, left absent. => right knee_jerk 2+; left knee_jerk 0
there is wasting of the forearms on both sides => right wasting@arm present; left wasting@arm present
heel shin with the eyes shut is impaired on the left => left heel_shin impaired
left finger nose impaired. eyes open, hold still => left finger_nose impaired
Left leg. Peronei three, tib post four. Same on the right, except for the peronei, which are five. =>
 left ankle_eversion 3; left ankle_inversion 4; right ankle_eversion 5; right ankle_inversion 4
Light touch altered at L4 on the right normal at right L3 and right L5 pinprick reduced at right L4 =>
 right light_touch@L4 altered; right light_touch@L3 normal; right light_touch@L5 normal; right pinprick@L4 reduced
Pinprick normal at left C5, left C6 reduced. => left pinprick@C5 normal; left pinprick@C6 reduced
Pinprick. Reduced right C7, otherwise intact C5 through C8 on both sides. => right pinprick@C7 reduced;
 right pinprick@C5 normal; right pinprick@C6 normal; right pinprick@C8 normal; left pinprick@C5 normal;
 left pinprick@C6 normal; left pinprick@C7 normal; left pinprick@C8 normal
right knee jerk two plus four beats of clonus at the left ankle none at the right plantars left is up going right is
 down going => right knee_jerk 2+; left ankle_clonus 4 beats; right ankle_clonus absent; left plantar_response extensor;
 right plantar_response flexor
three beats of clonus at the left ankle none at the right sorry this is cold. left plantar down going =>
 left ankle_clonus 3 beats; right ankle_clonus absent; left plantar_response flexor
Right leg, wasting but no fasciculation. => right wasting@leg present; right fasciculation@leg absent
left arm fasciculation without wasting => left fasciculation@arm present; left wasting@arm absent
No wasting in the left arm but no better for it. => left wasting@arm absent
There's wasting of the left thigh, none in the right leg. Fasciculation in the left leg, none on the right. =>
 left wasting@leg present; right wasting@leg absent; left fasciculation@leg present; right fasciculation@leg absent
Reflexes are one plus and symmetrical throughout, upper and lower. => right knee_jerk 1+; left knee_jerk 1+;
 right ankle_jerk 1+; left ankle_jerk 1+; right biceps_jerk 1+; left biceps_jerk 1+; right brachioradialis_jerk 1+;
 left brachioradialis_jerk 1+; right triceps_jerk 1+; left triceps_jerk 1+
Let it flop while I roll it. The tone in your left leg is increased. => left tone@leg increased
Some weakness of the right hand since May arms now there's no wasting in either arm and no fasciculation in either arm
 => right wasting@arm absent; left wasting@arm absent; right fasciculation@arm absent; left fasciculation@arm absent
Left leg. No fasciculations in either leg and no wasting in the left leg. => left fasciculation@leg absent;
 right fasciculation@leg absent; left wasting@leg absent
no wasting and no abnormal posture in either arm nice and floppy for me tone normal in both arms =>
 left wasting@arm absent; right wasting@arm absent; left abnormal_posture@arm absent;
 right abnormal_posture@arm absent; left tone@arm normal; right tone@arm normal
Wasting I can't see in either leg. => right wasting@leg absent; left wasting@leg absent
Fasciculations we are not seeing in the left arm. => left fasciculation@arm absent
Abnormal posture I couldn't find in the right arm. => right abnormal_posture@arm absent
Fasciculations we see in the left calf, none in the right. => left fasciculation@leg present;
 right fasciculation@leg absent
I do not see wasting or fasciculation in the left leg. => left wasting@leg absent; left fasciculation@leg absent
Next we look for fasciculations, and there aren't any in either arm. => right fasciculation@arm absent;
 left fasciculation@arm absent
We look for wasting in a plexus lesion. There is no wasting in the right arm. => right wasting@arm absent
In the left arm there's involuntary movement, a resting tremor. Right arm, none. =>
 left involuntary_movement@arm present; right involuntary_movement@arm absent
At rest you can see involuntary movement in the right leg. => right involuntary_movement@leg present
""")


@pytest.mark.parametrize(
    ("talk", "wanted"), [*LEFT_OUT, *AGAIN, *IN_TURN, *GENERAL, *NAMES, *REFUSED, *REMARKS, *TOGETHER]
)
def test_each_result_is_read_as_it_was_said(talk: str, wanted: set[str]) -> None:
    found = {each.replace(" contradiction", "") for each in told(talk)}
    assert found == wanted


@pytest.mark.parametrize(
    ("talk", "flag", "row"),
    [
        # Of one movement both sides were told: whose is the next?
        ("Dorsiflexion two on the left and three on the right. Plantarflexion four.", "side_unsaid",
         "ankle_plantarflexion"),
        ("Heel walking impaired on the left, normal on the right. Reflexes two plus throughout.", "side_unsaid",
         "knee_jerk"),
        # Named only in talk about others
        ("In general the ankle jerks go first. His left one is absent.", "manoeuvre_unsaid", "ankle_jerk"),
        ("Suppose the supinator jerk were absent, you'd think of C6. Hers is brisk on the left.", "manoeuvre_unsaid",
         "brachioradialis_jerk"),
        # The push may have brought the reflex out
        ("Ankle jerks one plus on the right. Push down on my hand. Two plus on the left.", "manoeuvre_unsaid",
         "ankle_plantarflexion"),
        ("Left arm. Shoulder abduction three. Elbow flexion two. Adduction four.", "limb_unexpected", "hip_adduction"),
        ("that arm is in plaster so no left biceps jerk", "value_uncertain", "biceps_jerk"),
        # One of the two sides has a grade that was not heard
        ("hold your fingers apart and don't let me shut them on the left that's four plus on the right for grip five",
         "side_uncertain", "finger_abduction"),
        # A second root, or the grade?
        ("Ankle dorsiflexion L4 five on both sides.", "value_uncertain", "ankle_dorsiflexion"),
        ("straight leg raise on the left eighty hive degrees", "value_uncertain", "straight_leg_raise"),
        ("left hip flexion four foot extension three", "manoeuvre_unsaid", "hip_extension"),
        ("left plantar mute no hang on left banana", "value_uncertain", "plantar_response"),
        ("sensation with pin right l5 demolished right l4 intact", "unknown_words", "pinprick"),
        ("triceps jerks three plus on both sides down to the legs hour four plus throughout on the right",
         "unknown_words", "knee_jerk"),
    ],
)  # fmt: skip
def test_what_may_be_meant_otherwise_is_shown_to_a_person(talk: str, flag: str, row: str) -> None:
    found = [each for each in rows(talk) if each.manoeuvre == row]
    assert found
    assert all(each.confirm and flag in each.flags for each in found)


@pytest.mark.parametrize(
    "talk",
    [
        "I put my best shoulder behind it",
        "In babies the plantars are extensor.",
        "Right dorsiflexion, no dramas.",
        "Involuntary movement in either leg.",
        "Some folks have a Hoffmann's.",
        "No, that was me pulling on the finger.",
        "There is nystagmus to the left.",
        "Three weeks of ascending weakness.",
        "Gait we'll test now.",
    ],
)
def test_what_tells_of_no_test_gives_no_row(talk: str) -> None:
    assert rows(talk) == []
