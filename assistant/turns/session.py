"""One batch on the desk: what is meant for it is judged, written down and answered.

What was understood and taken is written to the journal, and synced, before the reply is handed
out, so that what the cook has heard confirmed is never lost. A session looks at no clock: each
word comes with its moment.
"""

from contextlib import suppress
from datetime import datetime
from itertools import count

from assistant.base.errors import AnotherSession, LeaseLost, StoreUnusable, WrongUse
from assistant.cook import Batch, Recipe, asked, begin, fold, step
from assistant.cook.reminders import reminders
from assistant.cook.reply import Line, Reply, joined
from assistant.cook.stages import announce, greeting
from assistant.facts.asked import Asked
from assistant.facts.events import (
    RULES,
    AnyEvent,
    Ask,
    Begin,
    Choose,
    Manner,
    Note,
    Onward,
    SayAgain,
    Stop,
)
from assistant.hear.heard import Heard, Rivals
from assistant.keep import Journal, next_batch_id
from assistant.say import doubt_line, general, question_line
from assistant.say.manner import no_voice
from assistant.turns.at_work import AtWork
from assistant.turns.fallback import lost
from assistant.turns.free import FreeReader
from assistant.turns.loose import Loose
from assistant.turns.moment import Moment
from assistant.turns.naming import as_a_whole, fruit_in, may_be_this
from assistant.turns.turn import Told, Turn, Verdict
from assistant.turns.when import When
from assistant.understand import Question, Understood, examples, rivals, understand


class Session:
    """One batch and the talk about it."""

    def __init__(
        self, events: tuple[AnyEvent, ...], journal: Journal, at: datetime, reader: FreeReader
    ) -> None:
        self.batch, _ = fold(events)
        self.events, self.last_at = len(events), events[-1].at
        self.worked_on = False
        self._journal = journal
        self._reader = reader
        self._pending: Question | None = None
        self._reminded: set[tuple[str, datetime]] = set()
        self._examples_said: Reply | None = None
        self._subject: Ask | None = None
        self._lost = False
        self._loose = Loose()
        self._at_work = AtWork(self.batch.id, journal, at)
        self.others: tuple[Batch, ...] = ()

    @classmethod
    def start(
        cls, recipe: Recipe, journal: Journal, when: When, reader: FreeReader, mark: str | None
    ) -> "Session":
        """A new batch, written down before anything is said."""
        at, body = when.at, recipe.model_dump(mode="json")
        for tried in count():
            taken = journal.names(at.date().isoformat())
            event = Begin(at=at, batch=next_batch_id(taken, at.date()), recipe=body, rules=RULES)
            event = event.model_copy(update=when.tick._asdict())
            begin(event)
            try:
                journal.append_all(event.batch, (event,), 0, mark)
            except AnotherSession:
                # Another kitchen took that name at the same moment.
                if tried == _TRIES:
                    raise
            else:
                break
        begun = cls((event,), journal, at, reader)
        begun.worked_on = begun._at_work.take(at)
        return begun

    @classmethod
    def resume(cls, batch_id: str, journal: Journal, at: datetime, reader: FreeReader) -> "Session":
        """The batch as the journal has it; WrongUse when it has none of that name."""
        events = journal.events(batch_id)
        if not events:
            raise WrongUse(f"There is no batch {batch_id!r}. `panside batches` lists them.")
        return cls(events, journal, at, reader)

    def follow(self, written: int) -> bool:
        """Take in what others wrote, so many events in all now; whether there was anything."""
        if written == self.events:
            return False
        self._reload()
        return True

    @property
    def stage(self) -> str:
        """The id of the stage now, "" when the batch has ended."""
        return self.batch.stage.id if self.batch.stage else ""

    @property
    def open_question(self) -> Question | None:
        """The question about the last utterance, while it is open."""
        return self._pending

    @property
    def is_asking(self) -> bool:
        """Whether something is being asked: about the last utterance, or whether to join in."""
        return self._pending is not None or self._at_work.theirs is not None

    @property
    def worked_on_unended(self) -> bool:
        """Whether somebody has worked on it here, and it is left unfinished."""
        return self.worked_on and self.batch.stage is not None

    @property
    def stopped(self) -> bool:
        """Whether a limit holds the batch."""
        return self.batch.stopped

    def greet(self, at: datetime, early: Heard | None = None) -> Turn:
        """What to say before the first utterance: where the batch is and what it wants.

        early : what was told of it before it was begun
        """
        if self._at_work.theirs is not None:
            return self.aside("", "ask", self._at_work.question())
        lines, self._loose.early = greeting(self.batch, at), early or self._loose.early
        due = self._loose.due(self._moment(at)) if early else None
        if due is not None:
            self._pending, lines = due[0], due[1].lines
        return self._turn("", "take", Reply(lines=lines))

    def name_fruit(self, fruit: str, when: When) -> None:
        """Which fruit it is, where the wish to begin the batch has said so."""
        events = when.counted((Choose(at=when.at, option="fruit", value=fruit),))
        self._write(events)
        self.batch, _ = step(self.batch, events[0])

    def aside(self, heard: str, verdict: Verdict, *lines: Line) -> Turn:
        """A turn that changes nothing and is not the batch's own, beside what it stands at."""
        turn = self._turn(heard, verdict, Reply(lines=lines))
        return turn.model_copy(update={"reason": lines[0].id if lines else ""})

    def again(self, heard: str) -> Turn:
        """The turn of a message that had been taken before: nothing is done."""
        return self._turn(heard, "take", Reply()).model_copy(update={"again": True})

    def late(self, heard: str, why: Line, at: datetime) -> Turn:
        """What was meant for another stage or another hour is not taken; what is wanted now."""
        return self.aside(heard, "late", why, *announce(self.batch, at))

    def leave(self, when: When) -> None:
        """The input has ended in good order: the journal says so, and the batch waits."""
        self.worked_on = False
        if self._at_work.theirs is None:
            with suppress(LeaseLost):
                self._write(when.counted((Stop(at=when.at),)))
            self._at_work.leave()

    def let_go(self) -> None:
        """Nobody works on it here any more."""
        self._at_work.leave()

    def record(self, event: AnyEvent, when: When) -> Turn:
        """One fact that comes without words: written down, or refused where it does not fit."""
        try:
            return self._recorded(event, when)
        except LeaseLost:
            raise
        except StoreUnusable:
            self._reload()
            return self._recorded(event, when)

    def _recorded(self, event: AnyEvent, when: When) -> Turn:
        (event,) = when.counted((event,))
        after, reply = step(self.batch, event)
        found = Understood(verdict="take", events=(event,))
        if after.before is not self.batch:
            return self._turn("", "refuse", reply, found)
        self._write((event,))
        self.batch, self.worked_on = after, True
        return self._turn("", "take", reply, found)

    def remind(self, at: datetime) -> Turn | None:
        """What the cook should hear unasked: a timer run out, a hold or a rest to look after.

        Each is said once. None when there is nothing new, or somebody else works on the batch.
        """
        if self._at_work.theirs is not None:
            return None
        for line, key in reminders(self.batch, at):
            if key not in self._reminded:
                self._reminded.add(key)
                return self._turn("", "take", Reply(lines=(line,)))
        return None

    def asked(self, at: datetime) -> Asked:
        """What the cook is being asked at this moment."""
        return asked(self.batch, at)

    def understood(self, heard: Heard, at: datetime) -> Understood:
        """What an utterance comes to here, without acting on it."""
        return self._reader.understood(heard, self._moment(at))

    def _moment(self, at: datetime) -> Moment:
        wanted, missing = self._loose.knowing(asked(self.batch, at)), self._loose.missing
        return Moment(self.batch, wanted, at, self._pending, self._subject, missing, self.others)

    def rivals(self, heard: Heard, at: datetime) -> Rivals | None:
        """The texts that the sound should be weighed against, before it is heard here."""
        return rivals(heard, self.asked(at), at, self._pending)

    def expected(self, at: datetime) -> tuple[str, ...]:
        """A few things that can be said now."""
        return examples(self.asked(at))

    def hear(self, heard: Heard, when: When, mark: str | None = None) -> Turn:
        """One utterance: understood, judged, written down, answered.

        Where somebody else works on the batch, it is asked about first. Where somebody has written
        to it meanwhile, it is heard by what the batch is now, unless that asks for something else.

        mark : id of the message, written with its events
        """
        if self._at_work.theirs is not None:
            return self._joining(heard, when)
        if self.batch.stage is not None and not self._at_work.take(when.at):
            return self._not_ours(heard)
        try:
            turn = self._heard(heard, when, mark)
        except LeaseLost as lost:
            self._at_work.lose(lost.lease)
            return self._not_ours(heard)
        except StoreUnusable:
            turn = self._heard_anew(heard, when, mark)
        if turn.ended:
            self._at_work.leave()
        return turn

    def _heard_anew(self, heard: Heard, when: When, mark: str | None) -> Turn:
        """Another program has written to the batch: "done" was meant for the stage before that."""
        stage = self.batch.stage
        self._reload()
        if mark is not None and self._journal.has_mark(self.batch.id, mark):
            return self.again(heard.text)
        if self.batch.stage == stage:
            return self._heard(heard, when, mark)
        line = Line(id="lease.went_on", rank="question", facts={"said": heard.text})
        return self.aside(heard.text, "ask", line, *announce(self.batch, when.at))

    def _not_ours(self, heard: Heard) -> Turn:
        self._at_work.keep(heard.text)
        return self.aside(heard.text, "ask", self._at_work.question())

    def _joining(self, heard: Heard, when: When) -> Turn:
        """What is said while somebody else works on the batch: joining, leaving, or kept."""
        found = understand(heard, Asked(yes_no=True), when.at)
        kinds = {event.kind for event in found.events}
        if "yes" in kinds:
            return self._join(heard, when)
        if kinds & {"no", "stop"}:
            self._at_work.forget()
            turn = self.aside(heard.text, "refuse", self._at_work.left())
            return turn.model_copy(update={"ended": "stop" in kinds})
        if heard.engine != "typed" and found.reason in _NOT_FOR_US:
            return self._turn(heard.text, "refuse", Reply(), found)
        return self._not_ours(heard)

    def _join(self, heard: Heard, when: When) -> Turn:
        kept = self._at_work.join(when.at)
        self._reload()
        lines = [Line(id="lease.joined", rank="answer")]
        if kept:
            notes = tuple(Note(at=when.at, heard=said, text=said) for said in kept)
            self._write(when.counted(notes))
            self._reload()
            said = {"said": "; ".join(f"“{one}”" for one in kept)}
            lines.append(Line(id="lease.noted", rank="caution", facts=said))
        return self.aside(heard.text, "take", *lines, *announce(self.batch, when.at))

    def _reload(self) -> None:
        """The batch as the journal has it now; an open question is dropped."""
        events = self._journal.events(self.batch.id)
        self.batch, _ = fold(events)
        self.events, self.last_at, self._pending = len(events), events[-1].at, None

    def _heard(self, heard: Heard, when: When, mark: str | None) -> Turn:
        found = self._loose.note(heard, self.understood(heard, when.at))
        pending, self._pending = self._pending, None
        if found.verdict == "take":
            return self._take(heard, found, when, mark)
        if found.doubt:
            self._pending = found.question
            line = doubt_line(found.doubt, found.facts)
            return self._turn(heard.text, "ask", Reply(lines=(line,)), found)
        if found.verdict == "ask" and found.question is not None:
            self._pending = found.question
            line = question_line(found.question)
            return self._turn(heard.text, "ask", Reply(lines=(line,)), found)
        if heard.engine != "typed" and found.reason in _NOT_FOR_US:
            self._pending = pending
            return self._turn(heard.text, "refuse", Reply(), found)
        return self._turn(heard.text, "refuse", self._not_taken(heard, found, when.at), found)

    def _not_taken(self, heard: Heard, found: Understood, at: datetime) -> Reply:
        if found.reason == "not_now":
            return Reply(lines=(general.NOT_NOW,))
        again, self._lost = self._lost, True
        return lost(heard, self._reader, self._moment(at), again)

    def _take(self, heard: Heard, found: Understood, when: When, mark: str | None) -> Turn:
        """The events of one utterance are written together, up to one that a limit refuses.

        "Two kilos of figs" must not go on as two kilos of some fruit or other.
        """
        batch = self.batch
        taken: list[AnyEvent] = []
        replies: list[Reply] = []
        events = tuple(e for e in found.events if not isinstance(e, Begin))
        begins = len(events) < len(found.events)
        if begins and not may_be_this(self.batch, events):
            return self._wants_another(heard, found, events)
        for event in when.counted(as_a_whole(self.batch, events)):
            if isinstance(event, Onward) and taken and isinstance(taken[-1], Onward):
                replies.clear()
            taken.append(event)
            if isinstance(event, Manner):
                replies.append(Reply(lines=(no_voice(),)))
                continue
            batch, reply = step(batch, event)
            replies.append(self._with_examples(reply, event, when.at))
            if any(line.rank == "limit" for line in reply.lines):
                break
        self._write(tuple(event for event in taken if not isinstance(event, Manner)), mark)
        moved = batch.stage is not self.batch.stage
        self.batch, self._lost = batch, False
        self.worked_on = not any(isinstance(event, Stop) for event in taken)
        self._subject = next((e for e in reversed(taken) if isinstance(e, Ask)), None)
        found = found.model_copy(update={"events": tuple(taken)})
        self._loose.wants(taken, replies)
        due = self._loose.due(self._moment(when.at)) if moved else None
        if due is not None:
            self._pending, early = due
            replies.append(early)
        return self._turn(heard.text, "take", joined(replies), found)

    def _wants_another(self, heard: Heard, found: Understood, events: tuple[AnyEvent, ...]) -> Turn:
        """Another batch is not this one's business: nothing is written, the wish is handed on."""
        reply = Reply(lines=(Line(id="already_begun", rank="answer"),))
        nothing = found.model_copy(update={"events": ()})
        turn = self._turn(heard.text, "take", reply, nothing)
        return turn.model_copy(update={"wants": fruit_in(events)})

    def _write(self, events: tuple[AnyEvent, ...], mark: str | None = None) -> None:
        if not events:
            return
        self._journal.append_all(self.batch.id, events, self.events, mark)
        self.events, self.last_at = self.events + len(events), events[-1].at

    def _with_examples(self, reply: Reply, event: AnyEvent, at: datetime) -> Reply:
        """What can be said now comes from the grammar, which cook knows nothing of."""
        if isinstance(event, SayAgain):
            return self._examples_said or reply
        self._examples_said = None
        if not (isinstance(event, Ask) and event.topic == "say_what"):
            return reply
        said = {"examples": ", or ".join(self.expected(at))}
        line = Line(id="general.say_what", rank="answer", facts=said)
        self._examples_said = Reply(lines=(line,), stopped=reply.stopped)
        return self._examples_said

    def _turn(
        self, heard: str, verdict: Verdict, reply: Reply, found: Understood | None = None
    ) -> Turn:
        events = found.events if found else ()
        return Turn(
            heard=heard,
            verdict=verdict,
            events=events if verdict == "take" else (),
            also=found.also if found else (),
            reason=found.reason if found else "",
            told=(Told(reply=reply),) if reply.lines else (),
            batch=self.batch.id,
            stage=self.batch.stage.id if self.batch.stage else self.batch.ended,
            stopped=self.stopped,
            ended=any(isinstance(e, Stop) for e in events),
        )


_TRIES = 5  # So often a name for a new batch is tried again.
_NOT_FOR_US = ("chatter", "partial")
"""Talk that is not for the tool gets no answer, and an open question stays open."""
