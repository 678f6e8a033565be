"""Questions about warm and cold: where a mixture ends, and when the pan will be there."""

from collections.abc import Callable
from math import isinf

from assistant.base.errors import WrongUse
from assistant.calc import forecast as coming
from assistant.calc import frozen, heat
from assistant.calc.answer import Answer
from assistant.calc.spread import Spread
from assistant.reckon.hold import parsed

_BALANCE = (
    "heat balance; fruit and water by Choi & Okos (1986), sugar by Mohos (2010), syrup by the "
    "sugar technologists' formula"
)
_PARTS_DISAGREE = (
    "Sources disagree on the specific heat of syrup: at 60 Brix and 20 C the sugar technologists "
    "have 2.77, Choi & Okos by components 2.63, Siebel's old rule 2.18 J/(g K). The first is used."
)
_COOLER = "The room takes heat too: expect a degree or two less, and measure."
_LUKEWARM = (
    "Lukewarm mash is where germs thrive: go on heating to the hold, do not leave it standing."
)
_SCALD = "Hot water and sugar scald: pour slowly, away from you."
_TOO_WARM_TO_LEAVE, _TOO_COLD_TO_MIND = 60.0, 8.0


def mixing_temperature(
    *,
    fruit_g: float,
    water_g: float,
    water_c: float,
    fruit_c: float = 5.0,
    fruit_water_percent: float = 88.0,
    sugar_g: float = 0.0,
    sugar_c: float = 20.0,
    pan_g: float = 0.0,
    pan_c: float = 20.0,
) -> Answer:
    """Where hot water on cold fruit ends.

    fruit_g, water_g, sugar_g : put together [g]; pan_g : steel pan, if it is cold [g]
    fruit_c, water_c, sugar_c, pan_c : temperature of each [C], fruit below 0 when it is frozen
    fruit_water_percent : in fruit [%]
    """
    if fruit_c < 0:
        return _on_frozen(
            fruit_g, fruit_c, fruit_water_percent, water_g, water_c, sugar_g, sugar_c, pan_g, pan_c
        )
    parts = {
        "fruit": heat.Part(fruit_g, heat.cp_fruit(fruit_water_percent / 100, fruit_c), fruit_c),
        "water": heat.Part(water_g, heat.cp_component("water", water_c), water_c),
        "sugar": heat.Part(sugar_g, heat.cp_sugar(sugar_c), sugar_c),
        "pan": heat.Part(pan_g, heat.STEEL_CP, pan_c),
    }
    mixed = heat.mixing_temperature(list(parts.values()), dissolved_sugar_g=sugar_g)
    lukewarm = (_LUKEWARM,) if _TOO_COLD_TO_MIND < mixed < _TOO_WARM_TO_LEAVE else ()
    return Answer(
        answer=f"Together they come to about {mixed:.0f} C.",
        values={"temp_c": mixed},
        working=(
            *_part_lines(parts),
            f"dissolving {sugar_g:g} g sugar takes {heat.SOLUTION_HEAT_J_G * sugar_g / 1000:.1f} "
            "kJ",
            f"temperature = (sum of m c T - that) / sum of m c = {mixed:.1f} C",
        ),
        source=_BALANCE,
        valid="0 to 100 C, nothing frozen, nothing lost to the room",
        cautions=(_COOLER, *lukewarm, _SCALD),
    )


def _on_frozen(
    fruit_g: float,
    fruit_c: float,
    fruit_water_percent: float,
    water_g: float,
    water_c: float,
    sugar_g: float,
    sugar_c: float,
    pan_g: float,
    pan_c: float,
) -> Answer:
    share = fruit_water_percent / 100
    parts = {
        "water": heat.Part(water_g, heat.cp_component("water", water_c), water_c),
        "sugar": heat.Part(sugar_g, heat.cp_sugar(sugar_c), sugar_c),
        "pan": heat.Part(pan_g, heat.STEEL_CP, pan_c),
    }
    thawed = frozen.onto_frozen(fruit_g, share, fruit_c, list(parts.values()))
    takes = frozen.fruit_heat(share, 0.0) - frozen.fruit_heat(share, fruit_c)
    mixed = thawed.temp_c
    ice = f" {100 * thawed.ice_left:.0f} % of it is still frozen." if thawed.ice_left else ""
    return Answer(
        answer=f"Together they come to about {mixed.likely:.0f} C, {mixed.low:.0f} to "
        f"{mixed.high:.0f}.{ice}",
        values={
            "temp_c": mixed.likely,
            "temp_low_c": mixed.low,
            "temp_high_c": mixed.high,
            "thaw_kj": takes * fruit_g / 1000,
        },
        working=(
            f"to thaw it from {fruit_c:g} C: {fruit_g:g} g x {takes:.0f} J/g, ice and all",
            *_part_lines(parts),
            "heat of dissolving sugar is left out: it is within the spread",
        ),
        source="heat balance; frozen fruit after Chen (1985), as in ASHRAE Handbook, Refrigeration",
        valid="fruit of -40 C or warmer that begins to freeze at -1; spread for 5 % of its heat",
        cautions=(_COOLER, _LUKEWARM, _SCALD),
    )


def _part_lines(parts: dict[str, heat.Part]) -> tuple[str, ...]:
    return tuple(
        f"{name}: {part.mass_g:g} g x {part.cp:.2f} J/(g K) at {part.temp_c:g} C"
        for name, part in parts.items()
        if part.mass_g
    )


def pour_temperature(
    *,
    fruit_g: float,
    water_g: float,
    target_c: float,
    fruit_c: float = 5.0,
    fruit_water_percent: float = 88.0,
) -> Answer:
    """How hot water must be for fruit and water to end at a temperature.

    fruit_g, water_g : put together [g]; target_c : wanted [C]; fruit_c : of the fruit [C]
    fruit_water_percent : water in the fruit [%]
    """
    if fruit_c < 0:
        raise WrongUse("for frozen fruit try water temperatures with mixing-temperature instead")
    fruit = heat.Part(fruit_g, heat.cp_fruit(fruit_water_percent / 100, fruit_c), fruit_c)
    water_cp = heat.cp_component("water", 60.0)
    needed = heat.pour_temperature([fruit], water_g, water_cp, target_c)
    return Answer(
        answer=f"Pour the water at about {needed:.0f} C.",
        values={"water_c": needed},
        working=(
            *_part_lines({"fruit": fruit}),
            f"water = {target_c:g} + {fruit_g:g} x {fruit.cp:.2f} x ({target_c:g} - {fruit_c:g}) / "
            f"({water_g:g} x {water_cp:.2f}) = {needed:.1f} C",
        ),
        source=_BALANCE,
        valid="water of 0 to 100 C; nothing lost to the room",
        cautions=(_COOLER, _SCALD),
    )


def sugar_cools(
    *,
    syrup_g: float,
    syrup_brix: float,
    temp_c: float,
    sugar_g: float,
    sugar_c: float = 20.0,
) -> Answer:
    """How far dry sugar cools a hot juice or syrup.

    syrup_g : in the pan [g]; syrup_brix : its Brix; temp_c : its temperature [C]
    sugar_g : stirred in [g]; sugar_c : its temperature [C]
    """
    after = heat.after_sugar(syrup_g, syrup_brix, temp_c, sugar_g, sugar_c)
    return Answer(
        answer=f"Once the sugar is dissolved the pan is at about {after:.0f} C, "
        f"{temp_c - after:.0f} degrees cooler.",
        values={"temp_c": after, "drop_c": temp_c - after},
        working=(
            f"syrup: {syrup_g:g} g x {heat.cp_syrup(syrup_brix, temp_c):.2f} J/(g K) at "
            f"{temp_c:g} C",
            f"sugar: {sugar_g:g} g x {heat.cp_sugar(sugar_c):.2f} J/(g K) at {sugar_c:g} C",
            f"dissolving it takes {heat.SOLUTION_HEAT_J_G:.1f} J/g",
            f"temperature = {after:.1f} C",
        ),
        source=_BALANCE,
        valid="0 to 85 Brix, 0 to 100 C, hob off",
        cautions=(
            "A hold that was running starts to miss seconds here: measure again before it counts.",
            _PARTS_DISAGREE,
            _SCALD,
        ),
    )


def time_to(*, readings: str, target_c: float) -> Answer:
    """When the pan will be at a temperature, from the readings so far.

    readings : seconds and temperature of each, as "0 40, 60 46, 120 51" [s], [C]
    target_c : temperature waited for [C]
    """
    seen = coming.forecast(parsed(readings, least=2))
    when = seen.time_to(target_c)
    rate = seen.rate_c_min
    over = coming.overshoot_c(max(-60.0, min(60.0, rate)))
    return Answer(
        answer=_when_words(when, target_c),
        values={"rate_c_min": rate, **_when_values(when)},
        working=(
            f"last reading {seen.last_c:g} C, now {'rising' if rate > 0 else 'falling'} "
            f"{abs(rate):.1f} degrees a minute",
            f"{len(seen.others) // 3} courses fit the readings; the likeliest settles at "
            f"{_settles_words(seen.best.settles_c)}",
            "each was tried at the slopes the thermometer allows",
        ),
        source="Newton's law of heating and cooling; median slopes after Theil (1950) and Sen "
        "(1968); where pans settle: this project's own allowance",
        valid="hob, lid and contents left as they are; two hours ahead at most",
        cautions=_overshoot_words(over, target_c) if rate > 0 and when else (),
    )


def _when_words(when: Spread | None, target_c: float) -> str:
    if when is None:
        return f"As it goes, it will not come to {target_c:g} C."
    if isinf(when.high):
        return f"In about {_time(when.likely)} at {target_c:g} C, if it gets there at all."
    return (
        f"In about {_time(when.likely)} it is at {target_c:g} C: {_time(when.low)} to "
        f"{_time(when.high)}."
    )


def _when_values(when: Spread | None) -> dict[str, float]:
    if when is None:
        return {}
    values = {"time_s": when.likely, "time_low_s": when.low}
    return values if isinf(when.high) else {**values, "time_high_s": when.high}


def _settles_words(settles_c: float) -> str:
    return "no temperature, a straight line" if isinf(settles_c) else f"{settles_c:.0f} C"


def _time(seconds: float) -> str:
    return f"{seconds:.0f} seconds" if seconds < 90 else f"{seconds / 60:.0f} minutes"


def _overshoot_words(over: Spread, target_c: float) -> tuple[str, ...]:
    if over.likely < 1.0:
        return ()
    return (
        f"It will run past: turn down at about {target_c - over.likely:.0f} C, as it goes on "
        f"{over.low:.0f} to {over.high:.0f} degrees after that (common practice, no source).",
    )


SUBJECTS: dict[str, Callable[..., Answer]] = {
    "mixing-temperature": mixing_temperature,
    "pour-temperature": pour_temperature,
    "sugar-cools": sugar_cools,
    "time-to": time_to,
}
