"""The pasteurising hold of a batch, counted from its temperature readings."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from assistant.calc.hold import BELOW_REFERENCE_C, seconds_above, sweetened_margin
from assistant.cook.batch import Batch, Taken
from assistant.cook.passing import passed, timed

if TYPE_CHECKING:
    from assistant.cook.kinds import Hold

LONGEST_GAP_S = 120.0
"""Of a longer silence between two readings only this much counts: nobody knows what the pan did."""
DIP_C = BELOW_REFERENCE_C
"""A dip no deeper than this pauses a hold: what was killed stays killed, and the stretches that
touch the dip earn no time. Deeper, lethality counts nothing either, and the hold starts anew: this
project's own rule, on the strict side. [degC]"""


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
    runs = _runs(_heating(batch), stage.target_c, _dip_c(batch))
    worths = [_worth(_measure(run, stage)) for run in runs]
    return tuple(runs[worths.index(max(worths))])


def hold_stage(batch: Batch) -> "Hold | None":
    """The recipe's hold, if it has one."""
    return next((s for s in batch.recipe.stages if s.kind == "hold"), None)


def current_run(batch: Batch, stage: "Hold") -> Held:
    """The run that goes on now; nothing when the last reading was far below the target."""
    runs = _runs(_heating(batch), stage.target_c, _dip_c(batch))
    return _measure(runs[-1], stage)


def in_a_dip(batch: Batch, stage: "Hold") -> bool:
    """Whether the last reading was below the target, and the run goes on all the same."""
    run = _runs(_heating(batch), stage.target_c, _dip_c(batch))[-1]
    return bool(run) and run[-1].base < stage.target_c


def would_complete_at(batch: Batch, stage: "Hold", at: datetime) -> bool:
    """Whether a reading at the target, taken now, would complete the hold."""
    runs = _runs(_heating(batch), stage.target_c, _dip_c(batch))
    if not runs[-1] or at < runs[-1][-1].at:
        return False
    points, since = _points(runs[-1]), (at - runs[-1][-1].at).total_seconds()
    so_far = [*points, (points[-1][0] + since, stage.target_c)]
    return seconds_above(so_far, stage.target_c, longest_gap_s=LONGEST_GAP_S) >= stage.seconds


def _worth(one: Held) -> tuple[bool, float]:
    return one.complete, one.seconds


def _heating(batch: Batch) -> list[Taken]:
    """The temperatures read while the pan was heated and held."""
    stages = {s.id for s in batch.recipe.stages if s.kind in ("heat", "hold")}
    return [t for t in batch.taken if t.what == "temperature" and t.stage in stages]


def _dip_c(batch: Batch) -> float:
    """What was written before dips were allowed stays what it was. [degC]"""
    return DIP_C if batch.rules else 0.0


def _runs(temps: Sequence[Taken], target_c: float, dip_c: float) -> list[list[Taken]]:
    """Stretches at or above the target but for small dips; the last is empty after a colder one.

    A clock set back ends a run too, and so does another process: nobody knows how long it was.
    """
    runs: list[list[Taken]] = [[]]
    for taken in temps:
        if runs[-1] and (taken.base < target_c - dip_c or _unknown(runs[-1][-1], taken)):
            runs.append([])
        if taken.base >= target_c or runs[-1]:
            runs[-1].append(taken)
    return runs


def _unknown(before: Taken, after: Taken) -> bool:
    since = passed(before.reading, after.reading)
    return since.apart or since.seconds < 0


def _points(run: Sequence[Taken]) -> list[tuple[float, float]]:
    return timed(run)


def _measure(run: Sequence[Taken], stage: "Hold") -> Held:
    points = _points(run)
    seconds = seconds_above(points, stage.target_c, longest_gap_s=LONGEST_GAP_S)
    margin = sweetened_margin(points, longest_gap_s=LONGEST_GAP_S)
    return Held(seconds, margin, seconds >= stage.seconds and margin >= 1.0)
