"""Counts how examiners put words in a row, for `pipeline/hear/trigrams.py` and `pipeline/mend/ngrams.py`.

Usage: python scripts/count_words.py

Counted: what was truly said in the cases at odd positions (1st, 3rd, ...) of each file in tests/cases, without
punctuation, as a recogniser would give it. The cases at even positions stay for the figures. Among the readings of a
recogniser, words alone choose, and the lines that it was taught with are counted, too.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from pipeline.hear import trigrams  # noqa: E402
from pipeline.hear.agree import spoken_words  # noqa: E402
from pipeline.lexicon import load  # noqa: E402
from pipeline.mend.mend import Mender  # noqa: E402
from pipeline.mend.ngrams import COUNTS, GRADE, Ngrams, kind_of  # noqa: E402
from pipeline.mend.ngrams import ROOT as OF_ROOTS  # noqa: E402
from pipeline.mend.terms import TermIndex  # noqa: E402
from pipeline.mend.tokens import tokenise  # noqa: E402
from scripts.teaching.utterances import EXAMINATIONS, TALK  # noqa: E402
from tests.scoring import AUTHORED, heard, read_cases  # noqa: E402

_PUNCTUATION = re.compile(r"[.,:;?!\"]")


def main() -> None:
    index = TermIndex(load())
    mender = Mender(index)
    talks: list[list[str]] = []
    lines = [line for file in (EXAMINATIONS, TALK) for line in file.read_text(encoding="utf-8").splitlines()]
    spoken = [spoken_words(line) for line in lines]
    said: list[tuple[str, str]] = []
    for case in (case for file in AUTHORED for case in read_cases(file)[::2]):
        spoken.append(spoken_words(case["clean"]))
        text = _PUNCTUATION.sub(" ", case["clean"]).lower()
        tokens, _ = tokenise(heard({"transcript": [{"t": 0, "text": text}]}))
        cover = mender.cover(tokens)
        talks.append([part.word for part in mender.parts(tokens, cover)])
        said += [(kind_of(match.term, index), match.term.text) for match in cover.matches]
        said += [(GRADE, number.text) for number in cover.numbers if number.unit == "grade"]
        said += [(OF_ROOTS, root.roots[0]) for root in cover.roots]
    Ngrams.count(talks, said).save(COUNTS)
    trigrams.write(trigrams.TALK, trigrams.count(spoken))
    print(f"{sum(map(len, talks)):,} words and classes of {len(talks)} talks -> {COUNTS.stat().st_size // 1024} KB")
    print(f"{sum(map(len, spoken)):,} words of {len(spoken)} talks -> {trigrams.TALK.stat().st_size // 1024} KB")


if __name__ == "__main__":
    main()
