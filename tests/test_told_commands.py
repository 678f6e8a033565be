"""The commands that the manuals tell are run, or there is a reason here why not."""

import ast
import itertools
import os
import re
import shlex
import stat
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest
from typer.testing import CliRunner

from assistant.commands.app import COMMANDS, app

ROOT = Path(__file__).parent.parent
PAGES = {name: (ROOT / name).read_text("utf-8") for name in ("README.md", "DEVELOPERS.md")}
ELSEWHERE = {
    "python3 -m venv": "installs; .ci/run does it",
    ".venv/bin/pip install": "installs; .ci/run does it",
    ".venv/bin/python -m pytest": "is what runs this",
    ".ci/run": "is what runs this",
    ".venv/bin/panside talk": "wants a microphone",
    ".venv/bin/panside screen": "serves until it is stopped; tests/screen",
}


def _lines() -> list[str]:
    blocks = [
        b for page in PAGES.values() for b in re.findall(r"^```sh\n(.*?)^```", page, re.S | re.M)
    ]
    return [line.split("  #")[0].strip() for block in blocks for line in block.splitlines()]


RUN = [line for line in _lines() if not line.startswith(tuple(ELSEWHERE))]


def test_every_reason_is_for_a_command_that_is_told() -> None:
    assert [start for start in ELSEWHERE if not any(li.startswith(start) for li in _lines())] == []
    assert len(RUN) > 5


@pytest.mark.parametrize("line", RUN)
def test_a_line_of_the_manuals_runs(line: str, tmp_path: Path) -> None:
    command = tmp_path / ".venv/bin/panside"
    command.parent.mkdir(parents=True)
    start = "from assistant.commands import main; main()"
    command.write_text(f'#!/bin/sh\nexec "{sys.executable}" -c "{start}" "$@"\n', "utf-8")
    command.chmod(command.stat().st_mode | stat.S_IXUSR)
    done = subprocess.run(
        ["sh", "-c", line],
        cwd=tmp_path,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT), "PANSIDE_STORE": str(tmp_path / "hut.db")},
    )
    assert "Traceback" not in done.stderr
    missing = 4 if " ready" in line else 0  # a machine without a microphone lacks something
    assert done.returncode in (0, missing), done.stderr
    assert done.stdout.strip()


def _told() -> list[str]:
    """Each `panside ...` in the manuals, a row's bar written as a bar."""
    found = [c for page in PAGES.values() for c in re.findall(r"`panside ([^`]+)`", page)]
    found += [c.partition("panside ")[2].split("|")[0] for c in _lines() if "/panside " in c]
    return sorted({" ".join(one.replace("\\|", "|").split()) for one in found})


@cache
def _help(*command: str) -> str:
    return CliRunner().invoke(app, [*command, "--help"], env={"COLUMNS": "200"}).output


@pytest.mark.parametrize("told", _told())
def test_every_option_that_is_told_is_there(told: str) -> None:
    words = shlex.split(told.replace("[", " ").replace("]", " "))
    named = list(itertools.takewhile(lambda word: not word.startswith("-"), words))
    assert not named or named[0] in COMMANDS
    under = len(named) > 1 and re.search(rf"^ +{named[1]}\b", _help(named[0]), re.M)
    command = named[: 2 if under else 1]
    options = [word for word in words if word.startswith("--")]
    assert [one for one in options if not re.search(rf"{one}\b", _help(*command))] == []


def _modules() -> list[str]:
    text = "\n".join(PAGES.values())
    return sorted({m.rstrip(".") for m in re.findall(r"-m (tests[\w.]*)", text)} | set(_shorter()))


def _shorter() -> list[str]:
    """Benches named without `python -m` before them."""
    return re.findall(r"`(tests\.bench\.\w+)", "\n".join(PAGES.values()))


@pytest.mark.parametrize("name", _modules())
def test_what_is_run_as_a_module_is_there(name: str) -> None:
    place = ROOT.joinpath(*name.split("."))
    file = place / "__main__.py" if place.is_dir() else place.with_suffix(".py")
    tree = ast.parse(file.read_text("utf-8"))
    starts = [n for n in tree.body if isinstance(n, ast.If) and "__main__" in ast.unparse(n.test)]
    assert starts or file.name == "__main__.py"


def _with_options() -> list[tuple[str, str]]:
    text = " ".join("\n".join(PAGES.values()).split())
    told = re.findall(r"`(?:python -m )?(tests\.[\w.]+)((?: [^`]*)?)`", text)
    return sorted({(m, one) for m, rest in told for one in re.findall(r"--[a-z-]+", rest)})


@pytest.mark.parametrize(("name", "option"), _with_options())
def test_every_option_of_a_bench_is_there(name: str, option: str) -> None:
    place = ROOT.joinpath(*name.split("."))
    files = sorted(place.glob("*.py")) if place.is_dir() else [place.with_suffix(".py")]
    assert any(f'"{option}"' in file.read_text("utf-8") for file in files)
