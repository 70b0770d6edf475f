"""Synthetic speech for tests, evaluation and the demonstration: text in, samples out, nothing leaves the machine."""
