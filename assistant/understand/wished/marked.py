"""A sentence with its numbers taken out: "how do i get it to B1", and B1 is 62 Brix.

What is said with a number is then told apart by plain patterns over the rest.
"""

import re
from dataclasses import dataclass
from functools import lru_cache

from assistant.base.units import Unit, dimension
from assistant.understand.meant import Amount
from assistant.understand.parsing import parser
from assistant.understand.told.clauses import usual, written_out
from assistant.understand.told.spans import Quantity, quantities
from assistant.understand.words import LONGEST, to_words

_RULE = {
    "amount": "amount",
    "dose": "grams_a_litre",
    "degrees": "so_many_degrees",
    "bare": "bare_number",
}
_LETTER = {"mass": "M", "volume": "V", "temperature": "T", "dose": "D", "Brix": "B", "pH": "P"}
_BRIX_BEHIND = re.compile(r"^(degrees? )?-?brix\b ?")
_SHARE_BEHIND = re.compile(r"^(per cent|percent)\b ?")
_PH_BEFORE = re.compile(r"\bp h( of| at)? $")
_BRIX_BEFORE = re.compile(r"\bbrix( of)? $")
_DOZEN = {"a dozen": 12.0, "two dozen": 24.0, "a couple": 2.0, "a hundred": 100.0, "one": 1.0,
          "double": 2.0, "triple": 3.0, "quadruple": 4.0, "halve": 0.5}  # fmt: skip
_A_DOZEN = re.compile(
    r"\b(a|two) dozen\b|\ba couple\b|\ba hundred\b(?! and)|(?<=\bto )one$|(?<=\bby )one$"
    r"|\b(double|triple|quadruple|halve)\b"
    r"|\bone(?= (?:(?:glass|drink|cup) )?(?:each|apiece|a head)\b)"
)


@dataclass(frozen=True)
class Marked:
    """The words with a mark for each number, and what each mark stands for.

    A mark is a letter and a place: M for a mass, V a volume, T degrees, D grams a litre, B Brix,
    P a pH, C a share in per cent, N a number without a unit.
    """

    words: str
    numbers: dict[str, tuple[float, Unit]]


@lru_cache(maxsize=256)
def marked(text: str) -> Marked:
    """A text's plain words with its numbers marked; without words where it is too long.

    >>> marked("make it 62 Brix").words
    'make it B1'
    """
    if len(text) > LONGEST:
        return Marked("", {})
    words = usual(written_out(to_words(text.replace("\u2019", "'"))))
    out, at = "", 0
    numbers: dict[str, tuple[float, Unit]] = {}
    rest = " ".join(words)
    letter: str
    unit: Unit
    for found in quantities(words):
        amount = _amount(found)
        if amount is None:
            continue
        before = " ".join(words[at : found.begin])
        out = f"{out}{before} " if before else out
        rest = " ".join(words[found.end :])
        if found.kind == "degrees" and amount.unit is None:
            letter, unit = "T", "degC"
        else:
            letter, unit, out, rest = _kind(amount, out, rest)
        mark = f"{letter}{len(numbers) + 1}"
        numbers[mark] = (float(amount.value), unit)
        out += f"{mark} "
        at = len(words) - len(rest.split())
    return _with_dozens(f"{out}{rest}".strip(), numbers)


def _amount(found: Quantity) -> Amount | None:
    values = parser().values(found.words, _RULE[found.kind])
    amounts = [v[0] for v in values if v and isinstance(v[0], Amount)]
    return amounts[0] if amounts and not amounts[0].short else None


def _kind(amount: Amount, before: str, behind: str) -> tuple[str, Unit, str, str]:
    """The letter and the unit of a number, and the words around it without its unit."""
    if amount.unit is not None:
        return _LETTER.get(dimension(amount.unit), "N"), amount.unit, before, behind
    if _BRIX_BEHIND.match(behind):
        return "B", "Brix", before, _BRIX_BEHIND.sub("", behind, count=1)
    if _SHARE_BEHIND.match(behind):
        return "C", "%", before, _SHARE_BEHIND.sub("", behind, count=1)
    if _PH_BEFORE.search(before):
        return "P", "pH", _PH_BEFORE.sub("", before), behind
    if _BRIX_BEFORE.search(before):
        return "B", "Brix", _BRIX_BEFORE.sub("", before), behind
    return "N", "count", before, behind


def _with_dozens(words: str, numbers: dict[str, tuple[float, Unit]]) -> Marked:
    """Counts that no grammar has: a dozen, a couple."""

    def mark(match: re.Match[str]) -> str:
        name = f"N{len(numbers) + 1}"
        numbers[name] = (_DOZEN[match[0]], "count")
        return name

    return Marked(_A_DOZEN.sub(mark, words), numbers)
