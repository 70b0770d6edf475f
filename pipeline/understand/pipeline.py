"""The spaCy pipeline: a blank English one with the components of the design; no statistical model.

`terms` covers the tokens with lexicon terms (mending), `earlier` takes out what an earlier examination found, `clauses`
marks where clauses begin, `talk` tells the kind of each clause, `items` lists the parts of the results. Each component
reads and writes the extensions of `Doc` named below.
"""

from __future__ import annotations

from typing import Any

import spacy
from spacy.language import Language
from spacy.tokens import Doc
from spacy.vocab import Vocab

from pipeline.hear.words import Heard, Word
from pipeline.lexicon.model import Lexicon
from pipeline.mend.matches import Cover
from pipeline.mend.mend import Mender
from pipeline.mend.ngrams import stored
from pipeline.mend.terms import TermIndex
from pipeline.mend.tokens import Token, tokenise
from pipeline.understand.clauses import answers, mark_clauses, spans
from pipeline.understand.cues import CueFinder
from pipeline.understand.earlier import without_earlier
from pipeline.understand.extract import Extractor
from pipeline.understand.talk import TalkTeller

_EXTENSIONS = ("heard_tokens", "heard_words", "cover", "cues", "clauses", "items")
for _name in _EXTENSIONS:
    if not Doc.has_extension(_name):
        Doc.set_extension(_name, default=None)


class Terms:
    """Component `terms`: sets `doc._.cover` and `doc.spans["terms"]`."""

    def __init__(self, lexicon: Lexicon, learned: dict[str, str] | None) -> None:
        self._mender = Mender(TermIndex(lexicon), learned, stored())

    def __call__(self, doc: Doc) -> Doc:
        return _covered(doc, self._mender.cover(doc._.heard_tokens))


class Earlier:
    """Component `earlier`: a `Doc` without the words of what an earlier examination found; the heard words stay."""

    def __call__(self, doc: Doc) -> Doc:
        tokens, cover = without_earlier(doc._.heard_tokens, doc._.cover)
        if len(tokens) == len(doc):
            return doc
        kept = _doc(doc.vocab, tokens, doc._.heard_words)
        return _covered(kept, cover)


class Clauses:
    """Component `clauses`: finds cue phrases (`doc._.cues`), raises the boundaries where clauses begin, sets
    `doc.spans["clauses"]`.
    """

    def __init__(self, lexicon: Lexicon) -> None:
        self._cues = CueFinder(lexicon)

    def __call__(self, doc: Doc) -> Doc:
        tokens, cover = doc._.heard_tokens, doc._.cover
        doc._.cues = cues = self._cues.find_in(tokens, cover)
        reactions = [*cues.get("reaction", []), *answers(tokens, cues.get("full", []))]
        mark_clauses(tokens, cover, reactions)
        doc.spans["clauses"] = [doc[start:end] for start, end in spans(tokens)]
        return doc


class Talk:
    """Component `talk`: sets `doc._.clauses`, each with its kind of talk."""

    def __init__(self) -> None:
        self._teller = TalkTeller()

    def __call__(self, doc: Doc) -> Doc:
        doc._.clauses = self._teller.tell(doc._.heard_tokens, spans(doc._.heard_tokens), doc._.cues, doc._.cover)
        return doc


class Items:
    """Component `items`: sets `doc._.items`, the parts of results and instructions in order."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._extractor = Extractor(lexicon)

    def __call__(self, doc: Doc) -> Doc:
        doc._.items = self._extractor.items(doc._.heard_tokens, doc._.cover, doc._.clauses, doc._.cues)
        return doc


def make_pipeline(lexicon: Lexicon, learned: dict[str, str] | None = None) -> Language:
    """A pipeline with the components `terms`, `earlier`, `clauses`, `talk` and `items` for one lexicon."""
    components: dict[str, Any] = {
        "terms": Terms(lexicon, learned),
        "earlier": Earlier(),
        "clauses": Clauses(lexicon),
        "talk": Talk(),
        "items": Items(lexicon),
    }
    nlp = spacy.blank("en")
    for name, component in components.items():
        Language.component(f"spoken_exam_{name}", func=component)
        nlp.add_pipe(f"spoken_exam_{name}", name=name)
    return nlp


def read(nlp: Language, heard: Heard) -> Doc:
    """A `Doc` of all that was heard, run through the pipeline."""
    tokens, words = tokenise(heard)
    doc = _doc(nlp.vocab, tokens, words)
    if tokens:
        for _, component in nlp.pipeline:
            doc = component(doc)
    return doc


def _covered(doc: Doc, cover: Cover) -> Doc:
    doc._.cover = cover
    doc.spans["terms"] = [doc[match.start : match.end] for match in cover.matches]
    return doc


def _doc(vocab: Vocab, tokens: list[Token], words: list[Word]) -> Doc:
    doc = Doc(vocab, words=[token.text for token in tokens])
    doc._.heard_tokens, doc._.heard_words = tokens, words
    doc._.cover, doc._.cues, doc._.clauses, doc._.items = Cover([], [], []), {}, [], []
    return doc
