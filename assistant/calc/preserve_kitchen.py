"""Preservatives in the kitchen: spoons, what stays dissolved, and spirits, which do not count."""

from dataclasses import dataclass
from itertools import pairwise

from assistant.calc.bounds import inside
from assistant.calc.measures import spoon_to_g
from assistant.calc.spread import Spread

SORBATE_TEASPOON_G = spoon_to_g("potassium sorbate", "tsp")
"""Potassium sorbate in a 5 ml teaspoon, by the form of the grains: from memory. [g]"""

SPIRIT_KEEPS_ABV = 20.0
"""Alcohol that keeps a sweet drink, as in liqueurs: common practice, no source. [%]"""
HARDY_YEAST_ABV = 18.0
"""Alcohol Zygosaccharomyces bailii was found to grow in: food microbiology reviews, read. [%]"""
HOT_SPIRIT = "Spirit gives off vapour that burns: never pour it into hot syrup or near a flame."


@dataclass(frozen=True)
class SpiritEffect:
    """What a spirit does in a batch.

    abv : alcohol by volume of the whole; keeps : whether that keeps it by itself
    needed_ml : spirit that would, None when it is too weak ever to
    """

    abv: float
    keeps: bool
    needed_ml: float | None
    words: str
    cautions: tuple[str, ...]


def alcohol_preserves(volume_l: float, spirit_ml: float, abv: float) -> SpiritEffect:
    """Whether a spirit in a syrup preserves it; an ounce in a batch does not.

    Parameters
    ----------
    volume_l : float
        Volume of the syrup before the spirit. [l]
    spirit_ml : float
        Spirit added. [ml]
    abv : float
        Alcohol by volume of the spirit. [%]

    Returns
    -------
    SpiritEffect
        The alcohol of the whole, whether it keeps, and how much spirit would.

    Valid for 0.01 to 1000 l, 0 to 1e6 ml and 0 to 96 %; OutOfRange outside. Volumes are added;
    mixing shrinks them by up to some 4 %, from memory.

    >>> alcohol_preserves(1.5, 30, 40).words
    '30 ml makes it 0.8 % alcohol: that preserves nothing. It would take about 1500 ml.'

    References: 20 % is common practice, no source; 18 % tolerated by Z. bailii, reviews of food
    spoilage yeasts.
    """
    inside("volume", volume_l, 0.01, 1000, "l")
    inside("spirit", spirit_ml, 0, 1e6, "ml")
    inside("alcohol", abv, 0, 96, "%")
    share = spirit_ml * abv / (volume_l * 1000 + spirit_ml)
    keeps = share >= SPIRIT_KEEPS_ABV
    spare = abv - SPIRIT_KEEPS_ABV
    needed = volume_l * 1000 * SPIRIT_KEEPS_ABV / spare if spare > 0 else None
    return SpiritEffect(
        share, keeps, needed, _words(spirit_ml, share, keeps, needed), (HOT_SPIRIT,)
    )


def _words(spirit_ml: float, share: float, keeps: bool, needed_ml: float | None) -> str:
    start = f"{spirit_ml:g} ml makes it {share:.1f} % alcohol"
    if keeps:
        return f"{start}: as strong as a liqueur, which alcohol keeps. Label it so."
    nothing = "preserves nothing" if share < HARDY_YEAST_ABV / 2 else "is not enough to keep it"
    if needed_ml is None:
        return f"{start}: that {nothing}, and no amount of so weak a spirit would."
    return f"{start}: that {nothing}. It would take about {needed_ml:.0f} ml."


def sorbic_solubility(sucrose_percent: float) -> float:
    """Sorbic acid that stays dissolved in an acid syrup at 20 degC, between the printed points.

    Parameters
    ----------
    sucrose_percent : float
        Sugar in the syrup by mass. [%]

    Returns
    -------
    float
        Sorbic acid by mass of solution. [%]

    Valid for 0 to 60 % sucrose; OutOfRange outside.

    >>> sorbic_solubility(40), sorbic_solubility(50)
    (0.1, 0.09)

    References: Smith & Hong-Shum (eds), Food Additives Data Book (Blackwell), solubility of
    sorbic acid at 20 degC.
    """
    inside("sugar", sucrose_percent, 0, 60, "%")
    points = ((0, 0.15), (10, 0.15), (40, 0.10), (60, 0.08))
    for (x0, y0), (x1, y1) in pairwise(points):
        if sucrose_percent <= x1:
            return y0 + (y1 - y0) * (sucrose_percent - x0) / (x1 - x0)
    return points[-1][1]


def sorbate_teaspoons(grams: float) -> Spread:
    """How many level teaspoons a weight of potassium sorbate is, and how unsure that is.

    Parameters
    ----------
    grams : float
        Potassium sorbate. [g]

    Returns
    -------
    Spread
        Teaspoons of 5 ml. [tsp]

    Valid for 0 to 10000 g; OutOfRange outside.

    >>> sorbate_teaspoons(0.7)
    Spread(low=0.2, likely=0.25, high=0.28)

    References: spoon weights from memory; NIST, "Cooking Measurement Equivalencies" for the spoon.
    """
    inside("potassium sorbate", grams, 0, 10_000, "g")
    spoon = SORBATE_TEASPOON_G
    return Spread(grams / spoon.high, grams / spoon.likely, grams / spoon.low)


def spooned_grams(teaspoons: float, spoon: Spread = SORBATE_TEASPOON_G) -> Spread:
    """What a spoon measure may weigh; hold its high end against a ceiling.

    Parameters
    ----------
    teaspoons : float
        Level teaspoons of 5 ml. [tsp]
    spoon : Spread
        Weight of one; potassium sorbate unless given. [g]

    Returns
    -------
    Spread
        The weight. [g]

    Valid for 0 to 200 teaspoons; OutOfRange outside.

    >>> spooned_grams(0.25)
    Spread(low=0.625, likely=0.7, high=1.0)

    References: spoon weights from memory.
    """
    inside("teaspoons", teaspoons, 0, 200)
    return Spread(teaspoons * spoon.low, teaspoons * spoon.likely, teaspoons * spoon.high)
