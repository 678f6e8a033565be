"""The two bounds on pH that everything else goes by. Only `Limit.trips` compares."""

from assistant.limits.table import the_limit

ACID_STOP = "ph-acid-food"
"""The limit that stops a batch by its pH."""
ACID_FOOD_PH = the_limit(ACID_STOP).bound
"""Below it a food counts as acid."""
MAKERS_PH = the_limit("ph-makers").bound
"""To it the heating tables for juice hold, and makers like to stay."""


def is_low_acid(ph: float) -> bool:
    """Whether a pH is at the bound of acid foods or past it, where the botulism germ can grow.

    >>> is_low_acid(4.6), is_low_acid(3.2)
    (True, False)
    """
    return the_limit(ACID_STOP).trips(ph)


def above_makers(ph: float) -> bool:
    """Whether a pH is past where makers stay.

    >>> above_makers(4.2), above_makers(3.2)
    (True, False)
    """
    return the_limit("ph-makers").trips(ph)
