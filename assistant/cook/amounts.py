"""How much of each thing goes in: the rules a recipe can name, worked out for a batch."""

from math import floor

from assistant.base.units import Unit
from assistant.calc.preserve import sorbate_dose
from assistant.calc.preserve_dose import DOSE_PH
from assistant.calc.spread import Spread
from assistant.cook.batch import Batch
from assistant.cook.parts import AnyRule, PerLitre, Pieces, ShareOf, SorbateDose, SugarToBrix
from assistant.cook.reply import Quantity
from assistant.cook.stock import bare_syrup, juice, main_sugar, own_amount, syrup
from assistant.cook.totals import room_g
from assistant.facts.stuff import PRESERVATIVES, stuff_of
from assistant.limits import MAKERS_PH

_ASSUMED_PH = MAKERS_PH
"""For a dose asked before the pH is known: the acid end of where makers stay (conservative for
how much of the sorbate works, without effect on how much goes in)."""


def amount(batch: Batch, name: str) -> Quantity | None:
    """How much of that amount goes in, with its spread; None until it can be reckoned."""
    rule = batch.recipe.amounts.get(name)
    if rule is None:
        return None
    found = _own(batch, name) if name in batch.recipe.ingredients else _found(batch, rule)
    if found is None:
        return None
    most = room_g(batch, stuff_of(name)) if stuff_of(name) in PRESERVATIVES else None
    if most is not None and found[0].high > most:
        return quantity(Spread.exactly(floored(most)), found[1])
    return quantity(found[0], found[1])


def quantity(spread: Spread, unit: Unit) -> Quantity:
    """A spread as an amount to be said; its ends are told only where they differ by a twentieth."""
    wide = spread.high - spread.low > 0.05 * abs(spread.likely)
    return Quantity(
        value=spread.likely,
        unit=unit,
        low=spread.low if wide else None,
        high=spread.high if wide else None,
    )


Found = tuple[Spread, Unit] | None


def _own(batch: Batch, name: str) -> Found:
    rule, planned = batch.recipe.amounts[name], own_amount(batch, name)
    unit: Unit = rule.unit if isinstance(rule, ShareOf | PerLitre) else "g"
    return None if planned is None else (planned, unit)


def _found(batch: Batch, rule: AnyRule) -> Found:
    match rule:
        case ShareOf():
            return _share_of_base(batch, rule)
        case PerLitre():
            return _per_litre(batch, rule)
        case SugarToBrix():
            return _sugar_to_target(batch)
        case SorbateDose():
            return _sorbate_dose(batch)
        case Pieces():
            return None


def _share_of_base(batch: Batch, rule: ShareOf) -> Found:
    start = batch.start
    return None if start is None else (Spread.exactly(start.base * rule.share), rule.unit)


def _per_litre(batch: Batch, rule: PerLitre) -> Found:
    stock = juice(batch) if rule.of == "juice" else bare_syrup(batch)
    if stock is None:
        return None
    litres = stock.volume_ml
    each = rule.amount / 1000
    return Spread(litres.low * each, litres.likely * each, litres.high * each), rule.unit


def _sugar_to_target(batch: Batch) -> Found:
    sugar = main_sugar(batch)
    return None if sugar is None else (sugar, "g")


def _sorbate_dose(batch: Batch) -> Found:
    stock = syrup(batch)
    if stock is None:
        return None
    ph = batch.last("ph")
    # The low end of the volume: a dose for less syrup than there is stays under its ceiling.
    litres = stock.volume_ml.low / 1000
    dose = sorbate_dose(litres, min(ph.base, DOSE_PH[1]) if ph else _ASSUMED_PH)
    return Spread.exactly(floored(dose.grams)), "g"


def floored(grams: float) -> float:
    """Down to what is said and weighed, so that rounding passes no ceiling."""
    step = 0.1 if grams >= 1 else 0.01
    return round(floor(grams / step + 1e-9) * step, 2)
