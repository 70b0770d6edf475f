"""The language model: its numbers worked out by hand, and its file read by pocketsphinx itself."""

from __future__ import annotations

import io
import itertools
import math
from pathlib import Path

import pytest
from pocketsphinx import Config, LogMath, NGramModel

from pipeline.hear.ngrams import write_arpa

SENTENCES = [("knee", "jerk", "absent"), ("ankle", "jerk", "absent"), ("knee", "jerk"), ("absent",)]
BACKGROUND = {"the": 6.0, "knee": 2.0}


def arpa(share: float) -> str:
    out = io.StringIO()
    write_arpa(SENTENCES, BACKGROUND, share, out)
    return out.getvalue()


class Arpa:
    """A reader of the format by its description (Katz back-off), written for the test."""

    def __init__(self, text: str) -> None:
        self.grams: dict[tuple[str, ...], tuple[float, float]] = {}
        for line in text.splitlines():
            parts = line.split("\t")
            if len(parts) >= 2:
                self.grams[tuple(parts[1].split())] = (float(parts[0]), float(parts[2]) if len(parts) > 2 else 0.0)

    def log(self, *gram: str) -> float:
        if gram in self.grams:
            return self.grams[gram][0]
        return self.grams.get(gram[:-1], (0.0, 0.0))[1] + self.log(*gram[1:])

    def words(self) -> list[str]:
        return [gram[0] for gram in self.grams if len(gram) == 1 and gram[0] != "<s>"]


@pytest.mark.parametrize("share", [0.0, 0.35])
def test_probabilities_after_every_history_add_up_to_one(share: float) -> None:
    model = Arpa(arpa(share))
    histories = [gram for gram in itertools.chain([()], model.grams) if len(gram) < 3 and gram[-1:] != ("</s>",)]
    assert ("knee", "jerk") in histories and ("<s>", "absent") in histories
    for history in histories:
        total = sum(10 ** model.log(*history, word) for word in model.words())
        assert total == pytest.approx(1.0, abs=2e-3), history


def test_witten_bell_by_hand() -> None:
    """Words: absent 3, jerk 3, knee 2, ankle 1, </s> 4: 13 tokens, 5 kinds; "the" was never seen; 6 words in all."""
    model = Arpa(arpa(0.0))
    jerk = (3 + 5 / 6) / (13 + 5)
    assert 10 ** model.log("jerk") == pytest.approx(jerk, rel=1e-3)
    # After "knee": jerk twice, one kind.
    knee_jerk = (2 + 1 * jerk) / (2 + 1)
    assert 10 ** model.log("knee", "jerk") == pytest.approx(knee_jerk, rel=1e-3)
    assert 10 ** model.log("<s>", "knee", "jerk") == pytest.approx((2 + knee_jerk) / 3, rel=1e-3)


def test_background_is_mixed_in_everywhere() -> None:
    plain, mixed = Arpa(arpa(0.0)), Arpa(arpa(0.35))
    assert 10 ** mixed.log("the") == pytest.approx(0.65 * 10 ** plain.log("the") + 0.35 * 0.75, rel=1e-3)
    assert mixed.log("knee", "jerk", "the") > plain.log("knee", "jerk", "the") + 0.5
    assert mixed.log("knee", "jerk", "absent") < plain.log("knee", "jerk", "absent")


def test_pocketsphinx_reads_the_same_numbers(tmp_path: Path) -> None:
    (tmp_path / "a.lm").write_text(arpa(0.35), encoding="utf-8")
    log = LogMath()
    model = NGramModel(Config(lm=None, dict=None, hmm=None, loglevel="FATAL"), log, str(tmp_path / "a.lm"))
    mine = Arpa(arpa(0.35))
    for gram in (["the"], ["knee", "jerk"], ["knee", "jerk", "absent"], ["the", "ankle", "knee"]):
        # pocketsphinx takes the newest word first, and its own logarithm.
        theirs = log.log_to_ln(model.prob(gram[::-1])) / math.log(10)
        assert theirs == pytest.approx(mine.log(*gram), abs=0.02), gram
