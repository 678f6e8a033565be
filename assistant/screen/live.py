"""One page's live line: words and sound come in, what happens in the room goes out."""

import asyncio
import json
import time
from collections import deque
from collections.abc import Awaitable, Callable
from contextlib import suppress
from datetime import timedelta
from typing import Annotated, Literal
from uuid import uuid4

from pydantic import BaseModel, ConfigDict, Field, TypeAdapter, ValidationError
from starlette.websockets import WebSocket, WebSocketDisconnect

from assistant.base.errors import PansideError
from assistant.hear.heard import Ears, Heard
from assistant.say.chosen import AS_SAID, Chosen
from assistant.screen.hearing import Allowance, Listening, TooMuchSound
from assistant.screen.house import House, Message
from assistant.screen.room import Outcome
from assistant.turns.utterance import Utterance

LARGEST_MESSAGE = 65_536
"""A second of sound is 32 000 bytes; words are far less. [bytes]"""
LONGEST_TEXT = 500
MOST_MESSAGES, MESSAGES_S = 60, 10.0
"""So many messages in so long, from one page; sound is counted apart. [s]"""
MOST_WAITING = 200
"""A page that takes no more messages than this behind is cut off; it comes back by itself."""
LONGEST_SOUNDING_S = 60.0
_REFUSED, _UNKNOWN_BATCH = 1008, 4404


class _In(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class SayIn(_In):
    """Typed or tapped words.

    batch, stage : what the page showed; its own batch, where it does not say
    age_ms : how long they waited for the network
    """

    kind: Literal["say"]
    id: Annotated[str, Field(pattern=r"^[A-Za-z0-9-]{8,64}$")]
    text: Annotated[str, Field(min_length=1, max_length=LONGEST_TEXT)]
    batch: Annotated[str, Field(max_length=64)] | None = None
    stage: Annotated[str, Field(max_length=64)] | None = None
    age_ms: Annotated[float, Field(ge=0, le=7 * 86_400_000)] = 0.0


class MicIn(_In):
    """The microphone is switched on or off."""

    kind: Literal["mic"]
    on: bool


class SoundingIn(_In):
    """An answer begins to sound from this page, or has ended."""

    kind: Literal["sounding"]
    on: bool


class UnitsIn(_In):
    """The units that somebody at this page has chosen."""

    kind: Literal["units"]
    chosen: Chosen


In = Annotated[SayIn | MicIn | SoundingIn | UnitsIn, Field(discriminator="kind")]
_IN: TypeAdapter[In] = TypeAdapter(In)


class Page:
    """A connected page, which looks at one batch and turns to the one that is talked about.

    batch : "" where it looks at none, and only wants to hear the kitchen's bells
    """

    def __init__(
        self, socket: WebSocket, house: House, batch: str, ears: Callable[[], Awaitable[Ears]]
    ) -> None:
        self._socket, self._house, self._ears = socket, house, ears
        self._batch = batch
        self._loop = asyncio.get_running_loop()
        self._out: asyncio.Queue[Message | None] = asyncio.Queue(MOST_WAITING)
        self._listening: Listening | None = None
        self._sounds_until: asyncio.TimerHandle | None = None
        self._listens_with: Ears | None = None
        self._allowance = Allowance(0.0)
        self._arrivals: deque[float] = deque(maxlen=MOST_MESSAGES)
        self.device = uuid4().hex
        self.address = self.paired = ""
        self.chosen = AS_SAID

    def tell(self, message: Message) -> None:
        """Put a message on its way; a page that does not keep up is cut off."""
        if self._out.full():
            self._out.get_nowait()
            self._out.put_nowait(None)
        else:
            self._out.put_nowait(message)

    def send_away(self) -> None:
        """Its device may be here no more."""
        while not self._out.empty():
            self._out.get_nowait()
        self._out.put_nowait(None)

    async def run(self) -> None:
        """Until the page goes away; a PansideError when its batch can't be shown."""
        self.tell({"kind": "welcome", "you": self.device})
        self.tell(await self._house.sit(self, self._batch))
        writing = asyncio.create_task(self._write())
        try:
            await self._read()
        except WebSocketDisconnect:
            pass
        except TooMuchSound as much:
            await self._socket.close(_REFUSED, str(much))
        finally:
            self._house.sounding.discard(self)
            self._stop_listening()
            writing.cancel()
            await self._house.rise(self, self._batch)

    async def _write(self) -> None:
        try:
            while (message := await self._out.get()) is not None:
                await self._socket.send_text(json.dumps(message, ensure_ascii=False))
            await self._socket.close(_REFUSED, "too slow, or sent away")
        except (WebSocketDisconnect, RuntimeError):
            return  # gone in the meantime; the reading side sees that too

    async def _read(self) -> None:
        while True:
            got = await self._socket.receive()
            if got["type"] == "websocket.disconnect":
                return
            if got.get("bytes") is not None:
                self._sound(got["bytes"])
            elif not await self._message(got.get("text") or ""):
                await self._socket.close(_REFUSED, "too many messages")
                return

    def _sound(self, pcm: bytes) -> None:
        if self._listening is not None:
            self._allowance.take(self._listening.feed(pcm), time.monotonic())

    async def _message(self, text: str) -> bool:
        """A message of the page; False when they come too fast."""
        now = time.monotonic()
        full = len(self._arrivals) == MOST_MESSAGES
        if full and now - self._arrivals[0] < MESSAGES_S:
            return False
        self._arrivals.append(now)
        try:
            message = _IN.validate_json(text)
        except ValidationError:
            self.tell(_trouble("The page sent something that can't be read. Load it again."))
            return True
        match message:
            case SayIn():
                await self._say(message)
            case MicIn(on=True):
                await self._listen()
            case MicIn():
                self._stop_listening()
            case SoundingIn():
                self._sounds(message.on)
            case UnitsIn(chosen=chosen):
                self.chosen = chosen
                await self._house.choose(self, self._batch)
        return True

    async def _say(self, message: SayIn) -> None:
        ago = timedelta(milliseconds=message.age_ms)
        said = Utterance.typed(
            message.text,
            id=message.id,
            device=self.device,
            batch=message.batch or self._batch or None,
            stage=message.stage,
            at=self._house.clock.now() - ago if ago else None,
        )
        try:
            outcome = await self._house.say(said)
        except PansideError as error:
            self.tell({**_trouble(str(error)), "id": message.id})
            return
        await self._turn_to(outcome)
        self.tell({"kind": "ack", "id": message.id, "verdict": outcome.verdict})

    async def _listen(self) -> None:
        if self._listening is not None:
            return
        try:
            ears = await self._ears()
        except PansideError as error:
            self.tell({"kind": "mic", "on": False, "why": str(error)})
            return
        self._allowance = Allowance(time.monotonic())
        self._listens_with = ears
        self._listening = Listening(ears, self._on_heard, self._is_deaf, self._on_end)
        self.tell({"kind": "mic", "on": True, "why": ears.why})

    def _stop_listening(self) -> None:
        if self._listening is not None:
            self._listening.end()
            self._listening = None

    def _is_deaf(self) -> bool:
        """Whether an answer sounds in this kitchen, from whichever page."""
        return bool(self._house.sounding)

    def _sounds(self, on: bool) -> None:
        self._house.sounding.discard(self)
        if self._sounds_until is not None:
            self._sounds_until.cancel()
            self._sounds_until = None
        if on:
            self._house.sounding.add(self)
            self._sounds_until = self._loop.call_later(
                LONGEST_SOUNDING_S, self._house.sounding.discard, self
            )

    def _on_heard(self, heard: Heard) -> None:
        """On the listening thread: the next words wait until these have been answered."""
        asyncio.run_coroutine_threadsafe(self._heard(heard), self._loop).result()

    async def _heard(self, heard: Heard) -> None:
        if heard.partial:
            self.tell({"kind": "partial", "text": heard.text})
            return
        said = Utterance(heard=heard, id=uuid4().hex, device=self.device, batch=self._batch)
        try:
            await self._turn_to(await self._house.say(said, self._listens_with))
        except PansideError as error:
            self.tell(_trouble(str(error)))

    async def _turn_to(self, outcome: Outcome) -> None:
        """What was said here was for another batch: this page shows that one from now on."""
        other = outcome.turn.batch
        if not self._batch or outcome.again or other == self._batch:
            return
        left, self._batch = self._batch, other
        await self._house.rise(self, left)
        self.tell(await self._house.sit(self, other))

    def _on_end(self, fault: Exception | None) -> None:
        if fault is not None:
            why = f"The ears gave up ({fault}). Switch the microphone on again."
            message: Message = {"kind": "mic", "on": False, "why": why}
            with suppress(RuntimeError):  # the kitchen has closed meanwhile
                self._loop.call_soon_threadsafe(self.tell, message)


def _trouble(text: str) -> Message:
    return {"kind": "trouble", "text": text}


async def refuse_batch(socket: WebSocket, error: PansideError) -> None:
    """There is no such batch: say so, and close for good."""
    await socket.send_text(json.dumps(_trouble(str(error))))
    await socket.close(_UNKNOWN_BATCH)
