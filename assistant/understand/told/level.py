"""A bare number that is read off, not put in: told by movement, by heat, or by what was looked at.

"It's down to 43" is a temperature wherever it is said, and "meter says 4.7" a pH: neither is grams
of sugar because sugar happens to be asked for.
"""

import re

from assistant.understand.bounds import COLDEST_CALLED, HOTTEST_CALLED, SOUREST, TAMEST
from assistant.understand.meant import Amount
from assistant.understand.parsing import parse

WARM = re.compile(
    r"\b(thermometer|temperature|temp|thermo|probe|needle|warm|hot|heat|flame|degrees|climbing"
    r"|rising"
    r"|boiling|cooled|cooling|heating|simmer\w*)\b"
)
SOUR = re.compile(r"\b(p h|ph|acidity|ph meter|strip)\b")
SWEET = re.compile(r"\b(brix|refractometer)\b")
_MOVES = re.compile(
    r"\b(creep\w*|crept|climb\w*|rise|rises|risen|rose|fall|falls|fell|fallen|falling|drop|drops"
    r"|dropped"
    r"|dropping|sink|sinks|sank|sinking|cool|cools|warmed|warming|heated|hit|hits|hitting|reached"
    r"|reaches|touching|touched|hovering|hovers|nudging|crawling|(up|down|back) (to|at|past)|past"
    r"|passing|passed|gone over|going over|on the (hob|stove|heat))\b"
)
_METER = re.compile(r"\b(meter|strips)\b")
_PUT_IN = re.compile(
    r"\b(in|into|put|puts|adds?|added|adding|pour\w*|tip|tipp\w*|stirr\w*|weigh\w*|scales?|of)\b"
)


def level_told(text: str, words: tuple[str, ...]) -> str:
    """Which reading the words around a bare number make it: "temperature", "ph", "brix" or "".

    words : those of the number

    >>> number = ("forty", "three")
    >>> level_told("it is down to forty three", number), level_told("forty three more", number)
    ('temperature', '')
    """
    value = _value(words)
    if value is None or _PUT_IN.search(text):
        return ""
    if _MOVES.search(text) and COLDEST_CALLED <= value <= HOTTEST_CALLED:
        return "temperature"
    if not _METER.search(text) or WARM.search(text):
        return ""
    if SWEET.search(text):
        return "brix"
    return "ph" if SOUREST <= value <= TAMEST else ""


def _value(words: tuple[str, ...]) -> float | None:
    meant = [p.meant for p in parse(words) if not p.cost]
    values = {m.value for m in meant if isinstance(m, Amount) and not m.short}
    return float(values.pop()) if len(values) == 1 else None
