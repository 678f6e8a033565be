"""The batches at work on a desk: how they come and go, and how one is given what is for it."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime

from assistant.base.clock import Clock
from assistant.cook import Batch, Recipe
from assistant.cook.reply import Line
from assistant.cook.whose import can_be_called, has_timer_for, may_be_for
from assistant.facts.events import AnyEvent, Reading
from assistant.keep import Journal
from assistant.turns.arriving import TWIN_S
from assistant.turns.free import FreeReader
from assistant.turns.naming import all_names, either, own_names
from assistant.turns.session import Session
from assistant.turns.turn import Turn
from assistant.turns.utterance import Utterance
from assistant.turns.when import just_now, said_at


class Batches:
    """Batches at work, in the order in which they came."""

    def __init__(self, journal: Journal, clock: Clock, reader: FreeReader) -> None:
        self._journal, self._clock, self._reader = journal, clock, reader
        self._sessions: dict[str, Session] = {}
        self._moved: dict[str, tuple[str, datetime]] = {}

    def __iter__(self) -> Iterator[Session]:
        return iter(tuple(self._sessions.values()))

    def __len__(self) -> int:
        return len(self._sessions)

    def __getitem__(self, batch_id: str) -> Session:
        return self._sessions[batch_id]

    @property
    def batches(self) -> tuple[Batch, ...]:
        """Their states."""
        return tuple(session.batch for session in self)

    @property
    def last(self) -> Session | None:
        """The one that came last."""
        return next(reversed(self._sessions.values()), None)

    def begin(self, recipe: Recipe, fruit: str, mark: str | None = None) -> Session:
        """A new batch, written down before anything is said."""
        now = just_now(self._clock)
        session = Session.start(recipe, self._journal, now, self._reader, mark)
        if fruit:
            session.name_fruit(fruit, just_now(self._clock))
        self._sessions[session.batch.id] = session
        return session

    def open(self, batch_id: str) -> Session:
        """A batch of the journal; WrongUse when there is none of that name."""
        if batch_id not in self._sessions:
            self._sessions[batch_id] = self._resumed(batch_id)
        return self._sessions[batch_id]

    def put_away(self, batch_id: str) -> Session | None:
        """A batch is at work no more."""
        gone = self._sessions.pop(batch_id, None)
        if gone is not None:
            gone.let_go()
        return gone

    def leave(self, but: Session | None = None, untouched: bool = True) -> None:
        """They all wait from now on; `untouched` ones too, that nobody worked on here."""
        for session in self:
            if session is not but and (untouched or session.worked_on_unended):
                session.leave(just_now(self._clock))

    def give(self, session: Session, said: Utterance) -> Turn:
        """What is for a batch, judged and written down, or held back."""
        seen = said.stage if said.batch in (None, session.batch.id) else None
        if self._is_over(session, said, seen):
            return self._late(session, said)
        stage = session.stage
        when = said_at(self._clock, said.at, session.last_at)
        session.others = tuple(each.batch for each in self if each is not session)
        turn = session.hear(said.heard, when, said.id or None)
        if session.stage != stage:
            self._moved[session.batch.id] = (said.device, self._clock.now())
        return turn

    def record(self, batch_id: str, event: AnyEvent) -> Turn:
        """One fact that comes without words; the batch need not be at work."""
        session = self._sessions.get(batch_id)
        if session is None:
            session = self._resumed(batch_id)
        return session.record(event, just_now(self._clock))

    def known(self, said: Utterance) -> Turn | None:
        """The turn of a message that stands in the journal already."""
        if not said.id:
            return None
        names = [session.batch.id for session in self]
        held = self._journal.marked(names, said.id) if names else ()
        marked = (s for s in self if s.batch.id in held)
        return next((s.again(said.heard.text) for s in marked), None)

    def follow(self) -> tuple[str, ...]:
        """Take in what other programs have written: to which batches.

        It is asked once for all: with many kitchens somebody writes at every moment.
        """
        held = self._journal.lengths([session.batch.id for session in self])
        return tuple(s.batch.id for s in self if s.follow(held.get(s.batch.id, 0)))

    def waiting_for(self, events: Sequence[AnyEvent]) -> tuple[Session, ...]:
        """The batches that are asking for just such a reading, or have such a timer to stop."""
        whats = {event.what for event in events if isinstance(event, Reading)}
        now = self._clock.now()
        asking = (s for s in self if any(a.what in whats for a in s.asked(now).awaited[:1]))
        waiting = [s for s in asking if may_be_for(s.batch, events)]
        return tuple(s for s in self if s in waiting or has_timer_for(s.batch, events))

    def names(self) -> dict[str, tuple[str, ...]]:
        """By id, what each goes by."""
        return all_names(self.batches)

    def fruits(self) -> dict[str, tuple[str, ...]]:
        """By id, the fruits by which each can be meant."""
        return {
            s.batch.id: tuple(f.replace("-", " ") for f in can_be_called(s.batch)) for s in self
        }

    def either(self, sessions: Iterable[Session] | None = None) -> str:
        """Their names as one is asked which."""
        own = own_names(self.batches)
        return either([own[s.batch.id] for s in (self if sessions is None else sessions)])

    def told(self, session: Session, turn: Turn) -> Turn:
        """The turn with its batch's name before it, where there are several."""
        if len(self) < 2:
            return turn
        name = own_names(self.batches).get(session.batch.id, "")
        told = tuple(each.model_copy(update={"name": name}) for each in turn.told)
        return turn.model_copy(update={"told": told})

    def _resumed(self, batch_id: str) -> Session:
        return Session.resume(batch_id, self._journal, self._clock.now(), self._reader)

    def _is_over(self, session: Session, said: Utterance, seen: str | None) -> bool:
        """Whether the stage is over that the sender saw, or must have seen."""
        if seen is not None:
            return seen != session.stage
        device, at = self._moved.get(session.batch.id, (said.device, None))
        if not said.spoken or at is None or device == said.device:
            return False
        return (self._clock.now() - at).total_seconds() < TWIN_S

    def _late(self, session: Session, said: Utterance) -> Turn:
        line = Line(id="late.moved", rank="answer")
        return session.late(said.heard.text, line, self._clock.now())
