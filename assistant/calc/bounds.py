"""One way for every formula to refuse a number it does not hold for."""

from assistant.base.errors import OutOfRange


def inside(what: str, value: float, low: float, high: float, unit: str = "") -> float:
    """The value, where it lies between low and high; OutOfRange otherwise, and for no number.

    >>> inside("Brix", 61, 0, 85)
    61
    >>> inside("Brix", 99, 0, 85)
    Traceback (most recent call last):
    assistant.base.errors.OutOfRange: Brix of 99 is outside 0 to 85
    """
    if not low <= value <= high:
        raise OutOfRange(what, value, low, high, unit)
    return value
