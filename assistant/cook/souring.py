"""How much acid brings a batch down to where makers stay, when its pH is too high."""

from assistant.base.errors import PansideError
from assistant.calc.acid_fit import dose_spread, fruit_acidity
from assistant.cook.basket import figures
from assistant.cook.batch import Batch
from assistant.cook.reply import Line, Quantity
from assistant.cook.stock import juice, syrup
from assistant.facts.stuff import stuff_of

AIM_PH = 3.8
"""A little below the makers' 4.0, for a meter's error. This project's own."""
FIRST_SHARE = 0.5
"""Of a reckoned dose half goes in first, since a measured pH beats a reckoned one."""
LEAST_G = 0.1
"""A portion smaller than this is none (common practice, no source). [g]"""


def acid_advice(batch: Batch, ph: float) -> tuple[Line, ...]:
    """A first portion of citric acid, and the whole it may take; nothing where it can't be told.

    What went in since the pH was read is taken off both.

    The fruit's typical acidity, thinned to the share of juice in the syrup, carries the reckoning.
    """
    stock = syrup(batch)
    pulp = juice(batch)
    weighed, fruit = batch.last("fruit"), figures(batch)
    if stock is None or pulp is None or weighed is None or fruit is None:
        return ()
    share = min(1.0, weighed.base / stock.mass_g.likely)
    try:
        acidity, main = fruit_acidity(fruit, share)
        dose = dose_spread(ph, acidity, AIM_PH, main_acid=main)
    except PansideError:
        return ()
    litres, gone = stock.volume_ml.likely / 1000, _since(batch)
    portion = FIRST_SHARE * dose.low * litres
    if portion < LEAST_G:
        return ()
    if portion - gone < LEAST_G:
        facts = {"gone": Quantity(value=gone, unit="g")}
        return (Line(id="acid_portion_in", rank="do", facts=facts),)
    first = Quantity(value=portion - gone, unit="g")
    whole = Quantity(value=max(portion, dose.likely * litres) - gone, unit="g")
    return (Line(id="acid_first", rank="do", facts={"first": first, "whole": whole}),)


def _since(batch: Batch) -> float:
    """Citric acid that went in since the pH was read last. [g]"""
    ph = batch.last("ph")
    acid = (a for a in batch.added if stuff_of(a.name) == "citric_acid")
    return sum(a.amount for a in acid if ph is not None and a.at > ph.at)
