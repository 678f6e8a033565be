"""What is kept: the events of every batch."""

from assistant.keep.backup import Salvaged, back_up, file_of, restore, salvage, set_aside
from assistant.keep.journal import BatchRow, Journal
from assistant.keep.lines import export_batch, from_lines, import_batch, to_lines
from assistant.keep.names import next_batch_id
from assistant.keep.opening import default_path
from assistant.keep.summaries import NEVER, Summaries, Summary
from assistant.keep.whole import Count

__all__ = [
    "NEVER",
    "BatchRow",
    "Count",
    "Journal",
    "Salvaged",
    "Summaries",
    "Summary",
    "back_up",
    "default_path",
    "export_batch",
    "file_of",
    "from_lines",
    "import_batch",
    "next_batch_id",
    "restore",
    "salvage",
    "set_aside",
    "to_lines",
]
