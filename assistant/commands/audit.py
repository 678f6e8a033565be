"""`panside audit`: whether anything in the store was changed since it was written."""

from pathlib import Path
from typing import Annotated

import typer

from assistant.base.errors import StoreUnusable
from assistant.commands.options import AsJson, Store, emit, until_the_end
from assistant.keep import Journal, default_path
from assistant.keep.audit import audit as walk
from assistant.keep.audit import note as note_links
from assistant.keep.audit import read_notes, unsealed_summaries


def audit(
    note: Annotated[
        Path | None, typer.Option("--note", help="New file for the batches' last links.")
    ] = None,
    against: Annotated[
        Path | None, typer.Option("--against", help="What --note wrote at another time.")
    ] = None,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Walk every batch's chain of entries, and tell each that is not as it was written.

    Keep what --note writes where nobody who keeps the store can reach it.
    """
    noted = read_notes(against) if against else []
    journal = until_the_end(Journal(store or default_path()))
    found = list(walk(journal, noted))
    wrong = [one for one in found if one.wrong]
    spoiled = unsealed_summaries(journal)
    if json:
        emit({"batches": len(found), "events": sum(one.events for one in found),
              "wrong": {one.batch: one.wrong for one in wrong}, "summaries": spoiled,
              "noted": len(noted)})  # fmt: skip
    else:
        for one in wrong:
            typer.echo(f"Batch {one.batch} {one.wrong}.")
        for batch in spoiled:
            typer.echo(f"The summary of batch {batch} is spoiled; the next look works it out anew.")
    if wrong:
        raise StoreUnusable(
            f"{len(wrong)} of {len(found)} batches in {journal.store} are not as they were written;"
            " compare them with a backup"
        )
    if note is not None:
        note_links(found, note)
    if not json:
        beside = f", {len(noted)} of them as they were noted" if noted else ""
        typer.echo(
            f"{len(found)} batches, {sum(one.events for one in found)} events: each as it was"
            f" written, in its place{beside}."
        )
