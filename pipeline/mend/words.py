"""How common words are."""

from __future__ import annotations

from functools import lru_cache

from wordfreq import zipf_frequency


@lru_cache(maxsize=50_000)
def frequency(word: str) -> float:
    """Zipf frequency of an English word (0: unknown, 3: once in a million words, 7: "the")."""
    return zipf_frequency(word, "en")
