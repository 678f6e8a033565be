"""Shares, their bounds, and groups of results."""

import math
import statistics
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from tests.bench.result import Result


def upper_bound(count: int, of: int, doubt: float = 0.05) -> float:
    """Upper end of the two-sided interval of Clopper and Pearson for a share.

    Source: C. J. Clopper and E. S. Pearson, "The use of confidence or fiducial limits illustrated
    in the case of the binomial", Biometrika 26 (1934) 404-413; from memory.

    count, of : so many out of so many
    doubt : 0.05 for an interval of 95 %
    Returns the share [-]; 1 where nothing was counted.

    >>> round(upper_bound(0, 100), 4), round(upper_bound(5, 100), 4)
    (0.0362, 0.1128)
    """
    if count >= of:
        return 1.0
    low, high = count / of, 1.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if _at_most(count, of, middle) > doubt / 2 else (low, middle)
    return high


def _at_most(count: int, of: int, share: float) -> float:
    """Probability of `count` or fewer out of `of`."""
    if share in (0.0, 1.0):
        return 1.0 - share
    logs = (
        math.lgamma(of + 1) - math.lgamma(k + 1) - math.lgamma(of - k + 1)
        + k * math.log(share) + (of - k) * math.log1p(-share)
        for k in range(count + 1)
    )  # fmt: skip
    return math.fsum(math.exp(each) for each in logs)


def percent(share: float) -> str:
    """A share as it is shown.

    >>> percent(0.9876), percent(0.00123)
    ('98.8 %', '0.12 %')
    """
    return f"{100 * share:.1f} %" if share == 0 or share >= 0.01 else f"{100 * share:.2f} %"


@dataclass(frozen=True)
class Score:
    """What came of a group of utterances."""

    name: str
    clips: int
    taken: int
    asked: int
    asked_other: int
    part: int
    refused: int
    wrong: int
    harmful: int
    first: int

    def share(self, count: int) -> float:
        """A count as share of the group [-]."""
        return count / self.clips if self.clips else 0.0

    @property
    def right(self) -> int:
        """Taken right, or asked with the right candidate among those offered."""
        return self.taken + self.asked

    @property
    def wrong_bound(self) -> float:
        """The most that the share taken wrongly may be, at 95 %."""
        return upper_bound(self.wrong, self.clips) if self.clips else 1.0


def score(name: str, results: list[Result]) -> Score:
    """Count the outcomes."""
    count = Counter(result.outcome for result in results)
    return Score(
        name=name,
        clips=len(results),
        taken=count["taken"],
        asked=count["asked"],
        asked_other=count["asked other"],
        part=count["part"],
        refused=count["refused"],
        wrong=count["wrong"],
        harmful=sum(result.harmful for result in results),
        first=sum(result.first_right for result in results),
    )


def grouped(results: Iterable[Result], by: Callable[[Result], str]) -> list[Score]:
    """A score for each value of `by`, in order of the names."""
    groups: dict[str, list[Result]] = {}
    for result in results:
        groups.setdefault(by(result), []).append(result)
    return [score(name, group) for name, group in sorted(groups.items())]


@dataclass(frozen=True)
class Times:
    """Times over clips that ran alone.

    median, p95 : from the last word to the decision [s]; computed : computing time a clip [s]
    real_time : computing time as a share of the sound's length [-]
    """

    measured: int
    median: float
    p95: float
    computed: float
    real_time: float


def times(results: list[Result], least: int = 10) -> Times | None:
    """None where fewer than `least` were measured on a machine that did nothing else."""
    alone = [result.made for result in results if result.made.alone]
    waited = sorted(made.decided for made in alone if made.decided is not None)
    if len(waited) < least:
        return None
    return Times(
        len(waited),
        statistics.median(waited),
        waited[max(0, math.ceil(0.95 * len(waited)) - 1)],
        sum(made.computed for made in alone) / len(alone),
        sum(made.computed for made in alone) / sum(made.seconds for made in alone),
    )


@dataclass(frozen=True)
class Idle:
    """What came of sound that was not for the tool."""

    hours: float
    events: int
    harmful: int
    clips_with_events: int
    questions: int


def idle(results: list[Result]) -> Idle:
    """Count events and questions that nobody asked for."""
    return Idle(
        hours=sum(result.made.seconds for result in results) / 3600,
        events=sum(len(result.taken) for result in results),
        harmful=sum(result.harmful for result in results),
        clips_with_events=sum(bool(result.taken) for result in results),
        questions=sum(result.made.questions for result in results),
    )


def poisson_upper(count: int, hours: float, doubt: float = 0.05) -> float:
    """Upper end of the two-sided interval for events an hour, taken as rare and independent.

    Source: F. Garwood, "Fiducial limits for the Poisson distribution", Biometrika 28 (1936)
    437-442; from memory.

    >>> round(poisson_upper(0, 3.0), 2)
    1.23
    """
    low, high = float(count), 10.0 * (count + 4)
    for _ in range(80):
        middle = (low + high) / 2
        logs = (
            k * math.log(middle or 1e-300) - middle - math.lgamma(k + 1) for k in range(count + 1)
        )
        most = math.fsum(math.exp(each) for each in logs)
        low, high = (middle, high) if most > doubt / 2 else (low, middle)
    return high / hours
