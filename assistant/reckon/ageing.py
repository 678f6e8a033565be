"""Questions about what becomes of a bottle: sugar that inverts, sugar that ferments."""

from collections.abc import Callable

from assistant.calc import water
from assistant.calc.answer import Answer
from assistant.calc.bottle_pressure import CO2_PER_SUCROSE, SUCROSE_MOLAR, bottle_pressure
from assistant.calc.inversion import inversion_rate, inverted_share
from assistant.calc.spread import Spread

_BURST = (
    "Kitchen bottles are made for no pressure, and one with a scratch bursts early. Point it away, "
    "cover it with a cloth, cool it, and do not open one that bulges: throw it away untasted."
)


def inversion(
    *,
    brix: float,
    ph: float,
    temp_c: float = 20.0,
    days: float = 90.0,
    inverted_percent: float = 0.0,
    coldest_c: float = 4.0,
) -> Answer:
    """How much sugar inverts in store, and what that does to crystals and free water.

    brix : of the syrup, to 75; ph : of the syrup; temp_c : it is kept at [C]; days : how long [d]
    inverted_percent : of the sugar, inverted already [%]; coldest_c : where it may crystallise [C]
    """
    share = inverted_share(ph, temp_c, days, inverted_percent / 100)
    # Little inverted is the side on which crystals come.
    crystals = water.saturation(brix, coldest_c, share.low)
    likely = water.saturation(brix, coldest_c, share.likely)
    free = _activity(brix, share)
    rate = inversion_rate(ph, temp_c)
    return Answer(
        answer=f"After {days:g} days at {temp_c:g} C about {100 * share.likely:.0f} % of the sugar "
        f"is inverted, {100 * share.low:.0f} to {100 * share.high:.0f} %. "
        + _crystal_words(crystals, likely, coldest_c),
        values={
            "inverted_percent": 100 * share.likely,
            "inverted_low_percent": 100 * share.low,
            "inverted_high_percent": 100 * share.high,
            "saturation": likely,
            "saturation_high": crystals,
            "water_activity": free.likely,
            "water_activity_high": free.high,
        },
        working=(
            f"at pH {ph:g} and {temp_c:g} C a share of {rate.likely:.2g} inverts each minute, "
            "three times more or less",
            f"inverted = 1 - (1 - {inverted_percent / 100:g}) x exp(-rate x {1440 * days:g} min) = "
            f"{share.likely:.3f}",
            f"sucrose over what dissolves at {coldest_c:g} C: {likely:.2f}, at most {crystals:.2f}",
            f"water activity then {free.likely:.3f}, at most {free.high:.3f}",
        ),
        source="activation energy by Tombari et al. (2007), J. Phys. Chem. B 111, 496; rate at 25 "
        "degC from memory; crystals and water activity as in their own subjects",
        valid="pH 1.5 to 6, -20 to 130 C, to 75 Brix; right to a factor of three",
        cautions=("Glucose may crystallise where much is inverted, and honey-like taste comes.",),
    )


def _activity(brix: float, share: Spread) -> Spread:
    ends = [
        water.activity(100 - brix, {"sucrose": brix * (1 - s), "invert": brix * s})
        for s in (share.low, share.likely, share.high)
    ]
    return Spread(min(e.low for e in ends), ends[1].likely, max(e.high for e in ends))


def _crystal_words(high: float, likely: float, coldest_c: float) -> str:
    if likely > 1:
        return f"At {coldest_c:g} C it may crystallise all the same."
    if high > 1:
        return f"At {coldest_c:g} C it may crystallise while less is inverted."
    return f"At {coldest_c:g} C it should stay clear."


def pressure(
    *,
    liquid_ml: float,
    headspace_ml: float,
    brix: float,
    fermented_g_l: float,
    temp_c: float = 20.0,
) -> Answer:
    """What pressure a sealed bottle has when some of its sugar ferments.

    liquid_ml, headspace_ml : syrup and air in the bottle [ml]; brix : of the syrup
    fermented_g_l : sugar that has fermented, in a litre [g/l]; temp_c : temperature [C]
    """
    found = bottle_pressure(liquid_ml, headspace_ml, brix, fermented_g_l, temp_c)
    mmol = fermented_g_l * liquid_ml * CO2_PER_SUCROSE / SUCROSE_MOLAR
    return Answer(
        answer=f"{fermented_g_l:g} g/l fermented make about {found.likely:.1f} bar over the air's "
        f"at {temp_c:g} C, {found.low:.1f} to {found.high:.1f}.",
        values={"bar": found.likely, "bar_low": found.low, "bar_high": found.high},
        working=(
            f"{fermented_g_l * liquid_ml / 1000:.2f} g of sugar make {mmol:.1f} mmol of carbon "
            "dioxide",
            f"shared between {headspace_ml:g} ml of air and the water of the syrup by Henry's law",
        ),
        source="Carroll, Slupsky & Mather (1991), J. Phys. Chem. Ref. Data 20, 1201; how much less "
        "gas syrup holds than its water: no source, so a spread",
        valid="bottles of 50 to 5000 ml, to 100 g/l fermented, 0 to 40 C, sealed and settled",
        cautions=(
            _BURST,
            "Champagne's thick glass carries some 6 bar (from memory); yours does not.",
        ),
    )


SUBJECTS: dict[str, Callable[..., Answer]] = {
    "inversion": inversion,
    "bottle-pressure": pressure,
}
