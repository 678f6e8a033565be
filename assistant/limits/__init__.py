"""Limits and cautions: a table of bounds, each with its words and its source."""

from assistant.limits.acidity import ACID_FOOD_PH, ACID_STOP, MAKERS_PH, above_makers, is_low_acid
from assistant.limits.table import Limit, all_limits, limit_named, tripped

__all__ = [
    "ACID_FOOD_PH",
    "ACID_STOP",
    "MAKERS_PH",
    "Limit",
    "above_makers",
    "all_limits",
    "is_low_acid",
    "limit_named",
    "tripped",
]
