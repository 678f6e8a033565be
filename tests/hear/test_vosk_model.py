"""Where Vosk's model is looked for, and what its own downloader may do to us."""

import gc
import json
import re
import socket
import sys
import threading
import warnings
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path

import pytest
import vosk
from model_maker import FIXED, PARTS, make_archive, make_model

from assistant.base.errors import EarsMissing
from assistant.hear.vosk_model import VARIABLE, checked, download_model, find_model, takes_phrases

SMALL = "vosk-model-small-en-us-0.15"


@pytest.fixture
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Vosk's own folder, empty and far from the real one."""
    place = tmp_path / "cache"
    monkeypatch.setattr(vosk, "MODEL_DIRS", [None, tmp_path / "nowhere", place])
    return place


def test_nothing_is_there(store: Path) -> None:
    assert find_model(None, {}) is None
    store.mkdir()
    assert find_model(None, {}) is None


def test_the_path_comes_first_then_the_variable_then_the_store(store: Path, tmp_path: Path) -> None:
    given, named = make_model(tmp_path / "given"), make_model(tmp_path / "named")
    stored = make_model(store / SMALL)
    environment = {VARIABLE: str(named)}
    assert find_model(given, environment) == given
    assert find_model(None, environment) == named
    assert find_model(None, {VARIABLE: ""}) == stored
    assert find_model(None, {}) == stored


@pytest.mark.parametrize(
    ("names", "found"),
    [
        (["vosk-model-small-ko-0.22"], None),
        (["vosk-model-enormous"], None),
        (["vosk-model-small-en-in-0.4"], "vosk-model-small-en-in-0.4"),
        (["vosk-model-en-in-0.5", SMALL, "vosk-model-small-ko-0.22"], SMALL),
    ],
)
def test_only_english_is_taken_from_the_store(
    store: Path, names: list[str], found: str | None
) -> None:
    for name in names:
        make_model(store / name)
    assert find_model(None, {}) == (store / found if found else None)


def test_a_model_that_takes_phrases_is_preferred(store: Path) -> None:
    make_model(store / "vosk-model-en-us-0.22", FIXED)
    assert find_model(None, {}) == store / "vosk-model-en-us-0.22"
    make_model(store / SMALL)
    assert find_model(None, {}) == store / SMALL
    assert takes_phrases(store / SMALL)
    assert not takes_phrases(store / "vosk-model-en-us-0.22")


def test_half_a_model_in_the_store_is_passed_over(store: Path) -> None:
    make_model(store / SMALL, PARTS[:3])
    (store / "vosk-model-en-us-0.22.zip").write_bytes(b"PK")
    assert find_model(None, {}) is None


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("how", ["gone", "empty"])
def test_a_folder_that_lacks_a_part_is_refused(part: str, how: str, tmp_path: Path) -> None:
    """An empty conf/model.conf makes libvosk loop for ever, so this is found out beforehand."""
    folder = make_model(tmp_path / "model")
    (folder / part).write_bytes(b"") if how == "empty" else (folder / part).unlink()
    with pytest.raises(EarsMissing, match=re.escape(part)):
        checked(folder)


def test_what_the_user_named_must_be_there(tmp_path: Path) -> None:
    with pytest.raises(EarsMissing, match="there is no folder"):
        find_model(tmp_path / "gone", {})
    with pytest.raises(EarsMissing, match=f"{VARIABLE} names .*there is no folder"):
        find_model(None, {VARIABLE: str(tmp_path / "gone")})


def test_vosk_may_be_missing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "vosk", None)
    with pytest.raises(EarsMissing, match="pip install vosk"):
        find_model(None, {})


class Shelf:
    """A little server in the place of Vosk's: a list of models and their archives."""

    def __init__(self) -> None:
        self.pages: dict[str, bytes] = {}
        shelf = self

        class Handler(BaseHTTPRequestHandler):
            def do_GET(self) -> None:
                page = shelf.pages.get(self.path)
                self.send_response(404 if page is None else 200)
                self.send_header("Content-Length", str(len(page or b"")))
                self.end_headers()
                self.wfile.write((page or b"")[: shelf.cut])

            def log_message(self, *_: object) -> None:
                """Quiet."""

        self.cut: int | None = None
        self.server = HTTPServer(("127.0.0.1", 0), Handler)
        self.url = f"http://127.0.0.1:{self.server.server_port}/"
        self.thread = threading.Thread(target=self.server.serve_forever, args=(0.01,))
        self.thread.start()

    def offer(self, *models: dict[str, str]) -> None:
        self.pages["/list.json"] = json.dumps(models).encode()

    def close(self) -> None:
        self.server.shutdown()
        self.thread.join()
        self.server.server_close()


@pytest.fixture
def shelf(monkeypatch: pytest.MonkeyPatch) -> Iterator[Shelf]:
    shelf = Shelf()
    monkeypatch.setattr(vosk, "MODEL_PRE_URL", shelf.url)
    monkeypatch.setattr(vosk, "MODEL_LIST_URL", shelf.url + "list.json")
    for name in ("HTTP_PROXY", "http_proxy", "ALL_PROXY", "all_proxy"):
        monkeypatch.delenv(name, raising=False)
    yield shelf
    shelf.close()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ResourceWarning)
        gc.collect()  # Vosk's downloader leaves its connections open


LEFT_OPEN = pytest.mark.filterwarnings(
    "ignore:Exception ignored in. <socket:pytest.PytestUnraisableExceptionWarning"
)
ENGLISH = {"name": SMALL, "lang": "en-us", "type": "small", "obsolete": "false"}


@LEFT_OPEN
def test_the_model_is_fetched_and_then_found(
    store: Path, shelf: Shelf, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    shelf.offer(ENGLISH)
    shelf.pages[f"/{SMALL}.zip"] = make_archive(SMALL, tmp_path)
    assert download_model() == store / SMALL
    assert find_model(None, {}) == store / SMALL
    assert sorted(path.name for path in store.iterdir()) == [SMALL]
    out, progress = capfd.readouterr()
    assert out == ""
    assert SMALL in progress


@LEFT_OPEN
@pytest.mark.parametrize(
    ("pages", "words"),
    [
        ({}, "list of models can't be read"),
        ({"/list.json": b"<html>"}, "list of models can't be read"),
        ({"/list.json": b'[{"name": "x"}]'}, "list of models can't be read"),
        ({"/list.json": b"[]"}, "offers no such model"),
        ({"/list.json": json.dumps([ENGLISH]).encode()}, "answered 404"),
        (
            {"/list.json": json.dumps([ENGLISH]).encode(), f"/{SMALL}.zip": b"not a zip"},
            "archive is damaged",
        ),
    ],
    ids=["no list", "no json", "odd list", "not offered", "no archive", "no zip"],
)
def test_a_failed_download_is_one_sentence(
    store: Path, shelf: Shelf, pages: dict[str, bytes], words: str,
    capfd: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    shelf.pages = pages
    with pytest.raises(EarsMissing, match=words) as caught:
        download_model()
    assert "\n" not in str(caught.value)
    assert "--vosk-model" in str(caught.value)
    assert capfd.readouterr().out == ""
    assert not store.exists() or list(store.iterdir()) == []


@LEFT_OPEN
def test_a_download_that_breaks_off_leaves_nothing_in_the_way(
    store: Path, shelf: Shelf, tmp_path: Path
) -> None:
    shelf.offer(ENGLISH)
    shelf.pages[f"/{SMALL}.zip"] = make_archive(SMALL, tmp_path)
    shelf.cut = len(shelf.pages["/list.json"])
    with pytest.raises(EarsMissing, match="can't be downloaded"):
        download_model()
    assert list(store.iterdir()) == []
    shelf.cut = None
    assert download_model() == store / SMALL


def test_no_network_is_one_sentence(store: Path, shelf: Shelf) -> None:
    shelf.close()
    with pytest.raises(EarsMissing, match="no connection"):
        download_model()
    assert not store.exists()


def test_the_waiting_time_for_other_connections_stays(store: Path, shelf: Shelf) -> None:
    assert not store.exists()
    before = socket.getdefaulttimeout()
    with pytest.raises(EarsMissing):
        download_model()
    assert socket.getdefaulttimeout() == before
    assert shelf.thread.is_alive()


@pytest.mark.parametrize("left", ["archive", "folder"])
def test_leftovers_are_named_before_vosk_takes_them_for_a_model(store: Path, left: str) -> None:
    place = store / (SMALL + (".zip" if left == "archive" else ""))
    make_model(store / SMALL, PARTS[:2]) if left == "folder" else store.mkdir()
    if left == "archive":
        place.write_bytes(b"PK")
    with pytest.raises(EarsMissing, match=f"{re.escape(str(place))} is left over"):
        download_model()
