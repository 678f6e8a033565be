"""How long a bottle may be kept: a cautious rule of this project's own.

No published table gives a keeping time by Brix, pH and preservative, so none is quoted. Every
reason that holds a bottle back is a row of `keep_reasons.toml`, with what it leans on; of all that
apply, the strictest decides.
"""

from dataclasses import dataclass

from assistant.base.errors import OutOfRange
from assistant.calc.keep_reasons import (
    Bottle,
    Dated,
    Heated,
    Of,
    Place,
    Reason,
    reason_named,
    reasons,
    strengths,
)

RULE = "this project's own cautious rule"

FRIDGE_C = 4.4
"""The days count on a fridge at 40 F or colder: FDA and CDC consumer guidance. [degC]"""

COLD_LIMIT_DAYS = max(reason_named("cold").days or ())
"""The longest cold storage shown: none of 29 sugar-tolerant strains grew at 4 C within 30 days.

Below aw 0.922. Jermini & Schmidt-Lorenz, J Food Prot (1987). [day]"""

FREEZER_DAYS = max(reason_named("freezer").days or ())
UNMEASURED_DAYS = max(reason_named("unmeasured").days or ())
"""At most so many for a syrup whose pH nobody measured. [day]"""

DISCARD_SIGNS = (
    "mould, or a skin on top",
    "bubbles, fizz, a hiss on opening, a bulging lid or a leaking bottle",
    "a smell of yeast, wine, vinegar or anything off",
    "cloud or slime that was not there before",
)
"""Throw it away, unopened if the bottle bulges, and never taste it."""
_FROZEN = (
    "Leave room at the top: it swells as it freezes.",
    "Once thawed, the days for the fridge begin.",
)


@dataclass(frozen=True)
class KeepBy:
    """How long it keeps, and why.

    days : from making, or from opening when opened; None when it must not be kept there [day]
    reason : one sentence for each thing that counted, the one that decided first
    refuse : why it must not be kept there, when days is None
    decided, source : which row of the table decided, and what that leans on
    dated : whether such a bottle is dated "use by" or "best before"
    discard_signs : what to throw it away for, whatever the days say
    rule : whose rule it is
    """

    days: int | None
    reason: tuple[str, ...]
    refuse: str | None = None
    decided: str = ""
    source: str = ""
    dated: Dated = "use by"
    discard_signs: tuple[str, ...] = DISCARD_SIGNS
    rule: str = RULE


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
    soured: bool = False,
    plain: bool = False,
    acetic: float = 0.0,
    alcohol: float = 0.0,
    preservative: float = 0.0,
) -> KeepBy:
    """How many days a bottle of fruit syrup may be kept, and why.

    Source: this project's own cautious rule; each row of its table names what it leans on.

    ph : measured pH, None when not measured [-]
    brix : sugar by refractometer or reckoning, None when unknown [g/100 g]
    heated : what was in the pan during a completed hold: all of it, part, or none [-]
    place : fridge (at most 4.4 C), cupboard or freezer (at most -18 C) [-]
    opened : the bottle has been opened [-]
    low_acid : the fruit counts as low in acid, whatever was measured [-]
    aw : water activity, if known [-]
    tested_canning : a tested boiling-water process was followed to the letter [-]
    soured : low in acid by nature, with acid put in and a checked meter's word for it [-]
    plain : nothing of a plant, no juice, honey or vinegar went in [-]
    acetic, preservative : acetic acid; preservative as weighed [g/l]
    alcohol : by volume [ml/ml]
    Returns days with reasons, or a refusal [day].
    Preservatives earn no days: for the doses allowed no keeping time was found published.
    Valid for pH 0 to 14, 0 to 85 Brix, aw 0 to 1, alcohol 0 to 1, 0 to 1000 g/l, else OutOfRange.

    >>> keep_by(3.2, 60, heated="all", place="fridge").days
    28
    >>> keep_by(3.2, 60, heated="all", place="cupboard").refuse[:60]
    'Not in the cupboard: only a tested boiling-water process, it'
    """
    return kept_by(
        Bottle(
            ph,
            brix,
            heated,
            place,
            opened,
            low_acid,
            aw,
            tested_canning,
            soured,
            plain,
            acetic,
            alcohol,
            preservative,
        )
    )


def kept_by(bottle: Bottle) -> KeepBy:
    """The same of a bottle; OutOfRange for figures that can't be."""
    _check(bottle)
    found = [reason for reason in reasons() if reason.applies(bottle)]
    refused = next((reason for reason in found if reason.days is None), None)
    if refused is not None:
        refuse = f"Not in the {bottle.place}: {refused.words}"
        return KeepBy(None, (), refuse, refused.id, refused.source)
    decides = min(found, key=lambda reason: reason.most(bottle.heated) or 0)
    return KeepBy(
        decides.most(bottle.heated),
        _told(decides, found, bottle),
        decided=decides.id,
        source=decides.source,
        dated=_dated(found),
    )


def _dated(found: list[Reason]) -> Dated:
    """Whatever germs might do is the stricter of both."""
    return "use by" if any(reason.dated == "use by" for reason in found) else "best before"


def _told(decides: Reason, found: list[Reason], bottle: Bottle) -> tuple[str, ...]:
    """What decided, the strictest of each other kind, and what is to its credit."""
    if bottle.place == "freezer":
        return (decides.words, *_FROZEN)
    rest = sorted(found, key=lambda reason: reason.most(bottle.heated) or 0)
    kinds: dict[Of, Reason] = {decides.of: decides}
    for reason in rest:
        kinds.setdefault(reason.of, reason)
    has = (strength.words for strength in strengths() if strength.holds(bottle))
    return (*(reason.words for reason in kinds.values()), *has)


def _check(bottle: Bottle) -> None:
    bounds = (
        ("pH", bottle.ph, 0.0, 14.0, ""),
        ("sugar", bottle.brix, 0.0, 85.0, "Brix"),
        ("water activity", bottle.aw, 0.0, 1.0, ""),
        ("alcohol", bottle.alcohol, 0.0, 1.0, ""),
        ("acetic acid", bottle.acetic, 0.0, 1000.0, "g/l"),
        ("preservative", bottle.preservative, 0.0, 1000.0, "g/l"),
    )
    for what, value, low, high, unit in bounds:
        if value is not None and not low <= value <= high:
            raise OutOfRange(what, value, low, high, unit)
