"""The pH that counts: of the finished food, read when nothing goes in any more (21 CFR 114.80)."""

from assistant.base.errors import PansideError
from assistant.calc.acid_finished import Additions, ph_after
from assistant.calc.acid_fit import FIT_PH, fruit_acidity
from assistant.calc.spread import Spread
from assistant.cook.basket import figures, outside
from assistant.cook.batch import Added, Batch, Taken
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.stock import juice, start_mass, syrup
from assistant.facts.stuff import row_of, stuff_of
from assistant.limits import above_makers, is_low_acid

STRIPS_PH = 0.5
"""How far paper strips may be off in coloured syrup: common practice, no source. [-]"""
_ACIDS = {"citric_acid": "citric", "malic_acid": "malic", "ascorbic_acid": "ascorbic"}
_SALTS = {"sorbate": "potassium sorbate", "benzoate": "sodium benzoate"}


ENOUGH_SOURED = 2.0
"""Acid that must have gone in before a low-acid infusion counts as soured; pure water comes below
pH 3 with it (calc.acid). [g/l]"""


def low_in_acid(batch: Batch) -> bool:
    """Whether it counts as low in acid, whatever was measured.

    By its recipe, by its fruit, or as an infusion to be soured that is not, or not surely.
    """
    if batch.recipe.acidity == "soured":
        other = bool(outside(batch))
        return not is_soured(batch) or (other and _low_by_nature(batch))
    return batch.recipe.acidity == "low-acid" or _low_by_nature(batch)


def _low_by_nature(batch: Batch) -> bool:
    own = figures(batch)
    return own is not None and own.acidity_class == "low-acid"


def is_soured(batch: Batch) -> bool:
    """Low in acid by nature, with the acid weighed in, and a pH that a checked meter read since.

    21 CFR 114.80 judges what was acidified by its finished pH; where makers stay is the bound.
    """
    read, stock = fresh_ph(batch), syrup(batch)
    if batch.recipe.acidity != "soured" or read is None or stock is None or batch.ph_by != "meter":
        return False
    acid = sum(a.amount for a in batch.added if row_of(stuff_of(a.name)).acid)
    litres = stock.volume_ml.high / 1000
    return not above_makers(read.base) and acid >= ENOUGH_SOURED * litres


def fresh_ph(batch: Batch) -> Taken | None:
    """The latest pH, where it was read of what is in the pan now; None where it is stale.

    Before anything was weighed there is no food, and after something more went in it is another.
    A high pH that was taken back, and no other read since, leaves none; nor does one below it that
    the acid put in can't explain.
    """
    read, high = batch.last("ph"), batch.lasting.high_ph
    if read is None or batch.start is None or read.mixed != batch.mixed:
        return None
    if high is not None and high.reading != read.reading:
        return None
    return read


def deciding_ph(batch: Batch) -> float | None:
    """The pH that dates and claims may go by; None where none counts.

    Over where makers stay, and where acid alone makes it sour, it counts as read only with a meter
    that was checked; else with the doubt of strips.
    """
    read = fresh_ph(batch)
    if read is None:
        return None
    matters = above_makers(read.base) or batch.recipe.acidity == "soured"
    unsure = matters and batch.ph_by != "meter"
    return read.base + STRIPS_PH if unsure else read.base


def is_stale(batch: Batch) -> bool:
    """Whether a pH was given that no longer counts."""
    return batch.last("ph") is not None and fresh_ph(batch) is None


def is_disbelieved(batch: Batch) -> bool:
    """Whether the latest pH is one that the acid put in since a high one can't explain."""
    read, high = batch.last("ph"), batch.lasting.high_ph
    if read is None or high is None or read.mixed != batch.mixed:
        return False
    return read.reading != high.reading and read.at >= high.at


def will_be_asked(batch: Batch) -> bool:
    """Whether a stage still to come, or the one now, measures the pH."""
    ahead = batch.stages[batch.stage_index :]
    return any(s.kind == "measure" and s.reading == "ph" for s in ahead)


def stale_lines(batch: Batch) -> tuple[Line, ...]:
    """That the pH was read too early, what it may have become, and that a fresh one is wanted."""
    read = batch.last("ph")
    if read is None or not is_stale(batch) or batch.recipe.acidity == "low-acid":
        return ()
    facts: dict[str, Fact] = {"ph": Quantity(value=read.base, unit="pH", exact=True)}
    if is_disbelieved(batch):
        return (Line(id="ph_disbelieved", rank="caution", facts=facts),)
    expected = expected_ph(batch)
    if expected is None:
        return (Line(id="ph_stale", rank="caution", facts=facts),)
    facts["expected"] = Quantity(value=round(expected.high, 1), unit="pH", exact=True)
    line = "ph_stale_high" if is_low_acid(expected.high) else "ph_stale_by"
    return (Line(id=line, rank="caution", facts=facts),)


def expected_ph(batch: Batch) -> Spread | None:
    """The pH to expect of what is in the pan, from the latest one read and what went in since.

    None where the fruit's acidity is not known, or something went in that nobody can reckon with.
    """
    read, stock, pulp = batch.last("ph"), syrup(batch), juice(batch)
    since = added_since(batch, read) if read else ()
    fruit = figures(batch)
    if read is None or stock is None or pulp is None or not since or fruit is None:
        return None
    before_l, after_l = (pulp if _unsweetened(batch, read) else stock), stock
    try:
        acidity, main = fruit_acidity(fruit, share_of_fruit(batch, before_l.mass_g.likely))
        return ph_after(
            min(max(read.base, FIT_PH[0]), FIT_PH[1]),
            acidity,
            before_l.volume_ml.likely / 1000,
            _since(since),
            _volume(after_l.volume_ml.likely, since),
            main_acid=main,
        )
    except (PansideError, KeyError):
        return None


def added_since(batch: Batch, read: Taken) -> tuple[Added, ...]:
    """What went in after a reading."""
    return tuple(a for a in batch.added if a.mixed > read.mixed)


def share_of_fruit(batch: Batch, mass_g: float) -> float:
    """How much of a mass is fruit, as far as an acidity can be reckoned with. [g/g]"""
    return min(1.0, max(0.02, start_mass(batch) / mass_g)) if mass_g else 1.0


def _unsweetened(batch: Batch, read: Taken) -> bool:
    return any(a.name == "main_sugar" for a in added_since(batch, read))


def _since(added: tuple[Added, ...]) -> Additions:
    """What moves the pH among it; KeyError for vinegar or syrup, whose acid nobody knows."""
    acids: dict[str, float] = {}
    salts: dict[str, float] = {}
    water_ml = 0.0
    for each in added:
        stuff = stuff_of(each.name)
        if stuff in _ACIDS:
            acids[_ACIDS[stuff]] = acids.get(_ACIDS[stuff], 0.0) + each.amount
        elif stuff in _SALTS:
            salts[_SALTS[stuff]] = salts.get(_SALTS[stuff], 0.0) + each.amount
        elif stuff == "water":
            water_ml += each.amount
        elif stuff not in ("sugar", "glycerin", "gum_arabic", "sulphite"):
            raise KeyError(stuff)
    return Additions(acids, salts, water_ml / 1000)


def _volume(syrup_ml: float, added: tuple[Added, ...]) -> float:
    """The batch afterwards: water that the stock does not count is still in it. [l]"""
    water = sum(a.amount for a in added if stuff_of(a.name) == "water")
    return (syrup_ml + water) / 1000


def acid_since(batch: Batch, read: Taken) -> float | None:
    """Acid that went in after a reading; None where something sour can't be weighed. [g]"""
    grams = 0.0
    for each in added_since(batch, read):
        stuff = stuff_of(each.name)
        own = batch.recipe.ingredients.get(stuff)
        if own is not None and own.acid:
            return None
        if row_of(stuff).acid:
            grams += each.amount
        elif stuff in ("vinegar", "darker_syrup"):
            return None
    return grams
