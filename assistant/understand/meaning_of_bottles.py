"""What the rules about bottles come to: filled, used, opened, moved, thrown away, called back."""

import re
from dataclasses import dataclass
from fractions import Fraction

from assistant.base.units import to_base
from assistant.facts.vessels import Of, Vessel
from assistant.understand.meant import Amount, Plain, counts, plain

_TWICE = re.compile(r"\band\b.*\bto\b")


@dataclass(frozen=True, slots=True)
class Holding:
    """What is in a bottle that is not full."""

    amount: Amount


@dataclass(frozen=True, slots=True)
class Counted:
    """So many bottles, of a sort where it was named."""

    count: int
    vessel: Vessel | None = None


Told = Fraction | str | Amount | Holding | Counted | Vessel


class BottleMeanings:
    """The methods, one for each rule of that name in steps.jsgf and larder.jsgf."""

    def holding(self, amount: Amount) -> Holding:
        return Holding(amount)

    def bottle(self, *parts: Told) -> Plain | None:
        counted = _counted(parts)
        if counted is None:
            return None
        sort = counted.vessel or Vessel()
        jar = "jar" if sort.of == "jar" else None
        fields = {"size_ml": sort.size_ml, "of": jar, "holds_ml": sort.holds_ml}
        return plain("bottle", count=counted.count, **fields)

    def bottles_of_it(self, *parts: Told) -> Counted | None:
        return _counted(parts)

    def sort(self, *parts: Told) -> Vessel | None:
        one = _counted((Fraction(1), *parts))
        return (one.vessel or Vessel()) if one else None

    def used_up(self, counted: Counted, to: str | None = None) -> Plain:
        return plain("used", count=counted.count, vessel=counted.vessel, to=to)

    def given_to(self, counted: Counted, to: str) -> Plain | None:
        """None for "Ben and two to the kiosk": that is more than one deed."""
        return None if _TWICE.search(to) else self.used_up(counted, to)

    def opened(self, counted: Counted | Fraction) -> Plain | None:
        told = counted if isinstance(counted, Counted) else _counted((counted,))
        return plain("opened", count=told.count, vessel=told.vessel) if told else None

    def discard_some(self, counted: Counted) -> Plain:
        return plain("discard", count=counted.count, vessel=counted.vessel)

    def moved(self, *parts: Told) -> Plain:
        *told, place = parts
        sort = next((p for p in told if isinstance(p, Vessel)), None)
        counted = next((p for p in told if isinstance(p, Counted)), None)
        if counted is None:
            return plain("moved", place=place, vessel=sort)
        return plain("moved", place=place, count=counted.count, vessel=counted.vessel)

    def recalled(self, reason: str | None = None) -> Plain:
        return plain("recalled", reason=reason)

    def sign(self, what: str) -> Plain:
        return plain("sign", what=what)


def _counted(parts: tuple[Told, ...]) -> Counted | None:
    """A count with the sort; None where there can be no such bottles."""
    count = next((p for p in parts if isinstance(p, Fraction)), Fraction())
    size = next((_ml(p) for p in parts if isinstance(p, Amount)), None)
    held = next((_ml(p.amount) for p in parts if isinstance(p, Holding)), None)
    if not counts(count) or size == 0 or held == 0 or (held and size and held >= size):
        return None
    of: Of = "jar" if "jar" in parts else "bottle"
    plain_bottle = size is None and of == "bottle"
    vessel = None if plain_bottle else Vessel(size_ml=size, of=of, holds_ml=held)
    return Counted(int(count), vessel)


def _ml(amount: Amount) -> float:
    """The volume; 0 where there is none such. [ml]"""
    return max(0.0, to_base(float(amount.value), str(amount.unit))) if amount.unit else 0.0
