"""What heat does to yeast, against the two papers it is taken from."""

from assistant.calc.answer import Check
from assistant.calc.yeast_death import decade_seconds, decades_killed, z_of

_LEE = "Lee et al. (2023), AIMS Agriculture and Food 8, 662-673"
_ROJO = "Rojo et al. (2019), Food Bioprocess Technol. 12, 781-788: 7 decades"
_JUICE = ((45.0, 9.80), (47.0, 7.68), (50.0, 1.42))
_BROTH = ((45.0, 2.28), (46.0, 1.61), (47.5, 1.05))


def _decade_minutes(temp_c: float, brix: float) -> float:
    return (decade_seconds(temp_c, brix) or 0.0) / 60


CHECKS: tuple[Check, ...] = (
    Check(
        "time that kills nine of ten yeasts, 52 Brix",
        f"{_LEE}: D at 50 degC",
        "min",
        _decade_minutes,
        (((50, 52), 33.44),),
        0.01,
        "same source",
    ),
    Check(
        "z of yeast in juice",
        f"{_LEE}: 5.69 degC from D of 9.80, 7.68 and 1.42 min at 45, 47 and 50",
        "C",
        lambda: z_of(_JUICE),
        (((), 5.69),),
        0.1,
        "arithmetic",
    ),
    Check(
        "z of yeast in broth",
        f"{_LEE}: 7.46 degC, here from D of 2.28, 1.61 and 1.05 min at 45, 46 and 47.5",
        "C",
        lambda: z_of(_BROTH),
        (((), 7.46),),
        0.1,
        "arithmetic",
    ),
    Check(
        "yeast killed in thick syrup",
        _ROJO,
        "decades",
        decades_killed,
        (((75, 90, 65), 7.0), ((80, 90, 65), 7.0), ((85, 5, 65), 7.0)),
        0.01,
        "same source",
    ),
)
