"""A small reader of spoken amounts, written apart from the code under test."""

import re
from decimal import Decimal

_SMALL = [
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen",
    "nineteen",
]  # fmt: skip
_TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_VALUE = {word: n for n, word in enumerate(_SMALL)} | {
    word: 10 * n for n, word in enumerate(_TENS, start=2)
}
_SCALE = {"thousand": 1000, "million": 10**6, "billion": 10**9}
_PORTION = {
    "half": Decimal("0.5"),
    "a quarter": Decimal("0.25"),
    "three quarters": Decimal("0.75"),
    "an eighth": Decimal("0.125"),
    "three eighths": Decimal("0.375"),
    "five eighths": Decimal("0.625"),
    "seven eighths": Decimal("0.875"),
}
BASE = {
    "gram": Decimal(1), "kilo": Decimal(1000), "milligram": Decimal("0.001"),
    "ounce": Decimal("28.349523125"), "pound": Decimal("453.59237"),
    "millilitre": Decimal(1), "centilitre": Decimal(10), "litre": Decimal(1000),
    "teaspoon": Decimal(5), "tablespoon": Decimal(15), "cup": Decimal(240),
    "fluid ounce": Decimal("29.5735295625"), "pint": Decimal("473.176473"),
    "second": Decimal(1), "minute": Decimal(60), "hour": Decimal(3600), "day": Decimal(86400),
    "week": Decimal(604800), "year": Decimal(31536000), "dose": Decimal(1),
    "millionth": Decimal("0.001"), "hundredth": Decimal(10),
    "degree": Decimal(1), "Brix": Decimal(1), "": Decimal(1),
}  # fmt: skip
"""Size of each spoken unit in the base unit. Ounce, pound, fluid ounce and pint: NIST Handbook 44
(2023), Appendix C, General Tables of Units of Measurement; spoons and cup: NIST, "Cooking
Measurement Equivalencies"."""


def read_number(words: str) -> Decimal:
    """A number in words: "minus one hundred and five point zero two"."""
    sign = -1 if words.startswith("minus ") else 1
    whole, _, decimals = words.removeprefix("minus ").partition(" point ")
    total = group = 0
    for word in re.split(r"[ -]", whole.replace(" and ", " ")):
        if word == "hundred":
            group *= 100
        elif word in _SCALE:
            total, group = total + group * _SCALE[word], 0
        else:
            group += _VALUE[word]
    digits = "".join(str(_VALUE[word]) for word in decimals.split())
    return sign * Decimal(f"{total + group}.{digits or 0}")


def read_amount(words: str) -> Decimal:
    """An amount in words, in its base unit: "three pounds four ounces" in grams."""
    words = words.removeprefix("p h ").replace(" Fahrenheit", "")
    words = re.sub("grams? a (litre|kilo)", "dose", words)
    words = re.sub("parts? per million", "millionth", words).replace("per cent", "hundredth")
    units = sorted((u for u in BASE if u), key=len, reverse=True)
    pattern = re.compile(rf"(.+?)(?: of)?(?: an?)? ?\b({'|'.join(units)})s?\b ?")
    found = pattern.findall(words) or [(words, "")]
    assert "".join("".join(pair) for pair in found), words
    return sum((_read_share(number.strip()) * BASE[unit] for number, unit in found), Decimal(0))


def _read_share(words: str) -> Decimal:
    if words in _PORTION:
        return _PORTION[words]
    for name, share in _PORTION.items():
        spoken = "a half" if name == "half" else name
        if words.endswith(f" and {spoken}"):
            return read_number(words.removesuffix(f" and {spoken}")) + share
    return read_number(words)
