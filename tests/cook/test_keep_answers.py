"""What is said about keeping."""

from datetime import timedelta

import pytest
from batch_maker import Maker

from assistant.cook.keep_answers import barred_lines, ending_lines, keep_lines, past_lines


def _ids(lines: tuple[object, ...]) -> list[str]:
    return [line.id for line in lines]  # type: ignore[attr-defined]


def test_before_the_bottles_no_date_is_named(maker: Maker) -> None:
    maker.up_to("ask_sorbate")
    assert _ids(keep_lines(maker.batch, maker.now))[0] == "keep_so_far"


def test_in_the_fridge_it_says_how_cold_that_is(maker: Maker) -> None:
    # 4.4 degC: FDA and CDC consumer guidance
    maker.up_to("finished")
    lines = {line.id: line for line in keep_lines(maker.batch, maker.now)}
    assert lines["keep_cold"].facts["fridge"].value == 4.4  # type: ignore[union-attr]
    assert "keep_cold" not in _ids(keep_lines(maker.batch, maker.now, "freezer"))


def test_the_cupboard_is_refused_with_the_reason(maker: Maker) -> None:
    maker.up_to("finished")
    assert _ids(keep_lines(maker.batch, maker.now, "cupboard")) == ["keep_refused"]


def test_after_the_last_day_it_is_thrown_away(maker: Maker) -> None:
    maker.up_to("finished")
    assert _ids(keep_lines(maker.batch, maker.now + timedelta(days=300))) == ["past_keep_by"]
    assert past_lines(None, maker.now) == ()


@pytest.mark.parametrize(
    ("kind", "fields", "line"),
    [("sign", {"what": "mould"}, "keep_signed"), ("recalled", {}, "keep_recalled")],
)
def test_what_bars_it_is_said_instead_of_days(
    maker: Maker, kind: str, fields: dict[str, str], line: str
) -> None:
    maker.up_to("finished").does(kind, **fields)
    assert _ids(barred_lines(maker.batch)) == [line]
    assert _ids(keep_lines(maker.batch, maker.now)) == [line]
    assert _ids(ending_lines(maker.batch, maker.now)) == [line]


def test_when_all_is_used_it_says_so(maker: Maker) -> None:
    maker.up_to("finished").does("used", count=9)
    assert _ids(ending_lines(maker.batch, maker.now)) == ["none_left"]
