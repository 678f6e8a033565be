"""Before a batch and after it: plans worked back from what is wanted, and batches made again."""

from assistant.planning.again import Hint, again, hints
from assistant.planning.differences import (
    Difference,
    bottled_ml,
    differences,
    yield_ml_per_kilo,
)
from assistant.planning.plan import Plan, plan
from assistant.planning.replay import Stay, stays
from assistant.planning.trial import base_unit, check_fruit, first_events, trial_batch
from assistant.planning.wish import Wish

__all__ = [
    "Difference",
    "Hint",
    "Plan",
    "Stay",
    "Wish",
    "again",
    "base_unit",
    "bottled_ml",
    "check_fruit",
    "differences",
    "first_events",
    "hints",
    "plan",
    "stays",
    "trial_batch",
    "yield_ml_per_kilo",
]
