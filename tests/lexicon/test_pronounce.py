"""How words sound."""

from __future__ import annotations

import pytest

from pipeline.lexicon import load, phones, phrase_phones
from pipeline.lexicon.pronounce import PHONEMES, in_dictionary, number_words


def said(word: str) -> set[str]:
    return {" ".join(way) for way in phones(word)}


def test_every_word_of_the_lexicon_can_be_said_and_none_is_guessed() -> None:
    lexicon = load()
    named = [*lexicon.manoeuvres, *lexicon.muscles, *lexicon.nerves, *lexicon.sites, *lexicon.dermatomes]
    names = [name for entry in named for name in entry.names]
    names += [name for entry in lexicon.manoeuvres for name in entry.section_names]
    names += [word for scale in lexicon.scales for value in scale.values for word in value.say]
    words = {word for name in names for word in name.split()}
    assert len(words) > 400
    assert all(phones(word) for word in words)
    assert all(phoneme in PHONEMES for word in words for way in phones(word) for phoneme in way)
    assert sorted(word for word in words if not in_dictionary(word)) == []


# From memory: how British and American examiners say these words.
@pytest.mark.parametrize(
    ("word", "ways"),
    [
        ("hallucis", {"HH AE L Y UW S IH S", "HH AE L UW K IH S", "HH AE L AH S IH S"}),
        ("gastrocnemius", {"G AE S T R AA K N IY M IY AH S"}),
        ("tibialis", {"T IH B IY EY L IH S", "T IH B IY AA L IH S"}),
        ("peroneal", {"P EH R AH N IY AH L"}),
        ("quadriceps", {"K W AA D R AH S EH P S", "K W AO D R IH S EH P S"}),
        ("babinski's", {"B AH B IH N S K IY Z"}),
    ],
)
def test_usual_ways_to_say_a_term(word: str, ways: set[str]) -> None:
    assert ways <= said(word)


@pytest.mark.parametrize(
    ("word", "way"),
    [
        ("EHL", "IY EY CH EH L"),
        ("ehl", "IY EY CH EH L"),
        ("XQZ", "EH K S K Y UW Z IY"),
        ("L5", "EH L F AY V"),
        ("5/5", "F AY V OW V ER F AY V"),
        ("4+", "F AO R P L AH S"),
        ("heel-shin", "HH IY L SH IH N"),
        ("knee,", "N IY"),
        ("knee’s", "N IY Z"),
        ("hip", "HH IH P"),
    ],
)
def test_acronyms_numbers_joins_and_marks(word: str, way: str) -> None:
    assert way in said(word)


@pytest.mark.parametrize(
    ("number", "words"),
    [(0, "zero"), (19, "nineteen"), (40, "forty"), (128, "one hundred and twenty eight"), (2000, "two thousand")],
)
def test_number_words(number: int, words: str) -> None:
    assert " ".join(number_words(number)) == words


# Words of the trade that no dictionary here has: the rules must come close. From memory.
@pytest.mark.parametrize(
    ("word", "way"),
    [
        ("sartorius", "S AA R T AO R IH AH S"),
        ("psoriatic", "S AO R IY AE T IH K"),
        ("plexopathy", "P L EH K S AA P AE TH IY"),
    ],
)
def test_the_rules_come_close(word: str, way: str) -> None:
    guess, wanted = phones(word)[0], way.split()
    assert len(guess) in range(len(wanted) - 2, len(wanted) + 3)
    assert sum(one == other for one, other in zip(guess, wanted, strict=False)) >= len(wanted) // 2


def test_any_text_is_safe() -> None:
    assert phones("") == () and phones("—") == ()
    assert phones("żółw") and phones("x") and phones("1234567890")


def test_phrases_join_their_words_and_keep_a_bound() -> None:
    assert ("HH IH P F L EH K SH AH N") in {" ".join(way) for way in phrase_phones(["hip", "flexion"])}
    assert 1 < len(phrase_phones("extensor hallucis longus".split())) <= 8
