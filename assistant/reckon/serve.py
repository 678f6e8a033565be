"""Questions about the glass: how much syrup in it, and what that amounts to."""

from collections.abc import Callable

from assistant.calc import serve
from assistant.calc.answer import Answer

_SOURCE = (
    "mass balance, volumes by ICUMSA SPS-4 (1994); energy by Regulation (EU) No 1169/2011, "
    "Annex XIV (17 kJ or 4 kcal a gram of sugar)"
)
_VALID = "syrups to 85 Brix at 20 C; everything dissolved counted as sugar"
_SOON = "Mixed drinks keep no longer than fresh juice: make what will be drunk, keep it cold."


def dilute(
    *,
    syrup_brix: float,
    target_brix: float = 10.0,
    glass_ml: float = 200.0,
    bottle_ml: float = 500.0,
    acid_g_l: float = 0.0,
) -> Answer:
    """How much syrup makes a glass of a given sweetness.

    syrup_brix : of the syrup; target_brix : of the drink; glass_ml, bottle_ml : filled to [ml]
    acid_g_l : acid in the syrup, 0 if not known [g/l]
    """
    return _served(serve.dilute(syrup_brix, target_brix, glass_ml, acid_g_l), syrup_brix, bottle_ml)


def dilute_by_parts(
    *,
    syrup_brix: float,
    water_parts: float = 6.0,
    glass_ml: float = 200.0,
    bottle_ml: float = 500.0,
    acid_g_l: float = 0.0,
) -> Answer:
    """How sweet a glass is that is mixed one part to so many.

    syrup_brix : of the syrup; water_parts : volumes of water to one of syrup
    glass_ml, bottle_ml : filled to [ml]; acid_g_l : acid in the syrup, 0 if not known [g/l]
    """
    glass = serve.dilute_by_parts(syrup_brix, water_parts, glass_ml, acid_g_l)
    return _served(glass, syrup_brix, bottle_ml)


def dilute_to_acid(
    *,
    syrup_brix: float,
    acid_g_l: float,
    target_acid_g_l: float,
    glass_ml: float = 200.0,
    bottle_ml: float = 500.0,
) -> Answer:
    """How much syrup makes a glass of a given sourness.

    syrup_brix : of the syrup; acid_g_l, target_acid_g_l : acid in syrup and drink [g/l]
    glass_ml, bottle_ml : filled to [ml]
    """
    glass = serve.dilute_to_acid(syrup_brix, acid_g_l, target_acid_g_l, glass_ml)
    return _served(glass, syrup_brix, bottle_ml)


def _served(glass: serve.Glass, syrup_brix: float, bottle_ml: float) -> Answer:
    energy = serve.energy(glass.sugar_g)
    glasses = serve.glasses_per_bottle(bottle_ml, glass)
    sour = {"acid_g": glass.acid_g, "acid_g_l": glass.acid_g_l} if glass.acid_g else {}
    return Answer(
        answer=f"{glass.syrup_ml:.0f} ml of syrup and {glass.water_ml:.0f} ml of water make a "
        f"glass of {glass.glass_ml:g} ml at {glass.brix:.1f} Brix, with {glass.sugar_g:.0f} g of "
        f"sugar and {energy.kj:.0f} kJ ({energy.kcal:.0f} kcal).",
        values={
            "syrup_ml": glass.syrup_ml,
            "water_ml": glass.water_ml,
            "water_parts": glass.water_parts,
            "drink_brix": glass.brix,
            "sugar_g": glass.sugar_g,
            "energy_kj": energy.kj,
            "energy_kcal": energy.kcal,
            "glasses": glasses,
            **sour,
        },
        working=(
            f"sugar in the glass = {glass.sugar_g:.1f} g",
            f"syrup = {glass.sugar_g:.1f} / {syrup_brix:g} x 100 = {glass.syrup_g:.1f} g = "
            f"{glass.syrup_ml:.1f} ml",
            f"water = {glass.water_ml:.1f} ml, {glass.water_parts:.1f} parts to one",
            f"energy = {glass.sugar_g:.1f} x 17 = {energy.kj:.0f} kJ",
            f"a bottle of {bottle_ml:g} ml makes {bottle_ml:g} / {glass.syrup_ml:.1f} = "
            f"{glasses:.1f} glasses",
            *((f"acid = {glass.acid_g:.2f} g, {glass.acid_g_l:.1f} g/l",) if sour else ()),
        ),
        source=_SOURCE,
        valid=_VALID,
        cautions=(_SOON,),
    )


SUBJECTS: dict[str, Callable[..., Answer]] = {
    "dilute": dilute,
    "dilute-by-parts": dilute_by_parts,
    "dilute-to-acid": dilute_to_acid,
}
