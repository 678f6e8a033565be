"""The entrance: who waits without asking for anything keeps nobody out."""

import asyncio
import socket
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.request import urlopen

import pytest
import uvicorn
from starlette.types import Receive, Scope, Send
from uvicorn.server import ServerState

pytest.importorskip("playwright", reason="kitchens.py drives a browser too: pip install '.[tests]'")
from kitchens import Kitchen

from assistant.screen.entrance import Limits, Waiting, entrance

DAWDLE_S = 7.0
REQUEST = b"GET / HTTP/1.1\r\nHost: x\r\n\r\n"


class Guest:
    """A connection that notes whether it had to go."""

    def __init__(self, address: str) -> None:
        self.address, self.gone = address, False

    def give_way(self) -> None:
        self.gone = True


def test_the_oldest_of_the_same_address_gives_way() -> None:
    waiting = Waiting(Limits(from_one=2, in_all=10))
    phone, *flood = Guest("phone"), Guest("other"), Guest("other"), Guest("other")
    for guest in (phone, *flood):
        waiting.enter(guest)
    assert [guest.gone for guest in (phone, *flood)] == [False, True, False, False]
    waiting.leave(flood[1])
    waiting.enter(Guest("other"))
    assert not flood[2].gone


def test_with_too_many_in_all_the_oldest_gives_way() -> None:
    waiting = Waiting(Limits(from_one=2, in_all=3))
    guests = [Guest(str(number)) for number in range(5)]
    for guest in guests:
        waiting.enter(guest)
    assert [guest.gone for guest in guests] == [True, True, False, False, False]
    assert len(waiting) == 3


class Line(asyncio.Transport):
    """A connection without a network."""

    def __init__(self) -> None:
        super().__init__({"peername": ("192.168.7.20", 50_000), "sockname": ("127.0.0.1", 8747)})
        self.sent, self.aborted = b"", False

    def write(self, data: Any) -> None:
        self.sent += data

    def abort(self) -> None:
        self.aborted = True

    def is_closing(self) -> bool:
        return self.aborted

    def close(self) -> None:
        self.aborted = True


class Patience:
    """A call that somebody waits for."""

    def __init__(self, clock: "Clock", seconds: float, act: Callable[[], None]) -> None:
        self._clock, self.seconds, self.act = clock, seconds, act

    def cancel(self) -> None:
        self._clock.waited.discard(self)


class Clock:
    """An event loop on which no time passes."""

    def __init__(self, loop: asyncio.AbstractEventLoop) -> None:
        self._loop = loop
        self.waited: set[Patience] = set()

    def call_later(self, seconds: float, act: Callable[[], None]) -> Patience:
        made = Patience(self, seconds, act)
        self.waited.add(made)
        return made

    def patience(self) -> list[Patience]:
        """The calls that end a connection's patience."""
        return [each for each in self.waited if each.seconds == DAWDLE_S]

    def __getattr__(self, name: str) -> Any:
        return getattr(self._loop, name)


async def _answers(_scope: Scope, _receive: Receive, send: Send) -> None:
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": b"here"})


def _entered() -> tuple[Any, Line, Clock]:
    clock, line = Clock(asyncio.get_running_loop()), Line()
    config = uvicorn.Config(_answers, log_level="error", lifespan="off")
    made: Any = entrance(Limits(dawdle_s=DAWDLE_S))
    guest = made(config, ServerState(), {}, _loop=clock)
    guest.connection_made(line)
    return guest, line, clock


@pytest.mark.anyio
@pytest.mark.parametrize("sent", [b"", b"GET / HT", REQUEST[:-2]])
async def test_who_dawdles_over_a_request_is_let_go(sent: bytes) -> None:
    guest, line, clock = _entered()
    for letter in sent:
        before = clock.patience()
        guest.data_received(bytes([letter]))
        assert clock.patience() == before, "a letter now and then is no reason for more patience"
    (patience,) = clock.patience()
    patience.act()
    assert line.aborted


@pytest.mark.anyio
async def test_who_has_asked_is_served_and_may_ask_again() -> None:
    guest, line, clock = _entered()
    for _ in range(2):
        guest.data_received(REQUEST)
        assert clock.patience() == []
        for _ in range(4):
            await asyncio.sleep(0)
        assert line.sent.count(b"here") == 1
        line.sent = b""
    assert not line.aborted


def test_three_hundred_half_open_connections_keep_nobody_out(tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path)
    idle: list[socket.socket] = []
    with kitchen.served(limits=Limits(from_one=8)) as address:
        port = int(address.rpartition(":")[2].strip("/"))
        try:
            for number in range(300):
                made = socket.create_connection(
                    ("127.0.0.1", port), source_address=("127.0.0.2", 0)
                )
                made.sendall(REQUEST[: number % 20])
                idle.append(made)
            for path in ("", "api/me", "api/larder"):
                assert urlopen(address + path, timeout=10).status == 200
            open_ = [each for each in idle if _is_open(each)]
        finally:
            for each in idle:
                each.close()
    assert len(open_) <= 8


def _is_open(line: socket.socket) -> bool:
    """Whether the other end has not closed it."""
    line.setblocking(False)
    try:
        return line.recv(1) != b""
    except BlockingIOError:
        return True
    except ConnectionError:
        return False
