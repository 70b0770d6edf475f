"""The engine: heard words in, the exam record out."""

from __future__ import annotations

from pipeline.fill.confidence import judge
from pipeline.fill.rows import Filler
from pipeline.hear.words import Heard
from pipeline.lexicon import load
from pipeline.lexicon.model import Lexicon
from pipeline.mend.mend import Mender
from pipeline.mend.terms import TermIndex
from pipeline.mend.tokens import tokenise
from pipeline.record.model import ExamRecord, Unplaced
from pipeline.understand.clauses import mark_clauses, spans
from pipeline.understand.cues import CueFinder
from pipeline.understand.extract import Extractor
from pipeline.understand.talk import TalkTeller


class Engine:
    def __init__(self, lexicon: Lexicon | None = None) -> None:
        self.lexicon = lexicon or load()
        self._mender = Mender(TermIndex(self.lexicon))
        self._cues = CueFinder(self.lexicon)
        self._teller = TalkTeller()
        self._extractor = Extractor(self.lexicon)
        self._filler = Filler(self.lexicon)

    def analyse(self, heard: Heard):
        tokens, words = tokenise(heard)
        cover = self._mender.cover(tokens)
        texts = [token.text for token in tokens]
        cues = self._cues.find(texts)
        covered = {at for match in cover.matches if match.end - match.start > 1 for at in range(match.start, match.end)}
        cues["reaction"] = [
            (a, b) for a, b in cues.get("reaction", []) if not any(k in covered for k in range(a, b)) and not (a and texts[a - 1] in ("is", "are", "was", "were", "very", "a", "not", "feels", "looks", "'s", "it's", "the", "your", "my", "his", "her", "no", "some") and tokens[a].boundary < 1)
            and not (b < len(texts) and texts[b] in ("one", "light", "power", "strength", "thing", "idea", "place", "morning", "afternoon", "evening", "question", "point", "enough", "reason", "for", "range", "effort", "as", "until", "at") and tokens[b].boundary < 0.5)
        ]
        mark_clauses(tokens, cover, cues["reaction"])
        clauses = self._teller.tell(tokens, spans(tokens), cues, cover)
        items = self._extractor.items(tokens, cover, clauses, cues)
        return tokens, words, cover, clauses, items

    def structure(self, heard: Heard) -> ExamRecord:
        tokens, words, cover, clauses, items = self.analyse(heard)
        drafts, loose = self._filler.fill(items, tokens)
        rows = judge(drafts, tokens, words, self.lexicon)
        unplaced = [
            Unplaced(start=words[tokens[l.start].word].start, end=words[tokens[l.end - 1].word].end, text=" ".join(w.text for w in words[tokens[l.start].word : tokens[l.end - 1].word + 1]), reason=l.reason)
            for l in loose
        ]
        return ExamRecord(rows=rows, unheard=heard.unheard, unplaced=unplaced)
