"""What is kept: the events of every batch."""

from assistant.keep.journal import BatchRow, Journal
from assistant.keep.lines import export_batch, from_lines, import_batch, to_lines
from assistant.keep.names import next_batch_id
from assistant.keep.opening import default_path

__all__ = [
    "BatchRow",
    "Journal",
    "default_path",
    "export_batch",
    "from_lines",
    "import_batch",
    "next_batch_id",
    "to_lines",
]
