"""The kitchen on one event loop: a seat a batch, and everybody told what happens."""

import asyncio
import logging
from collections.abc import Callable
from contextlib import suppress
from itertools import chain, count
from typing import Any, Protocol

from assistant.base.clock import Clock
from assistant.base.errors import PansideError, WrongUse
from assistant.hear.heard import Ears
from assistant.keep import Journal, Watch
from assistant.recipebook.files import load_recipe, recipe_for, recipe_names
from assistant.say.chosen import Chosen, shown_in
from assistant.screen.acting import ActIn, event_of
from assistant.screen.beginning import begin_again, begun_by
from assistant.screen.room import Outcome, Room
from assistant.screen.speech import Speech
from assistant.turns.free import SHIPPED, FreeReader
from assistant.turns.rendering import refusal, shown
from assistant.turns.utterance import Utterance

_LOG = logging.getLogger("uvicorn.error")
TICK_S = 1.0
BEAT = 8
"""A sign of life after so many ticks."""
Message = dict[str, Any]


class Listener(Protocol):
    """A page that is told what happens to its batch; it never makes the kitchen wait."""

    device: str
    chosen: Chosen

    def tell(self, message: Message) -> None:
        """Something to show."""


class House:
    """One room with its pages, which look at batches. One utterance at a time, in order.

    reader : as of a desk
    sounding : pages from which an answer sounds just now
    """

    def __init__(
        self,
        journal: Journal,
        clock: Clock,
        speech: Speech | None = None,
        reader: FreeReader = SHIPPED,
    ) -> None:
        self.journal, self.clock, self.speech = journal, clock, speech
        self.sounding: set[Listener] = set()
        self._watch = Watch(journal)
        mannered = speech.mannered if speech else None
        self._room = Room(journal, clock, recipe_for, mannered, reader)
        self._seats: dict[str, set[Listener]] = {}
        self._turn = asyncio.Lock()

    async def sit(self, page: Listener, batch_id: str) -> Message:
        """A page looks at a batch: what it shows now; WrongUse when there is no such batch.

        batch_id : "" for a page that only wants the kitchen's bells
        """
        async with self._turn:
            await asyncio.to_thread(self._room.gather)
            if batch_id:
                await asyncio.to_thread(self._room.open, batch_id)
            shown = await self._view(batch_id, page.chosen)
            self._seats.setdefault(batch_id, set()).add(page)
            return shown

    async def rise(self, page: Listener, batch_id: str) -> None:
        """A page looks at a batch no more."""
        seats = self._seats.get(batch_id, set())
        seats.discard(page)
        if seats:
            return
        self._seats.pop(batch_id, None)
        if not batch_id:
            return
        async with self._turn:
            if batch_id not in self._seats:
                await asyncio.to_thread(self._room.put_away, batch_id)

    async def say(self, said: Utterance, ears: Ears | None = None) -> Outcome:
        """An utterance: answered, written, and told to every page that it concerns.

        ears : that heard it, where it was spoken
        """
        async with self._turn:
            if ears is not None:
                said = await asyncio.to_thread(self._room.desk.weighed, said, ears)
            outcome = await asyncio.to_thread(self._room.take, said)
            if not outcome.again:
                await self._tell(outcome)
            return outcome

    async def act(self, wanted: ActIn) -> tuple[str, ...]:
        """What became of bottles, with a tap; WrongUse or LimitStopped where it does not fit."""
        async with self._turn:
            event = event_of(wanted, self.clock.now())
            turn = await asyncio.to_thread(self._room.record, wanted.batch, event)
            if turn.verdict == "refuse":
                raise refusal(turn)
            await self._show()
        return shown(turn)

    async def begin(self, recipe: str, again_of: str, mark: str) -> str:
        """The id of a new batch, the same one however often the same wish comes.

        recipe : one that comes along, or "" where again_of names a batch to be made once more
        WrongUse where there is no such recipe or batch.
        """
        async with self._turn:
            made = await asyncio.to_thread(self._begun, recipe, again_of, mark)
            await self._show()
            return made

    def _begun(self, recipe: str, again_of: str, mark: str) -> str:
        known = begun_by(self.journal, mark)
        if known is not None:
            return known
        if again_of:
            return begin_again(self.journal, again_of, self.clock.now(), mark)
        if recipe not in recipe_names():
            raise WrongUse("There is no recipe of that name.")
        return self._room.desk.begin(load_recipe(recipe), mark=mark).id

    async def tick(self) -> None:
        """Timers and holds that want a word; of a batch nobody looks at, everybody hears it."""
        async with self._turn:
            outcome = await asyncio.to_thread(self._room.remind)
            if outcome is not None:
                await self._tell(outcome)

    async def follow(self) -> None:
        """What somebody else has written is shown on every page."""
        async with self._turn:
            if await asyncio.to_thread(self._room.follow):
                await self._show()

    async def keep_time(self, every: Callable[[], None] = lambda: None) -> None:
        """Mind the timers until cancelled; with nobody there they are left alone."""
        for tick in count(1):
            await asyncio.sleep(TICK_S)
            every()
            news = await asyncio.to_thread(self._watch.anything)
            if not self._seats:
                continue
            try:
                if news:
                    await self.follow()
                await self.tick()
            except Exception:  # a fault of one batch must not stop the timers of the others
                _LOG.exception("the timers")
            if tick % BEAT == 0:
                self._beat()

    async def close(self) -> None:
        """Every unfinished batch is left in good order."""
        self._watch.close()
        async with self._turn:
            with suppress(PansideError):  # the journal as it stands is what a restart goes on from
                await asyncio.to_thread(self._room.leave)

    def turn_message(self, outcome: Outcome) -> Message:
        """An outcome as it goes to a page, with the name of its sound."""
        turn, say = outcome.turn, outcome.say
        return {
            "kind": "turn",
            "id": outcome.id,
            "device": outcome.device,
            "batch": turn.batch,
            "verdict": outcome.verdict,
            "heard": turn.heard,
            "show": list(outcome.show),
            "sound": self.speech.name(say, turn.stopped) if self.speech else "",
            "limit": turn.stopped,
            "yes_no": outcome.yes_no,
        }

    async def _tell(self, outcome: Outcome) -> None:
        """The turn to its sender and to who looks at the batch, and what stands to everybody."""
        batch_id = outcome.turn.batch
        looking = self._seats.get(batch_id, set())
        if outcome.reminder and not looking:
            looking = self._everybody()
        sender = {page for page in self._everybody() if page.device == outcome.device}
        for page in sender if outcome.private else sender | looking:
            with shown_in(page.chosen):
                page.tell(self.turn_message(outcome))
        await self._show()

    async def _show(self) -> None:
        """Every page, for each shows what all batches are at."""
        for batch_id, pages in tuple(self._seats.items()):
            for chosen in {page.chosen for page in pages}:
                shown = await self._view(batch_id, chosen)
                for page in tuple(pages):
                    if page.chosen == chosen:
                        page.tell(shown)

    async def choose(self, page: Listener, batch_id: str) -> None:
        """A page wants other units: what it shows, in those."""
        async with self._turn:
            page.tell(await self._view(batch_id, page.chosen))

    async def _view(self, batch_id: str, chosen: Chosen) -> Message:
        if not batch_id:
            pans = await asyncio.to_thread(self._room.pans)
            told = [each.model_dump(mode="json") for each in pans]
            return {"kind": "kitchen", "now": self.clock.now().isoformat(), "kitchen": told}
        with shown_in(chosen):
            found = await asyncio.to_thread(self._room.view, batch_id)
        return {"kind": "view", "view": found.model_dump(mode="json")}

    def _everybody(self) -> set[Listener]:
        return set(chain.from_iterable(self._seats.values()))

    def _beat(self) -> None:
        """Tell every page that the line stands: a phone notices so that its network is gone."""
        for page in self._everybody():
            page.tell({"kind": "beat"})
