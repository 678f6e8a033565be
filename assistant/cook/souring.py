"""How much acid brings a batch down to where makers stay, when its pH is too high."""

from assistant.base.errors import PansideError
from assistant.calc.acid_fit import dose_spread, fruit_acidity
from assistant.cook.batch import Batch
from assistant.cook.reply import Line, Quantity
from assistant.cook.stock import juice, syrup

AIM_PH = 3.8
"""A little below the makers' 4.0, for a meter's error. This project's own."""
FIRST_SHARE = 0.5
"""Of a reckoned dose half goes in first, since a measured pH beats a reckoned one."""


def acid_advice(batch: Batch, ph: float) -> tuple[Line, ...]:
    """A first portion of citric acid, and the whole it may take; nothing where it can't be told.

    The fruit's typical acidity, thinned to the share of juice in the syrup, carries the reckoning.
    """
    stock = syrup(batch)
    pulp = juice(batch)
    fruit = batch.last("fruit")
    if stock is None or pulp is None or fruit is None or batch.fruit is None:
        return ()
    share = min(1.0, fruit.base / stock.mass_g.likely)
    try:
        acidity, main = fruit_acidity(batch.fruit, share)
        dose = dose_spread(ph, acidity, AIM_PH, main_acid=main)
    except PansideError:
        return ()
    litres = stock.volume_ml.likely / 1000
    first = Quantity(value=FIRST_SHARE * dose.low * litres, unit="g")
    whole = Quantity(value=dose.likely * litres, unit="g")
    if first.value < 0.1:
        return ()
    return (Line(id="acid_first", rank="do", facts={"first": first, "whole": whole}),)
