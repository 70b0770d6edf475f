"""Two listeners' words made into one sequence. The words are typed here; where they come from, other tests prove."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.hear.agree import AGREE, DISAGREE, LEXICON_WON, Agreement, spoken_words
from pipeline.hear.words import Word
from pipeline.lexicon import load


@pytest.fixture(scope="module")
def agreement() -> Agreement:
    return Agreement(load())


def said(text: str, confidence: float = 0.9, start: float = 0.0, pace: float = 0.3) -> list[Word]:
    """Words one after the other; each part of a word that is said takes `pace` seconds."""
    words = []
    for word in text.split():
        length = pace * max(1, len(spoken_words(word)))
        words.append(Word(text=word, start=round(start, 3), end=round(start + length, 3), confidence=confidence))
        start += length
    return words


def texts(words: list[Word]) -> str:
    return " ".join(word.text for word in words)


def flagged(words: list[Word], flag: str) -> str:
    return " ".join(word.text for word in words if flag in word.flags)


def test_agreement_raises_confidence(agreement: Agreement) -> None:
    opened, lexicon = said("Hamstrings five.", 0.6), said("hamstrings five", 0.7)
    merged = agreement.merge(opened, lexicon)
    assert texts(merged) == "Hamstrings five."
    assert all(word.flags == (AGREE,) and word.alternatives == () for word in merged)
    assert [word.confidence for word in merged] == pytest.approx([0.88, 0.88])


@pytest.mark.parametrize(
    ("opened", "lexicon"),
    [
        ("L5", "l five"), ("4+,", "four plus"), ("4-", "four minus"), ("5/5", "five out of five"), ("T10", "t ten"),
        ("L-2-3", "l two three"), ("L23", "l two three"), ("L5-S1", "l five s one"), ("40°", "forty degrees"),
        ("down-going", "down going"),
    ],
)  # fmt: skip
def test_numbers_written_and_said_are_the_same(opened: str, lexicon: str, agreement: Agreement) -> None:
    (word,) = agreement.merge(said(opened), said(lexicon))
    assert word.flags == (AGREE,) and word.alternatives == ()


@pytest.mark.parametrize(
    ("opened", "lexicon", "doubted", "reading"),
    [
        ("knee extension five", "knee extension four", "five", "four"),
        ("power on the left", "power on the right", "left", "right"),
        ("ankle inversion weak", "ankle eversion weak", "inversion", "eversion"),
        ("hip abduction four", "hip adduction four", "abduction", "adduction"),
        ("tone is normal", "tone is abnormal", "normal", "abnormal"),
        ("jerk absent today", "jerk present today", "absent", "present"),
        ("grade for today", "grade four today", "for", "four"),
        ("knee 4+ today", "knee four minus today", "4+", "minus"),
        ("we know wasting", "we no wasting", "know", "no"),
    ],
)
def test_a_difference_that_changes_the_record_is_flagged(
    opened: str, lexicon: str, doubted: str, reading: str, agreement: Agreement
) -> None:
    merged = agreement.merge(said(opened, 0.99), said(lexicon, 0.01))
    assert texts(merged) == opened
    assert flagged(merged, DISAGREE) == doubted
    (word,) = (word for word in merged if DISAGREE in word.flags)
    assert word.alternatives == (reading,)
    assert word.confidence == 0.99


def test_a_difference_in_ordinary_words_is_no_reason_to_ask(agreement: Agreement) -> None:
    merged = agreement.merge(said("and could you please sit down"), said("and would he please sit down"))
    assert flagged(merged, DISAGREE) == ""
    assert [word.alternatives for word in merged[1:3]] == [("would",), ("he",)]


def test_a_garbled_term_is_replaced_where_the_sounds_agree(agreement: Agreement) -> None:
    opened = [*said("paroneus", 0.5), *said("longis,", 0.5, start=0.6), *said("four", 0.9, start=1.2)]
    lexicon = [*said("peroneus longus", 0.8, pace=0.6), *said("four", 0.8, start=1.2)]
    merged = agreement.merge(opened, lexicon)
    assert texts(merged) == "peroneus longus, four"
    assert flagged(merged, LEXICON_WON) == "peroneus longus,"
    assert merged[0].alternatives == ("paroneus longis,",)
    assert (merged[0].start, merged[1].end) == (opened[0].start, opened[1].end)
    assert AGREE in merged[2].flags


def test_a_term_split_into_words_is_replaced_as_one(agreement: Agreement) -> None:
    opened = said("the ilea so as is five", 0.3)
    lexicon = [*said("the"), *said("iliopsoas", start=0.3, pace=0.9), *said("is five", start=1.2)]
    assert texts(agreement.merge(opened, lexicon)) == "the iliopsoas is five"


def test_fluent_english_is_not_replaced(agreement: Agreement) -> None:
    """ "To be Alice" sounds like "tibialis", but the open listener was sure of ordinary words."""
    opened, lexicon = (
        said("to be Alice anterior four", 0.9),
        said("tibialis", 0.9, pace=0.9) + said("anterior four", 0.9, start=0.9),
    )
    merged = agreement.merge(opened, lexicon)
    assert texts(merged) == "to be Alice anterior four"
    assert flagged(merged, DISAGREE) == "to be Alice"
    assert all(word.alternatives == ("tibialis",) for word in merged[:3])


def test_the_surer_of_two_like_readings_stands_if_it_tells_something(agreement: Agreement) -> None:
    opened, lexicon = (
        said("then we said rate five on that side", 0.4),
        said("then we said right five on that side", 0.5),
    )
    merged = agreement.merge(opened, lexicon)
    assert texts(merged) == "then we said right five on that side"
    assert flagged(merged, LEXICON_WON) == "right" and merged[3].alternatives == ("rate",)
    unsure = [*lexicon[:3], lexicon[3].model_copy(update={"confidence": 0.1}), *lexicon[4:]]
    assert texts(agreement.merge(opened, unsure)) == "then we said rate five on that side"


def test_what_examiners_would_hardly_say_replaces_nothing(agreement: Agreement) -> None:
    """A surer "ten" does not make "ten normal in both legs" of the tone."""
    opened, lexicon = said("tone normal in both legs", 0.45), said("ten normal in both legs", 0.6)
    merged = agreement.merge(opened, lexicon)
    assert texts(merged) == "tone normal in both legs"
    assert flagged(merged, DISAGREE) == "tone"
    assert texts(agreement.merge(said("the rate is ten", 0.45), said("the right is ten", 0.6))) == "the right is ten"


def test_a_side_never_replaces_the_other(agreement: Agreement) -> None:
    opened = said("then we said left five on that side", 0.4)
    merged = agreement.merge(opened, said("then we said right five on that side", 0.9))
    assert "left" in texts(merged) and "right" not in texts(merged)
    assert flagged(merged, DISAGREE) == "left"


def test_where_the_lexicon_listener_is_much_surer_of_an_examination_its_words_stand(agreement: Agreement) -> None:
    opened, lexicon = (
        said("heel walking namal tib walking namal", 0.3),
        said("heel walking normal toe walking normal", 0.9),
    )
    merged = agreement.merge(opened, lexicon)
    assert texts(merged) == "heel walking normal toe walking normal"
    assert flagged(merged, AGREE) == "heel walking walking" and flagged(merged, DISAGREE) == "normal toe normal"
    assert merged[2].alternatives == ("namal",)
    talk, other = (
        said("his wife brought a cup of tea to the ward", 0.3),
        said("his right bought a cub of tea two the wall", 0.9),
    )
    assert texts(agreement.merge(talk, other)).endswith("the ward")


def test_another_sound_is_not_replaced(agreement: Agreement) -> None:
    merged = agreement.merge(said("Xanthippe's", 0.2, pace=0.8), said("gastrocnemius", 0.9, pace=0.8))
    assert texts(merged) == "Xanthippe's"
    assert merged[0].flags == (DISAGREE,) and merged[0].alternatives == ("gastrocnemius",)


def test_words_far_apart_in_time_are_not_each_others_reading(agreement: Agreement) -> None:
    merged = agreement.merge(said("paroneus", 0.2), said("peroneus", 0.9, start=8.0))
    assert texts(merged) == "paroneus" and LEXICON_WON not in merged[0].flags


def test_a_term_of_the_lexicon_listener_alone_adds_no_word(agreement: Agreement) -> None:
    merged = agreement.merge(said("my hand"), said("my hand iliopsoas five"))
    assert texts(merged) == "my hand"


def test_a_lost_sign_is_a_doubt_on_the_grade(agreement: Agreement) -> None:
    merged = agreement.merge(said("hip flexion four"), said("hip flexion four minus"))
    assert texts(merged) == "hip flexion four"
    assert merged[-1].flags == (DISAGREE,) and merged[-1].alternatives == ("four minus",)


def test_a_word_that_the_lexicon_listener_missed_is_doubted_if_it_counts(agreement: Agreement) -> None:
    merged = agreement.merge(said("there is no wasting here"), said("there is wasting here"))
    assert flagged(merged, DISAGREE) == "no"


def test_other_spellings_of_one_sound_agree(agreement: Agreement) -> None:
    (word,) = agreement.merge(said("gate"), said("gait"))
    assert word.text == "gate" and AGREE in word.flags


def test_what_the_open_listener_doubted_itself_stays(agreement: Agreement) -> None:
    own = Word(text="iliopsoas", start=0, end=0.6, confidence=0.1, alternatives=("ilea so as",), flags=("prompt_only",))
    (agreed,) = agreement.merge([own], said("iliopsoas", pace=0.6))
    assert agreed.flags == ("prompt_only", AGREE) and agreed.alternatives == ("ilea so as",)
    (doubted,) = agreement.merge([own], said("hello", pace=0.6))
    assert doubted.flags == ("prompt_only", DISAGREE) and doubted.alternatives == ("ilea so as", "hello")


def test_nothing_heard_gives_nothing(agreement: Agreement) -> None:
    assert agreement.merge([], said("iliopsoas five")) == []
    opened = said("Good morning")
    assert texts(agreement.merge(opened, [])) == "Good morning"


_SOME = st.lists(st.sampled_from("knee jerk two plus left no L45 5/5 the and absent tibialis 40°".split()), max_size=14)


@given(opened=_SOME, lexicon=_SOME, later=st.floats(0, 9))
@settings(max_examples=300, deadline=None)
def test_any_two_readings_become_one(opened: list[str], lexicon: list[str], later: float) -> None:
    merged = Agreement(load()).merge(said(" ".join(opened)), said(" ".join(lexicon), start=later))
    heard = {part for word in (*opened, *lexicon) for part in spoken_words(word)}
    assert {part for word in merged for part in spoken_words(word.text)} <= heard
    assert len(merged) >= bool(opened)


def test_a_beginning_that_one_listener_alone_heard_stays(agreement: Agreement) -> None:
    """Seven words or more before the first that both heard once made the alignment run out of its table."""
    talk = "well now let us see whether you can do this one"
    merged = agreement.merge(said(f"{talk} knee jerk absent"), said("knee jerk absent", start=3.3))
    assert texts(merged).startswith(talk)
