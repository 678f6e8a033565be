"""Spoken words as a recogniser writes them: figures, a capital, a full stop."""

ONES = {
    "oh": 0, "zero": 0, "nought": 0, "naught": 0, "one": 1, "two": 2, "three": 3, "four": 4,
    "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
}  # fmt: skip
TEENS = {
    "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15,
    "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19,
}  # fmt: skip
TENS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80,
    "ninety": 90,
}  # fmt: skip
_POINTS = ("point", "dot", "comma", "decimal")


def _below_hundred(words: list[str], at: int) -> tuple[int, int] | None:
    """A number from 0 to 99 at a place, and the place behind it."""
    word = words[at] if at < len(words) else ""
    if word in TENS:
        more = ONES.get(words[at + 1], 0) if at + 1 < len(words) else 0
        return (TENS[word] + more, at + 2) if more else (TENS[word], at + 1)
    if word in TEENS:
        return TEENS[word], at + 1
    return (ONES[word], at + 1) if word in ONES else None


def _small(words: list[str], at: int) -> tuple[int, int] | None:
    """A number up to 9999 in full."""
    if words[at : at + 2] in (["a", "hundred"], ["a", "thousand"]):
        first: tuple[int, int] | None = (1, at + 1)
    else:
        first = _below_hundred(words, at)
    if first is None:
        return None
    value, at = first
    for scale, size in (("thousand", 1000), ("hundred", 100)):
        if at < len(words) and words[at] == scale:
            value, at = value * size, at + 1
            behind = at + 1 if at < len(words) and words[at] == "and" else at
            rest = _small(words, behind) if size == 1000 else _below_hundred(words, behind)
            return (value + rest[0], rest[1]) if rest and rest[0] else (value, at)
    return value, at


def _with_point(words: list[str], at: int) -> tuple[str, int] | None:
    """A number with a point, its places spoken one by one or as one number."""
    before = _small(words, at)
    point = before[1] if before else at
    if point >= len(words) or words[point] not in _POINTS:
        return (str(before[0]), before[1]) if before else None
    places, behind = "", point + 1
    while (found := _below_hundred(words, behind)) is not None:
        places, behind = places + str(found[0]), found[1]
    return (f"{before[0] if before else 0}.{places}", behind) if places else None


def in_figures(text: str, joined: bool = True) -> str:
    """The words with their numbers in figures.

    joined : "four eighty" becomes 480; else 4 80

    >>> in_figures("four hundred and eighty grams"), in_figures("it's four eighty")
    ('480 grams', "it's 480")
    >>> in_figures("p h three point oh five"), in_figures("one oh four", joined=False)
    ('pH 3.05', '1 0 4')
    >>> in_figures("The county side twenty eight.")
    'The county side 28.'
    """
    stop = text[-1:] if text[-1:] in tuple(".?!") else ""
    words, found, at = text.removesuffix(stop).replace(",", " ,").split(), list[str](), 0
    last = -1
    while at < len(words):
        number = _with_point(words, at)
        if number is None or (words[at] == "one" and not _counts(words, at)):
            found.append(words[at])
            at += 1
            continue
        written, behind = number
        if joined and last == at and _joins(found[-1], written, words[at]):
            found[-1] += written.zfill(2) if words[at] not in ("oh", "zero") else written
        else:
            found.append(written)
        last, at = behind, behind
    return " ".join(found).replace(" ,", ",").replace("p h", "pH") + stop


def _joins(before: str, written: str, word: str) -> bool:
    if "." in before or "." in written or not before.isdigit():
        return False
    clipped = len(before) <= 2 and int(before) < 20 and len(written) == 2
    return clipped or (word in ("oh", "zero")) or (before.endswith("0") and len(before) == 2
                                                   and len(written) == 1 and before[0] != "0"
                                                   and int(before) < 20)  # fmt: skip


def _counts(words: list[str], at: int) -> bool:
    """Whether "one" is a number here and not "that one"."""
    return at + 1 < len(words) or len(words) == 1


def sentence(text: str) -> str:
    """With a capital and a full stop.

    >>> sentence("480 grams"), sentence("pH 3.2")
    ('480 grams.', 'pH 3.2.')
    """
    head = text if text.startswith("pH") else text[:1].upper() + text[1:]
    return head if text.endswith((".", "?", "!")) else f"{head}."


def readings(words: str) -> tuple[str, ...]:
    """The ways to write spoken words, the most usual first."""
    ways = (in_figures(words), in_figures(words, joined=False), words.replace("p h", "pH"))
    return tuple(dict.fromkeys(sentence(way) for way in ways))
