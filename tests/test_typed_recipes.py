"""Every recipe that comes along is made once at the desk, typed, to its bottles and its label."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from assistant.base.clock import SetClock
from assistant.cook import Batch
from assistant.cook.keeping import keeping
from assistant.cook.kinds import AnyStage, Cool, Heat, Hold, Measure, Option, Reduce, Rest
from assistant.cook.stock import start_mass
from assistant.keep import Journal
from assistant.label.content import label_text
from assistant.recipebook.files import load_recipe, recipe_names
from assistant.turns.desk import Desk
from assistant.turns.utterance import Utterance

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
STEP_S = 45.0


def _answer(batch: Batch, stage: AnyStage) -> str:
    """What a cook types at a stage that goes as the recipe has it."""
    targets = batch.recipe.targets
    match stage:
        case Measure(reading="ph"):
            return f"ph {max(1.5, (targets.ph_low + min(targets.ph_high, 4.0)) / 2):.1f}"
        case Measure(reading="brix"):
            return f"{targets.brix:g} brix"
        case Measure(reading="fruit"):
            return f"1.5 kg of {batch.recipe.fruits[0].replace('-', ' ')}"
        case Measure(reading="juice") if batch.start is not None:
            return "1.2 litres"
        case Measure():
            return "1 litre"
        case Heat() | Hold():
            return f"{stage.target_c + 1:g} degrees"
        case Cool():
            return f"{stage.below_c - 1:g} degrees"
        case Option():
            return "no"
        case Reduce():
            return f"{round(stage.to_share * start_mass(batch))} g"
        case _:
            return "six bottles of quarter of a litre" if stage.kind == "bottle" else "done"


def made(name: str, journal: Journal) -> Batch:
    """The batch, typed to its end; a fruit that a measure of juice does not name is said first."""
    clock = SetClock(START)
    desk = Desk(journal, clock)
    recipe = load_recipe(name)
    desk.begin(recipe)
    if recipe.fruits and recipe.base != "fruit":
        desk.take(Utterance.typed(f"the fruit is {recipe.fruits[0].replace('-', ' ')}"))
    for _ in range(6 * len(recipe.stages)):
        batch = desk.in_hand()
        stage = batch.stage
        if stage is None:
            return batch
        clock.forward(stage.minutes * 60 if isinstance(stage, Rest) else STEP_S)
        desk.take(Utterance.typed("yes" if batch.held else _answer(batch, stage)))
        if stage.kind == "measure" and stage.reading == "ph":
            desk.take(Utterance.typed("it was a meter set in buffer"))
    return desk.in_hand()


# Days in the fridge and what decides them: this project's own rule, the table of
# `calc/keep_reasons.toml`, read off by hand for a batch that went as its recipe has it.
KEEPS = {
    "apple-pear-syrup": (18, "sweet", "best before"),
    "caramel-syrup": (14, "soured", "use by"),
    "citric-solution": (30, "cold", "best before"),
    "coffee-syrup": (2, "low-acid", "use by"),
    "cold-shrub": (14, "unheated-vinegar", "use by"),
    "elderflower-syrup": (14, "soured", "use by"),
    "grape-syrup": (18, "sweet", "best before"),
    "honey-syrup": (14, "soured", "use by"),
    "lactic-solution": (30, "cold", "best before"),
    "lime-cordial": (5, "thin", "use by"),
    "nut-syrup": (2, "low-acid", "use by"),
    "phosphoric-solution": (30, "cold", "best before"),
    "pineapple-syrup": (18, "sweet", "best before"),
    "pressed-ginger-syrup": (14, "soured", "use by"),
    "quince-syrup": (18, "sweet", "best before"),
    "rosehip-syrup": (14, "soured", "use by"),
    "sharpened-orange-juice": (5, "thin", "use by"),
    "spiced-sour-cherry-syrup": (18, "sweet", "best before"),
    "spiced-syrup": (14, "soured", "use by"),
    "spirit-fortified-syrup": (90, "filled", "best before"),
    "tea-syrup": (14, "soured", "use by"),
}


@pytest.mark.parametrize("name", recipe_names())
def test_a_recipe_is_made_at_the_desk_and_labelled(name: str, tmp_path: Path) -> None:
    with Journal(tmp_path / "journal.sqlite") as journal:
        batch = made(name, journal)
    assert batch.ended == "finished", batch.stage
    assert batch.skipped == frozenset()
    kept = keeping(batch)
    assert kept.days is not None
    if name in KEEPS:
        assert (kept.days, kept.decided, kept.dated) == KEEPS[name]
    if not batch.addition("darker_syrup"):
        assert label_text(batch, batch.bottled.at.date()).ingredients  # type: ignore[union-attr]
