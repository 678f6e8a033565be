"""Refractometers: Brix and refractive index, the drop's temperature, and what misleads a reading.

A refractometer sees everything dissolved. Its scale is right for sucrose alone, at 20 degC.
"""

from bisect import bisect_right
from collections.abc import Sequence

from assistant.calc.bounds import inside
from assistant.calc.spread import Spread

MAX_BRIX = 85.0
_BRIX_OF_INDEX = (11758.74, -88885.21, 270177.93, -413145.80, 318417.95, -99127.4336)
"""Powers of the index, highest first: the published fit to the ICUMSA SPS-3 table, whose constant
(-99127.4536) is raised by the 0.020 that the five-decimal rows of OIV-MA-AS2-02, table II ask."""

_READINGS = (0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75)
_CORRECTIONS: dict[int, tuple[int, ...]] = {
    10: (-50, -54, -59, -62, -65, -67, -69, -71, -72, -73, -74, -75, -75, -75, -75, -75),
    11: (-46, -49, -54, -57, -59, -61, -63, -64, -65, -66, -67, -68, -68, -68, -68, -67),
    12: (-42, -45, -49, -51, -53, -55, -56, -57, -58, -59, -60, -60, -61, -61, -60, -60),
    13: (-37, -40, -43, -45, -47, -48, -50, -51, -52, -52, -53, -53, -53, -53, -53, -53),
    14: (-33, -35, -38, -39, -40, -42, -43, -44, -44, -45, -45, -46, -46, -46, -46, -45),
    15: (-27, -29, -32, -33, -34, -35, -36, -37, -37, -38, -38, -38, -38, -38, -38, -38),
    16: (-22, -24, -26, -27, -28, -28, -29, -30, -30, -30, -31, -31, -31, -31, -31, -30),
    20: (0,) * 16,
    21: (6, 7, 7, 7, 7, 8, 8, 8, 8, 8, 8, 8, 8, 8, 8, 8),
    25: (33, 35, 36, 37, 38, 38, 39, 40, 40, 40, 40, 40, 40, 40, 40, 40),
    30: (72, 74, 77, 78, 79, 80, 80, 81, 81, 81, 81, 81, 81, 81, 81, 81),
}  # fmt: skip
"""Hundredths of a Brix to add to a reading, by temperature. 10 to 16 degC: OIV-MA-AS2-02, table I
(readings 0 and 5 and the row of 21 degC: the older international table, as in the GOST method for
juice, table A.1); 25 and 30 degC: that older table, from memory."""
_DOUBT_COLD = 0.004
"""Doubt per degree below 20: the two tables part by up to 0.04 at 10 degC. [Brix/K]"""
_DOUBT_WARM = 0.008
"""Doubt per degree above 20, where the rows are from memory. [Brix/K]"""

_ACID = (
    (0.0, 0.0),
    (1.0, 0.20),
    (5.0, 0.97),
    (10.0, 1.91),
    (15.0, 2.81),
    (20.0, 3.70),
    (38.0, 6.88),
)
"""Citric acid [mass %] and the Brix it hides. Juice trade's acidity correction table, after
Stevens & Baier, Ind. Eng. Chem. Anal. Ed. 11 (1939) 447."""
GLYCERIN_HIDDEN = 0.20
"""Brix that each 1 % of glycerin hides: 5, 10 and 20 % in water read 4.0, 8.0 and 15.95. CRC
Handbook, concentrative properties of glycerol. [Brix/%]"""
INVERT_HIDDEN = 0.018
"""Brix that each 1 % of invert sugar hides: 30, 40 and 48 % read 29.6, 39.3 and 47.1. CRC
Handbook, concentrative properties of fructose and glucose. [Brix/%]"""


def brix_from_index(index: float) -> float:
    """Brix of a sucrose solution from its refractive index at 20 degC and 589 nm.

    Published fit to the ICUMSA SPS-3 table, set to the table of OIV-MA-AS2-02.
    index : refractive index [-], from that of water to that of 85 Brix
    Returns the Brix [mass %]; OutOfRange outside.

    >>> brix_from_index(1.38115)
    30.00
    """
    inside("refractive index", index, index_from_brix(0.0) - 5e-6, index_from_brix(MAX_BRIX) + 5e-6)
    return min(max(_brix(index), 0.0), MAX_BRIX)


def index_from_brix(brix: float) -> float:
    """Refractive index of a sucrose solution at 20 degC and 589 nm: `brix_from_index` turned round.

    brix : sucrose [mass %], 0 to 85
    Returns the index [-]; OutOfRange outside.

    >>> index_from_brix(65)
    1.4535
    """
    inside("Brix", brix, 0.0, MAX_BRIX)
    low, high = 1.33, 1.51
    while high - low > 1e-12:
        middle = (low + high) / 2
        low, high = (middle, high) if _brix(middle) < brix else (low, middle)
    return (low + high) / 2


def temperature_correction(reading: float, temp_c: float) -> Spread:
    """Brix to add to a reading taken away from 20 degC, without automatic compensation.

    OIV-MA-AS2-02, table I, below 20 degC; above it from memory and so with a wider spread.
    reading : what the scale shows [Brix], 0 to 75; temp_c : of drop and prism [degC], 10 to 30
    Returns the correction with its spread [Brix]; OutOfRange outside.

    >>> temperature_correction(60, 15).likely, temperature_correction(60, 25).likely
    (-0.38, 0.40)
    """
    inside("temperature", temp_c, 10.0, 30.0, "degC")
    inside("reading", reading, 0.0, 75.0)
    rows = {t: list(zip(_READINGS, row, strict=True)) for t, row in _CORRECTIONS.items()}
    by_temp = [(t, _between(row, reading)) for t, row in rows.items()]
    likely = _between(by_temp, temp_c) / 100
    away = temp_c - 20
    half = abs(away) * (_DOUBT_WARM if away > 0 else _DOUBT_COLD)
    return Spread(likely - half, likely, likely + half)


def at_20(reading: float, temp_c: float) -> Spread:
    """A reading put right to 20 degC, with its spread. Source and range: `temperature_correction`.

    reading : what the scale shows [Brix]; temp_c : of drop and prism [degC], 10 to 30
    Returns the Brix at 20 degC [Brix].

    >>> at_20(60, 25).likely
    60.40
    """
    by = temperature_correction(reading, temp_c)
    return Spread(reading + by.low, reading + by.likely, reading + by.high)


def acid_correction(citric_percent: float) -> float:
    """Brix that citric acid hides from a refractometer.

    Juice trade's acidity correction table, after Stevens & Baier (1939).
    citric_percent : anhydrous citric acid in the liquid [mass %], 0 to 38
    Returns what to add to the reading [Brix]; OutOfRange outside.

    >>> acid_correction(1.5)
    0.30
    """
    return _between(_ACID, inside("citric acid", citric_percent, 0.0, 38.0, "%"))


def solids(
    reading: float,
    citric_percent: float = 0.0,
    glycerin_percent: float = 0.0,
    invert_percent: float = 0.0,
) -> float:
    """All that is dissolved, from a reading at 20 degC: the reading and what it does not see.

    Measured in water or juice; in a syrup the shares are taken as additive, which is an estimate.
    reading : at 20 degC [Brix], 0 to 85; citric_percent : in the liquid [mass %], 0 to 38
    glycerin_percent : in the liquid [mass %], 0 to 20; invert_percent : the same [mass %], 0 to 75
    Returns the dissolved solids, acid and glycerin included [mass %]; OutOfRange outside.

    >>> solids(60, citric_percent=1.5, glycerin_percent=5)
    61.29
    """
    inside("reading", reading, 0.0, MAX_BRIX)
    inside("glycerin", glycerin_percent, 0.0, 20.0, "%")
    inside("invert sugar", invert_percent, 0.0, 75.0, "%")
    hidden = GLYCERIN_HIDDEN * glycerin_percent + INVERT_HIDDEN * invert_percent
    return reading + acid_correction(citric_percent) + hidden


def cautions(
    citric_percent: float = 0.0, glycerin_percent: float = 0.0, invert_percent: float = 0.0
) -> tuple[str, ...]:
    """What a cook must hear about a reading of a liquid with these in it.

    citric_percent, glycerin_percent, invert_percent : in the liquid [mass %]
    Returns a sentence each, with its source; nothing for what is not there.

    >>> len(cautions(glycerin_percent=5))
    1
    """
    said = []
    if citric_percent:
        hidden = acid_correction(citric_percent)
        said.append(
            f"{citric_percent:g} % citric acid makes a refractometer read about {hidden:.1f} Brix "
            "low (Stevens & Baier 1939)."
        )
    if glycerin_percent:
        shown = glycerin_percent * (1 - GLYCERIN_HIDDEN)
        said.append(
            f"{glycerin_percent:g} % glycerin shows as about {shown:.1f} Brix although it is not "
            "sugar (CRC Handbook, glycerol)."
        )
    if invert_percent:
        said.append(
            f"{invert_percent:g} % invert sugar reads about {INVERT_HIDDEN * invert_percent:.1f} "
            "Brix low (CRC Handbook, fructose and glucose)."
        )
    return tuple(said)


def _brix(index: float) -> float:
    value = 0.0
    for coefficient in _BRIX_OF_INDEX:
        value = value * index + coefficient
    return value


def _between(points: Sequence[tuple[float, float]], x: float) -> float:
    """Straight line between the two points that x lies between."""
    last = len(points) - 1
    right = min(max(bisect_right(points, x, key=lambda point: point[0]), 1), last)
    (x0, y0), (x1, y1) = points[right - 1], points[right]
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
