"""When the pan will be where it should."""

from batch_maker import Maker

from assistant.cook.warming import seconds_to


def test_one_reading_tells_nothing(maker: Maker) -> None:
    maker.up_to("heat").degrees(40)
    assert seconds_to(maker.batch, 75) is None


def test_a_steady_rise_is_told_to_the_half_minute(maker: Maker) -> None:
    """Six degrees a minute from 40 to 60: the 15 that are missing take two and a half, or longer
    where the air takes its share."""
    maker.up_to("heat")
    for degrees in (40, 46, 52, 58):
        maker.degrees(degrees, 60)
    found = seconds_to(maker.batch, 73)
    assert found is not None
    assert found % 30 == 0
    assert 150 <= found <= 240


def test_readings_of_another_stage_do_not_count(maker: Maker) -> None:
    maker.up_to("water")
    maker.degrees(30, 60)
    maker.done()
    maker.degrees(40, 60)
    assert seconds_to(maker.batch, 75) is None


def test_a_clock_that_stood_still_tells_nothing(maker: Maker) -> None:
    maker.up_to("heat").degrees(40)
    maker.degrees(50, 0)
    assert seconds_to(maker.batch, 75) is None
