"""What is kept: the events of every batch. Each name is looked up where it lives when it is used,
so that a chat waits neither for backups nor for merging."""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from assistant.keep.backup import Salvaged, back_up, file_of, restore, salvage, set_aside
    from assistant.keep.journal import BatchRow, Journal
    from assistant.keep.kitchen_bottles import kitchen_bottles, name_bottles
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
    "kitchen_bottles",
    "merge",
    "name_bottles",
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

_HOMES = {
    "BatchRow": ("journal", "BatchRow"),
    "Brought": ("merging", "Brought"),
    "Count": ("whole", "Count"),
    "Journal": ("journal", "Journal"),
    "LENGTH": ("leases", "LENGTH"),
    "Lease": ("leases", "Lease"),
    "NEVER": ("summaries", "NEVER"),
    "Salvaged": ("backup", "Salvaged"),
    "SharedJournal": ("shared", "SharedJournal"),
    "Summaries": ("summaries", "Summaries"),
    "Summary": ("summaries", "Summary"),
    "Watch": ("watch", "Watch"),
    "back_up": ("backup", "back_up"),
    "default_path": ("opening", "default_path"),
    "export_batch": ("lines", "export_batch"),
    "file_of": ("backup", "file_of"),
    "from_lines": ("lines", "from_lines"),
    "give_names": ("who", "give"),
    "import_batch": ("lines", "import_batch"),
    "kitchen_bottles": ("kitchen_bottles", "kitchen_bottles"),
    "merge": ("merging", "merge"),
    "name_bottles": ("kitchen_bottles", "name_bottles"),
    "next_batch_id": ("names", "next_batch_id"),
    "own_path": ("opening", "own_path"),
    "renamed": ("names", "renamed"),
    "restore": ("backup", "restore"),
    "salvage": ("backup", "salvage"),
    "sentence": ("shared", "sentence"),
    "set_aside": ("backup", "set_aside"),
    "to_lines": ("lines", "to_lines"),
    "who_works_here": ("who", "who"),
}
"""By name: the module of this folder that it lives in, and what it is called there."""


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    module, there = _HOMES[name]
    found = getattr(import_module(f"{__name__}.{module}"), there)
    globals()[name] = found
    return found
