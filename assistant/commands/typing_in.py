"""Lines from the keyboard or a pipe, and a tick while nobody types, so that timers can ring."""

import io
import os
import select
import sys
from collections.abc import Iterator

LONGEST_LINE = 2_000
"""Characters; of a longer line the rest is read and let go."""
TICK_S = 1.0
"""So often it is told that nobody types. [s]"""
_AT_ONCE = 65_536


def typed(tick_s: float = TICK_S) -> Iterator[str | None]:
    """Each line as it comes, None for each tick without one; bytes that are no text become marks.

    Where the input can't be waited for (no file, or a system that waits for sockets only), there
    is no tick.
    """
    number = _number()
    return _read_on() if number is None else _waiting(number, tick_s)


def _number() -> int | None:
    """The input's number, where it can be waited for."""
    try:
        number = sys.stdin.fileno()
        select.select([number], [], [], 0)
    except (AttributeError, OSError, ValueError):
        return None
    return number


def _waiting(number: int, tick_s: float) -> Iterator[str | None]:
    kept = b""
    while True:
        if not select.select([number], [], [], tick_s)[0]:
            yield None
            continue
        more = os.read(number, _AT_ONCE)
        if not more:
            break
        *lines, kept = (kept + more).split(b"\n")
        yield from map(_text, lines)
        # No character takes more than four bytes.
        kept = kept[: 4 * LONGEST_LINE]
    if kept:
        yield _text(kept)


def _text(line: bytes) -> str:
    return line.decode("utf-8", errors="replace")[:LONGEST_LINE]


def _read_on() -> Iterator[str]:
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(encoding="utf-8", errors="replace")
    while line := sys.stdin.readline(LONGEST_LINE):
        more = line
        while more and not more.endswith("\n"):
            more = sys.stdin.readline(_AT_ONCE)
        yield line
