"""`panside chat`: the session typed, at a prompt or through a pipe."""

import sys
from collections.abc import Callable, Iterator

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
from assistant.commands.typing_in import typed
from assistant.cook import Batch
from assistant.cook.keep_answers import SIGN_WORDS
from assistant.turns.desk import Desk
from assistant.turns.rendering import shown
from assistant.turns.turn import Turn
from assistant.turns.utterance import Utterance

BELL = "\a"


def chat(
    recipe: RecipeNames = None, batch: BatchIds = None, json: AsJson = False, store: Store = None
) -> None:
    """Make a batch by typing, or several at once; reads lines from a pipe too."""
    desk, why = open_desk(open_journal(store), WallClock(), recipe, batch, leads=True)
    if not json:
        _show(desk.greet(), why)

    def ring() -> bool:
        due = desk.remind()
        if due is not None:
            emit(turn_record(due)) if json else _show(due, BELL if sys.stdin.isatty() else None)
        return due is not None

    for line in _lines(ring):
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


def _lines(ring: Callable[[], bool]) -> Iterator[str]:
    """What is typed, until the end; whatever is due is rung while nobody types."""
    ask = "> " if sys.stdin.isatty() else ""
    typer.echo(ask, nl=False)
    for line in typed():
        if line is None:
            if ring():
                typer.echo(ask, nl=False)
            continue
        if line.strip():
            yield line.strip()
        typer.echo(ask, nl=False)
