"""Holding hot: time at a temperature, counted so that doubt never helps.

Lethality is the time at a reference temperature that would do as much as the times and
temperatures that were read: L = sum of dt * 10^((T - reference) / z). Between two readings the
cooler one counts for the whole interval; before the first and after the last nothing counts.

Nothing here claims a number of log reductions in syrup. The published pairs are for
single-strength juice; sugar protects microbes, so sweetened mash gets a margin on top (SWEETENED)
and the answer is that margin, no more.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from assistant.base.errors import OutOfRange

TimedTemp = tuple[float, float]
"""Seconds since some start, and the temperature read then. [s], [C]"""

COLDEST_C, HOTTEST_C = -40.0, 130.0
"""What a thermometer in a pan of fruit can show. [C]"""

BELOW_REFERENCE_C = 3.0
"""This project's own rule: colder than this below a reference, nothing counts. [C]"""

FDA_Z_C = (20 / 1.8) / math.log10(6 / 0.3)
"""z implied by the first and last of the FDA juice pairs (160 F 6 s, 180 F 0.3 s). [C]"""

MAZZOTTA_Z_C = 5.3
"""z of the recommended juice process, Mazzotta, J Food Prot 64 (2001) 315-320. [C]"""


@dataclass(frozen=True)
class Process:
    """One published time at a temperature, with the z it may be carried along with.

    reference_c, seconds : the published pair [C], [s]
    z_c : its own z [C]; None when the source gives a single pair, which then earns no credit
        for being hotter and is not counted at all when colder
    medium : what it was published for
    low_c, high_c : z is used between these [C]; hotter counts as high_c
    """

    name: str
    reference_c: float
    seconds: float
    z_c: float | None
    medium: str
    source: str
    low_c: float
    high_c: float


FDA_JUICE = Process(
    "juice, FDA pairs",
    reference_c=71.11,
    seconds=6.0,
    z_c=FDA_Z_C,
    medium="single-strength apple juice, pH 4.0 or below",
    source="FDA, Guidance for Industry: Juice HACCP Hazards and Controls Guidance, 1st ed. (2004), "
    "sec. V.C.5.2",
    low_c=71.11,
    high_c=82.22,
)
MILK_PAIR = Process(
    "juice, milk pair",
    reference_c=71.7,
    seconds=15.0,
    z_c=None,
    medium="single-strength juice",
    source="FDA, Guidance for Industry: Juice HACCP Hazards and Controls Guidance, 1st ed. (2004), "
    "sec. V.C.5.2",
    low_c=71.7,
    high_c=71.7,
)
MAZZOTTA_JUICE = Process(
    "juice, Mazzotta 2001",
    reference_c=71.1,
    seconds=3.0,
    z_c=MAZZOTTA_Z_C,
    medium="apple, orange and white grape juice at pH 3.9",
    source="Mazzotta, J Food Prot 64 (2001) 315-320",
    low_c=71.1 - BELOW_REFERENCE_C,
    high_c=71.1 + BELOW_REFERENCE_C,
)
SWEETENED = Process(
    "sweetened mash",
    reference_c=74.7,
    seconds=15.0,
    z_c=None,
    medium="fruit with sugar, pH 4.6 or below; a margin, not a number of log reductions",
    source="71.7 C 15 s (FDA Juice HACCP guidance 2004, V.C.5.2) raised by the 3 C that US milk "
    "rules add for added sweetener (25 TAC 217.1(68) note, after the Grade A ordinance)",
    low_c=74.7,
    high_c=74.7,
)
SUGAR_YEAST = Process(
    "sugar-tolerant yeast",
    reference_c=75.0,
    seconds=90.0,
    z_c=None,
    medium="concentrated grape juice, 7 log of Zygosaccharomyces rouxii",
    source="Rojo et al., Food Bioprocess Technol 12 (2019) 781-788",
    low_c=75.0,
    high_c=75.0,
)
PROCESSES: dict[str, Process] = {
    "fda_juice": FDA_JUICE,
    "milk_pair": MILK_PAIR,
    "mazzotta_juice": MAZZOTTA_JUICE,
    "sweetened": SWEETENED,
    "sugar_yeast": SUGAR_YEAST,
}


def _checked(readings: Sequence[TimedTemp]) -> Sequence[TimedTemp]:
    for seconds, temp_c in readings:
        if not math.isfinite(seconds):
            raise ValueError(f"a reading at {seconds} seconds has no place in time")
        _check_temp(temp_c)
    for (before, _), (after, _) in pairwise(readings):
        if after < before:
            raise ValueError(f"readings are out of order: {after:g} s comes after {before:g} s")
    return readings


def _check_temp(temp_c: float) -> None:
    if not COLDEST_C <= temp_c <= HOTTEST_C:
        raise OutOfRange("temperature", temp_c, COLDEST_C, HOTTEST_C, "C")


def _check_z(z_c: float) -> None:
    if not 1.0 <= z_c <= 30.0:
        raise OutOfRange("z", z_c, 1.0, 30.0, "C")


def _counted(readings: Sequence[TimedTemp], rate: Callable[[float], float]) -> float:
    return sum(
        (after - before) * rate(min(temp, next_temp))
        for (before, temp), (after, next_temp) in pairwise(_checked(readings))
    )


def _rate(reference_c: float, z_c: float, floor_c: float | None) -> Callable[[float], float]:
    _check_temp(reference_c)
    _check_z(z_c)
    floor = reference_c - BELOW_REFERENCE_C if floor_c is None else floor_c

    def rate(temp_c: float) -> float:
        return 10 ** ((temp_c - reference_c) / z_c) if temp_c >= floor else 0.0

    return rate


def lethality(
    readings: Sequence[TimedTemp],
    reference_c: float,
    z_c: float,
    *,
    floor_c: float | None = None,
) -> float:
    """Time at the reference temperature that equals what was read, counted conservatively.

    L = sum dt * 10^((T - reference) / z), T the cooler of two neighbouring readings. Source:
    Ball & Olson, Sterilization in Food Technology (1957), the general method (from memory).

    readings : times and temperatures in order of time [s], [C]
    reference_c : reference temperature [C]
    z_c : degrees that change the rate tenfold [C]
    floor_c : colder counts nothing; 3 C below the reference when not given [C]
    Returns equivalent time at the reference; 0 with fewer than two readings [s].
    Valid for z 1 to 30 C and temperatures -40 to 130 C, else OutOfRange; ValueError when the
    readings are not in order of time.

    >>> lethality([(0, 70.0), (60, 80.0), (75, 80.0)], reference_c=80, z_c=10)
    15.0
    """
    return _counted(readings, _rate(reference_c, z_c, floor_c))


def seconds_above(readings: Sequence[TimedTemp], temp_c: float) -> float:
    """Time certainly at or above a temperature: intervals with both ends there, and no others.

    This project's own rule, the one `lethality` follows.

    readings : times and temperatures in order of time [s], [C]
    temp_c : the temperature to be at or above [C]
    Returns time [s]. Valid and errors as in `lethality`.

    >>> seconds_above([(0, 60.0), (40, 75.5), (70, 76.0), (90, 74.0)], 75)
    30.0
    """
    _check_temp(temp_c)
    return _counted(readings, lambda cooler_c: float(cooler_c >= temp_c))


def _remaining(done_s: float, required_s: float, rate: float) -> float:
    left = max(0.0, required_s - done_s)
    if left == 0.0:
        return 0.0
    return left / rate if rate > 0.0 else math.inf


def required_seconds(temp_c: float, process: Process) -> float:
    """Time a process asks for at a temperature, by its own z and no other.

    Source: the process's own.

    temp_c : the coolest the pan gets [C]
    process : one of PROCESSES
    Returns time [s]. Hotter than the process's high_c needs as long as at high_c; a process
    with a single pair needs its whole time however hot. Colder than low_c: OutOfRange.

    >>> round(required_seconds(76.67, FDA_JUICE), 1)
    1.3
    """
    _check_temp(temp_c)
    if temp_c < process.low_c:
        raise OutOfRange(f"temperature for {process.name}", temp_c, process.low_c, HOTTEST_C, "C")
    if process.z_c is None:
        return process.seconds
    counted_c = min(temp_c, process.high_c)
    return process.seconds * float(10 ** ((process.reference_c - counted_c) / process.z_c))


def sweetened_rate(temp_c: float) -> float:
    """Seconds at 74.7 C that one second at this temperature counts for, in sweetened mash.

    The stricter of two published z: 8.5 C (FDA juice pairs) above 74.7 C, 5.3 C (Mazzotta, J Food
    Prot 64 (2001) 315-320) below it. Colder than 71.7 C counts nothing; hotter than 82.2 C, the
    last of the FDA pairs, counts as 82.2 C. This project's own rule.

    temp_c : temperature [C]
    Returns rate [s/s]. Valid from -40 to 130 C, else OutOfRange.

    >>> sweetened_rate(74.7), sweetened_rate(71.0)
    (1.0, 0.0)
    """
    _check_temp(temp_c)
    over_c = min(temp_c, FDA_JUICE.high_c) - SWEETENED.reference_c
    if over_c < -BELOW_REFERENCE_C - 1e-9:
        return 0.0
    return min(10 ** (over_c / FDA_Z_C), 10 ** (over_c / MAZZOTTA_Z_C))


def sweetened_margin(readings: Sequence[TimedTemp]) -> float:
    """How much of the hold for sweetened mash is done: 1 is all of it, 2 is twice over.

    The hold is 15 s at 74.7 C (see SWEETENED), other temperatures by `sweetened_rate`. It is a
    margin over what is asked of single-strength juice, NOT a claim of 5 log reductions: no source
    was found that measured one in sweetened fruit mash. Sugar-tolerant yeast needs longer (see
    SUGAR_YEAST), and mould spores survive any kitchen hold.

    readings : times and temperatures in order of time [s], [C]
    Returns share of the hold [-]. Valid and errors as in `lethality`.

    >>> sweetened_margin([(0, 70.0), (30, 75.0), (60, 74.7)])
    2.0
    """
    return _counted(readings, sweetened_rate) / SWEETENED.seconds


def sweetened_needed(readings: Sequence[TimedTemp], now_temp_c: float) -> float:
    """How much longer sweetened mash must stay at this temperature, after what was read.

    Source: as `sweetened_margin`.

    readings : times and temperatures in order of time [s], [C]
    now_temp_c : the temperature it will stay at [C]
    Returns time, 0 when done; `math.inf` when it is too cool ever to count [s].
    Valid and errors as in `lethality`.

    >>> sweetened_needed([(0, 74.7), (10, 75.0)], now_temp_c=74.7)
    5.0
    """
    done_s = _counted(readings, sweetened_rate)
    return _remaining(done_s, SWEETENED.seconds, sweetened_rate(now_temp_c))


def pu(
    readings: Sequence[TimedTemp],
    reference_c: float = 60.0,
    z_c: float = 7.0,
    *,
    floor_c: float | None = None,
) -> float:
    """Pasteurisation units: minutes at 60 C that equal what was read. A measure of spoilage.

    PU = minutes * 10^((T - 60) / 7). Source: Del Vecchio, Dayharsh & Baselt, Proc. ASBC (1951)
    45-50 (pages from memory); the other common form, 1.393^(T - 60), is 3 % lower at 72 C.

    readings : times and temperatures in order of time [s], [C]
    reference_c, z_c, floor_c : as in `lethality` [C]
    Returns pasteurisation units [min]. Valid and errors as in `lethality`.

    >>> round(pu([(0, 72.0), (60, 72.0)]), 1)
    51.8
    """
    return lethality(readings, reference_c, z_c, floor_c=floor_c) / 60.0
