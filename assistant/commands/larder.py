"""`panside larder`: what is in store, and what becomes of it."""

from dataclasses import asdict
from datetime import date, datetime
from typing import Annotated, Any

import typer

from assistant.base.clock import WallClock
from assistant.base.errors import WrongUse
from assistant.commands.options import (
    AsJson,
    Store,
    batch_named,
    complain,
    emit,
    listed,
    look_back,
    open_journal,
)
from assistant.cook import fold
from assistant.facts.events import (
    AnyEvent,
    Discard,
    Moved,
    Opened,
    Place,
    Recalled,
    Sign,
    Used,
)
from assistant.facts.vessels import Vessel
from assistant.keep import Journal
from assistant.label.named import batch_of
from assistant.larder import Larder, Whereabouts, larder_lines, recall_lines, whereabouts
from assistant.larder import larder as larder_on
from assistant.larder.shelf import Entry
from assistant.say import by_eye
from assistant.turns.desk import Desk
from assistant.turns.rendering import refusal, shown
from assistant.turns.utterance import Utterance

BatchName = Annotated[str, typer.Argument(metavar="BATCH", help="The batch, as on the label.")]
Bottles = Annotated[int, typer.Argument(metavar="[N]", min=1, help="How many bottles.")]
SizeMl = Annotated[
    float | None,
    typer.Option("--size", metavar="ML", help="Of which size, where there are several."),
]
Jars = Annotated[bool, typer.Option("--jars", help="Jars, where there are bottles and jars.")]
Reason = Annotated[str, typer.Option("--why", help="The reason, to be written down.")]

app = typer.Typer(
    help="What is in store, what to use first, what to throw away.",
    invoke_without_command=True,
    no_args_is_help=False,
    rich_markup_mode=None,
)


@app.callback()
def larder(
    context: typer.Context,
    on: Annotated[
        datetime | None,
        typer.Option("--on", formats=["%Y-%m-%d"], help="The day to look at; today if not given."),
    ] = None,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """What is in store and where, what to use first, and what to throw away.

    A slip is taken back with `panside chat --batch BATCH` and the words "scratch that".
    """
    if context.invoked_subcommand is not None:
        return
    found = _look(store, on.date() if on else None)
    if json:
        for entry in found.in_store():
            emit(entry_record(entry, found.on))
        return
    for line in larder_lines(found):
        typer.echo(by_eye(line))


def _look(store: str | None, on: date | None) -> Larder:
    """All that was written counts for today; another day sees what stood at its end."""
    past = look_back(open_journal(store))
    found = past.larder(WallClock().now().date(), on)
    complain(past)
    return found


def entry_record(entry: Entry, on: date) -> dict[str, Any]:
    """One batch in store as the `--json` object."""
    lots = [
        asdict(lot) | {"days_left": (lot.keep_by - on).days if lot.keep_by else None}
        for lot in entry.lots
    ]
    return asdict(entry) | {
        "on": on,
        "in_store": entry.in_store,
        "throw_away": entry.to_throw_away(),
        "call_back": entry.call_back,
        "lots": lots,
    }


@app.command()
def take(
    batch: BatchName,
    count: Bottles = 1,
    to: Annotated[str, typer.Option("--to", help="Who got them, for a recall.")] = "",
    size: SizeMl = None,
    jars: Jars = False,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Take bottles out of the store: used up, or with --to given to somebody."""
    _do(
        batch, Used(at=WallClock().now(), count=count, to=to, vessel=_sort(size, jars)), json, store
    )


@app.command("open")
def open_(
    batch: BatchName,
    count: Bottles = 1,
    size: SizeMl = None,
    jars: Jars = False,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Open bottles: from now on they keep days only."""
    event = Opened(at=WallClock().now(), count=count, vessel=_sort(size, jars))
    _do(batch, event, json, store)


@app.command()
def move(
    batch: BatchName,
    place: Annotated[Place, typer.Argument(metavar="PLACE", help="fridge, freezer or cupboard.")],
    count: Annotated[
        int | None, typer.Argument(metavar="[N]", min=1, help="How many; all, if not given.")
    ] = None,
    size: SizeMl = None,
    jars: Jars = False,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Move all that is in store of a batch, or so many closed bottles, to fridge or freezer."""
    sort = _sort(size, jars)
    _do(batch, Moved(at=WallClock().now(), place=place, count=count, vessel=sort), json, store)


@app.command()
def discard(
    batch: BatchName,
    count: Annotated[
        int | None, typer.Argument(metavar="[N]", min=1, help="How many; all, if not given.")
    ] = None,
    why: Reason = "",
    size: SizeMl = None,
    jars: Jars = False,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Write down that a batch, or some bottles of it, was thrown away."""
    sort = _sort(size, jars)
    event = Discard(at=WallClock().now(), count=count, reason=why, vessel=sort)
    _do(batch, event, json, store)


@app.command()
def sign(
    batch: BatchName,
    words: Annotated[str, typer.Argument(help='What was seen, for example "it is fizzing".')],
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Write down a sign of spoilage, and read what to do about it."""
    journal = open_journal(store)
    desk = Desk(journal, WallClock())
    desk.open(batch_named(journal, batch))
    found = desk.meant(Utterance.typed(words))
    event = next((e for e in found.events if isinstance(e, Sign)), None)
    if event is None:
        raise WrongUse(
            f"I know no sign {words!r}. Say one of: it is fizzing, the cap is bulging, there is"
            " mould on it, it smells off, it is leaking, it is cloudy. When in doubt, throw it out."
        )
    _recorded(desk, journal, desk.in_hand().id, event, json)


@app.command()
def recall(
    batch: BatchName,
    why: Reason = "",
    only: Annotated[
        bool, typer.Option("--only", help="Only the batch of that very name, whatever labels say.")
    ] = False,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Call a batch back: where every bottle went, and what to tell people.

    Where labels of several batches carry the lot, all of them are called back.
    """
    journal = open_journal(store)
    names = _carrying(journal, batch_of(batch), only)
    found = [_called_back(journal, name, why) for name in names]
    if len(names) > 1 and not json:
        typer.echo(_same_lot(batch_of(batch), names))
    for went in found:
        lines = [by_eye(line) for line in recall_lines(went)]
        if json:
            emit(asdict(went) | {"out": went.out, "unnamed": went.unnamed, "say": lines})
            continue
        for line in lines:
            typer.echo(line)


def _carrying(journal: Journal, lot: str, only: bool) -> list[str]:
    """The batches whose bottles may carry a lot and that have any bottles."""
    found = [] if only else journal.carrying(lot)
    names = found if len(found) > 1 else [batch_named(journal, lot)]
    filled = [name for name in names if fold(journal.events(name))[0].bottled is not None]
    return filled or names[:1]


def _same_lot(lot: str, names: list[str]) -> str:
    return (
        f"Lot {lot} is on bottles of {len(names)} batches, {listed(names, 'and')}: all are called"
        f" back. Replace the labels of what you keep: `panside label {names[-1]}`, for example."
    )


def _called_back(journal: Journal, name: str, why: str) -> Whereabouts:
    """Where the bottles of one batch are, after it is written down that it is called back."""
    events = journal.events(name)
    whereabouts(events)
    held, _ = fold(events)
    if held.stored.recalled_for is None:
        clock = WallClock()
        turn = Desk(journal, clock).record(held.id, Recalled(at=clock.now(), reason=why))
        if turn.verdict == "refuse":
            raise refusal(turn)
    return whereabouts(journal.events(name))


def _sort(size: float | None, jars: bool) -> Vessel | None:
    """The sort of bottle that is meant; None where nothing was said of it."""
    if size is None and not jars:
        return None
    if size is not None and size <= 0:
        raise WrongUse("A bottle's size is more than nothing.")
    return Vessel(size_ml=size, of="jar" if jars else "bottle")


def _do(batch_id: str, event: AnyEvent, json: bool, store: str | None) -> None:
    """One fact about a batch: written down and answered, or refused and not written."""
    journal = open_journal(store)
    desk = Desk(journal, WallClock())
    _recorded(desk, journal, batch_named(journal, batch_id), event, json)


def _recorded(desk: Desk, journal: Journal, name: str, event: AnyEvent, json: bool) -> None:
    turn = desk.record(name, event)
    if turn.verdict == "refuse":
        raise refusal(turn)
    if json:
        (entry,) = larder_on([journal.events(name)], event.at.date()).entries
        emit(entry_record(entry, event.at.date()) | {"say": list(shown(turn))})
        return
    for line in shown(turn):
        typer.echo(line)
