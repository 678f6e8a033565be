"""Limits and cautions: a table of bounds, each with its words and its source."""

from assistant.limits.table import Limit, all_limits, limit_named, tripped

__all__ = ["Limit", "all_limits", "limit_named", "tripped"]
