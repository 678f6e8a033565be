"""The question of spirit in syrup: strength and volume once mixed."""

from collections.abc import Callable

from assistant.calc import alcohol as calc
from assistant.calc.answer import Answer
from assistant.calc.preserve_kitchen import HOT_SPIRIT

_DELLE = (
    "Delle units were found for wine yeast in must, and part by yeast and fruit. Yeasts that love "
    "sugar grow beyond them: keep it cold, and trust no sum of sugar and alcohol."
)


def spirit_mix(*, syrup_ml: float, brix: float, spirit_ml: float, abv: float = 40.0) -> Answer:
    """How strong, how much and how sweet it is when spirit goes into a syrup.

    syrup_ml : syrup [ml]; brix : its sugar; spirit_ml : spirit [ml]; abv : its strength [% vol]
    """
    mix = calc.spirit_mixed(syrup_ml, brix, spirit_ml, abv)
    quiet = calc.DELLE_QUIET
    return Answer(
        answer=f"It comes to about {mix.volume_ml.likely:.0f} ml of {mix.abv.likely:.1f} % vol "
        f"with {mix.sugar_g_l:.0f} g/l of sugar: {mix.delle:.0f} Delle units, where wine yeast "
        f"stops at {quiet.low:.0f} to {quiet.high:.0f}.",
        values={
            "volume_ml": mix.volume_ml.likely,
            "volume_low_ml": mix.volume_ml.low,
            "volume_high_ml": mix.volume_ml.high,
            "abv_percent": mix.abv.likely,
            "abv_low_percent": mix.abv.low,
            "abv_high_percent": mix.abv.high,
            "shrunk": mix.shrunk_ml,
            "sugar_g_l": mix.sugar_g_l,
            "delle_units": mix.delle,
        },
        working=(
            f"alcohol: {spirit_ml:g} ml x {abv:g} % = {spirit_ml * abv / 100:.1f} ml",
            f"{syrup_ml:g} + {spirit_ml:g} ml shrink by {mix.shrunk_ml:.1f} ml",
            f"Delle: {mix.sugar_g_l / 10:.1f} g in 100 ml + {calc.DELLE_PER_ABV:g} x "
            f"{mix.abv.likely:.1f} = {mix.delle:.0f}",
        ),
        source="OIML R 22 (1973) for alcohol and water, ICUMSA SPS-4 for the sugar; Delle units "
        "after Amerine & Kunkee (1965), Vitis 5, 187",
        valid="0 to 85 Brix, spirits to 97 %, at 20 C; volume good to half a hundredth",
        cautions=(_DELLE, HOT_SPIRIT, "Label it as alcoholic, out of children's reach."),
    )


SUBJECTS: dict[str, Callable[..., Answer]] = {"spirit-mix": spirit_mix}
