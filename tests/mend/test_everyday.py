"""Everyday English with numbers, sides and the words of findings: no row, nothing unplaced."""

from __future__ import annotations

import pytest

from tests.understand.talks import analysis, table, told

SENTENCES = table("""
the bus was twenty minutes late again => -
I had two cups of tea and a biscuit => -
he has three children and five grandchildren => -
the flat is on the fourth floor, number five => -
we are in room four today => -
she takes two of those in the morning and one at night => -
there were four of us in the car => -
it is about five miles from here to the station => -
he has been off work for two weeks => -
the pain is about seven out of ten => -
on a scale of one to ten how bad is it => -
she is sixty five years old => -
he drinks four or five pints on a Friday => -
it costs three pounds fifty => -
one of the nurses will take your blood pressure => -
the last train goes at ten to five => -
he smokes twenty a day => -
he climbed two flights of stairs this morning => -
blood pressure one hundred and forty over eighty => -
pulse seventy two and regular => -
four plus four is eight => -
it went from bad to worse in two or three days => -
right, let us get started => -
all right, have a seat => -
that's right, just like that => -
you were right about the weather => -
right then, shoes and socks off please => -
right so this is the second year group => -
is that all right for you => -
right away, I'll fetch a chair => -
turn right at the end of the corridor => -
he left school at sixteen => -
she left her glasses at home => -
is there any coffee left => -
he left the house at eight => -
we have ten minutes left => -
my wife left the car at the station => -
what's left to do this morning => -
good morning, how are you today => -
good, and how is the family => -
that is a good question => -
good idea, let us do that => -
sit down and make yourself comfortable => -
lie down on the couch for me => -
write that down please => -
the computer is down again => -
he is feeling a bit down => -
slow down a little, I can't keep up => -
things are back to normal at home => -
that is perfectly normal at your age => -
it is normal to be nervous => -
the traffic was reduced this morning => -
he got up at six and went to bed at ten => -
stand up and turn around please => -
what time did you wake up => -
put your shoes back on => -
the power was off for an hour last night => -
he has a strong accent => -
she has a weak heart => -
he has no sense of humour => -
they lost the keys to the flat => -
the tone of his letter was rather sharp => -
he is in good hands => -
keep an eye on the time => -
it broke my heart to hear that => -
he put his foot down about the garden => -
she has a temperature => -
he works as a postman and walks eight miles a day => -
I can't stand the cold in here => -
he was absent from work on Monday => -
are you present at the meeting on Friday => -
there is nothing wrong with the coffee here => -
let me wash my hands first => -
could you pass me the hammer => -
my hands are cold, sorry about that => -
is the door shut => -
thanks very much, that is everything => -
see you next week => -
she lives with her husband and two dogs => -
he used to play football on Saturdays => -
I would like a glass of water => -
the lift is out of order => -
he fell off a ladder in two thousand and nine => -
it weighs about four kilos, maybe four plus a bit => -
the four of them went out for dinner => -
I have had this watch for five years => -
two or three weeks ago he went fishing => -
the right answer was on page two => -
left a bit, right a bit, that is straight now => -
there is a chair on your left => -
he was quite strong as a young man => -
my knee hurts when it rains => -
she had an operation on her hip in two thousand and ten => -
let me get a tuning fork from the drawer => -
the window on the right is open => -
he came down the stairs at four => -
she goes up and down those stairs five times a day => -
the shop is closed until half past two => -
that was a good power cut, three hours without light => -
a light touch is needed with these biscuits => -
she'll need a brace for the summer => -
he'll need the brace again, and a new strap => -
""")


@pytest.mark.parametrize("talk", [talk for talk, _ in SENTENCES])
def test_everyday_talk_gives_no_row(talk: str) -> None:
    assert analysis(talk).record.rows == []


def test_there_are_enough_of_them() -> None:
    assert len(SENTENCES) >= 60


def test_everyday_talk_is_rarely_taken_for_a_term() -> None:
    touched = [
        talk
        for talk, _ in SENTENCES
        if any(word.mended is not None for block in analysis(talk).transcript.blocks for word in block.words)
    ]
    assert len(touched) <= len(SENTENCES) // 20, touched


AROUND = table("""
left knee flexion four and then we had a cup of tea => left knee_flexion 4
right, let us start. left knee flexion four => left knee_flexion 4
left knee flexion four. right, shoes back on, we have five minutes left => left knee_flexion 4
good morning. do sit down. left knee flexion four. thank you => left knee_flexion 4
left knee flexion four. he is back at work since two weeks => left knee_flexion 4
left knee flexion four. the bus left at four => left knee_flexion 4
left ankle jerk absent even with reinforcement => left ankle_jerk 0
left knee flexion four. he says it's like walking on sponge. right knee flexion five => left knee_flexion 4;
 right knee_flexion 5
left sensation to a cotton wisp intact at L4 => left light_touch@L4 normal
pinprick is normal on the left at L5 up on your heels => left pinprick@L5 normal
left hip adduction five that's fine hamsters four => left hip_adduction 5; left knee_flexion 4
left eversion four so the peroneal is fine hamster ings five => left ankle_eversion 4; left knee_flexion 5
heel shin normal on the left she'll need the brace => left heel_shin normal
""")


@pytest.mark.parametrize(("talk", "wanted"), AROUND)
def test_everyday_talk_around_a_result_changes_nothing(talk: str, wanted: set[str]) -> None:
    assert told(talk) == wanted
