"""Questions about spoons and cups."""

from collections.abc import Callable

from assistant.calc import measures
from assistant.calc.answer import Answer
from assistant.calc.capacity import CAPACITY_ML, Measure, unsure_ml
from assistant.calc.measures import SpoonOrCup
from assistant.calc.spread import Spread

_VALID = "level teaspoon 5 ml, tablespoon 15 ml, cup 240 ml (NIST); an Australian tablespoon is 20"
_WEIGH_IT = "Weigh this one: a spoon is too rough for it, and too much or too little matters."
_ROUGH = "A spoon is rough: heaped or packed it holds half as much again."
_NAMES = {"tsp": "teaspoon", "tbsp": "tablespoon", "cup": "cup"}


def spoon(*, item: str, count: float = 1.0, measure: SpoonOrCup = "tsp") -> Answer:
    """How many grams are in so many spoons or cups.

    item : what is in it; count : how many; measure : tsp, tbsp or cup
    """
    grams = measures.spoon_to_g(item, measure, count)
    entry = measures.item_weight(item)
    return Answer(
        answer=f"{count:g} level {_NAMES[measure]} of {entry.item} is about {grams.likely:.3g} g, "
        f"{grams.low:.3g} to {grams.high:.3g}.",
        values={"mass_g": grams.likely, "mass_low_g": grams.low, "mass_high_g": grams.high},
        working=(
            _weight_line(entry),
            f"{count:g} {measure} = {grams.likely:.3g} g",
        ),
        source=entry.source,
        valid=_VALID,
        cautions=_cautions(entry),
    )


def in_spoons(*, item: str, mass_g: float, measure: SpoonOrCup = "tsp") -> Answer:
    """How many spoons or cups hold so many grams.

    item : what is in it; mass_g : wanted [g]; measure : tsp, tbsp or cup
    """
    count = measures.g_to_spoon(item, mass_g, measure)
    entry = measures.item_weight(item)
    return Answer(
        answer=f"{mass_g:g} g of {entry.item} is about {count.likely:.2g} level "
        f"{_NAMES[measure]}s, {count.low:.2g} to {count.high:.2g}.",
        values={"count": count.likely, "count_low": count.low, "count_high": count.high},
        working=(
            _weight_line(entry),
            f"{mass_g:g} g / {_spread(entry.per(measure))} g a {measure} = {_spread(count)}",
        ),
        source=entry.source,
        valid=_VALID,
        cautions=_cautions(entry),
    )


def _weight_line(entry: measures.ItemWeight) -> str:
    return f"one {entry.measure} of {entry.item} weighs {_spread(entry.grams)} g"


def _spread(spread: Spread) -> str:
    return f"{spread.likely:.3g} ({spread.low:.3g} to {spread.high:.3g})"


def _cautions(entry: measures.ItemWeight) -> tuple[str, ...]:
    return (_WEIGH_IT,) if entry.weigh_it else (_ROUGH,)


def holds(*, measure: Measure, count: float = 1.0) -> Answer:
    """What a cup, pint, spoon or fluid ounce holds, by whose measure it is.

    measure : tsp, tbsp, fl_oz, cup or pint; count : how many
    """
    spread = unsure_ml(measure, count)
    rows = CAPACITY_ML[measure]
    told = ", ".join(f"{count * ml:.4g} ml {_SYSTEMS[system]}" for system, (ml, _) in rows.items())
    return Answer(
        answer=f"{count:g} {measure.replace('_', ' ')} is {told}.",
        values={f"{system}_ml": count * ml for system, (ml, _) in rows.items()},
        working=tuple(f"{_SYSTEMS[s]}: {count:g} x {ml:g} ml" for s, (ml, _) in rows.items()),
        source="; ".join(dict.fromkeys(source for _, source in rows.values())),
        valid="0 to 1000 measures",
        cautions=() if spread.high < 1.05 * spread.low else (_WHOSE,),
    )


_WHOSE = "Ask whose measure the recipe means, or weigh it: they differ by more than a twentieth."
_SYSTEMS = {
    "us": "US",
    "us_label": "on US labels",
    "metric": "metric",
    "imperial": "imperial",
    "australian": "Australian",
    "old_canadian": "old Canadian",
}

SUBJECTS: dict[str, Callable[..., Answer]] = {
    "spoon": spoon,
    "in-spoons": in_spoons,
    "holds": holds,
}
