"""`panside backup`, `restore` and `salvage`: that no disk takes a batch with it."""

from pathlib import Path
from typing import Annotated

import typer

from assistant.base.clock import WallClock
from assistant.base.errors import StoreUnusable, WrongUse
from assistant.commands.options import AsJson, Store, emit, until_the_end
from assistant.keep import (
    Count,
    Journal,
    back_up,
    default_path,
    file_of,
    set_aside,
)
from assistant.keep import restore as put_back
from assistant.keep import salvage as save

REST = ".rest.jsonl"


def backup(
    file: Annotated[
        Path | None,
        typer.Argument(help="New file: .jsonl for JSON Lines, else SQLite; beside the store."),
    ] = None,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Copy the whole store into one file, read it back and compare. Chats may go on meanwhile."""
    journal = until_the_end(Journal(store or default_path()))
    target = file or _beside(journal)
    _tell(back_up(journal, target), f"Saved to {target}, read back, the same", target, json)


def _beside(journal: Journal) -> Path:
    """A name that tells the minute, beside the store or, for a server, in this folder."""
    held = file_of(journal)
    name = f"panside-{WallClock().now():%Y-%m-%d-%H%M}.backup"
    return held.with_name(f"{name}.sqlite") if held else Path(f"{name}.jsonl")


def restore(
    file: Annotated[Path, typer.Argument(help="What `panside backup` wrote.")],
    replace: Annotated[
        bool,
        typer.Option("--replace", help="Set a store that holds something aside; it is kept."),
    ] = False,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Put a backup into an empty store. One that holds batches is kept, and only with --replace."""
    address = store or default_path()
    count = _checked(file)
    aside = _make_room(address, replace)
    with Journal(address) as journal:
        put_back(file, journal)
        where = journal.store
        words = f"Restored into {journal.store}, read back, the same"
    if aside is not None and not json:
        typer.echo(f"What was there is now {aside}.")
    _tell(count, words, where, json)


def _checked(file: Path) -> Count:
    """How much a backup holds, read through before anything is touched."""
    from assistant.keep.backup import backup_rows
    from assistant.keep.whole import count

    with backup_rows(file) as rows:
        return count(rows())


def _make_room(address: str, replace: bool) -> Path | None:
    try:
        with Journal(address) as journal:
            held, file = len(journal.names()), file_of(journal)
            why = f"{journal.store} holds {held} batch(es)"
    except StoreUnusable as error:
        held, file, why = 1, Path(address) if Path(address).is_file() else None, str(error)
        if file is None:
            raise
    if not held:
        return None
    if file is None:
        raise WrongUse(f"{why}: restore into an empty database, or add to it with `panside merge`.")
    if not replace:
        raise WrongUse(
            f"{why}. --replace sets it aside under another name and puts the backup in its place;"
            " --store NEW leaves it; `panside merge` adds what it lacks."
        )
    return set_aside(file)


def salvage(
    file: Annotated[Path, typer.Argument(help="The damaged store; it is only read.")],
    to: Annotated[
        Path | None, typer.Option("--to", help="New store for what is saved; beside it.")
    ] = None,
    json: AsJson = False,
) -> None:
    """Save what can still be read of a damaged SQLite store into a new one."""
    target = to or file.with_name(f"{file.name}.salvaged")
    found = save(file, target)
    rest = target.with_name(target.name + REST)
    if found.rest:
        rest.write_text("".join(f"{row.body}\n" for row in found.rest), "utf-8")
    if json:
        emit({"file": target, "batches": found.batches, "lost": found.lost,
              "apart": len(found.rest), "torn": found.torn})  # fmt: skip
        return
    typer.echo(f"Saved into {target}: {_many(len(found.batches), 'batch', 'batches')},"
               f" {_many(sum(found.batches.values()), 'event', 'events')}.")  # fmt: skip
    for batch, gone in found.lost.items():
        typer.echo(f"  {batch}: at least {_many(gone, 'event', 'events')} lost")
    if found.rest:
        typer.echo(f"Events behind such a gap are kept apart in {rest}.")
    if found.torn:
        typer.echo(
            f"{_many(found.torn, 'page', 'pages')} of the file can't be read: more may have stood"
            " there. Compare with a backup if there is one."
        )
    elif not found.lost:
        typer.echo("Nothing is known to be missing. Compare with a backup if there is one.")


def _many(count: int, one: str, more: str) -> str:
    return f"{count} {one if count == 1 else more}"


def _tell(count: Count, words: str, file: Path | str, json: bool) -> None:
    if json:
        emit({"file": file, **vars(count)})
        return
    typer.echo(
        f"{words}: {_many(count.batches, 'batch', 'batches')},"
        f" {_many(count.events, 'event', 'events')}, digest {count.digest[:16]}."
    )
