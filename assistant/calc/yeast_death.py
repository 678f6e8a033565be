"""What heat does to the yeast that grows in syrup, Zygosaccharomyces rouxii.

Sugar shields it: in 52 Brix concentrate it outlives tenfold what kills it in juice. Two papers tell
how long it lasts. What they did not try is not credited: nothing colder than they heated, no more
for hotter than they heated, nothing in thicker syrup. Mould spores outlive all of it.
"""

from itertools import pairwise
from math import log10

from assistant.calc.bounds import inside
from assistant.calc.hold import TimedTemp

THICKEST = 68.0
"""The thickest concentrate that such yeast was heated in: grape, 64 to 68 Brix (Rojo et al. 2019;
its Brix from their paper on growth in the same juice). [mass %]"""
LEE_BRIX = 52.0
LEE_D50_MIN, LEE_Z_C = 33.44, 4.38
LEE_FROM_C, LEE_TO_C = 50.0, 60.0
"""Lee, Nielsen, Younce, Edwards & Unlu (2023), AIMS Agriculture and Food 8, 662-673: D at 50 degC
in 52 Brix grape concentrate, z over 50 to 60 degC."""
ROJO: tuple[tuple[float, float], ...] = ((75.0, 90.0), (80.0, 90.0), (85.0, 5.0))
"""Degrees, and seconds there that killed seven decades, in concentrated grape juice. Rojo et al.
(2019), Food Bioprocess Technol. 12, 781-788, who also write that more than 75 degC is needed."""
ROJO_DECADES = 7.0


def decade_seconds(temp_c: float, brix: float) -> float | None:
    """Time that kills nine of ten of the yeast, never shorter than what was found.

    Parameters
    ----------
    temp_c : float
        Temperature. [degC]
    brix : float
        Of the syrup while it is hot. [mass %]

    Returns
    -------
    float | None
        Time; None where nobody has measured any kill, being too cold. [s]

    Valid for 0 to 68 Brix and -40 to 130 degC; OutOfRange outside. Up to 52 Brix by Lee et al. from
    50 degC, hotter than 60 counted as 60; thicker by Rojo et al. from 75 degC.

    >>> decade_seconds(60, 52), decade_seconds(75, 60), decade_seconds(74, 60)
    (10.4, 12.9, None)

    References: Lee et al. (2023), AIMS Agriculture and Food 8, 662, doi 10.3934/agrfood.2023036;
    Rojo et al. (2019), Food Bioprocess Technol. 12, 781, doi 10.1007/s11947-019-02251-9.
    """
    inside("temperature", temp_c, -40.0, 130.0, "degC")
    inside("Brix for which yeast was heated", brix, 0.0, THICKEST)
    if brix > LEE_BRIX:
        tried = [seconds for at_c, seconds in ROJO if at_c <= temp_c]
        return tried[-1] / ROJO_DECADES if tried else None
    if temp_c < LEE_FROM_C:
        return None
    over_c = min(temp_c, LEE_TO_C) - LEE_FROM_C
    return float(60 * LEE_D50_MIN * 10 ** (-over_c / LEE_Z_C))


def decades_killed(temp_c: float, seconds: float, brix: float) -> float:
    """How many decades of the yeast a time at a temperature kills at least.

    Parameters
    ----------
    temp_c : float
        The coolest it is. [degC]
    seconds : float
        Time there. [s]
    brix : float
        Of the syrup while it is hot. [mass %]

    Returns
    -------
    float
        Decades: 5 leaves one in a hundred thousand. [-]

    Valid as `decade_seconds`, and 0 to 86400 s.

    >>> decades_killed(75, 90, 60), decades_killed(74.7, 15, 60)
    (7.0, 0.0)

    References: as `decade_seconds`; log-linear death.
    """
    inside("time", seconds, 0.0, 86_400.0, "s")
    each = decade_seconds(temp_c, brix)
    return seconds / each if each else 0.0


def decades_in(readings: list[TimedTemp], brix: float) -> float:
    """How many decades a run of readings kills at least, the cooler of each two counting.

    Parameters
    ----------
    readings : list[TimedTemp]
        Times and temperatures in order of time. [s], [degC]
    brix : float
        Of the syrup while it is hot. [mass %]

    Returns
    -------
    float
        Decades. [-]

    Valid as `decades_killed`.

    >>> decades_in([(0, 70.0), (30, 76.0), (120, 75.5)], 60)
    7.0

    References: as `decade_seconds`.
    """
    return sum(
        decades_killed(min(cool, next_cool), after - before, brix)
        for (before, cool), (after, next_cool) in pairwise(readings)
    )


def z_of(points: tuple[tuple[float, float], ...]) -> float:
    """The z that times of a decade at several temperatures imply, by least squares.

    Parameters
    ----------
    points : tuple[tuple[float, float], ...]
        Temperatures and decade times, two or more of each. [degC], [any]

    Returns
    -------
    float
        Degrees that shorten the time tenfold. [degC]

    >>> z_of(((50, 10.0), (55, 1.0)))
    5.0

    References: Bigelow (1921), J. Infect. Dis. 29, 528.
    """
    n = len(points)
    mean_t = sum(t for t, _ in points) / n
    mean_y = sum(log10(d) for _, d in points) / n
    rise = sum((t - mean_t) * (log10(d) - mean_y) for t, d in points)
    return -sum((t - mean_t) ** 2 for t, _ in points) / rise
