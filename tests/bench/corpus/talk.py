"""Speech that is not for the tool: gossip, news, football, prices, and numbers in all of them.

Each split has sentences of its own, `talk_dev.toml` and `talk_held.toml`.
"""

import tomllib
from collections.abc import Callable
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

from tests.bench.corpus import numbers
from tests.bench.corpus.split import Split

ON_AIR = ("news", "weather", "sport")
"""What a radio in the kitchen reads out."""


@cache
def words(split: Split) -> dict[str, Any]:
    """The sentences of a split by subject, and under `fill` what goes into their gaps."""
    file = Path(__file__).with_name(f"talk_{split}.toml")
    return tomllib.loads(file.read_text("utf-8"))


def subjects(split: Split) -> tuple[str, ...]:
    """What a split talks about.

    >>> subjects("held")[:3]
    ('gossip', 'news', 'weather')
    """
    return tuple(name for name in words(split) if name != "fill")


def filled(split: Split, text: str, rng: Random) -> str:
    """A sentence with its gaps filled, with a capital.

    >>> filled("held", "{score} to {team}", Random(3)).count("{")
    0
    """
    while "{" in text:
        start, _, rest = text.partition("{")
        gap, _, after = rest.partition("}")
        text = start + _filled(split, gap, after, rng) + after
    return text[0].upper() + text[1:]


def _filled(split: Split, gap: str, after: str, rng: Random) -> str:
    if gap in ("n", "few") and after.startswith("th"):
        return numbers.ordinal_stem(rng)
    if gap in NUMBERS:
        return NUMBERS[gap](rng)
    return str(rng.choice(words(split)["fill"][gap]))


def _phone(rng: Random) -> str:
    groups = ["".join(str(rng.randint(0, 9)) for _ in range(size)) for size in (3, 3, 3)]
    return ", ".join(["oh one", *map(numbers.figures, groups)])


def _price(rng: Random) -> str:
    pounds, pence = numbers.full(rng.randint(2, 60)), numbers.full(rng.choice(_PENCE))
    return rng.choice((f"{pounds} pounds {pence}", f"{pounds} {pence}", f"{pence} pence"))


def _clock(rng: Random) -> str:
    hour, minute = numbers.full(rng.randint(1, 12)), numbers.full(rng.randint(21, 59))
    to_or_past = f"{rng.choice(_MINUTES)} {rng.choice(('past', 'to'))} {hour}"
    return rng.choice((to_or_past, f"half past {hour}", f"{hour} o'clock", f"{hour} {minute}"))


def _score(rng: Random) -> str:
    ours, theirs = rng.choice(_GOALS), rng.choice(_GOALS)
    return f"{ours} all" if ours == theirs else f"{ours} {theirs}"


def _weight(rng: Random) -> str:
    grams = numbers.whole(rng.choice((25, 50, 75, 120, 150, 175, 225, 250, 300, 350, 450)), rng)
    few = numbers.full(rng.randint(2, 12))
    return rng.choice((f"{grams} grams", f"{few} ounces", f"{few} pounds", "half a kilo"))


_PENCE = (20, 25, 40, 49, 50, 60, 75, 80, 95, 99)
_MINUTES = ("five", "ten", "quarter", "twenty", "twenty five")
_GOALS = ("nil", "one", "two", "three", "four")
NUMBERS: dict[str, Callable[[Random], str]] = {
    "n": lambda rng: numbers.full(rng.randint(2, 99)),
    "few": lambda rng: numbers.full(rng.randint(2, 9)),
    "big": lambda rng: numbers.whole(rng.randint(100, 1990), rng),
    "tenth": lambda rng: numbers.decimal(f"{rng.uniform(0.3, 9.8):.1f}", rng),
    "phone": _phone, "price": _price, "clock": _clock, "score": _score, "weight": _weight,
    "year": lambda rng: f"nineteen {numbers.full(rng.randint(21, 99))}",
}  # fmt: skip
"""Gaps that take a number, each in the way it is said."""


def passage(rng: Random, split: Split, among: tuple[str, ...] = ()) -> tuple[str, ...]:
    """Some sentences on one subject, each of another pattern."""
    lines = words(split)[rng.choice(among or subjects(split))]["lines"]
    chosen = rng.sample(lines, min(rng.randint(4, 9), len(lines)))
    return tuple(filled(split, text, rng) for text in chosen)
