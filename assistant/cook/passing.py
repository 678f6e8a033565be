"""How much time has passed between two readings, where clocks may be set and processes end.

Each reading brings the time on the wall and what its process counted steadily. The smaller
difference counts; between two processes nobody knows how long it was.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.cook.batch import Batch, Taken
from assistant.cook.reply import Line, Quantity
from assistant.facts.events import Reading

APART_S = 5.0
"""Clocks that differ by no more than this agree: time servers nudge them, and a turn takes a moment
(common practice, no source). [s]"""


@dataclass(frozen=True)
class Passed:
    """Time between two readings. [s]

    wall : by the clock on the wall; steady : as counted, None where that is not known
    apart : they come from two processes, or only one of them was counted
    """

    wall: float
    steady: float | None
    apart: bool

    @property
    def seconds(self) -> float:
        """What surely passed: the smaller of the two, nothing between two processes."""
        if self.apart:
            return 0.0
        return self.wall if self.steady is None else min(self.wall, self.steady)

    @property
    def disagree(self) -> bool:
        """Whether the clock was set in between."""
        return self.steady is not None and abs(self.wall - self.steady) > APART_S


def passed(before: Reading, after: Reading) -> Passed:
    """The time between two readings; by the wall what was written before anything was counted."""
    wall = (after.at - before.at).total_seconds()
    if before.process != after.process:
        return Passed(wall, None, apart=True)
    if before.elapsed_s is None or after.elapsed_s is None:
        return Passed(wall, None, apart=False)
    return Passed(wall, after.elapsed_s - before.elapsed_s, apart=False)


def timed(run: Sequence[Taken]) -> list[tuple[float, float]]:
    """Seconds since the first of some readings, as far as they surely passed, and temperatures."""
    points, seconds = [], 0.0
    for n, taken in enumerate(run):
        seconds += passed(run[n - 1].reading, taken.reading).seconds if n else 0.0
        points.append((seconds, taken.base))
    return points


def doubts(batch: Batch, event: Reading) -> tuple[Line, ...]:
    """What is said in a hold when it isn't known how long it was since the last reading."""
    last = batch.last("temperature")
    if batch.stage is None or batch.stage.kind != "hold" or last is None:
        return ()
    since = passed(last.reading, event)
    if since.apart:
        return (Line(id="time_unknown", rank="caution"),)
    if not since.disagree or since.steady is None:
        return ()
    facts = {
        "wall": Quantity(value=abs(round(since.wall)), unit="s"),
        "steady": Quantity(value=round(since.steady), unit="s"),
    }
    back = "back" if since.wall < since.steady else "on"
    return (Line(id=f"clock_set_{back}", rank="caution", facts=facts),)
