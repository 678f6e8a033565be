"""A recall names where every bottle went, as far as the journal knows."""

import pytest
from season import FILLED, days, event, journal

from assistant.base.errors import WrongUse
from assistant.larder import recall_lines, whereabouts
from assistant.say import by_eye

EVENTS = [
    *journal(),
    event("used", FILLED + days(1), count=2, to="the rowing club"),
    event("used", FILLED + days(2), count=1),
    event("discard", FILLED + days(3), count=1),
    event("opened", FILLED + days(3)),
    event("used", FILLED + days(4), count=1, to="the rowing club"),
    event("used", FILLED + days(5), count=9, to="refused, so many there are not"),
    event("recalled", FILLED + days(6), reason="a bottle fizzed"),
]


def test_every_bottle_is_accounted_for() -> None:
    found = whereabouts(EVENTS)
    assert [(went.count, went.to) for went in found.went] == [
        (2, "the rowing club"),
        (1, ""),
        (1, "the rowing club"),
    ]
    assert (found.out, found.unnamed, found.discarded, found.in_store) == (4, 1, 1, 4)
    assert found.filled == found.in_store + found.out + found.discarded


def test_the_lines_say_where_and_what_to_tell() -> None:
    said = [by_eye(line) for line in recall_lines(whereabouts(EVENTS))]
    assert said[0] == (
        "Recall of batch 2026-07-11-1: Lightly heated berry syrup, blackcurrant,"
        " 9 bottles filled on 11 July 2026."
    )
    text = " ".join(said)
    for needed in (
        "Reason: a bottle fizzed.",
        "12 July 2026: 2 bottles to the rowing club.",
        "13 July 2026: 1 bottle used, nobody named.",
        "15 July 2026: 1 bottle to the rowing club.",
        "4 bottles in the fridge: set them apart",
        "1 bottle thrown away.",
        "not to be drunk or tasted",
        "emergency",
        "food authority",
    ):
        assert needed in text
    assert "safe" not in text.lower()


def test_nothing_went_out() -> None:
    said = [by_eye(line) for line in recall_lines(whereabouts(journal()))]
    assert "No bottle went out, as far as the journal knows." in said
    assert not any("written down" in line for line in said)


def test_after_throwing_away_the_bottles_that_went_out_are_still_known() -> None:
    events = [*EVENTS[:-2], event("discard", FILLED + days(7))]
    found = whereabouts(events)
    assert (found.out, found.discarded, found.in_store) == (4, 5, 0)


def test_a_batch_without_bottles_cannot_be_called_back() -> None:
    with pytest.raises(WrongUse, match="No bottles"):
        whereabouts(journal()[:4])
