"""One fact about a batch that comes without words: written down and answered, or refused."""

from assistant.base.errors import LimitStopped, WrongUse
from assistant.cook import Batch, Reply, fold, step
from assistant.facts.events import AnyEvent
from assistant.keep import Journal
from assistant.say import shown


def record(journal: Journal, events: tuple[AnyEvent, ...], event: AnyEvent) -> tuple[Batch, Reply]:
    """The batch after the event, and what is to be said of it; the event is in the journal then.

    events : all that the journal has of the batch
    Raises WrongUse, or LimitStopped where a limit says so, for an event that does not fit: nothing
    is written then.
    """
    before, _ = fold(events)
    after, reply = step(before, event)
    if after.before is not before:
        raise _refusal(reply)
    journal.append(before.id, event, len(events))
    return after, reply


def _refusal(reply: Reply) -> WrongUse | LimitStopped:
    words = " ".join(shown(reply))
    limited = any(line.rank == "limit" for line in reply.lines)
    return LimitStopped(words) if limited else WrongUse(words)
