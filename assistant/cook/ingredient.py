"""An ingredient that a recipe brings along itself: what it is for, what is in it, who must know.

It travels with the batch in the Begin event, so that a replay needs nothing else.
"""

import re
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from assistant.cook.parts import Part
from assistant.facts.allergens import Allergen
from assistant.facts.stuff import AMOUNTS, STUFF

Role = Literal["extracted", "dissolved", "acid", "thickener", "spirit"]
"""extracted: steeped or boiled, and strained out again; dissolved: stays in; acid, thickener and
spirit stay in as well. What a batch starts from is the recipe's base, and a preservative is one of
the amounts that have a ceiling."""
Proportion = Annotated[float, Field(ge=0, le=1)]
Grams = Annotated[float, Field(gt=0, le=10_000)]
_WITH_A_CEILING = re.compile(
    r"sorb(?:ate|ic)|benzo(?:ate|ic)|sul(?:ph|f)it|sul(?:ph|f)ur|nitrit|nitrat|natamycin|dicarbonat"
    r"|salicyl|boric|borax",
    re.IGNORECASE,
)
"""Words for what must be counted against a ceiling, which only the amounts of the table are."""


class Ingredient(Part):
    """What goes in besides the amounts of the table of stuff.

    words : what it is called in a sentence; label : on the label, `words` where not given
    said : what else the cook may call it
    sugar, acid, solids : shares that dissolve, of its own weight: sugars, acids, all else [g/g]
    alcohol : by volume [ml/ml]; density : of a liquid [g/ml]
    soaks : liquid that it carries off when it is strained out, by its own weight [g/g]
    piece_g : what one of it weighs, from the least to the most [g]
    allergens : groups of the table; "none" where it surely has none, "unknown" where nobody knows
    per_litre_most : past this in a litre of what the recipe starts from it is refused [g or ml]
    buy_step : a shopping list rounds up to it [g or ml]
    source : where its figures come from
    """

    words: Annotated[str, Field(min_length=1, max_length=60)]
    role: Role
    source: Annotated[str, Field(min_length=1)]
    said: tuple[Annotated[str, Field(pattern=r"^[a-z][a-z' -]*$")], ...] = ()
    label: str = ""
    sugar: Proportion = 0.0
    acid: Proportion = 0.0
    solids: Proportion = 0.0
    alcohol: Proportion = 0.0
    density: Annotated[float, Field(gt=0.5, lt=2)] | None = None
    soaks: Annotated[float, Field(ge=0, le=10)] = 0.0
    piece_g: tuple[Grams, Grams, Grams] | None = None
    allergens: tuple[Allergen | Literal["none", "unknown"], ...] = ("unknown",)
    per_litre_most: Annotated[float, Field(gt=0)] | None = None
    buy_step: Annotated[float, Field(gt=0)] = 5.0

    @property
    def dissolves(self) -> float:
        """What of it comes to be dissolved. [g/g]"""
        return self.sugar + self.acid + self.solids

    @property
    def on_label(self) -> str:
        """What the label calls it."""
        return self.label or self.words

    @property
    def stays_in(self) -> bool:
        """Whether it is still there after straining."""
        return self.role != "extracted"

    @model_validator(mode="after")
    def _hangs_together(self) -> Self:
        if self.dissolves > 1:
            raise ValueError("sugar, acid and solids are more than all of it")
        if self.piece_g is not None and not sorted(self.piece_g) == list(self.piece_g):
            raise ValueError("piece_g goes from the least to the most")
        if len(self.allergens) != 1 and {"none", "unknown"} & set(self.allergens):
            raise ValueError('allergens are groups, or "none", or "unknown", alone')
        if self.role == "spirit" and not (self.alcohol and self.density):
            raise ValueError("a spirit needs alcohol and density")
        self._check_words()
        return self

    def _check_words(self) -> None:
        for words in (self.words, self.label, *self.said):
            found = _WITH_A_CEILING.search(words)
            if found:
                raise ValueError(
                    f"{words!r} is a preservative: use the amounts sorbate, benzoate or sulphite, "
                    "which are held against their ceilings"
                )

    def names(self, key: str) -> tuple[str, ...]:
        """All that a cook may call it, the longest first."""
        found = dict.fromkeys((self.words.lower(), key.replace("_", " "), *self.said))
        return tuple(sorted(found, key=len, reverse=True))


def check_names(ingredients: "dict[str, Ingredient]") -> None:
    """ValueError for an ingredient called like stuff of the table, or two called alike."""
    taken = sorted(set(ingredients) & (set(AMOUNTS) | set(STUFF)))
    if taken:
        raise ValueError(f"{taken[0]!r} is an amount of its own: take it, or another name")
    seen: dict[str, str] = {}
    known = {row.words for row in STUFF.values()}
    for key, each in ingredients.items():
        for name in each.names(key):
            if seen.setdefault(name, key) != key or name in known:
                raise ValueError(f"{name!r} would mean two things")
