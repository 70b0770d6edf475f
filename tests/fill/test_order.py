"""Which side, place and test belong to which result, in the orders that examiners use; and what is put right or left.

The talks are invented; how they are read is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.understand.talks import analysis, rows, table, told

VALUES_FIRST = table("""
the right arm gives five in wrist extension, four plus in the triceps, and in grip it is normal =>
 right wrist_extension 5; right elbow_extension 4+; right grip normal
on the left four is knee flexion, l five s one, and three plus ankle eversion => left knee_flexion 4 (L5 S1);
 left ankle_eversion 3+
right leg. three minus is the best she manages in hip abduction, four in hip adduction =>
 right hip_abduction 3-; right hip_adduction 4
right leg. two is what I give the peronei. knee extension five => right ankle_eversion 2; right knee_extension 5
absent, however hard i try, are the ankle jerks on both sides. one plus is the left knee jerk =>
 right ankle_jerk 0; left ankle_jerk 0; left knee_jerk 1+
down going is the right plantar, and up going the left => right plantar_response flexor; left plantar_response extensor
left leg. with five for hip flexion, four plus for knee extension and only two for the peronei, inversion four =>
 left hip_flexion 5; left knee_extension 4+; left ankle_eversion 2; left ankle_inversion 4
for the right deltoid i have two plus, c five, for the biceps two, c five six, for the triceps four minus =>
 right shoulder_abduction 2+ (C5); right elbow_flexion 2 (C5 C6); right elbow_extension 4-
right arm. one for finger abduction and two for thumb abduction => right finger_abduction 1; right thumb_abduction 2
two plus likewise the right triceps jerk, whereas the left is absent => right triceps_jerk 2+; left triceps_jerk 0
tone is normal in the left arm and raised in the right arm. clonus none on the left => left tone@arm normal;
 right tone@arm increased; left ankle_clonus absent
reflexes two plus at the left biceps and the left triceps one plus at the right biceps and the right triceps =>
 left biceps_jerk 2+; left triceps_jerk 2+; right biceps_jerk 1+; right triceps_jerk 1+
Reflexes, three plus at both knees, absent at both ankles. => right knee_jerk 3+; left knee_jerk 3+;
 right ankle_jerk 0; left ankle_jerk 0
Reflexes. Clonus, two beats at the left ankle, absent at the right ankle. => left ankle_clonus 2 beats;
 right ankle_clonus absent
Reflexes are two plus at both knees. The ankles I leave for tomorrow. => right knee_jerk 2+; left knee_jerk 2+;
 right ankle_jerk !deferred; left ankle_jerk !deferred
""")

GRADES_FIRST = table("""
power, right arm, grades first. four deltoid, three plus biceps, C5 six, five triceps. =>
 right shoulder_abduction 4; right elbow_flexion 3+ (C5 C6); right elbow_extension 5
power right arm grades first four deltoid three plus biceps five triceps | four minus wrist extension two grip =>
 right shoulder_abduction 4; right elbow_flexion 3+; right elbow_extension 5; right wrist_extension 4-; right grip 2
left leg five hip flexion L two three four knee extension three hamstrings right leg hip flexion four =>
 left hip_flexion 5 (L2 L3); left knee_extension 4; left knee_flexion 3; right hip_flexion 4
reflexes one plus right knee three plus left knee absent both ankles plantars down going both sides =>
 right knee_jerk 1+; left knee_jerk 3+; right ankle_jerk 0; left ankle_jerk 0; right plantar_response flexor;
 left plantar_response flexor
power scores first on the left two hip flexion three hip abduction four eversion | on the right it's five throughout =>
 left hip_flexion 2; left hip_abduction 3; left ankle_eversion 4; right leg_core 5
both arms power numbers first unless i say four deltoid five triceps grip not tested => right shoulder_abduction 4;
 left shoulder_abduction 4; right elbow_extension 5; left elbow_extension 5; right grip !not_done; left grip !not_done
right leg hip flexion two knee extension three dorsiflexion four => right hip_flexion 2; right knee_extension 3;
 right ankle_dorsiflexion 4
left leg. hip flexion three, i mean four, knee extension two, inversion five => left hip_flexion 4;
 left knee_extension 2; left ankle_inversion 5
on the right it's three hip abduction four hip adduction => right hip_abduction 4
left hamstrings three minus | three minus yes hip abduction four => left knee_flexion 3-; left hip_abduction 4
straight leg raise left seventy seven zero => left straight_leg_raise 70 degrees
""")

NOT_LOST = table("""
romberg deferred until tomorrow => midline romberg !deferred
right quadriceps four plus, and why does that matter to him? because of the stairs => right knee_extension 4+
left grip is reduced, and what would you test next? => left grip reduced grade_unsaid
no wasting in the legs or the arms on either side => right wasting@leg absent; right wasting@arm absent;
 left wasting@leg absent; left wasting@arm absent
power is five throughout in both legs, it's not weakness he complains of => right hip_flexion 5; left hip_flexion 5;
 right hip_extension 5; left hip_extension 5; right knee_extension 5; left knee_extension 5; right knee_flexion 5;
 left knee_flexion 5; right ankle_dorsiflexion 5; left ankle_dorsiflexion 5; right ankle_plantarflexion 5;
 left ankle_plantarflexion 5; right great_toe_extension 5; left great_toe_extension 5
left grip and thumb abduction not tested, that hand has been in plaster since last month => left grip !unable;
 left thumb_abduction !unable
joint position next, my hands are cold, sorry. normal at both great toes => right joint_position@great_toe normal;
 left joint_position@great_toe normal
vibration on both sides we have deferred because the fork is lost => right vibration !deferred; left vibration !deferred
the right triceps, supplied by the radial nerve and by c seven, is four => right elbow_extension 4 (C7)
left heel shin is normal, but on the right i am going to call it impaired => left heel_shin normal;
 right heel_shin impaired
finger nose is impaired on the right, with some tremor towards the end, and normal on the left =>
 right finger_nose impaired; left finger_nose normal
left arm grip weak, no grade for this => left grip reduced grade_unsaid
tone is normal in both legs, two. => right tone@leg normal; left tone@leg normal
right grip four plus. power is full throughout in both legs two. romberg negative => right grip 4+;
 right hip_flexion normal; left hip_flexion normal; right hip_extension normal; left hip_extension normal;
 right knee_extension normal; left knee_extension normal; right knee_flexion normal; left knee_flexion normal;
 right ankle_dorsiflexion normal; left ankle_dorsiflexion normal; right ankle_plantarflexion normal;
 left ankle_plantarflexion normal; right great_toe_extension normal; left great_toe_extension normal;
 midline romberg negative
left ankle jerk absent. on the right the biceps jerk is two plus, and so are the right knee and ankle jerks =>
 left ankle_jerk 0; right biceps_jerk 2+; right knee_jerk 2+; right ankle_jerk 2+
there is wasting in the left arm, and there isn't any in the right arm => left wasting@arm present;
 right wasting@arm absent
watch the thumb, and in the left hand there is no wasting => left wasting@arm absent
right grip normal. on the left, and i'll be quicker here, shoulder abduction four, grip reduced => right grip normal;
 left shoulder_abduction 4; left grip reduced grade_unsaid
tone, modified ashworth grade three in the right arm => right tone@arm MAS 3
plantars, left down, right down. make that right equivocal => left plantar_response flexor;
 right plantar_response equivocal
right leg. knee up. strong. heel in, strong. toe up. strong => right hip_flexion normal; right knee_flexion normal;
 right great_toe_extension normal
left biceps four. strong. left triceps five => left elbow_flexion 4; left elbow_extension 5
right knee jerk two plus. i do them both when i can. ankle jerk absent => right knee_jerk 2+; right ankle_jerk 0
touch my finger and then your nose finger nose is normal on the left => left finger_nose normal
dysdiadochokinesis on the right, none on the left => right rapid_alternating impaired; left rapid_alternating normal
no dysdiadochokinesia on either side => right rapid_alternating normal; left rapid_alternating normal
her gait, with much circumduction and a stick, is impaired => midline gait impaired
bear in mind that the nipples are t four vibration | reduced at both ankles => right vibration@ankle reduced;
 left vibration@ankle reduced
left arm pinprick normal at C6 reduced at C7 vibration one twenty eight fork absent at the left wrist =>
 left pinprick@C6 normal; left pinprick@C7 reduced; left vibration@wrist absent
pull your left heel in hard good foot up towards your face good that's strong | now the right leg knee up good
 => left knee_flexion normal ~; left ankle_dorsiflexion normal; right hip_flexion normal ~
finger nose left hand lovely right hand lovely light touch reduced at C6 on the left => left finger_nose normal ~;
 right finger_nose normal ~; left light_touch@C6 reduced
romberg not done she's unable to stand | a diabetic woman sways with her eyes shut too => midline romberg !unable
a healthy child has one beat of clonus | left ankle clonus absent => left ankle_clonus absent
left hand wasting present right hand no wasting no fasciculation in either arm => left wasting@arm present;
 right wasting@arm absent; right fasciculation@arm absent; left fasciculation@arm absent
down you get gait impaired romberg negative => midline gait impaired; midline romberg negative
reflexes absent throughout in the right arm and leg => right biceps_jerk 0; right brachioradialis_jerk 0;
 right triceps_jerk 0; right knee_jerk 0; right ankle_jerk 0
strength left leg first four throughout | on the right hip flexion five => left leg_core 4; right hip_flexion 5
left leg plantars down big toe three => left plantar_response flexor; left great_toe_extension 3
right triceps three tandem gait not examined half of those patients fall => right elbow_extension 3;
 midline tandem_gait !not_done
""")

ANNOUNCED = table("""
in this letter it's left before right. grip three minus and four. deltoid two, two. =>
 left grip 3-; right grip 4; left shoulder_abduction 2; right shoulder_abduction 2
whenever you hear two figures the first one is the left | quads L three four five and three plus. hamstrings five five
 =>
 left knee_extension 5 (L3 L4); right knee_extension 3+ (L3 L4); left knee_flexion 5; right knee_flexion 5
i'll say right then left. knee jerks one plus and two plus | from here on left first. ankle jerks absent and one plus =>
 right knee_jerk 1+; left knee_jerk 2+; left ankle_jerk 0; right ankle_jerk 1+
right first, left second, two numbers each. light touch L4 normal both sides L5 altered normal S1 normal both sides =>
 right light_touch@L4 normal; left light_touch@L4 normal; right light_touch@L5 altered; left light_touch@L5 normal;
 right light_touch@S1 normal; left light_touch@S1 normal
of any two results the left arm comes first. triceps four minus and five => left elbow_extension 4-;
 right elbow_extension 5
left leg first. hip flexion three, knee extension two. right leg hip flexion five => left hip_flexion 3;
 left knee_extension 2; right hip_flexion 5
triceps jerk one plus on the right then left two plus => right triceps_jerk 1+; left triceps_jerk 2+
knees up to the tummy one at a time left one don't let me push good => left hip_flexion normal ~
reflexes on the left one plus at the biceps triceps knee and ankle on the right three plus at the knee and ankle =>
 left biceps_jerk 1+; left triceps_jerk 1+; left knee_jerk 1+; left ankle_jerk 1+; right knee_jerk 3+;
 right ankle_jerk 3+
left leg power three in hip flexion knee extension and eversion four in the hamstrings => left hip_flexion 3;
 left knee_extension 3; left ankle_eversion 3; left knee_flexion 4
""")

ORDERS = table("""
left knee jerk two plus. other side one plus => left knee_jerk 2+; right knee_jerk 1+
right knee extension five on this side and on the other side four => right knee_extension 5; left knee_extension 4
wrist flexors five left and four right => left wrist_flexion 5; right wrist_flexion 4
straight leg raise 70 degrees right and 45 degrees left => right straight_leg_raise 70 degrees;
 left straight_leg_raise 45 degrees
ankle jerks 3 plus right 2 plus left plantars up going on the right down going on the left => right ankle_jerk 3+;
 left ankle_jerk 2+; right plantar_response extensor; left plantar_response flexor
light touch on the right absent at l5 reduced at s2 normal at l3 on the left normal at l3 =>
 right light_touch@L5 absent; right light_touch@S2 reduced; right light_touch@L3 normal; left light_touch@L3 normal
hip flexion is three and five on the right and left respectively => right hip_flexion 3; left hip_flexion 5
four for the right hip flexors and five for the left 3 minus for the right quadriceps 2 plus for the left =>
 right hip_flexion 4; left hip_flexion 5; right knee_extension 3-; left knee_extension 2+
left arm tone increased, right arm tone normal => left tone@arm increased; right tone@arm normal
wasting of the thigh on the left none on the right => left wasting@leg present; right wasting@leg absent
clonus none on the left none on the right more than five beats would be pathological => left ankle_clonus absent;
 right ankle_clonus absent
right knee and ankle jerks two plus => right knee_jerk 2+; right ankle_jerk 2+
right elbow flexion and extension five => right elbow_flexion 5; right elbow_extension 5
power on the right, hip flexion is five, extension is four => right hip_flexion 5; right hip_extension 4
straight leg raising positive on the left at thirty five degrees => left straight_leg_raise positive
ankle dorsiflexion weak on the left at three plus => left ankle_dorsiflexion 3+
heel walking and toe walking are both normal => midline heel_walk normal; midline toe_walk normal
light touch left leg reduced at l2 through to l4 => left light_touch@L2 reduced; left light_touch@L3 reduced;
 left light_touch@L4 reduced
right leg hip flexion 5 by 5 knee flexion four by five => right hip_flexion 5; right knee_flexion 4
left leg. fasciculations none. and none on the right either. tone increased => left fasciculation@leg absent;
 right fasciculation@leg absent; left tone@leg increased
left leg e h l four l5 => left great_toe_extension 4 (L5)
pinprick on the right c6 to c8 normal t1 reduced t2 absent on the left pinprick c6 to t1 normal t2 reduced =>
 right pinprick@C6 normal; right pinprick@C7 normal; right pinprick@C8 normal; right pinprick@T1 reduced;
 right pinprick@T2 absent; left pinprick@C6 normal; left pinprick@C7 normal; left pinprick@C8 normal;
 left pinprick@T1 normal; left pinprick@T2 reduced
pin prick on the left l3 normal l4 reduced l5 absent => left pinprick@L3 normal; left pinprick@L4 reduced;
 left pinprick@L5 absent
pinprick s2 reduced on both sides s3 reduced on the left normal on the right s4 reduced on both sides =>
 right pinprick@S2 reduced; left pinprick@S2 reduced; left pinprick@S3 reduced; right pinprick@S3 normal;
 right pinprick@S4 reduced; left pinprick@S4 reduced
vibration absent at both great toes and both ankles reduced at both knees normal at both wrists =>
 right vibration@great_toe absent; left vibration@great_toe absent; right vibration@ankle absent;
 left vibration@ankle absent; right vibration@knee reduced; left vibration@knee reduced; right vibration@wrist normal;
 left vibration@wrist normal
vibration is normal at both ankles at the great toes reduced on both sides => right vibration@ankle normal;
 left vibration@ankle normal; right vibration@great_toe reduced; left vibration@great_toe reduced
reduced light touch left l4 and s1, normal elsewhere => left light_touch@L4 reduced; left light_touch@S1 reduced
strength is 4 in the hamstrings quadriceps and gastrocnemius bilaterally tibialis anterior 3 on the right =>
 right knee_flexion 4; left knee_flexion 4; right knee_extension 4; left knee_extension 4;
 right ankle_plantarflexion 4; left ankle_plantarflexion 4; right ankle_dorsiflexion 3
power is three in the right biceps and triceps => right elbow_flexion 3; right elbow_extension 3
wasting in the right calf and no wasting in the left calf => right wasting@leg present; left wasting@leg absent
fasciculation of the right leg no fasciculation of the left leg => right fasciculation@leg present;
 left fasciculation@leg absent
right leg wasting of the thigh on the right and fasciculation in the right leg left leg no wasting no fasciculation =>
 right wasting@leg present; right fasciculation@leg present; left wasting@leg absent; left fasciculation@leg absent
involuntary movements are present in both arms and both legs => right involuntary_movement@arm present;
 left involuntary_movement@arm present; right involuntary_movement@leg present; left involuntary_movement@leg present
tone increased in the left arm and leg, right side normal => left tone@arm increased; left tone@leg increased;
 right tone@leg normal
reflexes are one plus in the legs and brisk in the arms => right knee_jerk 1+; left knee_jerk 1+; right ankle_jerk 1+;
 left ankle_jerk 1+; right biceps_jerk brisk; left biceps_jerk brisk; right brachioradialis_jerk brisk;
 left brachioradialis_jerk brisk; right triceps_jerk brisk; left triceps_jerk brisk
reflexes are absent throughout arms and legs both sides plantars mute both sides => right knee_jerk 0; left knee_jerk 0;
 right ankle_jerk 0; left ankle_jerk 0; right biceps_jerk 0; left biceps_jerk 0; right brachioradialis_jerk 0;
 left brachioradialis_jerk 0; right triceps_jerk 0; left triceps_jerk 0; right plantar_response mute;
 left plantar_response mute
knee and ankle jerkins three plus and symmetrical => right knee_jerk 3+; left knee_jerk 3+; right ankle_jerk 3+;
 left ankle_jerk 3+
hip abduction I make four, and the adductors are five, both on the left => left hip_abduction 4; left hip_adduction 5
pull your toes up for me three on the right => right ankle_dorsiflexion 3
shoot your leg out straight don't let me bend it that's four minus on the left, and the right, kick, good five =>
 left knee_extension 4-; right knee_extension 5
toe walking fine, heel walking poor => midline toe_walk normal; midline heel_walk impaired
the right calf is wasted => right wasting@leg present
right arm all four except elbow flexion two and grip three => right shoulder_abduction 4; right elbow_flexion 2;
 right elbow_extension 4; right wrist_extension 4; right finger_extension 4; right finger_flexion 4;
 right finger_abduction 4; right grip 3
knee extension left two, right four. same for knee flexion => left knee_extension 2; right knee_extension 4;
 left knee_flexion 2; right knee_flexion 4
power was grade three in right knee flexion and grade four elsewhere => right knee_flexion 3; right hip_flexion 4;
 right hip_extension 4; right knee_extension 4; right ankle_dorsiflexion 4; right ankle_plantarflexion 4;
 right great_toe_extension 4
strength 4/5 left hip extensors, 3/5 right => left hip_extension 4; right hip_extension 3
cock your wrists back hold them there three on the left five on the right fingers straight two on the left four right =>
 left wrist_extension 3; right wrist_extension 5; left finger_extension 2; right finger_extension 4
the right quadriceps is wasted compared with the left => right wasting present
bend your knees for me right one pull in strong left one weaker about three plus => left knee_flexion 3+
the right ankle jerk, which was absent in june, is now one plus => right ankle_jerk 1+
there's no weakness in the left arm => left shoulder_abduction normal; left elbow_flexion normal;
 left elbow_extension normal; left wrist_extension normal; left finger_extension normal; left finger_flexion normal;
 left finger_abduction normal
tendon reflexes were one plus and symmetric at the biceps triceps and knees => right biceps_jerk 1+;
 left biceps_jerk 1+; right triceps_jerk 1+; left triceps_jerk 1+; right knee_jerk 1+; left knee_jerk 1+
left plantar mute. there is no clonus at either ankle => left plantar_response mute; right ankle_clonus absent;
 left ankle_clonus absent
tone is increased in the arms, more on the right => right tone@arm increased; left tone@arm increased
arms first in both arms there's wasting => right wasting@arm present; left wasting@arm present
key muscles c5 elbow flexion right five left four c6 wrist extension right four left three =>
 right elbow_flexion 5 (C5); left elbow_flexion 4 (C5); right wrist_extension 4 (C6); left wrist_extension 3 (C6)
what do they teach you left triceps jerk two plus => left triceps_jerk 2+
triceps five sea seven finger abduction four tea one on the left => left elbow_extension 5 (C7);
 left finger_abduction 4 (T1)
plantarflexion three as one on the right => right ankle_plantarflexion 3 (S1)
plantars extends or on the left => left plantar_response extensor
heel shin is impaired on the left with a tremor at the target and normal on the right => left heel_shin impaired;
 right heel_shin normal
gait deferred till monday the toe was four according to the notes => midline gait !deferred
ankle jerks brisk on the left one plus on the right plantars mute on both sides => left ankle_jerk brisk;
 right ankle_jerk 1+; right plantar_response mute; left plantar_response mute
left hip flexion and left hip extension are four => left hip_flexion 4; left hip_extension 4
right arm. flexor digitorum four. left leg. flexor digitorum three => right finger_flexion 4; left toe_flexion 3
left hip flexion four extension five, abduction four plus adduction five => left hip_flexion 4; left hip_extension 5;
 left hip_abduction 4+; left hip_adduction 5
left arm tone modified ashworth two and in the left leg modified ashworth one plus => left tone@arm MAS 2;
 left tone@leg MAS 1+
right leg. toe flexion four, eversion three left leg, power five throughout => right toe_flexion 4;
 right ankle_eversion 3; left leg_core 5
knee flexion three on the left the right leg has full strength throughout left knee jerk brisk => left knee_flexion 3;
 right leg_core normal; left knee_jerk brisk
heel shin normal on the left and on the right not done, too weak to lift it => left heel_shin normal;
 right heel_shin !unable
tone in the right arm increased | tone in the left arm normal power right arm elbow flexion four =>
 right tone@arm increased; left tone@arm normal; right elbow_flexion 4
she keeps falling over to the left tone is reduced in the left leg and normal in the right leg => left tone@leg reduced;
 right tone@leg normal
fasciculation in the right calf => right fasciculation@leg present
arms wasting both arms tone normal in both arms => left wasting@arm present; right wasting@arm present;
 left tone@arm normal; right tone@arm normal
legs no fasciculation either leg wasting both legs => left fasciculation@leg absent; right fasciculation@leg absent;
 left wasting@leg present; right wasting@leg present
wasting in the left arm no wasting in the right arm => left wasting@arm present; right wasting@arm absent
neither leg shows wasting, neither leg fasciculation => left wasting@leg absent; right wasting@leg absent;
 left fasciculation@leg absent; right fasciculation@leg absent
right leg tone lax => right tone@leg reduced
perianal light touch normal both sides, tone lax => left light_touch@S4-5 normal; right light_touch@S4-5 normal;
 midline anal_tone reduced
numb saddle. tone low in both legs => left tone@leg reduced; right tone@leg reduced
vibration no she would rather not so that's declined on both sides => left vibration !declined;
 right vibration !declined
knifed in the flank last night, comfortable now, limbs as follows tone in the left leg reduced, no scratch that tone in
 the left leg increased => left tone@leg increased
left leg bend your knee and pull very good big toe up hold it very nice => left knee_flexion normal ~;
 left great_toe_extension normal ~
right heel shin put the heel on your other knee and slide it down lovely => right heel_shin normal ~
biceps tendon reflexes absent both sides => left biceps_jerk 0; right biceps_jerk 0
ankle tendon reflexes two plus both sides => left ankle_jerk 2+; right ankle_jerk 2+
right leg. EHL4 L5. calf five s one two => right great_toe_extension 4 (L5); right ankle_plantarflexion 5 (S1 S2)
biceps jerk absent, right? present left => right biceps_jerk 0; left biceps_jerk normal
gait likewise deferred => midline gait !deferred
power is fine in both arms => left arm_core normal; right arm_core normal
plantars flexor the two of them => left plantar_response flexor; right plantar_response flexor
the night team had her at three for the quads. right knee extension five => right knee_extension 5
she said rather not so perianal light touch declined on both sides gait normal => left light_touch@S4-5 !declined;
 right light_touch@S4-5 !declined; midline gait normal
i give right then left. elbow flexion four, five. elbow extension three five biceps jerk one two =>
 right elbow_flexion 4; left elbow_flexion 5; right elbow_extension 3; left elbow_extension 5; right biceps_jerk 1+;
 left biceps_jerk 2+
values are left first then right. ankle jerk absent two plantar response extensor flexor vibration at the great toe
 absent reduced => left ankle_jerk 0; right ankle_jerk 2+; left plantar_response extensor;
 right plantar_response flexor;
 left vibration@great_toe absent; right vibration@great_toe reduced
i'll do the right then the left. right grip four. left grip five => right grip 4; left grip 5
arms. something in the left arm no wasting in the right arm no fasciculation in either arm => right wasting@arm absent;
 left fasciculation@arm absent; right fasciculation@arm absent
temperature reduced at t seven on both sides t six normal on both sides => left temperature@T7 reduced;
 right temperature@T7 reduced; left temperature@T6 normal; right temperature@T6 normal
left light touch normal. perennial pinprick normal both sides => left light_touch normal; left pinprick@S4-5 normal;
 right pinprick@S4-5 normal
left grip five. pink trick on the right C6 normal C7 reduced => left grip 5; right pinprick@C6 normal;
 right pinprick@C7 reduced
straight leg raise negative. left and right. => left straight_leg_raise negative; right straight_leg_raise negative
left leg. heel back. marvelous => left knee_flexion normal ~
temperature i am holding off until the next visit both legs. her gait is impaired => left temperature !deferred;
 right temperature !deferred; midline gait impaired
left wrist extension four and mirrored on the right => left wrist_extension 4; right wrist_extension 4
finger extension and grip all five on both sides three means gravity only => left finger_extension 5;
 right finger_extension 5; left grip 5; right grip 5
tone normal in both arms. fat sick elation none on either side => left tone@arm normal; right tone@arm normal;
 left fasciculation@arm absent; right fasciculation@arm absent
finger jerks brisk both sides. wrist splint and nerve studies => left finger_jerk brisk; right finger_jerk brisk
left hip extension five. me jerks three plus on the right one plus on the left => left hip_extension 5;
 right knee_jerk 3+; left knee_jerk 1+
left hip extension five. blurry jerks three plus on the right one plus on the left => left hip_extension 5
straight leg raise positive on the right at fifty => right straight_leg_raise positive
reflexes in the right arm, biceps two plus, triceps absent => right biceps_jerk 2+; right triceps_jerk 0
reflexes in the left leg, knee two plus, ankle absent => left knee_jerk 2+; left ankle_jerk 0
""")

CHANGES = table("""
left ankle jerk absent, correction, left knee jerk absent => left knee_jerk 0
the right plantar is up, correction, down => right plantar_response flexor
left hip flexion four no five i had the angle wrong => left hip_flexion 5
ankle jerk left two plus, sorry that's the right => right ankle_jerk 2+
straight leg raise on the left is negative and now the right sorry that's enough straight leg raise on the right is
 positive => left straight_leg_raise negative; right straight_leg_raise positive
left knee flexion four. good, sit down, it is normal to be tired => left knee_flexion 4
right leg. lift this right leg good left one good => right hip_flexion normal ~; left hip_flexion normal ~
left leg. bend your knee and pull me in. good, that's strong => left knee_flexion normal
right grip strong => right grip normal
left elbow flexion four minus no make that four => left elbow_flexion 4
right hip extension I'd give that three plus => right hip_extension 3+
both plantars are flexor, sorry, the right is extensor => left plantar_response flexor; right plantar_response extensor
knee extension five on both sides sorry four plus on the right => left knee_extension 5; right knee_extension 4+
left knee flexion four. scratch that. three on the left => left knee_flexion 3
left grip not tested because the thumb is painful => left grip !pain
the right ankle is in a cast so dorsiflexion was not tested => right ankle_dorsiflexion !unable
light touch on the left normal l3 to l4. temperature on the left i am omitting => left light_touch@L3 normal;
 left light_touch@L4 normal; left temperature !not_done
gait. i'll leave that to the physio this afternoon => midline gait !deferred
heel walking we won't try => midline heel_walk !not_done
i did not examine gait => midline gait !not_done
wasting is there in both the legs => left wasting@leg present; right wasting@leg present
""")

NO_RESULT = [
    "why is the left ankle jerk absent",
    "a normal straight leg raise is eighty to ninety degrees",
    "my father had a foot drop with dorsiflexion of one",
    "were his plantars extensor i would think again",
    "next week we repeat the straight leg raise",
    "any numbness at l5",
    "last year his tone was normal in both arms",
    "what would you expect in an s1 lesion? an absent ankle jerk and weak plantarflexion",
    "tone. loose for me, and now the other hand",
    "i am looking for wasting in both legs",
    "vibration at both ankles, fork missing",
    "i see two patients in clinic and have tea at one",
]


@pytest.mark.parametrize(("talk", "wanted"), ORDERS + CHANGES + VALUES_FIRST + GRADES_FIRST + NOT_LOST + ANNOUNCED)
def test_each_result_has_its_own_side_and_place(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize("talk", NO_RESULT)
def test_what_is_no_result_makes_no_row(talk: str) -> None:
    assert told(talk) == set()


def test_a_test_after_a_remark_on_the_other_side_is_shown_to_a_person() -> None:
    found = {
        row.manoeuvre: row for row in rows("left leg. hip flexion five on the left, four on the right. quads four")
    }
    assert (found["knee_extension"].side.value, found["knee_extension"].confirm) == ("left", True)


def test_a_side_said_last_holds_for_the_list_and_is_shown_to_a_person() -> None:
    for talk in (
        "l2, hip flexion five. l3, quads four. all on the left",
        "light touch l4 normal l5 reduced on the left",
    ):
        found = rows(talk)
        assert [row.side.value for row in found] == ["left", "left"]
        assert any(row.confirm for row in found)


@pytest.mark.parametrize(
    "talk",
    [
        "left leg. power. a grenadier four plus",
        "full power on the left. the blenkinsop four plus",
        "right arm. strength. wombat four",
    ],
)
def test_a_grade_after_an_unknown_word_is_never_a_silent_grade_of_all_groups(talk: str) -> None:
    assert not [row for row in rows(talk) if row.value in ("4", "4+") and not row.confirm]


@pytest.mark.parametrize(
    "talk", ["right elbow flex tension four", "left ankle a version four", "left hip at duction two"]
)
def test_a_name_that_may_be_its_opposite_is_shown_to_a_person(talk: str) -> None:
    assert all(row.confirm for row in rows(talk))


def test_what_is_excepted_without_a_result_has_no_row_and_is_listed() -> None:
    record = analysis("power five throughout on the left apart from knee flexion").record
    assert "knee_flexion" not in {row.manoeuvre for row in record.rows}
    assert "hip_flexion" in {row.manoeuvre for row in record.rows}
    assert [part.text for part in record.unplaced] == ["knee flexion"]


@pytest.mark.parametrize(
    ("talk", "value"),
    [
        ("right triceps jerk brisk | the wibbler is present on the right", "normal"),
        ("joint position normal at the right great toe trembling absent at the right ankle", "absent"),
        ("light touch right l4 normal, right l5 bolted right s1 reduced", "reduced"),
    ],
)
def test_a_finding_of_an_unknown_name_is_never_a_silent_one_of_the_last_test(talk: str, value: str) -> None:
    assert [row for row in rows(talk) if row.value == value and not row.confirm and row.site != "L4"] == []


@pytest.mark.parametrize(
    ("talk", "flag"),
    [
        ("left leg. hamstrings four plus. furniture five throughout", "unknown_words"),
        ("tone normal in both arms. toe is normal in both arms", "limb_unexpected"),
        ("right arm knee extension five", "limb_unexpected"),
    ],
)
def test_a_result_that_may_be_of_another_side_or_limb_is_shown_to_a_person(talk: str, flag: str) -> None:
    doubted = [row for row in rows(talk) if flag in row.flags]
    assert doubted and all(row.confirm for row in doubted)
