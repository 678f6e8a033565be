"""How strong it is, where that matters: alcohol, and what is too sour to drink as it is."""

from assistant.cook.batch import Batch
from assistant.cook.finished_ph import fresh_ph
from assistant.cook.own import grams_of
from assistant.cook.stock import alcohol_by_volume, syrup
from assistant.cook.strengths import nothing_of_a_plant
from assistant.facts.stuff import STUFF, stuff_of

SOUR_G_L = 30.0
"""Of acid in a litre from which on nobody drinks it as it is: five times a lemonade (common
practice, no source). [g/l]"""
SOUR_PH = 2.0
"""A solution as sour as that is not drunk either (common practice, no source). [-]"""
LEAST_ALCOHOL = 0.0005
"""By volume; below it rounds to none. [ml/ml]"""


def alcohol_words(batch: Batch) -> str:
    """The alcohol by volume, as reckoned from what went in; "" for none.

    Regulation (EU) No 1169/2011, Art. 28 and Annex XII (from memory): over 1.2 % it must be told,
    to one decimal at most. Less of it is told too, for whoever takes none.
    """
    share = alcohol_by_volume(batch)
    return f"alcohol about {100 * share:.1f} % vol" if share >= LEAST_ALCOHOL else ""


def sour_words(batch: Batch) -> str:
    """What must be said of an acid solution, and of what was made as sour as one; "" else."""
    acid = acid_g_l(batch)
    read = fresh_ph(batch)
    very = read is not None and read.base <= SOUR_PH
    if nothing_of_a_plant(batch) and acid and not _sugared(batch) and (acid >= SOUR_G_L or very):
        return f"Acid, about {acid:.0f} g a litre: not to drink undiluted. Keep from children."
    if acid >= SOUR_G_L:
        return "Very sour: dilute before drinking."
    return ""


def acid_g_l(batch: Batch) -> float:
    """Acid that was put in, of all kinds, without what the fruit brings. [g/l]"""
    stock = syrup(batch)
    if stock is None or not stock.volume_ml.likely:
        return 0.0
    grams = 0.0
    for each in batch.added:
        own = batch.recipe.ingredients.get(each.name)
        if own is not None:
            grams += grams_of(own, each) * own.acid
        elif STUFF[stuff_of(each.name)].acid:
            grams += each.amount
    return 1000 * grams / stock.volume_ml.likely


def _sugared(batch: Batch) -> bool:
    return any(stuff_of(each.name) == "sugar" for each in batch.added)
