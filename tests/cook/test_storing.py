"""Bottles after filling: what is taken, refused, warned of, and what a sign does."""

from copy import copy
from datetime import date, timedelta

import pytest
from batch_maker import Maker, without_history
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.cook import fold
from assistant.cook.keeping import (
    apart_until,
    closed_until,
    first_closed_until,
    keeping,
    opened_until,
)
from assistant.say import shown, spoken

DAY = 86_400.0


@pytest.fixture
def stored(maker: Maker) -> Maker:
    """Nine bottles of half a litre in the fridge, filled on 11 July."""
    return maker.up_to("finished")


def counts(maker: Maker) -> tuple[int, int, int, int]:
    """(in store, opened, used, thrown away)"""
    batch = maker.batch
    return batch.in_store, batch.stored.open_count, batch.stored.used, batch.stored.thrown


@pytest.mark.parametrize(
    ("kind", "fields", "ids", "after"),
    [
        ("used", {"count": 3}, ["used"], (6, 0, 3, 0)),
        ("used", {"count": 2, "to": "the kiosk"}, ["given"], (7, 0, 2, 0)),
        ("used", {"count": 9}, ["used"], (0, 0, 9, 0)),
        ("used", {"count": 10}, ["not_so_many"], (9, 0, 0, 0)),
        ("opened", {}, ["opened", "opened_until"], (9, 1, 0, 0)),
        ("opened", {"count": 10}, ["not_so_many_closed"], (9, 0, 0, 0)),
        ("moved", {"place": "freezer"}, ["moved", "closed_until", "freeze_room"], (9, 0, 0, 0)),
        ("moved", {"place": "fridge"}, ["there_already"], (9, 0, 0, 0)),
        ("moved", {"place": "cupboard"}, ["keep_refused", "move_instead"], (9, 0, 0, 0)),
        ("discard", {"count": 2}, ["discarded_some", "discard_how"], (7, 0, 0, 2)),
        ("discard", {"count": 10}, ["not_so_many"], (9, 0, 0, 0)),
        ("discard", {}, ["discarded", "discard_how"], (0, 0, 0, 9)),
        ("recalled", {}, ["recalled"], (9, 0, 0, 0)),
        ("sign", {"what": "mould"}, ["sign.mould"], (9, 0, 0, 0)),
        ("sign", {"what": "fizzing"}, ["sign.fizzing", "gas_how"], (9, 0, 0, 0)),
    ],
)
def test_a_finished_batch_takes_what_becomes_of_its_bottles(
    stored: Maker,
    kind: str,
    fields: dict[str, object],
    ids: list[str],
    after: tuple[int, int, int, int],
) -> None:
    stored.does(kind, **fields)
    assert (stored.ids(), counts(stored)) == (ids, after)
    assert fold(stored.journal)[0] == stored.batch


def test_too_many_are_refused_in_a_clear_sentence(stored: Maker) -> None:
    stored.does("used", count=8)
    assert shown(stored.does("used", count=2)) == ["That is 2, and there is only 1 bottle left."]
    stored.does("opened")
    assert shown(stored.does("opened")) == ["There is no closed bottle of it left."]


@pytest.mark.parametrize(
    ("kind", "fields"),
    [
        ("used", {"count": 1}),
        ("opened", {}),
        ("moved", {"place": "freezer"}),
        ("discard", {"count": 1}),
        ("recalled", {}),
    ],
)
def test_nothing_is_taken_before_bottles_are_filled(
    maker: Maker, kind: str, fields: dict[str, object]
) -> None:
    maker.up_to("heat")
    before = without_history(maker.batch)
    maker.does(kind, **fields)
    assert maker.ids() == ["no_bottles_yet"]
    assert without_history(maker.batch) == before


def test_used_up_are_the_longest_open_and_given_away_the_closed(stored: Maker) -> None:
    stored.does("opened", count=2)
    stored.does("opened", DAY, count=1)
    first, second = (lot.at for lot in stored.batch.stored.opened)
    stored.does("used", count=1, to="the kiosk")
    assert counts(stored) == (8, 3, 1, 0)
    stored.does("used", count=1)
    assert [(lot.count, lot.at) for lot in stored.batch.stored.opened] == [(1, first), (1, second)]
    stored.does("used", count=1)
    assert [(lot.count, lot.at) for lot in stored.batch.stored.opened] == [(1, second)]
    stored.does("used", count=5, to="the kiosk")
    assert counts(stored) == (1, 1, 8, 0)
    stored.does("discard", count=1)
    assert counts(stored) == (0, 0, 8, 1)


def test_an_undone_use_puts_the_bottles_back(stored: Maker) -> None:
    before = without_history(stored.batch)
    stored.does("opened")
    stored.does("sign", what="fizzing")
    stored.does("undo")
    stored.does("undo")
    assert without_history(stored.batch) == before


# The days follow the project's own rule in calc.keeping; the dates are counted by hand.
def test_days_in_the_freezer_do_not_count_but_have_their_own_end(stored: Maker) -> None:
    filled = date(2026, 7, 11)
    days = keeping(stored.batch).days
    assert days is not None
    assert closed_until(stored.batch, stored.now) == filled + timedelta(days=days)
    stored.does("moved", 5 * DAY, place="freezer")
    assert closed_until(stored.batch, stored.now) == filled + timedelta(days=180)
    stored.does("moved", 40 * DAY, place="fridge")
    # five days of the fridge are gone; the thawed bottle has the rest from 25 August
    assert closed_until(stored.batch, stored.now) == date(2026, 8, 25) + timedelta(days=days - 5)


def apart(maker: Maker) -> list[tuple[int, str]]:
    return [(lot.count, lot.place) for lot in maker.batch.stored.apart]


def test_some_bottles_go_elsewhere_and_keep_by_their_own_days(stored: Maker) -> None:
    in_fridge = closed_until(stored.batch, stored.now)
    stored.does("moved", DAY, place="freezer", count=4)
    assert (stored.ids(), counts(stored)) == (
        ["moved", "closed_until", "freeze_room"],
        (9, 0, 0, 0),
    )
    assert apart(stored) == [(4, "freezer")]
    assert closed_until(stored.batch, stored.now) == in_fridge
    (lot,) = stored.batch.stored.apart
    assert apart_until(stored.batch, lot, stored.now) == date(2026, 7, 11) + timedelta(days=180)
    assert first_closed_until(stored.batch, stored.now) == in_fridge
    assert "4 of the closed ones in the freezer." in shown(stored.does("ask", topic="larder"))


def test_those_of_the_rest_go_first_and_those_apart_last(stored: Maker) -> None:
    stored.does("moved", place="freezer", count=4)
    stored.does("used", count=5)
    assert apart(stored) == [(4, "freezer")]
    stored.does("opened")
    assert apart(stored) == [(3, "freezer")]
    stored.does("discard", count=2)
    assert (apart(stored), counts(stored)) == ([(2, "freezer")], (2, 0, 5, 2))
    assert fold(stored.journal)[0] == stored.batch


def test_some_of_those_apart_come_back(stored: Maker) -> None:
    stored.does("moved", place="freezer", count=4)
    stored.does("moved", DAY, place="fridge", count=1)
    assert apart(stored) == [(3, "freezer"), (1, "fridge")]
    stored.does("moved", DAY, place="fridge", count=4)
    assert stored.ids() == ["not_so_many_closed"]
    stored.does("moved", DAY, place="freezer")
    assert {place for _, place in apart(stored)} == {stored.batch.stored.place} == {"freezer"}
    stored.does("moved", DAY, place="freezer", count=1)
    assert stored.ids() == ["there_already"]


def test_no_bottle_is_moved_where_it_must_not_be_kept(stored: Maker) -> None:
    stored.does("moved", place="cupboard", count=2)
    assert stored.ids() == ["keep_refused", "move_instead"]
    assert apart(stored) == []


def test_freezing_does_not_save_what_was_past_its_day(stored: Maker) -> None:
    until = closed_until(stored.batch, stored.now)
    stored.does("moved", 60 * DAY, place="freezer")
    assert stored.ids() == ["moved", "past_keep_by"]
    assert closed_until(stored.batch, stored.now) == until


def test_no_freezing_lengthens_it_past_the_freezer_s_own_days(stored: Maker) -> None:
    stored.does("moved", DAY, place="freezer")
    stored.does("moved", 178 * DAY, place="fridge")
    assert closed_until(stored.batch, stored.now) == date(2026, 7, 11) + timedelta(days=180)


def test_to_and_fro_costs_a_day_each_time(stored: Maker) -> None:
    days = keeping(stored.batch).days
    assert days is not None
    for _ in range(3):
        stored.does("moved", 60, place="freezer")
        stored.does("moved", 60, place="fridge")
    assert closed_until(stored.batch, stored.now) == date(2026, 7, 11) + timedelta(days=days - 3)


def test_an_opened_bottle_keeps_no_longer_than_a_closed_one(stored: Maker) -> None:
    opened_days = keeping(stored.batch, opened=True).days
    assert opened_days is not None
    stored.does("opened", 3 * DAY)
    at = stored.batch.stored.opened[0].at
    assert opened_until(stored.batch, at) == at.date() + timedelta(days=opened_days)
    closed = closed_until(stored.batch, at)
    assert closed is not None
    late = at + timedelta(days=(closed - at.date()).days - 1)
    assert opened_until(stored.batch, late) == closed


def test_what_is_used_too_late_is_told_and_written_down(stored: Maker) -> None:
    stored.does("used", 100 * DAY, count=1)
    assert stored.ids() == ["used", "past_keep_by"]
    assert counts(stored)[2] == 1


def test_an_opened_bottle_used_too_late_is_told_though_the_closed_are_in_time(
    stored: Maker,
) -> None:
    stored.does("opened")
    stored.does("used", 8 * DAY, count=1)
    assert stored.ids() == ["used", "past_keep_by"]
    stored.does("used", count=1)
    assert stored.ids() == ["used"]


SIGNS = ("fizzing", "bulging", "mould", "off_smell", "leaking", "cloudy")


@pytest.mark.parametrize("what", SIGNS)
def test_after_a_sign_every_keep_answer_says_throw_it_away(stored: Maker, what: str) -> None:
    stored.does("sign", what=what)
    for about in (None, "fridge", "freezer", "cupboard", "opened"):
        stored.does("ask", topic="keep", about=about)
        assert stored.ids() == ["keep_signed"]
        assert "throw it away" in spoken(stored.reply)
    for topic in ("where", "next", "larder", "how_long"):
        stored.does("ask", topic=topic)
        assert "keep_signed" in stored.ids()
    stored.does("opened")
    assert stored.ids() == ["opened", "keep_signed"]
    stored.does("used", count=1)
    assert stored.ids() == ["used", "keep_signed"]


def test_how_to_open_it_is_said_once(stored: Maker) -> None:
    assert "gas_how" in [line.id for line in stored.does("sign", what="bulging").lines]
    assert "gas_how" not in [line.id for line in stored.does("sign", what="fizzing").lines]
    words = shown(Maker().up_to("finished").does("sign", what="bulging"))[1]
    for needed in ("lidded bucket outdoors", "point it away", "cloth", "sink", "never taste"):
        assert needed in words


def test_without_a_ph_a_bottle_under_pressure_stays_shut(maker: Maker) -> None:
    maker.up_to("ph")
    maker.done()
    maker.done()
    for _ in range(4):
        maker.does("no") if maker.stage != "sharpen" else maker.done()
    maker.does("bottle", count=9, size_ml=500)
    maker.does("sign", what="bulging")
    assert maker.ids() == ["sign.bulging", "gas_leave_shut"]
    assert shown(maker.reply)[1].startswith("Do not open it")


def test_bottles_that_went_out_of_a_spoiled_batch_are_named(stored: Maker) -> None:
    stored.does("used", count=2, to="the kiosk")
    stored.does("sign", what="fizzing")
    assert stored.ids() == ["sign.fizzing", "gas_how", "out_there"]
    assert "say more" in spoken(stored.reply)


def test_a_thrown_away_batch_takes_signs_and_a_recall_only(stored: Maker) -> None:
    stored.does("used", count=2, to="the kiosk")
    stored.does("discard")
    for kind, fields in (("used", {"count": 1}), ("opened", {}), ("moved", {"place": "freezer"})):
        stored.does(kind, **fields)
        assert stored.ids() == ["was_discarded"]
    stored.does("sign", what="fizzing")
    assert stored.ids()[0] == "sign.fizzing"
    stored.does("recalled")
    assert stored.ids() == ["recalled"]
    assert counts(stored) == (0, 0, 2, 7)


def test_a_sign_before_the_bottles_leaves_the_batch_alone(maker: Maker) -> None:
    maker.up_to("heat")
    maker.does("sign", what="cloudy")
    assert (maker.ids(), maker.stage) == (["sign_early"], "heat")


def test_the_larder_answer_is_about_this_batch(stored: Maker) -> None:
    stored.does("opened")
    (first, second) = shown(stored.does("ask", topic="larder"))
    assert first.startswith("8 closed and 1 opened, in the fridge, the closed ones until ")
    assert second == "The one longest open is to be used by 18 July."
    stored.does("ask", 9 * DAY, topic="larder")
    assert stored.ids() == ["in_store_until", "past_opened"]
    stored.does("ask", 60 * DAY, topic="larder")
    assert stored.ids()[0] == "past_keep_by"


KINDS = st.sampled_from(
    [
        ("used", {"to": ""}),
        ("used", {"to": "the kiosk"}),
        ("opened", {}),
        ("discard", {}),
        ("moved", {"place": "freezer", "count": 2}),
        ("moved", {"place": "fridge", "count": 1}),
        ("moved", {"place": "freezer"}),
        ("moved", {"place": "fridge"}),
        ("moved", {"place": "cupboard"}),
        ("sign", {"what": "mould"}),
        ("undo", {}),
        ("recalled", {}),
    ]
)


FINISHED = Maker().up_to("finished")


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(KINDS, st.integers(1, 6), st.integers(0, 30)), max_size=14))
def test_bottles_are_never_lost_nor_owed(
    script: list[tuple[tuple[str, dict[str, object]], int, int]],
) -> None:
    maker = copy(FINISHED)
    maker.journal = [*FINISHED.journal]
    for (kind, fields), count, days in script:
        counted = {"count": count} if kind in ("used", "opened", "discard") else {}
        maker.does(kind, days * DAY, **fields, **counted)
        if maker.batch.bottled is None:  # all taken back
            break
        in_store, opened, used, thrown = counts(maker)
        assert in_store + used + thrown == 9
        assert 0 <= opened <= in_store
        assert 0 <= sum(count for count, _ in apart(maker)) <= maker.batch.closed
        assert sum(line.rank != "read_back" for line in maker.reply.aloud()) <= 2
        assert " safe" not in spoken(maker.reply).lower()
    assert fold(maker.journal)[0] == maker.batch
