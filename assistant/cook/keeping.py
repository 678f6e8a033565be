"""How long this batch keeps: the core's rule, fed with what was measured and done."""

from datetime import datetime, timedelta

from assistant.calc.fruits import fruit as fruit_figures
from assistant.calc.keeping import KeepBy, Place, keep_by
from assistant.cook.batch import Batch
from assistant.cook.holding import held
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.stock import syrup


def keeping(batch: Batch, place: Place = "fridge", opened: bool = False) -> KeepBy:
    """The keep-by of a batch from its latest pH, its sugar, its hold and its sorbate."""
    ph = batch.last("ph")
    sweetened = batch.addition("main_sugar") is not None
    stock = syrup(batch) if sweetened else None
    figures = fruit_figures(batch.fruit) if batch.fruit else None
    low_acid = batch.recipe.acidity == "low-acid" or (
        figures is not None and figures.acidity_class == "low-acid"
    )
    return keep_by(
        ph.base if ph else None,
        stock.brix.low if stock else None,
        heated=held(batch).complete,
        sorbate_g_l=sorbate_in(batch),
        place=place,
        opened=opened,
        low_acid=low_acid,
    )


def sorbate_in(batch: Batch) -> float:
    """Potassium sorbate in the syrup, reckoned on the larger volume it may have. [g/l]"""
    stock = syrup(batch)
    if batch.addition("sorbate") is None or stock is None:
        return 0.0
    return min(batch.total("sorbate") / (stock.volume_ml.high / 1000), 10.0)


def keep_by_words(batch: Batch, at: datetime) -> str:
    """The keep-by date in words; for a batch that must not be kept, that."""
    found = keeping(batch)
    if batch.stopped_by or found.days is None:
        return "do not keep"
    day = (batch.bottled.at if batch.bottled else at) + timedelta(days=found.days)
    return f"{day.day} {day:%B}"


def keep_lines(batch: Batch, at: datetime, place: Place = "fridge") -> tuple[Line, ...]:
    """The answer to "how long does it keep": days, date, what decided it and when to discard."""
    if batch.stopped_by:
        return (Line(id="keep_stopped", rank="limit"),)
    found = keeping(batch, place)
    if found.days is None:
        return (Line(id="keep_refused", rank="limit", facts={"why": found.refuse or ""}),)
    sure = batch.bottled is not None or batch.stage is None
    facts: dict[str, Fact] = {
        "days": Quantity(value=found.days, unit="day"),
        "place": _PLACE[place],
    }
    if not sure:
        head = Line(id="keep_so_far", rank="answer", facts=facts)
    elif place != "fridge":
        head = Line(id="keep_frozen", rank="answer", facts=facts)
    else:
        facts["date"] = keep_by_words(batch, at)
        head = Line(id="keep", rank="answer", facts=facts)
    caution = Line(id="keep_caution", rank="caution")
    reasons = (Line(id="keep_reason", rank="detail", facts={"reason": r}) for r in found.reason)
    signs = Line(id="keep_signs", rank="detail", facts={"signs": "; ".join(found.discard_signs)})
    return (head, caution, *reasons, signs, Line(id="keep_rule", rank="detail"))


_PLACE = {"fridge": "in the fridge", "freezer": "in the freezer", "cupboard": "in the cupboard"}
