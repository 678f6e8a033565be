"""Spoons and cups to grams, and back, with the spread that scooping has.

A spoon is a guess: level or heaped, fine or coarse. Every weight carries a spread, and what must
be right (preservatives, acids) says that it is to be weighed.
"""

from dataclasses import dataclass
from typing import Literal

from assistant.base.errors import OutOfRange, WrongUse
from assistant.calc.spread import Spread

SpoonOrCup = Literal["tsp", "tbsp", "cup"]

TSP_PER: dict[SpoonOrCup, float] = {"tsp": 1.0, "tbsp": 3.0, "cup": 48.0}
"""Teaspoons in each: 5, 15 and 240 ml. NIST, Cooking Measurement Equivalencies."""

MOST_COUNT = 1000.0

_USDA = "USDA National Nutrient Database SR26, weights"
_NCHFP = "National Center for Home Food Preservation; powders sold run 4 to 5 g (from memory)"
_MEMORY = "from memory"


@dataclass(frozen=True)
class ItemWeight:
    """What one measure of an item weighs.

    measure : the spoon or cup the source weighed, grams : low, likely, high [g]
    weigh_it : a spoon is not good enough for it
    """

    item: str
    measure: SpoonOrCup
    grams: Spread
    source: str
    weigh_it: bool = False

    def per(self, measure: SpoonOrCup) -> Spread:
        """Weight of another measure of it, by volume. [g]"""
        ratio = TSP_PER[measure] / TSP_PER[self.measure]
        return Spread(*(ratio * g for g in (self.grams.low, self.grams.likely, self.grams.high)))


POWDER_SHARE = 0.1
PIECES_SHARE = 0.15
LIQUID_SHARE = 0.05
"""Allowances for filling, piece size and cup size (236.6 to 250 ml): this project's own. [-]"""


def _weighed(item: str, measure: SpoonOrCup, grams: float, share: float) -> ItemWeight:
    return ItemWeight(item, measure, Spread.within(grams, share), _USDA)


_FRUIT_CUPS: dict[str, float] = {
    "strawberries": 144,
    "sliced strawberries": 166,
    "halved strawberries": 152,
    "strawberry puree": 232,
    "raspberries": 123,
    "blackberries": 144,
    "blueberries": 148,
    "currants": 112,
    "gooseberries": 150,
    "sour cherries": 155,
    "sweet cherries": 154,
    "plums": 165,
    "apricots": 165,
    "peaches": 154,
    "rhubarb": 122,
    "pineapple": 165,
    "mango": 165,
    "elderberries": 145,
    "cranberries": 100,
}
_POWDERS: tuple[tuple[str, SpoonOrCup, float], ...] = (
    ("sugar", "cup", 200),
    ("icing sugar", "cup", 120),
    ("brown sugar", "cup", 220),
    ("salt", "tsp", 6),
)
_LIQUIDS: tuple[tuple[str, SpoonOrCup, float], ...] = (
    ("water", "cup", 237),
    ("honey", "cup", 339),
    ("maple syrup", "cup", 315),
    ("cider vinegar", "cup", 239),
    ("vinegar", "cup", 238),
    ("lemon juice", "cup", 244),
    ("lime juice", "cup", 242),
    ("orange juice", "cup", 248),
)
_WIDE = (
    ItemWeight("caster sugar", "cup", Spread(190, 200, 225), _MEMORY),
    ItemWeight("citric acid", "tsp", Spread(4.0, 4.7, 5.0), _MEMORY, weigh_it=True),
    ItemWeight("ascorbic acid", "tsp", Spread(3.0, 3.0, 5.0), _NCHFP, weigh_it=True),
    ItemWeight("potassium sorbate", "tsp", Spread(2.5, 2.8, 4.0), _MEMORY, weigh_it=True),
    ItemWeight("sodium benzoate", "tsp", Spread(2.5, 3.0, 4.0), _MEMORY, weigh_it=True),
    ItemWeight("glycerin", "tsp", Spread(5.9, 6.2, 6.4), _MEMORY),
)
ITEMS: dict[str, ItemWeight] = {
    entry.item: entry
    for entry in (
        *(_weighed(name, "cup", grams, PIECES_SHARE) for name, grams in _FRUIT_CUPS.items()),
        *(_weighed(*powder, POWDER_SHARE) for powder in _POWDERS),
        *(_weighed(*liquid, LIQUID_SHARE) for liquid in _LIQUIDS),
        *_WIDE,
    )
}
"""Every item a spoon or cup can be reckoned for."""

_ALSO = {
    "granulated sugar": "sugar",
    "sorbate": "potassium sorbate",
    "benzoate": "sodium benzoate",
    "vitamin c": "ascorbic acid",
    "glycerine": "glycerin",
    "glycerol": "glycerin",
    "powdered sugar": "icing sugar",
    "superfine sugar": "caster sugar",
    "blackcurrants": "currants",
    "redcurrants": "currants",
    "white currants": "currants",
    "strawberry": "strawberries",
    "raspberry": "raspberries",
    "blackberry": "blackberries",
    "blueberry": "blueberries",
    "blackcurrant": "currants",
    "redcurrant": "currants",
    "gooseberry": "gooseberries",
    "elderberry": "elderberries",
}


def item_weight(item: str) -> ItemWeight:
    """The entry for an item, by its name or another common one.

    item : name of it, in any case, with spaces or underscores [-]
    Returns the entry with its source [g per measure]. WrongUse when it is not known.

    >>> item_weight("citric_acid").weigh_it
    True
    """
    name = item.strip().lower().replace("_", " ")
    found = ITEMS.get(_ALSO.get(name, name))
    if found is None:
        known = ", ".join(sorted(ITEMS))
        raise WrongUse(f"there is no spoon or cup weight for {item!r}; known are {known}")
    return found


def spoon_to_g(item: str, measure: SpoonOrCup, count: float = 1.0) -> Spread:
    """Grams in so many level spoons or cups.

    Sources: the item's own, see `item_weight`; spoons in a cup by NIST, Cooking Measurement
    Equivalencies. A 20 ml tablespoon holds a third more.

    item : what is in the spoon [-]
    measure : tsp (5 ml), tbsp (15 ml) or cup (240 ml) [-]
    count : how many, fractions allowed [-]
    Returns low, likely and high weight [g].
    Valid for counts of 0 to 1000, else OutOfRange; WrongUse for an unknown item or measure.

    >>> spoon_to_g("sugar", "cup", 1.5)
    Spread(low=270.0, likely=300.0, high=330.0)
    """
    if not 0.0 <= count <= MOST_COUNT:
        raise OutOfRange("number of spoons", count, 0.0, MOST_COUNT)
    one = item_weight(item).per(_known(measure))
    return Spread(count * one.low, count * one.likely, count * one.high)


def g_to_spoon(item: str, grams: float, measure: SpoonOrCup) -> Spread:
    """Level spoons or cups that hold so many grams.

    Sources: as `spoon_to_g`.

    item : what is in the spoon [-]
    grams : weight wanted [g]
    measure : tsp (5 ml), tbsp (15 ml) or cup (240 ml) [-]
    Returns low, likely and high number of measures [-].
    Valid for 0 to 100 000 g, else OutOfRange; WrongUse for an unknown item or measure.

    >>> round(g_to_spoon("honey", 339, "cup").likely, 2)
    1.0
    """
    if not 0.0 <= grams <= 100_000.0:
        raise OutOfRange("weight", grams, 0.0, 100_000.0, "g")
    one = item_weight(item).per(_known(measure))
    return Spread(grams / one.high, grams / one.likely, grams / one.low)


def _known(measure: str) -> SpoonOrCup:
    for known in TSP_PER:
        if measure == known:
            return known
    raise WrongUse(f"{measure!r} is not a spoon or cup; use tsp, tbsp or cup")
