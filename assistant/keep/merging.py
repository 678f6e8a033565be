"""Bringing the batches of one store to another: nothing is dropped, nothing is there twice.

Two batches are the same when they began with the same event, and one's name is the other's or a
second name made from it. What the
other side lacks is written behind what it has, where it went on from there; where both sides went
on, it is written behind if that changes nothing for the batch (passed in as `may_join`), else the
whole batch is kept as a second one under a name of its own.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, count
from typing import Literal

from sqlalchemy import select

from assistant.base.errors import AnotherSession, WrongUse
from assistant.facts.events import AnyEvent, Begin, event_adapter
from assistant.keep import opening, schema
from assistant.keep.faults import translated
from assistant.keep.journal import Journal
from assistant.keep.names import renamed

Events = tuple[AnyEvent, ...]
MayJoin = Callable[[Events, Events], bool]
"""Whether events of the other side may follow what a batch has, although both went on."""
How = Literal["there", "new", "longer", "joined", "forked"]
_TRIES = 8


@dataclass(frozen=True)
class Brought:
    """What became of one batch.

    name : what it is called on the other side
    how : it was there already, is new there, was made longer, its events joined those of the other
        side, or it is kept as a second batch because both sides went on
    held, added : the events that were there, and those that came to them
    """

    batch: str
    name: str
    how: How
    held: Events
    added: Events

    @property
    def renamed(self) -> bool:
        """Whether it goes by another name on the other side."""
        return self.name != self.batch


def merge(
    source: Journal, target: Journal, may_join: MayJoin, names: Iterable[str] | None = None
) -> Iterator[Brought]:
    """Bring batches to a store, each in one transaction; those brought before are not again.

    names : of these batches; all without
    Stopped at any moment, it can be begun anew.
    """
    for name in source.names() if names is None else names:
        yield bring(target, source.events(name), may_join)


def bring(target: Journal, events: Events, may_join: MayJoin) -> Brought:
    """Bring one batch, all or nothing; tried again while others write to the same batch."""
    first = events[0] if events else None
    if not isinstance(first, Begin):
        raise WrongUse("a batch must start with its beginning")
    for attempt in range(_TRIES):
        found = _fitted(target, first, events, may_join)
        try:
            target.take_in(found.name, found.added, len(found.held))
        except AnotherSession:
            if attempt == _TRIES - 1:
                raise
            continue
        return found
    raise AssertionError  # The loop returns or raises.


def _fitted(target: Journal, first: Begin, events: Events, may_join: MayJoin) -> Brought:
    """Where the events belong: the first of these that fits one of the same batches there."""
    same = [(name, target.events(name)) for name in _same(target, first)]
    for name, held in same:
        if not _missing(events, held):
            return Brought(first.batch, name, "there", held, ())
    longest = sorted(same, key=lambda pair: len(pair[1]), reverse=True)
    for name, held in longest:
        # All that is there came from here, or has been joined here: this side is ahead.
        if not _missing(held, events):
            return Brought(first.batch, name, "longer", held, _missing(events, held))
    for name, held in longest:
        missing = _missing(events, held)
        if may_join(held, missing):
            return Brought(first.batch, name, "joined", held, missing)
    name = _free(target, first.batch)
    called = (renamed(first, name), *events[1:])
    return Brought(first.batch, name, "forked" if same else "new", (), called)


def _same(target: Journal, first: Begin) -> list[str]:
    """The batches there that began with the same event, the one of the same name first."""
    batch, event = schema.batches.c, schema.events.c
    wanted = (
        select(batch.id, event.body)
        .join(schema.events, (event.batch == batch.id) & (event.seq == 0))
        .where(batch.begun_at == first.at.isoformat())
    )
    with translated(target.store), opening.reading(target.engine) as connection:
        rows = connection.execute(wanted).all()
    found = [
        name
        for name, body in rows
        if _akin(name, first.batch)
        and _nameless(event_adapter.validate_json(body)) == _nameless(first)
    ]
    return sorted(found, key=lambda name: (name != first.batch, name))


def _akin(one: str, other: str) -> bool:
    """Whether a batch may go by one of these names here and by the other there."""
    return one == other or one.startswith(f"{other}-") or other.startswith(f"{one}-")


def _nameless(event: AnyEvent) -> AnyEvent:
    if not isinstance(event, Begin):
        return event
    return event.model_copy(update={"batch": "", "lots": ()})


def _missing(wanted: Sequence[AnyEvent], held: Sequence[AnyEvent]) -> Events:
    """Those of some events that others lack, in order; each counts as often as it is there."""
    left = Counter(_key(event) for event in held)
    missing = []
    for event in wanted:
        key = _key(event)
        if left[key]:
            left[key] -= 1
        else:
            missing.append(event)
    return tuple(missing)


def _key(event: AnyEvent) -> bytes:
    return event_adapter.dump_json(_nameless(event))


def _free(target: Journal, name: str) -> str:
    """The name, or name-b, name-c ... where it is taken."""
    taken = set(target.names(name))
    more = chain("bcdefghijklmnopqrstuvwxyz", map(str, count(27)))
    return name if name not in taken else next(n for m in more if (n := f"{name}-{m}") not in taken)
