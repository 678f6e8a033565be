"""Where Vosk's English model is, and fetching it with Vosk's own downloader when asked to."""

import contextlib
import os
import re
import socket
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any
from urllib.error import HTTPError, URLError
from zipfile import BadZipFile

from assistant.base.errors import EarsMissing

VARIABLE = "PANSIDE_VOSK_MODEL"
LANGUAGE = "en-us"
_ENGLISH = re.compile(r"vosk-model(-small)?-en\b")
_PARTS = ("am/final.mdl", "conf/mfcc.conf", "conf/model.conf")
_GRAPHS = (("graph/HCLr.fst", "graph/Gr.fst"), ("graph/HCLG.fst",))
"""A graph put together at run time can be held to a phrase list, a ready-made one can't."""
_TIMEOUT_S = 30.0


def find_model(
    path: Path | None = None, environment: Mapping[str, str] | None = None
) -> Path | None:
    """The folder of the English model, or None when there is none.

    Looked for in this order: `path`, the variable PANSIDE_VOSK_MODEL, Vosk's own folders.
    Raises EarsMissing when the path or the variable names a folder that is no whole model.
    """
    named = (os.environ if environment is None else environment).get(VARIABLE)
    if path is not None:
        return checked(path)
    if named:
        return checked(Path(named), f"{VARIABLE} names {named}, but ")
    return next((folder for folder in _stored() if not _lack(folder)), None)


def checked(folder: Path, told: str = "") -> Path:
    """The folder when it holds a whole model; EarsMissing with the missing part otherwise."""
    if not folder.is_dir():
        raise EarsMissing(f"{told}there is no folder {folder}; give the folder of a Vosk model.")
    lack = _lack(folder)
    if lack:
        raise EarsMissing(
            f"{told}{folder} is no whole Vosk model: it lacks {lack}; unpack the model again."
        )
    return folder


def takes_phrases(folder: Path) -> bool:
    """Whether the model can be held to a phrase list."""
    return _filled(folder / "graph/HCLr.fst") and _filled(folder / "graph/Gr.fst")


def _lack(folder: Path) -> str:
    """The first part that a model folder lacks, or nothing. An empty file can hang libvosk."""
    for part in _PARTS:
        if not _filled(folder / part):
            return part
    if not any(all(_filled(folder / part) for part in graph) for graph in _GRAPHS):
        return " and ".join(_GRAPHS[0])
    return ""


def _filled(file: Path) -> bool:
    return file.is_file() and file.stat().st_size > 0


def _stored() -> list[Path]:
    """English model folders in the places where Vosk keeps models, best first."""
    found = [
        folder for place in _places() for folder in _folders(place) if _ENGLISH.match(folder.name)
    ]
    return sorted(found, key=lambda f: (LANGUAGE not in f.name, not takes_phrases(f), f.name))


def _places() -> list[Path]:
    return [Path(place) for place in _vosk().MODEL_DIRS if place]


def _folders(place: Path) -> list[Path]:
    try:
        return [folder for folder in place.iterdir() if folder.is_dir()]
    except OSError:
        return []


def _vosk() -> Any:
    try:
        import vosk
    except (ImportError, OSError, TypeError) as broken:
        raise EarsMissing(
            f"Vosk can't be loaded ({broken}); install it with: pip install vosk==0.3.45"
        ) from broken
    return vosk


def download_model() -> Path:
    """Fetch the small English model into Vosk's own folder, showing progress; its path.

    Raises EarsMissing, in one sentence, when that fails.
    """
    _refuse_leftovers()
    fetcher = _fetcher()
    try:
        with _patient(), contextlib.redirect_stdout(sys.stderr):
            folder = Path(fetcher.get_model_by_lang(LANGUAGE))
    except (Exception, SystemExit) as failed:  # Vosk lets anything through and exits by itself
        raise EarsMissing(
            f"Vosk's English model can't be downloaded ({_reason(failed)}); connect to the network "
            "and try again, or unpack a model by hand and give its folder with --vosk-model."
        ) from failed
    finally:
        _remove_archives()
    return checked(folder)


def _refuse_leftovers() -> None:
    """Vosk takes a half-fetched archive or folder for the model and never fetches it again."""
    for place in _places():
        for left in sorted(place.glob("vosk-model*")) if place.is_dir() else ():
            if _ENGLISH.match(left.name) and (left.is_file() or _lack(left)):
                raise EarsMissing(
                    f"{left} is left over from a download that broke off; delete it and try again."
                )


def _remove_archives() -> None:
    """What a download that broke off leaves behind; there was none before it began."""
    for place in _places():
        for archive in place.glob("vosk-model*.zip") if place.is_dir() else ():
            if _ENGLISH.match(archive.name):
                with contextlib.suppress(OSError):
                    archive.unlink()


def _fetcher() -> Any:
    """Vosk's model class without the model: its downloader is a method."""

    class Fetcher(_vosk().Model):  # type: ignore[misc]
        def __init__(self) -> None:
            """Load nothing."""

        def __del__(self) -> None:
            """Free nothing."""

    return Fetcher()


@contextlib.contextmanager
def _patient() -> Iterator[None]:
    """A limit to waiting for the network: Vosk sets none for the archive itself."""
    before = socket.getdefaulttimeout()
    socket.setdefaulttimeout(_TIMEOUT_S)
    try:
        yield
    finally:
        socket.setdefaulttimeout(before)


def _reason(failed: BaseException) -> str:
    """Why a download failed, in a few words: the first kind of error that fits."""
    import requests

    kinds = (
        (SystemExit, "Vosk offers no such model"),
        (BadZipFile, "the archive is damaged"),
        (HTTPError, f"the server answered {getattr(failed, 'code', '')}"),
        ((TimeoutError, requests.Timeout), "the server did not answer in time"),
        ((ValueError, LookupError, TypeError), "Vosk's list of models can't be read"),
        ((ConnectionError, URLError, requests.RequestException), "no connection"),
        (OSError, getattr(failed, "strerror", None) or "the disk refused"),
    )
    found = (reason for kind, reason in kinds if isinstance(failed, kind))
    return next(found, type(failed).__name__)
