"""What a cook says went in, in the unit of the plan; powder by the spoon has a spread."""

from typing import Literal

from assistant.calc.measures import spoon_to_g
from assistant.calc.spread import Spread, carry
from assistant.cook.amounts import quantity
from assistant.cook.ingredient import Ingredient
from assistant.cook.own import pieces_g
from assistant.cook.reply import Line
from assistant.facts.events import Reading
from assistant.facts.stuff import STUFF

TEASPOON_ML = 5.0
"""NIST, Cooking Measurement Equivalencies."""


def amount_in(event: Reading, unit: Literal["g", "ml"], own: Ingredient | None = None) -> Spread:
    """What was said, in the unit of the plan; of an ingredient of the recipe's own by its figures.

    [g or ml]
    """
    if own is not None:
        return _own_amount(event, unit, own)
    if event.dimension == ("mass" if unit == "g" else "volume"):
        return Spread.exactly(event.base)
    stuff = STUFF[event.what]
    if unit == "ml":
        return Spread.exactly(event.base / (stuff.density or 1.0))
    if stuff.density is not None:
        return Spread.exactly(event.base * stuff.density)
    return spoon_to_g(stuff.spoon or stuff.words, "tsp", event.base / TEASPOON_ML)


def can_be_weighed(event: Reading, own: Ingredient) -> bool:
    """Whether what was said of an ingredient tells its weight."""
    if event.dimension == "count":
        return own.piece_g is not None
    return event.dimension == "mass" or own.density is not None


def _own_amount(event: Reading, unit: Literal["g", "ml"], own: Ingredient) -> Spread:
    density = own.density or 1.0
    if event.dimension == "count":
        grams = Spread(*pieces_g(own, event.base))
    else:
        each = 1.0 if event.dimension == "mass" else density
        grams = Spread.exactly(event.base * each)
    return grams if unit == "g" else carry(lambda g: g / density, grams)


def spoon_caution(event: Reading) -> tuple[Line, ...]:
    """A spoon of acid or preservative is a guess, and the cook hears how wide."""
    if event.dimension != "volume" or STUFF[event.what].density is not None:
        return ()
    grams = quantity(amount_in(event, "g"), "g")
    return (Line(id="by_spoon", rank="caution", facts={"grams": grams}),)
