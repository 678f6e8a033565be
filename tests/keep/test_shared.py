"""A shared store on a real server that is stopped in the middle of a batch, and back."""

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from event_makers import AT, begin, reading, small_batch
from postgres_server import Server
from season import FILLED, days, journal

from assistant.base.errors import AnotherSession
from assistant.facts.events import Used
from assistant.keep import Journal
from assistant.keep.shared import PAUSE, SharedJournal
from assistant.past.joining import may_join, told

pytest.importorskip("psycopg", reason="the PostgreSQL driver is an extra")
BATCH = "2026-07-04-1"


class Kitchen:
    """One kitchen's view of the shared store, and the clock it waits by."""

    def __init__(self, store: str, own: Path) -> None:
        self.told: list[str] = []
        self.time = 0.0
        self.journal = SharedJournal(
            store, own, may_join, self.told.append, told, lambda: self.time
        )

    def later(self) -> None:
        self.time += PAUSE


Open = Callable[[str, Path], Kitchen]


@pytest.fixture
def kitchen_at() -> Iterator[Open]:
    """Opens kitchens, and closes them in the end."""
    with ExitStack() as stack:

        def open_kitchen(store: str, own: Path) -> Kitchen:
            kitchen = Kitchen(store, own)
            stack.callback(kitchen.journal.close)
            return kitchen

        yield open_kitchen


def held(store: str, batch: str = BATCH) -> tuple[object, ...]:
    with Journal(store) as shared:
        return shared.events(batch)


def test_both_get_what_is_accepted(postgres: Server, kitchen_at: Open, tmp_path: Path) -> None:
    store = postgres.database()
    kitchen = kitchen_at(store, tmp_path / "own.sqlite")
    kitchen.journal.append_all(BATCH, small_batch(), 0)
    assert kitchen.told == []
    assert held(store) == held(str(tmp_path / "own.sqlite")) == small_batch()


def test_a_cut_in_mid_batch_costs_nothing(
    postgres: Server, kitchen_at: Open, tmp_path: Path
) -> None:
    store = postgres.database()
    kitchen = kitchen_at(store, tmp_path / "own.sqlite")
    for seq, event in enumerate(small_batch()):
        kitchen.journal.append(BATCH, event, seq)
    postgres.stop()
    for seq in range(6, 10):
        kitchen.journal.append(BATCH, reading(seq), seq)
    assert kitchen.journal.away
    assert len(kitchen.told) == 1
    assert "Going on in this kitchen's own journal" in kitchen.told[0]
    assert kitchen.journal.events(BATCH) == small_batch(readings=9)
    postgres.start()
    kitchen.later()
    kitchen.journal.append(BATCH, reading(10), 10)
    assert not kitchen.journal.away
    assert held(store) == small_batch(readings=10)
    kitchen.journal.append(BATCH, reading(11), 11)
    assert held(store) == held(str(tmp_path / "own.sqlite")) == small_batch(readings=11)


def test_a_server_that_was_away_is_left_in_peace_for_a_while(
    postgres: Server, kitchen_at: Open, tmp_path: Path
) -> None:
    """Each time it is asked, a cook may wait for it: it is back, and not asked yet."""
    store = postgres.database()
    kitchen = kitchen_at(store, tmp_path / "own.sqlite")
    kitchen.journal.append_all(BATCH, small_batch(), 0)
    postgres.stop()
    kitchen.journal.append(BATCH, reading(6), 6)
    postgres.start()
    kitchen.time += PAUSE - 1
    kitchen.journal.append(BATCH, reading(7), 7)
    assert kitchen.journal.away
    assert held(store) == small_batch()
    kitchen.time += 1
    kitchen.journal.append(BATCH, reading(8), 8)
    assert not kitchen.journal.away
    assert held(store) == small_batch(readings=8)


def test_a_kitchen_that_restarts_while_it_is_cut_off_goes_on(
    postgres: Server, kitchen_at: Open, tmp_path: Path
) -> None:
    store = postgres.database()
    kitchen_at(store, tmp_path / "own.sqlite").journal.append_all(BATCH, small_batch(), 0)
    postgres.stop()
    kitchen = kitchen_at(store, tmp_path / "own.sqlite")
    assert kitchen.journal.names() == [BATCH]
    kitchen.journal.append(BATCH, reading(6), len(kitchen.journal.events(BATCH)))
    kitchen.journal.append("begun-alone", begin("begun-alone"), 0)
    postgres.start()
    again = kitchen_at(store, tmp_path / "own.sqlite")
    assert held(store) == small_batch(readings=6)
    assert held(store, "begun-alone") == (begin("begun-alone"),)
    assert again.journal.send() == []


def test_a_batch_begun_elsewhere_is_at_hand_when_the_network_is_cut(
    postgres: Server, kitchen_at: Open, tmp_path: Path
) -> None:
    store = postgres.database()
    kitchen_at(store, tmp_path / "one.sqlite").journal.append_all(BATCH, small_batch(), 0)
    two = kitchen_at(store, tmp_path / "two.sqlite")
    assert two.journal.events(BATCH) == small_batch()
    postgres.stop()
    two.journal.append(BATCH, reading(6), 6)
    postgres.start()
    two.later()
    two.journal.append(BATCH, reading(7), 7)
    assert held(store) == small_batch(readings=7)


def test_two_kitchens_that_went_on_apart_are_both_kept(
    postgres: Server, kitchen_at: Open, tmp_path: Path
) -> None:
    store = postgres.database()
    one = kitchen_at(store, tmp_path / "one.sqlite")
    one.journal.append_all(BATCH, small_batch(), 0)
    postgres.stop()
    one.journal.append(BATCH, reading(60), 6)
    postgres.start()
    two = kitchen_at(store, tmp_path / "two.sqlite")
    two.journal.append(BATCH, reading(6), 6)
    one.later()
    one.journal.append(BATCH, reading(61), 7)
    assert held(store) == small_batch(readings=6)
    assert held(store, f"{BATCH}-b")[1:] == (*small_batch()[1:], reading(60), reading(61))
    assert "kept whole as 2026-07-04-1-b" in one.told[-1]


def test_bottles_taken_in_both_kitchens_count_once_each(
    postgres: Server, kitchen_at: Open, tmp_path: Path
) -> None:
    store = postgres.database()
    common = tuple(journal(BATCH))
    one = kitchen_at(store, tmp_path / "one.sqlite")
    one.journal.append_all(BATCH, common, 0)
    postgres.stop()
    mine = Used(at=FILLED + days(2), count=7)
    one.journal.append(BATCH, mine, len(common))
    postgres.start()
    theirs = Used(at=FILLED + days(1), count=3)
    kitchen_at(store, tmp_path / "two.sqlite").journal.append(BATCH, theirs, len(common))
    again = kitchen_at(store, tmp_path / "one.sqlite")
    assert held(store) == (*common, theirs, mine)
    assert "count its bottles. Written down, but not counted: used." in again.told[-1]


def test_who_is_late_in_a_shared_batch_is_told(
    postgres: Server, kitchen_at: Open, tmp_path: Path
) -> None:
    store = postgres.database()
    one = kitchen_at(store, tmp_path / "one.sqlite")
    one.journal.append_all(BATCH, small_batch(), 0)
    two = kitchen_at(store, tmp_path / "two.sqlite")
    two.journal.append(BATCH, reading(6), 6)
    with pytest.raises(AnotherSession):
        one.journal.append(BATCH, reading(60), 6)
    assert held(store) == small_batch(readings=6)
    assert held(str(tmp_path / "one.sqlite")) == small_batch()


def test_the_same_name_begun_in_two_kitchens_alone(
    postgres: Server, kitchen_at: Open, tmp_path: Path
) -> None:
    store = postgres.database()
    kitchens = [kitchen_at(store, tmp_path / f"{n}.sqlite") for n in range(2)]
    postgres.stop()
    for number, kitchen in enumerate(kitchens):
        first = begin().model_copy(update={"at": AT.replace(minute=number)})
        kitchen.journal.append(BATCH, first, 0)
    postgres.start()
    for kitchen in kitchens:
        kitchen.later()
        kitchen.journal.append(BATCH, reading(1), 1)
    with Journal(store) as shared:
        assert shared.names() == [BATCH, f"{BATCH}-b"]
        assert [len(shared.events(name)) for name in shared.names()] == [2, 2]
    kitchens[1].journal.append(BATCH, reading(2), 2)
    assert len(held(store, f"{BATCH}-b")) == 3


def test_a_batch_that_another_program_sent_goes_on_under_its_new_name(
    postgres: Server, kitchen_at: Open, tmp_path: Path
) -> None:
    store = postgres.database()
    chat = kitchen_at(store, tmp_path / "one.sqlite")
    chat.journal.append_all(BATCH, small_batch(), 0)
    postgres.stop()
    chat.journal.append(BATCH, reading(60), 6)
    postgres.start()
    kitchen_at(store, tmp_path / "two.sqlite").journal.append(BATCH, reading(6), 6)
    kitchen_at(store, tmp_path / "one.sqlite")
    assert len(held(store, f"{BATCH}-b")) == 7
    chat.later()
    chat.journal.append(BATCH, reading(61), 7)
    assert held(store) == small_batch(readings=6)
    assert held(store, f"{BATCH}-b")[6:] == (reading(60), reading(61))
