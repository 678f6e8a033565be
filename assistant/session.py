"""The wiring: ears' words in, journal and words out. Clock and store are passed in.

One utterance is one turn. What was understood and taken is written to the journal, and synced,
before the reply is handed out, so that what the cook has heard confirmed is never lost.
"""

from datetime import datetime
from typing import Literal

from pydantic import BaseModel, ConfigDict

from assistant.asked import Asked
from assistant.clock import Clock
from assistant.cook import Batch, Recipe, asked, begin, fold, step
from assistant.cook.reminders import reminders
from assistant.cook.reply import Line, Reply
from assistant.cook.stages import announce
from assistant.errors import WrongUse
from assistant.events import AnyEvent, Ask, Begin, Stop
from assistant.hear.heard import Heard
from assistant.keep import Journal, next_batch_id
from assistant.say import general, question_line, shown, spoken
from assistant.understand import Question, Understood, examples, understand


class Turn(BaseModel):
    """One utterance and what came of it.

    say : the words for the ear; show : the lines for the eye; ended : the cook said stop
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


class Session:
    """A cook at work on one batch."""

    def __init__(self, batch: Batch, journal: Journal, clock: Clock, events: int) -> None:
        self.batch = batch
        self._journal = journal
        self._clock = clock
        self._events = events
        self._pending: Question | None = None
        self._reminded: set[tuple[str, datetime]] = set()

    @classmethod
    def start(cls, recipe: Recipe, journal: Journal, clock: Clock) -> "Session":
        """A new batch, written down before anything is said."""
        at = clock.now()
        taken = [row.id for row in journal.batches()]
        event = Begin(
            at=at, batch=next_batch_id(taken, at.date()), recipe=recipe.model_dump(mode="json")
        )
        batch, _ = begin(event)
        journal.append(batch.id, event, 0)
        return cls(batch, journal, clock, 1)

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
        return self.batch.stopped_by is not None

    def greet(self) -> Turn:
        """What to say before the first utterance: where the batch is and what it wants."""
        return self._turn("", "take", Reply(lines=announce(self.batch, self._clock.now())))

    def leave(self) -> None:
        """The input has ended in good order: the journal says so, and the batch waits."""
        self._write((Stop(at=self._clock.now()),))

    def remind(self) -> Turn | None:
        """What the cook should hear unasked: a timer run out, a hold or a rest to look after.

        Each is said once. None when there is nothing new.
        """
        for line, key in reminders(self.batch, self._clock.now()):
            if key not in self._reminded:
                self._reminded.add(key)
                return self._turn("", "take", Reply(lines=(line,)))
        return None

    def asked(self) -> Asked:
        """What the cook is being asked at this moment."""
        return asked(self.batch, self._clock.now())

    def expected(self) -> tuple[str, ...]:
        """A few things that can be said now."""
        return examples(self.asked())

    def hear(self, heard: Heard) -> Turn:
        """One utterance: understood, judged, written down, answered."""
        at = self._clock.now()
        pending, self._pending = self._pending, None
        found = understand(heard, asked(self.batch, at), at, pending)
        if found.verdict == "take":
            return self._take(heard, found)
        if found.verdict == "ask" and found.question is not None:
            self._pending = found.question
            line = question_line(found.question)
            return self._turn(heard.text, "ask", Reply(lines=(line,)), found)
        if heard.engine != "typed" and found.reason in _NOT_FOR_US:
            self._pending = pending
            return self._turn(heard.text, "refuse", Reply(), found)
        return self._turn(heard.text, "refuse", Reply(lines=(_not_taken(heard, found),)), found)

    def _take(self, heard: Heard, found: Understood) -> Turn:
        """The events of one utterance are written together, up to one that a limit refuses.

        "Two kilos of figs" must not go on as two kilos of some fruit or other.
        """
        batch = self.batch
        taken: list[AnyEvent] = []
        replies: list[Reply] = []
        for event in (e for e in found.events if not isinstance(e, Begin)):
            batch, reply = step(batch, event)
            taken.append(event)
            replies.append(self._with_examples(reply, event))
            if any(line.rank == "limit" for line in reply.lines):
                break
        if not taken:
            replies.append(Reply(lines=(Line(id="already_begun", rank="answer"),)))
        self._write(tuple(taken))
        self.batch = batch
        found = found.model_copy(update={"events": tuple(taken)})
        return self._turn(heard.text, "take", _joined(replies), found)

    def _write(self, events: tuple[AnyEvent, ...]) -> None:
        self._journal.append_all(self.batch.id, events, self._events)
        self._events += len(events)

    def _with_examples(self, reply: Reply, event: AnyEvent) -> Reply:
        """What can be said now comes from the grammar, which cook knows nothing of."""
        if not (isinstance(event, Ask) and event.topic == "say_what"):
            return reply
        said = ", or ".join(self.expected())
        line = Line(id="general.say_what", rank="answer", facts={"examples": said})
        return Reply(lines=(line,), stopped=reply.stopped)

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


_NOT_FOR_US = ("chatter", "partial")
"""Talk that is not for the tool gets no answer, and an open question stays open."""


def _not_taken(heard: Heard, found: Understood) -> Line:
    if not heard.text.strip():
        return general.HEARD_NOTHING
    return general.NOT_NOW if found.reason == "not_now" else general.NOT_UNDERSTOOD


def _joined(replies: list[Reply]) -> Reply:
    """Several events of one utterance are answered together; the last says what comes next."""
    lines = [line for reply in replies[:-1] for line in reply.lines if line.id != "stage"]
    last = replies[-1] if replies else Reply()
    return Reply(lines=(*lines, *last.lines), stopped=last.stopped)
