"""The desk: where every word comes in, from whichever front, and every answer goes out.

Several batches may be at work at once. An utterance goes to the batch it names ("for the raspberry,
sixty-eight degrees"), else to the one in hand. Where an unnamed one could be meant for another
batch too, it is asked about: a temperature in the wrong pan is worse than a question. Who has just
named a batch and nothing more means it with what comes next.

Whoever speaks or types has seen a stage. Words that were meant for a stage which somebody else has
finished meanwhile are held back, so that two cooks who both say "done" do not skip one.
"""

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from itertools import chain

from assistant.base.clock import Clock
from assistant.base.errors import WrongUse
from assistant.cook import Batch, Recipe
from assistant.cook.reply import Line, Reply
from assistant.cook.whose import has_timer_for
from assistant.facts.asked import Asked
from assistant.facts.events import AnyEvent, Ask, SayAgain
from assistant.hear.heard import Ears, Heard
from assistant.keep import Journal
from assistant.turns.arriving import Arrivals, is_too_old
from assistant.turns.batches import Batches
from assistant.turns.free import SHIPPED, FreeReader
from assistant.turns.lead import Lead
from assistant.turns.session import Session
from assistant.turns.turn import Told, Turn
from assistant.turns.utterance import Utterance
from assistant.turns.when import said_at
from assistant.understand import Question, Understood
from assistant.understand.addressed import Addressed, addressed, fruit_without_batch

MOST_TALKS = 64
"""Devices whose talk is remembered; a page that comes back is a new one."""


@dataclass(frozen=True)
class _Open:
    """The question which batch something was for: the words, and the batches it can be."""

    said: Utterance
    sessions: tuple[Session, ...]


@dataclass
class _Talk:
    """Where one device's talk stands: the batch in hand, and whether it has just been named."""

    in_hand: Session
    which: _Open | None = None
    turned_to: bool = False


class Desk:
    """Cooks at work on one batch or several. One utterance at a time; blocking.

    recipe_of : the recipe for a fruit's key, WrongUse with a sentence where there is none; None
        where no batch can be begun by word
    recipes : all recipes, to lead from a wish to a batch while there is none on the desk; None
        where there must be one
    reader : understands what is said to a batch; the place where another kind of understanding,
        or another source of answers, is plugged in
    """

    def __init__(
        self,
        journal: Journal,
        clock: Clock,
        recipe_of: Callable[[str], Recipe] | None = None,
        reader: FreeReader = SHIPPED,
        recipes: Callable[[], tuple[Recipe, ...]] | None = None,
    ) -> None:
        self._clock, self._recipe_of = clock, recipe_of
        self._lead = Lead(journal, recipes, recipe_of) if recipes and recipe_of else None
        self._batches = Batches(journal, clock, reader)
        self._talks: OrderedDict[str, _Talk] = OrderedDict()
        self._called: Session | None = None
        self._arrivals = Arrivals()

    def begin(self, recipe: Recipe, fruit: str = "", mark: str | None = None) -> Batch:
        """A new batch, written down before anything is said.

        mark : id of the message that wished for it, written along
        """
        return self._batches.begin(recipe, fruit, mark).batch

    def open(self, batch_id: str) -> Batch:
        """A batch that is in the journal is gone on with; WrongUse when there is none."""
        return self._batches.open(batch_id).batch

    def put_away(self, batch_id: str) -> None:
        """A batch is not talked about here any more."""
        gone = self._batches.put_away(batch_id)
        for device in [d for d, talk in self._talks.items() if talk.in_hand is gone]:
            del self._talks[device]

    @property
    def batches(self) -> tuple[Batch, ...]:
        """All batches on the desk, in the order in which they came."""
        return self._batches.batches

    @property
    def stopped(self) -> tuple[Batch, ...]:
        """The batches that a limit holds."""
        return tuple(session.batch for session in self._batches if session.stopped)

    def written(self, batch_id: str) -> int:
        """How many events have made a batch."""
        return self._batches[batch_id].events

    def question(self, batch_id: str) -> Question | None:
        """The question about a batch that is open."""
        return self._batches[batch_id].open_question

    def in_hand(self, device: str = "") -> Batch:
        """The batch that a device talks about."""
        return self._talk(device).in_hand.batch

    def switch(self, batch_id: str, device: str = "") -> None:
        """From now on a device talks about this batch."""
        session = self._batches.open(batch_id)
        self._talk(device).in_hand = session

    def asked(self, device: str = "") -> Asked:
        """What the cook is being asked about the batch in hand."""
        return self._talk(device).in_hand.asked(self._clock.now())

    def expected(self, batch_id: str = "", device: str = "") -> tuple[str, ...]:
        """A few things that can be said now about a batch, the one in hand where left out."""
        session = self._batches[batch_id] if batch_id else self._talk(device).in_hand
        return session.expected(self._clock.now())

    def greet(self, device: str = "") -> Turn:
        """What to say before the first utterance, for the batch in hand."""
        if self._lead is not None and not self._batches:
            return _without_batch("", self._lead.ask())
        return self._where(self._talk(device).in_hand)

    def remind(self, device: str = "") -> Turn | None:
        """What the cook should hear unasked about any batch, the one in hand first."""
        if not self._batches:
            return None
        in_hand, now = self._talk(device).in_hand, self._clock.now()
        for session in (in_hand, *(s for s in self._batches if s is not in_hand)):
            turn = session.remind(now)
            if turn is not None:
                self._called = session
                return self._batches.told(session, turn)
        return None

    def follow(self) -> tuple[str, ...]:
        """Take in what other programs have written: to which batches."""
        return self._batches.follow()

    def leave(self, untouched: bool = True) -> None:
        """The input has ended in good order; every batch waits.

        untouched : also those that nobody worked on here
        """
        self._batches.leave(untouched=untouched)

    def take(self, said: Utterance) -> Turn:
        """One utterance: given to its batch, judged, written down, answered.

        It counts once, however often it is sent. StoreUnusable when it could not be written down;
        it then counts as never said.
        """
        if self._lead is not None and not self._batches and said.batch is None:
            return self._led(self._lead, said)
        talk = self._talk_of(said)
        known = self._arrivals.answered(said.id) or self._batches.known(said)
        if known is not None:
            return known
        turn = self._held_back(talk, said) or self._heard(talk, said)
        self._arrivals.remember(said.id, turn)
        return turn

    def weighed(self, said: Utterance, ears: Ears) -> Utterance:
        """An utterance with what its ears can tell of the words that it may be mistaken for.

        Without it a number that two engines heard is asked back.
        """
        to = addressed(said.heard, self._batches.names())
        named = [session for session in self._batches if session.batch.id in to.to]
        session = named[0] if named else self._talk_of(said).in_hand
        rivals = session.rivals(to.rest, self._clock.now())
        if rivals is None:
            return said
        return said.model_copy(update={"heard": ears.weigh(said.heard, rivals)})

    def meant(self, said: Utterance) -> Understood:
        """What an utterance comes to for the batch in hand, without acting on it."""
        return self._talk_of(said).in_hand.understood(said.heard, self._clock.now())

    def record(self, batch_id: str, event: AnyEvent) -> Turn:
        """One fact that comes without words, by a command or a tap: the same way to the journal.

        The batch need not be on the desk. The verdict is "refuse", and nothing is written, where
        the event does not fit.
        """
        return self._batches.record(batch_id, event)

    def _led(self, lead: Lead, said: Utterance) -> Turn:
        """One step from a wish to a batch; what was told of its fruit is asked about at once."""
        now = self._clock.now()
        if lead.is_over(said.heard, now):
            over = _without_batch(said.heard.text, Line(id="lead.none", rank="answer"))
            return over.model_copy(update={"verdict": "take", "ended": True})
        found = lead.hear(said.heard, now)
        if isinstance(found, Line):
            return _without_batch(said.heard.text, found)
        session = self._batches.begin(found.recipe, found.fruit, said.id or None)
        early = Heard.typed(found.said) if found.said else None
        turn = session.greet(self._clock.now(), early)
        return turn.model_copy(update={"heard": said.heard.text})

    def _held_back(self, talk: _Talk, said: Utterance) -> Turn | None:
        now, session = self._clock.now(), talk.in_hand
        if self._arrivals.is_twin(said, now):
            return session.aside(said.heard.text, "twice")
        if not is_too_old(said, now):
            return None
        line = Line(id="late.waited", rank="answer")
        return self._batches.told(session, session.late(said.heard.text, line, now))

    def _heard(self, talk: _Talk, said: Utterance) -> Turn:
        which, talk.which = talk.which, None
        just_named, talk.turned_to = talk.turned_to, False
        to = addressed(said.heard, self._batches.names())
        if which is not None and not to.to:
            to = addressed(said.heard, self._batches.fruits())
        if self._is_choice(talk, to):
            return self._give(talk, said)
        if to.to:
            return self._named(talk, said, to, which)
        missing = fruit_without_batch(said.heard)
        if missing:
            facts = {"fruit": missing, "batches": self._batches.either()}
            line = Line(id="kitchen.not_at_work", rank="question", facts=facts)
            return talk.in_hand.aside(said.heard.text, "ask", line)
        sees_it = said.batch is not None and said.stage is not None
        return self._give(talk, said) if just_named or sees_it else self._unnamed(talk, said)

    def _named(self, talk: _Talk, said: Utterance, to: Addressed, which: _Open | None) -> Turn:
        found = tuple(s for s in self._batches if s.batch.id in to.to)
        rest = said.model_copy(update={"heard": to.rest})
        if which is not None and not to.rest.text:
            found = tuple(s for s in which.sessions if s in found) or found
            rest = said.model_copy(update={"heard": which.said.heard, "at": which.said.at})
        if len(found) > 1:
            return self._ask_which(talk, rest, found)
        talk.in_hand, self._called = found[0], None
        if rest.heard.text:
            return self._give(talk, rest)
        talk.turned_to = True
        return self._where(found[0])

    def _unnamed(self, talk: _Talk, said: Utterance) -> Turn:
        called, self._called = self._called, None
        if len(self._batches) > 1 and not talk.in_hand.is_asking:
            meant = talk.in_hand.understood(said.heard, self._clock.now())
            rivals = self._rivals(talk, meant, called)
            if len(rivals) == 1 and self._is_its_timer(talk, rivals[0], meant):
                return self._batches.told(rivals[0], self._batches.give(rivals[0], said))
            if rivals:
                return self._ask_which(talk, said, (talk.in_hand, *rivals))
        return self._give(talk, said)

    def _is_its_timer(self, talk: _Talk, other: Session, meant: Understood) -> bool:
        """Whether a timer is to be stopped that only the other batch has."""
        here = has_timer_for(talk.in_hand.batch, meant.events)
        return not here and has_timer_for(other.batch, meant.events)

    def _rivals(
        self, talk: _Talk, meant: Understood, called: Session | None
    ) -> tuple[Session, ...]:
        """Other batches that what was said could be for."""
        candidates = meant.question.candidates if meant.question else ()
        events = tuple(chain(meant.events, *candidates))
        if not events or all(isinstance(e, Ask | SayAgain) for e in events):
            return ()
        rivals = (*self._batches.waiting_for(events), called)
        return tuple(s for s in self._batches if s in rivals and s is not talk.in_hand)

    def _ask_which(self, talk: _Talk, said: Utterance, sessions: tuple[Session, ...]) -> Turn:
        at = said_at(self._clock, said.at, talk.in_hand.last_at).at
        talk.which = _Open(said.model_copy(update={"at": at}), sessions)
        facts = {"batches": self._batches.either(sessions)}
        line = Line(id="kitchen.which_batch", rank="question", facts=facts)
        return talk.in_hand.aside(said.heard.text, "ask", line)

    def _give(self, talk: _Talk, said: Utterance) -> Turn:
        """Something is for the batch in hand."""
        session = talk.in_hand
        turn = self._batches.give(session, said)
        if turn.wants is not None:
            return self._another(talk, turn)
        if turn.ended:
            self._batches.leave(but=session)
        if any(isinstance(e, Ask) and e.about == "everything" for e in turn.events):
            return self._everything(talk, turn)
        return self._batches.told(session, turn)

    def _another(self, talk: _Talk, turn: Turn) -> Turn:
        """Another batch is begun, unless nobody can tell of what."""
        if self._recipe_of is None or not turn.wants:
            return self._batches.told(talk.in_hand, turn)
        try:
            recipe = self._recipe_of(turn.wants)
        except WrongUse:
            line = Line(id="kitchen.no_recipe", rank="answer", facts={"fruit": turn.wants})
            return talk.in_hand.aside(turn.heard, "refuse", line)
        talk.in_hand, talk.turned_to = self._batches.begin(recipe, turn.wants), True
        return self._where(talk.in_hand).model_copy(update={"heard": turn.heard})

    def _everything(self, talk: _Talk, turn: Turn) -> Turn:
        """Where every batch is, the one in hand last, since its stage is asked for now."""
        told = [self._where(s) for s in self._batches if s is not talk.in_hand]
        told.append(self._batches.told(talk.in_hand, turn))
        return turn.model_copy(update={"told": tuple(chain.from_iterable(t.told for t in told))})

    def _where(self, session: Session) -> Turn:
        """Where a batch is and what it wants."""
        return self._batches.told(session, session.greet(self._clock.now()))

    def _talk_of(self, said: Utterance) -> _Talk:
        """The talk of the device; a sender who sees a batch means that one."""
        if said.batch is None:
            return self._talk(said.device)
        seen = self._batches.open(said.batch)
        talk = self._talk(said.device, seen)
        talk.in_hand = seen
        return talk

    def _talk(self, device: str, begins_with: Session | None = None) -> _Talk:
        if device not in self._talks:
            last = begins_with or self._batches.last
            if last is None:
                raise WrongUse("There is no batch on the desk: begin one, or go on with one.")
            self._talks[device] = _Talk(last)
            while len(self._talks) > MOST_TALKS:
                self._talks.popitem(last=False)
        return self._talks[device]

    def _is_choice(self, talk: _Talk, to: Addressed) -> bool:
        """A bare fruit's name answers which fruit it is, where that is being asked."""
        asks = talk.in_hand.asked(self._clock.now()).options
        return to.bare and bool(asks) and talk.in_hand.batch.fruit is None


def _without_batch(heard: str, line: Line) -> Turn:
    """A question that is about no batch yet."""
    told = (Told(reply=Reply(lines=(line,))),)
    return Turn(heard=heard, verdict="ask", told=told, batch="", stage=None, stopped=False)
