"""Numbers as people say them, written down apart from the grammars that have to understand them."""

from random import Random

from num2words import num2words

FIGURES = ("oh", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
ALIKE = (13, 30, 14, 40, 15, 50, 16, 60, 17, 70, 18, 80, 19, 90, 115, 150, 915, 950, 5, 9, 55, 59)
"""Numbers that are taken for each other: -teen and -ty, 15 and 50 behind a hundred, 5 and 9."""


def full(number: int, hundred_and: bool = True) -> str:
    """The whole number in full.

    >>> full(480), full(1115, False)
    ('four hundred and eighty', 'one thousand one hundred fifteen')
    """
    words = str(num2words(number)).replace("-", " ").replace(",", "")
    return words if hundred_and else words.replace(" and ", " ")


def clipped(number: int) -> str | None:
    """The hundred left out, where people do that.

    >>> clipped(480), clipped(1150), clipped(104), clipped(400)
    ('four eighty', 'eleven fifty', 'one oh four', None)
    """
    hundreds, rest = divmod(number, 100)
    if not 1 <= hundreds <= 19 or rest == 0 or hundreds == 10:
        return None
    return f"{full(hundreds)} {full(rest) if rest > 9 else f'oh {FIGURES[rest]}'}"


def whole(number: int, rng: Random) -> str:
    """The whole number in one of the usual ways."""
    ways = [full(number), full(number), full(number, False)]
    short = clipped(number)
    if short and number < 2000:
        ways += [short, short]
    if 100 <= number < 200:
        ways.append(full(number).replace("one hundred", "a hundred"))
    return rng.choice(ways)


def figures(digits: str) -> str:
    """Figure by figure.

    >>> figures("305")
    'three oh five'
    """
    return " ".join(FIGURES[int(digit)] for digit in digits)


def decimal(text: str, rng: Random) -> str:
    """A number with a point, given as it is written.

    >>> decimal("2.05", Random(0))
    'two point oh five'
    """
    before, _, after = text.partition(".")
    if not after:
        return whole(int(before), rng)
    start = full(int(before)) if before != "0" else rng.choice(("", "zero", "nought"))
    return f"{start} point {figures(after)}".strip()


def alike(rng: Random, low: float, high: float) -> int | None:
    """A number that is easily taken for another, within bounds."""
    fit = [number for number in ALIKE if low <= number <= high]
    return rng.choice(fit) if fit else None


def ordinal_stem(rng: Random) -> str:
    """A number that takes "th" as it is."""
    return rng.choice(("four", "six", "seven", "ten", "eleven", "thirteen", "sixteen", "seventeen"))
