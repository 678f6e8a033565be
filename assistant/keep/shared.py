"""A store that several kitchens share, and this kitchen's own journal for when it is out of reach.

What is accepted is written to both. While the shared store is away, the own journal goes on and
notes which batches the other has to get; they are brought there when it is back. Nothing waits for
a network longer than a few seconds, and nothing is accepted that is not on a disk.
"""

import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TypeVar

from sqlalchemy import Engine

from assistant.base.errors import (
    AnotherSession,
    StoreAway,
    StoreReadOnly,
    StoreSetBack,
    StoreUnusable,
)
from assistant.facts.events import AnyEvent, Begin
from assistant.keep.journal import BatchRow, Journal
from assistant.keep.leases import Lease
from assistant.keep.merging import Brought, Events, MayJoin, bring
from assistant.keep.names import renamed
from assistant.keep.own_journal import OwnJournal

T = TypeVar("T")
_LOOKED_AT = 400
"""So many of this kitchen's batches are compared with the shared store at each start: the latest.
All of them are by `panside merge`."""
_AT_ONCE = 200
_OUT = (StoreAway, StoreReadOnly)
"""What is waited out in this kitchen's own journal."""
PAUSE = 30.0
"""How long to go on alone before the shared store is looked for again. [s]"""


class SharedJournal(Journal):
    """The shared store while it can be reached, this kitchen's own journal while it can't.

    tell : is told, in a sentence, when it goes and comes, and what became of a batch
    words : what became of a batch, in words
    now : a clock that only runs forward [s]
    """

    def __init__(
        self,
        store: str,
        own: Path,
        may_join: MayJoin,
        tell: Callable[[str], None] = lambda _: None,
        words: Callable[[Brought], str] | None = None,
        now: Callable[[], float] = time.monotonic,
    ) -> None:
        self._address, self._may_join, self._tell, self._now = store, may_join, tell, now
        self._words = words or sentence
        self._own = OwnJournal(own)
        self._shared: Journal | None = None
        self._there: dict[str, str] = {}
        self._here: dict[str, str] = {}
        self._alone: set[str] = set()
        self._at_work: set[str] = set()
        self._lost_at = float("-inf")
        self._told_why: type[StoreUnusable] | None = None
        self._reach()

    @property
    def store(self) -> str:
        """Where it is now."""
        return (self._shared or self._own).store

    @property
    def engine(self) -> Engine:
        """The database that answers now."""
        return (self._shared or self._own).engine

    @property
    def away(self) -> bool:
        """Whether the shared store was out of reach when it was last looked for."""
        return self._shared is None

    def take_in(
        self, batch_id: str, events: Sequence[AnyEvent], seq: int, mark: str | None = None
    ) -> None:
        """Write several events as one, on a disk when this returns: there and here, or here."""
        if not events:
            return
        if self._shared is None and self._now() - self._lost_at >= PAUSE:
            self._reach()
        if self._shared is not None:
            name = self._there.get(batch_id, batch_id)
            try:
                self._append_there(name, batch_id, _called(events, name), seq, mark)
            except _OUT as error:
                self._lose(error)
            else:
                self._copy(batch_id, events, seq, mark)
                return
        name = self._here.get(batch_id, batch_id)
        self._own.append_all(name, _called(events, name), seq, mark)
        self._alone.add(name)

    def _append_there(
        self, name: str, batch_id: str, events: Sequence[AnyEvent], seq: int, mark: str | None
    ) -> None:
        """Append in the shared store; where that was set back, it first gets what it lacks."""
        assert self._shared is not None
        try:
            self._shared.append_all(name, events, seq, mark)
        except StoreSetBack:
            here = self._here.get(batch_id, batch_id)
            if self._bring_back(here) != name:
                raise
            self._shared.append_all(name, events, seq, mark)

    def _bring_back(self, here: str) -> str:
        """Bring a store that was set back what it lacks of a batch; the name it has there."""
        assert self._shared is not None
        found = bring(self._shared, self._own.events(here), self._may_join)
        self._call(here, found.name)
        if found.how != "there":
            self._tell(f"The shared store lacked some of batch {found.name}: brought from here.")
        return found.name

    def events(self, batch_id: str) -> Events:
        """The events of a batch; a copy is kept here, to go on with when the network is cut."""
        if self._shared is not None:
            try:
                return self._events_there(batch_id)
            except _OUT as error:
                self._lose(error)
        return self._own.events(self._here.get(batch_id, batch_id))

    def _events_there(self, batch_id: str) -> Events:
        assert self._shared is not None
        found = self._shared.events(self._there.get(batch_id, batch_id))
        if not found:
            return found
        here = self._mirror(batch_id, found)
        if here is not None and here.how == "there" and len(here.held) > len(found):
            return self._shared.events(self._bring_back(here.name))
        return found

    def length(self, batch_id: str) -> int:
        """How many events of a batch there are."""
        there = self._ask_there(lambda shared, name: shared.length(name), batch_id)
        return there or self._own.length(self._here.get(batch_id, batch_id))

    def lengths(self, names: Sequence[str]) -> dict[str, int]:
        """How many events there are of each of these batches."""
        there = {self._there.get(name, name): name for name in names}
        found: dict[str, int] = {}
        if self._shared is not None:
            try:
                held = self._shared.lengths(list(there))
                found = {there[name]: count for name, count in held.items()}
            except _OUT as error:
                self._lose(error)
        here = {self._here.get(name, name): name for name in names if name not in found}
        held = self._own.lengths(list(here)) if here else {}
        return found | {here[name]: count for name, count in held.items()}

    def names(self, starting: str = "") -> list[str]:
        """The batches whose names start like that."""
        return self.asked(lambda: super(SharedJournal, self).names(starting))

    def called(self, lot: str) -> list[str]:
        """The batches that a cook can mean by a lot."""
        return self.asked(lambda: super(SharedJournal, self).called(lot))

    def carrying(self, lot: str) -> list[str]:
        """The batches whose labels may carry just that lot."""
        return self.asked(lambda: super(SharedJournal, self).carrying(lot))

    def batches(self) -> list[BatchRow]:
        """All batches, the oldest first."""
        return self.asked(super().batches)

    def marked(self, names: Sequence[str], mark: str) -> set[str]:
        """Those of some batches to which events were written with that message's id."""
        here = {self._here.get(name, name): name for name in names}
        found = {here[name] for name in self._own.marked(list(here), mark)}
        if found or self._shared is None:
            return found
        there = {self._there.get(name, name): name for name in names}
        try:
            return {there[name] for name in self._shared.marked(list(there), mark)}
        except _OUT as error:
            self._lose(error)
            return found

    def work_as(self, who: str, where: str) -> None:
        """What others are told who works on the batches that are leased from now on."""
        self._own.work_as(who, where)
        if self._shared is not None:
            self._shared.go_on_as(self._own, ())

    def acquire(self, batch_id: str, now: datetime, until: datetime, join: bool = False) -> Lease:
        """Ask for a batch to work on: in this kitchen, and in the others while they can be asked.

        Two programs of one kitchen stay apart although the shared store is away.
        """
        here = self._own.acquire(self._here.get(batch_id, batch_id), now, until, join)
        if here.mine:
            self._at_work.add(batch_id)
            there = self._ask_there(lambda s, name: s.acquire(name, now, until, join), batch_id)
            if there is not None and not there.mine:
                self.release(batch_id)
                return replace(there, batch=batch_id)
        return replace(here, batch=batch_id)

    def renew(self, batch_id: str, until: datetime) -> None:
        """Give a lease longer without a turn; LeaseLost when somebody else has taken it."""
        self._own.renew(self._here.get(batch_id, batch_id), until)
        self._ask_there(lambda shared, name: shared.renew(name, until), batch_id)

    def release(self, batch_id: str) -> None:
        """Nobody works on the batch any more."""
        self._at_work.discard(batch_id)
        self._own.release(self._here.get(batch_id, batch_id))
        self._ask_there(lambda shared, name: shared.release(name), batch_id)

    def lease(self, batch_id: str) -> Lease | None:
        """Who works on a batch, in any kitchen that can be asked."""
        there = self._ask_there(lambda shared, name: shared.lease(name), batch_id)
        return there or self._own.lease(self._here.get(batch_id, batch_id))

    def _ask_there(self, ask: Callable[[Journal, str], T], batch_id: str) -> T | None:
        """The shared store's answer about a batch, by its name there; None while it is away."""
        if self._shared is None:
            return None
        try:
            return ask(self._shared, self._there.get(batch_id, batch_id))
        except _OUT as error:
            self._lose(error)
            return None

    def close(self) -> None:
        """Let go of both."""
        self._own.close()
        if self._shared is not None:
            self._shared.close()

    def send(self, looked_at: int | None = _LOOKED_AT) -> list[Brought]:
        """Bring the shared store what it lacks; empty where there is nothing or it is away.

        looked_at : so many of this kitchen's latest batches are compared, too, with a store that
            may have been restored from a backup; all for None
        """
        done: list[Brought] = []
        if self._shared is None:
            return done
        try:
            # Another program of this kitchen may have sent a batch of ours, and under a new name.
            waiting = {*self._own.unsent(), *self._alone}
            for name in sorted({*waiting, *self._set_back(self._shared, looked_at)}):
                events = self._own.events(name)
                try:
                    found = bring(self._shared, events, self._may_join)
                except AnotherSession as error:
                    # Written to all the time, or another kitchen's, which this login can't see.
                    if name in waiting:
                        self._tell(f"Batch {name} waits here: {error}")
                    continue
                self._own.sent(name, len(events))
                self._call(name, found.name)
                if found.how != "there" or (found.renamed and name in waiting):
                    done.append(found)
            self._alone.intersection_update(self._own.unsent())
        except _OUT as error:
            self._lose(error)
        return done

    def _set_back(self, shared: Journal, looked_at: int | None) -> set[str]:
        """Those of this kitchen's batches of which the shared store has less than is here."""
        names = self._own.latest(looked_at)
        less: set[str] = set()
        for start in range(0, len(names), _AT_ONCE):
            some = names[start : start + _AT_ONCE]
            there, here = shared.lengths(some), self._own.lengths(some)
            less |= {name for name in some if there.get(name, 0) < here.get(name, 0)}
        return less

    def _call(self, here: str, there: str) -> None:
        """Remember what a batch is called there, by the name that this kitchen calls it."""
        for name in [known for known, own in self._here.items() if own == here] or [here]:
            self._there[name] = there
        self._here.setdefault(there, here)

    def asked(self, ask: Callable[[], T]) -> T:
        """The answer of the shared store, of this kitchen's own where that does not answer."""
        try:
            return ask()
        except _OUT as error:
            if self._shared is None:
                raise
            self._lose(error)
            return ask()

    def _reach(self) -> None:
        """Look for the shared store, and bring it what it has missed."""
        again = self._lost_at > float("-inf")
        try:
            self._shared = Journal(self._address)
        except StoreUnusable as error:
            # Whoever begins must mend a wrong password; who is in mid-batch must not be stopped.
            if not (again or isinstance(error, _OUT)):
                raise
            self._lose(error)
            return
        self._own.alone, self._told_why = False, None
        if again:
            self._tell(f"{self._shared.store} is back.")
        # What was done alone is brought whoever works on it now; the next turn asks.
        for found in self.send():
            self._tell(self._words(found))
        if self._shared is not None:
            at_work = [self._there.get(name, name) for name in self._at_work]
            self._shared.go_on_as(self._own, at_work)

    def _lose(self, error: StoreUnusable) -> None:
        if self._shared is not None:
            self._shared.close()
        why, self._told_why = self._told_why, type(error)
        if self._shared is not None or why is not type(error):
            self._tell(
                f"{error}. Going on in this kitchen's own journal, {self._own.store}; the shared"
                " store gets it when it is back."
            )
        self._shared, self._own.alone, self._lost_at = None, True, self._now()

    def _mirror(self, batch_id: str, found: Events) -> Brought | None:
        try:
            here = bring(self._own, found, self._may_join)
        except StoreUnusable as error:
            self._tell(f"No copy is kept here: {error}")
            return None
        self._here[batch_id] = here.name
        return here

    def _copy(self, batch_id: str, events: Sequence[AnyEvent], seq: int, mark: str | None) -> None:
        name = self._here.get(batch_id, batch_id)
        try:
            self._own.append_all(name, _called(events, name), seq, mark)
        except StoreUnusable as error:
            self._tell(f"No copy is kept here: {error}")


def sentence(found: Brought) -> str:
    """What became of a batch, as it may be shown."""
    many = f"{len(found.added)} event(s)"
    words = {
        "there": f"Batch {found.batch} is there already, as {found.name}, whole.",
        "new": f"Batch {found.batch} is there now, as {found.name}: {many}.",
        "longer": f"Batch {found.name} went on by {many}.",
        "joined": f"Batch {found.name} went on here and there: {many} came to it.",
        "forked": f"Batch {found.batch} went on here and there in ways that don't go together:"
        f" what this kitchen did is kept whole as {found.name}. Look at both, and throw away"
        " what is not in the bottles.",
    }[found.how]
    return f"{words} {relabel(found)}" if found.renamed and found.how != "there" else words


def relabel(found: Brought) -> str:
    """Which labels to replace after a batch got another name."""
    return (
        f"Labels printed for it say lot {found.batch}, which another batch has too: replace them,"
        f" `panside label {found.name}` prints new ones. Until then a recall of {found.batch} finds"
        " both."
    )


def _called(events: Sequence[AnyEvent], name: str) -> list[AnyEvent]:
    """The events, their beginning under the name that the batch has there."""
    first, *rest = events
    return [renamed(first, name) if isinstance(first, Begin) else first, *rest]
