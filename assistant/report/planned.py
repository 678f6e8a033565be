"""A plan as facts, and as a shopping list to take along."""

from collections.abc import Iterator
from typing import Any

from assistant.calc.scale import HOT_SUGAR
from assistant.calc.spread import Spread
from assistant.limits import MAKERS_PH
from assistant.planning.plan import STICKS, Plan
from assistant.planning.shopping import Item, round_up
from assistant.planning.trial import base_unit
from assistant.report.batch import CAUTION
from assistant.report.told import ends, told, told_spread

_SPAN = {
    "heating": "warming the pan",
    "hold": "the hold",
    "rest": "resting",
    "cooling": "cooling, left alone",
}
_HOW = {
    "cold": "the finished syrup",
    "heated": "what is heated",
    "boiling": "what boils",
    "foaming": "what boils and foams",
}


def plan_record(plan: Plan) -> dict[str, Any]:
    """A plan as one plain object."""
    recipe, glass = plan.batch.recipe, plan.guests_glass
    return {
        "recipe": recipe.name,
        "fruit": plan.batch.fruit,
        "wish": {"kind": plan.wish.kind, "amount": plan.wish.amount},
        "base": recipe.base,
        "base_unit": base_unit(recipe),
        "base_needed": ends(plan.needed),
        "base_to_buy": plan.base,
        "syrup_ml": ends(plan.syrup_ml),
        "brix": ends(plan.brix),
        "bottle_ml": plan.wish.bottle_ml,
        "bottles": dict(zip(("low", "likely", "high"), plan.bottles, strict=True)),
        "bottles_ready": plan.bottles_ready,
        "others": [{"count": count, "bottle_ml": ml} for count, ml in plan.wish.others],
        "shopping": [_item_record(item) for item in plan.items],
        "pan_ml": round(plan.pan.pan_ml),
        "pan_for": plan.pan.how,
        "time_s": ends(plan.time.total, 0),
        "spans": [{"what": s.what, **ends(s.seconds, 0)} for s in plan.time.spans],
        "untold_time": list(plan.time.untold),
        "glass": None
        if glass is None
        else {"syrup_ml": round(glass.syrup_ml, 1), "water_ml": round(glass.water_ml, 1)},
    }


def _item_record(item: Item) -> dict[str, Any]:
    return {
        "name": item.name,
        "needed": ends(item.needed, 2),
        "buy": item.buy,
        "unit": item.unit,
        "optional": item.optional,
        "reserve": round(item.reserve, 1),
    }


def plan_lines(plan: Plan) -> list[str]:
    """A plan as lines to read."""
    recipe = plan.batch.recipe
    return [
        f"{recipe.title}{_fruit(plan)}: {_wished(plan)}",
        "",
        "Shopping list",
        *_list(plan),
        "Makes",
        *_makes(plan),
        "Pan",
        f"  {_pan_litres(plan):g} litres or more: {_HOW[plan.pan.how]}, "
        f"{told(plan.pan.fullest_ml, 'ml')}, needs room at the top",
        "Time",
        *_time(plan),
        "Not sure",
        *(f"  {line}" for line in (*_of_the_recipe(plan), *_of_the_numbers(plan))),
        "",
        HOT_SUGAR,
        CAUTION,
    ]


def _fruit(plan: Plan) -> str:
    if plan.batch.fruit is not None:
        return f", {plan.batch.fruit}"
    return ", fruit not chosen" if plan.batch.recipe.fruits else ""


def _wished(plan: Plan) -> str:
    wish = plan.wish
    match wish.kind:
        case "bottles":
            sizes = ((wish.amount, wish.bottle_ml), *wish.others)
            return " and ".join(f"{n:g} bottles of {told(ml, 'ml')}" for n, ml in sizes)
        case "litres":
            return told(1000 * wish.amount, "ml")
        case "guests":
            return f"{wish.amount:g} guests, {wish.glasses:g} glasses each"
        case "fruit":
            return f"{told(1000 * wish.amount, 'g')} of fruit to use up"


def _list(plan: Plan) -> Iterator[str]:
    recipe, unit = plan.batch.recipe, base_unit(plan.batch.recipe)
    if recipe.base != "water":
        name = plan.batch.fruit or "fruit"
        name = name if recipe.base == "fruit" else f"{name} juice"
        why = "" if plan.wish.kind == "fruit" else f"{told_spread(plan.needed, unit)} would do"
        yield _row(name, told(plan.base, unit), why)
    yield from (_item(item) for item in plan.items if not item.optional)
    for count, ml in ((plan.bottles_ready, plan.wish.bottle_ml), *plan.wish.others):
        yield _row("bottles", f"{count}", f"of {told(ml, 'ml')}, clean")
    extras = [item for item in plan.items if item.optional]
    if extras:
        yield "  only if you want it:"
        yield from (_item(item) for item in extras)


def _row(name: str, amount: str, why: str) -> str:
    return f"  {name:20} {amount:>8}   {why}".rstrip()


def _item(item: Item) -> str:
    why = f"{told_spread(item.needed, item.unit)} goes in"
    if item.reserve:
        why += f", and {told(item.reserve, item.unit)} in case the pH is too high"
    return _row(item.words, told(item.buy, item.unit), why)


def _makes(plan: Plan) -> Iterator[str]:
    low, likely, high = plan.bottles
    count = f"{likely}" if low == high else f"{likely} ({low}–{high})"
    sweet = f" at {told_spread(plan.brix, 'Brix')}" if plan.brix.likely else ""
    yield f"  {told_spread(plan.syrup_ml, 'ml')}{sweet}"
    others = "".join(f"{n} of {told(ml, 'ml')}, " for n, ml in plan.wish.others)
    size = told(plan.wish.bottle_ml, "ml")
    yield f"  {others}{count} full bottles of {size}, and what is left over"
    glass = plan.guests_glass
    if glass is not None:
        glasses = plan.syrup_ml.low / glass.syrup_ml
        yield (
            f"  at least {int(glasses)} glasses of {told(glass.glass_ml, 'ml')}: "
            f"{told(glass.syrup_ml, 'ml')} of syrup, {told(glass.water_ml, 'ml')} of water"
        )


def _pan_litres(plan: Plan) -> float:
    return round_up(plan.pan.pan_ml, 500.0) / 1000.0


def _time(plan: Plan) -> Iterator[str]:
    for span in plan.time.spans:
        yield f"  {_SPAN[span.what]:20} {_clock(span.seconds)}"
    if plan.time.spans:
        yield f"  {'together':20} {_clock(plan.time.total)}, and your hands' own time"
    else:
        yield "  your hands' own: nothing is heated and nothing rests"
    if plan.time.untold:
        yield "  boiling down is not counted: weigh as you go"


def _clock(seconds: Spread) -> str:
    """To the minute where there is a spread: nobody knows it closer."""
    if seconds.low == seconds.high:
        return told(seconds.likely, "s")
    whole = (60.0 * round(s / 60.0) for s in (seconds.low, seconds.likely, seconds.high))
    return told_spread(Spread(*whole), "s")


def _of_the_recipe(plan: Plan) -> Iterator[str]:
    recipe = plan.batch.recipe
    if recipe.allergens:
        yield f"Tell the people you serve what is in it: {', '.join(recipe.allergens)}."
    if recipe.acidity == "low-acid":
        yield "It is low in acid and keeps days only, in the fridge: make no more than you use."
    if recipe.juice.kind == "plain":
        yield f"What the recipe names without an amount: see panside recipes {recipe.name}."
    if plan.batch.fruit is None and recipe.fruits:
        yield "No fruit was named, so the spread is wide: say --fruit to narrow it."
    elif plan.batch.fruit is not None and plan.batch.fruit not in recipe.fruits:
        yield "The recipe was not written for this fruit: taste, and trust the pH meter."


def _of_the_numbers(plan: Plan) -> Iterator[str]:
    if plan.batch.recipe.juice.kind != "plain":
        yield "Sugar follows from ripeness: it is worked out anew from the juice you measure."
    if any(item.reserve for item in plan.items):
        yield f"This fruit can be above pH {MAKERS_PH:g}: the meter decides how much acid goes in."
    elif any(item.name == "citric_acid" for item in plan.items):
        yield "The pH meter decides whether more acid goes in: keep some at hand."
    if any(span.what == "heating" for span in plan.time.spans):
        yield "Warming is reckoned from the ring's power, give or take a third; a lid helps."
    if any(span.what == "cooling" for span in plan.time.spans):
        yield "Cooling is an estimate: a cold water bath is far quicker, a big pan slower."
    yield f"Of the syrup {100 * STICKS:.0f} % is taken to stick to pan and funnel."
