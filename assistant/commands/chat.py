"""`panside chat`: the session typed, at a prompt or through a pipe."""

import sys
from collections.abc import Iterator

import typer

from assistant.clock import WallClock
from assistant.commands.options import (
    AsJson,
    BatchId,
    RecipeName,
    Store,
    emit,
    open_journal,
    open_session,
    turn_record,
)
from assistant.errors import LimitStopped, WrongUse
from assistant.hear.heard import Heard
from assistant.session import Session, Turn

LONGEST_LINE = 2_000


def chat(
    recipe: RecipeName = None, batch: BatchId = None, json: AsJson = False, store: Store = None
) -> None:
    """Make a batch by typing; reads lines from a pipe too."""
    session, why = open_session(open_journal(store), WallClock(), recipe, batch)
    if not json:
        _show(session.greet(), why)
    for line in _lines():
        turn = session.hear(Heard.typed(line))
        emit(turn_record(turn)) if json else _show(turn)
        if turn.ended:
            break
    else:
        session.leave()
    if session.stopped:
        raise LimitStopped(stopped_words(session))


def stopped_words(session: Session) -> str:
    """Why the batch stands still, for the end of a session."""
    held = session.batch
    return f"batch {held.id} is held by a limit ({held.stopped_by}): do not bottle it."


def _show(turn: Turn, first: str | None = None) -> None:
    if first:
        typer.echo(first)
    for line in turn.show:
        typer.echo(line)


def _lines() -> Iterator[str]:
    """Lines from the keyboard or the pipe, until the end."""
    ask = "> " if sys.stdin.isatty() else ""
    while True:
        if ask:
            typer.echo(ask, nl=False)
        try:
            line = sys.stdin.readline()
        except UnicodeDecodeError as error:
            raise WrongUse("The input is not text in UTF-8.") from error
        if not line:
            return
        if line.strip():
            yield line.strip()[:LONGEST_LINE]
