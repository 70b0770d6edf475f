"""Only a result of the patient at hand is a row: no teaching, hypothesis, history, plan, question or other patient."""

from __future__ import annotations

import pytest

from pipeline.record.transcript import Talk
from tests.understand.talks import analysis, table, told

TEACHING = table("""
if the big toe went up that would be an extensor plantar => -
remember that the knee jerk is L3 and L4 => -
tibialis anterior is supplied by L4 and L5 => -
grade three means movement against gravity but not resistance => -
the MRC scale runs from zero to five => -
in S1 lesions the ankle jerk is usually absent => -
most people with diabetes lose vibration at the toes => -
you would expect a brisk knee jerk in an upper motor neurone lesion => -
patients with foot drop often have dorsiflexion of two or three => -
we test pinprick because it shows the level => -
an absent ankle jerk suggests an S1 root => -
fasciculations point to a lower motor neurone problem => -
""")

HYPOTHESIS = table("""
suppose the left knee jerk were absent, then I'd think of L4 => -
had the plantar been up going I would have asked for a scan => -
if his power drops below three we operate => -
unless the ankle jerk is absent it isn't S1 => -
if the right ankle jerk had been absent I would have worried => -
""")

HISTORY = table("""
last year his left ankle jerk was absent => -
on admission dorsiflexion on the right was two => -
before the operation her left foot was grade one => -
previously the knee jerks were brisk on both sides => -
the GP found the right plantar up going => -
""")

PLAN = table("""
the plan is to repeat the straight leg raise in two weeks => -
I'd like to test your knee jerk now => -
we will check vibration at the next visit => -
""")

QUESTION = table("""
what does an absent ankle jerk mean => -
is the left knee jerk brisk? => -
which root is the ankle jerk => -
who can tell me the grade for movement with gravity eliminated => -
can you feel this at L5 => -
""")

OTHER_PEOPLE = table("""
his brother has absent ankle jerks too => -
the patient in bed four had a left plantar that was up going => -
I once saw a man with sustained clonus on both sides => -
her mother had wasting of both legs => -
my own knee jerks are brisk => -
""")

MORE = table("""
a positive straight leg raise would suggest disc disease => -
in an L5 lesion you lose power in extensor hallucis longus => -
wasting takes weeks to develop => -
the knee jerk comes from L3 and L4 and the ankle jerk from S1 => -
two plus is a normal reflex and four plus means clonus => -
diabetics often have absent ankle jerks on both sides => -
when you test plantarflexion always use body weight => -
if he could not walk on his heels, that would be L5 => -
if I found clonus of ten beats I would call the consultant => -
her left arm was weak in March => -
the referral letter says the right plantar was extensor => -
does anyone know the root for the biceps jerk => -
the lady next door has brisk reflexes in both legs => -
""")

RESULT_AMONG_TALK = table("""
right ankle jerk absent, and an absent ankle jerk usually means S1 => right ankle_jerk 0
the knee jerk is L3 L4. here on the right it's two plus => right knee_jerk 2+
if the toe went up that would be extensor. here the right plantar is down going => right plantar_response flexor
last year the left ankle jerk was absent. today the left ankle jerk is two plus => left ankle_jerk 2+
left dorsiflexion four. remember, grade four means against some resistance => left ankle_dorsiflexion 4
his brother has no ankle jerks. | on the right the ankle jerk is one plus => right ankle_jerk 1+
""")


@pytest.mark.parametrize(("talk", "wanted"), [*TEACHING, *HYPOTHESIS, *HISTORY, *PLAN, *QUESTION, *OTHER_PEOPLE, *MORE])
def test_talk_that_is_no_result_is_no_row(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted == set()
    assert analysis(talk).record.unplaced == []


@pytest.mark.parametrize(("talk", "wanted"), RESULT_AMONG_TALK)
def test_a_result_among_other_talk_is_found(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted


@pytest.mark.parametrize(
    ("talk", "kind"),
    [
        ("left knee flexion four", Talk.RESULT),
        ("gait not tested", Talk.RESULT),
        ("push down against my hand", Talk.INSTRUCTION),
        ("close your eyes for me", Talk.INSTRUCTION),
        ("remember that the knee jerk is L3 and L4", Talk.TEACHING),
        ("if the toe went up that would be extensor", Talk.TEACHING),
        ("his brother has absent ankle jerks too", Talk.ASIDE),
        ("last year his left ankle jerk was absent", Talk.ASIDE),
        ("what does an absent ankle jerk mean", Talk.ASIDE),
        ("scratch that", Talk.CORRECTION),
    ],
)
def test_the_kind_of_talk(talk: str, kind: Talk) -> None:
    assert [block.kind for block in analysis(talk).transcript.blocks] == [kind]
