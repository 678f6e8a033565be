"""The pH to expect of a batch before anybody measured: from the fruit and what goes in."""

from assistant.base.errors import PansideError
from assistant.calc.acid import Mixture
from assistant.calc.acid_blend import blend
from assistant.calc.acid_constants import SOURING
from assistant.calc.acid_finished import Additions, finished_ph
from assistant.calc.acid_fit import FIT_PH, FRUIT_CATIONS_MOL_L, fruit_acidity, nearest
from assistant.calc.fruits import Fruit
from assistant.calc.fruits import fruit as fruit_figures
from assistant.calc.spread import Spread
from assistant.cook.amounts import amount
from assistant.cook.basket import kinds, shares
from assistant.cook.batch import Batch
from assistant.cook.own import grams_of
from assistant.cook.stock import start_mass, syrup
from assistant.cook.strengths import VINEGAR_ACETIC
from assistant.facts.stuff import row_of, stuff_of

NEUTRAL = 7.0
"""Past it nothing sour is in, and what else moves the pH nobody knows: as `finished_ph`. [-]"""


def forecast_ph(batch: Batch) -> Spread | None:
    """What went in, or is planned where it has not yet; by charge balance, as `calc.acid_finished`.

    None where the fruit's figures are not known, or nothing sour is in. What is steeped is not
    counted, and takes up acid: a forecast is no reading.
    """
    stock = syrup(batch)
    if stock is None:
        return None
    try:
        acids = {name: grams for name, grams in _acids_g(batch).items() if grams}
        litres, water = stock.volume_ml.likely / 1000, _water_l(batch)
        ends = _fruits(batch)
        found = [finished_ph(Additions(acids, {}, water), litres, one, much) for one, much in ends]
    except PansideError:
        return None
    if not found:
        return None
    likely = sum(one.likely for one in found) / len(found)
    if likely > NEUTRAL:
        return None
    return Spread(min(one.low for one in found), likely, max(one.high for one in found))


def _acids_g(batch: Batch) -> dict[str, float]:
    """Each acid that the core knows, as free acid. [g]"""
    found: dict[str, float] = {}
    for name in batch.recipe.added:
        grams = _grams(batch, name)
        own = batch.recipe.ingredients.get(name)
        if own is not None and own.acid:
            acid = next((one for one in SOURING if one in name), "citric")
            found[acid] = found.get(acid, 0.0) + grams * own.acid
        elif stuff_of(name) == "vinegar":
            found["acetic"] = found.get("acetic", 0.0) + grams * VINEGAR_ACETIC
        elif own is None and row_of(name).acid:
            acid = stuff_of(name).removesuffix("_acid")
            found[acid] = found.get(acid, 0.0) + grams
    return found


def _grams(batch: Batch, name: str) -> float:
    """What went in, or will; nothing for what only an option adds. [g], [ml] of vinegar"""
    own = batch.recipe.ingredients.get(name)
    put_in = [a for a in batch.added if a.name == name]
    if put_in:
        return sum(grams_of(own, a) if own is not None else a.amount for a in put_in)
    stages = [s for s in batch.recipe.stages if s.kind == "add" and s.amount == name]
    planned = amount(batch, name)
    if planned is None or all(s.when is not None for s in stages):
        return 0.0
    poured = own is not None and planned.unit == "ml"
    return planned.value * (own.density or 1.0) if own is not None and poured else planned.value


def _water_l(batch: Batch) -> float:
    start = batch.start
    own = start.base if start is not None and batch.recipe.base == "water" else 0.0
    return (own + (_grams(batch, "hot_water") if "hot_water" in batch.recipe.amounts else 0)) / 1000


def _fruits(batch: Batch) -> list[tuple[Mixture, float]]:
    """The fruit at both ends of its pH, and how much of it there is [l]; nothing sour for water."""
    if batch.recipe.base == "water" and batch.fruit is None:
        return [(Mixture(), 0.0)]
    if batch.start is None:
        known = fruit_figures(batch.fruit) if batch.fruit else None
        each = [] if known is None else [(known, 1.0)]
    else:
        found = ((fruit_figures(one.fruit), one.grams) for one in shares(batch))
        each = [(one, grams) for one, grams in found if one is not None]
    if not each or len(each) < len(kinds(batch)):
        return []
    litres, whole = start_mass(batch) / 1000, sum(grams for _, grams in each)
    ends: list[list[tuple[Mixture, float]]] = [[], []]
    for one, grams in each:
        if one.ph_low is None or one.ph_high is None:
            return []
        for end, ph in zip(ends, (one.ph_low, one.ph_high), strict=True):
            end.append((_at(one, ph), litres * grams / whole))
    return [(blend(*end), litres) for end in ends]


def _at(one: Fruit, ph: float) -> Mixture:
    """What a fruit's juice is like at that pH; low in acid, what little it has is left out."""
    if one.acidity is None:
        return Mixture()
    acidity, main = fruit_acidity(one)
    within = max(FIT_PH[0], min(FIT_PH[1], ph))
    return nearest(within, acidity.likely, main, FRUIT_CATIONS_MOL_L)
