"""Questions about sugar by weight: Brix, density, volume, blending, mash and rinse."""

from collections.abc import Callable

from assistant.calc import sugar, water
from assistant.calc.answer import Answer
from assistant.calc.density import kell_density
from assistant.calc.density_hot import hot_density

BALANCE = "mass balance: what is stirred in is there afterwards"
SPS4 = "ICUMSA SPS-4 (1994)"
_WEIGH = (
    "Weigh, do not measure by volume: a litre of syrup and a litre of juice differ by a quarter."
)
_FRIDGE_C = 4.0


def sugar_for_brix(*, juice_g: float, juice_brix: float, target_brix: float) -> Answer:
    """How much dry sugar brings a juice to a Brix.

    juice_g : mass of juice [g]; juice_brix : its Brix; target_brix : wanted, to 85
    """
    added = sugar.sugar_for_brix(juice_g, juice_brix, target_brix)
    made = juice_g + added
    ml = sugar.volume(made, target_brix)
    return Answer(
        answer=f"Stir in {added:.0f} g of dry sugar: that makes {made:.0f} g of syrup at "
        f"{target_brix:g} Brix, about {ml:.0f} ml at 20 degC.",
        values={"sugar_g": added, "syrup_g": made, "syrup_ml": ml},
        working=(
            f"sugar = juice x (target - juice Brix) / (100 - target) = {juice_g:g} x "
            f"({target_brix:g} - {juice_brix:g}) / (100 - {target_brix:g}) = {added:.1f} g",
            f"syrup = {juice_g:g} + {added:.1f} = {made:.1f} g",
            _volume_line(made, target_brix, 20.0),
        ),
        source=f"{BALANCE}; volume by {SPS4}",
        valid="0 to 85 Brix; dry sugar",
        cautions=(_WEIGH, *_crystals(target_brix)),
    )


def water_for_brix(*, syrup_g: float, syrup_brix: float, target_brix: float) -> Answer:
    """How much water thins a syrup to a Brix.

    syrup_g : mass of syrup [g]; syrup_brix : its Brix; target_brix : wanted, below it
    """
    added = sugar.water_for_brix(syrup_g, syrup_brix, target_brix)
    made = syrup_g + added
    return Answer(
        answer=f"Stir in {added:.0f} g of water: that makes {made:.0f} g of syrup at "
        f"{target_brix:g} Brix.",
        values={"water_g": added, "syrup_g": made},
        working=(
            f"water = syrup x (Brix - target) / target = {syrup_g:g} x ({syrup_brix:g} - "
            f"{target_brix:g}) / {target_brix:g} = {added:.1f} g",
            f"syrup = {syrup_g:g} + {added:.1f} = {made:.1f} g",
        ),
        source=BALANCE,
        valid="0.1 to 100 Brix",
        cautions=(
            _WEIGH,
            "Water thins acid and preservative too, and brings germs of its own: treat the batch "
            "as unheated again and measure the pH.",
        ),
    )


def boil_off(*, syrup_g: float, syrup_brix: float, target_brix: float) -> Answer:
    """How much water must boil away to bring a syrup to a Brix.

    syrup_g : mass before [g]; syrup_brix : Brix before; target_brix : wanted, above it
    """
    lost = sugar.water_to_boil_off(syrup_g, syrup_brix, target_brix)
    left = syrup_g - lost
    return Answer(
        answer=f"Boil off {lost:.0f} g of water, until {left:.0f} g are left in the pan.",
        values={"water_g": lost, "syrup_g": left},
        working=(
            f"water = syrup x (target - Brix) / target = {syrup_g:g} x ({target_brix:g} - "
            f"{syrup_brix:g}) / {target_brix:g} = {lost:.1f} g",
            f"left = {syrup_g:g} - {lost:.1f} = {left:.1f} g",
        ),
        source=BALANCE,
        valid="0 to 100 Brix; only water leaves the pan",
        cautions=(
            "Boiling syrup sticks and burns the skin worse than water: keep children away.",
            *_crystals(target_brix),
        ),
    )


def blend(*, first_g: float, first_brix: float, second_brix: float, target_brix: float) -> Answer:
    """How much of a second syrup brings a first one to a Brix.

    first_g : mass of the first [g]; first_brix, second_brix : their Brix; target_brix : between
    """
    second = sugar.blend(first_g, first_brix, second_brix, target_brix)
    made = first_g + second
    return Answer(
        answer=f"Stir in {second:.0f} g of the second: that makes {made:.0f} g at "
        f"{target_brix:g} Brix.",
        values={"second_g": second, "syrup_g": made},
        working=(
            f"second = first x (target - first Brix) / (second Brix - target) = {first_g:g} x "
            f"({target_brix:g} - {first_brix:g}) / ({second_brix:g} - {target_brix:g}) = "
            f"{second:.1f} g",
            f"together = {first_g:g} + {second:.1f} = {made:.1f} g",
        ),
        source=BALANCE,
        valid="0 to 100 Brix, the target between the two and short of the second",
        cautions=(
            "A blend keeps no better than the worse of its parts: measure its pH before bottling.",
        ),
    )


def density(*, brix: float, temp_c: float = 20.0) -> Answer:
    """How dense a syrup is, and what a litre of it weighs.

    brix : 0 to 85; temp_c : temperature [degC], 0 to 105, past 80 with a spread
    """
    spread = hot_density(brix, temp_c)
    value = spread.likely
    gravity = sugar.specific_gravity(brix)
    grams = 10 * brix * value
    return Answer(
        answer=f"A syrup of {brix:g} Brix has {value:.4f} g/ml at {temp_c:g} degC: a litre weighs "
        f"{1000 * value:.0f} g and holds {grams:.0f} g of sugar.",
        values={
            "density_g_ml": value,
            "gravity_20_20": gravity,
            "sugar_g_l": grams,
            "density_low_g_ml": spread.low,
            "density_high_g_ml": spread.high,
        },
        working=(
            f"density of water at {temp_c:g} degC = {kell_density(temp_c):.5f} g/ml",
            f"density of the syrup = {value:.5f} g/ml",
            f"sugar in a litre = {brix:g} / 100 x {1000 * value:.1f} = {grams:.1f} g",
            f"specific gravity 20/20 = {sugar.density(brix):.5f} / {sugar.water_density():.5f} = "
            f"{gravity:.5f}",
        ),
        source=f"{SPS4}; water after Kell (1975)",
        valid="0 to 85 Brix, 0 to 80 degC; sucrose in water, acid and fruit count as sugar",
        cautions=_carried_on(temp_c),
    )


def _carried_on(temp_c: float) -> tuple[str, ...]:
    if temp_c <= sugar.MAX_TEMP_C:
        return ()
    return (
        f"Past {sugar.MAX_TEMP_C:g} degC the formula is carried on, checked for water alone: good "
        f"to {0.02 * (temp_c - sugar.MAX_TEMP_C):.1f} %.",
    )


def hydrometer(*, gravity: float) -> Answer:
    """What Brix a hydrometer reading at 20 degC means.

    gravity : specific gravity 20/20, from 1
    """
    brix = sugar.brix_from_specific_gravity(gravity)
    value = gravity * sugar.water_density()
    return Answer(
        answer=f"A specific gravity of {gravity:.4f} is {brix:.1f} Brix.",
        values={"brix": brix, "density_g_ml": value},
        working=(
            f"density = {gravity:g} x {sugar.water_density():.5f} = {value:.5f} g/ml",
            f"Brix with that density at 20 degC = {brix:.2f}",
        ),
        source=SPS4,
        valid="specific gravity 1 to 1.4485 at 20/20 degC; liquid and scale at 20 degC",
        cautions=("Let the liquid come to 20 degC and to rest: pulp and froth lift a hydrometer.",),
    )


def volume(*, syrup_g: float, brix: float, temp_c: float = 20.0) -> Answer:
    """How much room a syrup takes up.

    syrup_g : mass [g]; brix : 0 to 85; temp_c : temperature [degC], 0 to 105
    """
    ml = syrup_g / hot_density(brix, temp_c).likely
    cold = sugar.volume(syrup_g, brix)
    return Answer(
        answer=f"{syrup_g:g} g of syrup at {brix:g} Brix fills {ml:.0f} ml at {temp_c:g} degC.",
        values={"volume_ml": ml, "volume_at_20_ml": cold},
        working=(_volume_line(syrup_g, brix, temp_c), _volume_line(syrup_g, brix, 20.0)),
        source=SPS4,
        valid="0 to 85 Brix, 0 to 80 degC",
        cautions=(
            "Leave head space: syrup filled cold swells when it warms.",
            *_carried_on(temp_c),
        ),
    )


def weight(*, volume_ml: float, brix: float, temp_c: float = 20.0) -> Answer:
    """How much a volume of syrup weighs.

    volume_ml : volume [ml]; brix : 0 to 85; temp_c : temperature [degC], 0 to 105
    """
    rho = hot_density(brix, temp_c).likely
    grams = volume_ml * rho
    return Answer(
        answer=f"{volume_ml:g} ml of syrup at {brix:g} Brix and {temp_c:g} degC weighs "
        f"{grams:.0f} g.",
        values={"syrup_g": grams, "sugar_g": grams * brix / 100},
        working=(
            f"mass = {volume_ml:g} ml x {rho:.4f} g/ml = {grams:.1f} g",
            f"sugar in it = {grams:.1f} x {brix:g} / 100 = {grams * brix / 100:.1f} g",
        ),
        source=SPS4,
        valid="0 to 85 Brix, 0 to 80 degC",
        cautions=_carried_on(temp_c),
    )


def _volume_line(grams: float, brix: float, temp_c: float) -> str:
    rho = hot_density(brix, temp_c).likely
    return f"volume at {temp_c:g} degC = {grams:.1f} g / {rho:.4f} g/ml = {grams / rho:.1f} ml"


def _crystals(brix: float) -> tuple[str, ...]:
    if not water.will_crystallise(min(brix, 85.0), _FRIDGE_C):
        return ()
    return (f"At {brix:g} Brix plain sugar can crystallise in the fridge ({_FRIDGE_C:g} degC).",)


SUBJECTS: dict[str, Callable[..., Answer]] = {
    "sugar-for-brix": sugar_for_brix,
    "water-for-brix": water_for_brix,
    "boil-off": boil_off,
    "blend": blend,
    "density": density,
    "hydrometer": hydrometer,
    "volume": volume,
    "weight": weight,
}
