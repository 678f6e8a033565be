"""Panside: an offline voice-and-chat helper for small-batch fruit syrup makers."""

__version__ = "0.1.0"
