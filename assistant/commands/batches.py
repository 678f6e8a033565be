"""`panside batches` and `panside batch`: what was made, and how."""

from math import isfinite
from pathlib import Path
from typing import Annotated

import typer

from assistant.commands.options import AsJson, Store, batch_events, emit, open_journal
from assistant.cook import fold
from assistant.errors import BadRecipe, WrongUse
from assistant.events import AnyEvent
from assistant.report import batch_lines, batch_record
from assistant.report.curve import curve_svg


def batches(json: AsJson = False, store: Store = None) -> None:
    """List the batches in the journal, the latest first."""
    journal = open_journal(store)
    rows = sorted(journal.batches(), key=lambda row: row.begun_at, reverse=True)
    for row in rows:
        try:
            record = batch_record(journal.events(row.id))
        except BadRecipe as error:
            typer.echo(f"panside: {error}", err=True)
            continue
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
    price: Annotated[
        list[str] | None,
        typer.Option("--price", help="fruit=4.5 for a kilo, bottle=0.6 for one; again for more."),
    ] = None,
    curve: Annotated[
        Path | None, typer.Option("--curve", help="Draw the temperatures into this .svg file.")
    ] = None,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Show one batch: readings, additions, stages, plan, hold, result, cost."""
    prices = _prices(price or [])
    events = batch_events(open_journal(store), id)
    if curve is not None:
        _draw(events, curve)
    if json:
        emit(batch_record(events, prices))
        return
    for line in batch_lines(events, prices):
        typer.echo(line)


def _prices(named: list[str]) -> dict[str, float]:
    """Prices by name from "fruit=4.5"; a decimal comma does as well."""
    found: dict[str, float] = {}
    for words in named:
        name, equals, amount = words.partition("=")
        try:
            found[name.strip()] = float(amount.replace(",", "."))
        except ValueError:
            equals = ""
        if not equals or not isfinite(found[name.strip()]):
            raise WrongUse(f"{words!r} is no price: write it like --price fruit=4.5")
    return found


def _draw(events: tuple[AnyEvent, ...], file: Path) -> None:
    if file.suffix.lower() != ".svg":
        raise WrongUse(f"{file}: the curve is drawn as SVG. Give the file a name that ends in .svg")
    batch, _ = fold(events)
    try:
        file.write_text(curve_svg(batch), "utf-8")
    except OSError as error:
        raise WrongUse(f"{file}: can't be written ({error}).") from error
