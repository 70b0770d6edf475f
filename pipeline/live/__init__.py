"""One dictation as it happens: sound to disk first, then words, rows and a board that shows them."""
