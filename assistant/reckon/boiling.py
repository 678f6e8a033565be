"""Questions about boiling: where a syrup boils, and what a boiling syrup tells of its sugar."""

from collections.abc import Callable

from assistant.calc import boiling as calc
from assistant.calc.answer import Answer

_SOURCE = (
    "Starzak & Peacock (1997) for sucrose, Wagner & Pruss (1993) for water, ISO 2533 for the air; "
    "high end: a table of confectioners, origin unknown"
)
_VALID = "0 to 90 Brix, to 5000 m; sucrose alone: acid and inverted sugar make it boil hotter"
_OWN_WATER = (
    "Boil plain water first and read the same thermometer: the rise above that is what counts, "
    "whatever the height and the weather."
)
_LOWER = (
    "Higher up water boils cooler and kills less: a hold in boiling water needs longer "
    "(USDA Complete Guide to Home Canning: 5 min more above 1000 ft, 10 above 6000 for syrup)."
)
_BURNS = "Boiling syrup sticks and burns worse than water: keep children away."


def boiling_point(*, brix: float, altitude_m: float = 0.0) -> Answer:
    """Where a syrup boils, by its sugar and the height of the kitchen.

    brix : of the syrup, 0 to 90; altitude_m : height above the sea [m]
    """
    found = calc.boiling_point(brix, altitude_m)
    pressure = calc.air_pressure(altitude_m)
    water = calc.boils_at(0.0, pressure)
    return Answer(
        answer=f"At {brix:g} Brix and {altitude_m:g} m it boils at about {found.likely:.1f} C, "
        f"{found.low:.1f} to {found.high:.1f}; water boils at {water:.1f} C there.",
        values={
            "boils_c": found.likely,
            "boils_low_c": found.low,
            "boils_high_c": found.high,
            "water_boils_c": water,
            "air_kpa": pressure,
        },
        working=(
            f"air at {altitude_m:g} m: {pressure:.1f} kPa; water boils at {water:.2f} C",
            f"water activity times vapour pressure is that at {found.likely:.2f} C",
            f"weather moves it by {calc.WEATHER_C:g} either way; the confectioners' table lies "
            "higher",
        ),
        source=_SOURCE,
        valid=_VALID,
        cautions=(_OWN_WATER, *((_LOWER,) if altitude_m >= 300 else ()), _BURNS),
    )


def brix_by_boiling(*, temp_c: float, altitude_m: float = 0.0) -> Answer:
    """How much sugar is in a syrup that boils at a temperature.

    temp_c : while it boils [C]; altitude_m : height above the sea [m]
    """
    found = calc.brix_boiling_at(temp_c, altitude_m)
    return Answer(
        answer=f"Boiling at {temp_c:g} C it has about {found.likely:.0f} Brix, {found.low:.0f} to "
        f"{found.high:.0f}.",
        values={"brix": found.likely, "brix_low": found.low, "brix_high": found.high},
        working=(
            f"water boils at {calc.boils_at(0.0, calc.air_pressure(altitude_m)):.2f} C at "
            f"{altitude_m:g} m",
            f"a syrup of {found.likely:.1f} Brix boils at {temp_c:g} C",
        ),
        source=_SOURCE,
        valid=_VALID,
        cautions=(
            "Half a degree is five Brix below 60: weigh the pan or use a refractometer instead.",
            _OWN_WATER,
            _BURNS,
        ),
    )


SUBJECTS: dict[str, Callable[..., Answer]] = {
    "boiling-point": boiling_point,
    "brix-by-boiling": brix_by_boiling,
}
