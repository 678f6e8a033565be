"""The most preservative a rule allows, by region and food, each with its source.

Figures marked `memory` were written down without the official text at hand: read the rule itself
before selling by them. Food categories are numbered as in Codex STAN 192 (GSFA) and in Annex II
of Regulation (EC) 1333/2008, which share the numbers used here.
"""

from dataclasses import dataclass
from typing import Literal

from assistant.base.errors import WrongUse

Preservative = Literal["sorbate", "benzoate"]
Status = Literal["read", "memory"]

DRINKS = "14.1.4"
"""Water-based flavoured drinks and their concentrates, squash and cordial: the usual syrup."""
TRADITIONAL_SYRUP = "14.1.2"
"""Traditional Danish and Swedish fruit syrup (saft)."""
TOPPINGS = "05.4"
"""Toppings, sweet sauces, flavoured syrups for pancakes and ice cream."""
TABLE_SYRUPS = "11.4"
"""Other sugars and syrups: flavoured table syrups."""
ANY_FOOD = "any"

SODIUM_BENZOATE_TO_ACID = 122.123 / 144.105
"""Benzoic acid in sodium benzoate, 0.8475 by mass: computed from standard atomic weights. [g/g]"""


@dataclass(frozen=True)
class Ceiling:
    """The most of one preservative that one region's rule allows in one kind of food.

    value : as the rule prints it; None where the rule asks good practice and gives no number
    unit : mg/kg or mg/l
    basis : what is counted: the free acid, or the salt
    status : read (seen in a copy of the source) or memory (not checked against it)
    """

    id: str
    region: str
    preservative: Preservative
    food: str
    value: float | None
    unit: Literal["mg/l", "mg/kg"]
    basis: Literal["free acid", "sodium benzoate"]
    status: Status
    source: str
    mixed_value: float | None = None
    """The stricter value where both preservatives are used together, if the rule has one."""

    def acid_mg_l(self, density_kg_l: float = 1.0, mixed: bool = False) -> float | None:
        """The ceiling as free acid per litre, None where the rule has no number. [mg/l]

        A density of 1 is the stricter reading of a ceiling per kilogram, as syrup is heavier.

        >>> CODEX_DRINKS_SORBATE.acid_mg_l(1.3)
        650.0
        """
        value = self.mixed_value if mixed and self.mixed_value is not None else self.value
        if value is None:
            return None
        acid = value * (SODIUM_BENZOATE_TO_ACID if self.basis == "sodium benzoate" else 1.0)
        return acid * (density_kg_l if self.unit == "mg/kg" else 1.0)


CODEX_DRINKS_SORBATE = Ceiling(
    "codex-drinks-sorbate", "codex", "sorbate", DRINKS, 500, "mg/kg", "free acid", "read",
    "Codex GSFA (STAN 192), category 14.1.4, sorbates",
)  # fmt: skip
EU_DRINKS_SORBATE = Ceiling(
    "eu-drinks-sorbate", "eu", "sorbate", DRINKS, 300, "mg/l", "free acid", "memory",
    "Regulation (EC) 1333/2008, Annex II part E, 14.1.4, sorbic acid - sorbates",
    mixed_value=250,
)  # fmt: skip

CEILINGS: tuple[Ceiling, ...] = (
    EU_DRINKS_SORBATE,
    CODEX_DRINKS_SORBATE,
    Ceiling(
        "us-sorbate", "us", "sorbate", ANY_FOOD, None, "mg/kg", "free acid", "read",
        "21 CFR 182.3089, sorbic acid: good manufacturing practice, no number",
    ),
    Ceiling(
        "eu-traditional-syrup-sorbate", "eu", "sorbate", TRADITIONAL_SYRUP, 500, "mg/l",
        "free acid", "memory",
        "Regulation (EC) 1333/2008, Annex II part E, 14.1.2, traditional fruit syrups",
    ),
    Ceiling(
        "eu-toppings-sorbate", "eu", "sorbate", TOPPINGS, 1000, "mg/kg", "free acid", "memory",
        "Regulation (EC) 1333/2008, Annex II part E, 05.4, toppings",
    ),
    Ceiling(
        "codex-toppings-sorbate", "codex", "sorbate", TOPPINGS, 1000, "mg/kg", "free acid",
        "read", "Codex GSFA (STAN 192), category 05.4, sorbates",
    ),
    Ceiling(
        "codex-table-syrups-sorbate", "codex", "sorbate", TABLE_SYRUPS, 1000, "mg/kg",
        "free acid", "read", "Codex GSFA (STAN 192), category 11.4, sorbates",
    ),
    Ceiling(
        "eu-drinks-benzoate", "eu", "benzoate", DRINKS, 150, "mg/l", "free acid", "memory",
        "Regulation (EC) 1333/2008, Annex II part E, 14.1.4, benzoic acid - benzoates",
    ),
    Ceiling(
        "codex-drinks-benzoate", "codex", "benzoate", DRINKS, 250, "mg/kg", "free acid",
        "memory", "Codex GSFA (STAN 192), category 14.1.4, benzoates",
    ),
    Ceiling(
        "us-benzoate", "us", "benzoate", ANY_FOOD, 1000, "mg/kg", "sodium benzoate", "read",
        "21 CFR 184.1733(d), sodium benzoate: current usage at most 0.1 percent",
    ),
    Ceiling(
        "eu-traditional-syrup-benzoate", "eu", "benzoate", TRADITIONAL_SYRUP, 200, "mg/l",
        "free acid", "memory",
        "Regulation (EC) 1333/2008, Annex II part E, 14.1.2, traditional fruit syrups",
    ),
    Ceiling(
        "codex-toppings-benzoate", "codex", "benzoate", TOPPINGS, 1500, "mg/kg", "free acid",
        "read", "Codex GSFA (STAN 192), category 05.4, benzoates",
    ),
)  # fmt: skip

REGIONS = ("strictest", "eu", "codex", "us")


def applying(preservative: Preservative, region: str, food: str = DRINKS) -> tuple[Ceiling, ...]:
    """The ceilings for a preservative in a food, in one region or in all ("strictest").

    >>> [c.id for c in applying("sorbate", "us")]
    ['us-sorbate']
    """
    if region not in REGIONS:
        raise WrongUse(f"no region {region!r}: use one of {', '.join(REGIONS)}")
    found = tuple(
        c
        for c in CEILINGS
        if c.preservative == preservative
        and c.food in (food, ANY_FOOD)
        and region in ("strictest", c.region)
    )
    if not found:
        raise WrongUse(f"no ceiling for {preservative} in food {food} in region {region} is known")
    return found


def strictest(
    preservative: Preservative,
    region: str = "strictest",
    food: str = DRINKS,
    density_kg_l: float = 1.0,
    mixed: bool = False,
) -> Ceiling:
    """The ceiling to keep to: the lowest with a number.

    A region whose rule has no number (US sorbates) gets the lowest number of the others, since
    good practice without a figure is nothing to weigh by.

    >>> strictest("sorbate").id, strictest("sorbate", "codex").id, strictest("sorbate", "us").id
    ('eu-drinks-sorbate', 'codex-drinks-sorbate', 'eu-drinks-sorbate')
    """
    here = [c for c in applying(preservative, region, food) if c.value is not None]
    chosen = here or [c for c in applying(preservative, "strictest", food) if c.value is not None]
    if not chosen:
        raise WrongUse(f"no ceiling with a number is known for {preservative} in food {food}")
    return min(chosen, key=lambda c: c.acid_mg_l(density_kg_l, mixed) or 0.0)
