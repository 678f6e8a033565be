"""Density of a syrup, and what follows from it: Brix by hydrometer, volume and mass.

Brix is the mass share of dissolved solids in per cent, all reckoned as sucrose.
"""

from itertools import accumulate, repeat
from math import inf
from operator import mul

from assistant.calc.bounds import inside

MAX_BRIX = 85.0
"""Highest Brix of the density formula. ICUMSA SPS-4 (1994)."""
MAX_TEMP_C = 80.0
"""Highest temperature of the density formula. [degC] ICUMSA SPS-4 (1994)."""

_SPS4 = (
    (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890),
    (-46.2720, -7.1720, 1.1597, 5.1126, 17.5254),
    (59.7712, 7.2491, 12.3630, -35.4791),
    (-47.2207, -21.6977, 27.6301),
    (18.3184, 12.3081),
)
"""Row k holds the coefficients of ((t - 20) / 100)^k times w, w^2, ... [kg/m3]."""
_WATER = (999.83952, 16.952577, -7.9905127e-3, -46.241757e-6, 105.84601e-9, -281.03006e-12)
"""Density of water, powers of t over 1 + 16.887236e-3 t. [kg/m3] Kell (1975), as in SPS-4."""


def water_density(temp_c: float = 20.0) -> float:
    """Density of pure water at 0 to 80 degC. Kell (1975), as used by ICUMSA SPS-4 (1994).

    temp_c : temperature [degC], 0 to 80
    Returns the density [g/ml]; OutOfRange outside.

    >>> water_density(20)
    0.99820
    """
    return kell_density(inside("temperature", temp_c, 0.0, MAX_TEMP_C, "degC"))


def kell_density(temp_c: float) -> float:
    """Density of pure water as far as its own formula goes. Kell (1975), J. Chem. Eng. Data 20, 97.

    temp_c : temperature [degC], 0 to 150
    Returns the density [g/ml]; OutOfRange outside.

    >>> kell_density(100)
    0.95835
    """
    t = inside("temperature", temp_c, 0.0, 150.0, "degC")
    top: float = sum(c * t**n for n, c in enumerate(_WATER))
    return top / (1 + 16.887236e-3 * t) / 1000


def density(brix: float, temp_c: float = 20.0) -> float:
    """Density of a sucrose solution. ICUMSA SPS-4 (1994).

    brix : dissolved solids, reckoned as sucrose [mass %], 0 to 85
    temp_c : temperature [degC], 0 to 80
    Returns the density [g/ml]; OutOfRange outside.

    >>> density(65)
    1.31656
    >>> density(60, 80)
    1.25199
    """
    w = inside("Brix", brix, 0.0, MAX_BRIX) / 100
    water = water_density(temp_c)
    powers = list(accumulate(repeat(w, len(_SPS4[0])), mul))
    warm = (temp_c - 20) / 100
    rows: float = sum(warm**k * sum(map(mul, row, powers)) for k, row in enumerate(_SPS4))
    return water + rows / 1000


def brix_from_density(density_g_ml: float, temp_c: float = 20.0) -> float:
    """Brix of a sucrose solution from its density: `density` turned round, by bisection.

    density_g_ml : density at temp_c [g/ml], from that of water to that of 85 Brix
    temp_c : temperature [degC], 0 to 80
    Returns the Brix [mass %]; OutOfRange outside. ICUMSA SPS-4 (1994).

    >>> brix_from_density(1.31656)
    65.00
    """
    low, high = 0.0, MAX_BRIX
    inside("density", density_g_ml, density(low, temp_c), density(high, temp_c), "g/ml")
    while high - low > 1e-10:
        middle = (low + high) / 2
        low, high = (middle, high) if density(middle, temp_c) < density_g_ml else (low, middle)
    return (low + high) / 2


def specific_gravity(brix: float) -> float:
    """Specific gravity at 20/20 degC: density over that of water. ICUMSA SPS-4 (1994).

    brix : dissolved solids [mass %], 0 to 85
    Returns the specific gravity [-]; OutOfRange outside.

    >>> specific_gravity(10)
    1.0400
    """
    return density(brix) / water_density()


def brix_from_specific_gravity(gravity: float) -> float:
    """Brix from a hydrometer that reads specific gravity at 20/20 degC. ICUMSA SPS-4 (1994).

    gravity : specific gravity 20/20 [-], 1 to that of 85 Brix
    Returns the Brix [mass %]; OutOfRange outside.

    >>> brix_from_specific_gravity(1.0400)
    10.00
    """
    return brix_from_density(gravity * water_density())


def volume(mass_g: float, brix: float, temp_c: float = 20.0) -> float:
    """Volume of a syrup from its mass. ICUMSA SPS-4 (1994).

    mass_g : mass [g]; brix : [mass %], 0 to 85; temp_c : temperature [degC], 0 to 80
    Returns the volume [ml]; OutOfRange outside.

    >>> volume(1316.56, 65)
    1000.0
    """
    return inside("mass", mass_g, 0.0, inf, "g") / density(brix, temp_c)


def mass_of_volume(ml: float, brix: float, temp_c: float = 20.0) -> float:
    """Mass of a syrup from its volume. ICUMSA SPS-4 (1994).

    ml : volume [ml]; brix : [mass %], 0 to 85; temp_c : temperature [degC], 0 to 80
    Returns the mass [g]; OutOfRange outside.

    >>> mass_of_volume(500, 65)
    658.3
    """
    return inside("volume", ml, 0.0, inf, "ml") * density(brix, temp_c)
