"""The one control of a state: what a tap says, and the units of the number pad."""

from collections.abc import Sequence
from typing import Literal
from urllib.parse import quote

from assistant.cook import Batch
from assistant.cook.kinds import Add, Bottling, Cool, Do, Heat, Hold, Measure, Option, Reduce, Rest
from assistant.facts.stuff import stuff_words
from assistant.say.chosen import chosen_now
from assistant.screen.facts import Control, PadUnit, Tap

_HEAT = (PadUnit(sign="°C", says="{n} C"), PadUnit(sign="°F", says="{n} F"))
_JUGS = ("l", "ml", "cups", "kg", "g")
_MASSES = ("kg", "g", "lb", "oz")
_WEIGHED = (
    *("sugar", "citric_acid", "ascorbic_acid", "glycerin", "sorbate", "benzoate", "sulphite"),
)


def _weights(stuff: str) -> tuple[PadUnit, ...]:
    words = stuff.replace("_", " ")
    return tuple(PadUnit(sign=u, says=f"{{n}} {u} of {words}") for u in ("g", "kg"))


_PADS: dict[str, tuple[PadUnit, ...]] = {
    "fruit": tuple(PadUnit(sign=u, says=f"{{n}} {u}") for u in _MASSES),
    "juice": tuple(PadUnit(sign=u, says=f"{{n}} {u} of juice") for u in _JUGS),
    "water": tuple(PadUnit(sign=u, says=f"{{n}} {u} of water") for u in _JUGS),
    "yield": tuple(PadUnit(sign=u, says=f"{{n}} {u}") for u in ("kg", "g", "l", "ml")),
    "ph": (PadUnit(sign="pH", says="ph {n}"),),
    "brix": (PadUnit(sign="°Bx", says="{n} brix"),),
    "temperature": _HEAT,
    "bottles": (PadUnit(sign="bottles", says="{n}"),),
    "ingredient": tuple(PadUnit(sign=u, says=f"{{n}} {u}") for u in ("g", "kg")),
    **{stuff: _weights(stuff) for stuff in _WEIGHED},
}
_ASKS = {
    "fruit": "Type the weight",
    "juice": "Type the juice",
    "water": "Type the water",
    "yield": "Type what it weighs",
    "ph": "Type the pH",
    "brix": "Type the Brix",
    "temperature": "Type the temperature",
    "bottles": "Type how many bottles",
    "ingredient": "Type the weight",
    **dict.fromkeys(_WEIGHED, "Type the weight"),
}
"""What a recipe may ask to be measured: all that can be read, though few recipes do."""
LONGEST_BESIDE = 14
"""Letters on each of three buttons beside each other."""
SIZES_ML = (250, 330, 500, 750, 1000)
"""Bottles that are usual (common practice, no source); others are typed or said."""


def control(batch: Batch) -> Control:
    """The control of the stage that a batch is at; none where it has ended."""
    match batch.stage:
        case Measure(reading="fruit") if batch.fruit is None and len(batch.recipe.fruits) > 1:
            return fruits(batch)
        case Measure(reading=reading):
            return pad(reading)
        case Heat() | Hold() | Cool():
            return pad("temperature")
        case Reduce():
            return pad("yield")
        case Option(option=option):
            return _with_or_without(option)
        case Bottling():
            return bottles()
        case None:
            return Control(kind="none")
        case Rest() | Add() | Do() as stage:
            return Control(kind="done", words=_done_words(stage), taps=(_DONE,))


def _done_words(stage: Rest | Add | Do) -> str:
    match stage:
        case Rest():
            return "Done waiting"
        case Add(amount=name):
            return f"{_thing(name)} is in"
        case Do():
            return "Done"


_DONE = Tap(words="Done", says="done")


def pad(what: str) -> Control:
    """The number pad for a quantity."""
    return Control(kind="pad", words=_ASKS[what], units=_chosen_first(_PADS[what]))


def _chosen_first(units: tuple[PadUnit, ...]) -> tuple[PadUnit, ...]:
    chosen = chosen_now()
    liked = {"°F"} if chosen.heat == "degF" else set()
    liked |= {"lb", "oz", "cups"} if chosen.measure == "us" else set()
    return tuple(sorted(units, key=lambda unit: unit.sign not in liked))


def bottles() -> Control:
    """How many of what size."""
    sizes = tuple(
        PadUnit(sign=f"{ml} ml" if ml < 1000 else "1 l", says=f"{{n}} bottles of {ml} ml")
        for ml in SIZES_ML
    )
    words, note = "Type how many bottles", "How many, of this size"
    return Control(kind="pad", words=words, note=note, units=sizes)


def fruits(batch: Batch) -> Control:
    """The fruits that the recipe names."""
    taps = tuple(Tap(words=_named(fruit), says=_named(fruit)) for fruit in batch.recipe.fruits)
    return Control(kind="list", words="Choose the fruit", taps=taps)


def choices(taps: Sequence[Tap]) -> Control:
    """Answers side by side where their words are short, else a page of them."""
    beside = all(len(tap.words) <= LONGEST_BESIDE for tap in taps)
    kind: Literal["choose", "list"] = "choose" if beside else "list"
    return Control(kind=kind, words="" if beside else "Choose the answer", taps=tuple(taps))


def onward(batch: Batch) -> Control:
    """Where a batch that has ended leads: its labels, the larder, the same once more."""
    mine = quote(batch.id, safe="")
    ways = [Tap(words="The larder", goes="/larder"), Tap(words="A new batch", goes="/batches")]
    report = Tap(words="Its report", goes=f"/batches?batch={mine}")
    if batch.ended == "discarded" or batch.barred:
        return Control(kind="list", words="What next", taps=(report, *ways))
    labels = Tap(words="Print labels", goes=f"/label/{mine}.pdf")
    same = Tap(words="Make it again", again=batch.id)
    return Control(kind="list", words="What next", taps=(labels, same, report, *ways))


def yes_no(yes: str = "Yes", no: str = "No") -> Control:
    """Two answers that say what they do."""
    return Control(kind="choose", taps=(Tap(words=yes, says="yes"), Tap(words=no, says="no")))


def _with_or_without(option: str) -> Control:
    thing = stuff_words(option)
    return yes_no(f"Yes, add {thing}", f"No {thing}")


def _thing(amount: str) -> str:
    words = stuff_words(amount)
    return words[:1].upper() + words[1:]


def _named(fruit: str) -> str:
    return fruit.replace("-", " ")
