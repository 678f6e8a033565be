"""Asking the site without a network."""

import asyncio
import json
from dataclasses import dataclass
from typing import Any

from starlette.types import ASGIApp

HOST = "127.0.0.1:8747"
THERE = ("192.168.7.20", 50_000)
"""A phone on the local network."""


@dataclass
class Reply:
    status: int
    headers: dict[str, str]
    body: bytes

    def json(self) -> dict[str, Any]:
        found: dict[str, Any] = json.loads(self.body)
        return found


def ask(
    app: ASGIApp,
    path: str,
    *,
    method: str = "GET",
    headers: dict[str, str] | None = None,
    body: bytes = b"",
    client: tuple[str, int] = ("127.0.0.1", 50_000),
    kind: str = "http",
) -> Reply:
    """One request or the opening of a live line; the answer's start decides."""
    given = {"host": HOST, **(headers or {})}
    scope = {
        "type": kind,
        "scheme": "http" if kind == "http" else "ws",
        "method": method,
        "path": path.partition("?")[0],
        "raw_path": path.encode(),
        "query_string": path.partition("?")[2].encode(),
        "headers": [(n.encode(), v.encode()) for n, v in given.items()],
        "client": client,
        "server": ("127.0.0.1", 8747),
        "subprotocols": [],
        "extensions": {},
    }
    return asyncio.run(_ask(app, scope, body))


async def _ask(app: ASGIApp, scope: dict[str, Any], body: bytes) -> Reply:
    sent: list[dict[str, Any]] = []
    first = [{"type": "http.request", "body": body, "more_body": False}]
    if scope["type"] == "websocket":
        first = [{"type": "websocket.connect"}]

    async def receive() -> dict[str, Any]:
        end = "websocket" if scope["type"] == "websocket" else "http"
        return first.pop(0) if first else {"type": f"{end}.disconnect", "code": 1001}

    async def send(message: Any) -> None:
        sent.append(message)

    await app(scope, receive, send)
    if scope["type"] == "websocket":
        return Reply(101 if sent[0]["type"] == "websocket.accept" else 403, {}, b"")
    start = sent[0]
    headers = {n.decode(): v.decode() for n, v in start["headers"]}
    return Reply(start["status"], headers, b"".join(m.get("body", b"") for m in sent[1:]))
