"""What a cook says who has gone on without a "done": "2.9 litres came through" while it steeps.

The words are tried at the stages that come next. What lies between is asked about where a plain
"done" leads past it; a temperature, a measurement or a choice is asked for, never passed over.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime

from assistant.cook import Batch, asked, step
from assistant.cook.changes import advance
from assistant.cook.kinds import Stage
from assistant.facts.asked import Asked
from assistant.facts.events import AnyEvent, Bottle, Onward, Reading
from assistant.facts.stuff import stuff_words
from assistant.hear.heard import Heard
from assistant.understand import Question, Understood
from assistant.understand.told.groups import is_off_heat, told_of

Read = Callable[[Heard, Asked], Understood]
FURTHEST = 4
"""So many stages a cook may be ahead by "done" alone; further off it is more likely something else
(common practice, no source)."""
_ON_THE_HEAT = ("heat", "hold")
_BY_DONE = ("add", "do", "rest")
_PAN_IS_ON = 30.0
"""From here a pan has been on the heat (common practice, no source). [degC]"""


@dataclass(frozen=True)
class _There:
    """A stage to come: the stages that lie before it, the "done"s that lead as far as they lead,
    the batch there, and the first stage before it that wants more than a "done"."""

    passed: list[str]
    done: tuple[AnyEvent, ...]
    batch: Batch
    wants: Stage | None = None


def gone_ahead(heard: Heard, batch: Batch, at: datetime, read: Read) -> Understood | None:
    """What to ask of a cook whose words fit a stage that is still to come; None where none does.

    read : what the words come to where the cook is asked this
    """
    here = asked(batch, at)
    for there in _ahead(batch, at):
        if there.batch.stage and there.batch.stage.kind in _ON_THE_HEAT and is_off_heat(heard.text):
            return _first(there, there.wants or there.batch.stage)
        wanted = asked(there.batch, at)
        if not told_of(heard.text, wanted, here):
            continue
        said = fitting(heard, there.batch, at, read)
        if said and there.wants is None:
            return _is_done(there, said)
        if said and there.wants is not None:
            return _first(there, there.wants)
    return None


def warm_ahead(found: Understood, batch: Batch, at: datetime) -> Understood | None:
    """Who calls the thermometer while something is put in has gone on to the heating."""
    said = _only(found)
    match said:
        case (Reading(what="temperature") as read,) if read.base >= _PAN_IS_ON:
            pass
        case _:
            return None
    for there in _ahead(batch, at):
        if there.wants is not None or there.batch.last("temperature") is not None:
            return None
        if there.batch.stage is not None and there.batch.stage.kind == "heat":
            return _is_done(there, said, otherwise=said)
    return None


def not_here(found: Understood, batch: Batch, at: datetime) -> bool:
    """Whether juice, syrup or bottles are told that nobody asks for yet and nobody told before."""
    match _only(found):
        case (Reading(what="juice" | "yield" | "bottles" as what),):
            waits = batch.stage.awaits(batch, at) if batch.stage else ()
            return batch.last(what) is None and all(a.what != what for a in waits)
        case (Bottle(),):
            return batch.bottled is None and (batch.stage is None or batch.stage.kind != "bottle")
        case _:
            return False


def fitting(heard: Heard, batch: Batch, at: datetime, read: Read) -> tuple[AnyEvent, ...]:
    """What the words come to at a batch where its stage waits for just that, else ()."""
    said = _only(read(heard, asked(batch, at)))
    return said if _fits(batch, said) else ()


def _is_done(
    there: _There, said: tuple[AnyEvent, ...], otherwise: tuple[AnyEvent, ...] = ()
) -> Understood:
    """Whether the stages in between are behind the cook; else it is but what was said."""
    events = (*there.done, *said)
    question = Question(kind="sure", candidates=(events,), reason="ahead", otherwise=otherwise)
    return Understood(
        verdict="ask",
        question=question,
        also=said,
        reason="ahead",
        doubt="ahead",
        facts=(("stages", _listed(there.passed)),),
    )


def _first(there: _There, wants: Stage) -> Understood:
    """What the stages in between still want, and whether those before that are done."""
    code, need = needed(wants)
    facts = (("need", need), ("stages", _listed(there.passed)))
    if not there.done:
        return Understood(verdict="ask", reason="too_early", doubt=code, facts=facts)
    question = Question(kind="sure", candidates=(there.done,), reason="ahead")
    return Understood(
        verdict="ask", question=question, reason="too_early", doubt="ahead_then", facts=facts
    )


def needed(stage: Stage) -> tuple[str, str]:
    """The code of the line that asks for what a stage waits for, and what that is."""
    match stage.kind:
        case "option":
            return "ahead_wants", f"a yes or no to {stuff_words(stage.subject)}"
        case "bottle":
            return "ahead_wants", _MEASURED["bottles"]
        case "measure":
            return "ahead_wants", _MEASURED.get(stage.subject, f"the {stuff_words(stage.subject)}")
        case "reduce":
            return "ahead_unread", _MEASURED["weight"]
        case _:
            return "ahead_unread", _MEASURED["temperature"]


_MEASURED = {
    "juice": "how much juice there is",
    "fruit": "what the fruit weighs",
    "brix": "the Brix",
    "bottles": "how many bottles of what size",
    "weight": "what it weighs",
    "temperature": "what the thermometer reads",
}


def _ahead(batch: Batch, at: datetime) -> Iterator[_There]:
    """Each stage to come, the near ones first."""
    done: tuple[AnyEvent, ...] = ()
    passed: list[str] = []
    wants: Stage | None = None
    while batch.stage is not None:
        stage = batch.stage
        left = _left(batch, at) if wants is None and len(passed) < FURTHEST else None
        if wants is None and left is not None and stage.kind in _BY_DONE:
            passed.append(stage.id)
            more, batch = left
            done = (*done, *more)
        else:
            wants = wants or stage
            batch = advance(batch, at)
        yield _There(passed, done, batch, wants)


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
        case Bottle():
            return stage.kind == "bottle"
        case Reading(what=what) as read:
            awaited = stage.awaits(there, read.at)
            named = next((a for a in awaited if a.what == what), None)
            return what == stage.subject if named is None else named.low <= read.base <= named.high
        case _:
            return False


def _listed(stages: list[str]) -> str:
    names = [name.replace("_", " ") for name in stages]
    return "".join(names) if len(names) < 2 else f"{', '.join(names[:-1])} and {names[-1]}"
