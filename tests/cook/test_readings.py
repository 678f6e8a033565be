"""What a reading does to a batch."""

import pytest
from batch_maker import Maker


def test_a_ph_read_takes_back_the_word_to_go_on_without_one(maker: Maker) -> None:
    maker.up_to("ph").done()
    assert maker.ids() == ["without_ph"]
    maker.reads("ph", 4.3, "pH")
    assert maker.stage == "ph"
    maker.done()
    assert (maker.stage, maker.ids()) == ("ph", ["without_ph"])
    assert maker.batch.skipped == frozenset()


def test_a_ph_past_the_bound_is_answered_with_what_to_do(maker: Maker) -> None:
    maker.up_to("ph").reads("ph", 5.0, "pH")
    assert maker.ids() == ["limit", "acid_first"]
    assert maker.reply.stopped


@pytest.mark.parametrize(("what", "value", "unit"), [("fruit", 1, "kg"), ("juice", 1, "l")])
def test_what_was_measured_is_told_and_not_measured_again(
    maker: Maker, what: str, value: float, unit: str
) -> None:
    maker.up_to("dissolve").reads(what, value, unit)
    assert maker.ids()[0] == "have_already"
    assert maker.reply.lines[0].facts["what"] == f"the {what}"
    assert maker.stage == "dissolve"


def test_juice_before_its_time_is_not_taken(maker: Maker) -> None:
    maker.up_to("crush").reads("juice", 1, "l")
    assert maker.ids()[0] == "not_asked_yet"
    assert maker.batch.last("juice") is None


@pytest.mark.parametrize(("ph", "line"), [(2.1, "ph_odd"), (3.4, None), (3.8, "ph_highish")])
def test_a_ph_off_the_recipe_s_aim_is_remarked_upon(
    maker: Maker, ph: float, line: str | None
) -> None:
    # The recipe aims at pH 2.6 to 3.6
    maker.up_to("ph").reads("ph", ph, "pH")
    said = [each for each in maker.ids() if each.startswith("ph_")]
    assert said == ([line] if line else [])
    assert maker.stage == "bottle"
