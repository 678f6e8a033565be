"""Batches and plans as facts and as lines to read."""

from assistant.report.batch import CAUTION, batch_lines, batch_record

__all__ = ["CAUTION", "batch_lines", "batch_record"]
