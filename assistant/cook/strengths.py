"""What else keeps a batch, from what was put in: vinegar, alcohol, preservative, nothing but acid.

All on the side of the strict: the least that may be in the most syrup there may be.
"""

from dataclasses import replace

from assistant.cook.batch import Batch
from assistant.cook.lasting import Hurdles
from assistant.cook.own import is_plain
from assistant.cook.parts import Mash
from assistant.cook.remembered import by_the_pan
from assistant.cook.stock import alcohol_ml, juice, syrup
from assistant.facts.stuff import PRESERVATIVES, in_mash, row_of, stuff_of

VINEGAR_ACETIC = 0.05
"""Acetic acid in the weakest vinegar that recipes ask for (common practice, no source). [g/ml]"""
_OF_PLANTS = ("juice", "vinegar", "darker_syrup")


def strengthened(batch: Batch, has: Hurdles) -> Hurdles:
    """The hurdles with what else keeps it, as far as it went in."""
    stock = syrup(batch)
    if stock is None or not stock.volume_ml.high:
        return has
    litres = stock.volume_ml.high / 1000
    return replace(
        has,
        plain=nothing_of_a_plant(batch),
        acetic=_acetic_g(batch) / litres,
        alcohol=min(1.0, _spirit_ml(batch) / stock.volume_ml.high),
        preservative=sum(a.amount for a in batch.added if stuff_of(a.name) in PRESERVATIVES)
        / litres,
    )


def nothing_of_a_plant(batch: Batch) -> bool:
    """Whether it is water, sugar, acids, salts and gums, and nothing else that went in."""
    if batch.recipe.base != "water" or batch.recipe.fruits or batch.fruit is not None:
        return False
    own = batch.recipe.ingredients
    names = {*batch.recipe.added, *(a.name for a in batch.added)}
    return all(
        is_plain(own[name]) if name in own else stuff_of(name) not in _OF_PLANTS for name in names
    )


@by_the_pan
def _acetic_g(batch: Batch) -> float:
    """Acetic acid of the vinegar, less what stays in the cloth with the pulp. [g]"""
    poured = sum(a.amount for a in batch.added if stuff_of(a.name) == "vinegar")
    return poured * VINEGAR_ACETIC * _run_off(batch)


def _run_off(batch: Batch) -> float:
    """The share of what was in the mash that ran off as juice. [g/g]"""
    start, pulp = batch.start, juice(batch)
    if not isinstance(batch.recipe.juice, Mash) or start is None or pulp is None:
        return 1.0
    mash = start.base + sum(
        a.amount * (row_of(a.name).density or 1.0) for a in batch.added if a.name in in_mash()
    )
    return min(1.0, pulp.mass_g.low / mash) if mash else 0.0


def _spirit_ml(batch: Batch) -> float:
    """Pure alcohol that did go in; what is only planned keeps nothing. [ml]"""
    own = batch.recipe.ingredients
    spirits = {name for name, one in own.items() if one.alcohol}
    missing = spirits - {a.name for a in batch.added}
    return 0.0 if missing else alcohol_ml(batch)
