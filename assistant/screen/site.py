"""The kitchen page's site: addresses, and the state behind them."""

import asyncio
import io
from collections.abc import AsyncIterator, Awaitable, Callable, Collection
from contextlib import asynccontextmanager, suppress
from dataclasses import dataclass, field
from typing import Any

import segno
from pydantic import BaseModel, ConfigDict, Field, ValidationError
from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, Request
from starlette.responses import JSONResponse, PlainTextResponse, Response
from starlette.routing import Route, WebSocketRoute
from starlette.types import ASGIApp
from starlette.websockets import WebSocket

from assistant.base.errors import PansideError, WrongUse
from assistant.hear.heard import Ears
from assistant.screen.acting import ActIn
from assistant.screen.devices import kind_of
from assistant.screen.files import File, page_files, trouble_page
from assistant.screen.further import printed
from assistant.screen.guard import COOKIE, Guard, is_here
from assistant.screen.house import House
from assistant.screen.live import Page, refuse_batch
from assistant.screen.looking import batch_page, batches_page, larder_page, latest_open
from assistant.screen.pairing import DAYS, Pairing, TooManyTries, spaced

MOST_PAGES = 64
"""Live lines at a time: more is no kitchen."""
MOST_FROM_ONE = 12
"""Live lines of one device on the network, so that it can't take them all."""


@dataclass
class Host:
    """What the site needs.

    ears : gives the recogniser, once it is open; EarsMissing when there is none
    pairing : None where only this machine may come in
    names : host names requests may be made for
    address : where other devices find the page, "" where they can't
    certificate : the local authority's certificate, where there is one
    batch : the batch the page opens with, None for the latest unfinished one
    """

    house: House
    ears: Callable[[], Awaitable[Ears]]
    names: Collection[str]
    pairing: Pairing | None = None
    address: str = ""
    certificate: bytes = b""
    batch: str | None = None
    secure: bool = False
    pages: set[Page] = field(default_factory=set)


class CodeIn(BaseModel):
    """A code that somebody typed or scanned."""

    model_config = ConfigDict(extra="forbid")
    code: str = Field(max_length=64)


class AwayIn(BaseModel):
    """A device that is to come in no more."""

    model_config = ConfigDict(extra="forbid")
    device: str = Field(max_length=64)


class BeginIn(BaseModel):
    """A batch to begin: of a recipe, or the same as an old one; id is the wish's own."""

    model_config = ConfigDict(extra="forbid")
    id: str = Field(pattern=r"^[A-Za-z0-9-]{8,64}$")
    recipe: str = Field("", max_length=64)
    again: str = Field("", max_length=64)


def site(host: Host) -> ASGIApp:
    """The whole application, behind its guard."""
    files = page_files()
    routes = [
        *(Route(address, _sender(file)) for address, file in files.items()),
        Route("/api/me", _me),
        Route("/api/pair", _pair, methods=["POST"]),
        Route("/api/pairing", _pairing),
        Route("/api/devices", _devices),
        Route("/api/devices", _send_away, methods=["POST"]),
        Route("/api/larder", _larder),
        Route("/api/larder", _act, methods=["POST"]),
        *printed(),
        Route("/api/batches", _batches),
        Route("/api/batches", _begin, methods=["POST"]),
        Route("/api/batches/{batch}", _batch),
        Route("/speech/{key}.wav", _speech),
        Route("/certificate", _certificate),
        WebSocketRoute("/live", _live),
    ]
    handlers: dict[Any, Any] = {
        PansideError: _fault,
        ClientDisconnect: _cut_off,
        HTTPException: _not_there,
    }
    app = Starlette(routes=routes, lifespan=_lifespan, exception_handlers=handlers)
    app.state.host = host
    app.state.guard = Guard(app, host.names, host.pairing.knows if host.pairing else None)
    guard: Guard = app.state.guard
    return guard


@asynccontextmanager
async def _lifespan(app: Starlette) -> AsyncIterator[None]:
    """The clock of the timers runs while the site does; rooms are left in good order."""
    host: Host = app.state.host
    pairing = host.pairing
    each = (lambda: _renewed(pairing)) if pairing else (lambda: None)
    timing = asyncio.create_task(host.house.keep_time(each))
    try:
        yield
    finally:
        timing.cancel()
        with suppress(asyncio.CancelledError):
            await timing
        await host.house.close()


def _renewed(pairing: Pairing) -> None:
    pairing.code()


def _host(request: Request | WebSocket) -> Host:
    host: Host = request.app.state.host
    return host


def _address(request: Request | WebSocket) -> str:
    """Where something comes from."""
    return request.client.host if request.client else ""


def _sender(file: File) -> Callable[[Request], Awaitable[Response]]:
    async def send(request: Request) -> Response:
        headers = {"etag": file.tag, "cache-control": "no-cache"}
        if request.headers.get("if-none-match") == file.tag:
            return Response(status_code=304, headers=headers)
        return Response(file.body, media_type=file.kind, headers=headers)

    return send


def _json(record: dict[str, Any], status: int = 200) -> JSONResponse:
    return JSONResponse(record, status, headers={"cache-control": "no-store"})


async def _fault(request: Request, error: Exception) -> Response:
    """An error that a user may meet, as its one sentence."""
    if _is_opened(request):
        return _trouble(str(error), 400)
    return _json({"error": str(error)}, 400)


async def _not_there(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 404
    if _is_opened(request):
        return _trouble("There is no such page here.", status)
    return PlainTextResponse("There is nothing of that name here.", status)


def _is_opened(request: Request) -> bool:
    """Whether somebody has opened the address, and no script of the page asked."""
    return "text/html" in request.headers.get("accept", "")


def _trouble(words: str, status: int) -> Response:
    headers = {"cache-control": "no-store"}
    return Response(trouble_page(words), status, headers, media_type="text/html")


async def _cut_off(_request: Request, _error: Exception) -> Response:
    return PlainTextResponse("That is too large.", 413)


async def _me(request: Request) -> Response:
    """Whether the asker may come in, and what the page should open."""
    host = _host(request)
    known = request.app.state.guard.is_known(request.scope, request.headers)
    first = None
    if known:
        _saw(request)
        first = host.batch or await asyncio.to_thread(latest_open, host.house.journal)
    return _json({
        "known": known,
        "here": is_here(request.scope),
        "shared": host.pairing is not None,
        "certificate": bool(host.certificate),
        "batch": first,
        "sound": host.house.speech is not None,
    })  # fmt: skip


async def _pair(request: Request) -> Response:
    """A right code becomes a cookie that scripts can't read and other sites can't send."""
    host = _host(request)
    if host.pairing is None:
        return _json({"error": "This kitchen is not shared: start it with --lan."}, 403)
    try:
        asked = CodeIn.model_validate_json(await request.body())
        name = kind_of(request.headers.get("user-agent", ""))
        cookie = host.pairing.exchange(asked.code, _address(request), name)
    except ValidationError:
        return _json({"error": "That is no code."}, 400)
    except TooManyTries:
        return _json({"error": "Too many wrong codes. Wait a minute and try again."}, 429)
    if cookie is None:
        return _json({"error": "That is not the code. Look at the kitchen's machine."}, 403)
    answer = _json({"known": True})
    answer.set_cookie(
        COOKIE,
        cookie,
        max_age=DAYS * 86_400,
        httponly=True,
        samesite="strict",
        secure=host.secure,
    )
    return answer


def _saw(request: Request | WebSocket) -> str:
    """The paired device that asks, which was seen now; "" for this machine."""
    pairing = _host(request).pairing
    device = pairing.device(request.cookies.get(COOKIE, "")) if pairing else None
    if pairing is None or device is None:
        return ""
    pairing.devices.saw(device, kind_of(request.headers.get("user-agent", "")))
    return device


def _own_pairing(request: Request) -> Pairing:
    """Where the kitchen's own screen asks; WrongUse elsewhere."""
    pairing = _host(request).pairing
    if pairing is None or not is_here(request.scope):
        raise WrongUse("That is for the kitchen's own machine only.")
    return pairing


async def _devices(request: Request) -> Response:
    """Every device that was let in, for the kitchen's own screen only."""
    listed = _own_pairing(request).devices.listed()
    open_ = {page.paired for page in _host(request).pages}
    return _json({
        "devices": [{**each.model_dump(), "here": each.id in open_} for each in listed]
    })  # fmt: skip


async def _send_away(request: Request) -> Response:
    """A device may come in no more; its lines are closed at once."""
    pairing = _own_pairing(request)
    try:
        wanted = AwayIn.model_validate_json(await request.body())
    except ValidationError:
        return _json({"error": "Which device?"}, 400)
    if not pairing.devices.send_away(wanted.device):
        return _json({"error": "There is no such device."}, 400)
    for page in tuple(_host(request).pages):
        if page.paired == wanted.device:
            page.send_away()
    return await _devices(request)


async def _pairing(request: Request) -> Response:
    """The code and its picture, for the kitchen's own screen only."""
    host = _host(request)
    if host.pairing is None or not is_here(request.scope):
        return _json({"error": "The code is shown on the kitchen's own machine only."}, 403)
    code = host.pairing.code()
    return _json({
        "code": spaced(code),
        "address": host.address,
        "left_s": round(host.pairing.left_s()),
        "picture": segno.make(pair_address(host.address, code)).svg_data_uri(scale=6, border=4),
    })  # fmt: skip


def pair_address(address: str, code: str) -> str:
    """Where a scanned code leads: behind the hash, so that it is in no request and no log."""
    return f"{address}#pair={code}"


def qr_text(address: str, code: str) -> str:
    """The same as a picture of characters, for a terminal."""
    drawn = io.StringIO()
    segno.make(pair_address(address, code)).terminal(out=drawn, compact=True)
    return drawn.getvalue()


async def _larder(request: Request) -> Response:
    house = _host(request).house
    return _json(await asyncio.to_thread(larder_page, house.journal, house.clock.now()))


async def _act(request: Request) -> Response:
    """What became of bottles, with a tap."""
    house = _host(request).house
    try:
        wanted = ActIn.model_validate_json(await request.body())
    except ValidationError:
        return _json({"error": "The page sent something that can't be read. Load it again."}, 400)
    return _json({"said": list(await house.act(wanted))})


async def _batches(request: Request) -> Response:
    house = _host(request).house
    return _json(await asyncio.to_thread(batches_page, house.journal, house.clock.now()))


async def _begin(request: Request) -> Response:
    try:
        wanted = BeginIn.model_validate_json(await request.body())
    except ValidationError:
        return _json({"error": "Which recipe?"}, 400)
    house = _host(request).house
    return _json({"batch": await house.begin(wanted.recipe, wanted.again, wanted.id)})


async def _batch(request: Request) -> Response:
    house, name = _host(request).house, request.path_params["batch"]
    return _json(await asyncio.to_thread(batch_page, house.journal, name, house.clock.now()))


async def _speech(request: Request) -> Response:
    speech = _host(request).house.speech
    made = await asyncio.to_thread(speech.wav, request.path_params["key"]) if speech else None
    if made is None:
        return PlainTextResponse("That sentence is no longer kept.", 404)
    return Response(made, media_type="audio/wav", headers={"cache-control": "no-store"})


async def _certificate(request: Request) -> Response:
    """The local authority's certificate, for a device to trust; it holds no secret."""
    made = _host(request).certificate
    if not made:
        return PlainTextResponse("There is none: start with --tls.", 404)
    return Response(made, media_type="application/x-x509-ca-cert")


async def _live(socket: WebSocket) -> None:
    host = _host(socket)
    near = is_here(socket.scope)
    mine = sum(page.address == _address(socket) for page in host.pages)
    if len(host.pages) >= MOST_PAGES or (mine >= MOST_FROM_ONE and not near):
        await socket.close(1013, "too many pages")
        return
    await socket.accept()
    page = Page(socket, host.house, socket.query_params.get("batch", "")[:64], host.ears)
    page.address, page.paired = _address(socket), _saw(socket)
    host.pages.add(page)
    try:
        await page.run()
    except PansideError as error:
        await refuse_batch(socket, error)
    finally:
        host.pages.discard(page)
