"""The hold, counted from readings."""

from datetime import timedelta

import pytest
from batch_maker import Maker

from assistant.cook import fold
from assistant.cook.holding import best_run, current_run, held, hold_stage, would_complete_at


def test_a_recipe_without_a_hold_holds_nothing() -> None:
    batch = Maker("cold-shrub").batch
    assert hold_stage(batch) is None
    assert (held(batch).seconds, held(batch).complete, best_run(batch)) == (0, False, ())


@pytest.mark.parametrize(("seconds", "complete"), [(89, False), (90, True)])
def test_complete_to_the_second(maker: Maker, seconds: float, complete: bool) -> None:
    # The recipe holds 90 s at 75 degC
    maker.up_to("hold").degrees(76, 45)
    maker.degrees(76, seconds - 45)
    assert held(maker.batch).complete is complete


@pytest.mark.parametrize(("silence", "counted"), [(60, 60), (61, 0), (3600, 0), (86_400, 0)])
def test_a_silence_longer_than_two_thirds_of_the_hold_earns_nothing(
    maker: Maker, silence: float, counted: float
) -> None:
    maker.up_to("hold").degrees(76, silence)
    assert held(maker.batch).seconds == counted
    assert maker.stage == "hold"


def test_of_two_readings_the_cooler_one_counts(maker: Maker) -> None:
    maker.up_to("hold")
    maker.degrees(74, 40)
    maker.degrees(80, 60)
    maker.degrees(76, 50)
    assert held(maker.batch).seconds == 50


def test_the_run_that_goes_on_is_not_the_best_one(maker: Maker) -> None:
    stage = hold_stage(maker.up_to("hold").batch)
    assert stage is not None
    maker.degrees(76, 40)
    maker.degrees(76, 40)
    maker.degrees(70, 10)
    maker.degrees(76, 10)
    maker.degrees(76, 20)
    assert current_run(maker.batch, stage).seconds == 20
    assert held(maker.batch).seconds == 80


def test_a_clock_set_back_ends_the_run(maker: Maker) -> None:
    maker.up_to("hold").degrees(76, 60)
    maker.degrees(76, -30)
    stage = hold_stage(maker.batch)
    assert stage is not None
    assert current_run(maker.batch, stage).seconds == 0
    assert not would_complete_at(maker.batch, stage, maker.now - timedelta(hours=1))


def test_a_temperature_read_while_it_cools_is_no_hold(maker: Maker) -> None:
    maker.up_to("cool")
    before = held(maker.batch)
    maker.degrees(80)
    maker.degrees(80, 100)
    assert held(maker.batch) == before


def test_a_dip_of_a_tenth_pauses_the_hold(maker: Maker) -> None:
    maker.up_to("hold")
    maker.degrees(76, 40)
    maker.degrees(74.9, 20)
    assert maker.ids() == ["read_back", "hold_dip"]
    maker.degrees(76, 20)
    stage = hold_stage(maker.batch)
    assert stage is not None
    # The 40 s before the dip count, the two stretches of 20 s that touch it do not
    assert current_run(maker.batch, stage).seconds == 40
    maker.degrees(76, 50)
    assert maker.stage == "steep"
    assert "held" in maker.ids()


@pytest.mark.parametrize(("coldest", "goes_on"), [(72.0, True), (71.9, False)])
def test_a_deep_dip_starts_it_anew(maker: Maker, coldest: float, goes_on: bool) -> None:
    maker.up_to("hold")
    maker.degrees(76, 60)
    maker.degrees(coldest, 10)
    assert ("hold_dip" in maker.ids()) is goes_on
    assert ("hold_lost" in maker.ids()) is not goes_on
    maker.degrees(76, 10)
    maker.degrees(76, 40)
    assert (maker.stage == "steep") is goes_on


def test_time_in_the_dip_alone_never_makes_a_hold(maker: Maker) -> None:
    maker.up_to("hold")
    for _ in range(20):
        maker.degrees(74.9, 30)
    assert maker.stage == "hold"
    assert held(maker.batch).seconds == 0


def test_what_was_written_before_dips_were_allowed_stays_what_it_was(maker: Maker) -> None:
    maker.up_to("hold")
    for degrees, after_s in ((76, 40), (74.9, 20), (76, 20), (76, 50)):
        maker.degrees(degrees, after_s)
    first, *rest = maker.journal
    old, _ = fold([first.model_copy(update={"rules": 0}), *rest])
    assert held(maker.batch).complete
    assert not held(old).complete
    assert old.stage is not None
    assert old.stage.id == "hold"
