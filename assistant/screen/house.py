"""All rooms of the kitchen, on one event loop: a queue a room, and everybody told what happens."""

import asyncio
import logging
from collections.abc import Callable
from contextlib import suppress
from itertools import count
from typing import Any, Protocol

from assistant.base.clock import Clock
from assistant.base.errors import PansideError, WrongUse
from assistant.keep import Journal, Watch
from assistant.recipebook.files import load_recipe, recipe_names
from assistant.screen.room import Outcome, Room, Words
from assistant.screen.speech import Speech
from assistant.turns.session import Session

_LOG = logging.getLogger("uvicorn.error")
TICK_S = 1.0
BEAT = 8
"""A sign of life after so many ticks."""
Message = dict[str, Any]


class Listener(Protocol):
    """A page that is told what happens in its room; it never makes the room wait."""

    device: str

    def tell(self, message: Message) -> None:
        """Something to show."""


class Seats:
    """A room with the pages that look at it. One utterance at a time, in order of arrival."""

    def __init__(self, room: Room, speech: Speech | None) -> None:
        self.room = room
        self.listeners: set[Listener] = set()
        self.sounding: set[Listener] = set()
        self._speech = speech
        self._turn = asyncio.Lock()

    async def say(self, words: Words) -> Outcome:
        """An utterance: answered, written, and told to every page; to its sender first."""
        async with self._turn:
            outcome = await asyncio.to_thread(self.room.take, words)
            if not outcome.again:
                await self._tell(outcome)
            return outcome

    async def tick(self) -> None:
        """Timers and holds that want a word."""
        async with self._turn:
            outcome = await asyncio.to_thread(self.room.remind)
            if outcome is not None:
                await self._tell(outcome)

    async def follow(self) -> None:
        """What somebody else has written is shown on every page."""
        async with self._turn:
            if await asyncio.to_thread(self.room.follow):
                shown = await asyncio.to_thread(self._view)
                for listener in tuple(self.listeners):
                    listener.tell(shown)

    async def shown(self) -> Message:
        """What the page shows now."""
        async with self._turn:
            return await asyncio.to_thread(self._view)

    async def leave(self) -> None:
        """The kitchen closes."""
        async with self._turn:
            await asyncio.to_thread(self.room.leave)

    async def _tell(self, outcome: Outcome) -> None:
        turn, shown = self.turn_message(outcome), await asyncio.to_thread(self._view)
        for listener in tuple(self.listeners):
            if listener.device == outcome.device or not outcome.private:
                listener.tell(turn)
            listener.tell(shown)

    def beat(self) -> None:
        """Tell every page that the line stands: a phone notices so that its network is gone."""
        for listener in tuple(self.listeners):
            listener.tell({"kind": "beat"})

    def _view(self) -> Message:
        return {"kind": "view", "view": self.room.view().model_dump(mode="json")}

    def turn_message(self, outcome: Outcome) -> Message:
        """An outcome as it goes to the page, with the name of its sound."""
        return {
            "kind": "turn",
            "id": outcome.id,
            "device": outcome.device,
            "verdict": outcome.verdict,
            "heard": outcome.heard,
            "show": list(outcome.show),
            "sound": self._speech.name(outcome.say, outcome.limit) if self._speech else "",
            "limit": outcome.limit,
            "yes_no": outcome.yes_no,
        }


class House:
    """The rooms by their batches' ids, each opened when somebody first comes in."""

    def __init__(self, journal: Journal, clock: Clock, speech: Speech | None = None) -> None:
        self.journal, self.clock, self.speech = journal, clock, speech
        self._watch = Watch(journal)
        self._seats: dict[str, Seats] = {}
        self._opening = asyncio.Lock()

    async def seats(self, batch_id: str) -> Seats:
        """The room of a batch; WrongUse when the journal has no such batch."""
        async with self._opening:
            if batch_id not in self._seats:
                mannered = self.speech.mannered if self.speech else None
                room = await asyncio.to_thread(Room, batch_id, self.journal, self.clock, mannered)
                self._seats[batch_id] = Seats(room, self.speech)
            return self._seats[batch_id]

    async def begin(self, recipe: str) -> str:
        """The id of a new batch of a recipe that comes along; WrongUse for another name."""
        if recipe not in recipe_names():
            raise WrongUse("There is no recipe of that name.")
        session = await asyncio.to_thread(
            lambda: Session.start(load_recipe(recipe), self.journal, self.clock)
        )
        return session.batch.id

    async def keep_time(self, every: Callable[[], None] = lambda: None) -> None:
        """Mind the timers until cancelled; a room nobody looks at is left alone."""
        for tick in count(1):
            await asyncio.sleep(TICK_S)
            every()
            news = await asyncio.to_thread(self._watch.anything)
            for seats in [s for s in self._seats.values() if s.listeners]:
                try:
                    if news:
                        await seats.follow()
                    await seats.tick()
                except Exception:  # one room's fault must not stop the timers of the others
                    _LOG.exception("the timers of batch %s", seats.room.id)
                if tick % BEAT == 0:
                    seats.beat()

    async def close(self) -> None:
        """Every unfinished batch is left in good order."""
        self._watch.close()
        for seats in self._seats.values():
            with suppress(PansideError):  # the journal as it stands is what a restart goes on from
                await seats.leave()
