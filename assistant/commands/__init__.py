"""The command line: `panside COMMAND`. One module a command; errors become one sentence."""

from assistant.commands.app import main

__all__ = ["main"]
