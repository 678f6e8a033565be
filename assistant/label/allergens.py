"""What a batch knows of allergens. It never says that there are none."""

import re

from assistant.cook.batch import Batch

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
    """Allergens the recipe declares or a note of the cook names, in that order.

    A note that names one counts whatever it says of it: "no nuts" is told as noted, too.
    """
    notes = " ".join(batch.notes).lower()
    noted = (group for group, words in NOTED.items() if re.search(rf"\b(?:{words})\b", notes))
    return tuple(dict.fromkeys((*batch.recipe.allergens, *noted)))


def allergen_words(batch: Batch) -> str:
    """The allergen line of a label; without knowledge it promises nothing."""
    known = known_allergens(batch)
    return f"{', '.join(known)} (as noted). Ask the maker about others." if known else ASK
