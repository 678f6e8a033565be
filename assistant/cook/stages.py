"""What a stage asks for: the readings it awaits and the sentence that asks."""

from datetime import datetime
from string import Formatter

from assistant.base.units import Unit
from assistant.calc.fruits import all_fruits
from assistant.cook.amounts import amount
from assistant.cook.batch import Batch
from assistant.cook.holding import would_complete_at
from assistant.cook.keep_answers import ending_lines
from assistant.cook.keeping import keep_by_words
from assistant.cook.recipe import (
    Add,
    Bottling,
    Cool,
    Heat,
    Hold,
    Measure,
    Option,
    Reduce,
    Rest,
    Stage,
)
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.stock import made_up_volume, start_mass
from assistant.facts.asked import Asked, Awaited
from assistant.facts.events import What

INGREDIENT: dict[str, What] = {
    "crushing_sugar": "sugar",
    "main_sugar": "sugar",
    "hot_water": "water",
    "citric_acid": "citric_acid",
    "ascorbic_acid": "ascorbic_acid",
    "glycerin": "glycerin",
    "sorbate": "sorbate",
}
"""What a cook calls the stuff of an amount."""

STUFF = {
    "crushing_sugar": "the first sugar",
    "main_sugar": "the main sugar",
    "hot_water": "water",
    "vinegar": "vinegar",
    "citric_acid": "citric acid",
    "malic_acid": "malic acid",
    "ascorbic_acid": "ascorbic acid",
    "gum_arabic": "gum arabic",
    "glycerin": "glycerin",
    "darker_syrup": "the darker syrup",
    "sorbate": "potassium sorbate",
}
"""The amounts a recipe may name, in words."""

_MASS: tuple[Unit, ...] = ("g", "kg", "lb", "oz", "mg")
_VOLUME: tuple[Unit, ...] = ("ml", "l", "cl", "cup", "pint", "fl_oz", "tbsp", "tsp")
UNITS: dict[str, tuple[Unit, ...]] = {
    "fruit": ("kg", "g", "lb", "oz"),
    "juice": ("l", "ml", "cl", "pint", "kg", "g", "lb", "oz"),
    "temperature": ("degC", "degF"),
    "ph": ("pH",),
    "brix": ("Brix",),
    "sugar": _MASS,
    "water": (*_VOLUME, *_MASS),
    "glycerin": (*_VOLUME, *_MASS),
    "sorbate": ("g/l", *_MASS),
    "citric_acid": _MASS,
    "ascorbic_acid": _MASS,
    "bottles": ("count",),
    "yield": ("kg", "g", "l", "ml", "cl", "lb", "oz"),
}
RANGES: dict[str, tuple[float, float]] = {
    "fruit": (50.0, 50_000.0),
    "juice": (50.0, 80_000.0),
    "temperature": (-5.0, 115.0),
    "ph": (1.5, 8.0),
    "brix": (0.0, 85.0),
    "sugar": (1.0, 100_000.0),
    "water": (1.0, 100_000.0),
    "citric_acid": (0.1, 2_000.0),
    "ascorbic_acid": (0.1, 500.0),
    "glycerin": (0.5, 10_000.0),
    "sorbate": (0.001, 200.0),
    "bottles": (1.0, 500.0),
    "yield": (50.0, 80_000.0),
}
"""What a small kitchen can mean, in base units: a pan from slush to boiling 80 Brix, fruit from a
handful to a cartload. Outside, the number is asked about (common practice, no source)."""


def asked(batch: Batch, at: datetime) -> Asked:
    """What the cook may say now, most expected first. `at` is now, for holds that run."""
    stage = batch.stage
    if stage is None:
        return Asked()
    first = _awaited_by(batch, stage, at)
    always = (_temperature(batch, stage, at), _ph(batch), _brix(batch))
    names = {a.what for a in first}
    return Asked(
        awaited=(*first, *(a for a in always if a.what not in names)),
        yes_no=isinstance(stage, Option),
        options=tuple(all_fruits()) if isinstance(stage, Measure) else (),
    )


def _awaited_by(batch: Batch, stage: Stage, at: datetime) -> tuple[Awaited, ...]:
    match stage:
        case Measure(reading="ph"):
            return (_ph(batch),)
        case Measure():
            plain = _plain(batch, stage.reading)
            return (plain.model_copy(update={"low": stage.low, "high": stage.high}),)
        case Heat() | Hold() | Cool():
            return (_temperature(batch, stage, at),)
        case Add():
            return _ingredient(batch, stage.amount)
        case Option(option="sorbate"):
            return _ingredient(batch, "sorbate")
        case Reduce():
            return (_plain(batch, "yield"),)
        case Bottling():
            return (_plain(batch, "bottles"), _plain(batch, "yield"))
    return ()


def _ingredient(batch: Batch, name: str) -> tuple[Awaited, ...]:
    what = INGREDIENT.get(name)
    return () if what is None else (_plain(batch, what),)


def _plain(batch: Batch, what: What) -> Awaited:
    low, high = RANGES[what]
    last = batch.last(what)
    return Awaited(
        what=what,
        units=UNITS[what],
        low=low,
        high=high,
        last=last.base if last else None,
        last_at=last.at if last else None,
    )


def _temperature(batch: Batch, stage: Stage, at: datetime) -> Awaited:
    decides: tuple[float, ...] = ()
    confirm = False
    if isinstance(stage, Heat | Hold):
        decides = (stage.target_c,)
        confirm = isinstance(stage, Hold) and would_complete_at(batch, stage, at)
    plain = _plain(batch, "temperature")
    return plain.model_copy(update={"decides": decides, "confirm": confirm})


def _ph(batch: Batch) -> Awaited:
    plain = _plain(batch, "ph")
    return plain.model_copy(update={"decides": (4.0, 4.6), "confirm": True, "last": None})


def _brix(batch: Batch) -> Awaited:
    return _plain(batch, "brix")


def announce(batch: Batch, at: datetime, arriving: bool = False) -> tuple[Line, ...]:
    """The sentence that asks for the stage; on arriving there its caution too, and only then."""
    stage = batch.stage
    if stage is None:
        return ending_lines(batch, at)
    lines = [
        Line(
            id="stage",
            rank="do",
            text=stage.say,
            facts=facts(batch, stage.say, stage, at),
            repeat=_to_repeat(batch, stage),
        )
    ]
    if stage.caution and arriving:
        lines.append(Line(id="stage_caution", rank="caution", text=stage.caution))
    return tuple(lines)


def _to_repeat(batch: Batch, stage: Stage) -> str | None:
    if isinstance(stage, Add) and amount(batch, stage.amount) is not None:
        return stage.amount
    return None


def facts(batch: Batch, words: str, stage: Stage | None, at: datetime) -> dict[str, Fact]:
    """The facts that the braces of a recipe's sentence name."""
    names = {name for _, name, _, _ in Formatter().parse(words) if name}
    return {name: _fact(batch, name, stage, at) for name in names}


def _fact(batch: Batch, name: str, stage: Stage | None, at: datetime) -> Fact:
    if name in batch.recipe.amounts:
        return _plain_amount(batch, name)
    if name == "fruit":
        return batch.fruit or "fruit"
    if name == "keep_by":
        return keep_by_words(batch, at)
    if name == "juice_target":
        return Quantity(value=made_up_volume(batch), unit="ml")
    if name == "brix":
        return Quantity(value=batch.recipe.targets.brix, unit="Brix")
    return figure(name, stage, batch)


def _plain_amount(batch: Batch, name: str) -> Fact:
    planned = amount(batch, name)
    return "some" if planned is None else planned.likely()


def figure(name: str, stage: Stage | None, batch: Batch | None = None) -> Quantity:
    """A figure of the stage that its own sentences may name; KeyError for any other name.

    Figures that follow from the first measurement need the batch.
    """
    match name, stage:
        case "target", Heat() | Hold():
            return Quantity(value=stage.target_c, unit="degC", exact=True)
        case "seconds", Hold():
            return Quantity(value=stage.seconds, unit="s")
        case "rest", Rest():
            return Quantity(value=stage.minutes, unit="min")
        case "target_weight", Reduce():
            return Quantity(value=start_mass(batch) * stage.to_share if batch else 0.0, unit="g")
        case "below", Cool():
            return Quantity(value=stage.below_c, unit="degC", exact=True)
    raise KeyError(name)
