"""The chain over a batch's events: whatever is changed behind the journal's back is told."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from event_makers import small_batch
from typer.testing import CliRunner

from assistant.base.errors import PansideError, StoreUnusable, WrongUse
from assistant.commands.app import app
from assistant.keep import Journal
from assistant.keep.audit import audit, note, read_notes
from assistant.keep.seal import link, seal

NAMES = ("a", "b", "c")
Change = Callable[[sqlite3.Connection], None]


@pytest.fixture
def store(tmp_path: Path) -> Path:
    with Journal(tmp_path / "s.sqlite") as journal:
        for name in NAMES:
            journal.append_all(name, small_batch(name), 0)
    return tmp_path / "s.sqlite"


def rewritten(base: sqlite3.Connection, batch: str, old: str, new: str) -> None:
    """A batch's events changed, sealed and chained anew, as somebody might who knows how."""
    before = ""
    rows = base.execute(
        "SELECT seq, body FROM events WHERE batch = ? ORDER BY seq", (batch,)
    ).fetchall()
    for seq, body in rows:
        changed = body.replace(old, new)
        before = link(before, batch, seq, changed)
        base.execute(
            "UPDATE events SET body = ?, seal = ?, chain = ? WHERE batch = ? AND seq = ?",
            (changed, seal(batch, seq, changed), before, batch, seq),
        )


def one_value(base: sqlite3.Connection) -> None:
    base.execute("UPDATE events SET body = replace(body, '21.1', '71.1') WHERE batch = 'b'")


def one_value_and_its_seal(base: sqlite3.Connection) -> None:
    one_value(base)
    (body,) = base.execute("SELECT body FROM events WHERE batch = 'b' AND seq = 1").fetchone()
    sql = "UPDATE events SET seal = ? WHERE batch = 'b' AND seq = 1"
    base.execute(sql, (seal("b", 1, body),))


def a_middle(base: sqlite3.Connection) -> None:
    base.execute("DELETE FROM events WHERE batch = 'b' AND seq = 3")


def the_chain(base: sqlite3.Connection) -> None:
    base.execute("UPDATE events SET chain = replace(chain, 'a', 'b') WHERE batch = 'b'")


def two_places(base: sqlite3.Connection) -> None:
    for old, new in ((2, 99), (3, 2), (99, 3)):
        base.execute("UPDATE events SET seq = ? WHERE batch = 'b' AND seq = ?", (new, old))


def an_end(base: sqlite3.Connection) -> None:
    base.execute("DELETE FROM events WHERE batch = 'b' AND seq > 3")


def all_anew(base: sqlite3.Connection) -> None:
    rewritten(base, "b", "21.1", "71.1")


def a_whole_batch(base: sqlite3.Connection) -> None:
    base.execute("DELETE FROM events WHERE batch = 'b'")


CHAINED = (one_value, one_value_and_its_seal, a_middle, the_chain, two_places)
NOTED = (*CHAINED, an_end, all_anew, a_whole_batch)


def change(store: Path, how: Change) -> None:
    with closing(sqlite3.connect(store)) as base:
        for verb in ("UPDATE", "DELETE"):
            base.execute(f"DROP TRIGGER events_no_{verb}")
        how(base)
        base.commit()


def wrong(store: Path, notes: Path | None = None) -> list[str]:
    with Journal(store) as journal:
        found = audit(journal, read_notes(notes) if notes else ())
        return [one.batch for one in found if one.wrong]


@pytest.mark.parametrize("how", CHAINED)
def test_a_change_breaks_the_chain(store: Path, how: Change) -> None:
    assert wrong(store) == []
    change(store, how)
    assert wrong(store) == ["b"]


@pytest.mark.parametrize("how", NOTED)
def test_whatever_is_changed_differs_from_what_was_noted(
    store: Path, tmp_path: Path, how: Change
) -> None:
    with Journal(store) as journal:
        note(audit(journal), tmp_path / "links")
    assert wrong(store, tmp_path / "links") == []
    change(store, how)
    assert wrong(store, tmp_path / "links") == ["b"]


def test_a_batch_that_went_on_is_as_it_was_noted(store: Path, tmp_path: Path) -> None:
    with Journal(store) as journal:
        note(audit(journal), tmp_path / "links")
        journal.append_all("b", small_batch("b", 9)[6:], 6)
    assert wrong(store, tmp_path / "links") == []


def run(*args: object) -> str:
    done = CliRunner().invoke(app, [str(a) for a in args])
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    return done.output


def test_the_command(store: Path, tmp_path: Path) -> None:
    links = tmp_path / "links"
    assert "3 batches, 18 events: each as it was" in run("audit", "--store", store, "--note", links)
    told = run("audit", "--store", store, "--against", links)
    assert "3 of them as they were noted" in told
    with pytest.raises(WrongUse, match="there already"):
        run("audit", "--store", store, "--note", links)
    change(store, all_anew)
    assert "each as it was" in run("audit", "--store", store)
    with pytest.raises(StoreUnusable, match=r"1 of 3 batches .* are not as they were written"):
        run("audit", "--store", store, "--against", links)


@pytest.mark.parametrize("text", ["{}", "plums", '{"batch": 1}'])
def test_other_files_are_no_notes(store: Path, tmp_path: Path, text: str) -> None:
    (tmp_path / "links").write_text(text, "utf-8")
    with pytest.raises(PansideError, match="holds no links"):
        run("audit", "--store", store, "--against", tmp_path / "links")
