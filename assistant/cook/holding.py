"""The pasteurising hold of a batch, counted from its temperature readings."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from assistant.calc.hold import BELOW_REFERENCE_C, seconds_above, sweetened_margin
from assistant.calc.keep_reasons import Heated
from assistant.calc.watched import LONGEST_GAP_S, longest_gap
from assistant.cook.batch import Batch, Taken
from assistant.cook.own import germs
from assistant.cook.passing import passed, timed
from assistant.facts.stuff import stuff_of

if TYPE_CHECKING:
    from assistant.cook.kinds import Hold

DIP_C = BELOW_REFERENCE_C
"""A dip no deeper than this pauses a hold: what was killed stays killed, and the stretches that
touch the dip earn no time. Deeper, lethality counts nothing either, and the hold starts anew: this
project's own rule, on the strict side. [degC]"""
_UNHEATED = ("sugar", "water", "vinegar", "gum_arabic")
"""Put in after a hold, these were never held; grams of acid or preservative are no matter."""
_RAW = ("juice", "darker_syrup")
"""Put in after a hold, these bring all the yeast back that it killed."""


@dataclass(frozen=True)
class Held:
    """How far a hold has come.

    seconds : time in one run at or above the target, dips between them left out [s]
    margin : share of the sweetened hold done by lethality, 1 or more is all of it [-]
    complete : both are enough
    """

    seconds: float
    margin: float
    complete: bool


def held(batch: Batch) -> Held:
    """The hold of the batch so far; incomplete where the recipe has none."""
    stage = hold_stage(batch)
    if stage is None:
        return Held(0.0, 0.0, complete=False)
    return _measure(best_run(batch), stage)


def best_run(batch: Batch) -> tuple[Taken, ...]:
    """The readings in one run at or above the target that `held` counts; none without a hold."""
    stage = hold_stage(batch)
    if stage is None:
        return ()
    found = _runs(batch, stage)
    worths = [_worth(_measure(run, stage)) for run in found]
    latest = len(worths) - 1 - worths[::-1].index(max(worths))
    return tuple(found[latest])


def heated(batch: Batch) -> Heated:
    """What of the batch was in the pan during a completed hold."""
    if not held(batch).complete:
        return "none"
    since = best_run(batch)[0].mixed
    later = {stuff_of(a.name) for a in batch.added if a.mixed > since}
    own = germs(batch, later)
    if later & {*_RAW} or own == "raw":
        return "none"
    return "part" if later & {*_UNHEATED} or own else "all"


def hold_stage(batch: Batch) -> "Hold | None":
    """The recipe's hold, if it has one."""
    return next((s for s in batch.recipe.stages if s.kind == "hold"), None)


def blind_after_s(batch: Batch) -> float:
    """How long a silence between two readings may be before nobody knows what the pan did. [s]"""
    stage = hold_stage(batch)
    return longest_gap(stage.seconds) if stage else LONGEST_GAP_S


def current_run(batch: Batch, stage: "Hold") -> Held:
    """The run that goes on now; nothing when the last reading was far below the target.

    By it the batch goes on to its next stage. What was begun by the first rules goes on as it did
    then, or bottles that were filled long ago would be in no larder; what the hold is worth is
    judged by `held` all the same.
    """
    if not batch.rules:
        return _measured(_as_was_counted(batch, stage), stage)
    return _measure(_runs(batch, stage)[-1], stage)


def _as_was_counted(batch: Batch, stage: "Hold") -> list[tuple[float, float]]:
    """The run that went on by the first rules: a silence ended none, and earned two minutes."""
    points: list[tuple[float, float]] = []
    last: Taken | None = None
    for taken in _heating(batch):
        if last is not None and (taken.base < stage.target_c or taken.at < last.at):
            points, last = [], None
        if taken.base >= stage.target_c:
            since = (taken.at - last.at).total_seconds() if last is not None else 0.0
            so_far = points[-1][0] if points else 0.0
            points.append((so_far + min(since, LONGEST_GAP_S), taken.base))
            last = taken
    return points


def unwatched_s(batch: Batch, stage: "Hold") -> float | None:
    """How long nobody looked before the last reading, where that cost the hold its run. [s]"""
    last = _heating(batch)[-2:]
    if len(last) < 2 or min(taken.base for taken in last) < stage.target_c:
        return None
    since = passed(last[0].reading, last[1].reading)
    silent = max(since.wall, since.steady or 0.0)
    return None if since.apart or silent <= longest_gap(stage.seconds) else silent


def in_a_dip(batch: Batch, stage: "Hold") -> bool:
    """Whether the last reading was below the target, and the run goes on all the same."""
    run = _runs(batch, stage)[-1]
    return bool(run) and run[-1].base < stage.target_c


def would_complete_at(batch: Batch, stage: "Hold", at: datetime) -> bool:
    """Whether a reading at the target, taken now, would complete the hold."""
    run = _runs(batch, stage)[-1]
    if not run:
        return False
    since = (at - run[-1].at).total_seconds()
    if not 0 <= since <= longest_gap(stage.seconds):
        return False
    points = _points(run)
    so_far = [*points, (points[-1][0] + since, stage.target_c)]
    return seconds_above(so_far, stage.target_c) >= stage.seconds


def _worth(one: Held) -> tuple[bool, float]:
    """A complete run is worth as much as any other, so that the latest counts."""
    return one.complete, 0.0 if one.complete else one.seconds


def _heating(batch: Batch) -> list[Taken]:
    """The temperatures read while the pan was heated and held."""
    stages = {s.id for s in batch.recipe.stages if s.kind in ("heat", "hold")}
    return [t for t in batch.taken if t.what == "temperature" and t.stage in stages]


def _dip_c(batch: Batch) -> float:
    """What was written before dips were allowed stays what it was. [degC]"""
    return DIP_C if batch.rules else 0.0


def _runs(batch: Batch, stage: "Hold") -> list[list[Taken]]:
    """Stretches at or above the target but for small dips; the last is empty after a colder one.

    A silence that is too long, a clock set back or another process ends a run: nobody knows what
    the pan did.
    """
    gap = longest_gap(stage.seconds)
    runs: list[list[Taken]] = [[]]
    for taken in _heating(batch):
        cold = taken.base < stage.target_c - _dip_c(batch)
        if runs[-1] and (cold or _unknown(runs[-1][-1], taken, gap)):
            runs.append([])
        if taken.base >= stage.target_c or (runs[-1] and not cold):
            runs[-1].append(taken)
    return runs


def _unknown(before: Taken, after: Taken, gap_s: float) -> bool:
    """Whether nobody can tell what the pan did in between, by whichever clock says so."""
    since = passed(before.reading, after.reading)
    longest = max(since.wall, since.steady or 0.0)
    return since.apart or since.seconds < 0 or longest > gap_s


def _points(run: Sequence[Taken]) -> list[tuple[float, float]]:
    return timed(run)


def _measure(run: Sequence[Taken], stage: "Hold") -> Held:
    return _measured(_points(run), stage)


def _measured(points: list[tuple[float, float]], stage: "Hold") -> Held:
    seconds = seconds_above(points, stage.target_c)
    margin = sweetened_margin(points)
    return Held(seconds, margin, seconds >= stage.seconds and margin >= 1.0)
