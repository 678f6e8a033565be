"""The page's own files: nothing from elsewhere, nothing that could run what a cook said."""

import re
from importlib.resources import files

import pytest

from assistant.screen.files import PAGES, page_files

PAGE = files("assistant.screen").joinpath("page")
NAMES = sorted(f.name for f in PAGE.iterdir())
TEXTS = [name for name in NAMES if not name.endswith(".woff2")]
_OUTSIDE = re.compile(
    r"https?://(?!www\.w3\.org/2000/svg)|(?<![:\w])//[a-z]+\.[a-z]|@import|url\((?!\"/page/)"
)
_RUNS = re.compile(
    r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\b|new Function|\.srcdoc"
    r"|\sstyle=|\son\w+=\"|<script(?! type=\"module\" src=)|createContextualFragment|DOMParser"
)


@pytest.mark.parametrize("name", TEXTS)
def test_nothing_comes_from_elsewhere_and_nothing_is_run(name: str) -> None:
    text = PAGE.joinpath(name).read_text("utf-8")
    assert _OUTSIDE.findall(text) == []
    assert _RUNS.findall(text) == []


def test_every_file_is_sent_and_kept_for_later() -> None:
    found = page_files()
    assert {name for name in found if name != "/worker.js"} == {
        *(f"/page/{n}" for n in NAMES if not n.endswith(".html") and n != "worker.js"),
        *PAGES,
    }  # fmt: skip
    worker = found["/worker.js"].body.decode()
    assert all(f'"{name}"' in worker for name in found if name != "/worker.js")
    assert "__" not in worker


def test_every_file_that_is_named_is_there() -> None:
    found = page_files()
    for name in TEXTS:
        text = PAGE.joinpath(name).read_text("utf-8")
        for named in re.findall(r'"(/page/[\w.-]+)"', text):
            assert named in found, (name, named)
        for named in re.findall(r'from "\./([\w.-]+)"', text):
            assert f"/page/{named}" in found, (name, named)
