"""`panside batches` and `panside batch`: what was made, and how."""

from typing import Annotated

import typer

from assistant.commands.options import AsJson, Store, emit, open_journal
from assistant.errors import WrongUse
from assistant.report import batch_lines, batch_record


def batches(json: AsJson = False, store: Store = None) -> None:
    """List the batches in the journal, the latest first."""
    journal = open_journal(store)
    rows = sorted(journal.batches(), key=lambda row: row.begun_at, reverse=True)
    for row in rows:
        record = batch_record(journal.events(row.id))
        brief = {k: record[k] for k in ("batch", "recipe", "fruit", "begun", "stage", "ended")}
        if json:
            emit(brief)
        else:
            standing = record["ended"] or f"at {record['stage']}"
            typer.echo(f"{row.id:16} {row.recipe:16} {record['fruit'] or '-':14} {standing}")
    if not rows and not json:
        typer.echo("There are no batches yet. Begin one with: panside talk, or panside chat.")


def batch(
    id: Annotated[str, typer.Argument(help="The batch, as `panside batches` names it.")],
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Show one batch: readings, additions, hold, result."""
    journal = open_journal(store)
    if id not in {row.id for row in journal.batches()}:
        raise WrongUse(f"There is no batch {id!r}. `panside batches` lists them.")
    events = journal.events(id)
    if json:
        emit(batch_record(events))
        return
    for line in batch_lines(events):
        typer.echo(line)
