"""Questions about the size of a batch: pan, bottles, fruit, money."""

from collections.abc import Callable

from assistant.calc import cost as money
from assistant.calc import scale
from assistant.calc.answer import Answer
from assistant.calc.scale import Heat
from assistant.calc.spread import Spread

_PRACTICE = "common practice, no source"


def pan(
    *,
    fruit_g: float,
    diameter_cm: float,
    depth_cm: float,
    water_g: float = 0.0,
    sugar_g: float = 0.0,
    heat: Heat = "boiling",
) -> Answer:
    """Whether a batch fits a pan, with room to climb.

    fruit_g, water_g, sugar_g : in the pan [g]; diameter_cm, depth_cm : inside the pan [cm]
    heat : cold, heated (below the boil), boiling or foaming
    """
    holds = scale.pan_ml(diameter_cm, depth_cm)
    mash = scale.mash_ml(fruit_g, water_g, sugar_g)
    fit = scale.pan_fit(mash, holds, heat)
    share = scale.FILL_SHARE[heat]
    least_l = fit.needed_pan_ml / 1000
    verdict = (
        "It fits"
        if fit.fits
        else f"Too full: make {100 * fit.share:.0f} % of it, or take a pan of {least_l:.1f} litres"
    )
    return Answer(
        answer=f"{verdict}.",
        values={
            "pan_ml": holds,
            "mash_ml": mash,
            "usable_ml": fit.usable_ml,
            "needed_pan_ml": fit.needed_pan_ml,
            "share": fit.share,
        },
        working=(
            f"pan = 3.1416 x {diameter_cm:g}^2 / 4 x {depth_cm:g} = {holds:.0f} ml to the brim",
            f"mash = {mash:.0f} ml hot",
            f"{heat}: fill to {share:.2f} of the pan = {fit.usable_ml:.0f} ml",
        ),
        source=f"geometry; volume by ICUMSA SPS-4 (1994); how full: {_PRACTICE}",
        valid="round, straight-sided pans of 5 to 100 cm; whole fruit needs more at first",
        cautions=(scale.HOT_SUGAR,),
    )


def fruit_for_bottles(
    *, bottles: float, yield_ml_per_kg: float, bottle_ml: float = 500.0, yield_percent: float = 20.0
) -> Answer:
    """How much fruit so many bottles take.

    bottles : wanted; bottle_ml : in each [ml]
    yield_ml_per_kg : syrup from a kilogram of fruit, best from your last batch [ml/kg]
    yield_percent : how far that varies, up and down [%]
    """
    got = Spread.within(yield_ml_per_kg, yield_percent / 100)
    need = scale.fruit_for_bottles(bottles, bottle_ml, got)
    return Answer(
        answer=f"About {need.likely / 1000:.1f} kg of fruit; {need.high / 1000:.1f} kg to be sure.",
        values={"fruit_g": need.likely, "fruit_low_g": need.low, "fruit_high_g": need.high},
        working=(
            f"syrup = {bottles:g} x {bottle_ml:g} ml, and 3 % that sticks to pan and funnel",
            f"fruit = that / {yield_ml_per_kg:g} ml/kg = {need.likely:.0f} g",
        ),
        source=f"proportion; what sticks: {_PRACTICE}",
        valid="to 10 000 bottles of 1 to 10 000 ml",
    )


def bottles(*, volume_ml: float, bottle_ml: float = 500.0) -> Answer:
    """How many bottles a volume fills.

    volume_ml : syrup [ml]; bottle_ml : in each, to the fill line [ml]
    """
    filled = scale.bottles_from(volume_ml, bottle_ml)
    return Answer(
        answer=f"{filled.full} full bottles, and {filled.left_ml:.0f} ml over.",
        values={"bottles": float(filled.full), "left_ml": filled.left_ml},
        working=(f"{volume_ml:g} / {bottle_ml:g} = {volume_ml / bottle_ml:.2f}",),
        source="division",
        valid="to 1 000 000 ml into bottles of 1 to 10 000 ml",
        cautions=(
            "Leave head space, most of all for the freezer: full glass bursts.",
            "Pour hot syrup into warm bottles: cold glass cracks.",
        ),
    )


def batch_cost(
    *,
    bottles: float,
    fruit: float = 0.0,
    sugar: float = 0.0,
    other: float = 0.0,
    each_bottle: float = 0.0,
    energy_kwh: float = 0.0,
    each_kwh: float = 0.0,
    glasses_per_bottle: float = 0.0,
) -> Answer:
    """What a batch, a bottle and a glass cost.

    bottles : filled; fruit, sugar, other : paid for them [money]; each_bottle : its price [money]
    energy_kwh : used [kWh]; each_kwh : price of one [money]
    glasses_per_bottle : to know the price of a glass, 0 to leave it out
    """
    lines = {
        "fruit": fruit,
        "sugar": sugar,
        "other": other,
        "bottles": bottles * each_bottle,
        "energy": energy_kwh * each_kwh,
    }
    whole = money.batch_cost(lines, bottles)
    glass = {"per_glass": whole.per_glass(glasses_per_bottle)} if glasses_per_bottle else {}
    return Answer(
        answer=f"The batch costs {whole.total:.2f}, a bottle {whole.per_bottle:.2f}.",
        values={"total": whole.total, "per_bottle": whole.per_bottle, **glass},
        working=(
            *(f"{name} = {price:.2f}" for name, price in whole.lines.items() if price),
            f"{whole.total:.2f} / {bottles:g} bottles = {whole.per_bottle:.2f}",
            *(f"a glass = {price:.3f}" for price in glass.values()),
        ),
        source="sum and division, in the money the prices were given in",
        valid="prices of 0 or more; your own time is not in it",
    )


SUBJECTS: dict[str, Callable[..., Answer]] = {
    "pan": pan,
    "fruit-for-bottles": fruit_for_bottles,
    "bottles": bottles,
    "batch-cost": batch_cost,
}
