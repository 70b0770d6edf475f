"""Sides, grades, findings, names and roots that are made out from their place and from what examiners say there.

The mishearings are invented; that examiners speak so is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from pipeline.engine import Engine
from pipeline.lexicon import load
from pipeline.mend.likely import LikelyTerms, Part
from pipeline.mend.ngrams import COUNTS, GRADE, Ngrams, stored
from pipeline.mend.terms import TermIndex
from pipeline.mend.tokens import tokenise
from tests.scoring import heard
from tests.understand.talks import rows, told

SIDES = [
    ("eversion is four on the left and five on the write", {("right", "5"), ("left", "4")}),
    ("lept quadriceps three plus, right quadriceps five", {("left", "3+"), ("right", "5")}),
    ("biceps jerk brisk on the rite, two plus on the left", {("right", "brisk"), ("left", "2+")}),
    ("modified ashworth three in the legs, left and rite", {("left", "MAS 3"), ("right", "MAS 3")}),
    ("vibration absent at the left ankle and reduced at the wright ankle", {("left", "absent"), ("right", "reduced")}),
]
GRADES = [
    ("hip abduction on the right is foe plus", "4+"),
    ("left wrist flexion thwee out of five", "3"),
    ("knee flexion left fife", "5"),
    ("shoulder abduction to on the left", "2"),
    ("big toe extension right four blush", "4+"),
    ("quads three minuses on the left", "3-"),
]
FINDINGS = [
    ("the ankle jerks are brisket on both sides", "brisk"),
    ("pinprick is produced at l5 on the right", "reduced"),
    ("temperature is gnome all at l4 on the left", "normal"),
]
NAMES = [
    ("tone is increased in both legs and no onus at the right ankle", "ankle_clonus", "absent"),
    ("power in the left leg hip flexion one hip extension hero knee extension two", "hip_extension", "0"),
    ("no wasting in either leg. tomb is increased in the right leg", "tone", "increased"),
]


@pytest.mark.parametrize(("talk", "wanted"), SIDES)
def test_a_side_that_was_misheard_is_shown_to_a_person(talk: str, wanted: set[tuple[str, str]]) -> None:
    found = rows(talk)
    assert {(row.side.value, row.value) for row in found} == wanted
    assert any("side_uncertain" in row.flags and row.confirm for row in found)


@pytest.mark.parametrize(("talk", "value"), GRADES)
def test_a_grade_that_was_misheard_is_shown_to_a_person(talk: str, value: str) -> None:
    (row,) = rows(talk)
    assert (row.value, row.confirm) == (value, True)


@pytest.mark.parametrize("talk", ["inversion right too, left four", "inversion too on the right and four on the left"])
def test_too_that_is_set_against_a_grade_of_the_other_side_is_one(talk: str) -> None:
    right, left = sorted(rows(talk), key=lambda row: row.side.value, reverse=True)
    assert (right.value, right.confirm, left.value, left.confirm) == ("2", True, "4", False)


def test_too_that_adds_another_test_is_no_grade() -> None:
    assert told("left inversion four on the left and eversion too on the left") == {"left ankle_inversion 4"}


@pytest.mark.parametrize(("talk", "value"), FINDINGS)
def test_a_finding_that_was_misheard_is_shown_to_a_person(talk: str, value: str) -> None:
    assert {(row.value, row.confirm) for row in rows(talk)} == {(value, True)}


BESIDE_WASTING = [
    ("no wasting and no fascist nations in the right arm", {("wasting", "absent"), ("fasciculation", "absent")}),
    (
        "no wasting in the left leg but there are fashion stations in the left leg",
        {("wasting", "absent"), ("fasciculation", "present")},
    ),
    ("no wasting and no medications in the left leg", {("wasting", "absent")}),
    ("there is wasting and functional limitation in the left leg", {("wasting", "present")}),
]
"""What is looked for with wasting is made out of words unlike it; other nouns are not."""


@pytest.mark.parametrize(("talk", "wanted"), BESIDE_WASTING)
def test_what_is_looked_for_with_wasting_is_shown_to_a_person(talk: str, wanted: set[tuple[str, str]]) -> None:
    assert {(row.manoeuvre, row.value) for row in rows(talk)} == wanted
    assert all(row.confirm for row in rows(talk) if row.manoeuvre == "fasciculation")


@pytest.mark.parametrize(("talk", "manoeuvre", "value"), NAMES)
def test_a_name_that_only_fits_there_is_shown_to_a_person(talk: str, manoeuvre: str, value: str) -> None:
    found = [row for row in rows(talk) if row.manoeuvre == manoeuvre]
    assert [(row.value, row.confirm) for row in found] == [(value, True)]


@pytest.mark.parametrize(
    "talk",
    [
        "he keeps his tablets on the light shelf and walks on the right",
        "she hit the desk on the way out and left",
        "he has been on the list since may",
        "put the lamp on the left please and the chair on the rug",
    ],
)
def test_words_that_stand_for_themselves_make_no_side(talk: str) -> None:
    assert rows(talk) == []


def test_a_finding_after_what_was_left_out_is_its_reason() -> None:
    talk = "straight leg raise not attempted on either side, far too painful"
    assert told(talk) == {"right straight_leg_raise !pain", "left straight_leg_raise !pain"}


class TestNgrams:
    def test_what_follows_is_likelier_than_what_does_not(self) -> None:
        counts = Ngrams.count([["knee", "N:mrc", GRADE, "on"]] * 5 + [["the", "door"]] * 5, [(GRADE, "4")])
        assert counts.likelihood(GRADE, ["knee", "N:mrc"]) > counts.likelihood("door", ["knee", "N:mrc"])
        assert counts.likelihood("quux", ["knee", "N:mrc"]) < counts.likelihood("the", ["knee", "N:mrc"])

    def test_chances_after_two_words_add_up_to_at_most_one(self) -> None:
        counts = stored()
        words = {gram[2] for gram in counts.trigrams}
        total = sum(2.718281828 ** counts.likelihood(word, ["on", "the"]) for word in words if word != "?")
        assert 0.5 < total <= 1.0001

    def test_they_are_kept_as_they_are(self, tmp_path: Path) -> None:
        stored().save(tmp_path / "counts.json.gz")
        again = Ngrams.load(tmp_path / "counts.json.gz")
        assert again == stored()
        assert (tmp_path / "counts.json.gz").read_bytes() == COUNTS.read_bytes()


@pytest.fixture(scope="module")
def likely() -> LikelyTerms:
    return LikelyTerms(TermIndex(load()), stored())


class TestLikelyTerms:
    def parts(self, text: str) -> list[Part]:
        return [Part(at, at + 1, word, word != word.lower()) for at, word in enumerate(text.split())]

    def find(self, likely: LikelyTerms, text: str) -> list[str]:
        words = text.lower().replace("n:reflex", "jerks")
        tokens, _ = tokenise(heard({"transcript": [{"t": 0, "text": words}]}))
        return [hit.saying.text for hit in likely.find(self.parts(text), tokens, frozenset())]

    def test_a_word_that_hardly_stands_there_gives_way_to_one_that_does(self, likely: LikelyTerms) -> None:
        assert self.find(likely, "N:reflex are brisket on B") == ["brisk"]

    def test_the_same_word_is_left_alone_where_it_is_meant(self, likely: LikelyTerms) -> None:
        assert self.find(likely, "my wife made a brisket for sunday") == []

    def test_words_that_were_read_are_never_covered(self, likely: LikelyTerms) -> None:
        assert self.find(likely, "N:reflex are BRISKET on B") == []


def test_the_engine_finds_the_same_twice() -> None:
    talk = heard({"transcript": [{"t": 0, "text": "no onus at either ankle and the plan tars are down going"}]})
    engine = Engine()
    assert engine.structure(talk) == engine.structure(talk) == Engine().structure(talk)


@pytest.mark.parametrize(
    "talk, manoeuvre",
    [
        ("soup in eight or jerk absent on the left", "brachioradialis_jerk"),
        ("ten dim gate was impaired", "tandem_gait"),
        ("plantar deflection right three", "ankle_plantarflexion"),
    ],
)
def test_a_number_or_a_side_may_stand_in_or_after_a_misheard_name(talk: str, manoeuvre: str) -> None:
    assert [each.manoeuvre for each in rows(talk)] == [manoeuvre]


def test_numbers_of_other_things_are_no_names() -> None:
    assert rows("we meet at ten past two, ward eight") == []
