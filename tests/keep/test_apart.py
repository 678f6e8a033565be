"""Row-level security on a real server: a kitchen's login sees its own batches, an office all."""

from pathlib import Path

import pytest
from event_makers import reading, small_batch
from postgres_server import Server
from sqlalchemy import make_url, text
from sqlalchemy.exc import DBAPIError
from test_roles import Logins
from typer.testing import CliRunner

from assistant.base.errors import StoreUnusable, WrongUse
from assistant.commands.app import app
from assistant.keep import Journal, SharedJournal
from assistant.keep.apart import keep_apart
from assistant.keep.roles import check, prepare
from assistant.past.joining import may_join
from assistant.past.lookback import LookBack

pytest.importorskip("psycopg", reason="the PostgreSQL driver is an extra")


class Apart(Logins):
    """The same logins, a second kitchen's, and each kitchen's batch."""

    def __init__(self, server: Server) -> None:
        super().__init__(server)
        self.names["barn"] = f"{make_url(self.owner).database}_barn_login"
        with server.talk() as owner:
            owner.execute(f'CREATE ROLE "{self.names["barn"]}" LOGIN')
        words = ["prepare", "--writer", self.names["barn"], "--apart", "--store", self.owner]
        for _ in range(2):
            assert CliRunner().invoke(app, ["store", *words]).exit_code == 0
        for kind in ("hut", "barn"):
            with Journal(self.of(kind)) as kitchen:
                kitchen.append_all(kind, small_batch(kind), 0)


@pytest.fixture(scope="module")
def logins(postgres: Server) -> Apart:
    return Apart(postgres)


@pytest.mark.parametrize(("kind", "sees"), [("hut", ["hut"]), ("office", ["barn", "hut"])])
def test_who_sees_what(logins: Apart, kind: str, sees: list[str], tmp_path: Path) -> None:
    with SharedJournal(logins.of(kind), tmp_path / "own.sqlite", may_join) as journal:
        assert journal.names() == sees
        assert sorted(brief.batch for brief in LookBack(journal).batches()) == sees
        assert [len(journal.events(name)) for name in ("barn", "hut")] == [
            6 if name in sees else 0 for name in ("barn", "hut")
        ]
        assert not journal.away


def test_a_kitchen_writes_to_its_own_batches_only(logins: Apart) -> None:
    with Journal(logins.of("hut")) as hut:
        hut.append("hut", reading(6), 6)
        with pytest.raises(StoreUnusable):
            hut.append("barn", reading(6), 6)
        with pytest.raises(StoreUnusable):
            hut.append_all("barn", small_batch("barn"), 0)
        for statement in (
            "INSERT INTO batch_logins VALUES ('barn', session_user)",
            "ALTER TABLE events DISABLE ROW LEVEL SECURITY",
        ):
            with pytest.raises(DBAPIError), hut.engine.begin() as connection:
                connection.execute(text(statement))
        assert check(hut).is_sound
    with Journal(logins.owner) as owner:
        assert len(owner.events("barn")) == 6


def test_a_copy_of_anothers_batch_stops_nobody(logins: Apart, tmp_path: Path) -> None:
    """From before they were kept apart: it can't be told from one that the server lost."""
    with Journal(tmp_path / "own.sqlite") as own:
        own.append_all("barn", small_batch("barn"), 0)
    with SharedJournal(logins.of("hut"), tmp_path / "own.sqlite", may_join) as hut:
        hut.append_all("again", small_batch("again"), 0)
        assert not hut.away
    with Journal(logins.owner) as owner:
        assert sorted(owner.names()) == ["again", "barn", "hut"]


def test_together_again(postgres: Server) -> None:
    logins = Apart(postgres)
    done = CliRunner().invoke(app, ["store", "prepare", "--together", "--store", logins.owner])
    assert done.exit_code == 0
    with Journal(logins.of("hut")) as hut:
        assert hut.names() == ["barn", "hut"]
        hut.append("barn", reading(6), 6)


def test_a_file_keeps_nobody_apart(tmp_path: Path, postgres: Server) -> None:
    with Journal(postgres.database()) as owner:
        roles = prepare(owner)
    with Journal(tmp_path / "s.sqlite") as journal, pytest.raises(WrongUse, match="is a file"):
        keep_apart(journal, roles)
