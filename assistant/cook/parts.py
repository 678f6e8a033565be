"""What a recipe consists of besides its stages: rules of amounts, the juice, the aims."""

from typing import Annotated, Any, ClassVar, Literal, Self, get_args

from pydantic import BaseModel, ConfigDict, Field, model_validator

Share = Annotated[float, Field(gt=0, le=20)]
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


class Pieces(Part):
    """So many pieces for each kilo or litre of what a recipe starts from, by their weight."""

    rule: Literal["pieces_per_base"]
    pieces: Annotated[float, Field(gt=0, le=500)]


AnyRule = ShareOf | PerLitre | SugarToBrix | SorbateDose | Pieces
AmountRule = Annotated[AnyRule, Field(discriminator="rule")]


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

    bases: ClassVar[tuple[Base, ...]] = ("fruit",)

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

    bases: ClassVar[tuple[Base, ...]] = ("juice",)

    kind: Literal["fresh"]


class Plain(Part):
    """Water, vinegar or an infusion, without sugar of its own.

    kept : share of the base's volume that is left after boiling, soaking and straining [-]
    """

    bases: ClassVar[tuple[Base, ...]] = ("water", "fruit", "juice")

    kind: Literal["plain"]
    kept: Annotated[float, Field(gt=0, le=1)] = 1.0


AnyJuice = Mash | Fresh | Plain
JuiceSource = Annotated[AnyJuice, Field(discriminator="kind")]


def tags(union: Any, key: str) -> tuple[str, ...]:
    """The values by which a file chooses among the parts of a union.

    >>> tags(AnyJuice, "kind")
    ('mash', 'fresh', 'plain')
    """
    return tuple(get_args(part.model_fields[key].annotation)[0] for part in get_args(union))
