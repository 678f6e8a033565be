"""Amounts for the ear ("sixty-six degrees") and for the eye ("66 °C")."""

from collections.abc import Callable, Iterable
from decimal import Decimal

from assistant.base.units import Unit
from assistant.cook.reply import Quantity
from assistant.say.chosen import converted
from assistant.say.numerals import in_digits, in_words, portion, portion_sign
from assistant.say.rounding import Part, ends, parts

_EAR: dict[str, tuple[str, str]] = {
    "g": ("gram", "grams"),
    "kg": ("kilo", "kilos"),
    "mg": ("milligram", "milligrams"),
    "oz": ("ounce", "ounces"),
    "lb": ("pound", "pounds"),
    "ml": ("millilitre", "millilitres"),
    "cl": ("centilitre", "centilitres"),
    "l": ("litre", "litres"),
    "tsp": ("teaspoon", "teaspoons"),
    "tbsp": ("tablespoon", "tablespoons"),
    "cup": ("cup", "cups"),
    "fl_oz": ("fluid ounce", "fluid ounces"),
    "pint": ("pint", "pints"),
    "degC": ("degree", "degrees"),
    "degF": ("degree Fahrenheit", "degrees Fahrenheit"),
    "s": ("second", "seconds"),
    "min": ("minute", "minutes"),
    "h": ("hour", "hours"),
    "day": ("day", "days"),
    "g/l": ("gram a litre", "grams a litre"),
    "g/kg": ("gram a kilo", "grams a kilo"),
    "ppm": ("part per million", "parts per million"),
    "%": ("per cent", "per cent"),
    "Brix": ("Brix", "Brix"),
}
_EYE = {"degC": "°C", "degF": "°F", "Brix": "°Bx", "fl_oz": "fl oz"}
_WRITTEN_OUT = ("day", "cup", "pint")
_HALVED = ("kg", "lb", "l", "pint", "min", "h")
_SPOONED = ("tsp", "tbsp", "cup")
_WEEKS = range(14, 85, 7)

Wording = Callable[[Part], str]


def by_ear(quantity: Quantity, *, bare: bool = False) -> str:
    """A quantity as a person says it.

    bare : leaves out what the sentence has said already, the "p h" before the number

    >>> by_ear(Quantity(value=1340, unit="g"))
    'one point three four kilos'
    >>> by_ear(Quantity(value=61, unit="Brix", low=58, high=64))
    'about sixty-one Brix, fifty-eight to sixty-four'
    >>> by_ear(Quantity(value=3.18, unit="pH", exact=True))
    'p h three point one eight'
    """
    told = parts(quantity)
    name = "" if bare or quantity.unit != "pH" else "p h "
    middle = name + (_idiom(quantity, told) or _spell(told))
    low, high = _spread(quantity, told, lambda part: in_words(part.number), _spell)
    match low, high:
        case None, None:
            return middle
        case low, None:
            return f"about {middle}, {low} or more"
        case None, high:
            return f"about {middle}, up to {high}"
        case _:
            return f"about {middle}, {low} to {high}"


def by_eye(quantity: Quantity, *, bare: bool = False) -> str:
    """A quantity as it is written.

    bare : leaves out what the sentence has said already, the "pH" before the number

    >>> by_eye(Quantity(value=1340, unit="g")), by_eye(Quantity(value=66, unit="degC"))
    ('1.34 kg', '66 °C')
    >>> by_eye(Quantity(value=61, unit="Brix", low=58, high=64))
    '61 °Bx (58–64)'
    """
    quantity = converted(quantity)
    told = parts(quantity)
    name = "" if bare or quantity.unit != "pH" else "pH "
    middle = name + _write(told)
    low, high = _spread(quantity, told, lambda part: _digits(part.number), _write)
    match low, high:
        case None, None:
            return middle
        case low, None:
            return f"{middle} ({low} or more)"
        case None, high:
            return f"{middle} (up to {high})"
        case _:
            return f"{middle} ({low}–{high})"


def _spread(
    quantity: Quantity,
    told: tuple[Part, ...],
    number: Wording,
    whole: Callable[[Iterable[Part]], str],
) -> tuple[str | None, str | None]:
    """The two ends in words or signs; without the unit where all three numbers share it."""
    found = ends(quantity)
    shared = all(len(end) == 1 and end[0].unit == told[0].unit for end in (told, *found) if end)
    low, high = (None if end is None else number(end[0]) if shared else whole(end) for end in found)
    return low, high


def _idiom(quantity: Quantity, told: tuple[Part, ...]) -> str | None:
    """What has a shorter name by ear: half a litre, three weeks, a year."""
    number, unit = told[0]
    if quantity.exact or len(told) > 1:
        return None
    if unit == "ml" and number == 500:
        return "half a litre"
    if unit == "day" and number in _WEEKS:
        return f"{in_words(number / 7)} weeks"
    if unit == "day" and number == 365:
        return "one year"
    return None


def _spell(told: Iterable[Part]) -> str:
    return " ".join(_spell_part(part) for part in told)


def _spell_part(part: Part) -> str:
    number, unit = part
    if unit not in _EAR:
        return in_words(number)
    one, many = _EAR[unit]
    share = portion(number) if _has_portions(number, unit) else None
    if share is None:
        return f"{in_words(number)} {one if abs(number) == 1 else many}"
    if number > 1:
        return f"{in_words(number // 1)} and {'a half' if share == 'half' else share} {many}"
    article = "an" if one[0] in "aeio" or unit == "h" else "a"
    return f"{share}{'' if share == 'half' else ' of'} {article} {one}"


def _has_portions(number: Decimal, unit: Unit) -> bool:
    return number > 0 and (unit in _SPOONED or (unit in _HALVED and number % 1 == Decimal("0.5")))


def _write(told: Iterable[Part]) -> str:
    return " ".join(_write_part(part) for part in told)


def _write_part(part: Part) -> str:
    number, unit = part
    if unit in ("pH", "count"):
        return _digits(number)
    name = _EYE.get(unit, unit)
    if unit in _WRITTEN_OUT:
        name = _EAR[unit][0 if 0 < number <= 1 else 1]
    return f"{_spoon_digits(number) if unit in _SPOONED else _digits(number)} {name}"


def _spoon_digits(number: Decimal) -> str:
    sign = portion_sign(number)
    if sign is None or number < 0:
        return _digits(number)
    whole = number // 1
    return f"{in_digits(whole) if whole else ''}{sign}"


def _digits(number: Decimal) -> str:
    return in_digits(number).replace("-", "−")
