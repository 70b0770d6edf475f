"""Cue phrases of talk: where each kind from `lexicons/phrases.yaml` stands in the tokens."""

from __future__ import annotations

import re
from collections import defaultdict

from pipeline.lexicon.model import Lexicon
from pipeline.mend.matches import Cover
from pipeline.mend.tokens import COMMA, Token

CUES = (
    "hypothetical",
    "modal",
    "general",
    "history",
    "plan",
    "impression",
    "other_person",
    "question",
    "fillers",
    "reaction",
    "full",
    "declined",
    "pain",
    "unable",
    "deferred",
    "repair",
)

_YEAR = re.compile(r"(?:19|20)\d\d")
SHOWN = ("gait", "coordination")
"""Scales of tests that are watched: what is "okay on the left" is their result."""
_SHOWN_WITHIN = 10
"""Most tokens from such a test to the result of a side."""
OF_A_SIDE = (["on", "the", "left"], ["on", "the", "right"])
"""What follows a result in "ataxic on the left and fine on the right"."""


class CueFinder:
    """Finds cue phrases, longest first; kinds may overlap each other but not themselves."""

    def __init__(self, lexicon: Lexicon, kinds: tuple[str, ...] = CUES) -> None:
        self._scales = {manoeuvre.id: manoeuvre.scale for manoeuvre in lexicon.manoeuvres}
        self._by_first: dict[str, list[tuple[tuple[str, ...], str]]] = defaultdict(list)
        for kind in kinds:
            for name in lexicon.phrases.get(kind, ()):
                words = tuple(name.replace("-", " ").split())
                self._by_first[words[0]].append((words, kind))
        for entries in self._by_first.values():
            entries.sort(key=lambda entry: -len(entry[0]))

    def find(self, words: list[str]) -> dict[str, list[tuple[int, int]]]:
        """kind -> (start, end) spans in order."""
        found: dict[str, list[tuple[int, int]]] = defaultdict(list)
        for at, word in enumerate(words):
            if word == "in" and _YEAR.fullmatch("".join(words[at + 1 : at + 2])):
                found["history"].append((at, at + 2))  # "in 2019"
            for phrase, kind in self._by_first.get(word, ()):
                end = at + len(phrase)
                spans = found[kind]
                if (not spans or spans[-1][1] <= at) and tuple(words[at:end]) == phrase:
                    spans.append((at, end))
        return found

    def find_in(self, tokens: list[Token], cover: Cover) -> dict[str, list[tuple[int, int]]]:
        """As `find`, without cues that are part of a mended term, and with only those reactions that stand alone."""
        words = [token.text for token in tokens]
        mended = {at for match in cover.matches if match.mended for at in range(match.start, match.end)}
        found = {
            kind: [(start, end) for start, end in spans if not any(at in mended for at in range(start, end))]
            for kind, spans in self.find(words).items()
        }
        wide = {at for match in cover.matches if match.end - match.start > 1 for at in range(match.start, match.end)}
        scales = {
            match.end: {self._scales[meaning.id] for meaning in match.term.meanings if meaning.id in self._scales}
            for match in cover.matches
        }
        answers = {
            (match.start, match.end)
            for match in cover.matches
            if tokens[match.start].boundary < 1
            and any(meaning.id.split(":")[0] in scales.get(match.start, ()) for meaning in match.term.meanings)
        }  # "toe walking fine" says how it was
        roots = {root.end for root in cover.roots}
        shown = {end for end, tested in scales.items() if not tested.isdisjoint(SHOWN)}
        found["general"] = [
            (start, end)
            for start, end in found.get("general", [])
            if not (words[start:end] == ["normally"] and start and words[start - 1] in _GOING)
        ]
        found["reaction"] = [
            (start, end)
            for start, end in found.get("reaction", [])
            if not any(at in wide for at in range(start, end))
            and (start, end) not in answers
            and not (words[start:end] == ["fine"] and start - (words[start - 1] == "all") in roots)  # "C5, C6 all fine"
            and not (start and words[start - 1] in _NOT_BEFORE_REACTION and tokens[start].boundary < 1)
            and not (
                end < len(words)
                and words[end] in _NOT_AFTER_REACTION
                and words[end : end + 2] not in _BEGINNING_ANEW
                and tokens[end].boundary < 0.5
            )
            and not (
                words[start:end] == ["nice"] and words[end : end + 1] == ["and"] and words[start - 1] in _TO_BECOME
            )
            and not (words[start - 1] in ("and", "but") and words[end : end + 3] in OF_A_SIDE)
            and not (
                (words[end : end + 3] in OF_A_SIDE or words[end : end + 2] == ["on", "both"])
                and tokens[end].boundary < COMMA
                and not shown.isdisjoint(range(start - _SHOWN_WITHIN, start + 1))
            )  # "heel walking okay on both"
        ]
        return found


_GOING = frozenset("walks walked walking moves moved".split())
"""What "normally" tells the manner of, and not what is so in general."""
_TO_BECOME = frozenset("go goes it them stay keep all get".split())
"""What leads to "nice and loose" in an order."""
_NOT_BEFORE_REACTION = frozenset("is are was were very a not feels looks 's it's the your my his her no some".split())
_BEGINNING_ANEW = (["light", "touch"], ["point", "it"], ["point", "them"], ["point", "your"], ["point", "the"])
"""What is no "good light" or "good point"."""
_NOT_AFTER_REACTION = frozenset(
    """one light power strength thing idea place morning afternoon evening question point enough reason for
        range effort as until at""".split()
)
