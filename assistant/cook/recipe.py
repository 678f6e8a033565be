"""What a recipe may say: amounts by rule, stages in order, windows and cautions.

A recipe holds no code: amounts name a rule of the core and its figures, and stages name what they
wait for.
"""

from string import Formatter
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from assistant.cook.ingredient import Ingredient, check_names
from assistant.cook.kinds import Add, Measure, Option, Stage
from assistant.cook.own import before_the_juice
from assistant.cook.parts import (
    AmountRule,
    Base,
    JuiceSource,
    Name,
    Part,
    PerLitre,
    Pieces,
    ShareOf,
    Targets,
)
from assistant.facts.stuff import AMOUNTS, row_of, stuff_words
from assistant.limits import ACID_FOOD_PH, MAKERS_PH, above_makers, is_low_acid

COMMON_FIGURES = ("fruit", "keep_by", "juice_target", "brix")
"""What any sentence of a recipe may name in braces, besides its amounts."""


RICH = frozenset(
    (
        "crustaceans",
        "eggs",
        "fish",
        "peanuts",
        "soya",
        "milk",
        "nuts",
        "sesame",
        "lupin",
        "molluscs",
    )
)
"""Groups of allergens that are rich in protein and fat: a pH read in them says less of the whole
(common practice, no source)."""
PIECES = "_pieces"


BottleMl = Annotated[float, Field(ge=20, le=10_000)]
"""What people fill a syrup into (common practice, no source). [ml]"""


def pieces_of(name: str) -> str:
    """What a sentence calls the number of pieces of an ingredient.

    >>> pieces_of("lemons")
    'lemons_pieces'
    """
    return name + PIECES


class Recipe(Part):
    """One recipe, whole.

    acidity : soured is low in acid by nature, and made sour by an acid that the recipe weighs in
    base : what is measured first, and what the amounts are shares of
    allergens : what a maker must tell people is in it
    ingredients : what it brings along besides the amounts of the table, by name
    lists_all : nothing is steeped in it or goes in that is no amount, so a label's list is whole
    process : the tested way to the shelf that it follows, by its name in `calc/canning.toml`
    bottles : what is meant by a word for a bottle's size, such as small [ml]
    """

    name: Name
    title: str
    summary: str
    acidity: Literal["acid", "borderline", "soured", "low-acid"]
    fruits: tuple[Name, ...] = ()
    storage: Literal["fridge"]
    targets: Targets
    base: Base = "fruit"
    allergens: tuple[str, ...] = ()
    juice: JuiceSource
    amounts: dict[Name, AmountRule]
    ingredients: dict[Name, Ingredient] = Field(
        default_factory=dict, exclude_if=lambda ingredients: not ingredients
    )
    lists_all: bool = Field(default=False, exclude_if=lambda whole: not whole)
    process: str = Field(default="", exclude_if=lambda process: not process)
    bottles: dict[Name, BottleMl] = Field(default_factory=dict, exclude_if=lambda named: not named)
    stages: Annotated[tuple[Stage, ...], Field(min_length=2)]

    @property
    def added(self) -> tuple[str, ...]:
        """The amounts that its stages add, in order, each once."""
        return tuple(dict.fromkeys(s.amount for s in self.stages if isinstance(s, Add)))

    def words(self, name: str) -> str:
        """What an amount is called in a sentence."""
        own = self.ingredients.get(name)
        return own.words if own else stuff_words(name)

    @model_validator(mode="after")
    def _hangs_together(self) -> Self:
        ids = [s.id for s in self.stages]
        if len(ids) != len(set(ids)):
            raise ValueError("two stages have the same id")
        if not isinstance(self.stages[0], Measure) or self.stages[0].reading != self.base:
            raise ValueError(f"the first stage must measure the {self.base}")
        self._check_base()
        self._check_soured()
        self._check_ingredients()
        self._check_amounts()
        self._check_words()
        self._check_options()
        self._check_freedom()
        self._check_order()
        return self

    def _check_base(self) -> None:
        """What the juice comes from must be what is measured, and be an acid food or be marked."""
        if self.base not in self.juice.bases:
            raise ValueError(f"juice of the kind {self.juice.kind!r} can't start from {self.base}")
        if self.acidity != "low-acid" and is_low_acid(self.targets.ph_high):
            raise ValueError(
                f"ph_high above {ACID_FOOD_PH} is low-acid: mark the recipe so, or aim lower"
            )

    def _check_soured(self) -> None:
        """What acid alone makes sour needs it weighed in, and aims where makers stay."""
        if self.acidity != "soured":
            return
        if not any(name in AMOUNTS and row_of(name).acid for name in self.added):
            raise ValueError("a soured recipe adds an acid: citric_acid or malic_acid")
        if above_makers(self.targets.ph_high):
            raise ValueError(f"a soured recipe aims at a ph_high of {MAKERS_PH:g} at most")
        rich = (n for n, each in self.ingredients.items() if set(each.allergens) & RICH)
        found = next(rich, None)
        if found or set(self.allergens) & RICH:
            raise ValueError(f"{found or 'what it holds'} is too rich to count as soured: low-acid")

    def _check_ingredients(self) -> None:
        """What a recipe brings along has an amount of its own, by a rule that can be for it."""
        check_names(self.ingredients)
        for name, each in self.ingredients.items():
            rule = self.amounts.get(name)
            if not isinstance(rule, ShareOf | PerLitre | Pieces):
                raise ValueError(f"{name!r} needs a share_of_base, per_litre or pieces_per_base")
            if isinstance(rule, Pieces) and each.piece_g is None:
                raise ValueError(f"{name!r} goes in by the piece and needs piece_g")
            if not isinstance(rule, Pieces) and rule.unit == "ml" and each.density is None:
                raise ValueError(f"{name!r} is poured and needs a density")
            if name not in self.added:
                raise ValueError(f"no stage adds {name!r}")
            if isinstance(rule, PerLitre) and name in before_the_juice(self):
                raise ValueError(
                    f"{name!r} is in the pan before the juice is known: use share_of_base"
                )
        pieces = (n for n, rule in self.amounts.items() if isinstance(rule, Pieces))
        strange = next((n for n in pieces if n not in self.ingredients), None)
        if strange:
            raise ValueError(f"{strange!r} does not come by the piece")

    def _check_amounts(self) -> None:
        unknown = set(self.amounts) - set(AMOUNTS) - set(self.ingredients)
        if unknown:
            known = ", ".join(AMOUNTS)
            raise ValueError(
                f"no such amount: {', '.join(sorted(unknown))}; there are {known}. Anything else "
                "needs a table under [ingredients]"
            )
        for stage in self.stages:
            if isinstance(stage, Add) and stage.amount not in self.amounts:
                raise ValueError(f"stage {stage.id!r} adds {stage.amount!r}, which is no amount")

    def _check_words(self) -> None:
        """Every brace in a sentence names an amount of this recipe or a figure of its stage."""
        for stage in self.stages:
            pieces = (pieces_of(n) for n in self.ingredients)
            known = {*self.amounts, *pieces, *COMMON_FIGURES, *stage.figures()}
            for words in (stage.say, stage.why):
                unknown = {name for _, name, _, _ in Formatter().parse(words) if name} - known
                if unknown:
                    names = ", ".join(sorted(unknown))
                    raise ValueError(f"stage {stage.id!r} names {{{names}}}, which it has not")

    def _check_options(self) -> None:
        offered: set[str] = set()
        for stage in self.stages:
            if stage.when is not None and stage.when not in offered:
                raise ValueError(f"stage {stage.id!r} waits for an option nobody asked about")
            if isinstance(stage, Option):
                offered.add(stage.option)

    def _check_freedom(self) -> None:
        """What others follow from keeps its place; what puts something in is done once."""
        if self.stages[0].may_wait or self.stages[0].repeatable:
            raise ValueError("the first stage comes first, and once: all amounts follow from it")
        for stage in self.stages:
            if stage.may_wait and not stage.can_wait:
                raise ValueError(f"stage {stage.id!r} can't wait: a {stage.kind} keeps its place")
            if stage.repeatable and stage.once:
                raise ValueError(
                    f"stage {stage.id!r} can't be repeated: a {stage.kind} is done once"
                )

    def _check_order(self) -> None:
        """A bottle needs a measured pH before it, unless the recipe is low-acid whatever it is."""
        kinds = [s.kind for s in self.stages]
        if "bottle" not in kinds:
            raise ValueError("no stage bottles the syrup")
        ph = [i for i, s in enumerate(self.stages) if isinstance(s, Measure) and s.reading == "ph"]
        measured = bool(ph) and min(ph) < kinds.index("bottle")
        if not measured and self.acidity != "low-acid":
            raise ValueError("the pH must be measured before bottling")
