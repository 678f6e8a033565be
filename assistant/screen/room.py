"""A room: one batch with everybody who works on it. One utterance at a time; blocking.

Whoever speaks or types has seen a stage. Words that were meant for a stage which somebody else has
finished meanwhile are held back, so that two cooks who both say "done" do not skip one.
"""

from collections import OrderedDict, deque
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from assistant.base.clock import Clock, Tick
from assistant.base.errors import StoreUnusable
from assistant.hear.heard import Heard
from assistant.hear.shares import plain
from assistant.keep import Journal
from assistant.screen.course import MOST, not_taken, replayed, taken
from assistant.screen.facts import Said, View
from assistant.screen.marking import MarkingJournal
from assistant.screen.view import title, view
from assistant.turns.session import BY_ANOTHER, Session, Turn

Verdict = Literal["take", "ask", "refuse", "late", "twice", "reminder"]

TWIN_S = 3.0
"""Within so long the same words from two microphones are one person heard twice (a choice)."""
OLDEST_S = 1800.0
"""Words that waited longer for the network are not taken unasked: nobody remembers them."""
_REMEMBERED = 500


@dataclass(frozen=True)
class Words:
    """One utterance on its way in.

    id : made by the page; the same words sent again carry the same one
    device : which page or microphone it came from
    stage : the stage its sender saw, "" for none; None where nobody can tell
    age_s : how long ago it was said, where the network was lost meanwhile [s]
    """

    id: str
    heard: Heard
    device: str
    stage: str | None = None
    age_s: float = 0.0

    @property
    def spoken(self) -> bool:
        """Whether it came through a microphone."""
        return self.heard.engine != "typed"


@dataclass(frozen=True)
class Outcome:
    """What came of it.

    again : it had been answered before, and nothing was done
    yes_no : it asks back, and yes or no will do
    """

    id: str
    device: str
    verdict: Verdict
    heard: str = ""
    show: tuple[str, ...] = ()
    say: str = ""
    again: bool = False
    limit: bool = False
    yes_no: bool = False

    @property
    def private(self) -> bool:
        """Whether it concerns nobody but its sender."""
        return self.verdict in ("late", "twice") or not self.show


class RoomClock:
    """The kitchen's clock, told back for words that were said a while ago."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self.at: datetime | None = None

    def now(self) -> datetime:
        """The time now, or the moment that is being told."""
        return self.at or self._clock.now()

    def tick(self) -> Tick:
        """What was counted up to now, or up to the moment that is being told."""
        ticked = self._clock.tick()
        ago = (self._clock.now() - self.at).total_seconds() if self.at else 0.0
        return ticked._replace(elapsed_s=ticked.elapsed_s - max(0.0, ago))


class Room:
    """A batch that several pages look at and talk to.

    mannered : answers "slower" and the like; left out where nothing is said aloud
    """

    def __init__(
        self,
        batch_id: str,
        journal: Journal,
        clock: Clock,
        mannered: Callable[[Turn], Turn] | None = None,
    ) -> None:
        self._mannered = mannered or (lambda turn: turn)
        self._journal = MarkingJournal(journal)
        self._clock = RoomClock(clock)
        self._answered: OrderedDict[str, Outcome] = OrderedDict()
        self._spoken: tuple[str, str, datetime] | None = None
        self._moved: tuple[str, datetime] | None = None
        self._worked_on = False
        self.id = batch_id
        self._open()

    def _open(self) -> None:
        """The batch as the journal has it."""
        self._session = Session.resume(self.id, self._journal, self._clock)
        self._read()

    def _read(self) -> None:
        """What the page lists, as the journal has it."""
        events = self._journal.events(self.id)
        _, said = replayed(events)
        self._said: deque[Said] = deque(said, MOST)
        self._revision = len(events)
        self._last_at = events[-1].at

    @property
    def stage(self) -> str:
        """The id of the stage now, "" when the batch has ended."""
        stage = self._session.batch.stage
        return stage.id if stage else ""

    @property
    def ended(self) -> bool:
        """Whether nothing is left to be done."""
        return self._session.batch.stage is None

    def view(self) -> View:
        """What the page shows now."""
        return view(
            self._session.batch,
            self._clock.now(),
            self._revision,
            tuple(self._said),
            self._session.expected(),
        )

    def greet(self) -> tuple[str, ...]:
        """Where the batch is and what it wants."""
        return self._session.greet().show

    def take(self, words: Words) -> Outcome:
        """One utterance: answered once, however often it is sent.

        StoreUnusable when it could not be written down; it then counts as never said.
        """
        before = self._answered.get(words.id)
        if before is not None:
            return Outcome(words.id, words.device, before.verdict, before.heard, again=True)
        if self._journal.has_mark(self.id, words.id):
            return Outcome(words.id, words.device, "take", words.heard.text, again=True)
        outcome = self._held_back(words) or self._hear(words)
        self._answered[words.id] = outcome
        while len(self._answered) > _REMEMBERED:
            self._answered.popitem(last=False)
        return outcome

    def follow(self) -> bool:
        """Take in what another kitchen or program has written; whether there was anything."""
        if not self._session.follow():
            return False
        self._read()
        return True

    def remind(self) -> Outcome | None:
        """What everybody should hear unasked, once."""
        turn = self._session.remind()
        if turn is None:
            return None
        at = self._clock.now()
        self._said.append(
            Said(at=at, heard="", understood="", answer=turn.show, verdict="reminder")
        )
        return Outcome("", "", "reminder", show=turn.show, say=turn.say)

    def leave(self) -> None:
        """The kitchen closes in good order; an unfinished batch waits, if anybody worked on it."""
        if self._worked_on and not self.ended:
            self._session.leave()
            self._worked_on = False

    def _held_back(self, words: Words) -> Outcome | None:
        now = self._clock.now()
        if words.spoken and self._heard_twice(words, now):
            return Outcome(words.id, words.device, "twice", words.heard.text)
        if words.age_s > OLDEST_S:
            return self._late(words, "That waited too long for the network.")
        if words.stage is not None and words.stage != self.stage:
            return self._late(words, "The batch went on meanwhile.")
        if words.spoken and self._moved_by_another(words.device, now):
            return self._late(words, "The batch went on meanwhile.")
        return None

    def _late(self, words: Words, why: str) -> Outcome:
        stage = self._session.batch.stage
        where = f"It is at {title(stage)}. " if stage else "It has ended. "
        show = (f"{why} {where}Say it again if you still mean it.",)
        return Outcome(words.id, words.device, "late", words.heard.text, show)

    def _heard_twice(self, words: Words, now: datetime) -> bool:
        """The same words through another microphone a moment ago."""
        last, text = self._spoken, plain(words.heard.text)
        self._spoken = (words.device, text, now)
        if last is None or last[0] == words.device or last[1] != text:
            return False
        return (now - last[2]).total_seconds() < TWIN_S

    def _moved_by_another(self, device: str, now: datetime) -> bool:
        if self._moved is None or self._moved[0] == device:
            return False
        return (now - self._moved[1]).total_seconds() < TWIN_S

    def _hear(self, words: Words) -> Outcome:
        stage = self.stage
        now = self._clock.now()
        said_at = now - timedelta(seconds=max(0.0, words.age_s))
        self._clock.at = min(now, max(self._last_at, said_at)) if words.age_s > 0 else now
        try:
            turn = self._mannered(self._turn(words))
        finally:
            self._clock.at = None
        if turn.reason in BY_ANOTHER:
            self._read()
        self._note(words, turn, now)
        if self.stage != stage:
            self._moved = (words.device, now)
        return Outcome(
            words.id,
            words.device,
            turn.verdict,
            turn.heard,
            turn.show,
            turn.say,
            limit=turn.stopped,
            yes_no=_yes_no(turn),
        )

    def _turn(self, words: Words) -> Turn:
        """Heard and written; once more where another program has written to the batch meanwhile."""
        with self._journal.marked(words.id):
            try:
                return self._session.hear(words.heard)
            except StoreUnusable:
                self._open()
                return self._session.hear(words.heard)

    def _note(self, words: Words, turn: Turn, now: datetime) -> None:
        """What the page lists; talk that was not for us is not kept."""
        if turn.verdict == "take" and turn.events:
            self._worked_on = not turn.ended
            self._revision += len(turn.events)
            self._last_at = turn.events[-1].at
            self._said.append(taken(turn.events, turn.show))
        elif turn.show:
            asked = turn.verdict == "ask"
            said = not_taken(now, words.heard.text, turn.show, asked, _yes_no(turn))
            self._said.append(said)


def _yes_no(turn: Turn) -> bool:
    """Whether it asks about one thing alone, so that yes or no will do."""
    return turn.verdict == "ask" and not turn.also
