"""Mended terms in captions against what was really said, on the development cases beside the repository."""

import json
from collections import Counter

import pytest

from pipeline.engine import Engine
from pipeline.export.captions import cues
from pipeline.export.spoken import ShownWord, changes, shown_words
from pipeline.export.teaching import Names
from pipeline.hear.transcripts import read_transcript
from pipeline.hear.words import Heard
from pipeline.lexicon import load
from pipeline.record.transcript import Talk
from tests.export.cases import SHARED, cases

PRECISION, RECALL = 0.99, 0.95

NAMES = Names(load())


def terms(text: str) -> Counter[tuple[str, str]]:
    """The lexicon's names in a text, by what they name."""
    words = [ShownWord(word, 0, 0, Talk.RESULT, 0) for word in text.split()]
    return Counter((mention.kind, mention.id) for mention in NAMES.find(words))


@pytest.mark.skipif(not SHARED.is_file(), reason="the development cases are not beside the repository")
def test_mended_terms_are_what_was_said() -> None:
    """A term is needed where it was said but not heard; a mend is right where its term is needed."""
    engine = Engine()
    right = mended = needed = 0
    wrong = []
    for case in (one for one in cases() if str(one["id"]).startswith("dev")):
        heard = Heard(utterances=read_transcript(json.dumps(case["transcript"])))
        talk = engine.analyse(heard).transcript
        shown = terms(" ".join(cue.text for cue in cues(shown_words(talk))))
        made = sum((terms(change.mended) for change in changes(talk)), Counter[tuple[str, str]]())
        really = terms(str(case["clean"]))
        for term in really | made:
            wanted = max(0, really[term] - (shown[term] - made[term]))
            right, mended, needed = right + min(made[term], wanted), mended + made[term], needed + wanted
            if made[term] != wanted:
                wrong.append((case["id"], *term, f"mended {made[term]}, needed {wanted}"))
    print(f"mended {mended}, needed {needed}: precision {right / mended:.4f}, recall {right / needed:.4f}")
    assert right / mended >= PRECISION and right / needed >= RECALL, wrong
