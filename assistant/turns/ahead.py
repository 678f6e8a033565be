"""What a cook says who has gone on without a "done": "2.9 litres came through" while it steeps.

The words are tried at the stages that come next, as far as a plain "done" leads there: past what is
put in, done or waited for, never past a temperature, a measurement or a choice. Where they fit, it
is asked whether those stages are behind the cook.
"""

from collections.abc import Callable, Iterator
from datetime import datetime

from assistant.cook import Batch, asked, step
from assistant.facts.asked import Asked
from assistant.facts.events import AnyEvent, Onward, Reading
from assistant.hear.heard import Heard
from assistant.understand import Question, Understood

Read = Callable[[Heard, Asked], Understood]
FURTHEST = 4
"""So many stages a cook may be ahead; further off it is more likely something else (common
practice, no source)."""
_BY_DONE = ("add", "do", "rest")


def gone_ahead(heard: Heard, batch: Batch, at: datetime, read: Read) -> Understood | None:
    """Whether the stages in between are behind the cook, where the words fit one that comes soon.

    read : what the words come to where the cook is asked this
    """
    for passed, done, there in _ahead(batch, at):
        said = _only(read(heard, asked(there, at)))
        if _fits(there, said):
            events = (*done, *said)
            return Understood(
                verdict="ask",
                question=Question(kind="sure", candidates=(events,), reason="ahead"),
                also=said,
                reason="ahead",
                doubt="ahead",
                facts=(("stages", _listed(passed)),),
            )
    return None


def _ahead(batch: Batch, at: datetime) -> Iterator[tuple[list[str], tuple[AnyEvent, ...], Batch]]:
    """Each stage within reach: what lies before it, the "done"s leading there, the batch there."""
    done: tuple[AnyEvent, ...] = ()
    passed: list[str] = []
    while len(passed) < FURTHEST and batch.stage is not None and batch.stage.kind in _BY_DONE:
        passed.append(batch.stage.id)
        left = _left(batch, at)
        if left is None:
            return
        more, batch = left
        done = (*done, *more)
        yield passed, done, batch


def _left(batch: Batch, at: datetime) -> tuple[tuple[AnyEvent, ...], Batch] | None:
    """The "done"s that leave the stage, said twice where it warns first; None where none does."""
    done: tuple[AnyEvent, ...] = ()
    before = batch
    for _ in range(2):
        event = Onward(at=at)
        batch, _ = step(batch, event)
        done = (*done, event)
        if batch.stage is not before.stage:
            return (done, batch) if batch.stage is not None else None
    return None


def _only(found: Understood) -> tuple[AnyEvent, ...]:
    """What was meant, where it can be but one thing: all of it is asked about in any case."""
    if found.question is not None and len(found.question.candidates) == 1:
        return found.question.candidates[0]
    return found.events


def _fits(there: Batch, events: tuple[AnyEvent, ...]) -> bool:
    """Whether the stage there waits for just this."""
    stage = there.stage
    if stage is None or len(events) != 1:
        return False
    match events[0]:
        case Onward():
            return stage.kind in _BY_DONE
        case Reading(what=what):
            return what in (stage.subject, *(a.what for a in stage.awaits(there, events[0].at)))
        case _:
            return False


def _listed(stages: list[str]) -> str:
    names = [name.replace("_", " ") for name in stages]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
