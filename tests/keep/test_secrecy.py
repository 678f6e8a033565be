"""TLS to another computer: demanded, unless somebody has said otherwise by name."""

import shutil
import socket
import subprocess
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from postgres_server import Server, running_server
from sqlalchemy import make_url, text

from assistant.base.errors import StoreAway, StoreUnusable
from assistant.keep import Journal
from assistant.keep.secrecy import demanded

pytest.importorskip("psycopg", reason="the PostgreSQL driver is an extra")


@pytest.mark.parametrize(
    "rest",
    [
        "@/larder",
        "@/larder?host=/run/postgresql",
        "@localhost/larder",
        "@127.0.0.1:5433/larder",
        "@[::1]/larder",
        "@/larder?host=localhost:5432,127.0.0.2",
        "@boathouse/larder?sslmode=disable",
        "@boathouse/larder?sslmode=verify-full",
    ],
)
def test_left_as_it_is(rest: str, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("PGHOST", "PGHOSTADDR", "PGSSLMODE"):
        monkeypatch.delenv(name, raising=False)
    assert demanded(make_url(f"postgresql://cook{rest}")) == {}


@pytest.mark.parametrize(
    "rest",
    [
        "@boathouse/larder",
        "@boathouse/larder?sslmode=prefer",
        "@192.168.1.7/larder?sslmode=allow",
        "@localhost/larder?hostaddr=192.168.1.7",
        "@/larder?host=localhost,boathouse",
        "@[fd00::7]/larder",
        "@localhost.boathouse/larder",
    ],
)
def test_demanded(rest: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("PGSSLMODE", raising=False)
    assert demanded(make_url(f"postgresql://cook{rest}")) == {"sslmode": "require"}


def test_the_environment_counts_too(monkeypatch: pytest.MonkeyPatch) -> None:
    url = make_url("postgresql://cook@/larder")
    monkeypatch.delenv("PGSSLMODE", raising=False)
    monkeypatch.setenv("PGHOST", "boathouse")
    assert demanded(url) == {"sslmode": "require"}
    monkeypatch.setenv("PGSSLMODE", "disable")
    assert demanded(url) == {}


def _own_address() -> str:
    """An address of this computer that is not its loopback; no packet is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        try:
            asking.connect(("192.0.2.1", 9))
        except OSError:
            pytest.skip("this computer is on no network")
        return str(asking.getsockname()[0])


@pytest.fixture(scope="module")
def outside() -> Iterator[tuple[Server, str]]:
    """A server without TLS on the network, and the address of its database there."""
    here = _own_address()
    with socket.socket() as free:
        free.bind((here, 0))
        port = free.getsockname()[1]
    with running_server(f" -c listen_addresses={here} -c port={port}") as server:
        rules = Path(server.folder, "data", "pg_hba.conf")
        rules.write_text(f"{rules.read_text('utf-8')}\nhost all all samehost trust\n", "utf-8")
        server.stop()
        server.start()
        yield server, f"postgresql://cook@{here}:{port}/postgres"


def test_a_server_without_tls_is_refused_and_not_away(outside: tuple[Server, str]) -> None:
    with pytest.raises(StoreUnusable, match=r"offers no TLS.*sslmode=disable") as refusal:
        Journal(outside[1])
    assert not isinstance(refusal.value, StoreAway)


def test_said_by_name_it_is_used(outside: tuple[Server, str]) -> None:
    with Journal(f"{outside[1]}?sslmode=disable") as journal:
        assert journal.batches() == []


def test_a_server_with_tls_is_used_with_it(outside: tuple[Server, str]) -> None:
    if shutil.which("openssl") is None:
        pytest.skip("no openssl to make a certificate with")
    server, address = outside
    data = Path(server.folder, "data")
    words = [
        "req",
        "-x509",
        "-newkey",
        "rsa:2048",
        "-nodes",
        "-days",
        "2",
        "-subj",
        "/CN=boathouse",
        "-keyout",
    ]
    files = [str(data / "server.key"), "-out", str(data / "server.crt")]
    subprocess.run(["openssl", *words, *files], check=True, capture_output=True)
    for name in ("server.key", "server.crt"):
        (data / name).chmod(0o600)
        if server.owner is not None:
            shutil.chown(data / name, server.owner)
    server.stop()
    replace(server, more=f"{server.more} -c ssl=on").start()
    with Journal(address) as journal, journal.engine.connect() as connection:
        wanted = text("SELECT ssl FROM pg_stat_ssl WHERE pid = pg_backend_pid()")
        assert connection.scalar(wanted) is True


def test_a_schema_of_its_own(postgres: Server) -> None:
    store = postgres.database()
    url = make_url(store).update_query_dict({"options": "-csearch_path=tearoom"})
    with Journal(store) as journal, journal.engine.begin() as connection:
        connection.execute(text("CREATE SCHEMA tearoom"))
    with Journal(url.render_as_string()) as other, other.engine.connect() as connection:
        assert other.batches() == []
        schemas = text("SELECT DISTINCT schemaname FROM pg_tables WHERE tablename = 'events'")
        assert set(connection.scalars(schemas)) == {"public", "tearoom"}
        assert connection.scalar(text("SHOW statement_timeout")) == "15s"
