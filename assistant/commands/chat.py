"""`panside chat`: the session typed, at a prompt or through a pipe."""

import io
import sys
from collections.abc import Iterator

import typer

from assistant.base.clock import WallClock
from assistant.base.errors import LimitStopped
from assistant.commands.options import (
    AsJson,
    BatchIds,
    RecipeNames,
    Store,
    emit,
    open_desk,
    open_journal,
    turn_record,
)
from assistant.cook import Batch
from assistant.cook.keep_answers import SIGN_WORDS
from assistant.turns.desk import Desk
from assistant.turns.rendering import shown
from assistant.turns.turn import Turn
from assistant.turns.utterance import Utterance

LONGEST_LINE = 2_000
_AT_ONCE = 65_536


def chat(
    recipe: RecipeNames = None, batch: BatchIds = None, json: AsJson = False, store: Store = None
) -> None:
    """Make a batch by typing, or several at once; reads lines from a pipe too."""
    desk, why = open_desk(open_journal(store), WallClock(), recipe, batch)
    if not json:
        _show(desk.greet(), why)
    for line in _lines():
        turn = desk.take(Utterance.typed(line))
        emit(turn_record(turn)) if json else _show(turn)
        if turn.ended:
            break
    else:
        desk.leave()
    if desk.stopped:
        raise LimitStopped(stopped_words(desk))


def stopped_words(desk: Desk) -> str:
    """Which batches stand still and why, for the end of a session."""
    held = (f"batch {b.id} {_why_stopped(b)}" for b in desk.stopped)
    return f"{'; '.join(held)}: do not bottle it."


def _why_stopped(batch: Batch) -> str:
    if batch.stopped_by:
        return f"is held by a limit ({batch.stopped_by})"
    return f"has shown {SIGN_WORDS[batch.stored.signs[-1].what]}"


def _show(turn: Turn, first: str | None = None) -> None:
    if first:
        typer.echo(first)
    for line in shown(turn):
        typer.echo(line)


def _line() -> str:
    """The next line, of one without end only the beginning: the rest is read and let go."""
    line = more = sys.stdin.readline(LONGEST_LINE)
    while more and not more.endswith("\n"):
        more = sys.stdin.readline(_AT_ONCE)
    return line


def _lines() -> Iterator[str]:
    """Lines from the keyboard or the pipe, until the end; bytes that are no text become marks."""
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(encoding="utf-8", errors="replace")
    ask = "> " if sys.stdin.isatty() else ""
    while True:
        if ask:
            typer.echo(ask, nl=False)
        line = _line()
        if not line:
            return
        if line.strip():
            yield line.strip()
