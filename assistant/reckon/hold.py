"""Questions about holding hot: how long at a temperature, what the readings add up to."""

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import ceil, inf, isfinite, isinf

from assistant.base.errors import WrongUse
from assistant.calc import hold
from assistant.calc.answer import Answer
from assistant.calc.bounds import inside
from assistant.calc.watched import longest_gap, runs

_MARGIN_ONLY = (
    "This is a margin over what is asked of juice, not a promise: nobody has published the heat "
    "that sweetened fruit mash needs, and sugar protects germs."
)
_NOT_KEPT = (
    "Heat does not replace acid, cold or clean bottles: mould spores live through it, and filling "
    "lets yeast back in."
)
_COOLEST = "Stir, and measure in the coolest place, away from the bottom of the pan."
_BURNS = "Hot mash sticks and burns: keep lids, hands and children away from the steam."
_CAUTIONS = (_MARGIN_ONLY, _COOLEST, _NOT_KEPT, _BURNS)
_VALID = (
    f"{hold.SWEETENED.reference_c - hold.BELOW_REFERENCE_C:g} to 130 C; colder counts nothing, "
    f"hotter than {hold.FDA_JUICE.high_c:g} C counts as that; pH 4.6 or below"
)
_SOURCE = (
    f"this project's own cautious rule from {hold.SWEETENED.source}; z of the {hold.FDA_JUICE.name}"
    f" above, of {hold.MAZZOTTA_JUICE.source} below"
)


def holding(*, temp_c: float, held_s: float = 0.0) -> Answer:
    """How long sweetened mash must stay at a temperature.

    temp_c : the coolest it gets [C]; held_s : how long it has been there already [s]
    """
    inside("time held", held_s, 0.0, 86_400.0, "s")
    rate = hold.sweetened_rate(temp_c)
    done = hold.sweetened_margin([(0.0, temp_c), (held_s, temp_c)])
    if rate == 0.0:
        return _too_cool(temp_c)
    needed = hold.SWEETENED.seconds / rate
    left = max(0.0, needed - held_s)
    more = f"{ceil(left)} seconds more" if left else "the hold is done"
    return Answer(
        answer=f"At {temp_c:g} C sweetened mash is to stay {ceil(needed)} seconds"
        + (f"; after {held_s:g} seconds, {more}." if held_s else "."),
        values={"needed_s": needed, "left_s": left, "margin": done},
        working=(
            f"the hold is {hold.SWEETENED.seconds:g} s at {hold.SWEETENED.reference_c:g} C",
            f"one second at {temp_c:g} C counts for {rate:.3f} s at "
            f"{hold.SWEETENED.reference_c:g} C, the stricter of two published z",
            f"needed = {hold.SWEETENED.seconds:g} / {rate:.3f} = {needed:.1f} s",
            f"done = {held_s:g} / {needed:.1f} = {done:.2f} of the hold",
        ),
        source=_SOURCE,
        valid=_VALID,
        cautions=(*_CAUTIONS, _yeast_words(temp_c)),
    )


def _too_cool(temp_c: float) -> Answer:
    least = hold.SWEETENED.reference_c - hold.BELOW_REFERENCE_C
    return Answer(
        answer=f"At {temp_c:g} C nothing counts: warm it to {hold.SWEETENED.reference_c:g} C.",
        values={"margin": 0.0},
        working=(f"colder than {least:g} C no time is counted, however long",),
        source=_SOURCE,
        valid=_VALID,
        cautions=_CAUTIONS,
    )


def _yeast_words(temp_c: float) -> str:
    yeast = hold.SUGAR_YEAST
    asked = f"{yeast.seconds:g} seconds at {yeast.reference_c:g} C"
    reached = "" if temp_c >= yeast.reference_c else ", which this temperature does not reach"
    return f"Sugar-loving yeast was killed in grape concentrate by {asked}{reached} (Rojo 2019)."


def hold_so_far(*, readings: str, target_c: float = 75.0, seconds: float = 90.0) -> Answer:
    """What a run of readings adds up to as a hold. A silence too long in it earns nothing.

    readings : seconds and temperature of each, as "0 70, 30 75.2, 60 76" [s], [C]
    target_c : what it must not fall below [C]; seconds : how long the recipe asks for [s]
    """
    inside("target", target_c, 60.0, 100.0, "C")
    inside("hold", seconds, 1.0, 7200.0, "s")
    given = parsed(readings)
    gap_s = longest_gap(seconds)
    held = runs(given, target_c, gap_s)
    whole = [run for run in held if _is_whole(run, target_c, seconds)]
    run = whole[-1] if whole else held[-1]
    done = min(hold.sweetened_margin(run), _above(run, target_c) / seconds)
    last_c = given[-1][1]
    left = _left(run, target_c, seconds) if last_c >= target_c else inf
    more = (
        "it is too cool now for more to count"
        if isinf(left)
        else f"{ceil(left)} seconds more at {last_c:g} C complete it"
    )
    verdict = "The hold is done" if whole else f"{100 * done:.0f} % of the hold; {more}"
    values = {"margin": done, "above_s": _above(run, target_c)}
    return Answer(
        answer=f"{verdict}.",
        values=values if isinf(left) else {**values, "left_s": 0.0 if whole else left},
        working=(
            *_interval_lines(given, target_c, gap_s),
            f"{_above(run, target_c):g} of {seconds:g} s at {target_c:g} C, and "
            f"{hold.sweetened_margin(run):.2f} times {hold.SWEETENED.seconds:g} s at "
            f"{hold.SWEETENED.reference_c:g} C",
        ),
        source=_SOURCE,
        valid=_VALID,
        cautions=_CAUTIONS,
    )


def _above(run: Sequence[hold.TimedTemp], target_c: float) -> float:
    return hold.seconds_above(run, target_c)


def _is_whole(run: Sequence[hold.TimedTemp], target_c: float, seconds: float) -> bool:
    return _above(run, target_c) >= seconds and hold.sweetened_margin(run) >= 1.0


def _left(run: Sequence[hold.TimedTemp], target_c: float, seconds: float) -> float:
    """By the recipe's time and by lethality, whichever is longer. [s]"""
    by_time = max(0.0, seconds - _above(run, target_c))
    return max(by_time, hold.sweetened_needed(run, run[-1][1]) if run else inf)


def parsed(readings: str, least: int = 1) -> list[tuple[float, float]]:
    """Seconds and temperature of each reading in one line; WrongUse says what is wrong with it.

    readings : as "0 70, 30 75.2"; least : times there must be at least

    >>> parsed("0 70, 30:75.2; 60=76")
    [(0.0, 70.0), (30.0, 75.2), (60.0, 76.0)]
    """
    given = [_pair(part) for part in readings.replace(";", ",").split(",") if part.strip()]
    if any(after < before for (before, _), (after, _) in pairwise(given)):
        raise WrongUse(f"the readings {readings!r} are not in order of time")
    if len({seconds for seconds, _ in given}) < least:
        raise WrongUse(f"give readings at {least} times at least, as '0 70, 30 75.2'")
    return given


def _pair(part: str) -> tuple[float, float]:
    try:
        seconds, temp_c = (float(n) for n in part.replace(":", " ").replace("=", " ").split())
    except ValueError:
        seconds = temp_c = float("nan")
    if not (isfinite(seconds) and isfinite(temp_c)):
        raise WrongUse(f"{part.strip()!r} is not a reading; write seconds and degrees, as '30 75'")
    return seconds, temp_c


def _interval_lines(
    readings: list[hold.TimedTemp], target_c: float, gap_s: float
) -> tuple[str, ...]:
    lines = []
    for before, after in pairwise(readings):
        cooler = min(before[1], after[1])
        stretch = f"{before[0]:g} to {after[0]:g} s"
        if after[0] - before[0] > gap_s:
            lines.append(f"{stretch}: nobody looked for more than {gap_s:g} s, so it starts over")
        elif min(before[1], after[1]) < target_c:
            lines.append(f"{stretch}: below {target_c:g} C at one end, counts nothing")
        else:
            rate = hold.sweetened_rate(cooler)
            lines.append(
                f"{stretch}: the cooler end, {cooler:g} C, counts "
                f"{after[0] - before[0]:g} x {rate:.3f} = {(after[0] - before[0]) * rate:.1f} s"
            )
    return tuple(lines)


def juice_hold(*, temp_c: float) -> Answer:
    """What each published process asks of juice without added sugar, at a temperature.

    temp_c : the coolest it gets [C]
    """
    inside("temperature", temp_c, hold.COLDEST_C, hold.HOTTEST_C, "C")
    asked = {
        key: hold.required_seconds(temp_c, process)
        for key, process in hold.PROCESSES.items()
        if "juice" in process.medium and temp_c >= process.low_c
    }
    longest = max(asked.values(), default=0.0)
    return Answer(
        answer=f"At {temp_c:g} C the published processes ask at most {longest:.1f} seconds."
        if asked
        else f"At {temp_c:g} C none of the published processes holds.",
        values={f"{key}_s": seconds for key, seconds in asked.items()},
        working=tuple(
            f"{hold.PROCESSES[key].name} ({hold.PROCESSES[key].medium}): {seconds:.2f} s"
            for key, seconds in asked.items()
        )
        or ("colder than every one of them",),
        source="; ".join(dict.fromkeys(hold.PROCESSES[key].source for key in asked))
        or hold.FDA_JUICE.source,
        valid="each for its own juice only; they are never mixed, nor carried to syrup or mash",
        cautions=(
            "These are for single-strength juice. With sugar in it, ask for the hold instead.",
            "Acid-adapted Listeria was not killed fivefold by such times in one study "
            "(Topalcengiz & Danyluk 2019).",
            _COOLEST,
        ),
    )


def pasteurisation_units(*, temp_c: float, minutes: float) -> Answer:
    """How many pasteurisation units a time at a temperature is.

    temp_c : temperature [C]; minutes : time there [min]
    """
    inside("time", minutes, 0.0, 1440.0, "min")
    units = hold.pu([(0.0, temp_c), (60.0 * minutes, temp_c)])
    return Answer(
        answer=f"{minutes:g} min at {temp_c:g} C comes to {units:.1f} pasteurisation units.",
        values={"pu": units},
        working=(f"PU = {minutes:g} x 10^(({temp_c:g} - 60) / 7) = {units:.2f}",)
        if temp_c >= 57.0
        else ("colder than 57 C nothing is counted",),
        source="Del Vecchio et al., Proc. ASBC (1951); z 7 C",
        valid="57 to 130 C; a measure of spoilage in drinks, not of germs in syrup",
        cautions=(_COOLEST,),
    )


SUBJECTS: dict[str, Callable[..., Answer]] = {
    "hold": holding,
    "hold-so-far": hold_so_far,
    "juice-hold": juice_hold,
    "pasteurisation-units": pasteurisation_units,
}
