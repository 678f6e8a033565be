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
    """Allergens that are certainly in it, and then what a note of the cook names."""
    return tuple(dict.fromkeys((*certain_allergens(batch), *noted_allergens(batch))))


def certain_allergens(batch: Batch) -> tuple[str, ...]:
    """Those of the recipe, of its own ingredients that went in, and of the table of stuff."""
    own = (group for one in _own(batch) for group in one.allergens if group in GROUPS)
    return tuple(dict.fromkeys((*batch.recipe.allergens, *own, *_by_stuff(batch))))


def noted_allergens(batch: Batch) -> tuple[str, ...]:
    """What only a note of the cook names, whatever it says of it: "no nuts" is told, too."""
    notes, certain = " ".join(batch.notes).lower(), certain_allergens(batch)
    found = (group for group, words in NOTED.items() if re.search(rf"\b(?:{words})\b", notes))
    return tuple(group for group in found if group not in certain)


def allergen_words(batch: Batch) -> str:
    """The allergen line of a label: certain, noted and unknown apart; it promises nothing."""
    certain = ", ".join(_with_kinds(batch, group) for group in certain_allergens(batch))
    noted = ", ".join(_with_kinds(batch, group) for group in noted_allergens(batch))
    unknown = ", ".join(
        one.on_label.split(": ")[-1] for one in _own(batch) if "unknown" in one.allergens
    )
    told = (
        f"Contains {certain}." if certain else "",
        f"Noted: {noted}." if noted else "",
        f"Of {unknown} not known." if unknown else "",
    )
    others = (certain or noted) and not unknown
    return " ".join(filter(None, (*told, "Ask the maker about others." if others else ASK)))


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
