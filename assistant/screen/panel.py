"""The kitchen page's panel: one state that fills the screen, worked out from a batch. Pure.

The strictest state wins: a limit that stops the batch, a pan over its ceiling, a question that is
open, and only then what the stage asks for.
"""

import re
from collections.abc import Sequence
from datetime import datetime

from assistant.cook import Batch
from assistant.cook.holding import hold_stage
from assistant.cook.keep_answers import sign_lines
from assistant.cook.kinds import Add, Bottling, Cool, Do, Heat, Hold, Measure, Option, Reduce, Rest
from assistant.cook.souring import acid_advice
from assistant.cook.stages import announce
from assistant.limits import Limit
from assistant.say import by_eye as line_by_eye
from assistant.say.amounts import by_eye
from assistant.screen.big import big, exact, parted, stopping
from assistant.screen.control import choices, control, onward, pad, yes_no
from assistant.screen.facts import Big, Control, Count, Panel, State, Tap

_SAY_DONE = re.compile(
    r"[,;]?\s+(?:and\s+)?(?:then\s+)?"
    r"(?:say done|tell me|call (?:out )?the thermometer)\b[^.]*(?=\.|$)"
)
_LAST_COMMA = re.compile(r",\s+(?!to\b)([^,]+)$")
STAGE_NAMES = {
    "ph": "pH",
    "make_up": "Make up the juice",
    "ask_ascorbic": "Ascorbic acid?",
    "ask_glycerin": "Glycerin?",
    "ask_sorbate": "Potassium sorbate?",
    "weigh": "Weigh the fruit",
    "crush": "Crush",
    "dissolve": "Dissolve the sugar",
    "sharpen": "Sharpen",
    "store": "Label and store",
    "bottle": "Fill bottles",
}
"""Stages whose ids are no name for people."""


def panel(batch: Batch, at: datetime, asking: str = "", taps: Sequence[Tap] = ()) -> Panel:
    """The state that fills the screen now.

    asking : a question that is open, "" for none; taps : its answers, yes and no where left out
    """
    if batch.stage is None:
        return _ended(batch, at)
    if asking:
        return _over(batch, _question(batch, asking, taps))
    if batch.spoiling:
        return _spoiling(batch)
    if batch.held:
        return _question(batch, line_by_eye(batch.held.lines[0]), ())
    limit = stopping(batch)
    if limit is not None:
        return _stopped(batch, limit)
    if batch.stopped_by is not None:
        return _plain(batch, "stopped", "Stopped", "Do not bottle it.", Control(kind="none"))
    return _too_hot(batch) or _stage(batch, at)


def place(batch: Batch) -> str:
    """Where the batch is, for people."""
    stage = batch.stage
    if stage is None:
        return ""
    plain = stage.id.replace("_", " ").replace("-", " ").capitalize()
    return STAGE_NAMES.get(stage.id, plain)


def short(words: str) -> str:
    """A recipe's sentence without what is said only to be answered.

    >>> short("Crush the fruit with 600 g of sugar and say done.")
    'Crush the fruit with 600 g of sugar.'
    >>> short("Take it off the heat and let it steep for 20 min; say done after that.")
    'Take it off the heat and let it steep for 20 min.'
    >>> short("Pour in 960 ml of hot water, stir, and say done.")
    'Pour in 960 ml of hot water and stir.'
    >>> short("Warm it gently, stirring, to 75 °C, and call out the thermometer.")
    'Warm it gently, stirring, to 75 °C.'
    """
    cut = _SAY_DONE.sub("", words).strip()
    return _LAST_COMMA.sub(r" and \1", cut) if cut != words and " and " not in cut else cut


def _plain(
    batch: Batch,
    state: State,
    word: str,
    instruction: str,
    does: Control,
    number: Big | None = None,
) -> Panel:
    return Panel(
        state=state,
        word=word,
        place=place(batch),
        number=number.value if number else "",
        unit=number.unit if number else "",
        sense=_sense(number),
        instruction=instruction,
        control=does,
    )


def _sense(number: Big | None) -> str:
    if number is None:
        return ""
    return f"{number.label}, {number.note}" if number.note else number.label


def _ended(batch: Batch, at: datetime) -> Panel:
    words = " ".join(line_by_eye(line) for line in announce(batch, at)[:1])
    if batch.ended == "discarded":
        return _plain(batch, "finished", "Thrown away", words, onward(batch))
    if batch.barred:
        return _plain(batch, "stopped", "Do not use it", words, onward(batch))
    return _plain(batch, "finished", "Finished", words, onward(batch), big(batch, at))


def _question(batch: Batch, asking: str, taps: Sequence[Tap]) -> Panel:
    does = choices(taps) if taps else yes_no()
    return _plain(batch, "question", "Answer", asking, does)


def _over(batch: Batch, asked: Panel) -> Panel:
    """A question does not hide that the pan is too hot, or that a limit holds the batch."""
    limit = stopping(batch)
    strict = _stopped(batch, limit) if limit is not None else _too_hot(batch)
    if strict is None:
        return asked
    first = "Do not bottle it." if limit is not None else "Take it off the heat."
    words = f"{first} {asked.instruction}"
    return strict.model_copy(update={"instruction": words, "control": asked.control})


def _spoiling(batch: Batch) -> Panel:
    """A sign of spoilage holds the batch: what it was is asked, or said."""
    words = line_by_eye(sign_lines(batch)[-1])
    if batch.sign_sure:
        return _plain(batch, "stopped", "Do not use it", words, Control(kind="none"))
    return _question(batch, words, ())


def _stopped(batch: Batch, limit: Limit) -> Panel:
    """A limit holds the batch: the reading, and what mends it."""
    number = big(batch, batch.entered_at)
    if limit.quantity != "ph":
        return _plain(
            batch, "stopped", "Stopped", "Do not bottle it.", Control(kind="none"), number
        )
    last = batch.last("ph")
    advice = acid_advice(batch, last.base) if last else ()
    mend = line_by_eye(advice[0]) if advice else "Do not bottle it. Add acid, stir, read the pH."
    return _plain(batch, "acid", "Not sour enough", mend, pad("ph"), number)


def _too_hot(batch: Batch) -> Panel | None:
    """Over the hold's ceiling, while the pan is on the heat."""
    hold, last = hold_stage(batch), batch.last("temperature")
    if hold is None or last is None or not isinstance(batch.stage, Heat | Hold):
        return None
    if last.base <= hold.ceiling_c or last.stage not in {s.id for s in _hot_stages(batch)}:
        return None
    number, unit = parted(exact(last.base, "degC"))
    ceiling = by_eye(exact(hold.ceiling_c, "degC"))
    return Panel(
        state="hot",
        word="Too hot",
        place=place(batch),
        number=number,
        unit=unit,
        sense=f"in the pan, no hotter than {ceiling}",
        old_at=last.at,
        instruction=f"Take it off the heat. Stir until it is below {ceiling}.",
        control=pad("temperature"),
    )


def _hot_stages(batch: Batch) -> list[Heat | Hold]:
    return [s for s in batch.stages if isinstance(s, Heat | Hold)]


def _stage(batch: Batch, at: datetime) -> Panel:
    stage = batch.stage
    words = short(line_by_eye(announce(batch, at)[0]))
    does = control(batch)
    match stage:
        case Rest():
            found = _plain(batch, "wait", "Wait", words, does)
            return found.model_copy(update={"count": _count(batch, at, "still to wait", big=True)})
        case Option():
            return _plain(batch, "question", "Answer", words, does)
        case Hold():
            return _hold(batch, stage, words, does, at)
        case Measure() | Reduce():
            return _plain(batch, "measure", "Measure", words, does, big(batch, at))
        case Heat() | Cool():
            return _read(batch, words, does, big(batch, at))
        case Add() | Do() | Bottling() | None:
            return _plain(batch, "go", "Do", words, does, big(batch, at))


def _read(batch: Batch, words: str, does: Control, number: Big | None) -> Panel:
    """The thermometer is called: the last reading grows old."""
    last = batch.last("temperature")
    here = last is not None and batch.stage is not None and last.stage == batch.stage.id
    found = _plain(batch, "measure", "Measure", words, does, number)
    return found.model_copy(update={"old_at": last.at}) if here and last else found


def _count(batch: Batch, at: datetime, label: str, big: bool = False) -> Count | None:
    """Until the stage wants the cook again, by its own rule."""
    due = batch.stage.due(batch, at) if batch.stage else None
    return Count(label=label, began=due.began, ends=due.ends, big=big) if due else None


def _hold(batch: Batch, stage: Hold, words: str, does: Control, at: datetime) -> Panel:
    """The last temperature, what is counted of the hold, and the seconds to the next reading."""
    last = batch.last("temperature")
    if last is None:
        return _plain(batch, "measure", "Measure", words, does, None)
    number, unit = parted(exact(last.base, "degC"))
    target = by_eye(exact(stage.target_c, "degC"))
    if last.base < stage.target_c:
        cold = Big(label="too cold for the hold", value=number, unit=unit)
        return _read(batch, f"Bring it back to {target}.", does, cold)
    counted = big(batch, last.at)
    so_far = f"; {counted.value} {counted.unit} {counted.note}" if counted else ""
    return Panel(
        state="wait",
        word="Wait",
        place=place(batch),
        number=number,
        unit=unit,
        sense=f"in the pan{so_far}",
        old_at=last.at,
        count=_count(batch, at, "to the next reading"),
        instruction=f"Keep it at {target} or a little over, and read it again.",
        control=does,
    )
