"""`panside again`: the same as last time, for the fruit there is today."""

from typing import Annotated

import typer

from assistant.base.clock import WallClock
from assistant.base.errors import WrongUse
from assistant.commands.options import AsJson, Store, batch_events, emit, open_journal
from assistant.cook import Batch, fold
from assistant.facts.events import AnyEvent
from assistant.keep import Journal, next_batch_id
from assistant.planning import Hint, hints
from assistant.planning import again as first_events
from assistant.report.repeated import hint_record, hint_words
from assistant.turns.desk import Desk
from assistant.turns.rendering import shown


def again(
    id: Annotated[str, typer.Argument(help="The batch to repeat, as `panside batches` names it.")],
    fruit_kg: Annotated[
        float | None, typer.Option("--fruit-kg", help="Fruit there is today [kg].")
    ] = None,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Begin a new batch from an old one's recipe and fruit, with what was learnt last time."""
    journal, clock = open_journal(store), WallClock()
    events = batch_events(journal, id)
    old, _ = fold(events)
    base = _base(old, fruit_kg)
    learnt = hints(events, base)
    new_id = _begin(journal, clock, events, base, learnt)
    desk = Desk(journal, clock)
    desk.open(new_id)
    show = shown(desk.greet())
    if json:
        emit(_record(desk.in_hand(), id, learnt, show))
        return
    for line in (f"Batch {new_id} is the same again as {id}.", *_warnings(old)):
        typer.echo(line)
    for words in _words(old, learnt):
        typer.echo(f"  {words}")
    for line in (*show, f"Go on with: panside chat --batch {new_id}"):
        typer.echo(line)


def _begin(
    journal: Journal,
    clock: WallClock,
    events: tuple[AnyEvent, ...],
    base: float | None,
    learnt: tuple[Hint, ...],
) -> str:
    at = clock.now()
    new_id = next_batch_id(journal.names(at.date().isoformat()), at.date())
    remarks = _words(fold(events)[0], learnt)
    journal.append_all(new_id, first_events(events, new_id, at, base, remarks), 0)
    return new_id


def _words(old: Batch, learnt: tuple[Hint, ...]) -> list[str]:
    each = "kilo" if old.recipe.base == "fruit" else "litre"
    return [hint_words(hint, each) for hint in learnt]


def _base(old: Batch, fruit_kg: float | None) -> float | None:
    if fruit_kg is None:
        return None
    if old.recipe.base != "fruit":
        raise WrongUse(
            f"{old.recipe.name} starts from {old.recipe.base}, not from fruit: leave --fruit-kg "
            "out and say how much when you are asked."
        )
    return 1000.0 * fruit_kg


def _warnings(old: Batch) -> list[str]:
    """Why the old batch may not be one to copy."""
    if old.stopped_by:
        return [f"That batch was held by a limit ({old.stopped_by}): do not copy what led to it."]
    if old.stored.recalled_for is not None:
        return [f"That batch was called back ({old.stored.recalled_for}): mind what led to it."]
    if old.stored.signs:
        signs = ", ".join(seen.what.replace("_", " ") for seen in old.stored.signs)
        return [
            f"That batch showed that it spoils ({signs}): mind the acid, the hold, the bottles."
        ]
    if old.ended == "discarded":
        why = f": {old.discarded_for}" if old.discarded_for else ""
        return [f"That batch was thrown away{why}."]
    if old.ended is None:
        stage = old.stage.id if old.stage else ""
        return [f"That batch is not finished (it is at {stage!r}): there is less to learn from it."]
    return []


def _record(
    batch: Batch, old_id: str, learnt: tuple[Hint, ...], show: tuple[str, ...]
) -> dict[str, object]:
    return {
        "batch": batch.id,
        "again_of": old_id,
        "recipe": batch.recipe.name,
        "fruit": batch.fruit,
        "base_amount": batch.start.base if batch.start else None,
        "stage": batch.stage.id if batch.stage else None,
        "hints": [hint_record(hint) for hint in learnt],
        "next": list(show),
    }
