"""Calculations that are asked for in talk, each with this batch's own numbers worked in.

A question changes nothing: what is advised counts only once the cook says that it was done.
"""

from collections.abc import Callable

from assistant.cook.batch import Batch
from assistant.cook.reckoned.blending import blended
from assistant.cook.reckoned.in_store import crystals, water_activity, with_spirit
from assistant.cook.reckoned.in_the_glass import glass_alcohol, glass_energy, sugar_free, taste
from assistant.cook.reckoned.meters import hydrometer, refractometer
from assistant.cook.reckoned.preservative import dose_if, preservative_now
from assistant.cook.reckoned.serving import crowd, jug, serves, to_water
from assistant.cook.reckoned.size import bottles_of, fits_pan, fruit_for, room, scaled, weighs
from assistant.cook.reckoned.sourness import ph_ahead, ph_with_water, to_ph, trial, with_acid
from assistant.cook.reckoned.sweetness import (
    boiled_off,
    boiled_to,
    brix_now,
    to_brix,
    with_sugar,
    with_water,
)
from assistant.cook.reckoned.warmth import boils_at, brix_boiling, sugar_cools, time_to
from assistant.cook.reply import Line
from assistant.facts.events import Ask

Answer = tuple[Line, ...]
MOST = 1e7
"""No kitchen has a larger number (this project's own line)."""

SUBJECTS: dict[str, Callable[[Batch, Ask], Answer]] = {
    "to_brix": to_brix,
    "brix_now": brix_now,
    "boil_to": boiled_to,
    "boil_off": boiled_off,
    "add_sugar": with_sugar,
    "add_water": with_water,
    "blend": blended,
    "to_ph": to_ph,
    "add_acid": with_acid,
    "ph_water": ph_with_water,
    "ph_ahead": ph_ahead,
    "trial": trial,
    "time_to": time_to,
    "boils_at": boils_at,
    "brix_boiling": brix_boiling,
    "sugar_cools": sugar_cools,
    "preservative": preservative_now,
    "dose_if": dose_if,
    "scale": scaled,
    "pan": fits_pan,
    "bottles_of": bottles_of,
    "fruit_for": fruit_for,
    "weighs": weighs,
    "room": room,
    "crystals": crystals,
    "water_activity": water_activity,
    "spirit": with_spirit,
    "refractometer": refractometer,
    "hydrometer": hydrometer,
    "to_water": to_water,
    "jug": jug,
    "crowd": crowd,
    "serves": serves,
    "taste": taste,
    "energy": glass_energy,
    "sugar_free": sugar_free,
    "alcohol": glass_alcohol,
}
"""By the names in `understand/wished/ways.toml`; a test holds the two together."""


def reckon(batch: Batch, event: Ask) -> Answer:
    """The answer to a calculation; owned up to where this version has none of that name."""
    answer = SUBJECTS.get(event.about or "")
    if answer is None:
        return (Line(id="card_unknown", rank="answer"),)
    if any(abs(one.value) > MOST for one in event.given):
        return (Line(id="reckoned.no_amount", rank="question"),)
    return answer(batch, event)
