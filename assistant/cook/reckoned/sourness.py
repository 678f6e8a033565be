"""A pH that is wished for, and the pH to expect of acid or water that would go in."""

from assistant.base.errors import PansideError
from assistant.calc.acid_finished import Additions, ph_after
from assistant.calc.acid_fit import FIT_PH, cations_within, dose_spread, fruit_acidity, nearest
from assistant.calc.acid_fit import pour_for_ph as pour_for
from assistant.calc.acid_measure import trial_for_batch
from assistant.calc.spread import Spread
from assistant.cook.batch import Batch
from assistant.cook.finished_ph import fresh_ph, low_in_acid, share_of_fruit, stale_lines
from assistant.cook.ph_forecast import forecast_ph
from assistant.cook.reckoned.pan import (
    Answer,
    Pan,
    closed_to_change,
    grams,
    millilitres,
    no_amount,
    no_pan,
    pan,
)
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.souring import FIRST_SHARE, LEAST_G
from assistant.facts.events import Ask
from assistant.limits import MAKERS_PH

SAME_PH = 0.05
"""No meter in a kitchen shows a smaller step surely (common practice, no source). [-]"""
LEMON_PH, LEMON_G_L = 2.3, 48.0
"""Lemon juice: its pH from memory; its citric acid, Penniston et al., J Endourol 22 (2008) 567-570,
from memory. [-], [g/l]"""


def to_ph(batch: Batch, event: Ask) -> Answer:
    """The citric acid, or the lemon juice, that brings what is in the pan down to a pH."""
    target, there, read = _wanted(batch, event), pan(batch), fresh_ph(batch)
    if read is None and target is None and event.number("down") and there is not None:
        return (*stale_lines(batch), Line(id="reckoned.needs_ph", rank="question"))
    refused = _impossible(batch, target) or closed_to_change(batch)
    if refused or target is None:
        return refused
    if there is None:
        return no_pan(batch)
    if read is None:
        return (*stale_lines(batch), Line(id="reckoned.needs_ph", rank="question"))
    if read.base - target < SAME_PH:
        facts: dict[str, Fact] = {"ph": _ph(read.base), "target": _ph(target)}
        line = "reckoned.ph_there" if abs(read.base - target) < SAME_PH else "reckoned.only_lower"
        return (Line(id=line, rank="answer", facts=facts),)
    dose = _lemon if event.number("lemon") else _citric
    earns_nothing = low_in_acid(batch) and batch.recipe.acidity != "soured"
    caution = (Line(id="ph_low_acid", rank="caution"),) if earns_nothing else ()
    return (*dose(batch, there, read.base, target), *caution)


def _wanted(batch: Batch, event: Ask) -> float | None:
    """The pH that is named, or the one that was read less so much."""
    down, read = event.number("down"), fresh_ph(batch)
    if down is None or read is None:
        return event.number("target")
    return round(read.base - down, 2)


def _citric(batch: Batch, there: Pan, ph: float, target: float) -> Answer:
    """Half of the low end first, since a measured pH beats a reckoned one; a quarter where the low
    end is next to nothing."""
    known = _acidity(batch, there)
    try:
        dose = dose_spread(ph, known[0], target, main_acid=known[1]) if known else None
    except PansideError:
        dose = None
    if dose is None:
        return (Line(id="reckoned.try_a_sample", rank="answer"),)
    litres = there.volume_ml / 1000
    first = max(LEAST_G, FIRST_SHARE * max(dose.low, FIRST_SHARE * dose.likely) * litres)
    facts: dict[str, Fact] = {
        "ph": _ph(ph),
        "target": _ph(target),
        "first": grams(first),
        "whole": grams(max(first, dose.likely * litres)),
        "most": grams(max(first, dose.high * litres)),
    }
    return (
        Line(id="reckoned.citric_to", rank="do", facts=facts),
        Line(id="reckoned.citric_varies", rank="detail", facts=facts),
    )


def _lemon(batch: Batch, there: Pan, ph: float, target: float) -> Answer:
    known = _acidity(batch, there)
    try:
        poured = _poured(there, ph, target, *known) if known else None
    except PansideError:
        poured = None
    if poured is None:
        return (Line(id="reckoned.try_a_sample", rank="answer"),)
    facts: dict[str, Fact] = {
        "ph": _ph(ph),
        "target": _ph(target),
        "first": millilitres(FIRST_SHARE * poured),
        "whole": millilitres(poured),
    }
    return (
        Line(id="reckoned.lemon_to", rank="do", facts=facts),
        Line(id="reckoned.lemon_varies", rank="detail"),
    )


def _poured(there: Pan, ph: float, target: float, acidity: Spread, main: str) -> float:
    """Lemon juice at the fruit's usual acidity. [ml]"""
    own = nearest(ph, acidity.likely, main, cations_within(acidity))
    return 1000 * pour_for(own, there.volume_ml / 1000, nearest(LEMON_PH, LEMON_G_L), target)


def with_acid(batch: Batch, event: Ask) -> Answer:
    """The pH to expect with so much citric acid more."""
    return _with(batch, event.number("added"), Additions({"citric": event.number("added") or 0.0}))


def ph_with_water(batch: Batch, event: Ask) -> Answer:
    """The pH to expect with so much water more."""
    added = event.number("added")
    return _with(batch, added, Additions(water_l=(added or 0.0) / 1000), (added or 0.0) / 1000)


def _with(batch: Batch, added: float | None, goes_in: Additions, more_l: float = 0.0) -> Answer:
    refused = no_amount(added) or closed_to_change(batch)
    there, read = pan(batch), fresh_ph(batch)
    if refused:
        return refused
    if there is None:
        return no_pan(batch)
    if read is None:
        return (*stale_lines(batch), Line(id="reckoned.needs_ph", rank="question"))
    known, litres = _acidity(batch, there), there.volume_ml / 1000
    at = min(max(read.base, FIT_PH[0]), FIT_PH[1])
    try:
        found = (
            ph_after(at, known[0], litres, goes_in, litres + more_l, main_acid=known[1])
            if known
            else None
        )
    except PansideError:
        found = None
    if found is None:
        return (Line(id="reckoned.try_a_sample", rank="answer"),)
    facts: dict[str, Fact] = {"was": _ph(read.base), "ph": _between(found)}
    return (Line(id="reckoned.ph_comes_to", rank="answer", facts=facts),)


def ph_ahead(batch: Batch, _event: Ask) -> Answer:
    """The pH that was read, else the one to expect when all is in."""
    read = fresh_ph(batch)
    if read is not None:
        return (Line(id="reckoned.ph_read", rank="answer", facts={"ph": _ph(read.base)}),)
    found = forecast_ph(batch)
    if found is None:
        return (*stale_lines(batch), Line(id="reckoned.needs_ph", rank="question"))
    line = Line(id="reckoned.ph_forecast", rank="answer", facts={"ph": _between(found)})
    return (*stale_lines(batch), line)


def trial(batch: Batch, event: Ask) -> Answer:
    """The acid for the whole, from what a sample of it took."""
    sample, added = event.number("sample"), event.number("added")
    refused = no_amount(sample) or no_amount(added) or closed_to_change(batch)
    there = pan(batch)
    if refused or sample is None or added is None:
        return refused
    if there is None:
        return no_pan(batch)
    try:
        whole = trial_for_batch(sample, added, there.volume_ml / 1000)
    except PansideError:
        return (Line(id="reckoned.odd_sample", rank="question"),)
    facts: dict[str, Fact] = {"whole": grams(whole.likely), "volume": millilitres(there.volume_ml)}
    return (Line(id="reckoned.trial", rank="do", facts=facts),)


def _acidity(batch: Batch, there: Pan) -> tuple[Spread, str] | None:
    """The usual acidity of this fruit at its share of the pan; None where it is not known."""
    if batch.fruit is None or batch.start is None:
        return None
    try:
        return fruit_acidity(batch.fruit, share_of_fruit(batch, there.mass_g))
    except PansideError:
        return None


def _impossible(batch: Batch, target: float | None) -> Answer:
    """Why a pH is not aimed at; () where it may be."""
    low = batch.recipe.targets.ph_low
    if target is None:
        return (Line(id="reckoned.which_ph", rank="question"),)
    facts: dict[str, Fact] = {"target": _ph(target), "low": _ph(low), "high": _ph(MAKERS_PH)}
    if not 0 < target < 14:
        return (Line(id="reckoned.no_such_ph", rank="question", facts=facts),)
    if target < low:
        return (Line(id="reckoned.too_sour", rank="answer", facts=facts),)
    if target > MAKERS_PH:
        return (Line(id="reckoned.not_sour_enough", rank="limit", facts=facts),)
    return ()


def _ph(value: float) -> Quantity:
    return Quantity(value=value, unit="pH", exact=True)


def _between(found: Spread) -> Quantity:
    low, likely, high = (round(x, 1) for x in (found.low, found.likely, found.high))
    return Quantity(value=likely, unit="pH", low=low, high=high)
