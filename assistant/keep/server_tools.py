"""A PostgreSQL server's own programs: finding them, running them, without a password in sight."""

import os
import re
import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path

from sqlalchemy import URL

from assistant.base.errors import SomethingMissing, StoreUnusable
from assistant.keep.secrecy import demanded

_INSTALLED = Path("/usr/lib/postgresql")
"""Where Debian keeps the programs of each version."""
_LONGEST = 6 * 3600.0
"""A program that takes longer is given up. [s]"""


def program(name: str, major: int) -> str:
    """The path of one of the server's programs; SomethingMissing where it is not installed.

    major : the server's version, 15 for example, which the program must be of
    """
    found = shutil.which(name, path=str(_INSTALLED / str(major) / "bin")) or shutil.which(name)
    if found is None:
        raise SomethingMissing(
            f"{name} of PostgreSQL {major} is not on this computer; do this on the server, or"
            f" install the package that it is in (postgresql-{major} on Debian)"
        )
    return found


def newest_server() -> int | None:
    """The newest server that is installed here, by its version; None where there is none."""
    there = [int(p.name) for p in _INSTALLED.glob("*") if (p / "bin" / "initdb").exists()]
    if there:
        return max(there)
    found = shutil.which("initdb")
    if found is None:
        return None
    told = subprocess.run([found, "--version"], capture_output=True, text=True, check=False).stdout
    number = re.search(r"(\d+)", told)
    return int(number[1]) if number else None


def run(words: Sequence[str], as_user: str | None = None, password: str | None = None) -> None:
    """Run a program to its end; StoreUnusable with its last words when it fails.

    as_user : whose it should be, where this is root: a server refuses to run as root
    password : handed over in the environment, where no list of processes shows it
    """
    secret = {"PGPASSWORD": password} if password else {}
    # A server that goes on in the background holds a pipe open, so that its words go to a file.
    with open(os.devnull, "rb") as nothing:
        done = subprocess.run(
            list(words),
            stdin=nothing,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE if "-l" not in words else subprocess.DEVNULL,
            env=os.environ | secret,
            user=as_user,
            cwd="/",
            timeout=_LONGEST,
            check=False,
        )
    if done.returncode:
        said = (done.stderr or b"").decode(errors="replace").strip().splitlines()
        raise StoreUnusable(f"{Path(words[0]).name} failed: {said[-1] if said else 'no word why'}")


def server_user() -> str | None:
    """Whose a server's files must be; None where they may be this user's own."""
    if os.name != "posix" or os.getuid() != 0:
        return None
    return "postgres"


def give_to_server(folder: Path) -> None:
    """Let a folder and all in it be the server's user's, where this is root."""
    user = server_user()
    if user is None:
        return
    for path in (folder, *folder.rglob("*")):
        shutil.chown(path, user, user)


def connection_words(url: URL) -> str:
    """The address as the server's own programs take it, without the password."""
    from psycopg.conninfo import make_conninfo

    said = {**url.translate_connect_args(username="user", database="dbname"), **url.query}
    said = {key: value for key, value in said.items() if key not in ("password", "options")}
    return make_conninfo(**{**said, **demanded(url)})
