"""The page's own files, read once from the package, with the service worker's list of them."""

import hashlib
import json
from dataclasses import dataclass
from html import escape
from importlib.resources import files

_TYPES = {
    "html": "text/html; charset=utf-8",
    "css": "text/css; charset=utf-8",
    "js": "text/javascript; charset=utf-8",
    "svg": "image/svg+xml",
    "woff2": "font/woff2",
    "webmanifest": "application/manifest+json",
}
PAGES = {
    "/": "kitchen.html",
    "/larder": "larder.html",
    "/batches": "batches.html",
    "/plan": "plan.html",
    "/away": "away.html",
}
"""Addresses of the pages themselves; "/away" stands for those that need a connection."""
TROUBLE = "trouble.html"
WORKER = "worker.js"


@dataclass(frozen=True)
class File:
    """A file as it is sent."""

    body: bytes
    kind: str
    tag: str


def page_files() -> dict[str, File]:
    """Every file by the address it is asked for by.

    >>> sorted(page_files())[:3]
    ['/', '/away', '/batches']
    """
    folder = files("assistant.screen").joinpath("page")
    raw = {f.name: f.read_bytes() for f in folder.iterdir() if f.name.rpartition(".")[2] in _TYPES}
    pages = {*PAGES.values(), TROUBLE}
    found = {f"/page/{name}": body for name, body in raw.items() if name not in {WORKER, *pages}}
    found |= {address: raw[name] for address, name in PAGES.items()}
    worker = _worker(raw[WORKER], found)
    made = {address: _file(body, _kind(address)) for address, body in found.items()}
    return made | {f"/{WORKER}": _file(worker, _TYPES["js"])}


def trouble_page(words: str) -> bytes:
    """A page that says what went wrong, with a way back.

    >>> b"&lt;b&gt;" in trouble_page("<b>")
    True
    """
    page = files("assistant.screen").joinpath("page", TROUBLE).read_text("utf-8")
    return page.replace("__WORDS__", escape(words)).encode()


def _worker(body: bytes, found: dict[str, bytes]) -> bytes:
    """The service worker, told what to keep; it changes when any of the files does."""
    whole = hashlib.sha256(b"".join(found[name] for name in sorted(found))).hexdigest()[:16]
    listed = json.dumps(sorted(found))
    return body.replace(b'"__VERSION__"', f'"{whole}"'.encode()).replace(
        b'["__FILES__"]', listed.encode()
    )


def _kind(address: str) -> str:
    name = PAGES.get(address, address)
    return _TYPES[name.rpartition(".")[2]]


def _file(body: bytes, kind: str) -> File:
    return File(body, kind, f'"{hashlib.sha256(body).hexdigest()[:24]}"')
