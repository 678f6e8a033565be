"""When the pan will be where it should, from the readings of the stage so far."""

from itertools import pairwise

from assistant.base.errors import OutOfRange
from assistant.calc.forecast import forecast
from assistant.cook.batch import Batch, Taken

SOONEST_S, LATEST_S = 15.0, 3600.0


def seconds_to(batch: Batch, target_c: float) -> float | None:
    """Likely seconds until the target, to the half minute; None where the readings do not tell.

    Only the readings of this stage count, and only a forecast between a quarter of a minute and
    an hour is worth saying.
    """
    run = _of_this_stage(batch)
    if len(run) < 2 or any(later.at <= earlier.at for earlier, later in pairwise(run)):
        return None
    points = [((t.at - run[0].at).total_seconds(), t.base) for t in run]
    try:
        time = forecast(points).time_to(target_c)
    except OutOfRange:
        return None
    if time is None or not SOONEST_S <= time.likely <= LATEST_S:
        return None
    return max(30.0, 30.0 * round(time.likely / 30.0))


def _of_this_stage(batch: Batch) -> list[Taken]:
    stage = batch.stage.id if batch.stage else None
    return [t for t in batch.taken if t.what == "temperature" and t.stage == stage]
