"""Readings that somebody took often enough: a silence in a hold earns nothing and restarts it."""

from collections.abc import Iterable

from assistant.calc.hold import BELOW_REFERENCE_C, TimedTemp

LONGEST_SHARE = 2 / 3
"""Of a hold, the longest stretch between two readings: this project's own rule. So each hold has
two stretches at least, and nobody sleeps through it. [-]"""
LONGEST_GAP_S = 120.0
"""No gap is longer than this, however long the hold: this project's own rule. [s]"""


def longest_gap(hold_s: float) -> float:
    """The longest stretch without a reading that a hold takes.

    Source: this project's own rule, on the strict side.

    hold_s : how long the hold is [s]
    Returns time [s]. Valid for any hold above 0.

    >>> longest_gap(90), longest_gap(600)
    (60.0, 120.0)
    """
    return min(LONGEST_GAP_S, LONGEST_SHARE * hold_s)


def goes_on(before: TimedTemp, after: TimedTemp, target_c: float, gap_s: float) -> bool:
    """Whether a run at a temperature goes on from one reading to the next.

    It does not far below the target, after a longer silence, nor when the clock went back. A dip of
    3 C earns nothing, and pauses it.

    Source: this project's own rule.

    before, after : seconds and temperature of each [s], [C]
    target_c : what the run must stay at, but for small dips [C]
    gap_s : the longest silence [s]
    Returns whether it does [-].

    >>> goes_on((0, 76), (60, 75), 75, 60), goes_on((0, 76), (61, 75), 75, 60)
    (True, False)
    """
    cold = after[1] < target_c - BELOW_REFERENCE_C
    return not cold and 0 <= after[0] - before[0] <= gap_s


def runs(
    readings: Iterable[TimedTemp], target_c: float, gap_s: float
) -> tuple[tuple[TimedTemp, ...], ...]:
    """The stretches at or above a temperature, but for small dips, that somebody watched.

    Source: this project's own rule.

    readings : seconds and temperature of each, as they were read [s], [C]
    target_c, gap_s : as in `goes_on`
    Returns the runs in order; the last is empty where the last reading was too cold.

    >>> runs([(0, 76), (40, 77), (200, 77), (230, 70)], 75, 60)
    (((0, 76), (40, 77)), ((200, 77),), ())
    """
    found: list[list[TimedTemp]] = [[]]
    for reading in readings:
        if found[-1] and not goes_on(found[-1][-1], reading, target_c, gap_s):
            found.append([])
        if reading[1] >= target_c or found[-1]:
            found[-1].append(reading)
    return tuple(tuple(run) for run in found)
