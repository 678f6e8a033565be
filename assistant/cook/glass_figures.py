"""Figures of a glass or a jug that is mixed from a batch's syrup, for answer cards."""

from collections.abc import Callable
from datetime import datetime

from assistant.base.errors import OutOfRange
from assistant.calc.serve import Glass, dilute, energy, glasses_per_bottle
from assistant.cook.batch import Batch
from assistant.cook.drinks import GLASS_ML, THINNEST, USUAL_BRIX
from assistant.cook.reply import Fact, Quantity
from assistant.cook.stock import HALF_LITRE, syrup

Figure = Callable[[Batch, datetime], Fact | None]


def _usual_glass(batch: Batch) -> Glass | None:
    stock = syrup(batch)
    if stock is None or not min(85.0, stock.brix.likely) >= THINNEST:
        return None
    try:
        return dilute(min(85.0, stock.brix.likely), USUAL_BRIX, GLASS_ML)
    except OutOfRange:
        return None


def _glass(unit: str, take: Callable[[Glass], float]) -> Figure:
    def figure(batch: Batch, _at: datetime) -> Fact | None:
        glass = _usual_glass(batch)
        if glass is None:
            return None
        return Quantity(value=take(glass), unit="g" if unit == "g" else "ml")

    return figure


def _glass_parts(batch: Batch, _at: datetime) -> Fact | None:
    glass = _usual_glass(batch)
    return f"{glass.water_parts:.2g}" if glass else None


def _glass_kcal(batch: Batch, _at: datetime) -> Fact | None:
    glass = _usual_glass(batch)
    return round(energy(glass.sugar_g).kcal) if glass else None


def _jug_syrup(batch: Batch, _at: datetime) -> Fact | None:
    """Syrup to a litre of water, at the usual sweetness."""
    glass = _usual_glass(batch)
    return Quantity(value=1000 / glass.water_parts, unit="ml") if glass else None


def _bottle_glasses(batch: Batch, _at: datetime) -> Fact | None:
    glass = _usual_glass(batch)
    return int(glasses_per_bottle(HALF_LITRE, glass)) if glass else None


def _glass_parts_dry(batch: Batch, _at: datetime) -> Fact | None:
    """Parts of water that make the drink a third less sweet."""
    glass = _usual_glass(batch)
    return f"{1.5 * glass.water_parts + 0.5:.2g}" if glass else None


GLASS_FIGURES: dict[str, Figure] = {
    "glass": lambda _batch, _at: Quantity(value=GLASS_ML, unit="ml"),
    "glass_syrup": _glass("ml", lambda glass: glass.syrup_ml),
    "glass_sugar": _glass("g", lambda glass: glass.sugar_g),
    "glass_parts": _glass_parts,
    "glass_kcal": _glass_kcal,
    "jug_syrup": _jug_syrup,
    "bottle_glasses": _bottle_glasses,
    "glass_parts_dry": _glass_parts_dry,
}
