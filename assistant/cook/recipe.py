"""What a recipe may say: amounts by rule, stages in order, windows and cautions.

A recipe holds no code: amounts name a rule of the core and its figures, and stages name what they
wait for.
"""

from string import Formatter
from typing import Annotated, Literal, Self, get_args

from pydantic import BaseModel, ConfigDict, Field, model_validator

from assistant.facts.events import What

Share = Annotated[float, Field(gt=0, le=20)]
AmountName = Literal[
    "crushing_sugar", "main_sugar", "hot_water", "vinegar", "citric_acid", "malic_acid",
    "ascorbic_acid", "gum_arabic", "glycerin", "darker_syrup", "sorbate",
]  # fmt: skip
Base = Literal["fruit", "juice", "water"]
Name = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_-]*$")]


class Part(BaseModel):
    """Base of everything in a recipe: unknown keys are errors."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class ShareOf(Part):
    """So much for each g of fruit, or for each ml of the juice or water a recipe starts from."""

    rule: Literal["share_of_base"]
    share: Share
    unit: Literal["g", "ml"] = "g"


class PerLitre(Part):
    """So much for each litre of juice or finished syrup."""

    rule: Literal["per_litre"]
    of: Literal["juice", "syrup"]
    amount: Annotated[float, Field(gt=0)]
    unit: Literal["g", "ml"] = "g"


class SugarToBrix(Part):
    """Sugar that brings the strained juice to the recipe's Brix, by mass balance."""

    rule: Literal["sugar_to_target"]


class SorbateDose(Part):
    """Potassium sorbate for the finished syrup, under the strictest ceiling."""

    rule: Literal["sorbate_dose"]


AmountRule = Annotated[ShareOf | PerLitre | SugarToBrix | SorbateDose, Field(discriminator="rule")]


class StageBase(Part):
    """What all stages have.

    say : the sentence that asks for it; names in braces are amounts or figures of the stage
    why : the reason, told when asked
    caution : said once, when the stage is reached
    when : name of an option; the stage is left out unless that option was chosen
    may_wait : it may change places with a stage next to it that may wait too
    repeatable : it may be done once more later on
    """

    id: Name
    say: str
    why: str
    caution: str | None = None
    when: Name | None = None
    may_wait: bool = False
    repeatable: bool = False


class Measure(StageBase):
    """Waits for a reading between low and high (base unit)."""

    kind: Literal["measure"]
    reading: What
    low: float
    high: float

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if not self.low < self.high:
            raise ValueError("low must be below high")
        return self


class Add(StageBase):
    """Waits until an amount has gone in."""

    kind: Literal["add"]
    amount: Name


class Do(StageBase):
    """Waits until something has been done."""

    kind: Literal["do"]


class Heat(StageBase):
    """Waits for a temperature at or above the target. [degC]"""

    kind: Literal["heat"]
    target_c: Annotated[float, Field(ge=60, le=100)]


class Hold(StageBase):
    """Waits until the readings show enough time near the target.

    target_c : temperature to stay above; seconds : how long [s]; ceiling_c : no hotter than this
    """

    kind: Literal["hold"]
    target_c: Annotated[float, Field(ge=60, le=100)]
    seconds: Annotated[float, Field(gt=0, le=7200)]
    ceiling_c: Annotated[float, Field(ge=60, le=105)]


class Rest(StageBase):
    """Waits until the cook says so, and minds the time. [min]"""

    kind: Literal["rest"]
    minutes: Annotated[float, Field(gt=0, le=2880)]


class Reduce(StageBase):
    """Waits until what is in the pan weighs no more than a share of the base. [g/g]"""

    kind: Literal["reduce"]
    to_share: Annotated[float, Field(gt=0.05, lt=1)]


class Cool(StageBase):
    """Waits for a temperature at or below the limit. [degC]"""

    kind: Literal["cool"]
    below_c: Annotated[float, Field(ge=0, le=80)]


class Option(StageBase):
    """Asks whether an optional ingredient goes in. Yes or no."""

    kind: Literal["option"]
    option: Name


class Bottling(StageBase):
    """Waits for the number of bottles."""

    kind: Literal["bottle"]


Stage = Annotated[
    Measure | Add | Do | Heat | Hold | Rest | Reduce | Cool | Option | Bottling,
    Field(discriminator="kind"),
]


LOW_ACID_PH = 4.6
"""21 CFR 114.3: an acid food has a pH of 4.6 or below."""
COMMON_FIGURES = ("fruit", "keep_by", "juice_target", "brix")
"""What any sentence of a recipe may name in braces, besides its amounts."""
STAGE_FIGURES: dict[str, tuple[str, ...]] = {
    "heat": ("target",),
    "hold": ("target", "seconds"),
    "rest": ("rest",),
    "cool": ("below",),
    "reduce": ("target_weight",),
}
"""What the sentences of a kind of stage may name besides."""


class Targets(Part):
    """What the finished syrup should be. brix in mass %; ph as measured."""

    brix: Annotated[float, Field(ge=0, le=80)]
    ph_high: Annotated[float, Field(ge=2.0, le=7.0)]
    ph_low: Annotated[float, Field(ge=1.0, le=6.0)] = 2.5


class Mash(Part):
    """Juice strained from crushed fruit, sugar and water, and made up with water.

    pulp_low, pulp_high : mass left in the cloth for each g of fruit [g/g]
    litres_per_kilo : the strained juice is made up with water to this much for each kilo of fruit
    """

    kind: Literal["mash"]
    pulp_low: Annotated[float, Field(ge=0, le=1.5)]
    pulp_high: Annotated[float, Field(gt=0, le=1.5)]
    litres_per_kilo: Annotated[float, Field(gt=0, le=5)]

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if not self.pulp_low <= self.pulp_high:
            raise ValueError("pulp_low must not be above pulp_high")
        return self


class Fresh(Part):
    """Juice pressed by hand, as it is: the base is the juice, its Brix the fruit's."""

    kind: Literal["fresh"]


class Plain(Part):
    """Water, vinegar or an infusion, without sugar of its own.

    kept : share of the base's volume that is left after boiling, soaking and straining [-]
    """

    kind: Literal["plain"]
    kept: Annotated[float, Field(gt=0, le=1)] = 1.0


class Recipe(Part):
    """One recipe, whole.

    base : what is measured first, and what the amounts are shares of
    allergens : what a maker must tell people is in it
    """

    name: Name
    title: str
    summary: str
    acidity: Literal["acid", "borderline", "low-acid"]
    fruits: tuple[Name, ...] = ()
    storage: Literal["fridge"]
    targets: Targets
    base: Base = "fruit"
    allergens: tuple[str, ...] = ()
    juice: Annotated[Mash | Fresh | Plain, Field(discriminator="kind")]
    amounts: dict[Name, AmountRule]
    stages: Annotated[tuple[Stage, ...], Field(min_length=2)]

    @property
    def added(self) -> tuple[str, ...]:
        """The amounts that its stages add, in order, each once."""
        return tuple(dict.fromkeys(s.amount for s in self.stages if isinstance(s, Add)))

    @model_validator(mode="after")
    def _hangs_together(self) -> Self:
        ids = [s.id for s in self.stages]
        if len(ids) != len(set(ids)):
            raise ValueError("two stages have the same id")
        if not isinstance(self.stages[0], Measure) or self.stages[0].reading != self.base:
            raise ValueError(f"the first stage must measure the {self.base}")
        self._check_base()
        self._check_amounts()
        self._check_words()
        self._check_options()
        self._check_heating()
        self._check_freedom()
        self._check_order()
        return self

    def _check_base(self) -> None:
        """What the juice comes from must be what is measured, and be an acid food or be marked."""
        fits = {"mash": ("fruit",), "fresh": ("juice",), "plain": ("water", "fruit", "juice")}
        if self.base not in fits[self.juice.kind]:
            raise ValueError(f"juice of the kind {self.juice.kind!r} can't start from {self.base}")
        if self.acidity != "low-acid" and self.targets.ph_high > LOW_ACID_PH:
            raise ValueError(
                f"ph_high above {LOW_ACID_PH} is low-acid: mark the recipe so, or aim lower"
            )

    def _check_amounts(self) -> None:
        unknown = set(self.amounts) - set(get_args(AmountName))
        if unknown:
            known = ", ".join(get_args(AmountName))
            raise ValueError(f"no such amount: {', '.join(sorted(unknown))}; there are {known}")
        for stage in self.stages:
            if isinstance(stage, Add) and stage.amount not in self.amounts:
                raise ValueError(f"stage {stage.id!r} adds {stage.amount!r}, which is no amount")

    def _check_words(self) -> None:
        """Every brace in a sentence names an amount of this recipe or a figure of its stage."""
        for stage in self.stages:
            known = {*self.amounts, *COMMON_FIGURES, *STAGE_FIGURES.get(stage.kind, ())}
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

    def _check_heating(self) -> None:
        for stage in self.stages:
            if isinstance(stage, Hold) and stage.ceiling_c <= stage.target_c:
                raise ValueError(f"stage {stage.id!r} has its ceiling at or below its target")

    def _check_freedom(self) -> None:
        """What others follow from keeps its place; what puts something in is done once."""
        if self.stages[0].may_wait or self.stages[0].repeatable:
            raise ValueError("the first stage comes first, and once: all amounts follow from it")
        for stage in self.stages:
            if stage.may_wait and not isinstance(stage, Measure | Add | Do):
                raise ValueError(f"stage {stage.id!r} can't wait: a {stage.kind} keeps its place")
            if stage.repeatable and isinstance(stage, Add | Option | Bottling):
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
