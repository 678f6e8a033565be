"""Batches side by side."""

from collections.abc import Callable, Sequence
from typing import Any

from assistant.base.units import Unit
from assistant.cook import fold
from assistant.cook.batch import Batch
from assistant.cook.holding import held
from assistant.cook.keeping import keeping
from assistant.cook.sorts import sorts_filled
from assistant.cook.stock import syrup
from assistant.facts.events import AnyEvent
from assistant.planning.differences import bottled_ml, yield_ml_per_kilo
from assistant.report.costs import used
from assistant.report.told import told


def comparison_record(events: Sequence[AnyEvent]) -> dict[str, Any]:
    """One batch as the column of a comparison; None for what it has not come to.

    brix is a reading where one was taken after the sugar, else reckoned (brix_read tells which);
    yield_bottled tells whether the yield was bottled or reckoned.
    """
    batch, _ = fold(events)
    parts, hold, made = used(batch), held(batch), yield_ml_per_kilo(batch)
    ph, keep = batch.last("ph"), keeping(batch)
    return {
        "batch": batch.id,
        "recipe": batch.recipe.name,
        "fruit": batch.fruit,
        "base": batch.recipe.base,
        "base_amount": batch.start.base if batch.start else None,
        "base_unit": "g" if batch.recipe.base == "fruit" else "ml",
        "sugar_g": _rounded(parts.get("sugar")),
        "citric_acid_g": _rounded(parts.get("citric_acid")),
        "ph": ph.base if ph else None,
        "brix": _brix(batch),
        "brix_read": _brix_read(batch),
        "hold_s": hold.seconds,
        "hold_complete": hold.complete,
        "yield_ml_per_kilo": _rounded(made),
        "yield_bottled": bottled_ml(batch) is not None,
        "bottles": batch.bottled.count if batch.bottled else None,
        "bottle_ml": batch.bottled.size_ml if batch.bottled else None,
        "filled": [lot.model_dump() for lot in sorts_filled(batch)],
        "keep_days": keep.days if batch.bottled and not batch.barred else None,
        "standing": batch.stopped_by or batch.ended or (batch.stage.id if batch.stage else None),
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 1)


def _brix(batch: Batch) -> float | None:
    stock = syrup(batch) if batch.addition("main_sugar") else None
    return round(stock.brix.likely, 1) if stock else None


def _brix_read(batch: Batch) -> bool:
    read, sugar = batch.last("brix"), batch.addition("main_sugar")
    return read is not None and sugar is not None and read.at >= sugar.at


Cell = Callable[[dict[str, Any]], str]


def _amount(key: str, unit: Unit) -> Cell:
    return lambda record: "-" if record[key] is None else told(record[key], unit)


def _plain(key: str) -> Cell:
    return lambda record: "-" if record[key] is None else f"{record[key]}"


def _base(record: dict[str, Any]) -> str:
    return _amount("base_amount", record["base_unit"])(record)


def _hold(record: dict[str, Any]) -> str:
    if not record["hold_s"]:
        return "-"
    whole = "" if record["hold_complete"] else ", short"
    return f"{record['hold_s']:.0f} s{whole}"


def _sugar_degree(record: dict[str, Any]) -> str:
    if record["brix"] is None:
        return "-"
    return f"{record['brix']:g} °Bx{'' if record['brix_read'] else ' (reckoned)'}"


def _yield(record: dict[str, Any]) -> str:
    told_ml = _amount("yield_ml_per_kilo", "ml")(record)
    reckoned = told_ml != "-" and not record["yield_bottled"]
    return f"{told_ml} (reckoned)" if reckoned else told_ml


def _size(one: dict[str, Any]) -> str:
    """The syrup in one. [ml]"""
    inside = one.get("holds_ml") or one["size_ml"]
    return told(inside, "ml") if inside else "unknown size"


def _bottles(record: dict[str, Any]) -> str:
    if record["bottles"] is None:
        return "-"
    if len(record["filled"]) > 1:
        return " + ".join(f"{one['count']} of {_size(one)}" for one in record["filled"])
    size = f" of {told(record['bottle_ml'], 'ml')}" if record["bottle_ml"] else ""
    return f"{record['bottles']}{size}"


ROWS: tuple[tuple[str, Cell], ...] = (
    ("batch", _plain("batch")),
    ("recipe", _plain("recipe")),
    ("fruit", _plain("fruit")),
    ("weight", _base),
    ("sugar", _amount("sugar_g", "g")),
    ("citric acid", _amount("citric_acid_g", "g")),
    ("pH", _plain("ph")),
    ("Brix", _sugar_degree),
    ("hold", _hold),
    ("syrup a kilo", _yield),
    ("bottles", _bottles),
    ("keeps, days", _plain("keep_days")),
    ("standing", _plain("standing")),
)


def comparison_lines(records: Sequence[dict[str, Any]]) -> list[str]:
    """Batches side by side, a column each; - for what a batch has not come to."""
    columns = [[cell(record) for _, cell in ROWS] for record in records]
    widths = [max(map(len, column)) for column in columns]
    first = max(len(name) for name, _ in ROWS)
    rows = []
    for place, (name, _) in enumerate(ROWS):
        cells = (column[place].ljust(wide) for column, wide in zip(columns, widths, strict=True))
        rows.append(f"{name:{first}}  {'  '.join(cells)}".rstrip())
    return rows
