"""A recipe in the vocabulary of schema.org, for sites and programs that read recipes."""

from collections.abc import Iterator
from string import Formatter
from typing import Any

from assistant.cook import Batch, Recipe
from assistant.cook.kinds import Stage
from assistant.cook.reply import Fact, Quantity
from assistant.cook.stages import facts
from assistant.cook.stock import syrup
from assistant.planning.shopping import shopping
from assistant.planning.trial import ON_PAPER, base_unit, sole_fruit, trial_batch
from assistant.report.told import told, told_spread
from assistant.say.amounts import by_eye

CONTEXT = "https://schema.org"
"""What the vocabulary calls itself."""
_A_KILO = 1000.0


def recipe_ld(recipe: Recipe) -> dict[str, Any]:
    """The recipe for one kilo (or litre) of what it starts from, as schema.org Recipe JSON-LD."""
    batch = trial_batch(recipe, _A_KILO, sole_fruit(recipe))
    made = syrup(batch)
    volume = "" if made is None else f"about {told_spread(made.volume_ml, 'ml')} of syrup"
    return {
        "@context": CONTEXT,
        "@type": "Recipe",
        "name": recipe.title,
        "description": _description(recipe),
        "keywords": ", ".join(("syrup", *recipe.fruits, recipe.acidity.replace("-", " "))),
        "recipeYield": volume,
        "recipeIngredient": list(_ingredients(batch)),
        "recipeInstructions": [
            {
                "@type": "HowToStep",
                "position": number,
                "name": stage.id.replace("_", " ").replace("-", " ").capitalize(),
                "text": _text(batch, stage),
            }
            for number, stage in enumerate(recipe.stages, 1)
        ],
    }


def _description(recipe: Recipe) -> str:
    allergens = f" Contains {' and '.join(recipe.allergens)}." if recipe.allergens else ""
    return f"{recipe.summary}{allergens} Keep it in the {recipe.storage}."


def _ingredients(batch: Batch) -> Iterator[str]:
    recipe = batch.recipe
    amount = told(_A_KILO, base_unit(recipe))
    yield f"{amount} of {_base(recipe)}"
    for item in shopping(batch):
        option = ", if wanted" if item.optional else ""
        yield f"{told_spread(item.needed, item.unit)} of {item.words}{option}"


def _base(recipe: Recipe) -> str:
    if recipe.base == "water":
        return "water"
    named = " or ".join(recipe.fruits) or "fruit"
    return named if recipe.base == "fruit" else f"{named} juice"


def _text(batch: Batch, stage: Stage) -> str:
    """The stage's sentence with its figures, whom it is for, and its caution."""
    said = {n: _written(n, f) for n, f in facts(batch, stage.say, stage, ON_PAPER).items()}
    first = f"If you chose {stage.when.replace('_', ' ')}: " if stage.when else ""
    return " ".join(filter(None, (first + _filled(stage.say, said), stage.caution)))


def _filled(words: str, said: dict[str, str]) -> str:
    return Formatter().vformat(words, (), said)


def _written(name: str, fact: Fact) -> str:
    if name == "keep_by":
        return "the keep-by date"
    return by_eye(fact) if isinstance(fact, Quantity) else str(fact)
