"""Time is believed only as far as both clocks tell it."""

from datetime import timedelta

import pytest
from batch_maker import START, Maker

from assistant.cook.holding import held
from assistant.cook.passing import passed
from assistant.facts.events import Reading, event_adapter


class Counted:
    """A hold whose readings carry what a process counted, beside the wall clock."""

    def __init__(self, maker: Maker) -> None:
        self.maker = maker.up_to("hold")
        self.elapsed = 0.0

    def degrees(self, value: float, wall_s: float, counted_s: float, process: str = "one") -> None:
        self.elapsed += counted_s
        counted = {"process": process, "elapsed_s": self.elapsed}
        self.maker.does("reading", wall_s, what="temperature", value=value, unit="degC", **counted)


def test_a_clock_that_jumps_on_holds_nothing(maker: Maker) -> None:
    hold = Counted(maker)
    hold.degrees(76, 10, 10)
    hold.degrees(76, 300, 2)
    assert maker.stage == "hold"
    assert held(maker.batch).seconds == 0  # the machine may have slept, and nobody looked
    assert maker.ids()[-1] == "clock_set_on"
    for _ in range(4):
        hold.degrees(76, 40, 40)
    assert maker.stage == "steep"


def test_a_machine_that_slept_holds_nothing_either(maker: Maker) -> None:
    hold = Counted(maker)
    hold.degrees(76, 10, 10)
    hold.degrees(76, 40, 3)
    assert held(maker.batch).seconds == 3


def test_a_clock_set_back_starts_the_hold_anew(maker: Maker) -> None:
    hold = Counted(maker)
    hold.degrees(76, 10, 10)
    hold.degrees(76, 50, 50)
    hold.degrees(76, -3600, 50)
    assert maker.ids()[-1] == "clock_set_back"
    assert maker.stage == "hold"


def test_between_two_processes_nobody_knows_how_long_it_was(maker: Maker) -> None:
    hold = Counted(maker)
    hold.degrees(76, 10, 10)
    hold.degrees(76, 40, 40)
    hold.degrees(76, 55, 55, process="two")
    assert maker.stage == "hold"
    assert maker.ids()[-1] == "time_unknown"
    hold.degrees(76, 50, 50, process="two")
    hold.degrees(76, 50, 50, process="two")
    assert maker.stage == "steep"


@pytest.mark.parametrize(("apart", "seconds"), [(4.0, 60.0), (0.0, 60.0), (-4.0, 56.0)])
def test_a_nudge_of_the_clock_is_no_disagreement(apart: float, seconds: float) -> None:
    one = Reading(at=START, what="temperature", value=76, unit="degC", process="p", elapsed_s=5.0)
    at = START + timedelta(seconds=60 + apart)
    other = one.model_copy(update={"at": at, "elapsed_s": 65.0})
    since = passed(one, other)
    assert (since.seconds, since.disagree) == (seconds, False)


def test_what_was_written_before_anything_was_counted_goes_by_the_wall() -> None:
    body = {"kind": "reading", "at": START, "what": "temperature", "value": 76, "unit": "degC"}
    one, other = (
        event_adapter.validate_python(body | {"at": START + timedelta(seconds=s)}) for s in (0, 45)
    )
    assert isinstance(one, Reading)
    assert isinstance(other, Reading)
    assert passed(one, other).seconds == 45
    assert "elapsed_s" not in one.model_dump()
    assert "process" not in one.model_dump()
