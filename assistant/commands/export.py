"""`panside export` and `panside import`: batches as JSON Lines, to carry to another kitchen."""

import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Annotated

import typer
from pydantic import ValidationError

from assistant.base.clock import WallClock
from assistant.base.errors import WrongUse
from assistant.commands.options import AsJson, Store, batch_events, emit, open_journal
from assistant.cook import fold
from assistant.facts.events import AnyEvent, Begin
from assistant.keep import Journal, export_batch, from_lines, import_batch, renamed, to_lines
from assistant.past.imported import check, told

Group = tuple[AnyEvent, ...]
LARGEST = 256 << 20
"""Some twenty thousand batches. [bytes]"""


def export(
    ids: Annotated[list[str] | None, typer.Argument(help="Batches; all without a name.")] = None,
    out: Annotated[
        Path | None, typer.Option("--out", help="File to write instead of the screen.")
    ] = None,
    store: Store = None,
) -> None:
    """Write batches as JSON Lines, an event a line."""
    journal = open_journal(store)
    names = list(dict.fromkeys(ids)) if ids else [row.id for row in journal.batches()]
    for name in names:
        batch_events(journal, name)
    lines = (line for name in names for line in export_batch(journal, name))
    if out is None:
        for line in lines:
            sys.stdout.buffer.write(line.encode())
        return
    _write(out, lines)
    typer.echo(f"Written to {out}: {', '.join(names) or 'no batches, since there are none yet'}.")


def import_(
    file: Annotated[Path, typer.Argument(help="What `panside export` wrote.")],
    under: Annotated[
        str | None, typer.Option("--as", help="Another name, for a file with one batch.")
    ] = None,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Read batches from JSON Lines into the journal. What is there already stays as it is."""
    groups = _renamed(_groups(from_lines(_read(file), file.name), file.name), under)
    journal = open_journal(store)
    new = [group for group in groups if _is_new(journal, group)]
    for group in groups:
        taken = group in new
        name = import_batch(journal, to_lines(group), name=file.name) if taken else _id(group)
        words = f"{name} read in." if taken else f"{name} is here already, the same."
        odd = told(group) if taken else ()
        row = {"batch": name, "events": len(group), "new": taken} | ({"told": odd} if odd else {})
        emit(row) if json else typer.echo(" ".join((words, *(f"Mind: {each}." for each in odd))))


def _write(out: Path, lines: Iterable[str]) -> None:
    try:
        with out.open("w", encoding="utf-8", newline="\n") as file:
            file.writelines(lines)
    except OSError as error:
        raise WrongUse(f"{out}: can't be written ({error}).") from error


def _read(file: Path) -> list[str]:
    try:
        if file.stat().st_size > LARGEST:
            raise WrongUse(
                f"{file}: too large to be batches from here ({LARGEST >> 20} MB at most)."
            )
        return file.read_text("utf-8").split("\n")
    except (OSError, UnicodeDecodeError) as error:
        raise WrongUse(f"{file}: can't be read as text. Is the path right? ({error})") from error


def _groups(events: Sequence[AnyEvent], name: str) -> list[Group]:
    """The events of each batch, each of which must hold together."""
    if not events or not isinstance(events[0], Begin):
        raise WrongUse(f"{name} does not start with the beginning of a batch.")
    starts = [i for i, event in enumerate(events) if isinstance(event, Begin)]
    groups = [tuple(events[a:b]) for a, b in zip(starts, [*starts[1:], None], strict=True)]
    for group in groups:
        _check(group, name)
    names = [_id(group) for group in groups]
    if len(names) != len(set(names)):
        raise WrongUse(f"{name} has two batches of the same name.")
    return groups


def _check(group: Group, name: str) -> None:
    try:
        fold(group)
        check(group, WallClock().now())
    except ValidationError as error:
        why = error.errors(include_url=False)[0]["msg"]
        raise WrongUse(f"{name}: batch {_id(group)} has a recipe that is not one: {why}") from error


def _renamed(groups: list[Group], under: str | None) -> list[Group]:
    if under is None:
        return groups
    first = groups[0][0]
    if len(groups) != 1 or not isinstance(first, Begin):
        raise WrongUse("--as renames one batch, and this file has several.")
    return [(renamed(first, under), *groups[0][1:])]


def _is_new(journal: Journal, group: Group) -> bool:
    """Whether the journal has no such batch; WrongUse where it has another of that name."""
    had = journal.events(_id(group))
    if had and had != group:
        raise WrongUse(
            f"There is another batch {_id(group)} in {journal.store}. Read this one in under "
            "another name with --as."
        )
    return not had


def _id(group: Group) -> str:
    first = group[0]
    return first.batch if isinstance(first, Begin) else ""
