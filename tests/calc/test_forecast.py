import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.forecast import forecast, overshoot_c


def newton(times, start_c, settles_c, constant_s, digits=9):
    """Readings of a pan that settles, rounded as a thermometer does."""
    return [
        (t, round(settles_c + (start_c - settles_c) * math.exp(-t / constant_s), digits))
        for t in times
    ]


def newton_time(start_c, settles_c, constant_s, target_c):
    return -constant_s * math.log((settles_c - target_c) / (settles_c - start_c))


def test_two_warming_readings_make_a_straight_line():
    found = forecast([(0, 40.0), (60, 46.0)])
    assert found.rate_c_min == pytest.approx(6.0)
    assert found.time_to(76).likely == pytest.approx(300.0)


def test_two_warming_readings_allow_for_slowing_down():
    found = forecast([(0, 40.0), (60, 46.0)]).time_to(76)
    assert found.low < 300.0 < found.high


@pytest.mark.parametrize(("settles_c", "constant_s"), [(250, 2500), (180, 1500), (120, 900)])
@pytest.mark.parametrize("count", [3, 4, 6])
def test_warming_is_bracketed(settles_c, constant_s, count):
    times = [45.0 * i for i in range(count)]
    found = forecast(newton(times, 40, settles_c, constant_s)).time_to(75)
    truth = newton_time(40, settles_c, constant_s, 75) - times[-1]
    assert found.about(truth)
    assert found.likely == pytest.approx(truth, rel=0.3)


@pytest.mark.parametrize("room_c", [16, 20, 25])
@pytest.mark.parametrize("count", [2, 3, 6])
def test_cooling_is_bracketed_by_a_kitchen(room_c, count):
    times = [120.0 * i for i in range(count)]
    found = forecast(newton(times, 85, room_c, 1800)).time_to(40)
    truth = newton_time(85, room_c, 1800, 40) - times[-1]
    assert found.about(truth)
    assert found.likely == pytest.approx(truth, rel=0.3)


def test_whole_degrees_do_not_upset_it():
    times = [60.0 * i for i in range(7)]
    found = forecast(newton(times, 30, 250, 2500, digits=0)).time_to(75)
    truth = newton_time(30, 250, 2500, 75) - times[-1]
    assert found.about(truth)
    assert found.likely == pytest.approx(truth, rel=0.2)


def test_one_odd_reading_does_not_tip_it():
    times = [30.0 * i for i in range(8)]
    right = newton(times, 40, 250, 2500)
    odd = [*right[:4], (right[4][0], right[4][1] + 1.4), *right[5:]]
    assert forecast(odd).time_to(75).likely == pytest.approx(
        forecast(right).time_to(75).likely, rel=0.1
    )


def test_only_what_came_after_a_turn_counts():
    before = [(0.0, 40.0), (60.0, 60.0), (120.0, 80.0)]
    after = [(180.0, 70.0), (240.0, 74.0), (300.0, 78.0)]  # sugar went in at 150 s
    assert forecast([*before, *after]).rate_c_min == pytest.approx(
        forecast(after).rate_c_min, rel=0.05
    )


def test_a_pan_taken_off_is_seen_to_cool():
    found = forecast([(0.0, 60.0), (60.0, 75.0), (120.0, 73.0), (180.0, 71.0)])
    assert found.rate_c_min < 0
    assert found.time_to(90) is None
    assert found.time_to(60).likely > 0


def test_old_readings_are_left_out():
    old = [(0.0, 20.0), (300.0, 21.0)]
    new = [(2000.0, 40.0), (2060.0, 46.0)]
    assert forecast([*old, *new]).rate_c_min == pytest.approx(6.0)


def test_a_low_hob_is_seen_to_settle_short():
    times = [60.0 * i for i in range(10)]
    found = forecast(newton(times, 30, 62, 200)).time_to(75)
    assert found is None


def test_a_pan_that_does_not_move_is_going_nowhere():
    found = forecast([(0.0, 60.0), (60.0, 60.2), (120.0, 60.1)])
    assert not found.moving
    assert found.time_to(75) is None


def test_there_already():
    assert forecast([(0.0, 60.0), (60.0, 75.0)]).time_to(75).likely == 0.0


def test_a_fit_that_has_just_overtaken_the_target_is_there():
    readings = [(0.0, 60.0), (60.0, 66.0), (120.0, 71.5), (180.0, 74.4)]
    found = forecast(readings).time_to(74.7)
    assert found.likely < 15.0
    assert found.high < 60.0


def test_cooling_never_passes_the_freezer():
    found = forecast([(0.0, 60.0), (60.0, 55.0), (120.0, 50.7), (180.0, 46.8)])
    assert found.at(7200.0).likely >= -18.0


@given(st.floats(20.0, 60.0), st.floats(2.0, 15.0), st.floats(1.0, 30.0))
def test_further_takes_longer(start_c, step_c, further_c):
    found = forecast([(0.0, start_c), (60.0, start_c + step_c)])
    near = found.time_to(start_c + step_c + 1.0)
    far = found.time_to(min(110.0, start_c + step_c + 1.0 + further_c))
    assert near.likely < far.likely
    assert near.low <= far.low
    assert near.high <= far.high


@given(
    st.lists(st.tuples(st.floats(0.5, 300.0), st.floats(-10.0, 105.0)), min_size=2, max_size=12),
    st.floats(-20.0, 110.0),
)
def test_any_readings_give_an_ordered_answer_or_none(steps, target_c):
    time, readings = 0.0, []
    for step, temp in steps:
        time += step
        readings.append((time, temp))
    found = forecast(readings)
    when = found.time_to(target_c)
    assert when is None or 0.0 <= when.low <= when.likely <= when.high
    ahead = found.at(60.0)
    assert ahead.low <= ahead.likely <= ahead.high


@given(st.floats(21.0, 60.0))
def test_there_and_back(target_c):
    found = forecast(newton([0.0, 60.0, 120.0], 80, 20, 1800))
    when = found.time_to(target_c)
    assert found.best.at(when.likely) == pytest.approx(target_c, abs=1e-6)


@pytest.mark.parametrize(
    ("readings", "words"),
    [
        ([], "two times"),
        ([(0.0, 50.0)], "two times"),
        ([(5.0, 50.0), (5.0, 60.0)], "two times"),
        ([(5.0, 50.0), (1.0, 60.0)], "order"),
        ([(0.0, 50.0), (math.nan, 60.0)], "no place"),
    ],
)
def test_too_little_to_go_on(readings, words):
    with pytest.raises(ValueError, match=words):
        forecast(readings)


def test_outside_is_refused():
    with pytest.raises(OutOfRange):
        forecast([(0.0, 50.0), (1.0, 131.0)])
    found = forecast([(0.0, 50.0), (60.0, 60.0)])
    with pytest.raises(OutOfRange):
        found.time_to(111.0)
    with pytest.raises(OutOfRange):
        found.at(-1.0)
    with pytest.raises(OutOfRange):
        overshoot_c(61.0)


def test_fast_pans_overshoot_and_cooling_ones_do_not():
    # twelve degrees a minute go on for the likely 25 s: five degrees
    assert overshoot_c(12.0).likely == pytest.approx(5.0)
    assert overshoot_c(-5.0).high == 0.0
