"""The recipe machine: events in, state and lines to say out. Pure."""

from assistant.cook.batch import Batch
from assistant.cook.machine import begin, fold, step
from assistant.cook.recipe import Recipe
from assistant.cook.reply import Line, Quantity, Reply
from assistant.cook.stages import asked

__all__ = ["Batch", "Line", "Quantity", "Recipe", "Reply", "asked", "begin", "fold", "step"]
