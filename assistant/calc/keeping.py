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
Heated = Literal["all", "part", "none"]
"""What of it was held hot: all that is in the bottle, all but what went in after the hold, none."""

RULE = "this project's own cautious rule"

FRIDGE_C = 4.4
"""The days count on a fridge at 40 F or colder: FDA and CDC consumer guidance. [degC]"""

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


# Days in the fridge, closed, for what was heated (all, part, none), by measured pH; this project's
# own. A pH that nobody measured earns what a low-acid syrup does: not measuring must never pay.
_Days = tuple[int, int, int]
_COLUMN: dict[Heated, int] = {"all": 0, "part": 1, "none": 2}
_BY_PH: tuple[tuple[float, _Days], ...] = (
    (3.5, (21, 14, 5)),
    (MAKERS_PH, (14, 10, 4)),
    (ACID_FOOD_PH, (7, 5, 3)),
)
_LOW_ACID: _Days = (3, 2, 2)
UNMEASURED_DAYS = _LOW_ACID[0]
"""At most so many for a syrup whose pH nobody measured. [day]"""

# Days more for sugar, in the same columns, by (Brix at least, water activity at most). The water
# activities are sucrose's at those Brix: 0.922 is about 54 Brix, 65 Brix about 0.865.
_BY_SUGAR: tuple[tuple[float, float, _Days], ...] = (
    (65.0, 0.87, (14, 7, 4)),
    (58.0, 0.91, (7, 4, 2)),
)
_MOST: _Days = (COLD_LIMIT_DAYS, 21, 7)
_OPENED = 7


def keep_by(
    ph: float | None,
    brix: float | None,
    heated: Heated,
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
    heated : what was in the pan during a completed hold: all of it, part, or none [-]
    place : fridge (at most 4.4 C), cupboard or freezer (at most -18 C) [-]
    opened : the bottle has been opened [-]
    low_acid : the fruit counts as low in acid, whatever was measured [-]
    aw : water activity, if known [-]
    tested_canning : a tested boiling-water process was followed to the letter [-]
    Returns days with reasons, or a refusal [day].
    Sorbate earns no days: at the doses that its ceilings allow no keeping time was found published.
    Valid for pH 0 to 14, 0 to 85 Brix, aw 0 to 1, else OutOfRange.

    >>> keep_by(3.2, 60, heated="all", place="fridge").days
    28
    >>> keep_by(3.2, 60, heated="all", place="cupboard").refuse[:60]
    'Not in the cupboard: only a tested boiling-water process, it'
    """
    _check(ph, brix, aw)
    if place == "freezer":
        return _freezer()
    weak = low_acid or (ph is not None and is_low_acid(ph))
    if place == "cupboard":
        return _cupboard(ph, heated, opened, weak, tested_canning)
    if weak:
        return _low_acid_fridge(heated)
    return _fridge(ph, _sugar_step(brix, aw), heated, opened)


def _check(ph: float | None, brix: float | None, aw: float | None) -> None:
    bounds = (
        ("pH", ph, 0.0, 14.0, ""),
        ("sugar", brix, 0.0, 85.0, "Brix"),
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
    ph: float | None, heated: Heated, opened: bool, weak: bool, tested_canning: bool
) -> KeepBy:
    refusals = (
        (weak, "low in acid, botulism can grow there. Fridge or freezer only."),
        (
            not tested_canning,
            "only a tested boiling-water process, its time raised for your altitude, makes that "
            "right.",
        ),
        (opened, "an opened bottle moulds there. Fridge."),
        (ph is None, "the pH has not been measured."),
        (heated == "none", "the heat hold was not completed."),
    )
    for applies, why in refusals:
        if applies:
            return KeepBy(None, (), refuse=f"Not in the cupboard: {why}")
    return KeepBy(
        CANNED_DAYS,
        (
            f"A tested boiling-water process was followed and the pH is below {ACID_FOOD_PH:g} "
            "(USDA Complete Guide to Home Canning, berry syrup).",
            "Check that the lid is drawn in; one that is not goes in the fridge.",
        ),
    )


def _low_acid_fridge(heated: Heated) -> KeepBy:
    return KeepBy(
        _LOW_ACID[_COLUMN[heated]],
        (
            f"Low in acid (pH {ACID_FOOD_PH:g} or above, or a fruit that is): "
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


def _fridge(ph: float | None, sugar_step: int | None, heated: Heated, opened: bool) -> KeepBy:
    column = _COLUMN[heated]
    reasons = [_PH_WORDS[ph is not None], _HEAT_WORDS[heated]]
    if ph is None:
        days = _LOW_ACID[column]
    else:
        days = next(by for most, by in _BY_PH if ph <= most)[column]
        if sugar_step is not None:
            days += _BY_SUGAR[sugar_step][2][column]
            reasons.append(_SUGAR_WORDS)
        days = min(days, _MOST[column])
    if opened:
        days = min(days, _OPENED)
        reasons.append("Opened: yeast and mould get in with every pouring.")
    return KeepBy(days, tuple(reasons))


_PH_WORDS = {
    True: "The lower the measured pH, the longer it keeps; yeast does not mind it.",
    False: "No pH of the finished syrup counts, so it is taken for low in acid; measure it.",
}
_HEAT_WORDS: dict[Heated, str] = {
    "all": "All of it was held hot; mould spores live through that, and filling lets yeast in.",
    "part": "What went in after the hold was never held hot, and brings its own germs along.",
    "none": "It was not held hot, so yeast from the fruit is still alive in it.",
}
_SUGAR_WORDS = (
    "Sugar slows it down only: some yeasts grow at 60 per cent sugar and more (Praphailong & "
    "Fleet, Food Microbiology 1997), and a cold fridge has been shown to hold them for thirty "
    "days, not for good (Jermini & Schmidt-Lorenz, J Food Prot 1987)."
)
