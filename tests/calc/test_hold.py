import math
from itertools import accumulate, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.hold import (
    FDA_JUICE,
    FDA_Z_C,
    MAZZOTTA_JUICE,
    MILK_PAIR,
    PROCESSES,
    SUGAR_YEAST,
    SWEETENED,
    lethality,
    pu,
    required_seconds,
    seconds_above,
    sweetened_margin,
    sweetened_needed,
    sweetened_rate,
)

temps = st.floats(15.0, 99.0)


@st.composite
def timelines(draw, least=2):
    """Readings in order of time, a pan's worth."""
    steps = draw(st.lists(st.tuples(st.floats(0.0, 120.0), temps), min_size=least, max_size=8))
    times = accumulate(step for step, _ in steps)
    return [(t, temp) for t, (_, temp) in zip(times, steps, strict=True)]


# FDA, Juice HACCP Hazards and Controls Guidance, 1st ed. (2004), sec. V.C.5.2
FDA_PAIRS = [(71.11, 6.0), (73.89, 2.8), (76.67, 1.3), (79.44, 0.6), (82.22, 0.3)]


@pytest.mark.parametrize(("temp_c", "seconds"), FDA_PAIRS)
def test_fda_pairs_are_met(temp_c, seconds):
    assert required_seconds(temp_c, FDA_JUICE) == pytest.approx(seconds, abs=0.05)


def test_fda_pairs_imply_a_z_of_eight_and_a_half():
    assert pytest.approx(8.5, abs=0.05) == FDA_Z_C


@pytest.mark.parametrize(
    ("process", "temp_c", "seconds"),
    [
        (MILK_PAIR, 71.7, 15.0),  # FDA Juice HACCP guidance (2004), V.C.5.2: 161 F 15 s
        (MAZZOTTA_JUICE, 71.1, 3.0),  # Mazzotta, J Food Prot 64 (2001) 315-320
        (SUGAR_YEAST, 75.0, 90.0),  # Rojo et al., Food Bioprocess Technol 12 (2019) 781-788
        (SUGAR_YEAST, 80.0, 90.0),  # the same: 90 s at 75 and at 80 C
    ],
)
def test_published_pairs(process, temp_c, seconds):
    assert required_seconds(temp_c, process) == pytest.approx(seconds)


def test_sweetened_is_the_milk_pair_raised_by_three_degrees():
    # 25 TAC 217.1(68) note: added sweeteners, raise by 3 C
    assert SWEETENED.reference_c - MILK_PAIR.reference_c == pytest.approx(3.0)
    assert SWEETENED.seconds == MILK_PAIR.seconds


@pytest.mark.parametrize("process", PROCESSES.values(), ids=PROCESSES.keys())
def test_colder_than_a_process_is_out_of_range(process):
    assert required_seconds(process.low_c, process) > 0
    with pytest.raises(OutOfRange):
        required_seconds(process.low_c - 0.1, process)


@pytest.mark.parametrize("process", PROCESSES.values(), ids=PROCESSES.keys())
def test_no_credit_above_the_top_of_a_process(process):
    assert required_seconds(99.0, process) == required_seconds(process.high_c, process)


def test_single_pairs_carry_no_z():
    assert required_seconds(95.0, MILK_PAIR) == 15.0


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([], 0.0),
        ([(0.0, 90.0)], 0.0),
        ([(0.0, 72.0), (10.0, 72.0)], 10.0),
        ([(0.0, 72.0), (10.0, 82.0)], 10.0),  # the cooler end counts
        ([(0.0, 82.0), (10.0, 72.0)], 10.0),
        ([(0.0, 82.0), (10.0, 82.0)], 100.0),
        ([(0.0, 70.0), (10.0, 70.0)], 10.0 * 10**-0.2),
        ([(0.0, 68.9), (10.0, 90.0)], 0.0),  # more than 3 C below the reference
    ],
)
def test_lethality_by_hand(readings, expected):
    assert lethality(readings, 72.0, 10.0) == pytest.approx(expected)


def test_floor_can_be_set():
    readings = [(0.0, 62.0), (10.0, 62.0)]
    assert lethality(readings, 72.0, 10.0, floor_c=60.0) == pytest.approx(1.0)


@pytest.mark.parametrize("function", [lethality, seconds_above, sweetened_margin, pu])
def test_readings_out_of_order_are_refused(function):
    more = {lethality: (72.0, 8.5), seconds_above: (72.0,)}.get(function, ())
    with pytest.raises(ValueError, match="out of order"):
        function([(10.0, 75.0), (5.0, 75.0)], *more)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -41.0, 131.0])
def test_impossible_temperatures_are_refused(bad):
    with pytest.raises(OutOfRange):
        lethality([(0.0, 75.0), (5.0, bad)], 72.0, 8.5)
    with pytest.raises(OutOfRange):
        sweetened_rate(bad)
    with pytest.raises(OutOfRange):
        sweetened_needed([], bad)


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_impossible_times_are_refused(bad):
    with pytest.raises(ValueError, match="no place in time"):
        seconds_above([(0.0, 75.0), (bad, 75.0)], 72.0)


@pytest.mark.parametrize("bad", [0.0, 0.9, 31.0, math.nan])
def test_impossible_z_is_refused(bad):
    with pytest.raises(OutOfRange):
        lethality([], 72.0, bad)


@given(timelines(), temps)
def test_more_time_never_lowers(readings, temp_c):
    longer = [*readings, (readings[-1][0] + 30.0, temp_c)]
    assert lethality(longer, 72.0, 8.5) >= lethality(readings, 72.0, 8.5)
    assert seconds_above(longer, 72.0) >= seconds_above(readings, 72.0)
    assert sweetened_margin(longer) >= sweetened_margin(readings)


@given(timelines(), st.floats(0.0, 20.0))
def test_hotter_never_lowers(readings, more_c):
    hotter = [(t, temp + more_c) for t, temp in readings]
    assert lethality(hotter, 72.0, 8.5) >= lethality(readings, 72.0, 8.5) - 1e-9
    assert seconds_above(hotter, 72.0) >= seconds_above(readings, 72.0)
    assert sweetened_margin(hotter) >= sweetened_margin(readings) - 1e-9


@given(timelines(), st.floats(0.0, 1.0), st.floats(0.0, 30.0))
def test_a_reading_between_that_is_no_cooler_never_lowers(readings, where, above_c):
    (t1, a), (t2, b) = readings[0], readings[1]
    between = (t1 + where * (t2 - t1), min(a, b) + above_c)
    assert sweetened_margin([readings[0], between, *readings[1:]]) >= (
        sweetened_margin(readings) - 1e-9
    )


@given(timelines(), st.floats(0.0, 1.0), st.floats(0.0, 30.0))
def test_a_reading_between_that_is_cooler_never_raises(readings, where, below_c):
    (t1, a), (t2, b) = readings[0], readings[1]
    between = (t1 + where * (t2 - t1), min(a, b) - below_c)
    assert sweetened_margin([readings[0], between, *readings[1:]]) <= (
        sweetened_margin(readings) + 1e-9
    )


@given(timelines())
def test_never_more_than_the_straight_line_between_readings(readings):
    def straight(parts):
        total = 0.0
        for (t1, a), (t2, b) in pairwise(readings):
            for i in range(parts):
                temp = a + (b - a) * (i + 0.5) / parts
                total += (t2 - t1) / parts * (10 ** ((temp - 72.0) / 8.5) if temp >= 69 else 0)
        return total

    # the midpoint rule may miss a sliver of the floor's step, at most one part of each interval
    slack = sum((t2 - t1) / 50 for (t1, _), (t2, _) in pairwise(readings))
    counted = lethality(readings, 72.0, 8.5)
    assert counted <= straight(50) * 1.001 + slack + 1e-9


@given(timelines(), st.floats(71.8, 99.0))
def test_sweetened_needed_completes_the_hold(readings, now_c):
    left = sweetened_needed(readings, now_c)
    more = sweetened_margin([(0.0, now_c), (left, now_c)])
    assert sweetened_margin(readings) + more >= 1.0 - 1e-9


def test_too_cool_never_completes():
    assert sweetened_needed([], 71.0) == math.inf
    assert sweetened_needed([(0.0, 75.0), (60.0, 75.0)], 20.0) == 0.0


def test_sweetened_takes_the_stricter_z():
    # Mazzotta (2001): z 5.3 C, steeper, so stricter below the reference of 74.7 C; above it the
    # flatter z of the FDA pairs is. Half a z below is 1/sqrt(10), two thirds of a z above 10^(2/3)
    assert sweetened_rate(74.7 - 5.3 / 2) == pytest.approx(0.3162, abs=1e-4)
    assert sweetened_rate(74.7) == pytest.approx(1.0)
    assert sweetened_rate(74.7 + 2 / 3 * FDA_Z_C) == pytest.approx(4.6416, abs=1e-4)


def test_sweetened_asks_more_than_every_juice_process():
    for temp_c in (71.8, 73.0, 74.7, 78.0, 82.2):
        needed = SWEETENED.seconds / sweetened_rate(temp_c)
        assert needed > required_seconds(temp_c, FDA_JUICE)
        assert needed > required_seconds(temp_c, MAZZOTTA_JUICE)


@pytest.mark.parametrize("temp_c", [60.0, 65.0, 72.0])
def test_pu_agrees_with_its_other_form(temp_c):
    # PU per minute = 1.393^(T - 60), after Del Vecchio et al. 1951; z 7 differs by 3 % at 72 C
    minute = [(0.0, temp_c), (60.0, temp_c)]
    assert pu(minute) == pytest.approx(1.393 ** (temp_c - 60.0), rel=0.035)
