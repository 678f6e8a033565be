"""Numbers as a person says them: "three hundred and forty", "three point one eight"."""

from decimal import Decimal

from num2words import num2words

_DIGITS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_PORTIONS = {
    Decimal("0.125"): "an eighth",
    Decimal("0.25"): "a quarter",
    Decimal("0.375"): "three eighths",
    Decimal("0.5"): "half",
    Decimal("0.625"): "five eighths",
    Decimal("0.75"): "three quarters",
    Decimal("0.875"): "seven eighths",
}
_SIGNS = {
    Decimal("0.125"): "⅛",
    Decimal("0.25"): "¼",
    Decimal("0.375"): "⅜",
    Decimal("0.5"): "½",
    Decimal("0.625"): "⅝",
    Decimal("0.75"): "¾",
    Decimal("0.875"): "⅞",
}


def in_words(number: Decimal) -> str:
    """A number in words, the decimals digit by digit.

    >>> in_words(Decimal("1340.05"))
    'one thousand three hundred and forty point zero five'
    >>> in_words(Decimal("-18"))
    'minus eighteen'
    """
    whole, _, decimals = in_digits(abs(number)).partition(".")
    words = [str(num2words(int(whole), lang="en_GB")).replace(",", "")]
    if decimals:
        words += ["point", *(_DIGITS[int(digit)] for digit in decimals)]
    return " ".join((["minus"] if number < 0 else []) + words)


def in_digits(number: Decimal) -> str:
    """A number in digits without needless zeros or an exponent.

    >>> in_digits(Decimal("1.10")), in_digits(Decimal("3E+2")), in_digits(Decimal("-0.0"))
    ('1.1', '300', '0')
    """
    text = format(number if number else abs(number), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def portion(number: Decimal) -> str | None:
    """The part after the point as a spoon or jug has it ("half", "a quarter"); None for others.

    >>> portion(Decimal("1.5"))
    'half'
    """
    return _PORTIONS.get(abs(number) % 1)


def portion_sign(number: Decimal) -> str | None:
    """The same as one printed sign.

    >>> portion_sign(Decimal("0.25"))
    '¼'
    """
    return _SIGNS.get(abs(number) % 1)
