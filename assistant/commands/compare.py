"""`panside compare`: batches side by side."""

from typing import Annotated

import typer

from assistant.base.errors import WrongUse
from assistant.commands.options import AsJson, Store, batch_events, emit, open_journal
from assistant.report.compared import comparison_lines, comparison_record


def compare(
    ids: Annotated[list[str], typer.Argument(help="Batches, as `panside batches` names them.")],
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Show batches side by side: fruit, sugar, acid, pH, Brix, hold, yield, bottles, days."""
    wanted = list(dict.fromkeys(ids))
    if len(wanted) < 2:
        raise WrongUse("A comparison needs two batches or more. `panside batches` lists them.")
    journal = open_journal(store)
    records = [comparison_record(batch_events(journal, id)) for id in wanted]
    if json:
        for record in records:
            emit(record)
        return
    for line in comparison_lines(records):
        typer.echo(line)
