"""How alike two stretches of sound are, one pair or many pairs at once."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.lexicon.pronounce import PHONEMES, phrase_phones
from pipeline.mend.sound import Phones, Sounds, coarse, distance, distances, written

stretches = st.lists(st.sampled_from(sorted(PHONEMES)), min_size=1, max_size=30).map(tuple)


def of(words: str) -> Phones:
    return phrase_phones(words.split())[0]


def in_one_batch(pairs: list[tuple[Phones, Phones]]) -> list[float]:
    place = np.arange(len(pairs))
    gaps: list[float] = distances(
        Sounds([written(one) for one, _ in pairs]), Sounds([written(two) for _, two in pairs]), place, place
    ).tolist()
    return gaps


@given(st.lists(st.tuples(stretches, stretches), max_size=12))
def test_many_pairs_have_the_distances_of_each_pair(pairs: list[tuple[Phones, Phones]]) -> None:
    assert in_one_batch(pairs) == [distance(heard, said) for heard, said in pairs]


@given(stretches, st.lists(stretches, min_size=1, max_size=6), st.data())
def test_pairs_name_their_sounds_by_place(heard: Phones, said: list[Phones], data: st.DataObject) -> None:
    chosen = data.draw(st.lists(st.integers(0, len(said) - 1), min_size=1, max_size=10))
    sounds = Sounds([written(("T",)), written(heard)])
    gaps = distances(sounds, Sounds([written(one) for one in said]), np.ones(len(chosen), np.intp), np.array(chosen))
    assert gaps.tolist() == [distance(heard, said[at]) for at in chosen]


def test_more_pairs_than_one_step_takes_and_one_very_long_sound() -> None:
    phrases = ["tibialis anterior", "to biolis anterior", "hip", "ankle dorsiflexion", "quad receipts", "knee"]
    pairs = [(of(heard), of(said)) for heard in phrases for said in phrases] * 400
    pairs[777] = (of("knee") * 2000, of("ankle"))
    known = {pair: distance(*pair) for pair in set(pairs)}
    assert in_one_batch(pairs) == [known[pair] for pair in pairs]


@given(stretches, stretches)
def test_distance_is_zero_for_the_same_sound_only_and_the_same_both_ways(heard: Phones, said: Phones) -> None:
    assert (distance(heard, said) == 0) == (heard == said)
    assert distance(heard, said) == pytest.approx(distance(said, heard))


def test_no_sound_is_like_nothing() -> None:
    assert distance((), of("knee")) == distance(of("knee"), ()) == 1.0


@pytest.mark.parametrize(
    ("said", "misheard", "unrelated"),
    [
        ("tibialis anterior", "to biolis anterior", "biceps femoris"),
        ("quadriceps", "quad receipts", "hamstrings"),
        ("ankle jerk", "uncle jerk", "elbow flexion"),
        ("dermatome", "dermot home", "knee extension"),
    ],
)
def test_a_mishearing_is_nearer_than_another_term(said: str, misheard: str, unrelated: str) -> None:
    assert distance(of(misheard), of(said)) < 0.3 < distance(of(unrelated), of(said))


def test_one_substituted_phone_costs_by_place_manner_and_voice() -> None:
    """Costs worked out by hand: voice 0.15, stops of different places at least 0.5, a dropped vowel 0.5 and T 0.6."""
    assert distance(("P",), ("B",)) == pytest.approx(0.15)
    assert distance(("P",), ("T",)) == pytest.approx(0.5)
    assert distance(("T", "IY"), ("T",)) == pytest.approx(0.5 / 1.5)
    assert distance(("IY",), ("T",)) == pytest.approx(1.0)
    assert distance(("IY",), ("IY", "T")) == pytest.approx(0.6 / 1.5)


def test_coarse_key_loses_voice_glides_and_the_kind_of_vowel() -> None:
    assert coarse(("B", "IH", "G")) == coarse(("P", "EY", "K")) == "pak"
    assert coarse(("HH", "IY", "Y", "AH", "L")) == "al"


@pytest.mark.parametrize("phone", sorted(PHONEMES))
def test_every_phoneme_has_a_key_and_costs(phone: str) -> None:
    assert len(coarse((phone, "S"))) in (1, 2, 3)
    assert distance((phone, "S"), ("S",)) > 0
