"""The room: everybody who works with pages, at one desk. One thing at a time; blocking."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from assistant.base.clock import Clock
from assistant.cook import Batch, Recipe
from assistant.facts.events import AnyEvent
from assistant.keep import Journal
from assistant.say import by_eye, question_line
from assistant.say.chosen import AS_SAID, shown_in
from assistant.screen.asking import answers, asked_words
from assistant.screen.board import Board, yes_no
from assistant.screen.facts import Pan, View
from assistant.screen.gathering import at_work
from assistant.screen.view import pans, view
from assistant.turns.desk import Desk
from assistant.turns.free import SHIPPED, FreeReader
from assistant.turns.naming import own_names
from assistant.turns.rendering import shown, spoken
from assistant.turns.turn import Turn
from assistant.turns.utterance import Utterance
from assistant.understand import Question

Verdict = Literal["take", "ask", "refuse", "late", "twice", "reminder"]


@dataclass(frozen=True)
class Outcome:
    """A turn as it goes to the pages.

    id, device : of the message that it answers and of its sender
    reminder : nobody said anything: a timer ran out
    """

    turn: Turn
    id: str = ""
    device: str = ""
    reminder: bool = False

    @property
    def verdict(self) -> Verdict:
        """What came of it."""
        return "reminder" if self.reminder else self.turn.verdict

    @property
    def show(self) -> tuple[str, ...]:
        """The lines for the eye."""
        return shown(self.turn)

    @property
    def say(self) -> str:
        """The words for the ear."""
        return spoken(self.turn)

    @property
    def again(self) -> bool:
        """Whether it had been answered before, and nothing was done."""
        return self.turn.again

    @property
    def yes_no(self) -> bool:
        """Whether it asks back, and yes or no will do."""
        return yes_no(self.turn)

    @property
    def private(self) -> bool:
        """Whether it concerns nobody but its sender."""
        return self.turn.verdict in ("late", "twice") or not self.turn.told


class Room:
    """Pages' words on their way to the desk, and what the pages list of each batch.

    recipe_of : as for `Desk`
    mannered : answers "slower" and the like; left out where nothing is said aloud
    reader : as of a desk
    """

    def __init__(
        self,
        journal: Journal,
        clock: Clock,
        recipe_of: Callable[[str], Recipe] | None = None,
        mannered: Callable[[Turn], Turn] | None = None,
        reader: FreeReader = SHIPPED,
    ) -> None:
        self._journal, self._clock = journal, clock
        self._mannered = mannered or (lambda turn: turn)
        self._gathered = False
        self._boards: dict[str, Board] = {}
        self._asked: dict[str, tuple[Question, Turn]] = {}
        self.desk = Desk(journal, clock, recipe_of, reader)

    def open(self, batch_id: str) -> Batch:
        """A batch that somebody looks at; WrongUse when the journal has none of that name."""
        return self.desk.open(batch_id)

    def gather(self) -> None:
        """Once, after a start: the batches that somebody works on, so that their bells ring."""
        if self._gathered:
            return
        self._gathered = True
        for batch_id in at_work(self._journal, self._clock.now()):
            self.desk.open(batch_id)

    def put_away(self, batch_id: str) -> None:
        """Nobody looks at a batch any more; one that has ended is cleared from the desk."""
        if self.desk.open(batch_id).stage is None:
            self.desk.put_away(batch_id)
            self._boards.pop(batch_id, None)

    def view(self, batch_id: str) -> View:
        """What a page shows of a batch now."""
        batch, now = self.desk.open(batch_id), self._clock.now()
        question = self.desk.question(batch_id)
        return view(
            batch,
            now,
            self.desk.written(batch_id),
            tuple(self._board(batch_id).said),
            self.desk.expected(batch_id),
            asking=self._asking(batch_id, question),
            taps=answers(question),
            kitchen=self.pans(),
        )

    def pans(self) -> tuple[Pan, ...]:
        """Every batch of the kitchen with what runs, for the strip and the bells."""
        all_ = self.desk.batches
        return pans(all_, own_names(all_), self._clock.now(), self._questions())

    def take(self, said: Utterance) -> Outcome:
        """One utterance of a page or its microphone: answered once, however often it is sent.

        StoreUnusable when it could not be written down; it then counts as never said.
        """
        if said.batch is not None:
            self.desk.open(said.batch)
        before = {batch.id: self._board(batch.id) for batch in self.desk.batches}
        turn = self._mannered(self.desk.take(said))
        self._mind_question(turn)
        board = before.get(turn.batch)
        if board is not None and not turn.again:
            self._note(board, turn, said.heard.text)
        return Outcome(turn, said.id, said.device)

    def record(self, batch_id: str, event: AnyEvent) -> Turn:
        """One fact that came with a tap instead of words."""
        return self.desk.record(batch_id, event)

    def follow(self) -> tuple[str, ...]:
        """Take in what another kitchen or program has written: to which batches."""
        return self.desk.follow()

    def remind(self) -> Outcome | None:
        """What everybody should hear unasked, once."""
        turn = self.desk.remind()
        if turn is None:
            return None
        self._board(turn.batch).remind(turn, self._clock.now())
        return Outcome(turn, reminder=True)

    def leave(self) -> None:
        """The kitchen closes in good order; what was worked on and is unfinished waits."""
        self.desk.leave(untouched=False)

    def _mind_question(self, turn: Turn) -> None:
        """The very words of a question are kept for who did not ask."""
        question = self.desk.question(turn.batch)
        if question is not None and turn.verdict == "ask":
            self._asked[turn.batch] = question, turn

    def _asking(self, batch_id: str, question: Question | None) -> str:
        if question is None:
            self._asked.pop(batch_id, None)
            return ""
        kept = self._asked.get(batch_id)
        if kept and kept[0] is question:
            return asked_words(kept[1])
        return by_eye(question_line(question))

    def _questions(self) -> frozenset[str]:
        """The batches about which a question is open."""
        return frozenset(b.id for b in self.desk.batches if self.desk.question(b.id) is not None)

    def _note(self, board: Board, turn: Turn, heard: str) -> None:
        written, new = self.desk.written(turn.batch), _written_with(turn)
        if board.written + new != written:
            board = self._boards[turn.batch] = Board(self._journal.events(turn.batch))
            if new:
                return
        board.note(turn, heard, self._clock.now(), written)

    def _board(self, batch_id: str) -> Board:
        """What is listed of a batch; read anew where others have written to it meanwhile."""
        held = self._boards.get(batch_id)
        if held is None or held.written != self.desk.written(batch_id):
            with shown_in(AS_SAID):
                held = self._boards[batch_id] = Board(self._journal.events(batch_id))
        return held


def _written_with(turn: Turn) -> int:
    """How many events a turn has brought into the journal; how the voice speaks is none."""
    return sum(event.kind != "manner" for event in turn.events)
