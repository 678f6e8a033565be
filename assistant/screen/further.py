"""The addresses of what is printed: labels and plans."""

import asyncio

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from assistant.base.errors import WrongUse
from assistant.screen.house import House
from assistant.screen.printing import label_picture, label_png, labels_pdf, plan_page

_FRESH = {"cache-control": "no-store"}


def printed() -> list[Route]:
    """Their routes."""
    return [
        Route("/label/{batch}.pdf", _labels),
        Route("/label/{batch}.svg", _picture),
        Route("/label/{batch}.png", _png),
        Route("/api/plan", _plan),
    ]


def _house(request: Request) -> House:
    house: House = request.app.state.host.house
    return house


async def _labels(request: Request) -> Response:
    """The labels of a bottled batch, to print."""
    house, asked = _house(request), request.query_params
    copies = int(_number(request, "copies", 0)) or None
    start = int(_number(request, "start", 1))
    name, sheet = request.path_params["batch"], asked.get("sheet", "")
    now = house.clock.now()
    made = await asyncio.to_thread(
        labels_pdf, house.journal, name, now, sheet, copies, start, _size(request)
    )
    return Response(made, media_type="application/pdf", headers=_FRESH)


async def _picture(request: Request) -> Response:
    """One label, to look at before it is printed."""
    house, name = _house(request), request.path_params["batch"]
    sheet, now = request.query_params.get("sheet", ""), house.clock.now()
    made = await asyncio.to_thread(label_picture, house.journal, name, now, sheet, _size(request))
    return Response(made, media_type="image/svg+xml", headers=_FRESH)


async def _png(request: Request) -> Response:
    """The same as PNG, to send to somebody."""
    house, name = _house(request), request.path_params["batch"]
    sheet, now = request.query_params.get("sheet", ""), house.clock.now()
    made = await asyncio.to_thread(label_png, house.journal, name, now, sheet, _size(request))
    return Response(made, media_type="image/png", headers=_FRESH)


def _size(request: Request) -> float | None:
    """The size that is asked for, None for all. [ml]"""
    return _number(request, "size", 0) or None


async def _plan(request: Request) -> Response:
    asked, now = request.query_params, _house(request).clock.now()
    amount, size = _number(request, "amount", 0), _number(request, "size", 500)
    recipe, kind, fruit = (asked.get(name, "") for name in ("recipe", "kind", "fruit"))
    told = await asyncio.to_thread(plan_page, recipe, kind, amount, now, size, fruit)
    return JSONResponse(told, headers=_FRESH)


def _number(request: Request, name: str, otherwise: float) -> float:
    """A number of the address; WrongUse for what is none."""
    told = request.query_params.get(name, "")
    try:
        found = float(told) if told else float(otherwise)
    except ValueError:
        found = float("nan")
    if not abs(found) < 1e6:
        raise WrongUse(f"{told!r} is no number.")
    return found
