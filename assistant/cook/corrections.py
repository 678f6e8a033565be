"""Taking things back and putting them right."""

from dataclasses import replace

from assistant.base.units import dimension
from assistant.cook.batch import Batch
from assistant.cook.changes import Step, stay
from assistant.cook.own import named
from assistant.cook.put_right import put_right
from assistant.cook.readings import take_reading
from assistant.cook.reply import Line, Rank, Reply
from assistant.cook.stages import announce
from assistant.cook.weighing import with_part
from assistant.facts.events import Correct, Reading, Undo
from assistant.limits import ACID_STOP, above_makers, is_low_acid


def take_undo(batch: Batch, event: Undo) -> Step:
    """Back to the state before the last change; the events themselves stay in the journal.

    A pH at the regulation's bound stops the batch until another is read, whatever is taken back.
    """
    if batch.before is None:
        return stay(batch, Line(id="nothing_to_undo", rank="answer"))
    back = batch.before if event.stages is None else _stages_back(batch, event.stages)
    back = remembering(batch, back)
    line = Line(id="undone", rank="read_back")
    return back, Reply(lines=(line, *announce(back, event.at)), stopped=back.stopped)


def remembering(batch: Batch, back: Batch) -> Batch:
    """The earlier state with what no undo takes back; the first rules took a stop back too."""
    gone = (t for t in batch.taken[len(back.taken) :] if t.what == "ph" and above_makers(t.base))
    lasting = replace(
        batch.lasting,
        high_ph=batch.lasting.high_ph or back.lasting.high_ph,
        taken_back=(*batch.lasting.taken_back, *gone),
    )
    lasting = lasting.from_mix(back.mixed)
    high = lasting.high_ph
    stays = high is not None and is_low_acid(high.base) and bool(batch.rules)
    stop = ACID_STOP if stays else back.stopped_by
    return replace(back, lasting=lasting, stopped_by=stop)


def _stages_back(batch: Batch, stages: int) -> Batch:
    """The state in which the stage so many before this one was reached; the start at the most."""
    state, left = batch, stages
    while state.before is not None and (left > 0 or _where(state.before) == _where(state)):
        left -= _where(state.before) != _where(state)
        state = state.before
    return state


def _where(batch: Batch) -> tuple[int, tuple[str, ...]]:
    return batch.stage_index, batch.order


def take_correction(batch: Batch, event: Correct) -> Step:
    """ "No, sixty": the last reading is made again with the right number, at its own time.

    What names something told earlier puts that right.
    """
    wrong = batch.last_reading
    if wrong is None or batch.before is None or not corrects_last(batch, event):
        if batch.rules:
            return put_right(batch, event)
        line_id = "correction_elsewhere" if wrong and batch.before else "nothing_to_correct"
        rank: Rank = "question" if wrong and batch.before else "answer"
        return stay(batch, Line(id=line_id, rank=rank))
    back = remembering(batch, batch.before)
    after, reply = take_reading(back, corrected(wrong, event))
    if after.before is not back:
        kept = replace(batch, lasting=after.lasting, asked_again=after.asked_again)
        return (batch if kept == batch else kept), reply
    return replace(after, before=batch.before), reply


def corrects_last(batch: Batch, event: Correct) -> bool:
    """Whether it can be the last reading that is put right."""
    wrong = batch.last_reading
    if wrong is not None and wrong.parts:
        right = with_part(wrong, event.of, event.value, event.unit)
        return _fits(event, wrong) and right is not None
    if wrong is None or (event.of and event.of != named(batch.before or batch, wrong).of):
        return False
    return _fits(event, wrong)


def corrected(wrong: Reading, event: Correct) -> Reading:
    """The wrong reading with the right value, at the time it was first said."""
    if wrong.parts:
        right = with_part(wrong, event.of, event.value, event.unit) or wrong
        return right.model_copy(update={"heard": event.heard})
    return wrong.model_copy(
        update={"value": event.value, "unit": event.unit or wrong.unit, "heard": event.heard}
    )


def _fits(event: Correct, wrong: Reading) -> bool:
    if event.what is not None and event.what != wrong.what:
        return False
    return event.unit is None or dimension(event.unit) in _DIMENSIONS.get(
        wrong.what, {wrong.dimension}
    )


_DIMENSIONS = {"juice": {"mass", "volume"}}
