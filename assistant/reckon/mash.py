"""Questions about a mash: what runs off, what a rinse brings, what the syrup comes to."""

from collections.abc import Callable

from assistant.calc import sugar
from assistant.calc.answer import Answer
from assistant.calc.spread import Spread, carry

_SOURCE = "mass balance; volume by ICUMSA SPS-4 (1994); shares: common practice, no source"
_VALID = "fruit crushed lightly and not pressed; the liquor in the pulp is as sweet as the juice"
_MEASURE = "Fruit varies: weigh the juice and measure its Brix before you reckon further."


def strained_juice(
    *,
    fruit_g: float,
    fruit_brix: float,
    fruit_water_percent: float,
    sugar_g: float = 0.0,
    water_g: float = 0.0,
    evaporated_g: float = 0.0,
) -> Answer:
    """How much juice runs off a lightly crushed, unpressed mash, and how sweet it is.

    fruit_g : fruit [g]; fruit_brix : Brix of its own juice; fruit_water_percent : water in it [%]
    sugar_g, water_g : crushed and poured in [g]; evaporated_g : lost as steam [g]
    """

    def run_off(pulp_share: float) -> sugar.Strained:
        share = fruit_water_percent / 100
        return sugar.strained_juice(
            fruit_g, fruit_brix, share, sugar_g, water_g, pulp_share, evaporated_g
        )

    juice = run_off(sugar.PULP_SHARE.likely)
    mass = carry(lambda pulp: run_off(pulp).mass_g, sugar.PULP_SHARE)
    ml = carry(lambda pulp: run_off(pulp).volume_ml, sugar.PULP_SHARE)
    return Answer(
        answer=f"About {mass.likely:.0f} g of juice at {juice.brix:.1f} Brix runs off, "
        f"{ml.low:.0f} to {ml.high:.0f} ml.",
        values={
            "juice_g": mass.likely,
            "juice_low_g": mass.low,
            "juice_high_g": mass.high,
            "juice_ml": ml.likely,
            "juice_brix": juice.brix,
            "pulp_g": juice.pulp_g,
        },
        working=(
            f"skins, pips and fibre = {juice.insoluble_g:.0f} g; "
            f"liquor = {juice.mass_g + juice.held.mass_g:.0f} g at {juice.brix:.2f} Brix",
            f"the cloth keeps {_percent(sugar.PULP_SHARE)} of the fruit's weight, likely "
            f"{juice.pulp_g:.0f} g, {juice.held.mass_g:.0f} g of it liquor",
            f"juice = {juice.mass_g + juice.held.mass_g:.0f} - {juice.held.mass_g:.0f} = "
            f"{juice.mass_g:.0f} g",
        ),
        source=_SOURCE,
        valid=_VALID,
        cautions=(_MEASURE,),
    )


def making_up(
    *,
    fruit_g: float,
    fruit_brix: float,
    fruit_water_percent: float,
    target_ml: float,
    sugar_g: float = 0.0,
    water_g: float = 0.0,
    evaporated_g: float = 0.0,
) -> Answer:
    """How much water to pour through the pulp to make the juice up to a volume.

    The mash as for `strained_juice`; target_ml : volume to make up to, at 20 degC [ml]
    """
    juice = sugar.strained_juice(
        fruit_g,
        fruit_brix,
        fruit_water_percent / 100,
        sugar_g,
        water_g,
        evaporated_g=evaporated_g,
    )
    made = sugar.rinse(juice, target_ml)
    brix, poured = made.brix_spread, made.poured_spread
    return Answer(
        answer=f"Pour about {poured.likely:.0f} g of water through the pulp: the juice then has "
        f"about {brix.likely:.1f} Brix, {brix.low:.1f} to {brix.high:.1f}.",
        values={
            "water_g": poured.likely,
            "juice_g": made.mass_g,
            "juice_brix": brix.likely,
            "juice_brix_low": brix.low,
            "juice_brix_high": brix.high,
        },
        working=(
            f"run off so far = {juice.mass_g:.0f} g, {juice.volume_ml:.0f} ml at "
            f"{juice.brix:.2f} Brix; the pulp holds {juice.held.sugar_g:.0f} g of sugar",
            f"a rinse brings out {_percent(sugar.WASHED_OUT)} of that and no more than the water "
            "can carry",
            f"{target_ml:g} ml after {poured.likely:.0f} g of water: {made.mass_g:.0f} g at "
            f"{made.brix:.2f} Brix",
        ),
        source=_SOURCE,
        valid=_VALID,
        cautions=(_MEASURE, "Stop at the mark on the jug, not at the weight reckoned here."),
    )


def sweeten(
    *, juice_g: float, juice_brix: float, sugar_g: float, evaporated_g: float = 0.0
) -> Answer:
    """What syrup a juice comes to with a weight of sugar.

    juice_g : juice [g]; juice_brix : its Brix; sugar_g : dry sugar [g]; evaporated_g : steam [g]
    """
    syrup = sugar.Syrup(juice_g, sugar.brix_of([(juice_g, juice_brix)]))
    made = syrup.sweetened(sugar_g, evaporated_g)
    ml = made.volume_ml
    return Answer(
        answer=f"It comes to {made.mass_g:.0f} g of syrup at {made.brix:.1f} Brix, about "
        f"{ml:.0f} ml at 20 degC.",
        values={"syrup_g": made.mass_g, "syrup_brix": made.brix, "syrup_ml": ml},
        working=(
            f"solids = {juice_g:g} x {juice_brix:g} / 100 + {sugar_g:g} = {made.sugar_g:.1f} g",
            f"mass = {juice_g:g} + {sugar_g:g} - {evaporated_g:g} = {made.mass_g:.1f} g",
            f"Brix = 100 x {made.sugar_g:.1f} / {made.mass_g:.1f} = {made.brix:.2f}",
        ),
        source="mass balance; volume by ICUMSA SPS-4 (1994)",
        valid="to 85 Brix, all sugar dissolved",
        cautions=("Stir until no sugar lies on the bottom before you measure.",),
    )


def _percent(share: Spread) -> str:
    return f"{100 * share.low:.0f} to {100 * share.high:.0f} %"


SUBJECTS: dict[str, Callable[..., Answer]] = {
    "strained-juice": strained_juice,
    "making-up": making_up,
    "sweeten": sweeten,
}
