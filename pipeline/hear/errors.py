"""Errors of hearing that a user can mend."""


class InputError(ValueError):
    """The input cannot be used. The message is one line that says what to do."""
