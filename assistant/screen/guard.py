"""The door: whom a request came for, from where, and how large it is, before anything reads it.

A page elsewhere must not reach the kitchen through a cook's browser: neither by its own name made
to point here (the Host is checked), nor across sites (Origin and Sec-Fetch-Site are).
"""

from collections.abc import Callable, Collection, Mapping
from ipaddress import ip_address
from urllib.parse import urlsplit

from starlette.datastructures import Headers
from starlette.requests import cookie_parser
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send
from starlette.websockets import WebSocketClose

COOKIE = "panside"
LARGEST_BODY = 4096
"""A code, a recipe's name: nothing that is sent here is larger. [bytes]"""
LONGEST_ADDRESS = 1024
_OPEN = ("/api/me", "/api/pair", "/certificate")
"""What a device that is not paired may ask for, besides the page's own files."""

HEADERS = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
        "connect-src 'self'; media-src 'self' blob:; worker-src 'self'; manifest-src 'self'; "
        "font-src 'self'; "
        "base-uri 'none'; form-action 'none'; frame-ancestors 'none'; "
        "require-trusted-types-for 'script'; trusted-types panside-worker"
    ),
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "microphone=(self), camera=(), geolocation=(), payment=(), usb=()",
}


class Guard:
    """Refuses what is not for us, and puts the safe headers on every answer.

    names : host names, besides this machine's own addresses, that requests may be made for
    knows : whether a cookie is one that was given out; None where only this machine may come in
    """

    def __init__(
        self, app: ASGIApp, names: Collection[str], knows: Callable[[str], bool] | None
    ) -> None:
        self._app, self._names, self._knows = app, frozenset(names), knows

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        refused = self._why_not(scope, headers)
        if refused is None:
            await self._app(scope, _limited(receive), _with_headers(send))
        elif scope["type"] == "websocket":
            await WebSocketClose(code=1008, reason=refused[1])(scope, receive, send)
        else:
            answer = PlainTextResponse(refused[1], status_code=refused[0])
            await answer(scope, receive, _with_headers(send))

    def _why_not(self, scope: Scope, headers: Headers) -> tuple[int, str] | None:
        if not self._is_our_name(scope, headers.get("host", "")):
            return 421, "This is not the address of this kitchen."
        if not self._is_same_site(scope, headers):
            return 403, "Other sites have no business here."
        if len(scope["path"]) + len(scope["query_string"]) > LONGEST_ADDRESS:
            return 414, "The address is too long."
        if _told_length(headers) > LARGEST_BODY:
            return 413, "That is too large."
        if not self._may_come_in(scope, headers):
            return 401, "Pair this device first."
        return None

    def _is_our_name(self, scope: Scope, host: str) -> bool:
        """A name of ours, or the very address the connection came in by; with our port."""
        name, port = _parted(host, scope["scheme"])
        here, our_port = scope["server"] or ("", None)
        if our_port is not None and port != our_port:
            return False
        return name in self._names or (_is_address(name) and name == here)

    def _is_same_site(self, scope: Scope, headers: Headers) -> bool:
        """Origin must be ours wherever something is sent; a read may come without one."""
        if headers.get("sec-fetch-site", "none") not in ("same-origin", "none"):
            return False
        origin = headers.get("origin")
        if origin is None:
            return scope["type"] == "http" and scope["method"] in ("GET", "HEAD")
        secure = scope["scheme"] in ("https", "wss")
        return origin == f"{'https' if secure else 'http'}://{headers.get('host', '')}"

    def _may_come_in(self, scope: Scope, headers: Headers) -> bool:
        path = scope["path"]
        private = scope["type"] == "websocket" or path.startswith(("/api/", "/speech/", "/label/"))
        if not private or path in _OPEN:
            return True
        return self.is_known(scope, headers)

    def is_known(self, scope: Scope, headers: Mapping[str, str]) -> bool:
        """Whether the asker is this machine itself, or a paired device."""
        if is_here(scope):
            return True
        cookie = cookie_parser(headers.get("cookie", "")).get(COOKIE, "")
        return self._knows is not None and self._knows(cookie)


def is_here(scope: Scope) -> bool:
    """Whether the asker sits at this machine."""
    client = scope.get("client")
    return client is not None and _is_address(client[0]) and ip_address(client[0]).is_loopback


def _parted(host: str, scheme: str) -> tuple[str, int]:
    """Name and port of a Host header; ("", 0) for one that is none."""
    try:
        parts = urlsplit(f"//{host}")
        port = parts.port
    except ValueError:
        return "", 0
    if parts.path or parts.query or parts.username is not None:
        return "", 0
    usual = 443 if scheme in ("https", "wss") else 80
    return (parts.hostname or "").rstrip("."), usual if port is None else port


def _is_address(name: str) -> bool:
    try:
        ip_address(name)
    except ValueError:
        return False
    return True


def _told_length(headers: Headers) -> int:
    told = headers.get("content-length", "0")
    return int(told) if told.isdecimal() else LARGEST_BODY + 1


def _limited(receive: Receive) -> Receive:
    """The request's body, cut off with an end where it grows past the limit unannounced."""
    read = 0

    async def limited() -> Message:
        nonlocal read
        message = await receive()
        if message["type"] == "http.request":
            read += len(message.get("body", b""))
            if read > LARGEST_BODY:
                return {"type": "http.disconnect"}
        return message

    return limited


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            known = {name for name, _ in message["headers"]}
            more = [(n.encode(), v.encode()) for n, v in HEADERS.items() if n.encode() not in known]
            message = {**message, "headers": [*message["headers"], *more]}
        await send(message)

    return sending
