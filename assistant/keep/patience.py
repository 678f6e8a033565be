"""How long a server may take to answer.

A server that has stopped without a word still holds its connections open, so that no network
timeout ends the waiting: we have to. Each wait of a connection looks at the time that is left.
"""

import math
import time
from collections.abc import Generator, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from psycopg import Connection

TURN = 2.5
"""For all that one turn asks of a server; a cook is told within three seconds. [s]"""
LOOK = 15.0
"""For one statement of a look back or of a backup. [s]"""
_LOCKED = 2.0
"""For a row or a table that another session has locked. [s]"""
_SHORTEST = 1.0
"""With less time left, a new connection is not begun. [s]"""
LATE = "it did not answer in time"

_until: ContextVar[float | None] = ContextVar("until", default=None)


@contextmanager
def within(seconds: float) -> Iterator[None]:
    """All that servers are asked in it must be answered in so much time; a shorter one around it
    stays."""
    wanted = time.monotonic() + seconds
    around = _until.get()
    token = _until.set(wanted if around is None else min(wanted, around))
    try:
        yield
    finally:
        _until.reset(token)


@contextmanager
def unhurried() -> Iterator[None]:
    """What it asks may take as long as it takes: a change of the layout, for example."""
    token = _until.set(math.inf)
    try:
        yield
    finally:
        _until.reset(token)


def _left() -> float:
    until = _until.get()
    return LOOK if until is None else until - time.monotonic()


SESSION = " ".join(
    f"-c {name}={int(1000 * seconds)}"
    for name, seconds in (
        ("statement_timeout", LOOK),
        ("lock_timeout", _LOCKED),
        ("idle_in_transaction_session_timeout", LOOK),
    )
)
"""What the server itself ends, after we have gone (PostgreSQL, "Client Connection Defaults")."""


def connect(cargs: tuple[Any, ...], cparams: dict[str, Any]) -> "Connection[Any]":
    """A connection each of whose waits ends; OperationalError when there is no time for one."""
    import psycopg

    class Impatient(psycopg.Connection[Any]):
        """Waits as long as there is time left."""

        def wait(self, gen: Any, *args: Any, **options: Any) -> Any:
            until = time.monotonic() + _left()
            return super().wait(self._watched(gen, until), *args, **options)

        def _watched(self, gen: Any, until: float) -> Generator[Any, Any, Any]:
            """The same steps; the server is hung up on when it is late."""
            ready = None
            while True:
                try:
                    state = gen.send(ready)
                except StopIteration as done:
                    return done.value
                ready = yield state
                if not ready and time.monotonic() >= until:
                    gen.close()
                    self.pgconn.finish()
                    raise psycopg.OperationalError(LATE)

    if _left() < _SHORTEST:
        raise psycopg.OperationalError(LATE)
    return Impatient.connect(*cargs, **cparams)
