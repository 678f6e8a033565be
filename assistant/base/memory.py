"""Memory that was used and is free again, given back to the system where its allocator keeps it.

The GNU C library keeps what was freed for the next time, and that for each thread apart: after
models have been loaded and have computed once, it holds about 60 MB that nobody uses. Its manual
tells of both ways to say otherwise: `mallopt` with M_ARENA_MAX, and `malloc_trim`.
"""

import ctypes
import sys
from contextlib import suppress
from typing import Any

_M_ARENA_MAX = -8


def share_free_memory() -> None:
    """Let threads that begin from now on share one store of what is free, on Linux with glibc."""
    with suppress(OSError, AttributeError):
        _library().mallopt(_M_ARENA_MAX, 1)


def give_back_free_memory() -> None:
    """Give back to the system what is free, on Linux with glibc; takes a few milliseconds."""
    with suppress(OSError, AttributeError):
        _library().malloc_trim(0)


def _library() -> Any:
    """The C library that this process runs on; AttributeError where it is none of that kind."""
    if sys.platform != "linux":
        raise AttributeError
    return ctypes.CDLL(None)
