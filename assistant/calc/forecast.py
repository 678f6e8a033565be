"""When a pan will be at a temperature, from the readings so far.

A pan on a steady hob, or cooling in a steady room, settles towards a temperature S by Newton's
law: T = S + (a - S) e^(-k t). A few readings can't tell S, so several are tried: for warming those
that a hob can reach, and a straight line; for cooling those of a kitchen. What is left of the line
through ln|S - T| is fitted by the median of its slopes over all pairs of readings (Theil 1950, Sen
1968), so that one odd reading does not tip it. Every S that fits nearly as well as the best adds to
the spread.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import exp, inf, isfinite, isinf, log, sqrt
from statistics import fmean, median

from assistant.calc.bounds import inside
from assistant.calc.spread import Spread

TimedTemp = tuple[float, float]
"""Seconds since some start, and the temperature read then. [s], [C]"""

THERMOMETER_C = 0.5
"""How far a reading may be off by rounding and stirring. Common practice, no source. [C]"""

TURN_C = 1.5
"""A move back by more than this is a turn: only readings since the turn are used. [C]"""

WINDOW_S = 900.0
"""Readings older than this before the last are not used: hobs get turned. [s]"""

MOST_READINGS = 30

LAG_S = Spread(10.0, 25.0, 60.0)
"""How long a pan goes on warming at the same rate once turned off. Common practice, no source. [s]
"""

# Where it may settle [C], each with the misfit [C] that is held against it beforehand. This
# project's own allowances: a kilowatt under two litres would settle at 200 to 300 C if it could.
_WARMING = ((inf, 0.12), (400.0, 0.04), (250.0, 0.0), (180.0, 0.03), (140.0, 0.06), (118.0, 0.1))
_COOLING = ((20.0, 0.0), (16.0, 0.02), (25.0, 0.02), (6.0, 0.1), (-18.0, 0.12), (-inf, 0.3))
_CLOSE_BY = (3.0, 6.0, 12.0, 25.0)
"""From the last reading; believed only where they fit better by _CLEARLY than all of the above."""
_CLEARLY = 0.3


@dataclass(frozen=True)
class Curve:
    """One course: now_c and rate at the last reading, and where it settles. [C], [C/s], [C]

    A settling temperature of plus or minus infinity makes it a straight line.
    """

    now_c: float
    rate_c_s: float
    settles_c: float

    @property
    def _k(self) -> float:
        gap_c = self.settles_c - self.now_c
        return self.rate_c_s / gap_c if gap_c else 0.0

    def at(self, seconds: float) -> float:
        """Temperature so long after the last reading. [C]"""
        if isinf(self.settles_c):
            return self.now_c + self.rate_c_s * seconds
        return self.settles_c + (self.now_c - self.settles_c) * exp(min(-self._k * seconds, 50.0))

    def when(self, target_c: float) -> float:
        """Time from the last reading until a temperature; infinite when it never gets there. [s]

        Just past it, by no more than a reading may be off, is there.
        """
        way = target_c - self.now_c
        if self.rate_c_s == 0.0 or way / self.rate_c_s <= 0.0:
            return 0.0 if abs(way) <= THERMOMETER_C else inf
        if isinf(self.settles_c):
            return way / self.rate_c_s
        left = (self.settles_c - target_c) / (self.settles_c - self.now_c)
        return -log(left) / self._k if left > 0.0 else inf


@dataclass(frozen=True)
class Forecast:
    """What the readings say of the minutes to come.

    last_c : last temperature read [C]; moving : whether it has moved more than readings err
    best : the likeliest course; others : the courses that the readings allow as well
    """

    last_c: float
    moving: bool
    best: Curve
    others: tuple[Curve, ...]

    @property
    def rate_c_min(self) -> float:
        """How fast it is changing now. [C/min]"""
        return 60.0 * self.best.rate_c_s

    def at(self, seconds: float) -> Spread:
        """Temperature so long after the last reading. [C]

        Valid for 0 to 7200 s ahead, else OutOfRange.
        """
        inside("time ahead", seconds, 0.0, 7200.0, "s")
        likely = self.best.at(seconds)
        all_c = [likely, *(curve.at(seconds) for curve in self.others)]
        return Spread(min(all_c), likely, max(all_c))

    def time_to(self, target_c: float) -> Spread | None:
        """Time from the last reading until a temperature, None when it is not heading there. [s]

        The high end is infinite when some course the readings allow settles short of it.
        """
        inside("target temperature", target_c, -20.0, 110.0, "C")
        if abs(target_c - self.last_c) <= THERMOMETER_C / 5.0:
            return Spread.exactly(0.0)
        likely = self.best.when(target_c)
        if not self.moving or likely == inf:
            return None
        times = [likely, *(curve.when(target_c) for curve in self.others)]
        rate = abs(self.best.rate_c_s)
        misread_s = THERMOMETER_C / rate if rate else 0.0
        return Spread(max(0.0, min(times) - misread_s), likely, max(times) + misread_s)


def forecast(readings: Sequence[TimedTemp]) -> Forecast:
    """How a pan goes on warming or cooling, from two or more readings.

    Newton's law of heating and cooling, fitted as the module says; two warming readings give a
    straight line. It supposes that nothing is changed: not the hob, not the lid, nothing poured in.

    readings : times and temperatures in order of time [s], [C]
    Returns the forecast.
    ValueError for fewer than two times or readings out of order; OutOfRange for temperatures
    outside -40 to 130 C.

    >>> warming = forecast([(0, 40.0), (60, 46.0)])
    >>> round(warming.rate_c_min, 1), round(warming.time_to(75).likely)
    (6.0, 290)
    """
    used = _since_turn(_recent(_checked(readings)))
    moved = used[-1][1] - used[0][1]
    usual = [_Fit.of(used, settles, against) for settles, against in _candidates(used, moved)]
    close = [_Fit.of(used, settles, 0.0) for settles in _close_by(used, moved)]
    least = min(fit.miss_c for fit in usual)
    fits = [*usual, *(fit for fit in close if fit.miss_c < least - _CLEARLY)]
    best = min(fits, key=lambda fit: fit.miss_c + fit.held_against_c)
    allowed = [f.curve for f in fits if f.miss_c <= best.miss_c + THERMOMETER_C / 2.0]
    share = THERMOMETER_C * 2.0 / sqrt(max(1.0, (len(used) - 1.0) / 2.0)) / max(abs(moved), 1e-9)
    others = tuple(_tilted(allowed, min(1.0, share)))
    return Forecast(used[-1][1], abs(moved) > THERMOMETER_C, best.curve, others)


def overshoot_c(rate_c_min: float, lag_s: Spread = LAG_S) -> Spread:
    """How far a pan goes on warming once the hob is turned off.

    Rate times lag. Common practice, no source: thick pans and electric plates are at the high end.

    rate_c_min : how fast it warms now; cooling has no overshoot [C/min]
    lag_s : how long it goes on [s]
    Returns degrees above the reading [C]. Valid for -60 to 60 C/min, else OutOfRange.

    >>> overshoot_c(6.0)
    Spread(low=1.0, likely=2.5, high=6.0)
    """
    rate = max(0.0, inside("rate", rate_c_min, -60.0, 60.0, "C/min")) / 60.0
    return Spread(rate * lag_s.low, rate * lag_s.likely, rate * lag_s.high)


def _checked(readings: Sequence[TimedTemp]) -> Sequence[TimedTemp]:
    for seconds, temp_c in readings:
        if not isfinite(seconds):
            raise ValueError(f"a reading at {seconds} seconds has no place in time")
        inside("temperature", temp_c, -40.0, 130.0, "C")
    if any(after < before for (before, _), (after, _) in pairwise(readings)):
        raise ValueError("readings are out of order")
    if len(readings) < 2 or _span(readings) <= 0.0:
        raise ValueError("a forecast needs readings at two times at least")
    return readings


def _span(readings: Sequence[TimedTemp]) -> float:
    return readings[-1][0] - readings[0][0]


def _recent(readings: Sequence[TimedTemp]) -> Sequence[TimedTemp]:
    kept = [r for r in readings if readings[-1][0] - r[0] <= WINDOW_S]
    if _span(kept) <= 0.0:
        kept = list(readings)
    every = -(-len(kept) // MOST_READINGS)
    return kept[::-1][::every][::-1]


def _since_turn(readings: Sequence[TimedTemp]) -> Sequence[TimedTemp]:
    """The readings since the pan last turned from warming to cooling, or back."""
    temps = [temp for _, temp in readings]
    lowest = highest = len(temps) - 1
    for i in range(len(temps) - 2, -1, -1):
        if temps[highest] - temps[lowest] > TURN_C:
            warming = lowest < highest
            turn = lowest if warming else highest
            back = temps[i] - temps[turn] if warming else temps[turn] - temps[i]
            if back > TURN_C and _span(readings[turn:]) > 0.0:
                return readings[turn:]
        lowest = i if temps[i] < temps[lowest] else lowest
        highest = i if temps[i] > temps[highest] else highest
    return readings


@dataclass(frozen=True)
class _Fit:
    """A course, how far readings miss it on average, and what is held against it. [C]"""

    curve: Curve
    miss_c: float
    held_against_c: float

    @classmethod
    def of(cls, readings: Sequence[TimedTemp], settles_c: float, held_against_c: float) -> "_Fit":
        """The course to one settling temperature that fits best."""
        curve = _line(readings) if isinf(settles_c) else _newton(readings, settles_c)
        last_s = readings[-1][0]
        return cls(
            curve, fmean(abs(temp - curve.at(t - last_s)) for t, temp in readings), held_against_c
        )


def _candidates(readings: Sequence[TimedTemp], moved: float) -> list[tuple[float, float]]:
    if len(readings) == 2 and moved >= 0.0:
        return [(inf, 0.0), *((s, 1.0) for s, _ in _WARMING[1:5])]
    temps = [temp for _, temp in readings]
    if moved >= 0.0:
        return [(s, against) for s, against in _WARMING if s > max(temps) + 2.0]
    return [(s, against) for s, against in _COOLING if s < min(temps) - 2.0]


def _close_by(readings: Sequence[TimedTemp], moved: float) -> list[float]:
    if len(readings) < 4:
        return []
    temps = [temp for _, temp in readings]
    if moved >= 0.0:
        return [max(temps) + step for step in _CLOSE_BY]
    return [min(temps) - step for step in _CLOSE_BY]


def _median_line(points: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Slope and height at 0 of the line that half the points lie above and half below."""
    slope = median((q - p) / (y - x) for (x, p), (y, q) in combinations(points, 2) if y > x)
    return slope, median(p - slope * x for x, p in points)


def _line(readings: Sequence[TimedTemp]) -> Curve:
    last_s = readings[-1][0]
    rate, now_c = _median_line([(t - last_s, temp) for t, temp in readings])
    return Curve(now_c, rate, inf if rate >= 0.0 else -inf)


def _newton(readings: Sequence[TimedTemp], settles_c: float) -> Curve:
    last_s = readings[-1][0]
    side = 1.0 if readings[-1][1] > settles_c else -1.0
    points = [(t - last_s, log(abs(settles_c - temp))) for t, temp in readings]
    slope, height = _median_line(points)
    now_c = settles_c + side * exp(height)
    return Curve(now_c, slope * (now_c - settles_c), settles_c)


def _tilted(curves: Iterable[Curve], share: float) -> Iterable[Curve]:
    """Each course, and the same as much faster and slower as the readings may err."""
    for curve in curves:
        for way in (-share, 0.0, share):
            yield Curve(curve.now_c, curve.rate_c_s * (1.0 + way), curve.settles_c)
