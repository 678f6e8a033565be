"""`panside batches` and `panside batch`: what was made, and how."""

from math import isfinite
from pathlib import Path
from typing import Annotated

import typer

from assistant.base.errors import WrongUse
from assistant.commands.options import (
    AsJson,
    Store,
    batch_events,
    complain,
    emit,
    look_back,
    open_journal,
)
from assistant.cook import fold
from assistant.facts.events import AnyEvent
from assistant.report import batch_lines, batch_record
from assistant.report.curve import curve_svg

LAST = 100
"""So many batches are listed when nobody says how many."""


def batches(
    last: Annotated[
        int | None, typer.Option("--last", min=1, help="How many; 100, or all with --json.")
    ] = None,
    afresh: Annotated[
        bool, typer.Option("--afresh", help="Read every batch anew, after an update.")
    ] = False,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """List the batches in the journal, the latest first."""
    past = look_back(open_journal(store))
    if afresh:
        past.afresh()
    found = past.batches(last if last or json else LAST)
    complain(past)
    for brief in found:
        if brief.wrong:
            typer.echo(f"panside: {brief.wrong}", err=True)
        elif json:
            emit({k: getattr(brief, k) for k in _BRIEF})
        else:
            standing = brief.ended or f"at {brief.stage}"
            typer.echo(f"{brief.batch:16} {brief.recipe:16} {brief.fruit or '-':14} {standing}")
    if json:
        return
    if not found:
        typer.echo("There are no batches yet. Begin one with: panside talk, or panside chat.")
    elif (more := past.count() - len(found)) > 0:
        typer.echo(f"and {more} before: --last {len(found) + more} lists them all.")


_BRIEF = ("batch", "recipe", "fruit", "begun", "stage", "ended")


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
