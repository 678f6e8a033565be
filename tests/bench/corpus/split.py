"""Which half a phrase belongs to: by a checksum of its text, so the halves share no phrase."""

import json
import zlib
from functools import cache
from typing import Literal

from tests.bench.scoring import FOLDER

Split = Literal["dev", "held"]
_DEV_OF_TEN = 3


@cache
def seen() -> frozenset[str]:
    """The phrases of the recordings in the repository: words were mended on them already."""
    lines = (FOLDER / "manifest.jsonl").read_text("utf-8").splitlines()
    return frozenset(plain(json.loads(line)["words"]) for line in lines)


def plain(text: str) -> str:
    """The text without signs.

    >>> plain("No, sixty")
    'no sixty'
    """
    return " ".join(text.lower().replace(",", " ").replace(".", " ").split())


def split_of(text: str) -> Split:
    """Three tenths of the phrases may be looked at while words are mended, the rest may not."""
    known = plain(text)
    if known in seen():
        return "dev"
    return "dev" if zlib.crc32(f"half {known}".encode()) % 10 < _DEV_OF_TEN else "held"
