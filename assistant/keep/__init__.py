"""What is kept: the events of every batch."""

from assistant.keep.backup import Salvaged, back_up, file_of, restore, salvage, set_aside
from assistant.keep.journal import BatchRow, Journal
from assistant.keep.leases import LENGTH, Lease
from assistant.keep.lines import export_batch, from_lines, import_batch, to_lines
from assistant.keep.merging import Brought, merge
from assistant.keep.names import next_batch_id, renamed
from assistant.keep.opening import default_path, own_path
from assistant.keep.shared import SharedJournal, sentence
from assistant.keep.summaries import NEVER, Summaries, Summary
from assistant.keep.watch import Watch
from assistant.keep.who import give as give_names
from assistant.keep.who import who as who_works_here
from assistant.keep.whole import Count

__all__ = [
    "LENGTH",
    "NEVER",
    "BatchRow",
    "Brought",
    "Count",
    "Journal",
    "Lease",
    "Salvaged",
    "SharedJournal",
    "Summaries",
    "Summary",
    "Watch",
    "back_up",
    "default_path",
    "export_batch",
    "file_of",
    "from_lines",
    "give_names",
    "import_batch",
    "merge",
    "next_batch_id",
    "own_path",
    "renamed",
    "restore",
    "salvage",
    "sentence",
    "set_aside",
    "to_lines",
    "who_works_here",
]
