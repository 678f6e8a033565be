"""Bottles and jars as values: sorts put together, and the syrup in them."""

from assistant.facts.events import Bottle, event_adapter
from assistant.facts.vessels import Lot, Vessel, inside_ml, lot, together, words_of


def test_a_sort_that_was_told_twice_is_one() -> None:
    lots = (Lot(count=2, size_ml=500), Lot(count=1, size_ml=330), Lot(count=3, size_ml=500))
    assert [(each.count, each.size_ml) for each in together(lots)] == [(5, 500), (1, 330)]


def test_a_bottle_that_is_not_full_counts_with_what_is_in_it() -> None:
    part = lot(1, Vessel(size_ml=500, holds_ml=200))
    assert inside_ml((Lot(count=2, size_ml=500), part)) == 1200
    assert part.vessel != Vessel(size_ml=500)


def test_one_unknown_size_leaves_the_whole_unknown() -> None:
    assert inside_ml((Lot(count=2, size_ml=500), Lot(count=1))) is None


def test_a_jar_is_called_one() -> None:
    assert words_of(Vessel(of="jar", holds_ml=1), 2) == "part jars"
    assert words_of(None, 1) == "bottle"


def test_a_bottling_that_was_written_before_jars_reads_and_writes_as_it_did() -> None:
    old = {
        "kind": "bottle",
        "at": "2026-07-11T14:00:00Z",
        "heard": "",
        "sure": 1.0,
        "count": 7,
        "size_ml": 500.0,
        "more": [{"count": 1, "size_ml": 330.0}],
    }
    event = event_adapter.validate_python(old)
    assert isinstance(event, Bottle)
    assert event.model_dump(mode="json") == old
