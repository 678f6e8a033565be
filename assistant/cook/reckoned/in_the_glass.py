"""What is in a glass: sweetness and sourness as diluted, sugar and energy, alcohol."""

from assistant.base.errors import PansideError
from assistant.calc.acid_finished import Additions, ph_after
from assistant.calc.acid_fit import FIT_PH, fruit_acidity
from assistant.calc.serve import energy
from assistant.calc.spread import Spread
from assistant.cook.batch import Batch
from assistant.cook.drinks import drink as mixed_drink
from assistant.cook.finished_ph import fresh_ph, share_of_fruit, stale_lines
from assistant.cook.reckoned.glass import Mixed, by_which, mixed
from assistant.cook.reckoned.pan import Answer, brix, grams, millilitres, no_amount
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.stock import alcohol_by_volume, syrup
from assistant.facts.events import Ask, Given
from assistant.facts.stuff import row_of, stuff_of

UNIT_ML = 10.0
"""Pure alcohol in one unit: 10 ml, that is 8 g. UK Chief Medical Officers' Low Risk Drinking
Guidelines (2016), from memory. [ml]"""
ALCOHOL_G_ML = 0.789
"""Density of alcohol at 20 degC: OIML R 22 (1973), 789.24 kg/m3. [g/ml]"""
NO_ALCOHOL = 0.0005
"""By volume; below it rounds to none, as on a label. [ml/ml]"""
SUGAR_FREE_G_ML = 0.005
"""What "sugar-free" may hold: Regulation (EC) No 1924/2006, Annex, 0.5 g in 100 ml, from memory."""


def taste(batch: Batch, event: Ask) -> Answer:
    """How sweet and how sour the drink is."""
    drink = mixed(batch, event)
    if not isinstance(drink, Mixed):
        return drink
    facts: dict[str, Fact] = {"brix": brix(drink.glass.brix), "parts": drink.parts}
    read = fresh_ph(batch)
    if read is None:
        no_ph = Line(id="serving.taste_sweet", rank="answer", facts=facts)
        return (no_ph, *by_which(drink), *stale_lines(batch), *_acid(batch, drink))
    sour = _diluted_ph(batch, drink, read.base)
    if sour is None:
        return (Line(id="serving.taste_sweet", rank="answer", facts=facts), *by_which(drink))
    facts["ph"] = Quantity(value=round(sour.likely, 1), unit="pH", exact=True)
    told = Line(id="serving.taste", rank="answer", facts=facts)
    fresh = Line(id="serving.mix_fresh", rank="detail")
    return (told, *by_which(drink), *_acid(batch, drink), fresh)


def _diluted_ph(batch: Batch, drink: Mixed, ph: float) -> Spread | None:
    """With tap water as hard as it may be; None where the fruit's own acid is not known."""
    stock, glass = syrup(batch), drink.glass
    if stock is None or batch.fruit is None:
        return None
    try:
        acidity, main = fruit_acidity(batch.fruit, share_of_fruit(batch, stock.mass_g.likely))
        water = Additions(water_l=glass.water_ml / 1000)
        at = min(max(ph, FIT_PH[0]), FIT_PH[1])
        return ph_after(
            at, acidity, glass.syrup_ml / 1000, water, glass.glass_ml / 1000, main_acid=main
        )
    except PansideError:
        return None


def _acid(batch: Batch, drink: Mixed) -> Answer:
    """Acid in the drink, the fruit's usual and what went in. [g/l]"""
    stock = syrup(batch)
    if stock is None or batch.fruit is None or not stock.volume_ml.likely:
        return ()
    try:
        share = share_of_fruit(batch, stock.mass_g.likely)
        own = fruit_acidity(batch.fruit, share)[0].likely
    except PansideError:
        return ()
    put_in = sum(a.amount for a in batch.added if row_of(stuff_of(a.name)).acid)
    in_syrup = own + 1000 * put_in / stock.volume_ml.likely
    in_drink = in_syrup * drink.glass.syrup_ml / drink.glass.glass_ml
    acid = Quantity(value=round(in_drink, 1), unit="g/l", exact=True)
    return (Line(id="serving.acid", rank="detail", facts={"acid": acid}),)


def glass_energy(batch: Batch, event: Ask) -> Answer:
    """Sugar and energy in a glass, all that is dissolved counted as sugar, which errs upwards."""
    drink = mixed(batch, event)
    if not isinstance(drink, Mixed):
        return drink
    sugar = drink.glass.sugar_g
    pure = alcohol_by_volume(batch) * drink.glass.syrup_ml
    found = energy(sugar, alcohol_g=pure * ALCOHOL_G_ML)
    facts: dict[str, Fact] = {
        "glass": millilitres(drink.glass.glass_ml),
        "parts": drink.parts,
        "sugar": grams(sugar),
        "kj": round(found.kj),
        "kcal": round(found.kcal),
    }
    return (
        Line(id="serving.energy", rank="answer", facts=facts),
        *by_which(drink),
        Line(id="serving.energy_mix", rank="detail", facts=facts),
        Line(id="serving.diabetes", rank="detail"),
        Line(id="serving.energy_source", rank="detail"),
    )


def sugar_free(batch: Batch, event: Ask) -> Answer:
    """Whether a glass has any sugar to speak of; whoever must count it is told how much."""
    drink = mixed(batch, event)
    if not isinstance(drink, Mixed):
        return drink
    facts: dict[str, Fact] = {
        "sugar": grams(drink.glass.sugar_g),
        "glass": millilitres(drink.glass.glass_ml),
        "parts": drink.parts,
    }
    if drink.glass.sugar_g > SUGAR_FREE_G_ML * drink.glass.glass_ml:
        told = Line(id="serving.not_sugar_free", rank="answer", facts=facts)
    else:
        told = Line(id="serving.next_to_none", rank="answer", facts=facts)
    return (told, Line(id="serving.diabetes", rank="caution"), *_details(by_which(drink)))


def _details(lines: Answer) -> Answer:
    return tuple(line.model_copy(update={"rank": "detail"}) for line in lines)


def strong(batch: Batch, event: Ask) -> Answer:
    """How strong the drink is: its alcohol first where it has any, else how it is mixed."""
    told = mixed_drink(batch, event)
    if batch.barred or alcohol_by_volume(batch) < NO_ALCOHOL:
        return told
    parts = event.value
    given = (Given(name="parts", value=parts, unit="count"),) if parts is not None else ()
    return (*glass_alcohol(batch, event.model_copy(update={"given": given})), *told)


def glass_alcohol(batch: Batch, event: Ask) -> Answer:
    """Alcohol in a glass, of the syrup's spirit and of what is poured in, with its units."""
    drink = mixed(batch, event)
    if not isinstance(drink, Mixed):
        return drink
    poured, strength = event.number("spirit"), event.number("strength")
    own = alcohol_by_volume(batch) * drink.glass.syrup_ml
    if poured is None:
        return _alcohol(drink, own, drink.glass.glass_ml)
    named = next((one.value for one in event.given if one.name == "strength"), None)
    refused = no_amount(poured)
    if refused:
        return refused
    if strength is None or named is None:
        return (Line(id="reckoned.which_strength", rank="question"),)
    if not 0 < named <= 96 or poured > drink.glass.glass_ml:
        return (Line(id="reckoned.no_such_spirit", rank="question"),)
    return _alcohol(drink, own + poured * named / 100, drink.glass.glass_ml + poured)


def _alcohol(drink: Mixed, pure_ml: float, glass_ml: float) -> Answer:
    share = pure_ml / glass_ml
    if share < NO_ALCOHOL:
        return (Line(id="serving.no_alcohol", rank="answer"),)
    facts: dict[str, Fact] = {
        "glass": millilitres(glass_ml),
        "abv": f"{100 * share:.1f}",
        "units": f"{pure_ml / UNIT_ML:.1f}",
        "unit": millilitres(UNIT_ML),
    }
    return (
        Line(id="serving.alcohol", rank="answer", facts=facts),
        Line(id="serving.alcohol_who", rank="caution"),
        Line(id="serving.alcohol_unit", rank="detail", facts=facts),
        *_details(by_which(drink)),
    )
