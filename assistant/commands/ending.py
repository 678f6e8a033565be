"""What is let go of when a command has ended, however it ends."""

from contextlib import ExitStack

ENDING = ExitStack()
"""Closed by the command line itself, after each command."""
