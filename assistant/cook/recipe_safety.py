"""What a recipe may not say or ask for: promises of keeping, and amounts beyond a limit.

The schema takes such a recipe, since old batches carry theirs; a file is refused.
"""

import re
from collections.abc import Iterator

from assistant.cook.parts import PerLitre, ShareOf
from assistant.cook.recipe import Recipe
from assistant.facts.stuff import PRESERVATIVES, STUFF, stuff_of
from assistant.limits import all_limits

_CLAIMS = re.compile(
    r"\b(?:safe|safely|safety|sterile|sterili[sz]ed|shelf[- ]stable|guarantee\w*|harmless"
    r"|(?:botulism|germ|mould|foolproof|bullet)[- ]?(?:proof|free|safe)|foolproof"
    r"|(?:never|cannot|can't|won't|will not) (?:spoil|ferment|go off|mould|burst)\w*"
    r"|keeps? (?:for )?(?:ever|months?|years?|\w+ (?:months?|years?))\b"
    r"|(?:no|without) (?:need (?:to|for)|a )?\s*(?:measur\w+|fridge|refrigerat\w+|ph\b)"
    r"|(?:at|in the) (?:room temperature|cupboard|pantry)|on the shelf"
    r"|kills? (?:all|every|any|the)\b)",
    re.IGNORECASE,
)
"""Words by which a text promises what only measuring, heat and cold can give."""


MOST_ACID = 60.0
"""Of an acid in a litre: lemon juice itself has about 48 (Penniston et al., J Endourol 22 (2008)
567, from memory). [g/l]"""


def faults(recipe: Recipe) -> tuple[str, ...]:
    """What is wrong with a recipe besides its schema, each with its mend."""
    return (*_claims(recipe), *_amounts(recipe), *_ph_last(recipe))


def _claims(recipe: Recipe) -> Iterator[str]:
    for where, words in _texts(recipe):
        found = _CLAIMS.search(words)
        if found:
            yield f"{where}: {found[0]!r} is a claim about safety or keeping. Take it out."


def _texts(recipe: Recipe) -> Iterator[tuple[str, str]]:
    yield "title", recipe.title
    yield "summary", recipe.summary
    for stage in recipe.stages:
        for key in ("say", "why", "caution"):
            yield f"stages.{stage.id}.{key}", getattr(stage, key) or ""


def _amounts(recipe: Recipe) -> Iterator[str]:
    for name, rule in recipe.amounts.items():
        own = recipe.ingredients.get(name)
        most = own.per_litre_most if own else _most(stuff_of(name), rule)
        each = _a_litre(rule)
        if each is not None and most is not None and each > most:
            yield (
                f"amounts.{name}: {each:g} a litre of {recipe.words(name)} is beyond {most:g}, the "
                "most there may be. Ask for less."
            )


def _a_litre(rule: object) -> float | None:
    """What a rule gives for a litre; a share of the base counts as of a litre of it. [g or ml]"""
    if isinstance(rule, PerLitre):
        return rule.amount
    return 1000 * rule.share if isinstance(rule, ShareOf) else None


def _most(stuff: str, rule: object) -> float | None:
    """The strictest ceiling, or what no syrup takes; acids may make a solution of their own."""
    if stuff in PRESERVATIVES:
        return min(limit.bound for limit in all_limits() if limit.quantity == stuff)
    if STUFF[stuff].acid and isinstance(rule, PerLitre):
        return STUFF[stuff].most if stuff == "ascorbic_acid" else MOST_ACID
    return STUFF[stuff].most if stuff in ("ascorbic_acid", "glycerin") else None


def _ph_last(recipe: Recipe) -> Iterator[str]:
    """The finished pH decides (21 CFR 114.80), so nothing goes in after it was measured."""
    kinds = [stage.kind for stage in recipe.stages]
    measured = [n for n, s in enumerate(recipe.stages) if s.kind == "measure" and s.reading == "ph"]
    last = max((n for n, kind in enumerate(kinds) if kind in ("add", "reduce")), default=-1)
    if measured and recipe.acidity != "low-acid" and max(measured) < last:
        yield (
            f"stages.{recipe.stages[max(measured)].id}: the pH that counts is the finished one. "
            f"Put it behind {recipe.stages[last].id!r}."
        )
