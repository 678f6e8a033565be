"""Questions about holding hot: how long at a temperature, what the readings add up to."""

from collections.abc import Callable
from itertools import pairwise
from math import ceil, isfinite, isinf

from assistant.base.errors import WrongUse
from assistant.calc import hold
from assistant.calc.answer import Answer
from assistant.calc.bounds import inside

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


def hold_so_far(*, readings: str) -> Answer:
    """What a run of readings adds up to as a hold.

    readings : seconds and temperature of each, as "0 70, 30 75.2, 60 76" [s], [C]
    """
    given = parsed(readings)
    done = hold.sweetened_margin(given)
    last_c = given[-1][1]
    left = hold.sweetened_needed(given, last_c)
    more = (
        "it is too cool now for more to count"
        if isinf(left)
        else f"{ceil(left)} seconds more at {last_c:g} C complete it"
    )
    verdict = "The hold is done" if done >= 1.0 else f"{100 * done:.0f} % of the hold; {more}"
    seconds = hold.seconds_above(given, hold.SWEETENED.reference_c)
    values = {"margin": done, "above_s": seconds}
    return Answer(
        answer=f"{verdict}.",
        values=values if isinf(left) else {**values, "left_s": left},
        working=(
            *_interval_lines(given),
            f"sum over {hold.SWEETENED.seconds:g} s at {hold.SWEETENED.reference_c:g} C = "
            f"{done:.2f} of the hold",
        ),
        source=_SOURCE,
        valid=_VALID,
        cautions=_CAUTIONS,
    )


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


def _interval_lines(readings: list[tuple[float, float]]) -> tuple[str, ...]:
    lines = []
    for (before, temp), (after, next_temp) in pairwise(readings):
        cooler = min(temp, next_temp)
        rate = hold.sweetened_rate(cooler)
        lines.append(
            f"{before:g} to {after:g} s: the cooler end, {cooler:g} C, counts "
            f"{after - before:g} x {rate:.3f} = {(after - before) * rate:.1f} s"
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
