"""What a label says: from a bottled batch to its lines. A batch that must not be kept gets none."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

from assistant.base.errors import LimitStopped, WrongUse
from assistant.calc.keep_reasons import Dated
from assistant.calc.serve import dilute
from assistant.cook.batch import Batch, Bottled
from assistant.cook.keeping import keeping
from assistant.cook.shipped import standing
from assistant.cook.sorts import sorts_filled
from assistant.cook.stock import syrup
from assistant.facts.vessels import Vessel
from assistant.label.allergens import allergen_words
from assistant.label.ingredients import fruit_word, ingredient_words
from assistant.label.named import code_of
from assistant.label.strength import alcohol_words, sour_words

DRINK_BRIX = 10.0
"""Sweetness of the drink that the dilution aims at; 8 to 12 is usual (common practice, no source).
[mass %]"""
CAUTION = (
    "No promise. Throw it away, untasted, at mould, bubbles, fizz, a bulging lid, a leak, "
    "an off smell, new cloud or slime."
)
CAUTION_BRIEF = "No promise. At fizz, bulge, mould, cloud or off smell throw it away untasted."
EDITED = "Recipe edited."
KINDS = ("syrup", "cordial", "reduction", "shrub")
"""What a recipe may make of a fruit, as its title says."""
HAND_WRITTEN = "____ ml"
"""Stands for the volume where the cook counted bottles without saying their size."""


@dataclass(frozen=True)
class LabelText:
    """The words of one label, in no particular size.

    ingredients : heaviest first; serving : empty where thinning it can't be advised
    dated : whether the day is to use it by, or one that it is best before
    strength : alcohol, and that it is not to be drunk as it is; empty where neither matters
    storage_brief, caution_brief : the same in fewer words, for small labels
    code : what the QR code holds
    recipe : said where the recipe goes by a shipped one's name and is another, else empty
    """

    name: str
    volume: str
    made: date
    keep_by: date
    lot: str
    ingredients: tuple[str, ...]
    allergens: str
    storage: str
    storage_brief: str
    serving: str
    caution: str
    caution_brief: str
    code: str
    recipe: str = ""
    dated: Dated = "use by"
    strength: str = ""


def label_texts(batch: Batch, today: date) -> tuple[tuple[LabelText, int], ...]:
    """The label for each volume, with how many were filled so; errors as of `label_text`."""
    first = label_text(batch, today)
    return tuple((replace(first, volume=volume), count) for volume, count in volumes(batch).items())


def volumes(batch: Batch) -> dict[str, int]:
    """What the labels of a batch tell is inside, each with how many were filled so."""
    found: dict[str, int] = {}
    for lot in sorts_filled(batch):
        told = _volume(lot.vessel)
        found[told] = found.get(told, 0) + lot.count
    return found


def of_size(
    texts: tuple[tuple[LabelText, int], ...], size_ml: float | None
) -> tuple[tuple[LabelText, int], ...]:
    """Those that say so much is inside, all for None. [ml]

    WrongUse where none does.
    """
    found = tuple(one for one in texts if size_ml is None or one[0].volume == f"{size_ml:.0f} ml")
    if not found and size_ml is not None:
        filled = ", ".join(text.volume for text, _ in texts)
        raise WrongUse(f"No bottle of {size_ml:g} ml was filled. There are labels for: {filled}.")
    return found


def label_text(batch: Batch, today: date) -> LabelText:
    """The label of a bottled batch, as of today; of several sorts that of the first.

    LimitStopped when a limit holds it, it was called back, a bottle has shown that it spoils, it
    must not be kept or its days are over. WrongUse when it was thrown away, is not bottled yet,
    blends other batches, its fruit was never named, or the clock is wrong.
    """
    bottled = _bottled(batch)
    made = bottled.at.date()
    keep_by = _keep_by(batch, made, today)
    once = _once_opened(batch)
    return LabelText(
        name=_name(batch),
        volume=_volume(bottled.sorts[0].vessel),
        made=made,
        keep_by=keep_by,
        lot=batch.id,
        ingredients=ingredient_words(batch),
        allergens=allergen_words(batch),
        storage=f"Keep in the fridge, 4 °C or colder. Once opened use {once}, not past the date.",
        storage_brief=f"Fridge, 4 °C or colder; opened, use {once}, not past the date.",
        serving=_serving(batch),
        caution=CAUTION,
        caution_brief=CAUTION_BRIEF,
        code=code_of(batch.id),
        recipe=EDITED if standing(batch.recipe) == "edited" else "",
        dated=keeping(batch).dated,
        strength=_strength(batch),
    )


def _volume(vessel: Vessel) -> str:
    """What is inside, by the net quantity that a label tells."""
    inside = vessel.inside_ml
    return HAND_WRITTEN if inside is None else f"{inside:.0f} ml"


def _strength(batch: Batch) -> str:
    """Each as a sentence."""
    alcohol = alcohol_words(batch)
    told = f"{alcohol.capitalize()}." if alcohol else ""
    return " ".join(filter(None, (told, sour_words(batch))))


def _bottled(batch: Batch) -> Bottled:
    """The bottles of a batch that may have a label; else the reason why it may not."""
    stop = _stop(batch)
    if stop is not None:
        raise LimitStopped(f"Batch {batch.id} {stop}")
    if batch.ended == "discarded":
        raise WrongUse(f"Batch {batch.id} was thrown away: there is nothing to label.")
    if batch.bottled is None:
        raise WrongUse(
            f"Batch {batch.id} is not bottled yet: `panside chat --batch {batch.id}` goes on with "
            "it; label it when the bottles are counted."
        )
    _known_or_refused(batch)
    return batch.bottled


def _stop(batch: Batch) -> str | None:
    """Why nobody should have a bottle of it, as the end of a sentence."""
    if batch.stopped_by:
        return f"is held by a limit ({batch.stopped_by}): do not bottle or label it."
    if batch.stored.recalled_for is not None:
        return "was called back: do not label it."
    if batch.stored.signs:
        signs = ", ".join(dict.fromkeys(seen.what.replace("_", " ") for seen in batch.stored.signs))
        return f"has shown that it spoils ({signs}): do not label it, throw away what is left."
    return None


def _known_or_refused(batch: Batch) -> None:
    """WrongUse where the batch does not know what it is made of."""
    if batch.addition("darker_syrup"):
        raise WrongUse(
            f"Batch {batch.id} blends syrups made before, and what is in them is not recorded with "
            "it: label it by hand, after their labels."
        )
    if batch.recipe.base != "water" and fruit_word(batch) is None:
        raise WrongUse(
            f"Nobody said which fruit is in batch {batch.id}, and a label must: "
            f"`panside chat --batch {batch.id}`, and name it."
        )


def _keep_by(batch: Batch, made: date, today: date) -> date:
    found = keeping(batch)
    if found.days is None:
        raise LimitStopped(f"Batch {batch.id} must not be kept: {found.refuse}")
    if made > today + timedelta(days=1):  # a day's grace for a journey across time zones
        raise WrongUse(
            f"Batch {batch.id} was bottled on {day_words(made)} and today is {day_words(today)}: "
            "one of the clocks is wrong, so no keep-by date can be told."
        )
    first = batch.lasting.filled
    keep_by = min(made, first.at.date() if first else made) + timedelta(days=found.days)
    if today > keep_by:
        raise LimitStopped(
            f"Batch {batch.id} was to be kept until {day_words(keep_by)}: do not label it, "
            "throw away what is left."
        )
    return keep_by


def day_words(day: date) -> str:
    """A date as labels have it, without room for doubt about day and month.

    >>> day_words(date(2026, 8, 8))
    '8 August 2026'
    """
    return f"{day.day} {day:%B %Y}"


def _name(batch: Batch) -> str:
    """The fruit with what the recipe makes of it, or the recipe's own title."""
    fruit, title = fruit_word(batch), batch.recipe.title.split(",")[0]
    if fruit is None or fruit in title.lower():
        return title
    kind = next((word for word in title.lower().split() if word in KINDS), None)
    if kind is None:
        return f"{title} ({fruit})"
    sour = "vinegar " if batch.addition("vinegar") else ""
    return f"{fruit} {sour}{kind}".capitalize()


def _once_opened(batch: Batch) -> str:
    days = keeping(batch, opened=True).days or 0
    return f"within {days} day{'' if days == 1 else 's'}"


def _serving(batch: Batch) -> str:
    """Parts of water for a drink; nothing for what is no sweeter than one."""
    stock = syrup(batch)
    if stock is None or stock.brix.likely <= DRINK_BRIX:
        return ""
    water = dilute(stock.brix.likely, DRINK_BRIX, glass_ml=200.0).water_parts
    return f"1 part syrup to about {_parts(water)}."


def _parts(parts: float) -> str:
    """Whole parts, or halves where they matter."""
    rounded = round(parts) if parts >= 3 else max(round(2 * parts) / 2, 0.5)
    whole, half = int(rounded), rounded % 1 == 0.5
    number = f"{whole or ''}{'½' if half else ''}"
    return f"{number} {'part' if rounded <= 1 else 'parts'} water"
