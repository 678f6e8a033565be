"""Two stores brought together: nothing dropped, nothing twice, whoever went on."""

import random
from collections.abc import Sequence
from threading import Thread

import pytest
from event_makers import AT, begin, reading, small_batch

from assistant.facts.events import AnyEvent, Note, Used, event_adapter
from assistant.keep import Journal
from assistant.keep.merging import Brought, bring, merge
from assistant.keep.names import renamed

BATCH = "2026-07-04-1"


def notes_may(held: tuple[AnyEvent, ...], missing: tuple[AnyEvent, ...]) -> bool:
    assert held
    return all(event.kind == "note" for event in missing)


def note(text: str) -> Note:
    return Note(at=AT, text=text)


def store(*batches: Sequence[AnyEvent]) -> Journal:
    journal = Journal("sqlite://")
    for events in batches:
        journal.append_all(events[0].batch, events, 0)  # type: ignore[union-attr]
    return journal


def both_ways(one: Journal, other: Journal) -> list[Brought]:
    return [*merge(one, other, notes_may), *merge(other, one, notes_may)]


def bodies(journal: Journal) -> list[bytes]:
    """Every event of a store, its batch's beginning without the name."""
    return sorted(
        event_adapter.dump_json(
            event.model_copy(update={"batch": "", "lots": ()}) if event.kind == "begin" else event
        )
        for name in journal.names()
        for event in journal.events(name)
    )


def test_what_is_new_is_brought_and_then_is_there() -> None:
    later = begin("b").model_copy(update={"at": AT.replace(hour=16)})
    one, other = store(small_batch(), (later, reading(1))), store()
    assert {b.how for b in merge(one, other, notes_may)} == {"new"}
    assert {b.how for b in merge(one, other, notes_may)} == {"there"}
    assert {b.how for b in merge(other, one, notes_may)} == {"there"}
    assert bodies(one) == bodies(other)


def test_what_went_on_is_made_longer() -> None:
    one, other = store(small_batch(readings=8)), store(small_batch(readings=5))
    (found,) = merge(one, other, notes_may)
    assert (found.how, len(found.held), len(found.added)) == ("longer", 6, 3)
    assert other.events(BATCH) == small_batch(readings=8)
    assert [b.how for b in merge(store(small_batch(readings=3)), other, notes_may)] == ["there"]


def test_what_both_did_is_joined_where_it_may() -> None:
    common = small_batch()
    one = store((*common, note("of one")))
    other = store((*common, note("of the other"), reading(6)))
    assert [b.how for b in both_ways(one, other)] == ["joined", "longer"]
    assert bodies(one) == bodies(other)
    assert len(one.events(BATCH)) == 9
    assert {b.how for b in both_ways(one, other)} == {"there"}


def test_a_fork_is_kept_as_a_second_batch() -> None:
    common = small_batch()
    one, other = store((*common, reading(6))), store((*common, reading(7), reading(8)))
    (found,) = merge(one, other, notes_may)
    assert (found.how, found.name) == ("forked", f"{BATCH}-b")
    assert other.events(BATCH) == (*common, reading(7), reading(8))
    assert other.events(f"{BATCH}-b")[1:] == (*common, reading(6))[1:]
    assert [b.how for b in merge(one, other, notes_may)] == ["there"]
    one.append(BATCH, reading(9), 7)
    (found,) = merge(one, other, notes_may)
    assert (found.how, found.name) == ("longer", f"{BATCH}-b")


def test_of_two_copies_the_one_that_lacks_least_goes_on() -> None:
    common = small_batch()
    other = store((*common, reading(6)))
    longer = renamed(common[0], f"{BATCH}-b")  # type: ignore[arg-type]
    other.append_all(f"{BATCH}-b", (longer, *common[1:], reading(6), reading(7)), 0)
    found = bring(other, (*common, reading(6), reading(7), reading(8)), notes_may)
    assert (found.how, found.name, found.added) == ("longer", f"{BATCH}-b", (reading(8),))
    assert other.events(BATCH) == (*common, reading(6))


def test_another_batch_of_the_same_name_gets_a_name_of_its_own() -> None:
    later = begin().model_copy(update={"at": AT.replace(hour=16)})
    one, other = store((later, reading(1))), store(small_batch())
    (found,) = merge(one, other, notes_may)
    assert (found.how, found.name, found.renamed) == ("new", f"{BATCH}-b", True)
    assert other.events(BATCH) == small_batch()
    assert [b.how for b in merge(one, other, notes_may)] == ["there"]


def test_the_same_event_twice_stays_twice() -> None:
    twice = (*small_batch(), note("x"), note("x"))
    one, other = store(twice), store((*small_batch(), note("y")))
    (found,) = merge(one, other, notes_may)
    assert found.added == (note("x"), note("x"))


@pytest.mark.parametrize("seed", range(12))
def test_any_two_kitchens_end_with_the_same_events(seed: int) -> None:
    """Two kitchens go on with common batches at random and meet at random."""
    chance = random.Random(seed)
    stores = [store(small_batch(readings=2)), store()]
    written: list[bytes] = bodies(stores[0])
    for step in range(30):
        mine = stores[chance.randrange(2)]
        if chance.random() < 0.3:
            both_ways(*stores)
        names = mine.names()
        if names and chance.random() < 0.9:
            name = chance.choice(names)
            event: AnyEvent = note(f"{step}") if chance.random() < 0.5 else reading(100 + step)
            mine.append(name, event, len(mine.events(name)))
        else:
            event = begin(f"new-{step % 3}").model_copy(update={"at": AT.replace(minute=step)})
            if event.batch in names:
                continue
            mine.append(event.batch, event, 0)
        written.append(
            event_adapter.dump_json(
                event.model_copy(update={"batch": ""}) if event.kind == "begin" else event
            )
        )
    both_ways(*stores)
    both_ways(*stores)
    for journal in stores:
        assert set(bodies(journal)) == set(written)
    assert {b.how for b in both_ways(*stores)} == {"there"}


def test_kitchens_that_send_at_once_lose_nothing(tmp_path: object) -> None:
    target = Journal(f"{tmp_path}/shared.sqlite")
    common = small_batch()
    target.append_all(BATCH, common, 0)
    tails = [tuple(note(f"{k}-{n}") for n in range(5)) for k in range(4)]

    def send(tail: tuple[AnyEvent, ...]) -> None:
        bring(target, (*common, *tail), notes_may)

    threads = [Thread(target=send, args=(tail,)) for tail in tails]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    held = target.events(BATCH)
    assert len(held) == 6 + 20
    for tail in tails:
        assert [e for e in held if e in tail] == list(tail)


def test_bottles_taken_in_two_kitchens_may_join() -> None:
    from season import FILLED, days, journal

    from assistant.past.joining import disputed, may_join

    common = tuple(journal(BATCH))
    mine = Used(at=FILLED + days(2), count=5)
    theirs = Used(at=FILLED + days(1), count=3)
    too_many = Used(at=FILLED + days(3), count=4)
    assert may_join((*common, theirs), (mine,))
    assert disputed((*common, theirs), (mine,)) == []
    assert disputed((*common, theirs, mine), (too_many,)) == [too_many]
    assert not may_join(common[:4], (mine,))
    assert not may_join((*common, theirs), (reading(1),))
