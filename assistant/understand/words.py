"""From typed or recognised text to the plain words that the grammars are made of.

Digits, signs and shorthand become words, so "1.2 kg", "72°C" and "½ tsp" go the same way as speech.
Nothing is repaired here: what can't be put into words is kept as it is and will not parse.
"""

import re
import unicodedata
from collections.abc import Callable

from num2words import num2words

LONGEST = 240
"""Characters; a longer line is not a request. Common practice, no source."""

_UNIT_WORDS = {
    "kg": "kilos", "kgs": "kilos", "g": "grams", "gr": "grams", "gm": "grams", "mg": "milligrams",
    "lb": "pounds", "lbs": "pounds", "oz": "ounces", "ml": "millilitres", "cl": "centilitres",
    "l": "litres", "tsp": "teaspoons", "tsps": "teaspoons", "tbsp": "tablespoons",
    "tbsps": "tablespoons", "pt": "pints", "c": "celsius", "f": "fahrenheit", "°": "degrees",
    "°c": "degrees celsius", "°f": "degrees fahrenheit", "bx": "brix", "°bx": "brix",
    "°brix": "brix", "g/l": "grams a litre", "min": "minutes", "mins": "minutes",
    "s": "seconds", "sec": "seconds", "secs": "seconds", "h": "hours", "hr": "hours",
    "hrs": "hours", "x": "times", "fl": "fluid",
}  # fmt: skip
_FRACTIONS = {
    (1, 2): "half", (1, 4): "quarter", (3, 4): "three quarters", (1, 3): "a third",
    (2, 3): "two thirds", (1, 8): "an eighth",
}  # fmt: skip
_UNITS = "|".join(sorted((re.escape(u) for u in _UNIT_WORDS), key=len, reverse=True))
_NUMBER = r"\d{1,3}(?:,\d{3})+(?!\d)|\d+(?:[.,]\d+)?|[.,]\d+"
_RULES: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], str]], ...]


def _whole(digits: str) -> str:
    if len(digits) > 7:
        return digits
    if len(digits) > 1 and digits.startswith("0"):
        return " ".join(num2words(int(d)) for d in digits)
    return re.sub(r"[,-]", " ", num2words(int(digits)))


def _number(text: str) -> str:
    """Digits to words; a comma before exactly three figures separates thousands.

    >>> _number("1,200"), _number("1,2")
    ('one thousand two hundred', 'one comma two')
    """
    if re.fullmatch(r"[1-9]\d{0,2}(,\d{3})+", text):
        return _whole(text.replace(",", ""))
    whole, mark, decimals = re.fullmatch(r"(\d*)([.,]?)(\d*)", text).groups()  # type: ignore[union-attr]
    parts = [_whole(whole)] if whole else []
    if mark:
        parts.append("comma" if mark == "," else "point")
        parts += [num2words(int(d)) for d in decimals]
    return " ".join(parts)


def _fraction(match: re.Match[str]) -> str:
    whole, top, bottom = match.groups()
    words = _FRACTIONS.get((int(top), int(bottom)))
    if words is None:
        return match[0].replace("/", " over ")
    return f" {_whole(whole)} and {words} " if whole else f" {words} "


def _measured(match: re.Match[str]) -> str:
    return f" {_number(match[1])} {_UNIT_WORDS[match[2]]} "


_RULES = (
    (re.compile(r"\b(?:(\d{1,3})\s+)?(\d{1,2})/(\d{1,2})\b"), _fraction),
    (re.compile(r"(?<=\d):(?=\d)"), lambda _: " "),
    (re.compile(r"(?<![\w.,])-(?=[.\d])"), lambda _: " minus "),
    (re.compile(rf"(?<![\w.,])({_NUMBER})\s*({_UNITS})(?![\w/])"), _measured),
    (re.compile(rf"(?<![\w.,])({_NUMBER})(?![\w])"), lambda m: f" {_number(m[1])} "),
    (re.compile(rf"(?<=[a-z] )({_UNITS})\.?(?![\w/'.])"), lambda m: _spelled_unit(m)),
)


def _spelled_unit(match: re.Match[str]) -> str:
    """Shorthand after a fraction in words ("half tsp"); single letters are left alone."""
    return _UNIT_WORDS[match[1]] if len(match[1]) > 1 else match[0]


def _plain(text: str) -> str:
    text = re.sub(r"(\d)([½¼¾⅓⅔⅛])", r"\1 \2", text)
    text = unicodedata.normalize("NFKC", text).replace("⁄", "/").replace("−", "-")
    text = re.sub(r"[’‘`´]", "'", text.casefold())
    text = re.sub(r"º|˚", "°", text)
    text = re.sub(r"(?<=\d)\s*°\s*(?=[cf]\b|bx\b|brix\b)", "°", text)
    text = re.sub(r"\bp\.?\s?h\b\.?(?=\s|\d|$|[:=])", "p h ", text)
    return re.sub(r"\bp h\s*[:=]?\s*(?=\d)", "p h ", re.sub(r"\bph(?=\d)", "p h ", text))


def to_words(text: str) -> tuple[str, ...]:
    """The words of a line; () when it is empty or too long to be a request.

    >>> " ".join(to_words("1.2 kg, 72°C and pH 3.25"))
    'one point two kilos seventy two degrees celsius and p h three point two five'
    >>> " ".join(to_words("1½ cups"))
    'one and half cups'
    """
    if len(text) > LONGEST:
        return ()
    plain = _plain(text)
    for pattern, replace in _RULES:
        plain = pattern.sub(replace, plain)
    plain = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", plain)
    plain = re.sub(r"[.,;:!?\"()\[\]…]+(?=\s|$)|(?<!\S)[.,;:!?\"()\[\]…]+", " ", plain)
    return tuple(plain.split())
