"""Digests that tell whether what was written is still what stands there."""

import json
from collections.abc import Iterable
from hashlib import sha256


def seal(batch: str, seq: int, body: str) -> str:
    """The seal of one event: the first 64 bits of a SHA-256 over its place and its body, as hex.

    It finds damage, not ill will.

    >>> seal("2026-07-04-1", 3, "{}")
    'e4863ef1afcc8f9d'
    """
    return _digest(batch, seq, body).hex()[:16]


def link(before: str, batch: str, seq: int, body: str) -> str:
    """One event's link in its batch's chain: 128 bits of a SHA-256 over the link before and itself.

    Who changes, drops or moves one event must change all that follow; a last link that was noted
    elsewhere then no longer fits.

    >>> link("", "2026-07-04-1", 0, "{}")
    '4d898c3813bf2b49920898d42666b103'
    """
    return sha256(before.encode() + _digest(batch, seq, body)).hexdigest()[:32]


def facts_seal(facts: Iterable[object]) -> str:
    """The seal of some facts that were worked out: the first 64 bits of a SHA-256, as hex.

    >>> facts_seal(["2026-07-04-1", 3, "{}"])
    'bbfde91088ab626f'
    """
    return sha256(json.dumps(list(facts)).encode()).hexdigest()[:16]


class Tally:
    """How many events, and one digest over all of them that does not hang on their order.

    >>> one, other = Tally(), Tally()
    >>> one.add("a", 0, "{}"); one.add("a", 1, "{}")
    >>> other.add("a", 1, "{}"); other.add("a", 0, "{}")
    >>> one == other, one.events
    (True, 2)
    """

    def __init__(self) -> None:
        self.events = 0
        self._sum = 0

    def add(self, batch: str, seq: int, body: str) -> None:
        """Count one event in."""
        self.events += 1
        self._sum = (self._sum + int.from_bytes(_digest(batch, seq, body), "big")) % 2**256

    @property
    def digest(self) -> str:
        """The sum of the events' SHA-256, modulo 2^256, as hex."""
        return f"{self._sum:064x}"

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Tally):
            return NotImplemented
        return (self.events, self._sum) == (other.events, other._sum)

    __hash__ = None  # type: ignore[assignment]


def _digest(batch: str, seq: int, body: str) -> bytes:
    return sha256(f"{batch}\0{seq}\0{body}".encode()).digest()
