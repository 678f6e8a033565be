"""Preservatives by running total: all that went in, in what there is of syrup now."""

from dataclasses import dataclass

from assistant.base.errors import OutOfRange
from assistant.calc.serve import dilute
from assistant.cook.batch import Batch
from assistant.cook.drinks import GLASS_ML, USUAL_BRIX
from assistant.cook.remembered import by_the_pan
from assistant.cook.reply import Line, Quantity
from assistant.cook.stock import Juice, syrup
from assistant.facts.stuff import PRESERVATIVES, stuff_of
from assistant.limits import Limit, all_limits, limit_named

_SMALLEST_ML = 1.0
"""Nothing is reckoned in less syrup than this: what is measured wrong must not divide by nought."""


@dataclass(frozen=True)
class Over:
    """A ceiling that the total passes, and the total. [g/l]"""

    limit: Limit
    dose: float


def stuff_total(batch: Batch, stuff: str) -> float:
    """All that went in of a stuff, under whatever amount. [g or ml]"""
    return sum(a.amount for a in batch.added if stuff_of(a.name) == stuff)


@by_the_pan
def least_volume(batch: Batch) -> float | None:
    """The least syrup there can be, by the reckoning and by what was measured of it. [ml]"""
    stock = syrup(batch)
    if stock is None:
        return None
    made = batch.last("yield")
    volumes = [stock.volume_ml.low]
    if made is not None:
        mass = made.reading.dimension == "mass"
        volumes.append(made.base / density(stock) if mass else made.base)
    return max(_SMALLEST_ML, min(volumes))


def density(stock: Juice) -> float:
    """Of the syrup. [g/ml]"""
    return stock.mass_g.likely / stock.volume_ml.likely if stock.volume_ml.likely else 1.0


def in_syrup(batch: Batch, stuff: str, more_g: float = 0.0) -> float:
    """A preservative in the syrup, by all that went in and `more_g`, in the least there can be.

    Returns the salt [g/l]; 0 before anything was weighed.
    """
    volume = least_volume(batch)
    total = stuff_total(batch, stuff) + more_g
    return 1000 * total / volume if volume and total else 0.0


def over_ceiling(batch: Batch, stuff: str, more_g: float = 0.0) -> Over | None:
    """The ceiling that stops the batch, by the syrup as sold or the drink as made up; None inside.

    Where a rule holds for the drink (Regulation (EC) 1333/2008, Article 11(3)) the total is thinned
    to a drink of the usual sweetness first.
    """
    dose = in_syrup(batch, stuff, more_g)
    drink = dose * drink_share(batch)
    limits = [each for each in all_limits() if each.quantity == stuff]
    for limit in sorted(limits, key=lambda each: each.effect != "stop"):
        if _to_the_scale(dose if limit.effect == "stop" else drink) > limit.bound:
            return Over(limit, dose if limit.effect == "stop" else drink)
    return None


def warned_of(batch: Batch, stuff: str, more_g: float = 0.0) -> Over | None:
    """The ceiling for drinks that the syrup itself passes, which is no reason to stop."""
    dose = in_syrup(batch, stuff, more_g)
    cautions = (x for x in all_limits() if x.quantity == stuff and x.effect == "caution")
    return next((Over(x, dose) for x in cautions if _to_the_scale(dose) > x.bound), None)


def _to_the_scale(dose: float) -> float:
    """To the tenth of a milligram a litre, so that a dose up to its ceiling does not pass it."""
    return round(dose, 4)


@by_the_pan
def drink_share(batch: Batch) -> float:
    """Syrup in a drink of the usual sweetness, by volume; 1 for what is no sweeter itself. [-]"""
    stock = syrup(batch)
    brix = stock.brix.low if stock else 0.0
    if brix <= USUAL_BRIX:
        return 1.0
    try:
        return 1.0 / (1.0 + dilute(min(brix, 85.0), USUAL_BRIX, GLASS_ML).water_parts)
    except OutOfRange:
        return 1.0


def stopping(batch: Batch) -> Over | None:
    """The preservative whose total stops the batch; None where all are inside their ceilings.

    Several together may not use up more than one ceiling, each counted as a share of its own.
    """
    found = [over for stuff in PRESERVATIVES if (over := over_ceiling(batch, stuff)) is not None]
    if found:
        return found[0]
    shares = {stuff: _share(batch, stuff) for stuff in ("sorbate", "benzoate")}
    if sum(shares.values()) <= 1.0 + 1e-3 or not all(shares.values()):
        return None
    most = max(shares, key=lambda stuff: shares[stuff])
    limit = limit_named(f"{most}-codex-drinks")
    return None if limit is None else Over(limit, in_syrup(batch, most))


def _share(batch: Batch, stuff: str) -> float:
    limit = limit_named(f"{stuff}-codex-drinks")
    return in_syrup(batch, stuff) / limit.bound if limit else 0.0


def room_g(batch: Batch, stuff: str) -> float | None:
    """What may still go in under the strictest ceiling there is; None before anything was weighed.

    [g]
    """
    volume = least_volume(batch)
    bounds = [limit.bound for limit in all_limits() if limit.quantity == stuff]
    if volume is None or not bounds:
        return None
    return max(0.0, min(bounds) * volume / 1000 - stuff_total(batch, stuff))


def over_line(over: Over) -> Line:
    """The limit's own words for a total past it."""
    facts = {
        "value": Quantity(value=over.dose, unit="g/l"),
        "bound": Quantity(value=over.limit.bound, unit="g/l", exact=True),
    }
    return Line(id="limit", rank="limit", text=over.limit.words, facts=facts)
