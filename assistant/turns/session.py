"""The wiring: ears' words in, journal and words out. Clock and store are passed in.

One utterance is one turn. What was understood and taken is written to the journal, and synced,
before the reply is handed out, so that what the cook has heard confirmed is never lost.
"""

from contextlib import suppress
from datetime import datetime
from itertools import count
from typing import Literal

from pydantic import BaseModel, ConfigDict

from assistant.base.clock import Clock
from assistant.base.errors import AnotherSession, LeaseLost, WrongUse
from assistant.cook import Batch, Recipe, asked, begin, fold, step
from assistant.cook.reminders import reminders
from assistant.cook.reply import Line, Reply, joined
from assistant.cook.stages import announce
from assistant.facts.asked import Asked
from assistant.facts.events import RULES, AnyEvent, Ask, Begin, Choose, Manner, Note, SayAgain, Stop
from assistant.hear.heard import Heard
from assistant.keep import Journal, next_batch_id
from assistant.say import doubt_line, general, question_line, shown, spoken
from assistant.say.manner import no_voice
from assistant.turns.at_work import AtWork
from assistant.turns.fallback import lost
from assistant.turns.free import SHIPPED, FreeReader, Moment
from assistant.understand import Question, Understood, examples, understand


class Turn(BaseModel):
    """One utterance and what came of it.

    say : the words for the ear; show : the lines for the eye; ended : the cook said stop
    wants : the fruit of another batch that the cook wants to begin, "" where none was named
    """

    model_config = ConfigDict(frozen=True)

    heard: str
    verdict: Literal["take", "ask", "refuse"]
    events: tuple[AnyEvent, ...]
    also: tuple[AnyEvent, ...]
    reason: str
    say: str
    show: tuple[str, ...]
    batch: str
    stage: str | None
    stopped: bool
    ended: bool
    wants: str | None = None


class Session:
    """A cook at work on one batch."""

    def __init__(
        self,
        batch: Batch,
        journal: Journal,
        clock: Clock,
        events: int,
        reader: FreeReader = SHIPPED,
    ) -> None:
        self.batch = batch
        self._journal = journal
        self._clock = clock
        self._events = events
        self._pending: Question | None = None
        self._reminded: set[tuple[str, datetime]] = set()
        self._examples_said: Reply | None = None
        self._reader = reader
        self._subject: Ask | None = None
        self._lost = False
        self._at_work = AtWork(batch.id, journal, clock)

    @classmethod
    def start(cls, recipe: Recipe, journal: Journal, clock: Clock) -> "Session":
        """A new batch, written down before anything is said."""
        at = clock.now()
        body = recipe.model_dump(mode="json")
        for tried in count():
            taken = journal.names(at.date().isoformat())
            event = Begin(at=at, batch=next_batch_id(taken, at.date()), recipe=body, rules=RULES)
            event = event.model_copy(update=clock.tick()._asdict())
            batch, _ = begin(event)
            try:
                journal.append(batch.id, event, 0)
            except AnotherSession:
                # Another kitchen took that name at the same moment.
                if tried == _TRIES:
                    raise
            else:
                break
        session = cls(batch, journal, clock, 1)
        session._at_work.take()
        return session

    @classmethod
    def resume(cls, batch_id: str, journal: Journal, clock: Clock) -> "Session":
        """The batch as the journal has it; WrongUse when it has none of that name."""
        events = journal.events(batch_id)
        if not events:
            raise WrongUse(f"There is no batch {batch_id!r}. `panside batches` lists them.")
        batch, _ = fold(events)
        return cls(batch, journal, clock, len(events))

    @property
    def stopped(self) -> bool:
        """Whether a limit holds the batch."""
        return self.batch.stopped

    def greet(self) -> Turn:
        """What to say before the first utterance: where the batch is and what it wants."""
        if self._at_work.theirs is not None:
            return self.aside("", "ask", self._at_work.question())
        return self._turn("", "take", Reply(lines=announce(self.batch, self._clock.now())))

    def name_fruit(self, fruit: str) -> None:
        """Which fruit it is, where the wish to begin the batch has said so."""
        (event,) = self._counted((Choose(at=self._clock.now(), option="fruit", value=fruit),))
        self._write((event,))
        self.batch, _ = step(self.batch, event)

    def aside(self, heard: str, verdict: Literal["ask", "refuse"], line: Line) -> Turn:
        """A turn that changes nothing and is not the batch's own, beside what it stands at."""
        turn = self._turn(heard, verdict, Reply(lines=(line,)))
        return turn.model_copy(update={"reason": line.id})

    def leave(self) -> None:
        """The input has ended in good order: the journal says so, and the batch waits."""
        if self._at_work.theirs is not None:
            return
        with suppress(LeaseLost):
            self._write(self._counted((Stop(at=self._clock.now()),)))
        self._at_work.leave()

    def remind(self) -> Turn | None:
        """What the cook should hear unasked: a timer run out, a hold or a rest to look after.

        Each is said once. None when there is nothing new, or somebody else works on the batch.
        """
        if self._at_work.theirs is not None:
            return None
        for line, key in reminders(self.batch, self._clock.now()):
            if key not in self._reminded:
                self._reminded.add(key)
                return self._turn("", "take", Reply(lines=(line,)))
        return None

    def follow(self) -> bool:
        """Take in what somebody else has written; whether there was anything."""
        if self._journal.length(self.batch.id) == self._events:
            return False
        self._reload()
        return True

    def asked(self) -> Asked:
        """What the cook is being asked at this moment."""
        return asked(self.batch, self._clock.now())

    @property
    def is_asking(self) -> bool:
        """Whether a question about the last utterance is open."""
        return self._pending is not None or self._at_work.theirs is not None

    def understood(self, heard: Heard) -> Understood:
        """What an utterance comes to here, without acting on it."""
        at = self._clock.now()
        return self._reader.understood(heard, self._moment(at))

    def _moment(self, at: datetime) -> Moment:
        now = asked(self.batch, at)
        return Moment(self.batch, now, at, self._pending, self._subject)

    def expected(self) -> tuple[str, ...]:
        """A few things that can be said now."""
        return examples(self.asked())

    def hear(self, heard: Heard) -> Turn:
        """One utterance: understood, judged, written down, answered.

        Where somebody else works on the batch, it is asked about first. Where somebody has written
        to it meanwhile, it is heard by what the batch is now, unless that asks for something else.
        """
        if self._at_work.theirs is not None:
            return self._joining(heard)
        if self.batch.stage is not None and not self._at_work.take():
            return self._not_ours(heard)
        try:
            turn = self._heard(heard)
        except LeaseLost as lost:
            self._at_work.lose(lost.lease)
            return self._not_ours(heard)
        except AnotherSession:
            stage = self.batch.stage
            self._reload()
            if self.batch.stage != stage:
                return self._went_on(heard)
            turn = self._heard(heard)
        if turn.ended:
            self._at_work.leave()
        return turn

    def _went_on(self, heard: Heard) -> Turn:
        """ "Done" was meant for the stage that the cook knew of."""
        line = Line(id="lease.went_on", rank="question", facts={"said": heard.text})
        lines = (line, *announce(self.batch, self._clock.now()))
        turn = self._turn(heard.text, "ask", Reply(lines=lines))
        return turn.model_copy(update={"reason": line.id})

    def _not_ours(self, heard: Heard) -> Turn:
        self._at_work.keep(heard.text)
        return self.aside(heard.text, "ask", self._at_work.question())

    def _joining(self, heard: Heard) -> Turn:
        """What is said while somebody else works on the batch: joining, leaving, or kept."""
        at = self._clock.now()
        found = understand(heard, Asked(yes_no=True), at)
        kinds = {event.kind for event in found.events}
        if "yes" in kinds:
            return self._join(heard)
        if kinds & {"no", "stop"}:
            self._at_work.forget()
            turn = self.aside(heard.text, "refuse", self._at_work.left())
            return turn.model_copy(update={"ended": "stop" in kinds})
        if heard.engine != "typed" and found.reason in _NOT_FOR_US:
            return self._turn(heard.text, "refuse", Reply(), found)
        return self._not_ours(heard)

    def _join(self, heard: Heard) -> Turn:
        kept = self._at_work.join()
        self._reload()
        lines = [Line(id="lease.joined", rank="answer")]
        if kept:
            at = self._clock.now()
            notes = tuple(Note(at=at, heard=said, text=said) for said in kept)
            self._write(self._counted(notes))
            self._reload()
            said = "; ".join(f"“{one}”" for one in kept)
            lines.append(Line(id="lease.noted", rank="caution", facts={"said": said}))
        lines += announce(self.batch, self._clock.now())
        turn = self._turn(heard.text, "take", Reply(lines=tuple(lines)))
        return turn.model_copy(update={"reason": lines[0].id})

    def _reload(self) -> None:
        """The batch as the journal has it now."""
        events = self._journal.events(self.batch.id)
        self.batch, _ = fold(events)
        self._events, self._pending = len(events), None

    def _heard(self, heard: Heard) -> Turn:
        found = self.understood(heard)
        pending, self._pending = self._pending, None
        if found.verdict == "take":
            return self._take(heard, found)
        if found.doubt:
            return self._turn(
                heard.text, "ask", Reply(lines=(doubt_line(found.doubt, found.facts),)), found
            )
        if found.verdict == "ask" and found.question is not None:
            self._pending = found.question
            line = question_line(found.question)
            return self._turn(heard.text, "ask", Reply(lines=(line,)), found)
        if heard.engine != "typed" and found.reason in _NOT_FOR_US:
            self._pending = pending
            return self._turn(heard.text, "refuse", Reply(), found)
        return self._turn(heard.text, "refuse", self._not_taken(heard, found), found)

    def _not_taken(self, heard: Heard, found: Understood) -> Reply:
        if found.reason == "not_now":
            return Reply(lines=(general.NOT_NOW,))
        again, self._lost = self._lost, True
        return lost(heard, self._reader, self._moment(self._clock.now()), again)

    def _take(self, heard: Heard, found: Understood) -> Turn:
        """The events of one utterance are written together, up to one that a limit refuses.

        "Two kilos of figs" must not go on as two kilos of some fruit or other.
        """
        batch = self.batch
        taken: list[AnyEvent] = []
        replies: list[Reply] = []
        events = tuple(e for e in found.events if not isinstance(e, Begin))
        begins = len(events) < len(found.events)
        if begins and not self._may_be_this(events):
            return self._wants_another(heard, found, events)
        for event in self._counted(self._as_a_whole(events)):
            taken.append(event)
            if isinstance(event, Manner):
                replies.append(Reply(lines=(no_voice(),)))
                continue
            batch, reply = step(batch, event)
            replies.append(self._with_examples(reply, event))
            if any(line.rank == "limit" for line in reply.lines):
                break
        self._write(tuple(event for event in taken if not isinstance(event, Manner)))
        self.batch = batch
        self._lost = False
        self._subject = next((e for e in reversed(taken) if isinstance(e, Ask)), None)
        found = found.model_copy(update={"events": tuple(taken)})
        return self._turn(heard.text, "take", joined(replies), found)

    def _as_a_whole(self, events: tuple[AnyEvent, ...]) -> tuple[AnyEvent, ...]:
        """Which fruit it is counts only with its weight: "one kilo of plums", said too late, is
        no reason to take the raspberries in the pan for plums."""
        if len(events) != 2 or not isinstance(events[0], Choose):
            return events
        chosen, reply = step(self.batch, events[0])
        if chosen.held and self.batch.start is None:
            return events[:1]
        weighed, _ = step(chosen, events[1])
        refused = any(line.rank == "limit" for line in reply.lines)
        return events if refused or weighed.before is chosen else events[1:]

    def _may_be_this(self, events: tuple[AnyEvent, ...]) -> bool:
        """Whether "start a batch of raspberry" can mean the batch that has only just begun."""
        fresh = self.batch.start is None and self.batch.fruit is None
        return fresh and _fruit(events) in self.batch.recipe.fruits

    def _wants_another(self, heard: Heard, found: Understood, events: tuple[AnyEvent, ...]) -> Turn:
        """Another batch is not this one's business: nothing is written, the wish is handed on."""
        reply = Reply(lines=(Line(id="already_begun", rank="answer"),))
        nothing = found.model_copy(update={"events": ()})
        turn = self._turn(heard.text, "take", reply, nothing)
        return turn.model_copy(update={"wants": _fruit(events)})

    def _counted(self, events: tuple[AnyEvent, ...]) -> tuple[AnyEvent, ...]:
        """The events with what the clock counted, besides the time on the wall."""
        counted = self._clock.tick()._asdict()
        return tuple(event.model_copy(update=counted) for event in events)

    def _write(self, events: tuple[AnyEvent, ...]) -> None:
        self._journal.append_all(self.batch.id, events, self._events)
        self._events += len(events)

    def _with_examples(self, reply: Reply, event: AnyEvent) -> Reply:
        """What can be said now comes from the grammar, which cook knows nothing of."""
        if isinstance(event, SayAgain):
            return self._examples_said or reply
        self._examples_said = None
        if not (isinstance(event, Ask) and event.topic == "say_what"):
            return reply
        said = ", or ".join(self.expected())
        line = Line(id="general.say_what", rank="answer", facts={"examples": said})
        self._examples_said = Reply(lines=(line,), stopped=reply.stopped)
        return self._examples_said

    def _turn(
        self,
        heard: str,
        verdict: Literal["take", "ask", "refuse"],
        reply: Reply,
        found: Understood | None = None,
    ) -> Turn:
        events = found.events if found else ()
        return Turn(
            heard=heard,
            verdict=verdict,
            events=events if verdict == "take" else (),
            also=found.also if found else (),
            reason=found.reason if found else "",
            say=spoken(reply),
            show=tuple(shown(reply)),
            batch=self.batch.id,
            stage=self.batch.stage.id if self.batch.stage else self.batch.ended,
            stopped=self.stopped,
            ended=any(isinstance(e, Stop) for e in events),
        )


BY_ANOTHER = ("lease.joined", "lease.went_on")
"""Reasons of turns with which the batch has become what somebody else has written."""
_TRIES = 5
"""So often a name for a new batch is tried again."""
_NOT_FOR_US = ("chatter", "partial")
"""Talk that is not for the tool gets no answer, and an open question stays open."""


def _fruit(events: tuple[AnyEvent, ...]) -> str:
    return next((e.value for e in events if isinstance(e, Choose)), "")
