"""What the trade knows, as data: loaded from `lexicons/`, checked, with pronunciations."""

from pipeline.lexicon.load import LexiconError, load
from pipeline.lexicon.model import Lexicon
from pipeline.lexicon.pronounce import phones, phrase_phones

__all__ = ["Lexicon", "LexiconError", "load", "phones", "phrase_phones"]
