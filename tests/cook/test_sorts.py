"""Bottles of several sorts in one batch: which is meant, and what is left of each."""

from dataclasses import dataclass
from typing import Any

import pytest
from batch_maker import Maker
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.cook import fold
from assistant.cook.reply import Line
from assistant.cook.sorts import closed_of, sorts_in_store, sorts_left, which
from assistant.facts.events import Begin, event_adapter
from assistant.facts.vessels import Vessel
from assistant.larder import larder

HALF, THIRD = {"size_ml": 500.0}, {"size_ml": 330.0}
JAR = {"size_ml": 330.0, "of": "jar"}


@pytest.fixture
def mixed() -> Maker:
    """Five of half a litre, three of 330 and two jars of 330."""
    return _filled()


def left(maker: Maker) -> list[int]:
    return [count for _, count in sorts_left(maker.batch)]


def test_a_size_that_fits_one_sort_means_it(mixed: Maker) -> None:
    assert which(mixed.batch, Vessel(size_ml=500)) == Vessel(size_ml=500)
    assert which(mixed.batch, Vessel(of="jar")) == Vessel(size_ml=330, of="jar")
    assert which(mixed.batch, Vessel(size_ml=330)) == Vessel(size_ml=330)


def test_a_size_that_was_not_filled_means_none(mixed: Maker) -> None:
    found = which(mixed.batch, Vessel(size_ml=750))
    assert isinstance(found, Line)
    assert found.id == "none_of_size"


@pytest.mark.parametrize("kind", ["used", "opened", "discard"])
def test_nothing_is_taken_until_the_sort_is_told(mixed: Maker, kind: str) -> None:
    before = mixed.batch.stored
    mixed.does(kind, count=1)
    assert mixed.ids() == ["which_size"]
    assert mixed.batch.stored == before


def test_each_sort_loses_its_own(mixed: Maker) -> None:
    mixed.does("used", count=2, vessel=HALF)
    mixed.does("used", count=1, vessel=JAR, to="the kiosk")
    mixed.does("discard", count=1, vessel=THIRD)
    assert left(mixed) == [3, 2, 1]
    assert mixed.batch.in_store == 6
    assert fold(mixed.journal)[0] == mixed.batch


def test_a_sort_has_no_more_than_its_own(mixed: Maker) -> None:
    mixed.does("used", count=3, vessel=JAR)
    assert mixed.ids() == ["not_so_many_of"]
    mixed.does("opened", count=2, vessel=JAR)
    mixed.does("opened", count=1, vessel=JAR)
    assert mixed.ids() == ["none_left_of"]


def test_the_only_sort_that_is_left_needs_no_telling(mixed: Maker) -> None:
    mixed.does("used", count=5, vessel=HALF)
    mixed.does("used", count=2, vessel=JAR)
    mixed.does("used", count=1)
    assert left(mixed) == [0, 2, 0]


def test_all_of_one_sort_can_be_thrown_away_and_the_batch_stays(mixed: Maker) -> None:
    mixed.does("discard", vessel=JAR)
    assert (left(mixed), mixed.stage) == ([5, 3, 0], "finished")


def test_all_thrown_away_leaves_none_of_any_sort(mixed: Maker) -> None:
    mixed.does("used", count=1, vessel=HALF)
    mixed.does("discard")
    assert (left(mixed), mixed.batch.stored.thrown) == ([0, 0, 0], 9)


def test_what_went_apart_is_of_its_sort(mixed: Maker) -> None:
    mixed.does("moved", place="freezer", vessel=JAR)
    mixed.does("moved", place="freezer", count=2, vessel=HALF)
    assert mixed.batch.stored.apart_of(Vessel(**JAR)) == 2
    mixed.does("used", count=5, vessel=HALF)
    assert mixed.batch.stored.apart_count == 2


def test_one_sort_is_counted_again(mixed: Maker) -> None:
    mixed.does("used", count=2, vessel=HALF)
    mixed.does("correct", what="bottles", unit="count", value=4, vessel=HALF)
    assert (left(mixed), mixed.batch.in_store) == ([2, 3, 2], 7)
    mixed.does("correct", what="bottles", unit="count", value=1, vessel=HALF)
    assert mixed.ids() == ["bottles_gone_already"]


def test_a_batch_of_the_rules_before_goes_on_without_sorts(mixed: Maker) -> None:
    used = {"kind": "used", "at": mixed.now, "count": 4}
    first, *rest = mixed.journal
    assert isinstance(first, Begin)
    then = (first.model_copy(update={"rules": 2}), *rest, event_adapter.validate_python(used))
    batch = fold(then)[0]
    assert batch.in_store == 6
    assert sorts_in_store(batch) == ()


def test_a_batch_of_one_size_takes_a_size_that_is_its_own_only(maker: Maker) -> None:
    maker.up_to("store").done()
    maker.does("used", count=1, vessel=HALF)
    assert maker.batch.in_store == 8
    assert maker.batch.stored.gone[-1].vessel is None
    maker.does("used", count=1, vessel=THIRD)
    assert maker.ids() == ["none_of_size"]


def test_a_part_bottle_counts_with_what_is_in_it(maker: Maker) -> None:
    maker.up_to("bottle")
    maker.does("bottle", count=8, size_ml=500, more=[{"count": 1, "size_ml": 500, "holds_ml": 200}])
    assert maker.batch.bottled is not None
    assert maker.batch.bottled.volume_ml == 4200
    assert "part_first" in maker.ids()


def test_an_opened_bottle_of_another_sort_is_not_the_one_that_is_used(mixed: Maker) -> None:
    mixed.does("opened", count=1, vessel=HALF)
    mixed.does("opened", count=1, vessel=THIRD)
    mixed.does("used", count=1, vessel=THIRD)
    assert [lot.vessel for lot in mixed.batch.stored.opened] == [Vessel(**HALF)]


def test_what_went_apart_is_used_though_another_sort_is_open(mixed: Maker) -> None:
    mixed.does("opened", count=1, vessel=HALF)
    mixed.does("moved", place="freezer", vessel=JAR)
    mixed.does("used", count=1, vessel=JAR)
    assert mixed.batch.stored.apart_of(Vessel(**JAR)) == 1


def test_what_comes_back_from_the_freezer_is_of_its_sort(mixed: Maker) -> None:
    mixed.does("moved", place="freezer", vessel=JAR)
    mixed.does("moved", place="freezer", count=1, vessel=HALF)
    mixed.does("moved", place="fridge", count=1, vessel=HALF)
    frozen = [(lot.count, lot.vessel) for lot in mixed.batch.stored.apart if lot.place == "freezer"]
    assert frozen == [(2, Vessel(**JAR))]


NAMED = st.sampled_from((HALF, THIRD, JAR))
DEEDS = st.one_of(
    st.tuples(st.just("used"), st.integers(1, 3), NAMED, st.sampled_from(["", "Ana"])),
    st.tuples(st.just("opened"), st.integers(1, 2), NAMED, st.just("")),
    st.tuples(st.just("moved"), st.integers(1, 2), NAMED, st.just("freezer")),
    st.tuples(st.just("discard"), st.integers(1, 2), NAMED, st.just("")),
)


@dataclass
class Shelf:
    """One sort as somebody with a pencil would keep it: here, in the freezer, open, gone."""

    here: int
    frozen: int = 0
    opened: int = 0
    gone: int = 0

    def does(self, kind: str, count: int, to: str) -> None:
        """What is more than there is counts for nothing."""
        closed = self.here + self.frozen
        if kind == "opened" and count <= closed:
            self._less(count)
            self.opened += count
        elif kind == "moved" and count <= self.here:
            self.here, self.frozen = self.here - count, self.frozen + count
        elif kind in ("used", "discard") and count <= closed + self.opened:
            of_open = max(0, count - closed) if to else min(count, self.opened)
            self.opened -= of_open
            self._less(count - of_open)
            self.gone += count

    def _less(self, count: int) -> None:
        """Closed ones go from here first."""
        of_here = min(count, self.here)
        self.here, self.frozen = self.here - of_here, self.frozen - (count - of_here)


@settings(max_examples=60, deadline=None)
@given(st.lists(DEEDS, max_size=12))
def test_every_sort_is_kept_as_with_a_pencil(deeds: list[tuple[str, int, Any, str]]) -> None:
    maker = _filled()
    shelves = {Vessel(**HALF): Shelf(5), Vessel(**THIRD): Shelf(3), Vessel(**JAR): Shelf(2)}
    for kind, count, sort, word in deeds:
        more = {"moved": {"place": word}, "used": {"to": word}}.get(kind, {})
        maker.does(kind, count=count, vessel=sort, **more)
        shelves[Vessel(**sort)].does(kind, count, word if kind == "used" else "")
    batch, stored = maker.batch, maker.batch.stored
    for vessel, shelf in shelves.items():
        assert stored.opened_of(vessel) == shelf.opened
        assert stored.apart_of(vessel) == shelf.frozen
        assert stored.gone_of(vessel) == shelf.gone
        assert closed_of(batch, vessel) == shelf.here + shelf.frozen
    assert sum(count for _, count in sorts_left(batch)) == batch.in_store
    (entry,) = larder([maker.journal], maker.now.date()).entries
    assert entry.in_store == batch.in_store


def _filled() -> Maker:
    """As `mixed`, without a fixture."""
    maker = Maker()
    maker.journal, maker.batch, maker.now = list(_MADE.journal), _MADE.batch, _MADE.now
    return maker


def _made() -> Maker:
    maker = Maker().up_to("bottle")
    more = [{"count": 3, **THIRD}, {"count": 2, **JAR}]
    maker.does("bottle", count=5, size_ml=500, more=more)
    maker.done()
    return maker


_MADE = _made()
