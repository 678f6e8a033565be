"""What the larder says of each batch on a day: tables, order, and what it must never do."""

from datetime import date, datetime

import pytest
from batch_maker import Maker
from hypothesis import given, settings
from hypothesis import strategies as st
from season import FILLED, days, event, journal

from assistant.cook import fold
from assistant.cook.keeping import keeping
from assistant.facts.events import AnyEvent
from assistant.larder import Larder, larder, larder_lines, recall_lines, up_to, whereabouts
from assistant.larder.shelf import NEAR_DAYS
from assistant.say import by_eye

PLAIN = journal()
CLOSED = keeping(fold(PLAIN)[0]).days or 0
OPENED = keeping(fold(PLAIN)[0], opened=True).days or 0
DAY = FILLED.date()


def told(found: Larder) -> list[tuple[int, bool, str, str]]:
    return [(lot.count, lot.opened, lot.advice, lot.why) for e in found.entries for lot in e.lots]


def test_the_rule_of_the_core_is_what_is_told() -> None:
    # this project's own rule: pH 3.4, its juice heated, 14 days, 4 more for 58 to 65 Brix; 7 opened
    assert (CLOSED, OPENED) == (18, 7)


@pytest.mark.parametrize(
    ("after", "advice", "why"),
    [
        (0, "keep", "in_time"),
        (CLOSED - NEAR_DAYS - 1, "keep", "in_time"),
        (CLOSED - NEAR_DAYS, "use_first", "near"),
        (CLOSED, "use_first", "near"),
        (CLOSED + 1, "throw_away", "past"),
        (400, "throw_away", "past"),
    ],
)
def test_closed_bottles_by_the_day(after: int, advice: str, why: str) -> None:
    found = larder([PLAIN], DAY + days(after))
    assert told(found) == [(9, False, advice, why)]


@pytest.mark.parametrize(
    ("after", "expected"),
    [
        (2, [(7, False, "keep", "in_time"), (2, True, "use_first", "opened")]),
        (2 + OPENED, [(7, False, "keep", "in_time"), (2, True, "use_first", "opened")]),
        (3 + OPENED, [(7, False, "keep", "in_time"), (2, True, "throw_away", "past")]),
        (CLOSED + 1, [(7, False, "throw_away", "past"), (2, True, "throw_away", "past")]),
    ],
)
def test_opened_bottles_have_their_own_days(
    after: int, expected: list[tuple[int, bool, str, str]]
) -> None:
    opened = [*PLAIN, event("opened", FILLED + days(2), count=2)]
    assert told(larder([opened], DAY + days(after))) == expected


@pytest.mark.parametrize(
    ("kind", "fields", "why"),
    [
        ("sign", {"what": "mould"}, "signed"),
        ("recalled", {"reason": "a label was wrong"}, "recalled"),
        ("reading", {"what": "ph", "value": 5.0, "unit": "pH"}, "stopped"),
    ],
)
def test_whatever_bars_a_batch_bars_all_of_it(
    kind: str, fields: dict[str, object], why: str
) -> None:
    events = [*PLAIN, event("opened", FILLED), event(kind, FILLED + days(1), **fields)]
    found = larder([events], DAY + days(1))
    assert told(found) == [(8, False, "throw_away", why), (1, True, "throw_away", why)]
    assert all(lot.keep_by is None for lot in found.entries[0].lots)
    assert found.entries[0].to_throw_away() == 9


def test_a_batch_without_bottles_is_not_in_the_larder() -> None:
    assert larder([PLAIN[:5], []], DAY).entries == ()


def test_what_is_used_up_or_thrown_away_is_no_longer_there() -> None:
    gone = [*PLAIN, event("used", FILLED, count=4), event("discard", FILLED)]
    found = larder([gone], DAY)
    assert found.in_store() == ()
    (entry,) = found.entries
    assert (entry.filled, entry.in_store, entry.used, entry.discarded) == (9, 0, 4, 5)


def test_the_oldest_first_and_the_soonest_to_be_used() -> None:
    old = journal("old", FILLED - days(10))
    new = journal("new", FILLED)
    frozen = [
        *journal("frozen", FILLED - days(30)),
        event("moved", FILLED - days(29), place="freezer"),
    ]
    found = larder([new, frozen, old], DAY + days(6))
    assert [entry.batch for entry in found.entries] == ["frozen", "old", "new"]
    assert [entry.batch for entry, _ in found.lots("use_first")] == ["old"]
    assert [entry.batch for entry, _ in found.lots("keep")] == ["new", "frozen"]


def test_the_past_is_seen_as_it_was() -> None:
    events = [*PLAIN, event("used", FILLED + days(3), count=4)]
    then = up_to(events, DAY + days(2))
    assert larder([then], DAY + days(2)).entries[0].in_store == 9
    assert larder([up_to(events, DAY + days(3))], DAY).entries[0].in_store == 5
    assert up_to(events, date(2026, 7, 1)) == ()


def test_a_clock_that_was_wrong_for_a_while_hides_no_sign() -> None:
    wrong = datetime(2031, 1, 1, tzinfo=FILLED.tzinfo)
    events = [*PLAIN, event("sign", wrong, what="mould"), event("opened", FILLED + days(1))]
    assert up_to(events, DAY + days(1)) == tuple(events)


def lines(journals: list[list[AnyEvent]], after: int) -> list[str]:
    return [by_eye(line) for line in larder_lines(larder(journals, DAY + days(after)))]


def test_the_page_says_what_to_do() -> None:
    signed = [
        *journal("bad", FILLED),
        event("used", FILLED, count=2, to="the kiosk"),
        event("sign", FILLED, what="fizzing"),
    ]
    page = lines([PLAIN, signed, [*journal("open", FILLED), event("opened", FILLED)]], 1)
    assert page[0] == "Throw away, untasted."
    assert page[1].startswith("Bad, Lightly heated berry syrup, blackcurrant: 7 bottles of 500 ml")
    assert "never taste" in page[2]
    assert page[3] == "Use first."
    assert "1 bottle of 500 ml in the fridge, opened 11 July, until 18 July" in page[4]
    assert page[5] == "In store."
    assert page[-1].startswith("2 bottles of bad went out")
    assert not any("safe" in line.lower() for line in page)
    assert lines([], 0) == ["There is nothing in store."]


FOUR = [
    [*PLAIN, event("opened", FILLED + days(1), count=2)],
    [*journal("b", FILLED - days(9)), event("used", FILLED, count=3)],
    journal("c", FILLED),
    [*journal("d", FILLED - days(30)), event("sign", FILLED, what="cloudy")],
]


@settings(max_examples=12, deadline=None)
@given(st.permutations(FOUR), st.integers(0, 60))
def test_the_order_of_the_batches_does_not_matter(mixed: list[list[AnyEvent]], after: int) -> None:
    assert larder(mixed, DAY + days(after)) == larder(FOUR, DAY + days(after))


def test_bottles_moved_apart_stand_where_they_are_with_their_own_day() -> None:
    split = [*PLAIN, event("moved", FILLED + days(1), place="freezer", count=4)]
    (entry,) = larder([split], DAY + days(40)).entries
    assert [(lot.count, lot.place, lot.advice) for lot in entry.lots] == [
        (5, "fridge", "throw_away"),
        (4, "freezer", "keep"),
    ]
    lines = [by_eye(line) for line in larder_lines(larder([split], DAY + days(40)))]
    assert any("in the freezer" in line for line in lines)
    assert whereabouts(split).stands == (("fridge", 5), ("freezer", 4))


def test_each_sort_stands_by_itself() -> None:
    maker = Maker().up_to("bottle")
    jars = {"size_ml": 250.0, "of": "jar"}
    maker.does("bottle", count=6, size_ml=500, more=[{"count": 4, **jars}])
    maker.done()
    maker.does("opened", count=1, vessel=jars)
    maker.does("moved", place="freezer", count=2, vessel={"size_ml": 500.0})
    (entry,) = larder([maker.journal], maker.now.date()).entries
    assert [(lot.count, lot.size_ml, lot.of, lot.opened, lot.place) for lot in entry.lots] == [
        (4, 500, "bottle", False, "fridge"),
        (3, 250, "jar", False, "fridge"),
        (2, 500, "bottle", False, "freezer"),
        (1, 250, "jar", True, "fridge"),
    ]
    lines = [by_eye(line) for line in larder_lines(larder([maker.journal], maker.now.date()))]
    assert any("3 jars of 250 ml in the fridge" in line for line in lines)


def test_a_recall_names_the_sizes_that_went_out() -> None:
    maker = Maker().up_to("bottle")
    maker.does("bottle", count=6, size_ml=500, more=[{"count": 4, "size_ml": 330}])
    maker.done()
    maker.does("used", count=2, to="the kiosk", vessel={"size_ml": 330})
    lines = [by_eye(line) for line in recall_lines(whereabouts(maker.journal))]
    assert any("2 bottles of 330 ml to the kiosk" in line for line in lines)
