"""Doses as said, held against working doses and ceilings: slipped decimals, and both together."""

from dataclasses import dataclass

from assistant.base.errors import OutOfRange
from assistant.calc.bounds import inside
from assistant.calc.preserve_acid import ACID, SALT, TO_ACID
from assistant.calc.preserve_ceilings import DRINKS, Ceiling, Preservative, strictest


@dataclass(frozen=True)
class Slip:
    """A dose that can't be meant as said.

    kind : tenth, hundredth, tenfold, hundredfold (a slipped decimal), weak or over
    factor : the dose over a usual one [-]; over : the ceilings it passes
    """

    kind: str
    factor: float
    words: str
    over: tuple[Ceiling, ...] = ()


SORBATE_WORKING_G_L = (0.3, 1.0)
"""Potassium sorbate doses in use. Upper: a good quarter teaspoon a litre, 0.7 to 1 g (common
practice, no source). Lower: under the EU figure for use beside benzoate, 0.335 g/l. [g/l]"""
SORBATE_USUAL_G_L = 0.75
"""A quarter teaspoon a litre: common practice, no source. [g/l]"""
BENZOATE_WORKING_G_L = (0.12, 1.0)
"""Sodium benzoate doses in use: two thirds of the EU figure for drinks to the US 0.1 %. [g/l]"""
BENZOATE_USUAL_G_L = 0.4
"""Middle of the working doses on a logarithmic scale: no source. [g/l]"""

_POWERS = (
    ("tenth", 10, "about a tenth of a working dose"),
    ("hundredth", 100, "about a hundredth of a working dose"),
    ("tenfold", 0.1, "about ten times a working dose"),
    ("hundredfold", 0.01, "about a hundred times a working dose"),
)


def sorbate_slip(g_per_l: float, *ceilings: Ceiling, density_kg_l: float = 1.0) -> Slip | None:
    """What is wrong with a potassium sorbate dose as said, or None: a slipped decimal, or over.

    Parameters
    ----------
    g_per_l : float
        Potassium sorbate per litre of syrup. [g/l]
    ceilings : Ceiling
        The ceilings to hold it against; without any, the strictest for drinks. [mg/l]
    density_kg_l : float
        Density of the syrup, used where a ceiling is per kilogram; 1 is the stricter. [kg/l]

    Returns
    -------
    Slip or None
        The verdict in words, with the ceilings passed.

    Valid for doses above 0 to 1000 g/l; OutOfRange outside.

    >>> sorbate_slip(0.08).words
    '0.08 g a litre is about a tenth of a working dose. Did the decimal slip?'
    >>> sorbate_slip(0.4) is None
    True
    >>> sorbate_slip(0.75).kind
    'over'

    References: working doses are common practice, no source; ceilings as in `preserve_ceilings`.
    """
    against = ceilings or (strictest("sorbate"),)
    return _slip("sorbate", g_per_l, against, density_kg_l)


def benzoate_slip(g_per_l: float, *ceilings: Ceiling, density_kg_l: float = 1.0) -> Slip | None:
    """What is wrong with a sodium benzoate dose as said, or None: a slipped decimal, or over.

    Parameters
    ----------
    g_per_l : float
        Sodium benzoate per litre of syrup. [g/l]
    ceilings : Ceiling
        The ceilings to hold it against; without any, the strictest for drinks. [mg/l]
    density_kg_l : float
        Density of the syrup, used where a ceiling is per kilogram; 1 is the stricter. [kg/l]

    Returns
    -------
    Slip or None
        The verdict in words, with the ceilings passed.

    Valid for doses above 0 to 1000 g/l; OutOfRange outside.

    >>> benzoate_slip(1.7).kind, benzoate_slip(0.17)
    ('tenfold', None)

    References: ceilings as in `preserve_ceilings`; 21 CFR 184.1733(d) for the upper working dose.
    """
    against = ceilings or (strictest("benzoate"),)
    return _slip("benzoate", g_per_l, against, density_kg_l)


def _slip(
    kind: Preservative, g_per_l: float, ceilings: tuple[Ceiling, ...], density_kg_l: float
) -> Slip | None:
    if not 0 < g_per_l <= 1000:
        raise OutOfRange("dose", g_per_l, 0, 1000, "g/l")
    sorbate = kind == "sorbate"
    low, high = SORBATE_WORKING_G_L if sorbate else BENZOATE_WORKING_G_L
    factor = g_per_l / (SORBATE_USUAL_G_L if sorbate else BENZOATE_USUAL_G_L)
    acid_mg_l = g_per_l * 1000 * TO_ACID[kind]
    over = tuple(c for c in ceilings if _passes(acid_mg_l, c.acid_mg_l(density_kg_l)))
    words = _over_words(over, density_kg_l, acid_mg_l, ACID[kind])
    for name, power, said in _POWERS:
        if low <= g_per_l * power <= high:
            slipped = f"{g_per_l:g} g a litre is {said}. Did the decimal slip?"
            return Slip(name, factor, " ".join([slipped, *words]), over)
    if over:
        return Slip("over", factor, " ".join(words), over)
    if g_per_l < low:
        return Slip("weak", factor, f"{g_per_l:g} g a litre is less than a working dose.")
    return None


def _passes(acid_mg_l: float, ceiling_mg_l: float | None) -> bool:
    """Compared to the whole milligram, as the rules are printed."""
    return ceiling_mg_l is not None and round(acid_mg_l) > ceiling_mg_l


def _over_words(
    over: tuple[Ceiling, ...], density_kg_l: float, acid_mg_l: float, acid: str
) -> list[str]:
    return [
        f"{acid_mg_l:.0f} mg of {acid} a litre is over the {c.acid_mg_l(density_kg_l):.0f} mg "
        f"that {c.source} allows."
        for c in over
    ]


@dataclass(frozen=True)
class TogetherUse:
    """Sorbate and benzoate in one syrup, held against the sum rule.

    share : sum of each acid over its own ceiling [-]; allowed : share of at most 1
    """

    share: float
    allowed: bool
    words: str


def together(
    sorbate_g_l: float,
    benzoate_g_l: float,
    region: str = "strictest",
    food: str = DRINKS,
    density_kg_l: float = 1.0,
) -> TogetherUse:
    """Both preservatives in one syrup: the shares of their ceilings must not add up past one.

    That is stricter than a ceiling on each alone or on their sum, so it keeps to both.

    Parameters
    ----------
    sorbate_g_l : float
        Potassium sorbate. [g/l]
    benzoate_g_l : float
        Sodium benzoate. [g/l]
    region : str
        "strictest", "eu", "codex" or "us". [-]
    food : str
        Food category number, from `preserve_ceilings`. [-]
    density_kg_l : float
        Density of the syrup; 1 is the stricter. [kg/l]

    Returns
    -------
    TogetherUse
        The share used up and whether it is allowed.

    Valid for 0 to 1000 g/l of each; OutOfRange outside.

    >>> together(0.2, 0.06).allowed, together(0.3, 0.15).allowed
    (True, False)

    References: Regulation (EC) 1333/2008 Annex II, notes (1), (2): levels are free acid and hold
    for the sum; adding shares is the stricter reading.
    """
    share = 0.0
    kinds: tuple[tuple[Preservative, float], ...] = (
        ("sorbate", sorbate_g_l),
        ("benzoate", benzoate_g_l),
    )
    both = sorbate_g_l > 0 and benzoate_g_l > 0
    for kind, g_per_l in kinds:
        inside(SALT[kind], g_per_l, 0, 1000, "g/l")
        ceiling = strictest(kind, region, food, density_kg_l, both)
        share += g_per_l * 1000 * TO_ACID[kind] / (ceiling.acid_mg_l(density_kg_l, both) or 1.0)
    allowed = share <= 1 + 1e-9
    words = f"Together they use {share:.0%} of what is allowed" + (
        "." if allowed else ": too much."
    )
    return TogetherUse(share, allowed, words)
