"""What can go wrong while somebody dictates."""

from __future__ import annotations

from pipeline.hear.errors import InputError


class LiveError(InputError):
    """The dictation cannot start or go on. The message is one line that says what to do."""
