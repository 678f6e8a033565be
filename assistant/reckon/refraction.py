"""Questions about refractometers."""

from collections.abc import Callable

from assistant.base.errors import WrongUse
from assistant.calc import refraction
from assistant.calc.answer import Answer

_LEVEL = (
    "Rinse the prism with clean water and set it to zero first; a hot drop dries and reads high."
)


def refractometer(
    *,
    reading: float,
    temp_c: float = 20.0,
    citric_percent: float = 0.0,
    glycerin_percent: float = 0.0,
    invert_percent: float = 0.0,
) -> Answer:
    """What a refractometer reading is worth, for the drop's warmth and what hides from it.

    reading : Brix on the scale, 0 to 75; temp_c : of drop and prism [degC], 10 to 30; leave it at
    20 for one with automatic compensation
    citric_percent, glycerin_percent, invert_percent : in the liquid [% by weight]
    """
    corrected = refraction.at_20(reading, temp_c)
    solids = refraction.solids(corrected.likely, citric_percent, glycerin_percent, invert_percent)
    half = corrected.high - corrected.likely
    sugars = solids - citric_percent - glycerin_percent
    if sugars < 0:
        raise WrongUse(f"a liquid that reads {reading:g} can't hold so much acid and glycerin")
    return Answer(
        answer=f"The reading of {reading:g} means {solids:.1f} % dissolved solids"
        + (f", give or take {half:.2f}" if half else "")
        + (f", of which {sugars:.1f} % are sugars" if sugars < solids else "")
        + ".",
        values={
            "brix_at_20": corrected.likely,
            "brix_low": corrected.low,
            "brix_high": corrected.high,
            "solids_percent": solids,
            "sugars_percent": sugars,
        },
        working=(
            f"for {temp_c:g} degC add {corrected.likely - reading:+.2f}: "
            f"{corrected.likely:.2f} Brix at 20 degC",
            f"citric acid hides {refraction.acid_correction(citric_percent):.2f}, glycerin "
            f"{refraction.GLYCERIN_HIDDEN * glycerin_percent:.2f}, invert sugar "
            f"{refraction.INVERT_HIDDEN * invert_percent:.2f}: {solids:.2f} % dissolved",
            f"sugars = {solids:.2f} - {citric_percent:g} - {glycerin_percent:g} = {sugars:.2f} %",
        ),
        source="OIV-MA-AS2-02, table I (above 20 degC from memory); acidity correction after "
        "Stevens & Baier (1939); glycerin and invert sugar from the CRC Handbook",
        valid="reading 0 to 75, drop at 10 to 30 degC, clear liquid without alcohol",
        cautions=(
            *refraction.cautions(citric_percent, glycerin_percent, invert_percent),
            _LEVEL,
        ),
    )


def refractive_index(*, brix: float) -> Answer:
    """What refractive index a syrup has at 20 degC.

    brix : 0 to 85
    """
    index = refraction.index_from_brix(brix)
    return Answer(
        answer=f"A syrup of {brix:g} Brix has a refractive index of {index:.4f} at 20 degC.",
        values={"index": index},
        working=(f"index whose Brix is {brix:g} by the fit to the table = {index:.5f}",),
        source="fit to the ICUMSA SPS-3 table, set to OIV-MA-AS2-02, table II",
        valid="0 to 85 Brix, sucrose in water, 20 degC, yellow light of 589 nm",
    )


SUBJECTS: dict[str, Callable[..., Answer]] = {
    "refractometer": refractometer,
    "refractive-index": refractive_index,
}
