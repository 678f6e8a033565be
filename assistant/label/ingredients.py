"""What is in the bottle, heaviest first, as the batch recorded it.

Regulation (EU) No 1169/2011, Art. 18 and Annex VII (from memory): descending weight as used, and
additives under the name of their category, followed by their own.
"""

from dataclasses import dataclass

from assistant.calc.density import mass_of_volume, water_density
from assistant.calc.fruits import fruit as fruit_figures
from assistant.cook.basket import called, is_mixed, joined, kinds, pulp, shares
from assistant.cook.batch import Added, Batch
from assistant.cook.own import before_the_juice, grams_of
from assistant.cook.parts import Mash
from assistant.cook.stock import juice
from assistant.facts.stuff import STUFF, in_mash, stuff_of

STEEPED = "anything steeped in it (ask the maker)"
"""Ends the list of an infusion whose recipe names no ingredients of its own."""


@dataclass(frozen=True)
class Ingredient:
    """One ingredient and what of it was used. [g]"""

    name: str
    grams: float


def ingredients(batch: Batch) -> tuple[Ingredient, ...]:
    """Everything that went in, heaviest first; equal weights by name.

    Fruit counts as weighed, sugar as the sum of both, water with what was poured through the
    pulp. What weighs nothing is left out.
    """
    grams: dict[str, float] = {}
    put_in = (_added(batch, each) for each in batch.added)
    for name, mass in (*_started_from(batch), *put_in, ("water", _poured(batch))):
        grams[name] = grams.get(name, 0.0) + mass
    found = (Ingredient(name, mass) for name, mass in grams.items() if mass > 0)
    return tuple(sorted(found, key=lambda one: (-one.grams, one.name)))


def ingredient_words(batch: Batch) -> tuple[str, ...]:
    """The names for the label, in order; left open at the end for anything but mashed fruit."""
    names = tuple(one.name for one in ingredients(batch))
    told = isinstance(batch.recipe.juice, Mash) or batch.recipe.lists_all
    return names if told else (*names, STEEPED)


def fruit_word(batch: Batch) -> str | None:
    """The fruit as a label calls it: what the cook named, or the only one the recipe is for.

    Of several the heaviest comes first.
    """
    keys = kinds(batch) or (batch.recipe.fruits if len(batch.recipe.fruits) == 1 else ())
    return joined([called(key) for key in keys]) if keys else None


def _started_from(batch: Batch) -> tuple[tuple[str, float], ...]:
    """What the recipe starts from: fruit, its juice, or water."""
    start = batch.start
    if start is None:
        return ()
    if is_mixed(batch):
        tail = " juice" if batch.recipe.base == "juice" else ""
        return tuple((f"{called(one.fruit)}{tail}", one.grams) for one in shares(batch))
    fruit = fruit_word(batch) or "fruit"
    name = {"fruit": fruit, "juice": f"{fruit.removesuffix(' juice')} juice", "water": "water"}
    mass = start.base
    if start.reading.dimension == "volume":
        figures = fruit_figures(batch.fruit) if batch.fruit else None
        brix = figures.brix().likely if figures and batch.recipe.base == "juice" else 0.0
        mass = mass_of_volume(start.base, brix)
    return ((name[batch.recipe.base], mass),)


def _added(batch: Batch, added: Added) -> tuple[str, float]:
    own = batch.recipe.ingredients.get(added.name)
    if own is not None:
        return own.on_label, grams_of(own, added)
    stuff = STUFF[stuff_of(added.name)]
    grams = added.amount if added.unit == "g" else added.amount * (stuff.density or water_density())
    return stuff.label or stuff.words, grams


def _poured(batch: Batch) -> float:
    """Water poured through the pulp: the juice, less what of the mash ran off. Mass balance. [g]"""
    source, start, stock = batch.recipe.juice, batch.start, juice(batch)
    if not isinstance(source, Mash) or start is None or stock is None:
        return 0.0
    measured = batch.last("juice")
    mashed = [a for a in batch.added if measured is None or a.at <= measured.at]
    ran_off = start.base * (1 - sum(pulp(batch, source)) / 2)
    wet = in_mash() | {n for n in before_the_juice(batch.recipe) if _stays(batch, n)}
    into_mash = sum(_added(batch, a)[1] for a in mashed if a.name in wet)
    return max(0.0, stock.mass_g.likely - into_mash - ran_off)


def _stays(batch: Batch, name: str) -> bool:
    return batch.recipe.ingredients[name].stays_in
