"""The temperature curve as facts for the page."""

from itertools import pairwise

from assistant.cook import Batch
from assistant.cook.batch import Taken
from assistant.cook.holding import best_run, blind_after_s, held, hold_stage
from assistant.cook.kinds import Cool, Heat, Hold
from assistant.cook.reply import Quantity
from assistant.say.amounts import by_eye
from assistant.say.chosen import chosen_now, fahrenheit
from assistant.screen.facts import Curve, HoldSoFar, Point


def curve(batch: Batch) -> Curve | None:
    """The readings of the thermometer and what they are held against; None before the first."""
    temps = [t for t in batch.taken if t.what == "temperature"]
    if not temps:
        return None
    stage = batch.stage
    hold = hold_stage(batch)
    return Curve(
        points=_points(temps, blind_after_s(batch)),
        first_at=temps[0].at,
        target=_in_chosen(_target(batch)),
        ceiling=_in_chosen(hold.ceiling_c if hold else None),
        below=_in_chosen(stage.below_c if isinstance(stage, Cool) else None),
        unit="°F" if chosen_now().heat == "degF" else "°C",
        counted=_counted(batch, temps),
        live=isinstance(stage, Heat | Hold | Cool),
        words=_words(batch, temps),
    )


def hold_so_far(batch: Batch) -> HoldSoFar | None:
    """The hold, from the first reading of the stage that heats; None where there is none."""
    hold = hold_stage(batch)
    if hold is None or not any(t.what == "temperature" for t in batch.taken):
        return None
    done = held(batch)
    return HoldSoFar(
        counted_s=done.seconds,
        needed_s=hold.seconds,
        share=done.margin,
        complete=done.complete,
        words=_hold_words(done.seconds, hold.seconds, done.margin, done.complete),
    )


def _hold_words(counted_s: float, needed_s: float, share: float, complete: bool) -> str:
    """The hold counts what readings show; the cooler one of each two."""
    counted = by_eye(Quantity(value=round(counted_s), unit="s"))
    needed = by_eye(Quantity(value=needed_s, unit="s"))
    times = f"lethality {share:.1f} times the margin"
    if complete:
        return f"Held: {counted} counted of {needed}, {times}."
    return f"{counted} counted of {needed}, {times}. Only read temperatures count."


def _points(temps: list[Taken], blind_s: float) -> tuple[Point, ...]:
    first = temps[0].at
    gaps = [0.0, *((b.at - a.at).total_seconds() for a, b in pairwise(temps))]
    return tuple(
        Point(
            seconds=(t.at - first).total_seconds(),
            degrees=_in_chosen(t.base) or 0.0,
            at=t.at,
            blind=gap > blind_s or gap < 0,
        )
        for t, gap in zip(temps, gaps, strict=True)
    )


def _in_chosen(celsius: float | None) -> float | None:
    """In the degrees that are wanted on the page."""
    if celsius is None or chosen_now().heat != "degF":
        return celsius
    return round(fahrenheit(celsius), 1)


def _target(batch: Batch) -> float | None:
    hold = hold_stage(batch)
    if hold is not None:
        return hold.target_c
    return next((s.target_c for s in batch.recipe.stages if isinstance(s, Heat)), None)


def _counted(batch: Batch, temps: list[Taken]) -> tuple[float, float] | None:
    """Where the run that counts begins and ends; nothing while it has no length."""
    run = best_run(batch)
    if not run or not held(batch).seconds:
        return None
    first = temps[0].at
    return (run[0].at - first).total_seconds(), (run[-1].at - first).total_seconds()


def _words(batch: Batch, temps: list[Taken]) -> str:
    """The curve told, for who can't see it."""
    last = by_eye(Quantity(value=temps[-1].base, unit="degC", exact=True))
    told = f"{len(temps)} {'reading' if len(temps) == 1 else 'readings'}, the last {last}"
    target = _target(batch)
    if target is None:
        return f"{told}."
    return f"{told}; target {by_eye(Quantity(value=target, unit='degC', exact=True))}."
