"""What is said and what it means: one maker a family, numbers over the real ranges.

A maker draws from the generator that is passed in. Each returns the words, what the cook is being
asked at that moment, and the events that the words mean.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from random import Random
from typing import Any

from tests.bench.corpus import fixed, numbers
from tests.bench.corpus.split import Split, split_of

Meaning = dict[str, Any]


@dataclass(frozen=True)
class Said:
    """One utterance: words, context, meaning, and the family it comes from."""

    words: str
    awaiting: str
    events: tuple[Meaning, ...] = field(hash=False)
    family: str = ""


Maker = Callable[[Random], Said]
FRUITS = {
    "raspberries": "raspberry", "blackcurrants": "blackcurrant", "rhubarb": "rhubarb",
    "strawberries": "strawberry", "redcurrants": "redcurrant", "gooseberries": "gooseberry",
}  # fmt: skip
_LEADS = ("", "", "", "", "it's ", "that's ", "i have ", "we've got ", "okay ", "now ")


def reading(what: str, value: float, unit: str) -> Meaning:
    """The meaning of a number that is given."""
    return {"kind": "reading", "what": what, "value": value, "unit": unit}


def _tenths(rng: Random, low: float, high: float, places: int = 1) -> str:
    """A number with so many places; the last is no nought, since nobody says it."""
    while (text := f"{rng.uniform(low, high):.{places}f}").endswith("0"):
        pass
    return text


def _grams_value(rng: Random, low: int, high: int) -> int:
    near = numbers.alike(rng, low, high)
    if near is not None and rng.random() < 0.3:
        return near
    step = rng.choice((1, 5, 10, 10, 50)) if high > 300 else 1
    return max(low, round(rng.randint(low, high) / step) * step)


def kilos(rng: Random) -> Said:
    """Fruit by the kilo, with a point."""
    value = _tenths(rng, 0.3, 12, rng.choice((1, 1, 2)))
    lead, words = rng.choice(_LEADS), numbers.decimal(value, rng)
    unit = rng.choice(("kilos", "kilos", "kilograms"))
    events = [reading("fruit", float(value), "kg")]
    text = f"{lead}{words} {unit}"
    if rng.random() < 0.4:
        fruit = rng.choice(list(FRUITS))
        text += f" of {fruit}"
        events.insert(0, {"kind": "choose", "option": "fruit", "value": FRUITS[fruit]})
    return Said(text, "fruit", tuple(events), "fruit kg")


def kilos_and_grams(rng: Random) -> Said:
    """ "Two kilos three hundred"."""
    kilo, gram = rng.randint(1, 9), rng.choice((150, 250, 350, 400, 450, 500, 600, 750, 800, 850))
    link, tail = rng.choice(((" ", ""), (" and ", " grams"), (" ", " grams")))
    text = (
        f"{numbers.full(kilo)} {'kilo' if kilo == 1 else 'kilos'}{link}{numbers.full(gram)}{tail}"
    )
    return Said(text, "fruit", (reading("fruit", kilo + gram / 1000, "kg"),), "fruit kg g")


def fruit_grams(rng: Random) -> Said:
    """Fruit in grams."""
    value = _grams_value(rng, 100, 1950)
    text = f"{rng.choice(_LEADS)}{numbers.whole(value, rng)} grams"
    return Said(text, "fruit", (reading("fruit", float(value), "g"),), "fruit g")


def pounds(rng: Random) -> Said:
    """Pounds and ounces."""
    pound, ounce = rng.randint(1, 14), rng.randint(1, 15)
    unit = "pound" if pound == 1 else "pounds"
    text, value = rng.choice(
        (
            (f"{numbers.full(pound)} {unit} {numbers.full(ounce)}", pound + ounce / 16),
            (f"{numbers.full(pound)} {unit} {numbers.full(ounce)} ounces", pound + ounce / 16),
            (f"{numbers.full(pound)} and a half pounds", pound + 0.5),
            (f"{numbers.full(pound)} {unit}", float(pound)),
            (f"{numbers.full(pound)} {unit} and a half", pound + 0.5),
            (f"{rng.choice(_LEADS)}{numbers.full(pound)} point five pounds", pound + 0.5),
        )
    )
    return Said(text, "fruit", (reading("fruit", value, "lb"),), "fruit lb oz")


def ounces(rng: Random) -> Said:
    """Ounces alone."""
    value = rng.randint(3, 60)
    text = f"{rng.choice(_LEADS)}{numbers.full(value)} ounces"
    return Said(text, "fruit", (reading("fruit", float(value), "oz"),), "fruit oz")


_DEGREES = (
    "{n} degrees", "{n} degrees", "{n}", "{n}", "it's {n}", "it's at {n}", "it's {n} degrees",
    "temperature {n}", "{n} degrees celsius", "the temperature is {n}", "{n} degrees now",
    "the thermometer says {n}", "we're at {n}", "the pan is at {n}", "now {n} degrees",
    "okay {n} degrees", "um {n}", "temperature {n} degrees",
)  # fmt: skip


def celsius(rng: Random) -> Said:
    """A temperature, whole or with a tenth."""
    value = numbers.alike(rng, 20, 105) if rng.random() < 0.3 else None
    text = str(value or rng.randint(20, 105))
    if value is None and rng.random() < 0.3:
        text = _tenths(rng, 20, 105)
    words = numbers.decimal(text, rng)
    said = rng.choice(_DEGREES).format(n=words)
    return Said(said, "temperature", (reading("temperature", float(text), "degC"),), "temperature")


def low_or_teen(rng: Random) -> Said:
    """Temperatures from 5 to 19, where a -teen is meant in earnest: cold juice, a fridge."""
    value = rng.choice((5, 8, 9, 11, 12, 13, 14, 15, 16, 17, 18, 19))
    said = rng.choice(_DEGREES).format(n=numbers.full(value))
    return Said(said, "temperature", (reading("temperature", float(value), "degC"),), "teens")


def fahrenheit(rng: Random) -> Said:
    """A temperature in Fahrenheit."""
    value = rng.randint(120, 220)
    said = rng.choice(("{n} degrees fahrenheit", "{n} fahrenheit", "it's {n} degrees fahrenheit"))
    text = said.format(n=numbers.whole(value, rng))
    return Said(text, "temperature", (reading("temperature", float(value), "degF"),), "fahrenheit")


_PH = (
    "p h {n}", "p h {n}", "the p h is {n}", "{n}", "p h is {n}", "it's p h {n}", "{n} p h",
    "okay p h {n}", "acidity {n}", "the p h reads {n}",
)  # fmt: skip


def ph(rng: Random) -> Said:
    """A pH with one or two places, with or without the point."""
    value = _tenths(rng, 2.4, 5.0, rng.choice((1, 1, 2)))
    before, _, after = value.partition(".")
    pointed = numbers.decimal(value, rng)
    spelled = f"{numbers.full(int(before))} {numbers.figures(after)}"
    ways = [pointed, pointed, spelled]
    if len(after) == 2 and after[0] != "0":
        ways.append(f"{numbers.full(int(before))} {numbers.full(int(after))}")
    form, words = rng.choice(_PH), rng.choice(ways)
    if form.endswith("p h") and not form.startswith("p"):
        words = pointed
    return Said(form.format(n=words).strip(), "ph", (reading("ph", float(value), "pH"),), "ph")


_BRIX = (
    "{n} brix", "{n} brix", "{n}", "brix {n}", "it's {n} brix", "{n} degrees brix",
    "the refractometer says {n}", "the brix is {n}", "refractometer {n}", "it's at {n} brix",
)  # fmt: skip


def brix(rng: Random) -> Said:
    """Brix, whole or with a tenth."""
    value = numbers.alike(rng, 8, 75) if rng.random() < 0.35 else None
    text = str(value or rng.randint(8, 75))
    if value is None and rng.random() < 0.35:
        text = _tenths(rng, 8, 75)
    said = rng.choice(_BRIX).format(n=numbers.decimal(text, rng))
    return Said(said, "brix", (reading("brix", float(text), "Brix"),), "brix")


def sugar(rng: Random) -> Said:
    """Sugar in grams, also as a bare number, or in kilos."""
    if rng.random() < 0.3:
        text = _tenths(rng, 0.3, 6, rng.choice((1, 2)))
        words, event = f"{numbers.decimal(text, rng)} kilos", reading("sugar", float(text), "kg")
    else:
        value = _grams_value(rng, 100, 1990)
        unit = rng.choice((" grams", " grams", ""))
        words, event = f"{numbers.whole(value, rng)}{unit}", reading("sugar", float(value), "g")
    if not words.endswith(("grams", "kilos")):
        return Said(words, "sugar", (event,), "sugar")
    of = rng.choice(("", "", " of sugar", " sugar"))
    return Said(f"{rng.choice(_LEADS)}{words}{of}", "sugar", (event,), "sugar")


def volume(rng: Random) -> Said:
    """Juice in litres, millilitres, pints."""
    kind = rng.choice(("l", "l", "ml", "pint", "half"))
    if kind == "l":
        text = _tenths(rng, 0.4, 9, rng.choice((1, 1, 2)))
        words, event = f"{numbers.decimal(text, rng)} litres", reading("juice", float(text), "l")
    elif kind == "ml":
        value = _grams_value(rng, 100, 1950)
        unit = rng.choice(("millilitres", "mils"))
        words = f"{numbers.whole(value, rng)} {unit}"
        event = reading("juice", float(value), "ml")
    elif kind == "pint":
        value = rng.randint(2, 12)
        words, event = f"{numbers.full(value)} pints", reading("juice", float(value), "pint")
    else:
        value = rng.randint(1, 8)
        words = f"{numbers.full(value)} and a half litres"
        event = reading("juice", value + 0.5, "l")
    form = rng.choice(
        ("{w}", "{w}", "{w} of juice", "the juice is {w}", "it made {w}", "i got {w}")
    )
    return Said(form.format(w=words), "juice", (event,), "juice")


def water(rng: Random) -> Said:
    """Water in millilitres or litres."""
    if rng.random() < 0.6:
        value = _grams_value(rng, 50, 1500)
        words = f"{numbers.whole(value, rng)} {rng.choice(('millilitres', 'mils'))}"
        event = reading("water", float(value), "ml")
    else:
        text = _tenths(rng, 0.2, 5)
        words, event = f"{numbers.decimal(text, rng)} litres", reading("water", float(text), "l")
    form = rng.choice(("{w}", "{w} of water", "the water is {w}", "i added {w} of water"))
    return Said(form.format(w=words), "water", (event,), "water")


def citric(rng: Random) -> Said:
    """Citric acid in grams or spoons."""
    if rng.random() < 0.65:
        text = rng.choice((str(rng.randint(2, 90)), _tenths(rng, 1, 30)))
        words = f"{numbers.decimal(text, rng)} grams"
        event = reading("citric_acid", float(text), "g")
    else:
        text, value = rng.choice(
            (
                ("half a teaspoon", 0.5), ("a quarter of a teaspoon", 0.25), ("one teaspoon", 1.0),
                ("two teaspoons", 2.0), ("three teaspoons", 3.0), ("a teaspoon and a half", 1.5),
                ("two and a half teaspoons", 2.5), ("four teaspoons", 4.0),
                ("three quarters of a teaspoon", 0.75), ("one and a half teaspoons", 1.5),
                ("five teaspoons", 5.0), ("six teaspoons", 6.0),
            )
        )  # fmt: skip
        words, event = text, reading("citric_acid", value, "tsp")
    form = rng.choice(("{w}", "{w}", "{w} of citric acid", "i added {w}", "the citric acid is {w}"))
    return Said(form.format(w=words), "citric_acid", (event,), "citric acid")


def sorbate(rng: Random) -> Said:
    """Sorbate in grams or milligrams."""
    if rng.random() < 0.7:
        text = _tenths(rng, 0.1, 6, rng.choice((1, 1, 2)))
        words, event = f"{numbers.decimal(text, rng)} grams", reading("sorbate", float(text), "g")
    else:
        value = rng.randrange(100, 950, 10)
        words = f"{numbers.whole(value, rng)} milligrams"
        event = reading("sorbate", float(value), "mg")
    form = rng.choice(("{w}", "{w}", "{w} of sorbate", "{w} of potassium sorbate", "i added {w}"))
    return Said(form.format(w=words), "sorbate", (event,), "sorbate")


_SIZES = (
    ("half a litre", 500.0), ("two hundred and fifty millilitres", 250.0), ("a litre", 1000.0),
    ("five hundred millilitres", 500.0), ("three thirty mils", 330.0), ("seven fifty mils", 750.0),
    ("a quarter of a litre", 250.0), ("two hundred millilitres", 200.0), ("one litre", 1000.0),
    ("three hundred and thirty millilitres", 330.0), ("two fifty millilitres", 250.0),
)  # fmt: skip


def bottles(rng: Random) -> Said:
    """How many bottles, and of what size."""
    value = numbers.alike(rng, 5, 60) if rng.random() < 0.4 else None
    count = value or rng.randint(2, 60)
    event: Meaning = {"kind": "bottle", "count": count}
    text = f"{rng.choice(('', '', '', 'i have ', 'we filled '))}{numbers.full(count)} bottles"
    if rng.random() < 0.45:
        size, millilitres = rng.choice(_SIZES)
        text, event = f"{text} of {size}", {**event, "size_ml": millilitres}
    return Said(text, "bottles", (event,), "bottles")


_AMENDS = (
    "no, {n}", "no, {n}", "no, i meant {n}", "sorry, {n}", "i meant {n}", "make it {n}",
    "that should be {n}", "no, it's {n}", "actually {n}", "correction, {n}", "no no {n}",
    "i said {n}",
)  # fmt: skip


def correction(rng: Random) -> Said:
    """ "No, sixty": of a temperature, a weight, a pH."""
    awaiting = rng.choice(("temperature", "temperature", "fruit", "ph"))
    form = rng.choice(_AMENDS)
    event: Meaning = {"kind": "correct"}
    if awaiting == "temperature":
        value = numbers.alike(rng, 13, 95) if rng.random() < 0.5 else None
        number = value or rng.randint(20, 104)
        tail = rng.choice(("", "", " degrees"))
        words, event = numbers.whole(number, rng) + tail, {**event, "value": float(number)}
        event |= {"unit": "degC"} if tail else {}
    elif awaiting == "fruit":
        text = _tenths(rng, 0.4, 9)
        words, event = f"{numbers.decimal(text, rng)} kilos", {**event, "value": float(text)}
        event["unit"] = "kg"
    else:
        text = _tenths(rng, 2.5, 4.4, rng.choice((1, 2)))
        words, event = numbers.decimal(text, rng), {**event, "value": float(text)}
    return Said(form.format(n=words), awaiting, (event,), "correction")


def timer(rng: Random) -> Said:
    """A timer, in minutes, seconds or hours."""
    value = numbers.alike(rng, 5, 90) if rng.random() < 0.4 else None
    count = value or rng.randint(2, 90)
    unit, seconds = rng.choice((("minutes", 60.0),) * 4 + (("seconds", 1.0), ("hours", 3600.0)))
    count = min(count, 24) if unit == "hours" else count
    form = rng.choice(
        (
            "set a timer for {d}",
            "timer for {d}",
            "timer {d}",
            "set a {d} timer",
            "start a timer for {d}",
        )
    )
    said = f"{numbers.full(count)} {unit}"
    if "a {d}" in form:
        said = f"{numbers.full(count)} {unit[:-1]}"
    event = {"kind": "timer_set", "seconds": count * seconds}
    return Said(form.format(d=said), "step", (event,), "timer")


def bare(rng: Random) -> Said:
    """Nothing but a number: the hardest, and what spliced recordings can say."""
    kind = rng.choice(("temperature", "temperature", "brix", "ph", "bottles", "sugar"))
    lead = rng.choice(("", "", "exactly ", "it is "))
    if kind == "ph":
        value = _tenths(rng, 2.4, 4.9, rng.choice((1, 2)))
        before, _, after = value.partition(".")
        word = rng.choice(("point ", "dot ", "", ""))
        words = f"{numbers.full(int(before))} {word}{numbers.figures(after)}"
        return Said(words, kind, (reading("ph", float(value), "pH"),), "bare number")
    low, high = {"temperature": (20, 105), "brix": (8, 75), "bottles": (2, 60)}.get(
        kind, (100, 999)
    )
    number = numbers.alike(rng, low, high) if rng.random() < 0.3 else None
    number = number or rng.randint(low, high)
    unit = {"temperature": "degC", "brix": "Brix", "bottles": "count"}.get(kind, "g")
    event = reading(kind, float(number), unit)
    return Said(f"{lead}{numbers.whole(number, rng)}", kind, (event,), "bare number")


def closed(rng: Random) -> Said:
    """Words without a number: onward, undo, yes, no, questions."""
    words, awaiting, event, family = rng.choice(fixed.SAYINGS)
    before, after = rng.choice(fixed.BEFORE), rng.choice(fixed.AFTER)
    if family in fixed.BARE:
        before = after = ""
    return Said(f"{before}{words}{after}", awaiting, (event,), family)


MAKERS: tuple[tuple[Maker, int], ...] = (
    (kilos, 8), (kilos_and_grams, 3), (fruit_grams, 5), (pounds, 5), (ounces, 2), (celsius, 14),
    (low_or_teen, 3), (fahrenheit, 3), (ph, 9), (brix, 7), (sugar, 8), (volume, 6), (water, 3),
    (citric, 4), (sorbate, 4), (bottles, 6), (correction, 7), (timer, 6), (bare, 8), (closed, 17),
)  # fmt: skip
"""The families and how often each comes, in parts of about a hundred."""


def utterances(split: Split, rng: Random, most: int = 2) -> Iterator[Said]:
    """Endless utterances of one split, the families in their shares, a phrase `most` times at most.

    Phrases are never said in both splits.
    """
    makers = [maker for maker, share in MAKERS for _ in range(share)]
    times: dict[str, int] = {}
    while True:
        said = rng.choice(makers)(rng)
        often = 12 if said.family in fixed.FAMILIES else most
        if split_of(said.words) == split and times.get(said.words, 0) < often:
            times[said.words] = times.get(said.words, 0) + 1
            yield said
