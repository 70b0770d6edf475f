"""What can go wrong with the store. Every message is one line that says what to do."""

from __future__ import annotations


class StoreError(Exception):
    """The store cannot do what was asked; nothing was changed."""


class NoSuchExamination(StoreError):
    """The store holds no examination of that id."""


class StaleChange(StoreError):
    """Someone else changed the same thing after the revision that the caller saw."""


class SignedRecord(StoreError):
    """A signed record does not change; an amendment does."""


class StillOpen(StoreError):
    """Something must still be confirmed or cleared before the record can be signed."""


class WrongPassphrase(StoreError):
    """The store is encrypted and the passphrase is missing or wrong."""


class Unreadable(StoreError):
    """An encrypted text or recording was damaged or altered."""
