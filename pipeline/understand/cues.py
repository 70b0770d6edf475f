"""Cue phrases of talk: where each kind from `lexicons/phrases.yaml` stands in the tokens."""

from __future__ import annotations

from collections import defaultdict

from pipeline.lexicon.model import Lexicon

CUES = (
    "hypothetical", "modal", "general", "history", "plan", "impression", "other_person", "question", "fillers", "reaction", "full",
    "declined", "pain", "unable", "deferred",
)  # fmt: skip


class CueFinder:
    """Finds cue phrases, longest first; kinds may overlap each other but not themselves."""

    def __init__(self, lexicon: Lexicon, kinds: tuple[str, ...] = CUES) -> None:
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
            for phrase, kind in self._by_first.get(word, ()):
                end = at + len(phrase)
                spans = found[kind]
                if (not spans or spans[-1][1] <= at) and tuple(words[at:end]) == phrase:
                    spans.append((at, end))
        return found
