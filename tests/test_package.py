"""What is published holds all that runs, all that tests need, and nothing else."""

import os
import subprocess
import sys
import tarfile
import zipfile
from collections.abc import Iterable
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
BUILD = "from hatchling import build; print(build.build_{kind}({place!r}))"


def _built(kind: str, place: Path) -> Path:
    done = subprocess.run(
        [sys.executable, "-c", BUILD.format(kind=kind, place=str(place))],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return place / done.stdout.splitlines()[-1]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, unpacked as an installer does it."""
    place = tmp_path_factory.mktemp("wheel")
    with zipfile.ZipFile(_built("wheel", place)) as packed:
        packed.extractall(place / "site")
    return place / "site"


@pytest.fixture(scope="module")
def sdist(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The source, unpacked."""
    place = tmp_path_factory.mktemp("sdist")
    with tarfile.open(_built("sdist", place)) as packed:
        packed.extractall(place, filter="data")
    (unpacked,) = (found for found in place.iterdir() if found.is_dir())
    return unpacked


def _files(folder: Path, *names: str) -> set[str]:
    """Files below some of a folder's folders, but for what Python and tools leave there."""
    return {
        str(found.relative_to(folder))
        for name in names
        for found in _below(folder / name)
        if not {"__pycache__", "node_modules"} & set(found.parts) and found.suffix != ".pyc"
    }


def _below(place: Path) -> Iterable[Path]:
    return (f for f in place.rglob("*") if f.is_file()) if place.is_dir() else (place,)


def test_the_wheel_holds_all_that_runs(wheel: Path) -> None:
    assert _files(ROOT, "assistant") <= _files(wheel, "assistant")
    data = _files(ROOT, "grammars", "recipes", "audio_fixtures/demo")
    assert data <= _files(wheel / "assistant/_data", "grammars", "recipes", "audio_fixtures")


def test_the_wheel_holds_no_tests_and_the_demos_recordings_only(wheel: Path) -> None:
    assert sorted(p.name for p in wheel.iterdir()) == ["assistant", "panside-0.1.0.dist-info"]
    sounds = {Path(name).parent.name for name in _files(wheel, ".") if name.endswith(".wav")}
    assert sounds <= {"demo"}


def test_the_wheel_names_the_command_and_carries_the_licences(wheel: Path) -> None:
    (told,) = wheel.glob("*.dist-info")
    assert "panside = assistant.commands:main" in (told / "entry_points.txt").read_text("utf-8")
    kept = {found.name for found in (told / "licenses").rglob("*") if found.is_file()}
    assert {found.name for found in (ROOT / "assistant/licences").iterdir()} <= kept


def _run(command: list[str], place: Path, **more: str) -> str:
    done = subprocess.run(
        [sys.executable, *command],
        cwd=place,
        capture_output=True,
        text=True,
        input="2.3 kg of raspberries\n",
        env={**os.environ, "PYTHONPATH": str(place), **more},
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_what_the_wheel_holds_makes_a_batch(wheel: Path, tmp_path: Path) -> None:
    chat = (
        "import sys, assistant.commands as c; sys.argv = ['panside', 'chat', '--recipe',"
        " 'berry-syrup']\ntry: c.main()\nfinally: print(c.__file__)"
    )
    said = _run(["-c", chat], wheel, PANSIDE_STORE=str(tmp_path / "hut.db"))
    assert "Crush the fruit" in said
    assert said.splitlines()[-1].startswith(str(wheel))


def test_the_source_holds_all_that_its_tests_read(sdist: Path) -> None:
    folders = ("assistant", "grammars", "recipes", "audio_fixtures", "tests", ".ci")
    pages = ("README.md", "DEVELOPERS.md", "pyproject.toml")
    assert _files(ROOT, *folders, *pages) <= _files(sdist, ".")


def test_the_source_passes_tests_of_its_own(sdist: Path) -> None:
    short = ["tests/test_dependencies.py", "tests/test_layers.py", "tests/limits"]
    said = _run(["-m", "pytest", "-q", "-p", "no:cacheprovider", *short], sdist)
    assert " passed" in said
