"""What the trade knows, as data: loaded from `lexicons/`, checked, with pronunciations."""

from pipeline.lexicon.load import LexiconError, load
from pipeline.lexicon.model import Lexicon

__all__ = ["Lexicon", "LexiconError", "load"]
