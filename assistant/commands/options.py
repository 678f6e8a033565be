"""Options and small helpers that several commands share."""

import json
from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, TypeVar

import typer

from assistant.base.clock import Clock
from assistant.base.errors import WrongUse
from assistant.commands.ending import ENDING
from assistant.facts.events import AnyEvent, Stop
from assistant.facts.vessels import Vessel
from assistant.keep import (
    Journal,
    Lease,
    default_path,
    kitchen_bottles,
    own_path,
    who_works_here,
)
from assistant.keep.opening import has_secret
from assistant.recipebook.files import all_recipes, load_recipe, recipe_for, recipe_names
from assistant.turns.desk import Desk
from assistant.turns.free import FreeReader
from assistant.turns.rendering import shown, spoken
from assistant.turns.turn import Turn

if TYPE_CHECKING:
    from assistant.past.lookback import LookBack

J = TypeVar("J", bound=Journal)
T = TypeVar("T")
GOES_ON = timedelta(days=3)
"""So long after a stop the same command goes on: the longest rest of a recipe and a night (common
practice, no source)."""
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object per line.")]


def without_secret(context: typer.Context, option: typer.CallbackParam, value: T) -> T:
    """The value; WrongUse where a password stands in it on the command line, for all to see."""
    source = context.get_parameter_source(str(option.name))
    typed = source is not None and source.name == "COMMANDLINE"
    if typed and isinstance(value, str) and has_secret(value):
        raise WrongUse(
            "A password on the command line can be read by whoever lists this computer's programs."
            " Put it into PGPASSWORD or the file that PGPASSFILE names, or the whole address into"
            " PANSIDE_STORE."
        )
    return value


Store = Annotated[
    str | None,
    typer.Option(
        "--store",
        help="Journal file or database URL.",
        envvar="PANSIDE_STORE",
        callback=without_secret,
    ),
]
RecipeName = Annotated[
    str | None, typer.Option("--recipe", help="Recipe to make: a name, or a .toml file.")
]
BatchId = Annotated[str | None, typer.Option("--batch", help="Go on with this batch.")]
RecipeNames = Annotated[
    list[str] | None,
    typer.Option("--recipe", help="Recipe to make: a name, or a .toml file. May be repeated."),
]
BatchIds = Annotated[
    list[str] | None, typer.Option("--batch", help="Go on with this batch. May be repeated.")
]
EarsName = Annotated[
    str, typer.Option("--ears", help="Recogniser: auto, vosk or whisper.", show_default=True)
]
VoskModel = Annotated[
    Path | None, typer.Option("--vosk-model", help="Folder of an English Vosk model.")
]


def open_journal(store: str | None) -> Journal:
    """The journal at a path or URL, or where this user's data belong.

    Beside a server that kitchens share, this kitchen keeps a journal of its own.
    """
    address = store or default_path()
    own = own_path(address)
    journal = Journal(address) if own is None else _shared(address, own)
    journal.sign(who_works_here())
    return until_the_end(journal)


def _shared(address: str, own: Path) -> Journal:
    from assistant.keep import SharedJournal
    from assistant.past.joining import may_join, told

    return SharedJournal(address, own, may_join, tell, told)


def until_the_end(journal: J) -> J:
    """The journal, which is closed when the command has ended."""
    ENDING.callback(journal.close)
    return journal


def look_back(journal: Journal) -> "LookBack":
    """All batches of a journal, quickly."""
    from assistant.past.lookback import LookBack

    return LookBack(journal, tell)


def tell(words: str) -> None:
    """A sentence beside the answer, on the error stream."""
    typer.echo(f"panside: {words}", err=True)


def complain(past: "LookBack") -> None:
    """Tell which batches could not be read."""
    for words in past.complaints:
        tell(words)


def batch_events(journal: Journal, id: str) -> tuple[AnyEvent, ...]:
    """The events of a batch, by its id or a label's code; WrongUse where there is no such batch."""
    return journal.events(batch_named(journal, id))


def batch_named(journal: Journal, id: str) -> str:
    """The one batch that an id, a label's code or a part of either means; else WrongUse.

    Where other batches' labels carry the same lot, that is told.
    """
    from assistant.label.named import batch_of

    lot = batch_of(id)
    found = journal.called(lot)
    if not found:
        raise WrongUse(f"There is no batch {lot!r}. `panside batches` lists them.")
    if len(found) > 1 and found[0] != lot:
        raise WrongUse(f"{lot!r} can mean {listed(found)}. Give more of the name.")
    if len(found) > 1:
        tell(f"Bottles of {listed(found, 'and')} carry lot {lot}; this is about batch {lot} only.")
    return found[0]


def listed(names: list[str], last: str = "or") -> str:
    """Two names or more as a person writes them, of many only the last.

    >>> listed(["a", "b", "c"])
    'a, b or c'
    """
    some = names[-_LISTED:]
    first = f"{len(names) - _LISTED} others, " if len(names) > _LISTED else ""
    return f"{first}{', '.join(some[:-1])} {last} {some[-1]}"


_LISTED = 8


def emit(record: dict[str, Any]) -> None:
    """One JSON object on a line of its own, flushed, so that a reader can follow."""
    typer.echo(json.dumps(record, ensure_ascii=False, default=_plain))


def _plain(value: object) -> object:
    return value.model_dump() if isinstance(value, Vessel) else str(value)


def meanings(events: tuple[AnyEvent, ...]) -> list[dict[str, Any]]:
    """Events as plain objects, without when and how they were heard."""
    return [event.meaning() for event in events]


def turn_record(turn: Turn) -> dict[str, Any]:
    """A turn as the `--json` object of `chat` and `talk`."""
    return {
        "heard": turn.heard,
        "verdict": turn.verdict,
        "reason": turn.reason,
        "say": spoken(turn),
        "show": shown(turn),
        "batch": turn.batch,
        "stage": turn.stage,
        "stopped": turn.stopped,
        "ended": turn.ended,
        "wants": turn.wants,
        "events": meanings(turn.events),
        "also": meanings(turn.also),
    }


def kitchen_reader() -> FreeReader:
    """Understands what is said here, with this kitchen's words for its bottles."""
    return FreeReader(sizes=tuple(kitchen_bottles().items()))


def open_desk(
    journal: Journal,
    clock: Clock,
    recipes: list[str] | None,
    batches: list[str] | None,
    leads: bool = False,
) -> tuple[Desk, str]:
    """The batches to work on, and a sentence on each; other batches can be begun by word.

    leads : where none is named and none unfinished, the desk leads to one by questions
    """
    desk = Desk(journal, clock, recipe_for, kitchen_reader(), all_recipes)
    if leads and not (recipes or batches) and _unfinished(journal, None) is None:
        return desk, ""
    wanted: list[tuple[str | None, str | None]] = [(None, b) for b in batches or ()]
    wanted += [(r, None) for r in recipes or ()]
    told = [open_batch(desk, journal, clock, r, b) for r, b in wanted or [(None, None)]]
    return desk, " ".join(told)


def open_batch(
    desk: Desk, journal: Journal, clock: Clock, recipe: str | None, batch: str | None
) -> str:
    """Lay the batch to work on on the desk; one sentence on why it is this one.

    A named batch is gone on with. A batch that was cut off (its journal has no Stop at the end)
    is gone on with too, and so is one that the cook said stop to a few days ago at the most, since
    the same command was told to go on. Otherwise a named recipe begins a new batch, and without a
    name the latest unfinished one is gone on with.
    """
    if batch is not None:
        return _go_on(desk, batch_named(journal, batch))
    wanted = load_recipe(recipe) if recipe is not None else None
    unfinished = _unfinished(journal, wanted.name if wanted else None)
    if unfinished is not None:
        batch_id, cut_off = unfinished
        theirs = _worked_on(journal, batch_id, clock)
        if wanted is not None and theirs is not None:
            why = f"{theirs.words} works on batch {batch_id}: --batch {batch_id} joins in there."
            return f"New batch {desk.begin(wanted).id}. {why}"
        if wanted is None or cut_off:
            return _go_on(desk, batch_id)
        if _stopped_lately(journal, batch_id, clock):
            another = "For another, say start a batch and its fruit."
            return f"{_go_on(desk, batch_id)} {another}"
    begun = desk.begin(wanted or load_recipe(_only_recipe()))
    note = f"New batch {begun.id}."
    if unfinished is not None:
        note += f" Batch {unfinished[0]} is unfinished: --batch {unfinished[0]} goes on with it."
    return note


def _stopped_lately(journal: Journal, batch_id: str, clock: Clock) -> bool:
    """Whether the cook said stop, and was told that the same command goes on."""
    last = journal.events(batch_id)[-1]
    return isinstance(last, Stop) and bool(last.heard) and clock.now() - last.at <= GOES_ON


def _worked_on(journal: Journal, batch_id: str, clock: Clock) -> Lease | None:
    """Who else works on a batch now."""
    lease = journal.lease(batch_id)
    return lease if lease and not lease.mine and lease.counts(clock.now()) else None


def _go_on(desk: Desk, batch_id: str) -> str:
    desk.open(batch_id)
    return f"Going on with batch {batch_id}."


def _unfinished(journal: Journal, recipe: str | None) -> tuple[str, bool] | None:
    """The latest unfinished batch, of that recipe if one is named, and whether it was cut off."""
    past = look_back(journal)
    found = past.unfinished(recipe)
    complain(past)
    return (found.batch, found.cut_off) if found else None


def _only_recipe() -> str:
    names = recipe_names()
    if len(names) != 1:
        raise WrongUse(f"Which recipe? Name one with --recipe: {', '.join(names)}.")
    return names[0]
