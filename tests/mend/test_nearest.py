"""The terms that sound most like a span of words."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rapidfuzz import fuzz, process

from pipeline.lexicon import load
from pipeline.mend import nearest
from pipeline.mend.nearest import Nearest, Span, span_sounds
from pipeline.mend.sound import coarse, distance
from pipeline.mend.terms import Term, TermIndex

CASES = Path(__file__).parents[1] / "cases"
MISHEARD = [
    ("to", "biolis", "anterior"), ("quad", "receipts"), ("dermot", "home"), ("rum", "bird's", "test"),
    ("for", "sick", "elations"), ("hamster", "rings"),
]  # fmt: skip


@pytest.fixture(scope="module")
def index() -> TermIndex:
    return TermIndex(load())


@pytest.fixture(scope="module")
def words() -> list[str]:
    """The talk of one author's first cases, as a recogniser wrote it."""
    lines = (CASES / "author1.jsonl").read_text(encoding="utf-8").splitlines()[:6]
    return [
        word for line in lines for block in json.loads(line)["transcript"] for word in block["text"].lower().split()
    ]


@pytest.fixture(scope="module")
def spans(words: list[str]) -> list[Span]:
    return [tuple(words[start : start + size]) for start in range(len(words)) for size in (1, 2, 3, 5)]


def one_by_one(index: TermIndex, span: Span) -> list[tuple[float, Term]]:
    """The plain way: the six keys most alike (twelve of a short one), then each distance by itself."""
    best: dict[Term, float] = {}
    for sound in span_sounds(span):
        if len(sound) < 3:
            continue
        key = coarse(sound)
        most = 12 if len(key) <= 3 else 6
        for _, _, at in process.extract(key, index.keys, scorer=fuzz.ratio, score_cutoff=58, limit=most):
            gap = min(distance(sound, said) for said in index.sounds(index.key_terms[at]))
            if gap < best.get(index.key_terms[at], 0.45):
                best[index.key_terms[at]] = gap
    return sorted(((gap, term) for term, gap in best.items()), key=lambda hit: hit[0])[:6]


def test_many_spans_together_find_what_each_finds_in_the_plain_way(index: TermIndex, spans: list[Span]) -> None:
    terms = Nearest(index)
    terms.prepare(set(spans))
    some = spans[::7] + MISHEARD
    found = [terms.near(span) for span in some]
    assert found == [one_by_one(index, span) for span in some]
    assert sum(map(bool, found)) > 300  # real talk is full of sounds that are a little like a term


def test_a_span_finds_the_same_alone_in_company_and_a_second_time(index: TermIndex, spans: list[Span]) -> None:
    together, alone, backwards = Nearest(index), Nearest(index), Nearest(index)
    together.prepare(set(spans))
    for half in (set(spans[len(spans) // 2 :]), set(spans[: len(spans) // 2])):
        backwards.prepare(half)
    for span in spans[::29]:
        assert together.near(span) == alone.near(span) == backwards.near(span) == together.near(span)


def test_every_term_is_found_by_its_own_sound(index: TermIndex) -> None:
    terms = Nearest(index)
    own = [term for term in dict.fromkeys(index.key_terms) if len(span_sounds(term.words)[0]) >= 3]
    assert len(own) > 500
    terms.prepare({term.words for term in own})
    assert [term.text for term in own if (0.0, term) not in terms.near(term.words)] == []


@given(st.data())
def test_what_is_found_is_near_sorted_and_no_more_than_six(
    index: TermIndex, words: list[str], data: st.DataObject
) -> None:
    span = tuple(data.draw(st.lists(st.sampled_from(words), min_size=1, max_size=6)))
    found = Nearest(index).near(span)
    gaps = [gap for gap, _ in found]
    assert gaps == sorted(gaps) and len(found) <= 6 and all(0 <= gap < 0.45 for gap in gaps)
    assert len({term for _, term in found}) == len(found)
    for gap, term in found:
        assert gap in {min(distance(sound, said) for said in index.sounds(term)) for sound in span_sounds(span)}


@pytest.mark.parametrize(
    ("span", "term"),
    [
        (("to", "biolis", "anterior"), "tibialis anterior"),
        (("quad", "receipts"), "quadriceps"),
        (("for", "sick", "elations"), "fasciculations"),
        (("hamster", "rings"), "hamstrings"),
    ],
)
def test_a_mishearing_finds_its_term_first(index: TermIndex, span: Span, term: str) -> None:
    assert Nearest(index).near(span)[0][1].text == term


@pytest.mark.parametrize("span", [("oh",), ("...",), (), ("a" + "h" * 20_000,), ("1" * 5_000,)])
def test_too_short_too_long_or_silent_spans_find_nothing(index: TermIndex, span: Span) -> None:
    assert Nearest(index).near(span) == []


def test_nothing_to_prepare(index: TermIndex) -> None:
    terms = Nearest(index)
    terms.prepare(set())
    assert terms.near(("hamster", "rings"))


def test_forgetting_changes_no_answer(index: TermIndex, spans: list[Span], monkeypatch: pytest.MonkeyPatch) -> None:
    before = Nearest(index)
    before.prepare(set(spans[:200]))
    monkeypatch.setattr(nearest, "_REMEMBERED", 50)
    forgetful = Nearest(index)
    for start in range(0, 200, 40):
        forgetful.prepare(set(spans[start : start + 40]))
        assert len(forgetful._found) <= 50
    assert [forgetful.near(span) for span in spans[:200]] == [before.near(span) for span in spans[:200]]


def test_another_process_finds_the_same() -> None:
    """Sets of strings come in another order in each process."""
    script = (
        "from pipeline.lexicon import load\n"
        "from pipeline.mend.nearest import Nearest\n"
        "from pipeline.mend.terms import TermIndex\n"
        f"spans = {MISHEARD!r}\n"
        "terms = Nearest(TermIndex(load()))\n"
        "terms.prepare(set(spans))\n"
        "print([[(gap, term.text) for gap, term in terms.near(span)] for span in spans])\n"
    )
    said = {
        subprocess.run(
            [sys.executable, "-c", script], env={**os.environ, "PYTHONHASHSEED": seed}, cwd=CASES.parents[1],
            check=True, capture_output=True, text=True,
        ).stdout
        for seed in ("1", "2", "3")
    }  # fmt: skip
    assert len(said) == 1 and "tibialis anterior" in said.pop()
