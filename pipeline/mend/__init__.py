"""Mending: misheard words become lexicon terms, with a probability; what is no term is never touched."""
