"""Spoons reckoned from the cup against spoons that were weighed, where a source has both."""

from assistant.calc.answer import Check
from assistant.calc.measures import SpoonOrCup, spoon_to_g

_USDA = "USDA National Nutrient Database SR26, weights"
_NIST = "NIST, Cooking Measurement Equivalencies (water, 1 g/ml)"
_SAID: tuple[tuple[str, SpoonOrCup, float, float, str], ...] = (
    ("sugar", "tsp", 4.2, 0.1, _USDA),
    ("honey", "tbsp", 21.0, 0.3, _USDA),
    ("maple syrup", "tbsp", 20.0, 0.4, _USDA),
    ("salt", "tbsp", 18.0, 0.1, _USDA),
    ("salt", "cup", 292.0, 5.0, _USDA),
    ("cider vinegar", "tbsp", 14.9, 0.1, _USDA),
    ("water", "tbsp", 15.0, 0.3, _NIST),
)


def _check(item: str, measure: SpoonOrCup, grams: float, tolerance: float, source: str) -> Check:
    def likely(count: float) -> float:
        return spoon_to_g(item, measure, count).likely

    rows = (((1.0,), grams),)
    formula = f"{item} by the {measure}"
    return Check(formula, source, "g", likely, rows, tolerance, "independent")


CHECKS: tuple[Check, ...] = tuple(_check(*said) for said in _SAID)
