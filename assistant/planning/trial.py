"""A batch on paper: the recipe folded with a weight, so that plans and real batches agree."""

from datetime import UTC, datetime

from assistant.base.errors import LimitStopped, WrongUse
from assistant.base.units import Unit
from assistant.calc.bounds import inside
from assistant.calc.fruits import all_fruits
from assistant.cook import Batch, Recipe, fold
from assistant.cook.kinds import Measure
from assistant.facts.events import AnyEvent, Begin, Choose, Reading
from assistant.facts.stuff import RANGES

ON_PAPER = datetime(2000, 1, 1, tzinfo=UTC)
"""When a batch on paper is made: any time will do, since nothing is timed."""


def base_unit(recipe: Recipe) -> Unit:
    """The unit of what the recipe starts from: g of fruit, ml of juice or water."""
    return "g" if recipe.base == "fruit" else "ml"


def base_bounds(recipe: Recipe) -> tuple[float, float]:
    """The least and the most that one batch may start from: the recipe's, and a kitchen's."""
    low, high = RANGES[recipe.base]
    first = recipe.stages[0]
    return (
        (max(low, first.low), min(high, first.high)) if isinstance(first, Measure) else (low, high)
    )


def trial_batch(recipe: Recipe, base: float, fruit: str | None = None) -> Batch:
    """The batch that so much of what the recipe starts from would make.

    base : fruit [g], juice or water [ml]; fruit : its name, None for one nobody has named
    Returns the batch at its second stage. OutOfRange for more or less than one batch may be,
    WrongUse for a fruit nobody knows, LimitStopped for a low-acid one that the recipe is not for.
    """
    check_fruit(recipe, fruit)
    inside(f"{recipe.base} for one batch", base, *base_bounds(recipe), base_unit(recipe))
    begun = Begin(at=ON_PAPER, batch="plan", recipe=recipe.model_dump(mode="json"))
    batch, _ = fold([begun, *first_events(recipe, base, fruit, ON_PAPER)])
    return batch


def first_events(
    recipe: Recipe, base: float | None, fruit: str | None, at: datetime
) -> tuple[AnyEvent, ...]:
    """What a cook says first: the fruit where it has a name, and the weight where it is known."""
    unit = base_unit(recipe)
    said: list[AnyEvent] = []
    if fruit is not None:
        said.append(Choose(at=at, option="fruit", value=fruit))
    if base is not None:
        said.append(Reading(at=at, what=recipe.base, value=base, unit=unit))
    return tuple(said)


def sole_fruit(recipe: Recipe) -> str | None:
    """The recipe's fruit where it has only one."""
    return recipe.fruits[0] if len(recipe.fruits) == 1 else None


def check_fruit(recipe: Recipe, fruit: str | None) -> None:
    """WrongUse for a fruit nobody knows, LimitStopped for a low-acid one outside the recipe."""
    if fruit is None or fruit in recipe.fruits:
        return
    figures = all_fruits().get(fruit)
    if figures is None:
        known = ", ".join(recipe.fruits or sorted(all_fruits()))
        raise WrongUse(f"No figures for a fruit called {fruit!r}. The recipe is for: {known}.")
    if figures.acidity_class == "low-acid":
        raise LimitStopped(
            f"{fruit} is a low-acid fruit: {recipe.name} does not sour it enough. "
            "Take an acid fruit, or a recipe made for this one."
        )
