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
MOST_FIGURES = 7
"""Figures in a whole number; no kitchen has more."""

_UNIT_WORDS = {
    "kg": "kilos", "kgs": "kilos", "g": "grams", "gr": "grams", "gm": "grams", "gms": "grams",
    "mg": "milligrams", "lb": "pounds", "lbs": "pounds", "oz": "ounces", "ml": "millilitres",
    "cl": "centilitres", "l": "litres", "ltr": "litres", "ltrs": "litres",
    "tsp": "teaspoons", "tsps": "teaspoons",
    "tbsp": "tablespoons", "tbsps": "tablespoons", "pt": "pints", "c": "celsius",
    "f": "fahrenheit", "°": "degrees", "deg": "degrees", "degs": "degrees", "°c": "degrees celsius",
    "degc": "degrees celsius", "°f": "degrees fahrenheit", "degf": "degrees fahrenheit",
    "bx": "brix", "°bx": "brix", "°brix": "brix", "g/l": "grams a litre",
    "mg/l": "milligrams a litre", "g/kg": "grams a kilo", "ppm": "parts per million",
    "%": "per cent", "min": "minutes",
    "mins": "minutes", "s": "seconds", "sec": "seconds", "secs": "seconds", "h": "hours",
    "hr": "hours", "hrs": "hours", "x": "times", "×": "times",
}  # fmt: skip
_SIGNS = str.maketrans("⁄−–’‘º˚", "/--''°°")
_WHOLE_LINES = {"y": "yes", "n": "no", "?": "help"}
_FRACTIONS = {
    (1, 2): "half", (1, 4): "quarter", (3, 4): "three quarters", (1, 3): "a third",
    (2, 3): "two thirds", (1, 8): "an eighth",
}  # fmt: skip
_UNIT = "|".join(sorted((re.escape(u) for u in _UNIT_WORDS), key=len, reverse=True))
_LONG_UNIT = "|".join(u for u in _UNIT_WORDS if len(u) > 1 and u.isalpha())
_NUMBER = r"[0-9]{1,3}(?:,[0-9]{3})+|[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+"
_START = r"(?<![\w.,/])"
_END = r"(?!\w|[.,/:][0-9])"
_JUNK = "�"
"""Stands for a figure that is not to be read as one (a superscript, a figure in a circle)."""


def _whole(figures: str) -> str:
    """A whole number in words; one that is too long or starts with noughts, as it is.

    >>> _whole("480")
    'four hundred and eighty'
    """
    if len(figures) > MOST_FIGURES or (len(figures) > 1 and figures.startswith("0")):
        return figures
    return re.sub(r"[,-]", "", num2words(int(figures)).replace("-", " "))


def _number(text: str) -> str:
    """Digits to words; a comma before exactly three figures separates thousands.

    >>> _number("1,200"), _number("1,2")
    ('one thousand two hundred', 'one comma two')
    """
    if re.fullmatch(r"[1-9][0-9]{0,2}(,[0-9]{3})+", text):
        return _whole(text.replace(",", ""))
    whole, mark, decimals = re.split(r"([.,])", text) if re.search("[.,]", text) else (text, "", "")
    parts = [_whole(whole)] if whole else []
    if mark:
        parts += ["comma" if mark == "," else "point", *(num2words(int(d)) for d in decimals)]
    return " ".join(parts)


def _fraction(match: re.Match[str]) -> str:
    whole, top, bottom, unit = match.groups()
    words = _FRACTIONS.get((int(top), int(bottom)))
    if words is None:
        return match[0]
    return " ".join(
        ["", *([_whole(whole), "and"] if whole else []), words, _UNIT_WORDS.get(unit, "")]
    )


def _parted(match: re.Match[str]) -> str:
    """Figures side by side: "4 80" and "7 2" are said so, "30 1" is two numbers, not thirty-one."""
    left, right = match[1], match[2]
    short = re.fullmatch(r"1?[0-9]", left) and re.fullmatch(r"[1-9][0-9]", right)
    single = len(left) == len(right) == 1
    return match[0] if short or single else f"{left} {_JUNK} "


_RULES: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], str]], ...] = (
    (
        re.compile(
            rf"{_START}(?:([0-9]{{1,3}})\s+)?([0-9]{{1,2}})/([0-9]{{1,2}})"
            rf"(?:\s*({_UNIT})(?!\w)|{_END})"
        ),
        _fraction,
    ),
    (re.compile(r"(?<=[0-9])\s?[x×]\s?(?=[.0-9])"), lambda _: " times "),
    (re.compile(r"(?<=\b[0-9]):(?=[0-9]{2}\b(?!:))"), lambda _: " "),
    (re.compile(r"([0-9][0-9.,/]*)\s+(?=([0-9][0-9.,/]*))"), _parted),
    (re.compile(r"(?<!\S)-(?=[.0-9])"), lambda _: " minus "),
    (
        re.compile(rf"{_START}({_NUMBER})\s*({_UNIT})\.?(?![^\W0-9]|/)"),
        lambda m: f" {_number(m[1])} {_UNIT_WORDS[m[2]]} ",
    ),
    (re.compile(rf"{_START}({_NUMBER}){_END}"), lambda m: f" {_number(m[1])} "),
    (re.compile(rf"(?<=[a-z] )({_LONG_UNIT})\b"), lambda m: _UNIT_WORDS[m[1]]),
)


def _plain(text: str) -> str:
    """Lower case, plain quotes and dashes, one way to write degrees and pH, odd figures marked."""
    text = re.sub(r"(?<=[0-9])(?=[½¼¾⅓⅔⅛])", " ", text)
    text = "".join(_JUNK if _odd_figure(char) else char for char in text)
    text = unicodedata.normalize("NFKC", text.translate(_SIGNS)).casefold().translate(_SIGNS)
    text = re.sub(r"(?<=[0-9])\s*°\s*(?=(?:c|f|bx|brix)\b)", "°", text)
    text = re.sub(r"\bp\.?\s?h\b\.?\s*[:=]?|\bph(?=[0-9])", "p h ", text)
    return _WHOLE_LINES.get(text.strip(), text)


def _odd_figure(char: str) -> bool:
    kind = unicodedata.category(char)
    if kind == "No":
        return char not in "½¼¾⅓⅔⅛"
    return kind in ("Nd", "Nl") and not char.isascii()


def to_words(text: str) -> tuple[str, ...]:
    """The words of a line; () when it is empty or too long to be a request.

    >>> " ".join(to_words("1.2 kg, 66°C and pH 3.18"))
    'one point two kilos sixty six degrees celsius and p h three point one eight'
    >>> " ".join(to_words("1½ cups"))
    'one and half cups'
    """
    if len(text) > LONGEST:
        return ()
    plain = _plain(text)
    for pattern, replace in _RULES:
        plain = re.sub(r"\s+", " ", pattern.sub(replace, plain))
    plain = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", plain)
    plain = re.sub(r"[.,;:!?\"()\[\]…]+(?=\s|$)|(?<!\S)[;:!?\"(\[…]+(?=[^0-9])", " ", plain)
    return tuple(plain.split())
