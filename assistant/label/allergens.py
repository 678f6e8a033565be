"""What a batch knows of allergens. It never says that there are none."""

import re

from assistant.cook.batch import Batch
from assistant.cook.ingredient import Ingredient
from assistant.facts.allergens import GROUPS

ASK = "Ask the maker."
NOTED = {
    "gluten": r"gluten|wheat|barley|rye|oats?",
    "crustaceans": r"crustaceans?|shrimps?|crabs?",
    "eggs": r"eggs?",
    "fish": r"fish|isinglass",
    "peanuts": r"peanuts?",
    "soya": r"soya|soy",
    "milk": r"milk|cream|butter",
    "nuts": r"nuts?|almonds?|hazelnuts?|walnuts?|cashews?|pecans?|pistachios?|macadamias?",
    "celery": r"celery|celeriac",
    "mustard": r"mustard",
    "sesame": r"sesame",
    "sulphites": r"sul(?:ph|f)it(?:es?|ed)|sul(?:ph|f)ur(?:ed)?",
    "lupin": r"lupins?",
    "molluscs": r"molluscs?|oysters?|mussels?",
}
"""Words in a cook's notes, by the group they belong to.

The fourteen groups of Regulation (EU) No 1169/2011, Annex II; from memory."""


def known_allergens(batch: Batch) -> tuple[str, ...]:
    """Allergens of the recipe, of its own ingredients, and what a note of the cook names.

    A note that names one counts whatever it says of it: "no nuts" is told as noted, too.
    """
    own = (group for one in _own(batch) for group in one.allergens if group in GROUPS)
    notes = " ".join(batch.notes).lower()
    noted = (group for group, words in NOTED.items() if re.search(rf"\b(?:{words})\b", notes))
    return tuple(dict.fromkeys((*batch.recipe.allergens, *own, *noted, *_by_stuff(batch))))


def allergen_words(batch: Batch) -> str:
    """The allergen line of a label; without knowledge it promises nothing."""
    known = tuple(_with_kinds(batch, group) for group in known_allergens(batch))
    open_ = [one.on_label for one in _own(batch) if "unknown" in one.allergens]
    asks = f"Of {', '.join(open_)} not known. {ASK}" if open_ else ""
    if not known:
        return asks or ASK
    return f"{', '.join(known)} (as noted). {asks or 'Ask the maker about others.'}"


def _own(batch: Batch) -> tuple[Ingredient, ...]:
    """The recipe's own ingredients that went in, in the order of the recipe."""
    return tuple(one for name, one in batch.recipe.ingredients.items() if batch.addition(name))


def _by_stuff(batch: Batch) -> tuple[str, ...]:
    return ("sulphites",) if batch.addition("sulphite") else ()


def _with_kinds(batch: Batch, group: str) -> str:
    """A group with what belongs to it, where the group's word does not say it."""
    kinds = [one.on_label for one in _own(batch) if group in one.allergens]
    words = GROUPS[group].words if group in GROUPS else group
    return f"{words} ({', '.join(kinds)})" if kinds else words
