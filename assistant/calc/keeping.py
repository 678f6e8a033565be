"""How long a bottle may be kept: a cautious rule of this project's own.

No published table gives a keeping time by Brix, pH and preservative, so none is quoted. The days
below are this project's own, set short of what the few published findings allow, and every
hurdle may only lengthen them. The findings are named beside the numbers they bound.
"""

from dataclasses import dataclass
from typing import Literal

from assistant.base.errors import OutOfRange
from assistant.limits import ACID_FOOD_PH, MAKERS_PH, is_low_acid

Place = Literal["fridge", "cupboard", "freezer"]

RULE = "this project's own cautious rule"

FRIDGE_C = 4.4
"""The days count on a fridge at 40 F or colder: FDA and CDC consumer guidance. [degC]"""

SORBATE_COUNTS_G_L = 0.6
"""Potassium sorbate that gives 449 mg/L sorbic acid, which kept yeast from cold apple juice.

Wang et al., J Food Safety (2015). [g/l]"""

SORBATE_COUNTS_PH = 4.0
"""The pH of that juice; above it more of the sorbate is spent and none is counted here."""

COLD_LIMIT_DAYS = 30
"""The longest cold storage shown: none of 29 sugar-tolerant strains grew at 4 C within 30 days.

Below aw 0.922. Jermini & Schmidt-Lorenz, J Food Prot (1987). [day]"""

FREEZER_DAYS = 180
CANNED_DAYS = 180

DISCARD_SIGNS = (
    "mould, or a skin on top",
    "bubbles, fizz, a hiss on opening, a bulging lid or a leaking bottle",
    "a smell of yeast, wine, vinegar or anything off",
    "cloud or slime that was not there before",
)
"""Throw it away, unopened if the bottle bulges, and never taste it."""


@dataclass(frozen=True)
class KeepBy:
    """How long it keeps, and why.

    days : from making, or from opening when opened; None when it must not be kept there [day]
    reason : one sentence for each thing that decided it
    refuse : why it must not be kept there, when days is None
    discard_signs : what to throw it away for, whatever the days say
    rule : whose rule it is
    """

    days: int | None
    reason: tuple[str, ...]
    refuse: str | None = None
    discard_signs: tuple[str, ...] = DISCARD_SIGNS
    rule: str = RULE


# Days in the fridge, closed, for (heated, not heated), by measured pH; this project's own.
_BY_PH: tuple[tuple[float, tuple[int, int]], ...] = (
    (3.5, (21, 5)),
    (MAKERS_PH, (14, 4)),
    (ACID_FOOD_PH, (7, 3)),
)
_PH_UNKNOWN = (7, 3)
_LOW_ACID = (3, 2)

# Days more for sugar, for (heated, not heated), by (Brix at least, water activity at most). The
# water activities are sucrose's at those Brix: 0.922 is about 54 Brix, 65 Brix about 0.865.
_BY_SUGAR: tuple[tuple[float, float, tuple[int, int]], ...] = (
    (65.0, 0.87, (14, 4)),
    (58.0, 0.91, (7, 2)),
)
_FOR_SORBATE = (14, 5)
_MOST_WITHOUT_SORBATE = (COLD_LIMIT_DAYS, 7)
_OPENED, _OPENED_WITH_SORBATE = 7, 14


def keep_by(
    ph: float | None,
    brix: float | None,
    heated: bool,
    sorbate_g_l: float,
    place: Place,
    opened: bool = False,
    low_acid: bool = False,
    aw: float | None = None,
    *,
    tested_canning: bool = False,
) -> KeepBy:
    """How many days a bottle of fruit syrup may be kept, and why.

    Source: this project's own cautious rule; see the module's words on what bounds it.

    ph : measured pH, None when not measured [-]
    brix : sugar by refractometer or reckoning, None when unknown [g/100 g]
    heated : the heat hold was completed [-]
    sorbate_g_l : potassium sorbate in the syrup [g/l]
    place : fridge (at most 4.4 C), cupboard or freezer (at most -18 C) [-]
    opened : the bottle has been opened [-]
    low_acid : the fruit counts as low in acid, whatever was measured [-]
    aw : water activity, if known [-]
    tested_canning : a tested boiling-water process was followed to the letter [-]
    Returns days with reasons, or a refusal [day].
    Valid for pH 0 to 14, 0 to 85 Brix, sorbate 0 to 10 g/l, aw 0 to 1, else OutOfRange.

    >>> keep_by(3.2, 60, heated=True, sorbate_g_l=0, place="fridge").days
    28
    >>> keep_by(3.2, 60, heated=True, sorbate_g_l=0, place="cupboard").refuse
    'Not in the cupboard: only a tested boiling-water process makes that right.'
    """
    _check(ph, brix, sorbate_g_l, aw)
    if place == "freezer":
        return _freezer()
    weak = low_acid or (ph is not None and is_low_acid(ph))
    if place == "cupboard":
        return _cupboard(ph, heated, opened, weak, tested_canning)
    if weak:
        return _low_acid_fridge(heated)
    sorbate = sorbate_g_l >= SORBATE_COUNTS_G_L and ph is not None and ph <= SORBATE_COUNTS_PH
    return _fridge(ph, _sugar_step(brix, aw), heated, sorbate, opened)


def _check(ph: float | None, brix: float | None, sorbate_g_l: float, aw: float | None) -> None:
    bounds = (
        ("pH", ph, 0.0, 14.0, ""),
        ("sugar", brix, 0.0, 85.0, "Brix"),
        ("potassium sorbate", sorbate_g_l, 0.0, 10.0, "g/l"),
        ("water activity", aw, 0.0, 1.0, ""),
    )
    for what, value, low, high, unit in bounds:
        if value is not None and not low <= value <= high:
            raise OutOfRange(what, value, low, high, unit)


def _freezer() -> KeepBy:
    return KeepBy(
        FREEZER_DAYS,
        (
            "Nothing grows at minus 18; after half a year colour and taste fade.",
            "Leave room at the top: it swells as it freezes.",
            "Once thawed, the days for the fridge begin.",
        ),
    )


def _cupboard(
    ph: float | None, heated: bool, opened: bool, weak: bool, tested_canning: bool
) -> KeepBy:
    refusals = (
        (weak, "low in acid, botulism can grow there. Fridge or freezer only."),
        (not tested_canning, "only a tested boiling-water process makes that right."),
        (opened, "an opened bottle moulds there. Fridge."),
        (ph is None, "the pH has not been measured."),
        (not heated, "the heat hold was not completed."),
    )
    for applies, why in refusals:
        if applies:
            return KeepBy(None, (), refuse=f"Not in the cupboard: {why}")
    return KeepBy(
        CANNED_DAYS,
        (
            f"A tested boiling-water process was followed and the pH is {ACID_FOOD_PH:g} or below "
            "(USDA Complete Guide to Home Canning, berry syrup).",
            "Check that the lid is drawn in; one that is not goes in the fridge.",
        ),
    )


def _low_acid_fridge(heated: bool) -> KeepBy:
    return KeepBy(
        _LOW_ACID[0 if heated else 1],
        (
            f"Low in acid (above pH {ACID_FOOD_PH:g}, 21 CFR 114.3): "
            "days in the fridge, no longer.",
            "Neither sugar nor sorbate lengthens that. Freeze what you will not use.",
        ),
    )


def _sugar_step(brix: float | None, aw: float | None) -> int | None:
    """Index into _BY_SUGAR, None for no credit. The stricter of Brix and water activity counts."""
    for step, (least_brix, most_aw, _) in enumerate(_BY_SUGAR):
        by_brix = None if brix is None else brix >= least_brix
        by_aw = None if aw is None else aw <= most_aw
        known = [by for by in (by_brix, by_aw) if by is not None]
        if known and all(known):
            return step
    return None


def _fridge(
    ph: float | None, sugar_step: int | None, heated: bool, sorbate: bool, opened: bool
) -> KeepBy:
    column = 0 if heated else 1
    reasons = [_PH_WORDS[ph is not None], _HEAT_WORDS[heated]]
    if ph is None:
        days = _PH_UNKNOWN[column]
    else:
        days = next(by for most, by in _BY_PH if ph <= most)[column]
        if sugar_step is not None:
            days += _BY_SUGAR[sugar_step][2][column]
            reasons.append(_SUGAR_WORDS)
        days = min(days, _MOST_WITHOUT_SORBATE[column])
        if sorbate:
            days += _FOR_SORBATE[column]
            reasons.append(_SORBATE_WORDS)
    if opened:
        days = min(days, _OPENED_WITH_SORBATE if sorbate else _OPENED)
        reasons.append("Opened: yeast and mould get in with every pouring.")
    return KeepBy(days, tuple(reasons))


_PH_WORDS = {
    True: "The lower the measured pH, the longer it keeps; yeast does not mind it.",
    False: "The pH has not been measured, so the days are few; measure it.",
}
_HEAT_WORDS = {
    True: "The heat hold was completed; mould spores live through it, and filling lets yeast in.",
    False: "It was not heated through, so yeast from the fruit is still alive in it.",
}
_SUGAR_WORDS = (
    "Sugar slows it down only: some yeasts grow at 60 per cent sugar and more (Praphailong & "
    "Fleet, Food Microbiology 1997), and a cold fridge has been shown to hold them for thirty "
    "days, not for good (Jermini & Schmidt-Lorenz, J Food Prot 1987)."
)
_SORBATE_WORDS = (
    "Sorbate slows most yeasts at this pH; the hardiest stand 750 milligrams a litre and more "
    "(Praphailong & Fleet, Food Microbiology 1997)."
)
