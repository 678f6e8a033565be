"""The figures of a batch that answer cards may name: each a fact, or None where it isn't known."""

from collections.abc import Callable
from datetime import datetime

from assistant.base.errors import OutOfRange
from assistant.calc.measures import g_to_spoon
from assistant.calc.sugar import sugar_for_brix, water_for_brix, water_to_boil_off
from assistant.cook.amounts import amount, quantity
from assistant.cook.batch import Batch
from assistant.cook.glass_figures import GLASS_FIGURES, Figure
from assistant.cook.holding import current_run, hold_stage
from assistant.cook.keep_answers import PLACE_WORDS, SIGN_WORDS
from assistant.cook.keeping import closed_until, in_words, keeping, opened_until
from assistant.cook.kinds import Cool, Hold, Rest
from assistant.cook.ph_forecast import forecast_ph
from assistant.cook.reply import Fact, Quantity
from assistant.cook.stock import bottles_for, juice, made_up_volume, main_sugar, syrup
from assistant.cook.warming import seconds_to


def figure_of(name: str, batch: Batch, at: datetime) -> Fact | None:
    """A figure by its name, None where it is not known yet; KeyError for no such name."""
    return FIGURES[name](batch, at)


def _grams(value: float) -> Quantity:
    return Quantity(value=value, unit="g")


def _read(what: str) -> Figure:
    def figure(batch: Batch, _at: datetime) -> Fact | None:
        taken = batch.last(what)
        if taken is None:
            return None
        return Quantity(value=taken.reading.value, unit=taken.reading.unit, exact=True)

    return figure


def _planned(name: str) -> Figure:
    def figure(batch: Batch, _at: datetime) -> Fact | None:
        found = amount(batch, name) if name in batch.recipe.amounts else None
        return found.likely() if found else None

    return figure


def _put_in(name: str) -> Figure:
    def figure(batch: Batch, _at: datetime) -> Fact | None:
        added = batch.addition(name)
        return Quantity(value=batch.total(name), unit=added.unit) if added else None

    return figure


def _fruit(batch: Batch, _at: datetime) -> Fact | None:
    return batch.fruit.replace("-", " ") if batch.fruit else None


def _fruit_weight(batch: Batch, _at: datetime) -> Fact | None:
    start = batch.start
    if start is None:
        return None
    return Quantity(value=start.reading.value, unit=start.reading.unit, exact=True)


def _sugar_altogether(batch: Batch, _at: datetime) -> Fact | None:
    main = main_sugar(batch)
    if main is None:
        return None
    first = amount(batch, "crushing_sugar") if "crushing_sugar" in batch.recipe.amounts else None
    return _grams(main.likely + (first.value if first else 0.0))


def _target(batch: Batch, _at: datetime) -> Fact | None:
    hold = hold_stage(batch)
    return Quantity(value=hold.target_c, unit="degC", exact=True) if hold else None


def _ceiling(batch: Batch, _at: datetime) -> Fact | None:
    hold = hold_stage(batch)
    return Quantity(value=hold.ceiling_c, unit="degC", exact=True) if hold else None


def _hold_seconds(batch: Batch, _at: datetime) -> Fact | None:
    hold = hold_stage(batch)
    return Quantity(value=hold.seconds, unit="s") if hold else None


def _hold_left(batch: Batch, _at: datetime) -> Fact | None:
    stage = batch.stage
    if not isinstance(stage, Hold):
        return None
    left = stage.seconds - current_run(batch, stage).seconds
    return Quantity(value=max(1, round(left)), unit="s")


def _degrees_to_go(batch: Batch, _at: datetime) -> Fact | None:
    hold, read = hold_stage(batch), batch.last("temperature")
    if hold is None or read is None or read.base >= hold.target_c:
        return None
    return Quantity(value=hold.target_c - read.base, unit="degC", exact=True)


def _minutes_to_target(batch: Batch, _at: datetime) -> Fact | None:
    hold = hold_stage(batch)
    seconds = seconds_to(batch, hold.target_c) if hold else None
    return Quantity(value=seconds, unit="s") if seconds else None


def _cool_to(batch: Batch, _at: datetime) -> Fact | None:
    stage = next((s for s in batch.stages if isinstance(s, Cool)), None)
    return Quantity(value=stage.below_c, unit="degC", exact=True) if stage else None


def _rest(batch: Batch, _at: datetime) -> Fact | None:
    stage = batch.stage
    return Quantity(value=stage.minutes, unit="min") if isinstance(stage, Rest) else None


def _rest_left(batch: Batch, at: datetime) -> Fact | None:
    stage = batch.stage
    if not isinstance(stage, Rest):
        return None
    passed = (at - batch.entered_at).total_seconds()
    return Quantity(value=max(0, round(stage.minutes * 60 - passed)), unit="s")


def _juice(batch: Batch, _at: datetime) -> Fact | None:
    stock = juice(batch)
    return quantity(stock.volume_ml, "ml") if stock else None


def _juice_target(batch: Batch, _at: datetime) -> Fact | None:
    return Quantity(value=made_up_volume(batch), unit="ml") if batch.start else None


def _syrup(batch: Batch, _at: datetime) -> Fact | None:
    stock = syrup(batch)
    return quantity(stock.volume_ml, "ml") if stock else None


def _syrup_brix(batch: Batch, _at: datetime) -> Fact | None:
    stock = syrup(batch)
    return quantity(stock.brix, "Brix") if stock else None


def _half_litres(batch: Batch, _at: datetime) -> Fact | None:
    stock = syrup(batch)
    return bottles_for(stock) if stock else None


def _filled(batch: Batch, _at: datetime) -> Fact | None:
    return batch.bottled.count if batch.bottled else None


def _bottle_size(batch: Batch, _at: datetime) -> Fact | None:
    size = batch.bottled.size_ml if batch.bottled else None
    return Quantity(value=size, unit="ml") if size else None


def _brix_target(batch: Batch, _at: datetime) -> Fact | None:
    return Quantity(value=batch.recipe.targets.brix, unit="Brix", exact=True)


def _ph_high(batch: Batch, _at: datetime) -> Fact | None:
    """By the recipe, or by the fruit that is in it where that lets expect a higher one."""
    expected = forecast_ph(batch) if batch.start is not None else None
    high = max(batch.recipe.targets.ph_high, round(expected.high, 1) if expected else 0.0)
    return Quantity(value=high, unit="pH", exact=True)


def _to_target(reckon: Callable[[float, float, float], float], unit: str) -> Figure:
    """What brings the syrup, as its Brix was read, to the recipe's target."""

    def figure(batch: Batch, _at: datetime) -> Fact | None:
        stock, read = syrup(batch), batch.last("brix")
        if stock is None or read is None or batch.addition("main_sugar") is None:
            return None
        try:
            need = reckon(stock.mass_g.likely, read.base, batch.recipe.targets.brix)
        except OutOfRange:
            return None
        return Quantity(value=need, unit="g" if unit == "g" else "ml") if need > 0 else None

    return figure


def _keep_days(batch: Batch, _at: datetime) -> Fact | None:
    days = keeping(batch, batch.stored.place).days
    return Quantity(value=days, unit="day") if days else None


def _opened_days(batch: Batch, _at: datetime) -> Fact | None:
    days = keeping(batch, opened=True).days
    return Quantity(value=days, unit="day") if days else None


def _keep_by(batch: Batch, at: datetime) -> Fact | None:
    until = closed_until(batch, at) if batch.bottled and not batch.barred else None
    return in_words(until) if until else None


def _opened_until(batch: Batch, _at: datetime) -> Fact | None:
    last = batch.stored.opened[-1].at if batch.stored.opened else None
    until = opened_until(batch, last) if last and not batch.barred else None
    return in_words(until) if until else None


def _in_store(batch: Batch, _at: datetime) -> Fact | None:
    return batch.in_store if batch.bottled else None


def _place(batch: Batch, _at: datetime) -> Fact | None:
    return PLACE_WORDS[batch.stored.place]


def _sign(batch: Batch, _at: datetime) -> Fact | None:
    return SIGN_WORDS[batch.stored.signs[-1].what] if batch.stored.signs else None


def _lemon_juice(batch: Batch, at: datetime) -> Fact | None:
    """Lemon juice with as much acid as the citric acid that is planned.

    48 g/l: Penniston et al., J Endourol 22 (2008) 567-570, from memory.
    """
    acid = _planned("citric_acid")(batch, at)
    return Quantity(value=acid.value / 0.048, unit="ml") if isinstance(acid, Quantity) else None


def _rest_passed(batch: Batch, at: datetime) -> Fact | None:
    """How long it has rested, to the whole minute."""
    if not isinstance(batch.stage, Rest):
        return None
    minutes = int(max(0.0, (at - batch.entered_at).total_seconds()) // 60)
    return Quantity(value=float(minutes), unit="min")


def _bottles_of(size_ml: float) -> Figure:
    """Bottles of a size for all the syrup there is likely to be."""

    def figure(batch: Batch, _at: datetime) -> Fact | None:
        stock = syrup(batch)
        return int(-(-stock.volume_ml.likely // size_ml)) if stock else None

    return figure


def _citric_tsp(batch: Batch, at: datetime) -> Fact | None:
    acid = _planned("citric_acid")(batch, at)
    if not isinstance(acid, Quantity):
        return None
    return f"{g_to_spoon('citric acid', acid.value, 'tsp').likely:.1f}"


def _in_fahrenheit(name: str) -> Figure:
    def figure(batch: Batch, at: datetime) -> Fact | None:
        found = FIGURES[name](batch, at)
        if not isinstance(found, Quantity):
            return None
        return Quantity(value=round(found.value * 9 / 5 + 32), unit="degF", exact=True)

    return figure


def _stage_number(batch: Batch, _at: datetime) -> Fact | None:
    return batch.stage_index + 1 if batch.stage else None


def _sugar_cups(name: str) -> Figure:
    def figure(batch: Batch, at: datetime) -> Fact | None:
        sugar = _planned(name)(batch, at)
        if not isinstance(sugar, Quantity):
            return None
        return f"{g_to_spoon('sugar', sugar.value, 'cup').likely:.1f}"

    return figure


def _cooling(batch: Batch) -> Cool | None:
    return batch.stage if isinstance(batch.stage, Cool) else None


def _degrees_to_cool(batch: Batch, _at: datetime) -> Fact | None:
    stage, read = _cooling(batch), batch.last("temperature")
    if stage is None or read is None or read.base <= stage.below_c:
        return None
    return Quantity(value=read.base - stage.below_c, unit="degC", exact=True)


def _time_to_cool(batch: Batch, _at: datetime) -> Fact | None:
    stage = _cooling(batch)
    seconds = seconds_to(batch, stage.below_c) if stage else None
    return Quantity(value=seconds, unit="s") if seconds else None


FIGURES: dict[str, Figure] = {
    **GLASS_FIGURES,
    "recipe": lambda batch, _at: batch.recipe.title.lower(),
    "fruit": _fruit,
    "fruit_weight": _fruit_weight,
    "first_sugar": _planned("crushing_sugar"),
    "main_sugar": _planned("main_sugar"),
    "sugar_altogether": _sugar_altogether,
    "first_sugar_in": _put_in("crushing_sugar"),
    "main_sugar_in": _put_in("main_sugar"),
    "water": _planned("hot_water"),
    "citric": _planned("citric_acid"),
    "citric_in": _put_in("citric_acid"),
    "ascorbic": _planned("ascorbic_acid"),
    "glycerin": _planned("glycerin"),
    "sorbate": _planned("sorbate"),
    "sorbate_in": _put_in("sorbate"),
    "gum": _planned("gum_arabic"),
    "vinegar": _planned("vinegar"),
    "target": _target,
    "ceiling": _ceiling,
    "hold_seconds": _hold_seconds,
    "hold_left": _hold_left,
    "temperature": _read("temperature"),
    "degrees_to_go": _degrees_to_go,
    "time_to_target": _minutes_to_target,
    "cool_to": _cool_to,
    "rest": _rest,
    "rest_left": _rest_left,
    "juice": _juice,
    "juice_target": _juice_target,
    "syrup": _syrup,
    "syrup_brix": _syrup_brix,
    "half_litres": _half_litres,
    "filled": _filled,
    "bottle_size": _bottle_size,
    "in_store": _in_store,
    "place": _place,
    "sign": _sign,
    "brix": _read("brix"),
    "brix_target": _brix_target,
    "ph": _read("ph"),
    "ph_high": _ph_high,
    "sugar_to_target": _to_target(sugar_for_brix, "g"),
    "water_to_target": _to_target(water_for_brix, "ml"),
    "boil_off": _to_target(water_to_boil_off, "g"),
    "keep_days": _keep_days,
    "keep_by": _keep_by,
    "opened_days": _opened_days,
    "opened_until": _opened_until,
    "lemon_juice": _lemon_juice,
    "bottles_250": _bottles_of(250),
    "bottles_330": _bottles_of(330),
    "bottles_750": _bottles_of(750),
    "bottles_1000": _bottles_of(1000),
    "citric_tsp": _citric_tsp,
    "target_f": _in_fahrenheit("target"),
    "ceiling_f": _in_fahrenheit("ceiling"),
    "stage_number": _stage_number,
    "rest_passed": _rest_passed,
    "first_sugar_cups": _sugar_cups("crushing_sugar"),
    "main_sugar_cups": _sugar_cups("main_sugar"),
    "degrees_to_cool": _degrees_to_cool,
    "time_to_cool": _time_to_cool,
}
