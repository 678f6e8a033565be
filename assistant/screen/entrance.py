"""The entrance: how many connections may wait for a request, and for how long.

A connection that sends nothing, or its request letter by letter, costs whoever opens it nothing.
Where too many wait, the oldest gives way, of the same address first: nobody is turned away for what
another does. Live lines and requests under way are no longer waiting, and are counted elsewhere.
"""

import asyncio
from collections import Counter
from dataclasses import dataclass
from typing import Any, Protocol

import uvicorn
from starlette.types import ASGIApp
from uvicorn.protocols.http.h11_impl import H11Protocol

from assistant.screen.live import LARGEST_MESSAGE


@dataclass(frozen=True)
class Limits:
    """How many connections may wait, of one address and in all, and how long. [s]"""

    from_one: int = 24
    in_all: int = 200
    dawdle_s: float = 10.0


class Guest(Protocol):
    """A connection that waits."""

    address: str

    def give_way(self) -> None:
        """It is closed at once."""


class Waiting:
    """The connections that wait, the oldest first."""

    def __init__(self, limits: Limits) -> None:
        self.limits = limits
        self._guests: dict[Guest, None] = {}
        self._of: Counter[str] = Counter()

    def __len__(self) -> int:
        return len(self._guests)

    def enter(self, guest: Guest) -> None:
        """One more waits; the oldest gives way where that is one too many."""
        if guest in self._guests:
            return
        self._guests[guest] = None
        self._of[guest.address] += 1
        if self._of[guest.address] > self.limits.from_one:
            self._out(next(each for each in self._guests if each.address == guest.address))
        elif len(self._guests) > self.limits.in_all:
            self._out(next(iter(self._guests)))

    def leave(self, guest: Guest) -> None:
        """It waits no more."""
        if guest not in self._guests:
            return
        del self._guests[guest]
        self._of[guest.address] -= 1
        if not self._of[guest.address]:
            del self._of[guest.address]

    def _out(self, guest: Guest) -> None:
        self.leave(guest)
        guest.give_way()


class Entering(H11Protocol):
    """A connection, which waits until its request has arrived."""

    waiting: Waiting
    address = ""
    _patience: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        super().connection_made(transport)
        self.address = self.client[0] if self.client else ""
        self._wait()

    def data_received(self, data: bytes) -> None:
        super().data_received(data)
        if self._is_served():
            self._stop_waiting()

    def on_response_complete(self) -> None:
        self._wait()
        super().on_response_complete()

    def handle_websocket_upgrade(self, event: Any) -> None:
        self._stop_waiting()
        super().handle_websocket_upgrade(event)

    def connection_lost(self, exc: Exception | None) -> None:
        self._stop_waiting()
        super().connection_lost(exc)

    def give_way(self) -> None:
        self._stop_waiting()
        self.transport.abort()

    def _is_served(self) -> bool:
        cycle = self.cycle
        return cycle is not None and not (cycle.response_complete or cycle.more_body)

    def _wait(self) -> None:
        self._stop_waiting()
        if self.transport.is_closing():
            return
        self._patience = self.loop.call_later(self.waiting.limits.dawdle_s, self.give_way)
        self.waiting.enter(self)

    def _stop_waiting(self) -> None:
        self.waiting.leave(self)
        if self._patience is not None:
            self._patience.cancel()
            self._patience = None


def entrance(limits: Limits) -> type[asyncio.Protocol]:
    """The server's protocol with these limits."""
    return type("Entrance", (Entering,), {"waiting": Waiting(limits)})


def server(app: ASGIApp, limits: Limits | None = None, **more: Any) -> uvicorn.Server:
    """The web server for the page, with every limit on what comes in.

    more : as uvicorn takes it, such as certificates
    """
    set_: dict[str, Any] = {
        "http": entrance(limits or Limits()),
        "ws": "websockets-sansio",
        "ws_max_size": LARGEST_MESSAGE,
        "ws_per_message_deflate": False,
        "log_level": "warning",
        "access_log": False,
        "server_header": False,
        "proxy_headers": False,
        "limit_concurrency": 280,
        "timeout_graceful_shutdown": 3,
    }
    return uvicorn.Server(uvicorn.Config(app, **{**set_, **more}))
