"""Counts how examiners put words in a row, for `pipeline/mend/ngrams.py`; stores the counts beside it.

Usage: python scripts/count_words.py

Counted: what was truly said in the cases at odd positions (1st, 3rd, ...) of each file in tests/cases, without
punctuation, as a recogniser would give it. The cases at even positions stay for the figures.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from pipeline.lexicon import load  # noqa: E402
from pipeline.mend.mend import Mender  # noqa: E402
from pipeline.mend.ngrams import COUNTS, GRADE, Ngrams, kind_of  # noqa: E402
from pipeline.mend.ngrams import ROOT as OF_ROOTS  # noqa: E402
from pipeline.mend.terms import TermIndex  # noqa: E402
from pipeline.mend.tokens import tokenise  # noqa: E402
from tests.scoring import AUTHORED, heard, read_cases  # noqa: E402

_PUNCTUATION = re.compile(r"[.,:;?!\"]")


def main() -> None:
    index = TermIndex(load())
    mender = Mender(index)
    talks: list[list[str]] = []
    said: list[tuple[str, str]] = []
    for case in (case for file in AUTHORED for case in read_cases(file)[::2]):
        text = _PUNCTUATION.sub(" ", case["clean"]).lower()
        tokens, _ = tokenise(heard({"transcript": [{"t": 0, "text": text}]}))
        cover = mender.cover(tokens)
        talks.append([part.word for part in mender.parts(tokens, cover)])
        said += [(kind_of(match.term, index), match.term.text) for match in cover.matches]
        said += [(GRADE, number.text) for number in cover.numbers if number.unit == "grade"]
        said += [(OF_ROOTS, root.roots[0]) for root in cover.roots]
    Ngrams.count(talks, said).save(COUNTS)
    print(f"{sum(map(len, talks)):,} words and classes of {len(talks)} talks -> {COUNTS.stat().st_size // 1024} KB")


if __name__ == "__main__":
    main()
