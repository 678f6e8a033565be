"""What is in store of all batches: what to use, what to throw away, what to call back. Pure."""

from assistant.larder.lines import larder_lines, recall_lines
from assistant.larder.shelf import Larder, Shelved, judge, larder, shelved, up_to
from assistant.larder.whereabouts import Whereabouts, whereabouts

__all__ = [
    "Larder", "Shelved", "Whereabouts", "judge", "larder", "larder_lines", "recall_lines",
    "shelved", "up_to", "whereabouts",
]  # fmt: skip
