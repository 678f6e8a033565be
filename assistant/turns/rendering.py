"""Turns into words, for the front that hands them out."""

from assistant import say
from assistant.base.errors import LimitStopped, WrongUse
from assistant.turns.turn import Told, Turn


def spoken(turn: Turn) -> str:
    """What is said aloud, each batch with its name before it where there are several."""
    return " ".join(filter(None, map(_spoken, turn.told)))


def shown(turn: Turn) -> tuple[str, ...]:
    """All lines as they are shown."""
    return tuple(
        f"{told.name}: {line}" if told.name else line
        for told in turn.told
        for line in say.shown(told.reply)
    )


def refusal(turn: Turn) -> WrongUse | LimitStopped:
    """The error for a command that was refused: a limit's, where one of the lines is."""
    limited = any(line.rank == "limit" for told in turn.told for line in told.reply.lines)
    words = " ".join(shown(turn))
    return LimitStopped(words) if limited else WrongUse(words)


def _spoken(told: Told) -> str:
    words = say.spoken(told.reply)
    return f"{told.name[:1].upper()}{told.name[1:]}: {words}" if told.name and words else words
