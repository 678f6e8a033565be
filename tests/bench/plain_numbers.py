"""What anybody would write first: numbers and units searched for in a text, no grammar, no doubt.

A measure to hold our ears against, so it is written with good will but without what this project is
about: no alternatives, no bounds, no asking back. Sayings without a number are looked up whole.
"""

import re

from tests.bench.corpus.fixed import SAYINGS
from tests.bench.corpus.phrases import FRUITS
from tests.bench.scoring import Meaning

_NAMES = {
    "kg": "kg kilo kilos kilogram kilograms", "g": "g gram grams", "mg": "mg milligram milligrams",
    "lb": "lb lbs pound pounds", "oz": "oz ounce ounces", "pint": "pint pints",
    "ml": "ml mil mils mills millilitre millilitres milliliter milliliters",
    "cl": "cl centilitre centilitres", "l": "l litre litres liter liters",
    "tsp": "tsp teaspoon teaspoons", "tbsp": "tbsp tablespoon tablespoons", "cup": "cup cups",
    "Brix": "brix bricks", "pH": "ph", "degC": "celsius centigrade c degree degrees",
    "degF": "fahrenheit f",
}  # fmt: skip
_UNITS = {name: unit for unit, names in _NAMES.items() for name in names.split()}
_MEANT = {
    "fruit": "kg", "sugar": "g", "water": "ml", "juice": "l", "temperature": "degC", "ph": "pH",
    "brix": "Brix", "citric_acid": "g", "sorbate": "g", "bottles": "count",
}  # fmt: skip
_OWNERS = {"pH": "ph", "Brix": "brix", "degC": "temperature", "degF": "temperature"}
_ONES = {
    "zero": 0, "oh": 0, "nought": 0, "o": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5,
    "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
    "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18,
    "nineteen": 19,
}  # fmt: skip
_TENS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70,
    "eighty": 80, "ninety": 90,
}  # fmt: skip
_SCALES = {"hundred": 100, "thousand": 1000}
_POINTS = ("point", "dot")
_SECONDS = {"second": 1.0, "minute": 60.0, "hour": 3600.0}
_CORRECTS = re.compile(r"^(no|sorry|actually|correction|i meant|i said|make it|that should be)\b")
_FIGURES = re.compile(r"\d*\.\d+|\d+")
_LENGTH = re.compile(r"(\d*\.\d+|\d+) (second|minute|hour)")
_TIMER = re.compile(r"\b(timer|time|set|start|remind)\b")
_PARTS = (
    ("½", " 1/2"), ("¼", " 1/4"), ("¾", " 3/4"), ("°", " degrees "), ("p.h.", "ph"), ("-", " "),
)  # fmt: skip
_SPOKEN_PARTS = (
    (r"\b(three|3) quarters( of)?( an?)?\b|\b3/4( of an?)?", "0.75"),
    (r"\b((a|one|1) )?quarter( of)?( an?)?\b|\b1/4( of an?)?", "0.25"),
    (r"(?<!and )(?<!and a )\b((a|one|1) )?half( of)?( an?)?\b|\b1/2( of an?)?", "0.5"),
    (r"\ban? (?=(teaspoon|tablespoon|litre|liter|pint|kilo|pound|cup)\b)", "1 "),
)
_SAID = {text: event for text, _, event, _ in SAYINGS}
_FILLERS = frozenset(("okay", "ok", "right", "so", "well", "um", "uh", "now", "and", "please",
                      "thanks"))  # fmt: skip


def read(text: str, awaiting: str) -> tuple[Meaning, ...]:
    """The events that a text seems to mean.

    >>> read("1.2 kilos.", "fruit")[0]["value"]
    1.2
    >>> read("It's seventy two degrees.", "temperature")[0]["value"]
    72.0
    """
    plain = _plain(text)
    said = _saying(plain)
    if said is not None:
        return (said,)
    words = with_figures(plain)
    found = [(float(m[0]), _unit_after(words, m.end())) for m in _FIGURES.finditer(words)]
    if not found:
        return ()
    if "timer" in words or _LENGTH.search(words):
        return _timer(found[0][0], words) if _TIMER.search(words) else ()
    if "bottle" in words or awaiting == "bottles":
        return _bottles(found)
    return _amount(found, words, awaiting)


def _plain(text: str) -> str:
    lower = text.lower()
    for written, plain in _PARTS:
        lower = lower.replace(written, plain)
    lower = re.sub(r"(?<=\d),(?=\d{3}\b)", "", lower)
    lower = re.sub(r"[^a-z0-9./' ]+|\.(?!\d)", " ", lower)
    lower = re.sub(r"(?<=\d)(?=[a-z])|(?<=[a-z])(?=\d)", " ", lower)
    return " ".join(re.sub(r"\bp h\b", "ph", lower).split())


def _saying(plain: str) -> Meaning | None:
    """A saying as it stands, between words of no weight, or of three words and more at the end."""
    words = plain.split()
    for end in range(len(words), 0, -1):
        for start in range(end):
            rest = " ".join(words[start:end])
            idle = all(word in _FILLERS for word in words[:start])
            if rest in _SAID and (idle or end - start >= 3):
                return _SAID[rest]
        if words[end - 1] not in _FILLERS:
            return None
    return None


def with_figures(plain: str) -> str:
    """Number words and split figures made one number each.

    >>> with_figures("three point one five"), with_figures("two and a half teaspoons")
    ('3.15', '2.5 teaspoons')
    """
    for words, number in _SPOKEN_PARTS:
        plain = re.sub(words, number, plain)
    out: list[str] = []
    run: list[str] = []
    tokens = plain.split()
    for place, word in enumerate([*tokens, ""]):
        after = tokens[place + 1] if place + 1 < len(tokens) else ""
        if _counts(word) or (word == "and" and run and _hundreds(run[-1]) and _counts(after)):
            run.append(word)
            continue
        out += [_value(run)] if run else []
        run = []
        out.append(word)
    joined = re.sub(r"\b(\d+) (?:and )?0\.(5|25|75)\b", r"\1.\2", " ".join(out).strip())
    return re.sub(r"\b(\d+) and a half\b", r"\1.5", joined)


def _counts(word: str) -> bool:
    named = word in _ONES or word in _TENS or word in _SCALES or word in _POINTS
    return named or bool(_FIGURES.fullmatch(word))


def _hundreds(word: str) -> bool:
    return word in _SCALES or (word.isdigit() and int(word) > 0 and int(word) % 100 == 0)


def _value(run: list[str]) -> str:
    """One run of number words and figures; what can't be one number stays several.

    >>> _value(["four", "hundred", "and", "eighty"]), _value(["three", "point", "one", "five"])
    ('480', '3.15')
    >>> _value(["1400", "and", "80"]), _value(["3", "8", "1"]), _value(["eight", "50"])
    ('1480', '381', '850')
    """
    point = next((place for place, word in enumerate(run) if word in _POINTS), None)
    if point is not None:
        decimals = "".join(f"{_figure(word):g}" for word in run[point + 1 :] if _single(word))
        return f"{_value(run[:point]) if run[:point] else 0}.{decimals or 0}"
    if all(_figure(word) < 10 and word.isalnum() and word not in _SCALES for word in run):
        return "".join(f"{_figure(word):g}" for word in run)
    return _folded([word for word in run if word != "and"])


def _single(word: str) -> bool:
    return word != "and" and word not in _SCALES and word not in _POINTS


def _figure(word: str) -> float:
    if word in _SCALES or word == "and":
        return 10.0
    return float(_ONES.get(word, _TENS.get(word, word)))


def _folded(run: list[str]) -> str:
    done: list[float] = []
    total = part = 0.0
    for word in run:
        if word == "thousand":
            total, part = total + max(part, 1) * 1000, 0.0
        elif word == "hundred":
            part = max(part, 1) * 100
        else:
            grown = _grown(part, _figure(word))
            if grown is None:
                done, total, grown = [*done, total + part], 0.0, _figure(word)
            part = grown
    return " ".join(f"{round(number, 4):g}" for number in [*done, total + part])


def _grown(part: float, more: float) -> float | None:
    """A number and the next one as one; None where they don't make one.

    >>> _grown(400, 80), _grown(50, 4), _grown(8, 50), _grown(14, 9)
    (480, 54, 850, None)
    """
    if part == 0 or (part % 100 == 0 and more < 100) or (part % 10 == 0 and part > 19 > 9 >= more):
        return part + more
    return part * 100 + more if part in range(20) and (10 <= more < 100 or not more) else None


def _unit_after(words: str, place: int) -> str | None:
    after = words[place:].split()
    if after[:1] in (["degrees"], ["degree"]) and after[1:2] and after[1] in _UNITS:
        return _UNITS[after[1]]
    return _UNITS.get(after[0]) if after else None


def _timer(value: float, words: str) -> tuple[Meaning, ...]:
    named = [float(count) * _SECONDS[unit] for count, unit in _LENGTH.findall(words)]
    return ({"kind": "timer_set", "seconds": sum(named) if named else value * 60.0},)


def _bottles(found: list[tuple[float, str | None]]) -> tuple[Meaning, ...]:
    event: Meaning = {"kind": "bottle", "count": round(found[0][0])}
    in_ml = {"ml": 1.0, "cl": 10.0, "l": 1000.0}
    sizes = [value * in_ml[unit] for value, unit in found[1:] if unit in in_ml]
    return (event | {"size_ml": sizes[0]} if sizes else event,)


def _amount(
    found: list[tuple[float, str | None]], words: str, awaiting: str
) -> tuple[Meaning, ...]:
    value, unit = _joined(found, words)
    unit = _named(words, unit, awaiting)
    meant = unit or _MEANT.get(awaiting)
    if meant is None:
        return ()
    value = as_ph(value) if meant == "pH" else value
    if _CORRECTS.search(words):
        return ({"kind": "correct", "value": value} | ({"unit": unit} if unit else {}),)
    what = _OWNERS.get(meant, awaiting)
    if what not in _MEANT:
        return ()
    fruits = [name for word, name in FRUITS.items() if word in words]
    chosen: list[Meaning] = [{"kind": "choose", "option": "fruit", "value": f} for f in fruits[:1]]
    return (*chosen, {"kind": "reading", "what": what, "value": value, "unit": meant})


def _joined(found: list[tuple[float, str | None]], words: str) -> tuple[float, str | None]:
    """Pounds and ounces, kilos and grams, "a teaspoon and a half" as one amount."""
    value, unit = found[0]
    if unit in ("lb", "kg") and len(found) > 1:
        value += found[1][0] / (16 if unit == "lb" else 1000)
    return value + (0.5 if "and a half" in words else 0.0), unit


def _named(words: str, unit: str | None, awaiting: str) -> str | None:
    """The unit by the name of what is read; degrees are Brix where Brix is asked."""
    names = words.split()
    if "ph" in names or "acidity" in names:
        return "pH"
    if {"brix", "bricks", "refractometer"} & set(names):
        return "Brix"
    return "Brix" if awaiting == "brix" and unit == "degC" else unit


def as_ph(value: float) -> float:
    """A pH whose point was not written: there is none above 14.

    >>> as_ph(3.2), as_ph(32.0), as_ph(255.0)
    (3.2, 3.2, 2.55)
    """
    while value > 14:
        value /= 10
    return round(value, 3)
