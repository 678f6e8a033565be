"""Speech that is not for the tool: gossip, news, football, prices, and numbers in all of them."""

import tomllib
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

from tests.bench.corpus import numbers

SUBJECTS = ("gossip", "news", "weather", "sport", "prices", "club", "phone", "recipes")
ON_AIR = ("news", "weather", "sport")
"""What a radio in the kitchen reads out."""


@cache
def _words() -> dict[str, Any]:
    return tomllib.loads(Path(__file__).with_name("talk_words.toml").read_text("utf-8"))


def sentence(subject: str, rng: Random) -> str:
    """One sentence, its gaps filled.

    >>> sentence("sport", Random(3)).count("{")
    0
    """
    text = str(rng.choice(_words()[subject]["lines"]))
    while "{" in text:
        start, _, rest = text.partition("{")
        gap, _, after = rest.partition("}")
        text = start + _filled(gap, after, rng) + after
    return text[0].upper() + text[1:]


def _filled(gap: str, after: str, rng: Random) -> str:
    match gap:
        case "n":
            return (
                numbers.ordinal_stem(rng)
                if after.startswith("th")
                else numbers.full(rng.randint(2, 99))
            )
        case "big":
            return numbers.whole(rng.randint(100, 1990), rng)
        case "tenth":
            return numbers.decimal(f"{rng.uniform(0.3, 9.8):.1f}", rng)
        case _:
            return str(rng.choice(_words()["fill"][gap]))


def passage(rng: Random, subjects: tuple[str, ...] = SUBJECTS) -> tuple[str, ...]:
    """Some sentences on one subject, none twice."""
    subject = rng.choice(subjects)
    found = [sentence(subject, rng) for _ in range(rng.randint(4, 9))]
    return tuple(dict.fromkeys(found))
