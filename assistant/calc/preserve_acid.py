"""Preservative salts as acids: mass factors, pKa and the share that is undissociated."""

from assistant.calc.bounds import inside
from assistant.calc.preserve_ceilings import SODIUM_BENZOATE_TO_ACID

POTASSIUM_SORBATE_TO_ACID = 112.128 / 150.218
"""Sorbic acid in potassium sorbate, 0.7464 by mass: from standard atomic weights. [g/g]"""
SORBIC_PKA = 4.762
"""Sorbic acid, 25 degC, from the constant 1.73e-5: Smith & Hong-Shum, Food Additives Data Book."""
BENZOIC_PKA = 4.204
"""Benzoic acid, 25 degC: LibreTexts Reference Tables E1, acid dissociation constants. [-]"""

SALT = {"sorbate": "potassium sorbate", "benzoate": "sodium benzoate"}
ACID = {"sorbate": "sorbic acid", "benzoate": "benzoic acid"}
TO_ACID = {"sorbate": POTASSIUM_SORBATE_TO_ACID, "benzoate": SODIUM_BENZOATE_TO_ACID}
PKA = {"sorbate": SORBIC_PKA, "benzoate": BENZOIC_PKA}


def undissociated_share(ph: float, pka: float) -> float:
    """The share of a weak acid that is whole, by Henderson-Hasselbalch.

    Parameters
    ----------
    ph : float
        pH of the syrup. [-]
    pka : float
        pKa of the acid. [-]

    Returns
    -------
    float
        Share from 0 to 1. [-]

    Valid for pH and pKa 0 to 14, dilute water at 25 degC; OutOfRange outside.

    >>> undissociated_share(3.5, SORBIC_PKA)
    0.948

    References: Henderson (1908), Am. J. Physiol. 21, 173; Hasselbalch (1917), Biochem. Z. 78, 112.
    """
    inside("pH", ph, 0.0, 14.0)
    inside("pKa", pka, 0.0, 14.0)
    return float(1 / (1 + 10 ** (ph - pka)))
