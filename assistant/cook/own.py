"""Ingredients that the recipe brings along: which one is meant, and what they do to the pan."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from assistant.cook.batch import Added, Batch
from assistant.cook.ingredient import Ingredient
from assistant.cook.parts import Pieces, ShareOf
from assistant.cook.recognised import adds, measures_juice
from assistant.facts.events import Reading
from assistant.facts.stuff import OWN, stuff_words

if TYPE_CHECKING:
    from assistant.cook.recipe import Recipe

STRONG_ACID = 0.5
"""So much acid by weight is no juice: it comes refined (common practice, no source). [g/g]"""
DRY = 0.95
"""So much of a sugar or a salt dissolves; honey and juice hold more water. [g/g]"""


def named(batch: Batch, event: Reading) -> Reading:
    """The reading with the ingredient it is of: the one that the stage asks for where none was."""
    if event.what != OWN or event.of:
        return event
    asked = adds(batch.stage)
    of = asked if asked in batch.recipe.ingredients else _latest(batch)
    return event.model_copy(update={"of": of})


def _latest(batch: Batch) -> str:
    own = batch.recipe.ingredients
    put_in = next((a.name for a in reversed(batch.added) if a.name in own), None)
    return put_in or next((name for name in batch.recipe.added if name in own), "")


def words_of(batch: Batch, event: Reading) -> str:
    """What a reading is of, in words."""
    return batch.recipe.words(event.of) if event.of else stuff_words(event.what)


def pieces_g(own: Ingredient, pieces: float) -> tuple[float, float, float]:
    """What so many pieces weigh, from the least to the most. [g]"""
    low, likely, high = own.piece_g or (0.0, 0.0, 0.0)
    return pieces * low, pieces * likely, pieces * high


@dataclass(frozen=True)
class Gift:
    """What ingredients bring: dissolved [g], liquid beside it [g], carried off soaked [g].

    spirit_g, spirit_ml : of the liquid, what is spirit; alcohol_ml : pure, in it
    """

    solids_g: float = 0.0
    liquid_g: float = 0.0
    soaked_g: float = 0.0
    spirit_g: float = 0.0
    spirit_ml: float = 0.0
    alcohol_ml: float = 0.0

    def plus(self, other: "Gift") -> "Gift":
        """Both together."""
        mine, theirs = vars(self), vars(other)
        return Gift(**{name: mine[name] + theirs[name] for name in mine})


def before_the_juice(recipe: "Recipe") -> frozenset[str]:
    """Own ingredients that are in the pan before the juice is measured, or else the sugar goes in.

    Where nothing of that kind happens, all are.
    """
    stages = recipe.stages
    ends = [n for n, s in enumerate(stages) if n and measures_juice(s)]
    ends += [] if ends else [n for n, s in enumerate(stages) if adds(s) == "main_sugar"]
    bound = min(ends, default=len(stages))
    return frozenset(
        n for n in (adds(s) for s in stages[:bound]) if n is not None and n in recipe.ingredients
    )


def in_the_pot(batch: Batch) -> Gift:
    """What own ingredients bring before the juice is measured; planned where not yet weighed."""
    return _all_of(batch, before_the_juice(batch.recipe))


def afterwards(batch: Batch, planned: "dict[str, float]") -> Gift:
    """What they bring later; `planned` [g or ml] stands for what has not gone in yet."""
    return _all_of(batch, later(batch.recipe), planned)


def later(recipe: "Recipe") -> frozenset[str]:
    """Own ingredients that go in after the juice was measured."""
    return frozenset(recipe.ingredients) - before_the_juice(recipe)


def _all_of(batch: Batch, names: frozenset[str], planned: "dict[str, float] | None" = None) -> Gift:
    found = Gift()
    for name in sorted(names):
        own = batch.recipe.ingredients[name]
        put_in = [a for a in batch.added if a.name == name]
        if put_in:
            found = found.plus(_gift(own, sum(grams_of(own, a) for a in put_in)))
            continue
        amount = planned.get(name, 0.0) if planned else _by_share(batch, name)
        rule = batch.recipe.amounts[name]
        poured = not isinstance(rule, Pieces) and getattr(rule, "unit", "g") == "ml"
        found = found.plus(_gift(own, amount * (own.density or 1.0) if poured else amount))
    return found


def _by_share(batch: Batch, name: str) -> float:
    """Planned as a share or a count of the base; what only an option adds is no plan. [g or ml]"""
    rule, start = batch.recipe.amounts[name], batch.start
    stages = [s for s in batch.recipe.stages if adds(s) == name]
    if start is None or all(s.when is not None for s in stages):
        return 0.0
    if isinstance(rule, ShareOf):
        return start.base * rule.share
    own = batch.recipe.ingredients[name]
    return pieces_g(own, start.base / 1000 * rule.pieces)[1] if isinstance(rule, Pieces) else 0.0


def grams_of(own: Ingredient, added: Added) -> float:
    """What went in, by weight. [g]"""
    return added.amount if added.unit == "g" else added.amount * (own.density or 1.0)


def _gift(own: Ingredient, grams: float) -> Gift:
    """By mass balance: what dissolves stays, the rest only where nothing is strained out."""
    solids = grams * own.dissolves
    if not own.stays_in:
        return Gift(solids_g=solids, soaked_g=grams * own.soaks)
    spirit_g = grams if own.role == "spirit" else 0.0
    spirit_ml = spirit_g / (own.density or 1.0)
    return Gift(
        solids_g=solids,
        liquid_g=grams - solids,
        spirit_g=spirit_g,
        spirit_ml=spirit_ml,
        alcohol_ml=spirit_ml * own.alcohol,
    )


def germs(batch: Batch, names: set[str]) -> str:
    """What own ingredients bring after a hold: "raw", "unheated", or "" where there are none.

    Plants, juices and honey bring yeast of their own; spirit, salt, powders and gums were only
    not held hot.
    """
    own = [batch.recipe.ingredients[n] for n in names if n in batch.recipe.ingredients]
    if any(one.role == "extracted" or _is_wet(one) for one in own):
        return "raw"
    return "unheated" if own else ""


def _is_wet(own: Ingredient) -> bool:
    return own.density is not None and own.role in ("acid", "dissolved") and own.acid < STRONG_ACID


def is_plain(own: Ingredient) -> bool:
    """Whether nothing of a plant is in it: strong acids, dry sugars and salts, gums, spirit."""
    match own.role:
        case "acid":
            return own.acid >= STRONG_ACID
        case "dissolved":
            return own.dissolves >= DRY
        case _:
            return own.role != "extracted"
