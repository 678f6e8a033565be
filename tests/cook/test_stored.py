"""What became of a batch's bottles."""

from datetime import UTC, datetime, timedelta

from assistant.cook.stored import Gone, Opened, Stored

AT = datetime(2026, 7, 11, tzinfo=UTC)


def test_it_begins_in_the_fridge() -> None:
    assert Stored().place == "fridge"


def test_used_up_go_the_longest_open_first() -> None:
    opened = (Opened(1, AT), Opened(2, AT + timedelta(days=3)))
    left = Stored(opened=opened).less(Gone(2, AT), closed=6, opened_first=True)
    assert left.opened == (Opened(1, AT + timedelta(days=3)),)
    assert left.used == 2


def test_given_away_go_the_closed_ones_first() -> None:
    stored = Stored(opened=(Opened(2, AT),))
    assert stored.less(Gone(6, AT), closed=6, opened_first=False).open_count == 2
    assert stored.less(Gone(7, AT), closed=6, opened_first=False).open_count == 1


def test_thrown_away_is_not_used() -> None:
    stored = Stored().less(Gone(3, AT, thrown=True), closed=9, opened_first=True)
    assert (stored.used, stored.thrown) == (0, 3)


def test_moving_to_where_it_is_moves_nothing() -> None:
    assert Stored().moved("fridge", AT) == Stored()


def test_bottles_that_went_apart_are_counted_apart() -> None:
    stored = Stored().moved_apart(3, "freezer", closed=9, at=AT)
    assert (stored.apart_count, stored.place) == (3, "fridge")
    assert stored.movable("freezer", closed=9) == 6
    assert stored.movable("fridge", closed=9) == 3
