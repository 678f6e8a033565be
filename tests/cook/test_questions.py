"""Answers to questions, from the batch as it stands."""

import pytest
from batch_maker import Maker

from assistant.limits import all_limits
from assistant.say import by_eye


def _asks(maker: Maker, topic: str, about: str | None = None) -> list[str]:
    maker.does("ask", topic=topic, about=about)
    return maker.ids()


def test_where_says_the_stage_and_what_it_wants(maker: Maker) -> None:
    maker.up_to("heat")
    assert _asks(maker, "where") == ["where", "stage"]
    assert maker.reply.lines[0].facts["number"] == 4


def test_a_bound_is_told_as_what_lies_above_it(maker: Maker) -> None:
    # 21 CFR 114.3: 4.6; a value equal to it does not trip
    maker.up_to("ph")
    assert _asks(maker, "limit", "ph") == ["bound_stop", "bound_caution"]
    assert by_eye(maker.reply.lines[0]).startswith("From pH 4.6 on I stop the batch: 21 CFR 114.3")


@pytest.mark.parametrize("quantity", sorted({limit.quantity for limit in all_limits()}))
def test_every_limit_can_be_asked_about(maker: Maker, quantity: str) -> None:
    rows = [limit for limit in all_limits() if limit.quantity == quantity]
    assert len(_asks(maker, "limit", quantity)) == len(rows)
    told = {line.facts["bound"].value for line in maker.reply.lines}  # type: ignore[union-attr]
    assert told == {limit.bound for limit in rows}


def test_where_there_is_no_limit_it_says_so(maker: Maker) -> None:
    assert _asks(maker, "limit", "sugar")[0] == "no_such_limit"


def test_how_much_before_the_weight_asks_for_it(maker: Maker) -> None:
    assert _asks(maker, "how_much", "sugar")[0] == "fruit_first"


def test_how_much_without_a_word_is_what_the_stage_adds(maker: Maker) -> None:
    maker.up_to("crush")
    _asks(maker, "how_much")
    assert maker.reply.lines[0].facts["stuff"] == "the first sugar"


def test_how_much_of_what_went_in_is_what_went_in(maker: Maker) -> None:
    maker.up_to("crush").reads("sugar", 555, "g")
    maker.does("ask", topic="how_much", about="crushing_sugar")
    (line,) = maker.reply.lines
    assert (line.id, line.facts["amount"].value) == ("went_in", 555)  # type: ignore[union-attr]


def test_more_tells_what_was_left_out_and_then_that_it_is_all(maker: Maker) -> None:
    maker.up_to("finished").does("ask", topic="keep")
    assert maker.reply.left()
    for _ in range(9):
        if _asks(maker, "more") == ["no_more"]:
            break
    assert maker.ids() == ["no_more"]


def test_how_long_with_a_timer_is_the_timer(maker: Maker) -> None:
    maker.does("timer_set", seconds=600, name="jars")
    maker.does("ask", 100, topic="how_long")
    (line,) = maker.reply.lines
    assert (line.id, line.facts["left"].value) == ("timer_left", 500)  # type: ignore[union-attr]
