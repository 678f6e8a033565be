"""What we lean on: locked, told, and under licences that are on the list."""

import importlib.util
import re
from importlib.metadata import Distribution
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parent.parent
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")


def _load() -> ModuleType:
    spec = importlib.util.spec_from_file_location("ci_dependencies", ROOT / ".ci/dependencies.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


pytest.importorskip("packaging", reason="comes with pytest")
ci = _load()
LOCKED = {ci.normal(r.name): r for r in ci.versions()}


@pytest.mark.parametrize("wanted", ci.direct(("tests", "postgres", "tls")), ids=str)
def test_each_direct_one_is_locked_to_a_version_that_is_allowed(wanted: object) -> None:
    locked = LOCKED[ci.normal(wanted.name)]  # type: ignore[attr-defined]
    (pin,) = locked.specifier
    assert pin.operator == "=="
    assert wanted.specifier.contains(pin.version)  # type: ignore[attr-defined]


def test_the_lock_names_versions_and_no_place() -> None:
    lines = ci.CONSTRAINTS.read_text("utf-8").splitlines()[1:]
    names = [line.partition("==")[0] for line in lines]
    assert names == sorted(names)
    assert all(re.fullmatch(r"[a-z0-9-]+==[0-9][\w.!+]*", line) for line in lines)


def test_every_licence_is_on_the_list() -> None:
    assert ci.check_licences() == []


class Package(Distribution):
    """A package that is nothing but its metadata."""

    def __init__(self, *lines: str) -> None:
        self._lines = lines

    def read_text(self, filename: str) -> str | None:
        head = ("Metadata-Version: 2.4", "Name: soup", "Version: 1")
        return "\n".join((*head, *self._lines, "")) if filename == "METADATA" else None

    def locate_file(self, path: object) -> Path:
        return Path(str(path))


@pytest.mark.parametrize(
    ("line", "licence", "on_the_list"),
    [
        ("License-Expression: MIT", "MIT", True),
        ("License-Expression: MIT AND GPL-3.0-only", "MIT AND GPL-3.0-only", False),
        ("License-Expression: GPL-3.0-only OR MIT", "GPL-3.0-only OR MIT", True),
        ("License-Expression: LGPL-3.0-only", "LGPL-3.0-only", False),
        ("License: BSD", "BSD-3-Clause", True),
        ("Classifier: License :: OSI Approved :: Apache Software License", "Apache-2.0", True),
        ("License: ask the cook", "", False),
        ("Summary: says nothing", "", False),
    ],
)
def test_a_licence_is_read_and_judged(line: str, licence: str, on_the_list: bool) -> None:
    assert ci.licence(Package(line)) == licence
    assert ci.allowed("soup", licence) is on_the_list


@pytest.mark.parametrize("wanted", ci.direct(("tests", "postgres", "tls")), ids=str)
def test_each_direct_one_is_told_to_contributors(wanted: object) -> None:
    assert f"\n| {wanted.name.lower()} |" in DEVELOPERS.lower()  # type: ignore[attr-defined]
