"""Memory that is free, but still held for the next time.

Each time the talk is understood anew, and each time sound is heard, much memory is taken and freed. The C library keeps
it, in pieces, and the process seems to grow through a long dictation.
"""

from __future__ import annotations

import ctypes
from functools import cache
from typing import Any


def give_back() -> None:
    """Gives free memory back to the system, where the C library can (GNU); elsewhere nothing."""
    library = _library()
    if library is not None:
        library.malloc_trim(0)


@cache
def _library() -> Any:
    try:
        library = ctypes.CDLL(None)
    except (OSError, TypeError):
        return None
    return library if hasattr(library, "malloc_trim") else None
