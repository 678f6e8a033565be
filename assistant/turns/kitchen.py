"""Several batches at work at once, one of them in hand.

An utterance goes to the batch it names ("for the raspberry, sixty-eight degrees"), else to the one
in hand. Where an unnamed one could be meant for another batch too, it is asked about: a
temperature in the wrong pan is worse than a question. Who has just named a batch and nothing more
means it with what comes next.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import chain

from assistant.base.errors import WrongUse
from assistant.cook import Batch
from assistant.cook.reply import Line
from assistant.facts.asked import Asked
from assistant.facts.events import AnyEvent, Ask, Reading, SayAgain
from assistant.hear.heard import Heard
from assistant.turns.session import Session, Turn
from assistant.understand import Understood
from assistant.understand.addressed import Addressed, addressed, fruit_without_batch

_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")


@dataclass(frozen=True)
class _Open:
    """The question which batch something was for: the words, and the batches it can be."""

    heard: Heard
    sessions: tuple[Session, ...]


class Kitchen:
    """A cook at work on one batch or several.

    sessions : at least one; the last is in hand
    begin : a new session for a fruit's key, WrongUse with a sentence when there is no recipe; None
        where no batch can be begun here
    """

    def __init__(
        self, sessions: Sequence[Session], begin: Callable[[str], Session] | None = None
    ) -> None:
        self.sessions = list(sessions)
        self.in_hand = self.sessions[-1]
        self._begin = begin
        self._which: _Open | None = None
        self._called: Session | None = None
        self._turned_to = False

    @property
    def batch(self) -> Batch:
        """The batch in hand."""
        return self.in_hand.batch

    @property
    def stopped(self) -> tuple[Batch, ...]:
        """The batches that a limit holds."""
        return tuple(s.batch for s in self.sessions if s.stopped)

    def greet(self) -> Turn:
        """What to say before the first utterance, for the batch in hand."""
        return self._told(self.in_hand, self.in_hand.greet())

    def leave(self) -> None:
        """The input has ended in good order; every batch waits."""
        for session in self.sessions:
            session.leave()

    def remind(self) -> Turn | None:
        """What the cook should hear unasked about any batch, the one in hand first."""
        for session in self._in_hand_first():
            turn = session.remind()
            if turn is not None:
                self._called = session if session is not self.in_hand else None
                return self._told(session, turn)
        return None

    def asked(self) -> Asked:
        """What the cook is being asked about the batch in hand."""
        return self.in_hand.asked()

    def expected(self) -> tuple[str, ...]:
        """A few things that can be said now."""
        return self.in_hand.expected()

    def hear(self, heard: Heard) -> Turn:
        """One utterance: given to its batch, judged, written down, answered."""
        which, self._which = self._which, None
        just_named, self._turned_to = self._turned_to, False
        to = addressed(heard, self._names())
        if self._is_choice(to):
            return self._hear(self.in_hand, heard)
        if to.to:
            return self._named(to, which)
        missing = fruit_without_batch(heard)
        if missing:
            facts = {"fruit": missing, "batches": self._all()}
            line = Line(id="kitchen.not_at_work", rank="question", facts=facts)
            return self.in_hand.aside(heard.text, "ask", line)
        return self._hear(self.in_hand, heard) if just_named else self._unnamed(heard)

    def _named(self, to: Addressed, which: _Open | None) -> Turn:
        found = tuple(s for s in self.sessions if s.batch.id in to.to)
        if which is not None and not to.rest.text:
            found = tuple(s for s in which.sessions if s in found) or found
            to = to.model_copy(update={"rest": which.heard})
        if len(found) > 1:
            return self._ask_which(to.rest, found)
        self.in_hand, self._called = found[0], None
        if to.rest.text:
            return self._hear(found[0], to.rest)
        self._turned_to = True
        return self._told(found[0], found[0].greet())

    def _unnamed(self, heard: Heard) -> Turn:
        called, self._called = self._called, None
        if len(self.sessions) > 1 and not self.in_hand.is_asking:
            meant = self.in_hand.understood(heard)
            rivals = self._rivals(meant, called)
            if rivals:
                return self._ask_which(heard, (self.in_hand, *rivals))
        return self._hear(self.in_hand, heard)

    def _rivals(self, meant: Understood, called: Session | None) -> tuple[Session, ...]:
        """Other batches that what was said could be for."""
        candidates = meant.question.candidates if meant.question else ()
        events = tuple(chain(meant.events, *candidates))
        if not events or all(isinstance(e, Ask | SayAgain) for e in events):
            return ()
        others = [s for s in self.sessions if s is not self.in_hand]
        return tuple(s for s in others if s is called or _waits_for(s, events))

    def _hear(self, session: Session, heard: Heard) -> Turn:
        turn = session.hear(heard)
        if turn.wants is not None:
            return self._another(turn)
        if turn.ended:
            for other in self.sessions:
                if other is not session:
                    other.leave()
        if any(isinstance(e, Ask) and e.about == "everything" for e in turn.events):
            return self._everything(turn)
        return self._told(session, turn)

    def _another(self, turn: Turn) -> Turn:
        """Another batch is begun, unless nobody can tell of what."""
        if self._begin is None or not turn.wants:
            return self._told(self.in_hand, turn)
        try:
            session = self._begin(turn.wants)
        except WrongUse:
            line = Line(id="kitchen.no_recipe", rank="answer", facts={"fruit": turn.wants})
            return self.in_hand.aside(turn.heard, "refuse", line)
        self.sessions.append(session)
        self.in_hand, self._turned_to = session, True
        return self._told(session, session.greet().model_copy(update={"heard": turn.heard}))

    def _everything(self, turn: Turn) -> Turn:
        """Where every batch is, the one in hand last, since its stage is asked for now."""
        others = [self._told(s, s.greet()) for s in self.sessions if s is not self.in_hand]
        told = [*others, self._told(self.in_hand, turn)]
        say = " ".join(each.say for each in told)
        show = tuple(chain.from_iterable(each.show for each in told))
        return turn.model_copy(update={"say": say, "show": show})

    def _ask_which(self, heard: Heard, sessions: tuple[Session, ...]) -> Turn:
        self._which = _Open(heard, sessions)
        facts = {"batches": self._all(sessions)}
        line = Line(id="kitchen.which_batch", rank="question", facts=facts)
        return self.in_hand.aside(heard.text, "ask", line)

    def _told(self, session: Session, turn: Turn) -> Turn:
        """The turn with its batch's name before it, where there are several."""
        if len(self.sessions) == 1 or not turn.say:
            return turn
        name = self._own_name(session)
        show = tuple(f"{name}: {line}" for line in turn.show)
        say = f"{name[:1].upper()}{name[1:]}: {turn.say}"
        return turn.model_copy(update={"say": say, "show": show})

    def _is_choice(self, to: Addressed) -> bool:
        """A bare fruit's name answers which fruit it is, where that is being asked."""
        return to.bare and bool(self.in_hand.asked().options) and self.batch.fruit is None

    def _in_hand_first(self) -> tuple[Session, ...]:
        return (self.in_hand, *(s for s in self.sessions if s is not self.in_hand))

    def _names(self) -> dict[str, tuple[str, ...]]:
        return {s.batch.id: (self._own_name(s), *_goes_by(s.batch)) for s in self.sessions}

    def _own_name(self, session: Session) -> str:
        """Its fruit or its recipe, with a number where another batch goes by that too."""
        name = _goes_by(session.batch)[0]
        same = [s for s in self.sessions if _goes_by(s.batch)[0] == name]
        if len(same) == 1:
            return name
        place = same.index(session)
        return f"{_ORDINALS[place]} {name}" if place < len(_ORDINALS) else session.batch.id

    def _all(self, sessions: Sequence[Session] = ()) -> str:
        return " or ".join(f"the {self._own_name(s)}" for s in sessions or self.sessions)


def _goes_by(batch: Batch) -> tuple[str, ...]:
    """What a batch is called: its fruit, or its recipe where no fruit has been named."""
    recipe = batch.recipe.name.replace("-", " ")
    fruit = batch.fruit or (batch.recipe.fruits[0] if len(batch.recipe.fruits) == 1 else None)
    return (fruit.replace("-", " "), recipe) if fruit else (recipe,)


def _waits_for(session: Session, events: tuple[AnyEvent, ...]) -> bool:
    """Whether that batch is asking for just such a reading."""
    awaited = session.asked().awaited[:1]
    whats = {e.what for e in events if isinstance(e, Reading)}
    return any(a.what in whats for a in awaited)
