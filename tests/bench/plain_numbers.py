"""What anybody would write first: numbers and units searched for in a text, no grammar, no doubt.

A measure to hold our ears against, so it is written with good will but without what this project is
about: no alternatives, no bounds, no asking back. Sayings without a number are looked up whole.
"""

import re

from tests.bench.corpus.fixed import SAYINGS
from tests.bench.corpus.phrases import FRUITS
from tests.bench.scoring import Meaning

_UNITS = {
    "kg": "kg", "kilo": "kg", "kilos": "kg", "kilogram": "kg", "kilograms": "kg", "g": "g",
    "gram": "g", "grams": "g", "mg": "mg", "milligram": "mg", "milligrams": "mg", "lb": "lb",
    "lbs": "lb", "pound": "lb", "pounds": "lb", "oz": "oz", "ounce": "oz", "ounces": "oz",
    "ml": "ml", "mil": "ml", "mils": "ml", "millilitre": "ml", "millilitres": "ml",
    "milliliter": "ml", "milliliters": "ml", "l": "l", "litre": "l", "litres": "l", "liter": "l",
    "liters": "l", "pint": "pint", "pints": "pint", "teaspoon": "tsp", "teaspoons": "tsp",
    "brix": "Brix", "bricks": "Brix", "ph": "pH", "celsius": "degC", "fahrenheit": "degF",
    "degree": "degC", "degrees": "degC",
}  # fmt: skip
_MEANT = {
    "fruit": "kg", "sugar": "g", "water": "ml", "juice": "l", "temperature": "degC", "ph": "pH",
    "brix": "Brix", "citric_acid": "g", "sorbate": "g", "bottles": "count",
}  # fmt: skip
_OWNERS = {"pH": "ph", "Brix": "brix", "degC": "temperature", "degF": "temperature"}
_ONES = {
    "zero": 0, "oh": 0, "nought": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5,
    "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
    "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18,
    "nineteen": 19,
}  # fmt: skip
_TENS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70,
    "eighty": 80, "ninety": 90,
}  # fmt: skip
_SECONDS = {"second": 1.0, "minute": 60.0, "hour": 3600.0}
_CORRECTS = re.compile(r"^(no|sorry|actually|correction|i meant|i said|make it|that should be)\b")
_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_SAID = {text: event for text, _, event, _ in SAYINGS}


def read(text: str, awaiting: str) -> tuple[Meaning, ...]:
    """The events that a text seems to mean.

    >>> read("1.2 kilos.", "fruit")[0]["value"]
    1.2
    >>> read("It's seventy two degrees.", "temperature")[0]["value"]
    72.0
    """
    plain = _plain(text)
    if plain in _SAID:
        return (_SAID[plain],)
    words = _with_digits(plain)
    found = [(float(m[0]), _unit_after(words, m.end())) for m in _NUMBER.finditer(words)]
    if not found:
        return ()
    if "timer" in words:
        return _timer(found[0][0], words)
    if "bottle" in words or awaiting == "bottles":
        return _bottles(found, words)
    return _amount(found, words, awaiting)


def _plain(text: str) -> str:
    lower = text.lower().replace("p.h.", "ph").replace("°", " degrees ").replace("-", " ")
    lower = re.sub(r"(?<=\d),(?=\d{3}\b)", "", lower)
    lower = re.sub(r"[^a-z0-9.' ]+|\.(?!\d)", " ", lower)
    return " ".join(re.sub(r"\b(p h|ph(?=\d))\b", "ph ", lower).split())


def _with_digits(plain: str) -> str:
    """Number words to digits, run by run."""
    out: list[str] = []
    run: list[str] = []
    for word in [*plain.split(), ""]:
        number_word = word in _ONES or word in _TENS or word in ("hundred", "thousand", "point")
        if number_word or (word == "and" and run and run[-1] in ("hundred", "thousand")):
            run.append(word)
            continue
        out += [_value(run)] if run else []
        run = []
        out.append(word)
    return " ".join(out).strip()


def _value(run: list[str]) -> str:
    """One run of number words.

    >>> _value(["four", "hundred", "and", "eighty"]), _value(["three", "point", "one", "five"])
    ('480', '3.15')
    """
    if "point" in run:
        at = run.index("point")
        decimals = "".join(str(_ONES.get(word, _TENS.get(word, ""))) for word in run[at + 1 :])
        return f"{_value(run[:at]) if run[:at] else 0}.{decimals or 0}"
    total = part = 0
    for word in run:
        if word == "hundred":
            part = max(part, 1) * 100
        elif word == "thousand":
            total, part = total + max(part, 1) * 1000, 0
        elif word in _TENS:
            part = part * 100 + _TENS[word] if 0 < part < 20 else part + _TENS[word]
        elif word in _ONES:
            part += _ONES[word]
    return str(total + part)


def _unit_after(words: str, place: int) -> str | None:
    after = words[place:].split()
    if after[:1] in (["degrees"], ["degree"]) and after[1:2] and after[1] in _UNITS:
        return _UNITS[after[1]]
    return _UNITS.get(after[0]) if after else None


def _timer(value: float, words: str) -> tuple[Meaning, ...]:
    unit = next((seconds for name, seconds in _SECONDS.items() if name in words), 60.0)
    return ({"kind": "timer_set", "seconds": value * unit},)


def _bottles(found: list[tuple[float, str | None]], words: str) -> tuple[Meaning, ...]:
    event: Meaning = {"kind": "bottle", "count": round(found[0][0])}
    sized = [(value, unit) for value, unit in found[1:] if unit in ("ml", "l")]
    if sized:
        event["size_ml"] = sized[0][0] * (1000 if sized[0][1] == "l" else 1)
    elif "half a litre" in words or "half a liter" in words:
        event["size_ml"] = 500.0
    return (event,)


def _amount(
    found: list[tuple[float, str | None]], words: str, awaiting: str
) -> tuple[Meaning, ...]:
    value, unit = found[0]
    if "ph" in words.split():
        unit = "pH"
    elif "brix" in words.split():
        unit = "Brix"
    if unit == "lb" and len(found) > 1:
        value += found[1][0] / 16
    elif unit == "kg" and len(found) > 1:
        value += found[1][0] / 1000
    value += 0.5 if "and a half" in words else 0.0
    meant = unit or _MEANT.get(awaiting)
    if meant is None:
        return ()
    if _CORRECTS.search(words):
        return ({"kind": "correct", "value": value} | ({"unit": unit} if unit else {}),)
    what = _OWNERS.get(meant, awaiting)
    if what not in _MEANT:
        return ()
    fruits = [name for word, name in FRUITS.items() if word in words]
    chosen: list[Meaning] = [{"kind": "choose", "option": "fruit", "value": f} for f in fruits[:1]]
    return (*chosen, {"kind": "reading", "what": what, "value": value, "unit": meant})
