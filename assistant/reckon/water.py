"""Questions about free water: water activity and crystals."""

from collections.abc import Callable

from assistant.calc import water
from assistant.calc.answer import Answer

_STILL_GROWS = (
    "Few germs grow below 0.85 (the line that 21 CFR 114.3 draws), but sugar-loving yeasts and "
    "moulds do: sugar alone does not make a syrup keep. Measure the pH too."
)


def water_activity(
    *,
    brix: float,
    inverted_percent: float = 0.0,
    glycerin_percent: float = 0.0,
    citric_percent: float = 0.0,
) -> Answer:
    """How free the water in a syrup still is (water activity).

    brix : sugar in the syrup [% by weight]; inverted_percent : share of that sugar inverted [%]
    glycerin_percent, citric_percent : in the syrup beside the sugar [% by weight]
    """
    inverted = brix * inverted_percent / 100
    parts = {
        "sucrose": brix - inverted,
        "invert": inverted,
        "glycerin": glycerin_percent,
        "citric_acid": citric_percent,
    }
    free = 100 - sum(parts.values())
    aw = water.activity(free, parts)
    there = ", ".join(f"{g:g} g {name.replace('_', ' ')}" for name, g in parts.items() if g)
    return Answer(
        answer=f"The water activity is about {aw.likely:.3f}"
        + (f", and at most {aw.high:.3f}" if aw.high - aw.likely > 0.0005 else "")
        + " at about 25 degC.",
        values={
            "water_activity": aw.likely,
            "water_activity_low": aw.low,
            "water_activity_high": aw.high,
        },
        working=(
            f"in 100 g: {there or 'nothing dissolved'}, {free:g} g water",
            f"Norrish, mended for sucrose alone after Starzak & Peacock: aw = {aw.likely:.4f}",
            f"Ross, product of each alone in all the water, and 0.005 for measurements: at most "
            f"{aw.high:.4f}",
        ),
        source="Starzak & Peacock (1997), Norrish (1966) and Ross (1975); Norrish's equation in "
        "Baeza et al., Food Bioprocess Technol 3 (2010) 87-92; its constants partly from memory",
        valid="to 75 % dissolved, about 25 degC; within 0.005 of measured sucrose solutions",
        cautions=(_STILL_GROWS,),
    )


def crystals(*, brix: float, temp_c: float = 4.0, inverted_percent: float = 0.0) -> Answer:
    """Whether sugar may crystallise out of a syrup at a temperature.

    brix : 0 to 85; temp_c : coldest it will be kept at [degC], 0 to 100
    inverted_percent : share of the sugar inverted by acid and heat [%], 0 if not known
    """
    ratio = water.saturation(brix, temp_c, inverted_percent / 100)
    full = water.sucrose_solubility(temp_c)
    comes = water.will_crystallise(brix, temp_c, inverted_percent / 100)
    return Answer(
        answer=f"At {temp_c:g} degC a syrup of {brix:g} Brix is {100 * ratio:.0f} % saturated with "
        f"sugar: {'it may crystallise' if comes else 'it should stay clear'}.",
        values={"saturation": ratio, "solubility_percent": full},
        working=(
            f"plain sugar dissolves to {full:.2f} % at {temp_c:g} degC",
            f"sucrose per water, over what dissolves there = {ratio:.3f}",
        ),
        source="Bubnik & Kadlec in Mathlouthi & Reiser (eds), Sucrose (1995); room taken by invert "
        "sugar: common practice, no source, on the strict side",
        valid="0 to 85 Brix, 0 to 100 degC; published solubilities differ by 0.4 %",
        cautions=_crystal_cautions(brix, inverted_percent, comes),
    )


def _crystal_cautions(brix: float, inverted_percent: float, comes: bool) -> tuple[str, ...]:
    said = []
    if comes:
        said.append(
            "Crystals leave the rest thinner, and a thin layer on top can ferment: thin or warm "
            "the syrup rather than let it grain."
        )
    glucose_per_water = brix * inverted_percent / 200 / (100 - brix)
    if glucose_per_water > 0.9:
        said.append("So much is inverted that glucose may crystallise even where sucrose does not.")
    return tuple(said)


SUBJECTS: dict[str, Callable[..., Answer]] = {
    "water-activity": water_activity,
    "crystals": crystals,
}
