"""Encryption at rest: AES-256-GCM from the `cryptography` library, under a key that a passphrase opens.

The data key is random and stored wrapped by a key that scrypt derives from the passphrase, so the passphrase itself is
kept nowhere and a lost one cannot be recovered.
"""

from __future__ import annotations

import base64
import os
from typing import Protocol
from weakref import WeakKeyDictionary

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt
from sqlalchemy import Dialect, Text, TypeDecorator

from pipeline.record.errors import Unreadable, WrongPassphrase

NONCE = 12  # bytes; the size that AES-GCM is specified for (NIST SP 800-38D, from memory)
OVERHEAD = NONCE + 16  # nonce and authentication tag

# RFC 7914 section 2 names r = 8 and p = 1; the cost 2**17 takes 128 MiB: common practice, from memory.
SCRYPT_COST = 2**17


class Sealer(Protocol):
    """Turns bytes into what is stored, and back. `place` binds a piece to where it belongs."""

    overhead: int

    def seal(self, data: bytes, place: bytes = b"") -> bytes: ...

    def unseal(self, data: bytes, place: bytes = b"") -> bytes: ...


class Open:
    """No passphrase: everything is stored as it is."""

    overhead = 0

    def seal(self, data: bytes, place: bytes = b"") -> bytes:
        return data

    def unseal(self, data: bytes, place: bytes = b"") -> bytes:
        return data


class Locked:
    """Seals with the store's data key."""

    overhead = OVERHEAD

    def __init__(self, key: bytes) -> None:
        self._cipher = AESGCM(key)

    def seal(self, data: bytes, place: bytes = b"") -> bytes:
        nonce = os.urandom(NONCE)
        return nonce + self._cipher.encrypt(nonce, data, place)

    def unseal(self, data: bytes, place: bytes = b"") -> bytes:
        """Raises `Unreadable` when the data was damaged, altered or put in another place."""
        try:
            return self._cipher.decrypt(data[:NONCE], data[NONCE:], place)
        except (InvalidTag, ValueError) as error:
            raise Unreadable("an encrypted part of the store is damaged; restore it from a backup") from error


def _passphrase_cipher(passphrase: str, salt: bytes, cost: int) -> Locked:
    return Locked(Scrypt(salt=salt, length=32, n=cost, r=8, p=1).derive(passphrase.encode()))


def new_key(passphrase: str) -> tuple[Locked, str, int, str]:
    """A fresh data key. Returns its sealer and what to store: salt, scrypt cost, wrapped key."""
    salt, key = os.urandom(16), AESGCM.generate_key(bit_length=256)
    wrapped = _passphrase_cipher(passphrase, salt, SCRYPT_COST).seal(key, b"key")
    return Locked(key), _text(salt), SCRYPT_COST, _text(wrapped)


def open_key(passphrase: str, salt: str, cost: int, wrapped: str) -> Locked:
    """Raises `WrongPassphrase` when the passphrase does not open the stored key."""
    cipher = _passphrase_cipher(passphrase, base64.b64decode(salt), cost)
    try:
        return Locked(cipher.unseal(base64.b64decode(wrapped), b"key"))
    except Unreadable as error:
        raise WrongPassphrase("the passphrase does not open this store; check it and try again") from error


def _text(data: bytes) -> str:
    return base64.b64encode(data).decode("ascii")


sealers: WeakKeyDictionary[Dialect, Sealer] = WeakKeyDictionary()
"""The sealer of each open database; a column type knows only its dialect, and each engine has its own."""


class Sealed(TypeDecorator[str]):
    """A text column that holds a patient's words or values."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: str | None, dialect: Dialect) -> str | None:
        sealer = sealers.get(dialect)
        if value is None or not isinstance(sealer, Locked):
            return value
        return _text(sealer.seal(value.encode()))

    def process_result_value(self, value: str | None, dialect: Dialect) -> str | None:
        sealer = sealers.get(dialect)
        if value is None or not isinstance(sealer, Locked):
            return value
        try:
            return sealer.unseal(base64.b64decode(value)).decode()
        except ValueError as error:
            raise Unreadable("an encrypted part of the store is damaged; restore it from a backup") from error
