"""Glycerin and gum arabic: stirred in after the sugar, they weigh too much to be left out."""

from assistant.cook.batch import Added, Batch
from assistant.cook.own import Gift
from assistant.cook.parts import PerLitre
from assistant.cook.recognised import adds
from assistant.facts.stuff import row_of

BODIES = ("glycerin", "gum_arabic")
WETTED = 1.0
"""Water that gum arabic is wetted with, by its own weight (common practice, no source). [g/g]"""


def given(batch: Batch, juice_ml: float, syrup_ml: float) -> Gift:
    """What they bring, as far as they went in or will; what only an option adds is no plan.

    juice_ml, syrup_ml : of the juice, and of the syrup before them [ml]
    Glycerin is no sugar, and counts as liquid, which is the strict side for keeping.
    """
    found = Gift()
    for name in BODIES:
        grams = sum(_grams(each) for each in batch.added if each.name == name)
        grams = grams or _planned(batch, name, juice_ml, syrup_ml)
        wetted = grams * WETTED if name == "gum_arabic" else 0.0
        solids = grams if name == "gum_arabic" else 0.0
        found = found.plus(Gift(solids_g=solids, liquid_g=grams - solids + wetted))
    return found


def _grams(each: Added) -> float:
    return each.amount * (row_of(each.name).density or 1.0) if each.unit == "ml" else each.amount


def _planned(batch: Batch, name: str, juice_ml: float, syrup_ml: float) -> float:
    rule = batch.recipe.amounts.get(name)
    stages = [s for s in batch.recipe.stages if adds(s) == name]
    if not isinstance(rule, PerLitre) or all(s.when is not None for s in stages):
        return 0.0
    litres = (juice_ml if rule.of == "juice" else syrup_ml) / 1000
    poured = (row_of(name).density or 1.0) if rule.unit == "ml" else 1.0
    return litres * rule.amount * poured
