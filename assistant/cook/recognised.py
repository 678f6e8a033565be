"""Which kind of stage it is, for what may not import all of them."""

from typing import Any


def adds(stage: Any) -> str | None:
    """The amount that a stage adds, None for a stage that adds nothing."""
    return stage.amount if stage is not None and stage.kind == "add" else None


def reduction(recipe: Any) -> float | None:
    """The share of its weight that a recipe boils down to, None where it boils nothing down."""
    return next((s.to_share for s in recipe.stages if s.kind == "reduce"), None)


def measures_juice(stage: Any) -> bool:
    """Whether a stage measures the juice."""
    return bool(stage.kind == "measure" and stage.reading == "juice")
