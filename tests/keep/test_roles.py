"""Owner, writer and reader on a real server: what each may do, tried as each."""

import json
from pathlib import Path

import pytest
from event_makers import AT, reading, small_batch
from postgres_server import Server
from season import FILLED
from season import journal as season
from sqlalchemy import make_url, text
from sqlalchemy.exc import DBAPIError
from typer.testing import CliRunner

from assistant.base.errors import StoreUnusable, WrongUse
from assistant.commands.app import app
from assistant.keep import LENGTH, Journal, SharedJournal, export_batch
from assistant.keep.roles import check, prepare
from assistant.past.joining import may_join
from assistant.past.lookback import LookBack

pytest.importorskip("psycopg", reason="the PostgreSQL driver is an extra")
BATCH = "2026-07-11-1"


class Logins:
    """One database as its owner, a kitchen, somebody who only looks, and a stranger see it."""

    def __init__(self, server: Server) -> None:
        self.owner = server.database()
        stem = str(make_url(self.owner).database)
        self.names = {kind: f"{stem}_{kind}_login" for kind in ("hut", "office", "stranger")}
        with server.talk() as owner:
            for name in self.names.values():
                owner.execute(f'CREATE ROLE "{name}" LOGIN')
        with Journal(self.owner) as journal:
            for _ in range(2):
                prepare(journal, [self.names["hut"]], [self.names["office"]])

    def of(self, kind: str) -> str:
        url = make_url(self.owner).set(username=self.names[kind])
        return url.render_as_string(hide_password=False)


@pytest.fixture(scope="module")
def logins(postgres: Server) -> Logins:
    found = Logins(postgres)
    with Journal(found.of("hut")) as hut:
        hut.append_all(BATCH, tuple(season(BATCH)), 0)
    return found


HARM = (
    "UPDATE events SET body = 'x'",
    "UPDATE batches SET recipe = 'x'",
    "DELETE FROM events",
    "DELETE FROM marks",
    "DELETE FROM aliases",
    "TRUNCATE events CASCADE",
    "ALTER TABLE events DISABLE TRIGGER ALL",
    "DROP TRIGGER events_unchanged ON events",
    "DROP FUNCTION events_unchanged() CASCADE",
    "CREATE OR REPLACE FUNCTION events_unchanged() RETURNS trigger LANGUAGE plpgsql AS"
    " 'BEGIN RETURN NULL; END'",
    "DROP TABLE events CASCADE",
    "SET session_replication_role = replica",
    "UPDATE store_version SET version = 99",
    "CREATE TABLE boats (name text)",
)


@pytest.mark.parametrize("kind", ["hut", "office"])
@pytest.mark.parametrize("statement", HARM)
def test_neither_can_harm_what_was_written(logins: Logins, kind: str, statement: str) -> None:
    with (
        Journal(logins.of(kind)) as journal,
        pytest.raises(DBAPIError, match=r"permission denied|must be owner|never edited"),
        journal.engine.begin() as connection,
    ):
        connection.execute(text(statement))


def test_a_kitchen_works_as_ever(logins: Logins, tmp_path: Path) -> None:
    with SharedJournal(logins.of("hut"), tmp_path / "own.sqlite", may_join) as hut:
        hut.append_all("b", small_batch("b"), 0, "mark")
        assert hut.acquire("b", AT, AT + LENGTH).mine
        hut.append("b", reading(6), 6)
        past = LookBack(hut)
        assert {brief.batch for brief in past.batches()} == {BATCH, "b"}
        assert past.complaints == ()
        assert not hut.away


def test_who_only_looks_lists_reports_and_exports(logins: Logins, tmp_path: Path) -> None:
    with SharedJournal(logins.of("office"), tmp_path / "own.sqlite", may_join) as office:
        past = LookBack(office)
        assert BATCH in {brief.batch for brief in past.batches()}
        assert past.larder(FILLED.date()).in_store()
        assert len(list(export_batch(office, BATCH))) > 10
        assert office.lease(BATCH) is None
        with pytest.raises(StoreUnusable, match="this login may not do that"):
            office.append(BATCH, reading(1), len(office.events(BATCH)))
        assert not office.away


@pytest.mark.parametrize(
    ("kind", "found"),
    [("hut", "writer"), ("office", "reader")],
)
def test_the_check_proves_a_login(logins: Logins, kind: str, found: str) -> None:
    with Journal(logins.of(kind)) as journal:
        checked = check(journal)
        assert (checked.kind, checked.is_sound) == (found, True)
        assert "tried" not in journal.names()


def test_the_check_refuses_the_owner(logins: Logins) -> None:
    with Journal(logins.owner) as journal:
        before = journal.names()
        checked = check(journal)
        assert (checked.kind, checked.is_sound) == ("owner", False)
        assert journal.names() == before


def test_a_stranger_is_told(logins: Logins) -> None:
    with pytest.raises(StoreUnusable, match="this login may not do that"):
        Journal(logins.of("stranger"))


def test_the_commands(logins: Logins, postgres: Server) -> None:
    def run(*args: str) -> str:
        done = CliRunner().invoke(app, ["store", *args])
        if done.exception is not None and not isinstance(done.exception, SystemExit):
            raise done.exception
        return done.output

    fresh = postgres.database()
    told = run("prepare", "--writer", logins.names["hut"], "--store", fresh)
    assert "is ready" in told
    hut = make_url(fresh).set(username=logins.names["hut"]).render_as_string()
    assert "is a writer, and can harm nothing" in run("check", "--store", hut)
    assert json.loads(run("check", "--store", hut, "--json"))["sound"]
    with pytest.raises(StoreUnusable, match="acts as owner"):
        run("check", "--store", fresh)
    with pytest.raises(WrongUse, match="no role ferryman"):
        run("prepare", "--reader", "ferryman", "--store", fresh)
    with pytest.raises(WrongUse, match="cook is a superuser"):
        run("prepare", "--writer", "cook", "--store", fresh)


def test_a_file_has_no_roles(tmp_path: Path) -> None:
    with Journal(tmp_path / "s.sqlite") as journal:
        for ask in (prepare, check):
            with pytest.raises(WrongUse, match="is a file"):
                ask(journal)
