"""One command that starts server and page; services and a compose file as text."""

import json
import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.resources import files
from pathlib import Path
from urllib.request import Request, urlopen

import pytest
from typer.testing import CliRunner

from assistant.base.errors import WrongUse
from assistant.commands.app import app
from assistant.commands.serve import serve, units
from assistant.keep.own_server import own_server
from assistant.keep.server_tools import newest_server

pytest.importorskip("psycopg", reason="the PostgreSQL driver is an extra")
ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def place() -> Iterator[Path]:
    """A folder that a server's own user can reach, too."""
    if newest_server() is None:
        if os.environ.get("PANSIDE_TEST_ALL"):
            pytest.fail("no PostgreSQL server on this machine")
        pytest.skip("no PostgreSQL server on this machine")
    made = Path(tempfile.mkdtemp(prefix="panside-"))
    made.chmod(0o755)
    yield made
    shutil.rmtree(made)


@contextmanager
def served(place: Path) -> Iterator[tuple[str, str]]:
    """The page's address, and the owner's of the server."""
    words = ["from assistant.commands import main; main()", "store", "serve", str(place / "larder")]
    running = subprocess.Popen(
        [sys.executable, "-c", *words, "--port", "0", "--mute"],
        stdout=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": str(ROOT), "XDG_DATA_HOME": str(place / "own")},
        text=True,
    )
    assert running.stdout is not None
    said: list[str] = []
    try:
        for line in running.stdout:
            said.append(line)
            if "kitchen page" in line:
                break
        told = "".join(said)
        page = re.search(r"http\S+", told)
        owner = re.search(r"only: (\S+)", told)
        assert page is not None
        assert owner is not None
        yield page[0], owner[1]
        running.send_signal(signal.SIGINT)
        assert running.wait(60) == 0
    finally:
        running.kill()
        running.wait()
        running.stdout.close()


def test_one_command_starts_server_and_page(place: Path) -> None:
    with served(place) as (page, owner):
        body = b'{"recipe": "berry-syrup", "id": "wish-of-ours"}'
        asked = Request(f"{page}api/batches", body, {"origin": page.rstrip("/")})
        with urlopen(asked, timeout=30) as reply:
            batch = str(json.load(reply)["batch"])
        kept = place / "larder" / "backups"
        run = CliRunner().invoke
        made = run(app, ["store", "backup", str(kept), "--store", owner])
        assert "1 batches, 1 entries, verified" in made.output
        assert "archives no log" not in made.output
        drilled = run(app, ["store", "drill", str(kept), "--store", owner])
        assert "each as it was written" in drilled.output, drilled.exception
    with own_server(place / "larder") as (_, kitchen):
        listed = CliRunner().invoke(app, ["batches", "--store", kitchen])
        assert batch in listed.output
        checked = CliRunner().invoke(app, ["store", "check", "--store", kitchen])
        assert "is a writer, and can harm nothing" in checked.output


def test_a_folder_of_something_else_is_left_alone(place: Path) -> None:
    (place / "x").write_text("x")
    with pytest.raises(WrongUse, match="holds something else"), own_server(place):
        pass
    with pytest.raises(WrongUse, match="too long"), own_server(place / ("x" * 90)):
        pass


def test_the_units_start_what_there_is(tmp_path: Path) -> None:
    """Each command line in them is one that this Panside takes."""
    done = CliRunner().invoke(app, ["store", "units", str(tmp_path / "units")])
    assert len(done.output.split()) == len(list(files("assistant").joinpath("units").iterdir()))
    told = "".join(p.read_text("utf-8") for p in sorted((tmp_path / "units").iterdir()))
    lines = re.findall(r"^ExecStart=/opt/panside/bin/panside (.*)$", told, re.MULTILINE)
    assert len(lines) == 4
    for line in lines:
        words = [word for word in line.split() if not word.startswith(("/", "--"))]
        usage = CliRunner().invoke(app, [*words, "--help"]).output
        for option in re.findall(r"--\w+", line):
            assert option in usage
    with pytest.raises(WrongUse, match="is there already"):
        units(tmp_path / "units")


def test_systemd_reads_the_units(tmp_path: Path) -> None:
    if shutil.which("systemd-analyze") is None:
        pytest.skip("no systemd here")
    CliRunner().invoke(app, ["store", "units", str(tmp_path / "u")])
    program = "/opt/panside/bin/panside"
    for unit in (tmp_path / "u").glob("*.service"):
        unit.write_text(unit.read_text("utf-8").replace(program, "/bin/true"), "utf-8")
    names = [str(p) for p in (tmp_path / "u").glob("*.[st]*er*") if p.suffix != ".env"]
    told = subprocess.run(["systemd-analyze", "verify", *names], capture_output=True, text=True)
    assert told.stderr.strip() == ""


def test_the_compose_file_is_whole_and_starts_what_there_is() -> None:
    yaml = pytest.importorskip("yaml", reason="no reader for YAML here")
    kept = files("assistant").joinpath("units", "compose.yaml")
    kitchen = yaml.safe_load(kept.read_text("utf-8"))["services"]["kitchen"]
    program, *words = kitchen["command"]
    assert program in kitchen["build"]["dockerfile_inline"].replace("/bin/pip", "/bin/panside")
    assert words[:2] == ["store", "serve"]
    assert serve.__doc__
