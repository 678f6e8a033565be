"""What goes out: one utterance and what came of it, as events and lines. No words yet."""

from typing import Literal

from pydantic import BaseModel, ConfigDict

from assistant.cook.reply import Reply
from assistant.facts.events import AnyEvent

Verdict = Literal["take", "ask", "refuse", "late", "twice"]
"""take: it counts. ask: it is asked back. refuse: nothing comes of it. late: it was meant for a
stage that is over, or waited too long. twice: another microphone heard it too."""


class Told(BaseModel):
    """What is told about one batch. name : what the batch is called, "" where there is but one."""

    model_config = ConfigDict(frozen=True)

    name: str = ""
    reply: Reply


class Turn(BaseModel):
    """One utterance and what came of it.

    heard : the words, without the name of the batch that they were for
    told : the lines for ear and eye, batch by batch
    batch, stage : which batch it was about, and where that stands now
    ended : the cook said stop
    wants : the fruit of another batch that the cook wants to begin, "" where none was named
    again : it had been answered before, and nothing was done
    """

    model_config = ConfigDict(frozen=True)

    heard: str
    verdict: Verdict
    events: tuple[AnyEvent, ...] = ()
    also: tuple[AnyEvent, ...] = ()
    reason: str = ""
    told: tuple[Told, ...] = ()
    batch: str
    stage: str | None
    stopped: bool
    ended: bool = False
    wants: str | None = None
    again: bool = False
