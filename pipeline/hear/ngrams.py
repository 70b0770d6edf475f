"""A trigram language model in the ARPA format: Witten-Bell smoothing, interpolated, over a background of single words.

Witten and Bell 1991 as given in Chen and Goodman 1998 (from memory): after a history seen n times with t different
words, a word has (count + t * P(word | shorter history)) / (n + t).
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from typing import TextIO

START, END = "<s>", "</s>"
_ORDER = 3
_NEVER = -99.0

Gram = tuple[str, ...]


def write_arpa(
    sentences: Iterable[tuple[str, ...]], background: Mapping[str, float], share: float, out: TextIO
) -> None:
    """Write the model of `sentences` mixed with `background`.

    `background`: words and their weights (any scale above 0); `share`: the part of all probability, 0 to 1, that goes
    to the background in every context.
    """
    model = _Model(sentences, background, share)
    orders = [sorted(model.grams(order)) for order in range(1, _ORDER + 1)]
    out.write("\\data\\\n")
    for order, grams in enumerate(orders, 1):
        out.write(f"ngram {order}={len(grams)}\n")
    for order, grams in enumerate(orders, 1):
        out.write(f"\n\\{order}-grams:\n")
        for gram in grams:
            line = f"{_log(model.probability(gram)):.4f}\t{' '.join(gram)}"
            if order < _ORDER and gram[-1] != END:
                line += f"\t{_log(model.back_off(gram)):.4f}"
            out.write(line + "\n")
    out.write("\n\\end\\\n")


class _Model:
    def __init__(self, sentences: Iterable[tuple[str, ...]], background: Mapping[str, float], share: float) -> None:
        self._after: dict[Gram, Counter[str]] = defaultdict(Counter)
        for sentence in sentences:
            words = (START, *sentence, END)
            for end in range(1, len(words)):
                for length in range(min(_ORDER, end + 1)):
                    self._after[words[end - length : end]][words[end]] += 1
        self._size = {history: sum(after.values()) for history, after in self._after.items()}
        self._share = share
        total = sum(background.values())
        self._background = {word: weight / total for word, weight in background.items()}
        self._words = {*self._after[()], *background}
        self._known: dict[Gram, float] = {}

    def grams(self, order: int) -> list[Gram]:
        if order == 1:
            return [(START,), *((word,) for word in self._words)]
        histories = [history for history in self._after if len(history) == order - 1]
        return [(*history, word) for history in histories for word in self._after[history]]

    def probability(self, gram: Gram) -> float:
        """Of the last word after those before it, the background mixed in."""
        if gram == (START,):
            return 0.0
        return (1 - self._share) * self._counted(gram) + self._share * self._background.get(gram[-1], 0.0)

    def back_off(self, history: Gram) -> float:
        """The factor on the shorter history's probabilities that makes those after `history` add up to one."""
        seen = self._after.get(history)
        if not seen:
            return 1.0
        rest = 1 - sum(self.probability((*history, word)) for word in seen)
        shorter = 1 - sum(self.probability((*history[1:], word)) for word in seen)
        return max(rest, 1e-9) / max(shorter, 1e-9)

    def _counted(self, gram: Gram) -> float:
        known = self._known.get(gram)
        if known is None:
            history, word = gram[:-1], gram[-1]
            after = self._after.get(history, Counter())
            kinds, size = len(after), self._size.get(history, 0)
            shorter = self._counted(gram[1:]) if history else 1 / len(self._words)
            known = self._known[gram] = (after[word] + kinds * shorter) / (size + kinds) if size else shorter
        return known


def _log(probability: float) -> float:
    return math.log10(probability) if probability > 0 else _NEVER
