"""A lot that was printed once is found for ever, whatever its batch is called now."""

from pathlib import Path

import pytest
from event_makers import AT, begin, reading, small_batch

from assistant.facts.events import AnyEvent, Begin
from assistant.keep import Journal, back_up, export_batch, import_batch, restore
from assistant.keep.merging import Brought, bring, merge

LOT = "2026-07-04-1"


def never(held: tuple[AnyEvent, ...], missing: tuple[AnyEvent, ...]) -> bool:
    del held, missing
    return False


def another_begun(name: str) -> Begin:
    return begin(name).model_copy(update={"at": AT.replace(minute=7)})


@pytest.fixture
def met(tmp_path: Path) -> Journal:
    """A store in which two kitchens met that had both printed the same lot."""
    journal = Journal(tmp_path / "met.sqlite")
    journal.append_all(LOT, small_batch(LOT), 0)
    found = bring(journal, (another_begun(LOT), reading(1)), never)
    assert (found.how, found.name) == ("new", f"{LOT}-b")
    return journal


def test_a_lot_on_labels_of_two_batches_finds_both(met: Journal) -> None:
    assert met.carrying(LOT) == met.called(LOT) == [LOT, f"{LOT}-b"]
    assert met.carrying(f"{LOT}-b") == [f"{LOT}-b"]


@pytest.mark.parametrize("kind", ["b.sqlite", "b.jsonl"])
def test_a_backup_put_back_still_knows_it(met: Journal, tmp_path: Path, kind: str) -> None:
    back_up(met, tmp_path / kind)
    with Journal(tmp_path / "new.sqlite") as journal:
        restore(tmp_path / kind, journal)
        assert journal.carrying(LOT) == [LOT, f"{LOT}-b"]


def test_it_is_known_wherever_the_batch_is_brought(met: Journal) -> None:
    with Journal("sqlite://") as third, Journal("sqlite://") as fourth:
        list(merge(met, third, never))
        assert third.carrying(LOT) == [LOT, f"{LOT}-b"]
        import_batch(fourth, export_batch(met, f"{LOT}-b"))
        assert fourth.carrying(LOT) == [f"{LOT}-b"]


def test_a_batch_that_was_renamed_twice_goes_by_both_lots(met: Journal) -> None:
    with Journal("sqlite://") as third:
        third.append(f"{LOT}-b", begin(f"{LOT}-b"), 0)
        name = bring(third, met.events(f"{LOT}-b"), never).name
        assert name == f"{LOT}-b-b"
        assert third.carrying(LOT) == [name]
        assert third.carrying(f"{LOT}-b") == [f"{LOT}-b", name]


def test_it_is_the_same_batch_under_either_name(met: Journal) -> None:
    with Journal("sqlite://") as third:
        third.append_all(LOT, (another_begun(LOT), reading(1), reading(2)), 0)
        found: list[Brought] = list(merge(third, met, never))
        assert [(one.how, one.name) for one in found] == [("longer", f"{LOT}-b")]
        assert met.carrying(LOT) == [LOT, f"{LOT}-b"]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("2026-07-04-1-k7m4p", ["2026-07-04-1-k7m4p"]),
        ("2026-07-04-1-K7M4P", ["2026-07-04-1-k7m4p"]),
        ("k7m4p", ["2026-07-04-1-k7m4p"]),
        (" K7M4P ", ["2026-07-04-1-k7m4p"]),
        ("2026-07-04-1", ["2026-07-04-1-k7m4p", "2026-07-04-1-q9x2c"]),
        ("2026-07-04-2", ["2026-07-04-2-zzzzz"]),
        ("2026-07-04", ["2026-07-04-1-k7m4p", "2026-07-04-1-q9x2c", "2026-07-04-2-zzzzz"]),
        ("k7m", []),
        ("", []),
        ("%", []),
    ],
)
def test_a_part_of_the_name_will_do(typed: str, meant: list[str]) -> None:
    with Journal("sqlite://") as journal:
        for name in ("2026-07-04-1-k7m4p", "2026-07-04-1-q9x2c", "2026-07-04-2-zzzzz"):
            journal.append(name, begin(name), 0)
        assert journal.called(typed) == meant
