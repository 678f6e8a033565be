"""Sorbate and benzoate: the dose under the ceiling, what of it works at the pH, slipped decimals.

Only the undissociated acid crosses a cell's wall, so a dose fades as the pH rises. Ceilings count
the free acid, scales weigh the salt: that is the usual mistake, and it is put right here once.
This module is the face; the parts stand in `preserve_*`.
"""

from assistant.calc.preserve_acid import (
    BENZOIC_PKA,
    POTASSIUM_SORBATE_TO_ACID,
    SORBIC_PKA,
    undissociated_share,
)
from assistant.calc.preserve_ceilings import (
    CEILINGS,
    DRINKS,
    SODIUM_BENZOATE_TO_ACID,
    TABLE_SYRUPS,
    TOPPINGS,
    TRADITIONAL_SYRUP,
    Ceiling,
    applying,
    strictest,
)
from assistant.calc.preserve_dose import (
    BENZENE,
    NO_RESCUE,
    WEIGH_IT,
    PreservativeDose,
    benzoate_dose,
    sorbate_dose,
)
from assistant.calc.preserve_kitchen import (
    SpiritEffect,
    alcohol_preserves,
    sorbate_teaspoons,
    sorbic_solubility,
    spooned_grams,
)
from assistant.calc.preserve_slip import (
    SORBATE_USUAL_G_L,
    SORBATE_WORKING_G_L,
    Slip,
    TogetherUse,
    benzoate_slip,
    sorbate_slip,
    together,
)

__all__ = [
    "BENZENE",
    "BENZOIC_PKA",
    "CEILINGS",
    "DRINKS",
    "NO_RESCUE",
    "POTASSIUM_SORBATE_TO_ACID",
    "SODIUM_BENZOATE_TO_ACID",
    "SORBATE_USUAL_G_L",
    "SORBATE_WORKING_G_L",
    "SORBIC_PKA",
    "TABLE_SYRUPS",
    "TOPPINGS",
    "TRADITIONAL_SYRUP",
    "WEIGH_IT",
    "Ceiling",
    "PreservativeDose",
    "Slip",
    "SpiritEffect",
    "TogetherUse",
    "alcohol_preserves",
    "applying",
    "benzoate_dose",
    "benzoate_slip",
    "sorbate_dose",
    "sorbate_slip",
    "sorbate_teaspoons",
    "sorbic_solubility",
    "spooned_grams",
    "strictest",
    "together",
    "undissociated_share",
]
