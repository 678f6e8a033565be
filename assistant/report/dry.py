"""What a dry batch comes to, as facts and as lines: amounts, sugar, acid and how long it keeps."""

from typing import Any

from assistant.cook import Batch
from assistant.cook.keeping import keeping
from assistant.cook.ph_forecast import forecast_ph
from assistant.cook.reply import Quantity
from assistant.cook.stock import alcohol_by_volume, syrup
from assistant.say.amounts import by_eye


def dry_record(batch: Batch) -> dict[str, Any]:
    """A dry batch as one plain object."""
    stock, ph, keep = syrup(batch), forecast_ph(batch), keeping(batch)
    return {
        "from": {"what": batch.recipe.base, "fruit": batch.fruit, "amount": _start(batch)},
        "additions": {a.name: [round(a.amount, 2), a.unit] for a in batch.added},
        "syrup_ml": round(stock.volume_ml.likely) if stock else None,
        "brix": round(stock.brix.likely, 1) if stock else None,
        "sugar_g_100_ml": round(sugar_g_100_ml(batch), 1),
        "alcohol_percent": round(100 * alcohol_by_volume(batch), 1),
        "ph": [round(ph.low, 1), round(ph.high, 1)] if ph else None,
        "keep_days": keep.days,
        "keep_decided_by": keep.decided,
        "dated": keep.dated,
        "stands_at": batch.stage.id if batch.stage else None,
    }


def dry_lines(batch: Batch) -> list[str]:
    """A dry batch as lines to read."""
    what = (
        f"{_start(batch)} of {batch.fruit.replace('-', ' ') if batch.fruit else batch.recipe.base}"
    )
    if batch.recipe.base == "juice":
        what += "" if batch.fruit is None else ", its juice"
    return [
        f"A dry batch of {what}, everything as planned",
        *(
            f"  {batch.recipe.words(a.name):24} {_amount(a.amount, a.unit):>10}"
            for a in batch.added
        ),
        *_made(batch),
        *_acid(batch),
        *_kept(batch),
    ]


def sugar_g_100_ml(batch: Batch) -> float:
    """All that is dissolved, counted as sugar, which errs upwards. [g per 100 ml]"""
    stock = syrup(batch)
    if stock is None or not stock.volume_ml.likely:
        return 0.0
    return stock.mass_g.likely * stock.brix.likely / stock.volume_ml.likely


def _start(batch: Batch) -> str:
    start = batch.start
    return (
        "" if start is None else _amount(start.base, "g" if batch.recipe.base == "fruit" else "ml")
    )


def _amount(value: float, unit: Any) -> str:
    return by_eye(Quantity(value=value, unit=unit))


def _made(batch: Batch) -> list[str]:
    stock = syrup(batch)
    if stock is None:
        return []
    ml = Quantity(value=stock.volume_ml.likely, unit="ml")
    sugar = f", about {sugar_g_100_ml(batch):.0f} g of sugar in 100 ml" if stock.brix.likely else ""
    rows = [f"  makes about {by_eye(ml)}, {stock.brix.likely:.0f} °Bx{sugar}"]
    share = alcohol_by_volume(batch)
    return [*rows, f"  alcohol about {100 * share:.1f} % vol"] if share else rows


def _acid(batch: Batch) -> list[str]:
    ph, aim = forecast_ph(batch), batch.recipe.targets
    if ph is None:
        return ["  pH can't be reckoned: its acid is not known, or nothing sour is in. Measure it."]
    steeped = [o.words for o in batch.recipe.ingredients.values() if o.role == "extracted"]
    told = f"  pH about {max(0.0, ph.low):.1f} to {ph.high:.1f} as reckoned; the meter decides"
    rows = [f"{told}, since {' and '.join(steeped)} can take up acid." if steeped else f"{told}."]
    if ph.likely < aim.ph_low or ph.likely > aim.ph_high:
        rows.append(
            f"  That is outside the {aim.ph_low:g} to {aim.ph_high:g} it aims at: "
            "mend ph_low and ph_high, or the acid."
        )
    return rows


def _kept(batch: Batch) -> list[str]:
    if batch.stage is not None:
        return [f"  It stands at {batch.stage.id!r} and can't be walked to its end: look there."]
    keep = keeping(batch)
    if keep.days is None:
        return [f"  {keep.refuse}"]
    return [
        f"  keeps {keep.days} days in the fridge ({keep.dated}){_by_meter(batch)}:",
        f"  {keep.reason[0]}",
    ]


def _by_meter(batch: Batch) -> str:
    read = batch.last("ph")
    return "" if read is None else f", where a checked meter reads pH {read.base:g}"
